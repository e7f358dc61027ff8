"""The shape's edge finer than a pixel: where, across it, the light is halfway between the sheet's and the shape's."""

from __future__ import annotations

import math
from dataclasses import dataclass

import cv2
import numpy as np
import shapely

from foldproof.geometry.outline import after_each, wound_anticlockwise
from foldproof.geometry.plane import Array
from foldproof.outlines.photograph.corners import with_corners
from foldproof.outlines.photograph.decoding import Picture
from foldproof.outlines.photograph.flat import Flat, at_points, mm_of
from foldproof.outlines.photograph.light import BURNT, Field, along, light_of
from foldproof.outlines.photograph.shape import CLEAR_HUE, LEAST_SQUARE, Found, hue_direction
from foldproof.outlines.photograph.sheet import Sheet
from foldproof.outlines.photograph.sheet_edges import sampled
from foldproof.outlines.photograph.view import in_picture

EVERY_MM = 0.25  # places along the edge
FIRST_REACH_MM = 1.5  # how far the flat picture's edge may be off: about a cast shadow's width
STEP_BAND_MM = 0.45  # light is averaged over this on each side to find the step
LEAST_BLUR_PX = 0.6  # a pixel's own width
LEAST_LIGHT = 1e-3  # of full light: a smaller step is none
ALONG_MM = 0.6  # neighbours along the edge have their step together
WINDOW_BLURS = (3.2, 2.2, 1.6)  # looked at on either side of an edge: windows brought onto it, each time nearer
BAND_BLURS = 1.4  # beyond that, light on either side is averaged over this: the same on both, so the middle stays
QUARTERS = 1.349  # between the quarters of a normal spread, in standard deviations
EVEN_MM = 0.3  # noise of single places is evened over this along the edge
SHADE_MM, SHADE_PX = 0.12, 0.8  # hue and light put the edge further apart: the sheet is in shadow beside the shape
SHADE_ALONG_MM = 2.0  # shadows go along an edge for some mm
SAMPLES_PER_PX = 1.6
CORNER_REACH_MM = 4.0  # how far a corner's light is looked for


@dataclass(frozen=True, slots=True, kw_only=True)
class Edge:
    """The edge as points (n, 2) in mm, anticlockwise, evenly spaced, and at each place of about the same spacing (m,):

    ``stray_mm``: how far single places stray from their neighbours; ``unsure_mm``: how far a wider look puts the edge
    elsewhere, as a shadow beside it makes it; ``step``: how much of the usual step of light there is; ``burnt``: places
    with the picture at the limit of what it can hold just outside. ``blur_mm``: the spread of the edge.
    """

    points: Array
    stray_mm: Array
    unsure_mm: Array
    step: Array
    burnt: Array
    blur_mm: float


@dataclass(frozen=True, slots=True, kw_only=True)
class _Look:
    """One look at the edge through windows on an outline: where it is outwards of the outline (n,), and the rest."""

    moved_mm: Array
    even_mm: Array
    step: Array
    burnt: Array
    blur_mm: float


def traced_edge(picture: Picture, sheet: Sheet, flat: Flat, found: Found, per_mm: float) -> Edge:
    """The edge of the shape that was found, from the picture itself. ``per_mm``: pixels to the mm there."""
    points = _evenly(_smoothed(_coarse(flat, found), 0.5), EVERY_MM)
    stepped = _simple(_stepped(picture, sheet, flat, found, per_mm, points))
    points = _evenly(_smoothed(_evenly(stepped, EVERY_MM), 0.35), EVERY_MM)
    blur_mm = max(LEAST_BLUR_PX / per_mm, sheet.blur_px / per_mm)
    look = None
    for blurs in WINDOW_BLURS:
        outward = outward_of(points)
        look = _look(picture, sheet, per_mm, points, outward, blur_mm, blurs)
        before, points = points, points + look.even_mm[:, None] * outward
        blur_mm = look.blur_mm
        points = _evenly(_simple(points), EVERY_MM)
    assert look is not None, "there is at least one window"
    wide = _look(picture, sheet, per_mm, before, outward, blur_mm, WINDOW_BLURS[0])
    return Edge(
        points=points,
        stray_mm=np.abs(look.moved_mm - look.even_mm),
        unsure_mm=np.abs(wide.even_mm - look.even_mm),
        step=look.step,
        burnt=look.burnt,
        blur_mm=blur_mm,
    )


def cornered(
    picture: Picture, sheet: Sheet, flat: Flat, found: Found, per_mm: float, edge: Edge
) -> tuple[Array, float]:
    """The edge's points (n, 2) with the sharp corners that blur rounds off put back, and by how many blurs the
    sharpest corner that is left is rounded."""
    fine = 1.0 / (SAMPLES_PER_PX * per_mm)
    offsets = np.arange(math.ceil(CORNER_REACH_MM / fine) + 1) * fine

    def edge_at(corner: Array, inward: Array, shape_inside: bool) -> float:
        light, _ = _lines_across(picture, sheet, corner[None], inward[None], offsets)
        out = -inward if shape_inside else inward
        sheet_light, shape_light = _beside(flat, found, corner[None], out[None])
        step = shape_light - sheet_light
        # By all the light: hues are stored coarsely in most pictures, too coarsely for a corner.
        share = along(light[0] - sheet_light, step) / max(float(along(step, step)[0]), LEAST_SQUARE)
        risen = np.maximum.accumulate(share if shape_inside else 1.0 - share)
        return float(np.interp(0.5, risen, offsets)) if risen[-1] > 0.5 else CORNER_REACH_MM

    return with_corners(edge.points, _spacing(edge.points), edge.blur_mm, edge_at)


def _coarse(flat: Flat, found: Found) -> Array:
    outlines, _ = cv2.findContours(found.mask, cv2.RETR_EXTERNAL, cv2.CHAIN_APPROX_NONE)
    cells = np.asarray(max(outlines, key=cv2.contourArea), np.float64)[:, 0, :] + 0.5
    return wound_anticlockwise(mm_of(flat, cells))


def _simple(points: Array) -> Array:
    """The outline without the loops it makes where places were moved past one another."""
    area = shapely.Polygon(points)
    if area.is_valid:
        return points
    parts = shapely.get_parts(shapely.make_valid(area))
    largest = max((part for part in parts if part.geom_type == "Polygon"), key=lambda part: float(part.area))
    return wound_anticlockwise(shapely.get_coordinates(largest.exterior)[:-1])


def _evenly(points: Array, every_mm: float) -> Array:
    """A closed outline at even distances."""
    closed = np.concatenate((points, points[:1]))
    along = np.concatenate(([0.0], np.cumsum(np.hypot(*np.diff(closed, axis=0).T))))
    count = max(16, round(float(along[-1]) / every_mm))
    at = np.arange(count) * (along[-1] / count)
    return np.column_stack([np.interp(at, along, closed[:, axis]) for axis in (0, 1)])


def _smoothed(points: Array, spread_mm: float) -> Array:
    """A closed outline at even distances, evened along itself."""
    return np.column_stack([evened(points[:, axis], spread_mm, _spacing(points)) for axis in (0, 1)])


def _spacing(points: Array) -> float:
    return float(np.hypot(*(after_each(points) - points).T).mean())


def evened(values: Array, spread_mm: float, every_mm: float) -> Array:
    """Values round a closed outline (n,) or (n, m), evened by a bell of a spread in mm."""
    reach = max(1, math.ceil(3.0 * spread_mm / every_mm))
    offsets = np.arange(-reach, reach + 1)
    bell = np.exp(-0.5 * (offsets * every_mm / spread_mm) ** 2)
    bell /= bell.sum()
    total = np.zeros_like(values)
    for offset, weight in zip(offsets, bell, strict=True):
        total += weight * np.roll(values, -offset, axis=0)
    return total


def outward_of(points: Array) -> Array:
    """Unit directions (n, 2) out of an anticlockwise outline."""
    ahead = after_each(points) - np.roll(points, 1, axis=0)
    out: Array = np.column_stack((ahead[:, 1], -ahead[:, 0])) / np.hypot(ahead[:, 0], ahead[:, 1])[:, None]
    return out


def _lines_across(
    picture: Picture, sheet: Sheet, points: Array, outward: Array, offsets: Array
) -> tuple[Field, Array]:
    """Light along lines across the edge (n, k, 3), and which places are burnt out (n, k)."""
    where = points[:, None, :] + offsets[None, :, None] * outward[:, None, :]
    pixels = in_picture(sheet.view, where.reshape(-1, 2)).reshape(where.shape)
    seen = sampled(picture.pixels, pixels)
    return light_of(seen), (seen >= BURNT).all(axis=2)


def _stepped(
    picture: Picture, sheet: Sheet, flat: Flat, found: Found, per_mm: float, points: Array
) -> Array:
    """The outline moved to the greatest step of light near it."""
    outward = outward_of(points)
    fine = 1.0 / (SAMPLES_PER_PX * per_mm)
    reach = FIRST_REACH_MM + STEP_BAND_MM
    offsets = np.arange(-math.ceil(reach / fine), math.ceil(reach / fine) + 1) * fine
    light, _ = _lines_across(picture, sheet, points, outward, offsets)
    share = _by_sheet_and_shape(flat, found, points, outward, light)
    band = max(1, round(float(np.clip(2.0 * sheet.blur_px / per_mm, 0.15, STEP_BAND_MM)) / fine))
    sums = np.cumsum(np.concatenate((np.zeros((len(share), 1)), np.clip(share, -0.5, 1.5)), axis=1), axis=1)
    mean = (sums[:, band:] - sums[:, :-band]) / band
    step = mean[:, :-band] - mean[:, band:]
    step = evened(step, ALONG_MM, EVERY_MM)
    chosen = step.argmax(axis=1)
    moved = offsets[chosen + band] - 0.5 * fine
    return points + evened(moved, 0.25, EVERY_MM)[:, None] * outward


def _by_sheet_and_shape(flat: Flat, found: Found, points: Array, outward: Array, light: Field) -> Array:
    """How far each place is from the sheet's light, 0, to the shape's, 1 (n, k), by hue where the hues differ."""
    sheet_light, shape_light = _beside(flat, found, points, outward)
    hue, strength = hue_direction(sheet_light, shape_light)
    step = shape_light - sheet_light
    plain = step / np.maximum(along(step, step), LEAST_SQUARE)[:, None]
    by_plain = along(light - sheet_light[:, None], plain[:, None])
    by_hue = along(light, hue[:, None])
    return np.where((strength > CLEAR_HUE)[:, None], by_hue, by_plain)


def _beside(flat: Flat, found: Found, points: Array, outward: Array) -> tuple[Array, Array]:
    sheet_light = at_points(flat, found.sheet_light, points + 0.5 * outward)
    shape_light = at_points(flat, found.shape_light, points - 0.8 * outward)
    return sheet_light, shape_light


def _look(
    picture: Picture,
    sheet: Sheet,
    per_mm: float,
    points: Array,
    outward: Array,
    blur_mm: float,
    window_blurs: float,
) -> _Look:
    """Where the edge is: in windows as wide as the blur needs, by the light just inside and just outside of them."""
    fine = 1.0 / (SAMPLES_PER_PX * per_mm)
    half = max(2, math.ceil(window_blurs * blur_mm / fine))
    band = max(2, math.ceil(BAND_BLURS * blur_mm / fine))
    offsets = np.arange(-half - band, half + band + 1) * fine
    light, burnt = _lines_across(picture, sheet, points, outward, offsets)
    inside = evened(light[:, :band].mean(axis=1).astype(np.float64), ALONG_MM, EVERY_MM)
    outside = evened(light[:, -band:].mean(axis=1).astype(np.float64), ALONG_MM, EVERY_MM)
    step = inside - outside
    size = np.linalg.norm(step, axis=1)
    direction = step / np.maximum(size, LEAST_LIGHT)[:, None] ** 2
    share = along(light - outside[:, None], direction[:, None])
    moved = _moved(share, half, band, fine)
    # By hue, a shadow beside the shape does not count. Light is taken as its root, nearly as it is stored: hues are
    # stored in coarser pixels than light, and evenly about an edge only as they are stored.
    hue, strength = hue_direction(np.sqrt(outside), np.sqrt(inside))
    hued = _moved(along(np.sqrt(light), hue[:, None]), half, band, fine)
    by_hue = np.where(strength > CLEAR_HUE, hued, moved)
    apart = evened(np.clip(moved - by_hue, -1.0, 1.0), SHADE_ALONG_MM, EVERY_MM)
    moved = np.where(np.abs(apart) > max(SHADE_MM, SHADE_PX / per_mm, blur_mm), by_hue, moved)
    moved = np.clip(moved, -half * fine, half * fine)
    return _Look(
        moved_mm=moved,
        even_mm=evened(_middle_of_five(moved), EVEN_MM, EVERY_MM),
        step=size / max(float(np.median(size)), LEAST_LIGHT),
        burnt=burnt[:, -band:].mean(axis=1) > 0.5,
        blur_mm=_blur(share, fine, blur_mm),
    )


def _moved(share: Array, half: int, band: int, fine: float) -> Array:
    """How far out the edge is from the middle of each line, from how much of the window is shape."""
    window = np.clip(share[:, band : band + 2 * half + 1], -0.3, 1.3)
    found: Array = (window.sum(axis=1) - (half + 0.5)) * fine
    return found


def _middle_of_five(values: Array) -> Array:
    near = np.stack([np.roll(values, shift) for shift in (-2, -1, 0, 1, 2)])
    found: Array = np.median(near, axis=0)
    return found


def _blur(share: Array, fine: float, before: float) -> float:
    """The spread of the edge in mm, from the usual line across it."""
    usual = np.median(share, axis=0)[::-1]
    rise = np.maximum(np.diff(usual), 0.0)
    total = float(rise.sum())
    if total < 0.5:
        return before
    risen = np.cumsum(rise) / total
    low, high = np.interp([0.25, 0.75], risen, np.arange(len(rise)))
    return float(max(fine, (high - low) * fine / QUARTERS))
