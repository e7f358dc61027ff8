"""Hatches and dots as plain lines and points, cut to their area, so that every file format draws the same."""

from __future__ import annotations

import math
from typing import TYPE_CHECKING

from foldproof.drawing.records import Path, Point

if TYPE_CHECKING:
    import numpy as np
    from numpy.typing import NDArray

    Array = NDArray[np.float64]

ROW_RATIO = math.sqrt(3) / 2  # rows of a triangular grid, as a share of the step along a row
EDGE_INSETS_MM = (0.75, 0.4, 0.0)  # how far dots keep off the edges: the most that still leaves a dot
FINE_STEP_MM = 0.9  # the grid tried last, for slivers between the rows of the usual one


def hatch(paths: tuple[Path, ...], angle_deg: float, step_mm: float) -> tuple[Path, ...]:
    """Parallel lines ``step_mm`` apart inside closed paths, even-odd; in step across the whole page."""
    along = (math.cos(math.radians(angle_deg)), math.sin(math.radians(angle_deg)))
    edges = [(_turned(a, along), _turned(b, along)) for a, b in _edges(paths)]
    if not edges:
        return ()
    lowest = min(min(a[1], b[1]) for a, b in edges)
    highest = max(max(a[1], b[1]) for a, b in edges)
    lines = []
    for row in range(math.ceil(lowest / step_mm), math.floor(highest / step_mm) + 1):
        level = row * step_mm
        crossings = sorted(_crossing(a, b, level) for a, b in edges if (a[1] <= level) != (b[1] <= level))
        for start, end in zip(crossings[::2], crossings[1::2], strict=True):
            lines.append(Path(points=(_back((start, level), along), _back((end, level), along))))
    return tuple(lines)


def dots(paths: tuple[Path, ...], size_mm: float, step_mm: float) -> tuple[Point, ...]:
    """Centres of dots in a grid, triangular where there is room, inside closed paths, even-odd.

    They keep off the edges where they can. The grid hangs from the middle of the
    area, so that a tab's dots stand evenly in it.
    """
    edges = _edges(paths)
    if not edges:
        return ()
    for step in (step_mm, FINE_STEP_MM):
        for inset in EDGE_INSETS_MM:
            keep_off = inset + size_mm / 2 if inset else 0.0
            staggered = _grid(edges, step, step * ROW_RATIO, 0.5, keep_off)
            straight = _grid(edges, step, step, 0.0, keep_off)  # fills a narrow upright strip better
            if fuller := max(staggered, straight, key=len):
                return fuller
    return ()


def _grid(
    edges: list[tuple[Point, Point]], step_mm: float, row_step_mm: float, odd_shift: float, inset_mm: float
) -> tuple[Point, ...]:
    """Grid points that keep ``inset_mm`` off the edges; odd rows are shifted by a share of the step."""
    import numpy as np

    xs = [point[0] for edge in edges for point in edge]
    ys = [point[1] for edge in edges for point in edge]
    middle = ((min(xs) + max(xs)) / 2, (min(ys) + max(ys)) / 2)
    rows = math.ceil((max(ys) - min(ys)) / 2 / row_step_mm)
    columns = math.ceil((max(xs) - min(xs)) / 2 / step_mm) + 1
    row = np.repeat(np.arange(-rows, rows + 1), 2 * columns + 1)
    column = np.tile(np.arange(-columns, columns + 1), 2 * rows + 1)
    across = middle[0] + (column + np.where(row % 2 == 1, odd_shift, 0.0)) * step_mm
    points = np.stack([across, middle[1] + row * row_step_mm], axis=1)
    points = points[_inside(points, edges)]
    kept = (_distances(points, edges) >= inset_mm).all(axis=1)
    return tuple((x, y) for x, y in points[kept].tolist())


def _edges(paths: tuple[Path, ...]) -> list[tuple[Point, Point]]:
    return [
        (a, b)
        for path in paths
        for a, b in zip(path.points, path.points[1:] + path.points[:1], strict=True)
        if a != b
    ]


def _turned(point: Point, along: Point) -> Point:
    return point[0] * along[0] + point[1] * along[1], point[1] * along[0] - point[0] * along[1]


def _back(point: Point, along: Point) -> Point:
    return point[0] * along[0] - point[1] * along[1], point[0] * along[1] + point[1] * along[0]


def _crossing(a: Point, b: Point, level: float) -> float:
    return a[0] + (b[0] - a[0]) * (level - a[1]) / (b[1] - a[1])


def _inside(points: Array, edges: list[tuple[Point, Point]]) -> NDArray[np.bool_]:
    """Which points (points, 2) have an odd number of edges to their left."""
    import numpy as np

    ax, ay, bx, by = np.array(edges).reshape(-1, 4).T
    x, y = points[:, 0, None], points[:, 1, None]
    level = (ay <= y) != (by <= y)
    crossing = ax + (bx - ax) * (y - ay) / np.where(ay == by, 1.0, by - ay)
    inside: NDArray[np.bool_] = np.count_nonzero(level & (crossing < x), axis=1) % 2 == 1
    return inside


def _distances(points: Array, edges: list[tuple[Point, Point]]) -> Array:
    """From each point to each edge, (points, edges)."""
    import numpy as np

    ax, ay, bx, by = np.array(edges).reshape(-1, 4).T
    dx, dy = bx - ax, by - ay
    px, py = points[:, 0, None] - ax, points[:, 1, None] - ay
    share = np.clip((px * dx + py * dy) / (dx * dx + dy * dy), 0.0, 1.0)
    away: Array = np.hypot(px - share * dx, py - share * dy)
    return away
