"""Plane polygons: areas, centres, insets, parts."""

import math

import pytest

from foldproof.geometry.plane import (
    anticlockwise,
    centre,
    common,
    convex_parts,
    inradius,
    inset,
    is_convex,
    is_simple,
    signed_area,
    without,
)

SQUARE = ((0.0, 0.0), (10.0, 0.0), (10.0, 10.0), (0.0, 10.0))
ELL = ((0.0, 0.0), (20.0, 0.0), (20.0, 10.0), (10.0, 10.0), (10.0, 20.0), (0.0, 20.0))
BOW_TIE = ((0.0, 0.0), (10.0, 10.0), (10.0, 0.0), (0.0, 10.0))


def test_area_is_positive_anticlockwise():
    assert signed_area(SQUARE) == 100.0
    assert signed_area(tuple(reversed(SQUARE))) == -100.0
    assert signed_area(ELL) == 300.0


def test_anticlockwise_turns_only_what_runs_the_other_way():
    assert anticlockwise(SQUARE) is SQUARE
    assert signed_area(anticlockwise(tuple(reversed(SQUARE)))) == 100.0


def test_a_simple_outline_neither_crosses_itself_nor_is_flat():
    assert is_simple(SQUARE) and is_simple(ELL)
    assert not is_simple(BOW_TIE)
    assert not is_simple(SQUARE[:2])
    assert not is_simple(((0.0, 0.0), (5.0, 0.0), (10.0, 0.0)))


def test_centre_of_area():
    assert centre(SQUARE) == pytest.approx((5.0, 5.0))
    assert centre(ELL) == pytest.approx((25.0 / 3.0, 25.0 / 3.0))  # by hand: three squares


def test_inset_keeps_mitred_corners_and_vanishes_when_too_much():
    (smaller,) = inset(SQUARE, 2.0)
    assert sorted((round(x, 9), round(y, 9)) for x, y in smaller) == [(2.0, 2.0), (2.0, 8.0), (8.0, 2.0), (8.0, 8.0)]
    assert inset(SQUARE, 5.1) == ()


def test_common_and_without_share_out_an_area():
    over = tuple((x + 6.0, y + 4.0) for x, y in SQUARE)
    (shared,) = common(SQUARE, over)
    assert signed_area(shared) == pytest.approx(24.0)
    (rest,) = without(SQUARE, over)
    assert signed_area(rest) == pytest.approx(76.0)


def test_squares_that_only_touch_have_nothing_in_common():
    beside = tuple((x + 10.0, y) for x, y in SQUARE)
    assert common(SQUARE, beside) == ()


def test_convex_or_in_convex_parts():
    assert is_convex(SQUARE) and not is_convex(ELL)
    assert convex_parts(SQUARE) == (SQUARE,)
    parts = convex_parts(ELL)
    assert all(is_convex(part) for part in parts)
    assert sum(signed_area(part) for part in parts) == pytest.approx(300.0)


def test_inradius_is_of_the_largest_disc_inside():
    assert inradius(SQUARE) == pytest.approx(5.0, abs=0.05)
    # By hand: the disc in the inner corner of three squares touches two walls and the notch at (10, 10).
    assert inradius(ELL) == pytest.approx(10.0 * (2.0 - math.sqrt(2.0)), abs=0.05)
