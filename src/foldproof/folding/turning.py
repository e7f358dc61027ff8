"""A folded piece turning about an upright pin: what meets what, at which angle.

The same plates and the same contact as for folds; only the path differs. Bodies are plates with a pose each, so that
a flat layer, a hanging edge cut into facets, and the panels of a folded box are all asked alike.
"""

from __future__ import annotations

from dataclasses import dataclass

import numpy as np
from numpy.typing import NDArray

from foldproof.folding.limits import FoldingLimits
from foldproof.folding.plates import make_plates, touching
from foldproof.geometry import motion
from foldproof.geometry.plane import Point, Polygon

Array = NDArray[np.float64]


@dataclass(frozen=True, slots=True, kw_only=True)
class Bodies:
    """Plates in space: outlines in their own frames, world-from-body (bodies, 4, 4), the name of each one's part."""

    outlines: tuple[Polygon, ...]
    world: Array
    names: tuple[str, ...]


@dataclass(frozen=True, slots=True, kw_only=True)
class Meeting:
    """A moving part first meets a fixed one at ``angle_deg``, counted from 0 in one sense."""

    moving: str
    fixed: str
    angle_deg: float


def meetings(
    fixed: Bodies, moving: Bodies, pivot: Point, thickness_mm: float, limits: FoldingLimits
) -> tuple[Meeting, ...]:
    """The first meeting of each moving part in each sense over half a turn, by even steps from 0."""
    plates = make_plates(
        (*fixed.outlines, *moving.outlines), thickness_mm, min(thickness_mm, _thin(moving)), limits.plate_share
    )
    body_of = np.repeat(np.arange(len(plates.first) - 1), np.diff(plates.first))
    count = len(fixed.outlines)
    fixed_parts, moving_parts = np.nonzero(body_of < count)[0], np.nonzero(body_of >= count)[0]
    one, other = (grid.reshape(-1) for grid in np.meshgrid(fixed_parts, moving_parts, indexing="ij"))
    still = motion.inverse(fixed.world)[body_of[one]]
    moved = moving.world[body_of[other] - count]
    centre, upright = np.array([pivot[0], pivot[1], 0.0]), np.array([0.0, 0.0, 1.0])
    found: list[Meeting] = []
    angles = np.arange(0.0, 180.0 + 1e-9, limits.even_step_deg)
    for sense in (1.0, -1.0):
        met: set[str] = set()
        for angle in angles.tolist():
            turned = motion.turn(centre, upright, np.array([np.radians(sense * angle)]))[0] @ moved
            hit = touching(plates, one, other, still @ turned, limits.contact_limit_mm(thickness_mm))
            for a, b in zip(body_of[one[hit]].tolist(), (body_of[other[hit]] - count).tolist(), strict=True):
                name = moving.names[b]
                if name not in met:
                    met.add(name)
                    found.append(Meeting(moving=name, fixed=fixed.names[a], angle_deg=sense * angle))
    return tuple(found)


def _thin(bodies: Bodies) -> float:
    """Facets share edges: drawing them in by more than a hair would open gaps between them."""
    return 0.05 if len(bodies.outlines) > len(set(bodies.names)) else np.inf
