"""A picture file as an array, upright."""

from __future__ import annotations

from dataclasses import dataclass

import cv2
import numpy as np
from numpy.typing import NDArray

from foldproof.outlines.photograph.headers import Header, read_header
from foldproof.outlines.photograph.refusals import Refused

Bytes = NDArray[np.uint8]

PLENTY = 32e6  # pixels; above it the picture is worked at half its size, which still has over 8 to the mm on A4


@dataclass(frozen=True, slots=True, kw_only=True)
class Picture:
    """An upright picture (h, w, 3), blue, green, red. ``shrunk``: its pixels are so many pixels of the file's wide.

    Places in it are measured from the top left corner of its top left pixel, so a pixel's middle is at (0.5, 0.5).
    """

    pixels: Bytes
    shrunk: int

    @property
    def size(self) -> tuple[int, int]:
        """Width and height."""
        return (self.pixels.shape[1], self.pixels.shape[0])


def decoded(data: bytes) -> Picture | Refused:
    """The picture in a file, or why it cannot be read."""
    header = read_header(data)
    if isinstance(header, Refused):
        return header
    shrunk = 2 if header.width * header.height > PLENTY else 1
    kind = cv2.IMREAD_REDUCED_COLOR_2 if shrunk == 2 else cv2.IMREAD_COLOR
    try:
        # Turning is done here: which formats the library turns by itself differs from version to version.
        found = cv2.imdecode(np.frombuffer(data, np.uint8), kind | cv2.IMREAD_IGNORE_ORIENTATION)
    except cv2.error:
        return Refused(code="damaged")
    if found is None or not _as_said(header, found.shape, shrunk):
        return Refused(code="damaged")
    return Picture(pixels=upright(np.asarray(found, np.uint8), header.orientation), shrunk=shrunk)


def _as_said(header: Header, shape: tuple[int, ...], shrunk: int) -> bool:
    height, width = shape[:2]
    return abs(width * shrunk - header.width) <= shrunk and abs(height * shrunk - header.height) <= shrunk


def upright(stored: Bytes, orientation: int) -> Bytes:
    """A picture as stored (h, w, 3), turned and mirrored as its EXIF orientation says (CIPA DC-008, tag 274)."""
    turned = stored.transpose(1, 0, 2) if orientation >= 5 else stored
    if orientation in (2, 3, 6, 7):
        turned = turned[:, ::-1]
    if orientation in (3, 4, 7, 8):
        turned = turned[::-1]
    return np.ascontiguousarray(turned)
