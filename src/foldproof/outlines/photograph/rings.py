"""Closed lines of points (n, 2) in mm, at even distances: spaced, evened, untangled."""

from __future__ import annotations

import math

import numpy as np
import shapely

from foldproof.geometry.outline import after_each, wound_anticlockwise
from foldproof.geometry.plane import Array

MOST_PLACES = 24_000  # round an outline: the picture library takes no more in one piece
LEAST_PLACES = 16
REACH_SPREADS = 3.0  # a bell is as good as nothing so many spreads from its middle


def evenly(points: Array, every_mm: float) -> Array:
    """A closed line with its points at even distances of about ``every_mm``."""
    closed = np.concatenate((points, points[:1]))
    way = np.concatenate(([0.0], np.cumsum(np.hypot(*np.diff(closed, axis=0).T))))
    count = min(MOST_PLACES, max(LEAST_PLACES, round(float(way[-1]) / every_mm)))
    at = np.arange(count) * (way[-1] / count)
    return np.column_stack([np.interp(at, way, closed[:, axis]) for axis in (0, 1)])


def spacing(points: Array) -> float:
    """The mean distance between the points of a closed line, in mm."""
    return float(np.hypot(*(after_each(points) - points).T).mean())


def evened(values: Array, spread_mm: float, every_mm: float) -> Array:
    """Values round a closed line (n,) or (n, m), one each ``every_mm``, evened by a bell of a spread in mm."""
    reach = max(1, math.ceil(REACH_SPREADS * spread_mm / every_mm))
    offsets = np.arange(-reach, reach + 1)
    bell = np.exp(-0.5 * (offsets * every_mm / spread_mm) ** 2)
    bell /= bell.sum()
    total = np.zeros_like(values)
    for offset, weight in zip(offsets, bell, strict=True):
        total += weight * np.roll(values, -offset, axis=0)
    return total


def outward_of(points: Array) -> Array:
    """Unit directions (n, 2) out of an anticlockwise closed line."""
    ahead = after_each(points) - np.roll(points, 1, axis=0)
    out: Array = np.column_stack((ahead[:, 1], -ahead[:, 0])) / np.hypot(ahead[:, 0], ahead[:, 1])[:, None]
    return out


def untangled(points: Array) -> Array:
    """A closed line without the loops it makes where points were moved past one another: its largest part."""
    area = shapely.Polygon(points)
    if area.is_valid:
        return points
    parts = shapely.get_parts(shapely.make_valid(area))
    flat = [part for whole in parts for part in shapely.get_parts(whole) if part.geom_type == "Polygon"]
    if not flat:
        return points
    largest = max(flat, key=lambda part: float(part.area))
    return wound_anticlockwise(shapely.get_coordinates(largest.exterior)[:-1])
