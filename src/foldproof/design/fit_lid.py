"""Fit for lids: the best place for the hole, the smallest lid for a box, the largest box under a lid."""

from __future__ import annotations

import dataclasses
from fractions import Fraction

import numpy as np

from foldproof.checks.turning_evidence import box_of, lid_limits, lid_on
from foldproof.constructions.parameters import Open
from foldproof.constructions.turning_lid import (
    TurningLidValues,
    closed_shift,
    conflicts,
    layer_across,
    lid_shape,
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
from foldproof.pattern.records import Assembly
from foldproof.project.records import Part, Project

SHOWN = 5  # answers offered, best first
LARGEST_LID = length(600, "mm")  # larger than any sheet of cardstock
SHIFT_MM, SHIFT_STEP_MM = 20.0, 0.5  # how far a lid is moved to look for its best place, and in what steps
LEAST_HOLE_MM = 3.0  # nearer to the corner no hole can be pierced
NO_LIMIT = length(100_000, "mm")


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
            return _answer(project, part, goal, (), "no_lid", short)
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
    return FitAnswer(part=part.name, goal=goal, works=not reason, reason=reason, short=short, answers=tuple(answers))


def smallest_lid(project: Project, part: Part, host: Assembly) -> tuple[Length, Length]:
    """The smallest size on the ruler whose margin is not thin; how much is missing at the largest if there is none."""
    box = box_of(project, part.values, host)
    step = project.ruler.step_length
    need = project.checks.cover_look_mm
    size = round_to(length(Fraction(str(round(2.0 * max(box.rim[2]), 3))), "mm"), project.ruler, "down").shown
    margin = -np.inf
    while size <= LARGEST_LID:
        sized = dataclasses.replace(part.values, across=size)
        if not any(conflict.name in ("across", "depth", "lobes") for conflict in conflicts(sized)):
            margin = _margin(sized, box, size.float_mm)
            if margin >= need:
                return size, ZERO
        size = size + step
    missing = need - max(float(margin), -1000.0)
    return size, length(Fraction(str(round(missing, 3))), "mm")


def _margin(values: TurningLidValues, box: TurningBox, across_mm: float) -> float:
    shape = lid_shape(values, across_mm)
    sx, sy = CORNERS[box.place]
    turn = turned_rad(values, shape, (float(sx), float(sy)))
    return cover_margin(np.asarray(placed_outline(shape, turn, closed_shift(values))), np.asarray(box.rim))


def best_shift(project: Project, part: Part, host: Assembly) -> dict[str, Length]:
    """Where a lid whose place is open covers with the largest margin: to half a mm, then on the ruler.

    Only the open directions are searched; the given one stays as it is.
    """
    open_names = [name for name in ("moved_right", "moved_back") if isinstance(getattr(part.values, name), Open)]
    if not open_names:
        return {}
    box = box_of(project, part.values, host)
    shape = lid_shape(part.values, part.values.across.float_mm)
    sx, sy = CORNERS[box.place]
    turned = placed_outline(shape, turned_rad(part.values, shape, (float(sx), float(sy))))
    steps = np.arange(-SHIFT_MM, SHIFT_MM + SHIFT_STEP_MM / 2, SHIFT_STEP_MM)
    given = closed_shift(part.values)
    xs = steps if "moved_right" in open_names else np.array([given[0]])
    ys = steps if "moved_back" in open_names else np.array([given[1]])
    shifts = np.stack([grid.reshape(-1) for grid in np.meshgrid(xs, ys)], axis=1)
    found = margins(np.asarray(turned), np.asarray(box.rim), shifts_mm=shifts, turns_rad=np.zeros(len(shifts)))
    # Of equally good places the one nearest the middle.
    order = np.lexsort((np.hypot(shifts[:, 0], shifts[:, 1]), -np.round(found, 6)))
    best = shifts[order[0]]
    exact = {"moved_right": float(best[0]), "moved_back": float(best[1])}
    return {
        name: round_to(length(Fraction(str(round(exact[name], 3))), "mm"), project.ruler).shown for name in open_names
    }


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
        misses = _misses(project, found, lid.brad.hole_mm, lid.brad.legs_mm > 0)
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
    return max(0.0, *misses)


def largest_square_under(project: Project, host: Part) -> Length:
    """Side of the largest square base whose rim a lid on this part covers with its margin; no limit without a lid."""
    lid = next((part for part in project.parts if part.on == host.name), None)
    if lid is None or isinstance(lid.values.across, Open):
        return NO_LIMIT
    values, across = lid.values, lid.values.across.float_mm
    shape = lid_shape(values, across)
    sx, sy = CORNERS[values.corner]
    turn = turned_rad(values, shape, (float(sx), float(sy)))
    outline = np.asarray(placed_outline(shape, turn, closed_shift(values)))
    point = np.asarray(rectangle(1e-3, 1e-3))
    # The margin over a speck in the middle is how far a square's sides may go out, margin included.
    half = cover_margin(outline, point) + 0.5e-3 - project.checks.cover_look_mm
    side = 2.0 * half - project.cardstock.thickness.high_mm
    return length(Fraction(str(round(max(side, 0.0), 4))), "mm")
