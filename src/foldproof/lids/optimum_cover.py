"""Where a lid covers a rim best: global, with a bound.

Places are cells: an interval of closed turns and a rectangle of shifts. No point of a lid moves farther between two
places of a cell than their shifts differ, once the lid is replaced by what it reaches at any turn of the interval;
and a margin changes by no more than that, side by side. So the margin of that larger lid in the cell's middle, and the
farthest the rectangle lets a side fall back, bound every margin in the cell. The cell with the highest bound is
halved until no bound is more than the aim above the best margin found.
"""

from __future__ import annotations

import math
from collections.abc import Iterator
from dataclasses import dataclass

import numpy as np

from foldproof.geometry.cover import margins
from foldproof.geometry.outline import Flags, enclosed_mm2
from foldproof.geometry.plane import Array, Polygon
from foldproof.lids.optimum_ground import (
    BACK,
    RIGHT,
    TURN,
    Cover,
    cover_of,
)
from foldproof.lids.optimum_halving import Halving, Places, half_widths_of, halves_of, intervals, middles_of
from foldproof.lids.optimum_measure import own_place, place_margins
from foldproof.lids.optimum_polish import Task, polished
from foldproof.lids.optimum_records import ANYWHERE, MOST_CELLS, BestCover, Fixed
from foldproof.lids.optimum_start import covering_starts
from foldproof.lids.optimum_sweeps import Sweeps, reached_by
from foldproof.progress import Progress, unwatched

FIRST_TURNS_RAD = 0.4  # the widest interval of closed turns begun with
AT_ONCE = 1024  # cells halved in one round
POLISHED = 3  # starts that are polished
ROUNDING_MM = 1e-7  # allowed for in every bound: far more than arithmetic loses on a 1 m sheet
NEAR = 1e-3  # share of the aim by which a found place must be better to be worth polishing


@dataclass(frozen=True, slots=True, kw_only=True)
class CoverState:
    """The best place (6,) so far and its margin, what bounds all others, and how many cells were looked at.

    ``left``: cells that may hold something better by more than the aim.
    """

    place: Array
    margin_mm: float
    bound_mm: float
    cells: int
    left: int


@dataclass(frozen=True, slots=True, kw_only=True)
class _Cells:
    """Cells (m,): which interval of turns, the middle and half width (m, 2) of the shifts, a bound on the margin."""

    turns: Places
    middles: Array
    halves: Array
    bounds: Array

    def take(self, which: Flags | Places) -> _Cells:
        return _Cells(
            turns=self.turns[which], middles=self.middles[which], halves=self.halves[which], bounds=self.bounds[which]
        )


def best_cover(
    lid: Polygon,
    rim: Polygon,
    *,
    fixed: Fixed = ANYWHERE,
    within_mm: float = 0.01,
    progress: Progress = unwatched,
    most_cells: int = MOST_CELLS,
) -> BestCover:
    """The largest mitred margin of a lid (any simple outline) over a convex rim, over all places left open.

    ``progress`` is told "lid_cover" with the cells looked at. Raises InputError for outlines that cannot be used.
    """
    cover = cover_of(lid, rim, fixed)
    state, stopped = None, False
    for state in covering(cover, within_mm):
        stopped = not progress("lid_cover", state.cells, most_cells)
        if stopped or state.cells >= most_cells:
            break
    assert state is not None, "a search has a first state"
    return _told(cover, state, within_mm, stopped)


def _told(cover: Cover, state: CoverState, within_mm: float, stopped: bool) -> BestCover:
    turn, right, back = own_place(cover, state.place)
    return BestCover(
        closed_turn_rad=turn,
        moved_right_mm=right,
        moved_back_mm=back,
        margin_mm=state.margin_mm,
        bound_mm=state.bound_mm,
        cells=state.cells,
        finished=state.bound_mm - state.margin_mm <= within_mm,
        stopped=stopped,
    )


def covering(cover: Cover, within_mm: float, enough_mm: float = math.inf) -> Iterator[CoverState]:
    """States that get better, the first at once; ends when the bound is within reach or the question is settled.

    It is settled when a margin of ``enough_mm`` is found, or proved to be nowhere.
    """
    task = Task(cover=cover, ground=None, goal="margin")
    starts = covering_starts(cover)[:POLISHED]
    place, margin = starts[0], float(place_margins(cover, starts[:1])[0])
    for start in starts:
        tried, _ = polished(task, start)
        reached = float(place_margins(cover, tried[None])[0])
        if reached > margin:
            place, margin = tried, reached
    turns = closed_turns(cover)
    sweeps = Sweeps(lid=cover.lid)
    cells = _roots(cover, turns)
    looked = 0
    dropped = -math.inf  # the highest bound of the cells let go
    while True:
        floor = max(margin, cover.least_mm)
        keep = cells.bounds > floor + within_mm
        dropped = max(dropped, float(cells.bounds[~keep].max(initial=-math.inf)))
        cells = cells.take(keep)
        bound = max(margin, dropped, float(cells.bounds.max(initial=-math.inf)))
        yield CoverState(place=place, margin_mm=margin, bound_mm=bound, cells=looked, left=len(cells.bounds))
        if not len(cells.bounds) or margin >= enough_mm or bound < enough_mm < math.inf:
            return
        first = np.argsort(-cells.bounds, kind="stable")
        chosen, rest = cells.take(first[:AT_ONCE]), cells.take(first[AT_ONCE:])
        halved = _bounded(cover, turns, sweeps, _halved(turns, sweeps, chosen))
        looked += len(halved.bounds)
        tried_place, tried_margin = _best_middle(cover, turns, halved)
        if tried_margin > margin + NEAR * within_mm:
            place, _ = polished(task, tried_place)
            margin = float(place_margins(cover, place[None])[0])
        cells = _joined(rest, halved)


def closed_turns(cover: Cover) -> Halving:
    """All closed turns there are: one, when it is given; else those up to the lid's own symmetry."""
    given = cover.fixed.closed_turn_rad
    if given is not None:
        return intervals(given, given, FIRST_TURNS_RAD)
    return intervals(0.0, 2.0 * math.pi / cover.fold, FIRST_TURNS_RAD)


def _roots(cover: Cover, turns: Halving) -> _Cells:
    """One cell for each interval of turns: the rim's innermost point must be under the lid."""
    radius = float(np.hypot(cover.lid[:, 0], cover.lid[:, 1]).max())
    centre, half = cover.sides.middle.copy(), np.array([radius, radius])
    for axis, given in enumerate((cover.fixed.moved_right_mm, cover.fixed.moved_back_mm)):
        if given is not None:
            centre[axis], half[axis] = given, 0.0
    count = len(turns.middles)
    return _Cells(
        turns=np.arange(count),
        middles=np.tile(centre, (count, 1)),
        halves=np.tile(half, (count, 1)),
        bounds=np.full(count, math.inf),
    )


def _halved(turns: Halving, sweeps: Sweeps, cells: _Cells) -> _Cells:
    """Each cell cut in two where it is widest: in its turns, counted by what they add to the lid, or a shift."""
    area, outline = enclosed_mm2(sweeps.lid), sweeps.lid
    around = float(np.hypot(*(np.roll(outline, -1, axis=0) - outline).T).sum())
    widths = half_widths_of(turns, cells.turns)
    grown = {w: (enclosed_mm2(reached_by(sweeps, w)) - area) / around for w in np.unique(widths).tolist()}
    across = np.column_stack((np.array([grown[w] for w in widths.tolist()]), cells.halves))
    across[:, 0] = np.where(widths > 0.0, across[:, 0] + ROUNDING_MM, -1.0)
    axis = across.argmax(axis=1)
    low, high = cells.turns.copy(), cells.turns.copy()
    turned = axis == 0
    low[turned], high[turned] = halves_of(turns, cells.turns[turned])
    halves = cells.halves.copy()
    halves[axis == 1, 0] *= 0.5
    halves[axis == 2, 1] *= 0.5
    step = np.where(axis[:, None] == [1, 2], halves, 0.0)
    return _Cells(
        turns=np.concatenate((low, high)),
        middles=np.concatenate((cells.middles - step, cells.middles + step)),
        halves=np.concatenate((halves, halves)),
        bounds=np.concatenate((cells.bounds, cells.bounds)),
    )


def _bounded(cover: Cover, turns: Halving, sweeps: Sweeps, cells: _Cells) -> _Cells:
    """The cells with their bounds."""
    found = np.empty(len(cells.bounds))
    widths, middles = half_widths_of(turns, cells.turns), middles_of(turns, cells.turns)
    for width in np.unique(widths).tolist():
        some = widths == width
        found[some] = margins(
            reached_by(sweeps, width), cover.sides, shifts_mm=cells.middles[some], turns_rad=middles[some]
        )
    falls = (np.abs(cover.sides.normals) @ cells.halves.T).max(axis=0)
    # Where the middle of the rim is not covered in the cell's middle, an edge passes it within the cell.
    hidden = -cover.sides.depth_mm + 2.0 * np.hypot(cells.halves[:, 0], cells.halves[:, 1])
    bounds = np.where(np.isfinite(found), np.maximum(found + falls, hidden), hidden) + ROUNDING_MM
    return _Cells(
        turns=cells.turns, middles=cells.middles, halves=cells.halves, bounds=np.minimum(cells.bounds, bounds)
    )


def _best_middle(cover: Cover, turns: Halving, cells: _Cells) -> tuple[Array, float]:
    """The middle with the largest margin among the cells with the highest bounds."""
    first = np.argsort(-cells.bounds, kind="stable")[: AT_ONCE // 8]
    places = np.zeros((len(first), 6))
    places[:, TURN] = middles_of(turns, cells.turns[first])
    places[:, RIGHT : BACK + 1] = cells.middles[first]
    found = place_margins(cover, places)
    best = int(found.argmax())
    return places[best], float(found[best])


def _joined(one: _Cells, other: _Cells) -> _Cells:
    return _Cells(
        turns=np.concatenate((one.turns, other.turns)),
        middles=np.concatenate((one.middles, other.middles)),
        halves=np.concatenate((one.halves, other.halves)),
        bounds=np.concatenate((one.bounds, other.bounds)),
    )
