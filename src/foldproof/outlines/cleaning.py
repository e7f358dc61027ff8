"""From a traced line to an outline that can be cut and proved: simple, anticlockwise, no more points than needed."""

from __future__ import annotations

import math
from collections.abc import Sequence
from dataclasses import dataclass

import numpy as np
import shapely

from foldproof.errors import InputError, wrong
from foldproof.geometry.outline import enclosed_mm2, widest_mm, wound_anticlockwise
from foldproof.geometry.plane import SAME_MM, Array, Point, Polygon
from foldproof.outlines.crossing import MOST_CROSSINGS, crossings, is_simple_ring, largest_part
from foldproof.outlines.joining import JOIN_MM
from foldproof.outlines.parameters import LEAST_ACROSS_MM, MOST_ACROSS_MM
from foldproof.outlines.simplifying import Places, chord_distances, simplified_to

ACCURACY_MM = 0.05  # a quarter of the thinnest card; no hand cuts finer
FINEST_MM, COARSEST_MM = 0.001, 5.0  # accuracies that can be asked for: finer than any cutter moves, to hardly a shape
MOST_POINTS = 4000  # of an outline that is kept
MOST_GIVEN = 100_000  # of an outline that is looked at

# Shares of the accuracy. What is left, 0.01 mm of 0.05, is for writing points to a hundredth of a millimetre.
FLATTENED = 0.4  # between curves and their chords
SIMPLIFIED = 0.4  # between all points and those kept

LEAST_AREA = 1e-3  # of the square of its size: a strip a thousand times longer than wide is a line, not a shape
DIRECTIONS = 180  # in half a turn, in which a size is looked for
SIZE_SLACK = 1e-4  # of a size: it is told from a few points, and a shape of just 10 mm is no smaller for rounding
MOST_LOOP_MM = 0.5  # a loop is taken out only if no part of it is farther than this from what is left
MOST_LOOPS_MM2 = 1.0  # and all of them together are no more than this
MOST_FROM_ORIGIN_MM = 1e6  # a kilometre: farther out, float noise would show
FINER = (1.0, 0.25, 0.0625, 0.0)  # shares of the tolerance tried when chords of a fine neck cross each other
COARSER = (2.0, 5.0, 10.0)  # accuracies tried, as multiples, to tell which one would do


@dataclass(frozen=True, slots=True, kw_only=True)
class Cleaned:
    """A simple anticlockwise outline in mm, and how far it is from the one given.

    ``strayed_mm``: no point of either lies farther than this from the other (Hausdorff), measured on the points given.
    ``area_change_mm2``: how much the area grew. ``mended``: where the given outline crossed or touched itself in a
    loop small enough to take out; then ``strayed_mm`` may be up to half a millimetre more than the accuracy.
    """

    outline: Polygon
    accuracy_mm: float
    strayed_mm: float
    area_change_mm2: float
    points_given: int
    mended: tuple[Point, ...]


def cleaned(
    points: Sequence[Point] | Array,
    *,
    accuracy_mm: float = ACCURACY_MM,
    most_points: int = MOST_POINTS,
    gap_mm: float = 0.0,
    field: str = "outline",
) -> Cleaned:
    """The outline through points (n, 2) in mm, its last joined to its first, simplified to ``accuracy_mm``.

    ``gap_mm``: how far apart the ends of the traced line were before they were joined; over ``JOIN_MM`` it is open.
    Raises InputError (``field`` as given) when it is open, has fewer than 3 points or far too many, holds something
    that is no number, has no area, crosses itself, or is under 10 mm or over 1000 mm across.
    """
    refuse_accuracy(accuracy_mm, field)
    given = _as_points(points, field)
    if not gap_mm <= JOIN_MM:
        told = f"a gap of {gap_mm:.2f} mm"
        raise wrong(field, told, "is open: its ends do not meet", "join its ends in the drawing")
    ring = without_repeats(given)
    if len(ring) < 3:
        told = f"{len(ring)} points" if len(ring) != 1 else "1 point"
        raise wrong(field, told, "has fewer than three different points", "draw a closed outline round an area")
    _size_is_usable(ring, field)
    kept = _simple_places(ring, SIMPLIFIED * accuracy_mm, most_points)
    if kept is not None:
        strayed = float(chord_distances(ring, kept).max())
        return _as_cleaned(ring[kept], given, accuracy_mm=accuracy_mm, strayed_mm=strayed, mended=(), field=field)
    return _mended(ring, given, accuracy_mm=accuracy_mm, most_points=most_points, field=field)


def refuse_accuracy(accuracy_mm: float, field: str) -> None:
    """InputError for an accuracy that is no use for cutting card."""
    if not FINEST_MM <= accuracy_mm <= COARSEST_MM:
        told = f"an accuracy of {accuracy_mm:g} mm"
        remedy = f"ask for {ACCURACY_MM:g} mm, or up to {COARSEST_MM:g} mm"
        raise wrong(field, told, "is no accuracy that card can be cut to", remedy)


def _as_points(points: Sequence[Point] | Array, field: str) -> Array:
    """The points as an array (n, 2) of finite numbers, not too many and not too far away."""
    if len(points) > MOST_GIVEN:
        reason = f"has more than {MOST_GIVEN} points, far more than an outline needs"
        raise wrong(field, f"{len(points)} points", reason, "draw or trace it more coarsely")
    if len(points) == 0:
        raise wrong(field, "no points", "has fewer than three different points", "draw a closed outline")
    given = np.asarray(points, dtype=np.float64)
    assert given.ndim == 2 and given.shape[1] == 2, "points come in pairs"
    finite = np.isfinite(given).all(axis=1)
    if not finite.all():
        place = int(np.argmin(finite))
        told = f"point {place + 1}: {given[place, 0]}, {given[place, 1]}"
        raise wrong(field, told, "has a place that is not a number", "write each point as two lengths")
    if np.abs(given).max() > MOST_FROM_ORIGIN_MM:
        told = f"{np.abs(given).max():.3g} mm from the origin"
        raise wrong(field, told, "lies farther away than a kilometre", "draw it in its true size, near the origin")
    return given


def without_repeats(points: Array) -> Array:
    """The points of a closed outline (n, 2) without those in the place of the one before."""
    before = np.roll(points, 1, axis=0)
    kept = np.hypot(*(points - before).T) > SAME_MM
    return points[kept] if kept.any() else points[:1]


def _size_is_usable(ring: Array, field: str) -> None:
    across = widest_mm(_extreme(ring))
    if across < LEAST_ACROSS_MM * (1.0 - SIZE_SLACK):
        reason = f"is smaller than {LEAST_ACROSS_MM:.0f} mm across, too small to cut by hand"
        raise wrong(field, f"{across:.2f} mm", reason, "check the unit of the drawing, or draw it larger")
    if across > MOST_ACROSS_MM * (1.0 + SIZE_SLACK):
        reason = f"is wider than {MOST_ACROSS_MM:.0f} mm across, wider than any sheet of card"
        raise wrong(field, f"{across:.0f} mm", reason, "check the unit of the drawing, or draw it smaller")


def _extreme(ring: Array) -> Array:
    """Few points to tell the size from: of the corners of the hull, those farthest out in each of many directions.

    The widest measure is at most half a step off one of them, which takes 1 part in 26 000 of it.
    """
    hull = shapely.get_coordinates(shapely.convex_hull(shapely.multipoints(ring)))
    bearings = np.arange(DIRECTIONS) * (math.pi / DIRECTIONS)
    along = np.column_stack((np.cos(bearings), np.sin(bearings))) @ hull.T
    far: Array = hull[np.unique(np.concatenate((along.argmin(axis=1), along.argmax(axis=1))))]
    return far


def _simple_places(ring: Array, tolerance: float, most_points: int) -> Places | None:
    """Places of the points to keep for a simple outline, or None when the outline crosses itself or has too many."""
    for share in FINER:
        kept = simplified_to(ring, max(share * tolerance, SAME_MM), most_points)
        if kept is None:
            return None
        if len(kept) >= 3 and is_simple_ring(ring[kept]):
            return kept
    return None


def _mended(ring: Array, given: Array, *, accuracy_mm: float, most_points: int, field: str) -> Cleaned:
    """The outline without loops too small to matter. InputError when they do matter, or it has too many points."""
    kept = simplified_to(ring, SIMPLIFIED * accuracy_mm, most_points)
    if kept is None:
        raise _too_many(ring, accuracy_mm, most_points, field)
    crossing = ring[kept]
    if len(kept) < 3 or _is_a_line(shapely.MultiPoint(crossing).convex_hull.area, crossing):
        raise _no_area(field)
    places = crossings(crossing)
    largest = largest_part(crossing) if len(places) <= MOST_CROSSINGS else None
    if largest is None:
        raise _crosses(places, field)
    rest = shapely.get_coordinates(largest.exterior)[:-1]
    lost = float(shapely.hausdorff_distance(shapely.linearrings(crossing), largest.exterior, densify=0.25))
    change = abs(abs(enclosed_mm2(rest)) - abs(enclosed_mm2(crossing)))
    if lost > MOST_LOOP_MM or change > MOST_LOOPS_MM2 or not is_simple_ring(rest):
        raise _crosses(places, field)
    strayed = lost + float(chord_distances(ring, kept).max())
    return _as_cleaned(rest, given, accuracy_mm=accuracy_mm, strayed_mm=strayed, mended=places, field=field)


def _crosses(places: tuple[Point, ...], field: str) -> InputError:
    x, y = places[0]
    return wrong(field, f"at {x:.2f}, {y:.2f} mm", "crosses or touches itself", "draw one line round the shape")


def _too_many(ring: Array, accuracy_mm: float, most_points: int, field: str) -> InputError:
    reason = f"has too many points: more than {most_points} are left at an accuracy of {accuracy_mm:g} mm"
    for times in COARSER:
        if simplified_to(ring, SIMPLIFIED * times * accuracy_mm, most_points) is not None:
            return wrong(field, f"{len(ring)} points", reason, f"ask for an accuracy of {times * accuracy_mm:g} mm")
    return wrong(field, f"{len(ring)} points", reason, "draw or trace it with a smoother edge")


def _no_area(field: str) -> InputError:
    return wrong(field, "a line", "encloses no area", "draw a closed outline round an area")


def _as_cleaned(
    outline: Array,
    given: Array,
    *,
    accuracy_mm: float,
    strayed_mm: float,
    mended: tuple[Point, ...],
    field: str,
) -> Cleaned:
    area = abs(enclosed_mm2(outline))
    if _is_a_line(area, outline):
        raise _no_area(field)
    ring = wound_anticlockwise(outline)
    return Cleaned(
        outline=tuple((x, y) for x, y in ring.tolist()),
        accuracy_mm=accuracy_mm,
        strayed_mm=strayed_mm,
        area_change_mm2=area - abs(enclosed_mm2(given)),
        points_given=len(given),
        mended=mended,
    )


def _is_a_line(area_mm2: float, outline: Array) -> bool:
    return area_mm2 < LEAST_AREA * widest_mm(outline) ** 2
