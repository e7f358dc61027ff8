"""A lid over intervals of closed turns: what it covers at all of them, what it covers at some of them."""

from __future__ import annotations

from dataclasses import dataclass, field

import numpy as np
from numpy.typing import NDArray

from foldproof.geometry.outline import after_each, enclosed_mm2
from foldproof.geometry.plane import Array
from foldproof.geometry.swept import Outlines, fewer_points_inside, fewer_points_round, kept_in_turn, reached_in_turn

Places = NDArray[np.intp]

SLACK_SHARE = 0.02  # of the way the lid's farthest point goes in an interval: how far off fewer points may be
ROUGH_MM = 0.25  # how far off an outline may be at most
GRADE_SHARE = 0.25  # of a cell's size: how far off the outline may be that it is looked at with
GRADES = 4  # each of them a quarter as far off as the one before; the last has all points
FEW_POINTS = 40  # outlines with no more points are not made simpler


@dataclass(frozen=True, slots=True, kw_only=True)
class Kept:
    """What a lid covers at every turn of an interval: outlines (n, 2), and the same with fewer points by grade.

    ``lost_mm`` is the area lost by the length of the lid's outline.
    """

    outlines: Outlines
    lost_mm: float
    graded: dict[int, Outlines]


@dataclass(frozen=True, slots=True, kw_only=True)
class Sweeps:
    """A lid (n, 2) about its origin; answers by half the interval, each made when first asked for."""

    lid: Array
    kept: dict[float, Kept] = field(default_factory=dict)
    reached: dict[float, Array] = field(default_factory=dict)


def kept_by(sweeps: Sweeps, half_rad: float) -> Kept:
    """What the lid covers at every turn up to ``half_rad`` either way: never too much."""
    found = sweeps.kept.get(half_rad)
    if found is None:
        slack_mm = _slack_mm(sweeps, half_rad)
        simple = _fewer((sweeps.lid,), slack_mm)
        outlines = _fewer(tuple(part for each in simple for part in kept_in_turn(each, half_rad)), slack_mm)
        found = Kept(outlines=outlines, lost_mm=_lost_mm(sweeps.lid, outlines), graded={GRADES - 1: outlines})
        sweeps.kept[half_rad] = found
    return found


def grades(sizes_mm: Array) -> Places:
    """The grade of outline that cells of some sizes (m,) are looked at with: 0, the roughest, to GRADES - 1."""
    steps = np.floor(np.log(ROUGH_MM / GRADE_SHARE / np.maximum(sizes_mm, 1e-9)) / np.log(4.0))
    return np.asarray(np.clip(steps + 1, 0, GRADES - 1), dtype=np.intp)


def graded(kept: Kept, grade: int) -> Outlines:
    """The outlines of a grade: inside the true ones, with fewer points."""
    found = kept.graded.get(grade)
    if found is None:
        found = _fewer(kept.outlines, ROUGH_MM / 4.0**grade)
        kept.graded[grade] = found
    return found


def reached_by(sweeps: Sweeps, half_rad: float) -> Array:
    """Outline (n, 2) round what the lid covers at any turn up to ``half_rad`` either way: never too little."""
    found = sweeps.reached.get(half_rad)
    if found is None:
        slack_mm = _slack_mm(sweeps, half_rad)
        simple = _fewer_round(sweeps.lid, slack_mm)
        found = _fewer_round(reached_in_turn(simple, half_rad), slack_mm)
        sweeps.reached[half_rad] = found
    return found


def _slack_mm(sweeps: Sweeps, half_rad: float) -> float:
    radius = float(np.hypot(sweeps.lid[:, 0], sweeps.lid[:, 1]).max())
    return min(SLACK_SHARE * radius * half_rad, ROUGH_MM)


def _fewer(outlines: Outlines, slack_mm: float) -> Outlines:
    if slack_mm == 0.0:
        return outlines
    return tuple(
        part
        for each in outlines
        for part in (fewer_points_inside(each, slack_mm) if len(each) > FEW_POINTS else (each,))
    )


def _fewer_round(outline: Array, slack_mm: float) -> Array:
    return fewer_points_round(outline, slack_mm) if slack_mm > 0.0 and len(outline) > FEW_POINTS else outline


def _lost_mm(lid: Array, parts: Outlines) -> float:
    ahead = after_each(lid) - lid
    lost = enclosed_mm2(lid) - sum(enclosed_mm2(part) for part in parts)
    return lost / float(np.hypot(ahead[:, 0], ahead[:, 1]).sum())
