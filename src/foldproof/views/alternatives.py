"""Lids of another shape on paper: the table of them, a page for each, and how a polygon is stepped out by compass."""

from __future__ import annotations

import math
from dataclasses import dataclass
from fractions import Fraction

from foldproof.drawing.records import (
    Block,
    Heading,
    Listing,
    Mark,
    Page,
    Paragraph,
    Path,
    Picture,
    Point,
    Stroke,
    Table,
)
from foldproof.geometry.plane import Polygon
from foldproof.lengths import Length, Ruler, length, round_to
from foldproof.views.lid_by_hand import cross, sized

PAD_MM = 4.0
MOST_MM = 74.0  # drawn width of the circle: it stands beside nothing, and is read at arm's length
CIRCLE_POINTS = 96
TICK_HALF_RAD = math.radians(7.0)  # of the compass's arc either side of each mark, seen from the mark before it
ARC_POINTS = 9
PLACES = 4  # of a millimetre


@dataclass(frozen=True, slots=True, kw_only=True)
class Steps:
    """A polygon by compass: its circle's radius, the step on the ruler, and by how much the last one misses.

    ``gap_mm`` is the way along the circle from the first mark to the last step's end: less than nothing is short.
    """

    radius: Length
    chord: Length
    count: int
    gap_mm: float


@dataclass(frozen=True, slots=True, kw_only=True)
class ToldAlternative:
    """One alternative in words and pictures. ``not_proved`` is a sentence, "" for one that is proved.

    ``ways`` find the hole, each with its sentences in order; ``drawing`` shows how the shape is drawn, if it can be.
    """

    title: str
    row: tuple[str, ...]
    not_proved: str
    closed: Page
    make: str
    making: tuple[str, ...]
    drawing: Page | None
    layers_title: str
    layer_columns: tuple[str, ...]
    layers: tuple[tuple[str, ...], ...]
    hole: str
    hole_notes: tuple[str, ...]
    ways: tuple[tuple[str, tuple[str, ...]], ...]


@dataclass(frozen=True, slots=True, kw_only=True)
class ToldAlternatives:
    """All of them: heading, introduction, the columns of their table."""

    title: str
    intro: tuple[str, ...]
    columns: tuple[str, ...]
    each: tuple[ToldAlternative, ...]

    @property
    def pages(self) -> tuple[Page, ...]:
        """Every picture, in order."""
        return tuple(page for one in self.each for page in (one.closed, one.drawing) if page is not None)


def alternatives_table(told: ToldAlternatives) -> tuple[Block, ...]:
    """Heading, introduction and the table, one row for each."""
    return (
        Heading(text=told.title, level=1),
        *(Paragraph(text=text) for text in told.intro),
        Table(title="", columns=told.columns, rows=tuple(one.row for one in told.each)),
    )


def alternative_blocks(told: ToldAlternative, *, level: int = 1) -> tuple[Block, ...]:
    """One alternative: from above on its box, how it is cut, its layers, where its hole goes."""
    blocks: list[Block] = [Heading(text=told.title, level=1 if level == 1 else 2)]
    if told.not_proved:
        blocks.append(Paragraph(text=told.not_proved, kind="not_proved"))
    blocks += [Picture(page=told.closed), Heading(text=told.make, level=2), Listing(items=told.making, numbered=True)]
    if told.drawing is not None:
        blocks.append(Picture(page=told.drawing))
    blocks += [
        Heading(text=told.layers_title, level=2),
        Table(title="", columns=told.layer_columns, rows=told.layers),
        Heading(text=told.hole, level=2),
        *(Paragraph(text=text) for text in told.hole_notes),
    ]
    for way, sentences in told.ways:
        blocks += [Paragraph(text=f"{way}:"), Listing(items=sentences, numbered=True)]
    return tuple(blocks)


# --- By compass ---------------------------------------------------------------------------------------------


def stepped_out(across: Length, count: int, ruler: Ruler) -> Steps:
    """A polygon of ``count`` equal sides in a circle of diameter ``across``: its chord brought to the ruler.

    A chord c of a circle of radius r spans twice asin(c / 2 r) (Euclid III.14 with the sine as half the chord of
    twice the angle).
    """
    radius = across / 2
    exact = across.float_mm * math.sin(math.pi / count)
    chord = round_to(length(Fraction(str(round(exact, PLACES))), "mm"), ruler).shown
    spanned = count * 2.0 * math.asin(min(1.0, chord.float_mm / across.float_mm))
    return Steps(radius=radius, chord=chord, count=count, gap_mm=(spanned - 2.0 * math.pi) * radius.float_mm)


def compass_page(steps: Steps, words: tuple[str, str], *, name: str, alt: str, width_mm: float) -> Page:
    """The circle, a compass's arc at each mark, and the sides; ``words`` are its radius and its chord."""
    size = min(MOST_MM, width_mm - 2 * PAD_MM)
    radius, middle = 0.5 * size, (0.5 * width_mm, PAD_MM + 0.5 * size)
    turn = 2.0 * math.pi / steps.count
    # The first side lies at the near edge, so that its size can be read.
    corners = tuple(_at(middle, radius, turn * (n - 0.5) - 0.5 * math.pi) for n in range(steps.count))
    circle = tuple(_at(middle, radius, 2.0 * math.pi * n / CIRCLE_POINTS) for n in range(CIRCLE_POINTS))
    marks: list[Mark] = [
        Stroke(path=Path(points=circle, closed=True), role="guide", name="circle"),
        Stroke(path=Path(points=corners, closed=True), role="cut", name="sides"),
        *cross(middle),
    ]
    for before, corner in zip((corners[-1], *corners[:-1]), corners, strict=True):
        marks.append(Stroke(path=Path(points=_arc(before, corner)), role="guide", name="step"))
    marks += sized(middle, corners[steps.count // 2], words[0], ratio=0.5)
    marks += sized(corners[0], corners[1], words[1], ratio=0.5, away=(0.0, 1.0))
    return Page(name=name, width_mm=width_mm, height_mm=size + 2 * PAD_MM, marks=tuple(marks), alt=alt)


def _at(middle: Point, radius: float, bearing_rad: float) -> Point:
    return (middle[0] + radius * math.cos(bearing_rad), middle[1] + radius * math.sin(bearing_rad))


def _arc(middle: Point, through: Point) -> Polygon:
    radius, bearing = math.dist(middle, through), math.atan2(through[1] - middle[1], through[0] - middle[0])
    step = 2.0 * TICK_HALF_RAD / (ARC_POINTS - 1)
    return tuple(_at(middle, radius, bearing - TICK_HALF_RAD + n * step) for n in range(ARC_POINTS))
