"""A lid that turns on a brad, eyelet or snap in one corner of a box, in the box's frame.

The frame: origin in the middle of the base, x to the right, y away from the maker, z up from the rim's plane. Angles
are turns of the lid about the hole, anticlockwise seen from above; at 0 it is closed.
"""

from __future__ import annotations

from dataclasses import dataclass

from foldproof.geometry.plane import Point, Polygon


@dataclass(frozen=True, slots=True, kw_only=True)
class TurningBox:
    """What a turning lid sees of its box.

    ``rim`` the outside of the walls, ``mouth`` the clear inside, ``opening`` the mouth less the corner triangle, all
    convex. ``corner`` is the inner corner that carries the triangle, ``into`` the unit vector from it into the box,
    ``triangle`` the level face, ``tab_mm`` the thickness of what is glued to the walls below it. ``mass_g`` and
    ``centre`` are of the empty box.
    """

    place: str
    rim: Polygon
    mouth: Polygon
    opening: Polygon
    rim_mm: float
    corner: Point
    into: Point
    triangle: Polygon
    tab_mm: float
    mass_g: float
    centre: Point


@dataclass(frozen=True, slots=True, kw_only=True)
class LidLayer:
    """One layer of the lid, closed: outline, heights of its under and upper side over the rim, and its mass.

    ``droop_mm`` is how far its edge hangs below its under side, over a border ``border_mm`` wide; ``lift_mm`` how far
    it rises. ``pierced`` layers turn on the fastener; a layer with ``greeting`` has a right way up.
    """

    name: str
    outline: Polygon
    low_mm: float
    high_mm: float
    mass_g: float
    droop_mm: float
    lift_mm: float
    border_mm: float
    pierced: bool
    greeting: bool


@dataclass(frozen=True, slots=True, kw_only=True)
class Fastener:
    """What the lid turns on, by its own measures.

    ``kind`` is "brad", "eyelet" or "snap". ``head_mm`` is how wide what shows on top is: a head, a flange, a cap.
    ``legs_mm`` are a brad's legs, 0 where there are none. ``back_mm`` is how wide what lies under the triangle is: the
    flare of a set eyelet, the socket of a snap; 0 for a brad. Card from ``least_mm`` to ``most_mm`` thick is held.
    """

    kind: str
    hole_mm: float
    head_mm: float
    legs_mm: float
    back_mm: float
    least_mm: float
    most_mm: float
    mass_g: float


@dataclass(frozen=True, slots=True, kw_only=True)
class Reinforcement:
    """A disc of card round the hole, glued on the back of the lowest layer: it lies between lid and triangle."""

    diameter_mm: float
    thickness_mm: float
    mass_g: float


@dataclass(frozen=True, slots=True, kw_only=True)
class TurningLid:
    """Layers from the lowest up, and the hole they turn about. A reinforcement lifts them all by its thickness."""

    layers: tuple[LidLayer, ...]
    fastener: Fastener
    hole: Point
    triangle_layers_mm: float  # the card of the corner triangle that the fastener goes through
    reinforcement: Reinforcement | None = None


@dataclass(frozen=True, slots=True, kw_only=True)
class Turn:
    """A turn of the lid and the share of the opening it uncovers."""

    angle_deg: float
    uncovered: float


@dataclass(frozen=True, slots=True, kw_only=True)
class Catch:
    """A layer meets a wall, the triangle or the fastener: the first such angle one way, and how far it hangs."""

    layer: str
    on: str
    angle_deg: float
    depth_mm: float


@dataclass(frozen=True, slots=True, kw_only=True)
class LidAnalysis:
    """Everything measured of a turning lid in a given place. Lengths in mm, angles in degrees.

    ``margin_mm`` mitred; ``comfort_mm`` the margin left when the hole is off and the lid turned a little;
    ``curve`` the uncovered share at each whole degree; ``best_left`` and ``best_right`` the best turn each way
    (anticlockwise, clockwise), ``opened`` the one chosen. ``hole_to_*`` are from the hole's edge. ``head_room_mm`` is
    lid round the head, ``head_hidden_mm`` cover beyond it by the layer above (None when it shows). ``held_mm`` is the
    card between head and back, ``legs_spare_mm`` leg left after it and opening, ``leg_room_mm`` room beside the opened
    legs. ``back_room_mm`` is room beside the back of an eyelet or snap, less than nothing when it meets a wall or a
    flap; ``back_on_mm`` the triangle's card round it; ``disc_hidden_mm`` the lid round the reinforcement: all three
    infinite where there is none. ``finger_mm`` is the widest disc in the uncovered opening within a finger's reach of
    the hole. ``beyond_mm`` is the sweep past each side of the box (right, back, left, front). ``tipping_mm`` is the
    least distance of the weight from the base's edge. ``hole_tolerance_mm`` is how far off the hole may be, in
    whatever direction, before a limit is passed: with the triangle's hole in its place, and with it moved alike.
    """

    margin_mm: float
    distance_mm: float
    comfort_mm: float
    curve: tuple[Turn, ...]
    best_left: Turn
    best_right: Turn
    opened: Turn
    hole_to_lid_mm: float
    hole_to_triangle_mm: float
    head_room_mm: float
    head_hidden_mm: float | None
    held_mm: float
    legs_spare_mm: float
    leg_room_mm: float
    back_room_mm: float
    back_on_mm: float
    disc_hidden_mm: float
    finger_mm: float
    sweep_mm: float
    beyond_mm: tuple[float, float, float, float]
    tipping_mm: float
    tipping_at_deg: float
    front: str
    hole_tolerance_mm: float
    stack_mm: float
    area_mm2: float
    mass_g: float
