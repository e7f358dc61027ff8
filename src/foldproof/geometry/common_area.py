"""Common area of one outline and many convex polygons, each given by its half-planes; in every pose at once.

Green's theorem gives an area as half the sum, along its boundary, of the cross product of place and step. A stretch
of an outline's edge e from p, between the shares t0 and t1 inside the polygon, gives (t1 - t0) (p x e). A stretch of a
side's line, at distance d from the origin, gives d times its length inside the outline: every edge that crosses the
line at s leaves the outline there (+1) or enters it (-1), so the length between two places is the sum of these signs
times s clipped to them.
"""

from __future__ import annotations

from dataclasses import dataclass

import numpy as np
from numpy.typing import NDArray

from foldproof.geometry.outline import Flags, after_each, wound_anticlockwise
from foldproof.geometry.plane import SAME_MM, Array

Places = NDArray[np.intp]

VALUES_AT_ONCE = 200_000  # poses x sides x points worked at a time, so that they stay in a processor's cache
PARALLEL = 1e-12  # sine of an angle below which two sides never meet on any sheet of card


@dataclass(frozen=True, slots=True, kw_only=True)
class Common:
    """Common areas (m,) in mm2, and how much of each side (m, k) in mm lies inside the outline and the polygon."""

    areas: Array
    sides: Array


def common_areas(outline: Array, normals: Array, offsets: Array) -> Array:
    """Area in mm2 of a simple outline (n, 2) inside each of m convex polygons: (m,). Exact up to rounding.

    A polygon is where ``normals @ p <= offsets`` for its k unit normals (m, k, 2) and offsets (m, k); sides that
    do not matter, sides in the same place and polygons that are empty may be among them.
    """
    return common_with(outline, normals, offsets).areas


def common_with(outline: Array, normals: Array, offsets: Array) -> Common:
    """``common_areas``, and with them the length inside the outline of every side's part of the polygon's edge."""
    points = wound_anticlockwise(outline)
    upright = np.concatenate((points.T, np.full((1, len(points)), -1.0)))
    crosses = points[:, 0] * after_each(points)[:, 1] - points[:, 1] * after_each(points)[:, 0]
    count, sides = offsets.shape
    areas, inside = np.empty(count), np.empty((count, sides))
    step = max(1, VALUES_AT_ONCE // (sides * len(points)))
    for first in range(0, count, step):
        some = slice(first, first + step)
        areas[some], inside[some] = _common(upright, crosses, normals[some], offsets[some])
    return Common(areas=areas, sides=inside)


def _common(upright: Array, crosses: Array, normals: Array, offsets: Array) -> tuple[Array, Array]:
    count, sides = offsets.shape
    points = upright.shape[1]
    planes = np.concatenate((normals, offsets[:, :, None]), axis=2).reshape(-1, 3)
    levels = (planes @ upright).reshape(count, sides, points)
    outside: Flags = levels > 0.0
    lows, highs = _ends(normals, offsets)
    crossing = outside.copy()
    crossing[:, :, :-1] ^= outside[:, :, 1:]
    crossing[:, :, -1] ^= outside[:, :, 0]
    flat = np.flatnonzero(crossing)
    line, edge = np.divmod(flat, points)  # line: pose x sides + side
    following = np.where(edge + 1 < points, flat + 1, flat + 1 - points)
    start, end = levels.ravel()[flat], levels.ravel()[following]
    shares = start / (start - end)
    x, y = upright[0], upright[1]
    after = following - line * points
    at_x = x[edge] + shares * (x[after] - x[edge])
    at_y = y[edge] + shares * (y[after] - y[edge])
    along = planes[line, 0] * at_y - planes[line, 1] * at_x
    signed = np.where(end > 0.0, -1.0, 1.0)
    low, high = lows.ravel()[line], highs.ravel()[line]
    # Inside ends where the edge goes outwards through the line: walking along the line, the outline is entered there.
    sums = np.bincount(line, weights=signed * np.minimum(np.maximum(along, low), high), minlength=count * sides)
    stretch: Array = sums.reshape(count, sides).astype(np.float64, copy=False)
    whole: Flags = np.logical_not(outside.any(axis=1))
    both = whole.copy()
    both[:, :-1] &= whole[:, 1:]
    both[:, -1] &= whole[:, 0]
    doubled = both.astype(np.float64) @ crosses + (stretch * offsets).sum(axis=1)
    doubled += _cut_edges(levels, outside, crosses, line // sides * points + edge)
    return 0.5 * doubled, stretch


def _ends(normals: Array, offsets: Array) -> tuple[Array, Array]:
    """From where to where each side's line (m, k) is inside all other sides, in mm along it; equal when nowhere.

    Where two lines meet is worked out once for both, so that the polygon closes there: the place of a meeting of lines
    that are nearly level is told badly along them, and each line by itself would end somewhere else. Of two lines in
    the same place the first counts.
    """
    tx, ty = -normals[:, :, 1], normals[:, :, 0]
    nx, ny = normals[:, :, 0], normals[:, :, 1]
    # rate[m, i, j]: how the distance from side j's line grows along side i; room: what there is at i's foot.
    rate = tx[:, :, None] * nx[:, None, :] + ty[:, :, None] * ny[:, None, :]
    turn = nx[:, :, None] * nx[:, None, :] + ny[:, :, None] * ny[:, None, :]
    room = offsets[:, None, :] - offsets[:, :, None] * turn
    level = np.abs(rate) < PARALLEL
    reached = room / np.where(level, 1.0, rate)
    # Along the later line of a pair, the place on the earlier one: its foot there and the way from it.
    met = -offsets[:, :, None] * rate + reached * turn
    later = np.tri(offsets.shape[1], k=-1, dtype=np.bool_)
    reached = np.where(later, np.swapaxes(met, 1, 2), reached)
    highs = np.where(~level & (rate > 0.0), reached, np.inf).min(axis=2)
    lows = np.where(~level & (rate < 0.0), reached, -np.inf).max(axis=2)
    # A parallel side shuts this one out, whole. Of two that face the same way one is shut out, and never both.
    same = level & (turn > 0.0) & ~np.eye(offsets.shape[1], dtype=np.bool_)
    nearer = np.where(later, np.swapaxes(room, 1, 2) >= 0.0, room < 0.0)
    beyond = ((level & ~same & (room < -SAME_MM)) | (same & nearer)).any(axis=2)
    empty = beyond | (lows >= highs)
    return np.where(empty, 0.0, lows), np.where(empty, 0.0, highs)


def _cut_edges(levels: Array, outside: Flags, crosses: Array, cut: Places) -> Array:
    """The stretches inside the polygon of edges that some side's line cuts, each times its cross product: (m,).

    ``cut`` (c,) are pose x points + edge, once for each line that cuts the edge.
    """
    count, _, points = levels.shape
    marks = np.zeros(count * points, dtype=np.bool_)
    marks[cut] = True
    pose, edge = np.divmod(np.flatnonzero(marks), points)
    after = np.where(edge + 1 < points, edge + 1, 0)
    from_outside, to_outside = outside[pose, :, edge], outside[pose, :, after]
    kept = ~(from_outside & to_outside).any(axis=1)
    pose, edge, after = pose[kept], edge[kept], after[kept]
    from_outside, to_outside = from_outside[kept], to_outside[kept]
    start, end = levels[pose, :, edge], levels[pose, :, after]
    changes = from_outside != to_outside
    shares = np.divide(start, start - end, out=np.zeros_like(start), where=changes)
    enters = np.where(from_outside, shares, 0.0).max(axis=1)
    leaves = np.where(to_outside, shares, 1.0).min(axis=1)
    inside = np.maximum(leaves - enters, 0.0) * crosses[edge]
    return np.asarray(np.bincount(pose, weights=inside, minlength=count), dtype=np.float64)
