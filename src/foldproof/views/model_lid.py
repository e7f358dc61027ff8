"""A turning lid in a folded model: triangle and cap into their corner, the layers on a node that turns.

Shaped edges are drawn flat, and of what the lid turns on only the head.
"""

from __future__ import annotations

import dataclasses
from dataclasses import dataclass
from math import atan2, cos, degrees, hypot, pi, radians, sin

from shapely.geometry import Polygon as Shape

from foldproof.checks.evidence import Evidence, PieceEvidence
from foldproof.checks.turning_evidence import Turning
from foldproof.constructions.turning_lid import CAP, TRIANGLE
from foldproof.drawing.extrusion import extruded
from foldproof.drawing.scene import NO_TURN, Material, Node, Point3
from foldproof.drawing.style import EDGE, SHADE, channels, hexed
from foldproof.geometry.plane import Point, Polygon
from foldproof.lids.holes import triangle_in_box, triangle_place
from foldproof.pattern.records import Placement
from foldproof.views import model_motion as moving
from foldproof.views.model_piece import FOLD, Names, Table, Thing, Way, carried, laid, piece_node, thing_of

ON_TOP_MM = 15.0  # the cap comes down on its triangle from this far
HEAD_FROM_MM = 40.0  # a head comes down from this far above its place
HEAD_MM = 0.5  # height of a flat head; from memory
RING_POINTS = 24  # of a round hole or head: an area 1.2 % short of the circle's
HEAD = Material(name="head", colour=EDGE)


@dataclass(frozen=True, slots=True, kw_only=True)
class ModelLid:
    """The nodes of a lid in the frame of its box, the materials of its layers, and when it is on."""

    nodes: tuple[Node, ...]
    materials: tuple[Material, ...]
    end_s: float
    table: Table


def model_lid(
    lid: Evidence, turning: Turning, names: Names, *, clip: str, start_s: float, table: Table, tallest_mm: float
) -> ModelLid:
    """The triangle folded, the cap on it, both into the corner, then the layers one by one; ``clip`` turns them.

    ``tallest_mm`` is how high what stands already reaches.
    """
    pieces = {piece.tree.piece.id: piece for piece in lid.pieces}
    triangle, cap = (_corner_thing(lid.part.name, pieces[name], turning) for name in (TRIANGLE, CAP))
    cap = dataclasses.replace(cap, middle=triangle.middle)
    way, cap_way, table = _corner_ways(triangle, cap, start_s, table, tallest_mm)
    now = way.legs[-1].end_s
    pivot = (*turning.lid.hole, 0.0)
    pierced = sum(layer.pierced for layer in turning.lid.layers)
    turned: list[Node] = []
    materials = [HEAD]
    for number, layer in enumerate(turning.lid.layers):
        thing, own = _layer_thing(lid, pieces[layer.name], turning, number)
        bench, table = laid(table, thing)
        layer_way = carried(thing, bench, now, max(tallest_mm, thing.end_mm[2]))
        now = layer_way.legs[-1].end_s
        turned.append(piece_node(thing, layer_way, names, from_mm=pivot))
        materials += own
        head = _head(lid.part.name, turning, now) if number == pierced - 1 else None
        if head is not None:
            turned.append(head[0])
            now = head[1]
    wheel = Node(
        name=f"turn-{lid.part.name}",
        at_mm=pivot,
        tracks=(moving.turn_track(clip, radians(turning.analysis.opened.angle_deg)),),
        children=tuple(turned),
    )
    return ModelLid(
        nodes=(piece_node(triangle, way, names), piece_node(cap, cap_way, names), wheel),
        materials=tuple(materials),
        end_s=now,
        table=table,
    )


def swept_mm(turning: Turning) -> tuple[float, float]:
    """How far left and right the turning lid reaches in the frame of its box."""
    x, y = turning.lid.hole
    reach = max(hypot(px - x, py - y) for layer in turning.lid.layers for px, py in layer.outline)
    return x - reach, x + reach


def _corner_thing(part: str, piece: PieceEvidence, turning: Turning) -> Thing:
    """The triangle or its cap at its place in the corner: one on the other, the cap's upper side level with the rim."""
    box, strip_mm = turning.box, piece.tree.piece.blank_height_mm
    origin, right = (triangle_in_box(box, at, strip_mm) for at in ((0.0, 0.0), (1.0, 0.0)))
    layers_below = 1.5 if piece.tree.piece.id == TRIANGLE else 0.5
    placement = Placement(
        piece=piece.tree.piece.id,
        upside_down=False,
        turned_deg=degrees(atan2(right[1] - origin[1], right[0] - origin[0])),
        shift_mm=(*origin, box.rim_mm - layers_below * piece.layers.thickness_mm),
    )
    at = triangle_place(box, turning.lid.hole, strip_mm)
    return thing_of(part, piece, placement, _hole(piece.tree.outline(0), at, turning.lid.fastener.hole_mm))


def _corner_ways(
    triangle: Thing, cap: Thing, start_s: float, table: Table, tallest_mm: float
) -> tuple[Way, Way, Table]:
    """How triangle and cap come together and into the box, and the table with both."""
    bench, table = laid(table, triangle)
    waiting, table = laid(table, cap)
    alone = carried(triangle, bench, start_s, tallest_mm)
    seconds = moving.LIFT_S + moving.ACROSS_S + moving.DOWN_S  # while the cap comes, the triangle waits
    carrying = tuple(dataclasses.replace(leg, start_s=leg.start_s + seconds) for leg in alone.legs[-3:])
    way = Way(fold_s=start_s, legs=(*alone.legs[:-3], *carrying))
    rise = cap.placement.shift_mm[2] - triangle.placement.shift_mm[2]
    on_it = _higher(carrying[0].start_mm, rise)
    coming = moving.over(waiting, on_it, on_it[2] + ON_TOP_MM, carrying[0].start_s - seconds, turned=False)
    # From here on both are one: they have one middle, so the cap stays as it lies on the triangle.
    riding = tuple(
        dataclasses.replace(leg, start_mm=_higher(leg.start_mm, rise), end_mm=_higher(leg.end_mm, rise))
        for leg in carrying
    )
    return way, Way(fold_s=start_s, legs=(*coming, *riding)), table


def _higher(point: Point3, by_mm: float) -> Point3:
    return (point[0], point[1], point[2] + by_mm)


def _layer_thing(lid: Evidence, piece: PieceEvidence, turning: Turning, number: int) -> tuple[Thing, list[Material]]:
    """A layer as it lies on the closed lid, in its own card's colour, and that colour's materials."""
    layer = turning.lid.layers[number]
    fill = str(lid.part.values.layers[number].fill)
    upper = Material(name=f"card {fill}", colour=fill)
    under = Material(name=f"card {fill}, shaded", colour=hexed(_shaded(*channels(fill))))
    holes = _hole(layer.outline, turning.lid.hole, turning.lid.fastener.hole_mm) if layer.pierced else ()
    height = turning.box.rim_mm + 0.5 * (layer.low_mm + layer.high_mm)
    placement = Placement(piece=layer.name, upside_down=False, shift_mm=(0.0, 0.0, height))
    xs, ys = zip(*layer.outline, strict=True)
    middle = (0.5 * (min(xs) + max(xs)), 0.5 * (min(ys) + max(ys)))
    thing = dataclasses.replace(
        thing_of(lid.part.name, piece, placement, holes),
        outlines=(layer.outline,),
        materials=(upper.name, under.name, under.name),
        middle=middle,
        half_mm=(0.5 * (max(xs) - min(xs)), 0.5 * (max(ys) - min(ys))),
    )
    return thing, [upper, under]


def _shaded(red: float, green: float, blue: float) -> tuple[float, float, float]:
    return (red * SHADE, green * SHADE, blue * SHADE)


def _hole(outline: Polygon, at: Point, diameter_mm: float) -> tuple[Polygon, ...]:
    """A round hole; none where it would leave the outline, which the proof tells of."""
    ring = _disc(at, diameter_mm)
    return (ring,) if Shape(outline).contains_properly(Shape(ring)) else ()


def _disc(at: Point, diameter_mm: float) -> Polygon:
    turns = [2.0 * pi * n / RING_POINTS for n in range(RING_POINTS)]
    return tuple((at[0] + 0.5 * diameter_mm * cos(t), at[1] + 0.5 * diameter_mm * sin(t)) for t in turns)


def _head(part: str, turning: Turning, start_s: float) -> tuple[Node, float] | None:
    """The head of what the lid turns on, coming down on the uppermost layer it goes through, and when it is there.

    None where the layer above lies directly on that one: the head is pressed into both, and not seen.
    """
    layers = turning.lid.layers
    last = max(n for n, layer in enumerate(layers) if layer.pierced)
    room_mm = layers[last + 1].low_mm - layers[last].high_mm if last + 1 < len(layers) else HEAD_MM
    if room_mm <= 0.0:
        return None
    end = (0.0, 0.0, turning.box.rim_mm + layers[last].high_mm)
    start = _higher(end, HEAD_FROM_MM)
    leg = moving.Leg(start_s=start_s, seconds=moving.DOWN_S, start_mm=start, end_mm=end)
    disc = _disc((0.0, 0.0), turning.lid.fastener.head_mm)
    node = Node(
        name=f"head-{part}",
        at_mm=end,
        surfaces=extruded(disc, (), 0.0, min(HEAD_MM, room_mm), (HEAD.name, HEAD.name, HEAD.name)),
        tracks=moving.carry_tracks(FOLD, (leg,), NO_TURN),
    )
    return node, leg.end_s
