"""The score plan: one leaf that tells how a piece is cut to size, scored on the board, turned, and cut out."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass

from foldproof.drawing.records import Label, LineRole, Mark, Page
from foldproof.drawing.style import MM_PER_PT
from foldproof.drawing.type import text_width_mm
from foldproof.lengths import ZERO, Rounded, Ruler, Unit, about, round_to
from foldproof.pattern.cuts import WELD_MM
from foldproof.pattern.measured import MeasuredPiece
from foldproof.pattern.records import Polygon
from foldproof.stock.board import Board
from foldproof.stock.board import Mark as ScoreMark
from foldproof.stock.sheets import SheetSize
from foldproof.views.board_picture import Setting, Tools, board_picture, error_words, offset_strip, scale_for
from foldproof.views.cut_picture import Kept, cut_picture, has_waste, names_fit, picture_width
from foldproof.views.labels import TEXT_PT
from foldproof.views.paper import (
    MARGIN_MM,
    Drawn,
    Leaf,
    LegendKey,
    header,
    legend,
    lines_of,
    printer_paper,
    step_heading,
    told_alt,
)
from foldproof.views.piece import piece_title, size_words
from foldproof.views.plan_words import Said, cut_lines, cut_title, reading_lines, step_title
from foldproof.views.turn_picture import TURN_MM, turn_picture
from foldproof.words.catalogue import ENGLISH, Language

COLUMN_GAP_MM = 8.0
# Heights tried for the boards, the largest that leaves room for the rest of the leaf.
BOARD_HEIGHTS_MM = (84.0, 78.0, 72.0, 66.0, 60.0)
BIG_PT = 26.0
CUT_HEIGHT_MM = 78.0  # least height in which the cut picture can be read
CUT_TALLEST_MM = 150.0
LEAST_PICTURE_MM = 30.0
LEGEND_ABOVE_MM = 4.0  # between the picture and the legend
CUT_SHARES = (0.40, 0.58)  # of the width, for the cut picture: least and most; the rest for words
BLOCK_GAP_MM = 4.0
PARAGRAPH_MM = 1.0
# Half the finest division that errors are told in.
HAIR: dict[Unit, str] = {"in": "1/64 in", "cm": "0.25 mm", "mm": "0.25 mm"}


@dataclass(frozen=True, slots=True, kw_only=True)
class Plan:
    """What the leaves of one piece are drawn from."""

    measured: MeasuredPiece
    tools: Tools
    glue_areas: tuple[Polygon, ...]
    side_up: str
    whole_sheet: bool
    kept: tuple[Kept, ...]


def score_plan_pages(
    measured: MeasuredPiece,
    board: Board,
    ruler: Ruler,
    other_ruler: Ruler,
    project_name: str,
    paper: SheetSize | None = None,
    *,
    glue_areas: Sequence[Polygon] = (),
    side_up: str = "",
    whole_sheet: bool = False,
    kept: Sequence[Kept] = (),
    not_proved: bool = False,
    in_class: bool = False,
    language: Language = ENGLISH,
) -> tuple[Page, ...]:
    """One leaf, or two where one has no room. Sizes are written on ``ruler``, under them on ``other_ruler``.

    ``paper`` is the printer's; without it Letter goes with inches and A4 with centimetres. ``side_up`` says in
    words which side of the card faces the maker; ``whole_sheet``: the piece is a sheet as it comes; ``kept`` are
    parts of the waste that another piece is cut from.
    """
    plan = Plan(
        measured=measured,
        tools=Tools(board=board, ruler=ruler, other=other_ruler),
        glue_areas=tuple(glue_areas),
        side_up=side_up or language.paper.side_up,
        whole_sheet=whole_sheet,
        kept=tuple(kept),
    )
    leaf = Leaf(
        paper=paper or printer_paper(ruler.unit),
        margin_mm=MARGIN_MM,
        project_name=project_name,
        title=piece_title(measured, language=language),
        kind=language.paper.score_plan,
        not_proved=not_proved,
        in_class=in_class,
    )
    top = leaf.top_mm - header(leaf, 1, 1, language=language).height_mm
    single = _single(plan, leaf, top, language=language)
    if single:
        return (_page(plan, leaf, single, 1, 1, language=language),)
    used, first = _scoring(plan, leaf, top, BOARD_HEIGHTS_MM[0], language=language)
    reading = _paragraphs(
        reading_lines(measured, plan.tools, language=language), leaf.margin_mm, used - BLOCK_GAP_MM, leaf.width_mm
    )
    # The words go with the lists they explain, unless notes on grooves have taken their place.
    with_lists = reading.height_mm <= used - BLOCK_GAP_MM - MARGIN_MM
    height_mm = min(top - MARGIN_MM, CUT_TALLEST_MM)
    apart = _cutting(plan, leaf, top, height_mm, with_reading=not with_lists, language=language)
    marks = (*first, *reading.marks) if with_lists else first
    return (_page(plan, leaf, marks, 1, 2, language=language), _page(plan, leaf, apart.marks, 2, 2, language=language))


def _single(plan: Plan, leaf: Leaf, top: float, *, language: Language = ENGLISH) -> tuple[Mark, ...]:
    """Everything on one leaf: with the largest boards that let every name stand in its panel, or else with the
    smallest boards that leave room at all; nothing when no size does.
    """
    crowded: tuple[Mark, ...] = ()
    for board_mm in BOARD_HEIGHTS_MM:
        used, first = _scoring(plan, leaf, top, board_mm, language=language)
        left_mm = used - BLOCK_GAP_MM - MARGIN_MM
        last = _cutting(plan, leaf, used - BLOCK_GAP_MM, left_mm, with_reading=True, language=language)
        if left_mm < CUT_HEIGHT_MM or last.height_mm > left_mm:
            continue
        crowded = (*first, *last.marks)
        if names_fit(plan.measured, _cut_room(plan, leaf, left_mm, language=language), language=language):
            return crowded
    return crowded


def _page(
    plan: Plan, leaf: Leaf, marks: tuple[Mark, ...], page: int, pages: int, *, language: Language = ENGLISH
) -> Page:
    def spoken(found: tuple[ScoreMark, ...]) -> str:
        return language.paper.list_join.join(m.text for m in found) or language.paper.none

    measured = plan.measured
    alt = language.paper.alt_score_plan.format(
        title=leaf.title,
        size=size_words(measured.width, measured.height, language=language),
        across=spoken(measured.across),
        up=spoken(measured.up),
        page=page,
        pages=pages,
    )
    return Page(
        name=f"score-plan-{measured.part}-{measured.piece.id}-{page}",
        width_mm=leaf.paper.width.float_mm,
        height_mm=leaf.paper.height.float_mm,
        marks=(*header(leaf, page, pages, language=language).marks, *marks),
        alt=told_alt(leaf, alt, language=language),
    )


# --- Cut to size and score ----------------------------------------------------------------------------------


def _scoring(
    plan: Plan, leaf: Leaf, top: float, board_mm: float, *, language: Language = ENGLISH
) -> tuple[float, tuple[Mark, ...]]:
    """The size to cut and the pictures on the board, side by side; gives the height at which they end."""
    size = _cut_size(plan, leaf, top, language=language)
    marks = [*size.marks]
    top -= size.height_mm
    settings = _settings(plan)
    room = (leaf.width_mm - COLUMN_GAP_MM) / 2
    lefts = [leaf.margin_mm + number * (room + COLUMN_GAP_MM) for number in range(len(settings))]
    texts = [
        _words(plan, each, n, left, top, room, language=language)
        for n, (each, left) in enumerate(zip(settings, lefts, strict=True))
    ]
    below = top - max((text.height_mm for text in texts), default=0.0) - 1.5
    scale = min((scale_for(each, room, board_mm) for each in settings), default=1.0)
    lowest = below
    for each, left, text in zip(settings, lefts, texts, strict=True):
        picture = board_picture(each, plan.tools, scale, left, below, room, language=language)
        notes = _notes(plan, each, left, below - picture.height_mm - 1.5, room, language=language)
        marks += [*text.marks, *picture.marks, *notes.marks]
        lowest = min(lowest, below - picture.height_mm - 1.5 - notes.height_mm)
    meaning = _what_rounding_means(plan, leaf, lowest, language=language)
    return lowest - meaning.height_mm, (*marks, *meaning.marks)


def _cut_size(plan: Plan, leaf: Leaf, top: float, *, language: Language = ENGLISH) -> Drawn:
    """'Cut one piece', and its size as the largest words of the leaf."""
    measured, copies = plan.measured, plan.measured.copies
    verb = language.counted(language.paper.whole_sheets if plan.whole_sheet else language.paper.cut_pieces, copies)
    above = lines_of(verb, leaf.margin_mm, top, leaf.width_mm, "note", 12.0)
    size = size_words(measured.width, measured.height, language=language)
    at = (leaf.margin_mm, top - above.height_mm - 0.72 * BIG_PT * MM_PER_PT)
    beside = at[0] + text_width_mm(size, "size", BIG_PT) + 5.0
    off = [error_words(side.error, plan.tools.ruler, language=language) for side in (measured.width, measured.height)]
    rounded = language.paper.list_join.join(dict.fromkeys(words for words in off if words))
    other = size_words(_in(measured.width, plan.tools.other), _in(measured.height, plan.tools.other), language=language)
    words = f"{other} ({rounded})" if rounded else other
    marks = (
        *above.marks,
        Label(text=size, at=at, role="size", size_pt=BIG_PT),
        Label(text=words, at=(beside, at[1]), role="other_unit", size_pt=14.0),
    )
    return Drawn(marks=marks, height_mm=above.height_mm + BIG_PT * MM_PER_PT + 3.0)


def _in(side: Rounded, ruler: Ruler) -> Rounded:
    return round_to(side.shown, ruler)


def _settings(plan: Plan) -> tuple[Setting, ...]:
    """How the piece lies each time: as it is, then turned a quarter so that its near edge is at the left."""
    measured, layout = plan.measured, plan.measured.marked
    found = []
    if measured.across:
        found.append(
            Setting(
                width=layout.width,
                height=layout.height,
                marks=measured.across,
                roles=score_roles(measured, 0),
                earlier=(),
                cross="bottom left",
                side_up=plan.side_up,
            )
        )
    if measured.up:
        found.append(
            Setting(
                width=layout.height,
                height=layout.width,
                marks=measured.up,
                roles=score_roles(measured, 1),
                earlier=tuple(m.marked for m in measured.across),
                cross="top left",
                side_up=plan.side_up,
            )
        )
    return tuple(found)


def score_roles(measured: MeasuredPiece, axis: int) -> tuple[LineRole, ...]:
    """For each score position, how it folds: mountain only where every fold on that line goes back."""
    roles: list[LineRole] = []
    for found in measured.across if axis == 0 else measured.up:
        at = found.marked.float_mm
        on_line = {
            crease.direction
            for crease in measured.piece.creases
            if all(abs(end[axis] - at) <= WELD_MM for end in crease.line)
        }
        roles.append("mountain" if on_line == {"mountain"} else "valley")
    return tuple(roles)


def _words(
    plan: Plan, setting: Setting, number: int, left: float, top: float, room: float, *, language: Language = ENGLISH
) -> Drawn:
    """Number, title and what to do; beside the second, the turn as a picture."""
    title = step_heading(
        number + 1, step_title(plan.measured, setting.cross == "top left", language=language), left, top, room
    )
    turned = setting.cross == "top left"
    turn = (
        turn_picture(left + room, top - title.height_mm, language=language)
        if turned
        else Drawn(marks=(), height_mm=0.0)
    )
    if turned:
        text = language.paper.turn_on_board
    else:
        text = language.paper.lay_on_board if plan.tools.board.stops else language.paper.lay_without_board
    words = lines_of(
        text.format(side_up=plan.side_up),
        left,
        top - title.height_mm,
        room - (TURN_MM[0] + 4.0 if turned else 0.0),
        "label",
        TEXT_PT,
    )
    height = title.height_mm + max(words.height_mm, turn.height_mm)
    return Drawn(marks=(*title.marks, *words.marks, *turn.marks), height_mm=height)


def _notes(
    plan: Plan, setting: Setting, left: float, top: float, room: float, *, language: Language = ENGLISH
) -> Drawn:
    """What to do for lines that no groove gives: the piece's edge moved over, or a ruler."""
    marks, tools = setting.marks, plan.tools
    found: list[Mark] = []
    special = tools.board.stops and any(each.how != "groove" for each in marks)
    if special and setting.cross == "top left" and marks == plan.measured.across:
        return lines_of(language.paper.as_in_step_one, left, top, room, "label", TEXT_PT)
    start = top
    for each in marks:
        if each.how == "offset" and each.edge_at is not None and each.stop is not None:
            sizes = {
                "edge": about(each.edge_at, tools.ruler, words=language.told.common.about),
                "stop": about(each.stop, tools.ruler, words=language.told.common.about),
            }
            words = lines_of(language.paper.offset.format(size=each.text, **sizes), left, top, room, "label", TEXT_PT)
            strip = offset_strip(each, tools, left, top - words.height_mm - 1.0, room)
            found += [*words.marks, *strip.marks]
            top -= words.height_mm + strip.height_mm + 2.5
    by_ruler = [each.text for each in marks if each.how == "ruler"]
    if by_ruler and tools.board.stops:
        text = language.paper.needs_ruler.format(sizes=language.paper.list_join.join(by_ruler))
        words = lines_of(text, left, top, room, "label", TEXT_PT)
        found += words.marks
        top -= words.height_mm + 1.0
    return Drawn(marks=tuple(found), height_mm=start - top)


def _what_rounding_means(plan: Plan, leaf: Leaf, top: float, *, language: Language = ENGLISH) -> Drawn:
    """Said once, where any line is rounded."""
    measured, ruler = plan.measured, plan.tools.ruler
    errors = [m.error for m in (*measured.across, *measured.up)] + [measured.width.error, measured.height.error]
    said = [error_words(error, ruler, language=language) for error in errors if error != ZERO]
    if not said:
        return Drawn(marks=(), height_mm=0.0)
    text = language.paper.over_means
    if language.paper.hair_over in said or language.paper.hair_under in said:
        text = f"{text} {language.paper.hair_means.format(size=HAIR[ruler.unit])}"
    words = lines_of(text, leaf.margin_mm, top - 1.0, leaf.width_mm, "note", TEXT_PT)
    return Drawn(marks=words.marks, height_mm=words.height_mm + 1.0)


# --- Cut out, and the words beside it -----------------------------------------------------------------------


def _cutting(
    plan: Plan, leaf: Leaf, top: float, height_mm: float, *, with_reading: bool, language: Language = ENGLISH
) -> Drawn:
    """The picture of what to cut away, the sizes for the scissors, the two ways of reading, the legend."""
    number = len(_settings(plan)) + 1
    title = step_heading(number, cut_title(plan.measured, language=language), leaf.margin_mm, top, leaf.width_mm)
    below = top - title.height_mm
    room = _cut_room(plan, leaf, height_mm, language=language)
    picture = cut_picture(
        plan.measured, plan.tools, plan.glue_areas, (leaf.margin_mm, below), room, plan.kept, language=language
    )
    said = cut_lines(plan.measured, plan.tools, language=language)
    for each in plan.kept:
        said = (*said, (language.paper.kept.format(words=each.words, letter=each.letter, size=each.size), "label"))
    if with_reading:
        said = (*said, *reading_lines(plan.measured, plan.tools, language=language))
    left = leaf.margin_mm + room[0] + COLUMN_GAP_MM
    words = _paragraphs(said, left, below - 2.0, leaf.width_mm - room[0] - COLUMN_GAP_MM)
    tall = max(picture.height_mm, words.height_mm + 2.0)
    keys = legend(_keys(plan), leaf.margin_mm, below - tall - LEGEND_ABOVE_MM, leaf.width_mm, language=language)
    return Drawn(
        marks=(*title.marks, *picture.marks, *words.marks, *keys.marks),
        height_mm=title.height_mm + tall + LEGEND_ABOVE_MM + keys.height_mm,
    )


def _cut_room(plan: Plan, leaf: Leaf, height_mm: float, *, language: Language = ENGLISH) -> tuple[float, float]:
    """Width and height for the cut picture where the whole step has ``height_mm``."""
    keys = legend(_keys(plan), leaf.margin_mm, 0.0, leaf.width_mm, language=language)
    title = step_heading(1, "", leaf.margin_mm, 0.0, leaf.width_mm)
    room = max(height_mm - title.height_mm - keys.height_mm - LEGEND_ABOVE_MM, LEAST_PICTURE_MM)
    share = picture_width(plan.measured, room) / leaf.width_mm
    return leaf.width_mm * min(max(share, CUT_SHARES[0]), CUT_SHARES[1]), room


def _paragraphs(said: Sequence[Said], left: float, top: float, room: float) -> Drawn:
    """Sentences one below the other; a heading stands a little off what is before it."""
    marks: list[Mark] = []
    start = top
    for number, (text, role) in enumerate(said):
        if role == "heading" and number:
            top -= 2.5
        words = lines_of(text, left, top, room, role, 12.0 if role == "heading" else TEXT_PT)
        marks += words.marks
        top -= words.height_mm + PARAGRAPH_MM
    return Drawn(marks=tuple(marks), height_mm=start - top)


def _keys(plan: Plan) -> tuple[LegendKey, ...]:
    """The marks that this leaf uses."""
    measured = plan.measured
    directions = {crease.direction for crease in measured.piece.creases}
    hows = {m.how for m in (*measured.across, *measured.up)}
    board = bool(plan.tools.board.stops)
    used: dict[LegendKey, bool] = {
        "cut": True,
        "valley": "valley" in directions,
        "mountain": "mountain" in directions,
        "waste": has_waste(measured),
        "glue": bool(plan.glue_areas),
        "groove": board and bool(hows & {"groove", "offset"}),
        "tick": board and bool(hows & {"offset", "ruler"}),
        "cross": bool(hows),
    }
    return tuple(key for key, shown in used.items() if shown)
