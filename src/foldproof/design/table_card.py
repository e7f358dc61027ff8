"""The table card of a project: its measures in short, what there is after each stage, and the worst cautions."""

from __future__ import annotations

from foldproof.checks.proof import Proof
from foldproof.design.booklet import both_units, class_notice, piece_size, tools_of
from foldproof.design.lid_parts import LidParts, lids_of
from foldproof.design.lid_steps import sheet_of
from foldproof.design.measure import Measured, MeasuredPart
from foldproof.design.steps import hazards
from foldproof.drawing.records import Document, Page
from foldproof.lengths import Length, in_words
from foldproof.pattern.measured import MeasuredPiece
from foldproof.project.records import Project
from foldproof.stock.board import Mark
from foldproof.teach import wording_booklet as says
from foldproof.teach.messages import ENGLISH, step_words
from foldproof.teach.steps import folding_steps
from foldproof.views.bench_pictures import cutting_page
from foldproof.views.finished import finished_rows
from foldproof.views.folded_picture import VIEWS, finished_picture
from foldproof.views.lid_by_hand import by_hand
from foldproof.views.piece import glue_areas_of, piece_title
from foldproof.views.table_card import (
    AFTER_MM,
    AFTERS,
    FLAT_MM,
    after_page,
    closed_lid_page,
    spread_over,
    table_card,
)

Row = tuple[str, str]


def table_card_of(measured: Measured, proof: Proof) -> Document:
    """The card of a proof's project."""
    project, lids = measured.project, lids_of(proof)
    folded = [part for part in measured.parts if part.part.name not in {lid.name for lid in lids}]
    rows = [row for part in folded for piece in part.pieces for row in _piece_rows(project, piece)]
    rows += [row for lid in lids for row in _lid_rows(project, lid)]
    rows += [row for part in folded for row in _finished_rows(project, part)]
    hazardous = (*hazards(proof), "always")
    return table_card(
        project.name,
        ". ".join((says.CARD, *class_notice(project))),
        _flat(project, folded[0]),
        rows,
        _afters(project, proof, lids),
        [text for code, text in says.CARD_CAUTIONS.items() if code in hazardous],
    )


def _flat(project: Project, part: MeasuredPart) -> Page:
    piece = part.pieces[0]
    areas = glue_areas_of(part.assembly.joins, piece.piece.id)
    alt = says.CARD_FLAT_ALT.format(title=piece_title(piece))
    return cutting_page(piece, tools_of(project), areas, name="flat", alt=alt, size=FLAT_MM)


# --- Measures -----------------------------------------------------------------------------------------------


def _both(project: Project, size: Length) -> str:
    return both_units(in_words(size, project.ruler), in_words(size, project.other_ruler))


def _piece_rows(project: Project, piece: MeasuredPiece) -> list[Row]:
    rows = [(piece_title(piece), both_units(*piece_size(project, piece)))]
    if piece.across:
        rows.append((says.CARD_SCORE, _scores(project, piece)))
    tab = dict(piece.measures).get("tab_length")
    if tab is not None:
        rows.append((says.CARD_TABS, says.CARD_TABS_LONG.format(size=_both(project, tab.shown))))
    return rows


def _scores(project: Project, piece: MeasuredPiece) -> str:
    def told(marks: tuple[Mark, ...]) -> str:
        return ", ".join(_both(project, mark.marked) for mark in marks)

    lengths = told(piece.across)
    if not piece.up:
        return lengths
    if [mark.marked for mark in piece.across] == [mark.marked for mark in piece.up]:
        count = len(piece.up)
        numbers = ENGLISH.common.numbers
        words = numbers[count] if count < len(numbers) else str(count)
        return says.CARD_SAME.format(lengths=lengths, count=words)
    return says.CARD_TURN.format(lengths=lengths, turned=told(piece.up))


def _lid_rows(project: Project, lid: LidParts) -> list[Row]:
    strip = both_units(*piece_size(project, lid.pieces[0]))
    sizes = [dict(piece.measures)["size"].shown for piece in lid.pieces if piece.piece.id.startswith("layer_")]
    along = by_hand(lid.turning, project.ruler).along
    hole = both_units(along.text, in_words(along.exact, project.other_ruler))
    return [
        (says.CARD_STRIP, strip),
        (says.CARD_LAYERS, says.CARD_ACROSS.format(sizes=", ".join(_both(project, size) for size in sizes))),
        (says.CARD_HOLE, says.CARD_HOLE_WAY.format(along=hole)),
    ]


def _finished_rows(project: Project, part: MeasuredPart) -> list[Row]:
    rows = finished_rows(part.assembly.forms, project.ruler, project.other_ruler)
    names = (says.CARD_OUTSIDE, says.CARD_INSIDE)
    times = ENGLISH.common.times
    return [(names[number % 2], times.format(row[1], row[2])) for number, row in enumerate(rows)]


# --- Stages -------------------------------------------------------------------------------------------------


def _afters(project: Project, proof: Proof, lids: tuple[LidParts, ...]) -> list[tuple[str, Page]]:
    """Stages of the folding, spread over all of it, and the closed lid where one turns."""
    stages = [
        (part, piece, step)
        for part in proof.parts
        if part.evidence.turning is None
        for piece in part.evidence.pieces
        for step in folding_steps(piece.tree, piece.orders, piece.joins)
    ]
    joined = [part for part in proof.parts if part.evidence.assembly.joints]
    room = AFTERS - min(1, len(lids) + len(joined))
    found: list[tuple[str, Page]] = []
    view = VIEWS[project.teach.hand]
    for place in spread_over(len(stages), room):
        part, piece, step = stages[place]
        title = step_words(step, str(part.evidence.part.values.glue)).title
        alt = says.CARD_ALT.format(title=title)
        name = f"after-{len(found) + 1}"
        joins = part.evidence.assembly.joins
        found.append((title, after_page(piece, joins, step, name=name, alt=alt, view=view)))
    if joined and not lids:
        whole = joined[0].evidence
        name, alt = "after-all", says.CARD_ALT.format(title=says.CARD_FINISHED)
        page = finished_picture(whole.pieces, whole.assembly, name=name, alt=alt, size=AFTER_MM, view=view)
        found.append((says.CARD_FINISHED, page))
    for lid in lids[:1]:
        page = closed_lid_page(sheet_of(lid, AFTER_MM, view), name="after-lid", alt=says.CARD_LID_ALT)
        found.append((says.CARD_FINISHED, page))
    return found
