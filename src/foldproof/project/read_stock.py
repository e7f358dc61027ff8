"""Reads what the maker works with: the cardstock and the scoring board."""

from __future__ import annotations

from typing import cast

from foldproof.project.keys import BOARD_KEYS, CARDSTOCK_KEYS, Key, usual_text
from foldproof.project.table import Table, colour, read_by, read_choice, read_name, refuse_unknown_keys
from foldproof.stock.board import MOST_STOPS, NO_BOARD, Board, read_board
from foldproof.stock.errors import StockError, stock_length
from foldproof.stock.paper import (
    Cardstock,
    Core,
    Grain,
    PrintDirection,
    Printed,
    Thickness,
    Weight,
    estimate_thickness,
    read_thickness,
    read_weight,
)
from foldproof.stock.sheets import SheetSize, read_sheet

_KEYS: dict[str, Key] = {key.name: key for key in CARDSTOCK_KEYS}


def read_the_cardstock(table: Table) -> Cardstock | None:
    """The cardstock; None when its sheet, or both weight and thickness, are missing or wrong."""
    refuse_unknown_keys(table, CARDSTOCK_KEYS)
    sheet, measured = _read_size(table, "sheet"), _read_size(table, "measured")
    weight = read_by(table, "weight", _weight, None, numbers=True)
    thickness = read_by(table, "thickness", lambda text: _thickness(text, table), None, numbers=True)
    if "weight" not in table.values and "thickness" not in table.values:
        table.wrong("weight", "is missing, and so is the thickness", 'write one of them: weight = "216 gsm"')
    if thickness is None and weight is not None:
        thickness = estimate_thickness(weight.gsm)
    name = read_name(table, "name", _usual("name", table))
    rgb = read_by(table, "fill", colour, _usual("fill", table))
    core, printed, grain, print_direction = (
        read_choice(table, key, _KEYS[key].choices, _usual(key, table))
        for key in ("core", "printed", "grain", "print_direction")
    )
    if sheet is None or thickness is None:
        return None
    return Cardstock(
        name=name,
        sheet=sheet,
        measured=measured,
        weight=weight,
        thickness=thickness,
        core=cast(Core, core),
        printed=cast(Printed, printed),
        grain=cast(Grain, grain),
        print_direction=cast(PrintDirection, print_direction),
        rgb=rgb,
    )


def _usual(key: str, table: Table) -> str:
    return usual_text(_KEYS[key], table.unit)


def _read_size(table: Table, key: str) -> SheetSize | None:
    return read_by(table, key, lambda text: _sheet(text, table), None)


def _sheet(text: str, table: Table) -> SheetSize | None:
    return read_sheet(text, table.unit)


def _weight(text: str) -> Weight | None:
    return read_weight(text)


def _thickness(text: str, table: Table) -> Thickness | None:
    return read_thickness(text, table.unit)


def read_the_board(table: Table) -> Board:
    """The scoring board: by name, from its list of grooves, or the usual one of the unit."""
    refuse_unknown_keys(table, BOARD_KEYS)
    stops = table.values.get("stops", usual_text(BOARD_KEYS[0], table.unit))
    before = len(table.problems)
    if isinstance(stops, list) and len(stops) <= MOST_STOPS:
        for place, stop in enumerate(stops, start=1):
            _check_stop(table, place, stop)
    elif not isinstance(stops, str | list):
        table.wrong(
            "stops", "is neither a name nor a list", 'write stops = "inch eighths", or stops = [1, 2, 3]'
        )
    if len(table.problems) > before:
        return NO_BOARD
    try:
        return read_board(stops, table.unit)
    except StockError as error:
        table.wrong("stops", error.reason, error.remedy)
        return NO_BOARD


def _check_stop(table: Table, place: int, stop: object) -> None:
    """A problem for a groove that is no length, with its place in the list."""
    field = f"{table.field('stops')}, number {place}"
    if not isinstance(stop, str | int | float):
        table.problems.add(field, stop, "is not a length", "write each groove's distance from the edge")
        return
    try:
        stock_length(stop, table.unit)
    except StockError as error:
        table.problems.add(field, stop, error.reason, error.remedy)
