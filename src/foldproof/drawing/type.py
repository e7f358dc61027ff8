"""Setting one line of text: glyphs in place, with real fractions that still read as typed.

What the face of a line lacks comes from a face of another script, joined and running its own way; what no face has is
told by its name in brackets. A fraction is typed '3 1/4' and set as a whole number, a thin gap, raised and lowered
figures about a slash. Every glyph keeps the text it stands for, the gap its space: copied text reads '3 1/4' and never
'31/4'.
"""

from __future__ import annotations

import math
import re
import unicodedata
from dataclasses import dataclass, replace
from functools import cache, lru_cache
from itertools import pairwise
from typing import TYPE_CHECKING

from foldproof.drawing import scripts
from foldproof.drawing.fonts import (
    UNITS_PER_EM,
    advance,
    fraction_digit,
    glyph_of,
    glyph_outline,
    kerning,
)
from foldproof.drawing.records import Label, TextRole
from foldproof.drawing.stretches import JOINERS, Stretch, stretches
from foldproof.drawing.style import MM_PER_PT, TEXTS, Face
from foldproof.drawing.wording import one_line

if TYPE_CHECKING:
    import numpy as np
    from numpy.typing import NDArray

DENOMINATORS = "2|3|4|5|8|16|32|64"  # of rulers and of thirds and fifths; '11/12' is two numbers
FRACTION_SLASH = "\u2044"
FRACTION = re.compile(
    rf"(?<![\d/.,{FRACTION_SLASH}])(?:(?P<whole>\d+)(?P<gap>[ \u00a0\u2009\u202f]))?"
    rf"(?P<above>\d{{1,2}})[/{FRACTION_SLASH}](?P<below>{DENOMINATORS})(?![\d/{FRACTION_SLASH}]|[.,]\d)"
)
# Runs from left to right as one number, also in a line that runs to the left.
SIZE = re.compile(rf"(?:{FRACTION.pattern}|(?<![\d.,])\d+(?:[.,]\d+)?)(?: (?:in|cm|mm)\b)?")
FRACTION_GAP = 50  # thousandths of an em between a whole number and its fraction: parted, yet one number
FRACTION_SCALE = 1.17  # of the size of the line: sixteenths are read at arm's length, without a magnifier

MIRRORED = dict(zip("()[]{}<>«»", ")(][}{><»«", strict=True))

LINES_KEPT = 2048  # set lines remembered: each is measured first and set later, on paper, as a picture, on a page

LETTERS = {"moveTo": "M", "lineTo": "L", "closePath": "Z"}  # of path data, by the pen's moves
TENTHS = "%.1f %.1f"  # of a thousandth of an em: finer than any printer

UnitPoint = tuple[float, float]
Matrix = tuple[float, float, float, float, float, float]


@dataclass(frozen=True, slots=True, kw_only=True)
class Glyph:
    """A glyph at ``x`` from the start of its line, in thousandths of an em, and the text it stands for.

    It is drawn at ``scale`` times the size of the line, ``y`` above it, in the line's own face where ``face`` is "".
    Of glyphs that draw one letter together all but one stand for no text.
    """

    name: str
    x: float
    text: str
    scale: float = 1.0
    y: float = 0.0
    face: str = ""


@dataclass(frozen=True, slots=True, kw_only=True)
class SetLine:
    """A line of text set in one face, its glyphs from left to right; ``width`` in thousandths of an em."""

    text: str
    face: Face
    glyphs: tuple[Glyph, ...]
    width: float


@lru_cache(maxsize=LINES_KEPT)
def set_line(text: str, role: TextRole) -> SetLine:
    """Sets ``text`` in the face of its role, and what that lacks in others."""
    face = TEXTS[role].face
    shown = one_line(text)
    glyphs: list[Glyph] = []
    pen = 0.0
    for stretch in stretches(shown, face, SIZE.sub(lambda size: "0" * len(size.group()), shown)):
        pen = _other(stretch, pen, glyphs) if stretch.face else _own(face, stretch, pen, glyphs)
    return SetLine(text=shown, face=face, glyphs=tuple(glyphs), width=pen)


def _other(stretch: Stretch, pen: float, glyphs: list[Glyph]) -> float:
    """Appends a stretch in a face of another script; gives the pen's new place."""
    shaped, width = scripts.shaped(stretch.face, stretch.text, leftwards=stretch.leftwards)
    glyphs += [Glyph(name=one.name, x=pen + one.x, text=one.text, y=one.y, face=stretch.face) for one in shaped]
    return pen + width


def _own(face: Face, stretch: Stretch, pen: float, glyphs: list[Glyph]) -> float:
    """Appends a stretch in the line's own face."""
    told: list[Glyph] = []
    if stretch.stands_for:
        pen = _run(face, stretch.text, pen, told)
        glyphs += [replace(one, text="" if number else stretch.stands_for) for number, one in enumerate(told)]
        return pen
    if stretch.leftwards:  # only stops and spaces run to the left in a face of letters that run to the right
        for char in reversed(stretch.text):
            told.clear()
            pen = _run(face, MIRRORED.get(char, char), pen, told)
            glyphs += [replace(one, text=char) for one in told]
        return pen
    done = 0
    for found in FRACTION.finditer(stretch.text):
        pen = _run(face, stretch.text[done : found.start()], pen, glyphs)
        pen = _fraction(face, found, pen, glyphs)
        done = found.end()
    return _run(face, stretch.text[done:], pen, glyphs)


def text_width_mm(text: str, role: TextRole, size_pt: float) -> float:
    """How long ``text`` is on paper when set at ``size_pt``."""
    return set_line(text, role).width * _mm_per_unit(size_pt)


def placed(label: Label) -> tuple[SetLine, Matrix]:
    """The set line of a label, and the matrix (a, b, c, d, e, f) from font units to page millimetres."""
    assert math.isfinite(label.at[0]) and math.isfinite(label.at[1]), f"label {label.text!r} lies nowhere"
    assert math.isfinite(label.angle_deg) and label.size_pt > 0, f"label {label.text!r} cannot be set"
    line = set_line(label.text, label.role)
    unit = _mm_per_unit(label.size_pt)
    turn = math.radians(label.angle_deg)
    a, b = unit * math.cos(turn), unit * math.sin(turn)
    back = line.width * {"start": 0.0, "middle": 0.5, "end": 1.0}[label.anchor]
    return line, (a, b, -b, a, label.at[0] - back * a, label.at[1] - back * b)


@lru_cache(maxsize=LINES_KEPT)
def outline_data(line: SetLine) -> str:
    """The outlines of a line as path data in the letters that SVG uses, in font units, y up."""
    import numpy as np

    outlines = [_glyph_path(glyph.face, line.face, glyph.name) for glyph in line.glyphs]
    if not outlines:
        return ""
    sizes = [len(outline.first) for outline in outlines]
    scales = np.repeat([glyph.scale for glyph in line.glyphs], sizes)[:, None]
    starts = np.repeat([(glyph.x, glyph.y) for glyph in line.glyphs], sizes, axis=0)
    first, second = (
        np.concatenate(points) * scales + starts
        for points in zip(*((outline.first, outline.second) for outline in outlines), strict=True)
    )
    numbers = tuple(((first + second) / 2.0).ravel().tolist())
    return ("".join([outline.letters for outline in outlines]) % numbers).replace(".0", "")


@dataclass(frozen=True, slots=True, kw_only=True)
class _GlyphPath:
    """Path data of a glyph without its numbers: each point is midway between two points (n, 2) of the outline."""

    letters: str
    first: NDArray[np.float64]
    second: NDArray[np.float64]


@cache
def _glyph_path(other: str, face: Face, name: str) -> _GlyphPath:
    """The path of a glyph of the ``other`` face, or where there is none of the line's own."""
    import numpy as np

    moves = scripts.outline(other, name) if other else glyph_outline(face, name)
    letters: list[str] = []
    between: list[tuple[UnitPoint, UnitPoint]] = []
    for move, points in moves:
        if move == "qCurveTo":
            # A TrueType curve, whose on-curve points midway between controls are left out, with them put in.
            *controls, last = points
            for control, end in zip(controls, [*pairwise(controls), (last, last)], strict=True):
                letters.append(f"Q{TENTHS} {TENTHS}")
                between += [(control, control), end]
        elif move != "endPath":
            letters.append(LETTERS[move] + " ".join([TENTHS] * len(points)))
            between += [(point, point) for point in points]
    places = np.array(between, dtype=float).reshape(-1, 2, 2)
    return _GlyphPath(letters="".join(letters), first=places[:, 0], second=places[:, 1])


def _run(face: Face, text: str, pen: float, glyphs: list[Glyph]) -> float:
    """Appends plain text with kerning; gives the pen's new place."""
    before: str | None = None
    for char in text:
        name = glyph_of(face, " " if unicodedata.category(char) == "Zs" else char)
        if name is None:
            assert char in JOINERS or unicodedata.category(char) in ("Mn", "Me"), f"{face} lacks {char!r}"
            continue  # a mark on a letter that the face draws without it
        pen += kerning(face, before, name) if before else 0
        glyphs.append(Glyph(name=name, x=pen, text=char))
        pen += advance(face, name)
        before = name
    return pen


def _fraction(face: Face, found: re.Match[str], pen: float, glyphs: list[Glyph]) -> float:
    if found["whole"]:
        pen = _run(face, found["whole"], pen, glyphs)
        glyphs.append(Glyph(name=_certain(face, " "), x=pen, text=" "))
        pen += FRACTION_GAP
    names = [fraction_digit(face, _certain(face, digit), "numr") for digit in found["above"]]
    names.append(_certain(face, FRACTION_SLASH))
    names += [fraction_digit(face, _certain(face, digit), "dnom") for digit in found["below"]]
    for name, char in zip(names, f"{found['above']}/{found['below']}", strict=True):
        glyphs.append(Glyph(name=name, x=pen, text=char, scale=FRACTION_SCALE))
        pen += advance(face, name) * FRACTION_SCALE
    return pen


def _certain(face: Face, char: str) -> str:
    name = glyph_of(face, char)
    assert name is not None, f"{face} lacks {char!r}"
    return name


def _mm_per_unit(size_pt: float) -> float:
    return size_pt * MM_PER_PT / UNITS_PER_EM
