"""A document as a booklet on half-size leaves, as PDF/UA-1: A5, or half Letter where inches are used.

What stands before the first page break is the cover, what stands after the last one the back. Drawings are set at
true size and never scaled: they must be drawn for the width of the live area.
"""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass
from itertools import groupby
from typing import assert_never

from foldproof.drawing.records import (
    Block,
    Code,
    Document,
    Heading,
    Listing,
    PageBreak,
    Paragraph,
    Picture,
    Step,
    Table,
)
from foldproof.drawing.style import SEA_GREEN, Palette
from foldproof.drawing.wording import one_line
from foldproof.exports.typeset import (
    LONGEST_CELL_WORD,
    Data,
    Files,
    colours,
    picture,
    qr_picture,
    runs,
    said,
    set_files,
    set_pdf,
    whole_words,
)
from foldproof.words.catalogue import ENGLISH, Language

LIVE_MM = (116.0, 180.0)  # what a leaf has room for, the same on both sizes of paper
CODE_MM = 30.0  # side of a QR code: a camera reads it from 30 cm


@dataclass(frozen=True, slots=True, kw_only=True)
class BookletLook:
    """The leaf, and what each of its pages carries: ``foot`` at the bottom, ``notice`` ("" for none) at the top."""

    width_mm: float
    height_mm: float
    foot: str
    notice: str = ""
    author: str = ""


A5 = BookletLook(width_mm=148.0, height_mm=210.0, foot="")


def booklet_pdf(
    document: Document,
    *,
    look: BookletLook = A5,
    palette: Palette = SEA_GREEN,
    font_folders: Sequence[str] = (),
    language: Language = ENGLISH,
) -> bytes:
    """``document`` as PDF/UA-1. See ``set_pdf`` for ``font_folders``."""
    return set_pdf(booklet_files(document, look=look, palette=palette, language=language), font_folders)


def booklet_files(
    document: Document, *, look: BookletLook = A5, palette: Palette = SEA_GREEN, language: Language = ENGLISH
) -> Files:
    """What the booklet is set from, in memory: template, data and drawings."""
    files: Files = {}
    groups = [
        [_block(block, palette, files, language=language) for block in _joined(tuple(blocks))]
        for broken, blocks in groupby(document.blocks, key=lambda block: isinstance(block, PageBreak))
        if not broken
    ]
    data: Data = {
        "colours": colours(),
        "leaf": {"width": look.width_mm, "height": look.height_mm},
        "title": said(document.title),
        "title_words": whole_words(document.title),
        "plain_title": one_line(document.title),
        "author": one_line(look.author),
        "language": document.language,
        "foot": runs(look.foot),
        "notice": said(look.notice) if look.notice else None,
        "groups": groups,
    }
    return set_files("booklet", data, files)


Joined = Block | tuple[Paragraph, ...]


def _joined(blocks: Sequence[Block]) -> list[Joined]:
    """Cautions that follow each other, and checks, are set as one."""
    found: list[Joined] = []
    for kind, run in groupby(blocks, key=lambda block: block.kind if isinstance(block, Paragraph) else ""):
        if kind in ("caution", "check"):
            found.append(tuple(block for block in run if isinstance(block, Paragraph)))
        else:
            found += run
    return found


def _block(block: Joined, palette: Palette, files: Files, *, language: Language = ENGLISH) -> Data:
    match block:
        case tuple():
            kind = "cautions" if block[0].kind == "caution" else "checks"
            return {"kind": kind, "items": [said(each.text, lead=True) for each in block]}
        case Heading():
            return {"kind": "heading", "level": block.level + 1, "text": said(block.text)}
        case Paragraph():
            return {"kind": block.kind, "text": said(block.text)}
        case Listing():
            return {"kind": "listing", "numbered": block.numbered, "items": [said(item) for item in block.items]}
        case Picture():
            return {"kind": "picture", **picture(block.page, palette, files)}
        case Table():
            return _table(block)
        case Step():
            return _step(block, palette, files)
        case Code():
            alt = language.page.code_alt.format(target=block.target)
            drawn = qr_picture(block.target, alt, CODE_MM, files)
            return {
                "kind": "code",
                "text": said(block.text),
                "target": block.target,
                "shown": runs(block.target),
                **drawn,
            }
        case PageBreak():
            raise AssertionError("page breaks part the groups")
        case _:
            assert_never(block)


def _table(table: Table) -> Data:
    assert all(len(row) == len(table.columns) for row in table.rows), f"{table.title}: a row lacks a cell"
    return {
        "kind": "table",
        "title": runs(table.title),
        "columns": [said(column) for column in table.columns],
        "rows": [[said(cell, longest=LONGEST_CELL_WORD) for cell in row] for row in table.rows],
    }


def _step(step: Step, palette: Palette, files: Files) -> Data:
    return {
        "kind": "step",
        "number": step.number,
        "title": said(step.title),
        "text": said(step.text),
        "caution": None if step.caution is None else said(step.caution, lead=True),
        "picture": None if step.picture is None else picture(step.picture, palette, files),
        "check": said(step.check, lead=True),
        "if_not": said(step.if_not, lead=True),
    }
