"""Points along the sheet's four edges, finer than a pixel."""

from __future__ import annotations

from dataclasses import dataclass

import cv2
import numpy as np
from numpy.typing import NDArray

from foldproof.geometry.outline import Flags
from foldproof.geometry.plane import Array, Point
from foldproof.outlines.photograph.blur import spread_of_step
from foldproof.outlines.photograph.decoding import Bytes
from foldproof.outlines.photograph.light import FULL, Field, Light, light_of
from foldproof.outlines.photograph.view import View, in_picture, sheet_corners

ENDS = 0.03  # of a side at each end that is left out: corners are round, dog-eared, and blurred
BAND_PX = 4  # over which the colour on each side of an edge is averaged
GAP_PX = 3  # between the two bands: over this the edge itself is blurred
BEND_COST = 0.15  # of a usual step in colour, for each pixel the path turns aside
WIDE_PX = 16  # looked at on either side of an edge that is known to a pixel or so
WINDOW_BLURS = 2.5  # an edge reaches so many blurs to either side
LEAST_STEP = 0.05  # in written value 0 to 1: a fainter step of colour is no edge
CLEAR_SHARE = 0.35  # of the side's usual step of colour


@dataclass(frozen=True, slots=True, kw_only=True)
class SideEdge:
    """What was found along one side: edge points (n, 2) in pixels; the share of places where there is an edge.

    ``inside`` and ``outside``: the colours as written, 0 to 1, beside each place (n, 3). ``clear``: (n,) of bool.
    """

    points: Array
    clear: Flags
    support: float
    inside: Light
    outside: Light


def side_edges(pixels: Bytes, view: View, sheet_mm: Point, reach_px: float, places: int) -> tuple[SideEdge, ...]:
    """The four sides, lower, right, upper and left, looked for within ``reach_px`` of where the view puts them."""
    corners = sheet_corners(sheet_mm)
    half = int(np.ceil(reach_px))
    middle = BAND_PX + GAP_PX // 2  # where the first place stands on a line
    offsets = np.arange(-half - middle, half + middle + 1)
    lines = [_places(view, corners[side], corners[(side + 1) % 4], places) for side in range(4)]
    at, inward = (np.stack(each) for each in zip(*lines, strict=True))
    where = at[:, :, None, :] + offsets[:, None] * inward[:, :, None, :]
    seen = sampled(pixels, where.reshape(4 * places, -1, 2)).reshape(*where.shape[:3], 3)
    stepped = [_steps(each.astype(np.float32) / np.float32(FULL)) for each in seen]
    size = np.stack([np.linalg.norm(step, axis=2) for step, _, _ in stepped])
    path = _path(size)
    rows = np.arange(places)
    found = []
    for side, (_, inside, outside) in enumerate(stepped):
        chosen, place = size[side][rows, path[side]], path[side] + middle
        usual = float(np.median(chosen))
        clear = (chosen > max(LEAST_STEP, CLEAR_SHARE * usual)) & _in_frame(where[side, rows, place], view.size)
        fine = _crossing(light_of(seen[side]), place)
        found.append(
            SideEdge(
                points=at[side] + (offsets[0] + fine)[:, None] * inward[side],
                clear=clear,
                support=float(clear.mean()),
                inside=inside[rows, path[side]],
                outside=outside[rows, path[side]],
            )
        )
    return tuple(found)


def _places(view: View, start: Array, end: Array, places: int) -> tuple[Array, Array]:
    """Places along a side in pixels (n, 2), and the unit directions into the sheet there (n, 2)."""
    share = np.linspace(ENDS, 1.0 - ENDS, places)[:, None]
    at = in_picture(view, start + share * (end - start))
    ahead = np.gradient(at, axis=0)
    # Going round anticlockwise with y up, the sheet is to the left; the picture has y down, so this points inwards.
    return at, np.column_stack((ahead[:, 1], -ahead[:, 0])) / np.hypot(ahead[:, 0], ahead[:, 1])[:, None]


def settled_edges(pixels: Bytes, view: View, sheet_mm: Point, places: int) -> tuple[tuple[Array, ...], float]:
    """Points along the four sides (n, 2) of a view that is right to a pixel or so, and how blurred the sides are.

    The blur is the spread of the edge in pixels. Windows stand on the view's own sides and are as wide as the blur
    needs, so neither grain nor noise picks the place.
    """
    corners = sheet_corners(sheet_mm)
    offsets = np.arange(-WIDE_PX, WIDE_PX + 1)
    lines = []
    for side in range(4):
        at, inward = _places(view, corners[side], corners[(side + 1) % 4], places)
        seen = sampled(pixels, at[:, None, :] + offsets[None, :, None] * inward[:, None, :])
        lines.append((at, inward, light_of(seen)))
    blur_px = float(np.median([_blur(light) for _, _, light in lines]))
    half = int(np.clip(np.ceil(WINDOW_BLURS * blur_px) + 1, 3, WIDE_PX - BAND_PX - 1))
    found = []
    for at, inward, light in lines:
        share, good = _shares(light, half + 1)
        inner = share[:, WIDE_PX - half : WIDE_PX + half + 1]
        fine = half + 0.5 - np.clip(inner, -0.3, 1.3).sum(axis=1)
        good &= _in_frame(at, view.size)
        found.append((at + fine[:, None] * inward)[good])
    return tuple(found), blur_px


def _shares(light: Field, gap: int) -> tuple[Light, Flags]:
    """How far each place of each line (n, k) is from the light outside, 0, to that inside, 1; and which lines have a
    step to tell by."""
    inside = light[:, WIDE_PX + gap : WIDE_PX + gap + BAND_PX].mean(axis=1)
    outside = light[:, WIDE_PX - gap - BAND_PX + 1 : WIDE_PX - gap + 1].mean(axis=1)
    step = inside - outside
    square = (step**2).sum(axis=1)
    good: Flags = square > (CLEAR_SHARE * np.sqrt(np.median(square))) ** 2
    share = ((light - outside[:, None]) * step[:, None]).sum(axis=2) / np.maximum(square, 1e-9)[:, None]
    return share, good


def _blur(light: Field) -> float:
    """The spread of an edge in pixels, from lines across it (n, k, 3) whose middle is near the edge."""
    share, good = _shares(light, WIDE_PX - BAND_PX)
    if not good.any():
        return 1.0
    return spread_of_step(np.median(share[good], axis=0))


def sampled(pixels: Bytes, where: Array) -> Bytes:
    """The picture's bytes (n, m, 3) at places (n, m, 2) in pixels, between pixels in proportion."""
    places = (where - 0.5).astype(np.float32)  # the library counts from the middle of the first pixel
    x, y = np.ascontiguousarray(places[..., 0]), np.ascontiguousarray(places[..., 1])
    return np.asarray(cv2.remap(pixels, x, y, cv2.INTER_LINEAR, borderMode=cv2.BORDER_REPLICATE), np.uint8)


def _in_frame(points: Array, size: tuple[int, int]) -> Flags:
    inside: Flags = np.all((points > 1.5) & (points < np.array(size) - 1.5), axis=1)
    return inside


def _steps(seen: Field) -> tuple[Light, Light, Light]:
    """The step of colour across each place of each line (n, k, 3), and the colours inside and outside of it."""
    sums = np.cumsum(np.concatenate((np.zeros_like(seen[:, :1]), seen), axis=1), axis=1)
    band = (sums[:, BAND_PX:] - sums[:, :-BAND_PX]) / BAND_PX
    outside, inside = band[:, : -BAND_PX - GAP_PX], band[:, BAND_PX + GAP_PX :]
    return inside - outside, inside, outside


def _path(size: Light) -> NDArray[np.int64]:
    """Which place on each line of each side (m, n, k): the path along a side with the most step that turns aside
    least, (m, n)."""
    sides, places, width = size.shape
    usual = np.median(size.max(axis=2), axis=1)[:, None]
    gain = np.minimum(size, usual[:, None])  # a stronger edge nearby, of a shape or wood, may not draw the path away
    cost = BEND_COST * usual
    best = gain[:, 0].copy()
    came = np.zeros((sides, places, width), np.int64)
    moves = np.array((0, -1, 1, -2, 2))
    for row in range(1, places):
        tried = np.full((len(moves), sides, width), -np.inf, np.float32)
        for number, move in enumerate(moves):
            low, high = max(0, -move), width - max(0, move)
            tried[number, :, low:high] = best[:, low + move : high + move] - cost * abs(move)
        choice = np.argmax(tried, axis=0)
        came[:, row] = np.arange(width) + moves[choice]
        best = tried.max(axis=0) + gain[:, row]
    path = np.empty((sides, places), np.int64)
    path[:, -1] = np.argmax(best, axis=1)
    every = np.arange(sides)
    for row in range(places - 1, 0, -1):
        path[:, row - 1] = came[every, row, path[:, row]]
    return path


def _crossing(light: Field, path: NDArray[np.int64]) -> Array:
    """Where each line (n, k, 3) is halfway between the light outside and inside, in places of the line (n,).

    Across the edge the light is an area: how much of the window is inside says where the edge is, whatever the blur.
    """
    rows = np.arange(len(light))[:, None]
    inside = light[rows, path[:, None] + np.arange(2, 2 + BAND_PX)].mean(axis=1)
    outside = light[rows, path[:, None] - np.arange(2, 2 + BAND_PX)].mean(axis=1)
    step = inside - outside
    square = np.maximum((step**2).sum(axis=1), 1e-9)
    window = np.arange(-3, 4)
    across = light[rows, path[:, None] + window]
    share = ((across - outside[:, None]) * step[:, None]).sum(axis=2) / square[:, None]
    share = np.clip(share, -0.2, 1.2)
    found: Array = path + window[-1] + 0.5 - share.sum(axis=1)
    return found
