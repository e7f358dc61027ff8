"""The cut list: one row for each piece of card, for a spreadsheet."""

from __future__ import annotations

from collections.abc import Mapping

from foldproof.drawing.records import Table
from foldproof.lengths import in_words
from foldproof.pattern.measured import MeasuredPiece
from foldproof.project.records import Project
from foldproof.stock.board import Mark
from foldproof.views.report import mm

COLUMNS = (
    "part",
    "piece",
    "shape",
    "count",
    "width",
    "height",
    "width, other unit",
    "height, other unit",
    "width mm",
    "height mm",
    "cardstock",
    "sheet",
    "score from the left edge",
    "score after a quarter turn",
    "verdict",
)
BETWEEN = "; "
RECTANGLE = "rectangle"


def cut_list(
    project: Project,
    pieces: tuple[MeasuredPiece, ...],
    verdict: str,
    cards: Mapping[tuple[str, str], tuple[str, str]] | None = None,
) -> Table:
    """Rows in the order the pieces are made; ``verdict`` in words stands in every row.

    ``cards`` gives, by part and piece, the shape and the card of pieces that are no rectangles of the project's card.
    """
    rows = tuple(_row(project, piece, verdict, cards or {}) for piece in pieces)
    return Table(title=project.name, columns=COLUMNS, rows=rows)


def _row(
    project: Project, piece: MeasuredPiece, verdict: str, cards: Mapping[tuple[str, str], tuple[str, str]]
) -> tuple[str, ...]:
    width, height = piece.width, piece.height
    shape, card = cards.get((piece.part, piece.piece.id), (RECTANGLE, project.cardstock.name))
    return (
        piece.part,
        piece.piece.id,
        shape,
        str(piece.copies),
        width.text,
        height.text,
        in_words(width.shown, project.other_ruler),
        in_words(height.shown, project.other_ruler),
        f"{mm(width.shown):g}",
        f"{mm(height.shown):g}",
        card,
        _sheet_name(project, card),
        _positions(piece.across),
        _positions(piece.up),
        verdict,
    )


def _sheet_name(project: Project, card: str) -> str:
    """The sheet that a piece is cut from; every card is taken to come as large as the project's."""
    papers = project.papers
    return papers.sheet.name if papers is not None and card == papers.name else project.cardstock.sheet.name


def _positions(marks: tuple[Mark, ...]) -> str:
    return BETWEEN.join(mark.text for mark in marks)
