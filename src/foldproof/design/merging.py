"""Two versions of a project that were made from one, merged key by key; or what they say differently."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass
from typing import Any, Literal

from foldproof.design.sequences import merge_sequences
from foldproof.design.text_edits import (
    MISSING,
    MOST_ROWS,
    Path,
    edits_between,
    is_rows,
    row_keys,
    same,
    told_path,
    with_edits,
)
from foldproof.errors import InputError
from foldproof.project.problems import shown
from foldproof.project.syntax import parse_toml

# What plain numbers mean hangs on this key, so it goes with no change of another hand but to these.
UNIT = "unit"
WITHOUT_UNIT = ("name", "maker", "link", "extra", "teach")

Tables = dict[str, Any]
Whose = Literal["mine", "theirs"]


@dataclass(frozen=True, slots=True, kw_only=True)
class Clash:
    """A value that was changed in two ways: its path, and what each version has; None where it has nothing."""

    path: str
    base: str | None
    mine: str | None
    theirs: str | None


@dataclass(frozen=True, slots=True, kw_only=True)
class Merged:
    """A text with the changes of both, or every clash. With a clash ``text`` is that of theirs, untouched.

    ``notes_kept``: the notes and the layout of mine are in it too, not only those of theirs.
    """

    text: str
    clashes: tuple[Clash, ...] = ()
    notes_kept: bool = True


def merge(base: str, mine: str, theirs: str, choices: Mapping[str, Whose] | None = None) -> Merged:
    """What both made of ``base``, in one text. ``choices`` settle clashes, by the path they were told with.

    Values are merged one by one. A list of headings (a lid's layers) is merged row by row, any other list as a whole;
    a part that one took out and the other changed is one clash. Whether the values go with each other is for
    ``read_project`` to say. Raises InputError for a text that is not TOML.
    """
    tables = parse_toml(base), parse_toml(mine), parse_toml(theirs)
    if mine in (base, theirs):
        return Merged(text=theirs)
    if theirs == base:
        return Merged(text=mine)
    merging = _Merging(dict(choices or {}))
    merged = merging.table((), *tables)
    merging.unit(*tables, merged)
    if merging.clashes:
        return Merged(text=theirs, clashes=tuple(merging.clashes))
    lines = _by_lines(base, mine, theirs)
    if lines is not None and _says(lines, merged):
        return Merged(text=lines)
    try:
        text = with_edits(theirs, edits_between(tables[2], merged))
        if _says(text, merged):
            values_only = with_edits(base, edits_between(tables[0], tables[1])) == mine
            return Merged(text=text, notes_kept=values_only)
    except InputError:
        pass  # laid out in a way that cannot be edited: then a person has to
    return Merged(text=theirs, clashes=_all_of(tables))


class _Merging:
    """Merges tables and gathers the clashes on the way."""

    def __init__(self, choices: dict[str, Whose]) -> None:
        self.clashes: list[Clash] = []
        self._choices = choices

    def unit(self, base: Tables, mine: Tables, theirs: Tables, merged: Tables) -> None:
        """A clash when one changed the unit and the other, who meant the old one, a value."""
        units = [side.get(UNIT, MISSING) for side in (base, mine, theirs)]
        changed = [not same(unit, units[0]) for unit in units[1:]]
        other = theirs if changed[0] else mine
        if changed[0] == changed[1] or all(edit.path[0] in WITHOUT_UNIT for edit in edits_between(base, other)):
            return
        merged[UNIT] = self._clash((UNIT,), *units)
        if merged[UNIT] is MISSING:
            del merged[UNIT]

    def table(self, path: Path, base: Any, mine: Any, theirs: Any) -> dict[str, Any]:
        merged: dict[str, Any] = {}
        for key in dict.fromkeys([*theirs, *mine, *base]):
            value = self.value((*path, key), *(side.get(key, MISSING) for side in (base, mine, theirs)))
            if value is not MISSING:
                merged[key] = value
        return merged

    def value(self, path: Path, base: Any, mine: Any, theirs: Any) -> Any:
        if same(mine, theirs) or same(base, mine):
            return theirs
        if same(base, theirs):
            return mine
        sides = base, mine, theirs
        if isinstance(mine, dict) and isinstance(theirs, dict):
            return self.table(path, base if isinstance(base, dict) else {}, mine, theirs)
        if all(is_rows(side) and len(side) <= MOST_ROWS for side in sides):
            rows = self._rows(path, base, mine, theirs)
            if rows is not None:
                return rows
        return self._clash(path, base, mine, theirs)

    def _rows(self, path: Path, base: list[Any], mine: list[Any], theirs: list[Any]) -> list[Any] | None:
        taken = merge_sequences(*row_keys(base, mine, theirs))
        if not taken:
            return None  # a list of no rows at all is for a person to decide
        sides = {"base": base, "mine": mine, "theirs": theirs}
        return [
            self.table((*path, number), base[each.base], mine[each.place], theirs[each.theirs])
            if each.whose == "both"
            else sides[each.whose][each.place]
            for number, each in enumerate(taken)
        ]

    def _clash(self, path: Path, base: Any, mine: Any, theirs: Any) -> Any:
        """What was chosen, or theirs for the time being, with a clash."""
        told = told_path(path)
        if told not in self._choices:
            self.clashes.append(Clash(path=told, base=_told(base), mine=_told(mine), theirs=_told(theirs)))
        return mine if self._choices.get(told) == "mine" else theirs


def _by_lines(base: str, mine: str, theirs: str) -> str | None:
    """The lines of both, so that the notes of both stay; None when they changed the same lines."""
    sides = {"base": base.splitlines(True), "mine": mine.splitlines(True), "theirs": theirs.splitlines(True)}
    taken = merge_sequences(*sides.values())
    if taken is None or any(each.whose == "both" for each in taken):
        return None
    return "".join(sides[each.whose][each.place] for each in taken)


def _says(text: str, tables: Mapping[str, Any]) -> bool:
    try:
        return same(parse_toml(text), tables)
    except InputError:
        return False


def _all_of(tables: tuple[Tables, Tables, Tables]) -> tuple[Clash, ...]:
    """Every value that mine changed, to be made by hand in theirs."""
    base, mine, theirs = tables
    return tuple(
        Clash(
            path=told_path(edit.path),
            base=_told(edit.before),
            mine=_told(edit.after),
            theirs=_told(_at(theirs, edit.path)),
        )
        for edit in edits_between(base, mine)
    )


def _at(tables: Any, path: Path) -> Any:
    for step in path:
        try:
            tables = tables[step]
        except (LookupError, TypeError):
            return MISSING
    return tables


def _told(value: Any) -> str | None:
    """A value as a maker recognises it; None for nothing."""
    if value is MISSING:
        return None
    if isinstance(value, list) and not any(isinstance(each, dict | list) for each in value):
        return shown(", ".join(shown(each) for each in value))
    return shown(value)
