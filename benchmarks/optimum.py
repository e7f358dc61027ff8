"""The best place of a lid: how soon a good answer comes, how soon it is proved, and what the plain ways take.

``python -m benchmarks.optimum`` prints all of it; a number after it says how many random cases the fine plain search
is set against (``benchmarks/optimum_plain.py``). Times are of one run; the processor's own, so that other work beside
it counts for little.
"""

from __future__ import annotations

import math
import sys
import time
from collections.abc import Callable
from dataclasses import dataclass, replace
from typing import TypeVar

import numpy as np
import shapely
from shapely import affinity

from benchmarks.lids import analysis
from benchmarks.optimum_cases import case
from benchmarks.optimum_plain import FINE, best_plain, row_of
from benchmarks.table import milliseconds, print_rows
from foldproof.geometry.plane import Polygon
from foldproof.geometry.symmetry import turning_fold
from foldproof.lids.box import turning_box
from foldproof.lids.optimum import best_hole, improving_holes
from foldproof.lids.optimum_problem import HoleKeeps, problem_of
from foldproof.lids.optimum_records import Aims, BestHole, HoleProblem, Wish
from foldproof.outlines.catalogue import draw, formula_named
from foldproof.outlines.record import Shape
from foldproof.pattern.records import BoxForm

T = TypeVar("T")

ACROSS_MM = 152.4  # 6 in
POINTS = 240  # of the disc and of the square, along its sides
INNER_MM, WALL_MM, STRIP_MM = 82.55, 0.3, 25.4  # a 3 1/4 in box with a triangle from a 1 in strip
KEEPS = HoleKeeps(edge_mm=6.35, head_mm=8.0, legs_below_mm=8.0)
SHARES = (0.75, 1.0)  # of the opening to be uncovered
AIMS_S = {"disc": 2.0, "rosette": 2.0, "square": 10.0}
FIRST_AIM_MS, ANALYSIS_AIM_MS, RATIO_AIM = 100.0, 2.0, 1000.0
GRID_MM, GRID_RAD = 0.5, math.radians(1.0)
SAMPLE = 300  # places of the grid that are timed
CASES, CELLS = 8, 20_000
ROUNDING = 2e-6
ROUNDS = 9


@dataclass(frozen=True, slots=True, kw_only=True)
class OptimumTables:
    """Rows of both tables, and whether no plain search found anything beyond a proved bound."""

    rows: list[tuple[str, ...]]
    plain_rows: list[tuple[str, ...]]
    never_beaten: bool


def lid_of(name: str) -> Polygon:
    """A 6 in disc, square or eight-lobed rosette, of 240 points and more."""
    if name == "disc":
        bearings = 2.0 * math.pi * np.arange(POINTS) / POINTS
        return tuple((0.5 * ACROSS_MM * math.cos(b), 0.5 * ACROSS_MM * math.sin(b)) for b in bearings.tolist())
    if name == "square":
        ring = shapely.segmentize(shapely.box(*(0.5 * ACROSS_MM * np.array([-1, -1, 1, 1]))), 4.0 * ACROSS_MM / POINTS)
        return tuple((float(x), float(y)) for x, y in shapely.get_coordinates(ring)[:-1])
    formula = formula_named(name)
    assert formula is not None, "a shape of the catalogue"
    shape = draw(formula, {"across": ACROSS_MM, "lobes": 8, "depth": 6.35})
    assert isinstance(shape, Shape), "values that can be drawn"
    return shape.outline


def problem_for(name: str) -> HoleProblem:
    """The lid on the example box, the hole in its triangle."""
    outer = INNER_MM + 2.0 * WALL_MM
    form = BoxForm(piece="tray", centre=(0.0, 0.0), outer_mm=(outer, outer), inner_mm=(INNER_MM, INNER_MM), rim_mm=30.0)
    return problem_of(turning_box(form, "back right", STRIP_MM, WALL_MM, 10.0), lid_of(name), KEEPS)


def optimum_tables(cases: int) -> OptimumTables:
    """Everything timed and compared."""
    rows = [row for name in AIMS_S for share in SHARES for row in _proved(name, share)]
    rows += [_analysed(name) for name in AIMS_S]
    plain_rows = [_against_grid(name) for name in AIMS_S]
    beaten, shaken_s = 0, 0.0
    for number in range(cases):
        seconds, right = _timed(lambda number=number: _holds(number))  # type: ignore[misc]
        beaten, shaken_s = beaten + (not right), shaken_s + seconds
    plain_rows.append((f"{cases} random cases, shaken finely", "", f"{shaken_s:,.0f} s", f"beaten {beaten}", "0"))
    return OptimumTables(rows=rows, plain_rows=plain_rows, never_beaten=beaten == 0)


def _proved(name: str, share: float) -> list[tuple[str, ...]]:
    problem, wish = problem_for(name), Wish(goal="margin", uncovered=share)
    next(iter(improving_holes(problem, wish)))  # the first one loads what is loaded once
    start = time.process_time()
    first, first_s, best = None, 0.0, None
    for best in improving_holes(problem, wish):
        if first is None and best.place is not None:
            first, first_s = best.place, time.process_time() - start
    taken = time.process_time() - start
    assert best is not None and best.place is not None and first is not None, "there is a place on this box"
    certificate = best.certificate
    assert certificate.finished and certificate.margin_bound_mm is not None and certificate.margin_gap_mm is not None
    margin = certificate.margin_bound_mm - certificate.margin_gap_mm
    what = f"{name}, {len(problem.lid)} points, {100 * share:.0f} % uncovered"
    best_text = f"{margin:.2f} mm, {abs(math.degrees(best.place.open_turn_rad)):.1f}° at {certificate.level_mm:.2f}"
    return [
        (f"{what}: first answer", milliseconds(first_s), f"{first.margin_mm:.2f} mm", f"{FIRST_AIM_MS:.0f} ms"),
        (f"   proved, {certificate.cells:,} cells", f"{taken:.1f} s", best_text, f"{AIMS_S[name]:.0f} s"),
    ]


def _analysed(name: str) -> tuple[str, ...]:
    problem = problem_for(name)
    lid, rim, opening = (np.asarray(each) for each in (problem.lid, problem.rim, problem.opening))
    times = sorted(_timed(lambda: analysis(lid, rim, opening))[0] for _ in range(ROUNDS))
    return (f"{name}: analysis at a given place", milliseconds(times[ROUNDS // 2]), "", f"{ANALYSIS_AIM_MS:.0f} ms")


def _against_grid(name: str) -> tuple[str, ...]:
    """The search at the grid's accuracy against all places of a grid, judged from some that are timed."""
    problem, wish = problem_for(name), Wish(goal="margin", uncovered=0.75)
    aims = Aims(margin_mm=GRID_MM, turn_rad=GRID_RAD)
    seconds, best = _timed(lambda: best_hole(problem, wish, aims=aims))
    assert best.certificate.finished
    grid_s = _grid_seconds(problem)
    return (name, f"{seconds:.2f} s", f"{grid_s:,.0f} s", f"{grid_s / seconds:,.0f}", f"{RATIO_AIM:,.0f}")


def _grid_seconds(problem: HoleProblem) -> float:
    """Every closed place asked whether it covers; where it does, every hole and turn asked for its area."""
    rng = np.random.default_rng(0)
    fold = turning_fold(np.asarray(problem.lid))
    lid, rim, opening = (shapely.Polygon(each) for each in (problem.lid, problem.rim, problem.opening))
    closed_turns = max(1, round(2.0 * math.pi / fold / GRID_RAD)) if fold < POINTS else 1
    reach = 0.5 * ACROSS_MM  # shifts that may cover at all lie no farther out
    shifts = round(2.0 * reach / GRID_MM) ** 2
    holes = max(1, round(float(shapely.MultiPoint(np.asarray(problem.region)).convex_hull.area) / GRID_MM**2))
    shapely.prepare(rim)
    covering: list[shapely.Polygon] = []
    start = time.process_time()
    for turn, right, back in rng.uniform((0.0, -reach, -reach), (2.0 * math.pi / fold, reach, reach), (SAMPLE, 3)):
        closed = affinity.translate(affinity.rotate(lid, turn, origin=(0, 0), use_radians=True), right, back)
        if closed.covers(rim):
            covering.append(closed)
    cover_s = (time.process_time() - start) / SAMPLE
    covering = covering or [lid]
    start = time.process_time()
    for number in range(SAMPLE):
        closed, turn = covering[number % len(covering)], rng.uniform(-math.pi, math.pi)
        float(affinity.rotate(closed, turn, origin=problem.region[0], use_radians=True).intersection(opening).area)
    area_s = (time.process_time() - start) / SAMPLE
    places = closed_turns * shifts
    share = len(covering) / SAMPLE
    return places * cover_s + places * share * holes * (2.0 * math.pi / GRID_RAD) * area_s


def _holds(number: int) -> bool:
    """Whether the fine plain search finds nothing beyond what is proved of a random case."""
    each = case(number)
    best = best_hole(each.problem, each.wish, aims=Aims(most_cells=CELLS))
    near = () if best.place is None else (row_of(best.place),)
    plain = best_plain(each.problem, each.wish, FINE, number, near)
    holds = plain is None or not _beyond(each.wish, best, plain[1])
    certificate = best.certificate
    if each.wish.goal == "margin" and certificate.level_mm is not None:
        least = replace(each.wish, goal="angle", margin_mm=certificate.level_mm)
        plain = best_plain(each.problem, least, FINE, number, near)
        holds = holds and (plain is None or not _beyond(least, best, plain[1]))
    return holds


def _beyond(wish: Wish, best: BestHole, value: float) -> bool:
    certificate = best.certificate
    if certificate.none_exists and wish.goal != "margin":
        return True  # of a margin no less is said than its bound: a lid that misses the rim by more is none
    if wish.goal == "angle":
        return certificate.angle_bound_rad is not None and value < certificate.angle_bound_rad - ROUNDING
    bound = certificate.margin_bound_mm if wish.goal == "margin" else certificate.edge_bound_mm
    return bound is not None and value > bound + ROUNDING


def _timed(work: Callable[[], T]) -> tuple[float, T]:
    start = time.process_time()
    answer = work()
    return time.process_time() - start, answer


def print_optimum(cases: int = CASES) -> bool:
    """Prints both tables; whether nothing was found beyond a proved bound."""
    tables = optimum_tables(cases)
    print_rows("The best place of a 6 in lid on a 3 1/4 in box", ("what", "time", "answer", "aim"), tables.rows)
    heads = ("against the plain ways", "search", "plain", "ratio", "aim")
    print_rows("Searched to 0.5 mm and 1°, against a grid of shapely calls as fine", heads, tables.plain_rows)
    print(f"  The grid's time is scaled up from {SAMPLE} of its places of either kind.")
    return tables.never_beaten


if __name__ == "__main__":
    if not print_optimum(int(sys.argv[1]) if len(sys.argv) > 1 else CASES):
        sys.exit("a plain search found a place beyond a proved bound")
