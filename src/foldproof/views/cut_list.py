"""The cut list: one row for each piece of card, for a spreadsheet."""

from __future__ import annotations

from foldproof.drawing.records import Table
from foldproof.lengths import in_words
from foldproof.pattern.measured import MeasuredPiece
from foldproof.project.records import Project
from foldproof.stock.board import Mark
from foldproof.views.report import mm

COLUMNS = (
    "part",
    "piece",
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


def cut_list(project: Project, pieces: tuple[MeasuredPiece, ...], verdict: str) -> Table:
    """Rows in the order the pieces are made; ``verdict`` in words stands in every row."""
    return Table(title=project.name, columns=COLUMNS, rows=tuple(_row(project, piece, verdict) for piece in pieces))


def _row(project: Project, piece: MeasuredPiece, verdict: str) -> tuple[str, ...]:
    width, height = piece.width, piece.height
    return (
        piece.part,
        piece.piece.id,
        str(piece.copies),
        width.text,
        height.text,
        in_words(width.shown, project.other_ruler),
        in_words(height.shown, project.other_ruler),
        f"{mm(width.shown):g}",
        f"{mm(height.shown):g}",
        project.cardstock.name,
        project.cardstock.sheet.name,
        _positions(piece.across),
        _positions(piece.up),
        verdict,
    )


def _positions(marks: tuple[Mark, ...]) -> str:
    return BETWEEN.join(mark.text for mark in marks)
