"""The sheet as it lies on the scoring board, all at once: the piece with its cuts and scores, waste, and the marks.

Marks along the top stand over score lines measured from the left edge, marks at the left beside those measured from
the near edge, which come to the top when the piece is turned a quarter.
"""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass
from itertools import pairwise

from foldproof.drawing.records import Area, Label, Mark, Page, Path, Point, Stroke
from foldproof.drawing.style import MM_PER_PT
from foldproof.drawing.type import text_width_mm
from foldproof.pattern.measured import MeasuredPiece
from foldproof.pattern.records import Polygon
from foldproof.stock.board import Mark as ScoreMark
from foldproof.stock.sheets import SheetSize
from foldproof.views.board_picture import Tools
from foldproof.views.cut_picture import Kept
from foldproof.views.paper import triangle
from foldproof.views.piece import piece_marks, placed, size_words
from foldproof.words.catalogue import ENGLISH, Language

SIZE_PT = 19.0  # as large on a page of 180 mm as a figure on a board
COMB_MM = 6.0  # width of the strips of board along the top and the left
ABOVE_MM, BESIDE_MM = 15.0, 24.0  # room for the figures over and beside them
EDGE_MM = 3.0
BELOW_MM = 11.0  # for the size of the sheet's rest
TICK_MM = (3.4, 2.0)
STEP_GAP_MM = 1.6  # ticks nearer than this would turn to grey
FIGURE_GAP_MM = 2.0
ROW_MM = SIZE_PT * MM_PER_PT * 1.05


@dataclass(frozen=True, slots=True, kw_only=True)
class _Place:
    """Where things are on the page: the piece's corner at the left below and at the left above, and the scale."""

    left: float
    low: float
    top: float
    scale: float
    right: float


def sheet_picture(
    measured: MeasuredPiece,
    sheet: SheetSize,
    tools: Tools,
    glue_areas: Sequence[Polygon],
    *,
    name: str,
    alt: str,
    width_mm: float,
    kept: Sequence[Kept] = (),
    language: Language = ENGLISH,
) -> Page:
    """The picture, ``width_mm`` wide. The sheet lies as the piece fits it; a piece that is too large goes beyond it."""
    piece = measured.width.shown.float_mm, measured.height.shown.float_mm
    whole = sheet.width.float_mm, sheet.height.float_mm
    if piece[0] > whole[0] or piece[1] > whole[1]:
        whole = whole[1], whole[0]
    wide, high = max(whole[0], piece[0]), max(whole[1], piece[1])
    scale = (width_mm - BESIDE_MM - COMB_MM - EDGE_MM) / wide
    rows = _levels([each.marked.float_mm * scale for each in measured.across], [each.text for each in measured.across])
    above = ABOVE_MM + ROW_MM * max((row for row in rows), default=0)
    height = above + COMB_MM + high * scale + BELOW_MM
    top = height - above - COMB_MM
    left = BESIDE_MM + COMB_MM
    place = _Place(left=left, low=top - piece[1] * scale, top=top, scale=scale, right=left + wide * scale)
    marks: list[Mark] = [*_sheet(place, piece, whole), *_combs(place, measured, tools, high)]
    panels = [
        Area(paths=(Path(points=panel.outline, closed=True),), role="coloured", name=panel.id)
        for panel in measured.piece.panels
    ]
    marks += placed(panels, scale, (place.left, place.low))
    drawn = piece_marks(measured, glue_areas=glue_areas, mm_per_mm=scale, language=language)
    marks += placed(drawn, 1.0, (place.left, place.low))
    marks += _kept(place, kept)
    marks += _figures(place, measured, tools, rows)
    marks += _size(place, measured, language=language)
    return Page(name=name, width_mm=width_mm, height_mm=height, marks=tuple(marks), alt=alt)


def _rectangle(left: float, low: float, right: float, high: float) -> Path:
    return Path(points=((left, low), (right, low), (right, high), (left, high)), closed=True)


def _sheet(place: _Place, piece: Point, whole: Point) -> list[Mark]:
    """What is left of the sheet beside the piece, as waste, and the sheet's edge."""
    right, low = place.left + whole[0] * place.scale, place.top - whole[1] * place.scale
    cut = place.left + piece[0] * place.scale
    marks: list[Mark] = []
    if right > cut:
        marks.append(Area(paths=(_rectangle(cut, low, right, place.top),), role="waste", name="waste"))
    if place.low > low:
        marks.append(Area(paths=(_rectangle(place.left, low, cut, place.low),), role="waste", name="waste"))
    blank = Stroke(path=_rectangle(place.left, place.low, cut, place.top), role="outline", name="blank")
    return [*marks, Stroke(path=_rectangle(place.left, low, right, place.top), role="frame"), blank]


def _kept(place: _Place, kept: Sequence[Kept]) -> list[Mark]:
    """Parts of the waste that become another piece: card again, with their edge."""
    marks: list[Mark] = []
    for each in kept:
        points = tuple((place.left + x * place.scale, place.low + y * place.scale) for x, y in each.outline)
        path = Path(points=points, closed=True)
        marks += [Area(paths=(path,), role="coloured"), Stroke(path=path, role="edge", name=each.words)]
    return marks


# --- The board ----------------------------------------------------------------------------------------------


def _combs(place: _Place, measured: MeasuredPiece, tools: Tools, high: float) -> list[Mark]:
    """Strips of the board along the top and the left, with a tick for each groove or each mark of the ruler."""
    top, left = place.top, place.left
    marks: list[Mark] = [
        Area(paths=(_rectangle(left, top, place.right, top + COMB_MM),), role="board"),
        Area(paths=(_rectangle(left - COMB_MM, top - high * place.scale, left, top),), role="board"),
    ]
    for at, long in _ticks(tools, (place.right - left) / place.scale, place.scale):
        x = left + at * place.scale
        marks.append(_line((x, top), (x, top + TICK_MM[0 if long else 1])))
    for at, long in _ticks(tools, (place.top - place.low) / place.scale, place.scale):
        y = place.low + at * place.scale
        marks.append(_line((left, y), (left - TICK_MM[0 if long else 1], y)))
    return marks


def _line(a: Point, b: Point) -> Stroke:
    return Stroke(path=Path(points=(a, b)), role="tick")


def _ticks(tools: Tools, most_mm: float, scale: float) -> list[tuple[float, bool]]:
    """Places of ticks in mm, and which are at whole inches or centimetres; those that can be drawn apart."""
    whole = 25.4 if tools.ruler.unit == "in" else 10.0
    stops = [stop.float_mm for stop in tools.board.stops]
    if not stops:
        step = tools.ruler.step_length.float_mm
        stops = [step * number for number in range(1, int(most_mm / step) + 1)]
    found = [(at, abs(at / whole - round(at / whole)) * whole < 0.01) for at in stops if at <= most_mm]
    gaps = [(b - a) * scale for (a, _), (b, _) in pairwise(found)]
    return found if not gaps or min(gaps) >= STEP_GAP_MM else [each for each in found if each[1]]


# --- The figures --------------------------------------------------------------------------------------------


def _levels(places: list[float], texts: list[str]) -> list[int]:
    """The row of each figure over the board, 0 the lowest, so that none touches another."""
    ends: list[float] = []
    found = []
    for at, text in zip(places, texts, strict=True):
        half = 0.5 * text_width_mm(text, "size", SIZE_PT)
        row = next((row for row, end in enumerate(ends) if at - half > end + FIGURE_GAP_MM), len(ends))
        if row == len(ends):
            ends.append(0.0)
        ends[row] = at + half
        found.append(row)
    return found


def _figures(place: _Place, measured: MeasuredPiece, tools: Tools, rows: list[int]) -> list[Mark]:
    """Every groove to use: a triangle that points at it, and its figure; hollow where a ruler is needed."""
    marks: list[Mark] = []
    over = place.top + COMB_MM
    for each, row in zip(measured.across, rows, strict=True):
        x = place.left + each.marked.float_mm * place.scale
        marks += triangle((x, place.top + 0.6), solid=_solid(each, tools))
        at = (x, over + 2.2 + row * ROW_MM)
        marks.append(Label(text=_bare(each, tools), at=at, role="size", size_pt=SIZE_PT, anchor="middle"))
    last = -1e9
    for each in measured.up:
        y = place.low + each.marked.float_mm * place.scale
        marks += _sideways((place.left - 0.6, y), solid=_solid(each, tools))
        if y - last > ROW_MM * 0.8:
            at = (place.left - COMB_MM - 2.2, y - 0.25 * SIZE_PT * MM_PER_PT)
            marks.append(Label(text=_bare(each, tools), at=at, role="size", size_pt=SIZE_PT, anchor="end"))
            last = y
    return marks


def _solid(mark: ScoreMark, tools: Tools) -> bool:
    return mark.how == "groove" or not tools.board.stops


def _bare(mark: ScoreMark, tools: Tools) -> str:
    """A figure without its unit, which is said once below."""
    return mark.text.removesuffix(f" {tools.ruler.unit}")


def _sideways(tip: Point, *, solid: bool) -> list[Mark]:
    """The mark at a groove, pointing to the right."""
    x, y = tip
    found: list[Mark] = []
    for mark in triangle((0.0, 0.0), solid=solid):
        paths = mark.paths if isinstance(mark, Area) else (mark.path,) if isinstance(mark, Stroke) else ()
        turned = tuple(Path(points=tuple((x - b, y + a) for a, b in path.points), closed=True) for path in paths)
        if isinstance(mark, Area):
            found.append(Area(paths=turned, role=mark.role))
        elif isinstance(mark, Stroke):
            found.append(Stroke(path=turned[0], role=mark.role))
    return found


def _size(place: _Place, measured: MeasuredPiece, *, language: Language = ENGLISH) -> list[Mark]:
    """The size of the piece below it, with its unit."""
    right = place.left + measured.width.shown.float_mm * place.scale
    y = 5.5
    words = size_words(measured.width, measured.height, language=language)
    wide = text_width_mm(words, "size", SIZE_PT)
    middle = 0.5 * (place.left + right)
    marks: list[Mark] = [
        Stroke(path=Path(points=((place.left, y), (right, y))), role="dimension"),
        *(Stroke(path=Path(points=((x, y - 1.4), (x, y + 1.4))), role="dimension") for x in (place.left, right)),
        Area(paths=(_rectangle(middle - 0.5 * wide - 2, y - 3, middle + 0.5 * wide + 2, y + 3),), role="paper"),
        Label(text=words, at=(middle, y - 0.3 * SIZE_PT * MM_PER_PT), role="size", size_pt=SIZE_PT, anchor="middle"),
    ]
    return marks
