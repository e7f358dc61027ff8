"""Exact lengths: read as people write them, rounded to a ruler, written in words.

A length is an exact number of millimetres. Nothing here is a float until a drawing asks for one, so a third
of ten inches stays a third, and every rounded figure can keep its rounding error.
"""

from __future__ import annotations

import math
import re
import unicodedata
from collections.abc import Iterator, Sequence
from dataclasses import dataclass
from fractions import Fraction
from typing import Literal

Unit = Literal["in", "cm", "mm"]
Towards = Literal["nearest", "down", "up"]

MM_PER: dict[Unit, Fraction] = {"in": Fraction(254, 10), "cm": Fraction(10), "mm": Fraction(1)}

INCH_DENOMINATORS = (2, 4, 8, 16, 32)  # the parts an inch ruler is divided in
METRIC_DENOMINATORS = (2, 4, 5, 8, 10, 16, 20, 32)  # those, and the tenths and half millimetres of a cm ruler
MOST_MM = 10_000  # ten metres: longer than any sheet or ribbon a maker cuts by hand
ABOUT = "about {0}"  # before a length that was rounded
MOST_CHARACTERS = 40  # the longest sensible written length is about half of this
LONGEST_BOARD_MM = Fraction(3048, 10)  # 12 in: score positions above it are set aside when a space was lost


class LengthError(ValueError):
    """Text that is not a usable length. ``reason`` says why, ``remedy`` what would work."""

    def __init__(self, reason: str, remedy: str) -> None:
        super().__init__(f"{reason}; {remedy}")
        self.reason = reason
        self.remedy = remedy


@dataclass(frozen=True, slots=True, order=True)
class Length:
    """An exact length in millimetres. It adds to lengths; whole numbers and fractions scale it."""

    mm: Fraction

    def __post_init__(self) -> None:
        assert isinstance(self.mm, Fraction), "a length is exact: build it from a Fraction"

    @property
    def float_mm(self) -> float:
        """The nearest float, for drawing and for checks that measure."""
        return float(self.mm)

    def __add__(self, other: Length) -> Length:
        return Length(self.mm + other.mm) if isinstance(other, Length) else NotImplemented

    def __sub__(self, other: Length) -> Length:
        return Length(self.mm - other.mm) if isinstance(other, Length) else NotImplemented

    def __mul__(self, factor: int | Fraction) -> Length:
        return Length(self.mm * factor) if isinstance(factor, (int, Fraction)) else NotImplemented

    __rmul__ = __mul__

    def __truediv__(self, divisor: int | Fraction) -> Length:
        return Length(self.mm / divisor) if isinstance(divisor, (int, Fraction)) else NotImplemented

    def __neg__(self) -> Length:
        return Length(-self.mm)

    def __abs__(self) -> Length:
        return Length(abs(self.mm))


ZERO = Length(Fraction(0))


@dataclass(frozen=True, slots=True, kw_only=True)
class Ruler:
    """What a maker reads lengths on: ``step`` is its finest division, in its own ``unit``.

    Raises LengthError for a step no ruler has: inches are divided in halves … 32nds, centimetres and
    millimetres in decimals of at most three places.
    """

    unit: Unit
    step: Fraction

    def __post_init__(self) -> None:
        if self.step <= 0:
            raise LengthError("a ruler's step must be more than nothing", "use 1/16 in or 1 mm")
        parts = self.step.denominator
        if self.unit == "in" and parts != 1 and parts not in INCH_DENOMINATORS:
            raise _no_such_division(Fraction(1, parts), parts, "in")
        if self.unit != "in" and 1000 % parts:
            raise LengthError("a metric ruler is divided in decimals", "use 1 mm or half a millimetre")

    @property
    def step_length(self) -> Length:
        """The step as a length."""
        return Length(self.step * MM_PER[self.unit])


INCH_EIGHTHS = Ruler(unit="in", step=Fraction(1, 8))
INCH_SIXTEENTHS = Ruler(unit="in", step=Fraction(1, 16))
INCH_THIRTYSECONDS = Ruler(unit="in", step=Fraction(1, 32))
CM_MILLIMETRES = Ruler(unit="cm", step=Fraction(1, 10))
CM_HALF_MILLIMETRES = Ruler(unit="cm", step=Fraction(1, 20))
MM = Ruler(unit="mm", step=Fraction(1))


@dataclass(frozen=True, slots=True, kw_only=True)
class Rounded:
    """A length as shown on a ruler. ``error`` is shown minus exact; ``text`` is the shown length in words."""

    exact: Length
    shown: Length
    error: Length
    text: str


def length(value: int | Fraction | str, unit: Unit) -> Length:
    """A length from an exact number in ``unit``; text is a plain decimal ('0.27'), else ValueError."""
    return Length(Fraction(value) * MM_PER[unit])


# --- Rounding and writing -----------------------------------------------------------------------------------


def round_to(exact: Length, ruler: Ruler, towards: Towards = "nearest") -> Rounded:
    """``exact`` on the divisions of ``ruler``.

    ``nearest`` is at most half a step off; a length exactly between two divisions goes to the upper one (the
    larger number, also below zero). ``down`` and ``up`` go to the smaller and the larger number.
    """
    step_mm = ruler.step_length.mm
    steps = exact.mm / step_mm
    if towards == "nearest":
        count = math.floor(steps + Fraction(1, 2))
    else:
        count = math.floor(steps) if towards == "down" else math.ceil(steps)
    shown = Length(count * step_mm)
    return Rounded(exact=exact, shown=shown, error=shown - exact, text=_words(count * ruler.step, ruler.unit))


def round_positions(widths: Sequence[Length], ruler: Ruler) -> tuple[Rounded, ...]:
    """The end of each panel, measured from the first edge and rounded: one position for each width.

    Positions are rounded, not panels, so that errors do not add up: 10 in in three panels on sixteenths is
    3 5/16, 3 3/8, 3 5/16 and ends at 10 in.
    """
    return tuple(round_to(position, ruler) for position in _running_sums(widths))


def in_words(exact: Length, ruler: Ruler) -> str:
    """The length to the nearest division: '3 1/4 in', '8.3 cm', '6 mm'.

    A cm ruler writes at least one decimal, and millimetres below one centimetre.
    """
    return round_to(exact, ruler).text


def about(exact: Length, ruler: Ruler, words: str = ABOUT) -> str:
    """As in_words, with 'about' in front when rounding changed the length; ``words`` says it in another language."""
    rounded = round_to(exact, ruler)
    return rounded.text if rounded.error == ZERO else words.format(rounded.text)


def both_units(exact: Length, ruler: Ruler, other: Ruler) -> str:
    """The length on two rulers: '3 1/4 in (8.3 cm)'."""
    return f"{in_words(exact, ruler)} ({in_words(exact, other)})"


def _running_sums(widths: Sequence[Length]) -> Iterator[Length]:
    position = ZERO
    for width in widths:
        position = position + width
        yield position


def _words(value: Fraction, unit: Unit) -> str:
    if unit == "in":
        return f"{_mixed(value)} in"
    if unit == "mm":
        return f"{_decimal(value, 0)} mm"
    if abs(value) < 1:
        return f"{_decimal(value * 10, 0)} mm"
    return f"{_decimal(value, 1)} cm"


def _mixed(value: Fraction) -> str:
    """A whole number and a fraction in lowest terms: '3 1/4', '-1/2', '5'."""
    sign = "-" if value < 0 else ""
    whole, top = divmod(abs(value.numerator), value.denominator)
    if not top:
        return f"{sign}{whole}"
    part = f"{top}/{value.denominator}"
    return f"{sign}{whole} {part}" if whole else f"{sign}{part}"


def _decimal(value: Fraction, least_places: int) -> str:
    """Exact decimal text. The value must have one, as every multiple of a metric ruler's step has."""
    places = least_places
    while (value * 10**places).denominator != 1:
        places += 1
    whole, part = divmod(abs((value * 10**places).numerator), 10**places)
    sign = "-" if value < 0 else ""
    return f"{sign}{whole}.{part:0{places}d}" if places else f"{sign}{whole}"


# --- Reading ------------------------------------------------------------------------------------------------


def parse_length(written: str | int | float, unit: Unit) -> Length:
    """The length a person wrote; a number, or text without a unit, is in ``unit``.

    Reads '8 1/2', '8-1/2', '8½', '8.5', '8,5 cm', '3.1/8' (3 1/8), '5"7/8', '53/4' (5 3/4, the space lost),
    in inches (in, inch, inches, " and ″), cm or mm. A leading minus makes it negative; the caller checks
    ranges. Raises LengthError when the text is not a length, is over 10 m, or can be read in two ways.
    """
    if isinstance(written, str):
        value, unit = _read_text(written, unit)
    else:
        value = _read_number(written)
    if abs(value) * MM_PER[unit] > MOST_MM:
        raise LengthError("this is longer than 10 metres", "check the number and its unit")
    return Length(value * MM_PER[unit])


def written_unit(text: str) -> Unit | None:
    """The unit that stands in a written length, or None when it has none."""
    plain = _plain(text)
    units: tuple[tuple[str, Unit], ...] = (('"', "in"), ("cm", "cm"), ("mm", "mm"))
    return next((unit for sign, unit in units if sign in plain), None)


def _read_number(number: int | float) -> Fraction:
    if isinstance(number, bool):
        raise LengthError("yes or no is not a length", "write a number, for example 8.5")
    if isinstance(number, float) and not math.isfinite(number):
        raise LengthError("this is not a finite number", "write a number, for example 8.5")
    # The shortest decimal that gives this float is what the maker typed.
    return Fraction(repr(number)) if isinstance(number, float) else Fraction(number)


# After _plain: lower case, plain digits, single spaces, every inch sign and word is ".
_WRITTEN = re.compile(
    r"""
    (?P<sign>[-+]?)
    (?:
      (?P<decimal>[0-9]+(?:[.,][0-9]*)?|[.,][0-9]+)
      | (?:(?P<whole>[0-9]+)(?P<joint>[ ]?"[ ]?-?[ ]?|[ ]?-[ ]?|[.,]|[ ]and[ ]|[ ]?&[ ]?|[ ]))?
        (?P<top>[0-9]+)[ ]?/[ ]?(?P<bottom>[0-9]+)
    )
    [ ]?(?P<unit>"|cm|mm)?\.?
    """,
    re.VERBOSE,
)
_UNIT_WORDS = (
    (re.compile(r"inches|inch|ins|in|''"), '"'),
    (re.compile(r"centimet(?:re|er)s?"), "cm"),
    (re.compile(r"millimet(?:re|er)s?"), "mm"),
)
_SIGNS = str.maketrans(
    {
        **dict.fromkeys("\u2033\u201c\u201d\u201e\u02ba", '"'),  # double prime, curly quotes
        **dict.fromkeys("\u2032\u2018\u2019", "'"),  # prime, curly apostrophes: two of them are an inch sign
        **dict.fromkeys("\u2044\u2215\u29f8", "/"),  # fraction slash, division slash, big solidus
        **dict.fromkeys("\u2212\u2010\u2011\u2012\u2013\u2014", "-"),  # minus, hyphens, dashes
        **dict.fromkeys("\u200b\u2060\ufeff", " "),  # spaces without width
    }
)
_RAISED_DIGITS = "\u2070\u00b9\u00b2\u00b3\u2074\u2075\u2076\u2077\u2078\u2079"


def _plain(text: str) -> str:
    """The text with one spelling for each sign, so that one pattern reads it."""
    if len(text) > MOST_CHARACTERS:
        raise LengthError("this is too long to be one length", "write one length, for example 8 1/2 in")
    plain = unicodedata.normalize("NFKC", _with_open_fractions(text).translate(_SIGNS)).translate(_SIGNS)
    plain = " ".join(plain.casefold().split())
    for words, sign in _UNIT_WORDS:
        plain = words.sub(sign, plain)
    return plain


def _with_open_fractions(text: str) -> str:
    """Fractions that are one character opened to 'n/d', and a space before them where a digit stands.

    Plain compatibility forms would turn 8½ into 81/2.
    """
    opened: list[str] = []
    for character in text:
        parts = unicodedata.decomposition(character).split()
        is_fraction = parts[:1] == ["<fraction>"] and len(parts) == 4
        if (is_fraction or character in _RAISED_DIGITS) and opened and opened[-1] in "0123456789":
            opened.append(" ")
        if is_fraction:
            opened.append("".join(chr(int(code, 16)) for code in parts[1:]) + " ")
        else:
            opened.append(character)
    return "".join(opened)


def _read_text(text: str, unit: Unit) -> tuple[Fraction, Unit]:
    plain = _plain(text)
    if not plain:
        raise LengthError("there is no length here", "write a number, for example 8 1/2 or 21.6 cm")
    found = _WRITTEN.fullmatch(plain)
    if found is None:
        raise LengthError("this is not a length", "write it like 8 1/2, 8.5 in, 21.6 cm or 216 mm")
    written = written_unit(text)
    if '"' in (found["joint"] or "") and found["unit"] in ("cm", "mm"):
        raise LengthError("this has two units", "write the length in one unit")
    unit = written or unit
    if found["decimal"] is not None:
        value = _read_decimal(found["decimal"], unit)
    elif found["whole"] is not None:
        value = int(found["whole"]) + _part_of_one(int(found["top"]), int(found["bottom"]), unit)
    else:
        value = _read_lone_fraction(found["top"], int(found["bottom"]), unit)
    return (-value if found["sign"] == "-" else value), unit


def _read_decimal(digits: str, unit: Unit) -> Fraction:
    """A decimal. A comma before three digits may part thousands: ask where both readings are possible."""
    value = Fraction(digits.replace(",", ".").rstrip("."))
    whole, comma, rest = digits.partition(",")
    if comma and len(rest) == 3 and whole and not whole.startswith("0"):
        thousands = int(whole + rest)
        if thousands * MM_PER[unit] <= MOST_MM:
            raise LengthError(
                f"{digits} can mean {whole}.{rest} or {thousands}",
                f"write {whole}.{rest} or {thousands}",
            )
    return value


def _part_of_one(top: int, bottom: int, unit: Unit) -> Fraction:
    """The fraction after a whole number."""
    _check_division(top, bottom, unit)
    if top >= bottom:
        raise LengthError(f"{top}/{bottom} is not less than one", "add the whole ones to the whole number")
    return Fraction(top, bottom)


def _read_lone_fraction(top_digits: str, bottom: int, unit: Unit) -> Fraction:
    """A fraction with nothing before it. From one upwards a space may have been lost: 53/4 is 5 3/4.

    Every reading is tried: the fraction as it stands, and every place the space may have been. Readings
    longer than the longest board are set aside if a shorter one is left (53/4 is not 13 1/4). If several are
    left, ask.
    """
    top = int(top_digits)
    _check_division(top, bottom, unit)
    if top < bottom:
        return Fraction(top, bottom)
    readings = {Fraction(top, bottom)}
    for cut in range(1, len(top_digits)):
        whole, part = top_digits[:cut], top_digits[cut:]
        if not part.startswith("0") and not whole.startswith("0") and int(part) < bottom:
            readings.add(int(whole) + Fraction(int(part), bottom))
    short = {reading for reading in readings if reading * MM_PER[unit] <= LONGEST_BOARD_MM}
    left = sorted(short or readings)
    if len(left) > 1:
        choices = " or ".join(_mixed(reading) for reading in left)
        raise LengthError(f"{top}/{bottom} can mean {choices}", f"write {choices}, with the space")
    return left[0]


def _check_division(top: int, bottom: int, unit: Unit) -> None:
    if bottom not in (INCH_DENOMINATORS if unit == "in" else METRIC_DENOMINATORS):
        raise _no_such_division(Fraction(top, bottom) if bottom else None, bottom, unit)


def _no_such_division(value: Fraction | None, bottom: int, unit: Unit) -> LengthError:
    if unit == "in":
        reason = f"no inch ruler is divided in {bottom}: it has halves, quarters, eighths, 16ths and 32nds"
        remedy = "write halves, quarters, eighths, 16ths or 32nds"
        finest = 32
    else:
        reason = f"no metric ruler is divided in {bottom}: it has halves, fifths and tenths"
        remedy = "write a decimal"
        finest = 20
    if value is not None and value <= MOST_MM:
        nearest = Fraction(math.floor(value * finest + Fraction(1, 2)), finest)
        shown = _mixed(nearest) if unit == "in" else _decimal(nearest, 0)
        remedy += f"; the nearest to {_mixed(value)} is {shown} {unit}"
    return LengthError(reason, remedy)
