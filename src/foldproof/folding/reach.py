"""Can fingers press a join? A fingertip on one face, hand or table behind the other.

A fingertip is a disc on the outer side of one joined panel, centred on the glue area, that has a straight way out
within 60 degrees of the normal or along the panel. What blocks it depends, for each other panel, only on the steps
between the two; the blocked rays are kept by state like contact.
"""

from __future__ import annotations

from dataclasses import dataclass, field

import numpy as np
from numpy.typing import NDArray

from foldproof.folding.contact import ContactTable, States, path_steps, state_codes
from foldproof.folding.layers import Layers
from foldproof.folding.limits import FoldingLimits
from foldproof.folding.tree import between
from foldproof.geometry import motion
from foldproof.geometry.plane import Point, centre
from foldproof.pattern.records import Join

Array = NDArray[np.float64]
Blocked = NDArray[np.bool_]

STEEPEST_DEG = 60.0
RING = 8  # points on the rim of the fingertip, and headings round the normal
LIFT_MM = 0.5  # rays begin this far off the face, so that its own layer does not stop them
TABLE_MM = 1.0  # how far something may stand below the face that lies on the table


@dataclass(frozen=True, slots=True, kw_only=True)
class Press:
    """Rays of a fingertip on one side of one panel: starts and ends (directions, points, 3) in its flat frame."""

    panel: int
    outward: int  # +1: from the face side
    starts: Array
    ends: Array
    on_panel: Blocked  # (directions, points): the fingertip's points that lie on the panel at all


@dataclass(frozen=True, slots=True, kw_only=True)
class ReachTable:
    """Blocked directions and table rest by (press, obstacle panel, state code)."""

    contact: ContactTable
    presses: tuple[tuple[Press, Press], ...]  # per join: on a, on b
    stacked: frozenset[tuple[int, int]]
    blocked: dict[tuple[int, int, int, int], tuple[Blocked, bool]] = field(default_factory=dict)


def start_reach(
    table: ContactTable, layers: Layers, joins: tuple[Join, ...], limits: FoldingLimits
) -> ReachTable:
    """A reach table for the joins of one piece."""
    tree = table.tree
    presses = []
    for join in joins:
        on_a = _press(table, tree.index(join.a.panel), join.a.side, centre(join.area), limits)
        on_b = _press(table, tree.index(join.b.panel), join.b.side, centre(join.landing), limits)
        presses.append((on_a, on_b))
    stacked = frozenset(
        pair for o in layers.overlaps for pair in ((o.lower, o.upper), (o.upper, o.lower))
    )
    return ReachTable(contact=table, presses=tuple(presses), stacked=stacked)


def _press(table: ContactTable, panel: int, joined_side: str, at: Point, limits: FoldingLimits) -> Press:
    outward = -1 if joined_side == "face" else 1
    radius = 0.5 * limits.finger_mm
    round_angles = 2.0 * np.pi * np.arange(RING) / RING
    rim = np.stack([np.cos(round_angles), np.sin(round_angles), np.zeros(RING)], axis=1)
    disc = np.concatenate([np.zeros((1, 3)), 0.95 * radius * rim])
    slants = [(0.0, 0.0)] + [(np.radians(s), a) for s in (30.0, STEEPEST_DEG) for a in round_angles]
    directions = [
        np.array([np.sin(s) * np.cos(a), np.sin(s) * np.sin(a), np.cos(s) * outward]) for s, a in slants
    ]
    starts = [disc + (0.0, 0.0, LIFT_MM * outward) for _ in directions]
    for angle in round_angles:  # a finger lying along the panel
        along = np.array([np.cos(angle), np.sin(angle), 0.0])
        across = np.array([-np.sin(angle), np.cos(angle), 0.0])
        up = np.array([0.0, 0.0, float(outward)])
        section = disc[:, :1] * across + disc[:, 1:2] * up
        starts.append(section + up * (radius + LIFT_MM))
        directions.append(along)
    begin = np.array(starts) + np.array([at[0], at[1], 0.0])
    end = begin + limits.finger_reach_mm * np.array(directions)[:, None, :]
    outline = np.asarray(table.tree.outline(panel))
    return Press(
        panel=panel, outward=outward, starts=begin, ends=end, on_panel=_inside(begin[..., :2], outline)
    )


def _inside(points: Array, outline: Array) -> Blocked:
    """Which points (..., 2) lie in a polygon, by crossings; for a convex or concave outline."""
    x, y = points[..., 0, None], points[..., 1, None]
    x0, y0 = outline[:, 0], outline[:, 1]
    x1, y1 = np.roll(x0, -1), np.roll(y0, -1)
    spans = (y0 > y) != (y1 > y)
    slope = (x1 - x0) / np.where(y1 == y0, 1.0, y1 - y0)
    inside: Blocked = np.count_nonzero(spans & (x < x0 + slope * (y - y0)), axis=-1) % 2 == 1
    return inside


def pressable(table: ReachTable, join: int, states: States) -> NDArray[np.bool_]:
    """For each state after the closing fold: can the join be pressed? Shape (states,)."""
    reach_a, table_a = _freedom(table, join, 0, states)
    reach_b, table_b = _freedom(table, join, 1, states)
    answer: NDArray[np.bool_] = (reach_a & (reach_b | table_b)) | (reach_b & table_a)
    return answer


def _freedom(table: ReachTable, join: int, end: int, states: States) -> tuple[NDArray[np.bool_], NDArray[np.bool_]]:
    press = table.presses[join][end]
    tree = table.contact.tree
    free = np.ones((len(states), len(press.starts)), dtype=bool)
    rests = np.ones(len(states), dtype=bool)
    partner = table.presses[join][1 - end].panel
    for obstacle in range(len(tree.panels)):
        if obstacle in (press.panel, partner):
            continue
        steps = path_steps(tree, press.panel, obstacle)
        codes = np.asarray(state_codes(states, steps))
        lying = states[:, list(steps)].all(axis=1) & ((press.panel, obstacle) in table.stacked)
        for code in sorted(set(codes[~lying].tolist())):
            key = (join, end, obstacle, int(code))
            if key not in table.blocked:
                table.blocked[key] = _look(table, press, obstacle, steps, int(code))
            stopped, below = table.blocked[key]
            rows = (codes == code) & ~lying
            free[rows] &= ~stopped
            rests[rows] &= not below
    return free.any(axis=1), rests


def _look(
    table: ReachTable, press: Press, obstacle: int, steps: tuple[int, ...], code: int
) -> tuple[Blocked, bool]:
    """Which directions an obstacle stops, and whether it stands below the face laid on a table."""
    tree = table.contact.tree
    up, down = between(tree, press.panel, obstacle)
    child_of = {tree.crease_of[panel]: panel for panel in range(1, len(tree.panels))}
    relative = motion.identity()
    for creases, back in ((up, True), (down, False)):
        for crease in creases:
            hinge = table.contact.hinges[child_of[crease]]
            folded_now = (code >> steps.index(tree.step_of_crease[crease])) & 1
            local = hinge[-1] if folded_now else hinge[0]
            relative = relative @ (motion.inverse(local) if back else local)
    outline = np.asarray(tree.outline(obstacle))
    standing = motion.apply(relative, motion.lift(tree.outline(obstacle)))[:, 2] * press.outward
    inverse = motion.inverse(relative)
    starts = motion.apply(inverse, press.starts.reshape(-1, 3)).reshape(press.starts.shape)
    ends = motion.apply(inverse, press.ends.reshape(-1, 3)).reshape(press.ends.shape)
    crosses = (starts[..., 2] > 0) != (ends[..., 2] > 0)
    rise = np.where(crosses, ends[..., 2] - starts[..., 2], 1.0)
    share = -starts[..., 2] / rise
    hits = starts[..., :2] + share[..., None] * (ends[..., :2] - starts[..., :2])
    stopped = crosses & _inside(hits, outline) & press.on_panel
    return stopped.any(axis=1), bool(np.max(standing) > TABLE_MM)
