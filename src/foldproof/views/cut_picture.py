"""What to cut away: the piece small, waste hatched, with the size the tabs are kept to."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass
from functools import lru_cache

import shapely
from shapely.geometry import Polygon as Shape

from foldproof.drawing.records import Area, Label, Mark, Path, Point, Stroke
from foldproof.drawing.style import MM_PER_PT
from foldproof.drawing.type import text_width_mm
from foldproof.lengths import in_words
from foldproof.pattern.measured import MeasuredPiece
from foldproof.pattern.records import Crease, Panel, Polygon
from foldproof.views.board_picture import SIZE_PT, Tools
from foldproof.views.labels import TEXT_PT, box_round, set_inside, spread
from foldproof.views.paper import Drawn, cross_in, pencil_cross
from foldproof.views.piece import (
    SLIVER_MM2,
    panel_labels,
    panel_name,
    piece_marks,
    placed,
    rings,
    waste_of,
)
from foldproof.words.catalogue import ENGLISH, Language

ABOVE_TAB_MM = 13.0  # for a size over the piece, two rows tall
ABOVE_MM = 3.0
BELOW_MM = 1.0
TICK_HALF_MM = 1.2
CROSS_PATCH = 1.5  # bare paper round the cross, as a multiple of the cross
PICTURES_KEPT = 32  # sizes of pieces for which it is remembered which names have no room
LEAD_MM = 24.0  # room at the side for names that do not fit into their panels


@dataclass(frozen=True, slots=True, kw_only=True)
class Kept:
    """A rectangle of the waste that is kept for another piece, in the blank's frame: what it becomes, its letter where
    the words have no room, and its size in words.
    """

    outline: Polygon
    words: str
    letter: str
    size: str


def has_waste(measured: MeasuredPiece) -> bool:
    """Whether anything is cut away."""
    return float(waste_of(measured.piece).area) > SLIVER_MM2


def picture_width(measured: MeasuredPiece, height_mm: float) -> float:
    """How wide the picture is when it takes this height."""
    piece = measured.piece
    return (height_mm - _above(measured) - BELOW_MM) * piece.blank_width_mm / piece.blank_height_mm


def names_fit(measured: MeasuredPiece, room: tuple[float, float], *, language: Language = ENGLISH) -> bool:
    """Whether a picture in this room (width, height) has every name inside a panel."""
    return not _unnamed(measured, _scale(measured, room), language=language)


def cut_picture(
    measured: MeasuredPiece,
    tools: Tools,
    glue_areas: Sequence[Polygon],
    corner: Point,
    room: tuple[float, float],
    kept: Sequence[Kept] = (),
    *,
    language: Language = ENGLISH,
) -> Drawn:
    """The picture from its upper left corner, within ``room`` (width, height); ``kept`` stand out of the waste."""
    piece = measured.piece
    scale = _scale(measured, room)
    led = _unnamed(measured, scale, language=language)
    if led:
        scale = min((room[0] - LEAD_MM) / piece.blank_width_mm, scale)
        led = _unnamed(measured, scale, language=language)
    width, height = piece.blank_width_mm * scale, piece.blank_height_mm * scale
    used = width + (LEAD_MM if led else 0.0)
    at = (corner[0] + max(0.0, (room[0] - used) / 2), corner[1] - _above(measured) - height)
    outline = ((0.0, 0.0), (width, 0.0), (width, height), (0.0, height))
    marks: list[Mark] = [Stroke(path=Path(points=outline, closed=True), role="frame")]
    free = _cross_box(measured, scale)
    marks += piece_marks(measured, glue_areas=glue_areas, mm_per_mm=scale, keep_free=free, language=language)
    marks = list(placed([*marks, *_kept(kept, scale), *_cross(measured, scale)], 1.0, at))
    marks += _tab_size(measured, tools, scale, at, corner[0])
    marks += _led(led, scale, at, (width, height), language=language)
    return Drawn(marks=tuple(marks), height_mm=_above(measured) + height + BELOW_MM)


def _above(measured: MeasuredPiece) -> float:
    return ABOVE_TAB_MM if _tab(measured) else ABOVE_MM


def _scale(measured: MeasuredPiece, room: tuple[float, float]) -> float:
    piece = measured.piece
    tall = room[1] - _above(measured) - BELOW_MM
    return min(room[0] / piece.blank_width_mm, tall / piece.blank_height_mm)


# --- The size of a tab --------------------------------------------------------------------------------------


def _tab(measured: MeasuredPiece) -> tuple[Panel, Crease] | None:
    """The tab whose size is shown: the highest at the left whose fold stands upright."""
    creases = {crease.child: crease for crease in measured.piece.creases}
    tabs = [
        (panel, creases[panel.id])
        for panel in measured.piece.panels
        if panel.kind == "tab" and panel.id in creases and _upright(creases[panel.id])
    ]
    if not tabs or all(name != "tab_length" for name, _ in measured.measures):
        return None
    return min(tabs, key=lambda t: (-max(y for _, y in t[0].outline), min(x for x, _ in t[0].outline)))


def _upright(crease: Crease) -> bool:
    return crease.line[0][0] == crease.line[1][0]


def _tab_size(measured: MeasuredPiece, tools: Tools, scale: float, at: Point, least_x: float) -> list[Mark]:
    """How long a tab is, over the piece."""
    found = _tab(measured)
    if found is None:
        return []
    panel, crease = found
    fold = crease.line[0][0]
    end = max((x for x, _ in panel.outline), key=lambda x: abs(x - fold))
    level = at[1] + measured.piece.blank_height_mm * scale + 2.5
    a, b = (sorted((fold, end))[n] * scale + at[0] for n in (0, 1))
    rim = at[1] + max(y for _, y in panel.outline) * scale
    size = dict(measured.measures)["tab_length"].shown
    words = (in_words(size, tools.ruler), in_words(size, tools.other))
    return size_over((a, level), (b, level), rim + 0.8, words, least_x)


def size_over(a: Point, b: Point, from_y: float, words: tuple[str, str], least_x: float) -> list[Mark]:
    """A level size line with end ticks and lines down to what it measures; words in two rows over it."""
    wide = max(text_width_mm(words[0], "size", SIZE_PT), text_width_mm(words[1], "other_unit", TEXT_PT))
    middle = max((a[0] + b[0]) / 2, least_x + wide / 2)
    ends = [((end[0], from_y), (end[0], end[1] + TICK_HALF_MM)) for end in (a, b)]
    return [
        *(Stroke(path=Path(points=line), role="dimension") for line in ((a, b), *ends)),
        Label(text=words[0], at=(middle, a[1] + 6.0), role="size", size_pt=SIZE_PT, anchor="middle"),
        Label(text=words[1], at=(middle, a[1] + 1.6), role="other_unit", size_pt=TEXT_PT, anchor="middle"),
    ]


def _kept(kept: Sequence[Kept], scale: float) -> list[Mark]:
    """What is cut from the waste: bare paper in its own outline, with its name or its letter."""
    marks: list[Mark] = []
    for each in kept:
        path = Path(points=tuple((x * scale, y * scale) for x, y in each.outline), closed=True)
        marks += [Area(paths=(path,), role="plain"), Stroke(path=path, role="edge", name="kept")]
        for words in (each.words, each.letter):
            labels = set_inside(words, Shape(path.points), "label", TEXT_PT)
            if labels:
                marks += labels
                break
    return marks


# --- The pencil cross ---------------------------------------------------------------------------------------


def _cross_box(measured: MeasuredPiece, scale: float) -> Shape:
    piece = measured.piece
    inset, half = cross_in(piece.blank_width_mm * scale, piece.blank_height_mm * scale)
    return box_round((inset, inset), half * 2 * CROSS_PATCH, half * 2 * CROSS_PATCH)


def _cross(measured: MeasuredPiece, scale: float) -> list[Mark]:
    """The pencil cross, so that the piece is turned back rightly; on bare paper where it stands on waste."""
    piece = measured.piece
    inset, half = cross_in(piece.blank_width_mm * scale, piece.blank_height_mm * scale)
    box = _cross_box(measured, scale)
    waste = shapely.transform(waste_of(piece), lambda xy: xy * scale)
    patch = [Area(paths=rings(box), role="paper")] if waste.covers(box) else []
    return [*patch, *pencil_cross((inset, inset), half)]


# --- Names that are led out ---------------------------------------------------------------------------------


@lru_cache(maxsize=PICTURES_KEPT)
def _unnamed(measured: MeasuredPiece, scale: float, *, language: Language = ENGLISH) -> tuple[Panel, ...]:
    """Panels without room for their names, where no panel of their kind shows what such parts are."""
    free = _cross_box(measured, scale)
    panels = measured.piece.panels
    with_room = {panel.id for panel in panels if panel_labels(panel, scale, free, language=language)}
    shown = {panel.kind for panel in panels if panel.id in with_room}
    return tuple(panel for panel in panels if panel.kind not in shown)


def _led(
    panels: Sequence[Panel], scale: float, at: Point, size: tuple[float, float], *, language: Language = ENGLISH
) -> list[Mark]:
    """Names at the right, each with a line to its panel; of like panels the one nearest to the right."""
    firsts: dict[str, Panel] = {}
    for panel in sorted(panels, key=lambda p: (-Shape(p.outline).centroid.x, -Shape(p.outline).centroid.y)):
        firsts.setdefault(panel_name(panel, language=language), panel)
    middles = [(Shape(p.outline).representative_point(), name) for name, p in firsts.items()]
    middles.sort(key=lambda found: -found[0].y)
    tall = TEXT_PT * MM_PER_PT * 1.3
    spare = max(0.0, tall * len(middles) - size[1]) / 2 + 0.1  # a low piece: names reach past it
    wanted = [-(point.y * scale + at[1]) for point, _ in middles]
    places = spread(wanted, [tall] * len(middles), -(at[1] + size[1] + spare), -at[1] + spare)
    assert places is not None, "the room was made as large as the names are tall"
    marks: list[Mark] = []
    side = at[0] + size[0] + 3.0
    for (point, name), place in zip(middles, places, strict=True):
        path = Path(points=((point.x * scale + at[0], point.y * scale + at[1]), (side - 0.8, -place)))
        marks.append(Stroke(path=path, role="dimension"))
        marks.append(Label(text=name, at=(side, -place - 1.2), role="label", size_pt=TEXT_PT))
    return marks
