"""What the search of the best place stands on: areas, half-planes, sweeps, convex parts, straight programmes."""

import itertools
import math

import numpy as np
import pytest
import shapely
from shapely import affinity

from benchmarks.optimum_cases import KINDS, lid_outline
from foldproof.geometry.common_area import common_areas, common_with
from foldproof.geometry.convex_cover import convex_cover
from foldproof.geometry.half_plane import between, left_of_each, sides_moved
from foldproof.geometry.outline import half_planes, wound_anticlockwise
from foldproof.geometry.small_programme import lowest
from foldproof.geometry.swept import (
    drawn_in_hull,
    fewer_points_inside,
    fewer_points_round,
    kept_in_turn,
    reached_in_turn,
)
from foldproof.geometry.symmetry import is_mirrored, turning_fold
from foldproof.lids.optimum_halving import halves_of, intervals

AREA_MM2 = 1e-7
SPECK_MM = 1e-6
BOX = np.array([[-50.0, -50.0], [50.0, -50.0], [50.0, 50.0], [-50.0, 50.0]])


def lids():
    for number, kind in enumerate(KINDS):
        rng = np.random.default_rng(number)
        yield kind, 70.0 * lid_outline(kind, rng) + rng.uniform(-10, 10, 2)


LIDS = list(lids())


def turned(outline, turn):
    return affinity.rotate(shapely.Polygon(outline), turn, origin=(0, 0), use_radians=True)


def random_convex(rng):
    points = wound_anticlockwise(
        shapely.get_coordinates(shapely.convex_hull(shapely.multipoints(rng.uniform(-60, 60, (6, 2)))))[:-1]
    )
    return points


@pytest.mark.parametrize(("kind", "outline"), LIDS)
def test_common_areas_are_shapelys(kind, outline):
    rng = np.random.default_rng(len(kind))
    for _ in range(20):
        convex = random_convex(rng)
        normals, offsets = half_planes(convex)
        # Two turned copies and some planes that do not matter: what a cell of the search asks.
        other, more = half_planes(shapely.get_coordinates(turned(convex, 0.1))[:-1])
        planes = np.concatenate((normals, other, normals)), np.concatenate((offsets, more, offsets + 7.0))
        found = common_with(outline, planes[0][None], planes[1][None])
        both = shapely.Polygon(convex).intersection(turned(convex, 0.1))
        true = shapely.Polygon(outline).intersection(both)
        assert found.areas[0] == pytest.approx(true.area, abs=AREA_MM2)


@pytest.mark.parametrize("level", [0.0, 1e-13, 3e-12, 1e-10, 1e-8, 1e-6, 1e-4])
def test_sides_in_one_place_or_nearly_level_are_counted_once(level):
    """A box with a hardly bent side, and an opening turned so that a side comes to lie where its neighbour was."""
    rng = np.random.default_rng(4)
    outline = 70.0 * lid_outline("rosette", rng)
    for _ in range(60):
        square = shapely.get_coordinates(turned(rng.uniform(-20, 20, 2) + BOX, rng.uniform(0, 6)))[:-1]
        normals, offsets = half_planes(square)
        bend = square[0] + rng.uniform(0.2, 0.8) * (square[1] - square[0])
        cosine, sine = math.cos(level), math.sin(level)
        bent = np.array([[cosine, -sine], [sine, cosine]]) @ normals[0]
        order = rng.permutation(5)
        planes = np.concatenate((normals, [bent]))[order], np.append(offsets, bent @ bend)[order]
        true = shapely.Polygon(outline).intersection(shapely.Polygon(square)).area
        found = common_areas(outline, planes[0][None], planes[1][None])[0]
        assert true - 1e4 * level - AREA_MM2 <= found <= true + AREA_MM2


def test_common_area_of_what_lies_within_beside_and_nowhere():
    square = np.array([[-50.0, -50.0], [50.0, -50.0], [50.0, 50.0], [-50.0, 50.0]])
    normals, _ = half_planes(square)
    offsets = np.array([[10.0] * 4, [70.0] * 4, [10.0, -20.0, 10.0, 10.0], [-60.0, 90.0, 90.0, 90.0]])
    found = common_areas(square, np.broadcast_to(normals, (4, 4, 2)), offsets)
    assert found == pytest.approx([400.0, 10000.0, 0.0, 0.0], abs=AREA_MM2)


@pytest.mark.parametrize("half", [1e-11, 1e-7, 1e-4, 0.003, 0.05, 0.2, 0.29, 0.4])
@pytest.mark.parametrize(("kind", "outline"), LIDS)
def test_kept_is_covered_at_every_turn_and_reached_holds_every_turn(kind, outline, half):
    kept = [shapely.Polygon(part) for part in kept_in_turn(outline, half)]
    reached = shapely.Polygon(reached_in_turn(outline, half))
    for turn in half * np.array([-1.0, -0.77, -0.5, -0.13, 0.0, 0.31, 0.62, 1.0]):
        there = turned(outline, float(turn))
        assert all(part.difference(there).area <= AREA_MM2 for part in kept)
        assert there.difference(reached).area <= AREA_MM2
    assert sum(part.area for part in kept) <= shapely.union_all(kept).area + AREA_MM2 if kept else True
    if half <= 0.003:
        assert sum(part.area for part in kept) > 0.95 * shapely.Polygon(outline).area


@pytest.mark.parametrize("within", [0.05, 0.25, 2.0, 8.0])
@pytest.mark.parametrize(("kind", "outline"), LIDS)
def test_fewer_points_stay_inside_or_round_and_no_two_parts_overlap(kind, outline, within):
    area = shapely.Polygon(outline)
    parts = [shapely.Polygon(part) for part in fewer_points_inside(outline, within)]
    assert all(area.covers(part) for part in parts)
    assert sum(part.area for part in parts) == pytest.approx(shapely.union_all(parts).area, abs=AREA_MM2)
    assert shapely.Polygon(fewer_points_round(outline, within)).covers(area)


@pytest.mark.parametrize("distance", [-5.0, 0.0, 3.0, 15.0, 200.0])
@pytest.mark.parametrize(("kind", "outline"), LIDS)
def test_the_hull_of_what_is_far_from_the_edge_holds_all_of_it(kind, outline, distance):
    corners, _ = drawn_in_hull(outline, distance)
    hull = shapely.convex_hull(shapely.multipoints(corners)).buffer(SPECK_MM)
    area, rng = shapely.Polygon(outline), np.random.default_rng(3)
    for x, y in rng.uniform(-90, 90, (400, 2)):
        point = shapely.Point(x, y)
        away = area.exterior.distance(point) * (1.0 if area.covers(point) else -1.0)
        assert away < distance or hull.covers(point)


@pytest.mark.parametrize(("kind", "outline"), LIDS)
def test_convex_parts_hold_the_shape(kind, outline):
    parts = convex_cover(shapely.Polygon(outline))
    whole = shapely.union_all([shapely.Polygon(part) for part in parts if len(part) >= 3])
    assert shapely.Polygon(outline).difference(whole).area <= AREA_MM2
    for part in (each for each in parts if len(each) >= 3):
        assert shapely.Polygon(part).area == pytest.approx(shapely.convex_hull(shapely.Polygon(part)).area, abs=1e-6)


def test_half_planes_that_leave_an_area_a_point_and_nothing():
    square = np.array([[1.0, 0.0], [0.0, 1.0], [-1.0, 0.0], [0.0, -1.0]])
    assert len(between(square, np.array([2.0, 3.0, 2.0, 3.0]))) == 4
    point = between(square, np.array([2.0, 3.0, -2.0, -3.0]))
    assert len(point) and np.abs(point - (2.0, 3.0)).max() <= SPECK_MM
    assert len(between(square, np.array([2.0, 3.0, -2.1, 3.0]))) == 0
    moved = sides_moved(np.array([[0.0, 0.0], [40.0, 0.0], [0.0, 30.0]]), 2.0)
    true = shapely.Polygon([(0, 0), (40, 0), (0, 30)]).buffer(2.0, join_style="mitre", mitre_limit=100)
    assert shapely.Polygon(moved).area == pytest.approx(true.area, abs=1e-3)
    assert not len(sides_moved(np.array([[0.0, 0.0], [40.0, 0.0], [0.0, 30.0]]), -10.1))


def half_plane(normal, offset):
    normal, offset = normal / np.hypot(*normal), offset / np.hypot(*normal)
    along = np.array([-normal[1], normal[0]])
    ends = np.array([offset * normal - 1e4 * along, offset * normal + 1e4 * along])
    return shapely.Polygon(np.concatenate((ends, ends[::-1] - 1e4 * normal)))


def test_what_is_left_of_polygons_is_what_shapely_leaves():
    rng = np.random.default_rng(1)
    polygons = np.array([random_convex(rng)[[0, 1, 2]] for _ in range(200)])
    normals, offsets = rng.normal(size=(200, 5, 2)), rng.uniform(-60, 40, (200, 5))
    found = left_of_each(polygons, normals, offsets)
    for polygon, normal, offset, left in zip(polygons, normals, offsets, found, strict=True):
        planes = [half_plane(n, o) for n, o in zip(normal, offset, strict=True)]
        assert left != shapely.intersection_all([shapely.Polygon(polygon), *planes]).is_empty
    assert 10 < found.sum() < 190


def test_the_lowest_of_a_straight_programme_is_at_its_lowest_corner_and_an_impossible_one_ends():
    rng = np.random.default_rng(2)
    for _ in range(30):
        walls = np.concatenate((rng.normal(size=(9, 3)), np.eye(3), -np.eye(3)))
        ends = np.concatenate((rng.uniform(0.1, 1.0, 9), np.ones(6)))
        cost = rng.normal(size=3)
        three = [list(each) for each in itertools.combinations(range(len(walls)), 3)]
        corners = [np.linalg.solve(walls[t], ends[t]) for t in three if abs(np.linalg.det(walls[t])) > 1e-9]
        true = min(cost @ corner for corner in corners if (walls @ corner <= ends + 1e-9).all())
        found = lowest(cost, walls, ends)
        assert cost @ found == pytest.approx(true, abs=1e-5) and (walls @ found <= ends + 1e-5).all()
    impossible = np.array([[1.0, 0.0], [-1.0, 0.0], [0.0, 1.0], [0.0, -1.0]])
    assert np.isfinite(lowest(np.array([1.0, 1.0]), impossible, np.array([-1.0, -1.0, 1.0, 1.0]))).all()


def test_symmetry_is_found_and_a_lopsided_outline_has_none():
    bearings = 2 * math.pi * np.arange(48) / 48
    rosette = np.column_stack((np.cos(bearings), np.sin(bearings))) * (60 + 4 * np.cos(8 * bearings))[:, None]
    assert turning_fold(rosette) == 8 and is_mirrored(rosette)
    twisted = rosette * (1 + 0.02 * np.sin(8 * bearings + 0.4) ** 3)[:, None]
    assert turning_fold(twisted) == 8 and not is_mirrored(twisted)
    bent = rosette.copy()
    bent[5] *= 1.001
    assert turning_fold(bent) == 1 and not is_mirrored(bent)


def test_intervals_tile_the_turns_and_halves_their_interval():
    halving = intervals(-math.pi, math.pi, 0.2, even=True)
    low = np.array(halving.middles) - np.array(halving.halves)
    high = np.array(halving.middles) + np.array(halving.halves)
    assert low[0] == -math.pi and high[-1] == pytest.approx(math.pi) and np.allclose(low[1:], high[:-1])
    assert np.abs(low).min() < 1e-12 and len(low) % 2 == 0
    lower, upper = halves_of(halving, np.array([3, 3]))
    assert halving.middles[lower[0]] + halving.halves[lower[0]] == pytest.approx(halving.middles[3])
    assert (lower[0], upper[0]) == (lower[1], upper[1])
