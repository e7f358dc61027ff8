"""The straightforward version that the engine is measured against: one call for every question.

It reads the same piece, looks at the same states, poses and ladder, and has to give the same answers. Areas and
overlaps come from shapely, pair by pair, each time they are needed; contact comes from python-fcl for every pair of
panels at every pose. It is kept here for the comparison alone; the program does not use it.
"""

from __future__ import annotations

from dataclasses import dataclass
from typing import Any

import fcl  # type: ignore[import-untyped]
import numpy as np
from numpy.typing import NDArray
from shapely.geometry import Polygon

from foldproof.folding.layers import Layers
from foldproof.folding.limits import FoldingLimits
from foldproof.folding.tree import FoldTree
from foldproof.pattern.records import Point

Array = NDArray[np.float64]
OVERLAP_MM2 = 1.0
SAME_PLANE_MM = 2.0


@dataclass(frozen=True, slots=True, kw_only=True)
class PlainPiece:
    """A piece ready for questions: its tree, layer shifts, and a solid for each panel."""

    tree: FoldTree
    shifts_mm: tuple[float, ...]
    solids: tuple[Any, ...]  # fcl.CollisionObject; the library carries no types


def plain_piece(tree: FoldTree, layers: Layers, limits: FoldingLimits) -> PlainPiece:
    """Solids as the engine has them, smaller by the depth it forgives."""
    forgiven = limits.contact_limit_mm(layers.thickness_mm)
    thickness = limits.plate_share * layers.thickness_mm - forgiven
    solids = []
    for panel in range(len(tree.panels)):
        smaller = Polygon(tree.outline(panel)).buffer(-(layers.thickness_mm + forgiven / 2), join_style="mitre")
        solids.append(_solid(tuple((x, y) for x, y in smaller.exterior.coords[:-1]), thickness))
    return PlainPiece(tree=tree, shifts_mm=layers.shifts_mm, solids=tuple(solids))


def _solid(outline: tuple[Point, ...], thickness_mm: float) -> Any:
    half, count = thickness_mm / 2, len(outline)
    corners = [(x, y, -half) for x, y in outline] + [(x, y, half) for x, y in outline]
    faces = [count, *range(count), count, *range(2 * count - 1, count - 1, -1)]
    for k in range(count):
        faces += [4, k, (k + 1) % count, count + (k + 1) % count, count + k]
    return fcl.CollisionObject(fcl.Convex(np.array(corners), count + 2, np.array(faces)), fcl.Transform())


def place(piece: PlainPiece, panel: int, fractions: Array) -> tuple[Array, Array]:
    """Rotation and position of one panel, crease by crease from the root."""
    tree = piece.tree
    rotation, position = np.eye(3), np.zeros(3)
    for crease in tree.path[panel]:
        start, axis, target = tree.axes[crease]
        angle = target * fractions[crease]
        x, y, z = axis
        cross = np.array([[0.0, -z, y], [z, 0.0, -x], [-y, x, 0.0]])
        turn = np.eye(3) + np.sin(angle) * cross + (1.0 - np.cos(angle)) * (cross @ cross)
        child = tree.crease_of.index(crease)
        local = start - turn @ start + turn[:, 2] * piece.shifts_mm[child] * fractions[crease]
        position = rotation @ local + position
        rotation = rotation @ turn
    return rotation, position


def hit(piece: PlainPiece, one: int, other: int, fractions: Array) -> bool:
    """Do two panels touch in one pose?"""
    for panel in (one, other):
        piece.solids[panel].setTransform(fcl.Transform(*place(piece, panel, fractions)))
    found: int = fcl.collide(piece.solids[one], piece.solids[other], fcl.CollisionRequest(), fcl.CollisionResult())
    return found > 0


def pair_touches(piece: PlainPiece, one: int, other: int, step: int, done: NDArray[np.bool_], ladder: Array) -> bool:
    """Do two panels touch anywhere on the ladder of ``step``, with the steps in ``done`` (steps,) in place?"""
    return any(hit(piece, one, other, _fractions(piece.tree, step, done, float(fraction))) for fraction in ladder)


def step_touches(piece: PlainPiece, step: int, done: NDArray[np.bool_], ladder: Array) -> bool:
    """Does any pair of panels that share no crease touch anywhere on the ladder?"""
    tree = piece.tree
    for fraction in ladder:
        fractions = _fractions(tree, step, done, float(fraction))
        for one in range(len(tree.panels)):
            for other in range(one + 1, len(tree.panels)):
                if tree.parent[other] != one and tree.parent[one] != other and hit(piece, one, other, fractions):
                    return True
    return False


def _fractions(tree: FoldTree, step: int, done: NDArray[np.bool_], fraction: float) -> Array:
    fractions = np.zeros(len(tree.piece.creases))
    for number, creases in enumerate(tree.steps):
        for crease in creases:
            fractions[crease] = fraction if number == step else float(done[number])
    return fractions


def overlapping(piece: PlainPiece) -> dict[tuple[int, int], float]:
    """Pairs of panels that lie on each other in the folded piece, with the area they share in mm2."""
    tree = piece.tree
    folded = np.ones(len(tree.piece.creases))
    found = {}
    for one in range(len(tree.panels)):
        for other in range(one + 1, len(tree.panels)):
            rotation, position = place(piece, one, folded)
            other_rotation, other_position = place(piece, other, folded)
            corners = [
                rotation.T @ (other_rotation @ (x, y, 0.0) + other_position - position) for x, y in tree.outline(other)
            ]
            if max(abs(corner[2]) for corner in corners) > SAME_PLANE_MM:
                continue
            shared = Polygon(tree.outline(one)).intersection(Polygon([corner[:2] for corner in corners])).area
            if shared > OVERLAP_MM2:
                found[one, other] = float(shared)
    return found
