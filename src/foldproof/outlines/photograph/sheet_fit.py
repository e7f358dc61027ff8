"""The sheet's place and the lens's bow from points along the four edges, by least squares."""

from __future__ import annotations

from dataclasses import dataclass

import numpy as np
from numpy.typing import NDArray

from foldproof.geometry.plane import Array, Point
from foldproof.outlines.photograph.view import View, matrix, straightened

ROUNDS = 12
LIKELY_BOW = 0.03  # the spread of bows to expect; lenses of telephones stay under 0.05
EVEN_MM = 0.02  # edges of paper are not straighter than this, so smaller misfits say nothing
MOST_BOW = 0.12  # far beyond any lens; beyond it straight lines could not be told from bent ones
WORST_CONDITION = 1e12  # of the equations: beyond it rounding takes over
FLATTEST = 1e-6  # a plane seen more nearly edge on than this is no sheet
WILD = 4.7  # points so many spreads off their edge count nothing (Tukey's weight at 95 % efficiency)
SPREAD_OF_MEDIAN = 1.4826  # from the median of sizes to the standard deviation of a normal spread


@dataclass(frozen=True, slots=True, kw_only=True)
class EdgeFit:
    """The view that fits best, and how far off each edge's points are (mm, inwards positive), in their order."""

    view: View
    off_mm: tuple[Array, ...]
    weights: tuple[Array, ...]


def fitted(view: View, sheet_mm: Point, sides: tuple[Array, ...], free_bow: bool = True) -> EdgeFit | None:
    """The view under which the points (n, 2) in pixels along each side lie on the sheet's straight sides.

    Sides in the order lower, right, upper, left. Nine numbers by Gauss-Newton steps: eight of the matrix from the
    straight picture back to the sheet, and the bow, which is told by how the four sides curve. Points far off their
    side count less, then nothing. None when the points do not tell the nine numbers.
    """
    pixels = np.concatenate(sides)
    which = np.repeat(np.arange(4), [len(side) for side in sides]).astype(np.int64)
    inverse = np.linalg.inv(matrix(view))
    back = np.asarray(inverse / inverse[2, 2], np.float64)
    bow = view.bow
    weights = np.ones(len(pixels))
    off, jacobian = _misfits(back, bow, view.size, pixels, which, sheet_mm)
    for _ in range(ROUNDS):
        spread = max(EVEN_MM, SPREAD_OF_MEDIAN * float(np.median(np.abs(off))))
        # By each side's own spread: a side that starts far off as a whole is brought near, not left out.
        own = [max(spread, SPREAD_OF_MEDIAN * float(np.median(np.abs(off[which == side])))) for side in range(4)]
        weights = np.clip(1.0 - (off / (WILD * np.array(own)[which])) ** 2, 0.0, 1.0) ** 2
        normal = (jacobian * weights[:, None]).T @ jacobian
        right = (jacobian * weights[:, None]).T @ off
        normal[8, 8] += (spread / LIKELY_BOW) ** 2
        right[8] += (spread / LIKELY_BOW) ** 2 * bow
        if not free_bow:
            normal[8, :8] = normal[:8, 8] = right[8] = 0.0
        step = _solved(normal, right)
        if step is None:
            return None
        back = back - np.append(step[:8], 0.0).reshape(3, 3)
        bow = float(np.clip(bow - step[8], -MOST_BOW, MOST_BOW))
        off, jacobian = _misfits(back, bow, view.size, pixels, which, sheet_mm)
    if not _is_a_view(back):
        return None
    plane = np.linalg.inv(back)
    plane = plane / plane[2, 2]
    found = View(plane=tuple(float(p) for p in plane.ravel()), bow=bow, size=view.size)
    return EdgeFit(
        view=found,
        off_mm=tuple(off[which == side] for side in range(4)),
        weights=tuple(weights[which == side] for side in range(4)),
    )


def _solved(normal: Array, right: Array) -> Array | None:
    """The solution of nine equations of very unlike size, or None where they have none to rely on."""
    size = np.diag(normal)
    if not np.all(size > 0.0):
        return None
    scale = np.sqrt(size)
    even = normal / np.outer(scale, scale)
    if not np.all(np.isfinite(even)) or np.linalg.cond(even) > WORST_CONDITION:
        return None
    found: Array = np.linalg.solve(even, right / scale) / scale
    return found


def _is_a_view(back: Array) -> bool:
    """Whether all of the picture looks at one side of the plane, and the plane is not seen edge on."""
    corners = np.array([[x, y, 1.0] for x in (-1.0, 1.0) for y in (-1.0, 1.0)])
    size = np.linalg.norm(back, axis=1, keepdims=True)
    turn = np.linalg.det(back / size)
    return bool(np.all(corners @ back[2] > 0.0) and abs(turn) > FLATTEST)


def _misfits(
    back: Array, bow: float, size: tuple[int, int], pixels: Array, which: NDArray[np.int64], sheet_mm: Point
) -> tuple[Array, Array]:
    """How far in mm each point is inside its side (n,), and how that changes with the nine numbers (n, 9)."""
    flat = straightened(pixels, bow, size)
    seen = np.column_stack((flat, np.ones(len(flat))))
    under = seen @ back[2]
    axis = np.where(which % 2 == 0, 1, 0)
    sign = np.where((which == 0) | (which == 3), 1.0, -1.0)
    along = np.where(axis[:, None] == 0, back[0], back[1])
    value = (seen * along).sum(axis=1) / under
    off = sign * value + np.asarray(sheet_mm)[axis] / 2.0
    jacobian = np.zeros((len(pixels), 9))
    over = seen / under[:, None]
    for row in (0, 1):
        here = axis == row
        jacobian[here, 3 * row : 3 * row + 3] = over[here]
    jacobian[:, 6:8] = -value[:, None] * over[:, :2]
    # r (1 + bow r^2) stays, so r moves by -r^3 / (1 + 3 bow r^2) for each unit of bow.
    square = (flat**2).sum(axis=1)
    moved = -flat * (square / (1.0 + 3.0 * bow * square))[:, None]
    slope = (along[:, :2] - value[:, None] * back[2, :2]) / under[:, None]
    jacobian[:, 8] = (slope * moved).sum(axis=1)
    return off, jacobian * sign[:, None]
