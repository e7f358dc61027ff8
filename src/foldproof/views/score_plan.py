"""The score plan: one leaf that tells how a piece is cut to size, scored on the board, turned, and cut out."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass
from itertools import pairwise

from foldproof.drawing.records import LineRole, Mark, Page
from foldproof.drawing.style import MM_PER_PT
from foldproof.drawing.type import text_width_mm
from foldproof.lengths import ZERO, Length, Rounded, Ruler, in_words
from foldproof.pattern.measured import MeasuredPiece
from foldproof.pattern.records import Polygon
from foldproof.stock.board import Board
from foldproof.stock.board import Mark as ScoreMark
from foldproof.stock.sheets import SheetSize
from foldproof.views import wording
from foldproof.views.board_picture import FINE, Setting, Tools, board_picture, error_words, offset_strip, scale_for
from foldproof.views.cut_picture import cut_picture, letters_of
from foldproof.views.labels import TEXT_PT, line_mm
from foldproof.views.paper import MARGIN_MM, Drawn, Leaf, LegendKey, header, legend, lines_of, printer_paper
from foldproof.views.piece import piece_title, size_words
from foldproof.views.reading_words import reading_lines
from foldproof.views.steps import step_title, turn_picture

COLUMN_GAP_MM = 8.0
BOARD_HEIGHT_MM = 84.0  # tallest board in a column, so that the cut picture has its half of the leaf
BIG_PT = 26.0
CUT_HEIGHT_MM = 104.0  # least height in which the cut picture and the words beside it are of use
CUT_TALLEST_MM = 150.0
CUT_SHARE = 0.56  # of the width, for the cut picture; the rest for words
BLOCK_GAP_MM = 4.0


@dataclass(frozen=True, slots=True, kw_only=True)
class Plan:
    """What the leaves of one piece are drawn from."""

    measured: MeasuredPiece
    tools: Tools
    glue_areas: tuple[Polygon, ...]
    side_up: str
    whole_sheet: bool


def score_plan_pages(
    measured: MeasuredPiece,
    board: Board,
    ruler: Ruler,
    other_ruler: Ruler,
    project_name: str,
    paper: SheetSize | None = None,
    *,
    glue_areas: Sequence[Polygon] = (),
    side_up: str = wording.SIDE_UP,
    whole_sheet: bool = False,
    not_proved: bool = False,
) -> tuple[Page, ...]:
    """One leaf, or two where one has no room. Sizes are written on ``ruler``, under them on ``other_ruler``.

    ``paper`` is the printer's; without it Letter goes with inches and A4 with centimetres. ``side_up`` says in
    words which side of the card faces the maker; ``whole_sheet``: the piece is a sheet as it comes.
    """
    plan = Plan(
        measured=measured,
        tools=Tools(board=board, ruler=ruler, other=other_ruler),
        glue_areas=tuple(glue_areas),
        side_up=side_up,
        whole_sheet=whole_sheet,
    )
    leaf = Leaf(
        paper=paper or printer_paper(ruler.unit),
        margin_mm=MARGIN_MM,
        project_name=project_name,
        title=piece_title(measured),
        kind=wording.SCORE_PLAN,
        not_proved=not_proved,
    )
    head = header(leaf, 1, 1).height_mm
    used, first = _scoring(plan, leaf, leaf.top_mm - head)
    left_mm = used - MARGIN_MM
    last = _cutting(plan, leaf, used - BLOCK_GAP_MM, left_mm - BLOCK_GAP_MM)
    if left_mm >= CUT_HEIGHT_MM and last.height_mm <= left_mm - BLOCK_GAP_MM:
        return (_page(plan, leaf, (*first, *last.marks), 1, 1),)
    top = leaf.top_mm - head
    apart = _cutting(plan, leaf, top, min(top - MARGIN_MM, CUT_TALLEST_MM))
    return (_page(plan, leaf, first, 1, 2), _page(plan, leaf, apart.marks, 2, 2))


def _page(plan: Plan, leaf: Leaf, marks: tuple[Mark, ...], page: int, pages: int) -> Page:
    def spoken(found: tuple[ScoreMark, ...]) -> str:
        return wording.LIST_JOIN.join(m.text for m in found) or wording.NONE

    measured = plan.measured
    alt = wording.ALT_SCORE_PLAN.format(
        title=leaf.title,
        size=size_words(measured.width, measured.height),
        across=spoken(measured.across),
        up=spoken(measured.up),
        page=page,
        pages=pages,
    )
    return Page(
        name=f"score-plan-{measured.part}-{measured.piece.id}-{page}",
        width_mm=leaf.paper.width.float_mm,
        height_mm=leaf.paper.height.float_mm,
        marks=(*header(leaf, page, pages).marks, *marks),
        alt=f"{wording.NOT_PROVED} {alt}" if leaf.not_proved else alt,
    )


# --- Cut to size and score ----------------------------------------------------------------------------------


def _scoring(plan: Plan, leaf: Leaf, top: float) -> tuple[float, tuple[Mark, ...]]:
    """The size to cut and the pictures on the board; gives where they end."""
    size = _cut_size(plan, leaf, top)
    marks = [*size.marks]
    top -= size.height_mm
    settings = _settings(plan)
    column = (leaf.width_mm - COLUMN_GAP_MM) / 2
    scales = [scale_for(each, column, BOARD_HEIGHT_MM) for _, each in settings]
    columns = [
        _column(plan, number, turned, each, min(scales), (leaf.margin_mm + number * (column + COLUMN_GAP_MM), top), column)
        for number, (turned, each) in enumerate(settings)
    ]
    texts = max((text.height_mm for text, _ in columns), default=0.0)
    lowest = top
    for number, (text, (_, each)) in enumerate(zip((t for t, _ in columns), settings, strict=True)):
        left = leaf.margin_mm + number * (column + COLUMN_GAP_MM)
        picture = board_picture(each, plan.tools, min(scales), left, top - texts - 1.5, column)
        notes = _notes(each.marks, plan.tools, left, top - texts - 1.5 - picture.height_mm - 1.5, column)
        marks += [*text.marks, *picture.marks, *notes.marks]
        lowest = min(lowest, top - texts - 3.0 - picture.height_mm - notes.height_mm)
    meaning = _what_rounding_means(plan, leaf, lowest)
    return lowest - meaning.height_mm, (*marks, *meaning.marks)
