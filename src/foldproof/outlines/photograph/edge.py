"""The shape's edge finer than a pixel: where, across it, the light is halfway between the sheet's and the shape's.

First the outline is moved to the greatest step of light near it; there, a shade of the sheet is told from the shape by
its hue. Then windows as wide as the blur are laid across it, again and again, and the outline moved to where half of
each window is shape.
"""

from __future__ import annotations

import math
from dataclasses import dataclass

import cv2
import numpy as np

from foldproof.geometry.outline import Flags, wound_anticlockwise
from foldproof.geometry.plane import Array
from foldproof.outlines.photograph.blur import spread_of_step
from foldproof.outlines.photograph.corners import with_corners
from foldproof.outlines.photograph.decoding import Bytes
from foldproof.outlines.photograph.flat import Flat, at_points, mm_of
from foldproof.outlines.photograph.light import BURNT, Light, along, light_of
from foldproof.outlines.photograph.rings import evened, evenly, outward_of, spacing, untangled
from foldproof.outlines.photograph.shape import CLEAR_HUE, LEAST_SQUARE, Found, hue_direction, is_shade
from foldproof.outlines.photograph.sheet_edges import sampled
from foldproof.outlines.photograph.view import View, in_picture

EVERY_MM = 0.25  # places along the edge
SAMPLES_PER_PX = 1.6  # across it: more than two for each pixel tell nothing new
STAIRS_MM = 0.5  # the flat picture's cells are evened over this
FIRST_REACH_MM = 1.5  # how far the flat picture's edge may be off: about a cast shadow's width
STEP_MM, STEP_BLURS = (0.15, 0.45), 2.0  # light is averaged over so much on each side to find a step
STEPPED_MM = (0.25, 0.35)  # the places of the greatest step are evened over this, and the outline through them
LEAST_BLUR_PX = 0.6  # a pixel's own width
LEAST_LIGHT = 1e-3  # of full light: a smaller step is none
ALONG_MM = 0.6  # neighbours along the edge have their step together
WINDOW_BLURS = (3.2, 2.2, 1.6)  # looked at on either side of an edge: windows brought onto it, each time nearer
BAND_BLURS = 1.4  # beyond that, light is averaged over this: the same on both sides, so the middle stays
OVERSHOOT = 0.3  # of a step, by which sharpening in a telephone may overdo it
EVEN_MM = 0.3  # noise of single places is evened over this along the edge
SHADE_MM, SHADE_PX = 0.12, 0.8  # hue and all light put the edge further apart: the sheet beside it is in shadow
SHADE_ALONG_MM = 2.0  # shadows go along an edge for some mm
MOST_APART_MM = 1.0  # a place where they differ by more tells no more than that
SHEET_BESIDE_MM, SHAPE_BESIDE_MM = 0.5, 0.8  # off the edge, where the light of sheet and shape is taken
BURNT_BESIDE_MM = (0.4, 0.8, 1.3, 1.9)  # off the edge, where a reflection, whose own edge is soft, would be burnt out
OWN_HUE = 0.15  # of the brighter light: a shape that differs so much in hue is not like the sheet in shade
CORNER_REACH_MM = 4.0  # how far from a corner its light is looked for


@dataclass(frozen=True, slots=True, kw_only=True)
class Sight:
    """What an edge is traced from: the picture, how the sheet lies in it, and the shape as found on the flat sheet.

    ``per_mm``: pixels to the mm at the shape. ``blur_px``: how blurred the sheet's own edges are.
    """

    pixels: Bytes
    view: View
    flat: Flat
    found: Found
    per_mm: float
    blur_px: float

    @property
    def fine_mm(self) -> float:
        """Between samples across the edge."""
        return 1.0 / (SAMPLES_PER_PX * self.per_mm)


@dataclass(frozen=True, slots=True, kw_only=True)
class Edge:
    """The edge as points (n, 2) in mm, anticlockwise, evenly spaced, and at each place of about the same spacing (m,):

    ``stray_mm``: how far single places stray from their neighbours; ``unsure_mm``: how far a wider look puts the edge
    elsewhere, as a shadow beside it makes it; ``step``: how much of the usual step of light there is;
    ``foreign``: what is inside of it looks like the sheet in shade, though most of the shape does not;
    ``burnt_outside`` and ``burnt_inside``: whether the picture is at the limit of what it can hold beside the edge.
    ``blur_mm``: the spread of the edge.
    """

    points: Array
    stray_mm: Array
    unsure_mm: Array
    step: Array
    foreign: Flags
    burnt_outside: Flags
    burnt_inside: Flags
    blur_mm: float


@dataclass(frozen=True, slots=True, kw_only=True)
class _Look:
    """One look through windows on an outline: how far outwards of it the edge is, place by place and evened (n,)."""

    moved_mm: Array
    even_mm: Array
    step: Array
    blur_mm: float


def traced_edge(sight: Sight) -> Edge:
    """The edge of the shape that was found, from the picture itself."""
    points = evenly(_smoothed(_coarse(sight), STAIRS_MM), EVERY_MM)
    points = evenly(untangled(_stepped(sight, points)), EVERY_MM)
    points = evenly(_smoothed(points, STEPPED_MM[1]), EVERY_MM)
    blur_mm = max(LEAST_BLUR_PX, sight.blur_px) / sight.per_mm
    for window in WINDOW_BLURS:
        outward = outward_of(points)
        look = _look(sight, points, outward, blur_mm, window)
        before, blur_mm = points, look.blur_mm
        points = evenly(untangled(points + look.even_mm[:, None] * outward), EVERY_MM)
    wide = _look(sight, before, outward, blur_mm, WINDOW_BLURS[0])
    return Edge(
        points=points,
        stray_mm=np.abs(look.moved_mm - look.even_mm),
        unsure_mm=np.abs(wide.even_mm - look.even_mm),
        step=look.step,
        foreign=_foreign(sight, points),
        burnt_outside=_burnt_beside(sight, points, 1.0),
        burnt_inside=_burnt_beside(sight, points, -1.0),
        blur_mm=blur_mm,
    )


def cornered(sight: Sight, edge: Edge) -> tuple[Array, float]:
    """The edge's points (n, 2) with the sharp corners that blur rounds off put back; and by how many blurs the
    sharpest corner that is left may be rounded."""
    offsets = _offsets(0, math.ceil(CORNER_REACH_MM / sight.fine_mm), sight.fine_mm)

    def edge_at(corner: Array, inward: Array, shape_inside: bool) -> float:
        light = light_of(_across(sight, corner[None], inward[None], offsets))
        sheet_light, shape_light = _lights(sight, corner[None], -inward[None] if shape_inside else inward[None])
        step = shape_light - sheet_light
        # By all the light: hues are stored coarsely in most pictures, too coarsely for a corner.
        share = along(light[0] - sheet_light, step) / max(float(along(step, step)[0]), LEAST_SQUARE)
        risen = np.maximum.accumulate(share if shape_inside else 1.0 - share)
        return float(np.interp(0.5, risen, offsets)) if risen[-1] > 0.5 else CORNER_REACH_MM

    return with_corners(edge.points, spacing(edge.points), edge.blur_mm, edge_at)


def _coarse(sight: Sight) -> Array:
    """The outline of the shape's cells on the flat sheet (n, 2)."""
    outlines, _ = cv2.findContours(sight.found.mask, cv2.RETR_EXTERNAL, cv2.CHAIN_APPROX_NONE)
    cells = np.asarray(max(outlines, key=cv2.contourArea), np.float64)[:, 0, :] + 0.5
    return wound_anticlockwise(mm_of(sight.flat, cells))


def _smoothed(points: Array, spread_mm: float) -> Array:
    return evened(points, spread_mm, spacing(points))


def _offsets(first: int, last: int, fine_mm: float) -> Array:
    """Offsets in mm from the first to the last, a sample apart."""
    return np.arange(first, last + 1, dtype=np.float64) * fine_mm


def _across(sight: Sight, points: Array, ways: Array, offsets: Array) -> Bytes:
    """The picture's bytes (n, k, 3) at offsets (k,) in mm from points (n, 2) along ways (n, 2)."""
    where = points[:, None, :] + offsets[None, :, None] * ways[:, None, :]
    return sampled(sight.pixels, in_picture(sight.view, where.reshape(-1, 2)).reshape(where.shape))


def _lights(sight: Sight, points: Array, outward: Array) -> tuple[Array, Array]:
    """The light of the sheet and of the shape (n, 3) on either side of points on the edge."""
    sheet_light = at_points(sight.flat, sight.found.sheet_light, points + SHEET_BESIDE_MM * outward)
    shape_light = at_points(sight.flat, sight.found.shape_light, points - SHAPE_BESIDE_MM * outward)
    return sheet_light, shape_light


def _stepped(sight: Sight, points: Array) -> Array:
    """The outline moved to the greatest step of light near it."""
    outward, fine = outward_of(points), sight.fine_mm
    count = math.ceil((FIRST_REACH_MM + STEP_MM[1]) / fine)
    offsets = _offsets(-count, count, fine)
    share = np.clip(_shape_share(sight, points, outward, offsets), -0.5, 1.5)
    band = max(1, round(float(np.clip(STEP_BLURS * sight.blur_px / sight.per_mm, *STEP_MM)) / fine))
    sums = np.cumsum(np.concatenate((np.zeros((len(share), 1)), share), axis=1), axis=1)
    mean = (sums[:, band:] - sums[:, :-band]) / band
    step = evened(mean[:, :-band] - mean[:, band:], ALONG_MM, EVERY_MM)
    moved = offsets[step.argmax(axis=1) + band] - 0.5 * fine
    return points + evened(moved, STEPPED_MM[0], EVERY_MM)[:, None] * outward


def _shape_share(sight: Sight, points: Array, outward: Array, offsets: Array) -> Light:
    """How far each place across the edge is from the sheet's light, 0, to the shape's, 1 (n, k): by hue alone where
    the two differ in hue."""
    light = light_of(_across(sight, points, outward, offsets))
    sheet_light, shape_light = _lights(sight, points, outward)
    hue, strength = hue_direction(sheet_light, shape_light)
    step = shape_light - sheet_light
    plain = step / np.maximum(along(step, step), LEAST_SQUARE)[:, None]
    by_plain = along(light - sheet_light[:, None], plain[:, None])
    found: Light = np.where((strength > CLEAR_HUE)[:, None], along(light, hue[:, None]), by_plain)
    return found


def _look(sight: Sight, points: Array, outward: Array, blur_mm: float, window_blurs: float) -> _Look:
    """Where the edge is: in windows as wide as the blur needs, by the light just inside and just outside of them."""
    fine = sight.fine_mm
    half = max(2, math.ceil(window_blurs * blur_mm / fine))
    band = max(2, math.ceil(BAND_BLURS * blur_mm / fine))
    light = light_of(_across(sight, points, outward, _offsets(-half - band, half + band, fine)))
    inside = evened(light[:, :band].mean(axis=1).astype(np.float64), ALONG_MM, EVERY_MM)
    outside = evened(light[:, -band:].mean(axis=1).astype(np.float64), ALONG_MM, EVERY_MM)
    step = inside - outside
    size = np.linalg.norm(step, axis=1)
    direction = step / np.maximum(size, LEAST_LIGHT)[:, None] ** 2
    share = along(light - outside[:, None], direction[:, None])
    plain = _middle(share, half, band, fine)
    # By hue, a shadow beside the shape does not count. Light is taken as its root, nearly as it is stored: hues are
    # stored in coarser pixels than light, and evenly about an edge only as they are stored.
    hue, strength = hue_direction(np.sqrt(outside), np.sqrt(inside))
    hued = _middle(along(np.sqrt(light), hue[:, None]), half, band, fine)
    apart = np.where(strength > CLEAR_HUE, np.clip(plain - hued, -MOST_APART_MM, MOST_APART_MM), 0.0)
    shaded = np.abs(evened(apart, SHADE_ALONG_MM, EVERY_MM)) > max(SHADE_MM, SHADE_PX / sight.per_mm, blur_mm)
    moved = np.clip(np.where(shaded & (strength > CLEAR_HUE), hued, plain), -half * fine, half * fine)
    return _Look(
        moved_mm=moved,
        even_mm=evened(_middle_of_five(moved), EVEN_MM, EVERY_MM),
        step=size / max(float(np.median(size)), LEAST_LIGHT),
        blur_mm=_blur(share, fine, blur_mm),
    )


def _middle(share: Light, half: int, band: int, fine: float) -> Array:
    """How far out the edge is from the middle of each line, from how much of its window is shape."""
    window = np.clip(share[:, band : band + 2 * half + 1], -OVERSHOOT, 1.0 + OVERSHOOT)
    found: Array = (window.sum(axis=1) - (half + 0.5)) * fine
    return found


def _middle_of_five(values: Array) -> Array:
    near = np.stack([np.roll(values, shift) for shift in (-2, -1, 0, 1, 2)])
    found: Array = np.median(near, axis=0)
    return found


def _blur(share: Light, fine: float, before_mm: float) -> float:
    """The spread of the edge in mm, from the usual line across it; as before where that has no edge."""
    usual = np.median(share, axis=0)[::-1]
    if float(usual.max() - usual.min()) < 0.5:
        return before_mm
    return max(fine, spread_of_step(usual) * fine)


def _foreign(sight: Sight, points: Array) -> Flags:
    """Where a piece of shadow was taken for the shape (n,): its hue is the sheet's, and most of the shape's is not."""
    sheet_light, shape_light = _lights(sight, points, outward_of(points))
    strength = hue_direction(sheet_light, shape_light)[1]
    if float(np.median(strength)) < OWN_HUE:
        return np.zeros(len(points), bool)
    found: Flags = (strength < CLEAR_HUE) & is_shade(sheet_light, shape_light)
    return found


def _burnt_beside(sight: Sight, points: Array, side: float) -> Flags:
    """Where the picture is burnt out beside the edge (n,), ``side`` 1 outside and -1 inside of it."""
    seen = _across(sight, points, outward_of(points), side * np.array(BURNT_BESIDE_MM))
    found: Flags = np.any(np.all(seen >= BURNT, axis=2), axis=1)
    return found
