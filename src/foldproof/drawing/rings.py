"""Many plane polygons in one pair of arrays, so that all of them are worked on at once."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass

import numpy as np
import shapely
from numpy.typing import NDArray
from shapely.geometry.base import BaseGeometry

Array = NDArray[np.float64]
Index = NDArray[np.int64]


@dataclass(frozen=True, slots=True, kw_only=True)
class Rings:
    """Polygons corner after corner: ``points`` (corners, 2); of each polygon where it starts and how many it has.

    ``nexts`` is the corner that follows each corner round its polygon.
    """

    points: Array
    starts: Index
    sizes: Index
    nexts: Index

    @property
    def edges(self) -> Array:
        """From each corner to the next, (corners, 2)."""
        ahead: Array = self.points[self.nexts] - self.points
        return ahead


def rings_of(polygons: Sequence[Array]) -> Rings:
    """Polygons of three corners or more, each (corners, 2)."""
    return rings_at(np.concatenate(polygons), np.array([len(polygon) for polygon in polygons]))


def rings_at(points: Array, sizes: Index) -> Rings:
    """Polygons that lie one after another in ``points``."""
    starts = np.cumsum(sizes) - sizes
    nexts = np.arange(1, len(points) + 1)
    nexts[starts + sizes - 1] = starts
    return Rings(points=points, starts=starts, sizes=sizes, nexts=nexts)


def without_straight_corners(rings: Rings, straight_mm: float) -> Rings:
    """The polygons without corners that lie no farther than ``straight_mm`` from the line between their neighbours."""
    before = np.empty(len(rings.points), dtype=np.int64)
    before[rings.nexts] = np.arange(len(rings.points))
    here, last, ahead = rings.points, rings.points[before], rings.points[rings.nexts]
    across = ahead - last
    kept = np.abs(cross(here - last, ahead - here)) > straight_mm * np.hypot(across[:, 0], across[:, 1])
    return rings_at(here[kept], np.add.reduceat(kept.astype(np.int64), rings.starts))


def polygons_of(rings: Rings) -> list[BaseGeometry]:
    """The polygons as areas. They may be worth nothing where a ring is not simple."""
    owners = np.repeat(np.arange(len(rings.sizes)), rings.sizes)
    found: list[BaseGeometry] = np.asarray(shapely.polygons(shapely.linearrings(rings.points, indices=owners))).tolist()
    return found


def sums(values: Array, starts: Index) -> Array:
    """The sum of each run of ``values``; runs are not empty."""
    found: Array = np.add.reduceat(values, starts)
    return found


def totals(values: Array, owners: Index, count: int) -> Array:
    """What the values of each of ``count`` owners add up to."""
    return np.bincount(owners, weights=values, minlength=count).astype(np.float64, copy=False)


def cross(a: Array, b: Array) -> Array:
    """The cross product of plane vectors, row by row."""
    found: Array = a[..., 0] * b[..., 1] - a[..., 1] * b[..., 0]
    return found


def spread(starts: Index, sizes: Index) -> tuple[Index, Index]:
    """Every member of runs given by start and size: the number of its run, and its own number."""
    run = np.repeat(np.arange(len(sizes)), sizes)
    before = np.cumsum(sizes) - sizes
    return run, np.arange(len(run)) - before[run] + starts[run]
