"""A lid that turns on a brad in one corner of a box, in the box's frame.

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
    it rises. ``pierced`` layers turn on the brad; a layer with ``greeting`` has a right way up.
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
class Brad:
    """What the lid turns on: the hole it needs, its head, and its legs (0 for an eyelet, which has none)."""

    kind: str
    hole_mm: float
    head_mm: float
    legs_mm: float
    mass_g: float


@dataclass(frozen=True, slots=True, kw_only=True)
class TurningLid:
    """Layers from the lowest up, and the hole they turn about."""

    layers: tuple[LidLayer, ...]
    brad: Brad
    hole: Point
    triangle_layers_mm: float  # the card of the corner triangle that the legs go through


@dataclass(frozen=True, slots=True, kw_only=True)
class Turn:
    """A turn of the lid and the share of the opening it uncovers."""

    angle_deg: float
    uncovered: float


@dataclass(frozen=True, slots=True, kw_only=True)
class Catch:
    """A layer meets a wall or the triangle: which, the first such angle each way, and how far it hangs."""

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
    lid round the head, ``head_hidden_mm`` cover beyond it by the layer above (None when it shows). ``legs_spare_mm``
    is leg left after layers and opening, ``leg_room_mm`` room beside the opened legs. ``finger_mm`` is the widest disc
    in the uncovered opening within a finger's reach of the hole. ``beyond_mm`` is the sweep past each side of the
    box (right, back, left, front). ``tipping_mm`` is the least distance of the weight from the base's edge.
    ``hole_tolerance_mm`` is how far off the hole may be before a limit is passed.
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
    legs_spare_mm: float
    leg_room_mm: float
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
