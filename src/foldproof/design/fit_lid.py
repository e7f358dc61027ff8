"""Fit for lids: the best place for the hole, the smallest lid for a box, the largest box under a lid."""

from __future__ import annotations

import dataclasses
import math
from fractions import Fraction

import numpy as np
from numpy.typing import NDArray

from foldproof.checks.turning_evidence import box_of, closed_turn_rad, lid_limits, lid_on
from foldproof.constructions.parameters import Open
from foldproof.constructions.turning_lid import (
    TurningLidValues,
    closed_shift,
    conflicts,
    layer_across,
    lid_shape,
    owned_sizes,
    placed_outline,
    turned_rad,
)
from foldproof.design.fit_answers import FitAnswer, Fitted, Goal
from foldproof.design.measure import measure_part
from foldproof.errors import wrong
from foldproof.geometry.cover import cover_margin, margins
from foldproof.lengths import ZERO, Length, length, round_to
from foldproof.lids.box import CORNERS, rectangle
from foldproof.lids.records import LidAnalysis, TurningBox
from foldproof.lids.turning import analyse
from foldproof.outlines.record import Shape
from foldproof.pattern.records import Assembly
from foldproof.project.records import Part, Project

SHOWN = 5  # answers offered, best first
LARGEST_LID = length(600, "mm")  # larger than any sheet of cardstock
SHIFT_MM = 0.5  # how near the best place of a lid is found
SHIFT_SHARE, MOST_SHIFT_MM = 0.25, 100.0  # how far a lid is moved to look for it: a share of its size, and at most
COARSE_STEPS, REFINED = 4, 3  # every fourth step of the grid first; round how many places all the others
LEAST_HOLE_MM = 3.0  # nearer to the corner no hole can be pierced
SPECK_MM = 1e-3  # a box too small to see, and how near a longest side is searched


def fit_lid(project: Project, part: Part, goal: Goal | None) -> FitAnswer:
    """Solves a lid's open values: its size first, then its hole. Raises InputError when the box is still open."""
    host = next(other for other in project.parts if other.name == part.on)
    if host.open_values:
        raise wrong(
            f"parts.{host.name}", ", ".join(host.open_values), "is open, and the lid needs it", "fit the box first"
        )
    assembly = measure_part(project, host).assembly
    across_open, hole_open = (isinstance(v, Open) for v in (part.values.across, part.values.hole_from_corner))
    goal = goal or ("smallest lid" if across_open else "best hole")
    if goal not in ("best hole", "smallest lid"):
        raise wrong(f"parts.{part.name}", goal, "is no goal for a lid", 'use "best hole" or "smallest lid"')
    found: dict[str, Length] = {}
    if across_open or goal == "smallest lid":
        across, short = smallest_lid(project, part, assembly)
        if short > ZERO:
            return _answer(project, part, goal, (), "no_owned" if owned_sizes(part.values) else "no_lid", short)
        found["across"] = across
        part = dataclasses.replace(part, values=dataclasses.replace(part.values, across=across))
    moved = best_shift(project, part, assembly)
    found |= moved
    part = dataclasses.replace(part, values=dataclasses.replace(part.values, **moved))
    if not hole_open and goal == "smallest lid":
        return _answer(project, part, goal, (found,), "", ZERO)
    holes, short = best_holes(project, part, assembly)
    every = tuple({**found, "hole_from_corner": hole} for hole in holes)
    return _answer(project, part, goal, every, "no_hole" if short > ZERO else "", short)


def _answer(
    project: Project, part: Part, goal: Goal, values: tuple[dict[str, Length], ...], reason: str, short: Length
) -> FitAnswer:
    sheet = project.cardstock.usable_sheet
    answers = []
    for each in values:
        across = each.get("across", part.values.across)
        answers.append(
            Fitted(
                values=tuple(each.items()),
                width=across,
                height=across,
                spare_width=sheet.width - across,
                spare_height=sheet.height - across,
                on_stops=False,
            )
        )
    return FitAnswer(
        part=part.name,
        goal=goal,
        works=not reason,
        reason=reason,
        short=short,
        answers=tuple(answers),
        among=owned_sizes(part.values) if any("across" in each for each in values) or reason == "no_owned" else (),
    )


def smallest_lid(project: Project, part: Part, host: Assembly) -> tuple[Length, Length]:
    """The smallest size on the ruler whose margin is not thin; how much is missing at the largest if there is none.

    A lid whose place is open too is judged at its best place. Of a shape that the maker owns in some sizes only these
    are looked at.
    """
    box = box_of(project, part.values, host)
    if owned_sizes(part.values):
        return _smallest_owned(project, part.values, box)
    step = project.ruler.step_length
    first = round_to(length(Fraction(str(round(2.0 * max(box.rim[2]), 3))), "mm"), project.ruler, "down").shown
    most = int((LARGEST_LID - first).mm // step.mm)

    def missing(number: int, moved: bool) -> float:
        """By how much the margin at one size falls short, in mm; infinite for a shape that cannot be so small."""
        size = first + step * number
        sized = dataclasses.replace(part.values, across=size)
        if any(conflict.name in ("across", "depth", "lobes") for conflict in conflicts(sized)):
            return math.inf
        margin = _best_place(project, sized, box)[1] if moved else _margin(sized, box, size.float_mm)
        return project.checks.cover_look_mm - margin

    found = next((number for number in range(most + 1) if missing(number, False) <= 0.0), None)
    if not _open_shifts(part.values):
        short = 0.0 if found is not None else min(missing(most, False), 1000.0)
        return first + step * (most if found is None else found), length(Fraction(str(round(short, 3))), "mm")
    works = most if found is None else found
    short = max(0.0, missing(works, True)) if found is None else 0.0
    if short > 0.0:
        return first + step * most, length(Fraction(str(round(min(short, 1000.0), 3))), "mm")
    too_small = -1  # a larger lid of one shape covers whatever a smaller one does
    while works - too_small > 1:
        middle = (works + too_small) // 2
        works, too_small = (middle, too_small) if missing(middle, True) <= 0.0 else (works, middle)
    return first + step * works, ZERO


def _smallest_owned(project: Project, values: TurningLidValues, box: TurningBox) -> tuple[Length, Length]:
    """As ``smallest_lid``, among the sizes that are owned."""
    short = ZERO
    for size in owned_sizes(values):
        sized = dataclasses.replace(values, across=size)
        moved = bool(_open_shifts(values))
        margin = _best_place(project, sized, box)[1] if moved else _margin(sized, box, size.float_mm)
        missing = project.checks.cover_look_mm - margin
        if missing <= 0.0:
            return size, ZERO
        short = length(Fraction(str(round(min(missing, 1000.0), 3))), "mm")
    return owned_sizes(values)[-1], short


def _margin(values: TurningLidValues, box: TurningBox, across_mm: float) -> float:
    shape = lid_shape(values, across_mm)
    turn = closed_turn_rad(values, shape, box)
    return cover_margin(np.asarray(placed_outline(shape, turn, closed_shift(values))), np.asarray(box.rim))


def _open_shifts(values: TurningLidValues) -> tuple[str, ...]:
    return tuple(name for name in ("moved_right", "moved_back") if isinstance(getattr(values, name), Open))


def best_shift(project: Project, part: Part, host: Assembly) -> dict[str, Length]:
    """Where a lid whose place is open covers with the largest margin, to half a mm.

    Only the open directions are searched; the given one stays as it is.
    """
    names = _open_shifts(part.values)
    if not names:
        return {}
    place, _ = _best_place(project, part.values, box_of(project, part.values, host))
    return {name: at for name, at in zip(("moved_right", "moved_back"), place, strict=True) if name in names}


def _best_place(
    project: Project, values: TurningLidValues, box: TurningBox
) -> tuple[tuple[Length, Length], float]:
    """The shift (right, back) with the largest margin, and that margin: on a coarse grid, then round its best places.

    The grid is the ruler's, halved until it is finer than twice the half millimetre asked for.
    """
    assert isinstance(values.across, Length), "a lid is placed when its size is known"
    step = project.ruler.step_length
    while step.float_mm > 2.0 * SHIFT_MM:
        step = step / 2
    shape = lid_shape(values, values.across.float_mm)
    turned = np.asarray(placed_outline(shape, closed_turn_rad(values, shape, box)))
    reach = int(min(MOST_SHIFT_MM, SHIFT_SHARE * values.across.float_mm) / (COARSE_STEPS * step.float_mm))
    coarse = COARSE_STEPS * np.arange(-reach, reach + 1)
    fine = np.arange(1 - COARSE_STEPS, COARSE_STEPS)
    free = [isinstance(each, Open) for each in (values.moved_right, values.moved_back)]
    given = np.asarray(closed_shift(values)) / step.float_mm

    def best(steps: NDArray[np.float64], count: int) -> tuple[NDArray[np.float64], NDArray[np.float64]]:
        margin = margins(
            turned, np.asarray(box.rim), shifts_mm=steps * step.float_mm, turns_rad=np.zeros(len(steps))
        )
        # Of equally good places the one nearest the middle.
        order = np.lexsort((np.hypot(steps[:, 0], steps[:, 1]), -np.round(margin, 6)))[:count]
        return steps[order], margin[order]

    def grid(round_it: NDArray[np.float64], offsets: NDArray[np.int64]) -> NDArray[np.float64]:
        xs, ys = (round_it[k] + offsets if free[k] else np.array([given[k]]) for k in (0, 1))
        return np.stack([each.reshape(-1) for each in np.meshgrid(xs, ys)], axis=1).astype(float)

    start, _ = best(grid(np.zeros(2), coarse), REFINED)
    place, margin = best(np.concatenate([grid(each, fine) for each in start]), 1)
    at = tuple(step * round(float(each)) for each in place[0])
    return (at[0], at[1]), float(margin[0])


def best_holes(project: Project, part: Part, host: Assembly) -> tuple[tuple[Length, ...], Length]:
    """Places of the hole along the diagonal, on the ruler, best first; by how much they miss when none is right.

    Right is a hole that keeps every limit of edges, head and legs. Among those the lid that uncovers most comes first,
    then the smaller turn, then the larger distance from the edges of the triangle.
    """
    box = box_of(project, part.values, host)
    sizes = tuple(layer_across(part.values, layer, part.values.across).float_mm for layer in part.values.layers)
    limits = lid_limits(project)
    step = project.ruler.step_length
    count = int(part.values.strip.mm / step.mm)
    scored = []
    for number in range(1, count):
        hole = step * number
        if hole.float_mm < LEAST_HOLE_MM:
            continue
        lid = lid_on(project, part.values, box, sizes, hole.float_mm)
        found = analyse(box, lid, part.values.opens, limits)
        misses = _misses(project, found, lid.fastener.hole_mm, lid.fastener.legs_mm > 0)
        merit = (-round(found.opened.uncovered, 3), abs(found.opened.angle_deg), -found.hole_to_triangle_mm)
        scored.append((round(misses, 6), merit, hole))
    scored.sort()
    short = scored[0][0]
    chosen = tuple(hole for miss, _, hole in scored if miss <= short)[:SHOWN]
    return chosen, length(Fraction(str(round(short, 3))), "mm")


def _misses(project: Project, found: LidAnalysis, hole_mm: float, has_legs: bool) -> float:
    """The most by which a hole misses a limit that its place decides, in mm; 0 when it keeps all of them."""
    edge = project.checks.hole_edge_mm - 0.5 * hole_mm
    misses = [edge - found.hole_to_lid_mm, edge - found.hole_to_triangle_mm, -found.head_room_mm]
    if found.head_hidden_mm is not None:
        misses.append(-found.head_hidden_mm)
    if has_legs:
        misses += [-found.leg_room_mm, project.folding.finger_mm - found.finger_mm]
    elif math.isfinite(found.back_room_mm):
        misses.append(-found.back_room_mm)
    return max(0.0, *misses)


@dataclasses.dataclass(frozen=True, slots=True, kw_only=True)
class LidOver:
    """The lid that a box is to be made for: its values and shape, the card, and the margin it must have."""

    values: TurningLidValues
    shape: Shape
    thickness_mm: float
    margin_mm: float

    @property
    def square_mm(self) -> float:
        """Side of the largest square base whose rim the lid covers with its margin."""
        # The margin over a speck in the middle is how far a square's sides may go out, margin included.
        speck = np.asarray(rectangle(SPECK_MM, SPECK_MM))
        half = cover_margin(self._outline(1.0, 1.0), speck) + 0.5 * SPECK_MM - self.margin_mm
        return max(2.0 * half - self.thickness_mm, 0.0)

    def covers(self, length_mm: float, width_mm: float) -> bool:
        """Is the rim of a box with this base covered with the margin?"""
        rim = rectangle(length_mm + self.thickness_mm, width_mm + self.thickness_mm)
        return cover_margin(self._outline(*rim[2]), np.asarray(rim)) >= self.margin_mm

    def _outline(self, right: float, back: float) -> NDArray[np.float64]:
        """The closed outline (n, 2) over a box with its back right rim corner there."""
        sx, sy = CORNERS[self.values.corner]
        turn = turned_rad(self.values, self.shape, (sx * right, sy * back))
        return np.asarray(placed_outline(self.shape, turn, closed_shift(self.values)))

    def longest_mm(self, beside_mm: float) -> float:
        """The longest base beside a given side, to a thousandth of a mm; 0 when that side is too long already."""
        low, high = 0.0, 2.0 * (self.shape.across_mm + math.hypot(*closed_shift(self.values)))
        while high - low > SPECK_MM:
            middle = 0.5 * (low + high)
            low, high = (middle, high) if self.covers(middle, beside_mm) else (low, middle)
        return low


def lid_over(project: Project, host: Part) -> LidOver | None:
    """The lid made on a part, when there is one whose size is known."""
    lid = next((part for part in project.parts if part.on == host.name), None)
    if lid is None or isinstance(lid.values.across, Open):
        return None
    values = lid.values
    shape = lid_shape(values, values.across.float_mm)
    return LidOver(
        values=values,
        shape=shape,
        thickness_mm=project.cardstock.thickness.high_mm,
        margin_mm=project.checks.cover_look_mm,
    )
