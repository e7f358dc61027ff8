"""One table of a project file while it is read: values by key, each told by its path when it is wrong.

Every reader gives something usable back, also for a wrong value, so that reading goes on to the next problem.
What stands in for a wrong value is never used: a file with a problem gives no project.
"""

from __future__ import annotations

import math
import re
import unicodedata
from collections.abc import Callable, Iterable, Mapping, Sequence
from dataclasses import dataclass
from typing import Any, TypeVar

from foldproof.lengths import ZERO, Length, LengthError, Ruler, Unit, parse_length, round_to
from foldproof.project.keys import Key, key_names, usual_text
from foldproof.project.problems import Problems, field_path, in_short, one_of
from foldproof.stock.errors import StockError, nearest_names

MOST_NAME_CHARACTERS = 300  # long names are wrapped on covers and shortened in running heads
# Marks that turn the direction of the text after them: a name with one prints as something else.
_TURNS_TEXT = frozenset("\u202a\u202b\u202c\u202d\u202e\u2066\u2067\u2068\u2069")

T = TypeVar("T")


@dataclass(frozen=True, slots=True, kw_only=True)
class Table:
    """Values under one heading, where the heading is, what plain numbers mean, and where problems go."""

    path: tuple[str, ...]
    values: Mapping[str, Any]
    unit: Unit
    ruler: Ruler
    problems: Problems

    def field(self, key: str) -> str:
        """The path of a key, as it is told to the maker."""
        return field_path(*self.path, key)

    def wrong(self, key: str, reason: str, remedy: str) -> None:
        """A problem with the value of a key."""
        self.problems.add(self.field(key), self.values.get(key, ""), reason, remedy)


def table_at(parent: Table, key: str) -> Table:
    """The table under a key; an empty one if there is none. Anything else there is a problem."""
    values = parent.values.get(key, {})
    if not isinstance(values, dict):
        parent.wrong(
            key, "is a heading with keys under it", f"write [{parent.field(key)}] and its keys below it"
        )
        values = {}
    return Table(
        path=(*parent.path, key),
        values=values,
        unit=parent.unit,
        ruler=parent.ruler,
        problems=parent.problems,
    )


def refuse_unknown(table: Table, known: Sequence[str]) -> None:
    """A problem for each key that is not known, with the nearest known one."""
    unknown = [key for key in table.values if key not in known]
    for place, key in enumerate(unknown):
        if table.problems.full:
            table.problems.count(len(unknown) - place)
            return
        table.wrong(
            key,
            "is not a key that is known here",
            f"write {nearest_names(in_short(key), known)}, or keep your own notes under [extra.notes]",
        )


def missing(table: Table, key: Key) -> None:
    """A problem: a required key is not there."""
    example = usual_text(key, table.unit)
    listed = key.holds in ("lengths", "points")
    written = f"[{example}]" if listed else example if key.holds == "whole number" else f'"{example}"'
    table.wrong(key.name, "is missing", f"write {key.name} = {written}, for example")


def refuse_missing(table: Table, keys: Iterable[Key]) -> None:
    """A problem for each required key that is not there."""
    for key in keys:
        if key.required and key.name not in table.values:
            missing(table, key)


def read_text(table: Table, key: str) -> str | None:
    """Text under a key; None when it is missing or not text, which is a problem."""
    value = table.values.get(key)
    if value is None or isinstance(value, str):
        return value
    table.wrong(key, "is not text", f'write it in quotes: {key} = "…"')
    return None


def read_name(table: Table, key: str, otherwise: str, most_characters: int = MOST_NAME_CHARACTERS) -> str:
    """A name that is printed: one line of 1 to 300 characters, or fewer."""
    text = read_text(table, key)
    if text is None:
        return otherwise
    name = text.strip()
    if not name:
        table.wrong(key, "is empty", "write at least one letter")
    elif len(name) > most_characters:
        table.wrong(key, f"has {len(name)} characters", f"write at most {most_characters}")
    elif any(map(cannot_print, name)):
        table.wrong(key, "has a character that cannot be printed", "type it again, on one line")
    else:
        return name
    return otherwise


def cannot_print(character: str) -> bool:
    """Whether a character has no place in a name that is printed."""
    return unicodedata.category(character) in ("Cc", "Cs", "Zl", "Zp") or character in _TURNS_TEXT


def colour(text: str) -> str:
    """A colour written as # and six hex digits, in small letters. Raises StockError for anything else."""
    plain = text.strip().lower()
    if not re.fullmatch(r"#[0-9a-f]{6}", plain):
        raise StockError("is not a colour", "write # and six hex digits, such as #2a9d8f")
    return plain


def read_choice(table: Table, key: str, choices: Sequence[str], otherwise: str) -> str:
    """One of some texts, in any case."""
    text = read_text(table, key)
    if text is None:
        return otherwise
    found = as_choice(text, choices)
    if found is None:
        table.wrong(key, "is none of the choices", f"write {one_of(choices)}")
        return otherwise
    return found


def as_choice(text: str, choices: Sequence[str]) -> str | None:
    """The choice that this text is, whatever its case and spaces; None if it is none."""
    plain = " ".join(text.casefold().split())
    return next((choice for choice in choices if choice == plain), None)


def read_by(table: Table, key: str, reader: Callable[[str], T], otherwise: T, numbers: bool = False) -> T:
    """What ``reader`` makes of the text under a key. With ``numbers`` a number there is read as its text."""
    value = table.values.get(key)
    if numbers and isinstance(value, int | float) and not isinstance(value, bool):
        value = _number_text(value)
    elif not isinstance(value, str):
        read_text(table, key)
        return otherwise
    try:
        return reader(value)
    except StockError as error:
        table.wrong(key, error.reason, error.remedy)
        return otherwise


def _number_text(value: int | float) -> str:
    # Longer numbers than any that is meant are not written out: that takes time.
    return repr(value) if isinstance(value, float) or abs(value) < 10**12 else f"{float('inf')}"


def read_length(table: Table, key: str, least: Length, most: Length, remedy_end: str = "") -> Length | None:
    """A length under a key, between two others; None when it is missing or wrong."""
    value = table.values.get(key)
    if value is None:
        return None
    if not isinstance(value, str | int | float):
        table.wrong(key, "is not a length", f'write it like {key} = "{_example(table.unit)}"{remedy_end}')
        return None
    try:
        found = parse_length(value, table.unit)
    except LengthError as error:
        table.wrong(key, error.reason, f"{error.remedy}{remedy_end}")
        return None
    if found < least or found > most:
        lowest, highest = round_to(least, table.ruler, "up").text, round_to(most, table.ruler, "down").text
        reason = (
            "is less than nothing" if found < ZERO else f"is {'too short' if found < least else 'too long'}"
        )
        table.wrong(key, reason, f"write {lowest} to {highest}{remedy_end}")
        return None
    return found


def _example(unit: Unit) -> str:
    return "3 1/4" if unit == "in" else "8.5"


def read_number(table: Table, key: str, least: float, most: float, unit_words: str) -> float | None:
    """A finite number under a key, between two others; None when it is missing or wrong."""
    value = table.values.get(key)
    if value is None:
        return None
    wanted = f"write {least:.10g} to {most:.10g}{unit_words}"
    if isinstance(value, bool) or not isinstance(value, int | float):
        table.wrong(key, "is not a number", f"{wanted}, without quotes")
    elif isinstance(value, float) and not math.isfinite(value):
        table.wrong(key, "is not a finite number", wanted)
    elif not least <= value <= most:
        table.wrong(key, f"is too {'small' if value < least else 'large'}", wanted)
    else:
        return float(value)
    return None


def read_whole(table: Table, key: str) -> int | None:
    """A whole number under a key; None when it is missing or not one."""
    value = table.values.get(key)
    if value is None:
        return None
    if isinstance(value, bool) or not isinstance(value, int):
        table.wrong(key, "is not a whole number", f"write {key} = 1, without quotes")
        return None
    return value


def refuse_unknown_keys(table: Table, keys: tuple[Key, ...]) -> None:
    """As refuse_unknown and refuse_missing, for a table whose keys are listed."""
    refuse_unknown(table, key_names(keys))
    refuse_missing(table, keys)
