"""A piece as a tree of panels: who hangs on whom, and where every panel is at any state of the folds."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass, field

import numpy as np
from numpy.typing import NDArray

from foldproof.geometry import motion
from foldproof.geometry.plane import centre
from foldproof.pattern.records import Crease, Piece

Array = NDArray[np.float64]

FULL_TURN_BACK_RAD = np.pi - 1e-3  # a fold this near half a turn lays the child flat on its parent


Axis = tuple[Array, Array, float]


@dataclass(frozen=True, slots=True, kw_only=True)
class FoldTree:
    """Panels in an order with parents first; ``steps`` are the sets of creases that move together.

    ``parent[i]`` is a panel index (-1 for the root), ``crease_of[i]`` the crease a panel hangs on (-1 for the root),
    ``path[i]`` the creases from the root to the panel, nearest the root first; ``axes[c]`` a point on crease c, its
    unit direction, and the signed target: the right-handed turn of its child. Trees of one piece are equal.
    """

    piece: Piece
    panels: tuple[str, ...]
    parent: tuple[int, ...]
    crease_of: tuple[int, ...]
    path: tuple[tuple[int, ...], ...]
    steps: tuple[tuple[int, ...], ...]
    step_of_crease: tuple[int, ...]
    axes: tuple[Axis, ...] = field(compare=False)

    def index(self, panel: str) -> int:
        """Position of a panel by its id."""
        return self.panels.index(panel)

    def outline(self, panel: int) -> tuple[tuple[float, float], ...]:
        """Flat outline of a panel by its position."""
        name = self.panels[panel]
        return next(p.outline for p in self.piece.panels if p.id == name)


def grow(piece: Piece) -> FoldTree:
    """The tree of a piece. Asserts that the creases form one tree over all panels."""
    children: dict[str, list[int]] = {panel.id: [] for panel in piece.panels}
    for number, crease in enumerate(piece.creases):
        children[crease.parent].append(number)
    panels, parent, crease_of = [piece.root], [-1], [-1]
    path: list[tuple[int, ...]] = [()]
    position = 0
    while position < len(panels):
        for number in children[panels[position]]:
            panels.append(piece.creases[number].child)
            parent.append(position)
            crease_of.append(number)
            path.append((*path[position], number))
        position += 1
    assert sorted(panels) == sorted(p.id for p in piece.panels), "creases must form one tree over all panels"
    steps = _steps(piece)
    step_of_crease = [0] * len(piece.creases)
    for step, creases in enumerate(steps):
        for number in creases:
            step_of_crease[number] = step
    return FoldTree(
        piece=piece,
        panels=tuple(panels),
        parent=tuple(parent),
        crease_of=tuple(crease_of),
        path=tuple(path),
        steps=steps,
        step_of_crease=tuple(step_of_crease),
        axes=tuple(_axis(piece, crease) for crease in piece.creases),
    )


def _steps(piece: Piece) -> tuple[tuple[int, ...], ...]:
    number = {crease.id: k for k, crease in enumerate(piece.creases)}
    joined = [tuple(sorted(number[name] for name in names)) for names in piece.together]
    taken = {k for creases in joined for k in creases}
    alone: list[tuple[int, ...]] = [(k,) for k in range(len(piece.creases)) if k not in taken]
    return tuple(sorted(joined + alone))


def between(tree: FoldTree, one: int, other: int) -> tuple[tuple[int, ...], tuple[int, ...]]:
    """Creases that part two panels: up from the first to the common ancestor, then down to the second."""
    up, down = tree.path[one], tree.path[other]
    shared = 0
    while shared < min(len(up), len(down)) and up[shared] == down[shared]:
        shared += 1
    return tuple(reversed(up[shared:])), down[shared:]


def _axis(piece: Piece, crease: Crease) -> Axis:
    start, end = (np.array([*point, 0.0]) for point in crease.line)
    direction = (end - start) / np.linalg.norm(end - start)
    outline = next(panel.outline for panel in piece.panels if panel.id == crease.child)
    child = np.array([*centre(outline), 0.0])
    left = np.cross([0.0, 0.0, 1.0], direction)
    on_left = float(np.dot(left, child - start)) > 0
    # A child on the left rises under a right-handed turn about the line (u x (z x u) = z).
    sign = (1.0 if on_left else -1.0) * (1.0 if crease.direction == "valley" else -1.0)
    return start, direction, sign * crease.target_rad


def fold_motions(tree: FoldTree, panel: int, fractions: Array, shift_mm: float) -> Array:
    """Parent-from-child motions, shape (n, 4, 4), of one panel at fractions 0 (flat) to 1 (folded) of its fold.

    The turn is followed by a shift along the child's normal that grows to ``shift_mm``: the layer it lies in.
    """
    start, direction, target = tree.axes[tree.crease_of[panel]]
    motions = motion.turn(start, direction, target * fractions)
    motions[:, :3, 3] += motions[:, :3, 2] * (shift_mm * fractions)[:, None]
    return motions


def pose(tree: FoldTree, fractions: Array, shifts_mm: Sequence[float]) -> Array:
    """World-from-panel of every panel, root fixed flat: fractions (states, creases) to (states, panels, 4, 4)."""
    states = fractions.shape[0]
    world = np.empty((states, len(tree.panels), 4, 4))
    world[:, 0] = motion.identity()
    if len(tree.panels) == 1:
        return world
    creases = list(tree.crease_of[1:])
    starts, directions, targets = (np.array(column) for column in zip(*(tree.axes[c] for c in creases), strict=True))
    turned = fractions[:, creases]
    local = motion.turns(starts, directions, targets * turned)
    local[..., :3, 3] += local[..., :3, 2] * (np.asarray(shifts_mm)[1:] * turned)[..., None]
    for panel in range(1, len(tree.panels)):
        world[:, panel] = world[:, tree.parent[panel]] @ local[:, panel - 1]
    return world


def folded(tree: FoldTree, shifts_mm: Sequence[float]) -> Array:
    """World-from-panel with every crease at its target, shape (panels, 4, 4)."""
    finished: Array = pose(tree, np.ones((1, len(tree.piece.creases))), shifts_mm)[0]
    return finished
