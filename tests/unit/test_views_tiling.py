"""Tiles: what they show, added up without their overlaps, is the whole drawing and nothing else."""

import math
from itertools import pairwise

import pytest
import shapely
from hypothesis import given
from hypothesis import strategies as st

from foldproof.drawing.records import Area, Path, Stroke
from foldproof.views.tiling import OVERLAP_MM, Window, clipped, clipped_line, windows

places = st.floats(-30.0, 130.0).map(lambda value: round(value, 2))
points = st.tuples(places, places)
WINDOW = Window(name="A1", column=0, row=0, left=0.0, low=0.0, right=100.0, high=100.0)


def line(path):
    return shapely.LineString(path.points + path.points[: 1 if path.closed else 0])


@given(st.lists(points, min_size=3, max_size=8, unique=True), st.booleans())
def test_a_clipped_line_is_the_line_inside(corners, closed):
    path = Path(points=tuple(corners), closed=closed)
    segments = list(pairwise((*corners, corners[0]) if closed else corners))
    meant = sum(shapely.LineString(s).intersection(WINDOW.shape).length for s in segments)
    runs = clipped_line(path, WINDOW)
    assert sum(line(run).length for run in runs) == pytest.approx(meant, abs=1e-6)
    for run in runs:
        assert all(-1e-6 <= c <= 100.0 + 1e-6 for point in run.points for c in point)


def test_a_line_that_leaves_and_comes_back_is_two_runs():
    path = Path(points=((10.0, 50.0), (150.0, 50.0), (150.0, 80.0), (10.0, 80.0)))
    assert [run.points for run in clipped_line(path, WINDOW)] == [
        ((10.0, 50.0), (100.0, 50.0)),
        ((100.0, 80.0), (10.0, 80.0)),
    ]


def test_a_closed_path_stays_closed_inside_and_opens_at_the_edge():
    inside = Path(points=((10.0, 10.0), (20.0, 10.0), (20.0, 20.0)), closed=True)
    assert clipped_line(inside, WINDOW) == (inside,)
    across = Path(points=((50.0, 50.0), (150.0, 50.0), (150.0, 80.0), (50.0, 80.0)), closed=True)
    (run,) = clipped_line(across, WINDOW)
    assert not run.closed and run.points[0] == (100.0, 80.0) and run.points[-1] == (100.0, 50.0)


def test_a_line_along_the_edge_is_kept():
    path = Path(points=((100.0, 20.0), (100.0, 60.0)))
    assert clipped_line(path, WINDOW) == (path,)


def test_areas_keep_their_holes():
    ring = Area(
        paths=(
            Path(points=((50.0, 50.0), (150.0, 50.0), (150.0, 90.0), (50.0, 90.0)), closed=True),
            Path(points=((60.0, 60.0), (70.0, 60.0), (70.0, 70.0), (60.0, 70.0)), closed=True),
        ),
        role="waste",
    )
    (part,) = clipped((ring,), WINDOW)
    shape = shapely.Polygon(part.paths[0].points, [path.points for path in part.paths[1:]])
    assert shape.area == pytest.approx(50 * 40 - 100)


@given(st.floats(20.0, 700.0), st.floats(20.0, 700.0))
def test_windows_cover_the_content_with_their_overlap(width, height):
    content = shapely.box(0.0, 0.0, width, height)
    found = windows(content, 180.0, 210.0)
    assert shapely.union_all([w.shape for w in found]).buffer(1e-6).covers(content)
    least = [
        max(1, math.ceil((side - OVERLAP_MM - 1e-9) / (room - OVERLAP_MM)))
        for side, room in ((width, 180.0), (height, 210.0))
    ]
    assert len(found) == least[0] * least[1]
    named = {w.name: w for w in found}
    for window in found:
        for side, name in window.neighbours:
            other = named[name]
            shared = window.shape.intersection(other.shape).bounds
            across = shared[2] - shared[0] if side in ("left", "right") else shared[3] - shared[1]
            assert across == pytest.approx(OVERLAP_MM)
            back = {"left": "right", "right": "left", "top": "bottom", "bottom": "top"}[side]
            assert (back, window.name) in other.neighbours


def test_sheets_with_nothing_on_them_are_left_out():
    corner = shapely.box(0, 0, 300, 20).union(shapely.box(0, 0, 20, 300))
    assert [w.name for w in windows(corner, 160.0, 160.0)] == ["A1", "A2", "B2"]


def test_letters_go_on_after_z():
    names = [w.name for w in windows(shapely.box(0, 0, 27 * 90.0 + 10.0, 50.0), 100.0, 100.0)]
    assert (names[0], names[25], names[26]) == ("A1", "Z1", "AA1")


def test_names_and_roles_stay_with_their_parts():
    stroke = Stroke(path=Path(points=((-10.0, 5.0), (10.0, 5.0))), role="valley", name="fold_tab")
    assert clipped((stroke,), WINDOW) == (
        Stroke(path=Path(points=((0.0, 5.0), (10.0, 5.0))), role="valley", name="fold_tab"),
    )
