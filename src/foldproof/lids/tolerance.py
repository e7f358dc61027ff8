"""How far off a hole may be before something fails, whichever way it is off.

A hole made by hand can be wrong in two ways. The lid is pierced in the wrong place and the triangle in its right one:
then the closed lid comes to lie as far off as the hole is. Or the triangle is marked through the lid, as the steps
say: then both holes are off alike, the lid still closes in its place, and turns about another point. Both are asked.
"""

from __future__ import annotations

import dataclasses
import math
from collections.abc import Callable

import numpy as np

from foldproof.geometry.cover import distance_to_outline
from foldproof.geometry.plane import Point, Polygon, inset
from foldproof.lids.fasteners import back_room, head_room, held_mm, hole_to_lid, shape_of, to_edges
from foldproof.lids.records import TurningBox, TurningLid

DIRECTIONS = 24  # in which the hole is moved where no formula tells how far it may go
FINER = 3  # times the angle between two directions is halved round the worst of them
NEAR_MM = 0.01  # how near the distance in one direction is searched; no ruler shows a tenth of a millimetre


@dataclasses.dataclass(frozen=True, slots=True, kw_only=True)
class HoleLimits:
    """What has to stay true: margin over the rim, edges round the hole, share of the opening uncovered."""

    cover_fail_mm: float
    edge_mm: float  # from the hole's edge
    opens_fail: float  # 0 to 1


Opens = Callable[[Polygon, Point], bool]  # whether a lid of this closed outline and hole opens enough


def hole_tolerance(
    box: TurningBox, lid: TurningLid, outline: Polygon, opens: Opens, share: float, limits: HoleLimits
) -> float:
    """The least distance in mm, over all directions, at which the moved hole passes a limit; 0 when one is passed now.

    ``outline`` is what the closed lid covers and ``share`` what it uncovers opened. Distances to edges, walls and rim
    are exact. How far the lid opens has no formula: a bound tells most lids that it cannot fail sooner, and for the
    others it is tried in ``DIRECTIONS``.
    """
    least = min(_edges(box, lid, limits), _legs(box, lid), _cover(box, outline, limits))
    if least <= 0.0 or share < limits.opens_fail:
        return 0.0
    opening = shape_of(box.opening)
    corners = np.asarray(box.opening)
    wide = float(np.hypot(*(corners[:, None] - corners[None]).transpose(2, 0, 1)).max())
    # The opened lid moves by twice as much as the hole at most, and a convex opening shifted by d loses d times wide.
    if share - 2.0 * least * wide / float(opening.area) >= limits.opens_fail:
        return least

    def opens_with(x: float, y: float) -> bool:
        moved = (lid.hole[0] + x, lid.hole[1] + y)
        shifted = tuple((px - x, py - y) for px, py in outline)
        return opens(outline, moved) and opens(shifted, lid.hole)

    return _least_that_fails(opens_with, least)


def _edges(box: TurningBox, lid: TurningLid, limits: HoleLimits) -> float:
    """What edges leave: a hole moved straight towards the nearest one comes nearer by all of its way."""
    head, hidden = head_room(lid)
    beside, _ = back_room(box, lid)
    triangle = to_edges(box.triangle, lid.hole) - 0.5 * lid.fastener.hole_mm
    spare = [hole_to_lid(lid) - limits.edge_mm, triangle - limits.edge_mm, head, beside]
    return min(*spare, math.inf if hidden is None else hidden)


def _cover(box: TurningBox, outline: Polygon, limits: HoleLimits) -> float:
    """How far the closed lid may slip before the rim with its margin shows: the margin's outline to the lid's."""
    grown = inset(box.rim, -limits.cover_fail_mm)
    return distance_to_outline(np.asarray(outline), np.asarray(grown[0]))


def _legs(box: TurningBox, lid: TurningLid) -> float:
    """How far the opened legs may move before they strike a wall.

    A leg that runs at a slant to a wall of normal n has (h - n . p) / (n . along) of room, so it loses most when the
    hole moves straight to the wall, and the way to it is the room to spare times (n . along).
    """
    if lid.fastener.legs_mm <= 0.0:
        return math.inf
    needed = box.tab_mm + max(0.0, lid.fastener.legs_mm - held_mm(lid))
    corners = np.asarray(box.mouth)
    ahead = np.roll(corners, -1, axis=0) - corners
    normals = np.stack([ahead[:, 1], -ahead[:, 0]], axis=1) / np.hypot(ahead[:, 0], ahead[:, 1])[:, None]
    away = ((corners - np.asarray(lid.hole)) * normals).sum(axis=1)
    slant = np.abs(normals @ np.array([-box.into[1], box.into[0]]))
    return float((away - needed * slant)[slant > 0.0].min())


def _least_that_fails(holds: Callable[[float, float], bool], most_mm: float) -> float:
    """The least distance up to ``most_mm`` in any direction at which ``holds`` is no longer true.

    What fails is taken to fail farther out too. Each direction is tried at the least distance found so far, and only
    one that fails there is searched; then directions between the worst one and its neighbours.
    """
    least, worst = most_mm, None
    step = 2.0 * math.pi / DIRECTIONS
    for number in range(DIRECTIONS):
        found = _until(holds, number * step, least)
        if found < least:
            least, worst = found, number * step
    for _ in range(FINER if worst is not None else 0):
        step *= 0.5
        for bearing in (worst - step, worst + step) if worst is not None else ():
            found = _until(holds, bearing, least)
            if found < least:
                least, worst = found, bearing
    return least


def _until(holds: Callable[[float, float], bool], bearing_rad: float, most_mm: float) -> float:
    x, y = math.cos(bearing_rad), math.sin(bearing_rad)
    if holds(most_mm * x, most_mm * y):
        return most_mm
    good, bad = 0.0, most_mm
    while bad - good > NEAR_MM:
        middle = 0.5 * (good + bad)
        good, bad = (middle, bad) if holds(middle * x, middle * y) else (good, middle)
    return good
