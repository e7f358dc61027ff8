"""The booklet as one document: cover, what is needed, score plans, every step, sizes, what was proved, back.

Everything arrives in words; what stands before the first page break is the cover, what stands after the last the back.
"""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass

from foldproof.drawing.records import (
    Block,
    Code,
    Document,
    Heading,
    Listing,
    Page,
    PageBreak,
    Paragraph,
    Picture,
    Table,
)
from foldproof.lengths import ZERO, in_words
from foldproof.pattern.measured import MeasuredPiece
from foldproof.views.board_picture import Tools
from foldproof.views.measures import how_words
from foldproof.views.piece import piece_title
from foldproof.views.plan_words import cut_lines, reading_lines
from foldproof.views.steps_document import ToldPiece, told_step
from foldproof.words.catalogue import ENGLISH, Language


@dataclass(frozen=True, slots=True, kw_only=True)
class HoleWays:
    """The hole of a turning lid: heading, then each way with its sentences in order."""

    title: str
    ways: tuple[tuple[str, tuple[str, ...]], ...]


@dataclass(frozen=True, slots=True, kw_only=True)
class ToldBooklet:
    """All that a booklet says and shows, in words.

    ``verdict`` stands on the cover, ``verdict_line`` where the proof is told; ``link`` is "" for none.
    ``instead`` are sections on lids of another shape.
    """

    title: str
    by: tuple[str, ...]
    summary: tuple[str, ...]
    verdict: str
    verdict_line: str
    proved: bool
    revision: str
    cover: Page
    cautions: tuple[str, ...]
    key: Page
    reading: tuple[str, ...]
    pieces: tuple[str, tuple[Page, ...]]
    needs: tuple[str, ...]
    cut_rows: tuple[tuple[str, str, str], ...]
    plans: tuple[tuple[Block, ...], ...]
    told: tuple[ToldPiece, ...]
    holes: tuple[HoleWays, ...]
    have: tuple[Page, ...]
    sizes: tuple[tuple[str, ...], ...]
    lids: tuple[tuple[tuple[str, str], ...], ...]
    worth_a_look: tuple[str, ...]
    holds: tuple[str, ...]
    granted: tuple[str, ...]
    troubles: tuple[tuple[str, str], ...]
    link: str
    link_words: str
    made: tuple[str, ...]
    papers: tuple[Block, ...] = ()
    instead: tuple[tuple[Block, ...], ...] = ()


def booklet_document(told: ToldBooklet, *, language: Language = ENGLISH) -> Document:
    """The booklet. Its steps are numbered through."""
    sections: tuple[Sequence[Block], ...] = (
        _cover(told),
        _before(told, language=language),
        _needs(told, language=language),
        *((told.papers,) if told.papers else ()),
        *told.plans,
        *_steps(told, language=language),
        *(_hole(hole) for hole in told.holes),
        *told.instead,
        *((_have(told, language=language),) if told.have else ()),
        *((_sizes(told, language=language),) if told.lids else ()),  # with a lid's figures the sizes fill a page
        [
            *(() if told.lids else _sizes(told, language=language)),
            *_proved(told, language=language),
            *_off(told, language=language),
        ],
        _back(told),
    )
    blocks: list[Block] = []
    for number, section in enumerate(sections):
        blocks += [PageBreak(), *section] if number else section
    return Document(title=told.title, blocks=tuple(blocks), language=language.name)


def _verdict(told: ToldBooklet) -> Paragraph:
    return Paragraph(text=told.verdict, kind="check" if told.proved else "not_proved")


def _cover(told: ToldBooklet) -> list[Block]:
    return [
        *(Paragraph(text=text) for text in told.by),
        Picture(page=told.cover),
        *(Paragraph(text=text) for text in told.summary),
        _verdict(told),
        Paragraph(text=told.revision),
    ]


def _before(told: ToldBooklet, *, language: Language = ENGLISH) -> list[Block]:
    return [
        Heading(text=language.booklet.before, level=1),
        *(Paragraph(text=text, kind="caution") for text in told.cautions),
        Heading(text=language.booklet.reading_title, level=2),
        Picture(page=told.key),
        *(Paragraph(text=text) for text in told.reading),
    ]


def _needs(told: ToldBooklet, *, language: Language = ENGLISH) -> list[Block]:
    scale, pages = told.pieces
    return [
        Heading(text=language.booklet.need, level=1),
        Paragraph(text=scale),
        *(Picture(page=page) for page in pages),
        Heading(text=language.booklet.and_these, level=2),
        Listing(items=told.needs),
        Heading(text=language.booklet.cut_list, level=1),
        Table(title="", columns=language.booklet.cut_columns, rows=told.cut_rows),
    ]


def _steps(told: ToldBooklet, *, language: Language = ENGLISH) -> list[list[Block]]:
    found: list[list[Block]] = []
    number = 0
    for piece in told.told:
        blocks: list[Block] = [Heading(text=piece.title, level=1)]
        for step in piece.steps:
            number += 1
            blocks.append(told_step(step, number, language=language))
        if piece.stuck:
            blocks.append(Paragraph(text=language.booklet.no_order, kind="not_proved"))
        found.append(blocks)
    return found


def _hole(hole: HoleWays) -> list[Block]:
    blocks: list[Block] = [Heading(text=hole.title, level=1)]
    for way, sentences in hole.ways:
        blocks += [Heading(text=way, level=2), Listing(items=sentences, numbered=True)]
    return blocks


def _have(told: ToldBooklet, *, language: Language = ENGLISH) -> list[Block]:
    return [Heading(text=language.booklet.have, level=1), *(Picture(page=page) for page in told.have)]


def _sizes(told: ToldBooklet, *, language: Language = ENGLISH) -> list[Block]:
    blocks: list[Block] = [Heading(text=language.booklet.sizes, level=1)]
    if told.sizes:
        blocks.append(Table(title="", columns=language.booklet.size_columns, rows=told.sizes))
    for rows in told.lids:
        blocks += [
            Heading(text=language.booklet.lid_figures, level=2),
            Table(title="", columns=language.booklet.lid_columns, rows=rows),
        ]
    return blocks


def _proved(told: ToldBooklet, *, language: Language = ENGLISH) -> list[Block]:
    blocks: list[Block] = [
        Heading(text=language.booklet.proved if told.proved else language.booklet.not_all_proved, level=1),
        _verdict(told),
    ]
    blocks += [Paragraph(text=told.verdict_line)] if told.verdict_line else []
    blocks += [Paragraph(text=text, kind="caution") for text in told.worth_a_look]
    if told.holds:
        blocks += [Heading(text=language.booklet.holds, level=2), Listing(items=told.holds)]
        blocks.append(Paragraph(text=language.booklet.whole_proof))
    return [*blocks, Heading(text=language.booklet.granted, level=2), Listing(items=told.granted)]


def _off(told: ToldBooklet, *, language: Language = ENGLISH) -> list[Block]:
    return [
        Heading(text=language.booklet.off, level=1),
        Table(title="", columns=language.booklet.off_columns, rows=told.troubles),
    ]


def _back(told: ToldBooklet) -> list[Block]:
    blocks: list[Block] = [Code(target=told.link, text=told.link_words)] if told.link else []
    return [*blocks, *(Paragraph(text=text) for text in (*told.by, *told.made, told.revision))]


# --- Score plan ---------------------------------------------------------------------------------------------


def plan_blocks(piece: MeasuredPiece, tools: Tools, *, language: Language = ENGLISH) -> tuple[Block, ...]:
    """Where one piece is scored, in both units, before the turn and after it, and what the scissors do."""
    blocks: list[Block] = [
        Heading(text=language.booklet.plan.format(title=_inside(piece_title(piece, language=language))), level=1)
    ]
    for heading, marks in ((language.report.score, piece.across), (language.report.score_turned, piece.up)):
        if not marks:
            continue
        rows = tuple(
            (str(number), mark.text, in_words(mark.marked, tools.other), how_words(mark, tools, language=language))
            for number, mark in enumerate(marks, start=1)
        )
        blocks += [Heading(text=heading, level=2), Table(title="", columns=language.report.score_columns, rows=rows)]
    scissors = [text for text, _ in cut_lines(piece, tools, language=language) if text != language.paper.cut_away_turn]
    if any(size.shown != ZERO for _, size in piece.measures):
        blocks += [Heading(text=language.booklet.scissors, level=2), Listing(items=tuple(scissors))]
    for text, role in reading_lines(piece, tools, language=language):
        blocks.append(Heading(text=text, level=2) if role == "heading" else Paragraph(text=text))
    return tuple(blocks)


def _inside(title: str) -> str:
    """A title inside a phrase."""
    return title[:1].lower() + title[1:]
