"""What fitting answers: the values found, best first, or the nearest that works."""

from __future__ import annotations

from dataclasses import dataclass
from typing import Literal

from foldproof.lengths import Length
from foldproof.lids.optimum_records import BestHole

Goal = Literal[
    "largest base",
    "smallest piece",
    "hold the content",
    "whole sheet",
    "best hole",
    "least turn",
    "hole far from the edge",
    "smallest lid",
]
GOALS: tuple[Goal, ...] = (
    "largest base",
    "smallest piece",
    "hold the content",
    "whole sheet",
    "best hole",
    "least turn",
    "hole far from the edge",
    "smallest lid",
)
HOLE_GOALS: tuple[Goal, ...] = ("best hole", "least turn", "hole far from the edge")
LID_GOALS: tuple[Goal, ...] = (*HOLE_GOALS, "smallest lid")


@dataclass(frozen=True, slots=True, kw_only=True)
class LidStanding:
    """What a lid's place gives, on the marks as it will be made: margin, turns, distance of the hole, what is missed.

    ``left_deg`` and ``right_deg`` are the least whole degrees that uncover as much as is asked, None where no turn
    that way does, or none is wanted; ``uncovered`` is the most that an allowed turn uncovers, at ``opened_deg``.
    ``edge_mm`` is from the hole's middle to the nearest edge of a layer it goes through. ``misses_mm`` is the most by
    which a limit of hole, head, legs or back is missed.
    """

    margin_mm: float
    left_deg: float | None
    right_deg: float | None
    uncovered: float
    opened_deg: float
    edge_mm: float
    misses_mm: float


@dataclass(frozen=True, slots=True, kw_only=True)
class Fitted:
    """One way to fill the open values: lengths, and degrees for a turn. ``on_stops``: every score is on a stop.

    ``lid`` is what a lid's place gives, where a place for its hole was looked for.
    """

    values: tuple[tuple[str, Length | float], ...]
    width: Length
    height: Length
    spare_width: Length
    spare_height: Length
    on_stops: bool
    lid: LidStanding | None = None

    @property
    def lengths(self) -> dict[str, Length]:
        """The values that are lengths."""
        return {name: value for name, value in self.values if isinstance(value, Length)}


@dataclass(frozen=True, slots=True, kw_only=True)
class SizeBound:
    """How far the best size is known: ``found_mm`` works, and ``bound_mm`` is proved to work at no place left open.

    Of a lid ``bound_mm`` is the smaller, of a base the larger of the two; None when nothing was proved. ``cells`` were
    looked at. ``finished``: nothing is left between them but what marks and rounding take. ``stopped``: the maker ended
    the search.
    """

    found_mm: float
    bound_mm: float | None
    cells: int
    finished: bool
    stopped: bool = False


@dataclass(frozen=True, slots=True, kw_only=True)
class FitAnswer:
    """Answers for one part, best first. ``works`` is False when they are only the nearest that can be had.

    ``short`` is then by how much the wish is missed and ``reason`` a code: ``content_too_large`` (length or height
    missing inside), ``piece_too_large`` (missing on the sheet), ``not_filled`` (card left over), ``off_stops``,
    ``no_hole``, ``no_margin``, ``no_opening``, ``no_lid``, ``no_owned`` (margin missing at the largest size),
    ``layer_larger``, ``layers_smaller`` (by how much the largest layer is, when its own size is not the lid's),
    ``box_open`` (nothing missing: no size that works was found for its box).
    ``among`` are the sizes that a lid's was chosen from, when the maker owns only these. ``place`` is the best place of
    a lid between all marks, with what is proved of it, ``sought`` the values of a place that were searched and
    ``uncovered`` the share of the opening asked for; ``size`` what is proved of a size. ``stopped``: the search was
    stopped before it was done.
    """

    part: str
    goal: Goal
    works: bool
    reason: str
    short: Length
    answers: tuple[Fitted, ...]
    among: tuple[Length, ...] = ()
    place: BestHole | None = None
    sought: tuple[str, ...] = ()
    uncovered: float | None = None
    size: SizeBound | None = None
    stopped: bool = False
