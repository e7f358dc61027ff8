"""Fewer points for the same line, in one pass however the line runs.

From a kept point, every next point within the tolerance of a straight line leaves a wedge of directions that such
lines may have; the wedges are cut with each other until none is left, and the last point that was within becomes
the next kept one. One pass, so that 100 000 points of any line take a fraction of a second, where halving the line
at its farthest point can take their square.
"""

from __future__ import annotations

import math

import numpy as np
from numpy.typing import NDArray

from foldproof.geometry.plane import Array, Point

Places = NDArray[np.intp]

LOOKS = 10  # how often each point is looked at on the whole; beyond it all are kept, so that no line takes long


def simplified(points: Array, tolerance_mm: float) -> Places:
    """Which points (n, 2) of a closed outline to keep, rising: all others lie within the tolerance of the chords."""
    kept = simplified_to(points, tolerance_mm, len(points))
    assert kept is not None, "no outline keeps more points than it has"
    return kept


def simplified_to(points: Array, tolerance_mm: float, most: int) -> Places | None:
    """As ``simplified``; None as soon as more than ``most`` points would be kept.

    The point farthest from the outline's mean is kept first: it is a corner or as good as one.
    """
    away = np.hypot(*(points - points.mean(axis=0)).T)
    start = int(np.argmax(away))
    ring = np.roll(points, -start, axis=0)
    kept = _kept_of_line(np.concatenate((ring, ring[:1])), tolerance_mm, most + 1)
    if kept is None:
        return None
    found: Places = np.sort((kept[:-1] + start) % len(points))
    return found


def chord_distances(points: Array, kept: Places) -> Array:
    """Distance in mm of each point (n, 2) of a closed outline from the chord that stands for it: (n,).

    The largest of them bounds the distance between the two outlines both ways: as a line runs from one end of its
    chord to the other, every place of the chord has a point of the line beside it.
    """
    chord = (np.searchsorted(kept, np.arange(len(points)), side="right") - 1) % len(kept)
    start = points[kept[chord]]
    ahead = points[kept[(chord + 1) % len(kept)]] - start
    offset = points - start
    squared = (ahead**2).sum(axis=1)
    along = np.clip((offset * ahead).sum(axis=1) / np.where(squared > 0.0, squared, 1.0), 0.0, 1.0)
    away: Array = np.hypot(*(offset - along[:, None] * ahead).T)
    return away


def simplified_line(points: Array, tolerance_mm: float) -> Places:
    """As ``simplified`` for an open line (n, 2), n at least 2; both its ends are kept."""
    kept = _kept_of_line(points, tolerance_mm, len(points))
    assert kept is not None, "no line keeps more points than it has"
    return kept


def _kept_of_line(points: Array, tolerance_mm: float, most: int) -> Places | None:
    line = [(x, y) for x, y in points.tolist()]
    kept = [0]
    last = len(line) - 1
    steps = LOOKS * len(line)
    while kept[-1] < last:
        ahead = last if steps > 0 else min(last, kept[-1] + 1)
        good, looked = _farthest_within(line, kept[-1], ahead, tolerance_mm)
        steps -= looked
        kept.append(good)
        if len(kept) > most:
            return None
    return np.array(kept, dtype=np.intp)


def _farthest_within(line: list[Point], first: int, last: int, tolerance: float) -> tuple[int, int]:
    """The end of the longest chord from ``first`` that stands for all points between, and how many were looked at.

    Directions are told from the first one, in turns from -pi to pi. A point nearer than the tolerance leaves every
    direction open. A chord ends no nearer than any point it stands for, or it would leave out where the line turned.
    """
    x, y = line[first]
    base = low = high = reach = 0.0
    started = False
    good = place = first + 1
    for place in range(first + 1, last + 1):
        ahead_x, ahead_y = line[place][0] - x, line[place][1] - y
        distance = math.hypot(ahead_x, ahead_y)
        if distance < reach - tolerance:
            break
        bearing = math.atan2(ahead_y, ahead_x)
        if distance > tolerance and not started:
            base, low, high, started = bearing, -math.pi, math.pi, True
        turn = math.remainder(bearing - base, math.tau)
        if distance >= reach and (not started or low <= turn <= high):
            good = place
        reach = max(reach, distance)
        if distance > tolerance:
            half = math.asin(tolerance / distance)
            low, high = max(low, turn - half), min(high, turn + half)
            if low > high:
                break
    return good, place - first
