"""The proved thing as a scene: a node for every panel, folded step by step, put together, its lid turned.

Card is as thick as in the proof, and every panel ends where the proof has it. Flat, the pieces lie side by side on
the table; the first piece of each thing stays where it is, the others are carried to it in the order of the steps.
Shaped edges of a lid are drawn flat, and of what a lid turns on only the head.
"""

from __future__ import annotations

import dataclasses
from collections import Counter
from collections.abc import Mapping, Sequence
from dataclasses import dataclass
from math import cos, degrees, hypot, pi, radians, sin

import numpy as np
from numpy.typing import NDArray
from shapely.geometry import Polygon as Shape

from foldproof.checks.evidence import Evidence, PieceEvidence
from foldproof.checks.turning_evidence import Turning
from foldproof.constructions.turning_lid import CAP, TRIANGLE
from foldproof.drawing.extrusion import extruded
from foldproof.drawing.scene import NO_TURN, Material, Node, Point3, Scene, Surface, Track
from foldproof.drawing.style import EDGE, SHADE, Palette, channels, hexed
from foldproof.folding.joints import world_from_piece
from foldproof.folding.tree import folded
from foldproof.geometry import motion
from foldproof.geometry.plane import Point, Polygon
from foldproof.lids.holes import triangle_in_box, triangle_place
from foldproof.pattern.records import Placement
from foldproof.project.records import Project
from foldproof.views import model_motion as moving

Array = NDArray[np.float64]

FOLD, TURN = "fold", "turn lid"  # the clips; with several lids each has its own, "turn lid NAME"
GAP_MM = 20.0  # between pieces on the table
CLEAR_MM = 10.0  # what is carried over something passes it by this much
ON_TOP_MM = 15.0  # the cap comes down on its triangle from this far
HEAD_FROM_MM = 40.0  # a head comes down from this far above its place
HEAD_MM = 0.5  # height of a flat head; from memory
RING_POINTS = 24  # of a round hole or head: an area 1.2 % short of the circle's
COLOURED, PLAIN, CUT_EDGE, HEAD = "coloured side", "plain side", "cut edge", "head"
WHITE = "#ffffff"

Names = Mapping[tuple[str, str, str], str]


@dataclass(frozen=True, slots=True, kw_only=True)
class _Thing:
    """One piece and its way: flat outlines and holes by panel, its middle, its place at the end, and where it waits.

    ``low_mm`` and ``high_mm`` are how far its folded panels reach below and above its root, ``reach_mm`` how far from
    its middle. ``materials`` are those of upper side, under side and edge.
    """

    part: str
    evidence: PieceEvidence
    outlines: tuple[Polygon, ...]
    holes: tuple[Polygon, ...] = ()  # all in the root panel
    placement: Placement
    materials: tuple[str, str, str] = (PLAIN, COLOURED, CUT_EDGE)
    middle: Point
    half_mm: float  # half its width, flat
    low_mm: float
    high_mm: float
    reach_mm: float

    @property
    def thickness_mm(self) -> float:
        return self.evidence.layers.thickness_mm

    @property
    def folding_s(self) -> float:
        """How long its folds take; nothing for a piece without a proved order."""
        ranked = self.evidence.orders.ranked
        return moving.FOLD_S * len(ranked[0].steps) if ranked else 0.0

    @property
    def end_mm(self) -> Point3:
        """Where its middle ends."""
        x, y, z = motion.apply(world_from_piece(self.placement), np.array([[*self.middle, 0.0]]))[0].tolist()
        return (x, y, z)

    @property
    def top_mm(self) -> float:
        """How high it stands at the end."""
        return self.end_mm[2] + (-self.low_mm if self.placement.upside_down else self.high_mm)


@dataclass(frozen=True, slots=True, kw_only=True)
class _Way:
    """When a piece folds, and how it is carried."""

    fold_s: float
    legs: tuple[moving.Leg, ...] = ()


@dataclass(frozen=True, slots=True, kw_only=True)
class _Made:
    """One finished thing: its nodes in the frame of its base, how long its making takes, and its sides."""

    nodes: tuple[Node, ...]
    end_s: float
    left_mm: float
    right_mm: float
    materials: tuple[Material, ...] = ()
    floor_mm: float = 0.0


def folded_model(project: Project, parts: Sequence[Evidence], palette: Palette, *, not_proved: bool) -> Scene:
    """The scene of a whole project, from the evidence its proof stands on.

    Its clips are "fold", from flat pieces to the finished thing, and "turn lid" for every turning lid. A piece for
    which no order was found is folded from the start.
    """
    lids = [part for part in parts if part.turning is not None]
    names = _panel_names(parts)
    nodes: list[Node] = []
    materials = list(_card_materials(project, palette))
    right_mm, start_s = None, 0.0
    for host in parts:
        if host.turning is not None:
            continue
        made = _made(host, [lid for lid in lids if lid.part.on == host.part.name], names, start_s, len(lids) == 1)
        x = 0.0 if right_mm is None else right_mm + GAP_MM - made.left_mm
        nodes.append(Node(name=f"thing-{host.part.name}", at_mm=(x, 0.0, made.floor_mm), children=made.nodes))
        right_mm, start_s = x + made.right_mm, made.end_s
        materials += [each for each in made.materials if each not in materials]
    used = {track.clip for node in nodes for track in _tracks(node)}
    seen = {surface.material for node in nodes for surface in _surfaces(node)}
    clips = (FOLD, *(_turn_clip(lid, len(lids) == 1) for lid in lids))
    return Scene(
        name=project.name,
        nodes=tuple(nodes),
        materials=tuple(each for each in materials if each.name in seen),
        clips=tuple(clip for clip in clips if clip in used),
        about=(("project", project.name), ("verdict", "not proved" if not_proved else "proved")),
    )


def _tracks(node: Node) -> list[Track]:
    return [*node.tracks, *(track for child in node.children for track in _tracks(child))]


def _surfaces(node: Node) -> list[Surface]:
    return [*node.surfaces, *(surface for child in node.children for surface in _surfaces(child))]


def _turn_clip(lid: Evidence, alone: bool) -> str:
    return TURN if alone else f"{TURN} {lid.part.name}"


def _card_materials(project: Project, palette: Palette) -> tuple[Material, ...]:
    edge = WHITE if project.cardstock.core == "white" else palette.coloured_shade
    return (
        Material(name=COLOURED, colour=palette.coloured),
        Material(name=PLAIN, colour=palette.plain),
        Material(name=CUT_EDGE, colour=edge),
    )


def _panel_names(parts: Sequence[Evidence]) -> Names:
    """A name for each panel: its own, or with its piece's and its part's before it where others are called the same."""
    keys = [
        (part.part.name, piece.tree.piece.id, panel)
        for part in parts
        for piece in part.pieces
        for panel in piece.tree.panels
    ]
    found = {}
    for key in keys:
        for words in (1, 2, 3):
            if Counter(other[-words:] for other in keys)[key[-words:]] == 1:
                found[key] = "-".join(key[-words:])
                break
    return found


# --- One thing ----------------------------------------------------------------------------------------------


def _made(host: Evidence, lids: Sequence[Evidence], names: Names, start_s: float, alone: bool) -> _Made:
    """A part and the lids that turn on it. Only the first piece stays on its place from the start."""
    middle = _middle_of(host)
    things = [_host_thing(host, piece, middle) for piece in host.pieces]
    first, *others = things
    ways = {id(first): _Way(fold_s=start_s)}
    now = start_s + first.folding_s
    right = first.end_mm[0] + first.half_mm
    tallest = first.top_mm
    for thing in others:
        bench = (right + GAP_MM + thing.half_mm, 0.0, 0.0)
        right = bench[0] + thing.half_mm
        way = _carried(thing, bench, now, tallest)
        ways[id(thing)] = way
        now, tallest = way.legs[-1].end_s, max(tallest, thing.top_mm)
    nodes = [_piece_node(thing, ways[id(thing)], names) for thing in things]
    materials: list[Material] = []
    left = min(-0.5 * (right - first.end_mm[0]), first.end_mm[0] - first.half_mm)
    for lid in lids:
        made = _lid_made(lid, lid.turning, names, now, right, tallest, _turn_clip(lid, alone))
        nodes += made.nodes
        materials += made.materials
        now, right, left = made.end_s, made.right_mm, min(left, made.left_mm)
    return _Made(
        nodes=tuple(nodes),
        end_s=now,
        left_mm=left,
        right_mm=right,
        materials=tuple(materials),
        floor_mm=0.5 * first.thickness_mm,
    )


def _middle_of(host: Evidence) -> Point:
    """The origin of a thing's frame in its first piece: the middle of its base."""
    if host.assembly.forms:
        return host.assembly.forms[0].centre
    piece = host.pieces[0].tree.piece
    return (0.5 * piece.blank_width_mm, 0.5 * piece.blank_height_mm)


def _host_thing(host: Evidence, piece: PieceEvidence, middle: Point) -> _Thing:
    placement = next(each for each in host.assembly.placements if each.piece == piece.tree.piece.id)
    x, y, z = placement.shift_mm
    return _thing(host.part.name, piece, dataclasses.replace(placement, shift_mm=(x - middle[0], y - middle[1], z)))


def _thing(part: str, piece: PieceEvidence, placement: Placement, holes: tuple[Polygon, ...] = ()) -> _Thing:
    """A piece as it is, its sides as they lie on the board: the coloured one down."""
    tree = piece.tree
    outlines = tuple(tree.outline(n) for n in range(len(tree.panels)))
    xs, ys = zip(*(point for outline in outlines for point in outline), strict=True)
    middle = (0.5 * (min(xs) + max(xs)), 0.5 * (min(ys) + max(ys)))
    world = folded(tree, piece.layers.shifts_mm)
    corners = np.concatenate(
        [motion.apply(world[n], motion.lift(outline)) for n, outline in enumerate(outlines)]
    ) - np.array([*middle, 0.0])
    return _Thing(
        part=part,
        evidence=piece,
        outlines=outlines,
        holes=holes,
        placement=placement,
        middle=middle,
        half_mm=0.5 * (max(xs) - min(xs)),
        low_mm=float(corners[:, 2].min()),
        high_mm=float(corners[:, 2].max()),
        reach_mm=float(np.linalg.norm(corners, axis=1).max()),
    )


def _carried(thing: _Thing, bench: Point3, now: float, tallest_mm: float) -> _Way:
    """Folded where it lies, raised as far as its folds reach below it, and brought over everything to its place."""
    raised = (*bench[:2], bench[2] - thing.low_mm)
    legs: list[moving.Leg] = []
    if thing.folding_s and raised != bench:
        legs.append(moving.Leg(start_s=now, seconds=thing.folding_s, start_mm=bench, end_mm=raised))
    below = thing.reach_mm if thing.placement.upside_down else -thing.low_mm
    height = tallest_mm + below + CLEAR_MM
    return _Way(fold_s=now, legs=(*legs, *moving.over(raised, thing.end_mm, height, now + thing.folding_s)))


def _piece_node(thing: _Thing, way: _Way, names: Names, from_mm: Point3 = (0.0, 0.0, 0.0)) -> Node:
    """The node that carries a piece about its middle, and below it a node for each panel, hung at its crease.

    ``from_mm`` is the origin of the node that it hangs on.
    """
    tree, shifts = thing.evidence.tree, thing.evidence.layers.shifts_mm
    starts = {}
    if thing.folding_s:
        for position, step in enumerate(thing.evidence.orders.ranked[0].steps):
            starts.update(dict.fromkeys(tree.steps[step], way.fold_s + moving.FOLD_S * position))
    children: dict[int, list[Node]] = {n: [] for n in range(len(tree.panels))}
    for n in reversed(range(1, len(tree.panels))):
        crease = tree.crease_of[n]
        ((place, turn),) = moving.hung(tree, n, shifts[n], [1.0])
        tracks = moving.fold_tracks(FOLD, tree, n, shifts[n], starts[crease]) if crease in starts else ()
        node = dataclasses.replace(_panel_node(thing, n, names, children[n]), at_mm=place, turn=turn, tracks=tracks)
        children[tree.parent[n]].insert(0, node)
    root = dataclasses.replace(
        _panel_node(thing, 0, names, children[0]), at_mm=(-thing.middle[0], -thing.middle[1], 0.0)
    )
    turn = moving.turn_of(thing.placement)
    legs = tuple(
        dataclasses.replace(leg, start_mm=_less(leg.start_mm, from_mm), end_mm=_less(leg.end_mm, from_mm))
        for leg in way.legs
    )
    return Node(
        name=f"piece-{thing.part}-{tree.piece.id}",
        at_mm=_less(thing.end_mm, from_mm),
        turn=turn,
        tracks=moving.carry_tracks(FOLD, legs, turn) if legs else (),
        children=(root,),
    )


def _panel_node(thing: _Thing, number: int, names: Names, children: Sequence[Node]) -> Node:
    tree = thing.evidence.tree
    x, y, _ = moving.hinge(tree, number)
    half = 0.5 * thing.thickness_mm

    def own(ring: Polygon) -> Polygon:
        return tuple((px - x, py - y) for px, py in ring)

    key = (thing.part, tree.piece.id, tree.panels[number])
    holes = tuple(own(ring) for ring in thing.holes) if number == 0 else ()
    return Node(
        name=names[key],
        surfaces=extruded(own(thing.outlines[number]), holes, -half, half, thing.materials),
        children=tuple(children),
        about=tuple(zip(("part", "piece", "panel"), key, strict=True)),
    )


def _less(one: Point3, other: Point3) -> Point3:
    return (one[0] - other[0], one[1] - other[1], one[2] - other[2])


# --- A turning lid ------------------------------------------------------------------------------------------


def _lid_made(
    lid: Evidence,
    turning: Turning | None,
    names: Names,
    start_s: float,
    right_mm: float,
    tallest_mm: float,
    clip: str,
) -> _Made:
    """Triangle folded, cap on it, both into the corner, the layers one by one. They hang on the node that turns."""
    assert turning is not None, "only a turning lid is made as one"
    pieces = {piece.tree.piece.id: piece for piece in lid.pieces}
    right = max(right_mm, _sweep_mm(turning) + turning.lid.hole[0])
    triangle, cap = (_corner_thing(lid.part.name, pieces[name], turning) for name in (TRIANGLE, CAP))
    cap = dataclasses.replace(cap, middle=triangle.middle)
    way, cap_way, right = _corner_ways(triangle, cap, start_s, right, tallest_mm)
    now = way.legs[-1].end_s
    hole = turning.lid.hole
    pivot = (hole[0], hole[1], 0.0)
    pierced = sum(layer.pierced for layer in turning.lid.layers)
    turned: list[Node] = []
    materials = [Material(name=HEAD, colour=EDGE)]
    for number, layer in enumerate(turning.lid.layers):
        thing, own = _layer_thing(lid, pieces[layer.name], turning, number)
        bench = (right + GAP_MM + thing.half_mm, 0.0, 0.0)
        right = bench[0] + thing.half_mm
        layer_way = _carried(thing, bench, now, max(tallest_mm, thing.end_mm[2]))
        now = layer_way.legs[-1].end_s
        turned.append(_piece_node(thing, layer_way, names, from_mm=pivot))
        materials += [each for each in own if each not in materials]
        head = _head(lid.part.name, turning, now) if number == pierced - 1 else None
        if head is not None:
            turned.append(head[0])
            now = head[1]
    angle = radians(turning.analysis.opened.angle_deg)
    wheel = Node(
        name=f"turn-{lid.part.name}",
        at_mm=pivot,
        tracks=(moving.turn_track(clip, angle),),
        children=tuple(turned),
    )
    return _Made(
        nodes=(_piece_node(triangle, way, names), _piece_node(cap, cap_way, names), wheel),
        end_s=now,
        left_mm=hole[0] - _sweep_mm(turning),
        right_mm=right,
        materials=tuple(materials),
    )


def _sweep_mm(turning: Turning) -> float:
    x, y = turning.lid.hole
    return max(hypot(px - x, py - y) for layer in turning.lid.layers for px, py in layer.outline)


def _corner_thing(part: str, piece: PieceEvidence, turning: Turning) -> _Thing:
    """The triangle or its cap at its place in the corner: one on the other, the cap's upper side level with the rim."""
    box, strip_mm = turning.box, piece.tree.piece.blank_height_mm
    origin, right = (triangle_in_box(box, at, strip_mm) for at in ((0.0, 0.0), (1.0, 0.0)))
    layers_below = 1.5 if piece.tree.piece.id == TRIANGLE else 0.5
    placement = Placement(
        piece=piece.tree.piece.id,
        upside_down=False,
        turned_deg=degrees(np.arctan2(right[1] - origin[1], right[0] - origin[0])),
        shift_mm=(*origin, box.rim_mm - layers_below * piece.layers.thickness_mm),
    )
    at = triangle_place(box, turning.lid.hole, strip_mm)
    return _thing(part, piece, placement, _hole(piece.tree.outline(0), at, turning.lid.brad.hole_mm))


def _corner_ways(
    triangle: _Thing, cap: _Thing, start_s: float, right_mm: float, tallest_mm: float
) -> tuple[_Way, _Way, float]:
    """How triangle and cap come together and into the box, and how far right they lie before."""
    bench = (right_mm + GAP_MM + triangle.half_mm, 0.0, 0.0)
    right = bench[0] + triangle.half_mm
    alone = _carried(triangle, bench, start_s, tallest_mm)
    seconds = moving.LIFT_S + moving.ACROSS_S + moving.DOWN_S  # while the cap comes, the triangle waits
    carrying = tuple(dataclasses.replace(leg, start_s=leg.start_s + seconds) for leg in alone.legs[-3:])
    way = _Way(fold_s=start_s, legs=(*alone.legs[:-3], *carrying))
    rise = cap.placement.shift_mm[2] - triangle.placement.shift_mm[2]
    waiting = (right + GAP_MM + cap.half_mm, 0.0, 0.0)
    on_it = _higher(carrying[0].start_mm, rise)
    coming = moving.over(waiting, on_it, on_it[2] + ON_TOP_MM, carrying[0].start_s - seconds, turned=False)
    # From here on both are one: they have one middle, so the cap stays as it lies on the triangle.
    riding = tuple(
        dataclasses.replace(leg, start_mm=_higher(leg.start_mm, rise), end_mm=_higher(leg.end_mm, rise))
        for leg in carrying
    )
    return way, _Way(fold_s=start_s, legs=(*coming, *riding)), waiting[0] + cap.half_mm


def _higher(point: Point3, by_mm: float) -> Point3:
    return (point[0], point[1], point[2] + by_mm)


def _layer_thing(lid: Evidence, piece: PieceEvidence, turning: Turning, number: int) -> tuple[_Thing, list[Material]]:
    """A layer as it lies on the closed lid, in its own card's colour, and that colour's materials."""
    layer = turning.lid.layers[number]
    fill = str(lid.part.values.layers[number].fill)
    upper = Material(name=f"card {fill}", colour=fill)
    under = Material(name=f"card {fill}, shaded", colour=hexed(_shaded(*channels(fill))))
    holes = _hole(layer.outline, turning.lid.hole, turning.lid.brad.hole_mm) if layer.pierced else ()
    height = turning.box.rim_mm + 0.5 * (layer.low_mm + layer.high_mm)
    placement = Placement(piece=layer.name, upside_down=False, shift_mm=(0.0, 0.0, height))
    xs, ys = zip(*layer.outline, strict=True)
    middle = (0.5 * (min(xs) + max(xs)), 0.5 * (min(ys) + max(ys)))
    thing = dataclasses.replace(
        _thing(lid.part.name, piece, placement, holes),
        outlines=(layer.outline,),
        materials=(upper.name, under.name, under.name),
        middle=middle,
        half_mm=0.5 * (max(xs) - min(xs)),
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
    disc = _disc((0.0, 0.0), turning.lid.brad.head_mm)
    node = Node(
        name=f"head-{part}",
        at_mm=end,
        surfaces=extruded(disc, (), 0.0, min(HEAD_MM, room_mm), (HEAD, HEAD, HEAD)),
        tracks=moving.carry_tracks(FOLD, (leg,), NO_TURN),
    )
    return node, leg.end_s
