"""How sizes and masses are said: in the maker's unit first, the other beside it, small lengths in millimetres."""

from __future__ import annotations

from dataclasses import dataclass
from fractions import Fraction

from foldproof.lengths import CM_MILLIMETRES, Length, Ruler, in_words, round_to
from foldproof.words.common import COMMON
from foldproof.words.records import CommonWording

ABOUT_MM = 0.05  # rounding less than a pencil line is not worth an "about"
KEPT_PLACES = 6  # of a millimetre: tells 1/32 in exactly and drops float noise
TELLING_PLACES = 6  # decimals at most, to tell a measure from a limit it is very near to
MM2_PER_SQ_IN = 645.16
G_PER_OZ = 28.349523125  # the ounce of 1959, exactly


@dataclass(frozen=True, slots=True, kw_only=True)
class Speech:
    """What a maker reads sizes on: her own ruler first, the other one beside it."""

    ruler: Ruler
    other_ruler: Ruler


def exact_length(value_mm: float) -> Length:
    """A measured float as a length, without float noise."""
    return Length(Fraction(str(round(value_mm, KEPT_PLACES))))


def short_length(value: Length, speech: Speech, common: CommonWording = COMMON) -> str:
    """A length in the maker's unit alone: '3 1/4 in', 'about 3/16 in', '8.3 cm'; '0.27 mm' under one mark."""
    return _on_ruler(value, speech.ruler, common) or _small_metric(value)


def length_words(value: Length, speech: Speech, common: CommonWording = COMMON) -> str:
    """A length in both units where both can tell it: '3/4 in (1.9 cm)', '0.27 mm'."""
    first = short_length(value, speech, common)
    if speech.ruler.unit == "in":
        own = _on_ruler(value, speech.ruler, common)
        return common.both_units.format(first, _metric(value)) if own else first
    other = _on_ruler(value, speech.other_ruler, common) if speech.other_ruler.unit == "in" else ""
    return common.both_units.format(first, other) if other else first


def length_pair(one: Length, other: Length, speech: Speech, common: CommonWording = COMMON) -> tuple[str, str]:
    """A measure and its limit.

    A limit that lies on no mark is told in metric alone: it is exact, so never "about". Where both would read the
    same and are not, both are told in millimetres.
    """
    off_the_marks = short_length(other, speech, common) == common.about.format(round_to(other, speech.ruler).text)
    limit = _metric(other) if off_the_marks else length_words(other, speech, common)
    texts = length_words(one, speech, common), limit
    if texts[0] != texts[1] or one == other:
        return texts
    plain = number_pair(one.float_mm, other.float_mm, 2)
    return common.millimetres.format(plain[0]), common.millimetres.format(plain[1])


def area_words(area_mm2: float, speech: Speech, common: CommonWording = COMMON) -> str:
    """An area: '2 sq in (12.9 cm²)' on an inch ruler, '12.9 cm²' on a metric one, small ones in mm²."""
    metric = _metric_area(area_mm2, common)
    if speech.ruler.unit != "in" or area_mm2 / MM2_PER_SQ_IN < 0.05:  # under a twentieth no inch figure helps
        return metric
    places = 2 if area_mm2 < MM2_PER_SQ_IN else 1
    return common.both_units.format(common.area_in.format(plain_number(area_mm2 / MM2_PER_SQ_IN, places)), metric)


def area_pair(one_mm2: float, other_mm2: float, speech: Speech, common: CommonWording = COMMON) -> tuple[str, str]:
    """A measured area and its limit, told apart in square millimetres where they would read the same."""
    texts = area_words(one_mm2, speech, common), area_words(other_mm2, speech, common)
    if texts[0] != texts[1] or one_mm2 == other_mm2:
        return texts
    first, second = number_pair(one_mm2, other_mm2, 2)
    return common.area_mm.format(first), common.area_mm.format(second)


def mass_words(mass_g: float, speech: Speech, common: CommonWording = COMMON) -> str:
    """A mass in the maker's unit alone: '0.4 oz' on an inch ruler, '12 g' on a metric one."""
    if speech.ruler.unit == "in":
        mass_oz = mass_g / G_PER_OZ
        return common.ounces.format(plain_number(mass_oz, 1 if mass_oz >= 1.0 else 2))
    return common.grams.format(plain_number(mass_g, 0 if mass_g >= 10.0 else 1))


def number_pair(one: float, other: float, places: int) -> tuple[str, str]:
    """A measure and its limit with so many decimals, or as many more as tell them apart where they are not equal."""
    texts = plain_number(one, places), plain_number(other, places)
    for more in range(places + 1, TELLING_PLACES + 1):
        if texts[0] != texts[1] or one == other:
            break
        texts = plain_number(one, more), plain_number(other, more)
    return texts


def plain_number(value: float, places: int) -> str:
    """A number with commas between thousands and no zeros at its end: '3,311,616', '0.27'."""
    text = f"{value:,.{places}f}"
    text = text.rstrip("0").rstrip(".") if "." in text else text
    return "0" if text == "-0" else text


def _on_ruler(value: Length, ruler: Ruler, common: CommonWording) -> str:
    """The length on a ruler, or nothing when it is under one mark or, on a metric ruler, under one centimetre."""
    least = ruler.step_length if ruler.unit == "in" else max(ruler.step_length, Length(Fraction(10)))
    if abs(value) < least:
        return ""
    rounded = round_to(value, ruler)
    return common.about.format(rounded.text) if abs(rounded.error.float_mm) > _unmarked_mm(ruler) else rounded.text


def _unmarked_mm(ruler: Ruler) -> float:
    """Rounding to a millimetre says nothing of importance; to a fraction of an inch it does."""
    return ABOUT_MM if ruler.unit == "in" else 0.5 * ruler.step_length.float_mm


def _metric(value: Length) -> str:
    """A length in brackets after inches: cm with one decimal, small ones in mm."""
    return in_words(value, CM_MILLIMETRES) if abs(value.float_mm) >= 10.0 else _small_metric(value)


def _small_metric(value: Length) -> str:
    """Millimetres with as many decimals as tell something: '4.9 mm', '0.27 mm'."""
    return f"{plain_number(value.float_mm, 1 if abs(value.float_mm) >= 1.0 else 2)} mm"


def _metric_area(area_mm2: float, common: CommonWording) -> str:
    if area_mm2 < 100.0:
        return common.area_mm.format(plain_number(area_mm2, 0 if area_mm2 >= 10.0 else 1))
    return common.area_cm.format(plain_number(area_mm2 / 100.0, 1))
