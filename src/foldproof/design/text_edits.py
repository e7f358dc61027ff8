"""The differences of two project files as single edits, and a file's text with edits made: its notes stay."""

from __future__ import annotations

import math
from collections.abc import Iterator, Mapping
from dataclasses import dataclass
from enum import Enum
from typing import Any, TypeGuard

import tomlkit
from tomlkit.exceptions import TOMLKitError

from foldproof.design.sequences import hunks
from foldproof.errors import wrong
from foldproof.project.problems import field_path
from foldproof.project.syntax import parse_toml

MOST_ROWS = 200  # of a list of headings that is compared row by row; a lid has forty layers at most


class Missing(Enum):
    """What stands where a file has nothing."""

    MISSING = "missing"


MISSING = Missing.MISSING

Path = tuple[str | int, ...]  # keys, and places from 0 in lists of headings


@dataclass(frozen=True, slots=True, kw_only=True)
class Edit:
    """The value at ``path`` before and after: as the file's reader gives values, or MISSING.

    A row that is new or gone in a list of headings has its place at the end of the path. Edits are made in order,
    so a place counts what the edits before it did.
    """

    path: Path
    before: Any
    after: Any


def told_path(path: Path) -> str:
    """A path as a maker writes it, rows counted from 1: ``parts.lid.layers.2.across``."""
    return field_path(*(str(step + 1) if isinstance(step, int) else step for step in path))


def same(one: Any, other: Any) -> bool:
    """Whether two values of files are the same: 1, 1.0 and true are not; the order of keys does not matter."""
    if isinstance(one, Mapping) and isinstance(other, Mapping):
        return one.keys() == other.keys() and all(same(one[key], other[key]) for key in one)
    if isinstance(one, list) and isinstance(other, list):
        return len(one) == len(other) and all(map(same, one, other))
    if isinstance(one, float) and isinstance(other, float) and math.isnan(one):
        return math.isnan(other)
    return type(one) is type(other) and bool(one == other)


def is_rows(value: Any) -> TypeGuard[list[dict[str, Any]]]:
    """Whether it is a list of headings, such as a lid's layers."""
    return isinstance(value, list) and bool(value) and all(isinstance(row, dict) for row in value)


def row_keys(*lists: list[Any]) -> tuple[tuple[int, ...], ...]:
    """A number for each row of some lists, equal for rows that are the same, so that lists can be compared."""
    seen: list[Any] = []

    def number(row: Any) -> int:
        for place, other in enumerate(seen):
            if same(row, other):
                return place
        seen.append(row)
        return len(seen) - 1

    return tuple(tuple(number(row) for row in rows) for rows in lists)


def edits_between(before: Mapping[str, Any], after: Mapping[str, Any]) -> tuple[Edit, ...]:
    """What turns one file's tables into the other's. A heading that is new or gone is told key by key."""
    return tuple(_in_table((), before, after))


def _in_table(path: Path, before: Mapping[str, Any], after: Mapping[str, Any]) -> Iterator[Edit]:
    for key in [*before, *(key for key in after if key not in before)]:
        yield from _in_value((*path, key), before.get(key, MISSING), after.get(key, MISSING))


def _in_value(path: Path, before: Any, after: Any) -> Iterator[Edit]:
    if same(before, after):
        return
    if isinstance(before, dict) and isinstance(after, dict):
        yield from _in_table(path, before, after)
    elif isinstance(before, dict) and after is MISSING and before:
        yield from _in_table(path, before, {})
        yield Edit(path=path, before={}, after=MISSING)
    elif before is MISSING and isinstance(after, dict) and after:
        yield from _in_table(path, {}, after)
    elif is_rows(before) and is_rows(after) and max(len(before), len(after)) <= MOST_ROWS:
        yield from _in_rows(path, before, after)
    else:
        yield Edit(path=path, before=before, after=after)


def _in_rows(path: Path, before: list[Any], after: list[Any]) -> Iterator[Edit]:
    found = hunks(*row_keys(before, after))
    assert found is not None, "so few rows are always compared"
    shift = 0
    for hunk in found:
        if hunk.end - hunk.start == hunk.new_end - hunk.new_start == 1:
            yield from _in_table((*path, hunk.new_start), before[hunk.start], after[hunk.new_start])
            continue
        for row in before[hunk.start : hunk.end]:
            yield Edit(path=(*path, hunk.start + shift), before=row, after=MISSING)
        for place in range(hunk.new_start, hunk.new_end):
            yield Edit(path=(*path, place), before=MISSING, after=after[place])
        shift += (hunk.new_end - hunk.new_start) - (hunk.end - hunk.start)


# --- Making edits -------------------------------------------------------------------------------------------


def with_edits(text: str, edits: tuple[Edit, ...]) -> str:
    """The file with edits made one after the other; its notes and its layout stay.

    Raises InputError for a text that is not TOML, and for an edit that cannot be made in this file.
    """
    parse_toml(text)
    at = ""
    try:
        document = tomlkit.parse(text.removeprefix("\ufeff"))
        for edit in edits:
            at = told_path(edit.path)
            _make(document, edit)
        changed: str = tomlkit.dumps(document)
    except (TOMLKitError, LookupError, TypeError, AttributeError) as error:
        raise wrong(at, "", "cannot be set in this file", "change the file by hand") from error
    return changed


def _make(document: Any, edit: Edit) -> None:
    *steps, last = edit.path
    where: Any = document
    for number, step in enumerate(steps):
        following = edit.path[number + 1]
        if isinstance(step, str) and step not in where and isinstance(following, str):
            where[step] = tomlkit.table(is_super_table=number + 1 < len(steps))
        where = where[step]
    if edit.after is MISSING:
        del where[last]
    elif isinstance(last, int) and edit.before is MISSING:
        where.insert(last, _as_heading(edit.after))
    else:
        where[last] = _as_item(edit.after)


def _as_heading(row: Mapping[str, Any]) -> Any:
    table = tomlkit.table()
    for key, value in row.items():
        table[key] = _as_item(value)
    return table


def _as_item(value: Any) -> Any:
    if isinstance(value, dict):
        return _as_heading(value)
    if is_rows(value):
        rows = tomlkit.aot()
        for row in value:
            rows.append(_as_heading(row))
        return rows
    return value
