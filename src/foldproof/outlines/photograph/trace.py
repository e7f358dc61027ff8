"""The trace drawn over the photograph, for checking by eye."""

from __future__ import annotations

import cv2
import numpy as np

from foldproof.geometry.outline import points_of
from foldproof.geometry.plane import Array, Point
from foldproof.outlines.photograph.decoding import Bytes, decoded
from foldproof.outlines.photograph.records import Photographed
from foldproof.outlines.photograph.refusals import Refused
from foldproof.outlines.photograph.view import in_picture, sheet_corners

MOST_PX = 1600  # long side of the picture that is drawn: a screen's
TRACE = (180, 0, 255)  # blue, green, red: a pink that no wood and little card has
SHEET = (255, 160, 0)  # a blue
DARK = (0, 0, 0)
SIDE_POINTS = 24  # along each side of the sheet, which the lens bows
SHIFT = 4  # binary places to which lines are drawn between pixels


def picture_of_trace(data: bytes, read: Photographed | Refused, *, most_px: int = MOST_PX) -> bytes | None:
    """A PNG of the photograph in ``data`` with the outline and the sheet's edges drawn over it, at most so large.

    ``read`` is what ``read_photograph`` gave for the same file; of a refusal the sheet's corners are drawn where they
    were found. None when the file cannot be decoded.
    """
    picture = decoded(data)
    if isinstance(picture, Refused):
        return None
    width, height = picture.size
    scale = min(1.0, most_px / max(width, height))
    size = (max(1, round(width * scale)), max(1, round(height * scale)))
    shown = np.asarray(cv2.resize(picture.pixels, size, interpolation=cv2.INTER_AREA), np.uint8)
    if isinstance(read, Photographed):
        share = np.linspace(0.0, 1.0, SIDE_POINTS, endpoint=False)[:, None]
        corners = sheet_corners(read.sheet_mm)
        sides = [a + share * (b - a) for a, b in zip(corners, np.roll(corners, -1, axis=0), strict=True)]
        _closed(shown, in_picture(read.view, np.concatenate(sides)) * scale, SHEET)
        outline = points_of(read.outline) + np.array(read.middle_mm)
        _closed(shown, in_picture(read.view, outline) * scale, TRACE)
    _numbered(shown, read.corners_px, scale / picture.shrunk)
    made, png = cv2.imencode(".png", shown, [cv2.IMWRITE_PNG_COMPRESSION, 4])
    assert made, "a picture of bytes can be written as PNG"
    return bytes(png)


def _closed(shown: Bytes, pixels: Array, colour: tuple[int, int, int]) -> None:
    """A closed line, dark beneath so that it shows on pink card too."""
    places = np.round((pixels - 0.5) * 2**SHIFT).astype(np.int32)[:, None, :]
    for tint, wide in ((DARK, 4), (colour, 2)):
        cv2.polylines(shown, [places], True, tint, wide, cv2.LINE_AA, SHIFT)


def _numbered(shown: Bytes, corners: tuple[Point, ...], scale: float) -> None:
    """The sheet's corners as rings with the numbers 1 to 4, so that they can be talked about."""
    for number, (x, y) in enumerate(corners, start=1):
        at = (round(x * scale), round(y * scale))
        place = (at[0] + 8, at[1] - 8)
        for tint, wide in ((DARK, 4), (SHEET, 2)):
            cv2.circle(shown, at, 9, tint, wide, cv2.LINE_AA)
            cv2.putText(shown, str(number), place, cv2.FONT_HERSHEY_SIMPLEX, 0.7, tint, wide, cv2.LINE_AA)
