"""Going round an outline: points along it at a given step, and the places of it nearest to others."""

from __future__ import annotations

import numpy as np

from foldproof.geometry.outline import EDGES_AT_ONCE, after_each
from foldproof.geometry.plane import Array


def with_steps(line: Array, step_mm: float) -> Array:
    """An open line (n, 2) with points added so that none is farther than a step from the next."""
    ahead = np.diff(line, axis=0)
    pieces = np.maximum(1, np.ceil(np.hypot(*ahead.T) / step_mm)).astype(np.intp)
    edge = np.repeat(np.arange(len(pieces)), pieces)
    first = np.cumsum(pieces) - pieces
    share = (np.arange(len(edge)) - first[edge]) / pieces[edge]
    return np.concatenate((line[edge] + share[:, None] * ahead[edge], line[-1:]))


def round_with_steps(outline: Array, step_mm: float) -> Array:
    """An outline (n, 2) with points added so that none is farther than a step from the next."""
    return with_steps(np.concatenate((outline, outline[:1])), step_mm)[:-1]


def nearest_places(points: Array, outline: Array) -> Array:
    """The place of an outline (n, 2) nearest to each of some points (m, 2), as edge and share of it: 2.5 is halfway
    from the third point to the fourth. (m,)
    """
    ahead = after_each(outline) - outline
    squared = (ahead**2).sum(axis=1)
    squared = np.where(squared > 0.0, squared, 1.0)  # an edge of no length is its first point
    found = np.empty(len(points))
    step = max(1, EDGES_AT_ONCE // len(outline))
    for first in range(0, len(points), step):
        some = points[first : first + step]
        offset_x, offset_y = some[:, :1] - outline[:, 0], some[:, 1:] - outline[:, 1]
        along = np.clip((offset_x * ahead[:, 0] + offset_y * ahead[:, 1]) / squared, 0.0, 1.0)
        away = (offset_x - along * ahead[:, 0]) ** 2 + (offset_y - along * ahead[:, 1]) ** 2
        best = away.argmin(axis=1)
        found[first : first + step] = best + along[np.arange(len(some)), best]
    return found


def at_places(outline: Array, places: Array) -> Array:
    """The points (m, 2) at places (m,) of an outline (n, 2), told as edge and share; places go round and round."""
    edge = np.floor(places).astype(np.intp)
    share = (places - edge)[:, None]
    found: Array = (1.0 - share) * outline[edge % len(outline)] + share * outline[(edge + 1) % len(outline)]
    return found


def part_of(outline: Array, start: float, end: float) -> Array:
    """The open line (n, 2) that runs along an outline from one place to another, anticlockwise like the outline."""
    while end <= start:
        end += len(outline)
    between = np.arange(np.floor(start) + 1.0, end)
    return at_places(outline, np.concatenate(([start], between, [end])))
