"""Layer order: which panels lie on each other when folded, in what order, and how far each is pushed aside.

Zero-thickness folding puts layers into one plane. Here overlapping panels of one plane form a stack; joins and
folds back on themselves say which lies above which; every panel then gets a shift along its normal so that
neighbours in a stack stand one thickness apart.
"""

from __future__ import annotations

from dataclasses import dataclass

import numpy as np
from numpy.typing import NDArray

from foldproof.folding.tree import FULL_TURN_BACK_RAD, FoldTree, folded
from foldproof.geometry import motion
from foldproof.geometry.plane import Polygon, anticlockwise, common, signed_area
from foldproof.pattern.records import Join

Array = NDArray[np.float64]

PARALLEL = 1.0 - 1e-5  # cosine; 0.26 degrees, finer than a hand fold, coarser than float noise
STACK_REACH_LAYERS = 6  # planes this many thicknesses apart can be one stack: no hand-made join is thicker
STACK_FLOOR_MM = 0.01  # planes that should coincide do so to this much even for zero thickness
OVERLAP_MM2 = 1.0  # less common area than this is a touch of edges, not a layer on a layer


@dataclass(frozen=True, slots=True, kw_only=True)
class Overlap:
    """Panel ``upper`` lies over ``lower`` in the stack; ``region`` is their common area in the lower one's frame.

    ``side`` is +1 when the upper one is on the lower one's face side, -1 on its back side.
    """

    lower: int
    upper: int
    side: int
    region: Polygon
    assumed: bool


@dataclass(frozen=True, slots=True, kw_only=True)
class Layers:
    """The stacks of one piece. ``layer`` counts from each stack's anchor; ``shifts_mm`` enter the pose.

    ``contradictions`` are pairs of panels ordered both ways round, by each other or by a ring of others.
    """

    thickness_mm: float
    stacks: tuple[tuple[int, ...], ...]
    layer: tuple[int, ...]
    shifts_mm: tuple[float, ...]
    overlaps: tuple[Overlap, ...]
    contradictions: tuple[tuple[str, str], ...]


def order_layers(tree: FoldTree, joins: tuple[Join, ...], thickness_mm: float) -> Layers:
    """Finds the stacks of a folded piece and the layer of every panel.

    Order comes from joins (the second face lies on the named side of the first) and from folds of half a turn;
    a pair that neither decides is stacked in tree order on the lower one's face side and marked assumed.
    """
    world = folded(tree, [0.0] * len(tree.panels))
    raw = _overlapping(tree, world, thickness_mm)
    above = _known_order(tree, joins, world)
    stacks = _connected(len(tree.panels), raw)
    layer = [0] * len(tree.panels)
    overlaps: list[Overlap] = []
    contradictions: list[tuple[str, str]] = []
    for stack in stacks:
        pairs = {pair: region for pair, region in raw.items() if pair[0] in stack}
        ordered, assumed, clashes = _arrange(stack, tuple(pairs), above)
        contradictions += [(tree.panels[i], tree.panels[j]) for i, j in clashes]
        anchor = min(stack, key=lambda panel: (len(tree.path[panel]), panel))
        for panel, height in _heights(stack, ordered, anchor).items():
            layer[panel] = height
        normal = world[anchor, :3, 2] * _sense(world[anchor, :3, 2])
        for (lower, upper), pair in ordered.items():
            region = pairs[pair]
            if pair[0] != lower:
                region = _carry(region, world, pair[0], lower)
            side = 1 if float(world[lower, :3, 2] @ normal) > 0 else -1
            overlaps.append(
                Overlap(lower=lower, upper=upper, side=side, region=region, assumed=(lower, upper) in assumed)
            )
    return Layers(
        thickness_mm=thickness_mm,
        stacks=stacks,
        layer=tuple(layer),
        shifts_mm=_shifts(tree, world, stacks, layer, thickness_mm),
        overlaps=tuple(overlaps),
        contradictions=tuple(contradictions),
    )


def _overlapping(tree: FoldTree, world: Array, thickness_mm: float) -> dict[tuple[int, int], Polygon]:
    """Pairs of panels lying in one plane with a common area, and that area in the first one's flat frame."""
    reach_mm = STACK_REACH_LAYERS * thickness_mm + STACK_FLOOR_MM
    normals = world[:, :3, 2]
    offsets = np.einsum("ij,ij->i", normals, world[:, :3, 3])
    found: dict[tuple[int, int], Polygon] = {}
    for one in range(len(tree.panels)):
        for other in range(one + 1, len(tree.panels)):
            cosine = float(normals[one] @ normals[other])
            if abs(cosine) < PARALLEL:
                continue
            if abs(offsets[one] - np.sign(cosine) * offsets[other]) > reach_mm:
                continue
            laid = _carry(tree.outline(other), world, other, one)
            shared = common(tree.outline(one), laid)
            if shared and abs(signed_area(shared[0])) > OVERLAP_MM2:
                found[one, other] = shared[0]
    return found


def _carry(polygon: Polygon, world: Array, source: int, target: int) -> Polygon:
    """A polygon of one panel's flat frame seen in another's, for panels that end in one plane."""
    target_from_source = motion.inverse(world[target]) @ world[source]
    moved = motion.apply(target_from_source, motion.lift(polygon))
    return anticlockwise(tuple((float(x), float(y)) for x, y, _ in moved))


def _known_order(tree: FoldTree, joins: tuple[Join, ...], world: Array) -> set[tuple[int, int, int]]:
    """(lower, upper, sign): upper lies on the side of lower that its world normal times sign points to."""
    known: set[tuple[int, int, int]] = set()
    for join in joins:
        if join.a.piece != tree.piece.id or join.b.piece != tree.piece.id:
            continue
        one, other = tree.index(join.a.panel), tree.index(join.b.panel)
        known.add((one, other, 1 if join.a.side == "face" else -1))
        known.add((other, one, 1 if join.b.side == "face" else -1))
    for panel in range(1, len(tree.panels)):
        crease = tree.piece.creases[tree.crease_of[panel]]
        if crease.target_rad >= FULL_TURN_BACK_RAD:
            known.add((tree.parent[panel], panel, 1 if crease.direction == "valley" else -1))
    # As seen along one fixed direction of the plane, so that both kinds of statement can be compared.
    signed = set()
    for one, other, sign in known:
        signed.add((one, other, sign * _sense(world[one, :3, 2])))
    return {(i, j, 1) if sign > 0 else (j, i, 1) for i, j, sign in signed}


def _sense(normal: Array) -> int:
    """+1 or -1: on which side of a fixed half of all directions a normal points."""
    leading = next(value for value in normal if abs(value) > 0.3)  # a unit vector has one above 0.577
    return 1 if leading > 0 else -1


def _connected(count: int, pairs: dict[tuple[int, int], Polygon]) -> tuple[tuple[int, ...], ...]:
    group = list(range(count))
    for one, other in pairs:
        low, high = sorted((group[one], group[other]))
        group = [low if g == high else g for g in group]
    stacks = [tuple(p for p in range(count) if group[p] == g) for g in sorted(set(group))]
    return tuple(stack for stack in stacks if len(stack) > 1)


Pair = tuple[int, int]


def _arrange(
    stack: tuple[int, ...], pairs: tuple[Pair, ...], known: set[tuple[int, int, int]]
) -> tuple[dict[Pair, Pair], set[Pair], list[Pair]]:
    """Each overlapping pair as (lower, upper) along the fixed sense; which of them are assumed; contradictions."""
    over = {panel: {j for i, j, _ in known if i == panel and j in stack} for panel in stack}
    clashes = [(i, j) for i in stack for j in over[i] if i < j and i in over[j]]
    for i, j in clashes:
        over[j].discard(i)
    for i in stack:  # rings of more than two: each is cut once, at the statement that closes it
        for j in sorted(over[i]):
            if _reaches(over, j, i):
                over[i].discard(j)
                clashes.append((i, j))
    ordered: dict[Pair, Pair] = {}
    assumed: set[Pair] = set()
    for one, other in pairs:
        if _reaches(over, one, other):
            ordered[one, other] = (one, other)
        elif _reaches(over, other, one):
            ordered[other, one] = (one, other)
        else:
            over[one].add(other)
            ordered[one, other] = (one, other)
            assumed.add((one, other))
    return ordered, assumed, clashes


def _reaches(over: dict[int, set[int]], start: int, goal: int) -> bool:
    seen, waiting = {start}, [start]
    while waiting:
        for ahead in over[waiting.pop()]:
            if ahead == goal:
                return True
            if ahead not in seen:
                seen.add(ahead)
                waiting.append(ahead)
    return False


def _heights(stack: tuple[int, ...], ordered: dict[Pair, Pair], anchor: int) -> dict[int, int]:
    """Layer of each panel of a stack relative to its anchor: the longest chain of overlaps between them."""
    height = {panel: 0 for panel in stack}
    for _ in stack:  # relaxation; a stack of n panels settles in n rounds
        for lower, upper in ordered:
            height[upper] = max(height[upper], height[lower] + 1)
    # What lies under the anchor hugs it instead of the bottom of the stack.
    for _ in stack:
        for panel in stack:
            ceiling = [height[upper] - 1 for lower, upper in ordered if lower == panel]
            if ceiling and height[panel] < min(ceiling) and panel != anchor:
                height[panel] = min(ceiling) if height[panel] < height[anchor] else height[panel]
    return {panel: height[panel] - height[anchor] for panel in stack}


def _shifts(
    tree: FoldTree, world: Array, stacks: tuple[tuple[int, ...], ...], layer: list[int], thickness_mm: float
) -> tuple[float, ...]:
    """Shift of each panel along its own normal that brings it to its layer, the parents' shifts counted."""
    anchor_of = {panel: min(stack, key=lambda p: (len(tree.path[p]), p)) for stack in stacks for panel in stack}
    normals = world[:, :3, 2]
    total = np.zeros((len(tree.panels), 3))
    shifts = [0.0] * len(tree.panels)
    for panel in range(1, len(tree.panels)):
        inherited = total[tree.parent[panel]]
        anchor = anchor_of.get(panel, panel)
        total[panel] = inherited
        if anchor == panel:
            continue
        normal = normals[anchor] * _sense(normals[anchor])
        # Flat origins lie in their panels' planes, and parallel planes are compared along their normal.
        standing = float(normal @ (world[panel, :3, 3] - world[anchor, :3, 3]))
        wanted = layer[panel] * thickness_mm + float(normal @ total[anchor])
        along = wanted - standing - float(normal @ inherited)
        shifts[panel] = along * (1.0 if float(normals[panel] @ normal) > 0 else -1.0)
        total[panel] = inherited + shifts[panel] * normals[panel]
    return tuple(shifts)
