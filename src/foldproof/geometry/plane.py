"""Plane polygons: area, centre, inset, convex parts, edges. No paper words here."""

from __future__ import annotations

import numpy as np
import shapely
from numpy.typing import NDArray
from shapely.geometry import GeometryCollection, MultiPolygon
from shapely.geometry import Polygon as Shape

Point = tuple[float, float]
Polygon = tuple[Point, ...]
Array = NDArray[np.float64]

SAME_MM = 1e-6  # finer than any cutter moves, coarser than float noise on a 1 m sheet
FLAT_AREA_MM2 = 1e-6  # a part smaller than this is a rounding sliver, not a shape


def signed_area(polygon: Polygon) -> float:
    """Area in mm2, positive when the corners run anticlockwise (shoelace formula)."""
    corners = np.asarray(polygon)
    after = _nexts(corners)
    return float(0.5 * np.sum(corners[:, 0] * after[:, 1] - after[:, 0] * corners[:, 1]))


def _nexts(corners: Array) -> Array:
    """Of each corner the one after it, round and round."""
    return np.concatenate((corners[1:], corners[:1]))


def anticlockwise(polygon: Polygon) -> Polygon:
    """The same polygon with its corners running anticlockwise."""
    return polygon if signed_area(polygon) > 0 else tuple(reversed(polygon))


def _shape(polygon: Polygon) -> Shape:
    """The polygon for shapely; made from an array it takes a third of the time."""
    found = shapely.polygons(np.asarray(polygon, dtype=np.float64))
    assert isinstance(found, Shape)
    return found


def is_simple(polygon: Polygon) -> bool:
    """True when the outline does not cross itself and encloses an area."""
    return len(polygon) >= 3 and Shape(polygon).is_valid and abs(signed_area(polygon)) > FLAT_AREA_MM2


def centre(polygon: Polygon) -> Point:
    """Centre of area."""
    middle = _shape(polygon).centroid
    return (float(middle.x), float(middle.y))


def inset(polygon: Polygon, distance_mm: float) -> tuple[Polygon, ...]:
    """The polygon drawn in by ``distance_mm`` with mitred corners; none when nothing is left."""
    return parts(_shape(polygon).buffer(-distance_mm, join_style="mitre", mitre_limit=10.0))


def common(one: Polygon, other: Polygon) -> tuple[Polygon, ...]:
    """Where two polygons overlap."""
    return parts(_shape(one).intersection(_shape(other)))


def without(one: Polygon, other: Polygon) -> tuple[Polygon, ...]:
    """What of the first lies outside the second."""
    return parts(_shape(one).difference(_shape(other)))


def parts(shape: shapely.Geometry) -> tuple[Polygon, ...]:
    """The polygons of a shapely result, slivers dropped, anticlockwise, largest first."""
    if isinstance(shape, Shape):
        found = [shape]
    elif isinstance(shape, MultiPolygon | GeometryCollection):
        found = [part for part in shape.geoms if isinstance(part, Shape)]
    else:
        found = []
    kept = [part for part in found if part.area > FLAT_AREA_MM2]
    kept.sort(key=lambda part: (-part.area, part.bounds))
    return tuple(anticlockwise(tuple((x, y) for x, y in part.exterior.coords[:-1])) for part in kept)


def is_convex(polygon: Polygon) -> bool:
    """True for an anticlockwise polygon without a corner that turns right."""
    corners = np.asarray(polygon)
    ahead = _nexts(corners) - corners
    further = _nexts(ahead)
    turn = ahead[:, 0] * further[:, 1] - ahead[:, 1] * further[:, 0]
    return bool(np.all(turn >= -SAME_MM))


def convex_parts(polygon: Polygon) -> tuple[Polygon, ...]:
    """The polygon as convex parts: itself, or the triangles of a constrained Delaunay triangulation."""
    if is_convex(polygon):
        return (polygon,)
    return parts(shapely.constrained_delaunay_triangles(_shape(polygon)))


def inradius(polygon: Polygon) -> float:
    """Radius in mm of the largest disc inside (shapely's pole of inaccessibility, to 0.05 mm)."""
    line = shapely.maximum_inscribed_circle(_shape(polygon), tolerance=0.05)
    return float(line.length)
