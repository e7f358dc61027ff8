"""Pictures of the work at the bench, before any fold: cut to size, score, turn and score, cut the corners away."""

from __future__ import annotations

from collections.abc import Sequence

from foldproof.drawing.records import Area, Label, Mark, Page, Path, Point, Stroke
from foldproof.drawing.style import MM_PER_PT
from foldproof.lengths import in_words
from foldproof.pattern.measured import MeasuredPiece
from foldproof.pattern.records import Polygon
from foldproof.stock.sheets import SheetSize
from foldproof.views.board_picture import SIZE_PT, Setting, Tools, board_picture, scale_for
from foldproof.views.cut_picture import Kept, cut_picture
from foldproof.views.paper import Drawn
from foldproof.views.piece import placed
from foldproof.views.score_plan import score_roles
from foldproof.words.catalogue import ENGLISH, Language

PAD_MM = 2.0
BOARD_MM = 110.0  # tallest board in a picture
BELOW_MM = 12.0  # for a size under the sheet
BESIDE_MM = 10.0  # for a size beside it
GAP_MM = 3.0  # from the sheet to a size line
TICK_MM = 1.2


def sheet_page(
    measured: MeasuredPiece, sheet: SheetSize, tools: Tools, *, name: str, alt: str, size: tuple[float, float]
) -> Page:
    """The piece in a corner of its sheet, with its size on the maker's ruler; the sheet turned where that fits."""
    piece = measured.width.shown.float_mm, measured.height.shown.float_mm
    whole = sheet.width.float_mm, sheet.height.float_mm
    if piece[0] > whole[0] or piece[1] > whole[1]:
        whole = whole[1], whole[0]
    wide, high = max(whole[0], piece[0]), max(whole[1], piece[1])
    scale = min((size[0] - 2 * PAD_MM - 2 * BESIDE_MM) / wide, (size[1] - 2 * PAD_MM - BELOW_MM) / high)
    left, low = (size[0] - wide * scale) / 2, PAD_MM + BELOW_MM
    right, top = left + piece[0] * scale, low + piece[1] * scale
    words = [in_words(side.shown, tools.ruler) for side in (measured.width, measured.height)]
    marks: tuple[Mark, ...] = (
        Stroke(path=_rectangle(left, low, whole[0] * scale, whole[1] * scale), role="frame"),
        Area(paths=(_rectangle(left, low, right - left, top - low),), role="coloured"),
        Stroke(path=_rectangle(left, low, right - left, top - low), role="cut", name="cut"),
        *_size((left, low - GAP_MM), (right, low - GAP_MM), words[0], 0.0),
        *_size((left - GAP_MM, low), (left - GAP_MM, top), words[1], 90.0),
    )
    return Page(name=name, width_mm=size[0], height_mm=low + high * scale + PAD_MM, marks=marks, alt=alt)


def _size(a: Point, b: Point, words: str, angle_deg: float) -> tuple[Mark, ...]:
    """A size line with end ticks and its words: below a level line, at the left of an upright one."""
    upright = angle_deg != 0.0
    along = (TICK_MM, 0.0) if upright else (0.0, TICK_MM)
    ticks = [((x - along[0], y - along[1]), (x + along[0], y + along[1])) for x, y in (a, b)]
    middle = (a[0] + b[0]) / 2, (a[1] + b[1]) / 2
    at = (middle[0] - GAP_MM / 2, middle[1]) if upright else (middle[0], middle[1] - SIZE_PT * MM_PER_PT)
    return (
        *(Stroke(path=Path(points=line), role="dimension") for line in ((a, b), *ticks)),
        Label(text=words, at=at, role="size", size_pt=SIZE_PT, anchor="middle", angle_deg=angle_deg),
    )


def _rectangle(left: float, low: float, width: float, height: float) -> Path:
    right, high = left + width, low + height
    return Path(points=((left, low), (right, low), (right, high), (left, high)), closed=True)


def board_page(
    measured: MeasuredPiece,
    tools: Tools,
    *,
    turned: bool,
    name: str,
    alt: str,
    width_mm: float,
    language: Language = ENGLISH,
) -> Page:
    """The piece on the board with the positions to score: as it lies, or after the quarter turn."""
    layout = measured.marked
    setting = Setting(
        width=layout.height if turned else layout.width,
        height=layout.width if turned else layout.height,
        marks=measured.up if turned else measured.across,
        roles=score_roles(measured, 1 if turned else 0),
        earlier=tuple(mark.marked for mark in measured.across) if turned else (),
        cross="top left" if turned else "bottom left",
        side_up=language.paper.side_up,
    )
    room = width_mm - 2 * PAD_MM
    drawn = board_picture(setting, tools, scale_for(setting, room, BOARD_MM), PAD_MM, 0.0, room, language=language)
    return _as_page(drawn, name=name, alt=alt, width_mm=width_mm)


def cutting_page(
    measured: MeasuredPiece,
    tools: Tools,
    glue_areas: Sequence[Polygon],
    *,
    name: str,
    alt: str,
    size: tuple[float, float],
    kept: Sequence[Kept] = (),
    language: Language = ENGLISH,
) -> Page:
    """What to cut away, hatched, and what is kept of it for another piece."""
    room = (size[0] - 2 * PAD_MM, size[1] - 2 * PAD_MM)
    drawn = cut_picture(measured, tools, glue_areas, (PAD_MM, 0.0), room, kept, language=language)
    return _as_page(drawn, name=name, alt=alt, width_mm=size[0])


def _as_page(drawn: Drawn, *, name: str, alt: str, width_mm: float) -> Page:
    """A picture drawn downwards from zero, on a page of its own height."""
    height = drawn.height_mm + 2 * PAD_MM
    marks = placed(drawn.marks, 1.0, (0.0, height - PAD_MM))
    return Page(name=name, width_mm=width_mm, height_mm=height, marks=marks, alt=alt)
