"""The lines to cut: every edge of every panel that is not a crease, once, chained into paths."""

from __future__ import annotations

import math
from collections import defaultdict
from functools import lru_cache
from itertools import pairwise

from foldproof.pattern.records import Piece, Point, Polygon, Segment

WELD_MM = 1e-3  # finer than any cutter moves, coarser than float noise on a 1 m sheet
PIECES_KEPT = 64  # pieces whose cuts are remembered: every drawing of a piece shows them

Line = tuple[int, int, int]
Interval = tuple[float, float]


@lru_cache(maxsize=PIECES_KEPT)
def cut_paths(piece: Piece) -> tuple[Polygon, ...]:
    """Cut paths as polylines (closed ones repeat their first point), by interval arithmetic on each edge's line.

    An edge shared by two panels without a crease is a slit and is cut once; where a crease runs it is not cut.
    """
    # A line's first segment fixes it exactly; the rounded key only says which segments lie on the same line.
    exact: dict[Line, tuple[float, float, float]] = {}
    cut: dict[Line, list[Interval]] = defaultdict(list)
    kept: dict[Line, list[Interval]] = defaultdict(list)
    for panel in piece.panels:
        for start, end in zip(panel.outline, (*panel.outline[1:], panel.outline[0]), strict=True):
            if math.dist(start, end) > WELD_MM:
                line, interval, values = _on_line((start, end))
                cut[line].append(interval)
                exact.setdefault(line, values)
    for crease in piece.creases:
        line, interval, _ = _on_line(crease.line)
        kept[line].append(interval)
    segments: list[Segment] = []
    for line in sorted(cut):
        for interval in _minus(_union(cut[line]), kept.get(line, [])):
            segments.append((_point(exact[line], interval[0]), _point(exact[line], interval[1])))
    return _chain(segments)


def score_length(piece: Piece) -> float:
    """Total length of all creases in mm."""
    return sum(math.dist(*crease.line) for crease in piece.creases)


def cut_length(piece: Piece) -> float:
    """Total length of all cuts in mm."""
    return sum(math.dist(a, b) for path in cut_paths(piece) for a, b in pairwise(path))


def _on_line(segment: Segment) -> tuple[Line, Interval, tuple[float, float, float]]:
    """A segment's line as a rounded key, an interval along it, and the line itself (direction and offset)."""
    (x0, y0), (x1, y1) = segment
    length = math.hypot(x1 - x0, y1 - y0)
    dx, dy = (x1 - x0) / length, (y1 - y0) / length
    if dx < -1e-9 or (abs(dx) <= 1e-9 and dy < 0):  # one sense for each line
        dx, dy = -dx, -dy
    offset = -dy * x0 + dx * y0
    line = (round(dx * 1e6), round(dy * 1e6), round(offset / WELD_MM))
    along = sorted((dx * x0 + dy * y0, dx * x1 + dy * y1))
    return line, (along[0], along[1]), (dx, dy, offset)


def _point(line: tuple[float, float, float], along: float) -> Point:
    dx, dy, offset = line
    return (round(dx * along - dy * offset, 6), round(dy * along + dx * offset, 6))


def _union(intervals: list[Interval]) -> list[Interval]:
    merged: list[Interval] = []
    for low, high in sorted(intervals):
        if merged and low <= merged[-1][1] + WELD_MM:
            merged[-1] = (merged[-1][0], max(high, merged[-1][1]))
        else:
            merged.append((low, high))
    return merged


def _minus(intervals: list[Interval], gone: list[Interval]) -> list[Interval]:
    left = intervals
    for low, high in _union(gone):
        pieces: list[Interval] = []
        for start, end in left:
            if high <= start + WELD_MM or low >= end - WELD_MM:
                pieces.append((start, end))
                continue
            if start < low - WELD_MM:
                pieces.append((start, low))
            if end > high + WELD_MM:
                pieces.append((high, end))
        left = pieces
    return left


def _chain(segments: list[Segment]) -> tuple[Polygon, ...]:
    """Joins segments end to end; a path breaks where three meet. Paths start at the lowest left end."""

    def key(point: Point) -> tuple[int, int]:
        return (round(point[0] / (2 * WELD_MM)), round(point[1] / (2 * WELD_MM)))

    at: dict[tuple[int, int], list[int]] = defaultdict(list)
    for number, (start, end) in enumerate(segments):
        at[key(start)].append(number)
        at[key(end)].append(number)
    used = [False] * len(segments)
    paths: list[Polygon] = []
    ends = [n for k in sorted(at) if len(at[k]) != 2 for n in at[k]]
    for first in (*ends, *range(len(segments))):
        if used[first]:
            continue
        start, end = segments[first]
        if len(at[key(start)]) == 2 and len(at[key(end)]) != 2:
            start, end = end, start
        used[first] = True
        path = [start, end]
        while len(at[key(path[-1])]) == 2:
            following = [n for n in at[key(path[-1])] if not used[n]]
            if not following:
                break
            used[following[0]] = True
            one, other = segments[following[0]]
            path.append(other if key(one) == key(path[-1]) else one)
        paths.append(tuple(path))
    return tuple(paths)
