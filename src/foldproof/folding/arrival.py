"""How faces arrive on each other in the last degree of a fold: from which side, face-on or sliding, into a pocket.

Sampled contact lets a tab slip through a wall within the last fraction of a degree. These rules are exact: they
read the side from the relative motion of ideal, infinitely thin card just before the end.
"""

from __future__ import annotations

from dataclasses import dataclass

import numpy as np
from numpy.typing import NDArray

from foldproof.folding.contact import path_steps
from foldproof.folding.layers import Layers, Overlap
from foldproof.folding.tree import FoldTree, folded, pose
from foldproof.geometry import motion
from foldproof.geometry.plane import Polygon, anticlockwise, centre, common
from foldproof.pattern.records import Join

Array = NDArray[np.float64]

LAST_DEG = 0.05  # how long before the end the side of arrival is read
SLIDE_SHARE = 0.02  # a move whose part across the face is under this share of it runs along the face
WRONG_SHARE = 1e-3  # part of the move that may lie on the wrong side: float noise
FACE_ON_SHARE = float(np.sin(np.radians(45.0)))  # nearer to the normal than to the face


@dataclass(frozen=True, slots=True, kw_only=True)
class Rule:
    """Forbidden: to fold ``step`` last among ``done``. ``reason`` is wrong_side, pocket or hot_glue_slides."""

    step: int
    done: tuple[int, ...]
    reason: str
    panels: tuple[int, ...]


@dataclass(frozen=True, slots=True, kw_only=True)
class Closing:
    """A join closes when ``step`` is the last of ``steps``; ``face_on`` tells how its faces then meet."""

    join: int
    step: int
    steps: tuple[int, ...]
    face_on: bool


def arrival_rules(tree: FoldTree, layers: Layers) -> tuple[Rule, ...]:
    """Rules from the layer order: no face may arrive from the wrong side, or slide in between two that are there."""
    rules: list[Rule] = []
    slides: dict[tuple[int, int], dict[int, Overlap]] = {}
    for overlap in layers.overlaps:
        steps = path_steps(tree, overlap.lower, overlap.upper)
        for step in steps:
            heights, moved = _approach(tree, overlap.lower, overlap.upper, step, overlap.region)
            heights = heights * overlap.side
            largest = float(np.max(np.abs(moved)))
            if float(np.max(np.abs(heights))) < SLIDE_SHARE * largest:
                slides.setdefault((overlap.lower, overlap.upper), {})[step] = overlap
            elif float(np.min(heights)) < -WRONG_SHARE * largest:
                rules.append(Rule(step=step, done=steps, reason="wrong_side", panels=(overlap.lower, overlap.upper)))
    return tuple(rules) + _pockets(tree, slides)


def _pockets(tree: FoldTree, slides: dict[tuple[int, int], dict[int, Overlap]]) -> tuple[Rule, ...]:
    rules = []
    for (lower, middle), below in slides.items():
        for (also_middle, upper), above in slides.items():
            if also_middle != middle:
                continue
            for step in sorted(set(below) & set(above)):
                if not common(below[step].region, _seen_from(tree, lower, middle, above[step].region)):
                    continue
                steps = set(path_steps(tree, lower, middle)) | set(path_steps(tree, middle, upper))
                rules.append(Rule(step=step, done=tuple(sorted(steps)), reason="pocket", panels=(lower, middle, upper)))
    return tuple(rules)


def _seen_from(tree: FoldTree, base: int, other: int, region: Polygon) -> Polygon:
    """A region of one panel's flat frame in another's, both lying in one stack when folded."""
    world = folded(tree, [0.0] * len(tree.panels))
    points = motion.apply(motion.inverse(world[base]) @ world[other], motion.lift(region))
    return anticlockwise(tuple((float(x), float(y)) for x, y, _ in points))


def closings(tree: FoldTree, joins: tuple[Join, ...]) -> tuple[Closing, ...]:
    """For every join inside the piece and every step that could close it, how its faces would meet."""
    found: list[Closing] = []
    for number, join in enumerate(joins):
        if join.a.piece != tree.piece.id or join.b.piece != tree.piece.id:
            continue
        one, other = tree.index(join.a.panel), tree.index(join.b.panel)
        steps = path_steps(tree, one, other)
        for step in steps:
            heights, moved = _approach(tree, one, other, step, join.area)
            across, along = float(np.mean(np.abs(heights))), float(np.mean(moved))
            found.append(Closing(join=number, step=step, steps=steps, face_on=across >= FACE_ON_SHARE * along))
    return tuple(found)


def glue_rules(tree: FoldTree, joins: tuple[Join, ...], found: tuple[Closing, ...]) -> tuple[Rule, ...]:
    """Hot glue and tape grip at once: faces joined by them may not slide into place."""
    return tuple(
        Rule(
            step=closing.step,
            done=closing.steps,
            reason="hot_glue_slides",
            panels=(tree.index(joins[closing.join].a.panel), tree.index(joins[closing.join].b.panel)),
        )
        for closing in found
        if not closing.face_on and joins[closing.join].adhesive in ("hot_glue", "tape")
    )


def _approach(tree: FoldTree, base: int, guest: int, step: int, region: Polygon) -> tuple[Array, Array]:
    """Just before ``step`` ends: heights over the base panel of the guest's points, and how far they still have to go.

    ``region`` is in the base's frame, where the guest's points finally lie.
    """
    span = max(tree.piece.creases[crease].target_rad for crease in tree.steps[step])
    fractions = np.ones((2, len(tree.piece.creases)))
    fractions[1, list(tree.steps[step])] = 1.0 - np.radians(LAST_DEG) / span
    world = pose(tree, fractions, [0.0] * len(tree.panels))
    points = motion.lift((*region, centre(region)))
    end, before = (motion.inverse(world[k, base]) @ world[k, guest] for k in (0, 1))
    guest_points = motion.apply(motion.inverse(end), points)
    guest_points[:, 2] = 0.0  # planes in one stack may stand a few layers apart in ideal card
    finally_at, nearly_at = motion.apply(end, guest_points), motion.apply(before, guest_points)
    way = nearly_at - finally_at
    return way[:, 2], np.linalg.norm(way, axis=1)
