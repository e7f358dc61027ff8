"""Whether a sheet seen askew can have the size it is said to have."""

from __future__ import annotations

import numpy as np

from foldproof.geometry.plane import Array, Point
from foldproof.outlines.photograph.view import View, matrix, reach

USUAL_FOCAL, FOCAL_SPREAD = 0.78, 0.35  # a telephone's main camera (28 mm on film of 36 mm), and a share up or down
TRUSTED = 0.004  # how near to square and to its proportion a sheet is found
FOCAL_LENGTHS = np.geomspace(0.5, 4.0, 61)  # in long sides of the picture: from wide to long lenses of telephones
SQUARE = 0.01  # cosine of the sheet's corner under a focal length that is still believed


def off_proportion(view: View) -> float:
    """By which share the sheet looks wider (+) or narrower (-) for its height than it is said to be; 0: it fits.

    Under a focal length f the two sides of the sheet have the directions K^-1 h1 and K^-1 h2 in space, h1 and h2
    being the plane's columns and K = diag(f, f, 1); they must be square to each other and, if the size is right,
    equally long (Zhang and He, "Whiteboard scanning and image enhancement", 2007). f is not known, so of all likely
    ones that make the corner square, the kindest counts.
    """
    one, other = matrix(view)[:, 0], matrix(view)[:, 1]
    scale = _scales(view)
    a, b = scale * one, scale * other
    long_a, long_b = np.linalg.norm(a, axis=1), np.linalg.norm(b, axis=1)
    cosine = np.abs((a * b).sum(axis=1)) / (long_a * long_b)
    believed = cosine <= cosine.min() + SQUARE
    off: Array = np.log(long_a / long_b)[believed]
    if off.min() <= 0.0 <= off.max():
        return 0.0
    return float(np.expm1(off[np.argmin(np.abs(off))]))


def camera_over(view: View) -> tuple[Point, float]:
    """Over which point of the sheet the camera stood, and how high above it, in mm.

    The focal length is the one that agrees best with a square corner, the sheet's proportion and what is usual;
    seen from straight above, only what is usual tells it.
    """
    plane, scale = matrix(view), _scales(view)
    a, b = scale * plane[:, 0], scale * plane[:, 1]
    best = int(np.argmin(_against(a, b)))
    size = 0.5 * float(np.linalg.norm(a[best]) + np.linalg.norm(b[best]))
    x, y, away = a[best] / size, b[best] / size, scale[best] * plane[:, 2] / size
    up = np.cross(x, y)
    return (-float(x @ away), -float(y @ away)), abs(float(up @ away)) / float(np.linalg.norm(up))


def unlikely(view: View) -> float:
    """What speaks against a view, as the square of so many spreads: corners not square, sides not as long as they are
    said to be, and a focal length that few telephones have. Of all focal lengths the kindest counts."""
    scale = _scales(view)
    return float(_against(scale * matrix(view)[:, 0], scale * matrix(view)[:, 1]).min())


def _scales(view: View) -> Array:
    """For each focal length, by what the straight picture's (x, y, 1) is multiplied to be a direction in space."""
    focal = FOCAL_LENGTHS * max(view.size) / reach(view.size)
    return np.stack((1.0 / focal, 1.0 / focal, np.ones_like(focal)), axis=1)


def _against(a: Array, b: Array) -> Array:
    """For each focal length, what speaks against the sheet's sides having the directions a and b (k, 3)."""
    long_a, long_b = np.linalg.norm(a, axis=1), np.linalg.norm(b, axis=1)
    square = ((a * b).sum(axis=1) / (long_a * long_b) / TRUSTED) ** 2 + (np.log(long_a / long_b) / TRUSTED) ** 2
    found: Array = square + (np.log(FOCAL_LENGTHS / USUAL_FOCAL) / FOCAL_SPREAD) ** 2
    return found


def turned_sheet(view: View, sheet_mm: Point) -> tuple[View, Point]:
    """The same picture with the sheet said to lie the other way: its width along its height."""
    width, height = sheet_mm
    plane = matrix(view) * np.array([width / height, height / width, 1.0])
    return View(plane=tuple(float(p) for p in plane.ravel()), bow=view.bow, size=view.size), (height, width)
