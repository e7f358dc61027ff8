"""Folded pieces coming together: a lid lowered on its tray is tried for contact along its whole way."""

from __future__ import annotations

from dataclasses import dataclass

import numpy as np
from numpy.typing import NDArray

from foldproof.folding.layers import Layers
from foldproof.folding.limits import FoldingLimits
from foldproof.folding.plates import make_plates, touching
from foldproof.folding.tree import FoldTree, folded
from foldproof.geometry import motion
from foldproof.pattern.records import Assembly, Joint, Placement

Array = NDArray[np.float64]

EVEN_STEP_MM = 1.0  # a lid slides along walls; nothing thinner than a wall edge can be jumped over sideways
FINEST_STEP_MM = 0.05


@dataclass(frozen=True, slots=True, kw_only=True)
class FoldedPiece:
    """A piece with its tree and layers, ready to be posed."""

    tree: FoldTree
    layers: Layers


@dataclass(frozen=True, slots=True, kw_only=True)
class JointClash:
    """Two panels touch when the joint's moving piece is ``away_mm`` from its place; the farthest such point."""

    joint: str
    fixed_panel: str
    moving_panel: str
    away_mm: float


def placed(piece: FoldedPiece, placement: Placement) -> Array:
    """World-from-panel of a folded piece in its place in the assembly, shape (panels, 4, 4)."""
    world = folded(piece.tree, piece.layers.shifts_mm)
    return world_from_piece(placement) @ world


def world_from_piece(placement: Placement) -> Array:
    """The motion that puts a piece's root in its place."""
    half_turn = np.diag([1.0, -1.0, -1.0, 1.0]) if placement.upside_down else motion.identity()
    upright = np.array([0.0, 0.0, 1.0])
    turned = motion.turn(np.zeros(3), upright, np.array([np.radians(placement.turned_deg)]))[0]
    result: Array = motion.shift(*placement.shift_mm) @ turned @ half_turn
    return result


def joint_clashes(
    assembly: Assembly, pieces: dict[str, FoldedPiece], joint: Joint, limits: FoldingLimits
) -> tuple[JointClash, ...]:
    """Pairs of panels of the two pieces that touch anywhere on the joint's way, each at its farthest point."""
    placement = {p.piece: p for p in assembly.placements}
    fixed, moving = pieces[joint.fixed], pieces[joint.moving]
    thickness = max(fixed.layers.thickness_mm, moving.layers.thickness_mm)
    outlines = [fixed.tree.outline(i) for i in range(len(fixed.tree.panels))]
    outlines += [moving.tree.outline(i) for i in range(len(moving.tree.panels))]
    plates = make_plates(outlines, thickness, thickness, limits.plate_share)
    panel_of = np.repeat(np.arange(len(outlines)), np.diff(plates.first))
    world_fixed = placed(fixed, placement[joint.fixed])
    world_moving = placed(moving, placement[joint.moving])
    count = len(fixed.tree.panels)
    fixed_parts = np.nonzero(panel_of < count)[0]
    moving_parts = np.nonzero(panel_of >= count)[0]
    one, other = (grid.reshape(-1) for grid in np.meshgrid(fixed_parts, moving_parts, indexing="ij"))
    still = motion.inverse(world_fixed)[panel_of[one]]
    axis = np.asarray(joint.axis) / np.linalg.norm(joint.axis)
    away = _distances(joint.travel_mm)
    worst: dict[tuple[int, int], float] = {}
    for distance in away.tolist():
        moved = motion.shift(*(axis * distance)) @ world_moving[panel_of[other] - count]
        hit = touching(plates, one, other, still @ moved, limits.contact_limit_mm(thickness))
        for a, b in zip(panel_of[one[hit]].tolist(), panel_of[other[hit]].tolist(), strict=True):
            worst[a, b] = max(worst.get((a, b), 0.0), distance)
    return tuple(
        JointClash(
            joint=joint.id,
            fixed_panel=fixed.tree.panels[a],
            moving_panel=moving.tree.panels[b - count],
            away_mm=distance,
        )
        for (a, b), distance in sorted(worst.items())
    )


def _distances(travel_mm: float) -> Array:
    """Distances from the place to look at: even steps, and finer ones near the end."""
    even = np.arange(0.0, travel_mm + 1e-9, EVEN_STEP_MM)
    fine = EVEN_STEP_MM / 2.0 ** np.arange(1, int(np.ceil(np.log2(EVEN_STEP_MM / FINEST_STEP_MM))) + 1)
    distances: Array = np.unique(np.concatenate([even, fine]))
    return distances
