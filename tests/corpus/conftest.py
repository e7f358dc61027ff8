"""Pieces for the corpus: trays by their values, parts of them, and what folding makes of them."""

import dataclasses
import importlib.util
from pathlib import Path
from types import SimpleNamespace

import pytest

from foldproof.design.measure import measure
from foldproof.folding.layers import order_layers
from foldproof.folding.limits import FoldingLimits
from foldproof.folding.orders import lay_down_laws, search_orders
from foldproof.folding.tree import grow
from foldproof.project.read import read_project

HEAD = """format = 1
name = "a corpus piece"
unit = "in"
[cardstock]
sheet = "12x12"
weight = "216 gsm"
thickness = "0.27 mm"
[parts.tray]
"""
TIDEPOOL = {
    "construction": "double-wall tray",
    "base_length": "3 1/4",
    "wall_height": "2 1/4",
    "inner_wall": "1 1/2",
}


def tray(**values):
    """The assembly of a tray as marked; the Tidepool tray unless told otherwise."""
    written = values if "construction" in values else TIDEPOOL | values
    text = HEAD + "\n".join(f'{key} = "{value}"' for key, value in written.items())
    return measure(read_project(text)).parts[0].assembly


def part_of(assembly, names, number=0):
    """Only some panels of a piece, with the creases and joins between them; the joins come second."""
    piece = assembly.pieces[number]
    kept = dataclasses.replace(
        piece,
        panels=tuple(panel for panel in piece.panels if panel.id in names),
        creases=tuple(crease for crease in piece.creases if crease.child in names),
    )
    joins = tuple(j for j in assembly.joins if j.a.panel in names and j.b.panel in names)
    return kept, joins


def fold(piece, joins, thickness_mm, limits=None, search=True):
    """Tree, layers, laws and orders of a piece in card of some thickness."""
    limits = limits or FoldingLimits()
    tree = grow(piece)
    layers = order_layers(tree, joins, thickness_mm)
    laws = lay_down_laws(tree, layers, joins, limits)
    return SimpleNamespace(
        tree=tree,
        layers=layers,
        laws=laws,
        joins=joins,
        limits=limits,
        orders=search_orders(laws, limits) if search else None,
        step={piece.creases[creases[0]].child: step for step, creases in enumerate(tree.steps)},
    )


@pytest.fixture(scope="session")
def pieces():
    """The makers of pieces above, in one bundle."""
    return SimpleNamespace(tray=tray, part_of=part_of, fold=fold)


@pytest.fixture(scope="session")
def comb():
    """The maker of trees of any size that the growth figures use."""
    path = Path(__file__).parents[2] / "benchmarks" / "trees.py"
    spec = importlib.util.spec_from_file_location("growth_trees", path)
    module = importlib.util.module_from_spec(spec)
    spec.loader.exec_module(module)
    return module.comb
