"""Tips and dips of traced outlines, against those that the formulas know of themselves."""

import math

import numpy as np
import pytest

from foldproof.geometry.outline import placed, points_of
from foldproof.outlines.catalogue import FORMULAS, draw
from foldproof.outlines.cleaning import cleaned
from foldproof.outlines.landmarks import landmarks_of
from foldproof.outlines.rosette import rosette
from foldproof.outlines.star import star

NEAR_MM = 0.3  # how near a maker points


def usual(formula):
    return draw(formula, {value.name: value.usual for value in formula.values})


def of_kind(marks, kind):
    return np.array([mark.at_mm for mark in marks if mark.kind == kind]).reshape(-1, 2)


def nearest(marks, place):
    return float(np.hypot(*(marks - np.asarray(place)).T).min())


@pytest.mark.parametrize("formula", [each for each in FORMULAS if each.name != "heart"], ids=lambda each: each.name)
def test_they_are_those_of_the_formula(formula):
    shape = usual(formula)
    found = landmarks_of(cleaned(shape.outline).outline)
    for kind in ("tip", "dip"):
        own, known = of_kind(found, kind), of_kind(shape.landmarks, kind)
        assert len(own) == len(known)
        assert all(nearest(own, place) < NEAR_MM for place in known)


def test_a_heart_has_its_point_and_its_dip_and_what_reaches_farthest():
    """The formula names the tops of the lobes, which a maker sees; farthest from the middle are their sides."""
    heart = next(usual(formula) for formula in FORMULAS if formula.name == "heart")
    point, right_top, _, dip = heart.landmarks
    found = landmarks_of(cleaned(heart.outline).outline)
    tips, dips = of_kind(found, "tip"), of_kind(found, "dip")
    assert nearest(tips, point.at_mm) < NEAR_MM and nearest(dips, dip.at_mm) < NEAR_MM
    assert len(tips) == 3 and len(dips) == 3, "the straight sides come nearest to the middle halfway along"
    # Farthest out on a lobe is where the line from the middle through the lobe's own centre leaves it.
    radius = 140 / (1 + math.sqrt(0.5)) / 2
    centre = np.array(right_top.at_mm) - [0, radius]
    side = centre * (1 + radius / np.hypot(*centre))
    assert nearest(tips, side) < NEAR_MM and nearest(tips, side * [-1, 1]) < NEAR_MM


def test_names_run_anticlockwise_from_the_right():
    found = landmarks_of(rosette(across_mm=140, lobes=5, depth_mm=8).outline)
    assert [mark.name for mark in found] == [f"{kind} {n}" for kind in ("tip", "dip") for n in range(1, 6)]
    for kind, first in (("tip", 0.0), ("dip", math.pi / 5)):
        bearings = np.unwrap([math.atan2(y, x) for x, y in of_kind(found, kind)])
        assert bearings == pytest.approx(first + np.arange(5) * math.tau / 5, abs=1e-3)


@pytest.mark.parametrize("turn", [-0.009, 0.009])
def test_the_tip_to_the_right_is_the_first_however_it_was_traced(turn):
    points = placed(points_of(star(across_mm=100, points=5, depth_mm=30).outline), turn_rad=turn - math.pi / 2)
    first, *_ = landmarks_of(tuple(map(tuple, points)))
    assert first.name == "tip 1"
    assert first.at_mm == pytest.approx((50, 50 * turn), abs=0.01)


def test_a_shape_is_measured_from_its_middle():
    outline = tuple((x + 200, y - 50) for x, y in star(across_mm=100, points=5, depth_mm=30).outline)
    found = landmarks_of(outline, middle=(200, -50))
    assert of_kind(found, "tip") - [200, -50] == pytest.approx(
        of_kind(landmarks_of(star(across_mm=100, points=5, depth_mm=30).outline), "tip"), abs=1e-9
    )


@pytest.mark.parametrize(("depth", "count"), [(0.9, 0), (1.5, 8)])
def test_waves_too_small_to_see_have_no_tips(depth, count):
    assert len(of_kind(landmarks_of(rosette(across_mm=100, lobes=8, depth_mm=depth).outline), "tip")) == count


@pytest.mark.parametrize(("depth", "count"), [(2.8, 0), (3.2, 8)])
def test_on_a_large_shape_a_wave_must_be_a_hundredth_of_it(depth, count):
    assert len(of_kind(landmarks_of(rosette(across_mm=300, lobes=8, depth_mm=depth).outline), "tip")) == count


def test_a_concave_shape_without_symmetry():
    """A hand with a thumb: four ends reach out, and what lies between them is near."""
    thumb = [(22, -5), (45, 10), (40, 20), (18, 12)]
    fingers = [(20, 60), (8, 62), (5, 25), (-5, 70), (-18, 66)]
    found = landmarks_of(cleaned([(-20, -40), (20, -40), *thumb, *fingers]).outline, middle=(0, 0))
    tips = of_kind(found, "tip")
    for end in ((-20, -40), (20, -40), (45, 10), (20, 60), (-5, 70)):
        assert nearest(tips, end) < NEAR_MM
    assert nearest(of_kind(found, "dip"), (5, 25)) < NEAR_MM
    assert len(tips) == len(of_kind(found, "dip"))


def test_noise_moves_a_rounded_tip_little():
    rng = np.random.default_rng(5)
    shape = rosette(across_mm=140, lobes=10, depth_mm=5)
    points = points_of(rosette(across_mm=140, lobes=10, depth_mm=5, chord_error_mm=0.0005).outline)
    found = landmarks_of(cleaned(points + rng.normal(0, 0.01, points.shape)).outline)
    worst = max(nearest(of_kind(found, mark.kind), mark.at_mm) for mark in shape.landmarks)
    assert len(found) == 20 and worst < 1.0
