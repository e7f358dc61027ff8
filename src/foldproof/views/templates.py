"""Templates at true size: the piece on the printer's paper, in as few sheets as it takes, with both rulers."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass

import shapely
from shapely.geometry import Polygon as Shape
from shapely.geometry.base import BaseGeometry

from foldproof.drawing.records import Area, Label, Mark, Page, Path, Point, Stroke
from foldproof.drawing.style import MM_PER_PT
from foldproof.drawing.type import text_width_mm
from foldproof.pattern.measured import MeasuredPiece
from foldproof.pattern.records import Polygon
from foldproof.stock.sheets import SheetSize
from foldproof.views.labels import ASCENT, TEXT_PT, label_box, set_inside, shortened
from foldproof.views.paper import Leaf, LegendKey, legend, notice, project_line, told_alt
from foldproof.views.piece import (
    mapped,
    on_paper,
    panel_name,
    panels_of,
    piece_marks,
    piece_title,
    rings,
    round_holes,
)
from foldproof.views.tiling import OVERLAP_MM, Window, clipped, windows
from foldproof.words.catalogue import ENGLISH, Language

MARGIN_MM = 8.0  # printers for the home cannot ink closer to the edge than about 6 mm
HEADER_MM = 17.0  # title and the print note
OVERVIEW_MM = 24.0  # the header's height where it carries the small picture of all sheets
FOOTER_MM = 15.0  # both rulers, and the legend beside them
LEGEND_MM = 62.0  # width the legend needs; on narrow paper it stands above the rulers
LEGEND_TALL_MM = 13.0
GUTTER_MM = 6.0  # between a window and the margin, for the words that say what joins there
TITLE_PT = 18.0
RULER_MM, RULER_IN_MM = 100.0, 101.6
RULER_WORDS_MM = 20.0  # after a ruler, for its name
CROSS_ARM_MM = 3.5
CROSS_CLEAR_MM = 5.0  # names keep this far from a window's edge, where crosses and join lines are


@dataclass(frozen=True, slots=True, kw_only=True)
class Layout:
    """How the piece is laid on paper: turned a quarter or not, the windows, and how big each is."""

    turned: bool
    windows: tuple[Window, ...]
    header_mm: float
    gutter_mm: float

    @property
    def tiled(self) -> bool:
        return len(self.windows) > 1


def template_pages(
    measured: MeasuredPiece,
    glue_areas: Sequence[Polygon],
    paper: SheetSize,
    project_name: str,
    *,
    not_proved: bool = False,
    in_class: bool = False,
    language: Language = ENGLISH,
) -> tuple[Page, ...]:
    """The piece at true size on ``paper``, upright; one page for each sheet of the tiling.

    Neighbouring sheets overlap by 10 mm; lines through the middle of the overlap, with crosses at their ends, come
    to lie on each other. The piece is turned a quarter where that takes fewer sheets.
    """
    leaf = Leaf(
        paper=paper,
        margin_mm=MARGIN_MM,
        project_name=project_name,
        title=piece_title(measured, language=language),
        kind=language.paper.template,
        not_proved=not_proved,
        in_class=in_class,
    )
    layout = best_layout(measured, leaf, language=language)
    marks = _turned(
        piece_marks(measured, glue_areas=glue_areas, waste=False, names=False, language=language),
        measured,
        layout.turned,
    )
    return tuple(
        _page(measured, leaf, layout, marks, window, number, glue_areas, language=language)
        for number, window in enumerate(layout.windows, start=1)
    )


def best_layout(measured: MeasuredPiece, leaf: Leaf, *, language: Language = ENGLISH) -> Layout:
    """The fewest sheets over the two ways the piece can lie; as it lies on the board where both are equal."""
    tries = [layout_of(_content(measured, turned), leaf, turned=turned, language=language) for turned in (False, True)]
    return min(tries, key=lambda layout: (len(layout.windows), layout.turned))


def layout_of(content: BaseGeometry, leaf: Leaf, *, turned: bool = False, language: Language = ENGLISH) -> Layout:
    """The sheets for what is to be seen, as it lies: one without joins where that is enough."""
    left, low, right, high = content.bounds
    room = _window_size(leaf, HEADER_MM, 0.0, language=language)
    if right - left <= room[0] and high - low <= room[1]:
        grid, header, gutter = windows(content, *room), HEADER_MM, 0.0
    else:
        header, gutter = OVERVIEW_MM, GUTTER_MM
        grid = windows(content, *_window_size(leaf, header, gutter, language=language))
    return Layout(turned=turned, windows=grid, header_mm=header, gutter_mm=gutter)


def _window_size(
    leaf: Leaf, header_mm: float, gutter_mm: float, *, language: Language = ENGLISH
) -> tuple[float, float]:
    footer = FOOTER_MM if legend_beside(leaf) else FOOTER_MM + LEGEND_TALL_MM
    taken = header_mm + footer + notice(leaf, language=language).height_mm + 2 * gutter_mm
    return leaf.width_mm - 2 * gutter_mm, leaf.top_mm - leaf.margin_mm - taken


def _content(measured: MeasuredPiece, turned: bool) -> BaseGeometry:
    return shapely.transform(panels_of(measured.piece), lambda xy: xy[:, ::-1] * (-1.0, 1.0) if turned else xy)


def _turned(marks: Sequence[Mark], measured: MeasuredPiece, turned: bool) -> tuple[Mark, ...]:
    return mapped(marks, _turn) if turned else tuple(marks)


def _turn(at: Point) -> Point:
    """A quarter to the left about the origin."""
    return (-at[1], at[0])


# --- One page -----------------------------------------------------------------------------------------------


def _page(
    measured: MeasuredPiece,
    leaf: Leaf,
    layout: Layout,
    marks: tuple[Mark, ...],
    window: Window,
    number: int,
    glue_areas: Sequence[Polygon],
    *,
    language: Language = ENGLISH,
) -> Page:
    corner = window_corner(leaf, layout, language=language)
    shift = (corner[0] - window.left, corner[1] - window.high)

    def to_page(at: Point) -> Point:
        return (at[0] + shift[0], at[1] + shift[1])

    content = mapped(clipped(marks, window), to_page)
    names = mapped(_names(measured, layout, window, glue_areas, language=language), to_page)
    registration = mapped(registration_marks(window), to_page) if layout.tiled else ()
    pages = len(layout.windows)
    alt = language.paper.alt_template.format(title=leaf.title, tile=window.name, page=number, pages=pages)
    return Page(
        name=f"template-{measured.part}-{measured.piece.id}-{window.name}",
        width_mm=leaf.paper.width.float_mm,
        height_mm=leaf.paper.height.float_mm,
        marks=(
            *sheet_header(leaf, layout, window, number, _content(measured, layout.turned), language=language),
            *content,
            *names,
            *registration,
            *join_marks(window, corner, language=language),
            *rulers(leaf.margin_mm, leaf.margin_mm, language=language),
            *_footer_legend(measured, leaf, glue_areas, language=language),
        ),
        alt=told_alt(leaf, alt, language=language),
    )


def _names(
    measured: MeasuredPiece,
    layout: Layout,
    window: Window,
    glue_areas: Sequence[Polygon],
    *,
    language: Language = ENGLISH,
) -> list[Mark]:
    """Names of the panels of which this sheet shows enough, clear of the joins."""
    keep = CROSS_CLEAR_MM if layout.tiled else 0.0
    free = window.shape.buffer(-(OVERLAP_MM / 2 + keep) if layout.tiled else -1.0, join_style="mitre")
    glue = shapely.union_all([Shape(area) for area in glue_areas])
    holes = round_holes(measured.piece)
    if layout.turned:
        holes = shapely.transform(holes, lambda xy: xy[:, ::-1] * (-1.0, 1.0))
        glue = shapely.transform(glue, lambda xy: xy[:, ::-1] * (-1.0, 1.0))
    marks: list[Mark] = []
    for panel in measured.piece.panels:
        outline = tuple(map(_turn, panel.outline)) if layout.turned else panel.outline
        seen = Shape(outline).intersection(free).difference(holes)
        for label in set_inside(panel_name(panel, language=language), seen, "label", TEXT_PT):
            marks += on_paper(label, glue)
    return marks


def window_corner(leaf: Leaf, layout: Layout, *, language: Language = ENGLISH) -> Point:
    """The window's upper left corner on the page."""
    return (
        leaf.margin_mm + layout.gutter_mm,
        leaf.top_mm - notice(leaf, language=language).height_mm - layout.header_mm - layout.gutter_mm,
    )


def sheet_header(
    leaf: Leaf,
    layout: Layout,
    window: Window,
    number: int,
    content: BaseGeometry,
    more_pages: int = 0,
    *,
    language: Language = ENGLISH,
) -> tuple[Mark, ...]:
    """Title, sheet and print note of one sheet of a tiling; all sheets small where there are several.

    ``more_pages`` follow that are no sheets of it.
    """
    above = notice(leaf, language=language)
    left, right = leaf.margin_mm, leaf.margin_mm + leaf.width_mm
    top = leaf.top_mm - above.height_mm
    overview, overview_width = _overview(content, layout, window, (right, top))
    room = leaf.width_mm - overview_width
    first = top - ASCENT * TITLE_PT * MM_PER_PT
    second = first - 6.2
    sheet = language.paper.page_of.format(page=number, pages=len(layout.windows) + more_pages)
    if layout.tiled:
        sheet = f"{language.paper.tile.format(tile=window.name)}, {sheet}"
    kind = language.paper.list_join.join((leaf.kind, sheet))
    kind_mm = text_width_mm(kind, "note", TEXT_PT)
    title = shortened(leaf.title, "title", TITLE_PT, room - kind_mm - 4.0)
    kind_at = left + text_width_mm(title, "title", TITLE_PT) + 3.0
    note_mm = text_width_mm(language.paper.print_true, "size", TEXT_PT)
    return (
        *above.marks,
        Label(text=title, at=(left, first), role="title", size_pt=TITLE_PT),
        Label(text=kind, at=(kind_at, first), role="note", size_pt=TEXT_PT),
        Label(text=language.paper.print_true, at=(left, second), role="size", size_pt=TEXT_PT),
        *project_line(leaf, (left + note_mm + 3.0, second), room - note_mm - 4.0, language=language),
        *overview,
    )


def _overview(content: BaseGeometry, layout: Layout, window: Window, corner: Point) -> tuple[list[Mark], float]:
    """All sheets small from the upper right corner, this one boldly framed; with the width it takes."""
    if not layout.tiled:
        return [], 0.0
    left, right = min(w.left for w in layout.windows), max(w.right for w in layout.windows)
    low, high = min(w.low for w in layout.windows), max(w.high for w in layout.windows)
    scale = min((OVERVIEW_MM - 3.0) / (high - low), 50.0 / (right - left))
    shift = (corner[0] - right * scale, corner[1] - high * scale)

    def small(at: Point) -> Point:
        return (at[0] * scale + shift[0], at[1] * scale + shift[1])

    marks: list[Mark] = [Area(paths=rings(part), role="coloured") for part in shapely.get_parts(content)]
    marks += [Stroke(path=_outline(each), role="frame") for each in layout.windows]
    marks.append(Stroke(path=_outline(window), role="outline"))
    marks = list(mapped(marks, small))
    for each in layout.windows:
        cell = shapely.transform(each.shape.buffer(-OVERLAP_MM, join_style="mitre"), lambda xy: xy * scale + shift)
        marks += set_inside(each.name, cell, "label", TEXT_PT)
    return marks, (right - left) * scale + 5.0


def _outline(window: Window) -> Path:
    return Path(
        points=(
            (window.left, window.low),
            (window.right, window.low),
            (window.right, window.high),
            (window.left, window.high),
        ),
        closed=True,
    )


def _footer_legend(
    measured: MeasuredPiece, leaf: Leaf, glue_areas: Sequence[Polygon], *, language: Language = ENGLISH
) -> tuple[Mark, ...]:
    """What the lines mean, beside the rulers."""
    directions = {crease.direction for crease in measured.piece.creases}
    used: dict[LegendKey, bool] = {
        "cut": True,
        "valley": "valley" in directions,
        "mountain": "mountain" in directions,
        "glue": bool(glue_areas),
    }
    keys = tuple(key for key, shown in used.items() if shown)
    if not legend_beside(leaf):
        return legend(
            keys, leaf.margin_mm, leaf.margin_mm + FOOTER_MM + LEGEND_TALL_MM - 3.0, leaf.width_mm, language=language
        ).marks
    left = leaf.margin_mm + RULER_IN_MM + RULER_WORDS_MM
    room = leaf.width_mm - RULER_IN_MM - RULER_WORDS_MM
    return legend(keys, left, leaf.margin_mm + FOOTER_MM - 3.0, room, language=language).marks


def legend_beside(leaf: Leaf) -> bool:
    """Whether the legend has room beside the rulers; on narrow paper it stands above them."""
    return leaf.width_mm - RULER_IN_MM - RULER_WORDS_MM >= LEGEND_MM


# --- Where sheets join --------------------------------------------------------------------------------------


def registration_marks(window: Window) -> list[Mark]:
    """Lines through the middle of each overlap and crosses at their ends, in the drawing's frame.

    Both sheets of a pair draw the same lines and crosses in the drawing's frame, so that they fall together.
    """
    sides = dict(window.neighbours)
    half = OVERLAP_MM / 2
    left, right = window.left + half, window.right - half
    low, high = window.low + half, window.high - half
    ends = {
        "left": ((left, low), (left, high)),
        "right": ((right, low), (right, high)),
        "top": ((left, high), (right, high)),
        "bottom": ((left, low), (right, low)),
    }
    marks: list[Mark] = [Stroke(path=Path(points=ends[side]), role="guide") for side in sides]
    for x, y in sorted({point for side in sides for point in ends[side]}):
        arm = CROSS_ARM_MM
        marks.append(Stroke(path=Path(points=((x - arm, y), (x + arm, y))), role="registration"))
        marks.append(Stroke(path=Path(points=((x, y - arm), (x, y + arm))), role="registration"))
    return marks


def join_marks(window: Window, corner: Point, *, language: Language = ENGLISH) -> list[Mark]:
    """'join to B1' in the gutters, outside the window, so that it hides no line."""
    width, height = window.right - window.left, window.high - window.low
    up = ASCENT * TEXT_PT * MM_PER_PT
    places = {
        "left": ((corner[0] - 2.0, corner[1] - height / 2), 90.0),
        "right": ((corner[0] + width + 1.0 + up, corner[1] - height / 2), 90.0),
        "top": ((corner[0] + width / 2, corner[1] + 2.0), 0.0),
        "bottom": ((corner[0] + width / 2, corner[1] - height - 1.0 - up), 0.0),
    }
    return [
        Label(
            text=language.paper.join_to.format(tile=name),
            at=places[side][0],
            role="label",
            size_pt=TEXT_PT,
            anchor="middle",
            angle_deg=places[side][1],
        )
        for side, name in window.neighbours
    ]


# --- Rulers -------------------------------------------------------------------------------------------------


def rulers(left: float, low: float, *, language: Language = ENGLISH) -> tuple[Mark, ...]:
    """A ruler of 100 mm over one of 4 in, from the lower left corner. Their base lines have just that length."""
    base_mm, base_in = low + 8.0, low + 5.5
    marks: list[Mark] = [
        Stroke(path=Path(points=((left, base_mm), (left + RULER_MM, base_mm))), role="registration", name="100 mm"),
        Stroke(path=Path(points=((left, base_in), (left + RULER_IN_MM, base_in))), role="registration", name="4 in"),
    ]
    for n in range(0, 21):
        tall = 3.6 if n % 10 == 0 else 2.6 if n % 2 == 0 else 1.6
        marks.append(_ruler_tick(left + n * 5.0, base_mm, tall))
    for n in range(0, 17):
        tall = 3.6 if n % 4 == 0 else 2.4 if n % 2 == 0 else 1.5
        marks.append(_ruler_tick(left + n * 6.35, base_in, -tall))
    for text, base in ((language.paper.ruler_mm, base_mm), (language.paper.ruler_in, base_in - 3.4)):
        label = Label(text=text, at=(left + RULER_IN_MM + 2.5, base), role="size", size_pt=TEXT_PT)
        assert label_box(label)[1] >= low - 1.0, "the rulers stand above the margin"
        marks.append(label)
    return tuple(marks)


def _ruler_tick(x: float, base: float, tall: float) -> Stroke:
    return Stroke(path=Path(points=((x, base), (x, base + tall))), role="registration")
