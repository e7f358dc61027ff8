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
from foldproof.views import wording
from foldproof.views.board_picture import Tools
from foldproof.views.measures import SCORE, SCORE_COLUMNS, SCORE_TURNED, how_words
from foldproof.views.piece import piece_title
from foldproof.views.plan_words import cut_lines, reading_lines
from foldproof.views.steps_document import NO_ORDER, ToldPiece, told_step

BEFORE = "Before you start"
READING = "How to read the drawings"
NEED = "What you need"
AND_THESE = "And these"
CUT_LIST = "Cut list"
CUT_COLUMNS = ("Piece", "Size", "Of")
PLAN = "Score plan, {title}"
SCISSORS = "With the scissors"
HAVE = "What you have"
SIZES = "Sizes"
SIZE_COLUMNS = ("Size", "Length", "Width", "Height")
LID_FIGURES = "The lid in figures"
LID_COLUMNS = ("What", "How much")
PROVED = "What was proved"
NOT_ALL_PROVED = "What was checked"
HOLDS = "What holds"
WHOLE_PROOF = "The whole proof, with every figure and limit, is in proof.txt."
GRANTED = "Taken for granted"
OFF = "If something is off"
OFF_COLUMNS = ("You see", "Do this")


@dataclass(frozen=True, slots=True, kw_only=True)
class HoleWays:
    """The hole of a turning lid: heading, then each way with its sentences in order."""

    title: str
    ways: tuple[tuple[str, tuple[str, ...]], ...]


@dataclass(frozen=True, slots=True, kw_only=True)
class ToldBooklet:
    """All that a booklet says and shows, in words.

    ``verdict`` stands on the cover, ``verdict_line`` where the proof is told; ``link`` is "" for none.
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


def booklet_document(told: ToldBooklet) -> Document:
    """The booklet. Its steps are numbered through."""
    sections: tuple[Sequence[Block], ...] = (
        _cover(told),
        _before(told),
        _needs(told),
        *((told.papers,) if told.papers else ()),
        *told.plans,
        *_steps(told),
        *(_hole(hole) for hole in told.holes),
        *((_have(told),) if told.have else ()),
        *((_sizes(told),) if told.lids else ()),  # with a lid's figures the sizes fill a page
        [*(() if told.lids else _sizes(told)), *_proved(told), *_off(told)],
        _back(told),
    )
    blocks: list[Block] = []
    for number, section in enumerate(sections):
        blocks += [PageBreak(), *section] if number else section
    return Document(title=told.title, blocks=tuple(blocks))


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


def _before(told: ToldBooklet) -> list[Block]:
    return [
        Heading(text=BEFORE, level=1),
        *(Paragraph(text=text, kind="caution") for text in told.cautions),
        Heading(text=READING, level=2),
        Picture(page=told.key),
        *(Paragraph(text=text) for text in told.reading),
    ]


def _needs(told: ToldBooklet) -> list[Block]:
    scale, pages = told.pieces
    return [
        Heading(text=NEED, level=1),
        Paragraph(text=scale),
        *(Picture(page=page) for page in pages),
        Heading(text=AND_THESE, level=2),
        Listing(items=told.needs),
        Heading(text=CUT_LIST, level=1),
        Table(title="", columns=CUT_COLUMNS, rows=told.cut_rows),
    ]


def _steps(told: ToldBooklet) -> list[list[Block]]:
    found: list[list[Block]] = []
    number = 0
    for piece in told.told:
        blocks: list[Block] = [Heading(text=piece.title, level=1)]
        for step in piece.steps:
            number += 1
            blocks.append(told_step(step, number))
        if piece.stuck:
            blocks.append(Paragraph(text=NO_ORDER, kind="not_proved"))
        found.append(blocks)
    return found


def _hole(hole: HoleWays) -> list[Block]:
    blocks: list[Block] = [Heading(text=hole.title, level=1)]
    for way, sentences in hole.ways:
        blocks += [Heading(text=way, level=2), Listing(items=sentences, numbered=True)]
    return blocks


def _have(told: ToldBooklet) -> list[Block]:
    return [Heading(text=HAVE, level=1), *(Picture(page=page) for page in told.have)]


def _sizes(told: ToldBooklet) -> list[Block]:
    blocks: list[Block] = [Heading(text=SIZES, level=1)]
    if told.sizes:
        blocks.append(Table(title="", columns=SIZE_COLUMNS, rows=told.sizes))
    for rows in told.lids:
        blocks += [Heading(text=LID_FIGURES, level=2), Table(title="", columns=LID_COLUMNS, rows=rows)]
    return blocks


def _proved(told: ToldBooklet) -> list[Block]:
    blocks: list[Block] = [Heading(text=PROVED if told.proved else NOT_ALL_PROVED, level=1), _verdict(told)]
    blocks += [Paragraph(text=told.verdict_line)] if told.verdict_line else []
    blocks += [Paragraph(text=text, kind="caution") for text in told.worth_a_look]
    if told.holds:
        blocks += [Heading(text=HOLDS, level=2), Listing(items=told.holds)]
        blocks.append(Paragraph(text=WHOLE_PROOF))
    return [*blocks, Heading(text=GRANTED, level=2), Listing(items=told.granted)]


def _off(told: ToldBooklet) -> list[Block]:
    return [Heading(text=OFF, level=1), Table(title="", columns=OFF_COLUMNS, rows=told.troubles)]


def _back(told: ToldBooklet) -> list[Block]:
    blocks: list[Block] = [Code(target=told.link, text=told.link_words)] if told.link else []
    return [*blocks, *(Paragraph(text=text) for text in (*told.by, *told.made, told.revision))]


# --- Score plan ---------------------------------------------------------------------------------------------


def plan_blocks(piece: MeasuredPiece, tools: Tools) -> tuple[Block, ...]:
    """Where one piece is scored, in both units, before the turn and after it, and what the scissors do."""
    blocks: list[Block] = [Heading(text=PLAN.format(title=_inside(piece_title(piece))), level=1)]
    for heading, marks in ((SCORE, piece.across), (SCORE_TURNED, piece.up)):
        if not marks:
            continue
        rows = tuple(
            (str(number), mark.text, in_words(mark.marked, tools.other), how_words(mark, tools))
            for number, mark in enumerate(marks, start=1)
        )
        blocks += [Heading(text=heading, level=2), Table(title="", columns=SCORE_COLUMNS, rows=rows)]
    scissors = [text for text, _ in cut_lines(piece, tools) if text != wording.CUT_AWAY_TURN]
    if any(size.shown != ZERO for _, size in piece.measures):
        blocks += [Heading(text=SCISSORS, level=2), Listing(items=tuple(scissors))]
    for text, role in reading_lines(piece, tools):
        blocks.append(Heading(text=text, level=2) if role == "heading" else Paragraph(text=text))
    return tuple(blocks)


def _inside(title: str) -> str:
    """A title inside a phrase."""
    return title[:1].lower() + title[1:]
