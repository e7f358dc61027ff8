"""The table card of a project: its measures in short, what there is after each stage, and the worst cautions."""

from __future__ import annotations

from foldproof.checks.proof import Proof
from foldproof.design.alternative_parts import alternatives_of
from foldproof.design.alternatives_told import size_of
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
from foldproof.teach.messages import step_words
from foldproof.teach.steps import folding_steps
from foldproof.views.bench_pictures import cutting_page
from foldproof.views.finished import finished_rows
from foldproof.views.folded_picture import VIEWS, finished_picture
from foldproof.views.lid_by_hand import by_hand
from foldproof.views.piece import glue_areas_of, piece_title, plain
from foldproof.views.table_card import (
    AFTER_MM,
    AFTERS,
    FLAT_MM,
    after_page,
    closed_lid_page,
    spread_over,
    table_card,
)
from foldproof.words.catalogue import ENGLISH, Language

Row = tuple[str, str]

CARD_OTHERS = 2  # other shapes that one line of the card has room for


def table_card_of(measured: Measured, proof: Proof, *, language: Language = ENGLISH) -> Document:
    """The card of a proof's project."""
    project, lids = measured.project, lids_of(proof, language=language)
    folded = [part for part in measured.parts if part.part.name not in {lid.name for lid in lids}]
    rows = [row for part in folded for piece in part.pieces for row in _piece_rows(project, piece, language=language)]
    rows += [row for lid in lids for row in _lid_rows(project, lid, language=language)]
    rows += [row for part in folded for row in _finished_rows(project, part, language=language)]
    hazardous = (*hazards(proof), "always")
    return table_card(
        project.name,
        ". ".join((language.booklet.card, *class_notice(project, language=language))),
        _flat(project, folded[0], language=language),
        rows,
        _afters(project, proof, lids, language=language),
        [text for code, text in language.booklet.card_cautions.items() if code in hazardous],
        _instead_rows(project, proof, language=language),
        language=language,
    )


def _flat(project: Project, part: MeasuredPart, *, language: Language = ENGLISH) -> Page:
    piece = part.pieces[0]
    areas = glue_areas_of(part.assembly.joins, piece.piece.id)
    alt = language.booklet.card_flat_alt.format(title=piece_title(piece, language=language))
    return cutting_page(piece, tools_of(project), areas, name="flat", alt=alt, size=FLAT_MM, language=language)


# --- Measures -----------------------------------------------------------------------------------------------


def _both(project: Project, size: Length, *, language: Language = ENGLISH) -> str:
    return both_units(in_words(size, project.ruler), in_words(size, project.other_ruler), language=language)


def _piece_rows(project: Project, piece: MeasuredPiece, *, language: Language = ENGLISH) -> list[Row]:
    rows = [
        (
            piece_title(piece, language=language),
            both_units(*piece_size(project, piece, language=language), language=language),
        )
    ]
    if piece.across:
        rows.append((language.booklet.card_score, _scores(project, piece, language=language)))
    tab = dict(piece.measures).get("tab_length")
    if tab is not None:
        rows.append(
            (
                language.booklet.card_tabs,
                language.booklet.card_tabs_long.format(size=_both(project, tab.shown, language=language)),
            )
        )
    return rows


def _scores(project: Project, piece: MeasuredPiece, *, language: Language = ENGLISH) -> str:
    def told(marks: tuple[Mark, ...]) -> str:
        return ", ".join(_both(project, mark.marked, language=language) for mark in marks)

    lengths = told(piece.across)
    if not piece.up:
        return lengths
    if [mark.marked for mark in piece.across] == [mark.marked for mark in piece.up]:
        count = len(piece.up)
        numbers = language.told.common.numbers
        words = numbers[count] if count < len(numbers) else str(count)
        return language.booklet.card_same.format(lengths=lengths, count=words)
    return language.booklet.card_turn.format(lengths=lengths, turned=told(piece.up))


def _lid_rows(project: Project, lid: LidParts, *, language: Language = ENGLISH) -> list[Row]:
    strip = both_units(*piece_size(project, lid.pieces[0], language=language), language=language)
    sizes = [dict(piece.measures)["size"].shown for piece in lid.pieces if piece.piece.id.startswith("layer_")]
    found = by_hand(lid.turning, project.ruler)
    told = [
        both_units(way.text, in_words(way.exact, project.other_ruler), language=language)
        for way in ((found.along,) if found.along is not None else found.sides)
    ]
    way = language.booklet.card_hole_way.format(along=told[0])
    if found.along is None:
        first, second = found.names
        way = language.booklet.card_hole_sides.format(
            first=told[0], first_side=first, second=told[1], second_side=second
        )
    return [
        (language.booklet.card_strip, strip),
        (
            language.booklet.card_layers,
            language.booklet.card_across.format(
                sizes=", ".join(_both(project, size, language=language) for size in sizes)
            ),
        ),
        (language.booklet.card_hole, way),
    ]


def _instead_rows(project: Project, proof: Proof, *, language: Language = ENGLISH) -> list[Row]:
    """The other shapes in one line: the first two, and how many more are in the booklet."""
    others = alternatives_of(proof, language=language)
    told = [
        (language.alternatives.card_one if each.proved else language.alternatives.card_one_not_proved).format(
            name=plain(each.name), size=in_words(size_of(each), project.ruler)
        )
        for each in others[:CARD_OTHERS]
    ]
    more = (
        [language.alternatives.card_more.format(count=len(others) - CARD_OTHERS)] if len(others) > CARD_OTHERS else []
    )
    return [(language.alternatives.card_row, "; ".join((*told, *more)))] if told else []


def _finished_rows(project: Project, part: MeasuredPart, *, language: Language = ENGLISH) -> list[Row]:
    rows = finished_rows(part.assembly.forms, project.ruler, project.other_ruler, language=language)
    names = (language.booklet.card_outside, language.booklet.card_inside)
    times = language.told.common.times
    return [(names[number % 2], times.format(row[1], row[2])) for number, row in enumerate(rows)]


# --- Stages -------------------------------------------------------------------------------------------------


def _afters(
    project: Project, proof: Proof, lids: tuple[LidParts, ...], *, language: Language = ENGLISH
) -> list[tuple[str, Page]]:
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
        title = step_words(step, str(part.evidence.part.values.glue), catalogue=language.told).title
        alt = language.booklet.card_alt.format(title=title)
        name = f"after-{len(found) + 1}"
        joins = part.evidence.assembly.joins
        found.append((title, after_page(piece, joins, step, name=name, alt=alt, view=view)))
    if joined and not lids:
        whole = joined[0].evidence
        name, alt = "after-all", language.booklet.card_alt.format(title=language.booklet.card_finished)
        page = finished_picture(whole.pieces, whole.assembly, name=name, alt=alt, size=AFTER_MM, view=view)
        found.append((language.booklet.card_finished, page))
    for lid in lids[:1]:
        page = closed_lid_page(sheet_of(lid, AFTER_MM, view), name="after-lid", alt=language.booklet.card_lid_alt)
        found.append((language.booklet.card_finished, page))
    return found
