"""What the engine finds for a few trays, written out in full: a change shows as a change of a text file.

To write them again after a change that is meant: `python tests/golden/test_folding_dumps.py`.
"""

import difflib
from pathlib import Path

import pytest

from foldproof.design.measure import measure
from foldproof.folding.closure import fit_joins, take_up
from foldproof.folding.contact import final_contact
from foldproof.folding.layers import order_layers
from foldproof.folding.limits import FoldingLimits
from foldproof.folding.orders import lay_down_laws, search_orders
from foldproof.folding.tree import folded, grow
from foldproof.project.read import read_project

HERE = Path(__file__).parent
LIMITS = FoldingLimits()
TRAYS = {
    "double-wall-inch": ("in", "12x12", "double-wall tray", "3 1/4", "2 1/4", {"inner_wall": "1 1/2"}),
    "double-wall-metric": ("cm", "A4", "double-wall tray", "8", "3.5", {"inner_wall": "3"}),
    "plain-with-lid": ("in", "12x12", "plain tray", "4", "1", {"base_width": "5", "lid": "from a larger piece"}),
}


def shown(value):
    """A figure to a thousandth, without a sign on nothing."""
    return f"{round(float(value), 3) + 0.0:.3f}"


def dump(name):
    """Panels, folded corners, layers, joins and orders of every piece."""
    unit, sheet, construction, base, wall, more = TRAYS[name]
    values = {"construction": construction, "base_length": base, "wall_height": wall} | more
    text = "\n".join(
        [
            f'format = 1\nname = "{name}"\nunit = "{unit}"',
            f'[cardstock]\nsheet = "{sheet}"\nweight = "216 gsm"\nthickness = "0.27 mm"\n[parts.tray]',
            *(f'{key} = "{value}"' for key, value in values.items()),
        ]
    )
    assembly = measure(read_project(text)).parts[0].assembly
    lines = []
    for piece in assembly.pieces:
        lines += piece_lines(piece, assembly.joins)
    return "\n".join(lines) + "\n"


def piece_lines(piece, joins):
    tree = grow(piece)
    layers = order_layers(tree, joins, 0.27)
    laws = lay_down_laws(tree, layers, joins, LIMITS)
    orders = search_orders(laws, LIMITS)
    world = folded(tree, layers.shifts_mm)
    yield f"piece {piece.id} {shown(piece.blank_width_mm)} x {shown(piece.blank_height_mm)} mm"
    for k, name in enumerate(tree.panels):
        x, y = tree.outline(k)[0]
        corner = world[k, :3, :2] @ (x, y) + world[k, :3, 3]
        at = " ".join(shown(value) for value in corner)
        yield f"panel {name}: first corner {shown(x)} {shown(y)} comes to {at}; layer {layers.layer[k]}"
    for overlap in layers.overlaps:
        yield f"over {tree.panels[overlap.lower]} side {overlap.side:+d} lies {tree.panels[overlap.upper]}"
    for fit in fit_joins(tree, layers, joins):
        size = f"{shown(fit.area_mm2)} mm2, {shown(fit.width_mm)} mm wide"
        yield f"join {fit.join}: gap {shown(fit.gap_mm)}, slip {shown(fit.slip_mm)}, {size}"
    yield "reach " + " ".join(f"{t.crease}={shown(t.reach_mm)}" for t in take_up(tree, layers) if t.reach_mm)
    yield f"touching at the end: {len(final_contact(laws.contact))} pairs"
    yield f"orders {orders.number} from {orders.states} states, complete {orders.complete}"
    for order in orders.ranked:
        names = " ".join(piece.creases[tree.steps[step][0]].child for step in order.steps)
        yield f"cost {shown(order.cost)}: {names}"


@pytest.mark.parametrize("name", TRAYS)
def test_the_dump_is_as_it_was(name):
    kept = (HERE / f"{name}.txt").read_text(encoding="utf-8")
    differences = difflib.unified_diff(kept.splitlines(), dump(name).splitlines(), "kept", "found", lineterm="", n=0)
    assert not list(differences), "see the module's docstring for how to write it again"


if __name__ == "__main__":
    for each in TRAYS:
        (HERE / f"{each}.txt").write_text(dump(each), encoding="utf-8")
