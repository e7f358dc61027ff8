"""The sheets of a pack: score plans, hole guides, templates, files for a cutting machine, and the cut list."""

from __future__ import annotations

import dataclasses
from collections.abc import Iterator, Mapping, Sequence
from dataclasses import dataclass
from functools import lru_cache

from foldproof.checks.proof import Proof
from foldproof.constructions.turning_lid import DISC
from foldproof.design.alternative_papers import (
    other_guide,
    other_layout_pages,
    other_leaves,
    other_offcuts_told,
    pages_title,
    sheet_name,
    with_cut_rows,
)
from foldproof.design.alternative_parts import AlternativeParts, alternatives_of
from foldproof.design.booklet import class_notice
from foldproof.design.lid_parts import LidParts, lids_of, sight_of
from foldproof.design.measure import Measured, MeasuredPart
from foldproof.design.offcuts import Offcuts, layout_pages, main_offcuts
from foldproof.design.papers import papers_of
from foldproof.drawing.records import Folio, Page
from foldproof.exports.csv import table_csv
from foldproof.exports.dxf import cut_dxf
from foldproof.exports.pdf import folio_pdf
from foldproof.exports.svg import cut_svg
from foldproof.geometry.plane import Polygon
from foldproof.pattern.measured import MeasuredPiece, file_stem
from foldproof.progress import Progress, Stopped
from foldproof.project.records import Project
from foldproof.teach.messages import piece_words
from foldproof.views.cut_list import cut_list
from foldproof.views.cut_picture import Kept
from foldproof.views.hole_guide import hole_guide_page
from foldproof.views.layer_pages import layer_cards, layer_pages
from foldproof.views.panel_papers import PaperPlan, paper_cards, paper_piece
from foldproof.views.paper import printer_paper
from foldproof.views.piece import cut_page, glue_areas_of, plain
from foldproof.views.score_plan import score_plan_pages
from foldproof.views.templates import template_pages
from foldproof.words.catalogue import ENGLISH, Language

File = tuple[str, bytes]  # its path in the pack, and what is in it

DXF_COMMENT = "999\n{text}\n"  # group 999 is a comment (DXF reference); read by people, passed over by programs
STAGES = 3  # of making the sheets: score plans, templates, cut files

# Papers of pieces that a change to the project leaves as they are.
PIECES_KEPT = 32
_score_plan_pages = lru_cache(maxsize=PIECES_KEPT)(score_plan_pages)
_template_pages = lru_cache(maxsize=PIECES_KEPT)(template_pages)


def sheets_of(measured: Measured, proof: Proof, progress: Progress, *, language: Language = ENGLISH) -> Iterator[File]:
    """Score plans, hole guides, templates, cut files and cut list: paths in the pack and what is in them.

    Raises Stopped when the caller stops it.
    """
    lids = {lid.name: lid for lid in lids_of(proof, language=language)}
    others = alternatives_of(proof, language=language)
    every = tuple(lids.values())
    layout = main_offcuts(measured, every)
    offcuts = layout.told(language=language)
    offcuts |= other_offcuts_told(measured, every, others, language=language)
    plan = papers_of(measured, every, language=language)
    made = _Sheets(
        measured=measured,
        proof=proof,
        lids=lids,
        others=others,
        layout=layout,
        offcuts=offcuts,
        plan=plan,
        papers=tuple(paper_piece(paper) for paper in plan.papers),
        pieces=tuple(
            (part, piece)
            for part in measured.parts
            for piece in (lids[part.part.name].pieces if part.part.name in lids else part.pieces)
        ),
    )
    _go_on(progress, 0)
    yield from _score_plans(made, language=language)
    yield from _hole_guides(made, language=language)
    _go_on(progress, 1)
    yield _templates(made, language=language)
    _go_on(progress, 2)
    yield from _machine_files(made, language=language)
    yield _cut_list(made, language=language)


@dataclass(frozen=True, slots=True, kw_only=True)
class _Sheets:
    """All that is on paper: every piece of the design, papers for its sides, and what others are made instead."""

    measured: Measured
    proof: Proof
    lids: Mapping[str, LidParts]
    others: tuple[AlternativeParts, ...]
    layout: Offcuts
    offcuts: Mapping[tuple[str, str], str]
    plan: PaperPlan
    papers: tuple[MeasuredPiece, ...]
    pieces: tuple[tuple[MeasuredPart, MeasuredPiece], ...]

    @property
    def project(self) -> Project:
        return self.measured.project

    @property
    def not_proved(self) -> bool:
        return self.proof.verdict != "proved"

    @property
    def in_class(self) -> bool:
        return self.project.teach.version == "class"


def _score_plans(made: _Sheets, *, language: Language) -> Iterator[File]:
    project, lids = made.project, tuple(made.lids.values())
    pages = tuple(
        page
        for part in made.measured.parts
        for page in _plans(project, part, made.lids, made.not_proved, made.offcuts, language=language)
    )
    pages += layout_pages(project, made.layout, project.name, not_proved=made.not_proved, language=language)
    for each in made.others:
        pages += other_leaves(project, each, made.offcuts, language=language)
        pages += other_layout_pages(made.measured, lids, each, language=language)
    title = language.paper.score_plan_title.format(name=project.name)
    yield _folio("score-plan.pdf", title, pages, made.proof, language=language)


def _hole_guides(made: _Sheets, *, language: Language) -> Iterator[File]:
    """One file for each lid, with the guides of what is made instead of it."""
    project = made.project
    title = language.paper.hole_guide_title.format(name=project.name)
    for lid in made.lids.values():
        path = "hole-guide.pdf" if len(made.lids) == 1 else f"hole-guide-{file_stem(lid.name)}.pdf"
        pages = _hole_guide(project, lid, made.not_proved, language=language)
        for each in made.others:
            pages += other_guide(project, each, language=language) if each.of == lid.name else ()
        yield _folio(path, title, pages, made.proof, language=language)


def _templates(made: _Sheets, *, language: Language) -> File:
    project, paper = made.project, printer_paper(made.project.ruler.unit)

    def of(
        piece: MeasuredPiece, areas: tuple[Polygon, ...], name: str, *, not_proved: bool = made.not_proved
    ) -> tuple[Page, ...]:
        return _template_pages(
            piece, areas, paper, name, not_proved=not_proved, in_class=made.in_class, language=language
        )

    pages: list[Page] = []
    for part, piece in made.pieces:
        areas = glue_areas_of(part.assembly.joins, piece.piece.id)
        pages += of(piece, areas, sheet_name(project.name, piece, made.offcuts, language=language))
    for piece in made.papers:
        pages += of(piece, (), project.name)
    for each in made.others:
        title = pages_title(project, each, language=language)
        for piece in each.own:
            name = sheet_name(title, piece, made.offcuts, language=language)
            pages += of(piece, (), name, not_proved=not each.proved)
    title = language.paper.templates_title.format(name=project.name)
    return _folio("templates.pdf", title, tuple(pages), made.proof, language=language)


def _machine_files(made: _Sheets, *, language: Language) -> Iterator[File]:
    notice = class_notice(made.project, language=language)
    for piece in (*(piece for _, piece in made.pieces), *made.papers):
        first = (language.paper.not_proved,) if made.not_proved else ()
        yield from _cut_files(piece, (*first, *notice), language=language)
    for each in made.others:
        first = () if each.proved else (language.paper.not_proved,)
        notices = (*first, pages_title(made.project, each, language=language), *notice)
        for piece in each.own:
            yield from _cut_files(piece, notices, language=language)


def _cut_list(made: _Sheets, *, language: Language) -> File:
    project = made.project
    cards = {key: card for lid in made.lids.values() for key, card in layer_cards(lid.values, lid.pieces).items()}
    cards |= {(lid, DISC): (DISC, project.cardstock.name) for lid in made.lids}
    if project.papers is not None:
        cards |= paper_cards(made.plan, project.papers)
    every = (*(piece for _, piece in made.pieces), *made.papers)
    verdict = language.term(made.proof.verdict.replace("_", " "))
    table = cut_list(project, every, verdict, cards, offcuts=made.offcuts, language=language)
    return text_file(
        "cut-list.csv", table_csv(with_cut_rows(table, project, made.others, made.offcuts, language=language))
    )


def _go_on(progress: Progress, done: int) -> None:
    if not progress("sheets", done, STAGES):
        raise Stopped


def _plans(
    project: Project,
    part: MeasuredPart,
    lids: Mapping[str, LidParts],
    not_proved: bool,
    offcuts: Mapping[tuple[str, str], str],
    *,
    language: Language = ENGLISH,
) -> tuple[Page, ...]:
    """The leaves of one part: a score plan for each piece, or a lid's pieces together."""
    lid = lids.get(part.part.name)
    if lid is not None:
        return layer_pages(
            lid.values,
            lid.pieces,
            project.ruler,
            project.other_ruler,
            project.name,
            from_waste={piece: piece_words(lid.host_piece, catalogue=language.told) for piece in lid.from_waste},
            from_offcut={piece: words for (of, piece), words in offcuts.items() if of == lid.name},
            not_proved=not_proved,
            in_class=bool(class_notice(project, language=language)),
            language=language,
        )
    kept = {each.host_piece: each.kept for each in lids.values() if each.host.part.name == part.part.name}
    return tuple(
        page
        for piece in part.pieces
        for page in _score_plan(project, part, piece, kept.get(piece.piece.id, ()), not_proved, language=language)
    )


def _hole_guide(project: Project, lid: LidParts, not_proved: bool, *, language: Language = ENGLISH) -> tuple[Page, ...]:
    return hole_guide_page(
        lid.turning,
        lid.tips,
        project.ruler,
        project.other_ruler,
        project.name,
        plain(lid.name).capitalize(),
        sight=sight_of(project, lid, language=language),
        not_proved=not_proved,
        in_class=bool(class_notice(project, language=language)),
        language=language,
    )


def _score_plan(
    project: Project,
    part: MeasuredPart,
    piece: MeasuredPiece,
    kept: tuple[Kept, ...],
    not_proved: bool,
    *,
    language: Language = ENGLISH,
) -> tuple[Page, ...]:
    return _score_plan_pages(
        piece,
        project.board,
        project.ruler,
        project.other_ruler,
        project.name,
        glue_areas=glue_areas_of(part.assembly.joins, piece.piece.id),
        whole_sheet=getattr(part.part.values, "piece", "") == "whole sheet",
        kept=kept,
        not_proved=not_proved,
        in_class=bool(class_notice(project, language=language)),
        language=language,
    )


def _folio(path: str, title: str, pages: tuple[Page, ...], proof: Proof, *, language: Language = ENGLISH) -> File:
    document_id = f"{proof.input_hash}/{path}".encode()
    return path, folio_pdf(Folio(title=title, pages=pages, language=language.name), document_id=document_id)


def _cut_files(piece: MeasuredPiece, notices: Sequence[str], *, language: Language = ENGLISH) -> Iterator[File]:
    """The outline for a machine; ``notices`` stand before all else where people read it."""
    page = cut_page(piece, language=language)
    page = dataclasses.replace(page, alt=" ".join((*notices, page.alt)))
    comment = "".join(DXF_COMMENT.format(text=notice) for notice in notices)
    yield text_file(f"cut/{page.name}.svg", cut_svg(page, language=language))
    yield text_file(f"cut/{page.name}.dxf", comment + cut_dxf(page))


def text_file(path: str, text: str) -> File:
    """A file of text."""
    return path, text.encode("utf-8")
