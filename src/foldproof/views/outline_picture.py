"""Pictures of an outline that was read, for checking by eye: over a ruler, or all shapes of a drawing with numbers."""

from __future__ import annotations

import math

from foldproof.drawing.records import Area, Label, LineRole, Mark, Page, Path, Stroke
from foldproof.geometry.outline import largest_disc, points_of
from foldproof.geometry.plane import Point, Polygon, centre, is_simple
from foldproof.outlines.own import OwnShape

LEFT_MM, BELOW_MM, RIGHT_MM, ABOVE_MM = 16.0, 14.0, 8.0, 16.0  # room round the drawing, for ruler and title
TICKS = ((1.0, 1.6), (5.0, 2.6), (10.0, 4.0))  # every so many mm a tick of that length
MOST_FINE_MM = 320.0  # a larger drawing has no ticks for single mm
STEP_MM = 10.0  # between numbered ticks and between the lines across
RULER_PT, NAME_PT, TITLE_PT, NUMBER_PT = 8.0, 8.0, 13.0, 16.0
MARK_MM, CROSS_MM = 1.2, 3.0
MOST_NAMED = 24  # landmarks with their names; more would hide the outline
PAGE, UNIT = "outline", "mm"

TITLE = "{name}: {size:.1f} mm across"
FOUND = "{count} shapes: which one is meant?"
ALT = "The outline of {name} over a ruler in millimetres, {width:.1f} by {height:.1f} mm, {points} points."
ALT_FOUND = "{count} shapes of a drawing, numbered from the largest."


def outline_page(shape: OwnShape, read: Polygon, kept: Polygon) -> Page:
    """The shape at true size over a ruler in mm from the lower left corner, as cuts of ``--trim`` are measured.

    ``read`` is the outline before it was trimmed, ``kept`` what was left in the same place; where both are the same
    only the shape is drawn.
    """
    width, height = _box(read)
    middle = centre(kept)  # a shape has its centre of area at the origin
    marks = [*_ruler(width, height)]
    if read != kept:
        marks.append(Stroke(path=_shifted(read, (0.0, 0.0)), role="hidden", name="before it was trimmed"))
    outline = _shifted(shape.outline, middle)
    marks += [Area(paths=(outline,), role="coloured"), Stroke(path=outline, role="cut", name=shape.name)]
    marks += _cross(middle)
    for landmark in shape.landmarks:
        at = (landmark.at_mm[0] + middle[0], landmark.at_mm[1] + middle[1])
        marks.append(_dot(at))
        if len(shape.landmarks) <= MOST_NAMED:
            marks.append(_named(landmark.name, at, middle))
    size = shape.across_mm
    return _page(
        marks,
        (width, height),
        title=TITLE.format(name=shape.name, size=size),
        alt=ALT.format(name=shape.name, width=width, height=height, points=len(shape.outline)),
    )


def found_page(outlines: tuple[Polygon, ...]) -> Page:
    """All shapes of a drawing in their places, each with its number."""
    width = max(x for outline in outlines for x, _ in outline)
    height = max(y for outline in outlines for _, y in outline)
    marks = _ruler(width, height)
    for outline in outlines:
        marks.append(Stroke(path=Path(points=outline, closed=True), role="cut"))
    for number, outline in enumerate(outlines, start=1):
        x, y = largest_disc(points_of(outline))[0] if is_simple(outline) else outline[0]
        marks.append(Label(text=str(number), at=(x, y - 2.0), role="heading", size_pt=NUMBER_PT, anchor="middle"))
    count = len(outlines)
    return _page(marks, (width, height), title=FOUND.format(count=count), alt=ALT_FOUND.format(count=count))


def _page(marks: list[Mark], size: tuple[float, float], *, title: str, alt: str) -> Page:
    width, height = (_whole_steps(side) for side in size)
    moved = [_moved(mark, (LEFT_MM, BELOW_MM)) for mark in marks]
    heading = Label(text=title, at=(LEFT_MM, BELOW_MM + height + 7.0), role="title", size_pt=TITLE_PT)
    return Page(
        name=PAGE,
        width_mm=max(width + LEFT_MM + RIGHT_MM, 90.0),
        height_mm=height + BELOW_MM + ABOVE_MM,
        marks=(*moved, heading),
        alt=alt,
    )


def _moved(mark: Mark, by: Point) -> Mark:
    if isinstance(mark, Stroke):
        return Stroke(path=_shifted(mark.path.points, by, mark.path.closed), role=mark.role, name=mark.name)
    if isinstance(mark, Area):
        paths = tuple(_shifted(path.points, by, path.closed) for path in mark.paths)
        return Area(paths=paths, role=mark.role, name=mark.name)
    at = (mark.at[0] + by[0], mark.at[1] + by[1])
    return Label(text=mark.text, at=at, role=mark.role, size_pt=mark.size_pt, anchor=mark.anchor)


def _shifted(points: tuple[Point, ...], by: Point, closed: bool = True) -> Path:
    return Path(points=tuple((x + by[0], y + by[1]) for x, y in points), closed=closed)


def _box(outline: Polygon) -> tuple[float, float]:
    return max(x for x, _ in outline), max(y for _, y in outline)


def _ruler(width: float, height: float) -> list[Mark]:
    """Lines across every 10 mm, and ticks with numbers along the lower and the left side."""
    marks: list[Mark] = []
    right, top = _whole_steps(width), _whole_steps(height)
    marks.append(Label(text=UNIT, at=(-5.0, -7.4), role="note", size_pt=RULER_PT, anchor="end"))
    for axis, length, across in ((0, right, top), (1, top, right)):
        for at in range(round(length / STEP_MM) + 1):
            place = at * STEP_MM
            marks.append(_line(axis, place, 0.0, across, "rule"))
            label_at = (place, -7.4) if axis == 0 else (-5.0, place - 1.0)
            anchor = "middle" if axis == 0 else "end"
            marks.append(
                Label(text=f"{place:.0f}", at=label_at, role="note", size_pt=RULER_PT, anchor=anchor)  # type: ignore[arg-type]
            )
        for step, long in TICKS if max(width, height) <= MOST_FINE_MM else TICKS[1:]:
            marks += [_line(axis, n * step, -long, 0.0, "tick") for n in range(int(length / step) + 1)]
    return marks


def _whole_steps(side: float) -> float:
    """A side of the drawing as the ruler beside it shows it."""
    return STEP_MM * math.ceil(side / STEP_MM)


def _line(axis: int, place: float, start: float, end: float, role: LineRole) -> Stroke:
    points = ((place, start), (place, end)) if axis == 0 else ((start, place), (end, place))
    return Stroke(path=Path(points=points), role=role)


def _cross(at: Point) -> list[Mark]:
    (x, y), half = at, 0.5 * CROSS_MM
    lines = (((x - half, y), (x + half, y)), ((x, y - half), (x, y + half)))
    return [Stroke(path=Path(points=line), role="guide") for line in lines]


def _dot(at: Point) -> Area:
    (x, y), half = at, 0.5 * MARK_MM
    square = Path(
        points=((x - half, y - half), (x + half, y - half), (x + half, y + half), (x - half, y + half)), closed=True
    )
    return Area(paths=(square,), role="ink")


def _named(name: str, at: Point, middle: Point) -> Label:
    """A landmark's name, from the outline towards the middle, where there is room."""
    away = math.hypot(at[0] - middle[0], at[1] - middle[1]) or 1.0
    x, y = (at[k] + (middle[k] - at[k]) / away * 5.0 for k in (0, 1))
    return Label(text=name, at=(x, y - 1.0), role="note", size_pt=NAME_PT, anchor="middle")
