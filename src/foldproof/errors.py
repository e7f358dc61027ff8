"""Wrong input, told all at once: every problem names its field, the value found, and what would work."""

from __future__ import annotations

from dataclasses import dataclass


@dataclass(frozen=True, slots=True, kw_only=True)
class Problem:
    """One unusable value.

    ``field`` is a path as the maker wrote it (``parts.tray.wall_height``), ``value`` the text found there,
    ``reason`` why it cannot be used and ``remedy`` a value or an action that would work.
    """

    field: str
    value: str
    reason: str
    remedy: str


class InputError(Exception):
    """The input cannot be used. Carries every problem found, never only the first."""

    def __init__(self, problems: tuple[Problem, ...]) -> None:
        assert problems, "an InputError without a problem says nothing"
        super().__init__("; ".join(f"{p.field}: {p.reason}" for p in problems))
        self.problems = problems


def wrong(field: str, value: object, reason: str, remedy: str) -> InputError:
    """An InputError with a single problem."""
    return InputError((Problem(field=field, value=str(value), reason=reason, remedy=remedy),))
