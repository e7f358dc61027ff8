"""The steps of a turning lid in order, each in words with its drawing."""

from __future__ import annotations

from collections.abc import Callable
from dataclasses import dataclass

from foldproof.checks.evidence import PieceEvidence
from foldproof.constructions.fasteners import fastener_sizes
from foldproof.constructions.turning_lid import CAP, DISC, TRIANGLE, closed_shift, is_layer
from foldproof.design.lid_parts import LidParts
from foldproof.design.paper_steps import layer_paper_steps
from foldproof.drawing.records import FillRole, Page
from foldproof.drawing.solid import Side, View
from foldproof.lengths import Length
from foldproof.pattern.measured import MeasuredPiece, file_stem
from foldproof.project.records import Project
from foldproof.teach.messages import StepWords, bench_words, step_words
from foldproof.teach.steps import folding_steps
from foldproof.views import lid_steps_pictures as pictures
from foldproof.views.folded_picture import VIEW, VIEWS
from foldproof.views.layer_pages import fill_of, layers_picture
from foldproof.views.lid_by_hand import by_hand, spare_line
from foldproof.views.lid_by_sight import sight_lines, sight_page
from foldproof.views.lid_hole_pictures import Stage, hole_stage_page
from foldproof.views.lid_picture import closed_page, cover_words, curve_page, opened_page
from foldproof.views.lid_section import section_page
from foldproof.views.lid_solid import best_quarter, lid_model
from foldproof.views.panel_papers import NO_PAPERS, PaperPlan
from foldproof.views.piece import plain
from foldproof.views.step_pictures import step_pictures
from foldproof.views.steps_document import ToldPiece, ToldStep
from foldproof.words.catalogue import ENGLISH, Language
from foldproof.words.lengths import Speech

CURVE_SHARE = 0.56  # of a picture's width, for the height of the chart
LAYERS_SHARE = 0.5  # of a picture's height, for the layers in a row


@dataclass(frozen=True, slots=True, kw_only=True)
class _Making:
    """One lid's steps while they are written."""

    project: Project
    lid: LidParts
    speech: Speech
    sheet: pictures.Sheet
    name: Callable[[], str]
    plan: PaperPlan
    language: Language

    def say(self, code: str, piece_id: str, *lengths: Length, glue: str = "wet glue", place: str = "") -> StepWords:
        in_class = self.project.teach.version == "class"
        return bench_words(
            code,
            piece_id,
            self.speech,
            lengths,
            glue=glue,
            place=place,
            in_class=in_class,
            catalogue=self.language.told,
        )

    def piece(self, piece_id: str) -> MeasuredPiece:
        """A piece as it is before the hole is made."""
        return next(piece for piece in self.before if piece.piece.id == piece_id)

    @property
    def before(self) -> tuple[MeasuredPiece, ...]:
        """The pieces before the hole is made."""
        return tuple(piece.measured for piece in self.lid.evidence.pieces)


def lid_piece(
    project: Project,
    lid: LidParts,
    speech: Speech,
    size: tuple[float, float],
    name: Callable[[], str],
    plan: PaperPlan = NO_PAPERS,
    *,
    language: Language = ENGLISH,
) -> ToldPiece:
    """All steps of one lid. ``name`` gives the next picture's name; ``size`` is its (width, most height) in mm.

    ``plan`` has the papers of its layers, if any.
    """
    sheet = sheet_of(lid, size, VIEWS[project.teach.hand])
    making = _Making(project=project, lid=lid, speech=speech, sheet=sheet, name=name, plan=plan, language=language)
    steps = (
        *_triangle(making, language=language),
        *_layers(making, through=True, language=language),
        *_hole(making, language=language),
        _fasten(making, language=language),
        *_layers(making, through=False, language=language),
    )
    return ToldPiece(title=plain(lid.name).capitalize(), steps=steps)


def sheet_of(lid: LidParts, size: tuple[float, float], view: View = VIEW) -> pictures.Sheet:
    """What the drawings of one lid share: all are seen from ``view``."""
    colours = layer_fills(lid)
    sides: tuple[Side, ...] = tuple("face" if fill == "coloured" else "back" for fill in colours)
    model = lid_model(lid.evidence, lid.host, lid.turning, sides)
    quarter = best_quarter(model, view)
    return pictures.Sheet(model=model, quarter_deg=quarter, colours=colours, size=size, view=view)


def layer_fills(lid: LidParts) -> tuple[FillRole, ...]:
    """The fills of the layers in drawings, lowest first."""
    return tuple(fill_of(lid.values, layer.name) for layer in lid.turning.lid.layers)


def _told(words: StepWords, picture: Page) -> ToldStep:
    return ToldStep(
        title=words.title,
        text=words.text,
        check=words.check,
        if_not=words.if_not,
        caution=words.caution,
        picture=picture,
    )


def _alt(words: StepWords, *, language: Language = ENGLISH) -> str:
    return language.steps.alt.format(title=words.title, text=words.text)


# --- Triangle -----------------------------------------------------------------------------------------------


def _triangle(making: _Making, *, language: Language = ENGLISH) -> list[ToldStep]:
    """Strip, folds, cap, and all of it into the corner."""
    lid, sheet = making.lid, making.sheet
    steps = [
        _strip(making, TRIANGLE, language=language),
        *_folds(making, language=language),
        _strip(making, CAP, language=language),
    ]
    words = making.say("lid_glue_cap", CAP)
    steps.append(_told(words, pictures.cap_page(sheet, name=making.name(), alt=_alt(words, language=language))))
    glue = "hot glue" if getattr(lid.host.part.values, "glue", "") == "hot glue" else "wet glue"
    words = making.say("lid_glue_triangle", TRIANGLE, glue=glue, place=lid.turning.box.place)
    steps.append(_told(words, pictures.triangle_page(sheet, name=making.name(), alt=_alt(words, language=language))))
    return steps


def _strip(making: _Making, piece_id: str, *, language: Language = ENGLISH) -> ToldStep:
    piece = making.piece(piece_id)
    words = making.say("lid_cut_triangle", piece_id, piece.width.shown, piece.height.shown)
    ruler, other = making.project.ruler, making.project.other_ruler
    page = pictures.strip_page(
        piece, ruler, other, name=making.name(), alt=_alt(words, language=language), size=making.sheet.size
    )
    return _told(words, page)


def _folds(making: _Making, *, language: Language = ENGLISH) -> list[ToldStep]:
    """The folds of the strip in their proved order."""
    evidence: PieceEvidence = making.sheet.model.triangle
    folding = folding_steps(evidence.tree, evidence.orders, evidence.joins)
    words = [step_words(step, "wet glue", catalogue=language.told) for step in folding]
    pages = step_pictures(
        evidence,
        (),
        folding,
        names=[making.name() for _ in folding],
        alts=[language.steps.both_sides.format(text=each.text, check=each.check) for each in words],
        size=(making.sheet.size[0], 0.5 * making.sheet.size[1]),
        view=making.sheet.view,
    )
    return [_told(each, page) for each, page in zip(words, pages, strict=True)]


# --- Layers -------------------------------------------------------------------------------------------------


def _layers(making: _Making, *, through: bool, language: Language = ENGLISH) -> list[ToldStep]:
    """The layers that the fastener goes through are cut and joined before the hole, the others go over it."""
    lid, sheet = making.lid, making.sheet
    steps = []
    if through:
        sizes = tuple(dict(piece.measures)["size"].shown for piece in lid.pieces if is_layer(piece.piece.id))
        words = making.say("lid_cut_layers", lid.turning.lid.layers[0].name, *sizes)
        room = (sheet.size[0] - 4.0, LAYERS_SHARE * sheet.size[1])
        drawn = layers_picture(lid.values, making.before, making.project.ruler, room)
        page = pictures.drawn_page(
            drawn, 2.0, name=making.name(), alt=_alt(words, language=language), width_mm=sheet.size[0]
        )
        steps.append(_told(words, page))
        steps += layer_paper_steps(
            making.plan, making.before, making.speech, making.name, sheet.size, language=language
        )
    layers = lid.turning.lid.layers
    for number, layer in enumerate(layers):
        if number == 0 or layer.pierced != through:
            continue
        glue = lid.values.layers[number].fixed
        if layer.greeting and not through and number == len(layers) - 1:
            words = making.say("lid_greeting", layer.name, glue=glue, place=lid.turning.analysis.front)
            page = pictures.greeting_page(
                sheet, name=making.name(), alt=_alt(words, language=language), language=language
            )
        else:
            words = making.say("lid_glue_low" if through else "lid_glue_top", layer.name, glue=glue)
            page = pictures.layer_page(sheet, number, name=making.name(), alt=_alt(words, language=language))
        steps.append(_told(words, page))
    return steps


# --- Hole and fastener --------------------------------------------------------------------------------------


def _hole(making: _Making, *, language: Language = ENGLISH) -> list[ToldStep]:
    """Found with the guide, without a printer or by sight; tried as a star; made, and marked on the triangle."""
    lid, sheet, project = making.lid, making.sheet, making.project
    lowest = lid.turning.lid.layers[0].name
    hole = fastener_sizes(lid.values, project.unit).hole
    guide = making.say("lid_hole_guide", lowest)
    found = by_hand(lid.turning, project.ruler)
    if found.along is not None:
        hand = making.say("lid_hole_by_hand", lowest, found.along.shown)
    else:
        sides = (found.sides[0].shown, found.sides[1].shown)
        hand = making.say("lid_hole_by_sides", lowest, *sides, place=" ".join(found.names))
    steps = [
        _told(guide, pictures.guide_page(sheet, lid.tips, name=making.name(), alt=_alt(guide, language=language))),
        _told(hand, pictures.by_hand_page(sheet, project.ruler, name=making.name(), alt=_alt(hand, language=language))),
        *_by_sight(making, language=language),
    ]
    steps.append(_stage(making, making.say("lid_try_turn", lowest, hole), "star", language=language))
    if isinstance(lid.values.reinforce, Length):
        steps.append(_stage(making, making.say("lid_glue_disc", DISC, lid.values.reinforce), "disc", language=language))
    steps.append(_stage(making, making.say("lid_make_hole", lowest, hole), "hole", language=language))
    words = making.say("lid_mark_triangle", lowest)
    return [*steps, _told(words, pictures.mark_page(sheet, name=making.name(), alt=_alt(words, language=language)))]


def _stage(making: _Making, words: StepWords, stage: Stage, *, language: Language = ENGLISH) -> ToldStep:
    turning, sheet = making.lid.turning, making.sheet
    name, width = making.name(), sheet.size[0]
    fill, ruler = sheet.colours[0], making.project.ruler
    return _told(
        words,
        hole_stage_page(
            turning, fill, ruler, stage=stage, name=name, alt=_alt(words, language=language), width_mm=width
        ),
    )


def _by_sight(making: _Making, *, language: Language = ENGLISH) -> list[ToldStep]:
    """The hole by what can be seen on the lid; nothing for a shape that has no marks to tell it by."""
    lid, project = making.lid, making.project
    if lid.place is None:
        return []
    start, measure = sight_lines(lid.place, project.ruler, project.other_ruler, language=language)
    spare = spare_line(lid.turning, lid.place.off_mm, project.ruler, project.other_ruler, language=language)
    aside, behind = closed_shift(lid.values)
    outline = tuple((x - aside, y - behind) for x, y in lid.turning.lid.layers[0].outline)
    page = sight_page(
        lid.place,
        outline,
        making.sheet.colours[0],
        name=making.name(),
        alt=f"{language.lid.alt_sight} {measure}",
        width_mm=making.sheet.size[0],
    )
    return [
        ToldStep(
            title=language.lid.sight_title,
            text=f"{start} {measure} {language.lid.sight_prick} {spare}",
            check=language.lid.sight_check,
            if_not=language.lid.sight_if_not,
            caution=making.say("lid_mark_triangle", lid.turning.lid.layers[0].name).caution,
            picture=page,
        )
    ]


def _fasten(making: _Making, *, language: Language = ENGLISH) -> ToldStep:
    words = making.say(f"lid_{making.lid.turning.lid.fastener.kind}", making.lid.turning.lid.layers[0].name)
    return _told(
        words,
        pictures.fasten_page(making.sheet, name=making.name(), alt=_alt(words, language=language), language=language),
    )


# --- What comes out -----------------------------------------------------------------------------------------


def lid_pictures(
    project: Project,
    lid: LidParts,
    size: tuple[float, float],
    finished_name: str = "finished",
    *,
    language: Language = ENGLISH,
) -> tuple[Page, ...]:
    """The finished lid closed and opened, in space and from above, what each turn uncovers, and the section.

    ``size`` is (width, most height) in mm; the first page has ``finished_name``, the others names of the lid's part.
    """
    sheet, turning = sheet_of(lid, size, VIEWS[project.teach.hand]), lid.turning
    found = turning.analysis
    margin = cover_words(found.margin_mm, project.ruler, language=language)
    turn, percent = abs(found.opened.angle_deg), 100.0 * found.opened.uncovered
    left, right = (f"{abs(best.angle_deg):.0f}" for best in (found.best_left, found.best_right))
    key = file_stem(plain(lid.name))
    closed = language.lid.alt_closed.format(margin=margin, place=language.place(turning.box.place))
    opened = language.lid.alt_opened.format(angle=turn, percent=percent)
    curve = language.lid.alt_curve.format(left=left, right=right)
    finished = language.lid.alt_finished.format(name=project.name, angle=turn)
    return (
        pictures.finished_lid(sheet, name=finished_name, alt=finished),
        closed_page(
            turning, sheet.colours, project.ruler, name=f"{key}-closed", alt=closed, size=size, language=language
        ),
        opened_page(turning, sheet.colours, name=f"{key}-opened", alt=opened, size=size, language=language),
        curve_page(turning, name=f"{key}-turns", alt=curve, size=(size[0], CURVE_SHARE * size[0]), language=language),
        section_page(
            turning, sheet.colours, name=f"{key}-section", alt=language.lid.alt_section, size=size, language=language
        ),
    )
