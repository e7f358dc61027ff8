"""What a check reports: a measured number, its limit, and changes worth trying. Codes, never sentences."""

from __future__ import annotations

from dataclasses import dataclass
from enum import IntEnum


class Severity(IntEnum):
    """How bad. FAILS and UNDECIDED keep a project from being proved; LOOK does not."""

    HOLDS = 0
    LOOK = 1
    UNDECIDED = 2
    FAILS = 3


@dataclass(frozen=True, slots=True, kw_only=True)
class Change:
    """Set the project value at ``path`` (``parts.tray.wall_height``) to ``value`` (text as a maker types it)."""

    path: str
    value: str


@dataclass(frozen=True, slots=True, kw_only=True)
class Finding:
    """One check's answer about some subjects.

    ``measured`` against ``limit`` in ``unit`` (``mm``, ``deg``, ``mm2``, ``percent``, ``count``); ``sense``
    says whether the limit is the least or the most allowed. ``values`` are further named facts for the
    message; ``proposals`` are sets of changes to try, each a tuple applied together.
    """

    code: str
    severity: Severity
    measured: float
    limit: float
    unit: str
    sense: str  # "at_least" | "at_most"
    subjects: tuple[str, ...] = ()
    values: tuple[tuple[str, str | float], ...] = ()
    proposals: tuple[tuple[Change, ...], ...] = ()
