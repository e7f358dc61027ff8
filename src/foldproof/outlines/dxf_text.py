"""A DXF file as text, looked through before anything is made of it: complete, small enough, numbers where they belong.

A DXF file is pairs of lines: a group code, and a value whose kind the code tells. Codes and units are from the public
reference of the format, from memory.
"""

from __future__ import annotations

import math
from dataclasses import dataclass

from foldproof.errors import InputError, wrong
from foldproof.outlines.budget import FILE, Budget, refuse_large

BINARY_END = b"\r\n\x1a\x00"  # of the first line of a DXF file that is not text
BINARY_LINE = 22  # bytes of it
# Coordinates, lengths, angles, directions.
NUMBER_CODES = frozenset((*range(10, 60), *range(140, 148), *range(210, 240)))
UNITS_VARIABLE = "$INSUNITS"

MM_PER_UNIT: dict[str, float] = {"mm": 1.0, "cm": 10.0, "dm": 100.0, "m": 1000.0, "in": 25.4, "ft": 304.8, "yd": 914.4}
UNIT_OF_CODE = {1: "in", 2: "ft", 4: "mm", 5: "cm", 6: "m", 10: "yd", 14: "dm"}


@dataclass(frozen=True, slots=True, kw_only=True)
class DxfText:
    """The file's bytes, and the code of the unit it states; 0 when it states none."""

    data: bytes
    unit_code: int


def looked_through(data: bytes, budget: Budget) -> DxfText:
    """The file when it can be read. InputError (field "the file") when it is no DXF, broken off, or too large."""
    refuse_large(data)
    if data[:BINARY_LINE].endswith(BINARY_END):
        raise wrong(FILE, "", "is a binary DXF", "save it as text (ASCII) DXF")
    lines = data.removeprefix(b"\xef\xbb\xbf").decode("latin-1").replace("\r\n", "\n").split("\n")
    codes, values = lines[0::2], lines[1::2]
    unit_code, entities, numbers = 0, 0, 0
    told = ""
    for number, (code_text, value) in enumerate(zip(codes, values, strict=False)):
        code = _code(code_text, 2 * number + 1, begun=entities > 0)
        if code == 0:
            entities += 1
            if value.strip() == "EOF":
                budget.spend("elements", entities)
                budget.spend("numbers", numbers)
                return DxfText(data=data, unit_code=unit_code)
        elif code in NUMBER_CODES:
            numbers += 1
            _refuse_no_number(value, 2 * number + 2)
        elif code == 9:
            told = value.strip()
        elif code == 70 and told == UNITS_VARIABLE:
            unit_code = _whole(value)
            told = ""
    raise _broken_off() if entities else _no_dxf("")


def _code(text: str, line: int, *, begun: bool) -> int:
    try:
        return int(text)
    except ValueError as error:
        if not begun:
            raise _no_dxf(f"line {line}") from error
        raise _broken_off() from error


def _no_dxf(told: str) -> InputError:
    return wrong(FILE, told, "is no DXF", "save the drawing as text (ASCII) DXF")


def _broken_off() -> InputError:
    return wrong(FILE, "", "is broken off: its end is missing", "save or copy it again")


def _refuse_no_number(text: str, line: int) -> None:
    try:
        number = float(text)
    except ValueError:
        number = math.nan
    if not math.isfinite(number):
        told = f"line {line}: {text.strip()[:40]}"
        raise wrong(FILE, told, "has something that is no number where a number belongs", "save the drawing again")


def _whole(text: str) -> int:
    try:
        return int(text)
    except ValueError:
        return 0


def unit_used(text: DxfText, unit: str | None) -> str:
    """The unit of the drawing: the one told, else the one its file states.

    Raises InputError (field "unit") when neither is there, or the unit is not one we read.
    """
    units = ", ".join(MM_PER_UNIT)
    if unit is not None:
        if unit not in MM_PER_UNIT:
            raise wrong("unit", unit, "is no unit a drawing is read in", f"write one of {units}")
        return unit
    if text.unit_code == 0:
        reason = "the file does not say in which unit it is drawn"
        raise wrong("unit", "", reason, f"tell the unit it was drawn in: one of {units}")
    if text.unit_code not in UNIT_OF_CODE:
        reason = f"the file states a unit that is not read (code {text.unit_code})"
        raise wrong("unit", "", reason, f"tell the unit it was drawn in: one of {units}")
    return UNIT_OF_CODE[text.unit_code]
