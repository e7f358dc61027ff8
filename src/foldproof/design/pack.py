"""The pack: every file that a maker prints, cuts and folds from, as bytes. Same project file, same bytes."""

from __future__ import annotations

import hashlib
from collections.abc import Iterator, Sequence
from dataclasses import dataclass

from foldproof.checks.proof import Proof, Verdict
from foldproof.design.alternative_papers import (
    other_things,
)
from foldproof.design.alternative_parts import alternatives_of
from foldproof.design.fit_answers import FitAnswer
from foldproof.design.fit_report import fit_document
from foldproof.design.lid_parts import cut_words_of
from foldproof.design.measure import Measured, measure
from foldproof.design.mend import with_mends
from foldproof.design.prove import prove
from foldproof.design.publishing import published
from foldproof.design.searched_places import place_words, searched_places
from foldproof.design.setting import Pictures, begin, begin_pictures, finished
from foldproof.design.sheets import sheets_of
from foldproof.design.steps import ToldSteps, document_of, told_steps
from foldproof.design.telling import tell_proof
from foldproof.drawing.records import Document
from foldproof.drawing.style import SEA_GREEN, Palette, palette_for, same_on_both_sides
from foldproof.exports.beside import beside
from foldproof.exports.glb import scene_glb
from foldproof.exports.markdown import document_markdown
from foldproof.exports.text import document_text
from foldproof.progress import Progress, Stopped, unwatched
from foldproof.project.records import Project
from foldproof.stock.paper import Cardstock
from foldproof.views.folded_model import folded_model
from foldproof.views.measures import MeasuredThing, measures_document
from foldproof.views.proof_report import ToldProof, proof_document, proof_report
from foldproof.views.report import Report, report, report_text
from foldproof.words.catalogue import ENGLISH, Language

WHITE = "#ffffff"


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
        # Mends change nothing that is drawn. They are tried here, while the compiler is busy with the first drawings.
        mended = with_mends(project, proof, progress)
        told = tell_proof(project, mended, language=language)
        searched = searched_places(project, progress)
        places = place_words(project, proof, searched, language=language)
        begun = begin(
            measured, proof, told, steps, pictures, palette, side, font_folders, places=places, language=language
        )
        files = [
            *_searched(project, searched, language=language),
            *(PackFile(path=path, data=data) for path, data in sheets_of(measured, proof, progress, language=language)),
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
    return Pack(files=(*files, _text("pack.json", report_text(listing))), proof=mended, told=told, report=listing)


def _text(path: str, text: str) -> PackFile:
    return PackFile(path=path, data=text.encode("utf-8"))


def _searched(project: Project, answers: tuple[FitAnswer, ...], *, language: Language) -> Iterator[PackFile]:
    """What was found of the places of lids, where they were searched."""
    if answers:
        yield _text("fit.txt", document_text(fit_document(project, answers, None, language=language)))


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
