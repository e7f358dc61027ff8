"""Outlines that cross or touch themselves: where, and what is left of them without their loops."""

from __future__ import annotations

import re

import numpy as np
import shapely

from foldproof.geometry.plane import Array, Point

MOST_CROSSINGS = 100  # an outline that crosses itself more often is a tangle, which could take long to take apart
ROWS_AT_ONCE = 100  # edges whose crossings are looked for before they are counted


def is_simple_ring(ring: Array) -> bool:
    """Whether an outline (n, 2) neither crosses nor touches itself."""
    return bool(shapely.is_valid(shapely.Polygon(ring)))


def crossings(ring: Array) -> tuple[Point, ...]:
    """Where an outline (n, 2) that is not simple crosses or touches itself, in its order.

    At least one place; the search ends once there are more than ``MOST_CROSSINGS``.
    """
    ends = np.stack((ring, np.roll(ring, -1, axis=0)), axis=1)
    edges = np.asarray(shapely.linestrings(ends), dtype=np.object_)
    tree = shapely.STRtree(edges)
    found: list[Point] = []
    for first in range(0, len(edges), ROWS_AT_ONCE):
        row, other = tree.query(edges[first : first + ROWS_AT_ONCE], predicate="intersects")
        one = row + first
        apart = (other - one > 1) & (other - one < len(edges) - 1)
        order = np.lexsort((other[apart], one[apart]))[: MOST_CROSSINGS + 1]
        common = shapely.intersection(edges[one[apart][order]], edges[other[apart][order]])
        found += [(float(x), float(y)) for x, y in shapely.get_coordinates(shapely.centroid(common))]
        if len(found) > MOST_CROSSINGS:
            break
    return tuple(dict.fromkeys(found)) if found else (_turning_back(ring),)


def _turning_back(ring: Array) -> Point:
    """Where an outline that is not simple, and has no crossings, runs back on itself, as GEOS tells it."""
    told = str(shapely.is_valid_reason(shapely.Polygon(ring)))
    place = re.search(r"\[(\S+) (\S+)\]", told)
    assert place, f"an outline that is not simple has a place where it is not: {told}"
    return (float(place[1]), float(place[2]))


def largest_part(ring: Array) -> shapely.Polygon | None:
    """The largest part that an outline (n, 2) runs round, without holes; None when it encloses nothing.

    For outlines with few crossings: every crossing is a corner of the parts they are found among.
    """
    lines = shapely.node(shapely.LinearRing(ring))
    faces = shapely.get_parts(shapely.polygonize(shapely.get_parts(lines)))
    within = [face for face in faces if turns_round(ring, face.representative_point().coords[0]) != 0]
    joined = shapely.get_parts(shapely.union_all(within))
    polygons = [part for part in joined if isinstance(part, shapely.Polygon)]
    largest = max(polygons, key=lambda part: part.area, default=None)
    return None if largest is None else shapely.Polygon(largest.exterior)


def turns_round(ring: Array, place: tuple[float, ...]) -> int:
    """How often an outline (n, 2) runs anticlockwise round a place that is not on it.

    Counted where it crosses the level ray to the right: upwards is one turn more, downwards one less.
    """
    x, y = ring[:, 0] - place[0], ring[:, 1] - place[1]
    after_x, after_y = np.roll(x, -1), np.roll(y, -1)
    crossing = (y > 0.0) != (after_y > 0.0)
    x, y, after_x, after_y = x[crossing], y[crossing], after_x[crossing], after_y[crossing]
    upwards = np.sign(after_y - y)
    right = (x * after_y - after_x * y) * upwards > 0.0
    return int(upwards[right].sum())
