"""The straightforward way from a photograph to an outline: a threshold, contours, and the sheet's four corners.

The sheet is the largest thing brighter than Otsu's threshold of the whole picture, its corners those of the polygon
round it; the shape is the largest thing darker than Otsu's threshold of the sheet laid flat. No lens, no light.
"""

from __future__ import annotations

import cv2
import numpy as np

from benchmarks.photograph_scenes import Array, Bytes, Field

PER_MM = 10.0
CORNERS = 4
BENT_SHARE = 0.02  # of its length, by which a polygon may stray from a contour


def plain_outline(data: bytes, sheet_mm: tuple[float, float]) -> Array | None:
    """Points (n, 2) in mm, y up, or None where the sheet or the shape is not found. An upright JPEG or PNG file."""
    picture = cv2.imdecode(np.frombuffer(data, np.uint8), cv2.IMREAD_COLOR)
    if picture is None:
        return None
    grey = np.asarray(cv2.cvtColor(picture, cv2.COLOR_BGR2GRAY), np.uint8)
    sheet = _largest(_bright(grey))
    if sheet is None:
        return None
    corners = cv2.approxPolyDP(sheet, BENT_SHARE * cv2.arcLength(sheet, True), True)[:, 0].astype(np.float32)
    if len(corners) != CORNERS:
        return None
    sides = np.hypot(*(np.roll(corners, -1, axis=0) - corners).T)
    short, long = sorted(sheet_mm)
    across, along = (long, short) if sides[0] + sides[2] > sides[1] + sides[3] else (short, long)
    size = (round(across * PER_MM), round(along * PER_MM))
    goal = np.array([[0, 0], [size[0], 0], [size[0], size[1]], [0, size[1]]], np.float32)
    flat = np.asarray(cv2.warpPerspective(grey, cv2.getPerspectiveTransform(corners, goal), size), np.uint8)
    edge = round(2.0 * PER_MM)
    inner = flat[edge:-edge, edge:-edge]
    shape = _largest(np.asarray(255 - _bright(inner), np.uint8))
    return None if shape is None else _upright(shape[:, 0].astype(np.float64), corners)


def _upright(points: Array, corners: Field) -> Array:
    """In mm with y up; contours may go round the sheet either way, which mirrors it."""
    ahead = np.roll(corners, -1, axis=0)
    clockwise = float((corners[:, 0] * ahead[:, 1] - ahead[:, 0] * corners[:, 1]).sum()) > 0.0
    found: Array = points / PER_MM * [1.0, -1.0 if clockwise else 1.0]
    return found


def _bright(grey: Bytes) -> Bytes:
    return np.asarray(cv2.threshold(grey, 0, 255, cv2.THRESH_BINARY | cv2.THRESH_OTSU)[1], np.uint8)


def _largest(mask: Bytes) -> Bytes | None:
    found, _ = cv2.findContours(mask, cv2.RETR_EXTERNAL, cv2.CHAIN_APPROX_NONE)
    return np.asarray(max(found, key=cv2.contourArea)) if found else None
