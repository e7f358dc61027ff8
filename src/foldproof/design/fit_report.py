"""What fitting found, for people and for programs, and the values as a maker would type them."""

from __future__ import annotations

import math
from fractions import Fraction
from typing import Literal

from foldproof.checks.proof import Verdict
from foldproof.design.fit_answers import FitAnswer, Fitted, Goal, LidStanding
from foldproof.design.fit_proved import proved_words
from foldproof.drawing.records import Block, Document, Heading, Paragraph, Table
from foldproof.errors import wrong
from foldproof.lengths import (
    CM_HALF_MILLIMETRES,
    INCH_THIRTYSECONDS,
    ZERO,
    Length,
    Ruler,
    about,
    both_units,
    length,
    round_to,
)
from foldproof.lids.optimum_records import BestHole, LidPlace
from foldproof.project.problems import field_path
from foldproof.project.records import Part, Project
from foldproof.views.report import Report, mm, number, report
from foldproof.words.catalogue import ENGLISH, Language

EDGE: Goal = "hole far from the edge"
WITHOUT_ANSWERS = ("no_lid", "no_owned", "box_open")  # told by what is missing, with nothing to show

FINER: dict[str, tuple[Ruler, ...]] = {"in": (INCH_THIRTYSECONDS,), "cm": (CM_HALF_MILLIMETRES,)}
MOST_PLACES = 4  # decimals of a millimetre that can be typed


def fit_document(
    project: Project,
    answers: tuple[FitAnswer, ...],
    verdict: Verdict | None,
    *,
    language: Language = ENGLISH,
) -> Document:
    """The answers to read, best first. ``verdict`` is that of the project with the best ones filled in, if tried."""
    words = language.fit
    blocks: list[Block] = []
    for answer in answers:
        goal = words.goals[answer.goal]
        heading = goal if len(_every_part(project)) == 1 else words.part.format(part=answer.part, goal=goal)
        kind: Literal["text", "not_proved"] = "text" if answer.works else "not_proved"
        reason = reason_words(project, answer, language=language)
        blocks += [Heading(text=heading, level=1), Paragraph(text=reason, kind=kind)]
        if answer.among:
            blocks.append(Paragraph(text=among_words(project, answer, language=language)))
        if answer.answers:
            blocks.append(_table(project, answer, language=language))
            blocks += [Paragraph(text=text) for text in _both_ways(answer, language=language)]
        blocks += [Paragraph(text=text) for text in proved_words(project, answer, language=language)]
    if verdict is not None:
        text = words.verdicts[verdict]
        blocks.append(Paragraph(text=text, kind="check" if verdict == "proved" else "not_proved"))
    return Document(title=words.title.format(name=project.name), blocks=tuple(blocks))


def reason_words(project: Project, answer: FitAnswer, *, language: Language = ENGLISH) -> str:
    """Whether it works, and if not, what is missing and by how much."""
    words = language.fit
    if not answer.answers and answer.reason not in WITHOUT_ANSWERS:
        return words.nothing
    if answer.works:
        lid, margin = answer.answers[0].lid, project.checks.cover_look_mm
        if lid is not None and lid.margin_mm < 0.0:
            return words.bare
        if lid is not None and lid.margin_mm < margin:
            return words.thin.format(margin=about(_length(margin), project.ruler, words=language.told.common.about))
        return words.works
    said = words.reasons.get(f"{answer.reason}/{answer.goal}", words.reasons[answer.reason])
    return said.format(short=_both(project, answer.short))


def among_words(project: Project, answer: FitAnswer, *, language: Language = ENGLISH) -> str:
    """The sizes that the lid's was chosen from."""
    return language.fit.among.format(sizes=", ".join(_both(project, size) for size in answer.among))


def found_words(project: Project, answer: FitAnswer, best: Fitted, *, language: Language = ENGLISH) -> str:
    """The values of one answer and what they give, in one line: 'hole from the corner: 1/2 in (1.3 cm); to spare …'."""
    pairs = [(_name(name, language=language), value_words(project, value)) for name, value in best.values]
    if best.lid is not None:
        heads = _standing_heads(answer, language=language)
        pairs += zip(heads, _standing_row(project, answer, best.lid, language=language), strict=True)
    return language.fit.between.join(language.fit.value.format(name=name.lower(), value=value) for name, value in pairs)


def _table(project: Project, answer: FitAnswer, *, language: Language = ENGLISH) -> Table:
    """A row for each answer; a value that is the same as the one it is tied to needs no column."""
    words = language.fit
    part = _part(project, answer)
    tied, open_names = dict(part.tied_values), part.open_values
    names = [name for name, _ in answer.answers[0].values if tied.get(name) not in open_names]
    placed = all(fitted.lid is not None for fitted in answer.answers)
    last = _standing_heads(answer, language=language) if placed else (words.piece, words.left_over)
    rows = tuple(
        (
            words.best if fitted is answer.answers[0] else words.other,
            *_row(project, answer, fitted, names, language=language),
        )
        for fitted in answer.answers
    )
    return Table(title="", columns=("", *(_name(name, language=language) for name in names), *last), rows=rows)


def _both_ways(answer: FitAnswer, *, language: Language = ENGLISH) -> tuple[str, ...]:
    """From which turn the best answer is open either way, where it opens both ways."""
    lid = answer.answers[0].lid
    if lid is None or lid.left_deg is None or lid.right_deg is None:
        return ()
    percent = 100.0 * (answer.uncovered or 0.0)
    return (language.fit.both_ways.format(percent=percent, left=lid.left_deg, right=lid.right_deg),)


def _name(name: str, *, language: Language = ENGLISH) -> str:
    return language.fit.values.get(name, name.replace("_", " ").capitalize())


def _row(
    project: Project, answer: FitAnswer, fitted: Fitted, names: list[str], *, language: Language = ENGLISH
) -> tuple[str, ...]:
    values = dict(fitted.values)
    told = tuple(value_words(project, values[name], language=language) for name in names)
    if fitted.lid is not None:
        return (*told, *_standing_row(project, answer, fitted.lid, language=language))
    piece = _size(project, fitted.width, fitted.height, language=language)
    return (*told, piece, _size(project, fitted.spare_width, fitted.spare_height, language=language))


def _standing_heads(answer: FitAnswer, *, language: Language = ENGLISH) -> tuple[str, ...]:
    words = language.fit
    inside = (words.inside,) if answer.goal == EDGE else ()
    asked = words.asked.format(percent=100.0 * (answer.uncovered or 0.0))
    return (*inside, words.to_spare, asked, words.opens, words.turned)


def _standing_row(
    project: Project, answer: FitAnswer, lid: LidStanding, *, language: Language = ENGLISH
) -> tuple[str, ...]:
    """What a place gives: margin, the least turn that opens as far as is asked, the most it opens, and by what turn.

    First how far inside the edge the hole lies, where that was asked for.
    """
    words = language.fit
    turns = [turn for turn in (lid.left_deg, None if lid.right_deg is None else -lid.right_deg) if turn is not None]
    spare = about(_length(abs(lid.margin_mm)), project.ruler, words=language.told.common.about)
    inside = about(_length(lid.edge_mm), project.ruler, words=language.told.common.about)
    return (
        *((inside,) if answer.goal == EDGE else ()),
        spare if lid.margin_mm >= 0.0 else words.too_small.format(size=spare),
        _turn_words(min(turns, key=abs), language=language) if turns else words.never,
        words.percent.format(percent=math.floor(100.0 * lid.uncovered + 0.5)),
        _turn_words(lid.opened_deg, language=language),
    )


def _size(project: Project, width: Length, height: Length, *, language: Language = ENGLISH) -> str:
    around = language.told.common.about
    return language.fit.size.format(
        width=about(width, project.ruler, words=around), height=about(height, project.ruler, words=around)
    )


def _part(project: Project, answer: FitAnswer) -> Part:
    return next(part for part in _every_part(project) if part.name == answer.part)


def _every_part(project: Project) -> tuple[Part, ...]:
    return (*project.parts, *(each.part for each in project.alternatives))


def value_words(project: Project, value: Length | float, *, language: Language = ENGLISH) -> str:
    """A length in both units, on the ruler it is exact on; a turn in degrees, which way."""
    if not isinstance(value, Length):
        return _turn_words(value, language=language)
    rulers = (project.ruler, *FINER[project.unit])
    ruler = next((ruler for ruler in rulers if round_to(value, ruler).error == ZERO), project.ruler)
    return both_units(value, ruler, project.other_ruler)


def _turn_words(degrees: float, *, language: Language = ENGLISH) -> str:
    """A turn as seen from above: anticlockwise is to the left."""
    words = language.fit
    if degrees == 0.0:
        return words.straight
    return (words.left if degrees > 0.0 else words.right).format(degrees=abs(degrees))


def _both(project: Project, value: Length) -> str:
    return both_units(value, project.ruler, project.other_ruler)


def _length(size_mm: float) -> Length:
    return length(Fraction(str(round(size_mm, MOST_PLACES))), "mm")


def typed_values(project: Project, answer: FitAnswer) -> tuple[tuple[str, str], ...]:
    """(path in the file, text) for each value of the best answer; none that is the same as what it is tied to."""
    if not answer.answers:
        return ()
    part = _part(project, answer)
    heading = "parts" if part in project.parts else "alternatives"
    values = dict(answer.answers[0].values)
    tied = {name for name, other in part.tied_values if values.get(name) == values.get(other)}
    return tuple(
        (field_path(heading, part.name, name), exact_text(value, project))
        for name, value in values.items()
        if name not in tied
    )


def exact_text(value: Length | float, project: Project) -> str:
    """A length exactly, as a maker types it: on her ruler, on a finer one, or in millimetres. Degrees as a number."""
    if not isinstance(value, Length):
        return f"{value:g}"
    for ruler in (project.ruler, *FINER[project.unit]):
        rounded = round_to(value, ruler)
        if rounded.error == ZERO:
            return rounded.text
    for places in range(MOST_PLACES + 1):
        if (value.mm * 10**places).denominator == 1:
            return f"{value.float_mm:.{places}f} mm"
    raise wrong(
        "board.stops", about(value, project.ruler), "gives sizes that no ruler has", "write grooves as on a ruler"
    )


# --- For programs -------------------------------------------------------------------------------------------


def fit_report(
    project: Project,
    answers: tuple[FitAnswer, ...],
    verdict: Verdict | None,
    written: str | None,
    stopped: bool = False,
) -> Report:
    """The answers as a report of kind ``fit``. ``written`` is the file the best values were put into, if any."""
    return report(
        "fit",
        project=project.name,
        verdict=verdict,
        stopped=stopped,
        written=written,
        parts=[_answer_report(project, answer) for answer in answers],
    )


def _answer_report(project: Project, answer: FitAnswer) -> Report:
    return {
        "name": answer.part,
        "goal": answer.goal,
        "works": answer.works,
        "reason": answer.reason,
        "reason_text": reason_words(project, answer),
        "short_mm": mm(answer.short),
        "short_text": _both(project, answer.short),
        "among_mm": [mm(size) for size in answer.among],
        "among_text": among_words(project, answer) if answer.among else "",
        "answers": [_fitted_report(project, answer, fitted) for fitted in answer.answers],
        "size_bound": None
        if answer.size is None
        else {
            "found_mm": number(answer.size.found_mm),
            "bound_mm": _or_none(answer.size.bound_mm),
            "cells": answer.size.cells,
            "finished": answer.size.finished,
        },
        "best_place": None if answer.place is None else _best_place(answer.place),
        "proved_text": list(proved_words(project, answer)),
        "stopped": answer.stopped,
    }


def _fitted_report(project: Project, answer: FitAnswer, fitted: Fitted) -> Report:
    lid = fitted.lid
    return {
        "values": [
            {
                "name": name,
                "value_mm": mm(value) if isinstance(value, Length) else None,
                "value_deg": None if isinstance(value, Length) else number(value),
                "text": value_words(project, value),
            }
            for name, value in fitted.values
        ],
        "width_mm": mm(fitted.width),
        "height_mm": mm(fitted.height),
        "spare_width_mm": mm(fitted.spare_width),
        "spare_height_mm": mm(fitted.spare_height),
        "on_stops": fitted.on_stops,
        "text": found_words(project, answer, fitted)
        if lid is not None
        else _size(project, fitted.width, fitted.height),
        "lid": None
        if lid is None
        else {
            "margin_mm": number(lid.margin_mm),
            "left_deg": _or_none(lid.left_deg),
            "right_deg": _or_none(lid.right_deg),
            "uncovered_percent": number(100.0 * lid.uncovered),
            "opened_deg": number(lid.opened_deg),
            "edge_mm": number(lid.edge_mm),
            "misses_mm": number(lid.misses_mm),
        },
    }


def _best_place(best: BestHole) -> Report:
    """The best place between all marks and the bounds on every other, as numbers."""
    proof = best.certificate
    return {
        "place": None if best.place is None else _place(best.place),
        "margin_bound_mm": _or_none(proof.margin_bound_mm),
        "margin_gap_mm": _or_none(proof.margin_gap_mm),
        "level_mm": _or_none(proof.level_mm),
        "turn_bound_deg": _degrees(proof.angle_bound_rad),
        "turn_gap_deg": _degrees(proof.angle_gap_rad),
        "edge_bound_mm": _or_none(proof.edge_bound_mm),
        "edge_gap_mm": _or_none(proof.edge_gap_mm),
        "none_exists": proof.none_exists,
        "cells": proof.cells,
        "finished": proof.finished,
        "stopped": proof.stopped,
    }


def _place(place: LidPlace) -> Report:
    return {
        "closed_deg": number(math.degrees(place.closed_turn_rad)),
        "moved_right_mm": number(place.moved_right_mm),
        "moved_back_mm": number(place.moved_back_mm),
        "hole_mm": [number(at) for at in place.hole],
        "opened_deg": number(math.degrees(place.open_turn_rad)),
        "margin_mm": number(place.margin_mm),
        "uncovered_percent": number(100.0 * place.uncovered),
        "hole_to_edge_mm": number(place.hole_to_lid_mm),
    }


def _or_none(value: float | None) -> float | None:
    """A number as reported; None for none and for what has no bound."""
    return None if value is None or not math.isfinite(value) else number(value)


def _degrees(turn_rad: float | None) -> float | None:
    return None if turn_rad is None else _or_none(math.degrees(turn_rad))
