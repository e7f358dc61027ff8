"""The project file as a JSON Schema, made from the records that reading uses."""

from __future__ import annotations

import json
from collections.abc import Iterable
from typing import Any

from foldproof.constructions.alternative_lid import alternative_values
from foldproof.constructions.catalogue import CONSTRUCTIONS
from foldproof.constructions.parameters import OPEN, Value, values_of
from foldproof.constructions.record import Construction
from foldproof.folding.limits import FoldingLimits
from foldproof.outlines.parameters import MOST_ACROSS_MM
from foldproof.project.keys import (
    ALTERNATIVE_KEYS,
    BOARD_KEYS,
    CARDSTOCK_KEYS,
    CONTENT_KEYS,
    LINK_PATTERN,
    PAPERS_KEYS,
    PART_KEYS,
    PROJECT_KEYS,
    SHAPE_KEYS,
    TEACH_KEYS,
    Key,
)
from foldproof.project.read_alternatives import MOST_ALTERNATIVES
from foldproof.project.read_parts import MOST_PART_NAME, MOST_PARTS, PART_NAME_PATTERN
from foldproof.project.read_settings import setting_facts
from foldproof.project.read_shapes import MOST_POINTS, MOST_SHAPE_NAME, MOST_SHAPES, MOST_SIZES, MOST_SOURCE
from foldproof.project.read_values import MOST_TEXT_CHARACTERS
from foldproof.project.records import FORMAT
from foldproof.project.settings import CheckLimits
from foldproof.project.table import MOST_NAME_CHARACTERS
from foldproof.stock.board import MOST_STOPS

Schema = dict[str, Any]

_TYPES: dict[str, Schema] = {
    "text": {"type": "string"},
    "text or number": {"type": ["string", "number"]},
    "whole number": {"type": "integer"},
    "text or list": {
        "anyOf": [
            {"type": "string"},
            {"type": "array", "items": {"type": ["string", "number"]}, "maxItems": MOST_STOPS},
        ]
    },
    "lengths": {"type": "array", "items": {"type": ["string", "number"]}, "maxItems": MOST_SIZES},
    "points": {
        "type": "array",
        "items": {
            "type": "array",
            "items": {"type": "number", "minimum": -MOST_ACROSS_MM, "maximum": MOST_ACROSS_MM},
            "minItems": 2,
            "maxItems": 2,
        },
        "minItems": 3,
        "maxItems": MOST_POINTS,
    },
}
COLOUR = r"^\s*#[0-9A-Fa-f]{6}\s*$"
_NAMES = ("name", "maker")


def project_schema() -> Schema:
    """JSON Schema 2020-12 of the project file, for editors that help while typing.

    It knows keys, types, choices and the ranges of plain figures. Lengths as people write them are only text
    to it: ``read_project`` is the judge.
    """
    return {
        "$schema": "https://json-schema.org/draft/2020-12/schema",
        "title": f"Foldproof project, format {FORMAT}",
        **_table(
            PROJECT_KEYS,
            {
                "cardstock": _table(CARDSTOCK_KEYS)
                | {"anyOf": [{"required": ["weight"]}, {"required": ["thickness"]}]},
                "board": _table(BOARD_KEYS),
                "parts": _parts(),
                "alternatives": _alternatives(),
                "shapes": {
                    "type": "object",
                    "description": "shapes of your own, by name: foldproof outline --into writes them",
                    "maxProperties": MOST_SHAPES,
                    "propertyNames": {"minLength": 1, "maxLength": MOST_SHAPE_NAME},
                    "additionalProperties": _table(SHAPE_KEYS),
                },
                "papers": _table(PAPERS_KEYS),
                "teach": _table(TEACH_KEYS),
                "content": _table(CONTENT_KEYS),
                "settings": _settings((FoldingLimits, CheckLimits)),
                "extra": {
                    "type": "object",
                    "description": "anything of your own: kept, never read",
                    "additionalProperties": {"type": "object"},
                },
            },
            ("cardstock", "parts"),
        ),
    }


def schema_text() -> str:
    """The schema as the text of its file."""
    return json.dumps(project_schema(), indent=2, ensure_ascii=False) + "\n"


def _table(
    keys: Iterable[Key], tables: Schema | None = None, required_tables: tuple[str, ...] = ()
) -> Schema:
    known = tuple(keys)
    return {
        "type": "object",
        "properties": {key.name: _key(key) for key in known} | (tables or {}),
        "required": [*(key.name for key in known if key.required), *required_tables],
        "additionalProperties": False,
    }


def _key(key: Key) -> Schema:
    found: Schema = {**_TYPES[key.holds], "description": key.help}
    if key.choices:
        found["enum"] = list(key.choices)
    if key.name == "format":
        found["const"] = FORMAT
    if key.name in _NAMES:
        found |= {"minLength": 1, "maxLength": MOST_NAME_CHARACTERS}
    if key.name == "source":
        found |= {"maxLength": MOST_SOURCE}
    if key.name == "link":
        found |= {"pattern": rf"^\s*{LINK_PATTERN}\s*$"}
    return found


def _parts() -> Schema:
    return {
        "type": "object",
        "minProperties": 1,
        "maxProperties": MOST_PARTS,
        "propertyNames": {"pattern": f"^{PART_NAME_PATTERN}$", "maxLength": MOST_PART_NAME},
        "additionalProperties": {
            "type": "object",
            "required": ["construction"],
            "properties": {"construction": {"enum": [each.name for each in CONSTRUCTIONS]}},
            "allOf": [
                {
                    "if": {
                        "properties": {"construction": {"const": each.name}},
                        "required": ["construction"],
                    },
                    "then": _part(each),
                }
                for each in CONSTRUCTIONS
            ],
        },
    }


def _alternatives() -> Schema:
    table = _table(ALTERNATIVE_KEYS)
    table["properties"] |= {value.name: _value(value) for value in alternative_values()}
    return {
        "type": "object",
        "description": "other shapes for a turning lid, by name: what is not said is the lid's",
        "maxProperties": MOST_ALTERNATIVES,
        "propertyNames": {"pattern": f"^{PART_NAME_PATTERN}$", "maxLength": MOST_PART_NAME},
        "additionalProperties": table,
    }


def _part(construction: Construction) -> Schema:
    table = _table(PART_KEYS)
    own = _record(construction.parameters)
    table["description"] = construction.summary
    table["properties"] |= own["properties"]
    table["properties"]["revision"]["const"] = construction.revision
    table["required"] += own["required"]
    return table | _or_own_shape(values_of(construction.parameters))


def _record(parameters: type) -> Schema:
    """The keys of a parameter record."""
    values = values_of(parameters)
    return {
        "type": "object",
        "properties": {value.name: _value(value) for value in values},
        "required": [value.name for value in values if value.default is None and not value.open_beside_own],
        "additionalProperties": False,
    }


def _or_own_shape(values: tuple[Value, ...]) -> Schema:
    """What may be left out beside a shape of the maker's own is there, or the shape is none of the formulas."""
    needed = [value.name for value in values if value.default is None and value.open_beside_own]
    formulas = {value.name: {"not": {"enum": list(value.choices)}} for value in values if value.kind == "shape"}
    if not needed or not formulas:
        return {}
    return {"anyOf": [{"required": needed}, {"properties": formulas, "required": list(formulas)}]}


def _value(value: Value) -> Schema:
    found: Schema = {"description": value.help, **_kind(value)}
    texts = [*value.choices, *([OPEN] if value.may_be_open else [])]
    if texts and value.kind != "choice":
        found["examples"] = texts
    if value.default is not None and value.default[0] == value.default[1]:
        found["default"] = value.default[0]
    return found


def _kind(value: Value) -> Schema:
    """What may stand there. A least and a most figure hold for plain numbers; texts are for reading to judge."""
    match value.kind:
        case "choice":
            return {"enum": list(value.choices)}
        case "count":
            return {"type": ["string", "integer"], "minimum": value.fewest, "maximum": value.top}
        case "angle":
            return {"type": ["string", "number"], "minimum": value.fewest, "maximum": value.top}
        case "text":
            colour = value.form == "colour"
            return {"type": "string", **({"pattern": COLOUR} if colour else {"maxLength": MOST_TEXT_CHARACTERS})}
        case "shape":
            return {"type": "string", "maxLength": MOST_SHAPE_NAME}
        case "part":
            return {"type": "string", "pattern": rf"^\s*{PART_NAME_PATTERN}\s*$"}
        case "list":
            assert value.record is not None, "a list has records"
            items = _record(value.record)
            return {"type": "array", "items": items, "minItems": value.fewest, "maxItems": value.top}
    return {"type": ["string", "number"]}


def _settings(records: Iterable[type]) -> Schema:
    properties = {
        field.name: {
            "type": "number",
            "description": f"{field.metadata['help']}{unit and f' ({unit})'}",
            "minimum": field.metadata["least"],
            "maximum": field.metadata["most"],
            "default": field.default,
        }
        for limits in records
        for field in setting_facts(limits)
        for unit in (field.metadata["unit"],)
    }
    return {"type": "object", "properties": properties, "additionalProperties": False}
