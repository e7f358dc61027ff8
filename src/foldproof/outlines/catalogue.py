"""Every shape by formula there is: one line each."""

from __future__ import annotations

from collections.abc import Mapping
from functools import lru_cache

from foldproof.outlines import (
    disc,
    heart,
    regular_polygon,
    rosette,
    rounded_square,
    scalloped_disc,
    square,
    star,
)
from foldproof.outlines.parameters import Misfit
from foldproof.outlines.record import Drawn, Formula

SHAPES_KEPT = 64  # shapes remembered: a lid's layers are asked for many times over
FORMULAS: tuple[Formula, ...] = (
    disc.FORMULA,
    square.FORMULA,
    rounded_square.FORMULA,
    regular_polygon.FORMULA,
    scalloped_disc.FORMULA,
    rosette.FORMULA,
    star.FORMULA,
    heart.FORMULA,
)


def formula_named(name: str) -> Formula | None:
    """The shape by formula of that name, or None."""
    return next((formula for formula in FORMULAS if formula.name == name), None)


def draw(formula: Formula, given: Mapping[str, float]) -> Drawn:
    """The shape from values by name, in mm or counts, or every problem: missing, unknown, out of range, clashing."""
    return _drawn(formula, tuple(given.items()))


@lru_cache(maxsize=SHAPES_KEPT)
def _drawn(formula: Formula, values: tuple[tuple[str, float], ...]) -> Drawn:
    given = dict(values)
    known = {value.name: value for value in formula.values}
    wrong = [
        Misfit(name=name, reason=f"is no value of a {formula.name}", works=None)
        for name in given
        if name not in known
    ]
    wrong += [
        Misfit(name=name, reason="is missing", works=value.usual)
        for name, value in known.items()
        if name not in given
    ]
    drawn = formula.draw(**{value.argument: given.get(name, value.usual) for name, value in known.items()})
    if isinstance(drawn, tuple):
        said = {misfit.name for misfit in drawn}
        return (*(misfit for misfit in wrong if misfit.name not in said), *drawn)
    return tuple(wrong) if wrong else drawn
