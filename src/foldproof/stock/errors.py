"""Stock that cannot be used, and the nearest names for one that is not known."""

from __future__ import annotations

import difflib
from collections.abc import Iterable

from foldproof.lengths import Length, LengthError, Unit, parse_length, written_unit

MOST_CHARACTERS = 80  # two lengths and a name; longer text is not a sheet, a weight or a board
NAMES_SHOWN = 3  # more choices than these are not read


class StockError(ValueError):
    """Paper, sheet or board text that cannot be used. ``reason`` says why, ``remedy`` what would work."""

    def __init__(self, reason: str, remedy: str) -> None:
        super().__init__(f"{reason}; {remedy}")
        self.reason = reason
        self.remedy = remedy


def stock_length(written: str | int | float, unit: Unit) -> Length:
    """As lengths.parse_length, but what is wrong is told as a StockError."""
    try:
        return parse_length(written, unit)
    except LengthError as error:
        raise StockError(error.reason, error.remedy) from error


def stock_unit(written: str) -> Unit | None:
    """As lengths.written_unit, but what is wrong is told as a StockError."""
    try:
        return written_unit(written)
    except LengthError as error:
        raise StockError(error.reason, error.remedy) from error


def plain_name(text: str) -> str:
    """The text as names are compared: lower case, single spaces. StockError when it is empty or too long."""
    if len(text) > MOST_CHARACTERS:
        raise StockError("this text is too long", f"write at most {MOST_CHARACTERS} characters")
    name = " ".join(text.casefold().split())
    if not name:
        raise StockError("nothing is written here", "write a name or a size")
    return name


def nearest_names(name: str, known: Iterable[str]) -> str:
    """Up to three known names most like ``name``, or all of them when none is like it: 'A4, A5 or A6'."""
    choices = {choice.casefold(): choice for choice in known}
    near = difflib.get_close_matches(name.casefold(), choices, n=NAMES_SHOWN, cutoff=0.5)
    shown = [choices[key] for key in near] or list(choices.values())
    return shown[0] if len(shown) == 1 else f"{', '.join(shown[:-1])} or {shown[-1]}"
