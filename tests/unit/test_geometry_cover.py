"""Covering and turning on shapes whose answers are known by hand, the awkward ones included."""

import math

import numpy as np
import pytest

from foldproof.geometry.cover import cover_margin, distance_to_outline, margins, margins_of
from foldproof.geometry.outline import (
    distances_to_edges,
    enclosed_mm2,
    half_planes,
    innermost,
    inside_each,
    inside_many,
    largest_disc,
    placed,
    turned_about,
    widest_mm,
    wound_anticlockwise,
)
from foldproof.geometry.turn_area import overlap_areas, sweep_radius


def rectangle(left, low, right, high):
    return np.array([[left, low], [right, low], [right, high], [left, high]], dtype=float)


BOX = rectangle(-50, -50, 50, 50)
U_SHAPE = np.array([[0, 0], [90, 0], [90, 60], [60, 60], [60, 20], [30, 20], [30, 60], [0, 60]], dtype=float)


@pytest.mark.parametrize(
    ("lid", "margin"),
    [
        (rectangle(-60, -60, 60, 60), 10),
        (rectangle(-60, -57, 63, 60), 7),
        (BOX, 0),
        (rectangle(-45, -60, 60, 60), -5),
        # Diamond |x| + |y| <= 110: the mitred corners 50 + m reach it when 2 (50 + m) = 110.
        (np.array([[110, 0], [0, 110], [-110, 0], [0, -110]], dtype=float), 5),
        # A notch from above down to (0, 40): nearer than any edge's ends would say.
        (np.array([[-80, -80], [80, -80], [80, 80], [1, 80], [0, 40], [-1, 80], [-80, 80]], dtype=float), -10),
        # One long edge that passes the corner between its ends: x + y = 116.
        (np.array([[-200, -200], [200, -200], [200, -84], [-84, 200], [-200, 200]], dtype=float), 8),
    ],
)
def test_margins_known_by_hand(lid, margin):
    for rim in (BOX, BOX[::-1]):
        for outline in (lid, lid[::-1], np.roll(lid, 2, axis=0)):
            assert cover_margin(outline, rim) == pytest.approx(margin, abs=1e-9)


def test_a_lid_that_misses_the_middle_has_no_margin():
    assert cover_margin(rectangle(1, -60, 60, 60), BOX) == -math.inf
    assert cover_margin(rectangle(200, 200, 400, 400), BOX) == -math.inf
    assert cover_margin(rectangle(-1, -60, 60, 60), BOX) == pytest.approx(-49)
    # A ring that surrounds the box without lying on its middle covers nothing of it.
    ring = np.array([[-90, -90], [90, -90], [90, 90], [0.1, 90], [0.1, 80], [80, 80], [80, -80], [-80, -80], [-80, 80]])
    ring = np.concatenate((ring, [[-0.1, 80], [-0.1, 90], [-90, 90]]))
    assert cover_margin(ring, BOX) == -math.inf


def test_a_long_rim_is_led_by_its_middle_line():
    rim = rectangle(-80, -30, 80, 30)
    assert innermost(*half_planes(rim)) == (pytest.approx((0, 0)), pytest.approx(30))
    # Sides may move in until only the middle line is left, and this lid's end lies on that line.
    assert cover_margin(rectangle(-40, -90, 90, 90), rim) == pytest.approx(-30)


def test_poses_agree_with_posed_copies():
    shifts = np.array([[0, 0], [3, -2], [-7, 4], [200, 0]], dtype=float)
    turns = np.array([0, 0.3, -2.0, 1.0])
    lid = rectangle(-70, -66, 64, 72)
    lids = np.stack([placed(lid, turn_rad=a, shift_mm=tuple(s)) for a, s in zip(turns, shifts, strict=True)])
    by_pose = margins(lid, BOX, shifts_mm=shifts, turns_rad=turns)
    assert by_pose[:3] == pytest.approx(margins_of(lids, BOX)[:3], abs=1e-9)
    assert by_pose[0] == pytest.approx(14) and by_pose[3] == -math.inf


def test_distance_is_measured_straight_at_the_corners():
    diamond = np.array([[110, 0], [0, 110], [-110, 0], [0, -110]], dtype=float)
    assert distance_to_outline(diamond, BOX) == pytest.approx(10 / math.sqrt(2))
    assert distance_to_outline(rectangle(-60, -57, 63, 60), BOX) == pytest.approx(7)
    notched = np.array([[-80, -80], [80, -80], [80, 80], [1, 80], [0, 53], [-1, 80], [-80, 80]], dtype=float)
    assert distance_to_outline(notched, BOX) == pytest.approx(3)


def test_there_is_no_distance_when_the_rim_is_not_covered():
    assert distance_to_outline(rectangle(-45, -60, 60, 60), BOX) == 0.0
    assert distance_to_outline(rectangle(200, 200, 400, 400), BOX) == 0.0


def test_overlap_of_squares_side_by_side_and_on_top():
    quarters = np.array([0, math.pi / 2, math.pi, -math.pi / 2, 2 * math.pi, -7 * math.pi])
    # Turning about a corner: the squares share everything, or an edge, or a corner.
    assert overlap_areas(BOX, BOX, (50.0, 50.0), quarters) == pytest.approx([1e4, 0, 0, 0, 1e4, 0], abs=1e-6)
    # About the middle of a side: everything, a quarter, an edge.
    assert overlap_areas(BOX, BOX, (50.0, 0.0), quarters) == pytest.approx([1e4, 2500, 0, 2500, 1e4, 0], abs=1e-6)
    # About the middle; at half a quarter the common octagon: 2 (sqrt 2 - 1) a^2.
    eighths = np.arange(8) * math.pi / 4
    octagon = 2 * (math.sqrt(2) - 1) * 1e4
    assert overlap_areas(BOX, BOX, (0.0, 0.0), eighths) == pytest.approx([1e4, octagon] * 4)


@pytest.mark.parametrize("pivot", [(0.0, 0.0), (50.0, 50.0), (-300.0, 40.0)])
def test_one_wholly_inside_the_other_or_far_away(pivot):
    angles = np.linspace(-4, 4, 33)
    small, large = rectangle(-5, -5, 5, 5), rectangle(-900, -900, 900, 900)
    assert overlap_areas(small, large, pivot, angles) == pytest.approx(np.full(33, 100.0))
    assert overlap_areas(large, small, pivot, angles) == pytest.approx(np.full(33, 100.0))
    assert overlap_areas(small + 5000, small, pivot, angles * 0.01) == pytest.approx(np.zeros(33), abs=1e-9)


def test_a_lid_entered_more_than_once():
    """A U over a bar: two legs of 30 x 10 each when upright, the whole foot when turned over."""
    bar = rectangle(-10, 40, 100, 50)
    assert overlap_areas(U_SHAPE, bar, (45.0, 30.0), np.array([0.0, math.pi])) == pytest.approx([600, 900])
    assert overlap_areas(U_SHAPE[::-1], bar[::-1], (45.0, 30.0), np.array([0.0, math.pi])) == pytest.approx([600, 900])


def test_angles_may_come_in_any_order_and_more_than_once():
    angles = np.array([2.0, -1.0, 2.0, 8.0, 0.5])
    found = overlap_areas(U_SHAPE, BOX, (3.0, 7.0), angles)
    one_by_one = [overlap_areas(U_SHAPE, BOX, (3.0, 7.0), angles[i : i + 1])[0] for i in range(5)]
    assert found == pytest.approx(one_by_one) and found[0] == found[2]
    assert overlap_areas(U_SHAPE, BOX, (3.0, 7.0), np.array([])).shape == (0,)


def test_corners_given_twice_change_nothing():
    angles = np.linspace(0, 6, 50)
    doubled = np.repeat(BOX, 2, axis=0)
    expected = overlap_areas(U_SHAPE, BOX, (3.0, 7.0), angles)
    assert overlap_areas(U_SHAPE, doubled, (3.0, 7.0), angles) == pytest.approx(expected)
    assert overlap_areas(np.repeat(U_SHAPE, 2, axis=0), BOX, (3.0, 7.0), angles) == pytest.approx(expected)
    assert cover_margin(np.repeat(BOX * 1.5, 2, axis=0), doubled) == pytest.approx(25)


def test_the_sweep_is_the_farthest_point():
    assert sweep_radius(U_SHAPE, (0.0, 0.0)) == pytest.approx(math.hypot(90, 60))
    assert sweep_radius(U_SHAPE, (45.0, -10.0)) == pytest.approx(math.hypot(45, 70))


def test_insides():
    points = np.array([[15, 50], [45, 50], [75, 50], [45, 10], [-1, 10], [30, 40], [45, 20], [0, 0], [90.001, 5]])
    inside = [True, False, True, True, False, True, True, True, False]  # on an edge or a corner counts
    assert inside_many(points, U_SHAPE).tolist() == inside
    assert inside_many(points, U_SHAPE[::-1]).tolist() == inside
    lids = U_SHAPE + np.array([[[0, 0]], [[30, 0]], [[0, -100]]])
    assert inside_each((45.0, 50.0), lids).tolist() == [False, True, False]


def test_half_planes_refuse_what_is_not_convex():
    with pytest.raises(AssertionError, match="not convex"):
        half_planes(U_SHAPE)
    normals, offsets = half_planes(BOX)
    assert normals.tolist() == [[0, -1], [1, 0], [0, 1], [-1, 0]] and offsets.tolist() == [50] * 4


def test_innermost_of_a_triangle_is_its_incentre():
    middle, depth = innermost(*half_planes(np.array([[0, 0], [40, 0], [0, 30]], dtype=float)))
    assert middle == pytest.approx((10, 10)) and depth == pytest.approx(10)
    cut_corner = np.array([[-50, -50], [50, -50], [50, 10], [10, 50], [-50, 50]], dtype=float)
    # Left, low and cut side: x = y, x + 50 = (60 - 2 x) / sqrt 2.
    x = (60 / math.sqrt(2) - 50) / (1 + math.sqrt(2))
    middle, depth = innermost(*half_planes(cut_corner))
    assert middle == pytest.approx((x, x)) and depth == pytest.approx(x + 50)


def test_largest_disc():
    middle, radius = largest_disc(U_SHAPE)
    # In a lower corner of the U: it touches the left, the low side and the corner (30, 20).
    assert radius == pytest.approx(50 - math.sqrt(2 * 30 * 20), abs=2e-3)
    assert inside_many(np.array([middle]), U_SHAPE)[0]
    assert largest_disc(BOX)[1] == pytest.approx(50, abs=2e-3)


def test_small_measures():
    assert enclosed_mm2(U_SHAPE) == 90 * 60 - 30 * 40 and enclosed_mm2(U_SHAPE[::-1]) == -4200
    assert wound_anticlockwise(U_SHAPE[::-1]) == pytest.approx(U_SHAPE)
    assert widest_mm(U_SHAPE) == pytest.approx(math.hypot(90, 60))
    assert turned_about(U_SHAPE, (90.0, 0.0), math.pi / 2)[0] == pytest.approx((90, -90))
    assert distances_to_edges(np.array([[45, 40], [45, -3], [93, 64]]), U_SHAPE) == pytest.approx([15, 3, 5])
