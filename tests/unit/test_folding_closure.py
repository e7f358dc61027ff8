"""How joins are measured: gap, slip, sides, overhang; and what layers take up at folds."""

import dataclasses
import math

import pytest

from foldproof.folding.closure import fit_joins, stack_heights, take_up
from foldproof.folding.layers import order_layers
from foldproof.folding.tree import grow
from foldproof.pattern.records import Crease, FaceRef, Join, Panel, Piece

THICKNESS_MM = 0.3
AREA = ((5.0, 5.0), (25.0, 5.0), (25.0, 25.0), (5.0, 25.0))  # on the base
LANDING = tuple((-x, y) for x, y in AREA)  # where it is on the flap, mirrored at the fold
PIECE = Piece(
    id="card",
    blank_width_mm=70.0,
    blank_height_mm=30.0,
    root="base",
    panels=(
        Panel(id="base", kind="base", place="", outline=((0.0, 0.0), (40.0, 0.0), (40.0, 30.0), (0.0, 30.0))),
        Panel(id="flap", kind="flap", place="", outline=((-30.0, 0.0), (0.0, 0.0), (0.0, 30.0), (-30.0, 30.0))),
    ),
    creases=(
        Crease(
            id="fold_flap",
            parent="base",
            child="flap",
            line=((0.0, 0.0), (0.0, 30.0)),
            direction="valley",
            scored_face="face",
            target_rad=math.pi,
            family="flaps",
        ),
    ),
)
JOIN = Join(
    id="base+flap",
    a=FaceRef(piece="card", panel="base", side="face"),
    b=FaceRef(piece="card", panel="flap", side="face"),
    area=AREA,
    landing=LANDING,
    adhesive="wet_glue",
)


def fit(join=JOIN, piece=PIECE):
    tree = grow(piece)
    (found,) = fit_joins(tree, order_layers(tree, (join,), THICKNESS_MM), (join,))
    return found


def test_a_flap_folded_over_lies_on_its_place():
    found = fit()
    assert found.residual_mm < 1e-9 and found.facing and found.overhang_mm == 0.0
    assert found.area_mm2 == pytest.approx(400.0)
    assert found.width_mm == pytest.approx(20.0, abs=0.1)


def test_a_landing_drawn_beside_its_place_slips_by_that_much():
    found = fit(dataclasses.replace(JOIN, landing=tuple((x - 3.0, y + 4.0) for x, y in LANDING)))
    assert found.slip_mm == pytest.approx(5.0)
    assert found.gap_mm < 1e-9
    assert found.residual_mm == pytest.approx(5.0)


def test_a_fold_that_stops_short_leaves_a_gap():
    short = dataclasses.replace(PIECE.creases[0], target_rad=math.radians(178.0))
    found = fit(piece=dataclasses.replace(PIECE, creases=(short,)))
    # The farthest corner of the glue is 25 mm from the fold: two degrees lift it there.
    assert found.gap_mm == pytest.approx(abs(25.0 * math.sin(math.radians(2.0)) - THICKNESS_MM), abs=0.02)


def test_the_back_of_a_flap_folded_over_does_not_face_its_place():
    assert not fit(dataclasses.replace(JOIN, b=dataclasses.replace(JOIN.b, side="back"))).facing


def test_glue_outside_a_face_overhangs():
    wide = tuple((x + (25.0 if x > 10.0 else 0.0), y) for x, y in AREA)
    found = fit(dataclasses.replace(JOIN, area=wide, landing=tuple((-x, y) for x, y in wide)))
    assert found.overhang_mm == pytest.approx(20.0)  # 50 over a flap of 30, and over a base of 40


def test_a_join_to_another_piece_is_not_measured_here():
    tree = grow(PIECE)
    elsewhere = dataclasses.replace(JOIN, b=FaceRef(piece="lid", panel="flap", side="face"))
    assert fit_joins(tree, order_layers(tree, (), THICKNESS_MM), (elsewhere,)) == ()


def test_a_half_turn_takes_up_nothing_beyond_its_own_thickness():
    tree = grow(PIECE)
    layers = order_layers(tree, (JOIN,), THICKNESS_MM)
    assert [t.reach_mm for t in take_up(tree, layers)] == [0.0]
    assert stack_heights(layers) == (((0, 1), pytest.approx(2 * THICKNESS_MM)),)
