"""Symmetry found in outlines that were traced: by hand, blade and camera, so never exact."""

import math

import numpy as np
import pytest
import shapely

from foldproof.geometry.outline import placed, points_of
from foldproof.geometry.plane import is_simple, signed_area
from foldproof.outlines.catalogue import FORMULAS, draw
from foldproof.outlines.cleaning import cleaned
from foldproof.outlines.copies import mirrored
from foldproof.outlines.rosette import rosette
from foldproof.outlines.scalloped_disc import scalloped_disc
from foldproof.outlines.star import star
from foldproof.outlines.symmetry import symmetrised, symmetry_of
from foldproof.outlines.walking import round_with_steps

SHAPES = [draw(formula, {value.name: value.usual for value in formula.values}) for formula in FORMULAS] + [
    rosette(across_mm=120, lobes=2, depth_mm=20),
    star(across_mm=100, points=6, depth_mm=25),
    scalloped_disc(across_mm=150, lobes=24, depth_mm=4),
]
NOISE_MM = 0.15


def kind_of(shape):
    return f"{shape.kind} {shape.fold}"


def shaken(outline, amount, key=1):
    """The outline with its edge moved in and out by up to an amount, smoothly, as a hand does."""
    rng = np.random.default_rng(key)
    points = round_with_steps(points_of(outline), 0.3)
    along = np.arange(len(points)) * 2 * math.pi / len(points)
    moved = sum(rng.normal() * np.cos(wave * along + rng.uniform(0, 7)) for wave in range(1, 40))
    ahead = np.roll(points, -1, axis=0) - np.roll(points, 1, axis=0)
    outwards = np.column_stack((ahead[:, 1], -ahead[:, 0])) / np.hypot(*ahead.T)[:, None]
    return points + (moved / np.abs(moved).max() * amount)[:, None] * outwards


def as_polygon(points):
    return tuple(map(tuple, np.asarray(points).tolist()))


def apart(one, other):
    """Hausdorff distance by GEOS, with places on the edges too."""
    return shapely.hausdorff_distance(shapely.LinearRing(one), shapely.LinearRing(other), densify=0.25)


def copies(points, symmetry):
    about = np.asarray(points) - symmetry.middle
    yield from (placed(about, turn_rad=math.tau * k / symmetry.fold) for k in range(1, symmetry.fold))
    yield from (mirrored(about, axis) for axis in symmetry.mirror_axes_rad)


@pytest.mark.parametrize("noise", [0.0, NOISE_MM])
@pytest.mark.parametrize("shape", SHAPES, ids=kind_of)
def test_found_wherever_it_lies_and_however_it_was_traced(shape, noise):
    turn, shift = 0.3, (30.0, -7.0)
    traced = shaken(shape.outline, noise) if noise else points_of(shape.outline)
    outline = cleaned(placed(traced, turn_rad=turn, shift_mm=shift)).outline
    found = symmetry_of(outline)
    assert (found.fold, len(found.mirror_axes_rad)) == (shape.fold, len(shape.mirror_axes_rad))
    assert found.middle == pytest.approx(shift, abs=0.02 + noise / 2)
    assert found.error_mm <= 0.03 + 2 * noise
    for axis in found.mirror_axes_rad:
        off = [math.remainder(axis - turn - each, math.pi) for each in shape.mirror_axes_rad]
        assert min(map(abs, off)) < 1e-5 + noise / 100


@pytest.mark.parametrize("shape", [each for each in SHAPES if 0 < each.fold < 20], ids=kind_of)
def test_the_error_is_the_largest_distance_of_any_copy(shape):
    outline = cleaned(shaken(shape.outline, NOISE_MM)).outline
    found = symmetry_of(outline)
    about = np.asarray(outline) - found.middle
    assert found.error_mm == pytest.approx(max(apart(about, copy) for copy in copies(outline, found)), abs=0.03)


@pytest.mark.parametrize("shape", SHAPES, ids=kind_of)
def test_made_exact_it_is_nearer_to_what_was_drawn(shape):
    true = points_of(shape.outline)
    traced = cleaned(shaken(shape.outline, NOISE_MM)).outline
    symmetry = symmetry_of(traced)
    found = symmetrised(traced, symmetry)
    assert is_simple(found.outline) and signed_area(found.outline) > 0
    assert found.change_mm <= max(symmetry.error_mm, NOISE_MM)
    assert found.change_mm == pytest.approx(apart(traced, found.outline), abs=0.03)
    again = symmetry_of(found.outline)
    assert again.fold == shape.fold and len(again.mirror_axes_rad) == len(shape.mirror_axes_rad)
    assert again.error_mm < (0.03 if shape.fold == 0 else 1e-4)
    ring = shapely.LinearRing(true)
    before, after = (
        np.mean([ring.distance(shapely.Point(p)) for p in round_with_steps(points_of(outline), 1.0)])
        for outline in (traced, found.outline)
    )
    # Of n independent copies the mean is as far off as one over the root of n; two copies share much.
    assert after < (0.75 if shape.fold > 1 else 0.9) * before


@pytest.mark.parametrize("shape", SHAPES, ids=kind_of)
def test_an_exact_outline_is_hardly_changed(shape):
    outline = cleaned(shape.outline).outline
    assert symmetrised(outline, symmetry_of(outline)).change_mm < 0.03


def test_turns_without_mirror_axes():
    """A wheel of four hooked blades turns onto itself and has no mirror image."""
    blade = np.array([(10, -10), (60, -12), (70, 8), (50, -2), (10, 10)])
    wheel = np.concatenate([placed(blade, turn_rad=k * math.pi / 2) for k in range(4)])
    outline = cleaned(wheel).outline
    found = symmetry_of(outline)
    assert (found.fold, found.mirror_axes_rad) == (4, ())
    assert found.error_mm < 1e-6 and found.found
    exact = symmetrised(cleaned(shaken(outline, 0.1)).outline, symmetry_of(cleaned(shaken(outline, 0.1)).outline))
    assert apart(exact.outline, outline) < 0.12
    assert symmetry_of(exact.outline).error_mm < 1e-4


def test_an_outline_that_is_not_seen_whole_from_its_middle():
    """Four arms with hooks on both sides: rays from the middle cross its edge many times."""
    upper = np.array([(62, 6), (48, 6), (48, 22), (55, 22), (55, 30), (40, 30), (40, 8), (8, 8)], dtype=float)
    arm = np.concatenate((upper[::-1][1:] * [1, -1], upper))
    cross = np.concatenate([placed(arm, turn_rad=k * math.pi / 2) for k in range(4)])
    outline = cleaned(cross).outline
    found = symmetry_of(outline)
    assert (found.fold, len(found.mirror_axes_rad)) == (4, 4)
    traced = cleaned(shaken(outline, 0.1)).outline
    assert apart(symmetrised(traced, symmetry_of(traced)).outline, outline) < 0.12


@pytest.mark.parametrize("turn", [0.0, 0.7, -2.0])
def test_a_crescent_whose_middle_lies_in_its_hollow(turn):
    bearing = np.linspace(0.5, math.tau - 0.5, 60)
    outer, inner = (radius * np.column_stack((np.cos(bearing), np.sin(bearing))) for radius in (60, 48))
    crescent = cleaned(placed(np.concatenate((outer, inner[::-1])), turn_rad=turn)).outline
    found = symmetry_of(crescent)
    assert not shapely.Polygon(crescent).contains(shapely.Point(found.middle))
    assert (found.fold, len(found.mirror_axes_rad)) == (1, 1)
    traced = cleaned(shaken(crescent, 0.1)).outline
    exact = symmetrised(traced, symmetry_of(traced))
    assert apart(exact.outline, crescent) < 0.15
    assert symmetry_of(exact.outline).error_mm < 1e-4


@pytest.mark.parametrize("turn", [k / 8 for k in range(-8, 9)])
@pytest.mark.parametrize("radii", [(41, 30, 30), (41, 30, 35), (50, 20)])
def test_corners_on_an_axis_are_kept(radii, turn):
    """An axis is found a hair beside its corner; the corner is neither lost nor drawn twice."""
    distances = np.tile(radii, 2)
    bearing = np.arange(len(distances)) * math.tau / len(distances) + turn
    outline = cleaned(np.column_stack((distances * np.cos(bearing), distances * np.sin(bearing)))).outline
    exact = symmetrised(outline, symmetry_of(outline))
    assert len(exact.outline) == len(outline)
    assert exact.change_mm < 1e-3


def test_no_symmetry():
    blob = cleaned([(0, 0), (70, -5), (90, 30), (60, 55), (50, 100), (10, 60)]).outline
    found = symmetry_of(blob)
    assert (found.fold, found.mirror_axes_rad, found.error_mm, found.found) == (1, (), 0.0, False)
    assert symmetrised(blob, found) is None


@pytest.mark.parametrize("longer", [1.2, 0.2])
def test_the_tolerance_is_where_it_says(longer):
    """One of five tips is longer: a turn moves it onto the others, so it is off by that much and a little less."""
    points = points_of(star(across_mm=100, points=5, depth_mm=30).outline).copy()
    points[0] *= (50 + longer) / 50
    outline = as_polygon(points)
    error = symmetry_of(outline, tolerance_mm=3.0)
    assert error.fold == 5 and 0.2 * longer < error.error_mm < longer
    assert symmetry_of(outline, tolerance_mm=error.error_mm + 1e-6) == error
    less = symmetry_of(outline, tolerance_mm=error.error_mm - 1e-6)
    assert (less.fold, less.mirror_axes_rad) != (error.fold, error.mirror_axes_rad)
    assert less.error_mm < error.error_mm
    assert len(symmetry_of(outline, tolerance_mm=0.01).mirror_axes_rad) == 1, "the long tip's own axis is left"


def test_shallow_lobes_are_counted_right_or_called_a_disc():
    """Shallower than the tolerance they are a disc within it; deeper, no other number of lobes is within it."""
    for depth in (0.8, 1.2, 1.8, 3.0):
        outline = rosette(across_mm=140, lobes=12, depth_mm=depth).outline
        assert symmetry_of(outline, tolerance_mm=1.0).fold == (12 if depth > 1.0 else 0)
    assert symmetry_of(rosette(across_mm=140, lobes=10, depth_mm=0.8).outline).fold == 10


def test_as_many_lobes_as_a_formula_may_have():
    found = symmetry_of(scalloped_disc(across_mm=150, lobes=60, depth_mm=2).outline)
    assert (found.fold, len(found.mirror_axes_rad)) == (60, 60)


def test_a_disc_is_round_to_its_error():
    points = [(70 * math.cos(a), 69.8 * math.sin(a)) for a in np.arange(300) * math.tau / 300]
    found = symmetry_of(as_polygon(points))
    assert found.fold == 0 and found.mirror_axes_rad == ()
    assert found.error_mm == pytest.approx(0.2, abs=0.01)
    round_piece = symmetrised(as_polygon(points), found)
    assert shapely.Polygon(round_piece.outline).area == pytest.approx(math.pi * 70 * 69.8, rel=1e-3)
    assert symmetry_of(as_polygon(points), tolerance_mm=0.1).fold == 2


def test_many_points_are_thinned_and_the_error_says_so():
    shape = rosette(across_mm=140, lobes=10, depth_mm=5, chord_error_mm=0.0002)
    assert len(shape.outline) > 600
    found = symmetry_of(shape.outline)
    assert (found.fold, len(found.mirror_axes_rad)) == (10, 10)
    assert 0.0 < found.error_mm < 0.05


def test_the_same_outline_gives_the_same_answer():
    outline = cleaned(shaken(SHAPES[5].outline, NOISE_MM)).outline
    assert symmetry_of(outline) == symmetry_of(outline)
    assert symmetrised(outline, symmetry_of(outline)) == symmetrised(outline, symmetry_of(outline))
