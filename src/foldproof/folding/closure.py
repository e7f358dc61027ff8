"""Does it close? Joins at the end of all folds, glue areas inside their faces, and how far folds reach round layers."""

from __future__ import annotations

from dataclasses import dataclass

import numpy as np
from numpy.typing import NDArray
from shapely.geometry import Point as Spot
from shapely.geometry import Polygon as Shape

from foldproof.folding.layers import Layers
from foldproof.folding.tree import FULL_TURN_BACK_RAD, FoldTree, folded
from foldproof.geometry import motion
from foldproof.geometry.plane import Polygon, inradius, signed_area
from foldproof.pattern.records import Join

Array = NDArray[np.float64]


@dataclass(frozen=True, slots=True, kw_only=True)
class JoinFit:
    """How one join meets.

    ``gap_mm``: the largest distance between the two faces beyond lying on each other; ``slip_mm``: how far the
    glue area lands from where it should, along the face; ``facing``: whether the named sides look at each other;
    ``overhang_mm``: how far the area reaches outside either face; ``area_mm2`` and ``width_mm`` of the glue.
    """

    piece: str
    join: str
    gap_mm: float
    slip_mm: float
    facing: bool
    overhang_mm: float
    area_mm2: float
    width_mm: float

    @property
    def residual_mm(self) -> float:
        """Gap and slip together."""
        return float(np.hypot(self.gap_mm, self.slip_mm))


@dataclass(frozen=True, slots=True, kw_only=True)
class TakeUp:
    """How far a fold has to reach round the layers it closes over, in mm beyond its own thickness."""

    piece: str
    crease: str
    reach_mm: float


def fit_joins(tree: FoldTree, layers: Layers, joins: tuple[Join, ...]) -> tuple[JoinFit, ...]:
    """The fit of every join inside one piece, in the folded pose with all layers in place."""
    world = folded(tree, layers.shifts_mm)
    own = (j for j in joins if j.a.piece == tree.piece.id and j.b.piece == tree.piece.id)
    return tuple(_fit(tree, world, layers.thickness_mm, join) for join in own)


def _fit(tree: FoldTree, world: Array, thickness_mm: float, join: Join) -> JoinFit:
    one, other = tree.index(join.a.panel), tree.index(join.b.panel)
    one_from_other = motion.inverse(world[one]) @ world[other]
    landed = motion.apply(one_from_other, motion.lift(join.landing))
    wanted = motion.lift(join.area)
    heights = landed[:, 2] * (1.0 if join.a.side == "face" else -1.0)
    slips = np.linalg.norm(landed[:, :2] - wanted[:, :2], axis=1)
    # The second face looks against the first when its outward normal opposes the first one's.
    outward = one_from_other[:3, 2] * (1.0 if join.b.side == "face" else -1.0)
    facing = float(outward[2]) * (1.0 if join.a.side == "face" else -1.0) < 0 and float(heights.min()) > -1e-6
    return JoinFit(
        piece=tree.piece.id,
        join=join.id,
        gap_mm=float(np.max(np.abs(heights - thickness_mm))),
        slip_mm=float(np.max(slips)),
        facing=facing,
        overhang_mm=max(_overhang(join.area, tree.outline(one)), _overhang(join.landing, tree.outline(other))),
        area_mm2=abs(signed_area(join.area)),
        width_mm=2.0 * inradius(join.area),
    )


def _overhang(area: Polygon, outline: Polygon) -> float:
    """How far the corners of an area lie outside an outline, in mm; 0 when all are inside."""
    shape = Shape(outline)
    return max(float(shape.distance(Spot(corner))) for corner in area)


def take_up(tree: FoldTree, layers: Layers) -> tuple[TakeUp, ...]:
    """For every crease, how far its child is pushed aside to lie in its layer.

    A fold of half a turn always reaches round its own thickness; only what is more counts.
    """
    found = []
    for panel in range(1, len(tree.panels)):
        crease = tree.piece.creases[tree.crease_of[panel]]
        own = layers.thickness_mm if crease.target_rad >= FULL_TURN_BACK_RAD else 0.0
        reach = max(0.0, abs(layers.shifts_mm[panel]) - own)
        found.append(TakeUp(piece=tree.piece.id, crease=crease.id, reach_mm=reach))
    return tuple(found)


def stack_heights(layers: Layers) -> tuple[tuple[tuple[int, ...], float], ...]:
    """Each stack's panels and its thickness where most layers lie on each other, in mm."""
    found = []
    for stack in layers.stacks:
        heights = [layers.layer[panel] for panel in stack]
        found.append((stack, (max(heights) - min(heights) + 1) * layers.thickness_mm))
    return tuple(found)
