"""How well one outline covers a convex one: mitred margin, and distance to the outline.

With outward unit normals n_i and offsets h_i of the convex rim, f(p) = max_i (n_i . p - h_i) is how far all sides
must move outwards, corners mitred, to reach p. The moved rims are nested, so when the rim's innermost point lies
under the lid, the margin is the least f along the lid's outline. f is convex and piecewise linear on each edge:
its least value lies at an end or where two of the sides' values cross, so the answer is exact.
"""

from __future__ import annotations

import math
from dataclasses import dataclass
from itertools import combinations

import numpy as np
from numpy.typing import NDArray

from foldproof.geometry.outline import (
    after_each,
    distances_to_edges,
    half_planes,
    innermost,
    inside_each,
    inside_many,
    wound_anticlockwise,
)
from foldproof.geometry.plane import Array

VALUES_AT_ONCE = 250_000  # poses x sides x points worked at a time, so that they stay in a processor's cache

Places = NDArray[np.intp]


@dataclass(frozen=True, slots=True, kw_only=True)
class Rim:
    """A convex rim's sides, normals (k, 2) and offsets (k,), its innermost point and how deep that lies inside."""

    normals: Array
    offsets: Array
    middle: Array
    depth_mm: float


def rim_of(outline: Array) -> Rim:
    """What margins need to know of a convex outline (k, 2), either way round."""
    normals, offsets = half_planes(wound_anticlockwise(outline))
    middle, depth = innermost(normals, offsets)
    return Rim(normals=normals, offsets=offsets, middle=np.asarray(middle), depth_mm=depth)


def cover_margin(lid: Array, rim: Array) -> float:
    """How far in mm all sides of the rim may move outwards, corners mitred, and still be covered by the lid.

    ``lid`` (n, 2) is a simple outline, ``rim`` (k, 2) a convex one, each either way round. Negative: how far the
    sides must move inwards. Minus infinity: not even the rim's innermost point is under the lid, so no rim drawn
    in is covered. Exact up to rounding.
    """
    return float(margins_of(lid[None, :, :], rim)[0])


def margins_of(lids: Array, rim: Array) -> Array:
    """``cover_margin`` for many lids with equally many points: (m, n, 2) and a rim (k, 2) to (m,)."""
    normals, offsets = half_planes(wound_anticlockwise(rim))
    middle, _ = innermost(normals, offsets)
    found = np.empty(len(lids))
    step = _step(lids.shape[1], len(normals))
    for first in range(0, len(lids), step):
        some = lids[first : first + step]
        reached = _least_of(some, normals, offsets)
        found[first : first + step] = np.where(inside_each(middle, some), reached, -math.inf)
    return found


def margins(lid: Array, rim: Array | Rim, *, shifts_mm: Array, turns_rad: Array) -> Array:
    """``cover_margin`` of one lid (n, 2) in many poses: shifts (m, 2) and turns (m,) to (m,).

    Whoever asks often about one rim gives its ``Rim``.

    A pose turns the lid anticlockwise about the origin of its own points, then shifts it. The lid stays where it
    is and the rim's sides turn the other way, which is the same and needs no posed copies.
    """
    known = rim if isinstance(rim, Rim) else rim_of(rim)
    normals, offsets = known.normals, known.offsets
    from_middle = known.middle - shifts_mm
    covered = inside_many(_turned_back(from_middle, turns_rad), lid)
    ahead = after_each(lid) - lid
    reach = np.hypot(ahead[:, 0], ahead[:, 1])[None, :]
    upright = np.ascontiguousarray(lid.T)
    found = np.empty(len(turns_rad))
    step = _step(len(lid), len(normals))
    for first in range(0, len(found), step):
        some = slice(first, first + step)
        turned = _turned_back(normals[None, :, :], turns_rad[some, None])
        beyond = offsets - shifts_mm[some] @ normals.T
        levels = (turned.reshape(-1, 2) @ upright).reshape(*turned.shape[:2], -1) - beyond[:, :, None]
        found[some] = np.where(covered[some], _least(levels, reach), -math.inf)
    return found


def distance_to_outline(lid: Array, rim: Array) -> float:
    """Shortest distance in mm between the rim (k, 2, convex) and the edge of the lid (n, 2) that covers it.

    0.0 when the lid does not cover the whole rim: then the margin says by how much it fails. Never less than the
    margin, and more of it at the corners, where mitred sides reach farther than a ruler does.
    """
    normals, offsets = half_planes(wound_anticlockwise(rim))
    lids = lid[None, :, :]
    if _least_of(lids, normals, offsets)[0] <= 0.0 or not inside_each((rim[0, 0], rim[0, 1]), lids)[0]:
        return 0.0
    # Neither outline crosses the other, so the shortest way starts or ends at a point of one of them.
    return float(min(distances_to_edges(rim, lid).min(), distances_to_edges(lid, rim).min()))


def _step(points: int, sides: int) -> int:
    return max(1, VALUES_AT_ONCE // (points * sides))


def _turned_back(vectors: Array, turns_rad: Array) -> Array:
    """Vectors (..., 2) turned clockwise by the turns, which broadcast against their leading axes."""
    cosine, sine = np.cos(turns_rad), np.sin(turns_rad)
    x, y = vectors[..., 0], vectors[..., 1]
    return np.stack((cosine * x + sine * y, cosine * y - sine * x), axis=-1)


def _least_of(lids: Array, normals: Array, offsets: Array) -> Array:
    """Least f over each of some outlines (m, n, 2): (m,)."""
    ahead = np.concatenate((lids[:, 1:], lids[:, :1]), axis=1) - lids
    levels = normals @ np.swapaxes(lids, 1, 2) - offsets[:, None]
    return _least(levels, np.hypot(ahead[:, :, 0], ahead[:, :, 1]))


def _least(levels: Array, reach: Array) -> Array:
    """Least f over each outline, from the sides' values at its points (m, k, n) and its edges' lengths (m or 1, n)."""
    at_points: Array = levels[:, 0, :]
    for side in range(1, levels.shape[1]):
        at_points = np.maximum(at_points, levels[:, side, :])
    best: Array = at_points.min(axis=1)
    # f changes by no more than the way walked, so an edge cannot fall below the mean of its ends less half of it.
    following = np.concatenate((at_points[:, 1:], at_points[:, :1]), axis=1)
    floor = 0.5 * (at_points + following - reach)
    pose, edge = np.nonzero(floor < best[:, None])
    np.minimum.at(best, pose, _least_on_edges(levels, pose, edge))
    return best


def _least_on_edges(levels: Array, pose: Places, edge: Places) -> Array:
    """Least f on some edges (e,): all crossings of two sides' values are tried, those off the edge moved to its end."""
    start = levels[pose, :, edge]
    slope = levels[pose, :, (edge + 1) % levels.shape[2]] - start
    one, other = np.array(list(combinations(range(levels.shape[1]), 2))).T
    apart = start[:, one] - start[:, other]
    closing = slope[:, other] - slope[:, one]
    along = np.divide(apart, closing, out=np.zeros_like(apart), where=closing != 0.0)
    np.clip(along, 0.0, 1.0, out=along)
    tried: Array = (start[:, None, :] + along[:, :, None] * slope[:, None, :]).max(axis=2)
    least: Array = tried.min(axis=1, initial=math.inf)
    return least
