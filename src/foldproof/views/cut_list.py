"""The cut list: one row for each piece of card, for a spreadsheet."""

from __future__ import annotations

from collections.abc import Mapping

from foldproof.drawing.records import Table
from foldproof.lengths import in_words
from foldproof.pattern.measured import MeasuredPiece
from foldproof.project.records import Project
from foldproof.stock.board import Mark
from foldproof.views.report import mm
from foldproof.words.catalogue import ENGLISH, Language

BETWEEN = "; "


def cut_list(
    project: Project,
    pieces: tuple[MeasuredPiece, ...],
    verdict: str,
    cards: Mapping[tuple[str, str], tuple[str, str]] | None = None,
    instead: Mapping[str, str] | None = None,
    offcuts: Mapping[tuple[str, str], str] | None = None,
    *,
    language: Language = ENGLISH,
) -> Table:
    """Rows in the order the pieces are made; ``verdict`` in words stands in every row.

    ``cards`` gives, by part and piece, the shape and the card of pieces that are no rectangles of the project's card;
    ``instead``, by part, the lid that it is made instead of; ``offcuts``, by part and piece, the piece from whose
    offcut it is cut.
    """
    rows = tuple(
        _row(project, piece, verdict, cards or {}, instead or {}, offcuts or {}, language=language) for piece in pieces
    )
    return Table(title=project.name, columns=language.tables.cut_list_columns, rows=rows)


def _row(
    project: Project,
    piece: MeasuredPiece,
    verdict: str,
    cards: Mapping[tuple[str, str], tuple[str, str]],
    instead: Mapping[str, str],
    offcuts: Mapping[tuple[str, str], str],
    *,
    language: Language = ENGLISH,
) -> tuple[str, ...]:
    width, height = piece.width, piece.height
    shape, card = cards.get((piece.part, piece.piece.id), (language.tables.rectangle, project.cardstock.name))
    return (
        piece.part,
        language.told.terms.get(piece.piece.id, piece.piece.id),
        language.term(shape),
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
        offcuts.get((piece.part, piece.piece.id), ""),
        instead.get(piece.part, ""),
        verdict,
    )


def _sheet_name(project: Project, card: str) -> str:
    """The sheet that a piece is cut from; every card is taken to come as large as the project's."""
    papers = project.papers
    return papers.sheet.name if papers is not None and card == papers.name else project.cardstock.sheet.name


def _positions(marks: tuple[Mark, ...]) -> str:
    return BETWEEN.join(mark.text for mark in marks)
