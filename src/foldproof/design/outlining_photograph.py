"""From a photograph on a sheet of known size to a shape: what the tracing says, as a maker is told it."""

from __future__ import annotations

from foldproof.design.outlined import Asked, FromPhotograph, Outlined, with_shape
from foldproof.errors import InputError, Problem, wrong
from foldproof.outlines.cleaning import ACCURACY_MM
from foldproof.outlines.photograph.reading import read_photograph
from foldproof.outlines.photograph.records import Doubt, Photographed
from foldproof.outlines.photograph.refusals import Refused
from foldproof.outlines.photograph.trace import picture_of_trace


def from_photograph(data: bytes, asked: Asked) -> Outlined:
    """The shape in a photograph. Raises InputError when no sheet is named, and with why it cannot be traced."""
    if asked.sheet_mm is None:
        raise wrong("sheet", "", "is missing", "name the sheet under the shape: A4, Letter, 12x12 or '210 x 297'")
    read = read_photograph(
        data,
        *asked.sheet_mm,
        accuracy_mm=asked.accuracy_mm or ACCURACY_MM,
        corners=asked.corners_px or None,
    )
    if isinstance(read, Refused):
        raise _refused(read)
    told = Outlined(kind="photograph", found=(), photograph=_facts(data, read))
    return with_shape(told, read.outline, read.accuracy_mm, asked)


def _facts(data: bytes, read: Photographed) -> FromPhotograph:
    picture = picture_of_trace(data, read)
    assert picture is not None, "what was traced can be decoded"
    return FromPhotograph(
        pixels_per_mm=read.pixels_per_mm,
        farthest_mm=read.farthest_mm,
        corners_px=read.corners_px,
        doubts=tuple(_doubt_words(doubt) for doubt in read.doubts),
        picture=picture,
    )


def _doubt_words(doubt: Doubt) -> str:
    return f"{doubt.reason}; {doubt.remedy}"


def _refused(read: Refused) -> InputError:
    """Why it was not traced, with the sheet's corners where they were found: she can put them right."""
    corners = " ".join(f"{x:.0f},{y:.0f}" for x, y in read.corners_px)
    value = f"the sheet's corners: {corners}" if corners else ""
    return InputError((Problem(field="the file", value=value, reason=read.reason, remedy=read.remedy),))
