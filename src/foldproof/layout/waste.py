"""Small pieces cut from what a larger one leaves over."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass

import numpy as np
import shapely
from numpy.typing import NDArray
from shapely.geometry import Polygon as Shape
from shapely.geometry.base import BaseGeometry

from foldproof.geometry.plane import Polygon

GRID_MM = 2.0  # places are tried this far apart, and along every edge of the waste
SAME_MM = 1e-6  # float noise of an edge; a strip just as wide as the waste still fits
LEAST_MM2 = 1.0  # waste smaller than a pencil dot holds nothing
FINEST_DIVISIONS = 6  # decimals of a millimetre to which places are told apart


@dataclass(frozen=True, slots=True, kw_only=True)
class WastePlace:
    """A rectangle in the waste, in the blank's frame, in mm. ``turned``: its width lies across."""

    left_mm: float
    low_mm: float
    width_mm: float
    height_mm: float
    turned: bool

    @property
    def outline(self) -> Polygon:
        """The rectangle, anticlockwise from its lower left corner."""
        right, high = self.left_mm + self.width_mm, self.low_mm + self.height_mm
        return ((self.left_mm, self.low_mm), (right, self.low_mm), (right, high), (self.left_mm, high))


def place_in_waste(
    blank_mm: tuple[float, float], panels: Sequence[Polygon], sizes_mm: Sequence[tuple[float, float]]
) -> tuple[WastePlace, ...] | None:
    """Places for rectangles of ``sizes_mm`` (width, height) in what the panels leave of the blank; None without room.

    Each lies square to the blank, as it is or turned a quarter; none overlaps a panel or another. The lowest place is
    taken, then the rightmost, as it is before turned: the same waste always gives the same places. (A maker pencils a
    cross at the lower left.)
    """
    free = shapely.box(0.0, 0.0, *blank_mm).difference(shapely.union_all([Shape(panel) for panel in panels]))
    return _placed(free, tuple(sizes_mm))


def _placed(free: BaseGeometry, sizes_mm: tuple[tuple[float, float], ...]) -> tuple[WastePlace, ...] | None:
    """All rectangles in turn; where a later one finds no room, the earlier one tries its next part of the waste."""
    if not sizes_mm:
        return ()
    for place in _candidates(free, sizes_mm[0]):
        rest = _placed(free.difference(Shape(place.outline)), sizes_mm[1:])
        if rest is not None:
            return (place, *rest)
    return None


def _candidates(free: BaseGeometry, size_mm: tuple[float, float]) -> list[WastePlace]:
    """The lowest, rightmost place in each part of the waste and each way round."""
    found = []
    for part in shapely.get_parts(free):
        if not isinstance(part, Shape) or part.area < LEAST_MM2:
            continue
        for turned in (False, True):
            width, height = size_mm[::-1] if turned else size_mm
            corner = _lowest(part, width, height)
            if corner is not None:
                left, low = corner
                found.append(WastePlace(left_mm=left, low_mm=low, width_mm=width, height_mm=height, turned=turned))
    return sorted(found, key=lambda place: (place.low_mm, -place.left_mm, place.turned))


def _lowest(part: Shape, width: float, height: float) -> tuple[float, float] | None:
    """The lowest, then rightmost lower left corner at which a rectangle lies in the part."""
    left, low, right, high = part.bounds
    points = shapely.get_coordinates(part)
    xs = _places(points[:, 0], left, right - width, width)[::-1]
    ys = _places(points[:, 1], low, high - height, height)
    if not len(xs) or not len(ys):
        return None
    grid_y, grid_x = (each.ravel() for each in np.meshgrid(ys, xs, indexing="ij"))
    roomy = part.buffer(SAME_MM, join_style="mitre")
    shapely.prepare(roomy)
    inside = shapely.covers(roomy, shapely.box(grid_x, grid_y, grid_x + width, grid_y + height))
    first = int(np.argmax(inside))
    return (float(grid_x[first]), float(grid_y[first])) if inside[first] else None


def _places(corners: NDArray[np.float64], least: float, most: float, side: float) -> NDArray[np.float64]:
    """Coordinates to try, rising: on the grid, and with either edge on a corner of the waste."""
    grid = np.arange(least, most + SAME_MM, GRID_MM)
    tried = np.round(np.concatenate([grid, corners, corners - side]), FINEST_DIVISIONS)
    tried = np.unique(tried)
    return tried[(tried >= least - SAME_MM) & (tried <= most + SAME_MM)]
