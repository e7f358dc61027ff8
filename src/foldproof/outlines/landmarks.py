"""Places on a traced outline that a maker can point at: where it is farthest from the middle, and nearest."""

from __future__ import annotations

import math
from typing import Literal

import numpy as np

from foldproof.geometry.outline import after_each, points_of, widest_mm
from foldproof.geometry.plane import Array, Point, Polygon
from foldproof.outlines.record import Landmark
from foldproof.outlines.walking import round_with_steps

LEAST_PROMINENCE_MM = 1.0  # a smaller wave is not seen as a tip
LEAST_PROMINENCE = 0.01  # and of the size across
LEVEL_MM = 0.05  # a tip is the middle of what is as far out as its farthest place, to the accuracy of an outline
STEPS_ROUND = 4000  # a tenth of a millimetre on a lid
FIRST_FROM_RAD = math.radians(-1.0)  # a tip meant to point along +x is the first, though it was traced just below


def landmarks_of(outline: Polygon, *, middle: Point = (0.0, 0.0)) -> tuple[Landmark, ...]:
    """Tips, then dips, of a simple anticlockwise outline in mm, each kind numbered anticlockwise from +x.

    A tip is farther from the middle than the outline on both sides of it by the prominence max(1 mm, 1 % across)
    at least, a dip nearer by as much. A disc has none.
    """
    points = points_of(outline)
    places = _with_nearest(points, np.asarray(middle))
    away = np.hypot(*(places - np.asarray(middle)).T)
    least = max(LEAST_PROMINENCE_MM, LEAST_PROMINENCE * widest_mm(points))
    tips, dips = _turning_places(away, least)
    return (*_named("tip", places, away, tips, middle), *_named("dip", places, -away, dips, middle))


def _with_nearest(points: Array, middle: Array) -> Array:
    """An outline in small steps, with the place of each edge that is nearest to the middle among them.

    Along an edge the distance falls to that place and rises after it, so no tip and no dip is missed.
    """
    ahead = after_each(points) - points
    squared = (ahead**2).sum(axis=1)
    share = ((middle - points) * ahead).sum(axis=1) / np.where(squared > 0.0, squared, 1.0)
    within = np.nonzero((share > 0.0) & (share < 1.0))[0]
    nearest = points[within] + share[within, None] * ahead[within]
    all_places: Array = np.insert(points, within + 1, nearest, axis=0)
    return round_with_steps(all_places, float(np.sqrt(squared).sum()) / STEPS_ROUND)


def _turning_places(away: Array, least: float) -> tuple[list[int], list[int]]:
    """Places round an outline where the distance turns, down (tips) and up (dips), by more than ``least`` each time.

    Going round from the farthest place, a tip is settled when the distance has fallen by ``least`` below it, a dip
    when it has risen by as much above it.
    """
    start = int(np.argmax(away))
    best, rising = start, True
    tips: list[int] = []
    dips: list[int] = []
    for step in range(len(away) + 1):
        place = (start + step) % len(away)
        if away[place] > away[best] if rising else away[place] < away[best]:
            best = place
        elif abs(away[best] - away[place]) >= least:
            (tips if rising else dips).append(best)
            best, rising = place, not rising
    assert len(tips) == len(dips), "between two tips there is a dip"
    return tips, dips


def _named(
    kind: Literal["tip", "dip"], places: Array, height: Array, found: list[int], middle: Point
) -> tuple[Landmark, ...]:
    marks = [_middle_of_level(places, height, place) for place in found]
    marks.sort(key=lambda mark: _bearing(mark, middle))
    return tuple(Landmark(name=f"{kind} {n}", kind=kind, at_mm=mark) for n, mark in enumerate(marks, start=1))


def _bearing(mark: Point, middle: Point) -> float:
    bearing = math.atan2(mark[1] - middle[1], mark[0] - middle[0])
    return (bearing - FIRST_FROM_RAD) % math.tau


def _middle_of_level(places: Array, height: Array, place: int) -> Point:
    """Halfway along what lies round a place at its height, to ``LEVEL_MM``."""
    count, floor = len(places), height[place] - LEVEL_MM
    before = next(n for n in range(1, count) if height[(place - n) % count] < floor)
    after = next(n for n in range(1, count) if height[(place + n) % count] < floor)
    level = np.arange(place - before + 1, place + after) % count
    along = np.concatenate(([0.0], np.cumsum(np.hypot(*np.diff(places[level], axis=0).T))))
    x, y = (np.interp(along[-1] / 2.0, along, places[level, axis]) for axis in (0, 1))
    return (float(x), float(y))
