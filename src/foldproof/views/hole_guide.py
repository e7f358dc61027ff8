"""The hole guide: laid on the lid's back, in true size, and the same place in numbers for those who do not print.

The guide shows what is seen from the back: the box's frame mirrored, x to -x, the front still near the reader. Text
is set after mirroring, so it reads as it should.
"""

from __future__ import annotations

import dataclasses
import math
from collections.abc import Sequence
from dataclasses import dataclass

import numpy as np
from shapely.geometry import Polygon as Shape

from foldproof.checks.turning_evidence import Turning, closed_turn_rad
from foldproof.constructions.turning_lid import TurningLidValues, closed_shift, lid_shape
from foldproof.drawing.records import Label, Mark, Page, Path, Point, Stroke
from foldproof.geometry.plane import Polygon
from foldproof.lengths import Ruler, in_words
from foldproof.lids.holes import HOLE
from foldproof.lids.records import TurningBox
from foldproof.lids.turning import covering_outline
from foldproof.outlines.record import Shape as OutlineShape
from foldproof.stock.sheets import SheetSize
from foldproof.views.labels import TEXT_PT, label_box, line_mm, stacked, wrapped
from foldproof.views.lid_by_hand import exact_mm, hand_block, mirrored
from foldproof.views.paper import Drawn, Leaf, header, lines_of, printer_paper, told_alt
from foldproof.views.piece import HOLE_SIDES, mapped
from foldproof.views.templates import (
    FOOTER_MM,
    HEADER_MM,
    LEGEND_TALL_MM,
    MARGIN_MM,
    RULER_IN_MM,
    RULER_WORDS_MM,
    Layout,
    join_marks,
    layout_of,
    legend_beside,
    registration_marks,
    rulers,
    sheet_header,
    window_corner,
)
from foldproof.views.tiling import OVERLAP_MM, Window, clipped, windows
from foldproof.words.catalogue import ENGLISH, Language

TITLE_PT = 14.5
ASIDE_MM = 46.0  # the narrowest column beside the guide in which its steps can be read
GAP_MM = 5.0
CROSS_ARM_MM = 7.0
CROSS_CLEAR_MM = 0.8  # the cross stops so far from the hole, and leaves the star free
STAR_SLITS = 3
SLIT = "slit"
MIDDLE_SHARE = 0.15  # of half the box, off its middle, for the words on the guide
TIP_TICK_MM = 3.0  # marks at the tips, inwards from the outline


def closed_tips(values: TurningLidValues, box: TurningBox, across_mm: float) -> tuple[Point, ...]:
    """The tips of the closed lid's lowest layer, in the box's frame; none for a shape without tips."""
    shape = lid_shape(values, across_mm)
    turn = lowest_turn_rad(values, shape, box)
    cosine, sine = math.cos(turn), math.sin(turn)
    aside, behind = closed_shift(values)
    marks = [mark.at_mm for mark in shape.landmarks if mark.kind == "tip"]
    return tuple((x * cosine - y * sine + aside, x * sine + y * cosine + behind) for x, y in marks)


def lowest_turn_rad(values: TurningLidValues, shape: OutlineShape, box: TurningBox) -> float:
    """How far the lowest layer is turned when the lid is closed, its own turn counted."""
    own = values.layers[0].turned
    return closed_turn_rad(values, shape, box) + (math.radians(own) if isinstance(own, float) else 0.0)


def hole_guide_page(
    turning: Turning,
    tips: Sequence[Point],
    ruler: Ruler,
    other_ruler: Ruler,
    project_name: str,
    title: str,
    paper: SheetSize | None = None,
    *,
    sight: tuple[str, ...] = (),
    not_proved: bool = False,
    in_class: bool = False,
    language: Language = ENGLISH,
) -> tuple[Page, ...]:
    """The guide in true size with both rulers, and the way by hand: on one page, or on sheets and leaves of words.

    ``tips`` are points of the closed lid in the box's frame; ``title`` is the lid's name as a heading. ``sight`` are
    sentences that find the hole by what can be seen on the lid. ``paper`` is the
    printer's; without it Letter goes with inches and A4 with centimetres.
    """
    leaf = Leaf(
        paper=paper or printer_paper(ruler.unit),
        margin_mm=MARGIN_MM,
        project_name=project_name,
        title=title,
        kind=language.lid.guide,
        not_proved=not_proved,
        in_class=in_class,
    )
    marks = guide_marks(turning, tips)
    words = _Words(turning=turning, ruler=ruler, other=other_ruler, sight=sight, language=language)
    single = _single(words, marks, leaf, language=language)
    if single is not None:
        return (single,)
    layout = layout_of(Shape(mirrored(covering_outline(turning.lid))), leaf, language=language)
    told = _words_pages(words, leaf, len(layout.windows), language=language)
    pages = len(layout.windows) + len(told)
    sheets = (
        _sheet(turning, marks, leaf, layout, window, number, pages, language=language)
        for number, window in enumerate(layout.windows, start=1)
    )
    return (*sheets, *told)


def guide_marks(turning: Turning, tips: Sequence[Point]) -> tuple[Mark, ...]:
    """The guide in its own frame: the box's, mirrored. Names: lid, rim, triangle, tip, cross and hole."""
    box, lid = turning.box, turning.lid
    outline = mirrored(covering_outline(lid))
    marks: list[Mark] = [
        Stroke(path=Path(points=outline, closed=True), role="outline", name="lid"),
        Stroke(path=Path(points=mirrored(box.rim), closed=True), role="hidden", name="rim"),
        Stroke(path=Path(points=mirrored(box.triangle), closed=True), role="hidden", name="triangle"),
    ]
    for x, y in tips:
        reach = math.hypot(x, y)
        inner = 1.0 - TIP_TICK_MM / reach
        marks.append(Stroke(path=Path(points=((-x, y), (-x * inner, y * inner))), role="guide", name="tip"))
    hx, hy = -lid.hole[0], lid.hole[1]
    radius = 0.5 * lid.fastener.hole_mm
    arm, start = max(CROSS_ARM_MM, radius + 4.0), radius + CROSS_CLEAR_MM
    for ux, uy in ((1.0, 0.0), (-1.0, 0.0), (0.0, 1.0), (0.0, -1.0)):
        line = ((hx + start * ux, hy + start * uy), (hx + arm * ux, hy + arm * uy))
        marks.append(Stroke(path=Path(points=line), role="edge", name="cross"))
    marks += star((hx, hy), lid.fastener.hole_mm)
    turns = np.linspace(0.0, 2.0 * math.pi, HOLE_SIDES, endpoint=False).tolist()
    ring: Polygon = tuple((hx + radius * math.cos(turn), hy + radius * math.sin(turn)) for turn in turns)
    marks.append(Stroke(path=Path(points=ring, closed=True), role="cut", name=HOLE))
    return tuple(marks)


def star(middle: Point, across_mm: float) -> tuple[Mark, ...]:
    """Short slits through the hole's middle, as long as it is wide: cut first, to try the turn. Punching takes them."""
    half = 0.5 * across_mm
    turns = (math.pi * (0.5 + n) / STAR_SLITS for n in range(STAR_SLITS))
    ends = ((half * math.cos(turn), half * math.sin(turn)) for turn in turns)
    lines = (((middle[0] - x, middle[1] - y), (middle[0] + x, middle[1] + y)) for x, y in ends)
    return tuple(Stroke(path=Path(points=line), role="cut", name=SLIT) for line in lines)


def _guide_labels(turning: Turning, *, language: Language = ENGLISH) -> list[Label]:
    """What stands on the guide: in its middle which side is up, the box's corner at the hole, and the front."""
    box, hole = turning.box, (-turning.lid.hole[0], turning.lid.hole[1])
    near = min(y for _, y in box.rim)
    half = max(x for x, _ in box.rim)
    middle = -math.copysign(MIDDLE_SHARE * abs(near), hole[1])  # away from the hole
    aside = -math.copysign(CROSS_ARM_MM + 2.5, hole[0])
    lines = wrapped(language.lid.guide_swapped, "label", TEXT_PT, 1.4 * half)
    return [
        Label(text=language.lid.front, at=(0.0, near + 2.2), role="size", size_pt=TEXT_PT, anchor="middle"),
        Label(
            text=language.lid.corner.format(place=language.place(box.place)),
            at=(hole[0] + aside, hole[1] - 1.3),
            role="size",
            size_pt=TEXT_PT,
            anchor="end" if aside < 0 else "start",
        ),
        *stacked((language.lid.guide_inside,), (0.0, middle), "size", TEXT_PT),
        *stacked(lines, (0.0, middle - line_mm(TEXT_PT) * (0.5 + 0.5 * len(lines))), "label", TEXT_PT),
    ]


# --- Everything on one page ---------------------------------------------------------------------------------


@dataclass(frozen=True, slots=True, kw_only=True)
class _Words:
    """What the guide's sentences are written from: the lid, both rulers, and how the hole is found by sight."""

    turning: Turning
    ruler: Ruler
    other: Ruler
    sight: tuple[str, ...]
    language: Language

    def steps(self, left: float, top: float, width_mm: float, *, tiled: bool = False) -> Drawn:
        """The steps with the printed guide."""
        return _steps(self.turning, self.ruler, self.other, left, top, width_mm, tiled=tiled, language=self.language)

    def hand(self, left: float, top: float, width_mm: float) -> Drawn:
        """The ways without a printer."""
        return hand_block(self.turning, self.ruler, self.other, left, top, width_mm, self.sight, language=self.language)


def _single(words: _Words, marks: Sequence[Mark], leaf: Leaf, *, language: Language = ENGLISH) -> Page | None:
    """Guide, steps and numbers on one page; None where they have no room."""
    turning = words.turning
    outline = Shape(mirrored(covering_outline(turning.lid)))
    left, low, right, high = outline.bounds
    wide, tall = right - left, high - low
    layout = Layout(turned=False, windows=windows(outline, wide, tall), header_mm=HEADER_MM, gutter_mm=0.0)
    window = layout.windows[0]
    top = window_corner(leaf, layout, language=language)[1]
    if wide > leaf.width_mm:
        return None
    beside = leaf.width_mm - wide - 2 * GAP_MM >= ASIDE_MM
    steps_left = leaf.margin_mm + (wide + 2 * GAP_MM if beside else 0.0)
    steps_top = top - (0.0 if beside else tall + GAP_MM)
    steps = words.steps(steps_left, steps_top, leaf.margin_mm + leaf.width_mm - steps_left)
    under = top - max(tall, steps.height_mm) if beside else steps_top - steps.height_mm
    hand = words.hand(leaf.margin_mm, under - GAP_MM, leaf.width_mm)
    if under - GAP_MM - hand.height_mm < leaf.margin_mm + FOOTER_MM + (1.0 if legend_beside(leaf) else LEGEND_TALL_MM):
        return None
    start = leaf.margin_mm + (0.0 if beside else (leaf.width_mm - wide) / 2)
    shift = (start - left, top - high)

    def to_page(at: Point) -> Point:
        return (at[0] + shift[0], at[1] + shift[1])

    content = mapped((*marks, *_guide_labels(turning, language=language)), to_page)
    return _page(
        leaf,
        (
            *sheet_header(leaf, layout, window, 1, outline, language=language),
            *content,
            *steps.marks,
            *hand.marks,
            *_footer(leaf, language=language),
        ),
        language.lid.alt_guide.format(title=leaf.title, tile=window.name, page=1, pages=1),
        window.name,
        language=language,
    )


def _steps(
    turning: Turning,
    ruler: Ruler,
    other: Ruler,
    left: float,
    top: float,
    width_mm: float,
    *,
    tiled: bool = False,
    language: Language = ENGLISH,
) -> Drawn:
    """The steps with the printed guide."""
    heading = lines_of(language.lid.guide_way, left, top, width_mm, "heading", TITLE_PT)
    marks = [*heading.marks]
    below = top - heading.height_mm - 1.5
    hole = exact_mm(turning.lid.fastener.hole_mm)
    size = f"{in_words(hole, ruler)} ({in_words(hole, other)})"
    steps = (language.lid.guide_join, *language.lid.guide_steps) if tiled else language.lid.guide_steps
    for number, text in enumerate(steps, start=1):
        told = text.format(hole=size, fastener=language.term(turning.lid.fastener.kind))
        said = lines_of(f"{number}. {told}", left, below, width_mm, "label", TEXT_PT)
        marks += said.marks
        below -= said.height_mm + 2.0
    return Drawn(marks=tuple(marks), height_mm=top - below)


def _footer(leaf: Leaf, *, language: Language = ENGLISH) -> tuple[Mark, ...]:
    left, low = leaf.margin_mm + RULER_IN_MM + RULER_WORDS_MM, leaf.margin_mm + 6.0
    if not legend_beside(leaf):
        left, low = leaf.margin_mm, leaf.margin_mm + FOOTER_MM + 2.0
    words = Label(text=language.lid.legend_hidden, at=(left + 11.0, low), role="label", size_pt=TEXT_PT)
    line = Stroke(path=Path(points=((left, low + 1.3), (left + 9.0, low + 1.3))), role="hidden")
    return (*rulers(leaf.margin_mm, leaf.margin_mm, language=language), line, words)


def _page(leaf: Leaf, marks: tuple[Mark, ...], alt: str, tile: str, *, language: Language = ENGLISH) -> Page:
    return Page(
        name=f"hole-guide-{tile}",
        width_mm=leaf.paper.width.float_mm,
        height_mm=leaf.paper.height.float_mm,
        marks=marks,
        alt=told_alt(leaf, alt, language=language),
    )


# --- On more than one ---------------------------------------------------------------------------------------


def _sheet(
    turning: Turning,
    marks: Sequence[Mark],
    leaf: Leaf,
    layout: Layout,
    window: Window,
    number: int,
    pages: int,
    *,
    language: Language = ENGLISH,
) -> Page:
    corner = window_corner(leaf, layout, language=language)
    shift = (corner[0] - window.left, corner[1] - window.high)

    def to_page(at: Point) -> Point:
        return (at[0] + shift[0], at[1] + shift[1])

    inner = window.shape.buffer(-(OVERLAP_MM if layout.tiled else 0.0), join_style="mitre")
    labels = [label for label in _guide_labels(turning, language=language) if inner.covers(_box(label))]
    join = mapped(registration_marks(window), to_page) if layout.tiled else ()
    outline = Shape(mirrored(covering_outline(turning.lid)))
    return _page(
        leaf,
        (
            *sheet_header(leaf, layout, window, number, outline, pages - len(layout.windows), language=language),
            *mapped(clipped(marks, window), to_page),
            *mapped(labels, to_page),
            *join,
            *join_marks(window, corner, language=language),
            *_footer(leaf, language=language),
        ),
        language.lid.alt_guide.format(title=leaf.title, tile=window.name, page=number, pages=pages),
        window.name,
        language=language,
    )


def _box(label: Label) -> Shape:
    left, low, right, high = label_box(label)
    return Shape(((left, low), (right, low), (right, high), (left, high)))


def _words_pages(words: _Words, leaf: Leaf, sheets: int, *, language: Language = ENGLISH) -> tuple[Page, ...]:
    """What the guide's sheets have no room for; the way by sight on a leaf of its own where the paper is small."""
    parted = bool(words.sight) and _words_on(words, leaf, sheets, 1, language=language)[1] < leaf.margin_mm
    if not parted:
        return (_words_on(words, leaf, sheets, 1, language=language)[0],)
    first, _ = _words_on(dataclasses.replace(words, sight=()), leaf, sheets, 2, language=language)
    pages = sheets + 2
    above = header(leaf, pages, pages, language=language)
    top = leaf.top_mm - above.height_mm - 2.0
    marks = [
        *above.marks,
        *lines_of(language.lid.sight_way, leaf.margin_mm, top, leaf.width_mm, "heading", TITLE_PT).marks,
    ]
    top -= 2.0 * line_mm(TITLE_PT)
    for text in words.sight:
        said = lines_of(text, leaf.margin_mm, top, leaf.width_mm, "label", TEXT_PT)
        marks += said.marks
        top -= said.height_mm + 2.0
    alt = language.lid.alt_hand.format(title=leaf.title, page=pages, pages=pages)
    return (first, _page(leaf, tuple(marks), alt, "sight", language=language))


def _words_on(
    words: _Words, leaf: Leaf, sheets: int, leaves: int, *, language: Language = ENGLISH
) -> tuple[Page, float]:
    """The leaf with steps and pictures, the first of ``leaves`` after the sheets; and how far down it is written."""
    page, pages = sheets + 1, sheets + leaves
    above = header(leaf, page, pages, language=language)
    top = leaf.top_mm - above.height_mm - 2.0
    steps = words.steps(leaf.margin_mm, top, leaf.width_mm, tiled=sheets > 1)
    below = top - steps.height_mm - GAP_MM
    hand = words.hand(leaf.margin_mm, below, leaf.width_mm)
    alt = language.lid.alt_hand.format(title=leaf.title, page=page, pages=pages)
    return _page(
        leaf, (*above.marks, *steps.marks, *hand.marks), alt, "words", language=language
    ), below - hand.height_mm
