"""The turning lid in pictures: closed and opened from above, what each turn uncovers, and a section along the brad."""

from __future__ import annotations

import math
from collections.abc import Callable, Sequence

import shapely
from shapely import affinity
from shapely.geometry import Polygon as Shape

from foldproof.checks.turning_evidence import Turning
from foldproof.drawing.arrows import arrow_marks
from foldproof.drawing.records import Area, FillRole, Label, Mark, Page, Path, Point, Stroke
from foldproof.drawing.type import text_width_mm
from foldproof.geometry.plane import Polygon
from foldproof.lengths import Ruler, about
from foldproof.lids.records import Turn
from foldproof.lids.turning import covering_outline
from foldproof.views.labels import TEXT_PT, stacked
from foldproof.views.lid_by_hand import cross, exact_mm
from foldproof.views.piece import mapped, rings
from foldproof.words.catalogue import ENGLISH, Language

PAD_MM = 2.0
SIZE_PT = 13.0
CIRCLE_POINTS = 48
ARC_STEP_DEG = 5.0
ARC_SHARE = 0.36  # radius of the arrow, as a share of the way from the hole to the corner across from it
MARGIN_ROOM_MM = 16.0  # under a picture, for its size or its words
CHART_MM = (22.0, 20.0)  # room at the left of the chart and below it for its words
BEST_OVER_MM, LETTERS_MM = 3.4, 4.0  # from a mark to its words, and how tall these are
CHART_STEP_DEG, CHART_STEP_PERCENT = 45, 25


# --- From above ---------------------------------------------------------------------------------------------


def closed_page(
    turning: Turning,
    colours: Sequence[FillRole],
    ruler: Ruler,
    *,
    name: str,
    alt: str,
    size: tuple[float, float],
    language: Language = ENGLISH,
) -> Page:
    """The closed lid on its box from above: the box beneath, the hole, and the margin all round it.

    ``colours`` are the fills of the layers, lowest first. ``size`` is (width, most height) in mm on paper.
    """
    box, found = turning.box, turning.analysis
    outline = Shape(covering_outline(turning.lid))
    marks: list[Mark] = list(layer_marks(turning, colours, 0.0))
    marks += [
        Stroke(path=_closed(box.rim), role="hidden", name="rim"),
        Stroke(path=_closed(box.triangle), role="hidden", name="triangle"),
    ]
    marks += hole_marks(turning)
    bare = Shape(box.rim).difference(outline)
    marks += [
        Area(paths=rings(part), role="fails", name="bare") for part in shapely.get_parts(bare) if not part.is_empty
    ]
    grown = _grown(box.rim, found.margin_mm)
    words = cover_words(found.margin_mm, ruler, language=language)
    to_page, page = _fitted(outline.union(Shape(box.rim)).bounds, size, MARGIN_ROOM_MM)
    drawn = list(mapped(marks, to_page))
    if found.margin_mm > 0.0:
        drawn.append(Stroke(path=_closed(tuple(map(to_page, grown))), role="guide", name="spare"))
    x, near = 0.55 * max(x for x, _ in box.rim), min(y for _, y in box.rim)
    a, b = to_page((x, near)), to_page((x, near - found.margin_mm))
    low = min(to_page(point)[1] for point in (*covering_outline(turning.lid), *box.rim))
    drawn += _led_down(a, b, low - 5.0, words)
    return Page(name=name, width_mm=page[0], height_mm=page[1], marks=tuple(drawn), alt=alt)


def opened_page(
    turning: Turning,
    colours: Sequence[FillRole],
    *,
    name: str,
    alt: str,
    size: tuple[float, float],
    language: Language = ENGLISH,
) -> Page:
    """The lid at its best turn from above: the free part of the opening, the triangle, and the way it turned."""
    box, hole = turning.box, turning.lid.hole
    opened = turning.analysis.opened
    turned = affinity.rotate(Shape(covering_outline(turning.lid)), opened.angle_deg, origin=hole)
    whole = turned.union(Shape(box.rim))
    free = Shape(box.opening).difference(turned)
    marks: list[Mark] = [
        Area(paths=(_closed(box.rim),), role="coloured_shade", name="rim"),
        Area(paths=(_closed(box.mouth),), role="plain_shade"),
        Area(paths=(_closed(box.triangle),), role="plain", name="triangle"),
        Stroke(path=_closed(box.mouth), role="edge"),
        Stroke(path=_closed(box.triangle), role="edge", name="triangle"),
        Stroke(path=_closed(box.rim), role="outline", name="rim"),
        *layer_marks(turning, colours, opened.angle_deg),
        Stroke(path=_closed(box.rim), role="hidden"),
        *hole_marks(turning),
    ]
    to_page, page = _fitted(whole.bounds, size, MARGIN_ROOM_MM)
    drawn = list(mapped(marks, to_page))
    drawn += _turn_arrow(turning, to_page)
    percent = language.lid.percent.format(percent=100.0 * opened.uncovered)
    parts = [part for part in shapely.get_parts(free) if isinstance(part, Shape) and part.area > 1.0]
    if parts:
        widest = max(parts, key=lambda part: part.area)
        spot = shapely.maximum_inscribed_circle(widest, tolerance=0.5)
        middle = to_page((float(spot.coords[0][0]), float(spot.coords[0][1])))
        drawn += stacked((language.lid.free.format(percent=100.0 * opened.uncovered),), middle, "size", SIZE_PT)
    text = f"{language.lid.opened.format(angle=abs(opened.angle_deg))} {_sense(opened, language=language)}: {percent}"
    drawn.append(Label(text=text, at=(page[0] / 2, PAD_MM + 3.0), role="label", size_pt=TEXT_PT, anchor="middle"))
    return Page(name=name, width_mm=page[0], height_mm=page[1], marks=tuple(drawn), alt=alt)


def cover_words(margin_mm: float, ruler: Ruler, *, language: Language = ENGLISH) -> str:
    """What is to spare, or how much too small the lid is: the figure of the proof, on the ruler and in millimetres."""
    size = exact_mm(abs(margin_mm))
    told = about(size, ruler, words=language.told.common.about)
    if ruler.unit == "in":
        told = language.lid.with_mm.format(size=told, mm=size.float_mm)
    return (language.lid.too_small if margin_mm < 0.0 else language.lid.to_spare).format(size=told)


def layer_marks(turning: Turning, colours: Sequence[FillRole], angle_deg: float) -> tuple[Mark, ...]:
    """The layers from above, lowest first, the lid turned about its hole; in the box's frame, in mm of card."""
    marks: list[Mark] = []
    for number, (layer, colour) in enumerate(zip(turning.lid.layers, colours, strict=True)):
        shape = affinity.rotate(Shape(layer.outline), angle_deg, origin=turning.lid.hole)
        marks.append(Area(paths=rings(shape), role=colour, name=layer.name))
        marks += [Stroke(path=path, role="edge" if number else "outline") for path in rings(shape)]
    return tuple(marks)


def hole_marks(turning: Turning) -> tuple[Mark, ...]:
    """The hole with its cross, in the box's frame."""
    hole, brad = turning.lid.hole, turning.lid.fastener
    ring = Path(points=circle(hole, 0.5 * brad.hole_mm), closed=True)
    return (
        Area(paths=(ring,), role="paper"),
        Stroke(path=ring, role="edge", name="hole"),
        *cross(hole, 0.5 * brad.hole_mm + 2.0),
    )


def circle(middle: Point, radius_mm: float) -> Polygon:
    """A circle as a polygon of ``CIRCLE_POINTS`` corners."""
    steps = (2.0 * math.pi * n / CIRCLE_POINTS for n in range(CIRCLE_POINTS))
    return tuple((middle[0] + radius_mm * math.cos(turn), middle[1] + radius_mm * math.sin(turn)) for turn in steps)


def _closed(points: Polygon) -> Path:
    return Path(points=points, closed=True)


def _grown(rim: Polygon, by_mm: float) -> Polygon:
    """All sides of the rim moved outwards alike."""
    return tuple((x + math.copysign(by_mm, x), y + math.copysign(by_mm, y)) for x, y in rim)


def _fitted(
    bounds: tuple[float, float, float, float], size: tuple[float, float], below_mm: float
) -> tuple[Callable[[Point], Point], tuple[float, float]]:
    """Where a drawing of these bounds goes: the way to the page, and the page's size."""
    left, low, right, high = bounds
    scale = min((size[0] - 2 * PAD_MM) / (right - left), (size[1] - 2 * PAD_MM - below_mm) / (high - low))
    page = (size[0], (high - low) * scale + 2 * PAD_MM + below_mm)
    start = (size[0] - (right - left) * scale) / 2

    def to_page(at: Point) -> Point:
        return (start + (at[0] - left) * scale, PAD_MM + below_mm + (at[1] - low) * scale)

    return to_page, page


def _led_down(a: Point, b: Point, low: float, words: str) -> list[Mark]:
    """A short upright size whose words stand below the drawing, at the end of its line."""
    ticks = [((at[0] - 1.3, at[1]), (at[0] + 1.3, at[1])) for at in (a, b)]
    lines = [(a, (b[0], low)), *ticks]
    wide = text_width_mm(words, "size", SIZE_PT)
    return [
        *(Stroke(path=Path(points=line), role="dimension") for line in lines),
        Label(text=words, at=(b[0] - wide / 2, low - 5.5), role="size", size_pt=SIZE_PT),
    ]


def _turn_arrow(turning: Turning, to_page: Callable[[Point], Point]) -> tuple[Mark, ...]:
    """The way the lid's far corner goes over the opening, as an arc about the hole."""
    hole, angle = turning.lid.hole, turning.analysis.opened.angle_deg
    radius = 2.0 * ARC_SHARE * math.hypot(*hole)
    start = math.degrees(math.atan2(-hole[1], -hole[0]))
    steps = max(2, math.ceil(abs(angle) / ARC_STEP_DEG))
    turns = (math.radians(start + angle * n / steps) for n in range(steps + 1))
    return arrow_marks(
        [tuple(to_page((hole[0] + radius * math.cos(t), hole[1] + radius * math.sin(t))) for t in turns)]
    )


def _sense(turn: Turn, *, language: Language = ENGLISH) -> str:
    return language.lid.anticlockwise if turn.angle_deg >= 0 else language.lid.clockwise


# --- What each turn uncovers --------------------------------------------------------------------------------


def curve_page(
    turning: Turning, *, name: str, alt: str, size: tuple[float, float], language: Language = ENGLISH
) -> Page:
    """Share of the opening that is free against the turn, both ways round; the best turn of each marked."""
    found = turning.analysis
    left, low = CHART_MM
    wide, tall = size[0] - left - 8.0, size[1] - low - 12.0

    def at(angle: float, share: float) -> Point:
        return (left + wide * (180.0 - angle) / 360.0, low + tall * share)  # to the left at the left

    marks: list[Mark] = []
    for percent in range(0, 101, CHART_STEP_PERCENT):
        start, end = at(-180.0, percent / 100), at(180.0, percent / 100)
        marks.append(Stroke(path=Path(points=(start, end)), role="tick" if percent == 0 else "rule"))
        marks.append(
            Label(text=f"{percent} %", at=(left - 2.0, start[1] - 1.3), role="label", size_pt=TEXT_PT, anchor="end")
        )
    for angle in range(-180, 181, CHART_STEP_DEG):
        start, end = at(angle, 0.0), at(angle, 1.0)
        marks.append(Stroke(path=Path(points=(start, (start[0], start[1] - 1.8))), role="tick"))
        if angle == 0:
            marks.append(Stroke(path=Path(points=(start, end)), role="rule"))
        text = language.lid.degrees.format(angle=abs(angle))
        marks.append(Label(text=text, at=(start[0], start[1] - 6.4), role="label", size_pt=TEXT_PT, anchor="middle"))
    line = tuple(at(turn.angle_deg, turn.uncovered) for turn in found.curve)
    marks.append(Stroke(path=Path(points=line), role="outline", name="uncovered"))
    for turn in (found.best_right, found.best_left):
        marks += _best_mark(at(turn.angle_deg, turn.uncovered), turn, low + tall, language=language)
    for text, x in ((language.lid.anticlockwise, 0.25), (language.lid.clockwise, 0.75)):
        marks.append(Label(text=text, at=(left + wide * x, low - 12.4), role="label", size_pt=TEXT_PT, anchor="middle"))
    marks += [
        Label(text=language.lid.turn_axis, at=(left + wide / 2, 2.2), role="note", size_pt=TEXT_PT, anchor="middle"),
        Label(text=language.lid.share_axis, at=(left, size[1] - 4.0), role="note", size_pt=TEXT_PT),
    ]
    return Page(name=name, width_mm=size[0], height_mm=size[1], marks=tuple(marks), alt=alt)


def _best_mark(at: Point, turn: Turn, top: float, *, language: Language = ENGLISH) -> list[Mark]:
    """A ring at the best turn, and its figures over it on the inner side, clear of the chart's top line."""
    x, y = at
    at_left = turn.angle_deg >= 0
    text = language.lid.best.format(percent=100.0 * turn.uncovered, angle=abs(turn.angle_deg))
    ring = Path(points=circle(at, 1.5), closed=True)
    over = y + BEST_OVER_MM
    if top - LETTERS_MM < over < top + 1.4:
        over = top + 1.4
    return [
        Area(paths=(ring,), role="paper"),
        Stroke(path=ring, role="outline", name="best"),
        Label(
            text=text,
            at=(x + (1.0 if at_left else -1.0), over),
            role="size",
            size_pt=TEXT_PT,
            anchor="start" if at_left else "end",
        ),
    ]
