"""What to cut away: the piece small, waste hatched, with the sizes the scissors need."""

from __future__ import annotations

from collections.abc import Sequence

import shapely
from shapely.geometry import Polygon as Shape

from foldproof.drawing.records import Area, Label, Mark, Path, Point, Stroke
from foldproof.drawing.style import MM_PER_PT
from foldproof.drawing.type import text_width_mm
from foldproof.lengths import in_words
from foldproof.pattern.measured import MeasuredPiece
from foldproof.pattern.records import Crease, Panel, Polygon
from foldproof.views.board_picture import CROSS_IN_MM, SIZE_PT, Tools
from foldproof.views.labels import TEXT_PT, set_inside, spread
from foldproof.views.paper import Drawn, pencil_cross
from foldproof.views.piece import SLIVER_MM2, panel_name, piece_marks, placed, waste_of

ABOVE_MM = 14.0  # for a size over the piece, two rows tall
BELOW_MM = 12.5  # for the piece's width
TICK_HALF_MM = 1.2
CROSS_PATCH_MM = 2.6
LEAD_MM = 24.0  # room at the side for names that do not fit into their panels


def has_waste(measured: MeasuredPiece) -> bool:
    """Whether anything is cut away."""
    return float(waste_of(measured.piece).area) > SLIVER_MM2


def cut_picture(
    measured: MeasuredPiece, tools: Tools, glue_areas: Sequence[Polygon], corner: Point, room: tuple[float, float]
) -> Drawn:
    """The picture from its upper left corner, within ``room`` (width, height)."""
    piece = measured.piece
    above = ABOVE_MM if _tab(measured) else 3.0
    size = (piece.blank_width_mm, piece.blank_height_mm)
    scale = min(room[0] / size[0], (room[1] - above - BELOW_MM) / size[1])
    led = _unnamed(measured, scale)
    if led:
        scale = min((room[0] - LEAD_MM) / size[0], scale)
        led = _unnamed(measured, scale)
    width, height = size[0] * scale, size[1] * scale
    used = width + (LEAD_MM if led else 0.0)
    at = (corner[0] + max(0.0, (room[0] - used) / 2), corner[1] - above - height)
    marks: list[Mark] = list(placed(piece_marks(measured, glue_areas=glue_areas, mm_per_mm=scale), 1.0, at))
    outline = ((at[0], at[1]), (at[0] + width, at[1]), (at[0] + width, at[1] + height), (at[0], at[1] + height))
    marks.insert(0, Stroke(path=Path(points=outline, closed=True), role="frame"))
    marks += _cross(measured, scale, at)
    marks += _tab_size(measured, tools, scale, at)
    marks += size_line((at[0], at[1] - 4.0), (at[0] + width, at[1] - 4.0), at[1], _both(measured.width.shown, tools), above=False)
    marks += _led(led, scale, at, (width, height))
    return Drawn(marks=tuple(marks), height_mm=above + height + BELOW_MM)


def _both(length, tools):  # type: ignore[no-untyped-def]
    return in_words(length, tools.ruler), in_words(length, tools.other)


def size_line(a: Point, b: Point, from_y: float, words: tuple[str, str], *, above: bool) -> list[Mark]:
    """A level size line with end ticks and lines down to what it measures; words over it or under it."""
    lines = [
        (a, b),
        ((a[0], from_y), (a[0], a[1] + (TICK_HALF_MM if above else -TICK_HALF_MM))),
        ((b[0], from_y), (b[0], b[1] + (TICK_HALF_MM if above else -TICK_HALF_MM))),
    ]
    marks: list[Mark] = [Stroke(path=Path(points=line), role="dimension") for line in lines]
    middle = (a[0] + b[0]) / 2
    first, second = (6.0, 1.6) if above else (-4.9, -0.0)
    if above:
        marks.append(Label(text=words[0], at=(middle, a[1] + first), role="size", size_pt=SIZE_PT, anchor="middle"))
        marks.append(Label(text=words[1], at=(middle, a[1] + second), role="other_unit", size_pt=TEXT_PT, anchor="middle"))
        return marks
    wide = text_width_mm(words[0], "size", SIZE_PT) + 3.0 + text_width_mm(words[1], "other_unit", TEXT_PT)
    left = middle - wide / 2
    marks.append(Label(text=words[0], at=(left, a[1] + first), role="size", size_pt=SIZE_PT))
    at = left + text_width_mm(words[0], "size", SIZE_PT) + 3.0
    marks.append(Label(text=words[1], at=(at, a[1] + first), role="other_unit", size_pt=TEXT_PT))
    return marks


def _tab(measured: MeasuredPiece) -> tuple[Panel, Crease] | None:
    """The tab whose size is shown: the one highest at the left whose fold stands upright."""
    creases = {crease.child: crease for crease in measured.piece.creases}
    tabs = [
        (panel, creases[panel.id])
        for panel in measured.piece.panels
        if panel.kind == "tab" and panel.id in creases and creases[panel.id].line[0][0] == creases[panel.id].line[1][0]
    ]
    if not tabs or all(name != "tab_length" for name, _ in measured.measures):
        return None
    return min(tabs, key=lambda tab: (-max(y for _, y in tab[0].outline), min(x for x, _ in tab[0].outline)))


def _tab_size(measured: MeasuredPiece, tools: Tools, scale: float, at: Point) -> list[Mark]:
    """How long a tab is, over the piece."""
    found = _tab(measured)
    if found is None:
        return []
    panel, crease = found
    fold = crease.line[0][0]
    end = max((x for x, _ in panel.outline), key=lambda x: abs(x - fold))
    top = at[1] + measured.piece.blank_height_mm * scale
    a, b = (sorted((fold, end))[n] * scale + at[0] for n in (0, 1))
    length = dict(measured.measures)["tab_length"].shown
    rim = at[1] + max(y for _, y in panel.outline) * scale
    return size_line((a, top + 2.5), (b, top + 2.5), rim + 0.8, _both(length, tools), above=True)


def _cross(measured: MeasuredPiece, scale: float, at: Point) -> list[Mark]:
    """The pencil cross, so that the piece is turned back rightly; on bare paper where it stands on waste."""
    x, y = at[0] + CROSS_IN_MM, at[1] + CROSS_IN_MM
    h = CROSS_PATCH_MM
    patch = Path(points=((x - h, y - h), (x + h, y - h), (x + h, y + h), (x - h, y + h)), closed=True)
    inside = shapely.Point(CROSS_IN_MM / scale, CROSS_IN_MM / scale).buffer(h * 1.5 / scale)
    on_waste = bool(waste_of(measured.piece).covers(inside))
    return [*([Area(paths=(patch,), role="paper")] if on_waste else []), *pencil_cross((x, y))]


def _unnamed(measured: MeasuredPiece, scale: float) -> list[Panel]:
    """Panels too small for their names."""
    return [
        panel
        for panel in measured.piece.panels
        if not set_inside(
            panel_name(panel), shapely.transform(Shape(panel.outline), lambda xy: xy * scale), "label", TEXT_PT
        )
    ]


def _led(panels: list[Panel], scale: float, at: Point, size: tuple[float, float]) -> list[Mark]:
    """Names at the right, each with a line to its panel; like panels share the uppermost line."""
    firsts: dict[str, Panel] = {}
    for panel in sorted(panels, key=lambda p: (-Shape(p.outline).centroid.x, -Shape(p.outline).centroid.y)):
        firsts.setdefault(panel_name(panel), panel)
    middles = [(Shape(p.outline).representative_point(), name) for name, p in firsts.items()]
    middles.sort(key=lambda found: -found[0].y)
    tall = TEXT_PT * MM_PER_PT * 1.3
    places = spread(
        [-(point.y * scale + at[1]) for point, _ in middles], [tall] * len(middles), -(at[1] + size[1]), -at[1]
    )
    if places is None:
        return []
    marks: list[Mark] = []
    for (point, name), place in zip(middles, places, strict=True):
        side = at[0] + size[0] + 3.0
        path = Path(points=((point.x * scale + at[0], point.y * scale + at[1]), (side - 0.8, -place)))
        marks.append(Stroke(path=path, role="dimension"))
        marks.append(Label(text=name, at=(side, -place - 1.2), role="label", size_pt=TEXT_PT))
    return marks
