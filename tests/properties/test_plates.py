"""What holds for any two plates: order, frame and batch do not change the answer, and thinner never touches more."""

import numpy as np
from hypothesis import assume, given
from hypothesis import strategies as st
from shapely.geometry import Polygon

from foldproof.folding.plates import depth, make_plates, touching
from foldproof.geometry import motion

THICKNESS_MM = 0.3
ALL_AXES = -np.inf  # a limit that no axis undercuts


@st.composite
def outlines(draw):
    """A convex outline: a few points on an ellipse, anticlockwise."""
    count = draw(st.integers(3, 7))
    angles = sorted(draw(st.lists(st.integers(0, 71), min_size=count, max_size=count, unique=True)))
    wide, tall = draw(st.integers(8, 60)), draw(st.integers(8, 60))
    outline = tuple((wide * np.cos(np.radians(5.0 * a)), tall * np.sin(np.radians(5.0 * a))) for a in angles)
    assume(Polygon(outline).area > 20.0)
    return outline


@st.composite
def motions(draw):
    """Any rigid motion within reach."""
    axis = np.array([draw(st.floats(-1, 1)) for _ in range(3)])
    assume(np.linalg.norm(axis) > 0.1)
    angle = draw(st.floats(-np.pi, np.pi))
    turned = motion.turn(np.zeros(3), axis / np.linalg.norm(axis), np.array([angle]))[0]
    return motion.shift(*(draw(st.floats(-40, 40)) for _ in range(3))) @ turned


def one_depth(plates, a, b, one_from_other):
    return float(depth(plates, np.array([a]), np.array([b]), one_from_other[None], ALL_AXES)[0])


@given(outlines(), outlines(), motions())
def test_either_plate_can_be_asked_about_the_other(first, second, one_from_other):
    plates = make_plates((first, second), THICKNESS_MM, 0.0, 1.0)
    here = one_depth(plates, 0, 1, one_from_other)
    there = one_depth(plates, 1, 0, motion.inverse(one_from_other))
    assert abs(here - there) < 1e-9


@given(outlines(), outlines(), motions(), st.floats(-np.pi, np.pi), st.floats(-30, 30), st.floats(-30, 30))
def test_where_a_plate_lies_in_its_own_frame_does_not_matter(first, second, one_from_other, angle, x, y):
    own = motion.shift(x, y, 0.0) @ motion.turn(np.zeros(3), np.array([0.0, 0.0, 1.0]), np.array([angle]))[0]
    laid = tuple((float(p[0]), float(p[1])) for p in motion.apply(own, motion.lift(second)))
    plates = make_plates((first, second, laid), THICKNESS_MM, 0.0, 1.0)
    moved = one_depth(plates, 0, 2, one_from_other @ motion.inverse(own))
    assert abs(moved - one_depth(plates, 0, 1, one_from_other)) < 1e-6


@given(outlines(), outlines(), motions(), st.floats(0.0, 0.2))
def test_touching_is_more_depth_than_the_limit(first, second, one_from_other, limit_mm):
    plates = make_plates((first, second), THICKNESS_MM, 0.0, 1.0)
    true_depth = one_depth(plates, 0, 1, one_from_other)
    assume(abs(true_depth - limit_mm) > 1e-9)
    hit = touching(plates, np.array([0]), np.array([1]), one_from_other[None], limit_mm)
    assert bool(hit[0]) == (true_depth > limit_mm)


@given(outlines(), outlines(), st.lists(motions(), min_size=2, max_size=8))
def test_a_batch_answers_as_one_by_one(first, second, many):
    plates = make_plates((first, second), THICKNESS_MM, 0.0, 1.0)
    stacked = np.stack(many)
    ones, others = np.zeros(len(many), dtype=np.int64), np.ones(len(many), dtype=np.int64)
    together = touching(plates, ones, others, stacked, 0.02)
    alone = [bool(touching(plates, ones[:1], others[:1], each[None], 0.02)[0]) for each in many]
    assert together.tolist() == alone


@given(outlines(), outlines(), motions())
def test_thinner_and_smaller_plates_never_go_deeper(first, second, one_from_other):
    whole = make_plates((first, second), THICKNESS_MM, 0.0, 1.0)
    solid = make_plates((first, second), THICKNESS_MM, 0.0, 0.9)
    drawn_in = make_plates((first, second), THICKNESS_MM, THICKNESS_MM, 0.9)
    depths = [one_depth(plates, 0, 1, one_from_other) for plates in (whole, solid)]
    assert depths[1] <= depths[0] + 1e-9
    assert one_depth(drawn_in, 0, 1, one_from_other) <= depths[1] + 1e-6


@given(outlines(), outlines(), st.floats(0.0, 1.0))
def test_layers_one_thickness_apart_never_touch(first, second, height):
    """The layer above lies a whole thickness up, the solid part is nine tenths."""
    plates = make_plates((first, second), THICKNESS_MM, THICKNESS_MM, 0.9)
    lifted = motion.shift(0.0, 0.0, THICKNESS_MM * (1.0 + height))[None]
    assert not touching(plates, np.array([0]), np.array([1]), lifted, 0.0)[0]
