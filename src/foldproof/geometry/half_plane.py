"""Convex polygons from half-planes, and how far a set of points reaches in a direction."""

from __future__ import annotations

import numpy as np
from numpy.typing import NDArray

from foldproof.geometry.outline import half_planes
from foldproof.geometry.plane import SAME_MM, Array

FAR_MM = 1e5  # farther than any sheet; a region that reaches it is not enclosed


def between(normals: Array, offsets: Array) -> Array:
    """Corners (k, 2), anticlockwise, of where ``normals @ p <= offsets`` for normals (r, 2), offsets (r,).

    (0, 2) when that is nowhere. The region must be enclosed; a stretch or a point comes as its ends, give or take
    ``SAME_MM``.
    """
    kept = FAR_MM * np.array([[-1.0, -1.0], [1.0, -1.0], [1.0, 1.0], [-1.0, 1.0]])
    for normal, offset in zip(normals, offsets, strict=True):
        beyond = kept @ normal - offset - 0.5 * SAME_MM
        if np.all(beyond > 0.0):
            return np.empty((0, 2))
        after = np.roll(beyond, -1)
        following = np.roll(kept, -1, axis=0)
        pieces: list[Array] = []
        for place in range(len(kept)):
            if beyond[place] <= 0.0:
                pieces.append(kept[place])
            if (beyond[place] > 0.0) != (after[place] > 0.0):
                share = beyond[place] / (beyond[place] - after[place])
                pieces.append(kept[place] + share * (following[place] - kept[place]))
        kept = np.array(pieces)
    apart = np.hypot(*(np.roll(kept, -1, axis=0) - kept).T) > SAME_MM
    return kept[apart] if apart.any() else kept[:1]


def left_of_each(polygons: Array, normals: Array, offsets: Array) -> NDArray[np.bool_]:
    """Whether anything is left of convex polygons (m, n, 2) where ``normals @ p <= offsets``: (m,).

    Each has its own normals (m, r, 2), of any length, and offsets (m, r); corners may be given twice.
    """
    alive = np.ones(len(polygons), dtype=np.bool_)
    which, kept = np.arange(len(polygons)), polygons
    for number in range(normals.shape[1]):
        beyond = np.einsum("mni,mi->mn", kept, normals[which, number]) - offsets[which, number, None]
        outside = beyond > 0.0
        left = ~outside.all(axis=1)
        alive[which[~left]] = False
        which, kept, beyond, outside = which[left], kept[left], beyond[left], outside[left]
        if not len(which):
            break
        if not outside.any():
            continue
        following = np.concatenate((kept[:, 1:], kept[:, :1]), axis=1)
        after = np.concatenate((beyond[:, 1:], beyond[:, :1]), axis=1)
        crossing = outside != (after > 0.0)
        share = np.divide(beyond, beyond - after, out=np.zeros_like(beyond), where=crossing)
        cut = kept + share[..., None] * (following - kept)
        both = np.stack((kept, cut), axis=2).reshape(len(kept), -1, 2)
        taken = np.stack((~outside, crossing), axis=2).reshape(len(kept), -1)
        order = np.argsort(~taken, axis=1, kind="stable")[:, : int(taken.sum(axis=1).max())]
        last = taken.sum(axis=1)[:, None] - 1
        kept = both[
            np.arange(len(kept))[:, None], np.take_along_axis(order, np.minimum(np.arange(order.shape[1]), last), 1)
        ]
    return alive


def sides_moved(convex: Array, distance_mm: float) -> Array:
    """Corners of an anticlockwise convex outline (k, 2) with all sides moved outwards, mitred; inwards below 0.

    (0, 2) when nothing is left of it.
    """
    normals, offsets = half_planes(convex)
    return between(normals, offsets + distance_mm)
