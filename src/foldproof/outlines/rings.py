"""Closed outlines lying in one another: which are holes of which, and the list a maker chooses from."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass
from typing import Literal

import numpy as np

from foldproof.geometry.outline import enclosed_mm2
from foldproof.geometry.plane import Array, Point
from foldproof.outlines.budget import too_much
from foldproof.outlines.crossing import turns_round

FillRule = Literal["nonzero", "evenodd"]

MOST_NESTED = 10_000  # pairs of outlines of which one may lie in the other


@dataclass(frozen=True, slots=True, kw_only=True)
class Ring:
    """A closed outline (n, 2) in mm, either way round, and those right inside it that are not part of its area."""

    name: str
    points: Array
    holes: tuple[Array, ...] = ()


def around_each(rings: Sequence[Array]) -> list[list[int]]:
    """For each closed outline the numbers of those that it lies in, smallest first.

    Told by one place inside it, so outlines that cross each other count as lying in one another or not.
    Raises InputError when far too many lie in one another.
    """
    boxes = np.array([[*ring.min(axis=0), *ring.max(axis=0)] for ring in rings]).reshape(-1, 4)
    areas = np.array([abs(enclosed_mm2(ring)) for ring in rings])
    found: list[list[int]] = []
    looked = 0
    for number, ring in enumerate(rings):
        box = boxes[number]
        within = (boxes[:, 0] <= box[0]) & (boxes[:, 1] <= box[1]) & (boxes[:, 2] >= box[2]) & (boxes[:, 3] >= box[3])
        candidates = np.nonzero(within & (areas > areas[number]))[0].tolist()
        looked += len(candidates)
        if looked > MOST_NESTED:
            raise too_much("outlines inside one another")
        place = place_inside(ring) if candidates else (0.0, 0.0)
        around = [other for other in candidates if turns_round(rings[other], place) != 0]
        found.append(sorted(around, key=lambda other: (areas[other], other)))
    return found


def place_inside(ring: Array) -> Point:
    """A place inside a closed outline (n, 2), also one that crosses itself: in the widest stretch of one level.

    The level lies in the widest gap between the heights of its points, so that it runs through none of them.
    """
    x, y = ring[:, 0], ring[:, 1]
    heights = np.unique(y)
    if len(heights) < 2:
        return (float(x[0]), float(y[0]))
    gap = int(np.argmax(np.diff(heights)))
    level = float(heights[gap] + heights[gap + 1]) / 2.0
    after_x, after_y = np.roll(x, -1), np.roll(y, -1)
    crossing = (y > level) != (after_y > level)
    share = (level - y[crossing]) / (after_y[crossing] - y[crossing])
    places = np.sort(x[crossing] + share * (after_x[crossing] - x[crossing]))
    widest = int(np.argmax(places[1::2] - places[::2]))
    return (float(places[2 * widest] + places[2 * widest + 1]) / 2.0, level)


def filled(name: str, rings: Sequence[Array], rule: FillRule) -> list[Ring]:
    """The areas that closed outlines drawn together fill, each with its holes.

    By the rule, the area just inside an outline is filled or not, and so is the area just outside: an outline with
    both alike bounds nothing. (W3C, Scalable Vector Graphics 2, "Winding rule: the fill-rule property".)
    """
    around = around_each(rings)
    ways = [1 if enclosed_mm2(ring) > 0.0 else -1 for ring in rings]
    edges: list[int] = []
    holes: dict[int, list[int]] = {}
    for number in range(len(rings)):
        outside = sum(ways[other] for other in around[number]) if rule == "nonzero" else len(around[number])
        inside = outside + (ways[number] if rule == "nonzero" else 1)
        full, full_outside = (turns != 0 if rule == "nonzero" else turns % 2 == 1 for turns in (inside, outside))
        if full and not full_outside:
            edges.append(number)
        elif full_outside and not full:
            holes[number] = around[number]
    found: dict[int, list[Array]] = {edge: [] for edge in edges}
    for hole, outer in holes.items():
        owner = next((other for other in outer if other in found), None)
        if owner is not None:
            found[owner].append(rings[hole])
    return [Ring(name=name, points=rings[edge], holes=tuple(inner)) for edge, inner in found.items()]


def with_those_inside(rings: Sequence[Ring]) -> list[Ring]:
    """Each outline with those right inside it as its holes; they stay in the list themselves."""
    around = around_each([ring.points for ring in rings])
    inside: list[list[Array]] = [[] for _ in rings]
    for number, outer in enumerate(around):
        if outer:
            inside[outer[0]].append(rings[number].points)
    return [
        Ring(name=ring.name, points=ring.points, holes=tuple(holes)) for ring, holes in zip(rings, inside, strict=True)
    ]
