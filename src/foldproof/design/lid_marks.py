"""A lid's place brought to marks: lengths on the ruler, its turn to half a degree, each place measured as it is marked.

The best place between all marks is hardly ever on them. Round it the marks on either side are tried, then from the
best of them the next ones, until none is better. Turns to open are whole degrees, rounded up.
"""

from __future__ import annotations

import dataclasses
import math
from collections.abc import Callable, Iterable, Mapping
from dataclasses import dataclass
from itertools import product
from typing import Any

import numpy as np

from foldproof.checks.turning_evidence import lid_limits, lid_on
from foldproof.design.fit_answers import Goal, LidStanding
from foldproof.design.lid_question import ALONG, BACK, BESIDE, CLOSED, POSE, RIGHT, LidQuestion, fixed_of, opens_of
from foldproof.geometry.cover import cover_margin, margins
from foldproof.geometry.plane import Array
from foldproof.lengths import Length
from foldproof.lids.fasteners import back_room, finger_room, head_room, hole_to_lid, legs, to_edges
from foldproof.lids.optimum_problem import largest_turn_rad
from foldproof.lids.records import Turn
from foldproof.lids.turning import SAME_SHARE as SAME_UNCOVERED
from foldproof.lids.turning import covering_outline, uncovered_curve
from foldproof.project.records import Project

SHOWN = 5  # answers offered, best first
TURN_DEG = 0.5  # finer no lid is laid, and a printed guide is drawn as true as its numbers
SHIFT_MM = 1.0  # a lid's shift is told on the ruler's marks, halved until they are no wider than this
AROUND = 2  # marks tried either side of a hole's best place: its region often ends there; 1 where the lid moves too
MOST_TRIED = 160  # places measured in one search
SAME_SHARE = 1e-6  # of the opening: what an area may lose to arithmetic
SAME_MM = 1e-6
LEAST_HOLE_MM = 3.0  # nearer to the corner no hole can be pierced
MOST_SHIFT_MM, MOST_TURN_DEG = 100.0, 180.0

Marks = tuple[int, ...]  # a number of marks for each open value, in the question's order
Merit = tuple[float, ...]  # the smaller the better


@dataclass(frozen=True, slots=True, kw_only=True)
class Marked:
    """Open values on their marks, and what they give."""

    values: tuple[tuple[str, Length | float], ...]
    standing: LidStanding


def shift_step(project: Project) -> Length:
    """The mark a lid's shift is told on."""
    step = project.ruler.step_length
    while step.float_mm > SHIFT_MM:
        step = step / 2
    return step


def best_marked(question: LidQuestion, goal: Goal, near: Mapping[str, float]) -> tuple[Marked, ...]:
    """The best places on marks round ``near`` (mm and degrees by name), best first; at most SHOWN of them."""
    table = _Table(question=question, found={})
    start = _start(table, near)
    if not question.opened:
        return (table.at(()),)
    if goal != "best hole":
        return _ranked(table, _climbed(table, start, _merit_of(question, goal, question.margin_mm)), goal)
    level = _climbed(table, start, _margin_merit(question))
    best = min((table.at(marks) for marks in level), key=lambda each: _margin_merit(question)(each.standing))
    return _ranked(table, _climbed(table, level, _merit_of(question, goal, _level(question, best))), goal)


def _level(question: LidQuestion, best: Marked) -> float:
    return best.standing.margin_mm - question.give_mm


def missed(question: LidQuestion, goal: Goal, standing: LidStanding) -> tuple[str, float]:
    """What a place misses of what was asked, as a code, and by how much in mm; ("", 0) when it misses nothing."""
    if standing.misses_mm > 0.0:
        return "no_hole", standing.misses_mm
    short = question.margin_mm - standing.margin_mm if goal != "best hole" else 0.0
    if short > SAME_MM:
        return "no_margin", short
    return ("no_opening", 0.0) if least_turn(question, standing) is None else ("", 0.0)


def least_turn(question: LidQuestion, standing: LidStanding) -> float | None:
    """The least turn that uncovers as much as is asked, the way the maker allows; None where there is none."""
    opens = opens_of(question.values)
    left = standing.left_deg if opens != "to the right" else None
    right = standing.right_deg if opens != "to the left" else None
    return min((turn for turn in (left, right) if turn is not None), default=None)


# --- Merits -------------------------------------------------------------------------------------------------


def _missing(question: LidQuestion, standing: LidStanding, level_mm: float) -> Merit:
    short = max(0.0, level_mm - standing.margin_mm) if math.isfinite(level_mm) else 0.0
    closed = max(0.0, question.uncovered - standing.uncovered) if least_turn(question, standing) is None else 0.0
    return (round(standing.misses_mm + short, 6), round(closed, 6))


def _margin_merit(question: LidQuestion) -> Callable[[LidStanding], Merit]:
    def merit(standing: LidStanding) -> Merit:
        turn = _turn(question, standing)
        return (*_missing(question, standing, -math.inf), -round(standing.margin_mm, 6), turn)

    return merit


def _merit_of(question: LidQuestion, goal: Goal, level_mm: float) -> Callable[[LidStanding], Merit]:
    """Least turn at a margin, or the hole farthest from the edge at it; ties by the others."""

    def merit(standing: LidStanding) -> Merit:
        turn, edge, margin = _turn(question, standing), -round(standing.edge_mm, 6), -round(standing.margin_mm, 6)
        rest = (edge, turn, margin) if goal == "hole far from the edge" else (turn, margin, edge)
        return (*_missing(question, standing, level_mm), *rest)

    return merit


def _turn(question: LidQuestion, standing: LidStanding) -> float:
    turn = least_turn(question, standing)
    return abs(standing.opened_deg) if turn is None else turn


def _ranked(table: _Table, tried: Iterable[Marks], goal: Goal) -> tuple[Marked, ...]:
    """The best of all measured places; beside one that misses nothing only others that miss nothing."""
    question = table.question
    every = [table.at(marks) for marks in tried]
    level = question.margin_mm
    if goal == "best hole":
        best = min(every, key=lambda each: _margin_merit(question)(each.standing))
        level = _level(question, best)
    merit = _merit_of(question, goal, level)
    every.sort(key=lambda each: merit(each.standing))
    least = _missing(question, every[0].standing, level)
    return tuple(each for each in every if _missing(question, each.standing, level) == least)[:SHOWN]


# --- Marks --------------------------------------------------------------------------------------------------


@dataclass(frozen=True, slots=True, kw_only=True)
class _Table:
    """Places measured so far, by their marks."""

    question: LidQuestion
    found: dict[Marks, Marked]

    def at(self, marks: Marks) -> Marked:
        """The place at some marks, measured once."""
        known = self.found.get(marks)
        if known is None:
            values = tuple(
                (name, _value(self.question, name, count))
                for name, count in zip(self.question.opened, marks, strict=True)
            )
            known = Marked(values=values, standing=_measured(self.question, dict(values)))
            self.found[marks] = known
        return known


def _value(question: LidQuestion, name: str, count: int) -> Length | float:
    if name == CLOSED:
        return count * TURN_DEG
    return _step(question, name) * count


def _step(question: LidQuestion, name: str) -> Length:
    return shift_step(question.project) if name in (RIGHT, BACK) else question.project.ruler.step_length


def _step_size(question: LidQuestion, name: str) -> float:
    return TURN_DEG if name == CLOSED else _step(question, name).float_mm


def _allowed(question: LidQuestion, marks: Marks) -> bool:
    for name, count in zip(question.opened, marks, strict=True):
        size = count * _step_size(question, name)
        if name == ALONG and size < LEAST_HOLE_MM:
            return False
        if abs(size) > (MOST_TURN_DEG if name == CLOSED else MOST_SHIFT_MM):
            return False
    return True


def _start(table: _Table, near: Mapping[str, float]) -> list[Marks]:
    """The marks on either side of every open value."""
    question = table.question
    moves = any(name in POSE for name in question.opened)
    choices = []
    for name in question.opened:
        at = near[name] / _step_size(question, name)
        low = math.floor(at + SAME_MM)
        extra = AROUND - 1 if name in (ALONG, BESIDE) and not moves else 0
        choices.append(sorted({*range(low - extra, low + 2 + extra), round(at)}))
    every = [marks for marks in product(*choices) if _allowed(question, marks)]
    return every or [tuple(max(round(near[n] / _step_size(question, n)), 1) for n in question.opened)]


def _climbed(table: _Table, start: Iterable[Marks], merit: Callable[[LidStanding], Merit]) -> list[Marks]:
    """From the best of some marks on to better ones beside it; all that were measured, in the order they were."""
    tried = list(dict.fromkeys(start))
    at = min(tried, key=lambda marks: merit(table.at(marks).standing))
    while len(table.found) < MOST_TRIED:
        around = [marks for marks in _beside(at) if _allowed(table.question, marks)]
        better = min(around, key=lambda marks: merit(table.at(marks).standing), default=at)
        tried += around
        if merit(table.at(better).standing) >= merit(table.at(at).standing):
            break
        at = better
    return list(dict.fromkeys(tried))


def _beside(at: Marks) -> Iterable[Marks]:
    for place, way in product(range(len(at)), (-1, 1)):
        yield (*at[:place], at[place] + way, *at[place + 1 :])


# --- Measuring ----------------------------------------------------------------------------------------------


def _measured(question: LidQuestion, given: Mapping[str, Length | float]) -> LidStanding:
    """A place as it is marked: its margin, what every whole degree uncovers, and what it misses of the limits."""
    changed: Mapping[str, Any] = given
    values, box = dataclasses.replace(question.values, **changed), question.box
    project = question.project
    assert isinstance(values.hole_from_corner, Length), "the hole is given, or one of the open values"
    lid = lid_on(project, values, box, question.sizes_mm, values.hole_from_corner.float_mm)
    whole = covering_outline(lid)
    curve = uncovered_curve(box, lid.hole, whole)
    low, high = largest_turn_rad(opens_of(values))
    allowed = [turn for turn in curve if math.degrees(low) <= turn.angle_deg <= math.degrees(high)]
    most = max(turn.uncovered for turn in allowed)
    # Half a per cent is not worth a larger turn, unless it is what makes it as open as is asked.
    enough = most - SAME_UNCOVERED
    if most >= question.uncovered - SAME_SHARE:
        enough = max(enough, question.uncovered - SAME_SHARE)
    widest = [turn for turn in allowed if turn.uncovered >= enough]
    opened = min(widest, key=lambda turn: abs(turn.angle_deg))
    limits = project.checks
    edge = limits.hole_edge_mm - 0.5 * lid.fastener.hole_mm
    nearest = hole_to_lid(lid)
    head, hidden = head_room(lid)
    misses = [edge - nearest, edge - (to_edges(box.triangle, lid.hole) - 0.5 * lid.fastener.hole_mm), -head]
    if hidden is not None:
        misses.append(-hidden)
    if lid.fastener.legs_mm > 0.0:
        misses.append(-legs(box, lid, lid_limits(project))[1])
        finger = finger_room(box, whole, lid.hole, opened.angle_deg, lid_limits(project))
        misses.append(project.folding.finger_mm - finger)
    back = back_room(box, lid)[0]
    if math.isfinite(back):
        misses.append(-back)
    return LidStanding(
        margin_mm=cover_margin(np.asarray(whole), np.asarray(box.rim)),
        left_deg=_least(allowed, 1.0, question.uncovered),
        right_deg=_least(allowed, -1.0, question.uncovered),
        uncovered=most,
        opened_deg=opened.angle_deg,
        edge_mm=nearest + 0.5 * lid.fastener.hole_mm,
        misses_mm=max(0.0, *misses),
    )


def _least(curve: Iterable[Turn], sense: float, share: float) -> float | None:
    """The least whole degree one way that uncovers a share."""
    turns = (sense * turn.angle_deg for turn in curve if turn.uncovered >= share - SAME_SHARE)
    return min((turn for turn in turns if turn >= 0.0), default=None)


# --- Cover alone --------------------------------------------------------------------------------------------


def best_cover_marked(
    question: LidQuestion, outline: Array, near: Mapping[str, float]
) -> tuple[dict[str, Length | float], float]:
    """Turn and shift on marks with the largest margin round a place, as far as they are open; and that margin.

    ``outline`` (n, 2) covers, in the lid's own frame. Of equal margins the place nearest the middle counts.
    """
    names = tuple(name for name in question.opened if name in POSE)
    fixed, rim = fixed_of(question), np.asarray(question.box.rim)

    def ranked(every: list[Marks]) -> tuple[float, int, Marks]:
        turns = np.full(len(every), fixed.closed_turn_rad or 0.0)
        shifts = np.tile([fixed.moved_right_mm or 0.0, fixed.moved_back_mm or 0.0], (len(every), 1))
        for column, name in enumerate(names):
            sizes = np.array([marks[column] for marks in every]) * _step_size(question, name)
            if name == CLOSED:
                turns = np.radians(sizes)
            else:
                shifts[:, 0 if name == RIGHT else 1] = sizes
        found = margins(outline, rim, shifts_mm=shifts, turns_rad=turns)
        return max(
            (round(float(margin), 6), -sum(map(abs, marks)), marks) for margin, marks in zip(found, every, strict=True)
        )

    lows = [math.floor(near[name] / _step_size(question, name)) for name in names]
    best = ranked(list(product(*((low, low + 1) for low in lows))))
    while names:
        better = ranked(list(_beside(best[2])))
        if better[:2] <= best[:2]:
            break
        best = better
    return {name: _value(question, name, count) for name, count in zip(names, best[2], strict=True)}, best[0]
