"""The sheet laid flat: a small picture of it as if seen from straight above."""

from __future__ import annotations

import math
from dataclasses import dataclass

import cv2
import numpy as np
from numpy.typing import NDArray

from foldproof.geometry.plane import Array, Point
from foldproof.outlines.photograph.decoding import Bytes, Picture
from foldproof.outlines.photograph.light import Field
from foldproof.outlines.photograph.sheet import Sheet
from foldproof.outlines.photograph.sheet_edges import sampled
from foldproof.outlines.photograph.view import in_picture, pixels_per_mm

Mask = NDArray[np.uint8]  # 0 or 1

MOST_PER_MM = 3.0  # cells of the flat picture to the mm: enough to see what lies there
WIDE_BLUR, COARSE_BLUR = 4.0, 2.0  # in cells: a wider blur is made at half the size; what is filled in is blurred so
SMALLEST = 8  # cells: a field is halved down to this
TRUSTED_PART, LEAST_PART = 0.1, 1e-4  # of a cell's surroundings that are known: enough to go by, and none to speak of
NODES_EVERY = 8  # where a cell comes from changes evenly, so it is worked this far apart and filled in between


@dataclass(frozen=True, slots=True, kw_only=True)
class Flat:
    """The sheet as cells (h, w, 3), its top row first. ``per_mm``: cells to the mm."""

    cells: Bytes
    per_mm: float
    sheet_mm: Point


def laid_flat(picture: Picture, sheet: Sheet) -> Flat:
    """The sheet in a picture, each cell the mean of about the pixels it covers."""
    native = float(pixels_per_mm(sheet.view, np.zeros((1, 2)))[0])
    per_mm = min(MOST_PER_MM, native)
    shrink = max(1, int(native / per_mm))
    pixels = picture.pixels
    if shrink > 1:
        size = (math.ceil(pixels.shape[1] / shrink), math.ceil(pixels.shape[0] / shrink))
        pixels = np.asarray(cv2.resize(pixels, size, interpolation=cv2.INTER_AREA), np.uint8)
    scale = np.array([pixels.shape[1] / picture.pixels.shape[1], pixels.shape[0] / picture.pixels.shape[0]])
    columns, rows = (max(NODES_EVERY, math.ceil(length * per_mm)) for length in sheet.sheet_mm)
    nodes_x, nodes_y = math.ceil(columns / NODES_EVERY), math.ceil(rows / NODES_EVERY)
    x, y = np.meshgrid((np.arange(nodes_x) + 0.5) * NODES_EVERY, (np.arange(nodes_y) + 0.5) * NODES_EVERY)
    at = in_picture(sheet.view, _mm(np.column_stack((x.ravel(), y.ravel())), per_mm, sheet.sheet_mm)) * scale
    whole = (nodes_x * NODES_EVERY, nodes_y * NODES_EVERY)
    grown = cv2.resize(_grown(at.reshape(nodes_y, nodes_x, 2)), None, fx=NODES_EVERY, fy=NODES_EVERY)
    place = np.asarray(grown, np.float64)
    inner = place[NODES_EVERY : NODES_EVERY + whole[1], NODES_EVERY : NODES_EVERY + whole[0]][:rows, :columns]
    cells = sampled(pixels, inner)
    return Flat(cells=cells, per_mm=per_mm, sheet_mm=sheet.sheet_mm)


def _grown(nodes: Array) -> Field:
    """One more node on every side, going on as the last two do: filling in must not stop at the outermost nodes."""
    across = np.concatenate((2 * nodes[:, :1] - nodes[:, 1:2], nodes, 2 * nodes[:, -1:] - nodes[:, -2:-1]), axis=1)
    return np.concatenate((2 * across[:1] - across[1:2], across, 2 * across[-1:] - across[-2:-1])).astype(np.float32)


def _mm(cells: Array, per_mm: float, sheet_mm: Point) -> Array:
    found: Array = cells / per_mm * [1.0, -1.0] + np.array([-sheet_mm[0], sheet_mm[1]]) / 2.0
    return found


def mm_of(flat: Flat, cells: Array) -> Array:
    """Points on the sheet (n, 2) in mm, of places (n, 2) in cells from the flat picture's top left corner."""
    return _mm(cells, flat.per_mm, flat.sheet_mm)


def cells_of(flat: Flat, points: Array) -> Array:
    """Places (n, 2) in cells from the flat picture's top left corner, of points on the sheet (n, 2) in mm."""
    away = (points - np.array([-flat.sheet_mm[0], flat.sheet_mm[1]]) / 2.0) * [1.0, -1.0]
    found: Array = away * flat.per_mm
    return found


def at_points(flat: Flat, field: Field, points: Array) -> Array:
    """A field over the flat picture (h, w, 3) at points on the sheet (n, 2) in mm: (n, 3)."""
    place = (cells_of(flat, points) - 0.5).astype(np.float32)
    x, y = np.ascontiguousarray(place[None, :, 0]), np.ascontiguousarray(place[None, :, 1])
    found = cv2.remap(field, x, y, cv2.INTER_LINEAR, borderMode=cv2.BORDER_REPLICATE)
    return np.asarray(found[0], np.float64)


def filled_in(field: Field, known: Mask, blur_cells: float) -> Field:
    """A field (h, w, 3) that is ``known`` in some cells, evened over about ``blur_cells`` and filled in elsewhere.

    Means over known cells alone, in halving sizes: a cell without known ones near takes the next coarser mean.
    """
    weight = known.astype(np.float32)[..., None]
    return _evened(field * weight, weight, blur_cells)


def _evened(sums: Field, weight: Field, blur_cells: float) -> Field:
    wide = blur_cells > WIDE_BLUR
    small = min(sums.shape[:2]) < SMALLEST
    if not small:
        size = ((sums.shape[1] + 1) // 2, (sums.shape[0] + 1) // 2)
        half_sums = cv2.resize(sums, size, interpolation=cv2.INTER_AREA)
        half_weight = cv2.resize(weight[..., 0], size, interpolation=cv2.INTER_AREA)[..., None]
        coarse = _evened(np.asarray(half_sums), np.asarray(half_weight), blur_cells / 2.0 if wide else COARSE_BLUR)
        coarse = np.asarray(cv2.resize(coarse, (sums.shape[1], sums.shape[0]), interpolation=cv2.INTER_LINEAR))
    else:
        coarse = np.broadcast_to(sums.sum(axis=(0, 1)) / max(float(weight.sum()), LEAST_PART), sums.shape).astype(
            np.float32
        )
    if wide and not small:
        return coarse  # at this size the coarser one is as even as wanted
    blurred = cv2.GaussianBlur(sums, (0, 0), blur_cells)
    part = cv2.GaussianBlur(weight[..., 0], (0, 0), blur_cells)[..., None]
    trust = np.clip(part / TRUSTED_PART, 0.0, 1.0)
    found: Field = trust * blurred / np.maximum(part, LEAST_PART) + (1.0 - trust) * coarse
    return found
