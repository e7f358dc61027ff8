"""Everything the page shows of a project that is there at once: sentence, recipe, sheets, lid; its proof follows."""

from __future__ import annotations

import dataclasses
import tomllib
from collections.abc import Iterator, Mapping
from typing import Any

from foldproof.design.class_version import as_taught
from foldproof.design.fit_report import reason_words, typed_values
from foldproof.design.workbench.building import ways_to_build
from foldproof.design.workbench.fitting import goals_of
from foldproof.design.workbench.lid import lid_of
from foldproof.design.workbench.paper import recipe_of, sheets_of
from foldproof.design.workbench.sentence import Design, sentence_of
from foldproof.design.workbench.small_print import small_print_of
from foldproof.design.workbench.solving import Solved, solved
from foldproof.lengths import Length, in_words
from foldproof.project.problems import field_path
from foldproof.project.read import read_project
from foldproof.project.records import Part, Project
from foldproof.words.catalogue import ENGLISH, Language

Fields = dict[str, Any]


def state_of(text: str, *, language: Language = ENGLISH) -> Fields:
    """The state of a project file. Raises InputError when the file itself cannot be read."""
    project = read_project(text)
    tables: Mapping[str, Any] = tomllib.loads(text)
    done = solved(project)
    design = Design(project=project, filled=done.filled, tables=tables)
    sentence = sentence_of(design, language=language)
    state: Fields = {
        "name": project.name,
        "unit": project.unit,
        "maker": project.maker or "",
        "sentence": sentence,
        "more": small_print_of(
            design, frozenset(each["phrase"] for each in sentence if each.get("phrase")), language=language
        ),
        "build": ways_to_build(project, language=language),
        "fits": goals_of(project, language=language),
        "open": _worked_out(done),
        "problems": [dataclasses.asdict(problem) for problem in done.problems],
        "recipe": [],
        "sheets": [],
        "lids": [],
    }
    if done.measured is not None:
        taught = as_taught(done.filled)
        state |= {
            "recipe": recipe_of(taught, done.measured, language=language),
            "sheets": sheets_of(taught, done.measured, language=language),
            "lids": [
                *(lid for part in done.measured.parts if (lid := lid_of(taught, done.measured, part))),
                *(
                    lid
                    for part in done.measured.alternatives
                    if (lid := lid_of(taught, done.measured, part, heading="alternatives"))
                ),
            ],
        }
    return state


def _worked_out(done: Solved) -> Fields:
    """Every open value: what it came to, and why, by its path."""
    ruler, other = done.project.ruler, done.project.other_ruler
    found: Fields = {}
    for answer in done.answers:
        why = reason_words(done.project, answer)
        heading, part = next(each for each in _headed(done.project) if each[1].name == answer.part)
        typed = dict(typed_values(done.project, answer)) if answer.answers else {}
        for name in part.open_values:
            path = field_path(heading, part.name, name)
            value = dict(answer.answers[0].values).get(name) if answer.answers else None
            found[path] = {
                "works": answer.works,
                "why": why,
                "text": in_words(value, ruler) if isinstance(value, Length) else "",
                "other": in_words(value, other) if isinstance(value, Length) else "",
                "typed": typed.get(path, ""),
            }
    return found


def _headed(project: Project) -> Iterator[tuple[str, Part]]:
    """Every part and every alternative, under the heading that it has in the file."""
    yield from (("parts", part) for part in project.parts)
    yield from (("alternatives", each.part) for each in project.alternatives)
