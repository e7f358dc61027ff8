"""Two ways people read a list of score positions, and what each does on a sheet that is off its size.

One reads every position from the same edge. The other reads the first half from that edge, turns the sheet,
and reads the rest from the opposite edge, as lists printed once for both ends ask for. On a sheet of exactly
the intended size the lines are the same. On any other sheet the difference lands in different panels.
"""

from __future__ import annotations

from bisect import bisect_right
from collections.abc import Sequence
from dataclasses import dataclass
from itertools import pairwise
from typing import Literal

from foldproof.lengths import ZERO, Length
from foldproof.stock.errors import StockError


@dataclass(frozen=True, slots=True, kw_only=True)
class Readings:
    """Panel widths in both readings, along one side, from the first edge.

    ``change`` is the real side less the intended one. All of it goes into one panel: the panel at index
    ``one_edge_panel`` (always the last) or ``each_edge_panel`` (the one across the middle line).
    ``from_far_edge`` are the figures read after turning the sheet, in the order of the positions.
    ``differ_mm`` is the most any panel differs between the readings. ``trim_first_mm`` is what to cut off a
    sheet that is too long before scoring; then the readings agree.
    """

    one_edge: tuple[Length, ...]
    each_edge: tuple[Length, ...]
    one_edge_panel: int
    each_edge_panel: int
    from_far_edge: tuple[Length, ...]
    change: Length
    differ_mm: float
    safer: Literal["one edge", "each edge", "same"]
    trim_first_mm: float


def compare_readings(positions: Sequence[Length], intended: Length, real: Length) -> Readings:
    """Both readings of ``positions`` (from one edge, rising, inside the intended side) on the real side.

    A position exactly in the middle is read from the first edge, before the sheet is turned.

    The safer reading keeps the middle panels and the walls at size and lets only the last outer panel (a
    flap or the end of an inner wall) change: that is 'one edge', also for a sheet that is too long, with the
    excess in ``trim_first_mm``. 'each edge' is safer only where a short sheet would leave no last panel at
    all. 'same' means that every panel is the same in both.

    Raises StockError for positions out of order or off the sheet, and for a sheet so short that each reading
    loses a panel.
    """
    _check(positions, intended)
    change = real - intended
    turned_from = bisect_right(positions, intended / 2)
    one_edge = _widths((ZERO, *positions, real))
    each_edge = _widths(
        (ZERO, *positions[:turned_from], *(line + change for line in positions[turned_from:]), real)
    )
    widest_gap = max(abs(one - each) for one, each in zip(one_edge, each_edge, strict=True))
    return Readings(
        one_edge=one_edge,
        each_edge=each_edge,
        one_edge_panel=len(positions),
        each_edge_panel=turned_from,
        from_far_edge=tuple(intended - line for line in positions[turned_from:]),
        change=change,
        differ_mm=widest_gap.float_mm,
        safer=_safer(one_edge, each_edge),
        trim_first_mm=max(change, ZERO).float_mm,
    )


def _safer(
    one_edge: tuple[Length, ...], each_edge: tuple[Length, ...]
) -> Literal["one edge", "each edge", "same"]:
    one_edge_whole, each_edge_whole = min(one_edge) > ZERO, min(each_edge) > ZERO
    if not one_edge_whole and not each_edge_whole:
        raise StockError("the sheet is too short for these score lines", "take a longer sheet")
    if one_edge == each_edge:
        return "same"
    return "one edge" if one_edge_whole else "each edge"


def _widths(lines: Sequence[Length]) -> tuple[Length, ...]:
    return tuple(after - before for before, after in pairwise(lines))


def _check(positions: Sequence[Length], intended: Length) -> None:
    if min(_widths((ZERO, *positions, intended))) <= ZERO:
        raise StockError(
            "the score positions do not rise from one edge to the other",
            "write each position from the same edge, the smallest first, all inside the sheet",
        )
