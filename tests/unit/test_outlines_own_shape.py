"""Measures, trimming, and what becomes of an outline as a shape of the maker's own."""

import math
from fractions import Fraction

import numpy as np
import pytest
import shapely

from foldproof.errors import InputError
from foldproof.geometry.outline import placed, points_of
from foldproof.geometry.plane import centre, is_simple, signed_area
from foldproof.lengths import Length
from foldproof.outlines.catalogue import FORMULAS, draw
from foldproof.outlines.cleaning import cleaned
from foldproof.outlines.own_shape import measures_of, own_shape, trimmed
from foldproof.outlines.record import Landmark
from foldproof.outlines.rosette import rosette
from foldproof.outlines.star import star

SQUARE = ((0.0, 0.0), (100.0, 0.0), (100.0, 100.0), (0.0, 100.0))
HORSESHOE = ((0, 0), (100, 0), (100, 100), (80, 100), (80, 20), (20, 20), (20, 100), (0, 100))
BLOB = ((0, 0), (70, -5), (90, 30), (60, 55), (50, 100), (10, 60))


def made(outline, **options):
    return own_shape("shell", outline, **({"accuracy_mm": 0.05, "source": "a die"} | options))


def points_as(outline):
    return tuple(map(tuple, np.asarray(outline).tolist()))


# --- Measures -----------------------------------------------------------------------------------------------


def test_measures_of_a_square_and_of_it_turned():
    for turn in (0.0, 0.4):
        found = measures_of(points_as(placed(points_of(SQUARE), turn_rad=turn)))
        assert found.area_mm2 == pytest.approx(10_000)
        assert found.perimeter_mm == pytest.approx(400)
        assert found.widest_mm == pytest.approx(100 * math.sqrt(2))
        assert found.narrowest_mm == pytest.approx(100)
        assert found.width_mm == found.height_mm == pytest.approx(100 * (math.cos(turn) + math.sin(turn)))


def test_an_equilateral_triangle_is_narrowest_along_its_height():
    triangle = ((0, 0), (100, 0), (50, 50 * math.sqrt(3)))
    assert measures_of(triangle).narrowest_mm == pytest.approx(50 * math.sqrt(3))


def test_narrowest_against_rulers_in_every_direction():
    for outline in (BLOB, HORSESHOE, rosette(across_mm=140, lobes=7, depth_mm=20).outline):
        bearings = np.arange(20_000) * math.pi / 20_000
        along = points_of(outline) @ np.stack((np.cos(bearings), np.sin(bearings)))
        widths = np.ptp(along, axis=0)
        found = measures_of(outline)
        assert found.narrowest_mm == pytest.approx(widths.min(), abs=0.02) and found.narrowest_mm <= widths.min() + 1e-9
        assert found.widest_mm == pytest.approx(widths.max(), abs=0.02) and found.widest_mm >= widths.max() - 1e-9


# --- Trimming -----------------------------------------------------------------------------------------------


def area(outline):
    return abs(signed_area(outline))


def test_the_larger_piece_is_kept_or_the_one_with_the_place():
    cut = ((30, -5), (30, 105))
    assert area(trimmed(SQUARE, [cut])) == pytest.approx(7000)
    left = trimmed(SQUARE, [cut], keep=(10, 50))
    assert area(left) == pytest.approx(3000)
    assert max(x for x, _ in left) == pytest.approx(30)
    assert trimmed(SQUARE, []) == SQUARE


def test_a_cut_runs_on_to_the_edge_and_no_farther():
    assert area(trimmed(SQUARE, [((30, 40), (30, 41))])) == pytest.approx(7000)
    # The line of this cut goes through both legs of the horseshoe; only the leg between its points is cut.
    left = trimmed(HORSESHOE, [((-5, 60), (10, 60))])
    assert area(left) == pytest.approx(area(HORSESHOE) - 20 * 40)
    both = trimmed(HORSESHOE, [((-5, 60), (105, 60))])
    assert area(both) == pytest.approx(area(HORSESHOE) - 2 * 20 * 40)


def test_the_joining_bits_of_a_band_are_trimmed_away():
    """A rosette traced from a band of shapes, with the bits that held it on both sides."""
    flower = shapely.Polygon(rosette(across_mm=100, lobes=10, depth_mm=6).outline)
    bits = shapely.box(-70, -4, 70, 4)
    (traced,) = shapely.get_parts(flower.union(bits))
    outline = cleaned(shapely.get_coordinates(traced.exterior)).outline
    left = trimmed(outline, [((49.9, -10), (49.9, 10)), ((-49.9, -10), (-49.9, 10))], keep=(0, 0))
    assert is_simple(left) and signed_area(left) > 0
    change = shapely.Polygon(left).symmetric_difference(flower).area
    assert change < 2 * 8 * 1.6, "no more than where the bits join the lobes"
    assert measures_of(left).width_mm == pytest.approx(99.8)


@pytest.mark.parametrize(
    ("cut", "reason"),
    [
        (((5, 5), (5, 5)), "not a straight cut"),
        (((math.nan, 0), (5, 5)), "not a straight cut"),
        (((0, 0), (math.inf, 5)), "not a straight cut"),
        (((200, 0), (200, 50)), "does not go through"),
        (((-50, 50), (-1, 50)), "does not go through"),
        (((0, 0), (100, 0)), "does not go through"),
        (((-10, 10.0), (10, -10.0)), "does not go through"),
    ],
)
def test_cuts_that_are_none(cut, reason):
    with pytest.raises(InputError) as caught:
        trimmed(SQUARE, [((50, -1), (50, 101)), cut], keep=(10, 50), field="trim")
    (problem,) = caught.value.problems
    assert reason in problem.reason and problem.field == "trim 2" and problem.remedy


def test_a_place_to_keep_that_is_outside():
    with pytest.raises(InputError) as caught:
        trimmed(SQUARE, [((50, -1), (50, 101))], keep=(200, 50))
    assert "not inside" in caught.value.problems[0].reason


# --- Shapes -------------------------------------------------------------------------------------------------


@pytest.mark.parametrize("formula", FORMULAS, ids=lambda each: each.name)
@pytest.mark.parametrize("symmetric", [True, False])
def test_a_shape_by_formula_is_known_again(formula, symmetric):
    shape = draw(formula, {value.name: value.usual for value in formula.values})
    outline = cleaned(placed(points_of(shape.outline), shift_mm=(40, -300))).outline
    own = made(outline, symmetric=symmetric)
    assert (own.fold, len(own.mirror_axes_rad)) == (shape.fold, len(shape.mirror_axes_rad))
    assert own.mirror_axes_rad == pytest.approx(shape.mirror_axes_rad, abs=1e-4)
    assert own.across_mm == pytest.approx(shape.across_mm, abs=0.05)
    assert centre(own.outline) == pytest.approx((0, 0), abs=0.02)
    assert is_simple(own.outline) and signed_area(own.outline) > 0
    away = shapely.hausdorff_distance(shapely.LinearRing(own.outline), shapely.LinearRing(shape.outline), densify=0.5)
    assert away <= own.accuracy_mm < 0.12


@pytest.mark.parametrize("outline", [BLOB, HORSESHOE, star(across_mm=90, points=5, depth_mm=20).outline])
def test_a_shape_read_back_from_its_points_is_the_same(outline):
    own = made(cleaned(outline).outline)
    again = made(own.outline, accuracy_mm=own.accuracy_mm, symmetric=False)
    assert again == own
    assert all(round(number, 2) == number for point in own.outline for number in point)


def test_right_way_up_stays():
    own = made(cleaned([(x + 500, y) for x, y in BLOB]).outline)
    middle = centre(BLOB)
    assert {(round(x + middle[0]), round(y + middle[1])) for x, y in own.outline} == set(BLOB)
    assert (own.fold, own.mirror_axes_rad) == (1, ())


def test_accuracy_grows_by_what_symmetry_changes():
    points = points_of(star(across_mm=100, points=5, depth_mm=30).outline).copy()
    points[0] *= 50.3 / 50
    outline = points_as(points)
    traced, exact = made(outline, symmetric=False), made(outline)
    assert traced.accuracy_mm == 0.05 and traced.fold == 1
    assert exact.fold == 5
    away = shapely.hausdorff_distance(shapely.LinearRing(exact.outline), shapely.LinearRing(traced.outline))
    assert 0.05 + away - 0.02 <= exact.accuracy_mm <= 0.5
    assert made(outline, tolerance_mm=0.1).fold == 1, "farther off than asked"
    assert made(outline, symmetric=False, accuracy_mm=0.3).fold == 5, "within its accuracy it turns onto itself"


def test_what_it_carries():
    inch = Length(Fraction(254, 10))
    own = made(cleaned(SQUARE).outline, sizes=(5 * inch, 3 * inch, 5 * inch), source="from a swap")
    assert (own.name, own.source, own.sizes) == ("shell", "from a swap", (3 * inch, 5 * inch))
    assert own.landmarks[0] == Landmark(name="tip 1", kind="tip", at_mm=(50.0, 50.0))


def test_an_outline_too_fine_for_hundredths():
    sliver = [(0, 0), (50, 0), (50, 20), (25, 0.001), (0, 20)]
    with pytest.raises(InputError) as caught:
        made(tuple(map(tuple, np.array(sliver, dtype=float))), symmetric=False)
    assert "narrow" in caught.value.problems[0].reason and "mm" in caught.value.problems[0].value
