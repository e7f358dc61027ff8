"""Two equal boxes side by side on a shelf: how far apart they have to stand for a lid to turn.

Each box is closed while the other's lid goes from closed to opened. Seen along the line from box to box, the turning
lid needs as much room as its outline and the other's closed one overlap, line by line across. Both are taken by their
convex hulls, which is a little more than lobes that could go past each other would need.
"""

from __future__ import annotations

import math

import numpy as np
from shapely.geometry import MultiPoint
from shapely.geometry import Polygon as Shape

from foldproof.geometry.plane import Array, Point, Polygon
from foldproof.lids.records import TurningBox

STEP_DEG = 0.5  # how often the turning lid is looked at; what it can reach between is added
SIMPLER_MM = 0.2  # hulls are drawn with fewer corners, this much larger
AT_ONCE = 8  # turns worked together


def apart_mm(box: TurningBox, outline: Polygon, hole: Point, opened_deg: float) -> tuple[float, float]:
    """The least distance in mm between the walls of two boxes: side by side, and one behind the other.

    ``outline`` is what the closed lid covers; the lid turns about ``hole`` to ``opened_deg``. Either lid can turn
    while the other is closed. Never too small: what is left out above is added.
    """
    hull = _hull(outline)
    steps = max(1, math.ceil(abs(opened_deg) / STEP_DEG))
    turns = np.radians(np.linspace(0.0, opened_deg, steps + 1))
    reach = float(np.hypot(*(hull - hole).T).max())
    between = reach * 0.5 * math.radians(abs(opened_deg) / steps)
    offset = hull - np.asarray(hole)
    cosine, sine = np.cos(turns)[:, None], np.sin(turns)[:, None]
    x = cosine * offset[None, :, 0] - sine * offset[None, :, 1] + hole[0]
    y = sine * offset[None, :, 0] + cosine * offset[None, :, 1] + hole[1]
    turned = np.stack([x, y], axis=2)
    xs, ys = [p for p, _ in box.rim], [q for _, q in box.rim]
    wide, deep = max(xs) - min(xs), max(ys) - min(ys)
    swapped = turned[:, :, ::-1], hull[:, ::-1]
    beside = max(_past(turned, hull), _past(-turned, -hull)) - wide
    behind = max(_past(*swapped), _past(-swapped[0], -swapped[1])) - deep
    return max(0.0, beside + between), max(0.0, behind + between)


def _hull(outline: Polygon) -> Array:
    """The convex hull (n, 2), anticlockwise, nowhere smaller and at most a little larger."""
    hull = MultiPoint(outline).convex_hull
    larger = hull.buffer(SIMPLER_MM, join_style="mitre").simplify(SIMPLER_MM)
    assert isinstance(larger, Shape)
    return np.asarray(larger.exterior.coords[:-1], dtype=float)


def _past(turned: Array, still: Array) -> float:
    """How far along +x convex outlines (m, n, 2) reach past the left side of one that stands still (k, 2), at most.

    Both sides are straight between corners, so the most is at the height of a corner of one or the other; where they
    have no height in common nothing has to give way. Outlines that reach farthest right are looked at first, until
    none of the others can reach past the most found.
    """
    mirrored = still * [-1.0, 1.0]
    farthest = turned[:, :, 0].max(axis=1) - still[:, 0].min()
    order = np.argsort(-farthest, kind="stable")
    most = -math.inf
    for first in range(0, len(order), AT_ONCE):
        some = order[first : first + AT_ONCE]
        if farthest[some[0]] <= most:
            break
        outlines = turned[some]
        corners = np.broadcast_to(still[None, :, 1], (len(some), len(still)))
        levels = np.concatenate([corners, outlines[:, :, 1]], axis=1)
        left = -_right_side(np.broadcast_to(mirrored, (len(some), *still.shape)), levels)
        most = max(most, float(np.max(_right_side(outlines, levels) - left)))
    return most


def _right_side(outlines: Array, levels: Array) -> Array:
    """The largest x of convex outlines (m, n, 2) at levels (m, l) of y; minus infinity where they do not reach."""
    start = outlines[:, None, :, :]
    ahead = np.roll(outlines, -1, axis=1)[:, None, :, :] - start
    up = levels[:, :, None] - start[..., 1]
    rise = ahead[..., 1]
    level = rise == 0.0
    share = np.divide(up, rise, out=np.zeros(np.broadcast(up, rise).shape), where=~level)
    meets = np.where(level, up == 0.0, (share >= 0.0) & (share <= 1.0))
    side = start[..., 0] + np.where(level, np.maximum(ahead[..., 0], 0.0), share * ahead[..., 0])
    found: Array = np.where(meets, side, -np.inf).max(axis=2)
    return found
