"""The parts a photograph is read with, each against figures worked another way."""

import math

import numpy as np
import pytest

from foldproof.outlines.photograph.blur import spread_of_step
from foldproof.outlines.photograph.corners import pulled_in
from foldproof.outlines.photograph.light import LIGHT, light_of, written
from foldproof.outlines.photograph.proportion import camera_over, off_proportion, turned_sheet, unlikely
from foldproof.outlines.photograph.sheet_choice import going_round
from foldproof.outlines.photograph.view import View, in_picture, on_sheet, pixels_per_mm, sheet_corners, view_of_corners

SIZE = (4000, 3000)
SHEET_MM = (297.0, 210.0)
HALF = math.hypot(*SIZE) / 2.0


def seen_from(height_mm: float, tip_rad: float, focal: float, bow: float = 0.0) -> View:
    """A pinhole of so many long sides, above the sheet's middle, tipped about the sheet's x."""
    c, s = math.cos(tip_rad), math.sin(tip_rad)
    f = focal * max(SIZE) / HALF
    rows = np.array([[f, 0.0, 0.0], [0.0, -f * c, 0.0], [0.0, s, height_mm]])
    return View(plane=tuple(float(v) for v in (rows / height_mm).ravel()), bow=bow, size=SIZE)


@pytest.mark.parametrize("bow", [-0.05, 0.0, 0.05])
def test_from_the_sheet_to_the_picture_and_back(bow):
    view = seen_from(350.0, 0.3, 0.8, bow)
    points = np.random.default_rng(1).uniform(-100.0, 100.0, (50, 2))
    assert np.abs(on_sheet(view, in_picture(view, points)) - points).max() < 1e-6
    level = seen_from(350.0, 0.0, 0.8)
    assert pixels_per_mm(level, np.zeros((1, 2)))[0] == pytest.approx(0.8 * 4000.0 / 350.0, rel=1e-6)


def test_a_view_is_found_from_its_corners():
    view = seen_from(350.0, 0.3, 0.8)
    again = view_of_corners(in_picture(view, sheet_corners(SHEET_MM)), SHEET_MM, SIZE)
    points = np.array([[10.0, -40.0], [-100.0, 70.0]])
    assert np.abs(in_picture(again, points) - in_picture(view, points)).max() < 1e-6


def test_corners_go_round_from_the_lower_left_whatever_their_order():
    corners = np.array([[100.0, 900.0], [1200.0, 950.0], [1100.0, 80.0], [150.0, 60.0]])
    for order in ([0, 1, 2, 3], [3, 1, 0, 2], [2, 0, 1, 3]):
        found = going_round(corners[order])
        assert found is not None and np.array_equal(found, corners)
    assert going_round(np.array([[0.0, 0.0], [10.0, 0.0], [20.0, 0.0], [5.0, 9.0]])) is None


def test_the_camera_and_the_proportion_are_told_by_perspective():
    view = seen_from(400.0, math.radians(25.0), 0.8)
    over, height = camera_over(view)
    # The axis of the lens meets the sheet's middle at 400 mm, 25 degrees from upright.
    assert height == pytest.approx(400.0 * math.cos(math.radians(25.0)), rel=0.05)
    assert math.hypot(*over) == pytest.approx(400.0 * math.sin(math.radians(25.0)), rel=0.05)
    assert off_proportion(view) == pytest.approx(0.0, abs=1e-3)
    wrong, _ = turned_sheet(view, SHEET_MM)
    assert unlikely(wrong) > unlikely(view) + 5.0
    level = seen_from(400.0, 0.0, 0.8)
    stretched = View(plane=tuple(p * k for p, k in zip(level.plane, (1.05, 1, 1) * 3, strict=True)), bow=0.0, size=SIZE)
    assert off_proportion(stretched) == pytest.approx(0.05, abs=1e-6)


@pytest.mark.parametrize("spread", [0.6, 1.5, 4.0])
def test_the_blur_of_a_step_is_found_through_noise(spread):
    at = np.arange(-16.0, 17.0) - 0.8
    step = np.array([0.5 * (1.0 + math.erf(x / spread / math.sqrt(2.0))) for x in at])
    rough = step + np.random.default_rng(2).normal(0.0, 0.03, len(at))
    assert spread_of_step(step) == pytest.approx(spread, rel=0.06)
    assert spread_of_step(rough) == pytest.approx(spread, rel=0.2)


def test_how_far_blur_pulls_a_corner_in():
    """A right angle: half of a round bell lies in it where each side, at d / sqrt 2, leaves the root of a half;
    the normal distribution is sqrt 0.5 at 0.5450 spreads (computed from the definition by halving)."""
    low, high = 0.0, 2.0
    for _ in range(60):
        middle = 0.5 * (low + high)
        share = 0.5 * (1.0 + math.erf(middle / math.sqrt(2.0)))
        low, high = (middle, high) if share < math.sqrt(0.5) else (low, middle)
    assert pulled_in(math.pi / 4.0) == pytest.approx(low * math.sqrt(2.0), rel=1e-3)
    assert pulled_in(math.radians(10.0)) > pulled_in(math.radians(30.0)) > pulled_in(math.radians(80.0))


def test_light_is_that_of_srgb():
    """IEC 61966-2-1: written 0.5 is light 0.2140."""
    assert np.interp(127.5, np.arange(256), LIGHT) == pytest.approx(0.2140, abs=2e-4)
    every = np.arange(256, dtype=np.uint8)
    assert np.array_equal(written(light_of(every)), every)
