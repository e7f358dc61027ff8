"""Reads what papers are glued on the sides that show."""

from __future__ import annotations

from foldproof.lengths import ZERO, Length, parse_length
from foldproof.project.keys import MOST_BORDER, PAPERS_KEYS, PAPERS_SIDES, Key, usual_text
from foldproof.project.problems import in_short
from foldproof.project.records import Papers
from foldproof.project.table import (
    Table,
    as_choice,
    read_by,
    read_choice,
    read_length,
    read_name,
    refuse_unknown_keys,
)
from foldproof.stock.errors import nearest_names
from foldproof.stock.paper import Cardstock
from foldproof.stock.sheets import SheetSize, read_sheet

_KEYS: dict[str, Key] = {key.name: key for key in PAPERS_KEYS}


def read_papers(table: Table, cardstock: Cardstock | None) -> Papers | None:
    """The papers; None when there is no sheet to cut them from, which is a problem told elsewhere.

    Stock is told by its name: papers that are named as the cardstock must come in its size.
    """
    refuse_unknown_keys(table, PAPERS_KEYS)
    border = read_length(table, "border", ZERO, parse_length(MOST_BORDER, "mm"))
    name = read_name(table, "name", _usual("name", table))
    sheet = cardstock.usable_sheet if cardstock is not None else None
    if "sheet" in table.values:
        sheet = read_by(table, "sheet", lambda text: _sheet(text, table), sheet)
    if cardstock is not None and name == cardstock.name and sheet not in (None, cardstock.usable_sheet):
        table.wrong("name", "is the cardstock's name, which comes in another size", "write another name")
    direction = read_choice(table, "print_direction", _KEYS["print_direction"].choices, "none")
    sides = _read_sides(table)
    if sheet is None:
        return None
    return Papers(
        name=name,
        sheet=sheet,
        sides=sides,
        border=border if isinstance(border, Length) else parse_length(_usual("border", table), table.unit),
        upright=direction == "upright",
    )


def _usual(key: str, table: Table) -> str:
    return usual_text(_KEYS[key], table.unit)


def _sheet(text: str, table: Table) -> SheetSize | None:
    return read_sheet(text, table.unit)


def _read_sides(table: Table) -> tuple[str, ...]:
    """The sides in their own order, each once; they are written as a list, or in one text with commas."""
    written = table.values.get("sides", list(PAPERS_SIDES))
    example = f'write sides = ["{PAPERS_SIDES[0]}"]'
    if isinstance(written, str):
        written = written.split(",")
    if not isinstance(written, list) or not all(isinstance(each, str) for each in written):
        table.wrong("sides", "is not a list of sides", example)
        return ()
    if not any(each.strip() for each in written):
        table.wrong("sides", "names no side", f"{example}, or take [papers] away")
    found = []
    for each in written:
        side = as_choice(each, PAPERS_SIDES)
        if side is not None:
            found.append(side)
        elif each.strip():
            field = table.field("sides")
            table.problems.add(
                field, in_short(each), "is no side", f"write {nearest_names(in_short(each), PAPERS_SIDES)}"
            )
    return tuple(side for side in PAPERS_SIDES if side in found)
