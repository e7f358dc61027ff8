"""Fit for lids: the smallest that covers its box, and the best place for lid and hole, with what is proved of it."""

from __future__ import annotations

import dataclasses
from collections.abc import Callable, Iterator
from fractions import Fraction

from foldproof.constructions.parameters import Open
from foldproof.constructions.turning_lid import layer_across, owned_sizes
from foldproof.design.fit_answers import LID_GOALS, FitAnswer, Fitted, Goal, SizeBound
from foldproof.design.lid_marks import SHOWN, Marked, best_marked, missed
from foldproof.design.lid_question import (
    HOLE,
    PLACE,
    LidQuestion,
    measures_of,
    problem_of_question,
    question_of,
    wish_of,
)
from foldproof.design.lid_size import Placed, smallest_lid
from foldproof.design.measure import measure_part
from foldproof.errors import wrong
from foldproof.lengths import ZERO, Length, length
from foldproof.lids.optimum import improving_holes
from foldproof.lids.optimum_cover import best_cover
from foldproof.lids.optimum_records import BestHole, HoleProblem, LidPlace, Wish
from foldproof.pattern.records import Assembly
from foldproof.progress import Progress, unwatched
from foldproof.project.records import Part, Project

STAGE = "lid_place"
AT_ONCE = 0  # cells: a good place and no proof, for those who wait at a page
PROVED = 200_000  # cells looked at before a proof is left unfinished: about twenty seconds
START_CELLS = 2_000  # for the best cover alone, where nothing opens as far as is asked

Told = Callable[[FitAnswer], None]


def silent(answer: FitAnswer) -> None:
    """What a caller hands in who does not watch answers get better."""


def fit_lid(
    project: Project,
    part: Part,
    goal: Goal | None,
    progress: Progress = unwatched,
    most_cells: int = AT_ONCE,
    told: Told = silent,
) -> FitAnswer:
    """Solves a lid's open values: its size first, then its place and its hole.

    ``told`` gets a good answer at once and then every better one, the last is returned. ``most_cells`` bounds the
    proof. Raises InputError when the box is still open, or for a goal that is none for a lid.
    """
    host = next(other for other in project.parts if other.name == part.on)
    if host.open_values:
        raise wrong(
            f"parts.{host.name}", ", ".join(host.open_values), "is open, and the lid needs it", "fit the box first"
        )
    goal = goal or _goal_of(part)
    if goal not in LID_GOALS:
        names = ", ".join(f'"{name}"' for name in LID_GOALS)
        raise wrong(f"parts.{part.name}", goal, "is no goal for a lid", f"use one of {names}")
    asked = _Asked(project=project, part=part, goal=goal, host=measure_part(project, host).assembly)
    if goal == "smallest lid" or isinstance(part.values.across, Open):
        return _smallest(asked, progress, most_cells, told)
    return _place(asked, progress, most_cells, told)


def left_out(part: Part, goal: Goal | None) -> FitAnswer:
    """What is answered for a lid whose box has no size that works: nothing, and why."""
    goal = goal if goal in LID_GOALS else _goal_of(part)
    return FitAnswer(part=part.name, goal=goal, works=False, reason="box_open", short=ZERO, answers=())


def _goal_of(part: Part) -> Goal:
    return "smallest lid" if isinstance(part.values.across, Open) else "best hole"


@dataclasses.dataclass(frozen=True, slots=True, kw_only=True)
class _Asked:
    """A lid to be fitted: ``found`` are values worked out before its place, ``size`` what is proved of its size."""

    project: Project
    part: Part
    goal: Goal
    host: Assembly
    found: Placed = dataclasses.field(default_factory=dict)
    size: SizeBound | None = None
    stopped: bool = False

    def taking(self, found: Placed) -> _Asked:
        """The same with some values in place of open ones."""
        values = dataclasses.replace(self.part.values, **found)
        open_values = tuple(name for name in self.part.open_values if name not in found)
        part = dataclasses.replace(self.part, values=values, open_values=open_values)
        return dataclasses.replace(self, part=part, found={**self.found, **found})


def _smallest(asked: _Asked, progress: Progress, most_cells: int, told: Told) -> FitAnswer:
    """The smallest size; for the goal of that name at its best cover, for others with its place still open."""
    values = asked.part.values
    size = smallest_lid(asked.project, asked.part, asked.host, progress)
    asked = dataclasses.replace(asked, size=size.bound, stopped=size.stopped)
    if size.short > ZERO:
        return _answer(asked, (), "no_owned" if owned_sizes(values) else "no_lid", size.short)
    asked = asked.taking({"across": size.size, **size.placed})
    widest = max(layer_across(values, layer, size.size) for layer in values.layers)
    # An alternative's layers may keep their share of its size, which they only have once it is known.
    if widest != size.size and any(other.name == asked.part.name for other in asked.project.parts):
        larger = widest > size.size
        short = widest - size.size if larger else size.size - widest
        return _answer(asked, (None,), "layer_larger" if larger else "layers_smaller", short)
    if any(name in asked.part.open_values for name in HOLE) or asked.goal != "smallest lid":
        return _place(asked, progress, most_cells, told)
    return _answer(asked, (None,), "", ZERO)


# --- The place ----------------------------------------------------------------------------------------------


def _place(asked: _Asked, progress: Progress, most_cells: int, told: Told) -> FitAnswer:
    """The place between all marks, better and better; on marks the first, the last, and any that is another place."""
    wanted: Goal = "best hole" if asked.goal == "smallest lid" else asked.goal
    let_go = () if any(name in asked.part.open_values for name in PLACE) else HOLE
    question = question_of(asked.project, asked.part.values, asked.host, let_go)
    problem, wish = problem_of_question(question), wish_of(question, wanted)
    answer, last, stopped = None, None, False
    for best in _improving(problem, wish, most_cells):
        stopped = not progress(STAGE, best.certificate.cells, most_cells)
        best = dataclasses.replace(best, certificate=dataclasses.replace(best.certificate, stopped=stopped))
        # Marks are tried again only when the search is over: a good place is told at once.
        answer = _on_marks(asked, question, wanted, best) if answer is None else dataclasses.replace(answer, place=best)
        told(answer)
        last = best
        if stopped:
            break
    assert answer is not None and last is not None, "a search has a first answer"
    again = _on_marks(asked, question, wanted, last)
    return dataclasses.replace(again, stopped=stopped or asked.stopped)


def _improving(problem: HoleProblem, wish: Wish, most_cells: int) -> Iterator[BestHole]:
    """Better and better places; without a proof the first, its turn made less where that is the second wish."""
    if most_cells <= AT_ONCE:
        first = next(improving_holes(problem, wish))
        place = first.place
        if wish.goal == "margin" and place is not None:
            level = place.margin_mm - wish.give_mm
            less = dataclasses.replace(wish, goal="angle", margin_mm=level)
            first = dataclasses.replace(first, place=next(improving_holes(problem, less)).place or place)
        yield first
        return
    for best in improving_holes(problem, wish):
        yield best
        if best.certificate.cells >= most_cells:
            return


def _on_marks(asked: _Asked, question: LidQuestion, goal: Goal, best: BestHole) -> FitAnswer:
    """The answers on marks round the best place; where none is, round the best cover with the hole by its corner."""
    near = measures_of(question, best.place) if best.place is not None else _by_the_corner(question)
    marked = best_marked(question, goal, near)
    reason, short = missed(question, goal, marked[0].standing)
    return dataclasses.replace(
        _answer(asked, marked, reason, _mm(short)), place=best, sought=question.opened, uncovered=question.uncovered
    )


def _by_the_corner(question: LidQuestion) -> dict[str, float]:
    """Where to begin when nothing meets the wish: the best cover, and the hole as near its corner as it may be."""
    problem = problem_of_question(question)
    cover = best_cover(problem.lid, problem.rim, fixed=problem.fixed, most_cells=START_CELLS)
    hole = min(problem.region, key=lambda at: _away(question, at), default=question.drawn.hole)
    place = LidPlace(
        closed_turn_rad=cover.closed_turn_rad,
        moved_right_mm=cover.moved_right_mm,
        moved_back_mm=cover.moved_back_mm,
        hole=hole,
        open_turn_rad=0.0,
        margin_mm=cover.margin_mm,
        uncovered=0.0,
        hole_to_lid_mm=0.0,
    )
    return measures_of(question, place)


def _away(question: LidQuestion, at: tuple[float, float]) -> float:
    corner = question.box.corner
    return (at[0] - corner[0]) ** 2 + (at[1] - corner[1]) ** 2


def _mm(size_mm: float) -> Length:
    return length(Fraction(str(round(size_mm, 3))), "mm")


# --- The answer ---------------------------------------------------------------------------------------------


def _answer(asked: _Asked, marked: tuple[Marked | None, ...], reason: str, short: Length) -> FitAnswer:
    sheet, values = asked.project.cardstock.usable_sheet, asked.part.values
    answers = []
    for each in marked:
        across = asked.found.get("across", values.across)
        assert isinstance(across, Length), "a lid is placed when its size is known"
        answers.append(
            Fitted(
                values=(*asked.found.items(), *(each.values if each is not None else ())),
                width=across,
                height=across,
                spare_width=sheet.width - across,
                spare_height=sheet.height - across,
                on_stops=False,
                lid=each.standing if each is not None else None,
            )
        )
    among = "across" in asked.found or reason == "no_owned"
    return FitAnswer(
        part=asked.part.name,
        goal=asked.goal,
        works=not reason,
        reason=reason,
        short=short,
        answers=tuple(answers[:SHOWN]),
        among=owned_sizes(values) if among else (),
        size=asked.size,
        stopped=asked.stopped,
    )
