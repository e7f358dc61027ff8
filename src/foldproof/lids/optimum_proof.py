"""The proof: cells are halved until no place better than the best found, by more than the aim, can be left in any.

For margins and distances of the hole a level is set a little above the best found and every cell let go at that level;
then the next level, nearer to the best. Cells that keep too much of the opening covered are gone for every level, the
others come back for the next. For the opening turn, cells are taken in the order of their least turn, so that the
least among those left is a bound at any time. Places found on the way that are better are polished and kept.
"""

from __future__ import annotations

import math
from collections.abc import Iterator
from dataclasses import dataclass

import numpy as np

from foldproof.geometry.plane import Array
from foldproof.geometry.swept import drawn_in_hull
from foldproof.lids.optimum_cells import (
    ROUNDING_MM2,
    Cells,
    Search,
    closely_reachable,
    corners_of,
    covered_in_middle,
    edge_reachable,
    far_from_edge,
    halved,
    joined,
    least_covered,
    places_with,
    reachable,
    root_cells,
    with_given,
)
from foldproof.lids.optimum_ground import OPEN, Ground
from foldproof.lids.optimum_halving import half_widths_of, middles_of
from foldproof.lids.optimum_measure import measures
from foldproof.lids.optimum_polish import Task, merits, polished
from foldproof.lids.optimum_reach import ROUNDING_MM, Level, moved_rim

AT_ONCE = 1024  # cells looked at in one round
TRIED = 64  # middles of cells that are measured in one round
LEVEL_SHARE = 0.3  # of the gap: how far above the best found the next level is set
LOOSE_SHARE = 1e-3  # of the room for holes: a notch smaller than this is not worth looking at patches
POLISHED_EVERY = 16  # rounds
SAME_MM, SAME_RAD = 1e-7, 1e-9  # a place better by less is the same


@dataclass(frozen=True, slots=True, kw_only=True)
class Progressed:
    """Where a stage stands: best place (6,) or None, its value, the bound, cells looked at; ``done`` within the aim.

    ``value`` is a margin, a turn (never below 0) or a distance; minus or plus infinity without a place.
    """

    place: Array | None
    value: float
    bound: float
    cells: int
    done: bool


def highest(search: Search, task: Task, place: Array | None, bound: float, aim: float) -> Iterator[Progressed]:
    """The largest margin ("margin") or distance of the hole from the edge ("edge"): better and better, until proved.

    ``bound`` is known already; the value without a place is the least that is looked for.
    """
    ground = search.ground
    least = ground.cover.least_mm if task.goal == "margin" else ground.to_lid_mm
    value = _value(task, place) if place is not None else least - aim
    looked = rounds = 0
    yield Progressed(place=place, value=value, bound=bound, cells=0, done=bound - value <= aim)
    if bound - value <= aim:
        return
    # Levels come down towards the best found: the first cells have to hold what the lowest of them leaves.
    first = root_cells(search, _level_at(search, task, value))
    open_cells = [first] if len(first) else []
    level = _next_level(search, task, value, bound, aim)
    parked: list[Cells] = []
    while bound - value > aim:
        while open_cells:
            batch = _next_batch(open_cells)
            left, halves = _looked_at(search, level, batch)
            parked.extend(left)
            looked += len(batch)
            if len(halves):
                open_cells.append(halves)
            better = _better_place(search, task, place, halves, rounds)
            rounds += 1
            if better is not None and _value(task, better) >= least:
                place, value = better, _value(task, better)
                if value >= _of_level(task, level) - SAME_MM:
                    level = _next_level(search, task, value, bound, aim)
            yield Progressed(place=place, value=value, bound=bound, cells=looked, done=bound - value <= aim)
        bound = max(value, min(bound, _of_level(task, level)))
        yield Progressed(place=place, value=value, bound=bound, cells=looked, done=bound - value <= aim)
        level = _next_level(search, task, value, bound, aim)
        open_cells, parked = parked, []


def _next_level(search: Search, task: Task, value: float, bound: float, aim: float) -> Level:
    """The next level to be proved empty: part of the way from the best found to the bound, and the aim at least."""
    return _level_at(search, task, value + max(aim * (1.0 - SAME_RAD), LEVEL_SHARE * (bound - value)))


def _level_at(search: Search, task: Task, asked: float) -> Level:
    if task.goal == "margin":
        return level_of(search.ground, asked, search.ground.to_lid_mm)
    return level_of(search.ground, task.margin_mm, asked)


def level_of(ground: Ground, margin_mm: float, to_lid_mm: float) -> Level:
    """A level. The hole's distance from the edge is looked at only where a margin does not see to it.

    A lid covers the rim moved out by its margin, so a hole is at least as far from its edge as from that rim's sides.
    """
    sides = ground.cover.sides
    room = float((sides.offsets - ground.region @ sides.normals.T).min()) + margin_mm
    moved = moved_rim(ground.cover, margin_mm)
    whole = all(each.shape == ground.cover.lid.shape and np.all(each == ground.cover.lid) for each in ground.pierced)
    if room >= to_lid_mm and margin_mm >= 0.0 and whole:
        return Level(margin_mm=margin_mm, moved=moved, to_lid_mm=to_lid_mm, holes=None, notched=False)
    hulls = [drawn_in_hull(each, to_lid_mm - ROUNDING_MM) for each in ground.pierced]
    holes, loose = min(hulls, key=lambda hull: float(np.ptp(hull[0], axis=0).sum()) if len(hull[0]) else 0.0)
    notched = loose > LOOSE_SHARE or len(hulls) > 1 or len(holes) < 3
    return Level(margin_mm=margin_mm, moved=moved, to_lid_mm=to_lid_mm, holes=holes, notched=notched)


def _of_level(task: Task, level: Level) -> float:
    return level.margin_mm if task.goal == "margin" else level.to_lid_mm


def _value(task: Task, place: Array) -> float:
    assert task.ground is not None, "a proof is of a hole"
    if task.goal == "angle":
        return abs(float(place[OPEN]))
    found = measures(task.ground, place[None])
    return float((found.margins if task.goal == "margin" else found.to_lid)[0])


def least_turn(search: Search, task: Task, place: Array | None, aim: float) -> Iterator[Progressed]:
    """The least opening turn with the task's margin: better and better, until proved."""
    level = level_of(search.ground, task.margin_mm, search.ground.to_lid_mm)
    value = _value(task, place) if place is not None else math.inf
    cells = root_cells(search, level)
    looked = rounds = 0
    bound = 0.0
    while True:
        keys = _least_turns(search, cells)
        cells, keys = cells.take(keys < value), keys[keys < value]
        bound = min(value, max(bound, float(keys.min(initial=math.inf))))  # halves may differ by rounding
        done = bound >= value - aim
        yield Progressed(place=place, value=value, bound=bound, cells=looked, done=done)
        if done:
            return
        order = np.argsort(keys, kind="stable")
        batch, rest = cells.take(order[:AT_ONCE]), cells.take(order[AT_ONCE:])
        _, halves = _looked_at(search, level, batch)
        looked += len(batch)
        better = _better_place(search, task, place, halves, rounds)
        rounds += 1
        if better is not None:
            place, value = better, _value(task, better)
        cells = joined(rest, halves)


def _least_turns(search: Search, cells: Cells) -> Array:
    """The least turn of each cell, either way: (m,)."""
    middles = np.abs(middles_of(search.opened, cells.opened))
    return np.maximum(middles - half_widths_of(search.opened, cells.opened), 0.0)


def _next_batch(open_cells: list[Cells]) -> Cells:
    """The last cells of the list, ``AT_ONCE`` of them or all."""
    taken: list[Cells] = []
    count = 0
    while open_cells and count < AT_ONCE:
        last = open_cells.pop()
        room = AT_ONCE - count
        if len(last) > room:
            open_cells.append(last.take(slice(room, None)))
            last = last.take(slice(0, room))
        taken.append(last)
        count += len(last)
    return joined(*taken)


def _looked_at(search: Search, level: Level, cells: Cells) -> tuple[list[Cells], Cells]:
    """Cells let go at this level, and the halves of those that are left; those gone for good are in neither."""
    parked = []
    kept = reachable(search, level, cells)
    parked.append(cells.take(~kept))
    cells = cells.take(kept)
    if level.holes is not None and len(cells):
        kept = edge_reachable(search, level, cells)
        if level.notched and kept.any():
            kept[kept] = far_from_edge(search, level, cells.take(kept))
        parked.append(cells.take(~kept))
        cells = cells.take(kept)
    if len(cells):
        cells = cells.take(least_covered(search, cells) <= search.ground.allowed_mm2 + ROUNDING_MM2)
    if len(cells):
        kept = closely_reachable(search, level, cells)
        parked.append(cells.take(~kept))
        cells = cells.take(kept)
    if len(cells):
        cells = halved(search, cells, patches=level.notched)
    return [each for each in parked if len(each)], cells


def _better_place(search: Search, task: Task, best: Array | None, cells: Cells, round_number: int) -> Array | None:
    """A place better than the best among the middles of cells, polished; None when there is none.

    A middle that is not better itself, because it misses a limit by a little, is polished only now and then.
    """
    if not len(cells):
        return None
    step = max(1, len(cells) // TRIED)
    some = cells.take(slice(None, None, step))
    some = some.take(covered_in_middle(search, some) <= search.ground.allowed_mm2)
    if not len(some):
        return None
    corners = corners_of(search, some.patch)
    tried = [places_with(search, some, corners[:, number]) for number in range(corners.shape[1])]
    tried.append(places_with(search, some, corners.mean(axis=1)))
    places = with_given(search, np.concatenate(tried))
    found, _ = merits(task, places)
    first = int(found.argmax())
    now = float(merits(task, best[None])[0][0]) if best is not None else -math.inf
    if found[first] <= now and round_number % POLISHED_EVERY:
        return None
    place, miss = polished(task, places[first])
    gained = float(merits(task, place[None])[0][0]) - now
    return place if miss == 0.0 and gained > SAME_MM else None
