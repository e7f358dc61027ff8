"""The largest box under a lid whose size is known: at its given place, or at the best one where that is open."""

from __future__ import annotations

import dataclasses
import math
from functools import lru_cache

import numpy as np

from foldproof.constructions.parameters import Open
from foldproof.constructions.turning_lid import (
    DIP,
    TIP,
    TurningLidValues,
    closed_shift,
    lid_shape,
    placed_outline,
    turned_rad,
)
from foldproof.design.fit_answers import SizeBound
from foldproof.geometry.cover import cover_margin
from foldproof.geometry.plane import Array, Polygon
from foldproof.lids.box import CORNERS, rectangle
from foldproof.lids.optimum_cover import covering
from foldproof.lids.optimum_ground import cover_of
from foldproof.lids.optimum_records import Fixed
from foldproof.lids.optimum_scale import Grows, largest_box
from foldproof.outlines.record import Shape
from foldproof.progress import Progress, unwatched
from foldproof.project.records import Part, Project

SPECK_MM = 1e-3  # a box too small to see, and how near a longest side is searched at a given place
WITHIN_MM = 0.05  # how near the largest box is searched where the place is open
MOST_CELLS = 60_000  # looked at for one box
KNOWN = 256  # boxes remembered that are covered or not


@dataclasses.dataclass(frozen=True, slots=True, kw_only=True)
class LidOver:
    """The lid that a box is to be made for: its values and shape, the card, and the margin it must have.

    ``fixed`` is what of its place is given, None when all of it is. ``most_mm`` is taken for the longest side instead
    of searching it: so it is asked whether a bound leaves room for a larger base. ``known`` are the bases searched so
    far, by the side beside: every choice of walls asks for the same.
    """

    values: TurningLidValues
    shape: Shape
    thickness_mm: float
    margin_mm: float
    fixed: Fixed | None
    progress: Progress = unwatched
    most_mm: float | None = None
    known: dict[float | None, SizeBound] = dataclasses.field(default_factory=dict)

    @property
    def square_mm(self) -> float:
        """Side of the largest square base whose rim the lid covers with its margin."""
        if self.most_mm is not None:
            return self.most_mm
        if self.fixed is not None:
            return self._searched(None).found_mm
        # The margin over a speck in the middle is how far a square's sides may go out, margin included.
        speck = np.asarray(rectangle(SPECK_MM, SPECK_MM))
        half = cover_margin(self._outline(1.0, 1.0), speck) + 0.5 * SPECK_MM - self.margin_mm
        return max(2.0 * half - self.thickness_mm, 0.0)

    def covers(self, length_mm: float, width_mm: float) -> bool:
        """Is the rim of a box with this base covered with the margin?"""
        rim = rectangle(length_mm + self.thickness_mm, width_mm + self.thickness_mm)
        if self.fixed is not None:
            turn = self._turn(*rim[2]) if self.fixed.closed_turn_rad is not None else None
            fixed = dataclasses.replace(self.fixed, closed_turn_rad=turn)
            return _covers(self.shape.outline, rim, fixed, self.margin_mm)
        return cover_margin(self._outline(*rim[2]), np.asarray(rim)) >= self.margin_mm

    def _outline(self, right: float, back: float) -> Array:
        """The closed outline (n, 2) over a box with its back right rim corner there."""
        return np.asarray(placed_outline(self.shape, self._turn(right, back), closed_shift(self.values)))

    def _turn(self, right: float, back: float) -> float:
        sx, sy = CORNERS[self.values.corner]
        return turned_rad(self.values, self.shape, (sx * right, sy * back))

    @property
    def _follows(self) -> bool:
        """Whether the closed turn follows the corner, so that it is another for every rectangle."""
        return self.values.closed in (TIP, DIP)

    def longest_mm(self, beside_mm: float) -> float:
        """The longest base beside a given side, to a thousandth of a mm; 0 when that side is too long already."""
        if self.most_mm is not None:
            return self.most_mm
        if self.fixed is not None and not self._follows:
            return self._searched(beside_mm).found_mm
        low, high = 0.0, 2.0 * (self.shape.across_mm + math.hypot(*closed_shift(self.values)))
        while high - low > SPECK_MM:
            middle = 0.5 * (low + high)
            low, high = (middle, high) if self.covers(middle, beside_mm) else (low, middle)
        return low

    def bound(self, beside_mm: float | None) -> SizeBound:
        """What is proved of the longest base beside a given side, None for a square."""
        if self.fixed is not None and (beside_mm is None or not self._follows):
            return self._searched(beside_mm)
        found = self.square_mm if beside_mm is None else self.longest_mm(beside_mm)
        if self._follows and beside_mm is not None:  # a longer box turns the lid, which may cover it again
            return SizeBound(found_mm=found, bound_mm=None, cells=0, finished=False)
        return SizeBound(found_mm=found, bound_mm=found + SPECK_MM, cells=0, finished=True)

    def _searched(self, beside_mm: float | None) -> SizeBound:
        """The base over all places that are open, searched once."""
        if beside_mm not in self.known:
            self.known[beside_mm] = self._search(beside_mm)
        return self.known[beside_mm]

    def _search(self, beside_mm: float | None) -> SizeBound:
        """A base and its rim differ by a layer of card."""
        assert self.fixed is not None, "a given place is not searched"
        start = 0.5 * self.shape.across_mm
        other = start if beside_mm is None else beside_mm + self.thickness_mm
        grows: Grows = "both" if beside_mm is None else "length"
        found = largest_box(
            self.shape.outline,
            rectangle(start, other),
            margin_mm=self.margin_mm,
            grows=grows,
            fixed=self.fixed,
            within_mm=WITHIN_MM,
            progress=self.progress,
            most_cells=MOST_CELLS,
        )
        return SizeBound(
            found_mm=max(found.scale * start - self.thickness_mm, 0.0),
            bound_mm=found.bound * start - self.thickness_mm if math.isfinite(found.bound) else None,
            cells=found.cells,
            finished=found.finished,
            stopped=found.stopped,
        )


@lru_cache(maxsize=KNOWN)
def _covers(lid: Polygon, rim: Polygon, fixed: Fixed, margin_mm: float) -> bool:
    for state in covering(cover_of(lid, rim, fixed), WITHIN_MM, margin_mm):
        if state.margin_mm >= margin_mm:
            return True
        if state.cells >= MOST_CELLS:
            break
    return False


def lid_over(project: Project, host: Part, progress: Progress = unwatched) -> LidOver | None:
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
        fixed=_fixed(values, shape),
        progress=progress,
    )


def _fixed(values: TurningLidValues, shape: Shape) -> Fixed | None:
    """What of the place is given, None when all of it is. A tip over the corner is as over a square box's."""
    right, back, closed = values.moved_right, values.moved_back, values.closed
    if not any(isinstance(value, Open) for value in (right, back, closed)):
        return None
    sx, sy = CORNERS[values.corner]
    return Fixed(
        closed_turn_rad=None if isinstance(closed, Open) else turned_rad(values, shape, (float(sx), float(sy))),
        moved_right_mm=None if isinstance(right, Open) else right.float_mm,
        moved_back_mm=None if isinstance(back, Open) else back.float_mm,
    )
