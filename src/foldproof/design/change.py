"""A project with one or more values changed, without going through its file."""

from __future__ import annotations

import dataclasses
from typing import Any

from foldproof.constructions.parameters import Value, values_of
from foldproof.errors import wrong
from foldproof.findings import Change
from foldproof.lengths import CM_HALF_MILLIMETRES, INCH_THIRTYSECONDS, LengthError, Ruler, parse_length
from foldproof.project.records import Part, Project
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
    if head == "cardstock":
        return dataclasses.replace(project, cardstock=_cardstock(project, rest, change))
    if change.path == "ruler" and change.value in FINER_RULERS:
        return dataclasses.replace(project, ruler=FINER_RULERS[change.value])
    raise wrong(change.path, change.value, "is not a value that can be changed", "change a value of a part")


def _part(project: Project, part: Part, name: str, change: Change) -> Part:
    value = next((v for v in values_of(part.construction.parameters) if v.name == name), None)
    if value is None:
        raise wrong(change.path, change.value, "the part has no such value", "check the name")
    setting = {name: _value(project, value, change)}
    tied = {name: other for name, other in part.tied_values if name not in setting}
    setting |= {one: setting[other] for one, other in tied.items() if other in setting}
    return dataclasses.replace(
        part,
        values=dataclasses.replace(part.values, **setting),
        tied_values=tuple(tied.items()),
        open_values=tuple(n for n in part.open_values if n not in setting),
    )


def _value(project: Project, value: Value, change: Change) -> Any:  # a Length or one of the choices
    if change.value in value.choices:
        return change.value
    found = parse_length(change.value, project.unit)
    if (value.least and found < value.least) or (value.most and found > value.most):
        raise wrong(change.path, change.value, "is out of range", "choose a value in the range of its help")
    return found


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
