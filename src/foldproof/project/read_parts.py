"""Reads the parts: what is made, and the values of each construction."""

from __future__ import annotations

import re
from collections.abc import Mapping
from typing import Any

from foldproof.constructions.catalogue import CONSTRUCTIONS, construction_named
from foldproof.constructions.parameters import OPEN, Open, Value, values_of
from foldproof.constructions.record import Conflict, Construction
from foldproof.lengths import Length, Ruler, in_words, parse_length, round_to
from foldproof.project.keys import PART_KEYS, key_names
from foldproof.project.problems import field_path, in_short, one_of
from foldproof.project.records import Part
from foldproof.project.table import (
    Table,
    as_choice,
    read_length,
    read_text,
    read_whole,
    refuse_unknown,
    table_at,
)
from foldproof.stock.errors import nearest_names

MOST_PARTS = 8  # a box, its lid and some inserts; more are projects of their own
MOST_PART_NAME = 40  # characters: part names become names of files

PART_NAME_PATTERN = r"[A-Za-z0-9](?:[A-Za-z0-9 _-]*[A-Za-z0-9])?"

_PART_NAME = re.compile(PART_NAME_PATTERN)
_TIED = re.compile(r"as (?P<other>[a-z_]+)")


def read_parts(table: Table) -> tuple[Part, ...]:
    """Every part under [parts], in the order of the file. The wrong ones are problems and left out."""
    if not table.values:
        names = one_of(construction.name for construction in CONSTRUCTIONS)
        table.problems.add(
            "parts", "", "there is nothing to make", f"write [parts.tray] with construction = {names}"
        )
    if len(table.values) > MOST_PARTS:
        reason = f"has {len(table.values)} parts"
        table.problems.add(
            "parts", "", reason, f"write at most {MOST_PARTS}, and the others in files of their own"
        )
        return ()
    _refuse_same_names(table)
    parts = (_read_part(table_at(table, name), name) for name in table.values)
    return tuple(part for part in parts if part is not None)


def _refuse_same_names(table: Table) -> None:
    """Names that differ only in capitals would be one file on many machines."""
    for place, name in enumerate(table.values):
        if name.casefold() in (earlier.casefold() for earlier in list(table.values)[:place]):
            table.problems.add(
                table.field(name), name, "is the name of another part too", "give it another name"
            )


def _read_part(table: Table, name: str) -> Part | None:
    before = len(table.problems)
    if len(name) > MOST_PART_NAME or not _PART_NAME.fullmatch(name):
        table.problems.add(
            field_path(*table.path),
            name,
            "is no name for a part",
            f"use letters, digits, spaces, - and _, at most {MOST_PART_NAME}",
        )
    construction = _read_construction(table)
    if construction is None:
        return None
    values = values_of(construction.parameters)
    refuse_unknown(table, (*key_names(PART_KEYS), *(value.name for value in values)))
    _check_revision(table, construction)
    found, tied = _read_values(table, values)
    if len(table.problems) > before:
        return None
    record = construction.parameters(**found)
    for conflict in construction.conflicts(record):
        remedy = _remedy_in_figures(conflict, found, table.ruler)
        shown = table.values.get(conflict.name, "")
        table.problems.add(table.field(conflict.name), shown, conflict.reason, remedy)
    return Part(
        name=name,
        construction=construction,
        revision=construction.revision,
        values=record,
        open_values=tuple(value.name for value in values if isinstance(found[value.name], Open)),
        tied_values=tied,
    )


def _read_construction(table: Table) -> Construction | None:
    names = [construction.name for construction in CONSTRUCTIONS]
    if "construction" not in table.values:
        table.wrong("construction", "is missing", f"write construction = {one_of(names)}")
        return None
    text = read_text(table, "construction")
    if text is None:
        return None
    construction = construction_named(as_choice(text, names) or "")
    if construction is None:
        nearest = nearest_names(in_short(text), names)
        table.wrong("construction", "there is no construction of this name", f"write {nearest}")
    return construction


def _check_revision(table: Table, construction: Construction) -> None:
    revision = read_whole(table, "revision")
    if revision is not None and revision != construction.revision:
        table.wrong(
            "revision",
            f"this program knows revision {construction.revision} of the {construction.name}",
            f"write revision = {construction.revision}, and prove the project again",
        )


# --- Values -------------------------------------------------------------------------------------------------


def _read_values(
    table: Table, values: tuple[Value, ...]
) -> tuple[dict[str, Any], tuple[tuple[str, str], ...]]:
    """Each value's Length, Open or text by name, and the pairs of a value and the other it is the same as.

    A wrong value is left out; then there is a problem.
    """
    found: dict[str, Any] = {}
    tied: list[tuple[str, str]] = []
    for value in values:
        other = _tied_to(table, value)
        if other is not None:
            tied.append((value.name, other))
            continue
        read = _read_value(table, value)
        if read is not None:
            found[value.name] = read
    for name, other in tied:
        if other in found:
            found[name] = found[other]
    return found, tuple(tied)


def _tied_to(table: Table, value: Value) -> str | None:
    """The other value that this one is the same as: by its usual text, left out or written."""
    if value.kind != "length" or value.default is None:
        return None
    usual = value.default[0]
    written = table.values.get(value.name, usual)
    found = _TIED.fullmatch(usual)
    is_usual = isinstance(written, str) and as_choice(written, (usual,)) is not None
    return found["other"] if found and is_usual else None


def _read_value(table: Table, value: Value) -> Length | Open | str | None:
    written = table.values.get(value.name)
    if written is None:
        return _usual_value(table, value)
    if isinstance(written, str):
        if as_choice(written, (OPEN,)):
            return _open_value(table, value)
        choice = as_choice(written, value.choices)
        if choice is not None:
            return choice
    if value.kind == "choice":
        table.wrong(value.name, "is none of the choices", f"write {one_of(value.choices)}")
        return None
    assert value.least is not None and value.most is not None, "a length has a range"
    choices = f", or {one_of(value.choices)}" if value.choices else ""
    return read_length(table, value.name, value.least, value.most, choices)


def _open_value(table: Table, value: Value) -> Open | None:
    if value.may_be_open:
        return Open()
    table.wrong(value.name, "cannot be worked out", f"write {what_works(value, table.unit, table.ruler)}")
    return None


def _usual_value(table: Table, value: Value) -> Length | str | None:
    if value.default is None:
        table.wrong(value.name, "is missing", f"write {what_works(value, table.unit, table.ruler)}")
        return None
    text = value.default[0 if table.unit == "in" else 1]
    return text if value.kind != "length" else parse_length(text, table.unit)


def what_works(value: Value, unit: str, ruler: Ruler) -> str:
    """What can be written for a value, in a phrase: its range on the ruler, its choices, 'work out'."""
    ways: list[str] = []
    if value.least is not None and value.most is not None:
        lowest, highest = round_to(value.least, ruler, "up").text, round_to(value.most, ruler, "down").text
        ways.append(f"{lowest} to {highest}")
    if value.choices:
        ways.append(one_of(value.choices))
    if value.may_be_open:
        ways.append(f'"{OPEN}" to have it worked out')
    return ", or ".join(ways)


# --- Conflicts ----------------------------------------------------------------------------------------------


def _remedy_in_figures(conflict: Conflict, found: Mapping[str, Any], ruler: Ruler) -> str:
    """The remedy of a conflict, with the figure of each length it speaks of."""
    known = {name: in_words(value, ruler) for name, value in found.items() if isinstance(value, Length)}
    if conflict.remedy in known:
        return f"write {known[conflict.remedy]}, as {conflict.remedy}"
    named = [name for name in known if re.search(rf"\b{name}\b", f"{conflict.remedy} {conflict.reason}")]
    if not named:
        return conflict.remedy
    figures = ", ".join(f"{name} is {known[name]}" for name in named)
    return f"{conflict.remedy} ({figures})"
