"""What fitting answers: the values found, best first, or the nearest that works."""

from __future__ import annotations

from dataclasses import dataclass
from typing import Literal

from foldproof.lengths import Length

Goal = Literal["largest base", "smallest piece", "hold the content", "whole sheet", "best hole", "smallest lid"]
GOALS: tuple[Goal, ...] = (
    "largest base",
    "smallest piece",
    "hold the content",
    "whole sheet",
    "best hole",
    "smallest lid",
)
LID_GOALS: tuple[Goal, ...] = ("best hole", "smallest lid")


@dataclass(frozen=True, slots=True, kw_only=True)
class Fitted:
    """One way to fill the open values. ``on_stops``: every score position is a stop of the board."""

    values: tuple[tuple[str, Length], ...]
    width: Length
    height: Length
    spare_width: Length
    spare_height: Length
    on_stops: bool


@dataclass(frozen=True, slots=True, kw_only=True)
class FitAnswer:
    """Answers for one part, best first. ``works`` is False when they are only the nearest that can be had.

    ``short`` is then by how much the wish is missed and ``reason`` a code: ``content_too_large`` (length or height
    missing inside), ``piece_too_large`` (missing on the sheet), ``not_filled`` (card left over), ``off_stops``,
    ``no_hole``, ``no_lid``, ``no_owned`` (margin missing at the largest size). ``among`` are the sizes that a lid's was
    chosen from, when the maker owns only these.
    """

    part: str
    goal: Goal
    works: bool
    reason: str
    short: Length
    answers: tuple[Fitted, ...]
    among: tuple[Length, ...] = ()
