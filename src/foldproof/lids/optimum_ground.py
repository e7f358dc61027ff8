"""The problem made ready for the search: arrays, the lid about a good middle, symmetries, what is allowed.

A place is a row of six: closed turn, shift right, shift back, hole right, hole back, opening turn. Inside the search
a lid's points are measured from its ``origin``, so a shift here is that of the origin.
"""

from __future__ import annotations

import math
from dataclasses import dataclass

import numpy as np
import shapely

from foldproof.errors import InputError, Problem
from foldproof.geometry.cover import Rim, rim_of
from foldproof.geometry.half_plane import sides_moved
from foldproof.geometry.outline import wound_anticlockwise
from foldproof.geometry.plane import Array, Polygon, is_convex, is_simple
from foldproof.geometry.symmetry import is_mirrored, mirrored, same_corners, turning_fold
from foldproof.lids.optimum_problem import largest_turn_rad
from foldproof.lids.optimum_records import Fixed, HoleProblem, Wish

TURN, RIGHT, BACK, HOLE_RIGHT, HOLE_BACK, OPEN = range(6)  # columns of a place

SPECK_SHARE = 1e-9  # of the opening: covered no more than this it counts as entirely uncovered; rounding is finer
LEAST_MARGIN = 0.5  # a lid that misses the rim by more than this share of the way to its middle is no lid
STRAIGHT_MM = 1e-9  # a point so near to a straight line is on it: far less than any bound allows for
SLIVER_MM = 2e-6  # a hole's region no wider than this is a line
MOST_MM = 1e4  # larger than any sheet
MOST_CORNERS = 24  # of a hole's region: more than any triangle, box and legs give it


@dataclass(frozen=True, slots=True, kw_only=True)
class Cover:
    """A lid and a rim: points (n, 2) anticlockwise, the lid's from its origin, which is ``origin`` in its own frame.

    ``fold`` turns leave the lid as it is. ``fixed`` is what is given of its place; its shift is the own frame's.
    ``least_mm`` is the margin below which no cover is looked for.
    """

    lid: Array
    origin: Array
    rim: Array
    sides: Rim
    fold: int
    fixed: Fixed
    least_mm: float


@dataclass(frozen=True, slots=True, kw_only=True)
class Ground:
    """A cover, and the opening, hole and turns that go with it.

    ``region`` (v, 2) are the corners of where the hole may be, anticlockwise. ``allowed_mm2`` of the opening may stay
    covered. Opening turns run from ``turns[0]`` to ``turns[1]``; ``one_sense``: turns below 0 are mirror images of
    those above, and are left out. ``pierced`` are measured from the lid's origin.
    """

    cover: Cover
    opening: Array
    region: Array
    pierced: tuple[Array, ...]
    to_lid_mm: float
    opening_mm2: float
    allowed_mm2: float
    turns: tuple[float, float]
    one_sense: bool


def cover_of(lid: Polygon, rim: Polygon, fixed: Fixed) -> Cover:
    """A lid and a rim made ready. Raises InputError for outlines or fixed values that cannot be used."""
    refuse(outline_problems("lid", lid) + convex_problems("rim", rim) + _fixed_problems(fixed))
    points = corners_only(wound_anticlockwise(np.asarray(lid, dtype=np.float64)))
    origin = _middle(points, fixed)
    around = corners_only(wound_anticlockwise(np.asarray(rim, dtype=np.float64)))
    sides = rim_of(around)
    return Cover(
        lid=points - origin,
        origin=origin,
        rim=around,
        sides=sides,
        fold=turning_fold(points - origin),
        fixed=fixed,
        least_mm=-LEAST_MARGIN * sides.depth_mm,
    )


def corners_only(outline: Array) -> Array:
    """An outline (n, 2) without the points along its straight edges, which make no difference but to the time."""
    straight = shapely.simplify(shapely.Polygon(outline), STRAIGHT_MM)
    corners = shapely.get_coordinates(straight)[:-1]
    return wound_anticlockwise(corners) if straight.is_valid and 3 <= len(corners) < len(outline) else outline


def _middle(points: Array, fixed: Fixed) -> Array:
    """Where a lid is best turned about: its centre of symmetry, else the middle of the disc round it.

    A given shift is that of the lid's own origin, which then has to stay.
    """
    if fixed.moved_right_mm is not None or fixed.moved_back_mm is not None:
        return np.zeros(2)
    shape = shapely.Polygon(points)
    weighed = shapely.get_coordinates(shapely.centroid(shape))[0]
    if turning_fold(points - weighed) > 1:
        return np.asarray(weighed)
    return np.asarray(shapely.get_coordinates(shapely.centroid(shapely.minimum_bounding_circle(shape)))[0])


def ground_of(problem: HoleProblem, wish: Wish) -> Ground:
    """The problem made ready. Raises InputError with every value that cannot be used."""
    found = outline_problems("lid", problem.lid) + convex_problems("rim", problem.rim)
    found += convex_problems("opening", problem.opening) + _fixed_problems(problem.fixed) + _wish_problems(wish)
    for number, outline in enumerate(problem.pierced, start=1):
        found += outline_problems(f"pierced {number}", outline)
    found += _number_problems("to_lid_mm", problem.to_lid_mm, -MOST_MM, MOST_MM)
    found += _given_turn_problems(problem, wish)
    for value in (value for point in problem.region for value in point):
        found += _number_problems("region", value, -MOST_MM, MOST_MM)
    if len(problem.region) > MOST_CORNERS:
        count = f"{len(problem.region)} corners"
        found.append(_problem("region", count, f"it has more than {MOST_CORNERS}", "give a simpler region"))
    refuse(found)
    cover = cover_of(problem.lid, problem.rim, problem.fixed)
    opening = corners_only(wound_anticlockwise(np.asarray(problem.opening, dtype=np.float64)))
    area_mm2 = float(shapely.Polygon(opening).area)
    region = _hull(np.asarray(problem.region, dtype=np.float64).reshape(-1, 2))
    pierced = tuple(
        corners_only(wound_anticlockwise(np.asarray(each, dtype=np.float64))) - cover.origin for each in problem.pierced
    )
    low, high = largest_turn_rad(problem.opens)
    if wish.widest_turn_rad is not None:
        low, high = max(low, -wish.widest_turn_rad), min(high, wish.widest_turn_rad)
    if problem.open_turn_rad is not None:
        low = high = problem.open_turn_rad
    one_sense = low < 0.0 < high and problem.open_turn_rad is None and _mirror_images(cover, opening, region, pierced)
    return Ground(
        cover=cover,
        opening=opening,
        region=region,
        pierced=pierced,
        to_lid_mm=problem.to_lid_mm,
        opening_mm2=area_mm2,
        allowed_mm2=(1.0 - wish.uncovered + SPECK_SHARE) * area_mm2,
        turns=(0.0 if one_sense else low, high),
        one_sense=one_sense,
    )


def _hull(points: Array) -> Array:
    """Corners of the convex hull, anticlockwise; two for a stretch, one for a point, none for none."""
    if len(points) <= 1:
        return points
    if float(np.ptp(points, axis=0).max()) <= SLIVER_MM:
        return np.asarray(points.mean(axis=0)[None])
    hull = shapely.convex_hull(shapely.multipoints(points))
    corners = shapely.get_coordinates(hull)
    if not isinstance(hull, shapely.Polygon):
        return corners
    corners = wound_anticlockwise(corners[:-1])
    apart = np.hypot(*(corners[:, None, :] - corners[None, :, :]).transpose(2, 0, 1))
    if hull.area > SLIVER_MM * float(apart.max()):
        return corners
    # No wider than rounding makes a line: the line itself, so that no step has to stay within nothing.
    one, other = np.unravel_index(int(apart.argmax()), apart.shape)
    return corners[[one, other]]


def _mirror_images(cover: Cover, opening: Array, region: Array, pierced: tuple[Array, ...]) -> bool:
    """Whether box and lid are both mirrored by lines, so that each turn to the left has its twin to the right."""
    if cover.fixed != Fixed() or not len(region):
        return False
    ends = [shapely.get_coordinates(shapely.centroid(shapely.Polygon(each)))[0] for each in (cover.rim, opening)]
    along = ends[1] - ends[0]
    if float(np.hypot(*along)) < 1.0 or not is_mirrored(cover.lid):
        return False  # the middles of rim and opening lie too near to give the line its direction
    axis = math.atan2(along[1], along[0])
    same = all(same_corners(mirrored(each, axis, ends[0]), each) for each in (cover.rim, opening, region))
    return same and all(each.shape == cover.lid.shape and bool(np.all(each == cover.lid)) for each in pierced)


def outline_problems(field: str, outline: Polygon) -> list[Problem]:
    """What is wrong with a simple outline."""
    numbers = [value for point in outline for value in point]
    if not all(math.isfinite(value) and abs(value) <= MOST_MM for value in numbers):
        return [_problem(field, "an outline", "it has a point that is not on any sheet", "give every point in mm")]
    if not is_simple(outline):
        return [_problem(field, f"{len(outline)} points", "it crosses itself or encloses nothing", "draw it again")]
    return []


def convex_problems(field: str, outline: Polygon) -> list[Problem]:
    """What is wrong with a convex outline."""
    found = outline_problems(field, outline)
    if not found:
        points = wound_anticlockwise(np.asarray(outline, dtype=np.float64))
        if not is_convex(tuple((float(x), float(y)) for x, y in points)):
            return [_problem(field, f"{len(outline)} corners", "it is not convex", "give a box without a notch")]
        if not len(sides_moved(points, 0.0)):
            return [_problem(field, f"{len(outline)} corners", "it is too thin", "give a box with room inside")]
    return found


def _number_problems(field: str, value: float, least: float, most: float) -> list[Problem]:
    if math.isfinite(value) and least <= value <= most:
        return []
    return [_problem(field, value, f"it is not between {least:g} and {most:g}", "give a number in that range")]


def _fixed_problems(fixed: Fixed) -> list[Problem]:
    given = (
        ("closed_turn_rad", fixed.closed_turn_rad),
        ("moved_right_mm", fixed.moved_right_mm),
        ("moved_back_mm", fixed.moved_back_mm),
    )
    return [p for name, value in given if value is not None for p in _number_problems(name, value, -MOST_MM, MOST_MM)]


def _wish_problems(wish: Wish) -> list[Problem]:
    found = _number_problems("uncovered", wish.uncovered, 0.0, 1.0)
    found += _number_problems("give_mm", wish.give_mm, 0.0, MOST_MM)
    if wish.widest_turn_rad is not None:
        found += _number_problems("widest_turn_rad", wish.widest_turn_rad, 0.0, math.pi)
    if wish.margin_mm is not None:
        found += _number_problems("margin_mm", wish.margin_mm, -MOST_MM, MOST_MM)
    elif wish.goal != "margin":
        found.append(_problem("margin_mm", "none", f'the goal "{wish.goal}" needs it', "give the margin to keep"))
    return found


def _given_turn_problems(problem: HoleProblem, wish: Wish) -> list[Problem]:
    given, widest = problem.open_turn_rad, wish.widest_turn_rad
    if given is None:
        return []
    found = _number_problems("open_turn_rad", given, -math.pi, math.pi)
    if not found and widest is not None and abs(given) > widest:
        reason = f"no turn above {widest:g} is wished"
        found = [_problem("open_turn_rad", given, reason, "give a smaller turn, or wish for a wider one")]
    return found


def _problem(field: str, value: object, reason: str, remedy: str) -> Problem:
    return Problem(field=field, value=str(value), reason=reason, remedy=remedy)


def refuse(problems: list[Problem]) -> None:
    """Raises InputError when there are problems."""
    if problems:
        raise InputError(tuple(problems))
