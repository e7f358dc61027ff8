"""What a lid turns on: the card it holds, room for its head, its legs and its back, and for the finger that sets it."""

from __future__ import annotations

import math
from typing import Protocol

import shapely
from shapely import affinity
from shapely.geometry import LineString
from shapely.geometry import Point as Spot
from shapely.geometry import Polygon as Shape

from foldproof.geometry.plane import Point, Polygon
from foldproof.lids.records import TurningBox, TurningLid

FAR_MM = 10_000.0  # beyond every wall a box can have


class FastenerLimits(Protocol):
    """What legs need to open, and a finger."""

    @property
    def leg_opening_mm(self) -> float: ...

    @property
    def finger_reach_mm(self) -> float: ...


def shape_of(polygon: Polygon) -> Shape:
    """The polygon for shapely, from an array: many times quicker than corner by corner."""
    made = shapely.polygons(polygon)
    assert isinstance(made, Shape)
    return made


def to_edges(polygon: Polygon, point: Point) -> float:
    """Distance of a point inside from the outline; negative outside."""
    shape = shape_of(polygon)
    away = float(shape.exterior.distance(Spot(point)))
    return away if shape.covers(Spot(point)) else -away


def hole_to_lid(lid: TurningLid) -> float:
    """From the hole's edge to the nearest edge of a pierced layer."""
    nearest = min(to_edges(layer.outline, lid.hole) for layer in lid.layers if layer.pierced)
    return nearest - 0.5 * lid.fastener.hole_mm


def head_room(lid: TurningLid) -> tuple[float, float | None]:
    """Lid round the head on the uppermost pierced layer; how far the layer over it hides it, None when none does."""
    pierced = [layer for layer in lid.layers if layer.pierced]
    above = [layer for layer in lid.layers if not layer.pierced]
    radius = 0.5 * lid.fastener.head_mm
    room = to_edges(pierced[-1].outline, lid.hole) - radius
    hidden = max((to_edges(layer.outline, lid.hole) - radius for layer in above), default=None)
    return room, hidden if hidden is not None and hidden > -radius else None


def held_mm(lid: TurningLid) -> float:
    """The card and foam that the fastener goes through: all up to its head, reinforcement, cap and triangle."""
    return max(layer.high_mm for layer in lid.layers if layer.pierced) + lid.triangle_layers_mm


def legs(box: TurningBox, lid: TurningLid, limits: FastenerLimits) -> tuple[float, float]:
    """Leg left after what it goes through and what opening takes; room beside the legs opened along the long edge."""
    fastener = lid.fastener
    if fastener.legs_mm <= 0:
        return math.inf, math.inf
    through = held_mm(lid)
    below = max(0.0, fastener.legs_mm - through)
    along = (-box.into[1], box.into[0])
    mouth = shape_of(box.mouth).exterior
    room = min(_ray(mouth, lid.hole, (sense * along[0], sense * along[1])) for sense in (1.0, -1.0))
    return fastener.legs_mm - through - limits.leg_opening_mm, room - box.tab_mm - below


def _ray(walls: shapely.Geometry, start: Point, direction: Point) -> float:
    """Distance from a point to the walls in one direction; 0 when the point is not inside."""
    ray = LineString([start, (start[0] + FAR_MM * direction[0], start[1] + FAR_MM * direction[1])])
    met = ray.intersection(walls)
    return 0.0 if met.is_empty else float(Spot(start).distance(met))


def back_room(box: TurningBox, lid: TurningLid) -> tuple[float, float]:
    """Room of the back inside the box, less the flaps glued to its walls; the triangle's card all round the back.

    Both are infinite for a brad, which has legs and no back. Less than nothing is how far it goes too far.
    """
    radius = 0.5 * lid.fastener.back_mm
    if radius <= 0.0:
        return math.inf, math.inf
    return to_edges(box.mouth, lid.hole) - box.tab_mm - radius, to_edges(box.triangle, lid.hole) - radius


def disc_hidden(lid: TurningLid) -> float:
    """Lid round the reinforcement, which should not show beside it; infinite where there is none."""
    if lid.reinforcement is None:
        return math.inf
    return to_edges(lid.layers[0].outline, lid.hole) - 0.5 * lid.reinforcement.diameter_mm


def finger_room(box: TurningBox, outline: Polygon, hole: Point, angle_deg: float, limits: FastenerLimits) -> float:
    """Widest disc in the uncovered opening, within a finger's reach of the hole, in mm of diameter."""
    turned = affinity.rotate(shape_of(outline), angle_deg, origin=hole)
    free = shape_of(box.opening).difference(turned).intersection(Spot(hole).buffer(limits.finger_reach_mm))
    pieces = [p for p in getattr(free, "geoms", [free]) if isinstance(p, Shape) and p.area > 1.0]
    discs = [2.0 * float(shapely.maximum_inscribed_circle(piece, tolerance=0.1).length) for piece in pieces]
    return max(discs, default=0.0)
