"""All that the sentence leaves out: every other value of the parts, of the card, of the project, and its limits."""

from __future__ import annotations

import dataclasses
from collections.abc import Iterable, Iterator, Mapping

from foldproof.constructions.parameters import Value, values_of
from foldproof.design.workbench.controls import Fields, control_of, setting_control, typed_text
from foldproof.design.workbench.sentence import Design, key_phrase, typed_at, value_phrase
from foldproof.folding.limits import FoldingLimits
from foldproof.project.keys import (
    BOARD_KEYS,
    CARDSTOCK_KEYS,
    CONTENT_KEYS,
    PAPERS_KEYS,
    PROJECT_KEYS,
    TEACH_KEYS,
    Key,
)
from foldproof.project.problems import field_path
from foldproof.project.read_settings import setting_facts
from foldproof.project.records import Part
from foldproof.project.settings import CheckLimits
from foldproof.teach import wording_workbench as words

HIDDEN_KEYS = ("format", "name", "unit")  # changed elsewhere, or not at all


def small_print_of(design: Design, told: frozenset[str]) -> list[Fields]:
    """Groups of values, part by part, then of the card and of the project. ``told`` are the sentence's own paths."""
    found = [_part_group(design, part, told) for part in design.project.parts]
    tables: tuple[tuple[str, Mapping[str, tuple[Key, ...]], bool], ...] = (
        ("cardstock", {"cardstock": CARDSTOCK_KEYS}, True),
        ("papers", {"papers": PAPERS_KEYS}, design.project.papers is not None),
        ("content", {"content": CONTENT_KEYS}, design.project.content is not None),
        ("project", {"": PROJECT_KEYS, "board": BOARD_KEYS, "teach": TEACH_KEYS}, True),
    )
    for title, keys, there in tables:
        if there:
            rows = [row for table, those in keys.items() for row in _key_rows(design, table, those, told)]
            found.append({"title": words.MORE_TITLES[title], "part": "", "phrases": rows})
    found.append({"title": words.MORE_TITLES["limits"], "part": "", "phrases": list(_limit_rows(design))})
    return [group for group in found if group["phrases"]]


def _part_group(design: Design, part: Part, told: frozenset[str]) -> Fields:
    rows = [row for value in values_of(part.construction.parameters) for row in _rows(design, part, value, told)]
    return {"title": words.MORE_TITLES["part"].format(part=part.name), "part": part.name, "phrases": rows}


def _rows(design: Design, part: Part, value: Value, told: frozenset[str]) -> Iterator[Fields]:
    if field_path("parts", part.name, value.name) in told:
        return
    if value.kind != "list":
        yield _row(value_phrase(design, part, value.name))
        return
    assert value.record is not None, "a list holds records"
    for number, record in enumerate(getattr(part.values, value.name), start=1):
        for each in values_of(value.record):
            path = field_path("parts", part.name, value.name, str(number), each.name)
            typed = typed_at(design, "parts", part.name, value.name, str(number), each.name)
            current = getattr(record, each.name)
            phrase = {
                "phrase": path,
                "text": typed_text(design.project, typed, current),
                "state": "usual" if typed is None else "given",
                "control": control_of(design.project, path, each, typed, current),
            }
            yield _row(phrase) | {"group": words.LAYER.format(number=number), "number": number}


def _row(phrase: Fields) -> Fields:
    return {"label": phrase["control"]["label"], **phrase}


def _key_rows(design: Design, table: str, keys: tuple[Key, ...], told: frozenset[str]) -> Iterator[Fields]:
    for key in keys:
        path = f"{table}.{key.name}" if table else key.name
        if path not in told and not (table == "" and key.name in HIDDEN_KEYS):
            yield _row(key_phrase(design, table, keys, key.name, _key_text(design, path, key)))


def _key_text(design: Design, path: str, key: Key) -> str:
    typed = typed_at(design, *path.split("."))
    if typed is None:
        usual = key.usual[0 if design.project.unit == "in" else 1]
        return words.NOT_GIVEN if path in words.EXAMPLES_ONLY else key.choices[0] if key.choices else usual
    return words.LIST_JOIN.join(str(each) for each in typed) if isinstance(typed, list) else str(typed)


def _limit_rows(design: Design) -> Iterator[Fields]:
    """Every figure that the design is judged by."""
    limits: Iterable[object] = (design.project.checks, design.project.folding)
    for record, values in zip((CheckLimits, FoldingLimits), limits, strict=True):
        for field in setting_facts(record):
            typed = typed_at(design, "settings", field.name)
            control = setting_control(field.name, field.metadata, getattr(values, field.name), _default(field))
            yield _row(
                {
                    "phrase": control["path"],
                    "text": f"{getattr(values, field.name):g} {words.UNITS.get(field.metadata['unit'], '')}".strip(),
                    "state": "usual" if typed is None else "given",
                    "control": control,
                }
            )


def _default(field: dataclasses.Field[object]) -> float:
    assert isinstance(field.default, int | float), "a limit has a usual figure"
    return float(field.default)
