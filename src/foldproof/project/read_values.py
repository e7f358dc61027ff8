"""Reads the values of a construction: each by its kind, and lists of records of values."""

from __future__ import annotations

import math
import re
from typing import Any

from foldproof.constructions.parameters import OPEN, Open, Value, values_of
from foldproof.lengths import Length, Ruler, parse_length, round_to
from foldproof.outlines.own import OwnShape
from foldproof.project.problems import field_path, in_short, one_of
from foldproof.project.read_shapes import Shapes, plain_name
from foldproof.project.table import (
    Table,
    as_choice,
    colour,
    read_by,
    read_length,
    read_name,
    read_text,
    refuse_unknown,
)
from foldproof.stock.errors import nearest_names
from foldproof.stock.paper import read_weight

MOST_TEXT_CHARACTERS = 40  # of a maker's own words for something: what fits beside a drawing

_TIED = re.compile(r"as (?P<other>[a-z_]+)")
_NUMBER = re.compile(r"[+-]?[0-9]{1,9}(?P<point>\.[0-9]{1,9})?")

Found = Length | Open | OwnShape | str | int | float | tuple[Any, ...]


def read_values(
    table: Table, values: tuple[Value, ...], shapes: Shapes
) -> tuple[dict[str, Any], tuple[tuple[str, str], ...]]:
    """Each value by name, and the pairs of a value and the other it is the same as.

    A wrong value is left out; then there is a problem. Names of other parts are for ``read_parts`` to read. ``shapes``
    are the project's own, of which a value may be one.
    """
    found: dict[str, Any] = {}
    tied: list[tuple[str, str]] = []
    for value in values:
        other = _tied_to(table, value)
        if other is not None:
            tied.append((value.name, other))
        elif value.kind != "part":
            read = _read_any(table, value, shapes, any(isinstance(each, OwnShape) for each in found.values()))
            if read is not None:
                found[value.name] = read
    for name, other in tied:
        if other in found:
            found[name] = found[other]
    return found, tuple(tied)


def _read_any(table: Table, value: Value, shapes: Shapes, beside_own: bool) -> Found | None:
    """One value of any kind; ``beside_own`` tells that the same part has a shape of the maker's own."""
    if value.kind == "list":
        return _read_list(table, value, shapes)
    if value.kind == "shape":
        return _read_shape(table, value, shapes)
    if beside_own and value.open_beside_own and value.name not in table.values:
        return Open()
    return _read_value(table, value)


def _tied_to(table: Table, value: Value) -> str | None:
    """The other value that this one is the same as: by its usual text, left out or written."""
    if value.kind != "length" or value.default is None:
        return None
    usual = value.default[0]
    written = table.values.get(value.name, usual)
    found = _TIED.fullmatch(usual)
    is_usual = isinstance(written, str) and as_choice(written, (usual,)) is not None
    return found["other"] if found and is_usual else None


def _read_value(table: Table, value: Value) -> Found | None:
    written = table.values.get(value.name)
    if written is None:
        return _usual_value(table, value)
    if isinstance(written, str):
        if as_choice(written, (OPEN,)):
            return _open_value(table, value)
        choice = as_choice(written, value.choices)
        if choice is not None:
            return choice
    match value.kind:
        case "choice":
            table.wrong(value.name, "is none of the choices", f"write {one_of(value.choices)}")
            return None
        case "count" | "angle":
            return _read_number(table, value, written)
        case "text":
            return _read_text(table, value)
    assert value.least is not None and value.most is not None, "a length has a range"
    choices = f", or {one_of(value.choices)}" if value.choices else ""
    return read_length(table, value.name, value.least, value.most, choices)


def _open_value(table: Table, value: Value) -> Open | None:
    if value.may_be_open:
        return Open()
    table.wrong(value.name, "cannot be worked out", f"write {what_works(value, table.unit, table.ruler)}")
    return None


def _usual_value(table: Table, value: Value) -> Found | None:
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
    if value.kind in ("count", "angle"):
        ways.append(f"{value.fewest:g} to {value.top:g}{' in degrees' if value.kind == 'angle' else ''}")
    if value.kind == "text":
        told = {"colour": "# and six hex digits, such as #2a9d8f", "weight": "a weight such as '216 gsm'"}
        ways.append(told.get(value.form, f"at most {MOST_TEXT_CHARACTERS} characters"))
    if value.choices:
        ways.append(one_of(value.choices))
    if value.kind == "shape":
        ways.append("the name of a shape of your own, under [shapes.NAME]")
    if value.may_be_open:
        ways.append(f'"{OPEN}" to have it worked out')
    return ", or ".join(ways)


# --- Shapes -------------------------------------------------------------------------------------------------


def _read_shape(table: Table, value: Value, shapes: Shapes) -> str | OwnShape | None:
    """A formula by its name, or one of the project's own shapes; None when it is wrong, or the shape it names is."""
    written = read_text(table, value.name)
    if written is None:
        return value.choices[0] if value.name not in table.values else None
    choice = as_choice(written, value.choices)
    if choice is not None:
        return choice
    named = next((name for name in shapes if plain_name(name) == plain_name(written)), None)
    if named is not None:
        return shapes[named]
    known = (*shapes, *value.choices)
    nearest = f"write {nearest_names(in_short(written), known)}, or trace your own: foldproof outline --help"
    table.wrong(value.name, "there is no shape of this name", nearest)
    return None


# --- Counts, angles, texts ----------------------------------------------------------------------------------


def _read_number(table: Table, value: Value, written: object) -> int | float | None:
    """A count as a whole number, an angle as a float in degrees; None when it is wrong."""
    assert value.fewest is not None and value.top is not None, "a count and an angle have a range"
    number = number_in(written)
    if isinstance(number, float) and not math.isfinite(number):
        reason = "is not a finite number"
    elif number is None or (value.kind == "count" and isinstance(number, float)):
        reason = f"is not {'a whole number' if value.kind == 'count' else 'a number of degrees'}"
        reason += " and none of the choices" if isinstance(written, str) and value.choices else ""
    elif not value.fewest <= number <= value.top:
        reason = f"is too {'small' if number < value.fewest else 'large'}"
    else:
        # Adding nothing makes one zero of the two.
        return number if value.kind == "count" else float(number) + 0.0
    table.wrong(value.name, reason, f"write {what_works(value, table.unit, table.ruler)}")
    return None


def number_in(written: object) -> int | float | None:
    """The number that is written, also in quotes as command lines write it; None for anything else."""
    if isinstance(written, str):
        found = _NUMBER.fullmatch(written.strip())
        if found is None:
            return None
        return float(found[0]) if found["point"] else int(found[0])
    return written if isinstance(written, int | float) and not isinstance(written, bool) else None


def _read_text(table: Table, value: Value) -> str:
    assert value.default is not None, "a text has a default"
    usual = value.default[0 if table.unit == "in" else 1]
    if value.form == "colour":
        return read_by(table, value.name, colour, usual)
    if value.form == "weight":
        return read_by(table, value.name, weight_text, usual)
    return read_name(table, value.name, usual, MOST_TEXT_CHARACTERS)


def weight_text(text: str) -> str:
    """A weight of card as it is printed on the packet, spelt in one way. Raises StockError for anything else."""
    return read_weight(text).text


# --- Lists of records ---------------------------------------------------------------------------------------


def _read_list(table: Table, value: Value, shapes: Shapes) -> tuple[Any, ...] | None:
    """The records under [[…]] headings, in order; None when any is wrong, which is a problem."""
    assert value.record is not None and value.fewest is not None and value.top is not None, "a list has records"
    rows = table.values.get(value.name, [])
    heading = f"[[{table.field(value.name)}]]"
    if isinstance(rows, dict):
        table.wrong(value.name, "is a single heading", f"write it in double brackets, one for each: {heading}")
    elif not isinstance(rows, list):
        table.wrong(value.name, "is a list of headings", f"write {heading} and its keys below it, one for each")
    elif len(rows) < value.fewest:
        table.wrong(value.name, "is missing", f"write {heading} and its keys below it, one for each")
    elif len(rows) > value.top:
        table.wrong(value.name, f"has {len(rows)} of them", f"write at most {value.top:g}")
    else:
        found = [_read_record(table, value, number, row, shapes) for number, row in enumerate(rows, start=1)]
        read = tuple(record for record in found if record is not None)
        return read if len(read) == len(found) else None
    return None


def _read_record(table: Table, value: Value, number: int, row: object, shapes: Shapes) -> Any:
    """One record of a list, told by its number from 1; None when it is wrong."""
    assert value.record is not None
    path = (*table.path, value.name, str(number))
    if not isinstance(row, dict):
        heading = f"[[{table.field(value.name)}]]"
        table.problems.add(
            field_path(*path), row, "is a heading with keys under it", f"write {heading} and its keys below it"
        )
        return None
    before = len(table.problems)
    under = Table(path=path, values=row, unit=table.unit, ruler=table.ruler, problems=table.problems)
    values = values_of(value.record)
    refuse_unknown(under, tuple(each.name for each in values))
    found, _ = read_values(under, values, shapes)
    return value.record(**found) if len(table.problems) == before else None
