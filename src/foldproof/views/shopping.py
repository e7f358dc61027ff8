"""What to buy: sheets of each card and paper with how many pieces they hold, what fastens, what glues, and tools."""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from dataclasses import dataclass

from foldproof.drawing.records import Table
from foldproof.layout.shelves import Wanted, least_sheets, on_shelves
from foldproof.lengths import about, in_words
from foldproof.pattern.measured import MeasuredPiece
from foldproof.project.records import Project
from foldproof.stock.sheets import SheetSize
from foldproof.views.piece import size_words
from foldproof.words.catalogue import ENGLISH, Language

BETWEEN = "; "


@dataclass(frozen=True, slots=True, kw_only=True)
class ShoppingPiece:
    """A piece to cut, and from which card or paper. ``may_turn``: it may lie a quarter turned on its sheet."""

    measured: MeasuredPiece
    stock: str
    may_turn: bool = True


@dataclass(frozen=True, slots=True, kw_only=True)
class Supply:
    """Something besides card: a brad, foam, glue, a tool. ``count`` is None for what is simply at hand."""

    what: str
    count: int | None
    unit: str
    size: str
    use: str


def shopping_list(
    project: Project,
    pieces: Sequence[ShoppingPiece],
    supplies: Sequence[Supply],
    verdict: str,
    sheets: Mapping[str, SheetSize] | None = None,
    *,
    by_outline: Mapping[str, int] | None = None,
    language: Language = ENGLISH,
) -> Table:
    """A row for each card and paper, in the order they are first used, then the supplies.

    ``verdict`` in words stands in every row. ``sheets`` gives the sheet of a stock that has its own; all others are as
    large as the project's cardstock. ``by_outline`` gives, by stock, how many sheets do when pieces are laid out by
    their outlines and that is fewer than their squares take.
    """
    own = {project.cardstock.name: project.cardstock.usable_sheet, **(sheets or {})}
    stocks = dict.fromkeys(piece.stock for piece in pieces)
    rows = [
        _stock_row(
            project,
            stock,
            [p for p in pieces if p.stock == stock],
            own.get(stock),
            (by_outline or {}).get(stock),
            language=language,
        )
        for stock in stocks
    ]
    rows += [_supply_row(supply) for supply in supplies]
    return Table(
        title=project.name, columns=language.tables.shopping_columns, rows=tuple((*row, verdict) for row in rows)
    )


def _stock_row(
    project: Project,
    stock: str,
    pieces: Sequence[ShoppingPiece],
    own_sheet: SheetSize | None,
    by_outline: int | None,
    *,
    language: Language = ENGLISH,
) -> tuple[str, ...]:
    sheet = own_sheet or project.cardstock.usable_sheet
    size = (sheet.width, sheet.height)
    wanted = [_wanted(piece, number) for piece in pieces for number in range(piece.measured.copies)]
    shelves = on_shelves(wanted, size)
    least = least_sheets(wanted, size)
    notes = []
    if by_outline is not None:
        notes.append(language.tables.by_outlines)
    elif shelves.sheets and not shelves.too_large:
        exact = least == shelves.sheets
        notes.append(
            language.tables.exact if exact else language.tables.at_most.format(sheets=shelves.sheets, least=least)
        )
    if own_sheet is None:
        notes.append(language.tables.as_cardstock)
    if any(not piece.may_turn for piece in pieces):
        notes.append(language.tables.laid_upright)
    if shelves.too_large:
        large = dict.fromkeys(name.rpartition(" ")[0] for name in shelves.too_large)
        notes.append(language.tables.too_large.format(pieces=", ".join(large)))
    return (
        stock,
        "" if shelves.too_large else str(by_outline or shelves.sheets),
        language.tables.sheet_unit,
        _sheet_words(project, sheet, language=language),
        BETWEEN.join(dict.fromkeys(_piece_words(piece, pieces, sheet, language=language) for piece in pieces)),
        BETWEEN.join(notes),
    )


def _wanted(piece: ShoppingPiece, number: int) -> Wanted:
    return Wanted(
        name=f"{piece.measured.piece.id.replace('_', ' ')} {number + 1}",
        width=piece.measured.width.shown,
        height=piece.measured.height.shown,
        may_turn=piece.may_turn,
    )


def _sheet_words(project: Project, sheet: SheetSize, *, language: Language = ENGLISH) -> str:
    width, height = (
        about(sheet.width, project.ruler, words=language.told.common.about),
        about(sheet.height, project.ruler, words=language.told.common.about),
    )
    return language.tables.sheet_size.format(name=sheet.name, width=width, height=height)


def _piece_words(
    piece: ShoppingPiece, pieces: Sequence[ShoppingPiece], sheet: SheetSize, *, language: Language = ENGLISH
) -> str:
    """All pieces of one size together, with how many of them alone one sheet holds."""
    measured = piece.measured
    like = [
        each
        for each in pieces
        if (each.measured.width.shown, each.measured.height.shown, each.may_turn)
        == (measured.width.shown, measured.height.shown, piece.may_turn)
    ]
    count = sum(each.measured.copies for each in like)
    words = language.tables.pieces.format(
        count=count, size=size_words(measured.width, measured.height, language=language)
    )
    held = per_sheet(_wanted(piece, 0), sheet)
    return language.tables.per_sheet.format(pieces=words, per_sheet=held) if held else words


def per_sheet(one: Wanted, sheet: SheetSize) -> int:
    """How many of one rectangle shelves take from one sheet: all lying one way."""
    ways = [(one.width, one.height), *([(one.height, one.width)] if one.may_turn else [])]
    return max(int(sheet.width.mm // width.mm) * int(sheet.height.mm // height.mm) for width, height in ways)


def _supply_row(supply: Supply) -> tuple[str, ...]:
    count = "" if supply.count is None else str(supply.count)
    return (supply.what, count, supply.unit, supply.size, supply.use, "")


def foam_supply(
    project: Project, measured: MeasuredPiece, thick_words: str, pieces: str, *, language: Language = ENGLISH
) -> Supply:
    """Foam under one layer: as much as the layer is wide and tall is enough."""
    size = f"{in_words(measured.width.shown, project.ruler)} x {in_words(measured.height.shown, project.ruler)}"
    return Supply(
        what=language.tables.foam.format(thick=thick_words),
        count=1,
        unit=language.tables.piece_unit,
        size=size,
        use=language.tables.foam_under.format(pieces=pieces),
    )
