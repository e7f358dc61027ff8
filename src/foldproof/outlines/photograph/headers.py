"""What a picture file says of itself, read without decoding it: format, size, which way is up, whether it is whole."""

from __future__ import annotations

import struct
from dataclasses import dataclass
from typing import Literal

from foldproof.outlines.photograph.refusals import MOST_MEGABYTES, MOST_MEGAPIXELS, Refused

Format = Literal["JPEG", "PNG", "WebP"]

PNG_START = b"\x89PNG\r\n\x1a\n"
ORIENTATION_TAG = 0x0112
MOST_LONG_PX = 32_000.0  # the picture library counts no further in one direction
MOST_TAGS = 512  # a first directory of EXIF has some twenty
MOST_CHUNKS = 100_000  # of a file, and segments of a JPEG: a photograph in pieces of 8 KB has some thousands
BARE_MARKERS = {0x01, *range(0xD0, 0xD8)}  # JPEG markers without a length
FRAMES = {*range(0xC0, 0xD0)} - {0xC4, 0xC8, 0xCC}  # JPEG markers that give the size (ITU-T T.81, table B.1)

# Other pictures, by where their name stands in the file; said by name so that the remedy makes sense.
FOREIGN: tuple[tuple[int, bytes, str], ...] = (
    (4, b"ftypheic", "HEIC"),
    (4, b"ftypheix", "HEIC"),
    (4, b"ftyphevc", "HEIC"),
    (4, b"ftypmif1", "HEIC"),
    (4, b"ftypmsf1", "HEIC"),
    (4, b"ftypavif", "AVIF"),
    (0, b"GIF8", "GIF"),
    (0, b"BM", "BMP"),
    (0, b"II*\x00", "TIFF or camera raw"),
    (0, b"MM\x00*", "TIFF or camera raw"),
    (0, b"%PDF", "PDF"),
    (0, b"\x00\x00\x00\x0cjP  ", "JPEG 2000"),
)


@dataclass(frozen=True, slots=True, kw_only=True)
class Header:
    """Size in pixels as stored, and the EXIF orientation 1 to 8 that turns it upright."""

    format: Format
    width: int
    height: int
    orientation: int


def read_header(data: bytes) -> Header | Refused:
    """The header of a picture file, or why the file is not decoded.

    Formats as published: JPEG in ITU-T T.81 annex B, EXIF in CIPA DC-008, PNG by the W3C, WebP in RFC 9649.
    """
    if not data:
        return Refused(code="empty")
    if len(data) > MOST_MEGABYTES * 1e6:
        values = (("found", len(data) / 1e6), ("most", MOST_MEGABYTES), ("unit", "megabytes"))
        return Refused(code="too large", values=values)
    if data.startswith(b"\xff\xd8\xff"):
        found = _jpeg(data)
    elif data.startswith(PNG_START):
        found = _png(data)
    elif data[:4] == b"RIFF" and data[8:12] == b"WEBP":
        found = _webp(data)
    else:
        names = [name for at, mark, name in FOREIGN if data[at : at + len(mark)] == mark]
        return Refused(code="format", values=(("found", names[0]),)) if names else Refused(code="not an image")
    if isinstance(found, Refused):
        return found
    if found.width * found.height > MOST_MEGAPIXELS * 1e6:
        megapixels = found.width * found.height / 1e6
        values = (("found", megapixels), ("most", MOST_MEGAPIXELS), ("unit", "megapixels"))
        return Refused(code="too large", values=values)
    if max(found.width, found.height) > MOST_LONG_PX:
        values = (("found", float(max(found.width, found.height))), ("most", MOST_LONG_PX), ("unit", "pixels in a row"))
        return Refused(code="too large", values=values)
    return found if found.width > 0 and found.height > 0 else Refused(code="damaged")


def _jpeg(data: bytes) -> Header | Refused:
    """Walks the segments up to the first scan, then looks for the mark that ends a picture."""
    at, size, orientation = 2, None, 1
    for _ in range(MOST_CHUNKS):
        if at + 4 > len(data):
            return Refused(code="truncated")
        if data[at] != 0xFF:
            return Refused(code="damaged")
        marker = data[at + 1]
        if marker == 0xFF or marker in BARE_MARKERS:  # bytes that fill up, and markers that stand alone
            at += 1 if marker == 0xFF else 2
            continue
        (length,) = struct.unpack_from(">H", data, at + 2)
        body = data[at + 4 : at + 2 + length]
        if length < 2:
            return Refused(code="damaged")
        if at + 2 + length > len(data):
            return Refused(code="truncated")
        if marker in FRAMES and len(body) >= 5:
            height, width = struct.unpack_from(">HH", body, 1)
            size = (width, height)
        if marker == 0xE1 and body.startswith(b"Exif\x00\x00"):
            orientation = exif_orientation(body[6:])
        at += 2 + length
        if marker == 0xDA:
            break
    else:
        return Refused(code="damaged")
    if size is None:
        return Refused(code="damaged")
    # Inside the coded data a byte 0xFF is always followed by 0 or a restart mark, so this is the true end.
    if data.find(b"\xff\xd9", at) < 0:
        return Refused(code="truncated")
    return Header(format="JPEG", width=size[0], height=size[1], orientation=orientation)


def _png(data: bytes) -> Header | Refused:
    at, size, orientation = len(PNG_START), None, 1
    for _ in range(MOST_CHUNKS):
        if at + 12 > len(data):
            return Refused(code="truncated")
        length, name = struct.unpack_from(">I4s", data, at)
        if at + 12 + length > len(data):
            return Refused(code="truncated")
        if name == b"IHDR" and length >= 8:
            size = struct.unpack_from(">II", data, at + 8)
        if name == b"eXIf":
            orientation = exif_orientation(data[at + 8 : at + 8 + length])
        if name == b"IEND":
            break
        at += 12 + length
    if size is None:
        return Refused(code="damaged")
    return Header(format="PNG", width=size[0], height=size[1], orientation=orientation)


def _webp(data: bytes) -> Header | Refused:
    (whole,) = struct.unpack_from("<I", data, 4)
    if len(data) < 30 or 8 + whole > len(data):
        return Refused(code="truncated")
    at, size, orientation = 12, None, 1
    for _ in range(MOST_CHUNKS):
        if at + 18 > len(data):
            break
        name, length = struct.unpack_from("<4sI", data, at)
        size = size or _webp_size(name, data[at + 8 : at + 18])
        if name == b"EXIF":
            tags = data[at + 8 : at + 8 + length]
            orientation = exif_orientation(tags[6:] if tags.startswith(b"Exif\x00\x00") else tags)
        at += 8 + length + length % 2
    if size is None:
        return Refused(code="damaged")
    return Header(format="WebP", width=size[0], height=size[1], orientation=orientation)


def _webp_size(name: bytes, body: bytes) -> tuple[int, int] | None:
    """Width and height from the first bytes of a chunk that holds them (RFC 9649, sections 2.5 to 2.7)."""
    if name == b"VP8X":
        return (1 + int.from_bytes(body[4:7], "little"), 1 + int.from_bytes(body[7:10], "little"))
    if name == b"VP8L" and body[0] == 0x2F:
        bits = int.from_bytes(body[1:5], "little")
        return (1 + (bits & 0x3FFF), 1 + (bits >> 14 & 0x3FFF))
    if name == b"VP8 " and body[3:6] == b"\x9d\x01\x2a":
        return (int.from_bytes(body[6:8], "little") & 0x3FFF, int.from_bytes(body[8:10], "little") & 0x3FFF)
    return None


def exif_orientation(tags: bytes) -> int:
    """The orientation 1 to 8 from EXIF's first directory (CIPA DC-008, tag 274); 1 where there is none or nonsense."""
    order = {b"II*\x00": "<", b"MM\x00*": ">"}.get(tags[:4])
    if order is None or len(tags) < 8:
        return 1
    (start,) = struct.unpack_from(order + "I", tags, 4)
    if start + 2 > len(tags):
        return 1
    (count,) = struct.unpack_from(order + "H", tags, start)
    for number in range(min(count, MOST_TAGS)):
        at = start + 2 + 12 * number
        if at + 12 > len(tags):
            return 1
        tag, kind, _, value = struct.unpack_from(order + "HHIH", tags, at)
        if tag == ORIENTATION_TAG:
            return int(value) if kind == 3 and 1 <= value <= 8 else 1
    return 1
