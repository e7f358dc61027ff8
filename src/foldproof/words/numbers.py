"""How a language writes numbers and counts things."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass

OTHER = "other"  # the form that every count has


@dataclass(frozen=True, slots=True, kw_only=True)
class PluralRule:
    """Counts that take a form of their own: those from ``low`` to ``high``, or whose rest by ``rest_of`` is there.

    Left out are those whose rest by ``but_rest_of`` is from ``but_low`` to ``but_high``. Enough for whole numbers in
    the plural rules of the Unicode Common Locale Data Repository (Unicode Technical Standard 35, part 3).
    """

    form: str
    low: int
    high: int
    rest_of: int = 0
    but_rest_of: int = 0
    but_low: int = 0
    but_high: int = -1

    def holds_for(self, count: int) -> bool:
        place = count % self.rest_of if self.rest_of else count
        left_out = self.but_rest_of > 0 and self.but_low <= count % self.but_rest_of <= self.but_high
        return self.low <= place <= self.high and not left_out


ENGLISH_PLURALS = (PluralRule(form="one", low=1, high=1),)


@dataclass(frozen=True, slots=True, kw_only=True)
class Numbers:
    """The mark before decimals, the one between thousands, and the forms that counts take, first one first."""

    decimal: str = "."
    thousands: str = ","
    plurals: tuple[PluralRule, ...] = ENGLISH_PLURALS

    def form_of(self, count: int) -> str:
        return next((rule.form for rule in self.plurals if rule.holds_for(count)), OTHER)


def counted_form(forms: Mapping[str, str], count: int, numbers: Numbers) -> str:
    """The text for a count: one for just that number, else one for its form, else the one for all others."""
    keys = (str(count), numbers.form_of(count), OTHER)
    return next(forms[key] for key in keys if key in forms)


def with_marks(text: str, numbers: Numbers) -> str:
    """A number as English writes it, with the marks of another language."""
    swapped = {".": numbers.decimal, ",": numbers.thousands}
    return "".join(swapped.get(char, char) for char in text)
