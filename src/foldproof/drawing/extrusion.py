"""A plane outline with thickness as surfaces: the two flat sides and the edge all round."""

from __future__ import annotations

from collections.abc import Sequence

import shapely
from shapely.geometry import Polygon as Shape

from foldproof.drawing.scene import Point3, Surface, Triangle
from foldproof.geometry.plane import Point, Polygon, anticlockwise, is_convex


def extruded(
    outline: Polygon, holes: Sequence[Polygon], low_mm: float, high_mm: float, materials: tuple[str, str, str]
) -> tuple[Surface, Surface, Surface]:
    """Upper side, under side and edge of an outline in the plane, from ``low_mm`` to ``high_mm`` along z.

    ``materials`` are those of the three, in that order. ``holes`` lie inside the outline and apart from each other.
    """
    assert low_mm < high_mm, "thickness is positive"
    rings = (anticlockwise(outline), *(tuple(reversed(anticlockwise(hole))) for hole in holes))
    corners = tuple(point for ring in rings for point in ring)
    triangles = _triangles(rings, corners)
    upper, under, edge = materials
    return (
        _flat(upper, corners, triangles, high_mm, up=True),
        _flat(under, corners, triangles, low_mm, up=False),
        _edge(edge, rings, low_mm, high_mm),
    )


def _triangles(rings: Sequence[Polygon], corners: Sequence[Point]) -> tuple[Triangle, ...]:
    """Anticlockwise triangles between the corners: a fan where that does, else a constrained Delaunay triangulation."""
    if len(rings) == 1 and len(corners) <= 4 and is_convex(rings[0]):
        return tuple((0, n, n + 1) for n in range(1, len(corners) - 1))
    number = {corner: n for n, corner in enumerate(corners)}
    closed = shapely.get_coordinates(shapely.constrained_delaunay_triangles(Shape(rings[0], rings[1:])))
    found = []
    for (ax, ay), (bx, by), (cx, cy), _ in closed.reshape(-1, 4, 2).tolist():
        a, b, c = number[ax, ay], number[bx, by], number[cx, cy]
        if (bx - ax) * (cy - ay) < (by - ay) * (cx - ax):
            b, c = c, b
        found.append(min((a, b, c), (b, c, a), (c, a, b)))
    return tuple(sorted(found))


def _flat(
    material: str, corners: Sequence[Point], triangles: Sequence[Triangle], height_mm: float, *, up: bool
) -> Surface:
    return Surface(
        material=material,
        points=tuple((x, y, height_mm) for x, y in corners),
        normals=((0.0, 0.0, 1.0 if up else -1.0),) * len(corners),
        triangles=tuple(triangles) if up else tuple((a, c, b) for a, b, c in triangles),
    )


def _edge(material: str, rings: Sequence[Polygon], low_mm: float, high_mm: float) -> Surface:
    """A strip of two triangles for each side; the inside is at the left of every ring."""
    points: list[Point3] = []
    normals: list[Point3] = []
    triangles: list[Triangle] = []
    for ring in rings:
        for (ax, ay), (bx, by) in zip(ring, ring[1:] + ring[:1], strict=True):
            length = ((bx - ax) ** 2 + (by - ay) ** 2) ** 0.5
            first = len(points)
            points += [(ax, ay, low_mm), (bx, by, low_mm), (bx, by, high_mm), (ax, ay, high_mm)]
            normals += [((by - ay) / length, (ax - bx) / length, 0.0)] * 4
            triangles += [(first, first + 1, first + 2), (first, first + 2, first + 3)]
    return Surface(material=material, points=tuple(points), normals=tuple(normals), triangles=tuple(triangles))
