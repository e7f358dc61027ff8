"""The faces that travel with every file: glyphs, widths, kerning, and the part of a face a file needs."""

from __future__ import annotations

from dataclasses import dataclass
from functools import cache
from typing import Any

from foldproof.drawing.style import Face
from foldproof.drawing.subsets import Subset, glyph_subset, opened

FACE_FILES: dict[Face, tuple[str, str]] = {
    "serif": ("font_source_serif_pro", "SourceSerifPro-Regular.ttf"),
    "serif_semibold": ("font_source_serif_pro", "SourceSerifPro-Semibold.ttf"),
    "sans": ("font_source_sans_pro", "SourceSansPro-Regular.ttf"),
    "sans_semibold": ("font_source_sans_pro", "SourceSansPro-Semibold.ttf"),
}
UNITS_PER_EM = 1000  # both families are drawn on this grid, which is also that of PDF widths
MISSING = ".notdef"  # every font begins with it; no line uses it


@dataclass(frozen=True, slots=True, kw_only=True)
class Metrics:
    """Figures of a face in thousandths of an em."""

    ascent: int
    descent: int
    cap_height: int
    box: tuple[int, int, int, int]


@cache
def face_font(face: Face) -> Any:
    """The opened font of a face; glyph tables are read when first asked for."""
    from io import BytesIO

    from fontTools.ttLib import TTFont

    font = TTFont(BytesIO(_file(face)), lazy=True, recalcTimestamp=False)
    assert font["head"].unitsPerEm == UNITS_PER_EM, f"{face} is drawn on another grid"
    return font


def _file(face: Face) -> bytes:
    from importlib.resources import files

    package, name = FACE_FILES[face]
    return files(package).joinpath("files", name).read_bytes()


@cache
def glyph_of(face: Face, char: str) -> str | None:
    """The glyph that draws one character, or None when the face has none."""
    found = face_font(face).getBestCmap().get(ord(char))
    return None if found is None else str(found)


@cache
def advance(face: Face, glyph: str) -> int:
    """How far a glyph moves the pen, in thousandths of an em."""
    return int(face_font(face)["hmtx"][glyph][0])


@cache
def fraction_digit(face: Face, digit: str, place: str) -> str:
    """The glyph of a digit made for a fraction: ``place`` is ``numr`` (above) or ``dnom`` (below)."""
    for subtable in _subtables(face, "GSUB", place):
        if digit in (mapping := getattr(subtable, "mapping", {})):
            return str(mapping[digit])
    raise AssertionError(f"{face} has no {place} for {digit}")


@cache
def kerning(face: Face, left: str, right: str) -> int:
    """What a pair of neighbours is moved together (below zero) or apart, in thousandths of an em."""
    for subtable, covered in _pair_tables(face):
        if left not in covered:
            continue
        if subtable.Format == 1:
            for pair in subtable.PairSet[covered[left]].PairValueRecord:
                if pair.SecondGlyph == right:
                    return _x_advance(pair.Value1)
            continue
        first = subtable.ClassDef1.classDefs.get(left, 0)
        second = subtable.ClassDef2.classDefs.get(right, 0)
        return _x_advance(subtable.Class1Record[first].Class2Record[second].Value1)
    return 0


@cache
def glyph_outline(face: Face, glyph: str) -> tuple[tuple[str, tuple[tuple[float, float], ...]], ...]:
    """A glyph's outline as pen moves (moveTo, lineTo, qCurveTo, closePath) in font units, y up."""
    from fontTools.pens.recordingPen import DecomposingRecordingPen

    glyphs = face_font(face).getGlyphSet()
    pen = DecomposingRecordingPen(glyphs)
    glyphs[glyph].draw(pen)
    return tuple((move, tuple(points)) for move, points in pen.value)


def face_metrics(face: Face) -> Metrics:
    font = face_font(face)
    head, hhea = font["head"], font["hhea"]
    return Metrics(
        ascent=int(hhea.ascent),
        descent=int(hhea.descent),
        cap_height=int(font["OS/2"].sCapHeight),
        box=(int(head.xMin), int(head.yMin), int(head.xMax), int(head.yMax)),
    )


def face_name(face: Face) -> str:
    """The PostScript name of a face."""
    return str(face_font(face)["name"].getDebugName(6))


def subset(face: Face, glyphs: frozenset[str]) -> Subset:
    """The part of a face that draws ``glyphs``; the same glyphs give the same bytes."""
    whole = face_font(face)
    return glyph_subset(_face(face), {glyph: int(whole.getGlyphID(glyph)) for glyph in sorted(glyphs | {MISSING})})


@cache
def _face(face: Face) -> Any:
    return opened(_file(face))


@cache
def _pair_tables(face: Face) -> tuple[tuple[Any, dict[str, int]], ...]:
    """The tables of pairs of a face, each with the place of every left glyph that it has."""
    # Contextual subtables have no pairs of their own; what they say is left out.
    return tuple(
        (subtable, {glyph: place for place, glyph in enumerate(subtable.Coverage.glyphs)})
        for subtable in _subtables(face, "GPOS", "kern")
        if hasattr(subtable, "ClassDef1") or hasattr(subtable, "PairSet")
    )


@cache
def _subtables(face: Face, table: str, feature: str) -> list[Any]:
    """Every lookup subtable of a feature of the default script, in the order the font applies them."""
    layout = face_font(face)[table].table
    default = next(record.Script.DefaultLangSys for record in layout.ScriptList.ScriptRecord)
    records = [layout.FeatureList.FeatureRecord[index] for index in default.FeatureIndex]
    lookups = sorted(
        {at for record in records if record.FeatureTag == feature for at in record.Feature.LookupListIndex}
    )
    return [
        getattr(subtable, "ExtSubTable", subtable)
        for at in lookups
        for subtable in layout.LookupList.Lookup[at].SubTable
    ]


def _x_advance(value: Any) -> int:
    return int(getattr(value, "XAdvance", 0) or 0) if value is not None else 0
