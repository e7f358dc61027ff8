"""What changed between two versions of a project, value by value, in a maker's words."""

from __future__ import annotations

import dataclasses
from collections.abc import Iterator, Sequence
from dataclasses import dataclass
from typing import Any, Literal

from foldproof.constructions.parameters import Open, Value, values_of
from foldproof.design.sequences import hunks
from foldproof.design.text_edits import MISSING, edits_between, told_path
from foldproof.errors import InputError
from foldproof.lengths import MM, ZERO, Length, Ruler, round_to
from foldproof.outlines.own import OwnShape
from foldproof.project.problems import shown
from foldproof.project.read import read_project
from foldproof.project.records import Part, Project
from foldproof.project.syntax import parse_toml
from foldproof.stock.board import Board
from foldproof.stock.paper import Thickness, Weight
from foldproof.stock.sheets import SheetSize
from foldproof.teach import wording_history as wording
from foldproof.words.lengths import plain_number

MOST_TOLD = 12  # changes in one line of a history; a maker reads the first few
SHOWN_PLACES = 2  # of a millimetre, for lengths that fall on no mark of the ruler
SETTING_PLACES = 6
FOLLOWS = ("other_ruler", "format")  # these follow from what a maker changes
LIMITS = ("folding", "checks")
# Fields that have another name in the file.
IN_FILE = {"cardstock.rgb": "cardstock.fill", "papers.upright": "papers.print_direction", "board": "board.stops"}

Kind = Literal["changed", "added", "taken out"]


@dataclass(frozen=True, slots=True, kw_only=True)
class ValueChange:
    """One value before and after, in words; None where there is none, or nothing short to show of it.

    ``path`` is the value's place in the project file, ``label`` what a maker calls it, ``help`` what it is for.
    """

    kind: Kind
    path: str
    label: str
    before: str | None = None
    after: str | None = None
    help: str = ""


@dataclass(frozen=True, slots=True, kw_only=True)
class _Side:
    """A value of one of the two projects, the ruler of that project, and the value it is the same as, if any."""

    value: Any
    ruler: Ruler
    tied: str = ""

    def at(self, name: str) -> _Side:
        """The value of a field."""
        return _Side(value=getattr(self.value, name), ruler=self.ruler)

    def row(self, place: int) -> _Side:
        """A record of a list."""
        return _Side(value=self.value[place], ruler=self.ruler)


def changes_between(before: Project, after: Project) -> tuple[ValueChange, ...]:
    """Every value that differs, in the order of the records. Two spellings of one value do not differ."""
    found: list[ValueChange] = []
    several = max(len(before.parts), len(after.parts)) > 1
    for field in dataclasses.fields(Project):
        old, new = (_Side(value=project, ruler=project.ruler).at(field.name) for project in (before, after))
        if old.value == new.value or field.name in FOLLOWS:
            continue
        if field.name == "parts":
            found += _parts(old, new, several)
        elif field.name == "alternatives":
            found += _alternatives(old, new)
        elif field.name == "shapes":
            found += _shapes(old, new)
        elif field.name in LIMITS:
            found += _limits(old, new)
        elif field.name == "extra":
            found.append(ValueChange(kind="changed", path="extra", label=_label("extra")))
        else:
            found += _record(field.name, _label(field.name), old, new)
    return tuple(found)


def changes_between_texts(before: str, after: str) -> tuple[ValueChange, ...]:
    """As changes_between, for the texts of two files. A file this program cannot read is compared as it is written.

    Raises InputError for a text that is not TOML.
    """
    try:
        return changes_between(read_project(before), read_project(after))
    except InputError:
        return tuple(
            _written(told_path(edit.path), edit.before, edit.after)
            for edit in edits_between(parse_toml(before), parse_toml(after))
        )


def _written(path: str, before: Any, after: Any) -> ValueChange:
    told = [None if each is MISSING else shown(each) for each in (before, after)]
    return ValueChange(
        kind="added" if before is MISSING else "taken out" if after is MISSING else "changed",
        path=path,
        label=path.replace("_", " "),
        before=told[0],
        after=told[1],
    )


def change_line(change: ValueChange) -> str:
    """One change in words: 'wall height 2 1/4 in → 2 1/2 in'."""
    if change.kind == "added":
        template = wording.ADDED if change.after is None else wording.ADDED_AS
    elif change.kind == "taken out":
        template = wording.TAKEN_OUT
    else:
        template = wording.ALTERED if change.before == change.after else wording.CHANGED
    return template.format(label=change.label, before=change.before, after=change.after)


def change_lines(changes: tuple[ValueChange, ...]) -> tuple[str, ...]:
    """The changes as they stand in a history: the first dozen, and how many more. With none only notes changed."""
    if not changes:
        return (wording.NOTES,)
    lines = tuple(change_line(change) for change in changes[:MOST_TOLD])
    more = len(changes) - len(lines)
    return (*lines, wording.AND_MORE.format(count=more)) if more else lines


# --- Parts --------------------------------------------------------------------------------------------------


def _parts(before: _Side, after: _Side, several: bool) -> Iterator[ValueChange]:
    old: dict[str, Part] = {part.name: part for part in before.value}
    new: dict[str, Part] = {part.name: part for part in after.value}
    for name in dict.fromkeys([*old, *new]):
        path = told_path(("parts", name))
        if name in old and name in new:
            sides = _Side(value=old[name], ruler=before.ruler), _Side(value=new[name], ruler=after.ruler)
            yield from _part(path, wording.PART.format(part=name) if several else "", *sides)
        else:
            yield ValueChange(kind="added" if name in new else "taken out", path=path, label=name)


def _alternatives(before: _Side, after: _Side) -> Iterator[ValueChange]:
    old = {each.name: each for each in before.value}
    new = {each.name: each for each in after.value}
    for name in dict.fromkeys([*old, *new]):
        path = told_path(("alternatives", name))
        if name not in old or name not in new:
            yield ValueChange(kind="added" if name in new else "taken out", path=path, label=name)
            continue
        prefix = wording.PART.format(part=name)
        if old[name].of != new[name].of:
            label = f"{prefix}{_label('of')}"
            yield ValueChange(kind="changed", path=f"{path}.of", label=label, before=old[name].of, after=new[name].of)
        sides = (_Side(value=side[name].part, ruler=at.ruler) for side, at in ((old, before), (new, after)))
        yield from _part(path, prefix, *sides)


def _part(path: str, prefix: str, old: _Side, new: _Side) -> Iterator[ValueChange]:
    """What changed in a part. Values that only one of two constructions has are not told one by one."""
    names = old.value.construction.name, new.value.construction.name
    if names[0] != names[1]:
        label = f"{prefix}{_label('construction')}"
        yield ValueChange(kind="changed", path=f"{path}.construction", label=label, before=names[0], after=names[1])
    had = {value.name for value in values_of(old.value.construction.parameters)}
    for value in values_of(new.value.construction.parameters):
        if value.name in had:
            sides = _part_side(old, value.name), _part_side(new, value.name)
            yield from _value(f"{path}.{value.name}", f"{prefix}{_label(value.name)}", value, *sides)


def _part_side(part: _Side, name: str) -> _Side:
    tied = dict(part.value.tied_values).get(name, "")
    return _Side(value=getattr(part.value.values, name), ruler=part.ruler, tied=tied)


def _value(path: str, label: str, value: Value, old: _Side, new: _Side) -> Iterator[ValueChange]:
    """A value of a construction, or of a row of one of its lists."""
    if value.kind == "list" and value.record is not None:
        yield from _rows(path, label, value.record, old, new)
    elif old.tied == new.tied != "" or _is_same_shape(old.value, new.value):
        return  # it follows from what is told elsewhere
    elif old.value != new.value or old.tied != new.tied:
        yield _changed(path, label, _as_chosen(old, value), _as_chosen(new, value), value.help)


def _as_chosen(side: _Side, value: Value) -> _Side:
    """A choice that names another value, without the underscores of a name."""
    chosen = isinstance(side.value, str) and side.value in value.choices
    return dataclasses.replace(side, value=side.value.replace("_", " ")) if chosen else side


def _is_same_shape(old: Any, new: Any) -> bool:
    """One shape of the maker's own; what changed about it is told under its own name."""
    return isinstance(old, OwnShape) and isinstance(new, OwnShape) and old.name == new.name


def _rows(path: str, label: str, record: type, old: _Side, new: _Side) -> Iterator[ValueChange]:
    """Rows of a list that came, went, or have other values. One that went has the number it had."""
    found = hunks(*_row_numbers(old.value, new.value))
    assert found is not None, "a part's lists are short"
    for hunk in found:
        if hunk.end - hunk.start == hunk.new_end - hunk.new_start == 1:
            number = hunk.new_start + 1
            row, new_row = old.row(hunk.start), new.row(hunk.new_start)
            for value in values_of(record):
                told = wording.ROW_VALUE.format(row=label, number=number, label=_label(value.name))
                sides = row.at(value.name), new_row.at(value.name)
                yield from _value(f"{path}.{number}.{value.name}", told, value, *sides)
        else:
            yield from _row_came_or_went(path, label, "taken out", range(hunk.start, hunk.end))
            yield from _row_came_or_went(path, label, "added", range(hunk.new_start, hunk.new_end))


def _row_came_or_went(path: str, label: str, kind: Kind, places: range) -> Iterator[ValueChange]:
    for number in (place + 1 for place in places):
        yield ValueChange(kind=kind, path=f"{path}.{number}", label=wording.ROW.format(row=label, number=number))


def _row_numbers(*lists: Sequence[Any]) -> tuple[tuple[int, ...], ...]:
    """A number for each row, equal for equal rows."""
    seen = [row for rows in lists for row in rows]
    return tuple(tuple(seen.index(row) for row in rows) for rows in lists)


# --- Shapes, limits, and all other records ------------------------------------------------------------------


def _shapes(before: _Side, after: _Side) -> Iterator[ValueChange]:
    old: dict[str, OwnShape] = {shape.name: shape for shape in before.value}
    new: dict[str, OwnShape] = {shape.name: shape for shape in after.value}
    for name in dict.fromkeys([*old, *new]):
        path, label = told_path(("shapes", name)), wording.SHAPE.format(name=name)
        if name not in old or name not in new:
            yield ValueChange(kind="added" if name in new else "taken out", path=path, label=label)
            continue
        sides = _Side(value=old[name], ruler=before.ruler), _Side(value=new[name], ruler=after.ruler)
        for field, key in wording.SHAPE_FIELDS.items():
            one, other = sides[0].at(field), sides[1].at(field)
            if one.value != other.value:
                yield _changed(f"{path}.{key}", f"{label} {_label(key)}", one, other)


def _limits(old: _Side, new: _Side) -> Iterator[ValueChange]:
    for field in dataclasses.fields(new.value):
        figures = getattr(old.value, field.name), getattr(new.value, field.name)
        if figures[0] != figures[1]:
            unit, help_text = field.metadata["unit"], field.metadata["help"]
            before, after = (f"{plain_number(figure, SETTING_PLACES)} {unit}".strip() for figure in figures)
            path = f"settings.{field.name}"
            yield ValueChange(kind="changed", path=path, label=help_text, before=before, after=after, help=help_text)


def _record(path: str, label: str, old: _Side, new: _Side) -> Iterator[ValueChange]:
    """The fields of a record that differ; a record that came or went, or any other value, as one."""
    if old.value is None or new.value is None or _in_words(new) is not None:
        yield _changed(IN_FILE.get(path, path), label, old, new)
        return
    for field in dataclasses.fields(new.value):
        sides = old.at(field.name), new.at(field.name)
        if sides[0].value != sides[1].value and not all(_is_estimate(side.value) for side in sides):
            key = f"{path}.{field.name}"
            yield from _record(key, wording.LABELS.get(key, f"{label} {_label(field.name)}"), *sides)


def _is_estimate(value: Any) -> bool:
    """A thickness that follows from the weight, which is told."""
    return isinstance(value, Thickness) and value.how == "estimated"


def _label(name: str) -> str:
    return wording.LABELS.get(name, name.replace("_", " "))


def _changed(path: str, label: str, old: _Side, new: _Side, help_text: str = "") -> ValueChange:
    before, after = _in_words(old), _in_words(new)
    if before == after and isinstance(old.value, Length) and isinstance(new.value, Length):
        before, after = _in_mm(old.value), _in_mm(new.value)
    kind: Kind = "added" if old.value is None else "taken out" if new.value is None else "changed"
    return ValueChange(kind=kind, path=path, label=label, before=before, after=after, help=help_text)


# --- Values in words ----------------------------------------------------------------------------------------


def _in_words(side: _Side) -> str | None:
    """A value in words; None for none, and for a record that is told field by field."""
    value = side.value
    if side.tied:
        return wording.TIED.format(other=_label(side.tied))
    match value:
        case bool():
            return wording.YES_NO[value]
        case int() | float():
            return plain_number(value, SETTING_PLACES)
        case str():
            return value
        case Length():
            rounded = round_to(value, side.ruler)
            return rounded.text if rounded.error == ZERO else _in_mm(value)
        case Open():
            return wording.WORKED_OUT
        case OwnShape() | SheetSize() | Board():
            return value.name
        case Weight():
            return value.text
        case Thickness():
            return wording.MILLIMETRES.format(mm=plain_number(value.mm, SETTING_PLACES))
        case Ruler():
            return round_to(value.step_length, value).text
        case tuple():
            if any(isinstance(each, tuple) for each in value):
                return wording.POINTS.format(count=len(value))
            return ", ".join(_in_words(_Side(value=each, ruler=side.ruler)) or "" for each in value)
    return None


def _in_mm(value: Length) -> str:
    exact = round_to(value, MM)
    return (
        exact.text if exact.error == ZERO else wording.MILLIMETRES.format(mm=plain_number(value.float_mm, SHOWN_PLACES))
    )
