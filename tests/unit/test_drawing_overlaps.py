"""Which faces lie over one another, and where lines lie in areas: worked out all at once, checked one by one."""

from math import cos, hypot, pi, sin

import numpy as np
import pytest
from hypothesis import assume, given, settings
from hypothesis import strategies as st
from shapely.geometry import LineString, MultiPolygon, Polygon

from foldproof.drawing.clipping import lines_within, within
from foldproof.drawing.overlaps import Faces, Seen, faces_at, grown, pairs_of
from foldproof.drawing.rings import polygons_of, rings_of, without_straight_corners
from foldproof.drawing.segments import Line

TOUCH_MM, SLIVER_MM = 0.05, 0.02
SQUARE = ((0.0, 0.0), (10.0, 0.0), (10.0, 10.0), (0.0, 10.0))
LEVEL = (0.0, 0.0, 0.0)


def faces_of(*outlines, planes=None) -> Faces:
    rings = rings_of([np.array(outline, dtype=float) for outline in outlines])
    return faces_at(rings, np.array(planes or [LEVEL] * len(outlines)))


def shifted(outline, x, y):
    return tuple((px + x, py + y) for px, py in outline)


@st.composite
def convex(draw):
    """A convex polygon of 3 to 9 corners, either way round, its corners on the grid of cuts."""
    count, radius = draw(st.integers(3, 9)), draw(st.floats(2.0, 40.0))
    turn, x, y = draw(st.floats(0.0, 2.0 * pi)), draw(st.floats(-30.0, 30.0)), draw(st.floats(-30.0, 30.0))
    shares = [(n + draw(st.floats(-0.3, 0.3))) / count for n in range(count)]
    points = [
        (round(x + radius * cos(turn + 2 * pi * s), 6), round(y + radius * sin(turn + 2 * pi * s), 6)) for s in shares
    ]
    return tuple(points if draw(st.booleans()) else points[::-1])


def nearly_one(one, other):
    """Whether edges of two polygons lie nearly, but not quite, on one another."""
    edges = [[LineString(pair) for pair in zip(p, (*p[1:], p[0]), strict=True)] for p in (one, other)]
    near = [(a, b) for a in edges[0] for b in edges[1] if a.distance(b) < 1e-3]
    headings = [[(e.coords[1][0] - e.coords[0][0], e.coords[1][1] - e.coords[0][1]) for e in pair] for pair in near]
    return any(
        abs(ux * vy - uy * vx) < 1e-2 * hypot(ux, uy) * hypot(vx, vy) for (ux, uy), (vx, vy) in headings
    )


@settings(max_examples=300, deadline=None)
@given(convex(), convex())
def test_what_convex_faces_share_is_what_cutting_them_gives(one, other):
    assume(not nearly_one(one, other))
    shared = Polygon(one).intersection(Polygon(other))
    pairs = pairs_of(faces_of(one, other), TOUCH_MM, SLIVER_MM)
    if 2.0 * shared.area > 1.1 * SLIVER_MM * shared.length:
        assert pairs.shared_mm2.tolist() == [pytest.approx(shared.area, abs=5e-3)]
        assert pairs.seen.tolist() == [Seen.SECOND]  # they lie in one plane: the later is seen
    elif 2.0 * shared.area < 0.9 * SLIVER_MM * shared.length:
        assert not len(pairs.first)


@settings(max_examples=200, deadline=None)
@given(convex(), st.floats(-1e-4, 1e-4), st.floats(0.0, 2.0 * pi))
def test_a_face_lies_in_another_only_if_every_corner_does(one, off, heading):
    other = shifted(one, off * cos(heading), off * sin(heading))
    pairs = pairs_of(faces_of(one, other), TOUCH_MM, SLIVER_MM)
    assert pairs.seen.tolist() == [Seen.SECOND]
    least, most = Polygon(other).buffer(2e-6, join_style="mitre"), Polygon(other).buffer(4e-6, join_style="mitre")
    assert not least.covers(Polygon(one)) or pairs.in_second.tolist() == [True]
    assert most.covers(Polygon(one)) or pairs.in_second.tolist() == [False]


@settings(max_examples=200, deadline=None)
@given(convex(), convex(), *[st.floats(-2.0, 2.0)] * 4)
def test_which_is_nearer_is_told_as_every_corner_of_what_they_share_has_it(one, other, a, b, c, d):
    shared = Polygon(one).intersection(Polygon(other))
    if shared.area < 1.0:
        return
    planes = [(a, b, 0.0), (c, d, 3.0)]
    lead = [(c - a) * x + (d - b) * y + 3.0 for x, y in shared.exterior.coords]
    pairs = pairs_of(faces_of(one, other, planes=planes), TOUCH_MM, SLIVER_MM)
    margin = 1e-3
    if min(lead) > -TOUCH_MM + margin:
        assert pairs.seen.tolist() == [Seen.SECOND]
    elif max(lead) < TOUCH_MM - margin and min(lead) < -TOUCH_MM - margin:
        assert pairs.seen.tolist() == [Seen.FIRST]
    elif min(lead) < -TOUCH_MM - margin and max(lead) > TOUCH_MM + margin:
        assert pairs.seen.tolist() == [Seen.BOTH]


def test_neighbours_that_share_an_edge_share_no_area_however_the_edge_is_parted():
    parted = ((10.0, -3.0), (20.0, 0.0), (20.0, 10.0), (10.0, 12.0), (10.0, 10.0), (10.0, 9.999), (10.0, 0.001))
    for other in (shifted(SQUARE, 10.0, 0.0), shifted(SQUARE, 10.0, 4.0), parted, parted[::-1]):
        assert not len(pairs_of(faces_of(SQUARE, other), TOUCH_MM, SLIVER_MM).first)


def test_edges_that_lie_on_one_another_are_counted_once():
    low = ((0.0, 0.0), (10.0, 0.0), (10.0, 4.0), (0.0, 4.0))
    pairs = pairs_of(faces_of(SQUARE, low, SQUARE), TOUCH_MM, SLIVER_MM)
    columns = (pairs.first, pairs.second, pairs.in_second, pairs.in_first)
    told = list(zip(*(column.tolist() for column in columns), strict=True))
    assert told == [(0, 1, False, True), (0, 2, True, True), (1, 2, True, False)]
    assert pairs.shared_mm2.tolist() == [pytest.approx(40.0), pytest.approx(100.0), pytest.approx(40.0)]


def test_of_a_concave_face_only_what_holds_all_over_is_told():
    notched = ((0.0, 0.0), (10.0, 0.0), (10.0, 10.0), (5.0, 2.0), (0.0, 10.0))
    over = [LEVEL, (0.0, 0.0, 1.0)]
    through = [LEVEL, (1.0, 0.0, -5.0)]
    for planes, seen in ((over, Seen.SECOND), (over[::-1], Seen.FIRST), (through, Seen.BOTH)):
        pairs = pairs_of(faces_of(notched, SQUARE, planes=planes), TOUCH_MM, SLIVER_MM)
        assert pairs.seen.tolist() == [seen]
        assert not pairs.in_second.any() and not pairs.in_first.any()


def test_grown_by_a_little_on_every_side():
    outlines = (SQUARE, SQUARE[::-1], ((0.0, 0.0), (8.0, 1.0), (3.0, 3.0), (1.0, 9.0)))
    for before, after in zip(outlines, polygons_of(grown(faces_of(*outlines), 0.01)), strict=True):
        wanted = Polygon(before).buffer(0.01, join_style="mitre")
        assert after.symmetric_difference(wanted).area < 1e-6


def test_corners_on_a_straight_edge_are_left_out():
    square = np.array([(0, 0), (5, 0), (10, 0), (10, 10), (10 - 1e-7, 4), (10, 3)][:4] + [(0, 10), (0, 5)], dtype=float)
    kept = without_straight_corners(rings_of([square, np.array(SQUARE)]), 3e-6)
    assert kept.sizes.tolist() == [4, 4]
    assert {tuple(point) for point in kept.points[:4].tolist()} == set(SQUARE)


# --- Lines in areas


def line(ax, ay, bx, by, depth=0.0):
    return Line(a=(ax, ay, depth), b=(bx, by, depth + 1.0), role="edge", name="line")


@settings(max_examples=200, deadline=None)
@given(convex(), convex(), st.tuples(*[st.floats(-45.0, 45.0)] * 4))
def test_the_parts_of_a_line_in_an_area_are_those_of_cutting_it(one, other, ends):
    area = Polygon(one).symmetric_difference(Polygon(other))
    whole = line(*ends)
    flat = LineString([whole.a[:2], whole.b[:2]])
    found = within(whole, area)
    assert sum(LineString([p.a[:2], p.b[:2]]).length for p in found) == pytest.approx(
        flat.intersection(area).length, abs=1e-4
    )
    for part in found:
        share = flat.project(LineString([part.a[:2], part.b[:2]]).centroid, normalized=True)
        assert 0.5 * (part.a[2] + part.b[2]) == pytest.approx(share, abs=1e-6), "depth runs along"


def test_lines_are_cut_each_by_its_own_area():
    ring = Polygon(SQUARE, [shifted(((4, 4), (6, 4), (6, 6), (4, 6)), 0, 0)])
    two = MultiPolygon([Polygon(shifted(SQUARE, 20.0, 0.0)), Polygon(shifted(SQUARE, 40.0, 0.0))])
    through = line(-5.0, 5.0, 60.0, 5.0)
    none, in_ring, in_two, inside = lines_within(
        [through, through, through, line(1.0, 1.0, 2.0, 2.0)], [0, 1, 2, 1], [Polygon(), ring, two]
    )
    assert none == []
    assert [(part.a[0], part.b[0]) for part in in_ring] == [pytest.approx((0, 4)), pytest.approx((6, 10))]
    assert [(part.a[0], part.b[0]) for part in in_two] == [pytest.approx((20, 30)), pytest.approx((40, 50))]
    assert inside == [line(1.0, 1.0, 2.0, 2.0)]
    assert lines_within([], [], []) == []
