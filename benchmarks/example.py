"""A double-wall tray, taken apart: what each stage costs when the program is warm."""

from __future__ import annotations

from dataclasses import dataclass

import numpy as np

from benchmarks.table import milliseconds, warm_seconds
from foldproof.design.fit import fit
from foldproof.design.measure import measure
from foldproof.design.prove import prove
from foldproof.folding.contact import blocked, final_contact, start_table
from foldproof.folding.layers import Layers, order_layers
from foldproof.folding.limits import FoldingLimits
from foldproof.folding.orders import Laws, lay_down_laws, search_orders
from foldproof.folding.tree import FoldTree, grow
from foldproof.pattern.records import Join
from foldproof.project.read import read_project
from foldproof.project.records import Project
from foldproof.service.starting import example_text

# The double-wall tray that the aims were set for, written out here so that the figures stay comparable.
TRAY = """
format = 1
name = "a tray"
unit = "in"
[cardstock]
sheet = "12x12"
weight = "216 gsm"
thickness = "0.27 mm"
[parts.tray]
construction = "double-wall tray"
base_length = "3 1/4"
wall_height = "2 1/4"
inner_wall = "1 1/2"
"""


@dataclass(frozen=True, slots=True, kw_only=True)
class Example:
    """One piece ready for the folding engine."""

    project: Project
    tree: FoldTree
    layers: Layers
    joins: tuple[Join, ...]
    limits: FoldingLimits


def example() -> Example:
    """The tray, measured and grown into a tree."""
    project = read_project(TRAY)
    assembly = measure(project).parts[0].assembly
    tree = grow(assembly.pieces[0])
    layers = order_layers(tree, assembly.joins, project.cardstock.thickness.high_mm)
    return Example(project=project, tree=tree, layers=layers, joins=assembly.joins, limits=project.folding)


def fill_contact(piece: Example) -> None:
    """The contact table of short paths, and contact in the finished piece."""
    table = start_table(piece.tree, piece.layers, piece.limits)
    blocked(table, np.ones((1, len(piece.tree.steps)), dtype=bool), [(0, np.array([0]))])
    final_contact(table)


def laws_with_contact(piece: Example) -> Laws:
    """Laws whose contact table is filled."""
    laws = lay_down_laws(piece.tree, piece.layers, piece.joins, piece.limits)
    search_orders(laws, piece.limits)
    return laws


def example_rows() -> list[tuple[str, ...]]:
    """Measure and fit, contact, order, and everything together."""
    piece = example()
    measuring, _ = warm_seconds(lambda: (measure(piece.project), fit(piece.project, piece.project.parts[0])))
    contact, _ = warm_seconds(lambda: fill_contact(piece))
    # Laws are laid down fresh each round, so that fingers are asked about anew; contact is taken off again.
    search, orders = warm_seconds(
        lambda: search_orders(lay_down_laws(piece.tree, piece.layers, piece.joins, piece.limits), piece.limits)
    )
    filled = laws_with_contact(piece)
    again, _ = warm_seconds(lambda: search_orders(filled, piece.limits))
    whole, proof = warm_seconds(lambda: prove(measure(piece.project)))
    box = read_project(example_text("tidepool"))
    package, boxed = warm_seconds(lambda: prove(measure(box)), 3)
    assert proof.verdict == boxed.verdict == "proved" and orders.number == proof.orders_tried
    return [
        ("measure and fit", milliseconds(measuring), "50 ms"),
        ("contact: every pair, state and pose", milliseconds(contact), "150 ms"),
        ("rules, fingers and orders", milliseconds(max(0.0, search - contact)), "50 ms"),
        ("   of which the search itself", milliseconds(again), ""),
        ("measure and prove together", milliseconds(whole), ""),
        ("the same for the Tidepool box with all its parts", milliseconds(package), ""),
    ]
