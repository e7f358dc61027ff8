"""All that the sentence leaves out: every other value of the parts, of the card, of the project, and its limits."""

from __future__ import annotations

import dataclasses
from collections.abc import Iterable, Iterator, Mapping

from foldproof.constructions.alternative_lid import alternative_values
from foldproof.constructions.parameters import Value, values_of
from foldproof.design.fit_report import exact_text
from foldproof.design.workbench.controls import EXAMPLES_ONLY, Fields, control_of, setting_control, typed_text
from foldproof.design.workbench.sentence import Design, key_phrase, typed_at, value_phrase
from foldproof.folding.limits import FoldingLimits
from foldproof.lengths import Length
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
from foldproof.project.records import Alternative, Part
from foldproof.project.settings import CheckLimits
from foldproof.words.catalogue import ENGLISH, Language

HIDDEN_KEYS = ("format", "name", "unit")  # changed elsewhere, or not at all


def small_print_of(design: Design, told: frozenset[str], *, language: Language = ENGLISH) -> list[Fields]:
    """Groups of values, part by part, then of the card and of the project. ``told`` are the sentence's own paths."""
    found = [_part_group(design, part, told, language=language) for part in design.project.parts]
    found += [_alternative_group(design, each, language=language) for each in design.project.alternatives]
    tables: tuple[tuple[str, Mapping[str, tuple[Key, ...]], bool], ...] = (
        ("cardstock", {"cardstock": CARDSTOCK_KEYS}, True),
        ("papers", {"papers": PAPERS_KEYS}, design.project.papers is not None),
        ("content", {"content": CONTENT_KEYS}, design.project.content is not None),
        ("project", {"": PROJECT_KEYS, "board": BOARD_KEYS, "teach": TEACH_KEYS}, True),
    )
    for title, keys, there in tables:
        if there:
            rows = [
                row for table, those in keys.items() for row in _key_rows(design, table, those, told, language=language)
            ]
            found.append({"title": language.workbench.more_titles[title], "part": "", "phrases": rows})
    found.append(
        {
            "title": language.workbench.more_titles["limits"],
            "part": "",
            "phrases": list(_limit_rows(design, language=language)),
        }
    )
    return [group for group in found if group["phrases"]]


def _part_group(design: Design, part: Part, told: frozenset[str], *, language: Language = ENGLISH) -> Fields:
    rows = [
        row
        for value in values_of(part.construction.parameters)
        for row in _rows(design, part, value, told, language=language)
    ]
    return {"title": language.workbench.more_titles["part"].format(part=part.name), "part": part.name, "phrases": rows}


def _alternative_group(design: Design, alternative: Alternative, *, language: Language = ENGLISH) -> Fields:
    """Another shape for a lid, in everything in which it may differ; layers of its own only where the file has some."""
    part = alternative.part
    rows: list[Fields] = []
    for value in alternative_values():
        if value.kind != "list" or not alternative.keeps_shares:
            rows += _rows(design, part, value, frozenset(), heading="alternatives", language=language)
    title = language.workbench.more_titles["alternative"].format(of=alternative.of, part=part.name)
    return {"title": title, "part": part.name, "phrases": rows}


def _rows(
    design: Design,
    part: Part,
    value: Value,
    told: frozenset[str],
    *,
    heading: str = "parts",
    language: Language = ENGLISH,
) -> Iterator[Fields]:
    if field_path(heading, part.name, value.name) in told:
        return
    if value.kind != "list":
        yield _row(value_phrase(design, part, value.name, heading=heading, language=language))
        return
    assert value.record is not None, "a list holds records"
    for number, record in enumerate(getattr(part.values, value.name), start=1):
        for each in values_of(value.record):
            path = field_path(heading, part.name, value.name, str(number), each.name)
            typed = typed_at(design, heading, part.name, value.name, str(number), each.name)
            current = getattr(record, each.name)
            phrase = {
                "phrase": path,
                "text": _said(design, typed, current),
                "state": "usual" if typed is None else "given",
                "control": control_of(design.project, path, each, typed, current, language=language),
            }
            yield _row(phrase) | {"group": language.workbench.layer.format(number=number), "number": number}


def _said(design: Design, typed: object, current: object) -> str:
    """A value of a layer within its line: a length has its unit beside it, however it was written."""
    if isinstance(current, Length):
        return exact_text(current, design.project)
    return typed_text(design.project, typed, current)


def _row(phrase: Fields) -> Fields:
    return {"label": phrase["control"]["label"], **phrase}


def _key_rows(
    design: Design, table: str, keys: tuple[Key, ...], told: frozenset[str], *, language: Language = ENGLISH
) -> Iterator[Fields]:
    for key in keys:
        path = f"{table}.{key.name}" if table else key.name
        if path not in told and not (table == "" and key.name in HIDDEN_KEYS):
            yield _row(
                key_phrase(
                    design, table, keys, key.name, _key_text(design, path, key, language=language), language=language
                )
            )


def _key_text(design: Design, path: str, key: Key, *, language: Language = ENGLISH) -> str:
    typed = typed_at(design, *path.split("."))
    if typed is None:
        usual = key.usual[0 if design.project.unit == "in" else 1]
        return language.workbench.not_given if path in EXAMPLES_ONLY else key.choices[0] if key.choices else usual
    return language.workbench.list_join.join(str(each) for each in typed) if isinstance(typed, list) else str(typed)


def _limit_rows(design: Design, *, language: Language = ENGLISH) -> Iterator[Fields]:
    """Every figure that the design is judged by."""
    limits: Iterable[object] = (design.project.checks, design.project.folding)
    for record, values in zip((CheckLimits, FoldingLimits), limits, strict=True):
        for field in setting_facts(record):
            typed = typed_at(design, "settings", field.name)
            unit = language.workbench.units.get(field.metadata["unit"], "")
            control = setting_control(
                field.name, field.metadata, getattr(values, field.name), _default(field), language=language
            )
            yield _row(
                {
                    "phrase": control["path"],
                    "text": f"{getattr(values, field.name):g} {unit}".strip(),
                    "state": "usual" if typed is None else "given",
                    "control": control,
                }
            )


def _default(field: dataclasses.Field[object]) -> float:
    assert isinstance(field.default, int | float), "a limit has a usual figure"
    return float(field.default)
