"""The paper of alternatives: leaves with their pieces, hole guides, rows of the cut list and the shopping list."""

from __future__ import annotations

import dataclasses
from collections.abc import Mapping, Sequence

from foldproof.constructions.turning_lid import DISC
from foldproof.design.alternative_parts import AlternativeParts
from foldproof.design.alternatives_told import verdict_told
from foldproof.design.lid_parts import LidParts, sight_of
from foldproof.design.measure import Measured
from foldproof.design.offcuts import layout_pages, other_offcuts
from foldproof.drawing.records import Page, Table
from foldproof.pattern.measured import MeasuredPiece
from foldproof.project.records import Project
from foldproof.teach.messages import piece_words
from foldproof.views.cut_list import cut_list
from foldproof.views.hole_guide import hole_guide_page
from foldproof.views.layer_pages import cut_words, layer_cards, layer_pages
from foldproof.views.measures import MeasuredThing
from foldproof.views.piece import plain
from foldproof.views.shopping import ShoppingPiece, shopping_list
from foldproof.words.catalogue import ENGLISH, Language

NOTE = 5  # the column of the shopping list that says what a row is about
BETWEEN = "; "

Told = Mapping[tuple[str, str], str]  # by part and piece, the piece from whose offcut it is cut


def pages_title(project: Project, parts: AlternativeParts, *, language: Language = ENGLISH) -> str:
    """What stands at the head of every page of an alternative: the project, and what it is made instead of."""
    return language.alternatives.pages.format(project=project.name, of=plain(parts.of))


def sheet_name(project_name: str, piece: MeasuredPiece, offcuts: Told, *, language: Language = ENGLISH) -> str:
    """What stands at the head of a template: the project, and before it the offcut that the piece is cut from."""
    words = offcuts.get((piece.part, piece.piece.id))
    return project_name if words is None else language.lid.offcut_sheet.format(piece=words, project=project_name)


def other_offcuts_told(
    measured: Measured, lids: Sequence[LidParts], others: Sequence[AlternativeParts], *, language: Language = ENGLISH
) -> dict[tuple[str, str], str]:
    """By part and piece of every alternative, the piece from whose offcut it is cut, in words."""
    return {
        key: words
        for each in others
        for key, words in other_offcuts(measured, lids, each).told(language=language).items()
        if key[0] == each.name
    }


def other_layout_pages(
    measured: Measured, lids: Sequence[LidParts], parts: AlternativeParts, *, language: Language = ENGLISH
) -> tuple[Page, ...]:
    """Leaves that show an alternative's pieces on sheets that their squares would not share."""
    name = pages_title(measured.project, parts, language=language)
    layout = other_offcuts(measured, lids, parts)
    return layout_pages(measured.project, layout, name, not_proved=not parts.proved, language=language)


def other_leaves(
    project: Project, parts: AlternativeParts, offcuts: Told, *, language: Language = ENGLISH
) -> tuple[Page, ...]:
    """Leaves with the pieces that are the alternative's own."""
    lid = parts.lid
    own = {piece.piece.id for piece in parts.own}
    return layer_pages(
        lid.values,
        parts.own,
        project.ruler,
        project.other_ruler,
        pages_title(project, parts, language=language),
        from_waste={
            piece: piece_words(lid.host_piece, catalogue=language.told) for piece in lid.from_waste if piece in own
        },
        from_offcut={piece: words for (of, piece), words in offcuts.items() if of == parts.name},
        not_proved=not parts.proved,
        in_class=project.teach.version == "class",
        language=language,
    )


def other_guide(project: Project, parts: AlternativeParts, *, language: Language = ENGLISH) -> tuple[Page, ...]:
    """The alternative's hole guide."""
    lid = parts.lid
    return hole_guide_page(
        lid.turning,
        lid.tips,
        project.ruler,
        project.other_ruler,
        pages_title(project, parts, language=language),
        plain(parts.name).capitalize(),
        sight=sight_of(project, lid, language=language),
        not_proved=not parts.proved,
        in_class=project.teach.version == "class",
        language=language,
    )


def other_things(
    project: Project, others: Sequence[AlternativeParts], *, language: Language = ENGLISH
) -> tuple[MeasuredThing, ...]:
    """The alternatives as their measures are told."""
    return tuple(
        MeasuredThing(
            name=each.name,
            construction=each.lid.evidence.part.construction.name,
            revision=each.lid.evidence.part.revision,
            pieces=named_instead(each.own, each.name, each.of, language=language),
            forms=(),
            cut_words=cut_words(each.lid.values, each.own, project.ruler, project.other_ruler, language=language),
            instead_of=each.of,
        )
        for each in others
    )


def named_instead(
    pieces: Sequence[MeasuredPiece], name: str, of: str, *, language: Language = ENGLISH
) -> tuple[MeasuredPiece, ...]:
    """Pieces that say in their titles what they are made instead of."""
    part = language.alternatives.copied.format(name=plain(name), of=plain(of))
    return tuple(dataclasses.replace(piece, part=part) for piece in pieces)


# --- Lists --------------------------------------------------------------------------------------------------


def with_cut_rows(
    table: Table,
    project: Project,
    others: Sequence[AlternativeParts],
    offcuts: Told,
    *,
    language: Language = ENGLISH,
) -> Table:
    """The cut list with the alternatives' own pieces, each marked with the lid it is made instead of."""
    rows = list(table.rows)
    for each in others:
        cards = {**layer_cards(each.lid.values, each.own), (each.name, DISC): (DISC, project.cardstock.name)}
        rows += cut_list(
            project,
            each.own,
            verdict_told(each, language=language),
            cards,
            {each.name: each.of},
            offcuts,
            language=language,
        ).rows
    return dataclasses.replace(table, rows=tuple(rows))


def with_alternatives(
    table: Table,
    measured: Measured,
    lids: Sequence[LidParts],
    others: Sequence[AlternativeParts],
    *,
    language: Language = ENGLISH,
) -> Table:
    """The shopping list with the card of each alternative, marked: it is bought instead of the lid's, not besides."""
    project, rows = measured.project, list(table.rows)
    for each in others:
        cards = layer_cards(each.lid.values, each.own)
        fewer = other_offcuts(measured, lids, each).sheets
        pieces = tuple(
            ShoppingPiece(
                measured=piece, stock=cards.get((piece.part, piece.piece.id), ("", project.cardstock.name))[1]
            )
            for piece in each.own
            if piece.piece.id not in each.lid.from_waste
        )
        mark = language.alternatives.shopping.format(of=plain(each.of), name=plain(each.name))
        verdict = verdict_told(each, language=language)
        own = shopping_list(project, pieces, (), verdict, by_outline=fewer, language=language)
        for row in own.rows:
            note = BETWEEN.join(part for part in (mark, row[NOTE]) if part)
            rows.append((*row[:NOTE], note, *row[NOTE + 1 :]))
    return dataclasses.replace(table, rows=tuple(rows))
