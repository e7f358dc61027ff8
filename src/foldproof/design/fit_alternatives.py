"""Fit for alternatives: sizes and holes left open, as for the lid that each stands in for."""

from __future__ import annotations

import dataclasses

from foldproof.constructions.alternative_lid import with_shares
from foldproof.constructions.parameters import Open
from foldproof.design.fit import filled, fit
from foldproof.design.fit_answers import FitAnswer, Fitted
from foldproof.design.fit_lid import left_out
from foldproof.project.records import Alternative, Part, Project


def with_answers(project: Project, answers: tuple[FitAnswer, ...]) -> Project:
    """The project with the best answers in place of open values; layers that keep their share follow their lid."""
    best = {answer.part: answer.answers[0] for answer in answers if answer.works and answer.answers}
    parts = tuple(filled(part, best[part.name]) if part.name in best else part for part in project.parts)
    done = dataclasses.replace(project, parts=parts)
    alternatives = tuple(
        _shared(done, each, filled(each.part, best[each.name]) if each.name in best else each.part)
        for each in project.alternatives
    )
    return dataclasses.replace(done, alternatives=alternatives)


def _shared(project: Project, alternative: Alternative, part: Part) -> Alternative:
    if alternative.keeps_shares:
        main = next(each for each in project.parts if each.name == alternative.of)
        part = dataclasses.replace(part, values=with_shares(part.values, main.values, project.ruler))
    return dataclasses.replace(alternative, part=part)


def fit_alternatives(project: Project, answers: tuple[FitAnswer, ...]) -> tuple[FitAnswer, ...]:
    """Answers for every alternative that has values left open; ``answers`` are those for the parts, found before.

    One whose box is still open is left out, and its answer says so.
    """
    done = with_answers(project, answers)
    boxes = {part.name for part in done.parts if part.open_values}
    return tuple(
        left_out(each.part, None) if each.part.on in boxes else fit_alternative(done, each)
        for each in done.alternatives
        if each.part.open_values
    )


def fit_alternative(project: Project, alternative: Alternative) -> FitAnswer:
    """The size first; then the hole, under layers that have their share of it."""
    answer = fit(project, alternative.part)
    if not (alternative.keeps_shares and isinstance(alternative.part.values.across, Open) and answer.works):
        return answer
    across = dict(answer.answers[0].values)["across"]
    part = alternative.part
    part = dataclasses.replace(
        part,
        values=dataclasses.replace(part.values, across=across),
        open_values=tuple(name for name in part.open_values if name != "across"),
    )
    sized = _shared(project, alternative, part)
    if not sized.part.open_values:
        return answer
    again = fit(project, sized.part)
    answers = tuple(_with(each, answer.answers[0]) for each in again.answers)
    return dataclasses.replace(again, goal=answer.goal, among=answer.among, answers=answers)


def _with(fitted: Fitted, first: Fitted) -> Fitted:
    """An answer with the size that was found before it."""
    across = tuple(pair for pair in first.values if pair[0] == "across")
    rest = tuple(pair for pair in fitted.values if pair[0] != "across")
    return dataclasses.replace(fitted, values=(*across, *rest))
