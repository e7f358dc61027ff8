"""Sheet sizes by name, and as people write them."""

from __future__ import annotations

import re
from dataclasses import dataclass
from typing import Literal

from foldproof.lengths import (
    CM_HALF_MILLIMETRES,
    INCH_THIRTYSECONDS,
    MM,
    Length,
    Ruler,
    Unit,
    about,
    length,
)
from foldproof.stock.errors import StockError, nearest_names, plain_name, stock_length, stock_unit

SheetSource = Literal["ISO 216", "ANSI/ASME Y14.1", "craft sheet"]

LEAST_SIDE = length(20, "mm")  # smaller than any piece that can be scored and folded by hand
MOST_SIDE = length(2000, "mm")  # longer than any sheet or roll cut for this work

_EXACT_RULERS: dict[Unit, Ruler] = {"in": INCH_THIRTYSECONDS, "cm": CM_HALF_MILLIMETRES, "mm": MM}


@dataclass(frozen=True, slots=True, kw_only=True)
class SheetSize:
    """A sheet as it lies in front of the maker: ``width`` left to right, ``height`` away from the maker.

    Raises StockError when a side is under 20 mm or over 2 m.
    """

    name: str
    width: Length
    height: Length

    def __post_init__(self) -> None:
        for side, what in ((self.width, "width"), (self.height, "height")):
            if not LEAST_SIDE <= side <= MOST_SIDE:
                raise StockError(
                    f"the {what} of {self.name} is {'over 2 m' if side > MOST_SIDE else 'under 20 mm'}",
                    "write a sheet between 20 mm and 2 m on each side, and check the unit",
                )


@dataclass(frozen=True, slots=True, kw_only=True)
class NamedSheet:
    """A sheet known by name, the other ways its name is written, and where the size comes from."""

    size: SheetSize
    source: SheetSource
    also_called: tuple[str, ...] = ()


def _named(
    name: str, width: int | str, height: int | str, unit: Unit, source: SheetSource, *also_called: str
) -> NamedSheet:
    size = SheetSize(name=name, width=length(width, unit), height=length(height, unit))
    return NamedSheet(size=size, source=source, also_called=also_called)


# Standard sizes stand upright. Craft sheets are named by their sides; "12x12" names the 12 in sheet in metric
# countries too. Other bare sizes, such as 6x6, are read in the project's unit: 6 x 6 cm stays possible.
NAMED_SHEETS: tuple[NamedSheet, ...] = (
    _named("A3", 297, 420, "mm", "ISO 216"),
    _named("A4", 210, 297, "mm", "ISO 216"),
    _named("A5", 148, 210, "mm", "ISO 216"),
    _named("A6", 105, 148, "mm", "ISO 216"),
    _named("B4", 250, 353, "mm", "ISO 216"),
    _named("B5", 176, 250, "mm", "ISO 216"),
    _named("Letter", "8.5", 11, "in", "ANSI/ASME Y14.1", "us letter"),
    _named("Legal", "8.5", 14, "in", "ANSI/ASME Y14.1", "us legal"),
    _named("Tabloid", 11, 17, "in", "ANSI/ASME Y14.1", "us tabloid"),
    _named("12x12", 12, 12, "in", "craft sheet", "12 in", "12x12 in"),
    _named("8x8 in", 8, 8, "in", "craft sheet"),
    _named("6x6 in", 6, 6, "in", "craft sheet"),
    _named("8.5x11 in", "8.5", 11, "in", "craft sheet"),
    _named("30 cm", 30, 30, "cm", "craft sheet", "30x30 cm"),
)


def read_sheet(text: str, unit: Unit) -> SheetSize:
    """A sheet by name ('A4', '12x12', '30 cm') or as typed ('12 x 12 in', '21 x 29,7 cm', '11 7/8 x 12').

    Names are looked up first, in any case. In a typed size a side without a unit takes the other side's, or
    else ``unit``. Raises StockError naming the nearest names.
    """
    name = plain_name(text)
    known = _BY_NAME.get(_joined(name))
    if known is not None:
        return known
    sides = _BETWEEN_SIDES.split(name)
    if len(sides) == 1:
        names = (sheet.size.name for sheet in NAMED_SHEETS)
        raise StockError(
            "no sheet has this name", f"write {nearest_names(name, names)}, or both sides: 12 x 12 in"
        )
    if len(sides) != 2:
        raise StockError("a sheet has two sides", "write both sides once: 12 x 12 in")
    width_unit, height_unit = stock_unit(sides[0]), stock_unit(sides[1])
    width = stock_length(sides[0], width_unit or height_unit or unit)
    height = stock_length(sides[1], height_unit or width_unit or unit)
    ruler = _EXACT_RULERS[width_unit or height_unit or unit]
    return SheetSize(name=f"{about(width, ruler)} x {about(height, ruler)}", width=width, height=height)


_BETWEEN_SIDES = re.compile(r" ?(?:x|×|by) ?")


def _joined(name: str) -> str:
    """A name without the spaces people may leave out: '12 x 12' is '12x12', '30cm' is '30 cm'."""
    return name.replace(" ", "").replace("×", "x").replace('"', "in")


_BY_NAME = {
    _joined(name.casefold()): sheet.size
    for sheet in NAMED_SHEETS
    for name in (sheet.size.name, *sheet.also_called)
}
