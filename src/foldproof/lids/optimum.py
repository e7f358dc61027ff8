"""The best place of a turning lid and its hole, global, with a certificate.

    problem = problem_of(box, outline, HoleKeeps(edge_mm=6.35), ...)     lids.optimum_problem
    best = best_hole(problem, Wish(goal="margin", uncovered=0.75), progress)
    for better in improving_holes(problem, wish): ...                    the first answer comes at once
    best_cover(lid, rim, fixed=...)                                      lids.optimum_cover
    largest_box(lid, shape, margin_mm=...), smallest_lid(...)            lids.optimum_scale

``box`` is the TurningBox of ``lids.box``; ``outline`` the covering outline in its own frame, its middle at the origin,
as a shape by formula gives it. What a maker has given of the closed place goes into ``fixed``; a given hole is a
``region`` of one point, a given opening turn ``open_turn_rad``: use ``dataclasses.replace`` on the problem. Records are
in ``lids.optimum_records``. How it works is told in ``optimum_cells`` and ``optimum_proof``.
"""

from __future__ import annotations

import dataclasses
import math
from collections.abc import Iterator
from dataclasses import dataclass

import numpy as np

from foldproof.geometry.outline import largest_disc
from foldproof.geometry.plane import Array
from foldproof.lids.optimum_cells import search_of
from foldproof.lids.optimum_cover import covering
from foldproof.lids.optimum_ground import HOLE_BACK, HOLE_RIGHT, OPEN, Ground, ground_of
from foldproof.lids.optimum_measure import hole_distances, lid_place
from foldproof.lids.optimum_polish import Task, merits, polished
from foldproof.lids.optimum_proof import Progressed, highest, least_turn
from foldproof.lids.optimum_records import USUAL_AIMS, Aims, BestHole, Certificate, HoleProblem, LidPlace, Wish
from foldproof.lids.optimum_start import covering_starts, opening_starts
from foldproof.progress import Progress, unwatched

STARTS = 4  # places polished before the proof, which finds the rest
STARTS_BESIDE = 2  # where a good place is known already
NEARLY_MM = 0.05  # reach of the last step when all of them are polished
FINISHED = 2  # the best of them, which are polished to the end
COVER_SHARE = 0.5  # of the aim: how near the best cover is bounded before the hole comes in
TIE_MM = 0.01  # more distance from the edge that is worth another place among equals
DISC_MM = 2e-3  # how far the largest disc in an outline may be off


@dataclass(frozen=True, slots=True, kw_only=True)
class _So:
    """How far the search is: the place to tell, the best margin, bounds, and cells of the stages behind."""

    place: Array | None = None
    margin_mm: float | None = None
    margin_bound_mm: float | None = None
    level_mm: float | None = None
    turn_rad: float | None = None
    angle_bound_rad: float | None = None
    edge_mm: float | None = None
    edge_bound_mm: float | None = None
    none_exists: bool = False
    cells: int = 0
    finished: bool = False


def best_hole(problem: HoleProblem, wish: Wish, progress: Progress = unwatched, aims: Aims = USUAL_AIMS) -> BestHole:
    """The best place for a lid and its hole, with what is proved of it.

    ``progress`` is told "lid_place" with the cells looked at; when it answers False the best so far comes back, its
    certificate ``stopped``. Raises InputError for outlines or wishes that cannot be used.
    """
    best = None
    for best in improving_holes(problem, wish, aims):
        if not best.certificate.finished and not progress("lid_place", best.certificate.cells, aims.most_cells):
            return dataclasses.replace(best, certificate=dataclasses.replace(best.certificate, stopped=True))
    assert best is not None, "a search has a first answer"
    return best


def improving_holes(problem: HoleProblem, wish: Wish, aims: Aims = USUAL_AIMS) -> Iterator[BestHole]:
    """The same as answers that get better: a good place at once, then tighter certificates; the last is the best.

    Simply stop asking to stop the search. Raises InputError with the first answer.
    """
    ground = ground_of(problem, wish)
    if not len(ground.region):
        yield _told(_So(none_exists=True, finished=True), None)
        return
    measured, place = None, None
    for so in _stages(ground, wish, aims):
        if so.place is not measured:
            measured, place = so.place, None if so.place is None else lid_place(ground, so.place)
        yield _told(so, place)
        if so.cells >= aims.most_cells:
            return


def _told(so: _So, place: LidPlace | None) -> BestHole:
    def gap(one: float | None, other: float | None) -> float | None:
        return None if one is None or other is None else max(0.0, one - other)

    certificate = Certificate(
        margin_bound_mm=so.margin_bound_mm,
        margin_gap_mm=gap(so.margin_bound_mm, so.margin_mm),
        level_mm=so.level_mm,
        angle_bound_rad=so.angle_bound_rad,
        angle_gap_rad=gap(so.turn_rad, so.angle_bound_rad),
        edge_bound_mm=so.edge_bound_mm,
        edge_gap_mm=gap(so.edge_bound_mm, so.edge_mm),
        none_exists=so.none_exists,
        cells=so.cells,
        finished=so.finished,
        stopped=False,
    )
    return BestHole(place=place, certificate=certificate)


def _stages(ground: Ground, wish: Wish, aims: Aims) -> Iterator[_So]:
    if wish.goal == "margin":
        so = _So()
        for so in _margins(ground, aims):
            yield so
        if so.place is None or so.margin_mm is None or so.cells >= aims.most_cells:
            return
        level_mm = max(so.margin_mm - wish.give_mm, ground.cover.least_mm)
        yield from _angles(ground, level_mm, aims, dataclasses.replace(so, finished=False))
    elif wish.goal == "angle":
        assert wish.margin_mm is not None, "a ground is made only of a wish that says what it needs"
        yield from _angles(ground, wish.margin_mm, aims, _So())
    else:
        assert wish.margin_mm is not None, "a ground is made only of a wish that says what it needs"
        yield from _edges(ground, wish.margin_mm, aims)


def _starts(ground: Ground, task: Task, near: Array | None) -> Iterator[Array]:
    """Places that keep every limit, each better than the one before."""
    closed = covering_starts(ground.cover)
    tried = [] if near is None else [near]
    starts = np.array([*tried, *opening_starts(ground, task, closed, STARTS_BESIDE if tried else STARTS)])
    found, misses = merits(task, starts)
    best = float(np.where(misses == 0.0, found, -math.inf).max())
    if math.isfinite(best):
        yield starts[int(np.where(misses == 0.0, found, -math.inf).argmax())]
    made: list[Array] = []
    for start in starts:
        made.append(polished(task, start, NEARLY_MM)[0])
        merit, miss = (float(each[0]) for each in merits(task, made[-1][None]))
        if miss == 0.0 and merit > best:
            best = merit
            yield made[-1]
    # One that misses a limit by a hair is mended with less reach.
    found, _ = merits(task, np.array(made))
    for place in (made[number] for number in np.argsort(-found, kind="stable")[:FINISHED]):
        better, miss = polished(task, place)
        merit = float(merits(task, better[None])[0][0])
        if miss == 0.0 and merit > best:
            best = merit
            yield better


def _margins(ground: Ground, aims: Aims) -> Iterator[_So]:
    """The largest margin: the best cover bounds it, and is often reached."""
    task = Task(cover=ground.cover, ground=ground, goal="margin")
    so = _So(margin_bound_mm=math.inf)
    for place in _starts(ground, task, None):
        margin_mm = lid_place(ground, place).margin_mm
        if margin_mm >= ground.cover.least_mm:
            so = dataclasses.replace(so, place=place, margin_mm=margin_mm)
            yield so
    for state in covering(ground.cover, COVER_SHARE * aims.margin_mm):
        so = dataclasses.replace(so, margin_bound_mm=state.bound_mm, cells=state.cells)
        yield so
    before = so.cells
    assert so.margin_bound_mm is not None, "the best cover has a bound"
    search = search_of(ground, _pivot(ground, so.place))
    for step in highest(search, task, so.place, so.margin_bound_mm, aims.margin_mm):
        so = dataclasses.replace(
            so,
            place=step.place,
            margin_mm=None if step.place is None else step.value,
            margin_bound_mm=step.bound,
            none_exists=step.done and step.place is None,
            cells=before + step.cells,
        )
        # The best margin is not the end: the least turn near it is still to be found.
        yield dataclasses.replace(so, finished=so.none_exists)


def _angles(ground: Ground, level_mm: float, aims: Aims, so: _So) -> Iterator[_So]:
    """The least turn with a margin. What is known of the margin stays as it is."""
    task = Task(cover=ground.cover, ground=ground, goal="angle", margin_mm=level_mm)
    so = dataclasses.replace(so, level_mm=level_mm, angle_bound_rad=0.0)
    place = None
    for place in _starts(ground, task, so.place):
        so = dataclasses.replace(so, place=place, turn_rad=abs(float(place[OPEN])))
        yield so
    before = so.cells
    margin_gap = 0.0 if so.margin_bound_mm is None or so.margin_mm is None else so.margin_bound_mm - so.margin_mm
    for step in least_turn(search_of(ground, _pivot(ground, place)), task, place, aims.turn_rad):
        equal = _among_equals(ground, task, step) if step.done and step.place is not None else step.place
        so = dataclasses.replace(
            so,
            place=equal,
            turn_rad=None if equal is None else abs(float(equal[OPEN])),
            angle_bound_rad=step.bound if math.isfinite(step.bound) else None,
            none_exists=step.done and step.place is None,
            cells=before + step.cells,
            finished=step.done and margin_gap <= aims.margin_mm,
        )
        yield so


def _among_equals(ground: Ground, task: Task, step: Progressed) -> Array:
    """Of places with the least turn and the margin one with its hole farther from the edge, if one is near."""
    assert step.place is not None, "there is a place to be better than"
    sense = math.copysign(1.0, step.place[OPEN])
    low, high = sorted((0.0, sense * step.value))
    limited = dataclasses.replace(ground, turns=(max(low, ground.turns[0]), min(high, ground.turns[1])))
    wanted = Task(cover=task.cover, ground=limited, goal="edge", margin_mm=task.margin_mm)
    place, miss = polished(wanted, step.place)
    farther = hole_distances(ground, np.array([step.place, place]))
    kept = miss == 0.0 and abs(place[OPEN]) <= step.value and farther[1] > farther[0] + TIE_MM
    return place if kept else step.place


def _edges(ground: Ground, level_mm: float, aims: Aims) -> Iterator[_So]:
    """The hole as far from the edge as can be, with a margin: no farther than the largest disc in what it pierces."""
    task = Task(cover=ground.cover, ground=ground, goal="edge", margin_mm=level_mm)
    bound = min(largest_disc(each)[1] for each in ground.pierced) + DISC_MM
    so = _So(level_mm=level_mm, edge_bound_mm=bound)
    for place in _starts(ground, task, None):
        so = dataclasses.replace(so, place=place, edge_mm=lid_place(ground, place).hole_to_lid_mm)
        yield so
    for step in highest(search_of(ground, _pivot(ground, so.place)), task, so.place, bound, aims.edge_mm):
        so = dataclasses.replace(
            so,
            place=step.place,
            edge_mm=None if step.place is None else step.value,
            edge_bound_mm=step.bound,
            none_exists=step.done and step.place is None,
            cells=step.cells,
            finished=step.done,
        )
        yield so


def _pivot(ground: Ground, place: Array | None) -> Array:
    """The point the search turns about: the best hole known, else the region's corner farthest from the opening."""
    if place is not None:
        return place[HOLE_RIGHT : HOLE_BACK + 1]
    away = ground.region - ground.opening.mean(axis=0)
    return np.asarray(ground.region[int(np.hypot(away[:, 0], away[:, 1]).argmax())])
