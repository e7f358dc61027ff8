"""What is asked of the search for the best lid place, and what it answers: records only.

Frames: the box's is that of ``lids.records``; a lid has its own, in which its outline is given. Closed, the lid is
turned anticlockwise by ``closed_turn_rad`` about its own origin, then shifted by (``moved_right_mm``,
``moved_back_mm``). Opened, it is turned further by ``open_turn_rad`` about the hole. Lengths in mm, turns in radians.
"""

from __future__ import annotations

import math
from dataclasses import dataclass
from typing import Literal

from foldproof.geometry.plane import Point, Polygon

Goal = Literal["margin", "angle", "edge"]
Opens = Literal["either way", "to the left", "to the right"]

GIVE_MM = 0.25  # margin given away for a smaller turn: a sixth of the least margin, and near the best turns are steep
MOST_CELLS = 400_000  # ten seconds where the lid has few points, a minute or two for a hard one


@dataclass(frozen=True, slots=True, kw_only=True)
class Fixed:
    """What of the closed place is given; None is open to the search."""

    closed_turn_rad: float | None = None
    moved_right_mm: float | None = None
    moved_back_mm: float | None = None


ANYWHERE = Fixed()


@dataclass(frozen=True, slots=True, kw_only=True)
class Aims:
    """How near the best an answer is to be proved: margin, opening turn, distance of the hole from the edge.

    The search also ends when ``most_cells`` were looked at, and then says what gap is left.
    """

    margin_mm: float = 0.1
    turn_rad: float = math.radians(0.2)
    edge_mm: float = 0.1
    most_cells: int = MOST_CELLS


USUAL_AIMS = Aims()


@dataclass(frozen=True, slots=True, kw_only=True)
class HoleProblem:
    """A lid, a box, and where the hole may be.

    ``lid`` is the covering outline in the lid's frame, any simple outline; ``rim`` and ``opening`` are convex, in the
    box's frame. ``region`` are the corners of the convex region in which the hole's middle may lie, in the box's
    frame: a polygon, a stretch (two points), or one point. ``pierced`` are the outlines, in the lid's frame, inside
    whose edges the hole's middle keeps ``to_lid_mm``. ``open_turn_rad`` None: every turn ``opens`` allows.
    """

    lid: Polygon
    rim: Polygon
    opening: Polygon
    region: tuple[Point, ...]
    pierced: tuple[Polygon, ...]
    to_lid_mm: float
    fixed: Fixed = ANYWHERE
    open_turn_rad: float | None = None
    opens: Opens = "either way"


@dataclass(frozen=True, slots=True, kw_only=True)
class Wish:
    """What the best hole is to be best in. ``uncovered`` is the least share of the opening, 0 to 1.

    "margin": the largest margin, then the least turn at that margin less ``give_mm``. "angle": the least turn with
    ``margin_mm``. "edge": with ``margin_mm`` and no turn above ``widest_turn_rad`` (None: any), the hole as far as
    possible from the edge of what it pierces.
    """

    goal: Goal = "margin"
    uncovered: float = 1.0
    margin_mm: float | None = None
    give_mm: float = GIVE_MM
    widest_turn_rad: float | None = None


@dataclass(frozen=True, slots=True, kw_only=True)
class LidPlace:
    """A lid's closed place, its hole (box's frame), its opening turn (anticlockwise above 0), and what these give.

    ``margin_mm`` is mitred, ``uncovered`` a share of the opening, ``hole_to_lid_mm`` from the hole's middle to the
    nearest edge of what it pierces. All measured at this place, not estimated.
    """

    closed_turn_rad: float
    moved_right_mm: float
    moved_back_mm: float
    hole: Point
    open_turn_rad: float
    margin_mm: float
    uncovered: float
    hole_to_lid_mm: float


@dataclass(frozen=True, slots=True, kw_only=True)
class Certificate:
    """What is proved of the answer; None where a bound was not asked for.

    No place that meets the wish has a margin above ``margin_bound_mm``. None with a margin of ``level_mm`` or more
    turns by less than ``angle_bound_rad``, nor has a hole farther from the edge than ``edge_bound_mm``. Each gap is
    how far the answer may be from the best. ``none_exists``: it is proved that no place meets the wish; where no margin
    is asked for, none with a margin above minus half the way from the rim to its middle: less is no lid. ``cells`` were
    looked at; ``finished`` when every gap is within its aim, ``stopped`` when the caller stopped the search. Every
    bound holds whether finished or not.
    """

    margin_bound_mm: float | None
    margin_gap_mm: float | None
    level_mm: float | None
    angle_bound_rad: float | None
    angle_gap_rad: float | None
    edge_bound_mm: float | None
    edge_gap_mm: float | None
    none_exists: bool
    cells: int
    finished: bool
    stopped: bool


@dataclass(frozen=True, slots=True, kw_only=True)
class BestHole:
    """The best place found, None when none was, and what is proved of it."""

    place: LidPlace | None
    certificate: Certificate


@dataclass(frozen=True, slots=True, kw_only=True)
class BestCover:
    """Where a lid covers a rim best, and the proved bound: no allowed place has a margin above ``bound_mm``.

    ``margin_mm`` is minus infinity when no allowed place covers even the rim's innermost point.
    """

    closed_turn_rad: float
    moved_right_mm: float
    moved_back_mm: float
    margin_mm: float
    bound_mm: float
    cells: int
    finished: bool
    stopped: bool


@dataclass(frozen=True, slots=True, kw_only=True)
class BestScale:
    """The best scale found, the place it was found at, and the proved bound.

    Of a box: ``scale`` times the given shape is covered, and ``bound`` times it is covered nowhere. Of a lid:
    ``scale`` times the lid covers, and ``bound`` times it covers nowhere.
    """

    scale: float
    bound: float
    closed_turn_rad: float
    moved_right_mm: float
    moved_back_mm: float
    margin_mm: float
    cells: int
    finished: bool
    stopped: bool
