"""The folding steps as action drawings: what to do, and beside it what the maker then has.

Every step of a piece has the same view and scale. A part that moves is drawn where it is before the step, its
glue side turned to the reader where that can be done, with an arrow along the way it goes.
"""

from __future__ import annotations

from collections.abc import Hashable, Mapping, Sequence
from dataclasses import dataclass
from functools import lru_cache
from typing import Protocol

import numpy as np
import shapely
from numpy.typing import NDArray
from shapely.geometry.base import BaseGeometry

from foldproof.checks.evidence import PieceEvidence
from foldproof.drawing.camera import normal_of, project
from foldproof.drawing.records import Page
from foldproof.drawing.solid import Side, View
from foldproof.drawing.visible import visible_regions
from foldproof.folding.tree import FoldTree, pose
from foldproof.geometry.plane import Polygon, signed_area
from foldproof.pattern.records import Join
from foldproof.views.fold_arrows import fold_arrow
from foldproof.views.folded_picture import (
    VIEW,
    DrawnPiece,
    Glue,
    Scene,
    drawn_piece,
    faces_of,
    in_space,
    row_page,
    row_scale,
)

Array = NDArray[np.float64]

# Parts of a fold at which a part that gets glue may be drawn, the first that shows the glue well enough is
# taken: at rest, bent back a little or a lot (of half a turn: 30, 60 and 81 degrees), or a little on its way.
MOST_BENT = -0.45
MOMENTS = (0.0, -1 / 6, -1 / 3, MOST_BENT, 1 / 6, 1 / 3)
WORTH_BENDING = 0.08  # a part is bent only if this much more of the glue, as such a share, is then seen
WELL_SEEN = 0.42  # share of a glue area's true size seen in the picture; lying flat on the table it is 0.62
STEPS_KEPT = 64  # steps whose scenes are remembered: those of the pieces that a change leaves as they are
TABLE_MM = 1.0  # a part bent back may not dip further below the rest of the piece: it would be in the table


class MovingFold(Protocol):
    """A fold of a step: its crease, the panel that turns about it, and the joins that it closes."""

    @property
    def crease(self) -> str: ...
    @property
    def child(self) -> str: ...
    @property
    def moving(self) -> tuple[str, ...]: ...
    @property
    def closes(self) -> tuple[str, ...]: ...


class Step(Hashable, Protocol):
    """Folds done as one step, and the creases folded before and after it."""

    @property
    def folds(self) -> Sequence[MovingFold]: ...
    @property
    def before(self) -> tuple[str, ...]: ...
    @property
    def after(self) -> tuple[str, ...]: ...
LARGER = 1.6  # times the scale of the open piece: still clearly the same thing


@dataclass(frozen=True, slots=True, kw_only=True)
class Spot:
    """A place for glue: an area on one side of a panel, in flat coordinates."""

    panel: str
    side: Side
    area: Polygon


@dataclass(frozen=True, slots=True, kw_only=True)
class Choice:
    """How a fold's glue is drawn: how much of its least seen area is seen, at which part of the fold, and where."""

    share: float
    moment: float
    spots: tuple[Spot, ...]


@dataclass(frozen=True, slots=True, kw_only=True)
class Sight:
    """What is seen of a pose from ``view``: by panel its world-from-panel motion, whether its face side is turned to
    the reader, and its visible region in the picture, in mm of card."""

    view: View
    panels: tuple[str, ...]
    world: Array
    face_seen: tuple[bool, ...]
    regions: tuple[BaseGeometry, ...]


def step_picture(
    piece: PieceEvidence,
    joins: tuple[Join, ...],
    step: Step,
    *,
    name: str,
    alt: str,
    size: tuple[float, float],
    mm_per_mm: float | None = None,
    view: View = VIEW,
) -> Page:
    """One step: do this, and what you have. ``size`` is (width, height) in mm on paper.

    The page has that width, and at most that height. ``mm_per_mm`` is a scale from ``steps_scale`` or a
    smaller one; without it the step fills the page.
    """
    row = step_scenes(drawn_piece(piece, joins, view), joins, step)
    scale = row_scale([row], size) if mm_per_mm is None else mm_per_mm
    return row_page(row, mm_per_mm=scale, name=name, alt=alt, width_mm=size[0])


def step_pictures(
    piece: PieceEvidence,
    joins: tuple[Join, ...],
    steps: Sequence[Step],
    *,
    names: Sequence[str],
    alts: Sequence[str],
    size: tuple[float, float],
    view: View = VIEW,
) -> tuple[Page, ...]:
    """All steps of a piece in ``size``; a name and an alt for each.

    Steps of the open piece set the scale. Once it is folded up it may be drawn larger, up to LARGER times, so that the
    small parts are seen; the view stays the same.
    """
    drawn = drawn_piece(piece, joins, view)
    rows = [step_scenes(drawn, joins, step) for step in steps]
    if not rows:
        return ()
    common = row_scale(rows, size)
    return tuple(
        row_page(
            row,
            mm_per_mm=min(row_scale([row], size), LARGER * common),
            name=name,
            alt=alt,
            width_mm=size[0],
        )
        for row, name, alt in zip(rows, names, alts, strict=True)
    )


def steps_scale(
    piece: PieceEvidence,
    joins: tuple[Join, ...],
    steps: Sequence[Step],
    size: tuple[float, float],
    view: View = VIEW,
) -> float:
    """The largest scale, mm on paper per mm of card, at which every one of the steps fits ``size``."""
    drawn = drawn_piece(piece, joins, view)
    return row_scale([step_scenes(drawn, joins, step) for step in steps], size)


@lru_cache(maxsize=STEPS_KEPT)
def step_scenes(drawn: DrawnPiece, joins: tuple[Join, ...], step: Step) -> tuple[Scene, Scene]:
    """The action and the pose after it."""
    after = faces_of(drawn, fractions_of(drawn.tree, step.after))
    return _action(drawn, joins, step), Scene(faces=after, view=drawn.view)


def fractions_of(tree: FoldTree, folded: Sequence[str]) -> Array:
    """1 for the creases named in ``folded``, 0 for the others; shape (creases,)."""
    return np.array([1.0 if crease.id in folded else 0.0 for crease in tree.piece.creases])


def _action(drawn: DrawnPiece, joins: tuple[Join, ...], step: Step) -> Scene:
    """The piece before the step, its parts turned to show their glue, and the arrows."""
    chosen, spots = _moment(drawn, joins, step)
    heavy = frozenset(fold.child for fold in step.folds)
    faces = faces_of(drawn, chosen, glue=_by_panel(spots), heavy=heavy)
    after = fractions_of(drawn.tree, step.after)
    arrows = []
    for fold in step.folds:
        done = chosen.copy()
        moved = _moved_with(drawn.tree, fold)
        done[moved] = after[moved]
        arrows.append(fold_arrow(drawn, chosen, done, _crease(drawn.tree, fold), faces))
    return Scene(faces=faces, arrows=tuple(arrows), view=drawn.view)


def _moment(drawn: DrawnPiece, joins: tuple[Join, ...], step: Step) -> tuple[Array, tuple[Spot, ...]]:
    """Fractions at which the glue of every fold is seen well with the least bending, and the glue to draw."""
    tree = drawn.tree
    chosen = fractions_of(tree, step.before)
    own = {join.id: join for join in joins if tree.piece.id in (join.a.piece, join.b.piece) and _sticks(join)}
    gluing = [fold for fold in step.folds if any(name in own for name in fold.closes)]
    lowest_mm = _lowest_mm(drawn, chosen)
    best: dict[str, Choice] = {}
    for moment in MOMENTS:
        waiting = [fold for fold in gluing if fold.crease not in best or best[fold.crease].share < WELL_SEEN]
        if not waiting:
            break
        tried = chosen.copy()
        for fold in gluing:
            tried[_moved_with(tree, fold)] = moment if fold in waiting else best[fold.crease].moment
        if moment and _lowest_mm(drawn, tried) < lowest_mm - TABLE_MM:
            continue
        sight = _look(drawn, tried)
        for fold in waiting:
            choice = _choice(sight, moment, fold, own)
            if fold.crease not in best or choice.share > best[fold.crease].share + WORTH_BENDING:
                best[fold.crease] = choice
    for fold in gluing:
        chosen[_moved_with(tree, fold)] = best[fold.crease].moment
    if any(choice.share < WELL_SEEN for choice in best.values()):
        chosen, best = _out_of_the_way(drawn, step, chosen, best, own)
    return chosen, tuple(spot for fold in gluing for spot in best[fold.crease].spots)


def _choice(sight: Sight, moment: float, fold: MovingFold, joins: Mapping[str, Join]) -> Choice:
    spots = tuple(_better(sight, joins[name], fold.moving) for name in fold.closes if name in joins)
    return Choice(share=min(_share_seen(sight, spot) for spot in spots), moment=moment, spots=spots)


def _out_of_the_way(
    drawn: DrawnPiece, step: Step, chosen: Array, best: dict[str, Choice], joins: Mapping[str, Join]
) -> tuple[Array, dict[str, Choice]]:
    """Flaps that wait for a later step bent back where they hide glue, as a maker's hand would."""
    tree = drawn.tree
    lowest_mm = _lowest_mm(drawn, chosen)
    gluing = [fold for fold in step.folds if fold.crease in best]
    for number, crease in enumerate(tree.piece.creases):
        if crease.id in step.after or crease.parent == tree.piece.root:
            continue
        tried = chosen.copy()
        tried[number] = MOST_BENT
        if _lowest_mm(drawn, tried) < lowest_mm - TABLE_MM:
            continue
        sight = _look(drawn, tried)
        found = {fold.crease: _choice(sight, best[fold.crease].moment, fold, joins) for fold in gluing}
        if min(c.share for c in found.values()) > min(c.share for c in best.values()) + WORTH_BENDING:
            chosen, best = tried, found
    return chosen, best


def _sticks(join: Join) -> bool:
    return join.kind == "glue" and join.adhesive != "none"


def _crease(tree: FoldTree, fold: MovingFold) -> int:
    return next(number for number, crease in enumerate(tree.piece.creases) if crease.id == fold.crease)


def _moved_with(tree: FoldTree, fold: MovingFold) -> list[int]:
    """The creases that move on one path with a fold's, itself included."""
    return list(tree.steps[tree.step_of_crease[_crease(tree, fold)]])


def _lowest_mm(drawn: DrawnPiece, fractions: Array) -> float:
    return min(z for face in faces_of(drawn, fractions) for _, _, z in face.outline)


def _look(drawn: DrawnPiece, fractions: Array) -> Sight:
    faces = faces_of(drawn, fractions)
    return Sight(
        view=drawn.view,
        panels=drawn.tree.panels,
        world=pose(drawn.tree, fractions[None], drawn.shifts_mm)[0],
        face_seen=tuple(normal_of(project(drawn.view, face.outline))[2] > 0.0 for face in faces),
        regions=visible_regions(faces, drawn.view),
    )


def _better(sight: Sight, join: Join, moving: Sequence[str]) -> Spot:
    """The side of a join to draw the glue on: the moving part's if it can be seen, or else the one seen better."""
    ends = (
        Spot(panel=join.a.panel, side=join.a.side, area=join.area),
        Spot(panel=join.b.panel, side=join.b.side, area=join.landing),
    )
    first, second = sorted(ends, key=lambda spot: spot.panel not in moving)
    at_first = _share_seen(sight, first)
    return first if at_first >= min(WELL_SEEN, _share_seen(sight, second)) else second


def _share_seen(sight: Sight, spot: Spot) -> float:
    """What is seen of a glue area in the picture, as a share of its true size."""
    panel = sight.panels.index(spot.panel)
    if sight.face_seen[panel] != (spot.side == "face"):
        return 0.0
    flat = project(sight.view, in_space(sight.world[panel], spot.area))
    shape = shapely.Polygon([(x, y) for x, y, _ in flat])
    return float(shape.intersection(sight.regions[panel]).area) / abs(signed_area(spot.area))


def _by_panel(spots: Sequence[Spot]) -> dict[str, Glue]:
    """Glue areas by panel. Of a panel that gets glue on both sides, the side named first is drawn."""
    found: dict[str, Glue] = {}
    for spot in spots:
        side, areas = found.get(spot.panel, (spot.side, ()))
        if side == spot.side:
            found[spot.panel] = (side, (*areas, spot.area))
    return found
