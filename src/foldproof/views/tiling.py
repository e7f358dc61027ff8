"""A large drawing on small sheets: the grid of windows, and what of lines and areas each window shows."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass
from itertools import pairwise

import shapely
from shapely.geometry import Polygon as Shape
from shapely.geometry.base import BaseGeometry

from foldproof.drawing.records import Area, Label, Mark, Path, Point, Stroke
from foldproof.views.piece import rings

OVERLAP_MM = 10.0  # neighbours show this much of each other: enough to glue or tape one on the other
SAME_MM = 1e-9  # float noise of a clipped end; far finer than any cut


@dataclass(frozen=True, slots=True, kw_only=True)
class Window:
    """What one sheet shows, in the drawing's frame. Letters count columns from the left, numbers rows from the
    top. ``neighbours`` are the sides on which another sheet follows, with its name.
    """

    name: str
    column: int
    row: int
    left: float
    low: float
    right: float
    high: float
    neighbours: tuple[tuple[str, str], ...] = ()

    @property
    def shape(self) -> Shape:
        return shapely.box(self.left, self.low, self.right, self.high)


def windows(content: BaseGeometry, width_mm: float, height_mm: float) -> tuple[Window, ...]:
    """Sheets of ``width_mm`` by ``height_mm`` over ``content``, neighbours overlapping by 10 mm, row by row from
    the top left. The grid is centred on the content; sheets that would show none of it are left out.
    """
    left, low, right, high = content.bounds
    columns, rows = _count(right - left, width_mm), _count(high - low, height_mm)
    step_x, step_y = width_mm - OVERLAP_MM, height_mm - OVERLAP_MM
    start_x = (left + right - (columns - 1) * step_x - width_mm) / 2
    start_y = (low + high + (rows - 1) * step_y + height_mm) / 2
    found = {}
    for row in range(rows):
        for column in range(columns):
            x, y = start_x + column * step_x, start_y - row * step_y
            window = Window(
                name=f"{_letters(column)}{row + 1}",
                column=column,
                row=row,
                left=x,
                low=y - height_mm,
                right=x + width_mm,
                high=y,
            )
            if content.intersection(window.shape).area > 0.0:
                found[(column, row)] = window
    return tuple(_with_neighbours(window, found) for window in found.values())


def _with_neighbours(window: Window, others: dict[tuple[int, int], Window]) -> Window:
    sides = {"left": (-1, 0), "right": (1, 0), "top": (0, -1), "bottom": (0, 1)}
    next_to = tuple(
        (side, others[at].name)
        for side, (dx, dy) in sides.items()
        if (at := (window.column + dx, window.row + dy)) in others
    )
    return Window(
        name=window.name,
        column=window.column,
        row=window.row,
        left=window.left,
        low=window.low,
        right=window.right,
        high=window.high,
        neighbours=next_to,
    )


def _count(side_mm: float, window_mm: float) -> int:
    """Windows needed along a side."""
    assert window_mm > 2 * OVERLAP_MM, "a sheet so small shows nothing but its overlaps"
    count = 1
    while count * (window_mm - OVERLAP_MM) + OVERLAP_MM < side_mm - SAME_MM:
        count += 1
    return count


def _letters(column: int) -> str:
    """A to Z, then AA."""
    before = _letters(column // 26 - 1) if column >= 26 else ""
    return before + chr(ord("A") + column % 26)


def clipped(marks: Sequence[Mark], window: Window) -> tuple[Mark, ...]:
    """The parts of lines and areas inside a window, in the drawing's frame. Labels are left out."""
    found: list[Mark] = []
    for mark in marks:
        match mark:
            case Stroke():
                found += [Stroke(path=path, role=mark.role, name=mark.name) for path in clipped_line(mark.path, window)]
            case Area():
                outer, *holes = ([*path.points] for path in mark.paths)
                for part in shapely.get_parts(Shape(outer, holes).intersection(window.shape)):
                    if isinstance(part, Shape) and part.area > 0.0:
                        found.append(Area(paths=rings(part), role=mark.role, name=mark.name))
            case Label():
                continue
    return tuple(found)


def clipped_line(path: Path, window: Window) -> tuple[Path, ...]:
    """The runs of a polyline inside a window; a closed path that lies inside as a whole stays closed."""
    points = (*path.points, path.points[0]) if path.closed else path.points
    if all(_inside(point, window) for point in points):
        return (path,)
    runs: list[list[Point]] = []
    for a, b in pairwise(points):
        piece = _segment(a, b, window)
        if piece is None:
            continue
        if runs and runs[-1][-1] == piece[0]:
            runs[-1].append(piece[1])
        else:
            runs.append([*piece])
    # A closed path may start in the middle of a run.
    if path.closed and len(runs) > 1 and runs[0][0] == runs[-1][-1]:
        runs[0] = runs.pop() + runs[0][1:]
    return tuple(Path(points=tuple(run)) for run in runs)


def _inside(point: Point, window: Window) -> bool:
    return window.left <= point[0] <= window.right and window.low <= point[1] <= window.high


def _segment(a: Point, b: Point, window: Window) -> tuple[Point, Point] | None:
    """The part of a straight line inside a window (Liang and Barsky, 1984); whole ends stay exactly as they are."""
    first, last = 0.0, 1.0
    dx, dy = b[0] - a[0], b[1] - a[1]
    for away, room in (
        (-dx, a[0] - window.left),
        (dx, window.right - a[0]),
        (-dy, a[1] - window.low),
        (dy, window.high - a[1]),
    ):
        if away == 0.0:
            if room < 0.0:
                return None
        elif away < 0.0:
            first = max(first, room / away)
        else:
            last = min(last, room / away)
    if last - first <= SAME_MM:
        return None
    start = a if first == 0.0 else (a[0] + first * dx, a[1] + first * dy)
    end = b if last == 1.0 else (a[0] + last * dx, a[1] + last * dy)
    return start, end
