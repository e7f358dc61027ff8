"""Convex polygons from half-planes, and how far a set of points reaches in a direction."""

from __future__ import annotations

import numpy as np

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


def sides_moved(convex: Array, distance_mm: float) -> Array:
    """Corners of an anticlockwise convex outline (k, 2) with all sides moved outwards, mitred; inwards below 0.

    (0, 2) when nothing is left of it.
    """
    normals, offsets = half_planes(convex)
    return between(normals, offsets + distance_mm)
