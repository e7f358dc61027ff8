"""Convex polygons that together hold a shape: few of them, and hardly more than the shape."""

from __future__ import annotations

import math

import numpy as np
import shapely
from shapely.geometry.base import BaseGeometry

from foldproof.geometry.outline import wound_anticlockwise
from foldproof.geometry.plane import Array

CUTS = 4  # one after the other: up to sixteen polygons for each part of a shape
LOOSE_SHARE, LOOSE_MM2 = 0.01, 1e-4  # more area than the shape's own that is not worth a cut
FAR_MM = 1e4  # beyond every shape


def convex_cover(shape: BaseGeometry) -> tuple[Array, ...]:
    """Convex polygons (k, 2), anticlockwise, whose union holds the shape; stretches and points as their ends.

    A part that is nearly convex is its hull; another is cut through its deepest notch, again and again.
    """
    parts = [part for part in getattr(shape, "geoms", [shape]) if not part.is_empty]
    return tuple(polygon for part in parts for polygon in _covered(part, CUTS))


def _covered(part: BaseGeometry, cuts: int) -> tuple[Array, ...]:
    hull = shapely.convex_hull(part)
    corners = shapely.get_coordinates(hull)
    if not isinstance(hull, shapely.Polygon):
        return (corners,)
    loose = hull.area - part.area
    if cuts == 0 or loose <= max(LOOSE_MM2, LOOSE_SHARE * part.area):
        return (wound_anticlockwise(corners[:-1]),)
    points = shapely.get_coordinates(part)
    depths = shapely.distance(hull.exterior, shapely.points(points))
    notch = points[int(np.argmax(depths))]
    nearest = shapely.get_coordinates(shapely.shortest_line(hull.exterior, shapely.Point(notch)))[0]
    along = (notch - nearest) / max(math.dist(notch, nearest), 1e-12)
    across = np.array([-along[1], along[0]])
    found: list[Array] = []
    for side in (across, -across):
        strip = np.array([notch - FAR_MM * along, notch + FAR_MM * along])
        half = shapely.Polygon(np.concatenate((strip, strip[::-1] + FAR_MM * side)))
        for piece in getattr(piece_of := shapely.intersection(part, half), "geoms", [piece_of]):
            if not piece.is_empty:
                found.extend(_covered(piece, cuts - 1))
    return tuple(found)
