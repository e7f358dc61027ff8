"""Layers of flaps over a base: order from joins, from half turns, or assumed and marked so."""

import math

import pytest

from foldproof.folding.layers import order_layers
from foldproof.folding.tree import grow
from foldproof.pattern.records import Crease, FaceRef, Join, Panel, Piece

AREA = ((20.0, 10.0), (25.0, 10.0), (25.0, 15.0), (20.0, 15.0))


def rectangle(name, x0, y0, x1, y1):
    return Panel(id=name, kind="flap", place="", outline=((x0, y0), (x1, y0), (x1, y1), (x0, y1)))


def crease(parent, child, line, target_rad=math.pi, direction="valley"):
    return Crease(
        id=f"fold_{child}",
        parent=parent,
        child=child,
        line=line,
        direction=direction,
        scored_face="face",
        target_rad=target_rad,
        family="flaps",
    )


def join(a, side_a, b, side_b):
    return Join(
        id=f"{a}+{b}",
        a=FaceRef(piece="letter", panel=a, side=side_a),
        b=FaceRef(piece="letter", panel=b, side=side_b),
        area=AREA,
        landing=AREA,
        adhesive="wet_glue",
    )


def letter(left_mm=30.0, right_mm=30.0, direction="valley"):
    """A base of 40 with a flap on either side."""
    return Piece(
        id="letter",
        blank_width_mm=40.0 + left_mm + right_mm,
        blank_height_mm=30.0,
        root="base",
        panels=(
            rectangle("base", 0.0, 0.0, 40.0, 30.0),
            rectangle("left", -left_mm, 0.0, 0.0, 30.0),
            rectangle("right", 40.0, 0.0, 40.0 + right_mm, 30.0),
        ),
        creases=(
            crease("base", "left", ((0.0, 0.0), (0.0, 30.0)), direction=direction),
            crease("base", "right", ((40.0, 0.0), (40.0, 30.0)), direction=direction),
        ),
    )


def heights(piece, joins=(), thickness_mm=0.3):
    tree = grow(piece)
    layers = order_layers(tree, joins, thickness_mm)
    return layers, dict(zip(tree.panels, layers.layer, strict=True))


def test_flaps_that_do_not_meet_both_lie_on_the_base():
    layers, height = heights(letter(15.0, 20.0))
    assert height == {"base": 0, "left": 1, "right": 1}
    assert not any(overlap.assumed for overlap in layers.overlaps)
    assert layers.stacks == ((0, 1, 2),)


@pytest.mark.parametrize(("below", "above"), [("left", "right"), ("right", "left")])
def test_a_join_says_which_flap_is_on_top(below, above):
    layers, height = heights(letter(), (join(below, "back", above, "face"),))
    assert height == {"base": 0, below: 1, above: 2}
    assert not any(overlap.assumed for overlap in layers.overlaps)


def test_where_nothing_says_so_the_order_is_assumed_and_marked():
    layers, height = heights(letter())
    assert height == {"base": 0, "left": 1, "right": 2}
    assert [overlap.assumed for overlap in layers.overlaps] == [False, False, True]


def test_mountains_stack_up_below():
    layers, height = heights(letter(direction="mountain"), (join("left", "face", "right", "back"),))
    assert height == {"base": 0, "left": -1, "right": -2}
    assert layers.shifts_mm == pytest.approx((0.0, 0.3, 0.6))


def test_panels_of_other_planes_are_in_no_stack():
    piece = letter(15.0, 15.0)
    upright = (piece.creases[0], crease("base", "right", ((40.0, 0.0), (40.0, 30.0)), math.pi / 2))
    layers, height = heights(Piece(**{f: getattr(piece, f) for f in piece.__slots__} | {"creases": upright}))
    assert layers.stacks == ((0, 1),)
    assert height["right"] == 0


def test_shifts_are_in_proportion_to_the_card():
    thin, _ = heights(letter(), (join("left", "back", "right", "face"),), 0.1)
    thick, _ = heights(letter(), (join("left", "back", "right", "face"),), 0.4)
    assert [4 * shift for shift in thin.shifts_mm] == pytest.approx(list(thick.shifts_mm))


def test_a_join_to_another_piece_orders_nothing():
    elsewhere = Join(
        id="out",
        a=FaceRef(piece="letter", panel="right", side="back"),
        b=FaceRef(piece="other", panel="left", side="face"),
        area=AREA,
        landing=AREA,
        adhesive="wet_glue",
    )
    assert heights(letter(), (elsewhere,))[1] == heights(letter())[1]
