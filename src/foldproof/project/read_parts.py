"""Reads the parts: what is made, the values of each construction, and which part goes on which."""

from __future__ import annotations

import dataclasses
import re
from collections.abc import Iterable, Mapping

from foldproof.constructions.catalogue import CONSTRUCTIONS, construction_named
from foldproof.constructions.parameters import Open, Value, values_of
from foldproof.constructions.record import Conflict, Construction
from foldproof.lengths import Length, Ruler, in_words
from foldproof.pattern.measured import file_stem
from foldproof.project.keys import PART_KEYS, key_names
from foldproof.project.problems import field_path, in_short, one_of
from foldproof.project.read_shapes import Shapes
from foldproof.project.read_values import read_values
from foldproof.project.records import Part
from foldproof.project.table import (
    Table,
    as_choice,
    read_text,
    read_whole,
    refuse_unknown,
    table_at,
)
from foldproof.stock.errors import nearest_names

MOST_PARTS = 8  # a box, its lid and some inserts; more are projects of their own
MOST_PART_NAME = 40  # characters: part names become names of files

PART_NAME_PATTERN = r"[A-Za-z0-9](?:[A-Za-z0-9 _-]*[A-Za-z0-9])?"

PART_NAME = re.compile(PART_NAME_PATTERN)


def read_parts(table: Table, shapes: Shapes) -> tuple[Part, ...]:
    """Every part under [parts], in the order of the file. The wrong ones are problems and left out.

    ``shapes`` are the project's own, which parts may name.
    """
    if not table.values:
        names = one_of(construction.name for construction in CONSTRUCTIONS)
        table.problems.add("parts", "", "there is nothing to make", f"write [parts.tray] with construction = {names}")
    if len(table.values) > MOST_PARTS:
        reason = f"has {len(table.values)} parts"
        table.problems.add("parts", "", reason, f"write at most {MOST_PARTS}, and the others in files of their own")
        return ()
    _refuse_same_names(table)
    hosts = _read_hosts(table)
    read = (_read_part(table_at(table, name), name, hosts.get(name, ""), shapes) for name in table.values)
    parts = tuple(part for part in read if part is not None)
    by_name = {part.name: part for part in parts}
    for part in parts:
        if part.on in by_name:
            found = part.construction.conflicts_on(part.values, by_name[part.on].values)
            tell_conflicts(table_at(table, part.name), found, part.values)
    return parts


def _refuse_same_names(table: Table) -> None:
    """Names that differ only in capitals, or in a space for a hyphen, would be one file."""
    stems = [file_stem(name).casefold() for name in table.values]
    for place, name in enumerate(table.values):
        if stems[place] in stems[:place]:
            table.problems.add(table.field(name), name, "is the name of another part too", "give it another name")


def _read_part(table: Table, name: str, host: str, shapes: Shapes) -> Part | None:
    before = len(table.problems)
    if len(name) > MOST_PART_NAME or not PART_NAME.fullmatch(name):
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
    found, tied = read_values(table, values, shapes)
    if len(table.problems) > before or any(value.kind == "shape" and value.name not in found for value in values):
        return None  # a shape is missing when there is a problem with that shape
    on = host_value(construction)
    record = construction.parameters(**found, **({on.name: host} if on else {}))
    tell_conflicts(table, construction.conflicts(record), record)
    return Part(
        name=name,
        construction=construction,
        revision=construction.revision,
        values=record,
        open_values=tuple(value.name for value in values if isinstance(found.get(value.name), Open)),
        tied_values=tied,
        on=host,
    )


def _read_construction(table: Table) -> Construction | None:
    names = [construction.name for construction in CONSTRUCTIONS]
    if "construction" not in table.values:
        table.wrong("construction", "is missing", f"write construction = {one_of(names)}")
        return None
    text = read_text(table, "construction")
    if text is None:
        return None
    construction = construction_written(text)
    if construction is None:
        nearest = nearest_names(in_short(text), names)
        table.wrong("construction", "there is no construction of this name", f"write {nearest}")
    return construction


def construction_written(text: object) -> Construction | None:
    """The construction of that name, whatever its case and spaces."""
    names = [construction.name for construction in CONSTRUCTIONS]
    return construction_named(as_choice(text, names) or "") if isinstance(text, str) else None


def _check_revision(table: Table, construction: Construction) -> None:
    revision = read_whole(table, "revision")
    if revision is not None and revision != construction.revision:
        table.wrong(
            "revision",
            f"this program knows revision {construction.revision} of the {construction.name}",
            f"write revision = {construction.revision}, and prove the project again",
        )


# --- Parts on parts -----------------------------------------------------------------------------------------


def host_value(construction: Construction) -> Value | None:
    """The value that names the part a construction is made on; None when it stands alone."""
    return next((value for value in values_of(construction.parameters) if value.kind == "part"), None)


def _read_hosts(table: Table) -> dict[str, str]:
    """The part that each part is made on, by name. The wrong ones are problems and left out.

    Looked at before any part is read, so that a part that is wrong does not hide what is wrong about the next.
    """
    known = {
        name: construction_written(values.get("construction")) if isinstance(values, dict) else None
        for name, values in table.values.items()
    }
    found: dict[str, str] = {}
    for name, construction in known.items():
        value = None if construction is None else host_value(construction)
        host = None if value is None else _read_host(table_at(table, name), value.name, known, found)
        if host is not None:
            found[name] = host
    return found


def _read_host(part: Table, key: str, known: Mapping[str, Construction | None], found: Mapping[str, str]) -> str | None:
    """The name of another part of the project, which stands alone and has nothing made on it yet."""
    alone = [name for name, each in known.items() if each is not None and host_value(each) is None]
    free = [name for name in alone if name not in found.values()]
    remedy = f"write {key} = {one_of(free)}" if free else "add the part it goes on, under a heading like [parts.tray]"
    if key not in part.values:
        part.wrong(key, "is missing", remedy)
        return None
    text = read_text(part, key)
    if text is None:
        return None
    host = text.strip()
    construction = known.get(host)
    if host == part.path[-1]:
        part.wrong(key, "is this part itself", remedy)
    elif host not in known:
        nearest = f"write {nearest_names(in_short(host), free)}" if free else remedy
        part.wrong(key, "there is no part of this name", nearest)
    elif construction is not None and host_value(construction) is not None:
        part.wrong(key, "is a part that goes on another one itself", remedy)
    elif host in found.values():
        other = next(name for name, taken in found.items() if taken == host)
        part.wrong(key, f"has {other} on it already", remedy)
    else:
        return host
    return None


# --- Conflicts ----------------------------------------------------------------------------------------------


def tell_conflicts(table: Table, conflicts: Iterable[Conflict], values: object) -> None:
    """A problem for each conflict of a part, at the value it names."""
    assert dataclasses.is_dataclass(values) and not isinstance(values, type), "values are a parameter record"
    found = {field.name: getattr(values, field.name) for field in dataclasses.fields(values)}
    for conflict in conflicts:
        remedy = _remedy_in_figures(conflict, found, table.ruler)
        table.problems.add(table.field(conflict.name), table.values.get(conflict.name, ""), conflict.reason, remedy)


def _remedy_in_figures(conflict: Conflict, found: Mapping[str, object], ruler: Ruler) -> str:
    """The remedy of a conflict, with the figure of each length it speaks of."""
    known = {name: in_words(value, ruler) for name, value in found.items() if isinstance(value, Length)}
    if conflict.remedy in known:
        return f"write {known[conflict.remedy]}, as {conflict.remedy}"
    named = [name for name in known if re.search(rf"\b{name}\b", f"{conflict.remedy} {conflict.reason}")]
    if not named:
        return conflict.remedy
    figures = ", ".join(f"{name} is {known[name]}" for name in named)
    return f"{conflict.remedy} ({figures})"
