"""The pack: every file that a maker prints, cuts and folds from, as bytes. Same project file, same bytes."""

from __future__ import annotations

import dataclasses
import hashlib
from collections.abc import Iterator, Mapping, Sequence
from dataclasses import dataclass
from functools import lru_cache

from foldproof.checks.proof import Proof, Verdict
from foldproof.constructions.turning_lid import DISC
from foldproof.design.alternative_papers import (
    other_guide,
    other_layout_pages,
    other_leaves,
    other_offcuts_told,
    other_things,
    pages_title,
    sheet_name,
    with_cut_rows,
)
from foldproof.design.alternative_parts import alternatives_of
from foldproof.design.booklet import class_notice
from foldproof.design.lid_parts import LidParts, cut_words_of, lids_of, sight_of
from foldproof.design.measure import Measured, MeasuredPart, measure
from foldproof.design.mend import with_mends
from foldproof.design.offcuts import layout_pages, main_offcuts
from foldproof.design.papers import papers_of
from foldproof.design.prove import prove
from foldproof.design.publishing import published
from foldproof.design.setting import Pictures, begin, begin_pictures, finished
from foldproof.design.steps import ToldSteps, document_of, told_steps
from foldproof.design.telling import tell_proof
from foldproof.drawing.records import Document, Folio, Page
from foldproof.drawing.style import SEA_GREEN, Palette, palette_for, same_on_both_sides
from foldproof.exports.beside import beside
from foldproof.exports.csv import table_csv
from foldproof.exports.dxf import cut_dxf
from foldproof.exports.glb import scene_glb
from foldproof.exports.markdown import document_markdown
from foldproof.exports.pdf import folio_pdf
from foldproof.exports.svg import cut_svg
from foldproof.exports.text import document_text
from foldproof.pattern.measured import MeasuredPiece
from foldproof.progress import Progress, Stopped, unwatched
from foldproof.project.records import Project
from foldproof.stock.paper import Cardstock
from foldproof.teach.messages import piece_words
from foldproof.views.cut_list import cut_list
from foldproof.views.cut_picture import Kept
from foldproof.views.folded_model import folded_model
from foldproof.views.hole_guide import hole_guide_page
from foldproof.views.layer_pages import layer_cards, layer_pages
from foldproof.views.measures import MeasuredThing, measures_document
from foldproof.views.panel_papers import paper_cards, paper_piece
from foldproof.views.paper import printer_paper
from foldproof.views.piece import cut_page, glue_areas_of, plain
from foldproof.views.proof_report import ToldProof, proof_document, proof_report
from foldproof.views.report import Report, report, report_text
from foldproof.views.score_plan import score_plan_pages
from foldproof.views.templates import template_pages
from foldproof.words.catalogue import ENGLISH, Language

DXF_COMMENT = "999\n{text}\n"  # group 999 is a comment (DXF reference); read by people, passed over by programs
WHITE = "#ffffff"
STAGES = 3  # of making the sheets: score plans, templates, cut files


# Papers of pieces that a change to the project leaves as they are.
PIECES_KEPT = 32
_score_plan_pages = lru_cache(maxsize=PIECES_KEPT)(score_plan_pages)
_template_pages = lru_cache(maxsize=PIECES_KEPT)(template_pages)


@dataclass(frozen=True, slots=True, kw_only=True)
class PackFile:
    """One file: its path in the pack, with ``/``, and what is in it."""

    path: str
    data: bytes


@dataclass(frozen=True, slots=True, kw_only=True)
class Pack:
    """A whole pack, ``pack.json`` among its files, with the proof it stands on, plain and in words."""

    files: tuple[PackFile, ...]
    proof: Proof
    told: ToldProof
    report: Report

    @property
    def verdict(self) -> Verdict:
        """The proof's verdict; every page of a pack that is not proved says so."""
        return self.proof.verdict


def pack(
    project: Project,
    source: str,
    progress: Progress = unwatched,
    *,
    font_folders: Sequence[str] = (),
    language: Language = ENGLISH,
) -> Pack:
    """Proves the project and makes its files. ``source`` is the text of its file, kept in the pack.

    ``font_folders`` hold the faces that booklet and table card are set in, and nothing else of their families; see
    ``exports.typeset.set_pdf``.
    Raises InputError for what cannot be measured, and Stopped when the caller stops it: half a pack is none.
    """
    measured = measure(project)
    project = measured.project
    proof = prove(measured, progress)
    if proof.stopped:
        raise Stopped
    proof = with_mends(project, proof, progress)
    told = tell_proof(project, proof, language=language)
    palette = _palette(project.cardstock)
    with beside() as side:
        pictures: list[Pictures] = []
        steps = told_steps(
            project,
            proof,
            progress,
            drawn_now=lambda pages: pictures.extend(begin_pictures(pages, palette, side)),
            language=language,
        )
        begun = begin(measured, proof, told, steps, pictures, palette, side, font_folders, language=language)
        files = [
            *_papers(measured, proof, progress, language=language),
            *_published(measured, proof, steps, begun.booklet, palette, language=language),
            _model(project, proof, palette, progress),
            _text("measures.txt", _measures(measured, proof, language=language)),
            _text("proof.txt", document_text(proof_document(told, language=language))),
            _text("proof.json", report_text(proof_report(told))),
            _text("project.toml", source),
            *(PackFile(path=path, data=data) for path, data in finished(begun, progress)),
        ]
    files.sort(key=lambda file: file.path)
    listing = _listing(told, tuple(files))
    return Pack(files=(*files, _text("pack.json", report_text(listing))), proof=proof, told=told, report=listing)


def _text(path: str, text: str) -> PackFile:
    return PackFile(path=path, data=text.encode("utf-8"))


def _listing(told: ToldProof, files: tuple[PackFile, ...]) -> Report:
    return report(
        "pack",
        project=told.project_name,
        input_hash=told.input_hash,
        verdict=told.verdict,
        headline=told.headline,
        line=told.line,
        alternatives=[{"name": each.name, "of": each.of, "verdict": each.verdict} for each in told.alternatives],
        files=[
            {"path": file.path, "bytes": len(file.data), "sha256": hashlib.sha256(file.data).hexdigest()}
            for file in files
        ],
    )


# --- Paper --------------------------------------------------------------------------------------------------


def _papers(
    measured: Measured, proof: Proof, progress: Progress, *, language: Language = ENGLISH
) -> Iterator[PackFile]:
    """Score plans, templates, cut files and cut list."""
    project, not_proved = measured.project, proof.verdict != "proved"
    in_class = bool(class_notice(project, language=language))
    lids = {lid.name: lid for lid in lids_of(proof, language=language)}
    others = alternatives_of(proof, language=language)
    pieces = [
        (part, piece)
        for part in measured.parts
        for piece in (lids[part.part.name].pieces if part.part.name in lids else part.pieces)
    ]
    plan = papers_of(measured, tuple(lids.values()), language=language)
    side_papers = [paper_piece(paper) for paper in plan.papers]
    _go_on(progress, 0)
    layout = main_offcuts(measured, tuple(lids.values()))
    offcuts = layout.told(language=language)
    offcuts |= other_offcuts_told(measured, tuple(lids.values()), others, language=language)
    plans = tuple(
        page for part in measured.parts for page in _plans(project, part, lids, not_proved, offcuts, language=language)
    )
    plans += layout_pages(project, layout, project.name, not_proved=not_proved, language=language)
    plans += tuple(
        page
        for each in others
        for page in (
            *other_leaves(project, each, offcuts, language=language),
            *other_layout_pages(measured, tuple(lids.values()), each, language=language),
        )
    )
    yield _folio(
        "score-plan.pdf", language.paper.score_plan_title.format(name=project.name), plans, proof, language=language
    )
    for lid in lids.values():
        path = "hole-guide.pdf" if len(lids) == 1 else f"hole-guide-{lid.name}.pdf"
        guides = _hole_guide(project, lid, not_proved, language=language)
        guides += tuple(
            page for each in others if each.of == lid.name for page in other_guide(project, each, language=language)
        )
        yield _folio(path, language.paper.hole_guide_title.format(name=project.name), guides, proof, language=language)
    _go_on(progress, 1)
    paper = printer_paper(project.ruler.unit)
    templates = tuple(
        page
        for part, piece in pieces
        for page in _template_pages(
            piece,
            glue_areas_of(part.assembly.joins, piece.piece.id),
            paper,
            sheet_name(project.name, piece, offcuts, language=language),
            not_proved=not_proved,
            in_class=in_class,
            language=language,
        )
    )
    templates += tuple(
        page
        for piece in side_papers
        for page in _template_pages(
            piece, (), paper, project.name, not_proved=not_proved, in_class=in_class, language=language
        )
    )
    templates += tuple(
        page
        for each in others
        for piece in each.own
        for page in _template_pages(
            piece,
            (),
            paper,
            sheet_name(pages_title(project, each, language=language), piece, offcuts, language=language),
            not_proved=not each.proved,
            in_class=in_class,
            language=language,
        )
    )
    yield _folio(
        "templates.pdf", language.paper.templates_title.format(name=project.name), templates, proof, language=language
    )
    _go_on(progress, 2)
    for piece in (*(piece for _, piece in pieces), *side_papers):
        yield from _cut_files(
            piece,
            (*([language.paper.not_proved] if not_proved else []), *class_notice(project, language=language)),
            language=language,
        )
    for each in others:
        notices = (
            *([] if each.proved else [language.paper.not_proved]),
            pages_title(project, each, language=language),
            *class_notice(project, language=language),
        )
        for piece in each.own:
            yield from _cut_files(piece, notices, language=language)
    cards = {key: card for lid in lids.values() for key, card in layer_cards(lid.values, lid.pieces).items()}
    cards |= {(lid, DISC): (DISC, project.cardstock.name) for lid in lids}
    if project.papers is not None:
        cards |= paper_cards(plan, project.papers)
    every = (*(piece for _, piece in pieces), *side_papers)
    verdict = language.term(proof.verdict.replace("_", " "))
    table = cut_list(project, every, verdict, cards, offcuts=offcuts, language=language)
    yield _text("cut-list.csv", table_csv(with_cut_rows(table, project, others, offcuts, language=language)))


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


def _folio(path: str, title: str, pages: tuple[Page, ...], proof: Proof, *, language: Language = ENGLISH) -> PackFile:
    document_id = f"{proof.input_hash}/{path}".encode()
    return PackFile(
        path=path, data=folio_pdf(Folio(title=title, pages=pages, language=language.name), document_id=document_id)
    )


def _cut_files(piece: MeasuredPiece, notices: Sequence[str], *, language: Language = ENGLISH) -> Iterator[PackFile]:
    """The outline for a machine; ``notices`` stand before all else where people read it."""
    page = cut_page(piece, language=language)
    page = dataclasses.replace(page, alt=" ".join((*notices, page.alt)))
    comment = "".join(DXF_COMMENT.format(text=notice) for notice in notices)
    yield _text(f"cut/{page.name}.svg", cut_svg(page, language=language))
    yield _text(f"cut/{page.name}.dxf", comment + cut_dxf(page))


# --- Words --------------------------------------------------------------------------------------------------


def _published(
    measured: Measured,
    proof: Proof,
    steps: ToldSteps,
    booklet: Document,
    palette: Palette,
    *,
    language: Language = ENGLISH,
) -> Iterator[PackFile]:
    """The steps as text, and what is published of them; their drawings are under ``pictures/``."""
    document = document_of(measured.project, proof, steps, language=language)
    yield _text("steps.md", document_markdown(document, picture="pictures/{name}.svg"))
    for path, text in published(measured, proof, steps, booklet, palette, language=language):
        yield _text(path, text)


def _model(project: Project, proof: Proof, palette: Palette, progress: Progress) -> PackFile:
    """The thing in space, its folds and its lid moving."""
    if not progress("pictures", 0, 1):
        raise Stopped
    parts = tuple(part.evidence for part in proof.parts)
    scene = folded_model(project, parts, palette, not_proved=proof.verdict != "proved")
    return PackFile(path="folded.glb", data=scene_glb(scene))


def _palette(card: Cardstock) -> Palette:
    """The card's own colours; white, which is what a card is when nobody says its colour, is drawn in a tint."""
    if card.rgb == WHITE:
        return SEA_GREEN
    palette = palette_for(card.rgb)
    return palette if card.printed == "one side" else same_on_both_sides(palette)


def _measures(measured: Measured, proof: Proof, *, language: Language = ENGLISH) -> str:
    things = tuple(
        MeasuredThing(
            name=part.part.name,
            construction=part.part.construction.name,
            revision=part.part.revision,
            pieces=part.pieces,
            forms=part.assembly.forms,
            cut_words=cut_words_of(measured.project, part, language=language),
        )
        for part in measured.parts
    )
    things += other_things(measured.project, alternatives_of(proof, language=language), language=language)
    text = document_text(measures_document(measured.project, things, language=language))
    return text if proof.verdict == "proved" else f"{language.paper.not_proved}\n\n{text}"
