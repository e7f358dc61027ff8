"""Movement arrows: the path of a moving part and its head, lifted off what lies beneath."""

from __future__ import annotations

from collections.abc import Sequence
from itertools import pairwise
from math import dist

import shapely

from foldproof.drawing.records import Area, Mark, Path, Point, Stroke
from foldproof.drawing.style import LINES

HEAD_LENGTH_MM = 3.4
HEAD_HALF_WIDTH_MM = 1.3
STOP_SHORT_MM = 1.2  # the tip stays off the landing place, so that the place itself can be seen
# Shares of the path's length, for paths too short for the sizes above.
STOP_SHORT_SHARE = 0.15
HEAD_SHARE = 0.6
SHAFT_INTO_HEAD = 0.3  # share of the head that the path runs into, so that no gap shows between the two
CASING_MM = LINES["movement"].casing_mm  # the head gets the strip of bare paper that its path has
CASING_QUARTER_POINTS = 4  # points to a quarter turn round the casing's corners: within 0.01 mm of the arc
# Most that an arrow reaches past its path, to the side.
ARROW_REACH_MM = HEAD_HALF_WIDTH_MM + CASING_MM


def arrow_marks(paths: Sequence[tuple[Point, ...]]) -> tuple[Mark, ...]:
    """Arrows along paths in mm on paper: bare paper for all heads, then all strokes, then all heads.

    A path that is hardly seen (straight at the reader) has no arrow: it would point nowhere.
    """
    arrows = [arrow for path in paths if (arrow := _shaft_and_head(path)) is not None]
    casings = [
        shapely.Polygon(head).buffer(CASING_MM, quad_segs=CASING_QUARTER_POINTS).exterior.coords[:-1]
        for _, head in arrows
    ]
    return (
        *(Area(paths=(_closed(tuple((x, y) for x, y in ring)),), role="paper") for ring in casings),
        *(Stroke(path=Path(points=shaft), role="movement") for shaft, _ in arrows),
        *(Area(paths=(_closed(head),), role="movement") for _, head in arrows),
    )


def _closed(points: tuple[Point, ...]) -> Path:
    return Path(points=points, closed=True)


def _shaft_and_head(path: tuple[Point, ...]) -> tuple[tuple[Point, ...], tuple[Point, ...]] | None:
    """The path as far as it is drawn and the corners of the head, tip first."""
    length_mm = sum(dist(a, b) for a, b in pairwise(path))
    if length_mm <= HEAD_HALF_WIDTH_MM:
        return None
    tip_at_mm = length_mm - min(STOP_SHORT_MM, STOP_SHORT_SHARE * length_mm)
    head_mm = min(HEAD_LENGTH_MM, HEAD_SHARE * tip_at_mm)
    tip = path_until(path, tip_at_mm)[-1]
    base = path_until(path, tip_at_mm - head_mm)[-1]
    chord_mm = dist(base, tip)
    if chord_mm < head_mm / 2.0:  # the path doubles back within its head
        return None
    across = HEAD_HALF_WIDTH_MM * head_mm / HEAD_LENGTH_MM / chord_mm
    dx, dy = (tip[0] - base[0]) * across, (tip[1] - base[1]) * across
    head = (tip, (base[0] - dy, base[1] + dx), (base[0] + dy, base[1] - dx))
    return path_until(path, tip_at_mm - (1.0 - SHAFT_INTO_HEAD) * head_mm), head


def path_until(path: tuple[Point, ...], distance_mm: float) -> tuple[Point, ...]:
    """The part of the path from its start to ``distance_mm`` along it."""
    kept = [path[0]]
    left_mm = distance_mm
    for a, b in pairwise(path):
        step_mm = dist(a, b)
        if step_mm >= left_mm:
            share = left_mm / step_mm if step_mm > 0.0 else 0.0
            kept.append((a[0] + share * (b[0] - a[0]), a[1] + share * (b[1] - a[1])))
            break
        if step_mm > 0.0:
            kept.append(b)
            left_mm -= step_mm
    return tuple(kept)
