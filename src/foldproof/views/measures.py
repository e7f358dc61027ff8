"""Every piece to cut and score, for people and for programs."""

from __future__ import annotations

from dataclasses import dataclass

from foldproof.drawing.records import Block, Document, Heading, Paragraph, Table
from foldproof.lengths import ZERO, Length, Rounded, about, in_words
from foldproof.pattern.cuts import cut_length, score_length
from foldproof.pattern.measured import MeasuredPiece
from foldproof.pattern.records import BoxForm
from foldproof.project.records import Project
from foldproof.stock.board import Mark
from foldproof.stock.readings import Readings
from foldproof.stock.sheets import SheetSize
from foldproof.views.board_picture import Tools
from foldproof.views.finished import finished_rows
from foldproof.views.piece import piece_title, size_words
from foldproof.views.plan_words import cut_lines, reading_lines
from foldproof.views.report import Report, mm, number, report
from foldproof.words.catalogue import ENGLISH, Language


@dataclass(frozen=True, slots=True, kw_only=True)
class MeasuredThing:
    """One part as measured: its name, its construction's name and revision, its pieces, and what they become.

    ``cut_words`` says, by piece, what to cut where a piece is more than a rectangle with scores from edge to edge;
    ``instead_of`` is the lid that an alternative stands in for, "" for a part.
    """

    name: str
    construction: str
    revision: int
    pieces: tuple[MeasuredPiece, ...]
    forms: tuple[BoxForm, ...]
    cut_words: tuple[tuple[str, str], ...] = ()
    instead_of: str = ""


def measures_document(project: Project, things: tuple[MeasuredThing, ...], *, language: Language = ENGLISH) -> Document:
    """The measures to read, in the order they are used: cut, score, turn, score, cut away; then the finished size."""
    tools = Tools(board=project.board, ruler=project.ruler, other=project.other_ruler)
    board = (
        language.report.on_board.format(board=language.term(project.board.name))
        if project.board.stops
        else language.report.no_board
    )
    notice = [Paragraph(text=language.paper.class_version)] if project.teach.version == "class" else []
    blocks: list[Block] = [*notice, Paragraph(text=card_words(project, language=language)), Paragraph(text=board)]
    for thing in things:
        told = dict(thing.cut_words)
        for piece in thing.pieces:
            if piece.piece.id in told:
                blocks += [
                    Heading(text=piece_title(piece, language=language), level=1),
                    Paragraph(text=told[piece.piece.id]),
                ]
                continue
            blocks += _piece(piece, tools, project.cardstock.usable_sheet, language=language)
        if thing.forms:
            blocks.append(Heading(text=language.report.finished, level=1))
            rows = finished_rows(thing.forms, tools.ruler, tools.other, language=language)
            blocks.append(Table(title="", columns=language.report.finished_columns, rows=rows))
    return Document(
        title=language.report.measures_title.format(name=project.name), blocks=tuple(blocks), language=language.name
    )


def card_words(project: Project, *, language: Language = ENGLISH) -> str:
    """The cardstock in a sentence: name, sheet as it really is, thickness and how it is known."""
    card, sheet = project.cardstock, project.cardstock.usable_sheet
    width, height = (
        about(sheet.width, project.ruler, words=language.told.common.about),
        about(sheet.height, project.ruler, words=language.told.common.about),
    )
    size = language.report.sheet.format(name=card.sheet.name, width=width, height=height)
    thick = language.report.thick_measured if card.thickness.how == "measured" else language.report.thick_estimated
    thickness = thick.format(mm=card.thickness.mm, low=card.thickness.low_mm, high=card.thickness.high_mm)
    return language.report.card.format(name=card.name, sheet=size, thickness=thickness)


def fits_sheet(piece: MeasuredPiece, sheet: SheetSize) -> bool:
    """Whether the piece, as it lies or turned a quarter, is no larger than the sheet."""
    sides = sorted((piece.width.shown, piece.height.shown))
    return all(side <= room for side, room in zip(sides, sorted((sheet.width, sheet.height)), strict=True))


def _piece(piece: MeasuredPiece, tools: Tools, sheet: SheetSize, *, language: Language = ENGLISH) -> list[Block]:
    count = language.counted(language.report.pieces, piece.copies)
    other = f"{in_words(piece.width.shown, tools.other)} x {in_words(piece.height.shown, tools.other)}"
    size = size_words(piece.width, piece.height, language=language)
    blocks: list[Block] = [
        Heading(text=piece_title(piece, language=language), level=1),
        Paragraph(text=language.report.cut.format(count=count, size=size, other=other)),
    ]
    if not fits_sheet(piece, sheet):
        blocks.append(Paragraph(text=language.report.too_large, kind="not_proved"))
    if piece.width.error != ZERO or piece.height.error != ZERO:
        errors = {"width": _error(piece.width.error), "height": _error(piece.height.error)}
        blocks.append(Paragraph(text=language.report.rounded.format(**errors), kind="caution"))
    for heading, marks in ((language.report.score, piece.across), (language.report.score_turned, piece.up)):
        if marks:
            blocks += [Heading(text=heading, level=2), _scores(marks, tools, language=language)]
    blocks.append(Heading(text=language.report.cutting, level=2))
    # The list tells no turning back: it has no pencil cross to turn by.
    blocks += [
        Paragraph(text=text)
        for text, _ in cut_lines(piece, tools, language=language)
        if text != language.paper.cut_away_turn
    ]
    for text, role in reading_lines(piece, tools, language=language):
        blocks.append(Heading(text=text, level=2) if role == "heading" else Paragraph(text=text))
    return blocks


def _error(error: Length) -> str:
    return f"{error.float_mm:+.2f} mm"


def _scores(marks: tuple[Mark, ...], tools: Tools, *, language: Language = ENGLISH) -> Table:
    rows = tuple(
        (str(number), mark.text, in_words(mark.marked, tools.other), how_words(mark, tools, language=language))
        for number, mark in enumerate(marks, start=1)
    )
    return Table(title="", columns=language.report.score_columns, rows=rows)


def how_words(mark: Mark, tools: Tools, *, language: Language = ENGLISH) -> str:
    """How a score line is found on the board, and how far it is off when it is rounded."""
    how = language.report.ruler
    if mark.stop is not None:
        stop = about(mark.stop, tools.ruler, words=language.told.common.about)
        edge = mark.edge_at
        how = (
            language.report.groove.format(stop=stop)
            if edge is None
            else language.report.offset.format(
                edge=about(edge, tools.ruler, words=language.told.common.about), stop=stop
            )
        )
    return how if mark.error == ZERO else language.report.off.format(how=how, error=mark.error.float_mm)


# --- For programs -------------------------------------------------------------------------------------------


def measures_report(project: Project, things: tuple[MeasuredThing, ...], *, language: Language = ENGLISH) -> Report:
    """The measures as a report of kind ``measure``."""
    tools = Tools(board=project.board, ruler=project.ruler, other=project.other_ruler)
    sheet = project.cardstock.usable_sheet
    return report(
        "measure",
        project=project.name,
        unit=project.unit,
        cardstock=_card_report(project, language=language),
        board={"name": project.board.name, "stops_mm": [mm(stop) for stop in project.board.stops]},
        parts=[
            {
                "name": thing.name,
                "instead_of": thing.instead_of,
                "construction": thing.construction,
                "revision": thing.revision,
                "pieces": [_piece_report(piece, tools, sheet, language=language) for piece in thing.pieces],
                "finished": [_form_report(form) for form in thing.forms],
            }
            for thing in things
        ],
    )


def _card_report(project: Project, *, language: Language = ENGLISH) -> Report:
    card, sheet = project.cardstock, project.cardstock.usable_sheet
    return {
        "name": card.name,
        "text": card_words(project, language=language),
        "sheet": card.sheet.name,
        "sheet_width_mm": mm(sheet.width),
        "sheet_height_mm": mm(sheet.height),
        "sheet_measured": card.measured is not None,
        "thickness_mm": number(card.thickness.mm),
        "thickness_low_mm": number(card.thickness.low_mm),
        "thickness_high_mm": number(card.thickness.high_mm),
        "thickness_how": card.thickness.how,
        "weight_gsm": None if card.weight is None else number(card.weight.gsm),
    }


def _piece_report(piece: MeasuredPiece, tools: Tools, sheet: SheetSize, *, language: Language = ENGLISH) -> Report:
    return {
        "id": piece.piece.id,
        "title": piece_title(piece, language=language),
        "copies": piece.copies,
        "fits_sheet": fits_sheet(piece, sheet),
        **_size_report("width", piece.width, tools),
        **_size_report("height", piece.height, tools),
        "across": [_mark_report(mark, tools, language=language) for mark in piece.across],
        "up": [_mark_report(mark, tools, language=language) for mark in piece.up],
        "measures": [{"name": name, **_size_report("length", size, tools)} for name, size in piece.measures],
        "readings_across": _readings_report(piece.readings_across),
        "readings_up": _readings_report(piece.readings_up),
        "cut_length_mm": number(cut_length(piece.piece)),
        "score_length_mm": number(score_length(piece.piece)),
    }


def _size_report(name: str, size: Rounded, tools: Tools) -> Report:
    return {
        f"{name}_mm": mm(size.shown),
        f"{name}_exact_mm": mm(size.exact),
        f"{name}_error_mm": mm(size.error),
        f"{name}_text": size.text,
        f"{name}_other_text": in_words(size.shown, tools.other),
    }


def _mark_report(mark: Mark, tools: Tools, *, language: Language = ENGLISH) -> Report:
    return {
        "position_mm": mm(mark.marked),
        "exact_mm": mm(mark.exact),
        "error_mm": mm(mark.error),
        "text": mark.text,
        "other_text": in_words(mark.marked, tools.other),
        "how": mark.how,
        "how_text": how_words(mark, tools, language=language),
        "groove_mm": None if mark.stop is None else mm(mark.stop),
        "edge_at_mm": None if mark.edge_at is None else mm(mark.edge_at),
    }


def _readings_report(readings: Readings | None) -> Report | None:
    if readings is None:
        return None
    return {
        "one_edge_mm": [mm(width) for width in readings.one_edge],
        "each_edge_mm": [mm(width) for width in readings.each_edge],
        "from_far_edge_mm": [mm(position) for position in readings.from_far_edge],
        "change_mm": mm(readings.change),
        "differ_mm": number(readings.differ_mm),
        "safer": readings.safer,
        "trim_first_mm": number(readings.trim_first_mm),
    }


def _form_report(form: BoxForm) -> Report:
    return {
        "piece": form.piece,
        "outer_length_mm": number(form.outer_mm[0]),
        "outer_width_mm": number(form.outer_mm[1]),
        "inner_length_mm": number(form.inner_mm[0]),
        "inner_width_mm": number(form.inner_mm[1]),
        "height_mm": number(form.rim_mm),
    }
