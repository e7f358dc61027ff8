"""Where the shape is on the sheet, to half a mm or so: what no gentle change of colour leads to from its edge."""

from __future__ import annotations

from dataclasses import dataclass

import cv2
import numpy as np
from numpy.typing import NDArray

from foldproof.geometry.outline import Flags
from foldproof.geometry.plane import Point
from foldproof.outlines.photograph.flat import Flat, Mask, filled_in, mm_of
from foldproof.outlines.photograph.light import BURNT, Field, Light, along, light_of, seen_colours, written
from foldproof.outlines.photograph.refusals import Refused

MARGIN_MM = 1.5  # along the sheet's edges: blurred, curled, not trusted
RING_MM = 4.0  # from the edges: here the sheet is what most of it is
STEEPNESS = (16.0, 10.0, 6.5, 4.0, 2.6)  # in L*a*b* per mm: steps are steeper, shadows gentler
NOISES = 5.0  # a steepness of so many spreads of the sheet's own unevenness is a step
SMOOTH_MM = 0.35  # noise is evened over this
SURE_HUE = 14.0  # in a* and b*: cells of the ring that are further from most of it are not the sheet
SURE_LIGHT = 0.55  # of the ring's lightness: shadows go so far down
LEAST_AREA_MM2 = 60.0  # a shape of 10 mm across has 79
SPECK_SHARE = 0.03  # of the largest thing: smaller ones are dust and cut-off corners
SPECK_MM2 = 40.0
OPEN_MM = 1.0  # lines thinner than this are edges of shadows, pencil lines, hairs
BAND_MM = 2.5  # a band narrower than twice this that runs to the sheet's edge is the edge of a shadow
CLEAR_HUE = 0.06  # of the brighter light: hues that differ by this are told apart through noise
ROUND_SHARE = 0.75  # of a thing's edge that must be a step
LEAST_CONTRAST = 6.0  # in L*a*b*, of the shape beside the sheet
FAINT_CONTRAST, FAINT_SPREADS = 1.2, 4.0  # something so far from the sheet's colour is seen, but is not traced
FAINT_EVEN_MM, FAINT_RING_MM, FAINT_OPEN_MM = 1.0, 12.0, 2.0  # evened, the sheet filled in, and spots left out
REACHING_MM = 8.0  # along the sheet's edge: so much of another colour is a thing that reaches it
SHEET_EVEN_MM, SHAPE_EVEN_MM = 4.0, 1.5  # light of sheet and shape is evened over this
LIT_SHARE = 0.9  # of the ring is darker than what is taken for lit
SHADE_HUE, SHADES = 0.12, (0.4, 1.05)  # a shadow indoors changes hue by this, and leaves so much of the light
SOBEL = 0.125  # makes the library's slopes slopes for each cell
PART_SHARE = 0.35  # of the shape's light: more of it lies in a printed pattern, less in a gap between two shapes
TIDY_MM = 0.6  # gaps and spurs thinner than twice this are marks of a pattern or noise
ZONE_MM = 0.5  # the shape may reach so far beyond what was closed off
LEAST_SQUARE = 1e-6  # of light squared: darker than any picture tells from black
FRINGE_MM = 0.9  # on either side of an edge: blur and its own shadow


@dataclass(frozen=True, slots=True, kw_only=True)
class Found:
    """The shape's cells, and the light (h, w, 3) of the sheet around it and of the shape inside, filled in everywhere.

    ``parts``: how many things the shape's colour makes, if gaps of a mm count; ``contrast``: in L*a*b*, of the shape
    beside the sheet.
    ``sheet_burnt``: the share of the sheet at the limit of what the picture can hold; ``like_shade``: the shape looks
    like the sheet in shade, so its own shadow cannot be told from it.
    """

    mask: Mask
    sheet_light: Field
    shape_light: Field
    parts: int
    contrast: float
    sheet_burnt: float
    like_shade: bool


def find_shape(flat: Flat) -> Found | Refused:
    """The one thing that lies on the sheet."""
    blur = SMOOTH_MM * flat.per_mm
    colours = seen_colours(flat.cells)
    steep = _steepness(colours, blur, flat.per_mm)
    inside = _inside(flat, MARGIN_MM)
    ring = inside & ~_inside(flat, MARGIN_MM + RING_MM).astype(bool)
    sure = ring.astype(bool) & _like_most(colours, ring.astype(bool))
    noise = float(np.median(steep[sure])) if sure.any() else 0.0
    things, zone = np.zeros_like(inside), np.zeros_like(inside)
    for level in STEEPNESS:
        if level < NOISES * noise:
            break
        found = _things(flat, steep, inside, sure, level)
        zone |= found
        things |= _without_lines(flat, found, inside)
    return _only_one(flat, colours, things, zone, sure)


def middle_of(flat: Flat, found: Found) -> Point:
    """The middle of the shape's cells, on the sheet in mm."""
    rows, columns = np.nonzero(found.mask)
    x, y = mm_of(flat, np.array([[columns.mean() + 0.5, rows.mean() + 0.5]]))[0]
    return (float(x), float(y))


def _steepness(colours: Field, blur: float, per_mm: float) -> Field:
    """How fast the colours change, in L*a*b* per mm."""
    smooth = cv2.GaussianBlur(colours, (0, 0), blur)
    across = np.asarray(cv2.Sobel(smooth, cv2.CV_32F, 1, 0, scale=SOBEL), np.float32)
    down = np.asarray(cv2.Sobel(smooth, cv2.CV_32F, 0, 1, scale=SOBEL), np.float32)
    found: Field = np.sqrt(along(across, across) + along(down, down)) * np.float32(per_mm)
    return found


def _inside(flat: Flat, margin_mm: float) -> Mask:
    mask = np.zeros(flat.cells.shape[:2], np.uint8)
    edge = max(1, round(margin_mm * flat.per_mm))
    mask[edge:-edge, edge:-edge] = 1
    return mask


def _like_most(colours: Field, ring: Flags) -> Flags:
    """Which cells have about the colour of most of the ring, in light or in shadow."""
    there = colours[ring]
    hue = np.median(there[:, 1:], axis=0)
    bright = float(np.quantile(there[:, 0], LIT_SHARE))
    near: Flags = (np.linalg.norm(colours[..., 1:] - hue, axis=2) < SURE_HUE) & (colours[..., 0] > SURE_LIGHT * bright)
    return near


def _things(flat: Flat, steep: Field, inside: Mask, sure: Flags, level: float) -> Mask:
    """What cannot be reached from the sheet's ring over cells less steep than the level, if it has a step all round."""
    gentle = ((steep < level) & (inside > 0)).astype(np.uint8)
    names = _names(gentle)
    reached = np.zeros(int(names.max()) + 1, bool)
    reached[np.unique(names[sure & (gentle > 0)])] = True
    reached[0] = False
    sheet = reached[names]
    # A step is as wide as its blur: what is reached up to its foot grows by that before thin lines are taken out.
    rest = ((~sheet) & (inside > 0)).astype(np.uint8)
    rest = np.asarray(cv2.morphologyEx(rest, cv2.MORPH_OPEN, _disc(OPEN_MM * flat.per_mm)), np.uint8)
    kept = np.zeros_like(rest)
    for outline in _outlines(rest):
        if cv2.contourArea(outline) < LEAST_AREA_MM2 * flat.per_mm**2:
            continue
        one = np.zeros_like(rest)
        cv2.drawContours(one, [outline], -1, 1, cv2.FILLED)
        if _has_step(one, steep, level, flat):
            kept |= one
    return kept


def _without_lines(flat: Flat, things: Mask, inside: Mask) -> Mask:
    """Things that reach the sheet's edge only over a narrow band, without that band: the edge of a shadow."""
    border = inside & (cv2.erode(inside, _disc(1.0), borderType=cv2.BORDER_CONSTANT, borderValue=0) == 0)
    kept = np.zeros_like(things)
    for outline in _outlines(things):
        one = np.zeros_like(things)
        cv2.drawContours(one, [outline], -1, 1, cv2.FILLED)
        if (one & border).any():
            wide = np.asarray(cv2.morphologyEx(one, cv2.MORPH_OPEN, _disc(BAND_MM * flat.per_mm)), np.uint8)
            if wide.any() and not (wide & border).any():
                one = wide
        kept |= one
    return kept


def _has_step(thing: Mask, steep: Field, level: float, flat: Flat) -> bool:
    """Whether most of a thing's edge is steep: a patch of shadow has gentle sides somewhere."""
    size = FRINGE_MM * flat.per_mm
    steepest = cv2.dilate(steep, _disc(size))
    edge = thing.astype(bool) & (cv2.erode(thing, _disc(1.0)) == 0)
    return bool((steepest[edge] > level).mean() > ROUND_SHARE)


def _only_one(flat: Flat, colours: Field, things: Mask, zone: Mask, sure: Flags) -> Found | Refused:
    outlines = _outlines(things)
    if not outlines:
        return _nothing(flat, colours, sure)
    areas = np.array([cv2.contourArea(outline) for outline in outlines]) / flat.per_mm**2
    counted = areas > max(SPECK_MM2, SPECK_SHARE * float(areas.max()))
    if counted.sum() > 1:
        return Refused(code="several shapes", values=(("count", float(counted.sum())),))
    thing = np.zeros_like(things)
    cv2.drawContours(thing, [outlines[int(areas.argmax())]], -1, 1, cv2.FILLED)
    found = _measured(flat, thing, zone)
    if found.parts > 1:
        return Refused(code="several shapes", values=(("count", float(found.parts)),))
    if found.contrast < LEAST_CONTRAST:
        return Refused(code="too little contrast", values=(("found", found.contrast), ("least", LEAST_CONTRAST)))
    if (found.mask & ~_inside(flat, MARGIN_MM + 1.0 / flat.per_mm) & 1).any():
        return Refused(code="touches the edge")
    return found


def _measured(flat: Flat, thing: Mask, zone: Mask) -> Found:
    """The light of sheet and shape, and the cells of the zone that are nearer to the shape's."""
    light = light_of(flat.cells)
    fringe = _disc(FRINGE_MM * flat.per_mm)
    around = (cv2.dilate(zone, fringe) == 0).astype(np.uint8) & _inside(flat, MARGIN_MM)
    core = np.asarray(cv2.erode(thing, fringe), np.uint8)
    if not core.any():
        core = thing
    sheet_light = filled_in(light, around, SHEET_EVEN_MM * flat.per_mm)
    shape_light = filled_in(light, core, SHAPE_EVEN_MM * flat.per_mm)
    part = _box(zone, fringe.shape[0])
    near = np.zeros_like(thing)
    share = shares(light[part], sheet_light[part], shape_light[part])
    near[part] = share > 0.5
    close = np.asarray(cv2.dilate(zone, _disc(ZONE_MM * flat.per_mm)), np.uint8)
    near &= close
    any_of_it = np.zeros_like(thing)
    any_of_it[part] = share > PART_SHARE
    whole = cv2.morphologyEx(near, cv2.MORPH_CLOSE, _disc(TIDY_MM * flat.per_mm))
    whole = cv2.morphologyEx(whole, cv2.MORPH_OPEN, _disc(TIDY_MM * flat.per_mm))
    names = _names(np.asarray(whole, np.uint8))
    held = np.bincount(names[core > 0], minlength=2)
    held[0] = 0
    one = (names == int(held.argmax())).astype(np.uint8)
    mask = np.zeros_like(thing)
    cv2.drawContours(mask, [max(_outlines(one), key=cv2.contourArea)], -1, 1, cv2.FILLED)
    edge = mask.astype(bool) & (cv2.erode(mask, _disc(1.0)) == 0)
    contrast = float(np.median(_apart(shape_light[edge], sheet_light[edge])))
    burnt = float((flat.cells[around > 0] >= BURNT).all(axis=1).mean()) if around.any() else 0.0
    return Found(
        mask=mask,
        sheet_light=sheet_light,
        shape_light=shape_light,
        parts=_parts(any_of_it & close, flat),
        contrast=contrast,
        sheet_burnt=burnt,
        like_shade=_like_shade(sheet_light[edge], shape_light[edge]),
    )


def _like_shade(sheet_light: Field, shape_light: Field) -> bool:
    """Whether a shape of this light (n, 3) could be the sheet's (n, 3) in shade."""
    strength = float(np.median(hue_direction(sheet_light, shape_light)[1]))
    return strength < SHADE_HUE and bool(np.mean(is_shade(sheet_light, shape_light)) > 0.5)


def is_shade(sheet_light: Light, shape_light: Light) -> Flags:
    """Whether shade would leave as much of the sheet's light (n, 3) as the shape's (n, 3) is: (n,)."""
    left = along(shape_light, sheet_light) / np.maximum(along(sheet_light, sheet_light), LEAST_SQUARE)
    found: Flags = (left > SHADES[0]) & (left < SHADES[1])
    return found


def _parts(cells: Mask, flat: Flat) -> int:
    """How many large parts there are before gaps are closed: two shapes that nearly touch are two.

    What lies in a hole of another part is not counted: in a hole the shape's light is only thought.
    """
    opened = np.asarray(cv2.morphologyEx(cells, cv2.MORPH_OPEN, _disc(TIDY_MM * flat.per_mm)), np.uint8)
    areas = np.array([cv2.contourArea(outline) for outline in _outlines(opened)]) / flat.per_mm**2
    return int((areas > max(SPECK_MM2, SPECK_SHARE * float(areas.max(initial=0.0)))).sum())


def _box(mask: Mask, room: int) -> tuple[slice, slice]:
    """The rows and columns in which a mask has cells, with some more on every side."""
    x, y, width, height = cv2.boundingRect(mask)
    return (slice(max(0, y - room), y + height + room), slice(max(0, x - room), x + width + room))


def shares(light: Light, sheet_light: Light, shape_light: Light) -> Light:
    """How far light (..., 3) is from the sheet's, 0, to the shape's, 1; by hue alone where the two differ in hue.

    By hue: along the part of the shape's light that is square to the sheet's, so that any shade of the sheet is 0.
    """
    step = shape_light - sheet_light
    plain = along(light - sheet_light, step) / np.maximum(along(step, step), LEAST_SQUARE)
    hue, strength = hue_direction(sheet_light, shape_light)
    found: Light = np.where(strength > CLEAR_HUE, along(light, hue), plain)
    return found


def hue_direction(sheet_light: Light, shape_light: Light) -> tuple[Light, Light]:
    """A direction (..., 3) along which every shade of the sheet is 0 and the shape's light is 1, and how strong the
    difference is (...), as a share of the brighter one's light."""
    size = np.maximum(along(sheet_light, sheet_light), LEAST_SQUARE)
    across = shape_light - (along(shape_light, sheet_light) / size)[..., None] * sheet_light
    square = np.maximum(along(across, across), LEAST_SQUARE)
    strength = np.sqrt(square / np.maximum(size, along(shape_light, shape_light)))
    return across / square[..., None], strength


def _apart(one: Light, other: Light) -> Light:
    """How far apart two lights (n, 3) look, in L*a*b*."""
    colours = seen_colours(written(np.stack((one, other))))
    found: Light = np.linalg.norm(colours[0] - colours[1], axis=1)
    return found


def _nothing(flat: Flat, colours: Field, sure: Flags) -> Refused:
    """Nothing there, or something too faint: a patch that differs all over from what the ring says the sheet is."""
    inside = _inside(flat, MARGIN_MM)
    even = np.asarray(cv2.GaussianBlur(colours, (0, 0), FAINT_EVEN_MM * flat.per_mm), np.float32)
    ring = filled_in(even, sure.astype(np.uint8), FAINT_RING_MM * flat.per_mm)
    away = np.linalg.norm(even - ring, axis=2)
    usual = float(np.median(away[sure])) if sure.any() else 0.0
    patch = ((away > max(FAINT_CONTRAST, FAINT_SPREADS * usual)) & (inside > 0)).astype(np.uint8)
    patch = np.asarray(cv2.morphologyEx(patch, cv2.MORPH_OPEN, _disc(FAINT_OPEN_MM * flat.per_mm)), np.uint8)
    border = (patch & ~_inside(flat, MARGIN_MM + OPEN_MM) & 1).astype(bool)
    if border.sum() > REACHING_MM * OPEN_MM * flat.per_mm**2 and np.median(away[border]) > LEAST_CONTRAST:
        return Refused(code="touches the edge")
    if patch.sum() > LEAST_AREA_MM2 * flat.per_mm**2:
        return Refused(code="too little contrast", values=(("found", float(np.median(away[patch > 0]))),))
    return Refused(code="no shape")


def _outlines(mask: Mask) -> list[Mask]:
    found, _ = cv2.findContours(mask, cv2.RETR_EXTERNAL, cv2.CHAIN_APPROX_NONE)
    return [np.asarray(outline) for outline in found]


def _names(mask: Mask) -> NDArray[np.int32]:
    """A number for each connected part of a mask, 0 outside of it."""
    _, names = cv2.connectedComponents(mask, connectivity=4, ltype=cv2.CV_32S)
    return np.asarray(names, np.int32)


def _disc(radius: float) -> Mask:
    size = 2 * max(1, round(radius)) + 1
    return np.asarray(cv2.getStructuringElement(cv2.MORPH_ELLIPSE, (size, size)), np.uint8)
