"""Reads the settings: limits of folding and of checks, where a project sets its own."""

from __future__ import annotations

import dataclasses
from typing import Any, TypeVar

from foldproof.project.table import Table, read_number, refuse_unknown

Limits = TypeVar("Limits")

# Pairs of settings that say something only in this order: the first at most as large as the second.
ORDERED_SETTINGS = (
    ("closure_look_mm", "closure_fail_mm"),
    ("takeup_look_mm", "takeup_fail_mm"),
    ("glue_fail_mm2", "glue_look_mm2"),
    ("lid_tight_mm", "lid_snug_mm"),
    ("lid_snug_mm", "lid_loose_mm"),
    ("finest_step_deg", "even_step_deg"),
)


def setting_facts(limits: type) -> tuple[dataclasses.Field[Any], ...]:
    """The fields of a record of limits; each has unit, help, least and most in its metadata."""
    return dataclasses.fields(limits)


def refuse_unknown_settings(table: Table, records: tuple[type, ...]) -> None:
    """A problem for each key that is a setting of none of the records."""
    refuse_unknown(table, tuple(field.name for limits in records for field in setting_facts(limits)))


def read_limits(table: Table, limits: type[Limits]) -> Limits:
    """The record of limits, with the project's own figures in the place of the usual ones."""
    given: dict[str, float] = {}
    for field in setting_facts(limits):
        facts = field.metadata
        unit_words = f" {facts['unit']}" if facts["unit"] else ""
        number = read_number(table, field.name, facts["least"], facts["most"], unit_words)
        if number is not None:
            given[field.name] = number
    found = limits(**given)
    for small, large in ORDERED_SETTINGS:
        if (small in given or large in given) and hasattr(found, small):
            _check_order(table, small, large, getattr(found, small), getattr(found, large), given)
    return found


def _check_order(
    table: Table, small: str, large: str, small_is: float, large_is: float, given: dict[str, float]
) -> None:
    if small_is <= large_is:
        return
    if small in given:
        table.wrong(small, f"is above {large}, which is {large_is:g}", f"write at most {large_is:g}")
    else:
        table.wrong(large, f"is below {small}, which is {small_is:g}", f"write at least {small_is:g}")
