"""Which far panels can meet at all while one crease folds: a quick bound that leaves few pairs to judge.

A turn about a line keeps every point's distance from that line and its place along it. So two balls, one turning and
one still, can meet only if they lie close in these two measures, whatever the angle.
"""

from __future__ import annotations

from dataclasses import dataclass

import numpy as np
from numpy.typing import NDArray

from foldproof.folding.tree import Axis
from foldproof.geometry.plane import Polygon

Array = NDArray[np.float64]
Index = NDArray[np.int64]


@dataclass(frozen=True, slots=True, kw_only=True)
class Balls:
    """A bounding ball of each panel, in its flat frame: ``middle`` (panels, 2) and ``radius_mm`` (panels,)."""

    middle: Array
    radius_mm: Array


def balls_round(outlines: list[Polygon], thickness_mm: float) -> Balls:
    """Balls that hold each panel with its thickness."""
    middles, radii = [], []
    for outline in outlines:
        corners = np.asarray(outline)
        middle = 0.5 * (corners.min(axis=0) + corners.max(axis=0))
        middles.append(middle)
        radii.append(float(np.linalg.norm(corners - middle, axis=1).max()) + 0.5 * thickness_mm)
    return Balls(middle=np.array(middles), radius_mm=np.array(radii))


def middles_of(balls: Balls, world: Array) -> Array:
    """Where the balls' middles are in poses (states, panels, 4, 4): (states, panels, 3)."""
    middles: Array = (world[..., :3, :2] @ balls.middle[None, :, :, None])[..., 0] + world[..., :3, 3]
    return middles


def can_meet(
    balls: Balls, middles: Array, hinge: Array, axis: Axis, pairs: tuple[Index, Index], slack_mm: float
) -> NDArray[np.bool_]:
    """Which pairs (p,), (p,) of panels on either side of a crease can meet while it folds, (states, pairs).

    ``middles`` (states, panels, 3) belong to poses with the crease at its target, ``hinge`` (states, 4, 4) to the
    panel it hangs on; ``slack_mm`` is how far the fold pushes its child aside besides turning it.
    """
    start, direction, _ = axis
    line = hinge[:, :3, :3] @ direction
    point = hinge[:, :3, :3] @ start + hinge[:, :3, 3]
    way = middles - point[:, None, :]
    along = (way @ line[:, :, None])[..., 0]
    out = np.sqrt(np.maximum((way * way).sum(axis=2) - along * along, 0.0))
    one, other = pairs
    reach = balls.radius_mm[one] + balls.radius_mm[other] + slack_mm
    apart = (along[:, one] - along[:, other]) ** 2 + (out[:, one] - out[:, other]) ** 2
    meet: NDArray[np.bool_] = apart < reach * reach
    return meet
