"""What can be added to a design and taken off it: a lid, layers, papers, something it must hold. Pure, on the text."""

from __future__ import annotations

import copy
from collections.abc import Callable, Mapping
from typing import Any

from foldproof.constructions.parameters import OPEN, Value, values_of
from foldproof.constructions.turning_lid import CONSTRUCTION as TURNING_LID
from foldproof.design.text_edits import edits_between, with_edits
from foldproof.errors import wrong
from foldproof.project.keys import CONTENT_KEYS, usual_text
from foldproof.project.records import Part, Project
from foldproof.project.syntax import parse_toml
from foldproof.project.write import path_keys
from foldproof.words.catalogue import ENGLISH, Language

Fields = dict[str, Any]
Tables = dict[str, Any]
Builder = Callable[[dict[str, Any], Project, str, int, Language], None]

LAYERS, ON = "layers", "on"
BRAD, THROUGH = "brad", "through"
NO_LID = "none"
WORKED_OUT = ("across", "hole_from_corner")  # of a lid that is added: its box says how large it must be


def ways_to_build(project: Project, *, language: Language = ENGLISH) -> list[Fields]:
    """What can be added and taken off now. Each has ``do``, the ``part`` and ``number`` it is about, and its label."""
    found: list[Fields] = []
    for part in project.parts:
        if part.on:
            found.append(_way("take_off_lid", part))
            found += _layer_ways(part)
        elif not any(other.on == part.name for other in project.parts):
            found.append(_way("add_lid", part))
    found += [_way("take_off_alternative", each.part) for each in project.alternatives]
    found.append(_way("take_out_content" if project.content else "add_content"))
    found.append(_way("take_off_papers" if project.papers else "add_papers"))
    several = len(project.parts) > 1
    for each in found:
        each["label"] = language.workbench.build[each["do"]].format(part=each["part"], number=each["number"])
        if several and each["do"] == "add_lid":
            each["label"] = language.workbench.build["add_lid/several"].format(part=each["part"])
    return found


def _layer_ways(part: Part) -> list[Fields]:
    value = _list_of(part)
    if value is None or value.top is None:
        return []
    count = len(getattr(part.values, value.name))
    found = [_way("add_layer", part)] if count < value.top else []
    if count > 1:
        found += [_way("take_off_layer", part, number) for number in range(1, count + 1)]
    return found


def _list_of(part: Part) -> Value | None:
    return next((value for value in values_of(part.construction.parameters) if value.kind == "list"), None)


def _way(do: str, part: Part | None = None, number: int = 0) -> Fields:
    return {"do": do, "part": part.name if part else "", "number": number}


def built(text: str, project: Project, do: str, part: str, number: int, *, language: Language = ENGLISH) -> str:
    """The file with something added or taken off; its notes and its layout stay.

    Raises InputError for what cannot be done in this design.
    """
    if not any(
        (way["do"], way["part"], way["number"]) == (do, part, number)
        for way in ways_to_build(project, language=language)
    ):
        raise wrong("do", do[:40], "cannot be done in this design", "load the page again")
    before = parse_toml(text)
    after = copy.deepcopy(dict(before))
    BUILDERS[do](after, project, part, number, language)
    return with_edits(text, edits_between(before, after))


def _add_lid(tables: Tables, project: Project, part: str, number: int, language: Language) -> None:
    host = tables["parts"][part]
    if "lid" in host and host["lid"] != NO_LID:
        host["lid"] = NO_LID
    taken = {each.name for each in project.parts}
    names = ("lid", *(f"lid-{count}" for count in range(2, len(taken) + 3)))
    lid: Tables = {"construction": TURNING_LID.name, "revision": TURNING_LID.revision, ON: part}
    lid |= dict.fromkeys(WORKED_OUT, OPEN)
    for value in values_of(TURNING_LID.parameters):
        if value.kind == "list":
            lid[value.name] = [dict(row) for row in value.usual_records]
    tables["parts"][next(name for name in names if name not in taken)] = lid


def _take_off_lid(tables: Tables, project: Project, part: str, number: int, language: Language) -> None:
    del tables["parts"][part]
    others = tables.get("alternatives", {})
    for name in [name for name, told in others.items() if told.get("of", part) == part]:
        del others[name]
    if not others:
        tables.pop("alternatives", None)


def _take_off_alternative(tables: Tables, project: Project, part: str, number: int, language: Language) -> None:
    del tables["alternatives"][part]
    if not tables["alternatives"]:
        del tables["alternatives"]


def _layers(tables: Tables, project: Project, part: str) -> list[Tables]:
    """The rows of a lid's layers; a file that leaves them out gets the usual ones to begin with."""
    found: list[Tables] = tables["parts"][part].setdefault(LAYERS, [])
    if not found:
        lid = next(each for each in project.parts if each.name == part)
        value = _list_of(lid)
        assert value is not None, "a lid has layers"
        found += [dict(row) for row in value.usual_records]
    return found


def _add_layer(tables: Tables, project: Project, part: str, number: int, language: Language) -> None:
    rows = _layers(tables, project, part)
    rows.append({BRAD: "hidden under it"})


def _take_off_layer(tables: Tables, project: Project, part: str, number: int, language: Language) -> None:
    rows = _layers(tables, project, part)
    del rows[number - 1]
    rows[0].pop(BRAD, None)  # whichever is the lowest now, the brad goes through it


def _add_content(tables: Tables, project: Project, part: str, number: int, language: Language) -> None:
    tables["content"] = {key.name: usual_text(key, project.unit) for key in CONTENT_KEYS if key.required}


def _take_out(name: str) -> Builder:
    def take(tables: Tables, project: Project, part: str, number: int, language: Language) -> None:
        del tables[name]

    return take


def _add_papers(tables: Tables, project: Project, part: str, number: int, language: Language) -> None:
    tables["papers"] = {"name": language.workbench.new_papers}


BUILDERS: Mapping[str, Builder] = {
    "add_lid": _add_lid,
    "take_off_lid": _take_off_lid,
    "take_off_alternative": _take_off_alternative,
    "add_layer": _add_layer,
    "take_off_layer": _take_off_layer,
    "add_content": _add_content,
    "take_out_content": _take_out("content"),
    "add_papers": _add_papers,
    "take_off_papers": _take_out("papers"),
}


EMPTY_GO = ("settings", "teach", "board")  # headings that may be left out: one with nothing under it goes too


def without(text: str, path: str) -> str:
    """The file without the value at a path such as ``parts.lid.layers.2.across``: it is as usual again.

    A value that is not there is no fault. Raises InputError for a path that leads nowhere.
    """
    before = parse_toml(text)
    after = copy.deepcopy(dict(before))
    *steps, last = path_keys(path)
    table: Any = after
    for step in steps:
        if isinstance(table, list) and step.isdigit() and 0 < int(step) <= len(table):
            table = table[int(step) - 1]
        elif isinstance(table, dict) and step in table:
            table = table[step]
        else:
            return text
    if not isinstance(table, dict) or last not in table:
        return text
    if isinstance(table[last], dict) or (isinstance(table[last], list) and table[last][:1] == [{}]):
        raise wrong(path[:80], "", "is a heading, not a value", "name a value under it")
    del table[last]
    if not table and steps and steps[0] in EMPTY_GO:
        del after[steps[0]]
    return with_edits(text, edits_between(before, after))
