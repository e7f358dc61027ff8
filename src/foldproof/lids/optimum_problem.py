"""From a box, a lid's outline and what the hole keeps clear of to the problem whose best hole is searched."""

from __future__ import annotations

import math
from dataclasses import dataclass

import numpy as np

from foldproof.geometry.half_plane import between
from foldproof.geometry.outline import half_planes, wound_anticlockwise
from foldproof.geometry.plane import Array, Polygon
from foldproof.lids.optimum_records import ANYWHERE, Fixed, HoleProblem, Opens
from foldproof.lids.records import TurningBox


@dataclass(frozen=True, slots=True, kw_only=True)
class HoleKeeps:
    """What the hole keeps clear of. ``edge_mm``: from its middle to every edge of the triangle and of the lid.

    ``head_mm`` is the width of the widest that must lie on the lid round the hole (head, flange, cap, reinforcing
    disc), ``legs_below_mm`` how much leg is left below the triangle (0: none), which opens along the triangle's long
    edge; ``back_mm`` the width of what lies below the triangle (socket, flare; 0: none).
    """

    edge_mm: float
    head_mm: float = 0.0
    legs_below_mm: float = 0.0
    back_mm: float = 0.0


def problem_of(
    box: TurningBox,
    lid: Polygon,
    keeps: HoleKeeps,
    *,
    pierced: tuple[Polygon, ...] = (),
    fixed: Fixed = ANYWHERE,
    on_diagonal: bool = False,
    opens: Opens = "either way",
) -> HoleProblem:
    """The problem of a lid on a box: ``lid`` is its covering outline in its own frame, ``pierced`` () means the same.

    ``on_diagonal`` keeps the hole on the line from the inner corner into the box. When the limits leave no place for
    a hole, the problem has an empty region, and its answer is that no place exists.
    """
    return HoleProblem(
        lid=lid,
        rim=box.rim,
        opening=box.opening,
        region=tuple((float(x), float(y)) for x, y in hole_region(box, keeps, on_diagonal=on_diagonal)),
        pierced=pierced or (lid,),
        to_lid_mm=max(keeps.edge_mm, 0.5 * keeps.head_mm),
        fixed=fixed,
        opens=opens,
    )


def hole_region(box: TurningBox, keeps: HoleKeeps, *, on_diagonal: bool = False) -> Array:
    """Corners (k, 2) of where the hole's middle may be in the box's frame; (0, 2) when nowhere.

    Inside the triangle and away from its edges; legs opened both ways along its long edge stay inside the mouth less
    what is glued to its walls, and so does a back.
    """
    normals, offsets = half_planes(wound_anticlockwise(np.asarray(box.triangle, dtype=np.float64)))
    planes = [(normals, offsets - max(keeps.edge_mm, 0.5 * keeps.back_mm))]
    mouth, walls = half_planes(wound_anticlockwise(np.asarray(box.mouth, dtype=np.float64)))
    if keeps.legs_below_mm > 0.0:
        along = np.array([-box.into[1], box.into[0]])
        planes.append((mouth, walls - np.abs(mouth @ along) * (box.tab_mm + keeps.legs_below_mm)))
    if keeps.back_mm > 0.0:
        planes.append((mouth, walls - box.tab_mm - 0.5 * keeps.back_mm))
    if on_diagonal:
        across = np.array([[-box.into[1], box.into[0]], [box.into[1], -box.into[0]]])
        planes.append((across, across @ np.asarray(box.corner)))
    region = between(np.concatenate([n for n, _ in planes]), np.concatenate([o for _, o in planes]))
    if not on_diagonal or not len(region):
        return region
    # Between two half-planes that meet, rounding leaves a sliver: its ends, brought back to the line.
    corner, into = np.asarray(box.corner), np.asarray(box.into)
    along = (region - corner) @ into
    ends = np.unique([along.min(), along.max()])
    return np.asarray(corner + ends[:, None] * into)


def largest_turn_rad(opens: Opens) -> tuple[float, float]:
    """The least and the largest opening turn that a hand allows."""
    return (-math.pi if opens != "to the left" else 0.0, math.pi if opens != "to the right" else 0.0)
