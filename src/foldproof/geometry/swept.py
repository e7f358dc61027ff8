"""What an outline covers in every pose of a small turn, and in any: kept and reached; and outlines with fewer points.

Everything here errs to a known side: what is kept really is kept, what is reached holds all that is reached.
"""

from __future__ import annotations

import math

import numpy as np
import shapely
from shapely.geometry.base import BaseGeometry

from foldproof.geometry.outline import after_each, distances_to_edges, enclosed_mm2, wound_anticlockwise
from foldproof.geometry.plane import Array

WIDE_RAD = 0.3  # turns wider than this keep no more than the disc about the middle, and reach all of the disc round it
ARCS = 4  # that the way of an edge's end is cut into; each is drawn by its tangents
ROUND_SIDES = 160  # corners of a disc drawn inside or round about
ROUNDING_MM = 1e-7  # wider than shapely's rounding on a 1 m sheet, and nothing on card
CLOSE_MM = 0.005  # how far off an outline may be that the room for a hole is judged by
SPECK_MM2 = 1e-4  # smaller parts are dropped: they cover nothing that matters

Outlines = tuple[Array, ...]


def kept_in_turn(outline: Array, half_turn_rad: float) -> Outlines:
    """Outlines (n, 2) of what an outline covers at every turn about the origin up to ``half_turn_rad`` either way.

    Never too much; too little by a small share of the way its farthest point goes. Without holes, because what is
    left out hangs together with the outside.
    """
    if half_turn_rad == 0.0:
        return (outline,)
    area = shapely.Polygon(outline)
    swept: Outlines = ()
    if half_turn_rad < WIDE_RAD:
        swept = _outlines_without_holes(shapely.difference(area, _swept_edges(outline, half_turn_rad)))
    inside = bool(shapely.contains_xy(area, 0.0, 0.0))
    radius = float(distances_to_edges(np.zeros((1, 2)), outline)[0]) - ROUNDING_MM
    disc = (_disc(radius),) if inside and radius > 0.0 else ()
    return max(swept, disc, key=lambda parts: sum(enclosed_mm2(part) for part in parts))


def reached_in_turn(outline: Array, half_turn_rad: float) -> Array:
    """Outline (n, 2) round everything an outline covers at any turn about the origin up to ``half_turn_rad``.

    Never too little. Holes are closed.
    """
    if half_turn_rad == 0.0:
        return outline
    radius = float(np.hypot(outline[:, 0], outline[:, 1]).max()) + ROUNDING_MM
    disc = _disc(radius / math.cos(math.pi / ROUND_SIDES))
    if half_turn_rad < WIDE_RAD:
        joined = shapely.union(shapely.Polygon(outline), _swept_edges(outline, half_turn_rad))
        if isinstance(joined, shapely.Polygon):
            swept = wound_anticlockwise(shapely.get_coordinates(joined.exterior)[:-1])
            return min(swept, disc, key=enclosed_mm2)
    return disc


def _swept_edges(outline: Array, half_turn_rad: float) -> shapely.Geometry:
    """All that the edges pass over: each is at every turn between its ends, and these stay on their arcs.

    An arc lies within the corners that its tangents make with one another, so an edge never leaves their hull.
    """
    ways = half_turn_rad * (2.0 * np.arange(ARCS) + 1.0 - ARCS) / ARCS
    out = 1.0 / math.cos(half_turn_rad / ARCS)
    ways = np.concatenate(([-half_turn_rad], ways, [half_turn_rad]))
    sizes = np.concatenate(([1.0], np.full(ARCS, out), [1.0]))
    cosine, sine = (sizes * np.cos(ways))[:, None, None], (sizes * np.sin(ways))[:, None, None]
    ends = np.stack((outline, after_each(outline)), axis=1)
    x, y = ends[None, :, :, 0], ends[None, :, :, 1]
    corners = np.stack((cosine * x - sine * y, sine * x + cosine * y), axis=-1)
    corners = np.swapaxes(corners, 0, 1).reshape(len(outline), -1, 2)
    return shapely.union_all(shapely.convex_hull(shapely.multipoints(corners)))


def _outlines_without_holes(shape: shapely.Geometry) -> Outlines:
    parts = [part for part in getattr(shape, "geoms", [shape]) if isinstance(part, shapely.Polygon)]
    if any(len(part.interiors) for part in parts):
        return ()
    large = [part for part in parts if part.area > SPECK_MM2]
    return tuple(wound_anticlockwise(shapely.get_coordinates(part.exterior)[:-1]) for part in large)


def _disc(radius_mm: float) -> Array:
    bearings = 2.0 * math.pi / ROUND_SIDES * np.arange(ROUND_SIDES)
    return radius_mm * np.column_stack((np.cos(bearings), np.sin(bearings)))


def drawn_in_hull(outline: Array, distance_mm: float) -> tuple[Array, float]:
    """Corners (n, 2) of a convex polygon that holds every point inside an outline and so far from its edge.

    (0, 2) when there is none. With it the share of the polygon's area that is not such points, about. Too large by a
    hundredth of a mm for outlines of many points, and by a thousandth of the distance round notches.
    """
    whole = shapely.Polygon(fewer_points_round(outline, CLOSE_MM) if len(outline) > ROUND_SIDES else outline)
    area: BaseGeometry = whole
    if distance_mm > 0.0:
        points = shapely.get_coordinates(whole.exterior)
        edges = shapely.linestrings(np.stack((points[:-1], points[1:]), axis=1))
        # Round an edge the rim is drawn with straight pieces inside the true one, so that less is taken away.
        area = shapely.difference(whole, shapely.union_all(shapely.buffer(edges, distance_mm, quad_segs=16)))
    own_mm2 = float(shapely.area(area))
    if distance_mm < 0.0:
        around = _disc(-distance_mm / math.cos(math.pi / ROUND_SIDES))
        area = shapely.MultiPoint((shapely.get_coordinates(area)[:, None, :] + around).reshape(-1, 2))
    hull = shapely.convex_hull(area)
    loose = 1.0 - own_mm2 / float(shapely.area(hull)) if shapely.area(hull) > 0.0 else 0.0
    corners = shapely.get_coordinates(hull)
    return wound_anticlockwise(corners[:-1]) if isinstance(hull, shapely.Polygon) else corners, loose


def fewer_points_inside(outline: Array, within_mm: float) -> Outlines:
    """Outlines (n, 2) with fewer points, all inside the given one and about twice ``within_mm`` from it at most."""
    area = shapely.Polygon(outline)
    drawn_in = shapely.simplify(shapely.buffer(area, -within_mm, join_style="mitre", mitre_limit=2.0), within_mm)
    kept = _outlines_without_holes(drawn_in)
    if not kept or sum(map(len, kept)) >= len(outline):
        return (outline,)
    parts = [shapely.Polygon(part) for part in kept]
    # Made simpler one by one, two parts on both sides of a neck might come to overlap and be counted twice.
    apart = len(parts) == 1 or not _overlap(parts)
    return kept if apart and bool(np.all(shapely.covers(area, parts))) else (outline,)


def _overlap(parts: list[shapely.Polygon]) -> bool:
    one, other = shapely.STRtree(parts).query(parts, predicate="intersects")
    return bool(np.any(one != other))


def fewer_points_round(outline: Array, within_mm: float) -> Array:
    """An outline (n, 2) with fewer points round the given one, about twice ``within_mm`` from it at most."""
    area = shapely.Polygon(outline)
    larger = shapely.buffer(area, within_mm, join_style="mitre", mitre_limit=2.0)
    drawn_out: BaseGeometry = shapely.simplify(larger, within_mm)
    if not isinstance(drawn_out, shapely.Polygon):
        return outline
    fewer = wound_anticlockwise(shapely.get_coordinates(drawn_out.exterior)[:-1])
    smaller = len(fewer) < len(outline) and shapely.covers(shapely.Polygon(fewer), area)
    return fewer if smaller else outline
