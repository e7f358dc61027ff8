"""The sheet in a photograph: where exactly it is, and how the lens bows it."""

from __future__ import annotations

from dataclasses import dataclass

import cv2
import numpy as np

from foldproof.geometry.plane import Array, Point
from foldproof.outlines.photograph.decoding import Bytes, Picture
from foldproof.outlines.photograph.proportion import off_proportion
from foldproof.outlines.photograph.refusals import Refused
from foldproof.outlines.photograph.sheet_choice import chosen_sheet, going_round, upright_sheet
from foldproof.outlines.photograph.sheet_edges import settled_edges, side_edges
from foldproof.outlines.photograph.sheet_fit import EdgeFit, fitted
from foldproof.outlines.photograph.view import View, in_picture, sheet_corners, view_of_corners

SMALL_PX = 800  # long side of the picture in which the sheet is looked for
POINTED_REACH_PX = 8.0  # how far off a person points, in the same picture
FINE_REACH_PX = 1.6  # how far off the small picture leaves an edge, in its pixels
NEAR_REACH_PX = 3.0  # how far off pointed-out sides are when they have been brought near once
PLACES = 300  # looked at along each side
HELD_SUPPORT = 0.4  # a side seen less than this stays where a person pointed
HELD_ENDS = 0.05  # of such a side at each end that is left out
UNKNOWN_BLUR_PX = 2.0  # where a side is not seen: a fair photograph's
LEAST_POINTS = 12  # on a side, to say where it is


@dataclass(frozen=True, slots=True, kw_only=True)
class Sheet:
    """The sheet as found. ``sheet_mm``: across and up the picture; ``off_mm``: misfit of each side's points.

    ``off_proportion``: by which share it looks wider than it is said to be, or 0. ``held``: a side is not seen, so
    corners stay where a person pointed.
    """

    view: View
    sheet_mm: Point
    off_mm: tuple[Array, ...]
    off_proportion: float
    blur_px: float
    held: bool


def find_sheet(picture: Picture, sheet_mm: Point) -> Sheet | Refused:
    """The sheet of known size in a picture."""
    small, scale = shrunk(picture.pixels)
    chosen = chosen_sheet(small, sheet_mm)
    if isinstance(chosen, Refused):
        return chosen
    # Neither the plane nor the bow depends on how many pixels there are.
    start = View(plane=chosen.view.plane, bow=chosen.view.bow, size=picture.size)
    edges = side_edges(picture.pixels, start, chosen.sheet_mm, FINE_REACH_PX / scale, PLACES)
    fit = _fitted(start, chosen.sheet_mm, tuple(edge.points[edge.clear] for edge in edges))
    if fit is None:
        return Refused(code="no sheet")
    return _settled(picture, fit.view, chosen.sheet_mm)


def pointed_sheet(picture: Picture, sheet_mm: Point, corners: Array) -> Sheet | Refused:
    """The sheet whose corners (4, 2) a person pointed out, in any order, brought to the edges that are seen there.

    A side along which no edge is seen stays between the corners that were pointed at.
    """
    ordered = going_round(corners)
    if ordered is None:
        return Refused(code="corners")
    _, scale = shrunk(picture.pixels)
    view, sheet_mm = upright_sheet(view_of_corners(ordered, sheet_mm, picture.size), sheet_mm)
    near = _brought_nearer(picture, view, sheet_mm, POINTED_REACH_PX / scale)
    fit = near and _brought_nearer(picture, near.view, sheet_mm, NEAR_REACH_PX / scale)
    if fit is None:
        return Refused(code="corners")
    edges = side_edges(picture.pixels, fit.view, sheet_mm, NEAR_REACH_PX / scale, PLACES)
    if all(edge.support >= HELD_SUPPORT for edge in edges):
        return _settled(picture, fit.view, sheet_mm)
    return _sheet(fit, sheet_mm, UNKNOWN_BLUR_PX, held=True)


def _brought_nearer(picture: Picture, view: View, sheet_mm: Point, reach_px: float) -> EdgeFit | None:
    """The view brought to the sides that are seen near it; the others stay."""
    edges = side_edges(picture.pixels, view, sheet_mm, reach_px, PLACES)
    seen = [edge.support >= HELD_SUPPORT for edge in edges]
    sides = tuple(
        edge.points[edge.clear] if kept else _straight(view, sheet_mm, number)
        for number, (edge, kept) in enumerate(zip(edges, seen, strict=True))
    )
    return fitted(view, sheet_mm, sides, free_bow=all(seen))


def _settled(picture: Picture, view: View, sheet_mm: Point) -> Sheet | Refused:
    """Twice more from the edges themselves, each time nearer to where windows must stand."""
    sides, _ = settled_edges(picture.pixels, view, sheet_mm, PLACES)
    first = _fitted(view, sheet_mm, sides)
    if first is None:
        return Refused(code="no sheet")
    sides, blur_px = settled_edges(picture.pixels, first.view, sheet_mm, PLACES)
    second = _fitted(first.view, sheet_mm, sides)
    return Refused(code="no sheet") if second is None else _sheet(second, sheet_mm, blur_px, held=False)


def _fitted(view: View, sheet_mm: Point, sides: tuple[Array, ...]) -> EdgeFit | None:
    """The fit, or None where a side has too few points for one."""
    return None if min(len(side) for side in sides) < LEAST_POINTS else fitted(view, sheet_mm, sides)


def shrunk(pixels: Bytes) -> tuple[Bytes, float]:
    """The picture with a long side of ``SMALL_PX`` at most, and by how much it was scaled."""
    scale = min(1.0, SMALL_PX / max(pixels.shape[:2]))
    if scale == 1.0:
        return pixels, 1.0
    size = (round(pixels.shape[1] * scale), round(pixels.shape[0] * scale))
    return np.asarray(cv2.resize(pixels, size, interpolation=cv2.INTER_AREA), np.uint8), scale


def _straight(view: View, sheet_mm: Point, side: int) -> Array:
    corners = sheet_corners(sheet_mm)
    share = np.linspace(HELD_ENDS, 1.0 - HELD_ENDS, 2 * LEAST_POINTS)[:, None]
    return in_picture(view, corners[side] + share * (corners[(side + 1) % 4] - corners[side]))


def _sheet(fit: EdgeFit, sheet_mm: Point, blur_px: float, *, held: bool) -> Sheet:
    return Sheet(
        view=fit.view,
        sheet_mm=sheet_mm,
        off_mm=tuple(off[weight > 0.0] for off, weight in zip(fit.off_mm, fit.weights, strict=True)),
        off_proportion=off_proportion(fit.view),
        blur_px=blur_px,
        held=held,
    )
