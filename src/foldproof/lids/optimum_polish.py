"""A good place made better: straight programmes from step to step, each within the reach where straight is true.

Near a place margins, areas and distances are nearly straight in all six numbers of it. Each round asks for the best
step within a small reach and measures where it leads; a step that helps widens the reach, one that does not
narrows it. Every answer is a measured place, so nothing here needs to be proved.
"""

from __future__ import annotations

import math
from dataclasses import dataclass
from itertools import combinations

import numpy as np

from foldproof.geometry.outline import after_each, half_planes, placed
from foldproof.geometry.plane import Array
from foldproof.geometry.small_programme import lowest
from foldproof.lids.optimum_ground import BACK, HOLE_BACK, HOLE_RIGHT, OPEN, RIGHT, TURN, Cover, Ground
from foldproof.lids.optimum_measure import (
    covered_areas,
    hole_distances,
    holes_outside,
    measures,
    opened_shifts,
    place_margins,
    turned_back,
)
from foldproof.lids.optimum_records import Goal

LEVER_MM = 50.0  # a turn counts as the way of a point so far from its middle: about half a box
FIRST_REACH_MM, LEAST_REACH_MM = 4.0, 2e-5  # of a step: a twentieth of a box, and finer than any answer is read
WIDER, NARROWER = 1.6, 0.3
ROUNDS = 40
ACROSS_MM = 30.0  # width of what is left covered, about: turns an area too large into a length
MISS_COST = 4.0  # of a mm missing against a mm of margin or distance: more than is ever gained by it
TURN_COST = 400.0  # of a mm missing against a mm of turn at the lever: near the best, turns are that steep
CLEAR_MM = 1e-6  # kept from every limit, against rounding
SLIGHT_SHARE = 1e-4  # of the opening: less may stay covered only by touching, which areas measure badly
DIFFERENCE_MM = 1e-3  # to either side, when an area's slope is measured
MOST_ROWS = 40  # of one kind in a programme: the nearest ones matter


@dataclass(frozen=True, slots=True, kw_only=True)
class Task:
    """What a place is to be made better in. ``ground`` None: cover alone, no hole.

    "margin": margin. "angle": a smaller turn, keeping ``margin_mm``. "edge": the hole farther from the edge,
    keeping ``margin_mm``.
    """

    cover: Cover
    ground: Ground | None
    goal: Goal
    margin_mm: float = 0.0


@dataclass(frozen=True, slots=True, kw_only=True)
class _Rows:
    """Values that must not fall below nought (or below the goal's value), and their slopes by column: (c,), (c, 6)."""

    values: Array
    slopes: Array


def polished(task: Task, place: Array, least_reach_mm: float = LEAST_REACH_MM) -> tuple[Array, float]:
    """A place (6,) at least as good as the given one, and how far it misses its limits in mm: 0 when it keeps all."""
    free, ground = _free_directions(task), task.ground
    here, merit, miss = place, *_merit(task, place)
    reach = FIRST_REACH_MM
    for _ in range(ROUNDS):
        if reach < least_reach_mm or not free.shape[1]:
            break
        tried = here + free @ _step(task, here, free, reach)
        if ground is not None:
            tried[OPEN] = min(max(tried[OPEN], ground.turns[0]), ground.turns[1])
        tried_merit, tried_miss = _merit(task, tried)
        if tried_merit > merit:
            gained = tried_merit - merit
            here, merit, miss = tried, tried_merit, tried_miss
            reach *= WIDER if gained > 0.1 * reach else 1.0
            if gained < least_reach_mm:
                reach *= NARROWER
        else:
            reach *= NARROWER
    return here, miss


def merits(task: Task, places: Array) -> tuple[Array, Array]:
    """How good places (m, 6) are in mm, and how far each misses its limits in mm; a miss costs more than it gains."""
    ground = task.ground
    if ground is None:
        margins = place_margins(task.cover, places)
        return margins, np.where(np.isfinite(margins), 0.0, math.inf)
    found = measures(ground, places)
    over = np.maximum(found.covered - ground.allowed_mm2, 0.0)
    # Little areas are wedges and lenses: their width goes with the root.
    misses = np.maximum(over / ACROSS_MM, np.where(over > 0.0, 0.1 * np.sqrt(over), 0.0))
    misses = misses + np.maximum(ground.to_lid_mm - found.to_lid, 0.0) + holes_outside(ground, places)
    if task.goal == "margin":
        value = found.margins
    else:
        misses = misses + np.maximum(task.margin_mm - found.margins, 0.0)
        value = -LEVER_MM * np.abs(places[:, OPEN]) if task.goal == "angle" else found.to_lid
    return value - _miss_cost(task) * misses, misses


def _miss_cost(task: Task) -> float:
    return TURN_COST if task.goal == "angle" else MISS_COST


def _merit(task: Task, place: Array) -> tuple[float, float]:
    values, misses = merits(task, place[None])
    return float(values[0]), float(misses[0])


def _free_directions(task: Task) -> Array:
    """Columns (6, f): how a place changes with each number left open, all of them in mm."""
    fixed, ground = task.cover.fixed, task.ground
    found: list[Array] = []
    for column, given, scale in (
        (TURN, fixed.closed_turn_rad, 1.0 / LEVER_MM),
        (RIGHT, fixed.moved_right_mm, 1.0),
        (BACK, fixed.moved_back_mm, 1.0),
    ):
        if given is None:
            found.append(scale * np.eye(6)[column])
    if ground is not None:
        if len(ground.region) >= 3:
            found += [np.eye(6)[HOLE_RIGHT], np.eye(6)[HOLE_BACK]]
        elif len(ground.region) == 2:
            along = ground.region[1] - ground.region[0]
            found.append(np.concatenate(([0.0, 0.0, 0.0], along / np.hypot(*along), [0.0])))
        if ground.turns[1] > ground.turns[0]:
            found.append(np.eye(6)[OPEN] / LEVER_MM)
    return np.array(found).reshape(-1, 6).T


def _step(task: Task, here: Array, free: Array, reach: float) -> Array:
    """The best step (f,) of the free directions within reach; its last two unknowns are a value and a miss."""
    count = free.shape[1]
    cost = np.zeros(count + 2)
    cost[count], cost[count + 1] = (0.0 if task.goal == "angle" else -1.0), _miss_cost(task)
    if task.goal == "angle":
        cost[:count] = math.copysign(LEVER_MM, here[OPEN]) * free[OPEN]
    walls: list[Array] = []
    limits: list[Array] = []

    def at_least(rows: _Rows, level: float, valued: bool) -> None:
        """The rows stay at least as high as a level, or as the value looked for; else they miss."""
        wall = np.zeros((len(rows.values), count + 2))
        wall[:, :count] = -rows.slopes @ free
        wall[:, count if valued else count + 1] = 1.0 if valued else -1.0
        walls.append(wall)
        limits.append(rows.values - level)

    cover = _cover_rows(task.cover, here, reach)
    at_least(cover, 0.0 if task.goal == "margin" else task.margin_mm + CLEAR_MM, task.goal == "margin")
    value = float(cover.values.min()) if task.goal == "margin" else 0.0
    if task.ground is not None:
        at_least(_uncovered_rows(task.ground, here, reach), 0.0, False)
        edges = _edge_rows(task.ground, here, reach)
        at_least(edges, task.ground.to_lid_mm + CLEAR_MM, False)
        if task.goal == "edge":
            at_least(edges, 0.0, True)
            value = float(edges.values.min())
        _region_walls(task.ground, here, free, walls, limits)
    # The value is measured from what it is here, and all of it in reaches, so that the programme's numbers stay near 1.
    shape = np.concatenate((np.eye(count + 2), -np.eye(count + 2)))
    shape = np.delete(shape, count + 1, axis=0)  # a miss costs, so it needs no upper end
    bounds = np.full(2 * count + 3, reach)
    bounds[[count, -2, -1]] = (value + 6.0 * reach, 6.0 * reach - value, 0.0)
    walls.append(shape)
    limits.append(bounds)
    every, ends = np.concatenate(walls), np.concatenate(limits)
    ends = ends - every[:, count] * value
    return reach * lowest(cost, every, ends / reach)[:count]


def _cover_rows(cover: Cover, here: Array, reach: float) -> _Rows:
    points = placed(cover.lid, turn_rad=float(here[TURN]), shift_mm=(float(here[RIGHT]), float(here[BACK])))
    values, pulls, at = _nearest(points, cover.sides.normals, cover.sides.offsets, 3.0 * reach)
    slopes = np.zeros((len(values), 6))
    slopes[:, RIGHT : BACK + 1] = pulls
    slopes[:, TURN] = _turned_pull(pulls, at - here[RIGHT : BACK + 1])
    return _Rows(values=values, slopes=slopes)


def _turned_pull(pulls: Array, arms: Array) -> Array:
    """How values grow when points at the ends of arms (c, 2) turn anticlockwise: pull times the arm's quarter turn."""
    slopes: Array = pulls[:, 1] * arms[:, 0] - pulls[:, 0] * arms[:, 1]
    return slopes


def _nearest(points: Array, normals: Array, offsets: Array, reach: float) -> tuple[Array, Array, Array]:
    """Places on an outline (n, 2) where sides moved outwards meet it first: how far, the pull there, the place.

    A pull (c, 2) is how the distance grows as the place moves: a side's normal, or where two sides meet on an edge
    the mean of theirs that stays the same along it.
    """
    levels = normals @ points.T - offsets[:, None]
    top, side = levels.max(axis=0), levels.argmax(axis=0)
    values, pulls, at = [top], [normals[side]], [points]
    ahead = after_each(points) - points
    floor = 0.5 * (top + after_each(top) - np.hypot(ahead[:, 0], ahead[:, 1]))
    edges = np.flatnonzero(floor < top.min() + reach)
    start = levels[:, edges]
    slope = levels[:, (edges + 1) % len(points)] - start
    ends = np.minimum(top[edges], after_each(top)[edges])
    for one, other in combinations(range(len(normals)), 2):
        closing = slope[other] - slope[one]
        share = np.divide(start[one] - start[other], closing, out=np.full(len(edges), -1.0), where=closing != 0.0)
        level = start[one] + share * slope[one]
        reached = (start + share * slope).max(axis=0)
        kept = (share > 0.0) & (share < 1.0) & (level >= reached - CLEAR_MM) & (level < ends)
        if kept.any():
            weight = (slope[other] / np.where(closing != 0.0, closing, 1.0))[kept, None]
            values.append(level[kept])
            pulls.append(weight * normals[one] + (1.0 - weight) * normals[other])
            at.append(points[edges[kept]] + share[kept, None] * ahead[edges[kept]])
    every = np.concatenate(values)
    order = np.argsort(every, kind="stable")[:MOST_ROWS]
    order = order[every[order] <= every[order[0]] + reach]
    return every[order], np.concatenate(pulls)[order], np.concatenate(at)[order]


def _uncovered_rows(ground: Ground, here: Array, reach: float) -> _Rows:
    """How far the lid is from covering too much. Where next to nothing may be covered, its distance from it."""
    steps = np.concatenate((np.zeros((1, 6)), DIFFERENCE_MM * _SCALED, -DIFFERENCE_MM * _SCALED))
    areas = covered_areas(ground, ground.cover.lid, here + steps)
    if ground.allowed_mm2 > SLIGHT_SHARE * ground.opening_mm2 or areas[0] > ACROSS_MM:
        growth = (areas[1:7] - areas[7:]) / (2.0 * DIFFERENCE_MM) / np.diag(_SCALED)
        spare = ground.allowed_mm2 * (1.0 - 1e-9) - CLEAR_MM - areas[0]
        return _Rows(values=np.array([spare]) / ACROSS_MM, slopes=-growth[None] / ACROSS_MM)
    normals, offsets = half_planes(ground.opening)
    hole = here[HOLE_RIGHT : HOLE_BACK + 1]
    arms = placed(ground.cover.lid, turn_rad=float(here[TURN] + here[OPEN]))
    shift = opened_shifts(here[None])[0]
    values, pulls, at = _nearest(arms + shift, normals, offsets, 3.0 * reach)
    slopes = np.zeros((len(values), 6))
    slopes[:, TURN] = _turned_pull(pulls, at - shift)
    slopes[:, OPEN] = _turned_pull(pulls, at - hole)
    slopes[:, RIGHT : BACK + 1] = turned_back(pulls, here[OPEN])
    slopes[:, HOLE_RIGHT : HOLE_BACK + 1] = pulls - slopes[:, RIGHT : BACK + 1]
    return _Rows(values=values - CLEAR_MM, slopes=slopes)


_SCALED = np.diag([1.0 / LEVER_MM, 1.0, 1.0, 1.0, 1.0, 1.0 / LEVER_MM])


def _edge_rows(ground: Ground, here: Array, reach: float) -> _Rows:
    """Distances of the hole from the nearest edges of what it pierces; one measured slope when it lies outside."""
    hole, shift = here[HOLE_RIGHT : HOLE_BACK + 1], here[RIGHT : BACK + 1]
    values, away = [], []
    for outline in ground.pierced:
        posed = placed(outline, turn_rad=float(here[TURN]), shift_mm=(float(shift[0]), float(shift[1])))
        ahead = after_each(posed) - posed
        long = np.maximum((ahead**2).sum(axis=1), 1e-18)
        share = np.clip(((hole - posed) * ahead).sum(axis=1) / long, 0.0, 1.0)
        nearest = hole - (posed + share[:, None] * ahead)
        values.append(np.hypot(nearest[:, 0], nearest[:, 1]))
        away.append(nearest)
    every, ways = np.concatenate(values), np.concatenate(away)
    inside = float(hole_distances(ground, here[None])[0]) >= 0.0
    order = np.argsort(every, kind="stable")[: MOST_ROWS if inside else 1]
    order = order[every[order] <= every[order[0]] + 3.0 * reach]
    distances = every[order]
    pulls = ways[order] / np.maximum(distances, 1e-9)[:, None]
    if not inside:
        distances, pulls = -distances, -pulls
    slopes = np.zeros((len(distances), 6))
    slopes[:, HOLE_RIGHT : HOLE_BACK + 1], slopes[:, RIGHT : BACK + 1] = pulls, -pulls
    slopes[:, TURN] = -_turned_pull(pulls, (hole - shift)[None])
    return _Rows(values=distances, slopes=slopes)


def _region_walls(ground: Ground, here: Array, free: Array, walls: list[Array], limits: list[Array]) -> None:
    """The hole stays in its region, and the opening turn between its limits."""
    count = free.shape[1]
    hole = here[HOLE_RIGHT : HOLE_BACK + 1]
    if len(ground.region) >= 3:
        normals, offsets = half_planes(ground.region)
    elif len(ground.region) == 2:
        along = ground.region[1] - ground.region[0]
        normals = np.array([along, -along]) / np.hypot(*along)
        offsets = np.array([normals[0] @ ground.region[1], normals[1] @ ground.region[0]])
    else:
        normals, offsets = np.empty((0, 2)), np.empty(0)
    wall = np.zeros((len(normals) + 2, count + 2))
    wall[: len(normals), :count] = normals @ free[HOLE_RIGHT : HOLE_BACK + 1]
    wall[len(normals) :, :count] = LEVER_MM * np.stack((free[OPEN], -free[OPEN]))
    low, high = ground.turns
    walls.append(wall)
    turns = LEVER_MM * np.array([max(high - here[OPEN], 0.0), max(here[OPEN] - low, 0.0)])
    limits.append(np.concatenate((np.maximum(offsets - normals @ hole, 0.0), turns)))
