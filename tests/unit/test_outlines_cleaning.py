"""From traced points to an outline: simple, within the accuracy, and refused with the reason when it is none."""

import math
import time

import numpy as np
import pytest
import shapely

from foldproof.errors import InputError
from foldproof.geometry.plane import is_simple, signed_area
from foldproof.outlines.cleaning import ACCURACY_MM, JOIN_MM, MOST_GIVEN, MOST_POINTS, cleaned
from foldproof.outlines.crossing import crossings, turns_round
from foldproof.outlines.simplifying import chord_distances, simplified, simplified_line

SQUARE = ((0, 0), (100, 0), (100, 80), (0, 80))


def wave(count, *, deep=2.4, lobes=10, noise=0.0):
    """A disc of 67 mm with a wave, as a rosette has, drawn with many points."""
    bearing = np.arange(count) * 2 * math.pi / count
    radius = 67 + deep * np.cos(lobes * bearing)
    points = np.column_stack((radius * np.cos(bearing), radius * np.sin(bearing)))
    return points + np.random.default_rng(1).normal(0, noise, points.shape) if noise else points


def farthest(one, other):
    """Hausdorff distance by GEOS, with places on the edges too."""
    return shapely.hausdorff_distance(shapely.LinearRing(one), shapely.LinearRing(other), densify=0.25)


def problem(points, **options):
    with pytest.raises(InputError) as caught:
        cleaned(points, **options)
    (found,) = caught.value.problems
    return found


def test_a_good_outline_stays_as_it_is():
    found = cleaned(SQUARE)
    assert set(found.outline) == set(SQUARE)
    assert (found.strayed_mm, found.area_change_mm2, found.points_given, found.mended) == (0, 0, 4, ())


def test_it_runs_anticlockwise_whichever_way_it_was_drawn():
    for points in (SQUARE, SQUARE[::-1]):
        assert signed_area(cleaned(points).outline) == 8000


def test_repeats_straight_points_and_the_closing_point_are_dropped():
    drawn = [(0, 0), (50, 0), (50, 0), (100, 0), (100, 0), (100, 80), (0, 80), (0, 40), (0, 0)]
    assert set(cleaned(drawn).outline) == set(SQUARE)


@pytest.mark.parametrize("accuracy", [0.02, 0.05, 0.2, 1.0])
def test_simplified_within_the_accuracy_and_the_distance_is_measured(accuracy):
    points = wave(800)
    found = cleaned(points, accuracy_mm=accuracy)
    strayed = farthest(points, found.outline)
    assert strayed <= found.strayed_mm + 1e-9 <= accuracy
    assert found.strayed_mm == pytest.approx(strayed, abs=0.1 * accuracy)
    # The change of area is the measured one, and no more than a strip of the accuracy round the outline.
    areas = [shapely.Polygon(each).area for each in (found.outline, points)]
    assert found.area_change_mm2 == pytest.approx(areas[0] - areas[1], abs=1e-6)
    assert abs(found.area_change_mm2) < accuracy * shapely.LinearRing(points).length


def test_few_points_are_left():
    """A chord as long as sqrt(8 r e) strays by e from a circle of radius r: corners on it can be no fewer."""
    circle = wave(5000, deep=0)
    fewest = 2 * math.pi * 67 / math.sqrt(8 * 67 * 0.4 * ACCURACY_MM)
    assert fewest <= len(cleaned(circle).outline) <= 1.1 * fewest + 1


def test_a_hundred_thousand_points_are_accepted_when_they_simplify():
    started = time.process_time()
    found = cleaned(wave(100_000))
    assert time.process_time() - started < 2.0
    assert len(found.outline) < 250
    assert found.points_given == 100_000


@pytest.mark.parametrize("points", [wave(100_000, noise=0.05), np.random.default_rng(2).normal(0, 50, (100_000, 2))])
def test_a_hundred_thousand_points_are_refused_when_they_do_not(points):
    started = time.process_time()
    told = problem(points)
    assert time.process_time() - started < 2.0
    assert "too many points" in told.reason and f"more than {MOST_POINTS}" in told.reason


def test_the_remedy_for_too_many_points_works():
    points = wave(40_000, noise=0.03)
    told = problem(points)
    (accuracy,) = [float(word) for word in told.remedy.split() if word.replace(".", "").isdigit()]
    assert len(cleaned(points, accuracy_mm=accuracy).outline) <= MOST_POINTS


def test_more_points_than_are_looked_at():
    assert f"more than {MOST_GIVEN} points" in problem(np.zeros((MOST_GIVEN + 1, 2))).reason


@pytest.mark.parametrize(
    ("points", "reason", "value"),
    [
        ([], "fewer than three", "no points"),
        ([(0, 0)], "fewer than three", "1 point"),
        ([(0, 0), (0, 0), (50, 0), (50, 0)], "fewer than three", "2 points"),
        ([(0, 0), (math.nan, 0), (50, 50)], "not a number", "point 2: nan, 0.0"),
        ([(0, 0), (50, 0), (50, math.inf)], "not a number", "point 3: 50.0, inf"),
        ([(0, 0), (1e300, 0), (50, 50)], "farther away than a kilometre", "1e+300 mm"),
        ([(0, 0), (50, 0), (100, 0)], "no area", "a line"),
        ([(0, 0), (100, 0), (100, 0.01)], "no area", "a line"),
        ([(0, 0), (9.9, 0), (9.9, 0.1)], "smaller than 10 mm", "9.90 mm"),
        ([(0, 0), (1001, 0), (500, 300)], "wider than 1000 mm", "1001 mm"),
        ([(0, 0), (100, 100), (100, 0), (0, 100)], "crosses or touches itself", "at 50.00, 50.00 mm"),
        ([(0, 0), (100, 0), (50, 50), (100, 100), (0, 100), (50, 50)], "crosses or touches", "at 50.00, 50.00 mm"),
        ([(0, 0), (100, 0), (100, 50), (105, 50), (100, 50), (100, 100)], "crosses or touches", "at 100.00, 50.00 mm"),
    ],
)
def test_what_is_refused(points, reason, value):
    told = problem(points, field="shape 3")
    assert reason in told.reason
    assert value in told.value
    assert told.field == "shape 3" and told.remedy


@pytest.mark.parametrize(
    "points",
    [
        [(0, 0), (10, 0), (5, 8)],
        [(0, 0), (1000, 0), (500, 300)],
        [(0, 0), (100, 0), (100, 0.2), (0, 0.2)],
        [(1e5, 0), (1e5, 80), (1e5 - 100, 80), (1e5 - 100, 1)],
    ],
)
def test_just_on_the_right_side(points):
    assert is_simple(cleaned(points).outline)


def test_an_open_line_is_refused_with_its_gap():
    told = problem(SQUARE, gap_mm=3.25)
    assert "open" in told.reason and "3.25 mm" in told.value
    assert problem(SQUARE, gap_mm=math.nan).reason == told.reason
    assert cleaned(SQUARE, gap_mm=JOIN_MM).outline == cleaned(SQUARE).outline


@pytest.mark.parametrize("accuracy", [0.0, -1.0, 1e-6, 50.0, math.nan, math.inf])
def test_an_accuracy_that_is_none(accuracy):
    assert "accuracy" in problem(SQUARE, accuracy_mm=accuracy).reason


def test_tiny_loops_are_taken_out_and_told():
    loop = [(0, 0), (100, 0), (100, 50.2), (100.2, 50.2), (100.2, 50), (99.9, 50), (100, 100)]
    found = cleaned(loop)
    assert found.mended == ((100.0, 50.0),)
    assert is_simple(found.outline)
    assert farthest(loop, found.outline) <= found.strayed_mm + 1e-9 < 0.5
    assert abs(found.area_change_mm2) < 0.1


def test_a_larger_loop_is_not_taken_out():
    loop = [(0, 0), (100, 0), (100, 52), (102, 52), (102, 50), (99, 50), (100, 100)]
    assert "at 100.00, 50.00 mm" in problem(loop).value


def test_a_narrow_neck_stays_open():
    """Simplifying alone would let the sides of a neck cross that is narrower than the accuracy."""
    left = [(-5 - 0.4 * math.cos(y), y / 4) for y in np.linspace(-40, 40, 400)]
    right = [(x + 0.012, y) for x, y in left[::-1]]
    drawn = [*((x - 20, y) for x, y in ((-5, 10), (-5, -10))), *left, *right, (15, 10), (15, 20), (-25, 20)]
    points = np.array(drawn)
    assert shapely.Polygon(points).is_valid
    assert not shapely.Polygon(points[simplified(points, 0.4 * 0.2)]).is_valid
    assert is_simple(cleaned(drawn, accuracy_mm=0.2).outline)


def test_a_tangle_is_refused_at_once():
    started = time.process_time()
    told = problem(np.random.default_rng(3).normal(0, 50, (3_900, 2)))
    assert "crosses" in told.reason
    assert time.process_time() - started < 2.0


def test_all_crossings_are_found():
    zigzag = [(x, 4 * (x % 2)) for x in range(6)]
    ring = np.array([*zigzag, (6, 2), (-1, 2.0)], dtype=float)
    found = crossings(ring)
    assert sorted(x for x, _ in found) == pytest.approx([0.5, 1.5, 2.5, 3.5, 4.5, 5.5][:len(found)])
    assert len(found) == 5


def test_turns_round():
    square = np.array(SQUARE, dtype=float)
    twice = np.concatenate((square, 0.5 * square + 10))
    assert turns_round(square, (50, 40)) == 1 and turns_round(square[::-1], (50, 40)) == -1
    assert turns_round(square, (150, 40)) == 0
    assert turns_round(twice, (20, 20)) == 2


@pytest.mark.parametrize("noise", [0.0, 0.004, 0.03, 0.3])
@pytest.mark.parametrize("tolerance", [0.005, 0.02, 0.5])
def test_dropped_points_lie_within_the_tolerance_of_their_chords(noise, tolerance):
    points = wave(600, noise=noise, deep=8)
    kept = simplified(points, tolerance)
    away = chord_distances(points, kept)
    assert away.max() <= tolerance + 1e-12
    assert np.all(np.diff(kept) > 0)
    # The bound holds the other way round too, and for places between the points.
    assert farthest(points, points[kept]) <= away.max() + 1e-9


def test_there_and_back_is_not_cut_short():
    line = np.array([(0, 0), (50, 0), (0.01, 0), (40, 0.01), (40, 30)], dtype=float)
    assert list(simplified_line(line, 0.05)) == [0, 1, 2, 3, 4]
