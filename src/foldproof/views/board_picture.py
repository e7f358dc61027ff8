"""The piece on the scoring board: stops, grooves, the triangles at the grooves to use, and the big sizes."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass
from fractions import Fraction
from itertools import pairwise
from typing import Literal

from foldproof.drawing.records import Area, Label, LineRole, Mark, Path, Stroke, TextRole
from foldproof.drawing.style import MM_PER_PT
from foldproof.drawing.type import text_width_mm
from foldproof.lengths import (
    CM_HALF_MILLIMETRES,
    INCH_THIRTYSECONDS,
    MM_PER,
    ZERO,
    Length,
    Ruler,
    Unit,
    in_words,
    round_to,
)
from foldproof.stock.board import Board
from foldproof.stock.board import Mark as ScoreMark
from foldproof.views.labels import DESCENT, TEXT_PT, box_round, set_inside, shortened, spread
from foldproof.views.paper import Drawn, cross_in, pencil_cross, triangle
from foldproof.views.piece import placed
from foldproof.words.catalogue import ENGLISH, Language

SIZE_PT = 14.0
STOP_MM = 5.0  # width of the drawn stops at the left and the top
FIELD_MM = 10.0  # board shown beyond the piece: enough to see that grooves go on
LEADER_MM = 1.2  # paper kept free on both sides of a line that leads to a size
ROW_GAP_MM = 2.2  # between the sizes and the board
LEAST_GROOVE_GAP_MM = 2.2  # grooves drawn closer than this would turn to grey

FINE: dict[Unit, Ruler] = {"in": INCH_THIRTYSECONDS, "cm": CM_HALF_MILLIMETRES, "mm": CM_HALF_MILLIMETRES}
# Long and middle ticks stand at whole multiples of these.
TICKS: dict[Unit, tuple[Fraction, Fraction]] = {
    "in": (Fraction(1), Fraction(1, 2)),
    "cm": (Fraction(5), Fraction(1)),
    "mm": (Fraction(50), Fraction(10)),
}
TICK_MM = (2.6, 1.9, 1.2)
ROW_MM = TEXT_PT * MM_PER_PT * 1.12  # from row to row of one size
LOWEST_MM = DESCENT * TEXT_PT * MM_PER_PT


@dataclass(frozen=True, slots=True, kw_only=True)
class Setting:
    """How the piece lies and what is scored now. ``width`` runs along the top stop; ``earlier`` are the lines
    scored before the turn, as distances from the top. ``roles`` are the lines' kinds in order.
    """

    width: Length
    height: Length
    marks: tuple[ScoreMark, ...]
    roles: tuple[LineRole, ...]
    earlier: tuple[Length, ...]
    cross: Literal["bottom left", "top left"]
    side_up: str


@dataclass(frozen=True, slots=True, kw_only=True)
class Tools:
    """The maker's board and rulers; sizes are written on ``ruler`` first."""

    board: Board
    ruler: Ruler
    other: Ruler


def scale_for(setting: Setting, room_mm: float, height_mm: float) -> float:
    """Millimetres on paper for one of the piece, so that board and piece fit."""
    wide = (room_mm - STOP_MM - FIELD_MM) / setting.width.float_mm
    return min(wide, (height_mm - STOP_MM - FIELD_MM) / setting.height.float_mm)


def board_picture(
    setting: Setting,
    tools: Tools,
    mm_per_mm: float,
    left: float,
    top: float,
    room_mm: float,
    *,
    language: Language = ENGLISH,
) -> Drawn:
    """The picture, sizes on top, from its upper left corner; ``room_mm`` is the column it stands in."""
    width, height = setting.width.float_mm * mm_per_mm, setting.height.float_mm * mm_per_mm
    shown = _field(tools.board, width, mm_per_mm), _field(tools.board, height, mm_per_mm)
    outer = (max(width, shown[0]), max(height, shown[1]))
    inset = max(0.0, (room_mm - STOP_MM - outer[0]) / 2)
    sheet_left = left + inset + STOP_MM
    sizes, rows_mm = _sizes(setting, tools, mm_per_mm, sheet_left, (left, left + room_mm), language=language)
    sheet_top = top - rows_mm - ROW_GAP_MM - STOP_MM
    marks: list[Mark] = []
    if tools.board.stops:
        marks += _board(tools.board, (sheet_left, sheet_top), shown, (width, height), mm_per_mm)
    else:
        marks += _ruler(tools.ruler, (sheet_left, sheet_top), width, mm_per_mm)
    marks += _sheet(setting, (sheet_left, sheet_top), (width, height), mm_per_mm)
    marks += _lines(setting, tools, (sheet_left, sheet_top), height, mm_per_mm)
    marks += [_moved_up(mark, sheet_top + STOP_MM + ROW_GAP_MM) for mark in sizes]
    return Drawn(marks=tuple(marks), height_mm=rows_mm + ROW_GAP_MM + STOP_MM + outer[1] + 1.0)


def _field(board: Board, side: float, mm_per_mm: float) -> float:
    return min(board.reach.float_mm * mm_per_mm, side + FIELD_MM)


def _moved_up(mark: Mark, by: float) -> Mark:
    """Sizes are set from the board's upper edge; this puts them in place."""
    return placed((mark,), 1.0, (0.0, by))[0]


def _rectangle(x0: float, y0: float, x1: float, y1: float) -> Path:
    return Path(points=((x0, y0), (x1, y0), (x1, y1), (x0, y1)), closed=True)


def _line(x0: float, y0: float, x1: float, y1: float, role: LineRole) -> Stroke:
    return Stroke(path=Path(points=((x0, y0), (x1, y1))), role=role)


def _board(
    board: Board, corner: tuple[float, float], shown: tuple[float, float], sheet: tuple[float, float], mm_per_mm: float
) -> list[Mark]:
    """Field with its grooves, the two stops, and a tick on the upper stop for every groove."""
    x, y = corner
    right, low = x + shown[0], y - shown[1]
    marks: list[Mark] = [
        Area(paths=(_rectangle(x, low, right, y),), role="plain"),
        Area(paths=(_rectangle(x - STOP_MM, y, right, y + STOP_MM),), role="board"),
        Area(paths=(_rectangle(x - STOP_MM, low, x, y),), role="board"),
    ]
    stops = [stop for stop in board.stops if stop.float_mm * mm_per_mm <= shown[0]]
    marks += [
        _line(x + s.float_mm * mm_per_mm, low, x + s.float_mm * mm_per_mm, y, "tick")
        for s in _apart(stops, board.unit, mm_per_mm)
    ]
    marks += [_tick(stop, board.unit, x, y, mm_per_mm) for stop in stops]
    outline = [(right, y + STOP_MM), (x - STOP_MM, y + STOP_MM), (x - STOP_MM, low)]
    marks.append(Stroke(path=Path(points=tuple(outline)), role="frame"))
    if shown[0] >= board.reach.float_mm * mm_per_mm:  # the board ends here; else it goes on past the picture
        marks.append(_line(right, low, right, y + STOP_MM, "frame"))
    if shown[1] >= board.reach.float_mm * mm_per_mm:
        marks.append(_line(x - STOP_MM, low, right, low, "frame"))
    return [*marks, _line(x, y, right, y, "frame"), _line(x, low, x, y, "frame")]


def _apart(stops: Sequence[Length], unit: Unit, mm_per_mm: float) -> list[Length]:
    """The grooves that can be drawn apart: all, or those at whole inches or centimetres."""
    closest_mm = min((b.float_mm - a.float_mm for a, b in pairwise(stops)), default=0.0)
    if len(stops) < 2 or closest_mm * mm_per_mm >= LEAST_GROOVE_GAP_MM:
        return list(stops)
    whole = MM_PER[unit] * max(Fraction(1), TICKS[unit][1])
    return [stop for stop in stops if stop.mm % whole == 0]


def _tick(stop: Length, unit: Unit, x: float, y: float, mm_per_mm: float) -> Stroke:
    value = stop.mm / MM_PER[unit]
    long, middle = TICKS[unit]
    tall = TICK_MM[0] if value % long == 0 else TICK_MM[1] if value % middle == 0 else TICK_MM[2]
    at = x + stop.float_mm * mm_per_mm
    return _line(at, y, at, y + tall, "tick")


def _ruler(ruler: Ruler, corner: tuple[float, float], width: float, mm_per_mm: float) -> list[Mark]:
    """A ruler laid along the piece's upper edge, with the divisions that can be drawn apart."""
    x, y = corner
    step = ruler.step_length
    while step.float_mm * mm_per_mm < 0.8:  # closer ticks would turn to grey
        step = step * 2 if ruler.unit == "in" else step * (5 if step == ruler.step_length else 2)
    count = int(width / (step.float_mm * mm_per_mm))
    marks: list[Mark] = [
        Area(paths=(_rectangle(x, y, x + width, y + STOP_MM),), role="board"),
        Stroke(path=_rectangle(x, y, x + width, y + STOP_MM), role="frame"),
    ]
    return [*marks, *(_tick(step * n, ruler.unit, x, y, mm_per_mm) for n in range(1, count + 1))]


def _sheet(setting: Setting, corner: tuple[float, float], size: tuple[float, float], mm_per_mm: float) -> list[Mark]:
    """The piece, lines scored before, its pencil cross, and which side is up."""
    x, y = corner
    width, height = size
    outline = _rectangle(x, y - height, x + width, y)
    marks: list[Mark] = [Area(paths=(outline,), role="paper")]
    earlier = [y - at.float_mm * mm_per_mm for at in setting.earlier]
    marks += [_line(x, level, x + width, level, "guide") for level in earlier]
    marks.append(Stroke(path=outline, role="outline"))
    inset, half = cross_in(width, height)
    level = y - height + inset if setting.cross == "bottom left" else y - inset
    marks += pencil_cross((x + inset, level), half)
    lines = [x, *(x + m.marked.float_mm * mm_per_mm for m in setting.marks), x + width]
    levels = sorted([y - height, *earlier, y])
    # The words stand in the largest field between lines.
    fields = [(a, c, b, d) for a, b in pairwise(lines) for c, d in pairwise(levels)]
    a, c, b, d = max(fields, key=lambda f: (round((f[2] - f[0]) * (f[3] - f[1]), 3), f[0], -f[1]))
    inside = box_round(((a + b) / 2, (c + d) / 2), b - a, d - c)
    return [*marks, *set_inside(setting.side_up, inside, "label", TEXT_PT)]


def _lines(setting: Setting, tools: Tools, corner: tuple[float, float], height: float, mm_per_mm: float) -> list[Mark]:
    """Score lines over the whole piece, and the mark at the groove or tick of each."""
    x, y = corner
    marks: list[Mark] = []
    for found, role in zip(setting.marks, setting.roles, strict=True):
        at = x + found.marked.float_mm * mm_per_mm
        marks.append(_line(at, y, at, y - height, role))
        marks += triangle((at, y + 0.4), solid=found.how == "groove" or not tools.board.stops)
    return marks


def error_words(error: Length, ruler: Ruler, *, language: Language = ENGLISH) -> str:
    """'1/32 in over', 'a hair under'; '' for none."""
    if error == ZERO:
        return ""
    near = round_to(abs(error), FINE[ruler.unit])
    if near.shown == ZERO:
        return language.paper.hair_over if error > ZERO else language.paper.hair_under
    return (language.paper.over if error > ZERO else language.paper.under).format(size=near.text)


def _rows(found: ScoreMark, tools: Tools, count: int, *, language: Language = ENGLISH) -> tuple[Label, ...]:
    """The rows of one size, upper first, about x = 0; the last of ``count`` rows stands on y = 0."""
    texts: list[tuple[str, TextRole, float]] = [
        (found.text, "size", SIZE_PT),
        (in_words(found.marked, tools.other), "other_unit", TEXT_PT),
        (error_words(found.error, tools.ruler, language=language), "note", TEXT_PT),
    ]
    return tuple(
        Label(text=text, at=(0.0, LOWEST_MM + (count - 1 - n) * ROW_MM), role=role, size_pt=size, anchor="middle")
        for n, (text, role, size) in enumerate(texts)
        if text
    )


def _sizes(
    setting: Setting,
    tools: Tools,
    mm_per_mm: float,
    sheet_left: float,
    column: tuple[float, float],
    *,
    language: Language = ENGLISH,
) -> tuple[list[Mark], float]:
    """The sizes over the board, standing on y = 0, in as few rows as they need, and the height they take."""
    if not setting.marks:
        return [], 0.0
    count = 3 if any(found.error != ZERO for found in setting.marks) else 2
    rows = [_rows(found, tools, count, language=language) for found in setting.marks]
    room = column[1] - column[0]
    widths = [min(room, max(text_width_mm(r.text, r.role, r.size_pt) for r in each) + 2.6) for each in rows]
    wanted = [sheet_left + found.marked.float_mm * mm_per_mm for found in setting.marks]
    tall = max(each[0].at[1] for each in rows) + SIZE_PT * MM_PER_PT * 0.85
    tries = ((levels, _levels(wanted, widths, levels, column)) for levels in range(1, len(rows) + 1))
    found_rows = next(((levels, places) for levels, places in tries if places is not None), None)
    assert found_rows is not None, "more score lines than a page has room for sizes"
    levels, places = found_rows
    marks: list[Mark] = []
    for number, (each, places_up) in enumerate(zip(rows, places, strict=True)):
        level = len(places_up) - 1
        points = [(wanted[number], -ROW_GAP_MM)]
        for step, place in enumerate(places_up):
            points.append((place, step * (tall + 1.0)))
            if step < level:
                points.append((place, step * (tall + 1.0) + tall))
        if level or abs(places_up[0] - wanted[number]) > 0.3:
            marks.append(Stroke(path=Path(points=tuple(points)), role="dimension"))
        for row in each:
            at = (places_up[-1], row.at[1] + level * (tall + 1.0))
            text = shortened(row.text, row.role, row.size_pt, room)
            marks.append(Label(text=text, at=at, role=row.role, size_pt=row.size_pt, anchor="middle"))
    return marks, levels * (tall + 1.0)


def _levels(
    wanted: list[float], widths: list[float], levels: int, column: tuple[float, float]
) -> list[list[float]] | None:
    """For each size its place on its own row, after the places where its leader passes the rows below."""
    found: list[list[float]] = [[] for _ in wanted]
    now = list(wanted)
    for level in range(levels):
        here = [n for n in range(len(wanted)) if n % levels >= level]
        taken = [widths[n] if n % levels == level else LEADER_MM for n in here]
        places = spread([now[n] for n in here], taken, *column)
        if places is None:
            return None
        for n, place in zip(here, places, strict=True):
            found[n].append(place)
            now[n] = place
    return found


def offset_strip(found: ScoreMark, tools: Tools, left: float, top: float, width_mm: float) -> Drawn:
    """The upper stop alone, the piece's edge moved to a groove, and the groove to score in."""
    assert found.edge_at is not None and found.stop is not None
    shown = found.stop.float_mm + found.edge_at.float_mm * 2 + 10.0
    scale = min(width_mm / shown, 0.6)
    y = top - STOP_MM
    marks: list[Mark] = [
        Area(paths=(_rectangle(left, y, left + shown * scale, top),), role="board"),
        Stroke(path=Path(points=((left, y - 6.0), (left, top), (left + shown * scale, top))), role="frame"),
        *(_tick(stop, tools.board.unit, left, y, scale) for stop in tools.board.stops if stop.float_mm < shown),
    ]
    edge, groove = left + found.edge_at.float_mm * scale, left + found.stop.float_mm * scale
    sheet = ((left + shown * scale, y), (edge, y), (edge, y - 6.0))
    marks.append(Stroke(path=Path(points=sheet), role="outline"))
    marks.append(_line(groove, y, groove, y - 6.0, "valley"))
    marks += triangle((groove, y + 0.4), solid=True)
    return Drawn(marks=tuple(marks), height_mm=STOP_MM + 8.0)
