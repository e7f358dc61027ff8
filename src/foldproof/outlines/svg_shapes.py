"""The basic shapes of an SVG as lines with segments, like those of its paths.

Source: W3C, Scalable Vector Graphics (SVG) 2, "Basic Shapes".
"""

from __future__ import annotations

import math
from xml.etree.ElementTree import Element

from foldproof.geometry.plane import Point
from foldproof.outlines.budget import Budget
from foldproof.outlines.svg_path import Arc, Segment, SubPath, sub_paths
from foldproof.outlines.svg_values import numbers_of, px_of, unusable

BASIC = ("path", "rect", "circle", "ellipse", "line", "polyline", "polygon")


def lines_of(element: Element, viewport: Point, budget: Budget) -> list[SubPath]:
    """The lines of a basic shape or path, in user units; none when a size of nothing keeps it from being drawn.

    ``viewport``: width and height that percentages are of. Raises InputError when a value cannot be read.
    """
    match element.tag:
        case "path":
            return sub_paths(element.get("d", ""), budget)
        case "rect":
            return _rect(element, viewport)
        case "circle" | "ellipse":
            return _round(element, viewport)
        case "line":
            across, up = viewport
            start = (_length(element, "x1", across), _length(element, "y1", up))
            end = (_length(element, "x2", across), _length(element, "y2", up))
            return [SubPath(start=start, segments=(end,), closed=False)]
        case _:
            return _through_points(element, budget)


def _length(element: Element, name: str, whole: float, usual: float = 0.0) -> float:
    text = element.get(name)
    return usual if text is None or text.strip() in ("", "auto") else px_of(text, whole)


def _size(element: Element, name: str, whole: float, usual: float = 0.0) -> float:
    size = _length(element, name, whole, usual)
    if size < 0.0:
        raise unusable(element.get(name, ""), f"has a {name} less than nothing")
    return size


def _through_points(element: Element, budget: Budget) -> list[SubPath]:
    numbers = numbers_of(element.get("points", ""), budget)
    if len(numbers) % 2:
        raise unusable(element.get("points", ""), "has points of which one lacks its second number")
    points = [(numbers[n], numbers[n + 1]) for n in range(0, len(numbers), 2)]
    if len(points) < 2:
        return []
    return [SubPath(start=points[0], segments=tuple(points[1:]), closed=element.tag == "polygon")]


def _rect(element: Element, viewport: Point) -> list[SubPath]:
    across, up = viewport
    left, top = _length(element, "x", across), _length(element, "y", up)
    width, height = _size(element, "width", across), _size(element, "height", up)
    if width == 0.0 or height == 0.0:
        return []
    # A corner radius that is not given is as the other one; none is more than half the side.
    given_x, given_y = element.get("rx"), element.get("ry")
    rx = _size(element, "rx", across) if given_x else (_size(element, "ry", up) if given_y else 0.0)
    ry = _size(element, "ry", up) if given_y else rx
    rx, ry = min(rx, width / 2.0), min(ry, height / 2.0)
    right, bottom = left + width, top + height
    if rx == 0.0 or ry == 0.0:
        return [SubPath(start=(left, top), segments=((right, top), (right, bottom), (left, bottom)), closed=True)]
    segments: tuple[Segment, ...] = (
        (right - rx, top),
        _quarter((right - rx, top + ry), rx, ry, -1),
        (right, bottom - ry),
        _quarter((right - rx, bottom - ry), rx, ry, 0),
        (left + rx, bottom),
        _quarter((left + rx, bottom - ry), rx, ry, 1),
        (left, top + ry),
        _quarter((left + rx, top + ry), rx, ry, 2),
    )
    return [SubPath(start=(left + rx, top), segments=segments, closed=True)]


def _quarter(middle: Point, rx: float, ry: float, number: int) -> Arc:
    start, end = number * math.pi / 2.0, (number + 1) * math.pi / 2.0
    return Arc(
        middle=middle,
        one=(rx, 0.0),
        other=(0.0, ry),
        start_rad=start,
        sweep_rad=math.pi / 2.0,
        end=(middle[0] + rx * round(math.cos(end)), middle[1] + ry * round(math.sin(end))),
    )


def _round(element: Element, viewport: Point) -> list[SubPath]:
    across, up = viewport
    middle = (_length(element, "cx", across), _length(element, "cy", up))
    if element.tag == "circle":
        rx = ry = _size(element, "r", math.hypot(across, up) / math.sqrt(2.0))
    else:
        rx = _size(element, "rx", across, _size(element, "ry", up))
        ry = _size(element, "ry", up, rx)
    if rx == 0.0 or ry == 0.0:
        return []
    start = (middle[0] + rx, middle[1])
    turn = Arc(
        middle=middle, one=(rx, 0.0), other=(0.0, ry), start_rad=0.0, sweep_rad=math.tau, end=start
    )
    return [SubPath(start=start, segments=(turn,), closed=True)]
