"""The class version of a project: what is made in a class has no hot glue, and its proof is of what is made."""

from __future__ import annotations

import dataclasses
from typing import Any

from foldproof.constructions.parameters import values_of
from foldproof.project.records import Part, Project

LEFT_OUT, INSTEAD = "hot glue", "wet glue"


def as_taught(project: Project) -> Project:
    """The project as it is made: its class version where it says so, else itself."""
    return class_version(project) if project.teach.version == "class" else project


def class_version(project: Project) -> Project:
    """The project for a class: wet glue wherever hot glue was, in parts and in the layers of a lid."""
    return dataclasses.replace(
        project,
        teach=dataclasses.replace(project.teach, version="class"),
        parts=tuple(class_part(part) for part in project.parts),
        alternatives=tuple(
            dataclasses.replace(each, part=class_part(each.part)) for each in project.alternatives
        ),
    )


def class_part(part: Part) -> Part:
    """The part with wet glue for hot glue."""
    return dataclasses.replace(part, values=_without_hot_glue(part.values))


def _without_hot_glue(values: Any) -> Any:
    """A record of values, and the records in its lists, with each choice of hot glue made one of wet glue."""
    changed: dict[str, Any] = {}
    for value in values_of(type(values)):
        found = getattr(values, value.name)
        if value.kind == "list":
            changed[value.name] = tuple(_without_hot_glue(record) for record in found)
        elif value.kind == "choice" and found == LEFT_OUT:
            assert INSTEAD in value.choices, f"{value.name} has no choice but {LEFT_OUT}"
            changed[value.name] = INSTEAD
    return dataclasses.replace(values, **changed)
