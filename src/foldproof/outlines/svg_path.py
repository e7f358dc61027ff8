"""Path data of an SVG: its commands as lines, cubics and arcs, and these as points in mm.

Sources: W3C, Scalable Vector Graphics (SVG) 2, "Paths", and its appendix "Elliptical arc implementation notes" for
arcs given by their ends.
"""

from __future__ import annotations

import math
import re
from collections.abc import Sequence
from dataclasses import dataclass

import numpy as np

from foldproof.geometry.plane import Array, Point
from foldproof.outlines.budget import MOST_FROM_ORIGIN_MM, Budget, too_far
from foldproof.outlines.flattening import cubic_points, ellipse_points
from foldproof.outlines.svg_values import NUMBER, Matrix, along, at, unusable

FLAT_ARC = 1e-12  # of a radius: a smaller one makes no arc


@dataclass(frozen=True, slots=True, kw_only=True)
class Cubic:
    """A cubic Bezier curve from where the last segment ended."""

    one: Point
    two: Point
    end: Point


@dataclass(frozen=True, slots=True, kw_only=True)
class Arc:
    """Part of an ellipse: middle + one cos(a) + other sin(a), a from ``start_rad`` over ``sweep_rad``."""

    middle: Point
    one: Point
    other: Point
    start_rad: float
    sweep_rad: float
    end: Point


Segment = Point | Cubic | Arc  # a point is the end of a straight line


@dataclass(frozen=True, slots=True, kw_only=True)
class SubPath:
    """One line of a path: where it starts, its segments, and whether it is closed."""

    start: Point
    segments: tuple[Segment, ...]
    closed: bool


def flattened(path: SubPath, matrix: Matrix, tolerance_mm: float, budget: Budget) -> Array:
    """The points (n, 2) of a line where the matrix puts it, in mm, within the tolerance of its curves."""
    last = at(matrix, path.start)
    runs: list[Array] = [np.array([last])]
    for segment in path.segments:
        if isinstance(segment, tuple):
            run = np.array([at(matrix, segment)])
        elif isinstance(segment, Cubic):
            control = [at(matrix, point) for point in (segment.one, segment.two, segment.end)]
            _refuse_far(control)
            run = cubic_points(last, control[0], control[1], control[2], tolerance_mm)
        else:
            one, other = along(matrix, segment.one), along(matrix, segment.other)
            middle = at(matrix, segment.middle)
            _refuse_far([middle, one, other])
            run = ellipse_points(middle, one, other, segment.start_rad, segment.sweep_rad, tolerance_mm)
            run[-1] = at(matrix, segment.end)
        budget.spend("points", len(run))
        runs.append(run)
        last = (float(run[-1, 0]), float(run[-1, 1]))
    points = np.concatenate(runs)
    _refuse_far(points)
    return points


def _refuse_far(points: Sequence[Point] | Array) -> None:
    if not np.abs(np.asarray(points)).max() <= MOST_FROM_ORIGIN_MM:  # what is no number is not
        raise too_far()


# --- From text ----------------------------------------------------------------------------------------------

_COMMAND = re.compile(r"[\s,]*([MmZzLlHhVvCcSsQqTtAa])")
_BETWEEN = re.compile(r"[\s,]*")
_FLAG = re.compile(r"[01]")
_NUMBERS_OF = {"M": 2, "L": 2, "H": 1, "V": 1, "C": 6, "S": 4, "Q": 4, "T": 2, "A": 7, "Z": 0}


def sub_paths(text: str, budget: Budget) -> list[SubPath]:
    """The lines of a path's data, in user units. InputError when it cannot be read to its end."""
    drawing = _Drawing()
    place, end = 0, len(text.rstrip())
    command = ""
    while place < end:
        found = _COMMAND.match(text, place)
        if found:
            command, place = found[1], found.end()
        elif command in ("", "Z", "z"):
            raise unusable(text[place:], "has a path that cannot be read")
        values, place = _values(text, place, command.upper(), budget)
        drawing.add(command, values)
        # More pairs after a move are lines (SVG 2, "The moveto commands").
        command = {"M": "L", "m": "l"}.get(command, command)
    return drawing.done()


def _values(text: str, place: int, command: str, budget: Budget) -> tuple[list[float], int]:
    values: list[float] = []
    for number in range(_NUMBERS_OF[command]):
        between = _BETWEEN.match(text, place)
        place = between.end() if between else place
        # The flags of an arc may stand without anything between them.
        found = (_FLAG if command == "A" and number in (3, 4) else NUMBER).match(text, place)
        if not found or not math.isfinite(float(found[0])):
            raise unusable(text[max(0, place - 20) :], "has a path that is broken off or cannot be read")
        values.append(float(found[0]))
        place = found.end()
    budget.spend("numbers", len(values))
    return values, place


class _Drawing:
    """The lines so far, with the pen's place. Grows command by command, so it is no record."""

    def __init__(self) -> None:
        self._done: list[SubPath] = []
        self._segments: list[Segment] = []
        self._start: Point = (0.0, 0.0)
        self._pen: Point = (0.0, 0.0)
        self._begun = False
        self._cubic: Point | None = None  # the second control point of a cubic just drawn
        self._quadratic: Point | None = None  # the control point of a quadratic just drawn

    def add(self, command: str, values: list[float]) -> None:
        """One command with its numbers."""
        if not self._begun and command not in ("M", "m"):
            raise unusable(command, "has a path that does not begin with a move")
        self._begun = True
        x, y = self._pen if command.islower() else (0.0, 0.0)
        points = [(values[n] + x, values[n + 1] + y) for n in range(0, len(values) - 1, 2)]
        cubic, quadratic = self._cubic, self._quadratic
        self._cubic = self._quadratic = None
        match command.upper():
            case "M":
                self._end(closed=False)
                self._start = self._pen = points[0]
            case "Z":
                self._end(closed=True)
                self._pen = self._start
            case "L":
                self._line(points[0])
            case "H":
                self._line((values[0] + x, self._pen[1]))
            case "V":
                self._line((self._pen[0], values[0] + y))
            case "C":
                self._curve(points[0], points[1], points[2])
            case "S":
                self._curve(self._mirrored(cubic), points[0], points[1])
            case "Q":
                self._quadratic_curve(points[0], points[1])
            case "T":
                self._quadratic_curve(self._mirrored(quadratic), points[0])
            case "A":
                end = (values[5] + x, values[6] + y)
                self._segments.append(arc_between(self._pen, end, values[0], values[1], values[2], values[3:5]))
                self._pen = end

    def done(self) -> list[SubPath]:
        """All lines."""
        self._end(closed=False)
        return self._done

    def _end(self, *, closed: bool) -> None:
        if self._segments:
            self._done.append(SubPath(start=self._start, segments=tuple(self._segments), closed=closed))
        self._segments = []

    def _line(self, end: Point) -> None:
        self._segments.append(end)
        self._pen = end

    def _curve(self, one: Point, two: Point, end: Point) -> None:
        self._segments.append(Cubic(one=one, two=two, end=end))
        self._pen, self._cubic = end, two

    def _quadratic_curve(self, control: Point, end: Point) -> None:
        (x, y), (cx, cy), (ex, ey) = self._pen, control, end
        one = (x + 2.0 / 3.0 * (cx - x), y + 2.0 / 3.0 * (cy - y))
        two = (ex + 2.0 / 3.0 * (cx - ex), ey + 2.0 / 3.0 * (cy - ey))
        self._segments.append(Cubic(one=one, two=two, end=end))
        self._pen, self._quadratic = end, control

    def _mirrored(self, control: Point | None) -> Point:
        """The last control point on the other side of the pen; the pen itself after another kind of command."""
        return self._pen if control is None else (2.0 * self._pen[0] - control[0], 2.0 * self._pen[1] - control[1])


def arc_between(start: Point, end: Point, rx: float, ry: float, turn_deg: float, flags: Sequence[float]) -> Segment:
    """The arc of an ellipse between two points, by its half diameters, their turn, and the flags "large" and "sweep".

    W3C, SVG 2, "Conversion from endpoint to center parameterization"; half diameters that are too short grow until
    they reach. Without one of them it is a straight line.
    """
    rx, ry = abs(rx), abs(ry)
    if min(rx, ry) <= FLAT_ARC * max(1.0, rx, ry) or start == end:
        return end
    cosine, sine = math.cos(math.radians(turn_deg)), math.sin(math.radians(turn_deg))
    half_x, half_y = (start[0] - end[0]) / 2.0, (start[1] - end[1]) / 2.0
    x, y = cosine * half_x + sine * half_y, cosine * half_y - sine * half_x
    reach = math.hypot(x / rx, y / ry)
    if reach > 1.0:
        rx, ry = rx * reach, ry * reach
    squared = (x / rx) ** 2 + (y / ry) ** 2
    if squared == 0.0:  # ends too near for numbers to tell apart
        return end
    root = math.sqrt(max(0.0, 1.0 / squared - 1.0)) * (1.0 if flags[0] != flags[1] else -1.0)
    mid_x, mid_y = root * rx * y / ry, -root * ry * x / rx
    begin = math.atan2((y - mid_y) / ry, (x - mid_x) / rx)
    sweep = math.atan2((-y - mid_y) / ry, (-x - mid_x) / rx) - begin
    sweep = sweep % math.tau if flags[1] else sweep % math.tau - math.tau
    return Arc(
        middle=(
            cosine * mid_x - sine * mid_y + (start[0] + end[0]) / 2.0,
            sine * mid_x + cosine * mid_y + (start[1] + end[1]) / 2.0,
        ),
        one=(rx * cosine, rx * sine),
        other=(-ry * sine, ry * cosine),
        start_rad=begin,
        sweep_rad=sweep,
        end=end,
    )
