"""Lines that are drawn piece by piece, joined where their ends meet."""

from __future__ import annotations

import math
from collections.abc import Sequence
from dataclasses import dataclass

import numpy as np

from foldproof.geometry.plane import Array, Point

JOIN_MM = 0.1  # ends of lines nearer than half a knife's width are meant to meet
MEET_MM = 1e-4  # ends this near are in the same place, but for rounding in the file; they are joined first
MOST_NEAR = 16  # ends looked at round one end: a heap of ends in one place is no drawing of a shape


@dataclass(frozen=True, slots=True, kw_only=True)
class Line:
    """An open line (n, 2) in mm, n at least 2. Only lines of one ``group`` are joined with each other."""

    name: str
    group: str
    points: Array


@dataclass(frozen=True, slots=True, kw_only=True)
class Joined:
    """Lines after joining: ``closed`` ones, whose last point runs on to the first, and those still open."""

    closed: tuple[Line, ...]
    still_open: tuple[Line, ...]


def joined(lines: Sequence[Line], join_mm: float = JOIN_MM) -> Joined:
    """Lines joined end to end where ends of one group are no farther apart than ``join_mm``.

    Ends in the same place first, then the nearest, each with one other; in the order of the lines.
    """
    ends = [end for line in lines for end in (_point(line.points[0]), _point(line.points[-1]))]
    groups = [line.group for line in lines for _ in range(2)]
    mates: dict[int, int] = {}
    for reach in (MEET_MM, join_mm):
        if reach > 0.0:
            _match(ends, groups, mates, reach)
    closed: list[Line] = []
    still_open: list[Line] = []
    walked: set[int] = set()
    # Lines with a free end first: from there a chain is walked to its other free end.
    free = [end for end in range(len(ends)) if end not in mates]
    for start in [*free, *range(0, len(ends), 2)]:
        if start // 2 in walked:
            continue
        chain = _chain_from(start, mates, walked)
        points = np.concatenate([_walked(lines[end // 2].points, end) for end in chain])
        first = lines[chain[0] // 2]
        line = Line(name=first.name, group=first.group, points=points)
        (still_open if start not in mates else closed).append(line)
    return Joined(closed=tuple(closed), still_open=tuple(still_open))


def gap_mm(line: Line) -> float:
    """How far apart the ends of a line are."""
    return float(np.hypot(*(line.points[-1] - line.points[0])))


def _point(row: Array) -> Point:
    return (float(row[0]), float(row[1]))


def _walked(points: Array, end: int) -> Array:
    """A line's points walked from its end: even numbers are first points, odd ones last points."""
    return points if end % 2 == 0 else points[::-1]


def _chain_from(start: int, mates: dict[int, int], walked: set[int]) -> list[int]:
    """The ends at which lines are entered, from one end on, until a free end or the start is reached."""
    chain, end = [], start
    while end // 2 not in walked:
        walked.add(end // 2)
        chain.append(end)
        out = end ^ 1
        if out not in mates:
            break
        end = mates[out]
    return chain


def _match(ends: list[Point], groups: list[str], mates: dict[int, int], reach: float) -> None:
    """Gives every free end the nearest free end within reach as its mate."""

    def cell(end: int, across: int = 0, up: int = 0) -> tuple[str, int, int]:
        x, y = ends[end]
        return (groups[end], math.floor(x / reach) + across, math.floor(y / reach) + up)

    def apart(one: int, other: int) -> float:
        return math.dist(ends[one], ends[other])

    free: dict[tuple[str, int, int], list[int]] = {}
    for end in range(len(ends)):
        if end not in mates:
            free.setdefault(cell(end), []).append(end)
    around = [(across, up) for across in (-1, 0, 1) for up in (-1, 0, 1)]
    for end in range(len(ends)):
        if end in mates:
            continue
        near = [other for step in around for other in free.get(cell(end, *step), ())[:MOST_NEAR] if other != end]
        best = min(near, key=lambda other: (apart(end, other), other), default=end)
        if best != end and apart(end, best) <= reach:
            mates[end], mates[best] = best, end
            free[cell(end)].remove(end)
            free[cell(best)].remove(best)
