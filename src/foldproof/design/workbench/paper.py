"""What is cut and scored, as the page tells it: large measures to read at the table, and the piece on the board."""

from __future__ import annotations

from typing import Any

from foldproof.constructions.turning_lid import DISC, is_layer
from foldproof.design.lid_parts import cut_words_of
from foldproof.design.measure import Measured
from foldproof.drawing.style import palette_for
from foldproof.exports.svg import page_svg
from foldproof.lengths import about, in_words, round_to
from foldproof.pattern.measured import MeasuredPiece
from foldproof.project.records import Project
from foldproof.stock.board import Mark
from foldproof.stock.sheets import SheetSize
from foldproof.teach import wording_workbench as words
from foldproof.views.board_picture import Tools
from foldproof.views.piece import glue_areas_of, piece_title, size_words
from foldproof.views.plan_words import cut_lines
from foldproof.views.sheet_picture import sheet_picture

Fields = dict[str, Any]

PICTURE_MM = 180.0


def recipe_of(project: Project, measured: Measured) -> list[Fields]:
    """For each piece: its size as the largest words, where to score it, what to cut away."""
    found: list[Fields] = []
    for part in measured.parts:
        told = dict(cut_words_of(project, part))
        for piece in part.pieces:
            found += _piece(project, piece, told.get(piece.piece.id, ""))
    return found


def _piece(project: Project, piece: MeasuredPiece, told: str) -> list[Fields]:
    tools = Tools(board=project.board, ruler=project.ruler, other=project.other_ruler)
    title = piece_title(piece)
    sheet = project.cardstock.usable_sheet
    cut = words.CUT_ONE if piece.copies == 1 else words.CUT_SOME.format(count=piece.copies)
    other = size_words(
        round_to(piece.width.shown, project.other_ruler), round_to(piece.height.shown, project.other_ruler)
    )
    note = told or words.OF_SHEET.format(other=other, sheet=sheet_words(project, sheet))
    rows: list[Fields] = [
        {
            "title": cut,
            "hero": _hero(piece),
            "other": other if told and not _is_shape(piece) else "",
            "note": note,
        }
    ]
    for marks, heading in ((piece.across, words.SCORE), (piece.up, words.SCORE_TURNED)):
        if marks:
            rows.append(
                {
                    "title": heading,
                    "hero": "   ".join(_number(mark, project) for mark in marks),
                    "other": words.LIST_JOIN.join(about(mark.marked, project.other_ruler) for mark in marks),
                    "note": _how(marks, project),
                }
            )
    cutting = [] if told else [text for text, role in cut_lines(piece, tools) if role == "label"]
    if cutting:
        rows.append({"title": words.CUT_AWAY, "hero": "", "other": "", "note": " ".join(cutting)})
    named = {"id": f"{piece.part}/{piece.piece.id}", "piece": title, "folded": bool(piece.across or piece.up)}
    return [named | row for row in rows]


def _is_shape(piece: MeasuredPiece) -> bool:
    """Is it cut by a template and not by its sides? Then it is known by its size across."""
    return is_layer(piece.piece.id) or piece.piece.id == DISC


def _hero(piece: MeasuredPiece) -> str:
    """The size by which a maker knows a piece."""
    size = dict(piece.measures).get("size")
    if _is_shape(piece) and size is not None:
        return words.ACROSS.format(size=size.text)
    return size_words(piece.width, piece.height)


def sheet_words(project: Project, sheet: SheetSize) -> str:
    """A sheet by its name; one that is named by its sides as makers write them: 12 x 12 in."""
    if any(letter.isalpha() for letter in sheet.name.replace("x", "")):
        return sheet.name
    unit = project.unit
    sides = (in_words(side, project.ruler).removesuffix(f" {unit}") for side in (sheet.width, sheet.height))
    return f"{words.BY.join(sides)} {unit}"


def _number(mark: Mark, project: Project) -> str:
    return mark.text.removesuffix(f" {project.ruler.unit}")


def _how(marks: tuple[Mark, ...], project: Project) -> str:
    if not project.board.stops:
        return words.NO_BOARD
    on_grooves = sum(mark.how != "ruler" for mark in marks)
    if on_grooves == len(marks):
        return words.ON_GROOVES
    return words.ON_BOTH.format(count=on_grooves, all=len(marks)) if on_grooves else words.ON_RULER


def sheets_of(project: Project, measured: Measured) -> list[Fields]:
    """A picture of every folded piece as it is cut and scored."""
    tools = Tools(board=project.board, ruler=project.ruler, other=project.other_ruler)
    palette = palette_for(project.cardstock.rgb)
    found = []
    for part in measured.parts:
        for piece in part.pieces:
            if not (piece.across or piece.up):
                continue
            title = piece_title(piece)
            alt = words.SHEET_ALT.format(piece=title, words=size_words(piece.width, piece.height))
            glue = glue_areas_of(part.assembly.joins, piece.piece.id)
            name = f"sheet-{part.part.name}-{piece.piece.id}"
            sheet = project.cardstock.usable_sheet
            page = sheet_picture(piece, sheet, tools, glue, name=name, alt=alt, width_mm=PICTURE_MM)
            drawn = page_svg(page, palette=palette)
            found.append(
                {"title": title, "svg": drawn, "alt": alt, "part": part.part.name, "piece": piece.piece.id}
            )
    return found
