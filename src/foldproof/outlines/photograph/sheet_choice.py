"""Which quadrilateral of a picture is the sheet, or why none is."""

from __future__ import annotations

import math
from dataclasses import dataclass, replace

import cv2
import numpy as np

from foldproof.geometry.outline import enclosed_mm2
from foldproof.geometry.plane import Array, Point
from foldproof.outlines.photograph.decoding import Bytes
from foldproof.outlines.photograph.light import FULL, Field, Light, seen_colours
from foldproof.outlines.photograph.proportion import off_proportion, turned_sheet, unlikely
from foldproof.outlines.photograph.refusals import Refused
from foldproof.outlines.photograph.sheet_edges import SideEdge, side_edges
from foldproof.outlines.photograph.sheet_fit import fitted
from foldproof.outlines.photograph.sheet_lines import BORDER_PX, quadrilaterals
from foldproof.outlines.photograph.view import View, in_picture, sheet_corners, view_of_corners

THIN_PX = 7  # lines thinner than half of this are taken out
REACH_PX = 12.0  # lenses bow the sides of a sheet by up to so much in a picture of 800 pixels
PLACES = 30  # looked at along each side
NEAR_REACH_PX, NEAR_PLACES = 4.0, 160  # the same for the one that is chosen
LEAST_SUPPORT = 0.6  # of a side that must be seen as an edge
LEAST_SIDE_PX, LEAST_BULGE = 1.0, 0.1  # of a quadrilateral: the sine by which a corner turns
OFF_COUNTS = 5.0  # a sheet a fifth off its proportion loses as much as one without any clear side
AREA_COUNTS = 0.3  # of two alike, the larger is the sheet
DOUBTFUL_OFF = 0.03  # Letter for A4 is 9 % off, 12 x 12 in for 30 x 30 cm nothing
SAME_HUE = 14.0  # in a* and b*: the sheet's inside along its sides, in light and shadow
LEAST_CLEAR = 0.02  # in written value 0 to 1: a sheet that stands out less is not told from the table
CLEAR_SHARE = 0.2  # of the clearest one's: a side that is so much fainter is grain or a mark
UNEVEN = 2.0  # how much unevenness counts against a step
CONTENT_STEP, LIGHTNESS_COUNTS = (
    14.0,
    0.5,
)  # in L*a*b*: what lies on a sheet differs by more; shadows by lightness alone
CONTENT = (0.005, 0.75)  # the least and most of a sheet that what lies on it takes
CONTENT_PLACES, CONTENT_SPAN = 48, 0.45  # looked at each way, and how far from the middle, in sizes of the sheet
APART = 0.02  # of its size: a sheet on a mat is so far from the mat's edges
CUT_SUPPORT, CUT_CLEAR = 0.8, 0.12  # of each side that is left of a sheet that runs out of the picture


@dataclass(frozen=True, slots=True, kw_only=True)
class Candidate:
    """A quadrilateral that may be the sheet: its view, the sheet's size across and up, and what speaks for it.

    ``support``: which share of its faintest side is seen as an edge; ``area`` in pixels; ``hue_spread``: how much its
    inside differs in hue from side to side; ``clearness``: of its faintest side; ``has_content``: something lies on it.
    """

    view: View
    sheet_mm: Point
    support: float
    area: float
    hue_spread: float
    off_proportion: float
    clearness: float
    has_content: bool


def chosen_sheet(small: Bytes, sheet_mm: Point) -> Candidate | Refused:
    """The likeliest sheet of a size in a small picture (h, w, 3), or why there is none."""
    # The lines of a cutting mat are many and sharp, and thin: they go, and broad steps stay.
    small = np.asarray(cv2.medianBlur(small, THIN_PX), np.uint8)
    colours = seen_colours(small)
    tried = (_candidate(small, colours, corners, sheet_mm) for corners in quadrilaterals(colours, with_border=False))
    chosen = _chosen([candidate for candidate in tried if candidate is not None])
    return _why_none(small, colours, sheet_mm) if chosen is None else _nearer(small, chosen)


def _nearer(small: Bytes, chosen: Candidate) -> Candidate:
    """The sheet that was chosen, brought nearer to its edges from many places along them."""
    edges = side_edges(small, chosen.view, chosen.sheet_mm, NEAR_REACH_PX, NEAR_PLACES)
    fit = fitted(chosen.view, chosen.sheet_mm, tuple(edge.points[edge.clear] for edge in edges))
    return chosen if fit is None else replace(chosen, view=fit.view)


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
    if np.any(size < LEAST_SIDE_PX) or np.any(-twist < LEAST_BULGE * size * np.roll(size, -1)):
        return None
    first = int(np.argmin((ordered - middle) @ [1.0, -1.0]))
    found: Array = np.roll(ordered, -first, axis=0)
    return found


def upright_sheet(view: View, sheet_mm: Point) -> tuple[View, Point]:
    """The view with the sheet's width across or up the picture, whichever looks right."""
    turned, turned_mm = turned_sheet(view, sheet_mm)
    better = unlikely(turned) < unlikely(view)
    return (turned, turned_mm) if better else (view, sheet_mm)


def _candidate(small: Bytes, colours: Field, corners: Array, sheet_mm: Point) -> Candidate | None:
    ordered = going_round(corners)
    if ordered is None:
        return None
    size = (small.shape[1], small.shape[0])
    view = view_of_corners(ordered, sheet_mm, size)
    edges = side_edges(small, view, sheet_mm, REACH_PX, PLACES)
    support = min(edge.support for edge in edges)
    if support < LEAST_SUPPORT:
        return None
    fit = fitted(view, sheet_mm, tuple(edge.points[edge.clear] for edge in edges))
    if fit is None:
        return None
    turned, turned_mm = upright_sheet(fit.view, sheet_mm)
    hues = seen_colours((FULL * np.stack([edge.inside for edge in edges])).astype(np.uint8))
    middles = np.median(hues, axis=1)[:, 1:]
    return Candidate(
        view=turned,
        sheet_mm=turned_mm,
        support=support,
        area=abs(enclosed_mm2(in_picture(turned, sheet_corners(turned_mm)))),
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


def _has_content(colours: Field, view: View, sheet_mm: Point, usual: Light) -> bool:
    """Whether something lies on the sheet: a part of its inside that has another colour than along its sides."""
    grid = np.linspace(-CONTENT_SPAN, CONTENT_SPAN, CONTENT_PLACES)
    x, y = np.meshgrid(grid * sheet_mm[0], grid * sheet_mm[1])
    at = np.floor(in_picture(view, np.column_stack((x.ravel(), y.ravel())))).astype(np.int64)
    height, width = colours.shape[:2]
    seen = colours[np.clip(at[:, 1], 0, height - 1), np.clip(at[:, 0], 0, width - 1)]
    away = (seen - usual) * [LIGHTNESS_COUNTS, 1.0, 1.0]
    other = float((np.linalg.norm(away, axis=1) > CONTENT_STEP).mean())
    return CONTENT[0] <= other <= CONTENT[1]


def _chosen(found: list[Candidate]) -> Candidate | None:
    """The likeliest; or one inside it that is as likely a sheet and has something on it too, or one around it if it
    has nothing on it. So a sheet on a cutting mat is taken and not the mat, and a sheet and not a card lying on it.
    """
    clearest = max((c.clearness for c in found), default=0.0)
    clear = [c for c in found if c.clearness > max(LEAST_CLEAR, CLEAR_SHARE * clearest)]
    if not clear:
        return None

    def worth(c: Candidate) -> float:
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


def _is_inside(inner: Candidate, outer: Candidate) -> bool:
    """Clear of all four sides: one that shares a side is made of the outer one's sides and something else."""
    corners = in_picture(outer.view, sheet_corners(outer.sheet_mm)).astype(np.float32)
    apart = APART * float(np.sqrt(outer.area))
    mine = in_picture(inner.view, sheet_corners(inner.sheet_mm))
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
        edges = side_edges(small, view, sheet_mm, REACH_PX, PLACES)
        seen = [edge for edge, hidden in zip(edges, on_border, strict=True) if not hidden]
        if all(edge.support > CUT_SUPPORT and _clearness(edge) > CUT_CLEAR for edge in seen):
            return Refused(code="sheet not in view")
    return Refused(code="no sheet")
