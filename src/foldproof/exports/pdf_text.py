"""Text in PDF: one embedded subset for each face, where every code is a glyph and what it reads as.

A code is given to each pair of glyph and text, so that a raised 3 still reads '3' and a character
that the face lacks is drawn as a crossed box but copies out as it was typed.
"""

from __future__ import annotations

import hashlib
from collections.abc import Iterable
from dataclasses import dataclass
from itertools import groupby
from typing import TYPE_CHECKING

from foldproof.drawing.fonts import MISSING, advance, face_metrics, face_name, subset
from foldproof.drawing.painting import Lettered
from foldproof.drawing.style import Face
from foldproof.drawing.type import SetLine
from foldproof.exports.numbers import decimal

if TYPE_CHECKING:
    import pikepdf

Code = tuple[str, str]  # glyph name, text
SYMBOLIC = 4  # font flag: the codes are the font's own
STEM = {"serif": 80, "serif_semibold": 120, "sans": 80, "sans_semibold": 120}  # about; for substitutes only
RANGE_LIMIT = 100  # most lines in one block of a character map (PDF 1.7, 9.7.5.4)


@dataclass(frozen=True, slots=True, kw_only=True)
class Typesetting:
    """The codes of every face in use, numbered from 1 in order of first appearance."""

    codes: dict[Face, dict[Code, int]]

    def resource(self, face: Face) -> str:
        return f"F{list(self.codes).index(face)}"

    def shown(self, line: SetLine, size_pt: float) -> str:
        """The operators that show a line: codes, and moves where it differs from the glyphs' own widths.

        The pen runs on through changes of size; a move is in thousandths of the size in force.
        """
        codes = self.codes[line.face]
        operators: list[str] = []
        pen = 0.0
        for scale, run in groupby(line.glyphs, key=lambda glyph: glyph.scale):
            parts: list[str] = []
            for glyph in run:
                move = decimal((pen - glyph.x) / scale, 2)
                if move != "0":
                    parts.append(move)
                parts.append(f"<{codes[glyph.name, glyph.text]:04x}>")
                pen = glyph.x + advance(line.face, glyph.name) * scale
            font = f"/{self.resource(line.face)} {decimal(size_pt * scale, 4)} Tf"
            operators.append(f"{font} [{' '.join(parts)}] TJ".replace("> <", ""))
        return " ".join(operators)


def typesetting(pieces: Iterable[Lettered]) -> Typesetting:
    codes: dict[Face, dict[Code, int]] = {}
    for piece in pieces:
        known = codes.setdefault(piece.line.face, {})
        for glyph in piece.line.glyphs:
            known.setdefault((glyph.name, glyph.text), len(known) + 1)
    return Typesetting(codes=codes)


def embed_faces(pdf: pikepdf.Pdf, setting: Typesetting) -> pikepdf.Dictionary:
    """The font resources of every page."""
    import pikepdf

    return pikepdf.Dictionary(
        {
            f"/{setting.resource(face)}": pdf.make_indirect(_composite(pdf, face, codes))
            for face, codes in setting.codes.items()
        }
    )


def _composite(pdf: pikepdf.Pdf, face: Face, codes: dict[Code, int]) -> pikepdf.Dictionary:
    """A Type0 font over a TrueType subset (ISO 32000-1, 9.7)."""
    import pikepdf

    part = subset(face, frozenset(glyph for glyph, _ in codes))
    tag = hashlib.sha256(part.data).digest()
    name = "".join(chr(65 + byte % 26) for byte in tag[:6]) + "+" + face_name(face)
    glyph_by_code = [MISSING, *(glyph for glyph, _ in codes)]
    places = b"".join(part.places[glyph].to_bytes(2, "big") for glyph in glyph_by_code)
    widths = pikepdf.Array([0, pikepdf.Array([advance(face, glyph) for glyph in glyph_by_code])])
    return pikepdf.Dictionary(
        Type=pikepdf.Name.Font,
        Subtype=pikepdf.Name.Type0,
        BaseFont=pikepdf.Name(f"/{name}"),
        Encoding=pikepdf.Name("/Identity-H"),
        ToUnicode=pdf.make_stream(_to_unicode(codes).encode("ascii")),
        DescendantFonts=pikepdf.Array(
            [
                pdf.make_indirect(
                    pikepdf.Dictionary(
                        Type=pikepdf.Name.Font,
                        Subtype=pikepdf.Name.CIDFontType2,
                        BaseFont=pikepdf.Name(f"/{name}"),
                        CIDSystemInfo=pikepdf.Dictionary(
                            Registry=pikepdf.String("Adobe"),
                            Ordering=pikepdf.String("Identity"),
                            Supplement=0,
                        ),
                        FontDescriptor=_descriptor(pdf, face, name, part.data),
                        W=widths,
                        CIDToGIDMap=pdf.make_stream(places),
                    )
                )
            ]
        ),
    )


def _descriptor(pdf: pikepdf.Pdf, face: Face, name: str, data: bytes) -> pikepdf.Object:
    import pikepdf

    metrics = face_metrics(face)
    program = pdf.make_stream(data)
    program.Length1 = len(data)
    return pdf.make_indirect(
        pikepdf.Dictionary(
            Type=pikepdf.Name.FontDescriptor,
            FontName=pikepdf.Name(f"/{name}"),
            Flags=SYMBOLIC,
            FontBBox=pikepdf.Array(list(metrics.box)),
            ItalicAngle=0,
            Ascent=metrics.ascent,
            Descent=metrics.descent,
            CapHeight=metrics.cap_height,
            StemV=STEM[face],
            FontFile2=program,
        )
    )


def _to_unicode(codes: dict[Code, int]) -> str:
    """The character map from codes to text (ISO 32000-1, 9.10.3)."""
    lines = [f"<{code:04x}> <{text.encode('utf-16-be').hex()}>" for (_, text), code in codes.items()]
    blocks = [lines[at : at + RANGE_LIMIT] for at in range(0, len(lines), RANGE_LIMIT)]
    body = "\n".join(f"{len(block)} beginbfchar\n" + "\n".join(block) + "\nendbfchar" for block in blocks)
    return (
        "/CIDInit /ProcSet findresource begin\n12 dict begin\nbegincmap\n"
        "/CIDSystemInfo << /Registry (Adobe) /Ordering (UCS) /Supplement 0 >> def\n"
        "/CMapName /Adobe-Identity-UCS def\n/CMapType 2 def\n"
        "1 begincodespacerange\n<0000> <ffff>\nendcodespacerange\n"
        f"{body}\nendcmap\nCMapName currentdict /CMap defineresource pop\nend\nend\n"
    )
