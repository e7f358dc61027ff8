"""What a maker writes on the command line about an outline, read: sheet, cuts, corners, sizes. All wrong at once."""

from __future__ import annotations

import re
from collections.abc import Callable
from typing import TypeVar

from foldproof.errors import InputError, Problem
from foldproof.lengths import Length, LengthError, Unit, parse_length, written_unit
from foldproof.outlines.own_shape import Cut
from foldproof.outlines.parameters import LEAST_ACROSS_MM, MOST_ACROSS_MM
from foldproof.project.problems import in_short
from foldproof.project.read_shapes import MOST_ACCURACY_MM, MOST_SIZES, MOST_SOURCE
from foldproof.project.table import cannot_print
from foldproof.stock.errors import StockError
from foldproof.stock.sheets import read_sheet

MOST_CUTS = 20  # bits of a band are trimmed away with two or three

T = TypeVar("T")

_NUMBER = r"([+-]?[0-9]{1,7}(?:\.[0-9]{1,6})?)"
_POINT = re.compile(rf"\s*\(?{_NUMBER}\s*,\s*{_NUMBER}\)?\s*")
_FRACTION = re.compile(r"[/\u2044\u00bc-\u00be\u2150-\u215e]")


class Reading:
    """Reads what was written, and keeps every problem until they are told together."""

    def __init__(self) -> None:
        self._problems: list[Problem] = []

    def of(self, option: str, text: str | None, read: Callable[[str], T], otherwise: T) -> T:
        """What ``read`` makes of an option's text; what is wrong with it is kept, and ``otherwise`` given."""
        if text is None:
            return otherwise
        try:
            return read(text)
        except (StockError, LengthError) as error:
            self.add(option, text, error.reason, error.remedy)
        return otherwise

    def add(self, option: str, text: str, reason: str, remedy: str) -> None:
        """One more problem."""
        self._problems.append(Problem(field=option, value=in_short(text), reason=reason, remedy=remedy))

    def tell(self) -> None:
        """Raises InputError with every problem, if there is any."""
        if self._problems:
            raise InputError(tuple(self._problems))


def sheet_mm(text: str) -> tuple[float, float]:
    """The sides of a sheet in mm, by its name or as typed. A fraction without a unit is in inches, a number in mm."""
    sheet = read_sheet(text, "in" if _FRACTION.search(text) else "mm")
    return sheet.width.float_mm, sheet.height.float_mm


def accuracy_mm(text: str) -> float:
    """An accuracy in mm."""
    found = parse_length(text, "mm").float_mm
    if not 0.0 < found <= MOST_ACCURACY_MM:
        raise LengthError(f"is too {'rough' if found > 0 else 'fine'}", f"write 0.05 mm to {MOST_ACCURACY_MM:g} mm")
    return found


def cut(text: str) -> Cut:
    """A straight cut, two points in mm: "10,0 10,80"."""
    points = _points(text, 2, "write two points in mm, such as '10,0 10,80'")
    return (points[0], points[1])


def corners(text: str) -> tuple[tuple[float, float], ...]:
    """Four places in a photograph, in pixels from its upper left corner."""
    return _points(text, 4, "write the four corners in pixels, such as '102,98 1890,120 1875,2600 90,2580'")


def _points(text: str, count: int, remedy: str) -> tuple[tuple[float, float], ...]:
    found: list[tuple[float, float]] = []
    place = 0
    while place < len(text) and len(found) <= count:
        match = _POINT.match(text, place)
        if match is None:
            raise StockError("is not written as points", remedy)
        found.append((float(match[1]), float(match[2])))
        place = match.end()
    if len(found) != count:
        raise StockError(f"is not {count} points", remedy)
    return tuple(found)


def sizes(text: str, unit: Unit | None) -> tuple[Length, ...]:
    """The sizes of a set, rising: "3, 4 1/4, 5 1/2 in". A unit after one of them holds for those without.

    Without any unit they are in ``unit``; without that, fractions make them inches.
    """
    if re.search(r"\d,\d", text):
        raise LengthError(
            "has a comma between two digits", "write 4.5 for a half, and a space after a comma: '4, 5 in'"
        )
    written = [each.strip() for each in re.split("[;,]", text) if each.strip()]
    if not 1 <= len(written) <= MOST_SIZES:
        raise LengthError(f"is a list of {len(written)}", f"write 1 to {MOST_SIZES} sizes: '3, 4 1/4, 5 1/2 in'")
    known = {unit for unit in map(written_unit, written) if unit is not None}
    if len(known) > 1 and any(written_unit(each) is None for each in written):
        raise LengthError("has a size without a unit beside two units", "write the unit after every size")
    usual = next(iter(known), unit or ("in" if _FRACTION.search(text) else None))
    if usual is None:
        raise LengthError("has no unit", f"write it after the last size: '{text.strip()} in' or '{text.strip()} cm'")
    found = tuple(parse_length(each, usual) for each in written)
    for size, words in zip(found, written, strict=True):
        if not LEAST_ACROSS_MM <= size.float_mm <= MOST_ACROSS_MM:
            reason = f"{words} is under {LEAST_ACROSS_MM:g} mm or over {MOST_ACROSS_MM:g} mm"
            raise LengthError(reason, "check the sizes and their unit")
    if list(found) != sorted(set(found)):
        raise LengthError("does not rise", "write the sizes from the smallest to the largest, each once")
    return found


def source(text: str) -> str:
    """Where a shape comes from, in a line."""
    plain = text.strip()
    if len(plain) > MOST_SOURCE:
        raise StockError(f"has {len(plain)} characters", f"write at most {MOST_SOURCE}")
    if any(map(cannot_print, plain)):
        raise StockError("has a character that cannot be printed", "type it again, on one line")
    return plain
