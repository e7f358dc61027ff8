"""Alternatives in words: how each is cut without its die, where its hole goes, what it covers and opens."""

from __future__ import annotations

import math

from foldproof.checks.proof import Proof
from foldproof.constructions.turning_lid import TurningLidValues, is_layer, shape_arguments, shape_name
from foldproof.design.alternative_parts import AlternativeParts, alternatives_of
from foldproof.design.lid_parts import LidParts, sight_of
from foldproof.design.lid_steps import layer_fills
from foldproof.drawing.records import Page
from foldproof.lengths import INCH_THIRTYSECONDS, Length, Ruler, about, both_units, in_words
from foldproof.outlines.own import OwnShape
from foldproof.pattern.measured import file_stem
from foldproof.project.records import Project
from foldproof.teach.messages import piece_words
from foldproof.views.alternatives import Steps, ToldAlternative, ToldAlternatives, compass_page, stepped_out
from foldproof.views.layer_pages import layer_of
from foldproof.views.lid_by_hand import by_hand, exact_mm, hand_lines
from foldproof.views.lid_picture import closed_page, cover_words
from foldproof.views.piece import plain
from foldproof.words.catalogue import ENGLISH, Language

GAP_TOLD_MM = 0.3  # a pencil line is as wide: a smaller gap is not seen
COUNT = "sides"
BETWEEN = "; "


def told_alternatives(
    project: Project, proof: Proof, size: tuple[float, float], *, language: Language = ENGLISH
) -> ToldAlternatives | None:
    """All alternatives, drawn ``size`` (width, most height) in mm; None where the project has none."""
    parts = alternatives_of(proof, language=language)
    if not parts:
        return None
    of = language.alternatives.or_the.join(dict.fromkeys(plain(each.of) for each in parts))
    return ToldAlternatives(
        title=language.alternatives.title,
        intro=(language.alternatives.intro.format(of=of),),
        columns=language.alternatives.columns,
        each=tuple(_told(project, each, size, language=language) for each in parts),
    )


def _told(
    project: Project, parts: AlternativeParts, size: tuple[float, float], *, language: Language = ENGLISH
) -> ToldAlternative:
    lid, name, of = parts.lid, plain(parts.name), plain(parts.of)
    key = file_stem(name)
    margin = cover_words(lid.turning.analysis.margin_mm, project.ruler, language=language)
    return ToldAlternative(
        title=language.alternatives.one.format(of=of, name=name),
        row=_row(project, parts, language=language),
        not_proved=""
        if parts.proved
        else language.alternatives.not_proved_line.format(name=name[:1].upper() + name[1:]),
        closed=closed_page(
            lid.turning,
            layer_fills(lid),
            project.ruler,
            name=f"instead-{key}",
            alt=language.alternatives.closed_alt.format(name=name, margin=margin),
            size=size,
            language=language,
        ),
        make=language.alternatives.make,
        making=making_lines(project, lid.values, _across(lid), language=language),
        drawing=_drawing(project, lid, f"instead-{key}-by-compass", size[0], language=language),
        layers_title=language.alternatives.layers,
        layer_columns=language.alternatives.layer_columns,
        layers=_layers(project, lid, language=language),
        hole=language.alternatives.hole,
        hole_notes=(
            language.alternatives.same_hole if parts.same_hole else language.alternatives.other_hole.format(of=of),
            language.alternatives.with_guide.format(of=of),
        ),
        ways=_ways(project, lid, language=language),
    )


def _across(lid: LidParts) -> Length:
    """The lowest layer's size, as marked."""
    return next(dict(piece.measures)["size"].shown for piece in lid.pieces if is_layer(piece.piece.id))


def size_of(parts: AlternativeParts) -> Length:
    """How large an alternative is: its lowest layer, as marked."""
    return _across(parts.lid)


def verdict_told(parts: AlternativeParts, *, language: Language = ENGLISH) -> str:
    """Its verdict on this box, in words."""
    return language.alternatives.verdicts[parts.verdict]


def _row(project: Project, parts: AlternativeParts, *, language: Language = ENGLISH) -> tuple[str, ...]:
    lid, found = parts.lid, parts.lid.turning.analysis
    name, shape = plain(parts.name), shape_name(lid.values)
    spare = about(exact_mm(abs(found.margin_mm)), project.ruler, words=language.told.common.about)
    return (
        name if name.casefold() == shape.casefold() else language.alternatives.named.format(name=name, shape=shape),
        _both(project, size_of(parts)),
        _hole_from_corner(project, lid),
        language.alternatives.percent.format(percent=100.0 * found.opened.uncovered),
        spare if found.margin_mm >= 0.0 else language.alternatives.missing.format(size=spare),
        verdict_told(parts, language=language),
    )


def _hole_from_corner(project: Project, lid: LidParts) -> str:
    """The way from the box's outer corner: along the line that halves it, else in from both sides."""
    found = by_hand(lid.turning, project.ruler)
    if found.along is not None:
        return _both(project, found.along.shown)
    return BETWEEN.join(_both(project, side.shown) for side in found.sides)


def _both(project: Project, size: Length) -> str:
    return both_units(size, project.ruler, project.other_ruler)


def _layers(project: Project, lid: LidParts, *, language: Language = ENGLISH) -> tuple[tuple[str, ...], ...]:
    return tuple(
        (
            piece_words(piece.piece.id, catalogue=language.told),
            _both(project, dict(piece.measures)["size"].shown),
            layer_of(lid.values, piece.piece.id).colour,
        )
        for piece in lid.pieces
        if is_layer(piece.piece.id)
    )


def _ways(project: Project, lid: LidParts, *, language: Language = ENGLISH) -> tuple[tuple[str, tuple[str, ...]], ...]:
    """The hole without a printer, and by sight."""
    sight = sight_of(project, lid, language=language)
    return (
        (
            language.booklet.without_printer,
            hand_lines(lid.turning, project.ruler, project.other_ruler, language=language),
        ),
        *(((language.booklet.by_sight, sight),) if sight else ()),
    )


# --- Cut without the die ------------------------------------------------------------------------------------


def making_lines(
    project: Project, values: TurningLidValues, across: Length, *, language: Language = ENGLISH
) -> tuple[str, ...]:
    """How one shape is drawn and cut with what is in every house, at a size from tip to tip; layers alike."""
    name = shape_name(values)
    if isinstance(values.shape, OwnShape):
        sizes = ", ".join(_both(project, size) for size in values.shape.sizes)
        return (
            *(line.format(sizes=sizes) for line in language.alternatives.owned if sizes),
            *language.alternatives.template,
        )
    lines = language.alternatives.making.get(name, language.alternatives.template)
    arguments = shape_arguments(values, across.float_mm)
    steps = _steps(project, values, across)
    told = tuple(
        line.format(
            across=_both(project, across),
            radius=_half(project, across / 2, language=language),
            diagonal=about(exact_mm(across.float_mm * math.sqrt(2.0)), project.ruler, words=language.told.common.about),
            corner=_half(project, exact_mm(arguments.get("corner_radius", 0.0)), language=language),
            chord="" if steps is None else _half(project, steps.chord, language=language),
            count=0 if steps is None else steps.count,
            gap="" if steps is None else _gap(project, steps, language=language),
        )
        for line in lines
    )
    return (*told, language.alternatives.sizes_alike) if len(values.layers) > 1 else told


def _steps(project: Project, values: TurningLidValues, across: Length) -> Steps | None:
    """How a regular polygon is stepped out; None for other shapes."""
    if isinstance(values.shape, OwnShape):
        return None
    count = shape_arguments(values, across.float_mm).get(COUNT)
    return None if count is None else stepped_out(across, round(count), _finer(project.ruler))


def _finer(ruler: Ruler) -> Ruler:
    """The ruler a compass is set on: halves of its marks, which can be judged by eye; 1/32 in are not halved."""
    return ruler if ruler == INCH_THIRTYSECONDS else Ruler(unit=ruler.unit, step=ruler.step / 2)


def _half(project: Project, size: Length, *, language: Language = ENGLISH) -> str:
    """A size that may lie between two marks of the ruler, as half of one that does."""
    finer = _finer(project.ruler)
    return f"{about(size, finer, words=language.told.common.about)} ({in_words(size, project.other_ruler)})"


def _gap(project: Project, steps: Steps, *, language: Language = ENGLISH) -> str:
    if abs(steps.gap_mm) <= GAP_TOLD_MM:
        return language.alternatives.closes
    gap = about(exact_mm(abs(steps.gap_mm)), project.ruler, words=language.told.common.about)
    return (language.alternatives.gap_past if steps.gap_mm > 0.0 else language.alternatives.gap_short).format(gap=gap)


def _drawing(
    project: Project, lid: LidParts, name: str, width_mm: float, *, language: Language = ENGLISH
) -> Page | None:
    steps = _steps(project, lid.values, _across(lid))
    if steps is None:
        return None
    finer = _finer(project.ruler)
    radius, chord = in_words(steps.radius, finer), in_words(steps.chord, finer)
    alt = language.alternatives.chord_alt.format(radius=radius, chord=chord, count=steps.count)
    return compass_page(steps, (radius, chord), name=name, alt=alt, width_mm=width_mm)
