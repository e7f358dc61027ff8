"""The sheet in a photograph: which quadrilateral it is, where exactly, and how the lens bows it."""

from __future__ import annotations

import math
from dataclasses import dataclass

import cv2
import numpy as np

from foldproof.geometry.plane import Array, Point
from foldproof.outlines.photograph.decoding import Bytes, Picture
from foldproof.outlines.photograph.light import Field, seen_colours
from foldproof.outlines.photograph.proportion import off_proportion, turned_sheet
from foldproof.outlines.photograph.refusals import Refused
from foldproof.outlines.photograph.sheet_edges import SideEdge, settled_edges, side_edges
from foldproof.outlines.photograph.sheet_fit import EdgeFit, fitted
from foldproof.outlines.photograph.sheet_lines import BORDER_PX, quadrilaterals
from foldproof.outlines.photograph.view import View, in_picture, sheet_corners, view_of_corners

SMALL_PX = 800  # long side of the picture in which the sheet is looked for
SMALL_REACH_PX = 12.0  # lenses bow the sides of a sheet by up to so much there
POINTED_REACH_PX = 8.0  # how far off a person points, in the same picture
FINE_REACH_PX = 3.0  # how far off the small picture leaves an edge, in its pixels
SMALL_PLACES, FINE_PLACES = 30, 300  # looked at along each side
LEAST_SUPPORT = 0.6  # of a side that must be seen as an edge
HELD_SUPPORT = 0.4  # a side seen less than this stays where a person pointed
OFF_COUNTS = 5.0  # a sheet a fifth off its proportion loses as much as one without any clear side
AREA_COUNTS = 0.3  # of two alike, the larger is the sheet
DOUBTFUL_OFF = 0.03  # Letter for A4 is 9 % off, 12 x 12 in for 30 x 30 cm nothing
SAME_HUE = 14.0  # in a* and b*: the sheet's inside along its sides, in light and shadow
LEAST_CLEAR = 0.02  # in written value 0 to 1: a sheet that stands out less is not told from the table
CLEAR_SHARE = 0.2  # of the clearest one's: a side that is so much fainter is grain or a mark
UNEVEN = 2.0  # how much unevenness counts against a step
CONTENT_STEP = 14.0  # in L*a*b*: what lies on a sheet differs from it by more
CONTENT = (0.005, 0.75)  # the least and most of a sheet that what lies on it takes
CUT_SUPPORT, CUT_CLEAR = 0.8, 0.12  # of each side that is left of a sheet that runs out of the picture
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


@dataclass(frozen=True, slots=True, kw_only=True)
class _Candidate:
    fit: EdgeFit
    sheet_mm: Point
    support: float
    area: float
    hue_spread: float
    off_proportion: float
    clearness: float
    has_content: bool


def find_sheet(picture: Picture, sheet_mm: Point) -> Sheet | Refused:
    """The sheet of known size in a picture."""
    small, scale = shrunk(picture.pixels)
    colours = seen_colours(small)
    found = [
        candidate
        for corners in quadrilaterals(colours, with_border=False)
        if (candidate := _candidate(small, colours, corners, sheet_mm)) is not None
    ]
    chosen = _chosen(found)
    if chosen is None:
        return _why_none(small, colours, sheet_mm)
    start = _scaled(chosen.fit.view, picture.size)
    edges = side_edges(picture.pixels, start, chosen.sheet_mm, FINE_REACH_PX / scale, FINE_PLACES)
    if any(edge.clear.sum() < LEAST_POINTS for edge in edges):
        return Refused(code="no sheet")
    fit = fitted(start, chosen.sheet_mm, tuple(edge.points[edge.clear] for edge in edges))
    return _settled(picture, fit.view, chosen.sheet_mm)


def _settled(picture: Picture, view: View, sheet_mm: Point) -> Sheet:
    """Twice more from the edges themselves, each time nearer to where windows must stand."""
    for _ in range(2):
        sides, blur_px = settled_edges(picture.pixels, view, sheet_mm, FINE_PLACES)
        fit = fitted(view, sheet_mm, sides)
        view = fit.view
    return _sheet(fit, sheet_mm, blur_px, held=False)


def pointed_sheet(picture: Picture, sheet_mm: Point, corners: Array) -> Sheet | Refused:
    """The sheet whose corners (4, 2) a person pointed out, in any order, brought to the edges that are seen there.

    A side along which no edge is seen stays between the corners that were pointed at.
    """
    ordered = going_round(corners)
    if ordered is None:
        return Refused(code="corners")
    _, scale = shrunk(picture.pixels)
    view, sheet_mm = _upright(view_of_corners(ordered, sheet_mm, picture.size), sheet_mm)
    for reach, places in ((POINTED_REACH_PX / scale, FINE_PLACES), (FINE_REACH_PX / scale, FINE_PLACES)):
        edges = side_edges(picture.pixels, view, sheet_mm, reach, places)
        seen = [edge.support >= HELD_SUPPORT for edge in edges]
        sides = tuple(
            edge.points[edge.clear] if kept else _straight(view, sheet_mm, number)
            for number, (edge, kept) in enumerate(zip(edges, seen, strict=True))
        )
        fit = fitted(view, sheet_mm, sides, free_bow=all(seen))
        view = fit.view
    if all(seen):
        return _settled(picture, view, sheet_mm)
    return _sheet(fit, sheet_mm, UNKNOWN_BLUR_PX, held=True)


def shrunk(pixels: Bytes) -> tuple[Bytes, float]:
    """The picture with a long side of ``SMALL_PX`` at most, and by how much it was scaled."""
    scale = min(1.0, SMALL_PX / max(pixels.shape[:2]))
    if scale == 1.0:
        return pixels, 1.0
    size = (round(pixels.shape[1] * scale), round(pixels.shape[0] * scale))
    return np.asarray(cv2.resize(pixels, size, interpolation=cv2.INTER_AREA), np.uint8), scale


def going_round(corners: Array) -> Array | None:
    """Four corners in pixels as lower left, lower right, upper right, upper left; None if they do not bulge."""
    middle = corners.mean(axis=0)
    away = corners - middle
    # y is down in the picture, so the angle is turned to run anticlockwise as it is seen.
    ordered = corners[np.argsort(np.arctan2(-away[:, 1], away[:, 0]), kind="stable")]
    edges = np.roll(ordered, -1, axis=0) - ordered
    after = np.roll(edges, -1, axis=0)
    twist = edges[:, 0] * after[:, 1] - edges[:, 1] * after[:, 0]
    size = np.hypot(edges[:, 0], edges[:, 1])
    if np.any(size < 1.0) or np.any(-twist < 0.1 * size * np.roll(size, -1)):
        return None
    first = int(np.argmin((ordered - middle) @ [1.0, -1.0]))
    found: Array = np.roll(ordered, -first, axis=0)
    return found


def _candidate(small: Bytes, colours: Field, corners: Array, sheet_mm: Point) -> _Candidate | None:
    ordered = going_round(corners)
    if ordered is None:
        return None
    size = (small.shape[1], small.shape[0])
    view = view_of_corners(ordered, sheet_mm, size)
    edges = side_edges(small, view, sheet_mm, SMALL_REACH_PX, SMALL_PLACES)
    support = min(edge.support for edge in edges)
    if support < LEAST_SUPPORT:
        return None
    fit = fitted(view, sheet_mm, tuple(edge.points[edge.clear] for edge in edges))
    turned, turned_mm = _upright(fit.view, sheet_mm)
    hues = seen_colours((255.0 * np.stack([edge.inside for edge in edges])).astype(np.uint8))
    middles = np.median(hues, axis=1)[:, 1:]
    return _Candidate(
        fit=EdgeFit(view=turned, off_mm=fit.off_mm, weights=fit.weights),
        sheet_mm=turned_mm,
        support=support,
        area=_area(in_picture(turned, sheet_corners(turned_mm))),
        hue_spread=float(np.linalg.norm(middles - np.median(middles, axis=0), axis=1).max()),
        off_proportion=off_proportion(turned),
        clearness=min(_clearness(edge) for edge in edges),
        has_content=_has_content(colours, turned, turned_mm, np.median(hues.reshape(-1, 3), axis=0)),
    )


def _clearness(edge: SideEdge) -> float:
    """How clear a side is: the usual step of colour across it, less how unevenly coloured the sheet is along it.

    The grain of a table makes edges too, but it is as uneven on their inside as on their outside.
    """
    step = float(np.median(np.linalg.norm(edge.inside - edge.outside, axis=1)))
    along = np.diff(edge.inside, axis=0)
    return step - UNEVEN * float(np.median(np.linalg.norm(along, axis=1)))


def _upright(view: View, sheet_mm: Point) -> tuple[View, Point]:
    """The view with the sheet's width across or up the picture, whichever looks right."""
    turned, turned_mm = turned_sheet(view, sheet_mm)
    better = abs(off_proportion(turned)) < abs(off_proportion(view))
    return (turned, turned_mm) if better else (view, sheet_mm)


def _has_content(colours: Field, view: View, sheet_mm: Point, usual: Array) -> bool:
    """Whether something lies on the sheet: a part of its inside that has another colour than along its sides."""
    grid = np.linspace(-0.45, 0.45, 48)
    x, y = np.meshgrid(grid * sheet_mm[0], grid * sheet_mm[1])
    at = np.floor(in_picture(view, np.column_stack((x.ravel(), y.ravel())))).astype(np.int64)
    height, width = colours.shape[:2]
    seen = colours[np.clip(at[:, 1], 0, height - 1), np.clip(at[:, 0], 0, width - 1)]
    away = (seen - usual) * [0.5, 1.0, 1.0]  # shadows change the lightness most
    other = float((np.linalg.norm(away, axis=1) > CONTENT_STEP).mean())
    return CONTENT[0] <= other <= CONTENT[1]


def _chosen(found: list[_Candidate]) -> _Candidate | None:
    """The likeliest; or one inside it that is as likely a sheet and has something on it too, or one around it if it
    has nothing on it. So a sheet on a cutting mat is taken and not the mat, and a sheet and not a card lying on it.
    """
    clearest = max((c.clearness for c in found), default=0.0)
    clear = [c for c in found if c.clearness > max(LEAST_CLEAR, CLEAR_SHARE * clearest)]
    if not clear:
        return None

    def worth(c: _Candidate) -> float:
        return (
            c.support
            + c.clearness / clearest
            + AREA_COUNTS * math.log(c.area)
            - OFF_COUNTS * abs(c.off_proportion)
            - c.hue_spread / SAME_HUE
        )

    best = max(clear, key=worth)
    good = [c for c in clear if abs(c.off_proportion) < DOUBTFUL_OFF and c.hue_spread < SAME_HUE]
    if best.has_content:
        others = [c for c in good if c.has_content and _is_inside(c, best)]
    else:
        others = [c for c in good if c.has_content and _is_inside(best, c)]
    return max(others, key=worth) if others else best


def _is_inside(inner: _Candidate, outer: _Candidate) -> bool:
    """Clear of all four sides: one that shares a side is made of the outer one's sides and something else."""
    corners = in_picture(outer.fit.view, sheet_corners(outer.sheet_mm)).astype(np.float32)
    apart = 0.02 * float(np.sqrt(outer.area))
    mine = in_picture(inner.fit.view, sheet_corners(inner.sheet_mm))
    away = [cv2.pointPolygonTest(corners, (float(x), float(y)), True) for x, y in mine]
    return min(away) > apart


def _why_none(small: Bytes, colours: Field, sheet_mm: Point) -> Refused:
    """The sheet is not in view if the picture's border makes up what is missing of it and its other sides are clear."""
    size = np.array([small.shape[1], small.shape[0]])
    for corners in quadrilaterals(colours, with_border=True):
        ordered = going_round(corners)
        if ordered is None:
            continue
        after = np.roll(ordered, -1, axis=0)
        low = np.maximum(np.abs(ordered), np.abs(after)) < BORDER_PX
        high = np.maximum(np.abs(ordered - size), np.abs(after - size)) < BORDER_PX
        on_border = np.any(low | high, axis=1)
        if not 1 <= on_border.sum() <= 3:
            continue
        view = view_of_corners(ordered, sheet_mm, (int(size[0]), int(size[1])))
        edges = side_edges(small, view, sheet_mm, SMALL_REACH_PX, SMALL_PLACES)
        seen = [edge for edge, hidden in zip(edges, on_border, strict=True) if not hidden]
        if all(edge.support > CUT_SUPPORT and _clearness(edge) > CUT_CLEAR for edge in seen):
            return Refused(code="sheet not in view")
    return Refused(code="no sheet")


def _straight(view: View, sheet_mm: Point, side: int) -> Array:
    corners = sheet_corners(sheet_mm)
    share = np.linspace(0.05, 0.95, 2 * LEAST_POINTS)[:, None]
    return in_picture(view, corners[side] + share * (corners[(side + 1) % 4] - corners[side]))


def _scaled(view: View, size: tuple[int, int]) -> View:
    """The same view in the picture at another size: its plane and bow do not depend on the pixels."""
    return View(plane=view.plane, bow=view.bow, size=size)


def _sheet(fit: EdgeFit, sheet_mm: Point, blur_px: float, *, held: bool) -> Sheet:
    return Sheet(
        view=fit.view,
        sheet_mm=sheet_mm,
        off_mm=tuple(off[weight > 0.0] for off, weight in zip(fit.off_mm, fit.weights, strict=True)),
        off_proportion=off_proportion(fit.view),
        blur_px=blur_px,
        held=held,
    )


def _area(corners: Array) -> float:
    after = np.roll(corners, -1, axis=0)
    return abs(0.5 * float((corners[:, 0] * after[:, 1] - after[:, 0] * corners[:, 1]).sum()))
