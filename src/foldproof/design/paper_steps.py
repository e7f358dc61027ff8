"""The steps in which papers go onto the sides: when the piece is folded and glued, and before a lid is in the way."""

from __future__ import annotations

from collections.abc import Callable, Iterator, Sequence
from dataclasses import dataclass

from foldproof.checks.evidence import Evidence, PieceEvidence
from foldproof.drawing.records import Page
from foldproof.drawing.solid import View
from foldproof.pattern.measured import MeasuredPiece
from foldproof.project.records import Project
from foldproof.teach.messages import StepWords, bench_words
from foldproof.views.panel_papers import PanelPaper, PaperPlan, Place
from foldproof.views.papered import papered_layer_page, papered_page
from foldproof.views.steps_document import ToldStep
from foldproof.words.catalogue import ENGLISH, Language
from foldproof.words.lengths import Speech

# In this order: what is outside first, while a hand still fits inside to press against.
CODES: tuple[tuple[str, tuple[Place, ...]], ...] = (
    ("papers_walls", ("front and back", "left and right")),
    ("papers_base", ("base",)),
    ("papers_lid", ("lid",)),
)


@dataclass(frozen=True, slots=True, kw_only=True)
class Papering:
    """What the steps with papers share. ``name`` gives the next picture's name."""

    project: Project
    plan: PaperPlan
    speech: Speech
    size: tuple[float, float]
    view: View
    name: Callable[[], str]


def paper_steps(
    papering: Papering, evidence: Evidence, piece: PieceEvidence, *, language: Language = ENGLISH
) -> Iterator[ToldStep]:
    """The papers of one folded piece, outside before inside."""
    project = papering.project
    if project.papers is None:
        return
    piece_id = piece.measured.piece.id
    own = [
        paper
        for paper in papering.plan.papers
        if paper.piece == piece_id and paper.part in (evidence.part.name, piece_id)
    ]
    for code, places in CODES:
        papers = [paper for paper in own if paper.place in places]
        if papers:
            words = bench_words(code, piece_id, papering.speech, catalogue=language.told)
            page = papered_page(
                piece,
                evidence.assembly,
                papers,
                project.papers.border.float_mm,
                name=papering.name(),
                alt=language.steps.alt.format(title=words.title, text=words.text),
                size=papering.size,
                view=papering.view,
            )
            yield told_step_of(words, page)


def layer_paper_steps(
    plan: PaperPlan,
    pieces: Sequence[MeasuredPiece],
    speech: Speech,
    name: Callable[[], str],
    size: tuple[float, float],
    *,
    language: Language = ENGLISH,
) -> Iterator[ToldStep]:
    """The papers of a turning lid's layers, put on while each still lies flat. ``size`` is (width, most height)."""
    by_id: dict[str, PanelPaper] = {paper.piece: paper for paper in plan.papers if paper.place == "lid"}
    for piece in pieces:
        paper = by_id.get(piece.piece.id)
        if paper is not None and paper.part == piece.part:
            words = bench_words("papers_layer", piece.piece.id, speech, catalogue=language.told)
            alt = language.steps.alt.format(title=words.title, text=words.text)
            yield told_step_of(words, papered_layer_page(piece, paper, name=name(), alt=alt, size=size))


def told_step_of(words: StepWords, picture: Page) -> ToldStep:
    return ToldStep(
        title=words.title,
        text=words.text,
        check=words.check,
        if_not=words.if_not,
        caution=words.caution,
        picture=picture,
    )
