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
from foldproof.views.board_picture import Tools
from foldproof.views.piece import glue_areas_of, piece_title, size_words
from foldproof.views.plan_words import cut_lines
from foldproof.views.sheet_picture import sheet_picture
from foldproof.words.catalogue import ENGLISH, Language

Fields = dict[str, Any]

PICTURE_MM = 180.0


def recipe_of(project: Project, measured: Measured, *, language: Language = ENGLISH) -> list[Fields]:
    """For each piece: its size as the largest words, where to score it, what to cut away."""
    found: list[Fields] = []
    for part in measured.parts:
        told = dict(cut_words_of(project, part, language=language))
        for piece in part.pieces:
            found += _piece(project, piece, told.get(piece.piece.id, ""), language=language)
    return found


def _piece(project: Project, piece: MeasuredPiece, told: str, *, language: Language = ENGLISH) -> list[Fields]:
    tools = Tools(board=project.board, ruler=project.ruler, other=project.other_ruler)
    title = piece_title(piece, language=language)
    sheet = project.cardstock.usable_sheet
    cut = language.workbench.cut_one if piece.copies == 1 else language.workbench.cut_some.format(count=piece.copies)
    other = size_words(
        round_to(piece.width.shown, project.other_ruler),
        round_to(piece.height.shown, project.other_ruler),
        language=language,
    )
    note = told or language.workbench.of_sheet.format(other=other, sheet=sheet_words(project, sheet, language=language))
    rows: list[Fields] = [
        {
            "title": cut,
            "hero": _hero(piece, language=language),
            "other": other if told and not _is_shape(piece) else "",
            "note": note,
        }
    ]
    for marks, heading in ((piece.across, language.workbench.score), (piece.up, language.workbench.score_turned)):
        if marks:
            rows.append(
                {
                    "title": heading,
                    "hero": "   ".join(_number(mark, project) for mark in marks),
                    "other": language.workbench.list_join.join(
                        about(mark.marked, project.other_ruler) for mark in marks
                    ),
                    "note": _how(marks, project, language=language),
                }
            )
    cutting = [] if told else [text for text, role in cut_lines(piece, tools, language=language) if role == "label"]
    if cutting:
        rows.append({"title": language.workbench.cut_away, "hero": "", "other": "", "note": " ".join(cutting)})
    named = {"id": f"{piece.part}/{piece.piece.id}", "piece": title, "folded": bool(piece.across or piece.up)}
    return [named | row for row in rows]


def _is_shape(piece: MeasuredPiece) -> bool:
    """Is it cut by a template and not by its sides? Then it is known by its size across."""
    return is_layer(piece.piece.id) or piece.piece.id == DISC


def _hero(piece: MeasuredPiece, *, language: Language = ENGLISH) -> str:
    """The size by which a maker knows a piece."""
    size = dict(piece.measures).get("size")
    if _is_shape(piece) and size is not None:
        return language.workbench.across.format(size=size.text)
    return size_words(piece.width, piece.height, language=language)


def sheet_words(project: Project, sheet: SheetSize, *, language: Language = ENGLISH) -> str:
    """A sheet by its name; one that is named by its sides as makers write them: 12 x 12 in."""
    if any(letter.isalpha() for letter in sheet.name.replace("x", "")):
        return sheet.name
    unit = project.unit
    sides = (in_words(side, project.ruler).removesuffix(f" {unit}") for side in (sheet.width, sheet.height))
    return f"{language.workbench.by.join(sides)} {unit}"


def _number(mark: Mark, project: Project) -> str:
    return mark.text.removesuffix(f" {project.ruler.unit}")


def _how(marks: tuple[Mark, ...], project: Project, *, language: Language = ENGLISH) -> str:
    if not project.board.stops:
        return language.workbench.no_board
    on_grooves = sum(mark.how != "ruler" for mark in marks)
    if on_grooves == len(marks):
        return language.workbench.on_grooves
    return (
        language.workbench.on_both.format(count=on_grooves, all=len(marks))
        if on_grooves
        else language.workbench.on_ruler
    )


def sheets_of(project: Project, measured: Measured, *, language: Language = ENGLISH) -> list[Fields]:
    """A picture of every folded piece as it is cut and scored."""
    tools = Tools(board=project.board, ruler=project.ruler, other=project.other_ruler)
    palette = palette_for(project.cardstock.rgb)
    found = []
    for part in measured.parts:
        for piece in part.pieces:
            if not (piece.across or piece.up):
                continue
            title = piece_title(piece, language=language)
            alt = language.workbench.sheet_alt.format(
                piece=title, words=size_words(piece.width, piece.height, language=language)
            )
            glue = glue_areas_of(part.assembly.joins, piece.piece.id)
            name = f"sheet-{part.part.name}-{piece.piece.id}"
            sheet = project.cardstock.usable_sheet
            page = sheet_picture(piece, sheet, tools, glue, name=name, alt=alt, width_mm=PICTURE_MM, language=language)
            drawn = page_svg(page, palette=palette)
            found.append({"title": title, "svg": drawn, "alt": alt, "part": part.part.name, "piece": piece.piece.id})
    return found
