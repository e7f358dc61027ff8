"""Every file format that a drawing can leave as. A new format is a new file and one line here."""

from __future__ import annotations

from dataclasses import dataclass
from typing import Literal

Kind = Literal["folio", "page", "table", "document", "scene"]

# What formats share or are made of.
NOT_FORMATS = frozenset(
    {"beside", "catalogue", "dxf_frame", "html_style", "imposed_pdf", "numbers", "pdf_text", "svg_screen", "typeset"}
)


@dataclass(frozen=True, slots=True, kw_only=True)
class ExportFormat:
    """A format: what it writes (``kind`` of record), the file's ending, and who writes it.

    ``write`` is ``module:function``. The function is named, not imported: the list costs
    nothing to read.
    """

    name: str
    suffix: str
    kind: Kind
    write: str


FORMATS = (
    ExportFormat(name="pages", suffix=".pdf", kind="folio", write="foldproof.exports.pdf:folio_pdf"),
    ExportFormat(name="picture", suffix=".svg", kind="page", write="foldproof.exports.svg:page_svg"),
    ExportFormat(name="picture for posts", suffix=".png", kind="page", write="foldproof.exports.png:page_png"),
    ExportFormat(name="cut file", suffix=".cut.svg", kind="page", write="foldproof.exports.svg:cut_svg"),
    ExportFormat(name="cut drawing", suffix=".dxf", kind="page", write="foldproof.exports.dxf:cut_dxf"),
    ExportFormat(name="table", suffix=".csv", kind="table", write="foldproof.exports.csv:table_csv"),
    ExportFormat(
        name="marked-up text",
        suffix=".md",
        kind="document",
        write="foldproof.exports.markdown:document_markdown",
    ),
    ExportFormat(
        name="plain text", suffix=".txt", kind="document", write="foldproof.exports.text:document_text"
    ),
    ExportFormat(name="web page", suffix=".html", kind="document", write="foldproof.exports.html:document_html"),
    ExportFormat(
        name="booklet", suffix=".booklet.pdf", kind="document", write="foldproof.exports.booklet_pdf:booklet_pdf"
    ),
    ExportFormat(
        name="table card", suffix=".card.pdf", kind="document", write="foldproof.exports.table_card_pdf:table_card_pdf"
    ),
    ExportFormat(name="folding model", suffix=".glb", kind="scene", write="foldproof.exports.glb:scene_glb"),
)
