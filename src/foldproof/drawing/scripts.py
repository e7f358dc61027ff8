"""Faces for what the paper's own faces lack: other scripts, signs and little pictures, joined as they are written.

A face here is named by its file and its weight, "NotoSansArabic/600". Measures are in thousandths of an em.
"""

from __future__ import annotations

import unicodedata
from dataclasses import dataclass
from functools import cache
from typing import Any

from foldproof.drawing.subsets import Subset, glyph_subset, opened

PACKAGE = "manimgx_fonts"  # the Noto faces, OFL 1.1
# By the first word of a character's name in Unicode: scripts are in files of their own.
SCRIPT_FILES = {
    "ARABIC": "NotoSansArabic",
    "ARMENIAN": "NotoSansArmenian",
    "BENGALI": "NotoSansBengali",
    "DEVANAGARI": "NotoSansDevanagari",
    "ETHIOPIC": "NotoSansEthiopic",
    "GEORGIAN": "NotoSansGeorgian",
    "GUJARATI": "NotoSansGujarati",
    "GURMUKHI": "NotoSansGurmukhi",
    "HEBREW": "NotoSansHebrew",
    "KANNADA": "NotoSansKannada",
    "KHMER": "NotoSansKhmer",
    "LAO": "NotoSansLao",
    "MALAYALAM": "NotoSansMalayalam",
    "MYANMAR": "NotoSansMyanmar",
    "ORIYA": "NotoSansOriya",
    "SINHALA": "NotoSansSinhala",
    "TAMIL": "NotoSansTamil",
    "TELUGU": "NotoSansTelugu",
    "THAI": "NotoSansThai",
}
ANY_FILES = ("NotoSans", "NotoSansSymbols", "NotoEmoji")  # asked in this order for everything
# In the order in which a compiler that sets running text is to ask them.
FAMILIES = (
    *(file.replace("NotoSans", "Noto Sans ") for file in SCRIPT_FILES.values()),
    "Noto Sans",
    "Noto Sans Symbols",
    "Noto Emoji",
)
EM = 1000
REGULAR, SEMIBOLD = 400, 600
LONGEST_NAME = 24  # characters of a name that still stands in a line

Moves = tuple[tuple[str, tuple[tuple[float, float], ...]], ...]


@dataclass(frozen=True, slots=True, kw_only=True)
class Shaped:
    """One glyph, from the pen of its run: ``x`` and ``y`` where it stands, and the text it stands for, if any."""

    name: str
    x: float
    y: float
    text: str


@dataclass(frozen=True, slots=True, kw_only=True)
class Heights:
    """Ascent, descent, height of a capital, and the box of all glyphs."""

    ascent: int
    descent: int
    cap_height: int
    box: tuple[int, int, int, int]


def other_face(char: str, weight: int = REGULAR) -> str | None:
    """The face that has this character, or None when none of them has."""
    file = _file_of(char)
    return None if file is None else f"{file}/{weight}"


def has(face: str, char: str) -> bool:
    return _font(face).get_nominal_glyph(ord(char)) is not None


def named(char: str) -> str:
    """What stands for a character that no face has: its name in brackets, '[spiral shell]', or its number."""
    name = unicodedata.name(char, "").lower()
    return f"[{name}]" if 0 < len(name) <= LONGEST_NAME else f"[U+{ord(char):04X}]"


@cache
def _file_of(char: str) -> str | None:
    script = SCRIPT_FILES.get(unicodedata.name(char, "").partition(" ")[0])
    files = (*((script,) if script else ()), *ANY_FILES)
    return next((file for file in files if has(f"{file}/{REGULAR}", char)), None)


@cache
def _face(file: str) -> Any:
    from importlib.resources import files

    return opened(files(PACKAGE).joinpath(f"{file}[wght].ttf").read_bytes())


@cache
def _font(face: str) -> Any:
    import uharfbuzz

    file, _, weight = face.partition("/")
    font = uharfbuzz.Font(_face(file))
    font.scale = (EM, EM)
    font.set_variations({"wght": float(weight)})
    return font


@cache
def shaped(face: str, text: str, *, leftwards: bool) -> tuple[tuple[Shaped, ...], float]:
    """One run of one script in one face, glyphs from left to right, and how long it is.

    Letters join, marks find their places, and brackets turn round where the run goes ``leftwards``. Of the glyphs that
    draw one piece of text together the widest carries it.
    """
    import uharfbuzz

    buffer = uharfbuzz.Buffer()
    buffer.add_str(text)
    buffer.guess_segment_properties()
    buffer.direction = "rtl" if leftwards else "ltr"
    buffer.cluster_level = uharfbuzz.BufferClusterLevel.MONOTONE_CHARACTERS
    font = _font(face)
    uharfbuzz.shape(font, buffer)
    infos, places = buffer.glyph_infos, buffer.glyph_positions
    starts = sorted({info.cluster for info in infos})
    ends = dict(zip(starts, [*starts[1:], len(text)], strict=True))
    carriers: dict[int, int] = {}
    for at, (info, place) in enumerate(zip(infos, places, strict=True)):
        if info.cluster not in carriers or place.x_advance > places[carriers[info.cluster]].x_advance:
            carriers[info.cluster] = at
    found: list[Shaped] = []
    pen = 0.0
    for at, (info, place) in enumerate(zip(infos, places, strict=True)):
        carried = text[info.cluster : ends[info.cluster]] if carriers[info.cluster] == at else ""
        name = font.glyph_to_string(info.codepoint)
        found.append(Shaped(name=name, x=pen + place.x_offset, y=float(place.y_offset), text=carried))
        pen += place.x_advance
    return tuple(found), pen


@cache
def advance(face: str, glyph: str) -> int:
    return int(_font(face).get_glyph_h_advance(_number(face, glyph)))


@cache
def outline(face: str, glyph: str) -> Moves:
    """A glyph's outline as pen moves, y up."""
    from fontTools.pens.recordingPen import RecordingPen

    pen = RecordingPen()
    _font(face).draw_glyph_with_pen(_number(face, glyph), pen)
    return tuple((move, tuple(points)) for move, points in pen.value)


def _number(face: str, glyph: str) -> int:
    """A glyph's number in its file; the first one stands for nothing and is called .notdef in every file."""
    return 0 if glyph == ".notdef" else int(_font(face).glyph_from_string(glyph))


def heights(face: str) -> Heights:
    font = _font(face)
    extents = font.get_font_extents("ltr")
    tall = font.get_glyph_extents(font.get_nominal_glyph(ord("H")) or 0)
    cap_height = int(tall.y_bearing) if tall is not None else EM
    ascent, descent = int(extents.ascender), int(extents.descender)
    return Heights(ascent=ascent, descent=descent, cap_height=cap_height, box=(0, descent, EM, ascent))


def face_name(face: str) -> str:
    """A PostScript name: letters, digits and a hyphen."""
    file, _, weight = face.partition("/")
    return f"{file}-{'Regular' if int(weight) == REGULAR else 'SemiBold'}"


def subset(face: str, glyphs: frozenset[str]) -> Subset:
    """The part of a face that draws ``glyphs``, in its one weight."""
    file, _, weight = face.partition("/")
    return glyph_subset(_face(file), {glyph: _number(face, glyph) for glyph in sorted(glyphs)}, int(weight))
