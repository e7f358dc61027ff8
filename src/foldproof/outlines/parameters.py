"""What a shape by formula can be told: each value with its range, default and help, and what does not fit.

As with constructions, the project file's keys, the pages' fields and the tests over samples come from these records.
"""

from __future__ import annotations

import math
from dataclasses import dataclass
from typing import Literal

from foldproof.lengths import parse_length


@dataclass(frozen=True, slots=True, kw_only=True)
class ShapeValue:
    """One value of a shape: a length in mm or a count, from ``least`` to ``most``.

    ``default`` is the text used when the key is missing, in inch projects and in metric ones.
    """

    name: str
    kind: Literal["length", "count"]
    help: str
    least: float
    most: float
    default: tuple[str, str]

    @property
    def argument(self) -> str:
        """The name under which the formula takes it."""
        return f"{self.name}_mm" if self.kind == "length" else self.name

    @property
    def usual(self) -> float:
        """The metric default as a number, in mm or as a count."""
        text = self.default[1]
        return parse_length(text, "mm").float_mm if self.kind == "length" else float(text)


@dataclass(frozen=True, slots=True, kw_only=True)
class Misfit:
    """A value that cannot be used: which, why in plain words, and one that works, in mm or as a count.

    The working values of all misfits of one answer work together. None: leave the value out.
    """

    name: str
    reason: str
    works: float | None


LEAST_ACROSS_MM = 10.0  # smaller than a fingertip: nobody cuts it by hand
MOST_ACROSS_MM = 1000.0  # wider than any sheet of card
LEAST_DEPTH_MM = 0.5  # the width of a pencil line
LEAST_MIDDLE_MM = 1.0  # the card that must stay between the middle and the nearest edge, for an outline at all

ACROSS = ShapeValue(
    name="across",
    kind="length",
    help="Diameter of the circle that the shape just fits in",
    least=LEAST_ACROSS_MM,
    most=MOST_ACROSS_MM,
    default=("5 1/2 in", "14 cm"),
)
SIDE = ShapeValue(
    name="side",
    kind="length",
    help="Length of each side",
    least=LEAST_ACROSS_MM,
    most=MOST_ACROSS_MM,
    default=("4 1/2 in", "11.5 cm"),
)


def a_depth(help_text: str, default: tuple[str, str]) -> ShapeValue:
    """How far the dips lie nearer to the middle than the tips."""
    return ShapeValue(
        name="depth",
        kind="length",
        help=help_text,
        least=LEAST_DEPTH_MM,
        most=MOST_ACROSS_MM / 2.0,
        default=default,
    )


def a_count(name: str, help_text: str, *, least: int, most: int, default: int) -> ShapeValue:
    """How many of something."""
    return ShapeValue(
        name=name, kind="count", help=help_text, least=least, most=most, default=(str(default), str(default))
    )


def in_range(
    values: tuple[ShapeValue, ...], given: tuple[float, ...]
) -> tuple[tuple[Misfit, ...], tuple[float, ...]]:
    """Every value that is out of its range, and the values with working ones in their place."""
    found, used = [], []
    for value, number in zip(values, given, strict=True):
        misfit = _out_of_range(value, number)
        if misfit is not None:
            found.append(misfit)
        used.append(number if misfit is None or misfit.works is None else misfit.works)
    return tuple(found), tuple(used)


def and_also(found: tuple[Misfit, ...], more: Misfit | None) -> tuple[Misfit, ...]:
    """The misfits with one more, which replaces what was said of the same value before."""
    return found if more is None else (*(misfit for misfit in found if misfit.name != more.name), more)


def _out_of_range(value: ShapeValue, number: float) -> Misfit | None:
    if not math.isfinite(number):
        return Misfit(name=value.name, reason="is not a number", works=value.usual)
    if number <= 0.0:
        return Misfit(name=value.name, reason="must be more than nothing", works=value.usual)
    if number < value.least:
        return Misfit(name=value.name, reason="is too small for this shape", works=value.least)
    if number > value.most:
        return Misfit(name=value.name, reason="is too large for this shape", works=value.most)
    if value.kind == "count" and number != round(number):
        return Misfit(name=value.name, reason="must be a whole number", works=float(round(number)))
    return None


def at_most(name: str, number: float, limit: float, reason: str) -> Misfit | None:
    """A misfit when a length is over its limit in mm; half the limit works, on the safe side by a wide margin."""
    return Misfit(name=name, reason=reason, works=0.5 * limit) if number > limit else None
