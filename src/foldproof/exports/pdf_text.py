"""Text in PDF: one embedded subset for each face, where every code is a glyph and what it reads as.

A code is given to each pair of glyph and text, so that a raised 3 still reads '3' and a character
that no face has is told by its name but copies out as it was typed.
"""

from __future__ import annotations

import hashlib
from collections.abc import Iterable
from dataclasses import dataclass
from itertools import groupby
from typing import TYPE_CHECKING

from foldproof.drawing import fonts, scripts
from foldproof.drawing.fonts import MISSING
from foldproof.drawing.painting import Lettered
from foldproof.drawing.style import Face
from foldproof.drawing.type import Glyph, SetLine
from foldproof.exports.numbers import decimal

if TYPE_CHECKING:
    import pikepdf

Code = tuple[str, str]  # glyph name, text
SYMBOLIC = 4  # font flag: the codes are the font's own
STEM, HEAVY_STEM = 80, 120  # about; for substitutes only
RANGE_LIMIT = 100  # most lines in one block of a character map (PDF 1.7, 9.7.5.4)


@dataclass(frozen=True, slots=True, kw_only=True)
class Typesetting:
    """The codes of every face in use, numbered from 1 in order of first appearance.

    A face is the paper's own, by its role, or one of another script, by its file and weight.
    """

    codes: dict[str, dict[Code, int]]

    def resource(self, face: str) -> str:
        return f"F{list(self.codes).index(face)}"

    def shown(self, line: SetLine, size_pt: float) -> str:
        """The operators that show a line: codes, and moves where it differs from the glyphs' own widths.

        The pen runs on through changes of size; a move is in thousandths of the size in force.
        """
        operators: list[str] = []
        pen, risen = 0.0, 0.0
        for (face, scale, rise), run in groupby(line.glyphs, key=lambda glyph: (glyph.face, glyph.scale, glyph.y)):
            face = face or line.face
            parts: list[str] = []
            for glyph in run:
                move = decimal((pen - glyph.x) / scale, 2)
                if move != "0":
                    parts.append(move)
                parts.append(f"<{self.codes[face][glyph.name, glyph.text]:04x}>")
                pen = glyph.x + _advance(face, glyph.name) * scale
            if rise != risen:
                operators.append(f"{decimal(rise * size_pt / fonts.UNITS_PER_EM, 4)} Ts")
                risen = rise
            font = f"/{self.resource(face)} {decimal(size_pt * scale, 4)} Tf"
            operators.append(f"{font} [{' '.join(parts)}] TJ".replace("> <", ""))
        if risen:
            operators.append("0 Ts")
        return " ".join(operators)


def typesetting(pieces: Iterable[Lettered]) -> Typesetting:
    codes: dict[str, dict[Code, int]] = {}
    for piece in pieces:
        for glyph in piece.line.glyphs:
            known = codes.setdefault(_face_of(glyph, piece.line), {})
            known.setdefault((glyph.name, glyph.text), len(known) + 1)
    return Typesetting(codes=codes)


def _face_of(glyph: Glyph, line: SetLine) -> str:
    return glyph.face or line.face


def _advance(face: str, glyph: str) -> int:
    own = _own(face)
    return scripts.advance(face, glyph) if own is None else fonts.advance(own, glyph)


def _own(face: str) -> Face | None:
    """The paper's own face of this name, or None for one of another script."""
    return next((own for own in fonts.FACE_FILES if own == face), None)


def embed_faces(pdf: pikepdf.Pdf, setting: Typesetting) -> pikepdf.Dictionary:
    """The font resources of every page."""
    import pikepdf

    return pikepdf.Dictionary(
        {
            f"/{setting.resource(face)}": pdf.make_indirect(_composite(pdf, face, codes))
            for face, codes in setting.codes.items()
        }
    )


def _composite(pdf: pikepdf.Pdf, face: str, codes: dict[Code, int]) -> pikepdf.Dictionary:
    """A Type0 font over a TrueType subset (ISO 32000-1, 9.7)."""
    import pikepdf

    own, glyphs = _own(face), frozenset(glyph for glyph, _ in codes)
    part = scripts.subset(face, glyphs | {MISSING}) if own is None else fonts.subset(own, glyphs)
    tag = hashlib.sha256(part.data).digest()
    plain_name = scripts.face_name(face) if own is None else fonts.face_name(own)
    name = "".join(chr(65 + byte % 26) for byte in tag[:6]) + "+" + plain_name
    glyph_by_code = [MISSING, *(glyph for glyph, _ in codes)]
    places = b"".join(part.places[glyph].to_bytes(2, "big") for glyph in glyph_by_code)
    widths = pikepdf.Array([0, pikepdf.Array([_advance(face, glyph) for glyph in glyph_by_code])])
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


def _descriptor(pdf: pikepdf.Pdf, face: str, name: str, data: bytes) -> pikepdf.Object:
    import pikepdf

    own = _own(face)
    metrics = scripts.heights(face) if own is None else fonts.face_metrics(own)
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
            StemV=HEAVY_STEM if face.endswith(("semibold", str(scripts.SEMIBOLD))) else STEM,
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
