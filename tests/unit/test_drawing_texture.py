import math

import pytest
from hypothesis import given
from hypothesis import strategies as st
from shapely.geometry import LineString, MultiLineString, Point, Polygon

from foldproof.drawing.records import Path
from foldproof.drawing.texture import dots, hatch


def rectangle(x, y, width, height):
    return Path(points=((x, y), (x + width, y), (x + width, y + height), (x, y + height)), closed=True)


def test_hatch_fills_the_area_by_its_length():
    # parallel lines `step` apart have a total length of area / step, but for the ends
    lines = hatch((rectangle(0, 0, 100, 80),), 45, 2.6)
    total = sum(math.dist(*line.points) for line in lines)
    assert total == pytest.approx(100 * 80 / 2.6, rel=0.01)


def test_hatch_leaves_a_hole_empty():
    outer, hole = rectangle(0, 0, 60, 60), rectangle(20, 20, 20, 20)
    lines = hatch((outer, hole), 45, 2.6)
    inside = Polygon(hole.points).buffer(-1e-6)
    drawn = MultiLineString([line.points for line in lines])
    assert not drawn.intersects(inside)
    assert drawn.length == pytest.approx((3600 - 400) / 2.6, rel=0.03)


def test_neighbours_share_one_hatch():
    left, right = rectangle(0, 0, 10, 30), rectangle(10, 0, 10, 30)
    apart = hatch((left,), 45, 2.6) + hatch((right,), 45, 2.6)
    whole = hatch((rectangle(0, 0, 20, 30),), 45, 2.6)
    assert sum(math.dist(*x.points) for x in apart) == pytest.approx(sum(math.dist(*x.points) for x in whole))


@given(
    st.lists(st.tuples(st.floats(0, 80), st.floats(0, 80)), min_size=3, max_size=8, unique=True),
    st.sampled_from([0.0, 45.0, 135.0, 90.0]),
)
def test_hatch_stays_inside_any_hull(points, angle):
    hull = LineString(points).convex_hull
    if hull.area < 1:
        return
    path = Path(points=tuple(hull.exterior.coords)[:-1], closed=True)
    grown = hull.buffer(1e-6)
    lines = hatch((path,), angle, 2.6)
    assert all(grown.covers(LineString(line.points)) for line in lines if math.dist(*line.points) > 1e-9)


def test_dots_stand_inside_and_off_the_edges():
    tab = Path(points=((0, 0), (30, 3), (30, 25), (0, 28)), closed=True)
    centres = dots((tab,), 0.8, 2.35)
    inner = Polygon(tab.points).buffer(-0.75)
    assert len(centres) > 60
    assert all(inner.covers(Point(centre)) for centre in centres)
    closest = min(math.dist(a, b) for n, a in enumerate(centres) for b in centres[:n])
    assert closest == pytest.approx(2.35)


@pytest.mark.parametrize("width", [3.0, 1.5, 0.9])
def test_a_narrow_strip_still_has_dots(width):
    assert len(dots((rectangle(0, 0, width, 40),), 0.8, 2.35)) >= 10


def test_a_hole_has_no_dots():
    centres = dots((rectangle(0, 0, 40, 40), rectangle(10, 10, 20, 20)), 0.8, 2.35)
    assert centres
    assert not any(10 <= x <= 30 and 10 <= y <= 30 for x, y in centres)


def test_nothing_in_nothing():
    assert hatch((), 45, 2.6) == ()
    assert dots((), 0.8, 2.35) == ()
