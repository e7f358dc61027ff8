"""A table card as PDF/UA-1: one page on its side, A4, or Letter where inches are used.

The document has, in this order: a paragraph that says what it is, the picture of the flat piece, a table of measures,
a picture and its words for each stage, and cautions.
"""

from __future__ import annotations

from collections.abc import Sequence
from itertools import pairwise

from foldproof.drawing.records import Document, Paragraph, Picture, Table
from foldproof.drawing.style import SEA_GREEN, Palette
from foldproof.drawing.wording import one_line
from foldproof.exports.booklet_pdf import BookletLook
from foldproof.exports.typeset import (
    LONGEST_CELL_WORD,
    Data,
    Files,
    colours,
    picture,
    said,
    set_files,
    set_pdf,
    whole_words,
)

A4 = BookletLook(width_mm=297.0, height_mm=210.0, foot="")


def table_card_pdf(
    document: Document, *, look: BookletLook = A4, palette: Palette = SEA_GREEN, font_folders: Sequence[str] = ()
) -> bytes:
    """``document`` as PDF/UA-1. See ``set_pdf`` for ``font_folders``."""
    return set_pdf(table_card_files(document, look=look, palette=palette), font_folders)


def table_card_files(document: Document, *, look: BookletLook = A4, palette: Palette = SEA_GREEN) -> Files:
    """What the card is set from, in memory."""
    kind, flat, measures, *stages = document.blocks
    assert isinstance(kind, Paragraph) and isinstance(flat, Picture) and isinstance(measures, Table), "not a card"
    files: Files = {}
    afters = [
        {**picture(drawn.page, palette, files), "words": said(told.text)}
        for drawn, told in pairwise(stages)
        if isinstance(drawn, Picture) and isinstance(told, Paragraph)
    ]
    cautions = [block for block in stages if isinstance(block, Paragraph) and block.kind == "caution"]
    data: Data = {
        "colours": colours(),
        "leaf": {"width": look.width_mm, "height": look.height_mm},
        "title": said(document.title),
        "title_words": whole_words(document.title),
        "plain_title": one_line(document.title),
        "author": one_line(look.author),
        "language": document.language,
        "notice": said(look.notice) if look.notice else None,
        "kind": said(kind.text),
        "flat": picture(flat.page, palette, files),
        "rows": [[said(cell, longest=LONGEST_CELL_WORD) for cell in row] for row in measures.rows],
        "afters": afters,
        "cautions": [said(block.text, lead=True) for block in cautions],
    }
    return set_files("table_card", data, files)
