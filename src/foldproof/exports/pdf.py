"""A folio as one PDF at true size, with a layer for each processing step of ISO 19593-1.

The same folio and document id give the same bytes: no dates, no chance. Text reads back as typed.
"""

from __future__ import annotations

import hashlib
import html
import math
from collections.abc import Mapping, Sequence
from itertools import groupby
from typing import TYPE_CHECKING

from foldproof.drawing.painting import Dotted, Inked, Lettered, Painted, painted
from foldproof.drawing.records import Folio, Page, Point
from foldproof.drawing.style import (
    MM_PER_PT,
    PROCESS_STEPS,
    SEA_GREEN,
    Palette,
    ProcessStep,
    channels,
)
from foldproof.drawing.wording import one_line
from foldproof.exports.numbers import decimal, decimals
from foldproof.exports.pdf_text import Typesetting, embed_faces, typesetting

if TYPE_CHECKING:
    import pikepdf

PLACES = 4  # decimals of a point: finer than a ten-thousandth of a millimetre
CAPS = {"butt": 0, "round": 1}


def folio_pdf(folio: Folio, *, document_id: bytes, palette: Palette = SEA_GREEN) -> bytes:
    """The pages of ``folio`` as a PDF 1.7 file at true size.

    ``document_id`` (say, a hash of the project) names the document in its trailer. Every processing step that
    occurs is an optional content group, switched on; a page is a figure whose alternate text is its ``alt``.
    """
    import io

    import pikepdf

    pdf = pikepdf.new()
    drawn = [painted(page, palette) for page in folio.pages]
    used = {piece.step for pieces in drawn for piece in pieces}
    steps = [step for step in PROCESS_STEPS if step in used]
    layers = {step: pdf.make_indirect(_layer(step)) for step in steps}
    setting = typesetting(piece for pieces in drawn for piece in pieces if isinstance(piece, Lettered))
    fonts = embed_faces(pdf, setting)
    structure = pdf.make_indirect(pikepdf.Dictionary(Type=pikepdf.Name.StructTreeRoot))
    figures = [
        _add_page(pdf, page, pieces, index, layers=layers, fonts=fonts, setting=setting, structure=structure)
        for index, (page, pieces) in enumerate(zip(folio.pages, drawn, strict=True))
    ]
    _finish_structure(pdf, structure, figures)
    _describe(pdf, folio, list(layers.values()))
    first_id = hashlib.sha256(document_id).digest()[:16]
    pdf.trailer.ID = pikepdf.Array([pikepdf.String(first_id), pikepdf.String(first_id)])
    written = io.BytesIO()
    pdf.save(written, deterministic_id=True, min_version="1.7", compress_streams=True)
    return written.getvalue()


def _layer(step: ProcessStep) -> pikepdf.Dictionary:
    import pikepdf

    metadata = pikepdf.Dictionary(GTS_ProcStepsGroup=pikepdf.Name(f"/{step.group}"))
    if step.kind:
        metadata.GTS_ProcStepsType = pikepdf.Name(f"/{step.kind}")
    return pikepdf.Dictionary(Type=pikepdf.Name.OCG, Name=pikepdf.String(step.name), GTS_Metadata=metadata)


def _add_page(
    pdf: pikepdf.Pdf,
    page: Page,
    pieces: tuple[Painted, ...],
    index: int,
    *,
    layers: Mapping[ProcessStep, pikepdf.Object],
    fonts: pikepdf.Dictionary,
    setting: Typesetting,
    structure: pikepdf.Object,
) -> pikepdf.Object:
    """Appends one page; gives its figure in the structure tree."""
    import pikepdf

    names = {step: f"MC{number}" for number, step in enumerate(layers)}
    size = pikepdf.Array([0, 0, _exact(page.width_mm), _exact(page.height_mm)])
    shown = pikepdf.Dictionary(
        Type=pikepdf.Name.Page,
        MediaBox=size,
        Resources=pikepdf.Dictionary(
            Font=fonts,
            Properties=pikepdf.Dictionary({f"/{names[step]}": layer for step, layer in layers.items()}),
        ),
        Contents=pdf.make_stream(_content(pieces, names, setting).encode("ascii")),
        StructParents=index,
        Tabs=pikepdf.Name.S,
    )
    pdf.pages.append(pikepdf.Page(pdf.make_indirect(shown)))
    return pdf.make_indirect(
        pikepdf.Dictionary(
            Type=pikepdf.Name.StructElem,
            S=pikepdf.Name.Figure,
            P=structure,
            Pg=pdf.pages[-1].obj,
            K=0,
            Alt=pikepdf.String(one_line(page.alt)),
        )
    )


def _exact(length_mm: float) -> object:
    from decimal import Decimal

    return Decimal(decimal(length_mm / MM_PER_PT, 6))


def _finish_structure(pdf: pikepdf.Pdf, structure: pikepdf.Object, figures: list[pikepdf.Object]) -> None:
    import pikepdf

    structure.K = pikepdf.Array(figures)
    numbers: list[object] = []
    for index, figure in enumerate(figures):
        numbers += [index, pdf.make_indirect(pikepdf.Array([figure]))]
    structure.ParentTree = pdf.make_indirect(pikepdf.Dictionary(Nums=pikepdf.Array(numbers)))
    structure.ParentTreeNextKey = len(figures)
    pdf.Root.StructTreeRoot = structure
    pdf.Root.MarkInfo = pikepdf.Dictionary(Marked=True)


def _describe(pdf: pikepdf.Pdf, folio: Folio, layers: list[pikepdf.Object]) -> None:
    """Title, language, how to print and which layers show."""
    import pikepdf

    title = one_line(folio.title)
    pdf.Root.Lang = pikepdf.String(folio.language)
    pdf.Root.ViewerPreferences = pikepdf.Dictionary(DisplayDocTitle=True, PrintScaling=pikepdf.Name("/None"))
    pdf.Root.OCProperties = pikepdf.Dictionary(
        OCGs=pikepdf.Array(layers),
        D=pikepdf.Dictionary(
            Name=pikepdf.String("All layers"),
            BaseState=pikepdf.Name.ON,
            Order=pikepdf.Array(layers),
        ),
    )
    pdf.docinfo[pikepdf.Name.Title] = pikepdf.String(title)
    packet = XMP.format(title=html.escape(title), language=html.escape(folio.language))
    metadata = pdf.make_stream(packet.encode("utf-8"))
    metadata.Type = pikepdf.Name.Metadata
    metadata.Subtype = pikepdf.Name.XML
    pdf.Root.Metadata = metadata


XMP = """<?xpacket begin="\ufeff" id="W5M0MpCehiHzreSzNTczkc9d"?>
<x:xmpmeta xmlns:x="adobe:ns:meta/">
<rdf:RDF xmlns:rdf="http://www.w3.org/1999/02/22-rdf-syntax-ns#">
<rdf:Description rdf:about="" xmlns:dc="http://purl.org/dc/elements/1.1/">
<dc:title><rdf:Alt><rdf:li xml:lang="x-default">{title}</rdf:li></rdf:Alt></dc:title>
<dc:language><rdf:Bag><rdf:li>{language}</rdf:li></rdf:Bag></dc:language>
</rdf:Description>
</rdf:RDF>
</x:xmpmeta>
<?xpacket end="r"?>"""


def _content(pieces: tuple[Painted, ...], names: dict[ProcessStep, str], setting: Typesetting) -> str:
    """The page's operators: one figure, in it a layer's section for each run of marks of one step."""
    lines = ["/Figure <</MCID 0>> BDC", "1 j"]
    for step, run in groupby(pieces, key=lambda piece: piece.step):
        lines.append(f"/OC /{names[step]} BDC")
        for piece in run:
            match piece:
                case Inked():
                    lines += _inked(piece)
                case Dotted():
                    lines += _dotted(piece)
                case Lettered():
                    lines += _lettered(piece, setting)
        lines.append("EMC")
    lines.append("EMC")
    return "\n".join(lines)


def _inked(piece: Inked) -> list[str]:
    lines = [f"{_colour(piece.fill)} rg"] if piece.fill else []
    if piece.pen:
        dash = " ".join(_points(part) for part in piece.dash_mm)
        lines.append(f"{_colour(piece.pen)} RG {_points(piece.width_mm)} w {CAPS[piece.cap]} J [{dash}] 0 d")
    for path in piece.paths:
        first, *rest = _places(path.points)
        lines.append(f"{first} m")
        lines += [f"{at} l" for at in rest]
        if path.closed:
            lines.append("h")
    if not piece.paths:
        return []
    lines.append("B*" if piece.fill and piece.pen else "f*" if piece.fill else "S")
    return lines


def _dotted(piece: Dotted) -> list[str]:
    """Dots are lines of no length with round ends."""
    if not piece.points:
        return []
    lines = [f"{_colour(piece.colour)} RG {_points(piece.size_mm)} w 1 J [] 0 d"]
    lines += [f"{at} m {at} l" for at in _places(piece.points)]
    return [*lines, "S"]


def _lettered(piece: Lettered, setting: Typesetting) -> list[str]:
    """One text object for each line, turned and in place."""
    if not piece.line.glyphs:
        return []
    a, b, _, _, x, y = piece.matrix
    length = math.hypot(a, b)
    turn = " ".join(decimal(part, 6) for part in (a / length, b / length, -b / length, a / length))
    return [
        f"BT {_colour(piece.colour)} rg {turn} {_points(x)} {_points(y)} Tm",
        f"{setting.shown(piece.line, piece.size_pt)} ET",
    ]


def _places(points: Sequence[Point]) -> list[str]:
    numbers = iter(decimals([length_mm / MM_PER_PT for point in points for length_mm in point], PLACES))
    return [f"{x} {y}" for x, y in zip(numbers, numbers, strict=True)]


def _points(length_mm: float) -> str:
    return decimal(length_mm / MM_PER_PT, PLACES)


def _colour(colour: str) -> str:
    return " ".join(decimal(channel, 4) for channel in channels(colour))
