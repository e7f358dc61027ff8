"""Shaped edges of a lid as a field of heights: what hangs low enough to catch, where, and at which turn.

Over its border a hanging edge falls evenly from the layer's under side to its droop at the outline, so at a way t
from the outline it lies droop (1 - t / border) lower. What hangs below a thing's upper side is therefore the layer
less the layer drawn in, a plane region that turns with the lid, less what lies on lower layers, on which it rests. A
catch is the first turn at which that region comes over the thing.

The turn is walked in steps that cannot jump over a catch: the region's farthest point moves no farther than the
region is away, and by the contact limit more, so that nothing that dips in deeper than that limit is missed.
"""

from __future__ import annotations

import math
from collections.abc import Iterator
from dataclasses import dataclass

import numpy as np
import shapely
from shapely.geometry import Polygon as Shape
from shapely.geometry.base import BaseGeometry

from foldproof.geometry.plane import Array, Point
from foldproof.lids.fasteners import held_mm, shape_of
from foldproof.lids.records import Catch, LidLayer, TurningBox, TurningLid

LEG_HALF_MM = 1.0  # half the width of a brad's leg; value from memory
HALF_TURN_RAD = math.pi
FINEST_RAD = math.radians(0.01)  # how near an angle is found
TOLD_DEG = 0.1  # angles are told to this, downwards: sooner is the safe side
ARC_STEPS = 32  # straight pieces for a quarter circle where an outline turns inwards: under 0.01 mm off
WALLS = (("wall_right", (1.0, 0.0)), ("wall_back", (0.0, 1.0)), ("wall_left", (-1.0, 0.0)), ("wall_front", (0.0, -1.0)))
WALL, TRIANGLE, FASTENER = "wall", "triangle", "fastener"


@dataclass(frozen=True, slots=True, kw_only=True)
class Press:
    """A lifted edge reaches into the layer over it: by how much, and the room that is between the two."""

    layer: str
    on: str
    by_mm: float
    room_mm: float


@dataclass(frozen=True, slots=True, kw_only=True)
class _Solid:
    """Something that does not turn, seen from above, and how far its upper side lies below the rim."""

    name: str
    area: BaseGeometry
    below_mm: float


def catches(box: TurningBox, lid: TurningLid, contact_mm: float) -> tuple[Catch, ...]:
    """Every layer that meets a wall, the triangle or the fastener in half a turn, at its first angle each way.

    A layer that meets something when it is closed has one catch, at 0. ``depth_mm`` is how far the layer hangs below
    the rim's plane. Angles in degrees, anticlockwise, to 0.1.
    """
    found: list[Catch] = []
    for number, layer in enumerate(lid.layers):
        depth = layer.droop_mm - layer.low_mm
        if depth <= contact_mm:
            continue
        met = dict(_first_meetings(box, lid, number, contact_mm))
        for angle, on in dict.fromkeys(met.values()):
            found.append(Catch(layer=layer.name, on=on, angle_deg=angle, depth_mm=depth))
    return tuple(found)


def _first_meetings(
    box: TurningBox, lid: TurningLid, number: int, contact_mm: float
) -> Iterator[tuple[float, tuple[float, str]]]:
    """By sense, the first angle at which a layer meets anything, and what."""
    for sense in (1.0, -1.0):
        firsts = []
        for solid in _solids(box, lid):
            hanging = hanging_region(lid, number, solid.below_mm + contact_mm)
            met = _first_angle(hanging, solid.area, lid.hole, sense, contact_mm)
            if met is not None:
                name = _wall_at(box, met[1]) if solid.name == WALL else solid.name
                angle = math.floor(round(math.degrees(met[0]) / TOLD_DEG, 6)) * TOLD_DEG
                firsts.append((met[0], (round(sense * angle, 1) + 0.0, name)))
        if firsts:
            yield sense, min(firsts, key=lambda first: first[0])[1]


def hanging_region(lid: TurningLid, number: int, depth_mm: float) -> BaseGeometry:
    """Where a closed lid's layer hangs deeper than ``depth_mm`` below the rim's plane, seen from above.

    What lies over a lower layer rests on it and does not hang.
    """
    layer = lid.layers[number]
    wide = _width_below(layer, depth_mm)
    if wide <= 0.0:
        return Shape()
    whole = shape_of(layer.outline)
    inner = whole.buffer(-wide, quad_segs=ARC_STEPS)
    lower = [shape_of(other.outline) for other in lid.layers[:number]]
    return whole.difference(shapely.union_all([inner, *lower]))


def _width_below(layer: LidLayer, depth_mm: float) -> float:
    """How wide the part of a border is that hangs deeper than this below the rim's plane."""
    if layer.droop_mm <= 0.0:
        return 0.0
    return layer.border_mm * (1.0 - (layer.low_mm + depth_mm) / layer.droop_mm)


def _solids(box: TurningBox, lid: TurningLid) -> tuple[_Solid, ...]:
    """The walls and the triangle, level with the rim, and what of the fastener stands out under the triangle.

    The triangle's flaps and the tabs on the walls lie under one of these.
    """
    rim, mouth, triangle = shape_of(box.rim), shape_of(box.mouth), shape_of(box.triangle)
    spot = shapely.Point(lid.hole)
    if lid.fastener.legs_mm > 0.0:
        leg = max(0.0, lid.fastener.legs_mm - held_mm(lid))
        along = (-leg * box.into[1], leg * box.into[0])
        ends = [(lid.hole[0] + sense * along[0], lid.hole[1] + sense * along[1]) for sense in (-1.0, 1.0)]
        under = shapely.LineString(ends).buffer(LEG_HALF_MM)
    else:
        under = spot.buffer(0.5 * lid.fastener.back_mm, quad_segs=ARC_STEPS)
    return (
        _Solid(name=WALL, area=rim.difference(mouth), below_mm=0.0),
        _Solid(name=TRIANGLE, area=triangle, below_mm=0.0),
        _Solid(name=FASTENER, area=under.difference(triangle), below_mm=lid.triangle_layers_mm),
    )


def _first_angle(
    moving: BaseGeometry, fixed: BaseGeometry, pivot: Point, sense: float, contact_mm: float
) -> tuple[float, Point] | None:
    """The first turn up to half a one, in radians, at which two regions come as near as the limit, and where."""
    if moving.is_empty or fixed.is_empty:
        return None
    points = shapely.get_coordinates(moving) - pivot
    reach = float(np.hypot(points[:, 0], points[:, 1]).max())
    shapely.prepare(fixed)

    def at(angle_rad: float) -> BaseGeometry:
        return shapely.set_coordinates(moving, _turned(points, sense * angle_rad) + pivot)

    clear, angle = 0.0, 0.0
    while (away := float(shapely.distance(fixed, at(angle)))) > contact_mm:
        if angle >= HALF_TURN_RAD:
            return None
        clear, angle = angle, min(angle + (away + contact_mm) / reach, HALF_TURN_RAD)
    while angle - clear > FINEST_RAD:  # the last step may have gone a little too far
        middle = 0.5 * (clear + angle)
        near = float(shapely.distance(fixed, at(middle))) <= contact_mm
        clear, angle = (clear, middle) if near else (middle, angle)
    (x, y), *_ = shapely.get_coordinates(shapely.shortest_line(fixed, at(angle)))
    return angle, (float(x), float(y))


def _turned(points: Array, angle_rad: float) -> Array:
    cosine, sine = math.cos(angle_rad), math.sin(angle_rad)
    turned: Array = points @ np.array([[cosine, sine], [-sine, cosine]])
    return turned


def _wall_at(box: TurningBox, at: Point) -> str:
    """The wall whose outside is nearest to a point of the rim."""
    corners = np.asarray(box.rim)
    ahead = np.roll(corners, -1, axis=0) - corners
    normals = np.stack([ahead[:, 1], -ahead[:, 0]], axis=1) / np.hypot(ahead[:, 0], ahead[:, 1])[:, None]
    nearest = normals[int(np.argmin(np.abs(((np.asarray(at) - corners) * normals).sum(axis=1))))]
    return max(WALLS, key=lambda wall: wall[1][0] * nearest[0] + wall[1][1] * nearest[1])[0]


# --- Lifted edges -------------------------------------------------------------------------------------------


def presses(lid: TurningLid, contact_mm: float) -> tuple[Press, ...]:
    """Every lifted edge that stands higher than the room under a layer over it, told with the nearest such layer."""
    found = []
    for number, layer in enumerate(lid.layers):
        if layer.lift_mm <= 0.0:
            continue
        whole = shape_of(layer.outline)
        for above in lid.layers[number + 1 :]:
            over = shape_of(above.outline).intersection(whole)
            if over.is_empty:
                continue
            # The edge stands highest at the outline: as far out as the layer above reaches.
            in_from_edge = float(whole.exterior.distance(over))
            rise = layer.lift_mm * max(0.0, 1.0 - in_from_edge / layer.border_mm)
            room = above.low_mm - layer.high_mm
            if rise - room > contact_mm:
                found.append(Press(layer=layer.name, on=above.name, by_mm=rise - room, room_mm=room))
                break
    return tuple(found)
