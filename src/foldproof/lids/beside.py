"""Two equal boxes side by side on a shelf: how far apart they have to stand for a lid to turn.

Each box is closed while the other's lid goes from closed to opened. Seen along the line from box to box, the turning
lid needs as much room as its outline and the other's closed one overlap, line by line across. Both are taken by their
convex hulls, which is a little more than lobes that could go past each other would need.
"""

from __future__ import annotations

import math
from functools import lru_cache

import numpy as np
from shapely.geometry import MultiPoint
from shapely.geometry import Polygon as Shape

from foldproof.geometry.plane import Array, Point, Polygon
from foldproof.lids.records import TurningBox

STEP_DEG = 0.5  # how finely the turn is divided; the hull is larger by what it can reach between
COARSE = 8  # of these steps, looked at together first
LIDS_KEPT = 16  # remembered: most changes to a box leave its rim and its lid as they are
SIMPLER_MM = 0.5  # hulls are drawn with fewer corners, this much larger


def apart_mm(box: TurningBox, outline: Polygon, hole: Point, opened_deg: float) -> tuple[float, float]:
    """The least distance in mm between the walls of two boxes: side by side, and one behind the other.

    ``outline`` is what the closed lid covers; the lid turns about ``hole`` to ``opened_deg``. Either lid can turn
    while the other is closed. Never too small: what is left out above is added.
    """
    return _apart(box.rim, outline, hole, opened_deg)


@lru_cache(maxsize=LIDS_KEPT)
def _apart(rim: Polygon, outline: Polygon, hole: Point, opened_deg: float) -> tuple[float, float]:
    still = _hull(outline, 0.0)
    reach = float(np.hypot(*(still - hole).T).max())
    steps = COARSE * max(1, math.ceil(abs(opened_deg) / (COARSE * STEP_DEG)))
    half = 0.5 * math.radians(abs(opened_deg)) / steps
    middles = np.radians(opened_deg) * (np.arange(steps) + 0.5) / steps
    fine, coarse = (_hull(outline, reach * width) for width in (half, COARSE * half))
    ways = []
    for turn in (0.0, 0.5 * math.pi, math.pi, 1.5 * math.pi):
        about = _turned_about(np.asarray([hole]), (0.0, 0.0), np.array([turn]))[0, 0]
        a, b, c = (_turned_about(hull, (0.0, 0.0), np.array([turn]))[0] for hull in (still, fine, coarse))
        ways.append(_farthest(a, b, c, (float(about[0]), float(about[1])), middles))
    xs, ys = [p for p, _ in rim], [q for _, q in rim]
    beside = max(ways[0], ways[2]) - (max(xs) - min(xs))
    behind = max(ways[1], ways[3]) - (max(ys) - min(ys))
    return max(0.0, beside), max(0.0, behind)


def _farthest(still: Array, fine: Array, coarse: Array, hole: Point, middles_rad: Array) -> float:
    """How far along +x the turning hull reaches past the one that stands still, over all turns, at most.

    ``fine`` is so much larger that it holds the hull anywhere in its step, ``coarse`` anywhere in ``COARSE`` of them.
    Where even the coarse one reaches no farther than what is found, the fine ones need not be looked at.
    """
    groups = middles_rad.reshape(-1, COARSE)
    most = _past(_turned_about(coarse, hole, groups.mean(axis=1)), still)
    found = -math.inf
    for group in np.argsort(-most, kind="stable"):
        if most[group] <= found:
            break
        found = max(found, float(_past(_turned_about(fine, hole, groups[group]), still).max()))
    return found


def _turned_about(points: Array, pivot: Point, turns_rad: Array) -> Array:
    """Points (n, 2) turned anticlockwise about a pivot by each of some turns (m,): (m, n, 2)."""
    x, y = (points - np.asarray(pivot)).T
    cosine, sine = np.cos(turns_rad)[:, None], np.sin(turns_rad)[:, None]
    turned: Array = np.stack([cosine * x - sine * y + pivot[0], sine * x + cosine * y + pivot[1]], axis=2)
    return turned


def _hull(outline: Polygon, larger_mm: float) -> Array:
    """The convex hull (n, 2), anticlockwise, larger by so much all round, and at most a little more."""
    hull = MultiPoint(outline).convex_hull.buffer(larger_mm + SIMPLER_MM, join_style="mitre")
    fewer = hull.simplify(SIMPLER_MM)
    assert isinstance(fewer, Shape)
    return np.asarray(fewer.exterior.coords[:-1], dtype=float)


def _past(turned: Array, still: Array) -> Array:
    """How far along +x convex outlines (m, n, 2) reach past the left side of one that stands still (k, 2): (m,).

    Both sides are straight between corners, so the most is at the height of a corner of one or the other; where they
    have no height in common nothing has to give way.
    """
    corners = np.broadcast_to(still[None, :, 1], (len(turned), len(still)))
    levels = np.concatenate([corners, turned[:, :, 1]], axis=1)
    mirrored = np.broadcast_to(still * [-1.0, 1.0], (len(turned), *still.shape))
    found: Array = (_right_side(turned, levels) + _right_side(mirrored, levels)).max(axis=1)
    return found


def _right_side(outlines: Array, levels: Array) -> Array:
    """The largest x of convex outlines (m, n, 2) at levels (m, l) of y; minus infinity where they do not reach."""
    start = outlines[:, None, :, :]
    ahead = np.concatenate([outlines[:, 1:], outlines[:, :1]], axis=1)[:, None, :, :] - start
    up = levels[:, :, None] - start[..., 1]
    rise = ahead[..., 1]
    level = rise == 0.0
    share = up / np.where(level, 1.0, rise)
    meets = (share >= 0.0) & (share <= 1.0)
    side = start[..., 0] + share * ahead[..., 0]
    if level.any():
        meets = np.where(level, up == 0.0, meets)
        side = np.where(level, start[..., 0] + np.maximum(ahead[..., 0], 0.0), side)
    found: Array = np.where(meets, side, -np.inf).max(axis=2)
    return found
