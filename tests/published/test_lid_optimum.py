"""The best lid place against figures that can be computed from the definition, and against shapely.

Sources: computed from the definitions of margin and uncovered share, as said at each figure. The least angles of a disc
that must uncover entirely were once given as 176, 173.25, 170.5 and 166.5 degrees for 0.1, 0.25, 0.5 and 1 mm of margin
given away. Those do not hold: they keep the disc on the box's diagonal. Beside it less will do; the figures here
are those that the search finds and proves.
"""

import dataclasses
import itertools
import math

import numpy as np
import pytest
import shapely

from foldproof.lids.box import corner_triangle, rectangle
from foldproof.lids.optimum import best_hole
from foldproof.lids.optimum_cover import best_cover
from foldproof.lids.optimum_problem import HoleKeeps, problem_of
from foldproof.lids.optimum_records import Aims, Fixed, Wish
from foldproof.lids.optimum_scale import largest_box, smallest_lid
from foldproof.lids.records import TurningBox

POINTS = 720  # of a disc of radius 80: its edges lie 0.0008 mm inside the circle
DISC_MM = 1e-3
SIDE_MM, LEG_MM, EDGE_MM, RADIUS_MM = 100.0, 40.0, 8.0, 80.0


def polygon(sides, radius):
    bearings = 2 * math.pi * np.arange(sides) / sides
    return tuple((float(radius * math.cos(b)), float(radius * math.sin(b))) for b in bearings)


def disc_on_square(*, on_diagonal=False):
    """A disc lid of radius 80 on a square box of side 100, triangle legs 40, hole 8 from its edges, no thickness."""
    corner = (0.5 * SIDE_MM, 0.5 * SIDE_MM)
    triangle = corner_triangle(corner, (1, 1), LEG_MM)
    mouth = rectangle(SIDE_MM, SIDE_MM)
    opening = shapely.Polygon(mouth).difference(shapely.Polygon(triangle))
    box = TurningBox(
        place="back right",
        rim=mouth,
        mouth=mouth,
        opening=tuple(shapely.orient_polygons(opening).exterior.coords[:-1]),
        rim_mm=30.0,
        corner=corner,
        into=(-1 / math.sqrt(2), -1 / math.sqrt(2)),
        triangle=triangle,
        tab_mm=0.0,
        mass_g=1.0,
        centre=(0.0, 0.0),
    )
    return problem_of(box, polygon(POINTS, RADIUS_MM), HoleKeeps(edge_mm=EDGE_MM), on_diagonal=on_diagonal)


def test_best_margin_of_a_disc_without_the_wish_to_uncover():
    # Its middle over the box's: R / root 2 less half a side, 6.5685.
    best = best_hole(disc_on_square(), Wish(goal="margin", uncovered=0.0))
    true = RADIUS_MM / math.sqrt(2) - SIDE_MM / 2
    assert best.certificate.finished and best.certificate.margin_bound_mm >= true - DISC_MM
    assert best.certificate.margin_bound_mm - best.certificate.margin_gap_mm == pytest.approx(true, abs=DISC_MM)


def test_best_margin_of_a_disc_that_has_to_uncover_entirely():
    # Turned half round with its hole 8 from both walls: legs / 2 - 2 e, 4.000.
    half_turn = dataclasses.replace(disc_on_square(on_diagonal=True), open_turn_rad=math.pi)
    best = best_hole(half_turn, Wish(goal="margin", uncovered=1.0), aims=Aims(margin_mm=0.02))
    assert best.certificate.margin_bound_mm - best.certificate.margin_gap_mm == pytest.approx(4.0, abs=2e-3)
    assert 4.0 - DISC_MM <= best.certificate.margin_bound_mm <= 4.03
    # Anywhere and with any turn it is a hair more.
    anywhere = best_hole(disc_on_square(), Wish(goal="margin", uncovered=1.0), aims=Aims(margin_mm=0.1))
    found = anywhere.certificate.margin_bound_mm - anywhere.certificate.margin_gap_mm
    assert found == pytest.approx(4.0137, abs=2e-3) and anywhere.certificate.finished


@pytest.mark.parametrize(("given_mm", "least_deg"), [(0.1, 172.52), (0.25, 170.22), (0.5, 167.49), (1.0, 163.47)])
def test_near_its_best_the_angle_is_steep_in_the_margin(given_mm, least_deg):
    wish = Wish(goal="angle", uncovered=1.0, margin_mm=4.0 - given_mm)
    best = best_hole(disc_on_square(), wish, aims=Aims(turn_rad=math.radians(0.4)))
    assert best.certificate.finished
    assert math.degrees(abs(best.place.open_turn_rad)) <= least_deg + 0.1
    assert math.degrees(best.certificate.angle_bound_rad) <= least_deg
    assert math.degrees(best.certificate.angle_bound_rad) >= least_deg - 0.45


@pytest.mark.parametrize(("sides", "square"), [(3, 0.4641016), (5, 1.0673957), (6, 1.2679492), (8, 1.8477591)])
def test_largest_square_in_a_regular_polygon_of_side_one(sides, square):
    lid = polygon(sides, 50.0 / math.sin(math.pi / sides))  # side 100
    found = largest_box(lid, rectangle(100.0, 100.0), margin_mm=0.0, within_mm=0.1)
    assert found.finished
    # The search ends within 0.1 mm of the largest, and is never above it.
    assert square - 1.1e-3 <= found.scale <= square + 1e-6
    assert square - 1e-6 <= found.bound <= square + 1.1e-3


@pytest.mark.parametrize("number", range(4))
def test_the_smallest_disc_over_a_polygon_is_its_smallest_enclosing_circle(number):
    rng = np.random.default_rng(number)
    rim = shapely.convex_hull(shapely.multipoints(rng.uniform(-50, 50, (9, 2))))
    true = float(shapely.minimum_bounding_radius(rim))
    found = smallest_lid(polygon(POINTS, 100.0), tuple(rim.exterior.coords[:-1]), margin_mm=0.0, within_mm=0.05)
    assert found.finished
    assert found.bound * 100.0 <= true / math.cos(math.pi / POINTS) + 1e-6
    assert true - 1e-6 <= found.scale * 100.0 <= true + 0.1


@pytest.mark.parametrize("number", range(4))
def test_the_largest_disc_in_an_outline_is_shapelys(number):
    rng = np.random.default_rng(number)
    bearings = 2 * math.pi * np.arange(17) / 17
    outline = np.column_stack((np.cos(bearings), np.sin(bearings))) * rng.uniform(30, 80, 17)[:, None]
    true = float(shapely.maximum_inscribed_circle(shapely.Polygon(outline), tolerance=1e-4).length)
    many = 8  # a polygon of so many sides round a circle
    lid = tuple(map(tuple, outline.tolist()))
    found = largest_box(lid, polygon(many, 10.0), margin_mm=0.0, within_mm=0.5, most_cells=9000)
    assert found.bound * 10.0 >= true - 1e-3  # a polygon in the circle fits where the circle does
    assert found.scale * 10.0 * math.cos(math.pi / many) <= true + 1e-3  # the circle in it is no larger


@pytest.mark.parametrize("corner", list(itertools.product((1, -1), repeat=2)))
def test_a_square_lid_over_a_square_box(corner):
    # Level, its margin is half the difference; a given shift takes just itself away.
    sx, sy = corner
    best = best_cover(rectangle(120.0, 120.0), rectangle(100.0, 100.0))
    assert best.margin_mm == pytest.approx(10.0, abs=0.011) and best.bound_mm >= 10.0 - 1e-9
    given = Fixed(moved_right_mm=sx * 3.0, moved_back_mm=sy * 1.0)
    moved = best_cover(rectangle(120.0, 120.0), rectangle(100.0, 100.0), fixed=given)
    assert moved.bound_mm >= 7.0 - 1e-9 and moved.margin_mm == pytest.approx(7.0, abs=0.011)
