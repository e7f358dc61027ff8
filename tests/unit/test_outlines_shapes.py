"""The shapes themselves: sizes from other formulas, symmetry, landmarks, and nearness to the true curve."""

import math

import numpy as np
import pytest
from shapely.geometry import LinearRing, Point, Polygon

from foldproof.geometry.outline import points_of
from foldproof.outlines.catalogue import FORMULAS, draw, formula_named
from foldproof.outlines.curves import CHORD_ERROR_MM
from foldproof.outlines.disc import disc
from foldproof.outlines.heart import heart
from foldproof.outlines.regular_polygon import regular_polygon
from foldproof.outlines.rosette import rosette
from foldproof.outlines.rounded_square import rounded_square
from foldproof.outlines.scalloped_disc import scalloped_disc
from foldproof.outlines.square import square
from foldproof.outlines.star import star

SAME_MM = 1e-9  # float noise on shapes of 100 mm


def usual(name):
    formula = formula_named(name)
    return draw(formula, {value.name: value.usual for value in formula.values})


SHAPES = [usual(formula.name) for formula in FORMULAS]
ODD_SHAPES = [
    regular_polygon(across_mm=90, sides=7),
    scalloped_disc(across_mm=150, lobes=3, depth_mm=30),
    rosette(across_mm=120, lobes=5, depth_mm=40),
    rosette(across_mm=120, lobes=2, depth_mm=20),
    star(across_mm=100, points=6, depth_mm=25),
    star(across_mm=100, points=3, depth_mm=40),
]
EVERY = SHAPES + ODD_SHAPES


def kind_of(shape):
    return f"{shape.kind} {shape.fold}"


def same_outline(one, other):
    """Every point of each has a point of the other in its place."""
    apart = np.hypot(one[:, None, 0] - other[None, :, 0], one[:, None, 1] - other[None, :, 1])
    return bool(apart.min(axis=0).max() < SAME_MM and apart.min(axis=1).max() < SAME_MM)


def turned(points, angle):
    cosine, sine = math.cos(angle), math.sin(angle)
    return points @ np.array([[cosine, sine], [-sine, cosine]])


def mirrored(points, axis):
    return turned(turned(points, -axis) * [1, -1], axis)


@pytest.mark.parametrize("shape", EVERY, ids=kind_of)
def test_symmetry_is_as_said_and_not_more(shape):
    points = points_of(shape.outline)
    if shape.fold == 0:
        assert shape.kind == "disc" and shape.mirror_axes_rad == ()
        assert np.hypot(*points.T) == pytest.approx(shape.across_mm / 2, abs=SAME_MM)
        return
    assert same_outline(turned(points, 2 * math.pi / shape.fold), points)
    for more in (2, 3):
        assert not same_outline(turned(points, 2 * math.pi / (more * shape.fold)), points)
    assert len(shape.mirror_axes_rad) == shape.fold
    assert all(0.0 <= axis < math.pi for axis in shape.mirror_axes_rad)
    assert list(shape.mirror_axes_rad) == sorted(set(shape.mirror_axes_rad))
    for axis in shape.mirror_axes_rad:
        assert same_outline(mirrored(points, axis), points)
    assert not same_outline(mirrored(points, shape.mirror_axes_rad[0] + math.pi / (4 * shape.fold)), points)


@pytest.mark.parametrize("shape", EVERY, ids=kind_of)
def test_the_middle_is_the_centre_of_area(shape):
    middle = Polygon(shape.outline).centroid
    # A heart's comes from its true curve, so its chords may move it by part of their error.
    assert (middle.x, middle.y) == pytest.approx((0, 0), abs=CHORD_ERROR_MM / 2 if shape.fold == 1 else 1e-6)


@pytest.mark.parametrize("shape", EVERY, ids=kind_of)
def test_across_is_the_largest_diameter(shape):
    points = points_of(shape.outline)
    apart = np.hypot(points[:, None, 0] - points[None, :, 0], points[:, None, 1] - points[None, :, 1])
    assert shape.across_mm == pytest.approx(apart.max(), abs=SAME_MM)


@pytest.mark.parametrize("shape", EVERY, ids=kind_of)
def test_landmarks_lie_on_the_outline_with_their_own_names(shape):
    ring = LinearRing(shape.outline)
    assert len({mark.name for mark in shape.landmarks}) == len(shape.landmarks)
    for mark in shape.landmarks:
        assert ring.distance(Point(mark.at_mm)) < CHORD_ERROR_MM
    if shape.fold > 1:
        far, near = (
            {math.hypot(*mark.at_mm) for mark in shape.landmarks if mark.kind == kind} for kind in ("tip", "dip")
        )
        radii = np.hypot(*points_of(shape.outline).T)
        assert max(far) == pytest.approx(min(far)) == pytest.approx(radii.max(), abs=SAME_MM)
        assert max(near) == pytest.approx(min(near)) == pytest.approx(ring.distance(Point(0, 0)), abs=CHORD_ERROR_MM)
        assert [mark.kind for mark in shape.landmarks].count("tip") == shape.fold


def test_tips_are_where_the_shape_says():
    assert rosette(across_mm=100, lobes=10, depth_mm=5).landmarks[0].at_mm == pytest.approx((50, 0))
    assert rosette(across_mm=100, lobes=10, depth_mm=5).landmarks[1].name == "tip 2"
    assert star(across_mm=100, points=5, depth_mm=30).landmarks[0].at_mm == pytest.approx((0, 50))
    assert square(side_mm=80).landmarks[0].at_mm == pytest.approx((40, 40))
    point, _, _, dip = heart(across_mm=100).landmarks
    assert point.at_mm[1] < 0 < dip.at_mm[1] and point.at_mm[0] == dip.at_mm[0] == 0


# Areas from their own formulas, C. Chords take at most length x error off a bulging edge and add it to a hollow one.
@pytest.mark.parametrize(
    ("shape", "area"),
    [
        (disc(across_mm=160), math.pi * 80**2),
        (square(side_mm=90), 8100),
        (rounded_square(side_mm=90, corner_radius_mm=20), 8100 - (4 - math.pi) * 400),
        (regular_polygon(across_mm=100, sides=6), 1.5 * math.sqrt(3) * 50**2),
        # polar wave: half the integral of (a + b cos n t)^2 is pi (a^2 + b^2 / 2)
        (rosette(across_mm=139.7, lobes=10, depth_mm=4.7625), math.pi * (67.46875**2 + 2.38125**2 / 2)),
        # ten kites of half-diagonals: n R q sin(pi / n)
        (star(across_mm=100, points=5, depth_mm=30), 5 * 50 * 20 * math.sin(math.pi / 5)),
        # square and two half circles
        (heart(across_mm=100), (1 + math.pi / 4) * (100 / (1 + math.sqrt(0.5))) ** 2),
    ],
    ids=lambda item: getattr(item, "kind", None),
)
def test_areas(shape, area):
    drawn = Polygon(shape.outline)
    assert drawn.area == pytest.approx(area, abs=1e-6 + drawn.length * CHORD_ERROR_MM)


def test_scallops_are_circular_arcs_through_dip_tip_and_dip():
    shape = scalloped_disc(across_mm=150, lobes=12, depth_mm=3)
    points = points_of(shape.outline)
    dips = [mark.at_mm for mark in shape.landmarks if mark.kind == "dip"]
    tip = np.array(shape.landmarks[0].at_mm)
    start, end = np.array(dips[-1]), np.array(dips[0])
    # Circle through three points: equal distances make two linear equations.
    squares = [tip @ tip - start @ start, end @ end - start @ start]
    centre = np.linalg.solve(2 * np.array([tip - start, end - start]), squares)
    on_arc = points[np.abs(np.arctan2(points[:, 1], points[:, 0])) <= math.pi / 12 + 1e-9]
    assert len(on_arc) > 8
    assert np.hypot(*(on_arc - centre).T) == pytest.approx(np.hypot(*(tip - centre)), abs=SAME_MM)


def finer(name, error):
    formula = formula_named(name)
    return formula.draw(**{value.argument: value.usual for value in formula.values}, chord_error_mm=error)


@pytest.mark.parametrize("name", ["disc", "rounded square", "scalloped disc", "rosette", "heart"])
def test_chords_keep_to_their_error(name):
    """Against the same curve drawn a hundred times finer: no farther off than asked, and not needlessly fine."""
    fine = LinearRing(finer(name, CHORD_ERROR_MM / 100).outline)
    for error in (CHORD_ERROR_MM, 0.2):
        coarse = points_of(finer(name, error).outline)
        after = np.roll(coarse, -1, axis=0)
        off = [fine.distance(Point(p)) for share in (0.0, 0.25, 0.5, 0.75) for p in coarse + share * (after - coarse)]
        assert 0.3 * error < max(off) <= 1.06 * error


def test_the_rosette_follows_its_wave():
    """r = R - d / 2 + d / 2 cos(n a), tips at R: the sea urchin of the examples, 5 1/2 in across, 3/16 in deep."""
    shape = rosette(across_mm=139.7, lobes=10, depth_mm=4.7625)
    x, y = points_of(shape.outline).T
    expected = 69.85 - 2.38125 + 2.38125 * np.cos(10 * np.arctan2(y, x))
    assert np.hypot(x, y) == pytest.approx(expected, abs=SAME_MM)
    assert np.hypot(x, y).min() == pytest.approx(65.0875)  # dips 2 9/16 in from the middle
    assert shape.across_mm == pytest.approx(139.7)


def test_the_heart_is_as_wide_as_asked():
    x, y = points_of(heart(across_mm=100).outline).T
    assert x.max() - x.min() == pytest.approx(100, abs=1e-9)
    # The height from its square's side s: 1.5 s / sqrt 2 + s / 2.
    side = 100 / (1 + math.sqrt(0.5))
    assert y.max() - y.min() == pytest.approx(side * (1.5 / math.sqrt(2) + 0.5), abs=CHORD_ERROR_MM)
