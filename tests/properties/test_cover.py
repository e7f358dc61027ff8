"""Covering and turning against an independent geometry library, on thousands of shapes and poses."""

import math

import numpy as np
import pytest
from hypothesis import given
from hypothesis import strategies as st
from shapely import affinity
from shapely.geometry import LinearRing, Point, Polygon

from foldproof.geometry.cover import cover_margin, distance_to_outline, margins, margins_of
from foldproof.geometry.outline import (
    half_planes,
    innermost,
    inside_each,
    inside_many,
    largest_disc,
    placed,
    placed_many,
    wound_anticlockwise,
)
from foldproof.geometry.turn_area import overlap_areas, sweep_radius

AREA_MM2 = 1e-6  # areas agree to this: a square a thousandth of a millimetre wide
MARGIN_MM = 1e-6  # margins agree to this: the referee decides on either side of it
EVERY_EIGHTH = np.arange(-8, 9) * math.pi / 4


def blob(rng, points):
    """A simple outline with its points at rising bearings, smooth or wild."""
    while True:
        bearings = np.sort(rng.uniform(0, 2 * math.pi, points))
        radii = rng.uniform(20, 90) * (1 + rng.uniform(0, 0.9) * rng.uniform(-1, 1, points))
        outline = np.column_stack((radii * np.cos(bearings), radii * np.sin(bearings))) + rng.uniform(-30, 30, 2)
        if Polygon(outline).is_valid:
            return outline


def comb(rng, teeth):
    """A simple outline whose teeth a line may cross many times."""
    xs = np.repeat(np.cumsum(rng.uniform(1, 12, teeth + 1)), 2)[1:-1]
    tops = np.repeat(rng.uniform(5, 80, teeth), 2)
    outline = np.concatenate((np.column_stack((xs, tops)), [[xs[-1], 0], [xs[0], 0]]))[::-1]
    return outline - outline.mean(axis=0)


def convex(rng, sides):
    """A convex outline of at most so many sides."""
    while True:
        bearings = np.sort(rng.uniform(0, 2 * math.pi, sides))
        outline = np.column_stack((np.cos(bearings), np.sin(bearings))) * rng.uniform(10, 80) + rng.uniform(-30, 30, 2)
        if Polygon(outline).area > 50:
            return outline


def lids(seed, count):
    rng = np.random.default_rng(seed)
    for number in range(count):
        if number % 3 == 2:
            yield rng, comb(rng, int(rng.integers(1, 40)))
        else:
            yield rng, blob(rng, int(rng.integers(3, 60) if number % 3 else rng.integers(200, 361)))


def referee_areas(lid, opening, pivot, angles):
    shape, area = Polygon(lid), Polygon(opening)
    return [affinity.rotate(shape, a, origin=tuple(pivot), use_radians=True).intersection(area).area for a in angles]


@pytest.mark.parametrize("seed", range(6))
def test_overlap_areas_agree_over_thousands_of_poses(seed):
    poses = 0
    for rng, lid in lids(seed, 60):
        assert Polygon(lid).is_valid
        opening = convex(rng, int(rng.integers(3, 9)))
        pivot = tuple(rng.uniform(-80, 80, 2)) if rng.random() < 0.7 else tuple(lid[0])
        angles = rng.uniform(-10, 10, 12)
        found = overlap_areas(lid, opening, pivot, angles)
        assert found == pytest.approx(referee_areas(lid, opening, pivot, angles), abs=AREA_MM2)
        poses += len(angles)
    assert poses == 720


skylines = st.lists(st.integers(1, 5), min_size=1, max_size=7)
lattice = st.tuples(st.integers(-3, 8), st.integers(-3, 6))


def skyline(heights):
    """A row of columns on a lattice, anticlockwise from the lower left: only level and upright edges."""
    outline = [(0, 0), (len(heights), 0)]
    for x in range(len(heights) - 1, -1, -1):
        outline += [(x + 1, heights[x]), (x, heights[x])]
    return np.array(outline, dtype=float) * 10


@given(skylines, lattice, st.tuples(st.integers(1, 6), st.integers(1, 6)), st.integers(0, 5), lattice)
def test_overlap_areas_where_everything_touches(heights, corner, size, cut, pivot):
    """Lattice shapes turned by eighths about lattice points: points on lines, edges on edges, corners on corners."""
    lid = skyline(heights)
    cut = min(cut, *size)
    right, top = corner[0] + size[0], corner[1] + size[1]
    points = [corner, (right, corner[1]), (right, top - cut), (right - cut, top), (corner[0], top)]
    opening = np.array([p for i, p in enumerate(points) if p != points[i - 1]], dtype=float) * 10
    found = overlap_areas(lid, opening, (pivot[0] * 10.0, pivot[1] * 10.0), EVERY_EIGHTH)
    expected = referee_areas(lid, opening, (pivot[0] * 10.0, pivot[1] * 10.0), EVERY_EIGHTH)
    assert found == pytest.approx(expected, abs=AREA_MM2)


@given(st.integers(0, 10_000), st.floats(-3, 3), st.tuples(st.floats(-200, 200), st.floats(-200, 200)))
def test_moving_everything_moves_nothing(seed, turn, shift):
    rng = np.random.default_rng(seed)
    lid, opening, pivot = blob(rng, 30), convex(rng, 5), rng.uniform(-50, 50, (1, 2))
    angles = rng.uniform(-3, 3, 5)

    def moved(points):
        return placed(points, turn_rad=turn, shift_mm=shift)

    before = overlap_areas(lid, opening, tuple(pivot[0]), angles)
    after = overlap_areas(moved(lid), moved(opening), tuple(moved(pivot)[0]), angles)
    assert after == pytest.approx(before, abs=AREA_MM2)
    assert overlap_areas(lid, opening, tuple(pivot[0]), angles + 2 * math.pi) == pytest.approx(before, abs=AREA_MM2)
    assert sweep_radius(moved(lid), tuple(moved(pivot)[0])) == pytest.approx(sweep_radius(lid, tuple(pivot[0])))
    assert cover_margin(moved(lid), moved(opening)) == pytest.approx(cover_margin(lid, opening), abs=MARGIN_MM)


def moved_out(rim, margin):
    """The rim with all sides moved outwards, inwards when negative: what is common to wide strips along its sides.

    Not shapely's buffer, which simplifies the outline by a share of the distance first.
    """
    wide, found = 1e5, Polygon([(-1e5, -1e5), (1e5, -1e5), (1e5, 1e5), (-1e5, 1e5)])
    for start, end in zip(rim, np.roll(rim, -1, axis=0), strict=True):
        along = (end - start) / math.hypot(*(end - start))
        out = np.array([along[1], -along[0]])
        edge = start + margin * out
        strip = [edge - wide * along, edge + wide * along]
        found = found.intersection(Polygon([*strip, strip[1] - wide * out, strip[0] - wide * out]))
    return found


@pytest.mark.parametrize("seed", range(4))
def test_the_margin_is_where_covering_ends(seed):
    """Just inside the margin the moved rim is covered, just beyond it is not; the lids are of every kind."""
    finite = positive = 0
    for rng, lid in lids(100 + seed, 150):
        rim = convex(rng, int(rng.integers(3, 9)))
        if rng.random() < 0.5:  # a rim small enough to be covered
            rim = rim * 0.2 + lid.mean(axis=0)
        margin = cover_margin(lid, rim)
        middle, depth = innermost(*half_planes(wound_anticlockwise(rim)))
        cover = Polygon(lid)
        if margin == -math.inf:
            assert not cover.contains(Point(middle))
            continue
        finite += 1
        positive += margin > 0
        assert -depth - MARGIN_MM <= margin
        assert cover.covers(moved_out(rim, margin - MARGIN_MM))
        assert not cover.covers(moved_out(rim, margin + MARGIN_MM))
    assert finite > 60 and positive > 15


@pytest.mark.parametrize("seed", range(3))
def test_margins_of_many_poses_are_those_of_each(seed):
    rng = np.random.default_rng(200 + seed)
    lid = blob(rng, 300) if seed else comb(rng, 30)
    rim = convex(rng, 6) * 0.3
    shifts, turns = rng.uniform(-25, 25, (700, 2)), rng.uniform(-7, 7, 700)
    found = margins(lid, rim, shifts_mm=shifts, turns_rad=turns)
    posed = placed_many(lid, turns_rad=turns, shifts_mm=shifts)
    finite = np.isfinite(found)
    assert finite.any() and not finite.all()
    assert np.array_equal(finite, np.isfinite(margins_of(posed, rim)))
    assert found[finite] == pytest.approx(margins_of(posed, rim)[finite], abs=1e-9)
    for pose in range(0, 700, 50):
        assert cover_margin(posed[pose], rim) == margins_of(posed, rim)[pose]


def test_distances_to_the_outline_agree():
    covered = 0
    for rng, lid in lids(300, 200):
        rim = convex(rng, int(rng.integers(3, 9))) * 0.2 + lid.mean(axis=0)
        found = distance_to_outline(lid, rim)
        margin = cover_margin(lid, rim)
        if Polygon(lid).covers(Polygon(rim)):
            covered += 1
            assert found == pytest.approx(LinearRing(lid).distance(LinearRing(rim)), abs=1e-9)
            assert found >= margin - 1e-9
        else:
            assert found == 0.0 and margin <= 0.0
    assert covered > 30


def test_insides_agree_with_winding():
    """Against the total turn of the view from each point to the outline: a full turn from inside, none from outside."""
    for rng, lid in lids(400, 60):
        points = rng.uniform(-120, 120, (200, 2))
        to_lid = lid[None, :, :] - points[:, None, :]
        bearings = np.arctan2(to_lid[:, :, 1], to_lid[:, :, 0])
        steps = np.mod(np.roll(bearings, -1, axis=1) - bearings + math.pi, 2 * math.pi) - math.pi
        winding = np.rint(steps.sum(axis=1) / (2 * math.pi)) != 0
        assert np.array_equal(inside_many(points, lid), winding)
        assert np.array_equal(inside_each((0.0, 0.0), to_lid), winding)


def test_the_largest_disc_fits_and_no_larger_one_is_found():
    for rng, lid in lids(500, 60):
        middle, radius = largest_disc(lid)
        shape = Polygon(lid)
        assert shape.contains(Point(middle))
        assert LinearRing(lid).distance(Point(middle)) == pytest.approx(radius, abs=1e-9)
        tried = rng.uniform(lid.min(axis=0), lid.max(axis=0), (300, 2))
        inside = tried[inside_many(tried, lid)]
        assert all(LinearRing(lid).distance(Point(p)) <= radius + 2e-3 for p in inside)
