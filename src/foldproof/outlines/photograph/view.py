"""How the sheet lies in the picture: a pinhole, and a lens that bows straight lines."""

from __future__ import annotations

import math
from dataclasses import dataclass

import numpy as np

from foldproof.geometry.plane import Array, Point

NEWTON_STEPS = 6  # doubling correct digits from a start within a few per cent: more than floats hold


@dataclass(frozen=True, slots=True, kw_only=True)
class View:
    """From mm on the sheet, its middle at the origin and y up in the picture, to pixels of the picture.

    ``plane``: the nine numbers, row by row, of the matrix from (x, y, 1) to the straight picture; that has its
    middle at the origin and 1 in its corner. ``bow`` then moves a point at distance r to r (1 + bow r^2) (the first
    radial term of Brown's model). ``size``: width and height of the picture in pixels.
    """

    plane: tuple[float, ...]
    bow: float
    size: tuple[int, int]


def matrix(view: View) -> Array:
    """The view's plane as (3, 3)."""
    return np.array(view.plane).reshape(3, 3)


def reach(size: tuple[int, int]) -> float:
    """From a picture's middle to its corner, in pixels."""
    return math.hypot(*size) / 2.0


def in_picture(view: View, points: Array) -> Array:
    """Pixels (n, 2) of points on the sheet (n, 2) in mm."""
    seen = np.column_stack((points, np.ones(len(points)))) @ matrix(view).T
    return bent(seen[:, :2] / seen[:, 2:], view.bow, view.size)


def on_sheet(view: View, pixels: Array) -> Array:
    """Points on the sheet (n, 2) in mm under pixels (n, 2)."""
    flat = straightened(pixels, view.bow, view.size)
    seen = np.column_stack((flat, np.ones(len(flat)))) @ np.linalg.inv(matrix(view)).T
    found: Array = seen[:, :2] / seen[:, 2:]
    return found


def bent(flat: Array, bow: float, size: tuple[int, int]) -> Array:
    """Pixels (n, 2) of places (n, 2) in the straight picture."""
    square = (flat**2).sum(axis=1, keepdims=True)
    pixels: Array = flat * (1.0 + bow * square) * reach(size) + np.array(size) / 2.0
    return pixels


def straightened(pixels: Array, bow: float, size: tuple[int, int]) -> Array:
    """Places (n, 2) in the straight picture of pixels (n, 2): the inverse of ``bent``, by Newton's steps."""
    away = (pixels - np.array(size) / 2.0) / reach(size)
    outer = np.hypot(away[:, 0], away[:, 1])
    radius = outer.copy()
    for _ in range(NEWTON_STEPS):
        radius -= (radius * (1.0 + bow * radius**2) - outer) / (1.0 + 3.0 * bow * radius**2)
    flat: Array = away / (1.0 + bow * radius**2)[:, None]
    return flat


def view_of_corners(corners: Array, sheet_mm: Point, size: tuple[int, int]) -> View:
    """The view that puts the sheet's corners (4, 2), as ``sheet_corners`` orders them, at pixels, without bow.

    Eight linear equations for the eight free numbers of the matrix.
    """
    flat = straightened(corners, 0.0, size)
    rows = []
    for (x, y), (u, v) in zip(sheet_corners(sheet_mm), flat, strict=True):
        rows += [[x, y, 1, 0, 0, 0, -u * x, -u * y], [0, 0, 0, x, y, 1, -v * x, -v * y]]
    found = np.linalg.solve(np.array(rows), flat.ravel())
    return View(plane=(*(float(f) for f in found), 1.0), bow=0.0, size=size)


def sheet_corners(sheet_mm: Point) -> Array:
    """The sheet's corners (4, 2): lower left, lower right, upper right, upper left."""
    corners: Array = np.array([[-0.5, -0.5], [0.5, -0.5], [0.5, 0.5], [-0.5, 0.5]]) * np.array(sheet_mm)
    return corners


def pixels_per_mm(view: View, points: Array) -> Array:
    """How many pixels a mm takes at points on the sheet (n, 2): (n,), the root of how areas grow."""
    step = 0.5
    across = in_picture(view, points + [step, 0.0]) - in_picture(view, points - [step, 0.0])
    along = in_picture(view, points + [0.0, step]) - in_picture(view, points - [0.0, step])
    grown: Array = np.sqrt(np.abs(across[:, 0] * along[:, 1] - across[:, 1] * along[:, 0])) / (2.0 * step)
    return grown
