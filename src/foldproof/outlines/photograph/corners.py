"""Sharp corners, which blur and evening round off: put back where the light agrees that they are sharp."""

from __future__ import annotations

import math
from collections.abc import Callable
from dataclasses import dataclass

import numpy as np

from foldproof.geometry.plane import Array

LEAST_TURN_RAD = math.radians(24.0)  # a corner blunter than this is pulled in by less than a tenth of the blur
AROUND_MM = 1.3  # the outline's direction is compared this far before and after
LEAST_GAP_MM = 0.75  # how near to a corner its sides are no longer straight, at the least
EVENED_MM, GAP_BLURS = 0.35, 1.6  # the outline is evened over some tenths of a mm; blur reaches so far across a corner
FLANK_MM = 3.2  # of each side beyond that, from which it is drawn on
LEAST_FLANK_POINTS = 6
STRAY_MM = 0.06  # sides that are not smooth to this do not tell where they meet
BENT_SHARE = 0.6  # of a straight side's strays: a parabola with less is no accident of noise
MOST_MM = 3.0  # a corner drawn on farther than this is a guess
SLACK, SLACK_MM = 1.3, 0.05  # how much more than blur alone explains a corner may be pulled in and be called sharp
MOST_POINTED_RAD = math.radians(8.0)  # no blade cuts a corner more pointed than twice this
DIRECTIONS = 400
HALVINGS = 40


@dataclass(frozen=True, slots=True, kw_only=True)
class Corner:
    """Where two sides drawn on meet. ``first`` and ``last``: the points between which the outline is replaced.

    ``inward``: unit direction from the corner along the middle of its angle, to the side of the turn;
    ``half_rad``: half of the angle between the sides; ``shape_inside``: the shape is on that side.
    """

    at: Array
    first: int
    last: int
    inward: Array
    half_rad: float
    shape_inside: bool


def pulled_in(half_rad: float) -> float:
    """How far from a sharp corner, along its middle, blur of spread 1 puts the halfway line.

    The share of a round bell at distance x that lies in the corner's angle is
    1 - (1 / pi) x integral from a to pi of exp(-r^2 / 2), r = x sin a / sin(f - a) being the distance to a side in
    the direction f, and a half the angle. x is found by halving, where that share is a half.
    """
    directions = half_rad + (math.pi - half_rad) * (np.arange(DIRECTIONS) + 0.5) / DIRECTIONS
    reach = math.sin(half_rad) / np.sin(directions - half_rad)
    low, high = 0.0, 40.0
    for _ in range(HALVINGS):
        middle = 0.5 * (low + high)
        outside = float(np.exp(-0.5 * (middle * reach) ** 2).mean()) * (math.pi - half_rad) / math.pi
        low, high = (middle, high) if outside > 0.5 else (low, middle)
    return 0.5 * (low + high)


def with_corners(
    points: Array, every_mm: float, blur_mm: float, edge_at: Callable[[Array, Array, bool], float]
) -> tuple[Array, float]:
    """An outline at even distances (n, 2) with its sharp corners put back; and how many blurs the sharpest corner
    that could not be put back may be pulled in by, 0 if there is none.

    ``edge_at(corner, inward, shape_inside)``: how far from the corner along its middle the light is halfway, in mm.
    """
    corners = []
    rounded = 0.0
    turns = _turns(points, every_mm)
    for number, place in enumerate(turns):
        room = _room(turns, number, len(points))
        blunt = _corner(points, every_mm, place, room, _gap(blur_mm, math.pi / 4.0))
        # The two sides' blurs meet far from a pointed corner and near a blunt one.
        corner = blunt and _corner(points, every_mm, place, room, _gap(blur_mm, blunt.half_rad))
        if corner is None:
            rounded = max(rounded, pulled_in(_half_seen(points, every_mm, place)))
            continue
        seen_mm = edge_at(corner.at, corner.inward, corner.shape_inside)
        if seen_mm <= SLACK * blur_mm * pulled_in(corner.half_rad) + SLACK_MM:
            corners.append(corner)
    return _replaced(points, corners), rounded


def _half_seen(points: Array, every_mm: float, place: int) -> float:
    """Half the angle between the outline's directions before and after a turn, at most as blunt as a turn can be."""
    turn = abs(float(_turning(points, every_mm)[place]))
    return max(MOST_POINTED_RAD, (math.pi - turn) / 2.0)


def _gap(blur_mm: float, half_rad: float) -> float:
    """How far from a corner its sides are clear of it, in mm along the outline."""
    return max(LEAST_GAP_MM, EVENED_MM + blur_mm * (1.0 + GAP_BLURS / math.sin(half_rad)))


def _room(turns: list[int], number: int, count: int) -> tuple[int, int]:
    """How many points there are to the turns before and after."""
    if len(turns) == 1:
        return (count, count)
    before = (turns[number] - turns[number - 1]) % count
    after = (turns[(number + 1) % len(turns)] - turns[number]) % count
    return (before, after)


def _turns(points: Array, every_mm: float) -> list[int]:
    """Places where the outline turns most, and by enough to be a corner."""
    reach = max(2, round(AROUND_MM / every_mm))
    size = np.abs(_turning(points, every_mm))
    near = np.max([np.roll(size, shift) for shift in range(-reach, reach + 1)], axis=0)
    return [int(place) for place in np.nonzero((size == near) & (size > LEAST_TURN_RAD))[0]]


def _turning(points: Array, every_mm: float) -> Array:
    """By how much the outline turns at each place (n,), in radians, anticlockwise positive."""
    reach = max(2, round(AROUND_MM / every_mm))
    ahead = np.roll(points, -reach, axis=0) - points
    behind = points - np.roll(points, reach, axis=0)
    twist = behind[:, 0] * ahead[:, 1] - behind[:, 1] * ahead[:, 0]
    found: Array = np.arctan2(twist, (behind * ahead).sum(axis=1))
    return found


def _corner(points: Array, every_mm: float, place: int, room: tuple[int, int], gap_mm: float) -> Corner | None:
    count = len(points)
    gap = math.ceil(gap_mm / every_mm)
    ends = [min(gap + math.ceil(FLANK_MM / every_mm), free - gap) for free in room]
    if sum(ends) >= count:
        return None
    before = points[(place - np.arange(gap, ends[0] + 1)) % count]
    after = points[(place + np.arange(gap, ends[1] + 1)) % count]
    sides = [_drawn_on(side, every_mm) for side in (before, after)]
    if sides[0] is None or sides[1] is None:
        return None
    (start, way), (other, other_way) = sides[0], sides[1]
    twist = way[0] * other_way[1] - way[1] * other_way[0]
    if abs(twist) < math.sin(LEAST_TURN_RAD) / 2.0:
        return None
    off = other - start
    along = (off[0] * other_way[1] - off[1] * other_way[0]) / twist
    at = start + along * way
    if along < 0.0 or math.dist(at, points[place]) > MOST_MM or float((at - other) @ other_way) < 0.0:
        return None
    middle = -(way + other_way)
    size = float(np.hypot(*middle))
    half = 0.5 * math.acos(float(np.clip(way @ other_way, -1.0, 1.0)))
    return Corner(
        at=at,
        first=place - gap,
        last=place + gap,
        inward=middle / size,
        half_rad=half,
        shape_inside=bool(twist < 0.0),
    )


def _drawn_on(side: Array, every_mm: float) -> tuple[Array, Array] | None:
    """Where a side (n, 2) starts, nearest to its corner first, and its unit direction towards the corner.

    From a parabola through its points where that lies much nearer to them than a straight line: a curved side is
    drawn on by its tangent at the end.
    """
    if len(side) < LEAST_FLANK_POINTS:
        return None
    at = np.arange(len(side)) * every_mm
    best = None
    for power in (1, 2):
        table = at[:, None] ** np.arange(power + 1)
        found, *_ = np.linalg.lstsq(table, side, rcond=None)
        stray = np.abs(table @ found - side)
        if best is None or float(stray.mean()) < BENT_SHARE * best[0]:
            best = (float(stray.mean()), float(stray.max()), found)
    assert best is not None, "a straight side is tried first"
    if best[1] > STRAY_MM:
        return None
    way = -best[2][1]
    return best[2][0], way / np.hypot(*way)


def _replaced(points: Array, corners: list[Corner]) -> Array:
    """The outline with the stretch round each corner replaced by the two sides drawn on to it."""
    count = len(points)
    kept = np.ones(count, bool)
    added: dict[int, list[Array]] = {}
    taken = np.zeros(count, bool)
    for corner in corners:
        stretch = np.arange(corner.first + 1, corner.last) % count
        if taken[stretch].any():
            continue
        taken[stretch] = True
        kept[stretch] = False
        added[corner.first % count] = [corner.at]
    out: list[Array] = []
    for number in range(count):
        if kept[number]:
            out.append(points[number])
        out += added.get(number, [])
    return np.array(out)
