"""The arrow of a fold: the true way of a point of the panel that turns, as far as the reader can see it."""

from __future__ import annotations

from collections.abc import Sequence
from itertools import pairwise, takewhile
from math import dist

import numpy as np
import shapely
from numpy.typing import NDArray

from foldproof.drawing.camera import project
from foldproof.drawing.solid import Arrow3, Face3, Point3, View
from foldproof.folding.tree import FoldTree, pose
from foldproof.geometry.plane import SAME_MM, Point
from foldproof.pattern.records import Segment
from foldproof.views.folded_picture import DrawnPiece, in_space, seen

Array = NDArray[np.float64]

ARROW_FROM = 0.8  # how far out on the panel the arrow starts, as a share of the way from the fold to the edge
ARROW_POINTS = 33  # points along an arrow: half a turn in steps of under 6 degrees looks round
ALONG_FOLD = (0.5, 0.3, 0.7, 0.15, 0.85)  # places along the fold an arrow may start from, the best first
WELL_SEEN = 0.6  # share of an arrow in the open that leaves no doubt where it goes
HARDLY_SEEN = 0.3  # an arrow of which less is in the open is drawn whole, over what hides it


def fold_arrow(
    drawn: DrawnPiece,
    start: Array,
    end: Array,
    crease: int,
    faces: Sequence[Face3],
    *,
    from_edge: bool = False,
) -> Arrow3:
    """The arrow of the part that turns about a crease, from fractions ``start`` to ``end``, shape (creases,).

    It starts on the crease's child, or, where that can be seen better, on the panel that reaches farthest out;
    ``from_edge`` starts on the latter. It ends where the way goes behind something. ``faces`` are those of the
    pose at ``start``; what moves with the child hides nothing.
    """
    tree = drawn.tree
    shares = np.linspace(0.0, 1.0, ARROW_POINTS)[:, None]
    worlds = pose(tree, start + shares * (end - start), drawn.shifts_mm)
    moving = {number for number, path in enumerate(tree.path) if crease in path}
    names = {tree.panels[number] for number in moving}
    standing = [face for face in faces if face.name not in names]
    child = tree.index(tree.piece.creases[crease].child)
    far = max(sorted(moving), key=lambda panel: (_reach_mm(tree, crease, panel), panel == child))
    panels = (far,) if from_edge else tuple(dict.fromkeys((child, far)))
    ways: list[tuple[float, tuple[Point3, ...], tuple[Point3, ...]]] = []
    for along in ALONG_FOLD:
        for panel in panels:
            point = _handle(tree, panel, along)
            way = tuple(in_space(world, (point,))[0] for world in worlds[:, panel])
            shown = zip(way, seen(way, standing, drawn.view), strict=True)
            in_open = tuple(at for at, _ in takewhile(lambda pair: pair[1], shown))
            ways.append((_length_mm(in_open, drawn.view) / _length_mm(way, drawn.view), in_open, way))
            if ways[-1][0] >= WELL_SEEN:
                return Arrow3(points=in_open)
    share, in_open, way = max(ways, key=lambda found: found[0])
    return Arrow3(points=in_open if share >= HARDLY_SEEN else way)


def _reach_mm(tree: FoldTree, crease: int, panel: int) -> float:
    """How far a panel reaches from the line of a crease, flat, to SAME_MM."""
    line = tree.piece.creases[crease].line
    return round(max(abs(_off_line(line, corner)[1]) for corner in tree.outline(panel)) / SAME_MM) * SAME_MM


def _off_line(line: Segment, point: Point) -> Point:
    """Distance along a line from its start, and off it to the left, in mm."""
    (ax, ay), (bx, by) = line
    length_mm = dist(*line)
    ux, uy = (bx - ax) / length_mm, (by - ay) / length_mm
    return ((point[0] - ax) * ux + (point[1] - ay) * uy, (point[1] - ay) * ux - (point[0] - ax) * uy)


def _handle(tree: FoldTree, panel: int, along: float) -> Point:
    """A point of a panel, in flat coordinates, ``ARROW_FROM`` out from the panel's own fold."""
    line = tree.piece.creases[tree.crease_of[panel]].line
    (ax, ay), (bx, by) = line
    length_mm = dist(*line)
    ux, uy = (bx - ax) / length_mm, (by - ay) / length_mm
    corners = [_off_line(line, corner) for corner in tree.outline(panel)]
    out_mm = ARROW_FROM * max((out for _, out in corners), key=abs)
    shape = shapely.Polygon(corners)
    low, _, high, _ = shape.bounds
    low, _, high, _ = shape.intersection(shapely.LineString([(low, out_mm), (high, out_mm)])).bounds
    at_mm = low + along * (high - low)
    return (ax + at_mm * ux - out_mm * uy, ay + at_mm * uy + out_mm * ux)


def _length_mm(way: Sequence[Point3], view: View) -> float:
    """Length of a way as the picture shows it, in mm of card."""
    flat = [(x, y) for x, y, _ in project(view, way)]
    return sum(dist(a, b) for a, b in pairwise(flat))
