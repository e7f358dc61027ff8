"""A project with what was left open worked out, so that it can be measured; and why it cannot be, where it cannot."""

from __future__ import annotations

import dataclasses
from dataclasses import dataclass

from foldproof.design.fit import filled, fit
from foldproof.design.fit_alternatives import fit_alternatives, with_answers
from foldproof.design.fit_answers import FitAnswer
from foldproof.design.measure import Measured, measure
from foldproof.errors import InputError, Problem
from foldproof.project.problems import field_path
from foldproof.project.records import Project


@dataclass(frozen=True, slots=True, kw_only=True)
class Solved:
    """A project with its open values worked out, as far as they can be.

    ``filled`` has the best answers in; ``answers`` are by part and by alternative. ``problems`` say why it cannot be
    measured; then ``measured`` is None.
    """

    project: Project
    filled: Project
    answers: tuple[FitAnswer, ...]
    measured: Measured | None
    problems: tuple[Problem, ...]


def solved(project: Project) -> Solved:
    """The project with every open value at its best answer: boxes first, then the lids that stand on them."""
    found, answers = project, []
    try:
        for part in sorted(project.parts, key=lambda part: bool(part.on)):
            current = next(each for each in found.parts if each.name == part.name)
            if not current.open_values:
                continue
            answer = fit(found, current)
            answers.append(answer)
            if answer.answers:
                done = filled(current, answer.answers[0])
                parts = tuple(done if each.name == part.name else each for each in found.parts)
                found = dataclasses.replace(found, parts=parts)
        others = fit_alternatives(found, ())
        found = with_answers(found, others)
        answers += others
        problems = conflicts_in(found)
        measured = None if problems else measure(found)
    except InputError as error:
        return Solved(project=project, filled=found, answers=tuple(answers), measured=None, problems=error.problems)
    return Solved(project=project, filled=found, answers=tuple(answers), measured=measured, problems=problems)


def conflicts_in(project: Project) -> tuple[Problem, ...]:
    """Values that contradict each other once the open ones are filled in."""
    values = {part.name: part.values for part in project.parts}
    found = []
    for part in project.parts:
        told = [*part.construction.conflicts(part.values)]
        told += part.construction.conflicts_on(part.values, values[part.on]) if part.on else ()
        found += [
            Problem(field=field_path("parts", part.name, each.name), value="", reason=each.reason, remedy=each.remedy)
            for each in told
        ]
    return tuple(found)
