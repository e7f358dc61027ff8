"""Everything the page shows of a project that is there at once: sentence, recipe, sheets, lid; its proof follows."""

from __future__ import annotations

import dataclasses
import tomllib
from collections.abc import Mapping
from dataclasses import dataclass
from typing import Any

from foldproof.design.class_version import as_taught
from foldproof.design.fit import filled, fit
from foldproof.design.fit_alternatives import fit_alternatives, with_answers
from foldproof.design.fit_answers import FitAnswer
from foldproof.design.fit_report import reason_words, typed_values
from foldproof.design.measure import Measured, measure
from foldproof.design.workbench.building import ways_to_build
from foldproof.design.workbench.fitting import goals_of
from foldproof.design.workbench.lid import lid_of
from foldproof.design.workbench.paper import recipe_of, sheets_of
from foldproof.design.workbench.sentence import Design, sentence_of
from foldproof.design.workbench.small_print import small_print_of
from foldproof.errors import InputError, Problem
from foldproof.lengths import Length, in_words
from foldproof.project.problems import field_path
from foldproof.project.read import read_project
from foldproof.project.records import Project

Fields = dict[str, Any]


@dataclass(frozen=True, slots=True, kw_only=True)
class Solved:
    """A project with its open values worked out, as far as they can be.

    ``filled`` has the best answers in; ``answers`` are by part. ``problems`` say why it cannot be measured; then
    ``measured`` is None.
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
        found = with_answers(found, fit_alternatives(found, ()))
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
            Problem(
                field=field_path("parts", part.name, each.name), value="", reason=each.reason, remedy=each.remedy
            )
            for each in told
        ]
    return tuple(found)


def state_of(text: str) -> Fields:
    """The state of a project file. Raises InputError when the file itself cannot be read."""
    project = read_project(text)
    tables: Mapping[str, Any] = tomllib.loads(text)
    done = solved(project)
    design = Design(project=project, filled=done.filled, tables=tables)
    sentence = sentence_of(design)
    state: Fields = {
        "name": project.name,
        "unit": project.unit,
        "maker": project.maker or "",
        "sentence": sentence,
        "more": small_print_of(design, frozenset(each["phrase"] for each in sentence if each.get("phrase"))),
        "build": ways_to_build(project),
        "fits": goals_of(project),
        "open": _worked_out(done),
        "problems": [dataclasses.asdict(problem) for problem in done.problems],
        "recipe": [],
        "sheets": [],
        "lids": [],
    }
    if done.measured is not None:
        taught = as_taught(done.filled)
        state |= {
            "recipe": recipe_of(taught, done.measured),
            "sheets": sheets_of(taught, done.measured),
            "lids": [lid for part in done.measured.parts if (lid := lid_of(taught, done.measured, part))],
        }
    return state


def _worked_out(done: Solved) -> Fields:
    """Every open value: what it came to, and why, by its path."""
    ruler, other = done.project.ruler, done.project.other_ruler
    found: Fields = {}
    for answer in done.answers:
        why = reason_words(done.project, answer)
        part = next(part for part in done.project.parts if part.name == answer.part)
        typed = dict(typed_values(done.project, answer)) if answer.answers else {}
        for name in part.open_values:
            path = field_path("parts", part.name, name)
            value = dict(answer.answers[0].values).get(name) if answer.answers else None
            found[path] = {
                "works": answer.works,
                "why": why,
                "text": in_words(value, ruler) if isinstance(value, Length) else "",
                "other": in_words(value, other) if isinstance(value, Length) else "",
                "typed": typed.get(path, ""),
            }
    return found
