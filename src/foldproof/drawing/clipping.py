"""The parts of straight lines that lie in areas of the picture: for many lines and areas at once."""

from __future__ import annotations

from collections.abc import Sequence

import numpy as np
import shapely
from numpy.typing import NDArray
from shapely.geometry.base import BaseGeometry

from foldproof.drawing.areas import GRID_MM
from foldproof.drawing.rings import Array, Index, spread
from foldproof.drawing.segments import Line, point_at


def within(line: Line, area: BaseGeometry) -> list[Line]:
    """The parts of a line that lie in an area of the picture, from its start to its end."""
    return lines_within([line], [0], [area])[0]


def lines_within(lines: Sequence[Line], places: Sequence[int], areas: Sequence[BaseGeometry]) -> list[list[Line]]:
    """For each line its parts in the area that ``places`` names, from its start to its end.

    A line that runs along the edge of an area is taken to lie in it or not as float noise has it: grow the area first.
    """
    found: list[list[Line]] = [[] for _ in lines]
    if not lines:
        return found
    starts, sizes, edges = _edges_of(areas)
    ends = np.array([(line.a[:2], line.b[:2]) for line in lines])
    for row, since, until in _spans(ends, starts[list(places)], sizes[list(places)], edges):
        line = lines[row]
        if since > 0.0 or until < 1.0:
            line = Line(a=point_at(line, since), b=point_at(line, until), role=line.role, name=line.name)
        found[row].append(line)
    return found


def _edges_of(areas: Sequence[BaseGeometry]) -> tuple[Index, Index, Array]:
    """Of each area where its edges begin and how many it has, and all edges (edges, 2, 2)."""
    parts, of_part = shapely.get_parts(list(areas), return_index=True)
    rings, of_ring = shapely.get_rings(parts, return_index=True)
    owners = of_part[of_ring]
    points, ring_of = shapely.get_coordinates(rings, return_index=True)
    runs_on = ring_of[:-1] == ring_of[1:]
    edges = np.stack([points[:-1][runs_on], points[1:][runs_on]], axis=1)
    sizes = np.bincount(owners[ring_of[:-1][runs_on]], minlength=len(areas))
    return np.cumsum(sizes) - sizes, sizes, edges


def _spans(ends: Array, starts: Index, sizes: Index, edges: Array) -> list[tuple[int, float, float]]:
    """Rows of lines and the shares of them between which they lie inside, in order."""
    begin, along = ends[:, 0], ends[:, 1] - ends[:, 0]
    lengths = np.hypot(along[:, 0], along[:, 1])
    row, edge = spread(starts, sizes)
    shares, rows = _crossings(begin, along, row, edges[edge])
    # Every line is parted at its crossings; a part is inside as its middle is.
    count = len(ends)
    rows = np.concatenate([np.arange(count), rows, np.arange(count)])
    shares = np.concatenate([np.zeros(count), shares, np.ones(count)])
    order = np.lexsort((shares, rows))
    rows, shares = rows[order], shares[order]
    same = (rows[1:] == rows[:-1]) & ((shares[1:] - shares[:-1]) * lengths[rows[1:]] > GRID_MM)
    row, since, until = rows[1:][same], shares[:-1][same], shares[1:][same]
    middles = begin[row] + (0.5 * (since + until))[:, None] * along[row]
    inside = _inside(middles, starts[row], sizes[row], edges)
    found: list[tuple[int, float, float]] = []
    for at, low, high in zip(row[inside].tolist(), since[inside].tolist(), until[inside].tolist(), strict=True):
        if found and found[-1][0] == at and (low - found[-1][2]) * float(lengths[at]) <= GRID_MM:
            found[-1] = (at, found[-1][1], high)
        else:
            found.append((at, low, high))
    return found


def _crossings(begin: Array, along: Array, row: Index, edges: Array) -> tuple[Array, Index]:
    """Where lines cross edges: shares of the lines, and their rows."""
    ux, uy = along[row].T
    px, py = (edges[:, 0] - begin[row]).T
    vx, vy = (edges[:, 1] - edges[:, 0]).T
    turn = ux * vy - uy * vx
    level = turn == 0.0
    turn = np.where(level, 1.0, turn)
    share = (px * vy - py * vx) / turn
    place = (px * uy - py * ux) / turn
    met = ~level & (share > 0.0) & (share < 1.0) & (place >= 0.0) & (place <= 1.0)
    return share[met], row[met]


def _inside(points: Array, starts: Index, sizes: Index, edges: Array) -> NDArray[np.bool_]:
    """Which points lie in the area bounded by their run of edges, by the crossings of a ray."""
    point, edge = spread(starts, sizes)
    x, y = points[point].T
    ax, ay = edges[edge, 0].T
    bx, by = edges[edge, 1].T
    spans = (ay > y) != (by > y)
    at = ax + (y - ay) * (bx - ax) / np.where(by == ay, 1.0, by - ay)
    inside: NDArray[np.bool_] = np.bincount(point[spans & (x < at)], minlength=len(points)) % 2 == 1
    return inside
