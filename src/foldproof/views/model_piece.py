"""One piece of a folded model: its panels as plates on a tree of nodes, where it waits, and how it gets to its place.

Card is as thick as in the proof, and every panel ends where the proof has it.
"""

from __future__ import annotations

import dataclasses
from collections.abc import Mapping, Sequence
from dataclasses import dataclass

import numpy as np

from foldproof.checks.evidence import PieceEvidence
from foldproof.drawing.extrusion import extruded
from foldproof.drawing.scene import Node, Point3
from foldproof.folding.joints import world_from_piece
from foldproof.folding.tree import folded
from foldproof.geometry import motion
from foldproof.geometry.plane import Point, Polygon
from foldproof.pattern.records import Placement
from foldproof.views import model_motion as moving

FOLD = "fold"  # the clip from flat pieces to the finished thing
GAP_MM = 20.0  # between pieces on the table
CLEAR_MM = 10.0  # what is carried over something passes it by this much
COLOURED, PLAIN, CUT_EDGE = "coloured side", "plain side", "cut edge"

Names = Mapping[tuple[str, str, str], str]  # of a panel, by its part, its piece and its own


@dataclass(frozen=True, slots=True, kw_only=True)
class Thing:
    """One piece and its way: flat outlines by panel, its middle, where its root ends, and what it is made of.

    ``holes`` are in the root panel. ``half_mm`` is half its width and depth, flat; ``low_mm`` and ``high_mm`` are how
    far its folded panels reach below and above its root, ``reach_mm`` how far from its middle. ``materials`` are those
    of upper side, under side and edge.
    """

    part: str
    evidence: PieceEvidence
    outlines: tuple[Polygon, ...]
    holes: tuple[Polygon, ...]
    placement: Placement
    materials: tuple[str, str, str]
    middle: Point
    half_mm: tuple[float, float]
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
class Way:
    """When a piece folds, and how it is carried."""

    fold_s: float
    legs: tuple[moving.Leg, ...] = ()


@dataclass(frozen=True, slots=True, kw_only=True)
class Table:
    """Where the next piece waits: pieces lie in rows that fill ``width_mm`` to the right of ``left_mm``.

    ``at_mm`` is the corner of the next piece at the back and left, ``row_mm`` how deep its row is so far.
    """

    left_mm: float
    width_mm: float
    at_mm: Point
    row_mm: float = 0.0
    right_mm: float


def laid(table: Table, thing: Thing) -> tuple[Point3, Table]:
    """The place where a piece waits flat, and the table with it. A piece wider than a row has one to itself."""
    x, y = table.at_mm
    row_mm = table.row_mm
    wide, deep = 2.0 * thing.half_mm[0], 2.0 * thing.half_mm[1]
    if x > table.left_mm and x + wide > table.left_mm + table.width_mm:
        x, y, row_mm = table.left_mm, y - row_mm - GAP_MM, 0.0
    return (x + thing.half_mm[0], y - thing.half_mm[1], 0.0), dataclasses.replace(
        table,
        at_mm=(x + wide + GAP_MM, y),
        row_mm=max(row_mm, deep),
        right_mm=max(table.right_mm, x + wide),
    )


def thing_of(part: str, piece: PieceEvidence, placement: Placement, holes: tuple[Polygon, ...] = ()) -> Thing:
    """A piece as it is, its sides as they lie on the board: the coloured one down."""
    tree = piece.tree
    outlines = tuple(tree.outline(n) for n in range(len(tree.panels)))
    xs, ys = zip(*(point for outline in outlines for point in outline), strict=True)
    middle = (0.5 * (min(xs) + max(xs)), 0.5 * (min(ys) + max(ys)))
    world = folded(tree, piece.layers.shifts_mm)
    corners = np.concatenate(
        [motion.apply(world[n], motion.lift(outline)) for n, outline in enumerate(outlines)]
    ) - np.array([*middle, 0.0])
    return Thing(
        part=part,
        evidence=piece,
        outlines=outlines,
        holes=holes,
        placement=placement,
        materials=(PLAIN, COLOURED, CUT_EDGE),
        middle=middle,
        half_mm=(0.5 * (max(xs) - min(xs)), 0.5 * (max(ys) - min(ys))),
        low_mm=float(corners[:, 2].min()),
        high_mm=float(corners[:, 2].max()),
        reach_mm=float(np.linalg.norm(corners, axis=1).max()),
    )


def carried(thing: Thing, bench: Point3, now: float, tallest_mm: float) -> Way:
    """Folded where it lies, raised as far as its folds reach below it, and brought over everything to its place."""
    raised = (*bench[:2], bench[2] - thing.low_mm)
    legs: list[moving.Leg] = []
    if thing.folding_s and raised != bench:
        legs.append(moving.Leg(start_s=now, seconds=thing.folding_s, start_mm=bench, end_mm=raised))
    below = thing.reach_mm if thing.placement.upside_down else -thing.low_mm
    height = tallest_mm + below + CLEAR_MM
    return Way(fold_s=now, legs=(*legs, *moving.over(raised, thing.end_mm, height, now + thing.folding_s)))


def piece_node(thing: Thing, way: Way, names: Names, from_mm: Point3 = (0.0, 0.0, 0.0)) -> Node:
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


def _panel_node(thing: Thing, number: int, names: Names, children: Sequence[Node]) -> Node:
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
