"""From the bytes of a photograph to the outline of the shape on the sheet, or why there is none."""

from __future__ import annotations

import math
from collections.abc import Sequence
from dataclasses import dataclass

import numpy as np

from foldproof.errors import InputError, Problem
from foldproof.geometry.outline import points_of, widest_mm
from foldproof.geometry.plane import Point, centre
from foldproof.outlines.cleaning import ACCURACY_MM, Cleaned, cleaned, refuse_accuracy
from foldproof.outlines.own_shape import measures_of
from foldproof.outlines.parameters import LEAST_ACROSS_MM
from foldproof.outlines.photograph.accuracy import estimated
from foldproof.outlines.photograph.decoding import Picture, decoded
from foldproof.outlines.photograph.edge import Edge, Sight, cornered, traced_edge
from foldproof.outlines.photograph.flat import Flat, laid_flat
from foldproof.outlines.photograph.judging import (
    blur_refusal,
    edge_refusal,
    proportion_refusal,
    seen_doubts,
    thin_refusal,
)
from foldproof.outlines.photograph.records import Photographed, Read
from foldproof.outlines.photograph.refusals import Refused
from foldproof.outlines.photograph.shape import Found, find_shape, middle_of
from foldproof.outlines.photograph.sheet import Sheet, find_sheet, pointed_sheet
from foldproof.outlines.photograph.sheet_covered import covered_side
from foldproof.outlines.photograph.thickness import lowered
from foldproof.outlines.photograph.view import in_picture, pixels_per_mm, sheet_corners
from foldproof.outlines.symmetry import TOLERANCE_MM, symmetrised, symmetry_of
from foldproof.progress import Progress, Stopped, unwatched

STAGE = "photograph"
STEPS = 5
LEAST_SHEET_MM, MOST_SHEET_MM = 50.0, 1500.0  # a card for notes to a cutting mat
MOST_THICK_MM = 12.0  # a wooden shape; what is thicker is no card
SHEET_ERROR_MM = 0.3  # how far a sheet's sides may be from their size; common practice, no source
LEAST_PIXELS_PER_MM = 2.0  # 0.1 of a pixel is then 0.05 mm
LEAST_PX = 150  # along the picture's shorter side; with fewer there is nothing to measure
LONGEST = 8.0  # times its shorter side: beyond any wide picture of a sheet
OUTSIDE_SHARE = 0.25  # of the picture, by which a corner that is pointed out may lie beyond it


@dataclass(frozen=True, slots=True, kw_only=True)
class _Traced:
    """The edge, pixels to the mm there, how many blurs a corner may be rounded by, how unsure a thickness makes it, and
    whether its shadow looks like it."""

    edge: Edge
    per_mm: float
    rounded: float
    lifted_mm: float
    like_shade: bool


def read_photograph(
    data: bytes,
    sheet_width_mm: float,
    sheet_height_mm: float,
    *,
    accuracy_mm: float = ACCURACY_MM,
    corners: Sequence[Point] | None = None,
    thickness_mm: float | None = None,
    sheet_error_mm: float = SHEET_ERROR_MM,
    symmetry_mm: float = TOLERANCE_MM,
    progress: Progress = unwatched,
) -> Read:
    """The outline of the one shape on a sheet of known size, from a JPEG, PNG or WebP file.

    The sheet may lie either way. ``accuracy_mm``: how far simplifying may move the outline. ``corners``: where the
    sheet's corners are, in any order, in pixels of the upright picture from its top left corner, when a person has
    pointed them out; the sheet's edges are then looked for near them. ``thickness_mm``: how high the shape's upper
    face stands above the sheet, which makes it look larger; None: thin card. ``sheet_error_mm``: how far the sheet's
    size may be off. ``symmetry_mm``: within which a symmetry is found.
    Raises InputError for sizes, accuracies and corners that cannot be; Stopped when the caller stops it.
    """
    _usable(sheet_width_mm, sheet_height_mm, thickness_mm, corners)
    refuse_accuracy(accuracy_mm, "accuracy")
    _told(progress, 0)
    picture = decoded(data)
    if isinstance(picture, Refused):
        return picture
    if min(picture.size) < LEAST_PX:
        return Refused(code="few pixels", values=(("found", float(min(picture.size))), ("least", float(LEAST_PX))))
    if max(picture.size) > LONGEST * min(picture.size):
        return Refused(code="no sheet")
    _told(progress, 1)
    sheet = _sheet(picture, (sheet_width_mm, sheet_height_mm), corners)
    if isinstance(sheet, Refused):
        return sheet
    _told(progress, 2)
    flat = laid_flat(picture, sheet)
    found = find_shape(flat)
    if isinstance(found, Refused):
        return _with_corners(found, picture, sheet)
    _told(progress, 3)
    made = _traced(picture, sheet, flat, found, thickness_mm, accuracy_mm)
    if isinstance(made, Refused):
        return _with_corners(made, picture, sheet)
    _told(progress, 4)
    read = _photographed(picture, sheet, *made, sheet_error_mm, symmetry_mm)
    _told(progress, STEPS)
    return read


def _told(progress: Progress, done: int) -> None:
    if not progress(STAGE, done, STEPS):
        raise Stopped


def _usable(width_mm: float, height_mm: float, thickness_mm: float | None, corners: Sequence[Point] | None) -> None:
    """InputError with every size and corner that cannot be."""
    problems = [
        Problem(
            field=field,
            value=f"{size:g} mm",
            reason=f"is no size of a sheet between {LEAST_SHEET_MM:g} and {MOST_SHEET_MM:g} mm",
            remedy="give the size of the sheet under the shape, such as 210 mm by 297 mm for A4",
        )
        for field, size in (("sheet width", width_mm), ("sheet height", height_mm))
        if not LEAST_SHEET_MM <= size <= MOST_SHEET_MM
    ]
    if thickness_mm is not None and not 0.0 <= thickness_mm <= MOST_THICK_MM:
        problems.append(
            Problem(
                field="thickness",
                value=f"{thickness_mm:g} mm",
                reason=f"is no thickness between 0 and {MOST_THICK_MM:g} mm",
                remedy="give the thickness of the card, or leave it out for thin card",
            )
        )
    finite = corners is None or all(math.isfinite(value) for point in corners for value in point)
    if corners is not None and (len(corners) != 4 or not finite):
        told = f"{len(corners)} corners" if finite else "a place that is no number"
        problems.append(
            Problem(field="corners", value=told, reason="are not four places", remedy="point out the four corners")
        )
    if problems:
        raise InputError(tuple(problems))


def _sheet(picture: Picture, sheet_mm: Point, corners: Sequence[Point] | None) -> Sheet | Refused:
    if corners is None:
        sheet = find_sheet(picture, sheet_mm)
    else:
        given = np.array(corners, np.float64) / picture.shrunk
        size = np.array(picture.size)
        if np.any(given < -OUTSIDE_SHARE * size) or np.any(given > (1.0 + OUTSIDE_SHARE) * size):
            return Refused(code="corners")
        sheet = pointed_sheet(picture, sheet_mm, given)
    if isinstance(sheet, Refused):
        return sheet
    per_mm = float(pixels_per_mm(sheet.view, np.zeros((1, 2)))[0])
    if per_mm < LEAST_PIXELS_PER_MM:
        values = (("found", per_mm), ("least", LEAST_PIXELS_PER_MM))
        return _with_corners(Refused(code="too small", values=values), picture, sheet)
    refused = blur_refusal(sheet.blur_px / per_mm)
    if refused is None and corners is None:
        refused = proportion_refusal(sheet)
        if refused is None and covered_side(picture.pixels, sheet.view, sheet.sheet_mm):
            refused = Refused(code="side covered")
    return sheet if refused is None else _with_corners(refused, picture, sheet)


def _traced(
    picture: Picture, sheet: Sheet, flat: Flat, found: Found, thickness_mm: float | None, accuracy_mm: float
) -> tuple[_Traced, Cleaned] | Refused:
    """The edge, and the outline cleaned to the accuracy."""
    per_mm = float(pixels_per_mm(sheet.view, np.array([middle_of(flat, found)]))[0])
    sight = Sight(pixels=picture.pixels, view=sheet.view, flat=flat, found=found, per_mm=per_mm, blur_px=sheet.blur_px)
    edge = traced_edge(sight)
    refusal = edge_refusal(edge, found.sheet_burnt)
    if refusal is not None:
        return refusal
    points, rounded = cornered(sight, edge)
    points, lifted = lowered(points, sheet.view, thickness_mm)
    across = widest_mm(points)
    if across < LEAST_ACROSS_MM:
        return Refused(code="shape too small", values=(("found", across), ("least", LEAST_ACROSS_MM)))
    refusal = thin_refusal(points)
    if refusal is not None:
        return refusal
    try:
        clean = cleaned(points, accuracy_mm=accuracy_mm)
    except InputError as error:
        return Refused(code="outline", values=(("found", error.problems[0].reason),))
    traced = _Traced(edge=edge, per_mm=per_mm, rounded=rounded, lifted_mm=lifted, like_shade=found.like_shade)
    return traced, clean


def _photographed(
    picture: Picture,
    sheet: Sheet,
    traced: _Traced,
    clean: Cleaned,
    sheet_error_mm: float,
    symmetry_mm: float,
) -> Photographed:
    middle = centre(clean.outline)
    points = points_of(clean.outline) - np.array(middle)
    outline = tuple((x, y) for x, y in points.tolist())
    estimate = estimated(
        sheet,
        traced.edge,
        points,
        pixels_per_mm=traced.per_mm,
        rounded=traced.rounded,
        cleaned_mm=clean.strayed_mm,
        lifted_mm=traced.lifted_mm,
        sheet_error_mm=sheet_error_mm,
        like_shade=traced.like_shade,
    )
    measures = measures_of(outline)
    symmetry = symmetry_of(outline, tolerance_mm=symmetry_mm)
    return Photographed(
        outline=outline,
        accuracy_mm=estimate.mean_mm,
        farthest_mm=estimate.farthest_mm,
        area_mm2=measures.area_mm2,
        widest_mm=measures.widest_mm,
        narrowest_mm=measures.narrowest_mm,
        pixels_per_mm=traced.per_mm * picture.shrunk,
        blur_mm=traced.edge.blur_mm,
        bow=sheet.view.bow,
        corners_px=_corners(picture, sheet),
        sheet_mm=sheet.sheet_mm,
        symmetry=symmetry,
        evened=symmetrised(outline, symmetry),
        doubts=seen_doubts(sheet, traced.edge, traced.per_mm),
        view=sheet.view,
        middle_mm=middle,
    )


def _corners(picture: Picture, sheet: Sheet) -> tuple[Point, ...]:
    corners = in_picture(sheet.view, sheet_corners(sheet.sheet_mm)) * picture.shrunk
    return tuple((x, y) for x, y in corners.tolist())


def _with_corners(refused: Refused, picture: Picture, sheet: Sheet) -> Refused:
    return Refused(code=refused.code, values=refused.values, corners_px=_corners(picture, sheet))
