"""Which places can be: shifts that cover with a margin, holes in their region, and the opened places these lead to.

A hole p, a closed shift s and a turn give the same opened lid as the pivot c, one point of the box for the whole
search, with another closed shift: s and (turned back by the opening turn, less itself) (p - c). The search looks at
these shifts as if the hole were at the pivot. Where they can be is a sum of two convex sets: shifts that cover at
some closed turn of an interval, and what the region of the hole makes of an interval of opening turns. Two convex
polygons lie apart exactly when they do so along the normal of a side of one of them.
"""

from __future__ import annotations

import math
from dataclasses import dataclass, field

import numpy as np
import shapely
from shapely.geometry.base import BaseGeometry

from foldproof.geometry.convex_cover import convex_cover
from foldproof.geometry.half_plane import sides_moved
from foldproof.geometry.outline import after_each, placed, wound_anticlockwise
from foldproof.geometry.plane import Array
from foldproof.geometry.swept import reached_in_turn
from foldproof.lids.optimum_ground import Cover
from foldproof.lids.optimum_sweeps import Sweeps, reached_by

DIRECTIONS = 32  # in which every set's reach is known; beside them each has the normals of its own sides
MOST_SIDES = 24  # of one convex part of the shifts
LEAST_TURN_RAD = 0.01  # sides that differ by less become one, farther out
ROUNDING_MM = 1e-6  # added to every reach: more than shapely and arithmetic lose
THIN_MM = 1e-6  # how wide a given shift is, so that it stays an area


@dataclass(frozen=True, slots=True, kw_only=True)
class Shifts:
    """Closed shifts that may cover: reach (d,) in each direction, -inf when there are none, and their convex parts.

    Each part (q) has its sides' normals (q, s, 2), how far it reaches along them (q, s), and corners (q, s, 2).
    """

    reach: Array
    normals: Array
    heights: Array
    corners: Array


@dataclass(frozen=True, slots=True, kw_only=True)
class Level:
    """What a place must keep, and the shifts that may, by closed interval.

    ``moved`` (k, 2) is the rim as ``moved_rim`` gives it. ``holes`` (v, 2) are corners, from the lid's origin, round
    all holes that are far enough from the edge; None when the distance need not be looked at. ``notched``: not all
    within them are far enough.
    """

    margin_mm: float
    moved: Array
    to_lid_mm: float
    holes: Array | None
    notched: bool
    shifts: dict[int, Shifts] = field(default_factory=dict)
    hole_reaches: dict[int, Array] = field(default_factory=dict)
    turned_holes: dict[float, Array] = field(default_factory=dict)


def holes_in_turn(level: Level, half_rad: float) -> Array:
    """Corners (v, 2) of a convex polygon round the level's holes at any turn up to ``half_rad`` either way."""
    found = level.turned_holes.get(half_rad)
    if found is None:
        assert level.holes is not None and len(level.holes) >= 3, "asked only of holes that fill an area"
        reached = reached_in_turn(level.holes, half_rad)
        found = wound_anticlockwise(shapely.get_coordinates(shapely.convex_hull(shapely.multipoints(reached)))[:-1])
        level.turned_holes[half_rad] = found
    return found


def directions_from(along: Array) -> Array:
    """The directions (d, 2), the first one ``along`` (2,)."""
    bearings = math.atan2(along[1], along[0]) + 2.0 * math.pi / DIRECTIONS * np.arange(DIRECTIONS)
    return np.column_stack((np.cos(bearings), np.sin(bearings)))


def moved_rim(cover: Cover, margin_mm: float) -> Array:
    """Corners (k, 2) of a rim with its sides moved out by a margin, less a hair; (0, 2) when nothing is left of it.

    The hair is so that a place that has just the margin is not lost to rounding.
    """
    return sides_moved(cover.rim, margin_mm - ROUNDING_MM)


def covering_shifts(
    cover: Cover, sweeps: Sweeps, middle_rad: float, half_rad: float, moved: Array, directions: Array
) -> Shifts:
    """Shifts with which the lid may cover a moved rim (k, 2) at some turn of an interval: never too few.

    The moved rim's corners and the rim's middle must lie under what the lid reaches, and no corner of that within
    the moved rim; for a convex lid that is all it takes.
    """
    lid = placed(reached_by(sweeps, half_rad), turn_rad=middle_rad)
    # Where nothing is left of the rim, its middle alone has to be covered.
    under = np.concatenate((moved, [cover.sides.middle]))
    shape: BaseGeometry = shapely.intersection_all(shapely.polygons(under[:, None, :] - lid[None, :, :]))
    shape = _without_corners(shape, lid, moved)
    for axis, given in enumerate((cover.fixed.moved_right_mm, cover.fixed.moved_back_mm)):
        if given is not None and not shape.is_empty:
            low = np.array(shape.bounds[:2]) - 1.0
            high = np.array(shape.bounds[2:]) + 1.0
            low[axis], high[axis] = given - THIN_MM, given + THIN_MM
            shape = shapely.intersection(shape, shapely.box(*low, *high))
    parts = convex_cover(shape)
    if not parts:
        return _no_shifts(directions)
    reach = np.max([(directions @ part.T).max(axis=1) for part in parts], axis=0) + ROUNDING_MM
    made = [_part(part, directions) for part in parts]
    normals, heights, corners = (np.array(each) for each in zip(*made, strict=True))
    return Shifts(reach=reach, normals=normals, heights=heights, corners=corners)


def _without_corners(shape: BaseGeometry, lid: Array, moved: Array) -> BaseGeometry:
    """Shifts less those with a corner of the lid that points inwards within the moved rim."""
    if shape.is_empty or not len(moved):
        return shape
    before, after = lid - np.roll(lid, 1, axis=0), after_each(lid) - lid
    notched = lid[before[:, 0] * after[:, 1] - before[:, 1] * after[:, 0] < 0.0]
    # Only corners that come inside for some of the shifts matter: seen along the axes that is quickly told.
    low, high = shapely.get_coordinates(shape).min(axis=0), shapely.get_coordinates(shape).max(axis=0)
    inside = (notched + low < moved.max(axis=0)) & (notched + high > moved.min(axis=0))
    notched = notched[inside.all(axis=1)]
    if not len(notched) or len(moved) < 3:
        return shape
    return shapely.difference(shape, shapely.union_all(shapely.polygons(moved[None] - notched[:, None, :])))


def _no_shifts(directions: Array) -> Shifts:
    return Shifts(
        reach=np.full(len(directions), -math.inf),
        normals=np.empty((0, MOST_SIDES, 2)),
        heights=np.empty((0, MOST_SIDES)),
        corners=np.empty((0, MOST_SIDES, 2)),
    )


def _part(corners: Array, directions: Array) -> tuple[Array, Array, Array]:
    """A convex polygon with ``MOST_SIDES`` sides round the given one: normals, heights, corners; some sides twice."""
    normals = directions[:: DIRECTIONS // 8]
    weights = np.zeros(len(normals))
    if len(corners) >= 2:
        ahead = after_each(corners) - corners
        long = np.hypot(ahead[:, 0], ahead[:, 1])
        ahead, long = ahead[long > ROUNDING_MM], long[long > ROUNDING_MM]
        normals = np.concatenate((np.column_stack((ahead[:, 1], -ahead[:, 0])) / long[:, None], normals))
        weights = np.concatenate((long, weights))
    bearings = np.arctan2(normals[:, 1], normals[:, 0])
    order = np.argsort(bearings, kind="stable")
    turn = LEAST_TURN_RAD
    while True:
        chosen = _far_between(bearings[order], weights[order], turn)
        if len(chosen) <= MOST_SIDES:
            break
        turn *= 1.5
    kept = normals[order[chosen]]
    heights = (kept @ corners.T).max(axis=1) + ROUNDING_MM
    following = np.roll(kept, -1, axis=0)
    later = np.roll(heights, -1)
    cross = kept[:, 0] * following[:, 1] - kept[:, 1] * following[:, 0]
    meet = np.column_stack(
        (heights * following[:, 1] - later * kept[:, 1], later * kept[:, 0] - heights * following[:, 0])
    )
    sides = np.arange(MOST_SIDES) % len(kept)
    return kept[sides], heights[sides], (meet / cross[:, None])[sides]


def _far_between(bearings: Array, weights: Array, turn_rad: float) -> list[int]:
    """Of rising bearings those at least a turn apart, all round, the heavier of two that are nearer."""
    chosen = [0]
    for number in range(1, len(bearings)):
        if bearings[number] - bearings[chosen[-1]] > turn_rad:
            chosen.append(number)
        elif weights[number] > weights[chosen[-1]]:
            chosen[-1] = number
    if len(chosen) > 1 and bearings[chosen[0]] + 2.0 * math.pi - bearings[chosen[-1]] <= turn_rad:
        del chosen[0 if weights[chosen[-1]] > weights[chosen[0]] else -1]
    return chosen


def hole_reach(directions: Array, holes: Array, middles_rad: Array, halves_rad: Array) -> Array:
    """How far (m, d) holes (m, v, 2), measured from the pivot, move opened shifts in directions (m, d, 2).

    For opening turns (m,) up to half an interval either way; exact at every turn but for rounding.
    """
    turned = turned_reach(directions, holes, middles_rad, halves_rad)
    return np.asarray((turned - np.einsum("mdi,mvi->mdv", directions, holes)).max(axis=2) + ROUNDING_MM)


def turned_reach(directions: Array, points: Array, middles_rad: Array, halves_rad: Array) -> Array:
    """How far (m, d, v) points (m, v, 2) reach in directions (m, d, 2) when turned clockwise, at best in an interval.

    Turned by (m,), up to half an interval either way.
    """
    far = np.hypot(points[..., 0], points[..., 1])
    bearing = np.arctan2(points[..., 1], points[..., 0])
    towards = np.arctan2(directions[..., 1], directions[..., 0])
    off = bearing[:, None, :] - middles_rad[:, None, None] - towards[:, :, None]
    off = np.abs(np.mod(off + math.pi, 2.0 * math.pi) - math.pi)
    return np.asarray(np.cos(np.maximum(off - halves_rad[:, None, None], 0.0)) * far[:, None, :])


def turned_normals(normals: Array, middles_rad: Array) -> Array:
    """Normals (m, v, 2) of a region of holes as those of its image in opened shifts, which is turned and scaled."""
    turned = np.exp(-1j * middles_rad) - 1.0
    size = np.abs(turned)
    unit = np.where(size > 0.0, turned / np.where(size > 0.0, size, 1.0), 1.0)[:, None]
    moved = (normals[..., 0] + 1j * normals[..., 1]) * unit
    return np.stack((moved.real, moved.imag), axis=-1)
