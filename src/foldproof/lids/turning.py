"""What a turning lid does: covers, uncovers, sweeps, catches, tips. All of it at a given place of the hole."""

from __future__ import annotations

from dataclasses import dataclass

import numpy as np
import shapely
from numpy.typing import NDArray
from shapely import affinity
from shapely.geometry import Point as Spot
from shapely.geometry import Polygon as Shape

from foldproof.geometry.cover import cover_margin, distance_to_outline, margins
from foldproof.geometry.plane import Point, Polygon, anticlockwise
from foldproof.geometry.turn_area import overlap_areas, sweep_radius
from foldproof.lids.fasteners import (
    back_room,
    disc_hidden,
    finger_room,
    head_room,
    held_mm,
    hole_to_lid,
    legs,
    shape_of,
    to_edges,
)
from foldproof.lids.records import LidAnalysis, Turn, TurningBox, TurningLid
from foldproof.lids.tolerance import HoleLimits, hole_tolerance

Array = NDArray[np.float64]

WHOLE_TURN_DEG = np.arange(-180.0, 181.0)
SAME_SHARE = 0.005  # half a per cent more of the opening is not worth a larger turn
SAME_MM = 0.01  # two sides as far as each other


@dataclass(frozen=True, slots=True, kw_only=True)
class LidLimits:
    """The limits an analysis needs to know: allowed errors, edges to keep, what legs need to open, a finger."""

    hole_off_mm: float
    turn_off_deg: float
    cover_fail_mm: float
    opens_fail_percent: float
    hole_edge_mm: float  # from the hole's middle
    leg_opening_mm: float
    finger_mm: float
    finger_reach_mm: float


def analyse(box: TurningBox, lid: TurningLid, opens: str, limits: LidLimits) -> LidAnalysis:
    """The whole analysis of a lid at its place. ``opens`` is "either way", "to the left" or "to the right"."""
    whole = covering_outline(lid)
    outline, rim = np.asarray(whole), np.asarray(box.rim)
    margin = cover_margin(outline, rim)
    curve = uncovered_curve(box, lid.hole, whole)
    left, right = _best(curve, 1), _best(curve, -1)
    opened = _choose(left, right, opens)
    half_hole, least = 0.5 * lid.fastener.hole_mm, 0.01 * limits.opens_fail_percent
    legs_spare, leg_room = legs(box, lid, limits)
    head, head_hidden = head_room(lid)
    back, back_on = back_room(box, lid)
    sweep = sweep_radius(outline, lid.hole)
    tipping, tipping_at = _tipping(box, lid)
    return LidAnalysis(
        margin_mm=margin,
        distance_mm=distance_to_outline(outline, rim),
        comfort_mm=_comfort(outline, rim, lid.hole, limits),
        curve=curve,
        best_left=left,
        best_right=right,
        opened=opened,
        hole_to_lid_mm=hole_to_lid(lid),
        hole_to_triangle_mm=to_edges(box.triangle, lid.hole) - half_hole,
        head_room_mm=head,
        head_hidden_mm=head_hidden,
        held_mm=held_mm(lid),
        legs_spare_mm=legs_spare,
        leg_room_mm=leg_room,
        back_room_mm=back,
        back_on_mm=back_on,
        disc_hidden_mm=disc_hidden(lid),
        finger_mm=finger_room(box, whole, lid.hole, opened.angle_deg, limits),
        sweep_mm=sweep,
        beyond_mm=_beyond(box, lid.hole, sweep),
        tipping_mm=tipping,
        tipping_at_deg=tipping_at,
        front=_front(box, whole, lid.hole, opened.angle_deg),
        hole_tolerance_mm=hole_tolerance(
            box,
            lid,
            whole,
            lambda closed, hole: _still_opens(box, closed, hole, opens, opened.angle_deg, least),
            opened.uncovered,
            HoleLimits(
                cover_fail_mm=limits.cover_fail_mm,
                edge_mm=limits.hole_edge_mm - half_hole,
                opens_fail=least,
            ),
        ),
        stack_mm=max(layer.high_mm + layer.lift_mm for layer in lid.layers),
        area_mm2=float(shape_of(whole).area),
        mass_g=sum(layer.mass_g for layer in lid.layers) + _at_hole_g(lid),
    )


def _still_opens(box: TurningBox, closed: Polygon, hole: Point, opens: str, angle_deg: float, least: float) -> bool:
    """Whether a lid opens so much: asked at one turn first, as the best is only told to half a per cent."""
    covered = overlap_areas(np.asarray(closed), np.asarray(box.opening), hole, np.radians([angle_deg]))
    if 1.0 - float(covered[0]) / float(shape_of(box.opening).area) >= least + SAME_SHARE:
        return True
    curve = uncovered_curve(box, hole, closed)
    return _choose(_best(curve, 1), _best(curve, -1), opens).uncovered >= least


def _at_hole_g(lid: TurningLid) -> float:
    """What lies at the hole, however the lid is turned: the fastener and the reinforcement."""
    return lid.fastener.mass_g + (lid.reinforcement.mass_g if lid.reinforcement is not None else 0.0)


def covering_outline(lid: TurningLid) -> Polygon:
    """The outline of all layers seen from above: the part that holds the hole, without holes of its own."""
    shapes = [shape_of(layer.outline) for layer in lid.layers]
    widest = max(range(len(shapes)), key=lambda number: shapes[number].area)
    shapely.prepare(shapes[widest])
    if all(shapes[widest].covers(shape) for shape in shapes):
        return anticlockwise(lid.layers[widest].outline)
    joined = shapely.union_all(shapes, grid_size=1e-6)
    pieces = [piece for piece in getattr(joined, "geoms", [joined]) if isinstance(piece, Shape)]
    chosen = min(pieces, key=lambda piece: (piece.distance(Spot(lid.hole)), -piece.area))
    return anticlockwise(tuple((float(x), float(y)) for x, y in chosen.exterior.coords[:-1]))


def uncovered_curve(box: TurningBox, hole: Point, outline: Polygon) -> tuple[Turn, ...]:
    """Share of the opening uncovered at each whole degree from -180 to 180."""
    opening = np.asarray(box.opening)
    covered = overlap_areas(np.asarray(outline), opening, hole, np.radians(WHOLE_TURN_DEG))
    shares = 1.0 - covered / float(shape_of(box.opening).area)
    return tuple(
        Turn(angle_deg=float(angle), uncovered=min(1.0, max(0.0, float(share))))
        for angle, share in zip(WHOLE_TURN_DEG, shares, strict=True)
    )


def _best(curve: tuple[Turn, ...], sense: int) -> Turn:
    """The least turn one way round that uncovers as much as any, to half a per cent."""
    those = [turn for turn in curve if turn.angle_deg * sense >= 0]
    most = max(turn.uncovered for turn in those)
    return min((turn for turn in those if turn.uncovered >= most - SAME_SHARE), key=lambda turn: abs(turn.angle_deg))


def _choose(left: Turn, right: Turn, opens: str) -> Turn:
    """The maker's hand first; else more uncovered, then the smaller turn, then to the right."""
    if opens == "to the left":
        return left
    if opens == "to the right":
        return right
    if abs(left.uncovered - right.uncovered) > SAME_SHARE:
        return max(left, right, key=lambda turn: turn.uncovered)
    return left if abs(left.angle_deg) < abs(right.angle_deg) else right


def _comfort(outline: Array, rim: Array, hole: Point, limits: LidLimits) -> float:
    """Least margin with the lid turned a little either way and the hole off in any direction.

    A side's distance changes by no more than the lid is moved, so the error of the hole is taken off whole.
    """
    turns = np.radians(np.linspace(-limits.turn_off_deg, limits.turn_off_deg, 11))
    turned = margins(outline - np.asarray(hole), rim - np.asarray(hole), shifts_mm=np.zeros((11, 2)), turns_rad=turns)
    return float(np.min(turned)) - limits.hole_off_mm


def _beyond(box: TurningBox, hole: Point, sweep_mm: float) -> tuple[float, float, float, float]:
    """How far the sweep goes past the right, back, left and front side of the box in a whole turn."""
    xs, ys = [x for x, _ in box.rim], [y for _, y in box.rim]
    return (
        hole[0] + sweep_mm - max(xs),
        hole[1] + sweep_mm - max(ys),
        min(xs) - hole[0] + sweep_mm,
        min(ys) - hole[1] + sweep_mm,
    )


def _tipping(box: TurningBox, lid: TurningLid) -> tuple[float, float]:
    """Least distance of the empty box's weight from the edge of its base over a whole turn, and at which angle."""
    mass = sum(layer.mass_g for layer in lid.layers)
    centres = [shape_of(layer.outline).centroid for layer in lid.layers]
    x = sum(layer.mass_g * c.x for layer, c in zip(lid.layers, centres, strict=True)) / mass - lid.hole[0]
    y = sum(layer.mass_g * c.y for layer, c in zip(lid.layers, centres, strict=True)) / mass - lid.hole[1]
    angles = np.radians(WHOLE_TURN_DEG)
    lid_x = lid.hole[0] + x * np.cos(angles) - y * np.sin(angles)
    lid_y = lid.hole[1] + x * np.sin(angles) + y * np.cos(angles)
    pin = _at_hole_g(lid)
    total = mass + pin + box.mass_g
    at_x = (mass * lid_x + pin * lid.hole[0] + box.mass_g * box.centre[0]) / total
    at_y = (mass * lid_y + pin * lid.hole[1] + box.mass_g * box.centre[1]) / total
    half_x, half_y = max(x for x, _ in box.rim), max(y for _, y in box.rim)
    room = np.minimum(half_x - np.abs(at_x), half_y - np.abs(at_y))
    worst = int(np.argmin(room))
    return float(room[worst]), float(WHOLE_TURN_DEG[worst])


def _front(box: TurningBox, outline: Polygon, hole: Point, opened_deg: float) -> str:
    """The side of the rim farthest from the opened lid; on a tie the one opposite the triangle."""
    turned = affinity.rotate(shape_of(outline), opened_deg, origin=hole)
    half_x, half_y = max(x for x, _ in box.rim), max(y for _, y in box.rim)
    sides = {"right": (half_x, 0.0), "back": (0.0, half_y), "left": (-half_x, 0.0), "front": (0.0, -half_y)}
    away = {name: float(turned.centroid.distance(Spot(point))) for name, point in sides.items()}
    most = max(away.values())
    near_triangle = set(box.place.split())
    tied = [name for name in sides if away[name] >= most - SAME_MM]
    return min(tied, key=lambda name: (name in near_triangle, list(sides).index(name)))
