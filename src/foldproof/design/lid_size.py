"""The smallest lid for a box: on the ruler or among the sizes that are owned, at its given place or at the best one."""

from __future__ import annotations

import dataclasses
import math
from collections.abc import Callable
from dataclasses import dataclass
from fractions import Fraction

import numpy as np

from foldproof.checks.turning_evidence import box_of, closed_turn_rad
from foldproof.constructions.turning_lid import (
    TurningLidValues,
    closed_shift,
    conflicts,
    lid_shape,
    owned_sizes,
    placed_outline,
)
from foldproof.design.fit_answers import SizeBound
from foldproof.design.lid_marks import best_cover_marked
from foldproof.design.lid_question import BACK, CLOSED, POSE, RIGHT, LidQuestion, fixed_of, question_of
from foldproof.geometry.cover import cover_margin
from foldproof.geometry.plane import Array
from foldproof.lengths import Length, length, round_to
from foldproof.lids.optimum_cover import covering
from foldproof.lids.optimum_ground import cover_of
from foldproof.lids.optimum_measure import own_place
from foldproof.lids.records import TurningBox
from foldproof.pattern.records import Assembly
from foldproof.progress import Progress, unwatched
from foldproof.project.records import Part, Project

LARGEST_LID = length(600, "mm")  # larger than any sheet of cardstock
WITHIN_MM = 0.02  # how near the margin of a size is settled: finer than card is cut
MOST_CELLS = 60_000  # of one size: a few seconds, where its margin is within a hair of what is asked
MOST_MISSING_MM = 1000.0
STAGE = "lid_size"

Placed = dict[str, Length | float]


@dataclass(frozen=True, slots=True, kw_only=True)
class LidSize:
    """The smallest size, how much margin is missing at the largest if none covers, and its open turn and shift.

    ``bound`` is what is proved: a lid of ``bound_mm`` does not cover at any place left open, nor does a smaller one.
    """

    size: Length
    short: Length
    placed: Placed
    bound: SizeBound
    stopped: bool = False


class _Search:
    """One search over sizes and what it has seen of each; ``undecided`` when a size was left open."""

    def __init__(
        self, project: Project, values: TurningLidValues, host: Assembly, box: TurningBox, progress: Progress
    ) -> None:
        self.project, self.values, self.host, self.box, self.progress = project, values, host, box, progress
        self.cells = 0
        self.bounds: dict[Length, float] = {}  # no place at this size has more margin
        self.undecided = False
        self.stopped = False
        self.known: dict[Length, tuple[float, Placed]] = {}

    def margin(self, size: Length) -> tuple[float, Placed]:
        """The largest margin on marks at a size, or enough of one, and its place; minus infinity for no shape."""
        if size not in self.known:
            self.known[size] = self._margin(size)
        return self.known[size]

    def bound(self, size: Length) -> float:
        """No place at a size has more margin."""
        margin, _ = self.margin(size)
        return self.bounds.get(size, margin)

    def _margin(self, size: Length) -> tuple[float, Placed]:
        sized = dataclasses.replace(self.values, across=size)
        if any(conflict.name in ("across", "depth", "lobes") for conflict in conflicts(sized)):
            return -math.inf, {}
        question = question_of(self.project, sized, self.host)
        outline = np.asarray(lid_shape(sized, size.float_mm).outline)
        if not any(name in question.opened for name in POSE):
            return given_margin(sized, self.box, size.float_mm), {}
        wanted = self.project.checks.cover_look_mm
        near, bound = self._best(question, outline, wanted)
        self.bounds[size] = bound
        placed, margin = best_cover_marked(question, outline, near)
        if margin < wanted <= bound:  # a place that just covers may have no marks beside it that do: the best may
            near, _ = self._best(question, outline, math.inf)
            placed, margin = best_cover_marked(question, outline, near)
        return margin, placed

    def _best(self, question: LidQuestion, outline: Array, enough_mm: float) -> tuple[dict[str, float], float]:
        """The best place between all marks, until ``enough_mm`` is found or proved to be nowhere; and the bound."""
        cover = cover_of(tuple((float(x), float(y)) for x, y in outline), self.box.rim, fixed_of(question))
        state = None
        for state in covering(cover, WITHIN_MM, enough_mm):
            if not self.progress(STAGE, self.cells + state.cells, self.cells + MOST_CELLS):
                self.stopped = True
            if self.stopped or state.cells >= MOST_CELLS:
                break
        assert state is not None, "a search has a first state"
        self.cells += state.cells
        self.undecided |= state.margin_mm < self.project.checks.cover_look_mm <= state.bound_mm
        turn, right, back = own_place(cover, state.place)
        return {CLOSED: math.degrees(math.remainder(turn, math.tau)), RIGHT: right, BACK: back}, state.bound_mm


def given_margin(values: TurningLidValues, box: TurningBox, across_mm: float) -> float:
    """The margin of a lid at the place that is given, in the middle where that is open."""
    shape = lid_shape(values, across_mm)
    turn = closed_turn_rad(values, shape, box)
    return cover_margin(np.asarray(placed_outline(shape, turn, closed_shift(values))), np.asarray(box.rim))


def smallest_lid(project: Project, part: Part, host: Assembly, progress: Progress = unwatched) -> LidSize:
    """The smallest size on the ruler whose margin is not thin, or the smallest that is owned.

    A lid whose turn or shift is open is judged at its best place; any other where it is given. A larger lid of one
    shape covers whatever a smaller one does.
    """
    box = box_of(project, part.values, host)
    search = _Search(project, part.values, host, box, progress)
    sizes = owned_sizes(part.values) or _on_ruler(project, box)
    wanted = project.checks.cover_look_mm
    placed_open = any(name in part.open_values for name in POSE)
    if placed_open and not owned_sizes(part.values):
        number = _halved(sizes, lambda size: search.margin(size)[0] >= wanted)
    else:
        number = next((n for n, size in enumerate(sizes) if search.margin(size)[0] >= wanted), None)
    size = sizes[-1 if number is None else number]
    margin, placed = search.margin(size)
    short = max(0.0, wanted - margin) if number is None else 0.0
    smaller = sizes[: len(sizes) if number is None else number]
    # Between the marks a smaller one may cover: the first that is not proved to cover nowhere.
    first = _halved(smaller, lambda size: search.bound(size) >= wanted) if smaller else 0
    none_mm = sizes[len(smaller) - 1 if first is None else first - 1].float_mm if first != 0 else None
    if not _over_rim(part.values, box):
        none_mm = None
    return LidSize(
        size=size,
        short=length(Fraction(str(round(min(short, MOST_MISSING_MM), 3))), "mm"),
        placed=placed,
        bound=SizeBound(
            found_mm=size.float_mm,
            bound_mm=none_mm,
            cells=search.cells,
            finished=not search.undecided and not search.stopped,
        ),
        stopped=search.stopped,
    )


def _over_rim(values: TurningLidValues, box: TurningBox) -> bool:
    """Whether a given shift leaves the lid's own middle over the rim: else a larger lid may cover less."""
    return all(abs(at) <= half for at, half in zip(closed_shift(values), box.rim[2], strict=True))


def _on_ruler(project: Project, box: TurningBox) -> tuple[Length, ...]:
    step = project.ruler.step_length
    # Across is an extent of the lid, which is nowhere narrower than the rim; it may be less than the rim is long.
    first = round_to(length(Fraction(str(round(2.0 * min(box.rim[2]), 3))), "mm"), project.ruler, "down").shown
    return tuple(first + step * number for number in range(int((LARGEST_LID - first).mm // step.mm) + 1))


def _halved(sizes: tuple[Length, ...], covers: Callable[[Length], bool]) -> int | None:
    """The first of the sizes that covers, looked for in steps that double and then halve: small ones come first."""
    too_small, step = -1, 1
    works = 0
    while not covers(sizes[works]):
        too_small = works
        if works == len(sizes) - 1:
            return None
        works, step = min(works + step, len(sizes) - 1), 2 * step
    while works - too_small > 1:
        middle = (works + too_small) // 2
        works, too_small = (middle, too_small) if covers(sizes[middle]) else (works, middle)
    return works
