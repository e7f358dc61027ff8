"""The folding steps as action drawings: what to do, and beside it what the maker then has.

Every step of a piece has the same view and scale. A part that moves is drawn where it is before the step, its
glue side turned to the reader where that can be done, with an arrow along the way it goes.
"""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass
from itertools import groupby, pairwise
from math import dist
from typing import Protocol

import numpy as np
import shapely
from numpy.typing import NDArray
from shapely.geometry.base import BaseGeometry

from foldproof.checks.evidence import PieceEvidence
from foldproof.drawing.camera import normal_of, project
from foldproof.drawing.records import Page
from foldproof.drawing.solid import Arrow3, Face3, Point3, Side
from foldproof.drawing.visible import visible_regions
from foldproof.folding.tree import FoldTree, pose
from foldproof.geometry.plane import Point, Polygon, signed_area
from foldproof.pattern.records import Join
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
    seen,
)

Array = NDArray[np.float64]

# Parts of a fold at which a part that gets glue may be drawn, the first that shows the glue well enough is
# taken: at rest, bent back a little or a lot (of half a turn: 30, 60 and 81 degrees), or a little on its way.
MOMENTS = (0.0, -1 / 6, -1 / 3, -0.45, 1 / 6, 1 / 3)
WELL_SEEN = 0.42  # share of a glue area's true size seen in the picture; lying flat on the table it is 0.62
TABLE_MM = 1.0  # a part bent back may not dip further below the rest of the piece: it would be in the table
ARROW_FROM = 0.8  # how far out on the moving panel the arrow starts, as a share of the way from fold to edge
ARROW_POINTS = 33  # points along an arrow: half a turn in steps of under 6 degrees looks round
ARROW_SHARE = 0.35  # an arrow of which less is in the open is drawn whole, over what hides it
ALONG_FOLD = (0.5, 0.25, 0.75, 0.05, 0.95)  # places along the fold an arrow may start from, the best first


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


class Step(Protocol):
    """Folds done as one step, and the creases folded before and after it."""

    @property
    def folds(self) -> Sequence[MovingFold]: ...
    @property
    def before(self) -> tuple[str, ...]: ...
    @property
    def after(self) -> tuple[str, ...]: ...


@dataclass(frozen=True, slots=True, kw_only=True)
class Spot:
    """A place for glue: an area on one side of a panel, in flat coordinates."""

    panel: str
    side: Side
    area: Polygon


@dataclass(frozen=True, slots=True, kw_only=True)
class Sight:
    """What is seen of a pose: by panel its world-from-panel motion, whether its face side is turned to the
    reader, and its visible region in the picture, in mm of card."""

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
) -> Page:
    """One step: do this, and what you have. ``size`` is (width, height) in mm on paper.

    The page has that width, and at most that height. ``mm_per_mm`` is a scale from ``steps_scale`` or a
    smaller one; without it the step fills the page.
    """
    row = step_scenes(drawn_piece(piece, joins), joins, step)
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
) -> tuple[Page, ...]:
    """All steps of a piece at one scale, the largest at which each fits ``size``; a name and an alt for each."""
    drawn = drawn_piece(piece, joins)
    rows = [step_scenes(drawn, joins, step) for step in steps]
    if not rows:
        return ()
    scale = row_scale(rows, size)
    return tuple(
        row_page(row, mm_per_mm=scale, name=name, alt=alt, width_mm=size[0])
        for row, name, alt in zip(rows, names, alts, strict=True)
    )


def steps_scale(
    piece: PieceEvidence, joins: tuple[Join, ...], steps: Sequence[Step], size: tuple[float, float]
) -> float:
    """The largest scale, mm on paper per mm of card, at which every one of the steps fits ``size``."""
    drawn = drawn_piece(piece, joins)
    return row_scale([step_scenes(drawn, joins, step) for step in steps], size)


def step_scenes(drawn: DrawnPiece, joins: tuple[Join, ...], step: Step) -> tuple[Scene, Scene]:
    """The action and the pose after it."""
    return _action(drawn, joins, step), Scene(faces=faces_of(drawn, fractions_of(drawn.tree, step.after)))


def fractions_of(tree: FoldTree, folded: Sequence[str]) -> Array:
    """1 for the creases named in ``folded``, 0 for the others; shape (creases,)."""
    return np.array([1.0 if crease.id in folded else 0.0 for crease in tree.piece.creases])


def _action(drawn: DrawnPiece, joins: tuple[Join, ...], step: Step) -> Scene:
    """The piece before the step, its parts turned to show their glue, and the arrows."""
    chosen, spots = _moment(drawn, joins, step)
    heavy = frozenset(fold.child for fold in step.folds)
    faces = faces_of(drawn, chosen, glue=_by_panel(spots), heavy=heavy)
    arrows = tuple(_arrow(drawn, chosen, fold, faces) for fold in step.folds)
    return Scene(faces=faces, arrows=arrows)


def _moment(drawn: DrawnPiece, joins: tuple[Join, ...], step: Step) -> tuple[Array, tuple[Spot, ...]]:
    """Fractions at which the glue of every fold is seen well with the least bending, and the glue to draw."""
    tree = drawn.tree
    chosen = fractions_of(tree, step.before)
    own = {join.id: join for join in joins if tree.piece.id in (join.a.piece, join.b.piece) and _sticks(join)}
    gluing = [fold for fold in step.folds if any(name in own for name in fold.closes)]
    lowest_mm = _lowest_mm(drawn, chosen)
    best: dict[str, tuple[float, float, tuple[Spot, ...]]] = {}
    for moment in MOMENTS:
        waiting = [fold for fold in gluing if fold.crease not in best or best[fold.crease][0] < WELL_SEEN]
        if not waiting:
            break
        tried = chosen.copy()
        for fold in gluing:
            tried[_moved_with(tree, fold)] = moment if fold in waiting else best[fold.crease][1]
        if moment and _lowest_mm(drawn, tried) < lowest_mm - TABLE_MM:
            continue
        sight = _look(drawn, tried)
        for fold in waiting:
            spots = tuple(_better(sight, own[name], fold.moving) for name in fold.closes if name in own)
            least = min(_share_seen(sight, spot) for spot in spots)
            if fold.crease not in best or least > best[fold.crease][0]:
                best[fold.crease] = (least, moment, spots)
    for fold in gluing:
        chosen[_moved_with(tree, fold)] = best[fold.crease][1]
    return chosen, tuple(spot for fold in gluing for spot in best[fold.crease][2])


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
        panels=drawn.tree.panels,
        world=pose(drawn.tree, fractions[None], drawn.shifts_mm)[0],
        face_seen=tuple(normal_of(project(VIEW, face.outline))[2] > 0.0 for face in faces),
        regions=visible_regions(faces, VIEW),
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
    flat = project(VIEW, in_space(sight.world[panel], spot.area))
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


def _arrow(drawn: DrawnPiece, start: Array, fold: MovingFold, faces: Sequence[Face3]) -> Arrow3:
    """The way of a point of the moving panel, as far as it is seen; one arrow for each fold."""
    tree = drawn.tree
    states = np.repeat(start[None], ARROW_POINTS, axis=0)
    for crease in _moved_with(tree, fold):
        states[:, crease] = np.linspace(start[crease], 1.0, ARROW_POINTS)
    panel = tree.index(fold.child)
    motions = pose(tree, states, drawn.shifts_mm)[:, panel]
    standing = [face for face in faces if face.name not in fold.moving]
    hidden: list[tuple[float, tuple[Point3, ...]]] = []
    for point in _handles(tree, fold):
        path = tuple(in_space(world, (point,))[0] for world in motions)
        open_way = _longest_run(path, seen(path, standing))
        share = _length_mm(open_way) / _length_mm(path)
        if share >= ARROW_SHARE:
            return Arrow3(points=open_way)
        hidden.append((share, path))
    return Arrow3(points=max(hidden, key=lambda way: way[0])[1])


def _handles(tree: FoldTree, fold: MovingFold) -> list[Point]:
    """Points of the moving panel, in flat coordinates, that an arrow may start from."""
    (ax, ay), (bx, by) = tree.piece.creases[_crease(tree, fold)].line
    length_mm = dist((ax, ay), (bx, by))
    ux, uy = (bx - ax) / length_mm, (by - ay) / length_mm
    corners = [
        ((x - ax) * ux + (y - ay) * uy, (y - ay) * ux - (x - ax) * uy) for x, y in tree.outline(tree.index(fold.child))
    ]
    out_mm = ARROW_FROM * max((out for _, out in corners), key=abs)
    shape = shapely.Polygon(corners)
    low, _, high, _ = shape.bounds
    across = shape.intersection(shapely.LineString([(low - 1.0, out_mm), (high + 1.0, out_mm)])).bounds
    return [
        (ax + along * ux - out_mm * uy, ay + along * uy + out_mm * ux)
        for along in (across[0] + share * (across[2] - across[0]) for share in ALONG_FOLD)
    ]


def _longest_run(path: tuple[Point3, ...], open_: Sequence[bool]) -> tuple[Point3, ...]:
    """The longest stretch of the path in the open; the earliest of equals."""
    runs: list[tuple[Point3, ...]] = [()]
    for in_open, group in groupby(zip(open_, path, strict=True), key=lambda pair: pair[0]):
        if in_open:
            runs.append(tuple(point for _, point in group))
    return max(runs, key=len)


def _length_mm(path: Sequence[Point3]) -> float:
    """Length of a path as the picture shows it, in mm of card."""
    flat = [(x, y) for x, y, _ in project(VIEW, path)]
    return sum(dist(a, b) for a, b in pairwise(flat))
