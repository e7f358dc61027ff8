"""Outlines as arrays of points (n, 2) in mm: winding, poses, half-planes, insides, distances.

An outline is a simple polygon, its last point joined to its first. Functions that need it anticlockwise say so.
"""

from __future__ import annotations

from itertools import combinations

import numpy as np
import shapely
from numpy.typing import NDArray

from foldproof.geometry.plane import SAME_MM, Array, Point, Polygon

Flags = NDArray[np.bool_]

DISC_MM = 1e-3  # how near a largest disc is searched: finer than any cutter moves
LEAST_TWIST = 1e-9  # lines that meet at less than this (in radians squared, about) have no common point to use
QUARTER_BACK = np.array([1.0, -1.0])  # (y, x) times this is (x, y) a quarter turn clockwise
EDGES_AT_ONCE = 200_000  # point and edge pairs worked at a time, so that they stay in a processor's cache


def points_of(polygon: Polygon) -> Array:
    """A polygon's corners as an array (n, 2)."""
    return np.asarray(polygon, dtype=np.float64)


def after_each(points: Array) -> Array:
    """The point that follows each point round an outline (n, ...), the first one after the last."""
    after: Array = np.concatenate((points[1:], points[:1]))
    return after


def enclosed_mm2(points: Array) -> float:
    """Area of an outline (n, 2), positive when it runs anticlockwise (shoelace formula)."""
    x, y = points[:, 0], points[:, 1]
    return float(0.5 * np.sum(x * after_each(y) - after_each(x) * y))


def wound_anticlockwise(points: Array) -> Array:
    """The same outline (n, 2) running anticlockwise."""
    return points if enclosed_mm2(points) > 0 else points[::-1]


def placed(points: Array, *, turn_rad: float = 0.0, shift_mm: Point = (0.0, 0.0)) -> Array:
    """Points (n, 2) turned anticlockwise about the origin, then shifted."""
    moved: Array = placed_many(points, turns_rad=np.array([turn_rad]), shifts_mm=np.array([shift_mm]))[0]
    return moved


def placed_many(points: Array, *, turns_rad: Array, shifts_mm: Array) -> Array:
    """Points (n, 2) in many poses (m, n, 2): turns (m,) about the origin, then shifts (m, 2)."""
    cosine, sine = np.cos(turns_rad)[:, None], np.sin(turns_rad)[:, None]
    x, y = points[:, 0], points[:, 1]
    moved = np.empty((len(turns_rad), len(points), 2))
    moved[:, :, 0] = cosine * x - sine * y + shifts_mm[:, :1]
    moved[:, :, 1] = sine * x + cosine * y + shifts_mm[:, 1:]
    return moved


def turned_about(points: Array, pivot: Point, turn_rad: float) -> Array:
    """Points (n, 2) turned anticlockwise about a pivot."""
    middle = np.asarray(pivot, dtype=np.float64)
    return placed(points - middle, turn_rad=turn_rad) + middle


def half_planes(convex: Array) -> tuple[Array, Array]:
    """Outward unit normals (k, 2) and offsets (k,) of an anticlockwise convex outline (k, 2).

    A point p is inside when ``normals @ p <= offsets``. Corners in the same place count once.
    """
    ahead = after_each(convex) - convex
    lengths = np.hypot(ahead[:, 0], ahead[:, 1])
    kept = lengths > SAME_MM
    normals = (ahead[:, ::-1] * QUARTER_BACK)[kept] / lengths[kept, None]
    offsets = (normals * convex[kept]).sum(axis=1)
    assert len(normals) >= 3, "a convex outline has three sides at least"
    assert np.all(convex @ normals.T <= offsets + SAME_MM), "the outline is not convex and anticlockwise"
    return normals, offsets


def innermost(normals: Array, offsets: Array) -> tuple[Point, float]:
    """The point between half-planes, (k, 2) and (k,), farthest from the nearest of them, and that distance in mm.

    The point is the last one left when all sides move in together. Every way to be equally far from three sides
    is tried and the best kept: exact, and quick for the few sides of a box (k over 3 ways). Where a whole
    segment is equally good, as in a long rectangle, it is that segment's middle.
    """
    three = np.array(list(combinations(range(len(normals)), 3)))
    sides = np.concatenate((normals, np.ones((len(normals), 1))), axis=1)[three]
    solvable = np.abs(np.linalg.det(sides)) > LEAST_TWIST
    found = np.linalg.solve(sides[solvable], offsets[three][solvable][..., None])[..., 0]
    depth = np.min(offsets - found[:, :2] @ normals.T, axis=1)
    best = float(depth.max())
    middles = found[depth >= best - SAME_MM, :2]
    middle = 0.5 * (middles.min(axis=0) + middles.max(axis=0)) if len(middles) > 1 else middles[0]
    # Between the ends of that segment: the middle of its box is on it because a segment fills its box's diagonal.
    return (float(middle[0]), float(middle[1])), best


def inside_many(points: Array, polygon: Array) -> Flags:
    """Which of the points (m, 2) lie in a simple outline (n, 2), edge included: (m,) of bool.

    Decided by exact predicates (shapely), so a point on an edge that runs level or upright counts as inside.
    """
    area = shapely.Polygon(polygon)
    shapely.prepare(area)
    found: Flags = shapely.intersects_xy(area, points[:, 0], points[:, 1])
    return found


def inside_each(point: Point, outlines: Array) -> Flags:
    """In which of many simple outlines (m, n, 2) one point lies: (m,) of bool.

    Counts the edges that a level ray to the right crosses (even-odd rule). A point on an edge may count either way.
    """
    x, y = outlines[:, :, 0], outlines[:, :, 1]
    above = y > point[1]
    which, start = np.nonzero(above != np.concatenate((above[:, 1:], above[:, :1]), axis=1))
    end = (start + 1) % outlines.shape[1]
    x_start, y_start, x_end, y_end = x[which, start], y[which, start], x[which, end], y[which, end]
    crossing = x_start + (point[1] - y_start) / (y_end - y_start) * (x_end - x_start)
    counts = np.bincount(which[crossing > point[0]], minlength=len(outlines))
    found: Flags = counts % 2 == 1
    return found


def distances_to_edges(points: Array, polygon: Array) -> Array:
    """Shortest distance in mm of each point (m, 2) to the edges of an outline (n, 2): (m,), never negative."""
    ahead_x, ahead_y = (after_each(polygon) - polygon).T
    squared = ahead_x**2 + ahead_y**2
    squared = np.where(squared > 0.0, squared, 1.0)  # an edge of no length is its first point
    nearest = np.empty(len(points))
    step = max(1, EDGES_AT_ONCE // len(polygon))
    for first in range(0, len(points), step):
        some = points[first : first + step]
        x, y = some[:, :1] - polygon[:, 0], some[:, 1:] - polygon[:, 1]
        along = np.minimum(np.maximum((x * ahead_x + y * ahead_y) / squared, 0.0), 1.0)
        away = (x - along * ahead_x) ** 2 + (y - along * ahead_y) ** 2
        nearest[first : first + step] = np.sqrt(away.min(axis=1))
    return nearest


def largest_disc(polygon: Array) -> tuple[Point, float]:
    """Middle and radius in mm of a largest disc inside a simple outline (n, 2).

    Found to ``DISC_MM`` by GEOS's search for the pole of inaccessibility; the radius is the middle's true
    distance to the edge, so the disc really fits.
    """
    line = shapely.maximum_inscribed_circle(shapely.Polygon(polygon), tolerance=DISC_MM)
    x, y = line.coords[0]
    return (float(x), float(y)), float(distances_to_edges(np.array([[x, y]]), polygon)[0])


def widest_mm(points: Array) -> float:
    """The largest distance between two of the points (n, 2): what a ruler finds, turned every way."""
    hull = shapely.get_coordinates(shapely.convex_hull(shapely.MultiPoint(points)))
    apart = hull[:, None, :] - hull[None, :, :]
    return float(np.sqrt(np.einsum("ijk,ijk->ij", apart, apart).max()))
