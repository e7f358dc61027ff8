"""Lines of text with room for them: broken to a width, spread along an edge, set inside a shape."""

from __future__ import annotations

import math
import re
from collections.abc import Sequence
from itertools import accumulate, pairwise

import shapely
from shapely.geometry import Polygon as Shape
from shapely.geometry.base import BaseGeometry

from foldproof.drawing.records import Label, Point, TextRole
from foldproof.drawing.style import MM_PER_PT
from foldproof.drawing.type import text_width_mm

ASCENT = 0.80  # of the size, above the baseline: the raised figures of a fraction reach this high
DESCENT = 0.26  # of the size, below the baseline
LEADING = 1.28  # of the size, from line to line
TEXT_PT = 11.0  # the smallest text on any page: read at arm's length on a cutting table
CLEAR_MM = 1.0  # paper kept free round a label inside a shape
GRID_TRIES = 12  # places tried each way for a label in a shape whose middle is taken

Box = tuple[float, float, float, float]


def line_mm(size_pt: float) -> float:
    """From one baseline to the next."""
    return size_pt * LEADING * MM_PER_PT


def label_box(label: Label) -> Box:
    """The box (left, low, right, high) in mm round a set label, turned or not."""
    width = text_width_mm(label.text, label.role, label.size_pt)
    back = {"start": 0.0, "middle": 0.5, "end": 1.0}[label.anchor] * width
    low, high = -DESCENT * label.size_pt * MM_PER_PT, ASCENT * label.size_pt * MM_PER_PT
    cos, sin = math.cos(math.radians(label.angle_deg)), math.sin(math.radians(label.angle_deg))
    corners = [
        (label.at[0] + x * cos - y * sin, label.at[1] + x * sin + y * cos)
        for x in (-back, width - back)
        for y in (low, high)
    ]
    xs, ys = [x for x, _ in corners], [y for _, y in corners]
    return (min(xs), min(ys), max(xs), max(ys))


def wrapped(text: str, role: TextRole, size_pt: float, width_mm: float) -> tuple[str, ...]:
    """``text`` broken between words so that each line fits; a size is never parted from its unit."""
    lines: list[str] = []
    for word in _whole_sizes(text).split(" "):
        longer = f"{lines[-1]} {word}" if lines else word
        if lines and text_width_mm(longer, role, size_pt) <= width_mm:
            lines[-1] = longer
        else:
            lines.append(word)
    return tuple(shortened(line.replace("\u00a0", " "), role, size_pt, width_mm) for line in lines)


def _whole_sizes(text: str) -> str:
    """Spaces inside '3 1/4 in' made unbreakable."""
    joined = re.sub(r"(?<=\d) (?=\d+/\d)", "\u00a0", text)
    return re.sub(r"(?<=\d) (?=(?:in|cm|mm)\b)", "\u00a0", joined)


def shortened(text: str, role: TextRole, size_pt: float, width_mm: float) -> str:
    """``text``, or as much of it as fits with three dots after it."""
    if text_width_mm(text, role, size_pt) <= width_mm:
        return text
    kept = next((n for n in range(len(text) - 1, 0, -1) if _dotted_width(text[:n], role, size_pt) <= width_mm), 0)
    return text[:kept].rstrip() + "…"


def _dotted_width(text: str, role: TextRole, size_pt: float) -> float:
    return text_width_mm(text.rstrip() + "…", role, size_pt)


def spread(wanted: Sequence[float], widths: Sequence[float], low: float, high: float) -> tuple[float, ...] | None:
    """Middles for labels of ``widths`` in order along a line from ``low`` to ``high``, as near ``wanted`` as
    they can be without overlapping (least squares, pooled neighbours); None when there is no room.
    """
    if sum(widths) > high - low:
        return None
    if not wanted:
        return ()
    # Taking each label's packed place away leaves values that only have to rise.
    starts = list(accumulate(((a + b) / 2 for a, b in pairwise(widths)), initial=0.0))
    pools: list[tuple[float, int]] = []
    for value in (want - start for want, start in zip(wanted, starts, strict=True)):
        pools.append((value, 1))
        while len(pools) > 1 and pools[-2][0] > pools[-1][0]:
            (mean, count), (before, others) = pools.pop(), pools.pop()
            pools.append(((mean * count + before * others) / (count + others), count + others))
    least, most = low + widths[0] / 2, high - widths[-1] / 2 - starts[-1]
    level = [min(max(mean, least), most) for mean, count in pools for _ in range(count)]
    return tuple(place + start for place, start in zip(level, starts, strict=True))


def set_inside(text: str, shape: BaseGeometry, role: TextRole, size_pt: float) -> tuple[Label, ...]:
    """``text`` in the middle of ``shape``: on one line, on more, or turned upright; nothing when it cannot be.

    A place off the middle is taken where the shape needs it.
    """
    if shape.is_empty:
        return ()
    for angle in (0.0, 90.0):
        for lines in _ways_to_break(text):
            width = max(text_width_mm(line, role, size_pt) for line in lines) + 2 * CLEAR_MM
            height = (len(lines) - 1) * line_mm(size_pt) + (ASCENT + DESCENT) * size_pt * MM_PER_PT + 0.6 * CLEAR_MM
            across, up = (width, height) if angle == 0.0 else (height, width)
            middle = _room(shape, across, up)
            if middle is not None:
                return stacked(lines, middle, role, size_pt, angle)
    return ()


def _ways_to_break(text: str) -> tuple[tuple[str, ...], ...]:
    words = text.split(" ")
    return ((text,),) if len(words) == 1 else ((text,), tuple(words))


def stacked(
    lines: Sequence[str], middle: Point, role: TextRole, size_pt: float, angle_deg: float = 0.0
) -> tuple[Label, ...]:
    """Lines centred on a point, one below the other."""
    half = (ASCENT - DESCENT) / 2 * size_pt * MM_PER_PT
    found = []
    for n, line in enumerate(lines):
        drop = -half + ((len(lines) - 1) / 2 - n) * line_mm(size_pt)
        at = (middle[0], middle[1] + drop) if angle_deg == 0.0 else (middle[0] - drop, middle[1])
        found.append(Label(text=line, at=at, role=role, size_pt=size_pt, anchor="middle", angle_deg=angle_deg))
    return tuple(found)


def _room(shape: BaseGeometry, across: float, up: float) -> Point | None:
    """The middle of a box of this size inside ``shape``, nearest to the shape's own middle."""
    left, low, right, high = shape.bounds
    if across > right - left or up > high - low:
        return None
    centre = (shape.centroid.x, shape.centroid.y)
    shapely.prepare(shape)
    if shape.covers(box_round(centre, across, up)):
        return centre
    steps = range(GRID_TRIES + 1)
    grid = [
        (
            left + across / 2 + (right - left - across) * i / GRID_TRIES,
            low + up / 2 + (high - low - up) * j / GRID_TRIES,
        )
        for i in steps
        for j in steps
    ]
    tries = sorted(grid, key=lambda at: (round(math.dist(at, centre), 6), at))
    return next((at for at in tries if shape.covers(box_round(at, across, up))), None)


def box_round(middle: Point, across: float, up: float) -> Shape:
    """A box with its middle at a point."""
    x, y = middle
    return shapely.box(x - across / 2, y - up / 2, x + across / 2, y + up / 2)
