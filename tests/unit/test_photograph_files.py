"""Picture files of every kind: formats and orientation tags that are read, and bytes that are no good photograph."""

import struct
import tracemalloc
import zlib
from functools import cache

import cv2
import numpy as np
import pytest

from benchmarks.photograph_cases import scene_of
from benchmarks.photograph_scenes import Bytes, encoded, orientation_segment, painted, stored_as
from foldproof.outlines.photograph.decoding import Picture, decoded
from foldproof.outlines.photograph.headers import Header, exif_orientation, read_header
from foldproof.outlines.photograph.reading import read_photograph
from foldproof.outlines.photograph.records import Photographed
from foldproof.outlines.photograph.refusals import Refused
from foldproof.outlines.photograph.trace import picture_of_trace

PNG = b"\x89PNG\r\n\x1a\n"


@cache
def upright() -> Bytes:
    """A photograph with nothing wrong, not square and not alike any way it is turned."""
    return painted(scene_of("own", "straight from above", (800, 600)))[0]


def as_file(ending: str, picture: Bytes, *options: int) -> bytes:
    made, data = cv2.imencode(ending, picture, list(options))
    assert made
    return bytes(data)


def chunk(name: bytes, body: bytes) -> bytes:
    return struct.pack(">I", len(body)) + name + body + struct.pack(">I", zlib.crc32(name + body))


def png(width: int, height: int, rows: int = 0) -> bytes:
    """A black picture of 8-bit colours with so many of its rows there."""
    head = chunk(b"IHDR", struct.pack(">IIBBBBB", width, height, 8, 2, 0, 0, 0))
    return PNG + head + chunk(b"IDAT", zlib.compress(bytes((1 + 3 * width) * rows), 9)) + chunk(b"IEND", b"")


def frame(data: bytes) -> int:
    """Where a JPEG says its height and width."""
    return data.find(b"\xff\xc0") + 5


@pytest.mark.parametrize("orientation", range(1, 9))
def test_orientation_tags_turn_the_picture_upright(orientation):
    stored = stored_as(upright(), orientation)
    jpeg = encoded(stored, 95)
    exif = orientation_segment(orientation)
    plain = encoded(stored, 0)
    tagged = plain[:-12] + chunk(b"eXIf", exif[10:]) + plain[-12:]
    for data in (jpeg[:2] + exif + jpeg[2:], tagged):
        found = decoded(data)
        assert isinstance(found, Picture) and found.pixels.shape == upright().shape
        assert np.abs(found.pixels.astype(int) - upright()).mean() < 3.0


def formats() -> dict[str, bytes]:
    picture = upright()
    grey = np.asarray(cv2.cvtColor(picture, cv2.COLOR_BGR2GRAY), np.uint8)
    clear = np.dstack((picture, np.full(grey.shape, 255, np.uint8)))
    return {
        "JPEG": as_file(".jpg", picture),
        "JPEG in several scans": as_file(".jpg", picture, cv2.IMWRITE_JPEG_PROGRESSIVE, 1),
        "JPEG in grey": as_file(".jpg", grey),
        "PNG": as_file(".png", picture),
        "PNG in grey": as_file(".png", grey),
        "PNG of 16 bits": as_file(".png", picture.astype(np.uint16) * np.uint16(257)),
        "PNG with alpha": as_file(".png", clear),
        "WebP": as_file(".webp", picture, cv2.IMWRITE_WEBP_QUALITY, 90),
        "WebP without loss": as_file(".webp", picture, cv2.IMWRITE_WEBP_QUALITY, 101),
        "WebP with alpha": as_file(".webp", clear, cv2.IMWRITE_WEBP_QUALITY, 90),
        "JPEG with more behind it": as_file(".jpg", picture) + bytes(1000),
    }


def test_every_format_gives_the_same_picture():
    grey = upright().astype(int) @ [0.114, 0.587, 0.299]
    for name, data in formats().items():
        found = decoded(data)
        assert isinstance(found, Picture), (name, found)
        assert found.pixels.shape == upright().shape and found.pixels.dtype == np.uint8
        there = found.pixels.astype(int) @ [0.114, 0.587, 0.299]
        assert np.abs(there - grey).mean() < 3.0, name


def test_an_outline_is_traced_in_an_unusual_format_too():
    plain, other = (read_photograph(formats()[name], 210.0, 297.0) for name in ("PNG", "JPEG in grey"))
    assert isinstance(plain, Photographed) and isinstance(other, Photographed)
    assert other.area_mm2 == pytest.approx(plain.area_mm2, rel=0.004)


def test_of_moving_pictures_the_first_is_read_or_they_are_refused():
    moving = cv2.Animation()
    moving.frames = [upright(), np.ascontiguousarray(upright()[::-1])]
    moving.durations = np.array([100, 100])
    for ending in (".webp", ".png", ".gif"):
        made, data = cv2.imencodeanimation(ending, moving)
        assert made
        found = decoded(bytes(data))
        if ending == ".gif":
            assert isinstance(found, Refused) and found.code == "format" and "GIF" in found.reason
        else:
            assert isinstance(found, Picture)
            assert np.abs(found.pixels.astype(int) - upright()).mean() < 4.0


@pytest.mark.parametrize(
    ("data", "code"),
    [
        (b"", "empty"),
        (b"hello", "not an image"),
        (bytes(5000), "not an image"),
        (b'<svg xmlns="http://www.w3.org/2000/svg"/>', "not an image"),
        (b"\x00\x00\x00\x18ftypheic" + bytes(50), "format"),
        (b"II*\x00" + bytes(50), "format"),
        (b"%PDF-1.7", "format"),
        (png(60_000, 60_000), "too large"),
        (png(2**31 - 1, 2**31 - 1), "too large"),
        (png(40_000, 10), "too large"),
        (png(0, 10), "damaged"),
        (png(900, 700), "damaged"),
        (png(300, 2, rows=2), "few pixels"),
        (png(3000, 200, rows=200), "no sheet"),
        (png(900, 700, rows=700), "no sheet"),
        (b"\xff\xd8" + b"\xff" * 500_000, "damaged"),
        (b"\xff\xd8" + b"\xff\xe1\x00\x02" * 200_000, "damaged"),
        (b"\xff\xd8\xff\xe1\x00\x00", "damaged"),
        (b"\xff\xd8\xff" + bytes(61_000_000), "too large"),
    ],
)
def test_what_is_no_photograph_is_refused(data, code):
    found = read_photograph(data, 210.0, 297.0)
    assert isinstance(found, Refused) and found.code == code
    assert found.reason and found.remedy
    if code not in ("few pixels", "no sheet"):
        assert picture_of_trace(data, found) is None


@pytest.mark.parametrize("name", ["JPEG", "JPEG in several scans", "PNG", "WebP"])
def test_a_file_that_was_cut_short_is_never_traced(name):
    data = formats()[name]
    for kept in (1, 3, 8, 12, 30, 200, 1000, len(data) // 3, len(data) // 2, len(data) - 100, len(data) - 1):
        found = read_photograph(data[:kept], 210.0, 297.0)
        assert isinstance(found, Refused) and found.code in ("truncated", "not an image"), kept


def test_a_jpeg_that_says_another_size_is_not_unpacked_beyond_bounds():
    data = bytearray(encoded(upright(), 85))
    at = frame(bytes(data))
    data[at : at + 4] = struct.pack(">HH", 60_000, 60_000)
    found = read_photograph(bytes(data), 210.0, 297.0)
    assert isinstance(found, Refused) and found.code == "too large"


def test_bytes_that_were_changed_never_break_it(capfd):
    plain = [encoded(np.asarray(cv2.resize(upright(), (400, 300)), np.uint8), quality) for quality in (80, 0)]
    rng = np.random.default_rng(5)
    for number in range(24):
        data = bytearray(plain[number % 2])
        for _ in range(int(rng.integers(1, 12))):
            data[int(rng.integers(len(data) if number % 3 else 700))] = int(rng.integers(256))
        found = read_photograph(bytes(data), 210.0, 297.0)
        assert isinstance(found, Refused | Photographed)


def test_headers_are_read_without_unpacking():
    tracemalloc.start()
    found = read_header(png(11_900, 10_000))
    peak = tracemalloc.get_traced_memory()[1]
    tracemalloc.stop()
    assert found == Header(format="PNG", width=11_900, height=10_000, orientation=1) and peak < 1_000_000


def test_orientation_tags_that_are_nonsense_count_as_none():
    good = orientation_segment(6)[10:]
    assert exif_orientation(good) == 6
    assert exif_orientation(b"II*\x00" + struct.pack("<IHHHIHH", 8, 1, 0x0112, 3, 1, 8, 0)) == 8
    for bad in (
        b"",
        b"MM\x00*",
        good[:12],
        good.replace(b"\x00\x06\x00\x00", b"\x00\x09\x00\x00"),
        good[:4] + b"\xff" * 40,
    ):
        assert exif_orientation(bad) == 1
