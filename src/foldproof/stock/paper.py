"""Cardstock: weight, thickness, face and back, grain."""

from __future__ import annotations

import re
from dataclasses import dataclass
from fractions import Fraction
from typing import Literal

from foldproof.lengths import Unit
from foldproof.stock.errors import StockError, nearest_names, plain_name, stock_length, stock_unit
from foldproof.stock.sheets import SheetSize

Core = Literal["solid", "white"]
Printed = Literal["plain", "one side", "both sides"]
Grain = Literal["along width", "along height", "unknown"]
PrintDirection = Literal["none", "along width", "along height"]

# The sheet whose 500 pieces weigh the named pounds, in inches. North American trade practice.
BASIS_SIZES_IN: dict[str, tuple[Fraction, Fraction]] = {
    "bond": (Fraction(17), Fraction(22)),
    "text": (Fraction(25), Fraction(38)),
    "cover": (Fraction(20), Fraction(26)),
    "index": (Fraction(51, 2), Fraction(61, 2)),
    "bristol": (Fraction(45, 2), Fraction(57, 2)),
    "tag": (Fraction(24), Fraction(36)),
}
GRAMS_PER_POUND = Fraction("453.59237")  # by definition of the pound
SQUARE_METRES_PER_SQUARE_INCH = Fraction("0.00064516")  # by definition of the inch
SHEETS_WEIGHED = 500

LEAST_GSM, MOST_GSM = 20.0, 2000.0  # tissue to thick greyboard
LEAST_THICKNESS_MM, MOST_THICKNESS_MM = 0.03, 2.0  # the same papers; foam is not cardstock
HEAVY_GSM = 200.0  # common practice, no source: from here on a fold against the grain may crack

# Thickness in mm is grams per square metre times bulk (cm3/g) over 1000. Published lists give 80 lb cover
# (216 gsm) as 0.203 and as 0.254 mm, 100 lb cover (270 gsm) as 0.254 and 0.305 mm: bulks of 0.94 to 1.176.
# The limits are those, a little outwards; smooth card lies low, soft textured card high.
LEAST_BULK, MOST_BULK = 0.938, 1.177
MIDDLE_BULK = (LEAST_BULK + MOST_BULK) / 2

MILL_THICKNESS_TOLERANCE = Fraction(75, 1000)  # of the thickness, either way: common mill tolerance


@dataclass(frozen=True, slots=True, kw_only=True)
class Weight:
    """Grams per square metre, and the weight as it is printed on the packet ('80 lb cover')."""

    gsm: float
    text: str


@dataclass(frozen=True, slots=True, kw_only=True)
class Thickness:
    """Thickness of one sheet with the range it may lie in, millimetres, and how it is known."""

    mm: float
    low_mm: float
    high_mm: float
    how: Literal["measured", "estimated"]

    def __post_init__(self) -> None:
        assert 0 < self.low_mm <= self.mm <= self.high_mm, "a thickness lies in its own range"


@dataclass(frozen=True, slots=True, kw_only=True)
class Cardstock:
    """One kind of card. ``name`` is what the maker calls it, its colour most often.

    ``sheet`` is the size it is sold as and ``measured`` the size it really has, if the maker measured it.
    ``core`` is white where a coloured card shows white when cut or torn. ``rgb`` (#rrggbb) fills drawings.
    Raises StockError for an empty name or a colour that is not written so.
    """

    name: str
    sheet: SheetSize
    thickness: Thickness
    measured: SheetSize | None = None
    weight: Weight | None = None
    core: Core = "solid"
    printed: Printed = "plain"
    grain: Grain = "unknown"
    print_direction: PrintDirection = "none"
    rgb: str = "#ffffff"

    def __post_init__(self) -> None:
        if not self.name.strip():
            raise StockError("the cardstock has no name", "name its colour, for example 'sea green'")
        if not re.fullmatch(r"#[0-9a-f]{6}", self.rgb):
            raise StockError(f"{self.rgb[:20]!r} is not a colour", "write six hex digits, such as #2a9d8f")

    @property
    def usable_sheet(self) -> SheetSize:
        """The sheet as really measured; the size it is sold as when nobody has measured it."""
        return self.measured or self.sheet


def is_heavy(cardstock: Cardstock, heavy_gsm: float = HEAVY_GSM) -> bool:
    """Whether the card is at least ``heavy_gsm``; without a weight, a middling card of its thickness is."""
    if cardstock.weight is not None:
        return cardstock.weight.gsm >= heavy_gsm
    return cardstock.thickness.mm * 1000 / MIDDLE_BULK >= heavy_gsm


def grams_from_pounds(pounds: int | Fraction, grade: str) -> Fraction:
    """Grams per square metre, exact, of a paper whose 500 basis sheets weigh ``pounds``.

    gsm = pounds x 453.59237 / (500 x basis area). ``grade`` is a key of BASIS_SIZES_IN, else StockError.
    """
    if grade not in BASIS_SIZES_IN:
        names = nearest_names(grade, BASIS_SIZES_IN)
        raise StockError(f"no paper grade is called {grade[:20]!r}", f"write {names}")
    width_in, height_in = BASIS_SIZES_IN[grade]
    weighed_m2 = SHEETS_WEIGHED * width_in * height_in * SQUARE_METRES_PER_SQUARE_INCH
    return pounds * GRAMS_PER_POUND / weighed_m2


_WEIGHT = re.compile(
    r"(?P<number>[0-9]{1,5}(?:[.,][0-9]{1,4})?) ?"
    r"(?:(?P<metric>gsm|g/m2|g/m²|g/m\^2|g/sqm|g)|(?P<pounds>lbs?\.?|#|pounds?)(?: ?(?P<grade>[a-z]+))?)?"
)


def read_weight(text: str) -> Weight:
    """'216 gsm', '216 g/m2' or '80 lb cover'.

    Pounds need their grade: without it the StockError names the grades and what each would mean.
    """
    found = _WEIGHT.fullmatch(plain_name(text))
    if found is None:
        raise StockError("this is not a paper weight", "write it like '216 gsm' or '80 lb cover'")
    digits = found["number"].replace(",", ".")
    number = Fraction(digits)
    if found["metric"]:
        return _weight(number, f"{digits} gsm")
    if not found["pounds"]:
        raise StockError(f"{digits} has no unit", f"write '{digits} gsm' or '{digits} lb cover'")
    grade = found["grade"]
    if grade in BASIS_SIZES_IN:
        return _weight(grams_from_pounds(number, grade), f"{digits} lb {grade}")
    gsm_by_grade = {known: float(grams_from_pounds(number, known)) for known in BASIS_SIZES_IN}
    meanings = ", ".join(f"{known} {gsm:.0f} gsm" for known, gsm in gsm_by_grade.items())
    missing = f"{grade} is not a grade of paper" if grade else "the grade is missing"
    raise StockError(
        f"{missing}: {digits} lb means {meanings}",
        f"write the grade that is on the packet, for example '{digits} lb cover'",
    )


def _weight(gsm: Fraction, text: str) -> Weight:
    if not LEAST_GSM <= gsm <= MOST_GSM:
        raise StockError(f"{float(gsm):.0f} gsm is no paper", f"write {LEAST_GSM:.0f} to {MOST_GSM:.0f} gsm")
    return Weight(gsm=float(gsm), text=text)


def estimate_thickness(gsm: float) -> Thickness:
    """A thickness for card of this weight, with the range in which published lists disagree (about 25 %)."""
    return Thickness(
        mm=gsm * MIDDLE_BULK / 1000,
        low_mm=gsm * LEAST_BULK / 1000,
        high_mm=gsm * MOST_BULK / 1000,
        how="estimated",
    )


_PLUS_MINUS = re.compile(r"\+ ?/? ?[-−]|±")


def read_thickness(text: str, unit: Unit) -> Thickness:
    """A measured thickness: '0.27 mm', or with what it varies by: '0.27 mm +/- 0.02'. No unit means ``unit``.

    Without a tolerance the mill's own, 7.5 % either way, is taken. Raises StockError.
    """
    parts = _PLUS_MINUS.split(plain_name(text))
    if len(parts) > 2:
        raise StockError("this has more than one tolerance", "write it like '0.27 mm +/- 0.02'")
    numbers = [stock_length(part, _unit_of(parts, unit)).mm for part in parts]
    thickness_mm = numbers[0]
    if not LEAST_THICKNESS_MM <= thickness_mm <= MOST_THICKNESS_MM:
        raise StockError(
            f"card {float(thickness_mm):.4g} mm thick cannot be folded",
            f"write {LEAST_THICKNESS_MM} to {MOST_THICKNESS_MM:.0f} mm with the unit, for example '0.27 mm'",
        )
    tolerance_mm = numbers[1] if len(numbers) == 2 else thickness_mm * MILL_THICKNESS_TOLERANCE
    if not 0 <= tolerance_mm < thickness_mm:
        raise StockError("the tolerance must be less than the thickness", "write it like '0.27 mm +/- 0.02'")
    return Thickness(
        mm=float(thickness_mm),
        low_mm=float(thickness_mm - tolerance_mm),
        high_mm=float(thickness_mm + tolerance_mm),
        how="measured",
    )


def _unit_of(parts: list[str], unit: Unit) -> Unit:
    """A thickness and its tolerance share the unit that either of them has."""
    return next((found for found in map(stock_unit, parts) if found is not None), unit)
