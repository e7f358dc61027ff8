"""The lines of a DXF drawing's entities as points in mm: lines, arcs, polylines with bulges, ellipses, splines.

Curves are made of their own equations, not of Bezier curves, which miss a circle of 1 m by a quarter of a millimetre.
Imported only where a DXF file is read: the library takes a third of a second to load.
"""

from __future__ import annotations

import math
from collections.abc import Sequence
from dataclasses import dataclass
from itertools import islice

import numpy as np
from ezdxf.entities.arc import Arc
from ezdxf.entities.circle import Circle
from ezdxf.entities.dxfentity import DXFEntity
from ezdxf.entities.dxfgfx import DXFGraphic
from ezdxf.entities.ellipse import Ellipse
from ezdxf.entities.line import Line as StraightLine
from ezdxf.entities.lwpolyline import LWPolyline
from ezdxf.entities.polyline import Polyline
from ezdxf.entities.spline import Spline
from ezdxf.math import OCS, Vec3

from foldproof.geometry.plane import Array, Point
from foldproof.outlines.budget import MOST_FROM_ORIGIN_MM, MOST_POINTS, Budget, too_far, too_much
from foldproof.outlines.flattening import ellipse_points
from foldproof.outlines.traced import Left

UPRIGHT = 1.0 - 1e-6  # of a direction's length along z, for a drawing that lies flat
SPLINE_FRAME = 16  # flag of a vertex that only holds a curve, and is not on it
STRAIGHT = 0.01  # of the tolerance: an arc that rises so little off its chord is a straight line
MOST_DEGREE = 15  # of a spline; drawing programs use 3, and higher ones take long
PIECES_OF_SPLINE = 4  # of each span at least, so that no bend between two places is missed

TEXTS = frozenset({"TEXT", "MTEXT", "ATTRIB", "ATTDEF", "DIMENSION", "LEADER", "MULTILEADER", "TOLERANCE"})
PICTURES = frozenset({"IMAGE", "WIPEOUT", "OLE2FRAME", "UNDERLAY", "PDFUNDERLAY"})


@dataclass(frozen=True, slots=True, kw_only=True)
class FlatLine:
    """A line of a drawing: points (n, 2) in mm; ``closed``: its last point runs on to its first."""

    points: Array
    closed: bool


@dataclass(frozen=True, slots=True, kw_only=True)
class Pen:
    """How entities are drawn: the unit they are in, how near to their curves, and what may still be spent."""

    mm_per_unit: float
    tolerance_mm: float
    budget: Budget


def line_of(entity: DXFEntity, pen: Pen) -> FlatLine | Left:
    """The line of an entity in the plane of the drawing, or what it is when it has none."""
    if isinstance(entity, DXFGraphic) and not _lies_flat(entity):
        return "not flat"
    match entity:
        case StraightLine():
            ends = [_scaled(entity.dxf.start, pen), _scaled(entity.dxf.end, pen)]
            return FlatLine(points=_checked(np.array(ends), pen), closed=False)
        case Circle():  # an arc is one too
            return _circle(entity, pen)
        case Ellipse():
            return _ellipse(entity, pen)
        case LWPolyline():
            corners = [(x, y, bulge) for x, y, bulge in entity.get_points("xyb")]
            return _with_bulges(corners, entity.ocs(), closed=bool(entity.closed), pen=pen)
        case Polyline() if entity.is_2d_polyline or entity.is_3d_polyline:
            return _polyline(entity, pen)
        case Spline():
            return _spline(entity, pen)
        case _:
            kind = entity.dxftype()
            return "text" if kind in TEXTS else "picture" if kind in PICTURES else "other"


def _lies_flat(entity: DXFGraphic) -> bool:
    """Whether an entity faces along z, either way: then it shows in its true size from above."""
    toward = Vec3(entity.dxf.get("extrusion", (0.0, 0.0, 1.0)))
    return bool(toward.magnitude > 0.0 and abs(toward.z) >= UPRIGHT * toward.magnitude)


def _scaled(place: Vec3, pen: Pen) -> Point:
    return (place.x * pen.mm_per_unit, place.y * pen.mm_per_unit)


def _checked(points: Array, pen: Pen) -> Array:
    if not (len(points) and np.abs(points).max() <= MOST_FROM_ORIGIN_MM):  # what is no number is not
        raise too_far()
    pen.budget.spend("points", len(points))
    return points


def _circle(entity: Circle, pen: Pen) -> FlatLine:
    ocs, radius = entity.ocs(), float(entity.dxf.radius)
    middle = _scaled(ocs.to_wcs(Vec3(entity.dxf.center)), pen)
    one, other = (_scaled(ocs.to_wcs(axis * radius), pen) for axis in (Vec3(1, 0, 0), Vec3(0, 1, 0)))
    if not isinstance(entity, Arc):
        return _round(middle, one, other, 0.0, math.tau, pen)
    start, end = math.radians(entity.dxf.start_angle), math.radians(entity.dxf.end_angle)
    return _round(middle, one, other, start, (end - start) % math.tau or math.tau, pen)


def _ellipse(entity: Ellipse, pen: Pen) -> FlatLine:
    start, end = float(entity.dxf.start_param), float(entity.dxf.end_param)
    sweep = (end - start) % math.tau
    # A whole ellipse ends where it starts, or a rounding error short of it.
    whole = min(sweep, math.tau - sweep) < 1e-9 and abs(end - start) > 1.0
    middle, one, other = (
        _scaled(Vec3(vector), pen) for vector in (entity.dxf.center, entity.dxf.major_axis, entity.minor_axis)
    )
    return _round(middle, one, other, start, math.tau if whole or sweep == 0.0 else sweep, pen)


def _round(middle: Point, one: Point, other: Point, start: float, sweep: float, pen: Pen) -> FlatLine:
    first = np.asarray(middle) + math.cos(start) * np.asarray(one) + math.sin(start) * np.asarray(other)
    _checked(np.array([first, middle, one, other]), pen)
    points = np.concatenate(([first], ellipse_points(middle, one, other, start, sweep, pen.tolerance_mm)))
    return FlatLine(points=_checked(points, pen), closed=sweep == math.tau)


def _polyline(entity: Polyline, pen: Pen) -> FlatLine | Left:
    on_curve = [vertex for vertex in entity.vertices if not vertex.dxf.flags & SPLINE_FRAME]
    if len(on_curve) < 2:
        return "other"
    closed = bool(entity.is_closed)
    if entity.is_2d_polyline:
        corners = [(v.dxf.location.x, v.dxf.location.y, float(v.dxf.get("bulge", 0.0))) for v in on_curve]
        return _with_bulges(corners, entity.ocs(), closed=closed, pen=pen)
    points = np.array([_scaled(vertex.dxf.location, pen) for vertex in on_curve])
    return FlatLine(points=_checked(points, pen), closed=closed)


def _with_bulges(
    corners: Sequence[tuple[float, float, float]], ocs: OCS, *, closed: bool, pen: Pen
) -> FlatLine | Left:
    """Straight lines and arcs from corner to corner; a bulge is the tangent of a quarter of its arc's angle.

    (The public reference of the format, from memory. Positive bulges run anticlockwise.)
    """
    if len(corners) < 2:
        return "other"
    scaled = [(x * pen.mm_per_unit, y * pen.mm_per_unit, bulge) for x, y, bulge in corners]
    runs = [np.array([scaled[0][:2]])]
    following = [*scaled[1:], *(scaled[:1] if closed else ())]
    for (x, y, bulge), (end_x, end_y, _) in zip(scaled, following, strict=False):
        runs.append(_bulged((x, y), (end_x, end_y), bulge, pen))
    points = np.concatenate(runs)
    ways = [ocs.to_wcs(Vec3(axis)) for axis in ((1, 0, 0), (0, 1, 0))]
    turned: Array = points @ np.array([[way.x, way.y] for way in ways])
    return FlatLine(points=turned, closed=closed)


def _bulged(start: Point, end: Point, bulge: float, pen: Pen) -> Array:
    if abs(bulge) * math.dist(start, end) < STRAIGHT * pen.tolerance_mm or start == end:
        return _checked(np.array([end]), pen)
    # The middle lies on the line halfway between the corners, to the left of the way for a small positive bulge.
    lean = (1.0 / bulge - bulge) / 4.0
    ahead_x, ahead_y = end[0] - start[0], end[1] - start[1]
    middle = ((start[0] + end[0]) / 2.0 - lean * ahead_y, (start[1] + end[1]) / 2.0 + lean * ahead_x)
    radius = math.hypot(start[0] - middle[0], start[1] - middle[1])
    # Up to half a circle an arc stays near its ends, however far away its middle is.
    _checked(np.array([start, end, *([middle, (radius, radius)] if abs(bulge) > 1.0 else [])]), pen)
    begin = math.atan2(start[1] - middle[1], start[0] - middle[0])
    points = ellipse_points(middle, (radius, 0.0), (0.0, radius), begin, 4.0 * math.atan(bulge), pen.tolerance_mm)
    points[-1] = end
    return _checked(points, pen)


def _spline(entity: Spline, pen: Pen) -> FlatLine | Left:
    if entity.dxf.degree > MOST_DEGREE:
        return "other"
    curve = entity.construction_tool()
    control = np.array([_scaled(Vec3(point), pen) for point in curve.control_points]).reshape(-1, 2)
    _checked(control, pen)
    places = curve.flattening(pen.tolerance_mm / pen.mm_per_unit, PIECES_OF_SPLINE)
    found = [_scaled(Vec3(place), pen) for place in islice(places, MOST_POINTS + 1)]
    if len(found) > MOST_POINTS:
        raise too_much("points")
    return FlatLine(points=_checked(np.array(found).reshape(-1, 2), pen), closed=bool(entity.closed))
