"""From a cleaned outline to a shape of the maker's own: trimmed, measured, set on its middle."""

from __future__ import annotations

import math
from collections.abc import Iterable
from dataclasses import dataclass

import numpy as np
import shapely

from foldproof.errors import InputError, wrong
from foldproof.geometry.outline import after_each, enclosed_mm2, points_of, widest_mm, wound_anticlockwise
from foldproof.geometry.plane import SAME_MM, Array, Point, Polygon, centre, parts
from foldproof.lengths import Length
from foldproof.outlines.cleaning import ACCURACY_MM
from foldproof.outlines.crossing import crossings, is_simple_ring
from foldproof.outlines.landmarks import landmarks_of
from foldproof.outlines.own import OwnShape
from foldproof.outlines.symmetry import TOLERANCE_MM, symmetrised, symmetry_of

Cut = tuple[Point, Point]

LEAST_CUT_MM = 0.01  # between the two points of a cut, to tell its direction
MOST_CUT_MM = 1e6  # a kilometre: no place on a shape
RUN_ON_MM = 1e-3  # how far a cut runs beyond the edge, so that it surely goes through: no blade sees it
WRITTEN_MM = 0.01  # what points are written to
MIDDLE_MM = 0.02  # nearer to the origin than this, a middle is there: rounding points may move it so far


@dataclass(frozen=True, slots=True, kw_only=True)
class Measures:
    """What a ruler finds: ``widest_mm`` from tip to tip, ``narrowest_mm`` between two parallel rulers.

    ``width_mm`` and ``height_mm`` are of the upright box round the outline.
    """

    area_mm2: float
    perimeter_mm: float
    widest_mm: float
    narrowest_mm: float
    width_mm: float
    height_mm: float


def measures_of(outline: Polygon) -> Measures:
    """Area, perimeter, widest and narrowest measure of a simple outline in mm, and the upright box round it."""
    points = points_of(outline)
    width, height = (points.max(axis=0) - points.min(axis=0)).tolist()
    return Measures(
        area_mm2=abs(enclosed_mm2(points)),
        perimeter_mm=float(np.hypot(*(after_each(points) - points).T).sum()),
        widest_mm=widest_mm(points),
        narrowest_mm=_narrowest(points),
        width_mm=width,
        height_mm=height,
    )


def _narrowest(points: Array) -> float:
    """The least distance of two parallel lines with the outline between them.

    One of them lies along a side of the hull (rotating calipers); every side is tried here with every corner.
    """
    corners = shapely.get_coordinates(shapely.MultiPoint(points).convex_hull)[:-1]
    ring = wound_anticlockwise(corners)
    ahead = after_each(ring) - ring
    inwards = np.column_stack((-ahead[:, 1], ahead[:, 0])) / np.hypot(*ahead.T)[:, None]
    depths = inwards @ ring.T - (inwards * ring).sum(axis=1)[:, None]
    return float(depths.max(axis=1).min())


def trimmed(outline: Polygon, cuts: Iterable[Cut], *, keep: Point | None = None, field: str = "trim") -> Polygon:
    """What is left of a simple outline after straight cuts, each given by two points in mm; anticlockwise.

    A cut runs on from both points to the nearest edge, and no farther: other parts of the outline in its line stay.
    Kept is the piece with the point ``keep``, else the largest. Raises InputError (``field`` and the cut's number)
    when a cut does not go through the outline, its points are the same or no numbers, or when ``keep`` is not inside.
    """
    left = shapely.Polygon(outline)
    for number, cut in enumerate(cuts, start=1):
        left = _after_cut(left, cut, keep, f"{field} {number}")
    return parts(left)[0]


def _after_cut(shape: shapely.Polygon, cut: Cut, keep: Point | None, field: str) -> shapely.Polygon:
    lines = shapely.union_all([shape.exterior, *_through(shape, cut, field)])
    pieces = [
        piece
        for piece in shapely.get_parts(shapely.polygonize(shapely.get_parts(lines)))
        if shape.contains(piece.representative_point())
    ]
    if len(pieces) < 2:
        raise _no_cut(cut, field)
    if keep is not None:
        pieces = [piece for piece in pieces if piece.covers(shapely.Point(keep))]
    if not pieces:
        told = "" if keep is None else f"{keep[0]:g}, {keep[1]:g} mm"
        raise wrong(field, told, "the place to keep is not inside the shape", "give a place inside the shape")
    largest: shapely.Polygon = max(pieces, key=lambda piece: (piece.area, piece.bounds))
    return largest


def _through(shape: shapely.Polygon, cut: Cut, field: str) -> list[shapely.LineString]:
    """The stretches of the cut's line inside the shape that lie between its two points, whole or in part."""
    (x, y), (end_x, end_y) = cut
    long = math.hypot(end_x - x, end_y - y)
    if not LEAST_CUT_MM <= long <= MOST_CUT_MM or math.hypot(x, y) > MOST_CUT_MM:
        raise wrong(field, _told(cut), "is not a straight cut between two places", 'write it like "10,20 10,45", in mm')
    along = ((end_x - x) / long, (end_y - y) / long)
    reach = shapely.Point(x, y).hausdorff_distance(shape.exterior) + 1.0

    def at(way: float) -> Point:
        return (x + way * along[0], y + way * along[1])

    found = []
    inside = shape.intersection(shapely.LineString([at(-reach), at(reach)]))
    for piece in shapely.get_parts(inside) if not inside.is_empty else ():
        ways = [(px - x) * along[0] + (py - y) * along[1] for px, py in shapely.get_coordinates(piece)]
        if min(max(ways), long) - max(min(ways), 0.0) > SAME_MM:
            found.append(shapely.LineString([at(min(ways) - RUN_ON_MM), at(max(ways) + RUN_ON_MM)]))
    if not found:
        raise _no_cut(cut, field)
    return found


def _no_cut(cut: Cut, field: str) -> InputError:
    return wrong(field, _told(cut), "does not go through the shape", "give two places with a part of it between them")


def _told(cut: Cut) -> str:
    return " ".join(f"{x:g},{y:g}" for x, y in cut)


def own_shape(
    name: str,
    outline: Polygon,
    *,
    accuracy_mm: float,
    source: str,
    sizes: tuple[Length, ...] = (),
    symmetric: bool = True,
    tolerance_mm: float = TOLERANCE_MM,
) -> OwnShape:
    """The shape of a cleaned outline (simple, anticlockwise, mm), its middle moved to the origin, not turned.

    ``symmetric``: a symmetry found within ``tolerance_mm`` is made exact, and ``accuracy_mm`` grows by the change.
    Without it the outline stays as traced. Its points are whole hundredths of a millimetre, as a project file holds
    them. Symmetry is recorded when the outline then has it within its accuracy, so a shape that is read back from
    its points and accuracy (``symmetric=False``) is the same. ``sizes`` are put in order, each once.
    Raises InputError when hundredths of a millimetre are too coarse for the outline.
    """
    found = symmetry_of(outline, tolerance_mm=tolerance_mm) if symmetric else None
    exact = symmetrised(outline, found) if found is not None else None
    if exact is not None:
        outline, accuracy_mm = exact.outline, accuracy_mm + exact.change_mm
    placed_outline = _about_its_middle(outline)
    accuracy = math.ceil(accuracy_mm / WRITTEN_MM - SAME_MM) * WRITTEN_MM
    recorded = symmetry_of(placed_outline, tolerance_mm=max(accuracy, ACCURACY_MM))
    return OwnShape(
        name=name,
        outline=placed_outline,
        fold=recorded.fold,
        mirror_axes_rad=recorded.mirror_axes_rad,
        landmarks=landmarks_of(placed_outline),
        accuracy_mm=round(accuracy, 2),
        source=source,
        sizes=tuple(sorted(set(sizes))),
    )


def _about_its_middle(outline: Polygon) -> Polygon:
    """The outline with its middle at the origin, to a hundredth of a millimetre; as it is when it is there already."""
    x, y = centre(outline)
    points = points_of(outline)
    if math.hypot(x, y) > MIDDLE_MM:
        points = points - np.array([x, y])
    points = np.round(points / WRITTEN_MM) * WRITTEN_MM
    points = np.round(points, 2) + 0.0  # no minus zero, and the nearest number to what is written
    points = points[np.hypot(*(points - np.roll(points, 1, axis=0)).T) > SAME_MM]
    if len(points) < 3 or not is_simple_ring(points):
        x, y = crossings(points)[0] if len(points) >= 3 else (0.0, 0.0)
        told = f"at {x:.2f}, {y:.2f} mm"
        raise wrong("outline", told, "is so narrow there that no blade can cut it", "draw it wider there")
    return tuple((px, py) for px, py in points.tolist())
