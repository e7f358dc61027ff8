"""The steps of a proved project in words and drawings, from cutting the card to putting the lid on."""

from __future__ import annotations

from collections.abc import Callable, Iterator, Sequence
from dataclasses import dataclass

from foldproof.checks.evidence import PieceEvidence
from foldproof.checks.proof import PartProof, Proof
from foldproof.design.alternatives_told import told_alternatives
from foldproof.design.lid_parts import LidParts, lids_of
from foldproof.design.lid_steps import lid_pictures, lid_piece
from foldproof.design.paper_steps import Papering, paper_steps
from foldproof.design.papers import proved_papers
from foldproof.design.telling import speech_of
from foldproof.drawing.records import Document, Page
from foldproof.drawing.solid import View
from foldproof.lengths import Length, in_words
from foldproof.pattern.measured import MeasuredPiece
from foldproof.progress import Progress, Stopped
from foldproof.project.records import Project
from foldproof.teach.messages import StepWords, bench_words, cautions, piece_words, step_words
from foldproof.teach.steps import folding_steps
from foldproof.views.alternatives import ToldAlternatives
from foldproof.views.bench_pictures import board_page, cutting_page, sheet_page
from foldproof.views.board_picture import Tools
from foldproof.views.cut_picture import Kept, has_waste
from foldproof.views.flat_picture import flat_picture
from foldproof.views.folded_picture import VIEWS, finished_picture
from foldproof.views.layer_pages import layer_cards
from foldproof.views.measures import card_words
from foldproof.views.panel_papers import PaperPlan
from foldproof.views.piece import glue_areas_of, piece_title, size_words
from foldproof.views.step_pictures import step_pictures
from foldproof.views.steps_document import ToldPiece, ToldStep, steps_document
from foldproof.words.catalogue import ENGLISH, Language
from foldproof.words.lengths import Speech

PICTURE_MM = (116.0, 96.0)  # width, and the most height: the width of a booklet's page, read at arm's length
TOOLS = ("knife", "scissors")
CLASS_TOOLS = ("knife/class",)
LID_TOOLS = (*TOOLS, "awl", "small parts")


@dataclass(frozen=True, slots=True, kw_only=True)
class ToldSteps:
    """All steps in words with their drawings, what is needed, the cautions gathered, and pictures of what comes out."""

    card: str
    piece_needs: tuple[str, ...]
    tool_needs: tuple[str, ...]
    cautions: tuple[str, ...]
    pieces: tuple[ToldPiece, ...]
    finished: tuple[Page, ...]
    instead: ToldAlternatives | None = None

    @property
    def needs(self) -> tuple[str, ...]:
        """The card, the pieces and the tools, each in a sentence."""
        return (self.card, *self.piece_needs, *self.tool_needs)

    @property
    def pages(self) -> tuple[Page, ...]:
        """Every drawing, in order."""
        instead = () if self.instead is None else self.instead.pages
        return (*(step.picture for piece in self.pieces for step in piece.steps), *self.finished, *instead)


@dataclass(frozen=True, slots=True, kw_only=True)
class _Bench:
    """What the drawings of one project share, and the numbering of its steps."""

    project: Project
    speech: Speech
    tools: Tools
    plan: PaperPlan
    name: Callable[[], str]
    told: Callable[[], None]

    @property
    def in_class(self) -> bool:
        return self.project.teach.version == "class"

    @property
    def papering(self) -> Papering:
        return Papering(
            project=self.project, plan=self.plan, speech=self.speech, size=PICTURE_MM, view=self.view, name=self.name
        )

    @property
    def view(self) -> View:
        """Where folded pieces are seen from."""
        return VIEWS[self.project.teach.hand]


def steps_of(
    project: Project, proof: Proof, progress: Progress, *, language: Language = ENGLISH
) -> tuple[Document, tuple[Page, ...]]:
    """The document, and its drawings in order. Raises Stopped when the caller says so."""
    told = told_steps(project, proof, progress, language=language)
    return document_of(project, proof, told, language=language), told.pages


def document_of(project: Project, proof: Proof, told: ToldSteps, *, language: Language = ENGLISH) -> Document:
    """The steps as one document."""
    return steps_document(
        project.name,
        told.needs,
        told.cautions,
        told.pieces,
        told.finished,
        not_proved=proof.verdict != "proved",
        notice=language.paper.class_version if project.teach.version == "class" else "",
        language=language,
    )


def told_steps(
    project: Project,
    proof: Proof,
    progress: Progress,
    *,
    drawn_now: Callable[[Sequence[Page]], None] = lambda pages: None,
    language: Language = ENGLISH,
) -> ToldSteps:
    """The steps of a project, drawn once for every paper they stand on. Raises Stopped when the caller says so.

    ``drawn_now`` is told of drawings as soon as they are there, some at a time.
    """
    drawn: list[str] = []
    total = sum(_about(piece) for part in proof.parts for piece in part.evidence.pieces)

    def name() -> str:
        drawn.append(f"step-{len(drawn) + 1:02d}")
        return drawn[-1]

    def told() -> None:
        if not progress("pictures", min(len(drawn), total), total):
            raise Stopped

    lids = lids_of(proof, language=language)
    bench = _Bench(
        project=project,
        speech=speech_of(project),
        tools=Tools(board=project.board, ruler=project.ruler, other=project.other_ruler),
        plan=proved_papers(project, proof, lids, language=language),
        name=name,
        told=told,
    )
    pieces: list[ToldPiece] = []
    for piece in (each for part in proof.parts for each in _part(bench, part, lids, language=language)):
        pieces.append(piece)
        drawn_now([step.picture for step in piece.steps])
    finished = _all_finished(bench, proof, lids, language=language)
    drawn_now(finished)
    return ToldSteps(
        card=card_words(project, language=language),
        piece_needs=_piece_needs(bench, proof, lids, language=language),
        tool_needs=_tool_needs(bench, proof, lids, language=language),
        cautions=_cautions(bench, proof, language=language),
        pieces=tuple(pieces),
        finished=finished,
        instead=told_alternatives(project, proof, PICTURE_MM, language=language),
    )


def _about(piece: PieceEvidence) -> int:
    """About how many steps a piece has, for the progress."""
    return 5 + len(piece.tree.steps)


def _glue(part: PartProof) -> str:
    return str(part.evidence.part.values.glue)


def _cautions(bench: _Bench, proof: Proof, *, language: Language = ENGLISH) -> tuple[str, ...]:
    """Those for every glue and tool, each once, and what always holds last."""
    glue, *others = hazards(proof)
    return cautions(glue, (*others, *CLASS_TOOLS) if bench.in_class else tuple(others), catalogue=language.told)


def hazards(proof: Proof) -> tuple[str, ...]:
    """Every glue and every tool that the project is made with, by the codes of the cautions; glues first."""
    glues = dict.fromkeys(glue for part in proof.parts for glue in _glues(part))
    turns = any(part.evidence.turning is not None for part in proof.parts)
    return (*glues, *(LID_TOOLS if turns else TOOLS))


def _glues(part: PartProof) -> tuple[str, ...]:
    """What a part is glued with: one glue, or for a lid what fixes each of its layers."""
    if part.evidence.turning is None:
        return (_glue(part),)
    return tuple(dict.fromkeys(("wet glue", *(layer.fixed for layer in part.evidence.part.values.layers[1:]))))


def _piece_needs(
    bench: _Bench, proof: Proof, lids: tuple[LidParts, ...], *, language: Language = ENGLISH
) -> tuple[str, ...]:
    project = bench.project
    from_waste = {(lid.name, piece) for lid in lids for piece in lid.from_waste}
    cards = {key: card for lid in lids for key, (_, card) in layer_cards(lid.values, lid.pieces).items()}
    return tuple(
        (
            language.steps.need_layer
            if (each.measured.part, each.measured.piece.id) in cards
            else language.steps.need_piece
        ).format(
            card=cards.get((each.measured.part, each.measured.piece.id), ""),
            size=size_words(each.measured.width, each.measured.height, language=language),
            other=language.steps.oblong.format(
                width=in_words(each.measured.width.shown, project.other_ruler),
                height=in_words(each.measured.height.shown, project.other_ruler),
            ),
            piece=piece_words(each.measured.piece.id, catalogue=language.told),
        )
        for part in proof.parts
        for each in part.evidence.pieces
        if (each.measured.part, each.measured.piece.id) not in from_waste
    )


def _tool_needs(
    bench: _Bench, proof: Proof, lids: tuple[LidParts, ...], *, language: Language = ENGLISH
) -> tuple[str, ...]:
    project = bench.project
    board = (
        language.steps.need_board.format(board=language.term(project.board.name))
        if project.board.stops
        else language.steps.need_ruler
    )
    kinds = [glue for part in proof.parts for glue in _glues(part)]
    glues = dict.fromkeys(
        language.steps.need_glue[glue] for glue in (*kinds, *(["wet glue"] if bench.plan.papers else []))
    )
    fasteners = dict.fromkeys(
        need
        for lid in lids
        for need in (language.steps.need_fastener[lid.turning.lid.fastener.kind], language.steps.need_awl)
    )
    return (board, *language.steps.need_tools, *glues, *fasteners)


def _part(
    bench: _Bench, part: PartProof, lids: tuple[LidParts, ...], *, language: Language = ENGLISH
) -> Iterator[ToldPiece]:
    """The steps of a part, and of each lid that turns on it. A lid's own turn comes with the part that it closes."""
    if part.evidence.turning is not None:
        return
    on_it = [lid for lid in lids if lid.host.part.name == part.evidence.part.name]
    kept = {lid.host_piece: lid.kept for lid in on_it}
    for piece in part.evidence.pieces:
        yield _piece(bench, part, piece, kept.get(piece.tree.piece.id, ()), language=language)
    if part.evidence.assembly.joints:
        yield _lid(bench, part, language=language)
    for lid in on_it:
        yield lid_piece(bench.project, lid, bench.speech, PICTURE_MM, bench.name, bench.plan, language=language)
        bench.told()


def _piece(
    bench: _Bench, part: PartProof, piece: PieceEvidence, kept: tuple[Kept, ...], *, language: Language = ENGLISH
) -> ToldPiece:
    assembly = part.evidence.assembly
    folding = folding_steps(piece.tree, piece.orders, piece.joins)
    words = [step_words(step, _glue(part), catalogue=language.told) for step in folding]
    bench_steps = _bench_steps(bench, part, piece, kept, language=language)
    bench.told()
    pictures = step_pictures(
        piece,
        assembly.joins,
        folding,
        names=[bench.name() for _ in folding],
        alts=[language.steps.both_sides.format(text=each.text, check=each.check) for each in words],
        size=PICTURE_MM,
        view=bench.view,
    )
    bench.told()
    folds = tuple(_told(each, picture) for each, picture in zip(words, pictures, strict=True))
    papers = tuple(paper_steps(bench.papering, part.evidence, piece, language=language)) if folding else ()
    bench.told()
    steps = (*bench_steps, *folds, *papers)
    return ToldPiece(title=piece_title(piece.measured, language=language), steps=steps, stuck=not folding)


def _told(words: StepWords, picture: Page) -> ToldStep:
    return ToldStep(
        title=words.title,
        text=words.text,
        check=words.check,
        if_not=words.if_not,
        caution=words.caution,
        picture=picture,
    )


# --- At the bench -------------------------------------------------------------------------------------------


def _bench_steps(
    bench: _Bench, part: PartProof, piece: PieceEvidence, kept: tuple[Kept, ...], *, language: Language = ENGLISH
) -> tuple[ToldStep, ...]:
    """Cut, score, turn and score, cut away, work the folds; those that the piece needs."""
    measured = piece.measured
    glue_areas = glue_areas_of(part.evidence.assembly.joins, measured.piece.id)
    sheet = bench.project.cardstock.usable_sheet

    def say(code: str, *lengths: Length) -> StepWords:
        return bench_words(
            code, measured.piece.id, bench.speech, lengths, in_class=bench.in_class, catalogue=language.told
        )

    found = []
    if not _is_sheet(bench.project, measured):
        words = say("cut_piece", measured.width.shown, measured.height.shown)
        found.append(
            _told(
                words,
                sheet_page(
                    measured, sheet, bench.tools, name=bench.name(), alt=_alt(words, language=language), size=PICTURE_MM
                ),
            )
        )
    for code, marks, turned in (
        ("score_one_way", measured.across, False),
        ("score_other_way", measured.up, True),
    ):
        if marks:
            words = say(code, *(mark.marked for mark in marks))
            page = board_page(
                measured,
                bench.tools,
                turned=turned,
                name=bench.name(),
                alt=_alt(words, language=language),
                width_mm=PICTURE_MM[0],
                language=language,
            )
            found.append(_told(words, page))
    if has_waste(measured):
        words = say("cut_corners", dict(measured.measures)["tab_length"].shown)
        page = cutting_page(
            measured,
            bench.tools,
            glue_areas,
            name=bench.name(),
            alt=_alt(words, language=language),
            size=PICTURE_MM,
            kept=kept,
            language=language,
        )
        found.append(_told(words, page))
    words = say("work_folds")
    joins = part.evidence.assembly.joins
    page = flat_picture(
        piece, joins, name=bench.name(), alt=_alt(words, language=language), size=PICTURE_MM, view=bench.view
    )
    return (*found, _told(words, page))


def _is_sheet(project: Project, measured: MeasuredPiece) -> bool:
    sheet = project.cardstock.usable_sheet
    return (measured.exact.width, measured.exact.height) == (sheet.width, sheet.height)


def _alt(words: StepWords, *, language: Language = ENGLISH) -> str:
    return language.steps.alt.format(title=words.title, text=words.text)


# --- Putting together ---------------------------------------------------------------------------------------


def _lid(bench: _Bench, part: PartProof, *, language: Language = ENGLISH) -> ToldPiece:
    words = bench_words("lid_on", part.evidence.assembly.joints[0].moving, bench.speech, catalogue=language.told)
    picture = finished_picture(
        part.evidence.pieces,
        part.evidence.assembly,
        name=bench.name(),
        alt=_alt(words, language=language),
        size=PICTURE_MM,
        view=bench.view,
    )
    return ToldPiece(title=words.title, steps=(_told(words, picture),))


def _all_finished(
    bench: _Bench, proof: Proof, lids: tuple[LidParts, ...], *, language: Language = ENGLISH
) -> tuple[Page, ...]:
    """What comes out: each part that stands alone, and each turning lid on its box with what it covers and frees."""
    under_lids = {lid.host.part.name for lid in lids}
    alone = [
        part for part in proof.parts if part.evidence.turning is None and part.evidence.part.name not in under_lids
    ]
    count = len(alone) + len(lids)
    names = [f"finished-{number}" if count > 1 else "finished" for number in range(1, count + 1)]
    return (
        *(_finished(bench, part, name, language=language) for part, name in zip(alone, names, strict=False)),
        *(
            page
            for lid, name in zip(lids, names[len(alone) :], strict=True)
            for page in lid_pictures(bench.project, lid, PICTURE_MM, name, language=language)
        ),
    )


def _finished(bench: _Bench, part: PartProof, name: str, *, language: Language = ENGLISH) -> Page:
    alt = language.steps.finished_alt.format(
        name=bench.project.name, part=language.term(part.evidence.part.construction.summary)
    )
    bench.told()
    return finished_picture(
        part.evidence.pieces, part.evidence.assembly, name=name, alt=alt, size=PICTURE_MM, view=bench.view
    )
