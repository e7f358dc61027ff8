"""Sizes that work out, asked for by a goal: the answers with the changes that would take each of them."""

from __future__ import annotations

from collections.abc import Mapping
from typing import Any

from foldproof.constructions.parameters import OPEN
from foldproof.design.fit import fit
from foldproof.design.fit_answers import GOALS, HOLE_GOALS, LID_GOALS, FitAnswer, Fitted, Goal
from foldproof.design.fit_report import exact_text, fit_document
from foldproof.design.fit_shapes import fit_shapes
from foldproof.design.other_shapes import OtherShape, other_shapes
from foldproof.design.other_shapes_report import other_shapes_document
from foldproof.design.shapes_report import shapes_document
from foldproof.design.workbench.building import without
from foldproof.design.workbench.solving import solved
from foldproof.drawing.records import Document, Heading, Paragraph, Table
from foldproof.errors import InputError, wrong
from foldproof.lengths import Length
from foldproof.outlines.own import OwnShape
from foldproof.progress import Progress
from foldproof.project.problems import field_path
from foldproof.project.read import read_project
from foldproof.project.records import Part, Project
from foldproof.project.write import with_change
from foldproof.words.catalogue import ENGLISH, Language

Fields = dict[str, Any]

SHAPES = "shapes that cover"
OTHERS = "other shapes"
BASES = ("base_length", "base_width")
# What a goal lets go of, where the maker has left nothing open herself.
LET_GO: Mapping[Goal, tuple[str, ...]] = {
    "largest base": BASES,
    "hold the content": (*BASES, "wall_height"),
    "whole sheet": BASES,
    **dict.fromkeys(HOLE_GOALS, ("hole_from_corner", "hole_beside")),
    "smallest lid": ("across",),
}
WANTS_NOTHING_OPEN: Goal = "smallest piece"


def goals_of(project: Project, *, language: Language = ENGLISH) -> list[Fields]:
    """What can be asked for in this design, part by part."""
    found = []
    for part in project.parts:
        for goal in GOALS:
            if (goal in LID_GOALS) == bool(part.on) and _makes_sense(project, part, goal):
                found.append({"part": part.name, "goal": goal, "label": language.fit.goals[goal]})
        if part.on:
            found.append({"part": part.name, "goal": SHAPES, "label": language.workbench.shapes_goal})
            found.append({"part": part.name, "goal": OTHERS, "label": language.workbench.others_goal})
    return found


def _makes_sense(project: Project, part: Part, goal: Goal) -> bool:
    if goal == WANTS_NOTHING_OPEN:
        return not part.open_values
    return goal != "hold the content" or project.content is not None


def fitted(text: str, part_name: str, goal_name: str) -> Fields:
    """The answers to one goal for one part, best first. Raises InputError for a goal that cannot be asked for."""
    project = read_project(text)
    goal = next((goal for goal in GOALS if goal == goal_name), None)
    part = next((part for part in project.parts if part.name == part_name), None)
    if goal is None or part is None:
        raise wrong("goal", goal_name[:60], "is nothing to ask for here", "load the page again")
    let_go = text if part.open_values or goal == WANTS_NOTHING_OPEN else _let_go(text, part, goal)
    asked = read_project(let_go)
    answer = fit(asked, next(each for each in asked.parts if each.name == part_name), goal)
    told = _told(fit_document(asked, (answer,), None))
    for row, found in zip(told["rows"], answer.answers, strict=False):
        row["changes"] = _changes(project, part, answer, found)
    return told | {"works": answer.works}


def _let_go(text: str, part: Part, goal: Goal) -> str:
    """The design with the values open that the goal is about. A square base stays square."""
    values = [name for name in LET_GO.get(goal, ()) if hasattr(part.values, name)]
    if values[: len(BASES)] == list(BASES) and part.values.base_length == part.values.base_width:
        values.remove(BASES[1])
        text = without(text, field_path("parts", part.name, BASES[1]))
    for name in values:
        text = with_change(text, field_path("parts", part.name, name), OPEN)
    return text


def _changes(project: Project, part: Part, answer: FitAnswer, found: Fitted) -> list[Fields]:
    """What to change in the design as it stands to take an answer."""
    tied = {name for name, _ in part.tied_values}
    return [
        {"path": field_path("parts", answer.part, name), "value": _typed(project, value)}
        for name, value in found.values
        if name not in tied
    ]


def _typed(project: Project, value: object) -> str:
    return exact_text(value, project) if isinstance(value, Length | float) else str(value)


def _told(document: Document) -> Fields:
    """The words of a document that has one table at most, as data for the page."""
    notes = [block.text for block in document.blocks if isinstance(block, Paragraph)]
    title = next((block.text for block in document.blocks if isinstance(block, Heading)), document.title)
    table = next((block for block in document.blocks if isinstance(block, Table)), None)
    return {
        "title": title,
        "notes": notes,
        "columns": list(table.columns) if table else [],
        "rows": [{"cells": list(row), "changes": []} for row in table.rows] if table else [],
    }


def covering_shapes(
    text: str, shelf: tuple[OwnShape, ...], progress: Progress, *, language: Language = ENGLISH
) -> Fields:
    """Which shapes of the maker's own cover the first box, those of the project and of her shelf."""
    project = read_project(text)
    answers = fit_shapes(project, shelf, progress)
    told = _told(shapes_document(project, answers, language=language))
    for row, shape in zip(told["rows"], answers[0].shapes, strict=False):
        row["shape"] = {"name": shape.shape.name, "kept": shape.kept, "size": exact_text(shape.best.size, project)}
    covers = any(shape.best.covers for shape in answers[0].shapes)
    return told | {"works": covers}


def other_lids(text: str, part_name: str, progress: Progress, *, language: Language = ENGLISH) -> Fields:
    """The lid in every other shape by formula, each proved on the box, with the changes that would offer it too.

    Raises InputError when there is no such lid, or its box cannot be measured.
    """
    project = read_project(text)
    done = solved(project)
    if done.problems:
        raise InputError(done.problems)
    found = tuple(each for each in other_shapes(done.filled, progress) if each.of == part_name)
    told = _told(other_shapes_document(project, found, (), language=language))
    shown = [other for other in found if other.alternative is not None]
    for row, other in zip(told["rows"], shown, strict=False):
        row["changes"] = _offered(project, other)
    return told | {"works": any(other.proved for other in found)}


def _offered(project: Project, other: OtherShape) -> list[Fields]:
    """What to write to offer a proved lid as an alternative; nothing when its name is taken."""
    taken = {part.name.casefold() for part in every_lid(project)} | {part.name.casefold() for part in project.parts}
    if not other.proved or other.alternative is None or other.alternative.name.casefold() in taken:
        return []
    part = other.alternative.part
    main = next(each for each in project.parts if each.name == other.of)
    said: dict[str, str] = {"shape": other.shape}
    said |= {name: _typed(project, getattr(part.values, name)) for name in ("across", "hole_from_corner")}
    if part.values.closed != main.values.closed:
        said["closed"] = part.values.closed
    if sum(bool(each.on) for each in project.parts) > 1:
        said["of"] = other.of
    return [{"path": field_path("alternatives", part.name, name), "value": value} for name, value in said.items()]


def every_lid(project: Project) -> tuple[Part, ...]:
    """The lids that are offered beside the first."""
    return tuple(each.part for each in project.alternatives)
