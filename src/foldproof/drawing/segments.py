"""Straight lines that lie on one another: which part of a line is left, and which lines make one."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass
from math import dist, floor, hypot

import numpy as np
import shapely

from foldproof.drawing.records import LineRole
from foldproof.drawing.solid import Point3

# Sine between two lines up to which they count as lying along one another (1.7 degrees): drawn side by side
# they would differ by less than a line's width over a wall's length of 5 mm on paper.
ALONG_SINE = 0.03
SHORTEST_LINE_MM = 0.1  # on paper; a shorter line is a dot under the thinnest line drawn (0.19 mm)
# Ends of lines this near, on paper, are one point: coarser than float noise, finer than any drawn line.
MEETING_MM = 0.01
SQUARE_MM = 0.1  # of the net in which ends are looked up: wider than what meets, and so small that little else is near
NOISE = 1e-9  # of a cosine's square: a part of a line runs as the whole does, but for float noise


@dataclass(frozen=True, slots=True, kw_only=True)
class Line:
    """A straight line in picture axes (x, y, depth), in mm on paper."""

    a: Point3
    b: Point3
    role: LineRole
    name: str


def left_of(line: Line, blockers: Sequence[Line], nearness_mm: float) -> tuple[Line, ...]:
    """The parts of ``line`` that no blocker lies along within ``nearness_mm``, in the line's direction."""
    length_mm = dist(line.a, line.b)
    if length_mm < SHORTEST_LINE_MM:
        return ()
    if not blockers:
        return (line,)
    covered = sorted(
        [
            span
            for blocker in blockers
            if (span := _shared_span(line, blocker, length_mm, nearness_mm)) is not None
        ]
    )
    if not covered:
        return (line,)
    left: list[Line] = []
    at_mm = 0.0
    for start_mm, end_mm in (*covered, (length_mm, length_mm)):
        if start_mm - at_mm >= SHORTEST_LINE_MM:
            left.append(
                Line(
                    a=point_at(line, at_mm / length_mm),
                    b=point_at(line, start_mm / length_mm),
                    role=line.role,
                    name=line.name,
                )
            )
        at_mm = max(at_mm, end_mm)
    return tuple(left)


def each_left_of(lines: Sequence[Line], blockers: Sequence[Line], nearness_mm: float) -> list[tuple[Line, ...]]:
    """``left_of`` for each line, all against the same blockers."""
    near = _alongside(lines, blockers, nearness_mm)
    return [
        left_of(line, [blockers[number] for number in numbers], nearness_mm)
        for line, numbers in zip(lines, near, strict=True)
    ]


def each_once(lines: Sequence[Line], drawn: Sequence[Line], nearness_mm: float) -> tuple[Line, ...]:
    """The lines in turn, each without what ``drawn`` or an earlier line already shows."""
    # A part of a line lies along no more than the whole line does.
    near = _alongside(lines, (*drawn, *lines), nearness_mm)
    shown: list[tuple[Line, ...]] = [(line,) for line in drawn]
    for line, numbers in zip(lines, near, strict=True):
        earlier = [part for number in numbers if number < len(shown) for part in shown[number]]
        shown.append(left_of(line, earlier, nearness_mm))
    return tuple(part for parts in shown[len(drawn) :] for part in parts)


def joined(lines: Sequence[Line]) -> tuple[Line, ...]:
    """Lines of one role that continue one another made one, so that dashes run on, under the earlier name."""
    found: dict[int, Line] = {}
    at: dict[Square, set[int]] = {}  # which of them end in a square of the picture
    for number, line in enumerate(lines):
        current, squares = line, _squares(line)
        while (longer := _longer(current, squares, found, at)) is not None:
            other, current = longer
            for square in _squares(found.pop(other)):
                at[square].discard(other)
            squares = _squares(current)
        found[number] = current
        for square in squares:
            at.setdefault(square, set()).add(number)
    return tuple(found.values())


Square = tuple[int, int]


def _longer(
    line: Line, squares: Sequence[Square], found: dict[int, Line], at: dict[Square, set[int]]
) -> tuple[int, Line] | None:
    """The first of the lines found that this one, which ends in these squares, continues; both as one."""
    near: set[int] = set()
    for square in squares:
        near.update(at.get(square, ()))
    for number in sorted(near):
        longer = _continued(found[number], line)
        if longer is not None:
            return number, longer
    return None


def _squares(line: Line) -> list[Square]:
    """The small squares of the picture that a line's ends lie in or nearly in: two ends that meet share one."""
    found: list[Square] = []
    for x, y, _ in (line.a, line.b):
        left, low, right, high = (
            floor((x - MEETING_MM) / SQUARE_MM),
            floor((y - MEETING_MM) / SQUARE_MM),
            floor((x + MEETING_MM) / SQUARE_MM),
            floor((y + MEETING_MM) / SQUARE_MM),
        )
        found.append((left, low))
        if left != right or low != high:
            found += [(left, high), (right, low), (right, high)]
    return found


def _alongside(lines: Sequence[Line], others: Sequence[Line], nearness_mm: float) -> list[list[int]]:
    """For each line the numbers of those that may lie along it: they run alike, and near it."""
    if not lines or not others:
        return [[] for _ in lines]
    mine, theirs = (np.array([(line.a, line.b) for line in group]) for group in (lines, others))
    low, high = mine.min(axis=1) - nearness_mm, mine.max(axis=1) + nearness_mm
    tree = shapely.STRtree(np.asarray(shapely.linestrings(theirs[:, :, :2])))
    rows, columns = tree.query(shapely.box(low[:, 0], low[:, 1], high[:, 0], high[:, 1]))
    # They lie over one another in the picture's plane: now the depth, and the way they run.
    depths = theirs[columns, :, 2]
    near = (high[rows, 2] >= depths.min(axis=1)) & (low[rows, 2] <= depths.max(axis=1))
    along, beside = (mine[:, 1] - mine[:, 0])[rows], (theirs[:, 1] - theirs[:, 0])[columns]
    squares = (along * along).sum(axis=1) * (beside * beside).sum(axis=1)
    near &= (along * beside).sum(axis=1) ** 2 >= (1.0 - ALONG_SINE**2 - NOISE) * squares
    rows, columns = rows[near], columns[near]
    order = np.lexsort((columns, rows))
    found: list[list[int]] = [[] for _ in lines]
    for row, column in zip(rows[order].tolist(), columns[order].tolist(), strict=True):
        found[row].append(column)
    return found


def flattened(line: Line) -> Line:
    """The line in the picture's plane, its depth forgotten."""
    return Line(a=(*line.a[:2], 0.0), b=(*line.b[:2], 0.0), role=line.role, name=line.name)


def point_at(line: Line, share: float) -> Point3:
    """The point at a share of the way from the line's start to its end, depth included."""
    ax, ay, az = line.a
    bx, by, bz = line.b
    return (ax + share * (bx - ax), ay + share * (by - ay), az + share * (bz - az))


def _shared_span(line: Line, other: Line, length_mm: float, nearness_mm: float) -> tuple[float, float] | None:
    """Distances along ``line`` between which ``other`` lies along it."""
    ux, uy, uz = (line.b[0] - line.a[0], line.b[1] - line.a[1], line.b[2] - line.a[2])
    vx, vy, vz = (other.b[0] - other.a[0], other.b[1] - other.a[1], other.b[2] - other.a[2])
    cosine_part = (ux * vx + uy * vy + uz * vz) ** 2
    other_mm2 = vx * vx + vy * vy + vz * vz
    # Most pairs of lines run in different directions: this is asked first because it is cheapest.
    if other_mm2 == 0.0 or cosine_part < (1.0 - ALONG_SINE**2) * other_mm2 * length_mm**2:
        return None
    start_mm, start_off_mm = _along(line, other.a, length_mm)
    end_mm, end_off_mm = _along(line, other.b, length_mm)
    run_mm = abs(end_mm - start_mm)
    if start_mm > end_mm:
        start_mm, end_mm, start_off_mm, end_off_mm = end_mm, start_mm, end_off_mm, start_off_mm
    low_mm, high_mm = max(0.0, start_mm), min(length_mm, end_mm)
    if high_mm <= low_mm:
        return None
    for at_mm in (low_mm, high_mm):
        share = (at_mm - start_mm) / run_mm
        # A straight line is never farther off, in between, than its ends' distances drawn out evenly.
        if start_off_mm + share * (end_off_mm - start_off_mm) > nearness_mm:
            return None
    return low_mm, high_mm


def _along(line: Line, point: Point3, length_mm: float) -> tuple[float, float]:
    """How far along the line's direction a point is, and how far off it, in mm."""
    ax, ay, az = line.a
    bx, by, bz = line.b
    ux, uy, uz = (bx - ax) / length_mm, (by - ay) / length_mm, (bz - az) / length_mm
    px, py, pz = point[0] - ax, point[1] - ay, point[2] - az
    at_mm = px * ux + py * uy + pz * uz
    return at_mm, hypot(px - at_mm * ux, py - at_mm * uy, pz - at_mm * uz)


def _continued(first: Line, second: Line) -> Line | None:
    """The two lines as one, first end to last, if they share a role and an end and run on straight."""
    if first.role != second.role:
        return None
    for a, b in ((first.a, first.b), (first.b, first.a)):
        for c, d in ((second.a, second.b), (second.b, second.a)):
            if dist(b, c) > MEETING_MM:
                continue
            whole = Line(a=a, b=d, role=first.role, name=first.name)
            length_mm = dist(a, d)
            if length_mm < max(dist(a, b), dist(c, d)):
                continue  # they turn back on one another
            if max(_along(whole, b, length_mm)[1], _along(whole, c, length_mm)[1]) <= MEETING_MM:
                return whole
    return None
