"""Areas of the picture: cut, grown and tidied. All lengths are mm on paper."""

from __future__ import annotations

from collections.abc import Sequence

import numpy as np
import shapely
from shapely.geometry import Polygon
from shapely.geometry.base import BaseGeometry

from foldproof.drawing.records import Path, Point

# Faces and regions narrower than this in the picture are drawn as lines: a tenth of the thinnest line (0.19 mm),
# which hides them.
SLIVER_MM = 0.02
# Corners lie on a grid of this step before and after cuts. Without it, edges that two faces share up to float noise
# leave spikes without width, along which hidden lines show.
GRID_MM = 1e-6

NOTHING: BaseGeometry = Polygon()


def polygon_on_grid(points: Sequence[Point]) -> BaseGeometry:
    """The area inside a ring of points; empty if they lie on one line."""
    return on_grid(Polygon(points))


def grown(areas: Sequence[BaseGeometry], by_mm: float) -> list[BaseGeometry]:
    """Areas with their edges moved outwards, corners kept sharp."""
    found = shapely.buffer(list(areas), by_mm, join_style="mitre")
    # A long corner that meets another part of the area makes it cross itself.
    return [area if valid else _sound(area) for area, valid in zip(found, shapely.is_valid(found), strict=True)]


def on_grid(area: BaseGeometry) -> BaseGeometry:
    """An area with its corners on the grid, valid, its spikes without width gone."""
    return shapely.set_precision(area if area.is_valid else _sound(area), GRID_MM)


def _sound(area: BaseGeometry) -> BaseGeometry:
    return shapely.make_valid(area, method="structure", keep_collapsed=False)


def only_areas(geometry: BaseGeometry) -> BaseGeometry:
    """The polygons of a cut, which may have left points and lines beside them."""
    if geometry.geom_type in ("Polygon", "MultiPolygon"):
        return geometry
    return shapely.MultiPolygon([part for part in shapely.get_parts(geometry) if isinstance(part, Polygon)])


def solid_parts(geometry: BaseGeometry) -> BaseGeometry:
    """The polygons of a geometry that are wider than a sliver, in a fixed order."""
    return all_solid((geometry,))[0]


def all_solid(geometries: Sequence[BaseGeometry]) -> list[BaseGeometry]:
    """Of each geometry the polygons that are wider than a sliver, in a fixed order."""
    found = [NOTHING] * len(geometries)
    if not found:
        return found
    parts, owners = shapely.get_parts(list(geometries), return_index=True)
    kept = 2.0 * shapely.area(parts) > SLIVER_MM * shapely.length(parts)  # see is_sliver; lines have no area
    parts, owners = parts[kept], owners[kept]
    order = np.lexsort((*shapely.bounds(parts).T[::-1], owners))
    owned, rows = np.unique(owners[order], return_inverse=True)
    if len(rows):
        whole = np.asarray(shapely.multipolygons(parts[order], indices=rows))
        for owner, area in zip(owned.tolist(), whole.tolist(), strict=True):
            found[owner] = area
    return found


def is_sliver(area: BaseGeometry) -> bool:
    """Whether an area is narrower than ``SLIVER_MM``; a strip's width is twice its area by its perimeter."""
    return bool(2.0 * area.area <= SLIVER_MM * area.length)


def paths_of(area: BaseGeometry) -> tuple[Path, ...]:
    """The closed rings of an area; holes follow the ring that holds them."""
    return tuple(
        Path(points=tuple(map(tuple, shapely.get_coordinates(ring)[:-1].tolist())), closed=True)
        for part in shapely.get_parts(area)
        if not part.is_empty
        for ring in (part.exterior, *part.interiors)
    )
