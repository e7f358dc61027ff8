"""Whether something straight lies over a whole side of the sheet: its edge is then taken for the sheet's."""

from __future__ import annotations

import numpy as np

from foldproof.geometry.plane import Array, Point
from foldproof.outlines.photograph.decoding import Bytes
from foldproof.outlines.photograph.light import FULL, Light
from foldproof.outlines.photograph.sheet_edges import sampled
from foldproof.outlines.photograph.view import View, in_picture, sheet_corners

BEYOND_MM = np.linspace(3.0, 12.0, 19)  # of a corner: a sheet's own edge has ended here, a ruler's goes on
BESIDE_MM = np.array([1.2, 2.4, 4.0, 6.0])  # off the edge, beyond what blur mixes: a line on a cutting mat is narrower
LEAST_STEP = 0.10  # in written value 0 to 1: wood's grain has fainter ones
SAME_SHARE = 0.85  # of the places beyond a corner where that step is seen
SAME_COLOUR = 0.4  # of that step: what lies along the side has its own colour before and after the corner


def covered_side(pixels: Bytes, view: View, sheet_mm: Point) -> bool:
    """Whether the edge along any side goes straight on beyond both of its corners, with the same thing beside it."""
    corners = sheet_corners(sheet_mm)
    for side in range(4):
        start, end = corners[side], corners[(side + 1) % 4]
        if _goes_on(pixels, view, start, end) and _goes_on(pixels, view, end, start):
            return True
    return False


def _goes_on(pixels: Bytes, view: View, start: Array, end: Array) -> bool:
    """Whether the edge from the start to the end goes on beyond the end."""
    ahead = (end - start) / np.hypot(*(end - start))
    # The sheet's middle is the origin, so the way from a side's middle to it leads inwards.
    inward = -(start + end) / np.hypot(*(start + end))
    beyond = end + BEYOND_MM[:, None] * ahead
    seen = [_beside(pixels, view, beyond, inward * sign) for sign in (1.0, -1.0)]
    before = _beside(pixels, view, end - BEYOND_MM[:, None] * ahead, -inward)
    if seen[0] is None or seen[1] is None or before is None:
        return False
    step = seen[0] - seen[1]
    usual = np.median(step, axis=0)
    size = np.linalg.norm(usual, axis=1)
    if size.min() < LEAST_STEP:
        return False
    same = (step * usual).sum(axis=2) > 0.5 * size**2
    other = np.linalg.norm(np.median(seen[1] - before, axis=0), axis=1)
    return bool(same.mean() > SAME_SHARE and np.all(other < SAME_COLOUR * size))


def _beside(pixels: Bytes, view: View, places: Array, way: Array) -> Light | None:
    """The colours as written, 0 to 1, beside places on the sheet's plane (n, 2), at each distance off the edge:
    (n, k, 3). None where some are outside of the picture."""
    at = in_picture(view, (places[:, None] + BESIDE_MM[:, None] * way).reshape(-1, 2))
    if np.any(at < 1.0) or np.any(at > np.array(view.size) - 1.0):
        return None
    found: Light = sampled(pixels, at.reshape(len(places), -1, 2)) / FULL
    return found
