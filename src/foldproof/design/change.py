"""A project with one or more values changed, without going through its file."""

from __future__ import annotations

import dataclasses
from typing import Any

from foldproof.constructions.alternative_lid import with_shares
from foldproof.constructions.parameters import Value, values_of
from foldproof.errors import wrong
from foldproof.findings import Change
from foldproof.lengths import CM_HALF_MILLIMETRES, INCH_THIRTYSECONDS, LengthError, Ruler, parse_length
from foldproof.project.read_values import MOST_TEXT_CHARACTERS, number_in, weight_text, what_works
from foldproof.project.records import Alternative, Part, Project
from foldproof.project.table import colour
from foldproof.stock.errors import StockError
from foldproof.stock.paper import estimate_thickness, read_weight
from foldproof.stock.sheets import read_sheet

FINER_RULERS: dict[str, Ruler] = {"1/32": INCH_THIRTYSECONDS, "0.5 mm": CM_HALF_MILLIMETRES}


def changed(project: Project, changes: tuple[Change, ...]) -> Project:
    """The project with the changes made. Raises InputError for a path or value that cannot be."""
    for change in changes:
        try:
            project = _one(project, change)
        except (LengthError, StockError) as error:
            raise wrong(change.path, change.value, error.reason, error.remedy) from error
    return project


def _one(project: Project, change: Change) -> Project:
    head, _, rest = change.path.partition(".")
    if head == "parts":
        name, _, value_name = rest.partition(".")
        parts = tuple(_part(project, part, value_name, change) if part.name == name else part for part in project.parts)
        return dataclasses.replace(project, parts=parts)
    if head == "alternatives":
        name, _, value_name = rest.partition(".")
        return dataclasses.replace(
            project,
            alternatives=tuple(
                _alternative(project, each, value_name, change) if each.name == name else each
                for each in project.alternatives
            ),
        )
    if head == "cardstock":
        return dataclasses.replace(project, cardstock=_cardstock(project, rest, change))
    if change.path == "ruler" and change.value in FINER_RULERS:
        return dataclasses.replace(project, ruler=FINER_RULERS[change.value])
    raise wrong(change.path, change.value, "is not a value that can be changed", "change a value of a part")


def _part(project: Project, part: Part, name: str, change: Change) -> Part:
    """The part with one value set: by its name, or in a list by a path such as ``layers.2.across``."""
    name, _, row_path = name.partition(".")
    value = _named(part.construction.parameters, name, change)
    rows = getattr(part.values, name)
    setting = {name: _rows(project, value, rows, row_path, change) if row_path else _value(project, value, change)}
    tied = {name: other for name, other in part.tied_values if name not in setting}
    setting |= {one: setting[other] for one, other in tied.items() if other in setting}
    return dataclasses.replace(
        part,
        values=dataclasses.replace(part.values, **setting),
        tied_values=tuple(tied.items()),
        open_values=tuple(n for n in part.open_values if n not in setting),
    )


def _alternative(project: Project, alternative: Alternative, name: str, change: Change) -> Alternative:
    """The alternative with one value set; layers that keep their share of the lid's go on keeping it."""
    part = _part(project, alternative.part, name, change)
    keeps = alternative.keeps_shares and not name.startswith("layers")
    if keeps:
        main = next(each for each in project.parts if each.name == alternative.of)
        part = dataclasses.replace(part, values=with_shares(part.values, main.values, project.ruler))
    return dataclasses.replace(alternative, part=part, keeps_shares=keeps)


def _rows(project: Project, value: Value, rows: Any, path: str, change: Change) -> tuple[Any, ...]:
    """The records of a list with one value of one of them set; ``path`` is its number, from 1, and a name."""
    number, _, name = path.partition(".")
    if value.kind != "list" or value.record is None:
        raise wrong(change.path, change.value, "is a value with nothing under it", "name the value itself")
    numbers = [str(place) for place in range(1, len(rows) + 1)]
    if number not in numbers:
        raise wrong(change.path, change.value, "there is no such number in this list", f"write 1 to {len(rows)}")
    place = numbers.index(number)
    setting = {name: _value(project, _named(value.record, name, change), change)}
    return (*rows[:place], dataclasses.replace(rows[place], **setting), *rows[place + 1 :])


def _named(parameters: type, name: str, change: Change) -> Value:
    value = next((value for value in values_of(parameters) if value.name == name), None)
    if value is None:
        raise wrong(change.path, change.value, "the part has no such value", "check the name")
    return value


def _value(project: Project, value: Value, change: Change) -> Any:  # what the value's kind holds
    if change.value in value.choices:
        return change.value
    match value.kind:
        case "count" | "angle":
            return _number(value, change)
        case "text" if value.form == "colour":
            return colour(change.value)
        case "text" if value.form == "weight":
            return weight_text(change.value)
        case "text" if 0 < len(change.value.strip()) <= MOST_TEXT_CHARACTERS and change.value.isprintable():
            return change.value.strip()
        case "length" | "length_or_choice":
            found = parse_length(change.value, project.unit)
            if (value.least and found < value.least) or (value.most and found > value.most):
                raise wrong(change.path, change.value, "is out of range", "choose a value in the range of its help")
            return found
    raise wrong(
        change.path,
        change.value,
        "is not a value that can be changed so",
        f"write {what_works(value, project.unit, project.ruler) or 'it in the file'}",
    )


def _number(value: Value, change: Change) -> int | float:
    """A count as a whole number, or an angle in degrees."""
    assert value.fewest is not None and value.top is not None, "a count and an angle have a range"
    found = number_in(change.value)
    whole = isinstance(found, int)
    if found is None or (value.kind == "count" and not whole) or not value.fewest <= found <= value.top:
        wanted = f"write {value.fewest:g} to {value.top:g}"
        raise wrong(change.path, change.value, "is no number in its range", wanted)
    return found if value.kind == "count" else float(found)


def _cardstock(project: Project, name: str, change: Change) -> Any:  # a Cardstock
    card = project.cardstock
    if name == "sheet":
        return dataclasses.replace(card, sheet=read_sheet(change.value, project.unit))
    if name == "weight":
        weight = read_weight(change.value)
        thickness = estimate_thickness(weight.gsm) if card.thickness.how == "estimated" else card.thickness
        return dataclasses.replace(card, weight=weight, thickness=thickness)
    if name == "printed" and change.value == "both sides":
        return dataclasses.replace(card, printed="both sides")
    raise wrong(change.path, change.value, "is not a value that can be changed", "change the cardstock by hand")
