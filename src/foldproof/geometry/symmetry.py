"""Turns and mirrors that leave an outline as it is, found from its points."""

from __future__ import annotations

import math

import numpy as np

from foldproof.geometry.plane import Array

ALIKE_MM = 1e-9  # points this near are one: coarser than rounding; a thousand turns add up to what a bound allows for


def turning_fold(outline: Array) -> int:
    """How many turns of a whole one by its parts leave an outline (n, 2) as it is, about the origin: 1 at least."""
    count = len(outline)
    for fold in range(count, 1, -1):
        if count % fold == 0 and _alike(_turned(outline, 2.0 * math.pi / fold), np.roll(outline, -count // fold, 0)):
            return fold
    return 1


def is_mirrored(outline: Array) -> bool:
    """Whether some line through the origin mirrors an outline (n, 2) onto itself."""
    back = outline[::-1]
    radii = np.hypot(back[:, 0], back[:, 1])
    own = np.hypot(outline[:, 0], outline[:, 1])
    for number in range(len(outline)):
        if np.abs(np.roll(radii, number) - own).max() > ALIKE_MM:
            continue
        onto = np.roll(back, number, axis=0)
        far = int(own.argmax())
        doubled = math.atan2(outline[far, 1], outline[far, 0]) + math.atan2(onto[far, 1], onto[far, 0])
        if _alike(mirrored(onto, 0.5 * doubled), outline):
            return True
    return False


def mirrored(points: Array, axis_rad: float, through: Array | None = None) -> Array:
    """Points (n, 2) mirrored in a line of that direction through the origin, or through a point (2,)."""
    cosine, sine = math.cos(2.0 * axis_rad), math.sin(2.0 * axis_rad)
    middle = np.zeros(2) if through is None else through
    found: Array = (points - middle) @ np.array([[cosine, sine], [sine, -cosine]]) + middle
    return found


def same_corners(one: Array, other: Array) -> bool:
    """Whether two sets of points (n, 2) are the same in any order."""
    if len(one) != len(other):
        return False
    apart = np.hypot(*(one[:, None, :] - other[None, :, :]).transpose(2, 0, 1))
    return bool(apart.min(axis=1).max() <= ALIKE_MM and apart.min(axis=0).max() <= ALIKE_MM)


def _turned(points: Array, turn_rad: float) -> Array:
    cosine, sine = math.cos(turn_rad), math.sin(turn_rad)
    turned: Array = points @ np.array([[cosine, sine], [-sine, cosine]])
    return turned


def _alike(one: Array, other: Array) -> bool:
    return bool(np.abs(one - other).max() <= ALIKE_MM)
