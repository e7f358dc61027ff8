"""Can fingers press a join? A fingertip on one face, hand or table behind the other.

A fingertip is a disc on the outer side of one joined panel, centred on the glue area, that has a straight way out
within 60 degrees of the normal or along the panel. What blocks it depends, for each other panel, only on the steps
between the two; the blocked rays are kept by state like contact.
"""

from __future__ import annotations

from dataclasses import dataclass, field

import numpy as np
from numpy.typing import NDArray

from foldproof.folding.arrival import Closing
from foldproof.folding.contact import SMALL_STEPS, ContactTable, States, code_weights, path_steps
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
class View:
    """Obstacles as one end of a join sees them: weights (steps, obstacles) for codes of the steps that can vary.

    ``stopped`` (obstacles, codes, directions) and ``below`` (obstacles, codes); ``far`` are (obstacle, its varying
    steps) with too many steps for a table.
    """

    obstacles: tuple[int, ...]
    weights: NDArray[np.int64]
    stopped: Blocked
    below: Blocked
    far: tuple[tuple[int, tuple[int, ...]], ...]


@dataclass(frozen=True, slots=True, kw_only=True)
class ReachTable:
    """What has been found out about reaching each join: by (join, end), and remembered for far obstacles."""

    contact: ContactTable
    presses: tuple[tuple[Press, Press], ...]  # per join: on a, on b
    stacked: frozenset[tuple[int, int]]
    outlines: tuple[Array, ...]
    child_of: dict[int, int]
    views: dict[tuple[int, int], View] = field(default_factory=dict)
    remembered: dict[tuple[int, int, int, tuple[int, ...]], tuple[Blocked, bool]] = field(default_factory=dict)


def start_reach(table: ContactTable, layers: Layers, joins: tuple[Join, ...], limits: FoldingLimits) -> ReachTable:
    """A reach table for the joins of one piece."""
    tree = table.tree
    presses = []
    for join in joins:
        on_a = _press(table, tree.index(join.a.panel), join.a.side, centre(join.area), limits)
        on_b = _press(table, tree.index(join.b.panel), join.b.side, centre(join.landing), limits)
        presses.append((on_a, on_b))
    stacked = frozenset(pair for o in layers.overlaps for pair in ((o.lower, o.upper), (o.upper, o.lower)))
    return ReachTable(
        contact=table,
        presses=tuple(presses),
        stacked=stacked,
        outlines=tuple(np.asarray(tree.outline(panel)) for panel in range(len(tree.panels))),
        child_of={tree.crease_of[panel]: panel for panel in range(1, len(tree.panels))},
    )


def _press(table: ContactTable, panel: int, joined_side: str, at: Point, limits: FoldingLimits) -> Press:
    outward = -1 if joined_side == "face" else 1
    radius = 0.5 * limits.finger_mm
    round_angles = 2.0 * np.pi * np.arange(RING) / RING
    rim = np.stack([np.cos(round_angles), np.sin(round_angles), np.zeros(RING)], axis=1)
    disc = np.concatenate([np.zeros((1, 3)), 0.95 * radius * rim])
    slants = [(0.0, 0.0)] + [(np.radians(s), a) for s in (30.0, STEEPEST_DEG) for a in round_angles]
    directions = [np.array([np.sin(s) * np.cos(a), np.sin(s) * np.sin(a), np.cos(s) * outward]) for s, a in slants]
    starts = [disc + np.array([0.0, 0.0, LIFT_MM * outward]) for _ in directions]
    for angle in round_angles:  # a finger lying along the panel
        along = np.array([np.cos(angle), np.sin(angle), 0.0])
        across = np.array([-np.sin(angle), np.cos(angle), 0.0])
        up = np.array([0.0, 0.0, float(outward)])
        section = disc[:, :1] * across + disc[:, 1:2] * up
        starts.append(section + up * (radius + LIFT_MM))
        directions.append(along)
    begin = np.array(starts) + np.array([at[0], at[1], 0.0])
    end = begin + limits.finger_reach_mm * np.array(directions)[:, None, :]
    # The fingertip itself needs room: rays from where it touches to every point of its section.
    touch = np.broadcast_to(np.array([at[0], at[1], LIFT_MM * outward]), begin.shape)
    on_panel = _inside(begin[..., :2], np.asarray(table.tree.outline(panel)))
    return Press(
        panel=panel,
        outward=outward,
        starts=np.concatenate([begin, touch], axis=1),
        ends=np.concatenate([end, begin], axis=1),
        on_panel=np.concatenate([on_panel, on_panel], axis=1),
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


def pressable(table: ReachTable, closing: Closing, states: States) -> NDArray[np.bool_]:
    """For each state after the closing step: can the join be pressed? Shape (states,)."""
    reach_a, table_a = _freedom(table, closing, 0, states)
    reach_b, table_b = _freedom(table, closing, 1, states)
    answer: NDArray[np.bool_] = (reach_a & (reach_b | table_b)) | (reach_b & table_a)
    return answer


def _freedom(
    table: ReachTable, closing: Closing, end: int, states: States
) -> tuple[NDArray[np.bool_], NDArray[np.bool_]]:
    """For each state: has the fingertip a way out, and does nothing stand below the face (it can lie on a table)?"""
    view = _view(table, closing, end)
    codes = states.astype(np.int64) @ view.weights
    columns = np.arange(len(view.obstacles))
    stopped = view.stopped[columns, codes].any(axis=1)
    rests = ~view.below[columns, codes].any(axis=1)
    for obstacle, loose in view.far:
        looks = [_look_far(table, closing, end, obstacle, loose, state) for state in states]
        stopped |= np.array([look[0] for look in looks])
        rests &= ~np.array([look[1] for look in looks])
    return ~stopped.all(axis=1), rests


def _view(table: ReachTable, closing: Closing, end: int) -> View:
    """What obstacles do to one end of a join, worked out once: steps the closing needs are done, others vary."""
    key = (closing.join, end)
    if key not in table.views:
        press, partner = table.presses[closing.join][end], table.presses[closing.join][1 - end].panel
        tree = table.contact.tree
        near: list[tuple[int, tuple[int, ...]]] = []
        far: list[tuple[int, tuple[int, ...]]] = []
        for obstacle in range(len(tree.panels)):
            if obstacle in (press.panel, partner):
                continue
            loose = tuple(s for s in path_steps(tree, press.panel, obstacle) if s not in closing.steps)
            (near if len(loose) <= SMALL_STEPS else far).append((obstacle, loose))
        stopped: Blocked = np.zeros((len(near), 1 << SMALL_STEPS, len(press.starts)), dtype=np.bool_)
        below: Blocked = np.zeros((len(near), 1 << SMALL_STEPS), dtype=np.bool_)
        looks = [(obstacle, loose, _every_state(len(loose))) for obstacle, loose in near]
        for column, (ways, stands) in enumerate(_look(table, press, closing.steps, looks)):
            stopped[column, : len(ways)], below[column, : len(stands)] = ways, stands
        table.views[key] = View(
            obstacles=tuple(obstacle for obstacle, _ in near),
            weights=code_weights(len(tree.steps), tuple(loose for _, loose in near)),
            stopped=stopped,
            below=below,
            far=tuple(far),
        )
    return table.views[key]


def _look_far(
    table: ReachTable,
    closing: Closing,
    end: int,
    obstacle: int,
    loose: tuple[int, ...],
    state: NDArray[np.bool_],
) -> tuple[Blocked, bool]:
    """The same for an obstacle many steps away, remembered state by state."""
    key = (closing.join, end, obstacle, tuple(step for step in loose if state[step]))
    if key not in table.remembered:
        press = table.presses[closing.join][end]
        ((stopped, below),) = _look(table, press, closing.steps, [(obstacle, loose, state[None, list(loose)])])
        table.remembered[key] = (stopped[0], bool(below[0]))
    return table.remembered[key]


def _every_state(steps: int) -> States:
    bits: States = ((np.arange(1 << steps)[:, None] >> np.arange(steps)) & 1).astype(bool)
    return bits


Look = tuple[int, tuple[int, ...], States]  # an obstacle, its steps that are loose, and which of them are done


def _look(
    table: ReachTable, press: Press, done: tuple[int, ...], looks: list[Look]
) -> list[tuple[Blocked, NDArray[np.bool_]]]:
    """Directions each obstacle stops (states, directions), and whether it stands below the face laid on a table.

    States (states, loose) say which of the loose steps are done; those of ``done`` are. A panel that lies in the same
    stack in its place is pressed through and stops nothing.
    """
    if not looks:
        return []
    motions = [_relative(table, press.panel, obstacle, done, loose, bits) for obstacle, loose, bits in looks]
    back_motions = motion.inverse(np.concatenate(motions))
    starts, ends = (motion.apply(back_motions, rays.reshape(-1, 3)) for rays in (press.starts, press.ends))
    crosses = ((starts[..., 2] > 0) != (ends[..., 2] > 0)) & press.on_panel.reshape(-1)
    found = []
    first = 0
    for (obstacle, _, bits), relative in zip(looks, motions, strict=True):
        rows = slice(first, first + len(bits))
        first += len(bits)
        outline = table.outlines[obstacle]
        standing = np.einsum("nj,kj->nk", relative[:, 2, :2], outline) + relative[:, 2, 3:4]
        below: Blocked = np.asarray((standing * press.outward).max(axis=1) > TABLE_MM)
        stopped = crosses[rows].copy()
        if stopped.any():
            begin, end = starts[rows][stopped], ends[rows][stopped]
            share = begin[:, 2] / (begin[:, 2] - end[:, 2])
            hits = begin[:, :2] + share[:, None] * (end[:, :2] - begin[:, :2])
            stopped[stopped] = _inside(hits, outline)
        by_direction = np.asarray(stopped.reshape(len(bits), *press.on_panel.shape).any(axis=2))
        in_place = bits.all(axis=1) & ((press.panel, obstacle) in table.stacked)
        by_direction[in_place] = False
        below[in_place] = False
        found.append((by_direction, below))
    return found


def _relative(
    table: ReachTable, panel: int, obstacle: int, done: tuple[int, ...], loose: tuple[int, ...], bits: States
) -> Array:
    """Panel-from-obstacle for each state of the loose steps, (states, 4, 4)."""
    tree = table.contact.tree
    up, down = between(tree, panel, obstacle)
    relative: Array = np.broadcast_to(motion.identity(), (len(bits), 4, 4))
    for creases, back in ((up, True), (down, False)):
        for crease in creases:
            hinge, step = table.contact.hinges[table.child_of[crease]], tree.step_of_crease[crease]
            local = hinge[-1][None] if step in done else hinge[np.where(bits[:, loose.index(step)], -1, 0)]
            relative = relative @ (motion.inverse(local) if back else local)
    return relative
