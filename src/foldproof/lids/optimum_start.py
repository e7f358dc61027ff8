"""Good places at once: a coarse look over all turns and corners of the hole's region, each place pushed until it opens.

Nothing here is proved; what is found is measured, and polished elsewhere.
"""

from __future__ import annotations

import math

import numpy as np

from foldproof.geometry.common_area import common_with
from foldproof.geometry.cover import margins
from foldproof.geometry.outline import half_planes
from foldproof.geometry.plane import Array
from foldproof.geometry.swept import fewer_points_inside
from foldproof.lids.optimum_ground import BACK, HOLE_BACK, HOLE_RIGHT, OPEN, RIGHT, TURN, Cover, Ground
from foldproof.lids.optimum_measure import opened_shifts, turned_back
from foldproof.lids.optimum_polish import Task, merits

ROUGH_MM = 0.5  # the coarse look sees the lid with fewer points, as far off
CLOSED_STEP_RAD, MOST_CLOSED = math.radians(11.25), 16
OPEN_STEP_RAD = math.radians(15.0)
GRID = np.array([(x, y) for x in (-1.0, -0.5, 0.0, 0.5, 1.0) for y in (-1.0, -0.5, 0.0, 0.5, 1.0)])
GRID_ROUNDS, NEARER = 9, 0.55
PUSHES = 6
FARTHEST_MM = 20.0  # of one push
BEYOND = 1.2  # how much farther than straight a push goes: what is left covered is curved
APART_MM = 3.0  # two places nearer than this in each number, turns at the lever, are polished once
LEVER_MM = 50.0


def covering_starts(cover: Cover) -> Array:
    """Places (m, 6) with the best shift found at each of some closed turns, best margin first; holes and turns at 0."""
    turns = _closed_turns(cover)
    lid = _rough(cover.lid)
    middle, depth = cover.sides.middle, cover.sides.depth_mm
    radius = float(np.hypot(lid[:, 0], lid[:, 1]).max())
    shifts = np.tile(middle, (len(turns), 1))
    if not bool(np.all(np.isfinite(margins(lid, cover.sides, shifts_mm=shifts, turns_rad=turns)))):
        shifts = shifts - turned_back(_inner_point(lid)[None], -turns)
    given = np.array([np.nan if v is None else v for v in (cover.fixed.moved_right_mm, cover.fixed.moved_back_mm)])
    shifts = np.where(np.isnan(given), shifts, given)
    free = np.isnan(given).astype(np.float64)
    width = min(0.5 * radius, depth)
    for _ in range(GRID_ROUNDS):
        tried = shifts[:, None, :] + width * free * GRID
        every = np.repeat(turns, len(GRID))
        found = margins(lid, cover.sides, shifts_mm=tried.reshape(-1, 2), turns_rad=every).reshape(len(turns), -1)
        shifts = tried[np.arange(len(turns)), found.argmax(axis=1)]
        width *= NEARER
    places = np.zeros((len(turns), 6))
    places[:, TURN], places[:, RIGHT : BACK + 1] = turns, shifts
    order = np.argsort(-margins(lid, cover.sides, shifts_mm=shifts, turns_rad=turns), kind="stable")
    return places[order]


def _closed_turns(cover: Cover) -> Array:
    if cover.fixed.closed_turn_rad is not None:
        return np.array([cover.fixed.closed_turn_rad])
    period = 2.0 * math.pi / cover.fold
    count = min(MOST_CLOSED, max(1, math.ceil(period / CLOSED_STEP_RAD)))
    return period * np.arange(count) / count


def _rough(lid: Array) -> Array:
    return max(fewer_points_inside(lid, ROUGH_MM), key=len)


def _inner_point(lid: Array) -> Array:
    """A point well inside the lid, when its origin is not."""
    import shapely

    line = shapely.maximum_inscribed_circle(shapely.Polygon(lid), tolerance=1.0)
    return np.asarray(shapely.get_coordinates(line)[0])


def opening_starts(ground: Ground, task: Task, closed: Array, most: int) -> Array:
    """Up to ``most`` places (m, 6) to be polished, best first: closed places with holes and turns, pushed to open."""
    turns = _open_turns(ground)
    holes = ground.region if len(ground.region) < 3 else np.concatenate((ground.region, [ground.region.mean(axis=0)]))
    shape = (len(closed), len(holes), len(turns))
    which, hole, turn = (axis.ravel() for axis in np.indices(shape))
    places = closed[which].copy()
    places[:, HOLE_RIGHT : HOLE_BACK + 1] = holes[hole]
    places[:, OPEN] = turns[turn]
    rough = _rough(ground.cover.lid)
    pushed = _pushed(ground, rough, places)
    every = np.concatenate((places, pushed))
    values, _ = merits(task, every)
    return _apart(every[np.argsort(-values, kind="stable")], most)


def _open_turns(ground: Ground) -> Array:
    low, high = ground.turns
    count = max(1, math.ceil((high - low) / OPEN_STEP_RAD))
    return np.linspace(low, high, count + 1) if high > low else np.array([low])


def _pushed(ground: Ground, lid: Array, places: Array) -> Array:
    """Places whose closed shift is moved until no more of the opening than allowed stays covered, or nearly."""
    normals, offsets = half_planes(ground.opening)
    fixed = ground.cover.fixed
    free = np.array([fixed.moved_right_mm is None, fixed.moved_back_mm is None])
    places = places.copy()
    if not free.any():
        return places
    moving = np.arange(len(places))
    for _ in range(PUSHES):
        some = places[moving]
        turned = turned_back(normals[None], (some[:, TURN] + some[:, OPEN])[:, None])
        found = common_with(lid, turned, offsets - opened_shifts(some) @ normals.T)
        over = found.areas - ground.allowed_mm2
        # What is covered grows with each side's covered length, as the lid moves against that side's normal.
        pull = turned_back(found.sides @ normals, some[:, OPEN]) * free
        steep = np.hypot(pull[:, 0], pull[:, 1])
        moved = (over > 0.0) & (steep > 1.0)
        if not moved.any():
            break
        way = np.minimum(BEYOND * over[moved] / steep[moved], FARTHEST_MM) / steep[moved]
        moving = moving[moved]
        places[moving, RIGHT : BACK + 1] += way[:, None] * pull[moved]
    return places


def _apart(places: Array, most: int) -> Array:
    """The first of the places (m, 6) that are not near to one before them."""
    scale = np.array([LEVER_MM, 1.0, 1.0, 1.0, 1.0, LEVER_MM])
    kept: list[Array] = []
    for place in places:
        if all(float(np.abs((place - other) * scale).max()) > APART_MM for other in kept):
            kept.append(place)
        if len(kept) == most:
            break
    return np.array(kept).reshape(-1, 6)
