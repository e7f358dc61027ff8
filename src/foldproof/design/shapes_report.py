"""Which shapes cover a box, for people and for programs."""

from __future__ import annotations

import math
from fractions import Fraction

from foldproof.design.fit_shapes import BoxAnswer, Covering, ShapeAnswer
from foldproof.drawing.records import Block, Document, Heading, Paragraph, Table
from foldproof.lengths import Length, about, both_units, in_words, length
from foldproof.project.records import Project
from foldproof.views.report import Report, mm, number, report
from foldproof.words.catalogue import ENGLISH, Language


def shapes_document(project: Project, answers: tuple[BoxAnswer, ...], *, language: Language = ENGLISH) -> Document:
    """The shapes to read, those that cover first, for each box."""
    blocks: list[Block] = []
    for answer in answers:
        margin = in_words(length(Fraction(str(round(answer.margin_mm, 4))), "mm"), project.ruler)
        sides = [_about(project, side, language=language) for side in answer.rim_mm]
        some = any(shape.best.covers for shape in answer.shapes)
        blocks += [
            Heading(text=language.covering.box.format(part=answer.part), level=1),
            Paragraph(text=language.covering.rim.format(length=sides[0], width=sides[1], margin=margin)),
            Paragraph(
                text=language.covering.some if some else language.covering.none, kind="text" if some else "not_proved"
            ),
            Table(
                title="",
                columns=language.covering.columns,
                rows=tuple(_row(project, answer, shape, language=language) for shape in answer.shapes),
            ),
            Paragraph(text=language.covering.searched.format(within=_within(answer))),
        ]
    return Document(title=language.covering.title.format(name=project.name), blocks=tuple(blocks))


def _within(answer: BoxAnswer) -> float:
    """How much larger than what is told a margin may be at another place: the widest gap left by any search."""
    places = [at.place for shape in answer.shapes for at in shape.coverings if at.place.margin_mm > -math.inf]
    return max((place.bound_mm - place.margin_mm for place in places), default=0.0)


def _row(project: Project, answer: BoxAnswer, shape: ShapeAnswer, *, language: Language = ENGLISH) -> tuple[str, ...]:
    best = shape.best
    covers = language.covering.best if shape is answer.shapes[0] else language.covering.other
    return (
        covers if best.covers else language.covering.too_small,
        shape.shape.name,
        language.covering.kept[shape.kept],
        both_units(best.size, project.ruler, project.other_ruler),
        _margin_words(project, answer, best, language=language),
        _turn_words(shape, language=language),
        _shift_words(project, best, language=language),
    )


def _margin_words(project: Project, answer: BoxAnswer, at: Covering, *, language: Language = ENGLISH) -> str:
    if at.place.margin_mm == -math.inf:
        return language.covering.far
    if at.covers:
        return _about(project, at.place.margin_mm, language=language)
    return language.covering.missing.format(
        size=_about(project, answer.margin_mm - at.place.margin_mm, language=language)
    )


def _turn_words(shape: ShapeAnswer, *, language: Language = ENGLISH) -> str:
    """The smaller turn of those that look the same."""
    if shape.shape.fold == 0:
        return language.covering.any_turn
    step = 2.0 * math.pi / shape.shape.fold
    deg = round(math.degrees(math.remainder(shape.best.place.closed_turn_rad, step)))
    return (
        language.covering.straight
        if deg == 0
        else (language.covering.left if deg > 0 else language.covering.right).format(deg=abs(deg))
    )


def _shift_words(project: Project, at: Covering, *, language: Language = ENGLISH) -> str:
    right, back = at.place.moved_right_mm, at.place.moved_back_mm
    half_step = 0.5 * project.ruler.step_length.float_mm
    said = [
        (forth if way > 0.0 else other).format(size=_about(project, abs(way), language=language))
        for way, forth, other in (
            (right, language.covering.to_right, language.covering.to_left),
            (back, language.covering.to_back, language.covering.to_front),
        )
        if abs(way) >= half_step
    ]
    return ", ".join(said) or language.covering.middle


def _about(project: Project, size_mm: float, *, language: Language = ENGLISH) -> str:
    return about(_length(size_mm), project.ruler, words=language.told.common.about)


def _length(size_mm: float) -> Length:
    return length(Fraction(str(round(size_mm, 4))), "mm")


# --- For programs -------------------------------------------------------------------------------------------


def shapes_report(
    project: Project,
    answers: tuple[BoxAnswer, ...],
    unreadable: tuple[tuple[str, str], ...],
    *,
    language: Language = ENGLISH,
) -> Report:
    """The shapes as a report of kind ``fit_shapes``. ``unreadable`` are files of the shelf and why."""
    return report(
        "fit_shapes",
        project=project.name,
        unreadable=[{"file": file, "reason": reason} for file, reason in unreadable],
        boxes=[
            {
                "part": answer.part,
                "rim_mm": [number(side) for side in answer.rim_mm],
                "margin_mm": number(answer.margin_mm),
                "shapes": [_shape_report(project, answer, shape, language=language) for shape in answer.shapes],
            }
            for answer in answers
        ],
    )


def _shape_report(project: Project, answer: BoxAnswer, shape: ShapeAnswer, *, language: Language = ENGLISH) -> Report:
    covering = next((at for at in shape.coverings if at.covers), None)
    return {
        "name": shape.shape.name,
        "kept_in": shape.kept,
        "covers": shape.best.covers,
        "smallest_mm": None if covering is None else mm(covering.size),
        "smallest_text": "" if covering is None else both_units(covering.size, project.ruler, project.other_ruler),
        "owned": bool(shape.shape.sizes),
        "none_below_mm": None if shape.none_below_mm is None else number(shape.none_below_mm),
        "sizes": [
            {
                "size_mm": mm(at.size),
                "size_text": both_units(at.size, project.ruler, project.other_ruler),
                "covers": at.covers,
                "margin_mm": None if at.place.margin_mm == -math.inf else number(at.place.margin_mm),
                "margin_text": _margin_words(project, answer, at, language=language),
                "margin_bound_mm": number(at.place.bound_mm),
                "turn_deg": number(math.degrees(at.place.closed_turn_rad)),
                "moved_right_mm": number(at.place.moved_right_mm),
                "moved_back_mm": number(at.place.moved_back_mm),
            }
            for at in shape.coverings
        ],
    }
