"""The hole without a printer: the box upside down on the lid's back, and what to measure from its corner."""

from __future__ import annotations

import math
from dataclasses import dataclass

from foldproof.checks.turning_evidence import Turning
from foldproof.drawing.records import Area, Label, Mark, Path, Point, Stroke, TextRole
from foldproof.drawing.style import MM_PER_PT
from foldproof.drawing.type import text_width_mm
from foldproof.geometry.plane import Polygon
from foldproof.lengths import ZERO, Length, Rounded, Ruler, in_words, length, round_to
from foldproof.lids.box import CORNERS
from foldproof.lids.turning import covering_outline
from foldproof.views.labels import TEXT_PT, line_mm
from foldproof.views.paper import Drawn, lines_of
from foldproof.views.piece import mapped, placed
from foldproof.views.tiling import Window, clipped
from foldproof.words.catalogue import ENGLISH, Language

PLACES = 4  # of a millimetre: float noise dropped before sizes are written
WHOLE_MM = 46.0  # the box on the lid's back, small
CLOSE_MM = 58.0  # its corner, large
CLOSE_TIMES = 2.1  # side of what the large picture shows, as a multiple of the way from corner to hole
BESIDE_SHARE = 0.5  # of a mark of the ruler: a hole farther beside the line that halves the corner is not on it
GAP_MM = 6.0
ASIDE_MM = 46.0  # the narrowest column in which the sentences can be read
TITLE_PT = 14.5
SIZE_PT = 12.0
CROSS_MM = 2.6
TICK_MM = 1.3


@dataclass(frozen=True, slots=True, kw_only=True)
class ByHand:
    """The hole from the outer corner of the rim: along the line that halves the corner, and in from both sides.

    ``along`` is None where the hole lies beside that line by more than half a mark of the ruler. ``sides`` are from
    the left or right side and from the front or back side, in this order; ``names`` says which.
    ``off_mm`` is how far rounding alone takes the worse of the two ways from the hole's true place; ``spare_mm`` is
    what is left of the hole's tolerance after that.
    """

    corner: Point
    along: Rounded | None
    sides: tuple[Rounded, Rounded]
    names: tuple[str, str]
    off_mm: float
    spare_mm: float


def by_hand(turning: Turning, ruler: Ruler) -> ByHand:
    """What to measure from the box's corner, on ``ruler``."""
    box, hole = turning.box, turning.lid.hole
    sx, sy = CORNERS[box.place]
    corner = (sx * max(x for x, _ in box.rim), sy * max(y for _, y in box.rim))
    in_x, in_y = abs(corner[0] - hole[0]), abs(corner[1] - hole[1])
    sides = (round_to(exact_mm(in_x), ruler), round_to(exact_mm(in_y), ruler))
    off_mm = math.hypot(sides[0].error.float_mm, sides[1].error.float_mm)
    along = None
    if abs(in_x - in_y) / math.sqrt(2.0) <= BESIDE_SHARE * ruler.step_length.float_mm:
        along = round_to(exact_mm((in_x + in_y) / math.sqrt(2.0)), ruler)
        part = along.shown.float_mm / math.sqrt(2.0)
        off_mm = max(off_mm, math.hypot(part - in_x, part - in_y))
    front_back, left_right = box.place.split()
    return ByHand(
        corner=corner,
        along=along,
        sides=sides,
        names=(left_right, front_back),
        off_mm=off_mm,
        spare_mm=max(0.0, turning.analysis.hole_tolerance_mm - off_mm),
    )


def exact_mm(size_mm: float) -> Length:
    """A computed size as a length, float noise dropped."""
    return length(f"{round(size_mm, PLACES):.{PLACES}f}", "mm")


def spare_line(turning: Turning, off_mm: float, ruler: Ruler, other: Ruler, *, language: Language = ENGLISH) -> str:
    """How far off the hole may be once rounding has taken ``off_mm`` of what is allowed."""
    return spare_words(max(0.0, turning.analysis.hole_tolerance_mm - off_mm), ruler, other, language=language)


def spare_words(spare_mm: float, ruler: Ruler, other: Ruler, *, language: Language = ENGLISH) -> str:
    """How far off the hole may be, rounded down so that it is never told too large."""
    spare = exact_mm(spare_mm)
    told = round_to(spare, ruler, "down")
    if told.shown == ZERO:
        return language.lid.spare_none.format(size=in_words(ruler.step_length, ruler))
    return language.lid.spare.format(size=told.text, other=round_to(spare, other, "down").text)


def hand_lines(turning: Turning, ruler: Ruler, other: Ruler, *, language: Language = ENGLISH) -> tuple[str, ...]:
    """The way in sentences."""
    hand = by_hand(turning, ruler)
    start, along, both, same, only = language.lid.hand_steps
    first, second = hand.sides
    one, two = (language.lid.hand_sides[0].format(place=language.place(name)) for name in hand.names)
    told = [start.format(place=language.place(turning.box.place))]
    if hand.along is not None:
        told.append(along.format(along=hand.along.text, along_other=in_words(hand.along.shown, other)))
    if hand.along is not None and first.text == second.text:
        told.append(same.format(first=first.text))
    else:
        sides = {"first": first.text, "second": second.text, "first_side": one, "second_side": two}
        others = {"first_other": in_words(first.shown, other), "second_other": in_words(second.shown, other)}
        told.append((only if hand.along is None else both).format(**sides, **others))
    told.append(spare_words(hand.spare_mm, ruler, other, language=language))
    return tuple(told)


def hand_block(
    turning: Turning,
    ruler: Ruler,
    other: Ruler,
    left: float,
    top: float,
    width_mm: float,
    more: tuple[str, ...] = (),
    *,
    language: Language = ENGLISH,
) -> Drawn:
    """Heading, the two pictures and the sentences, downwards from the upper left corner; ``more`` by sight, last."""
    heading = lines_of(language.lid.hand_way, left, top, width_mm, "heading", TITLE_PT)
    below = top - heading.height_mm - 1.5
    whole = whole_picture(turning, left, below)
    close = close_picture(turning, ruler, left + WHOLE_MM + GAP_MM, below)
    aside = WHOLE_MM + CLOSE_MM + 2 * GAP_MM
    line_top = below
    if width_mm - aside < ASIDE_MM:  # on narrow paper the sentences stand below
        aside, line_top = 0.0, below - CLOSE_MM - GAP_MM
    marks: list[Mark] = [*heading.marks, *whole, *close]
    for text, role in _told(hand_lines(turning, ruler, other, language=language), more, language=language):
        said = lines_of(text, left + aside, line_top, width_mm - aside, role, TEXT_PT)
        marks += said.marks
        line_top -= said.height_mm + 2.0
    tall = max(CLOSE_MM, below - line_top)
    return Drawn(marks=tuple(marks), height_mm=top - below + tall)


def _told(
    hand: tuple[str, ...], more: tuple[str, ...], *, language: Language = ENGLISH
) -> tuple[tuple[str, TextRole], ...]:
    """The sentences of both ways, those of the second under a title; what both end with is said once, last."""
    if not more:
        return tuple((text, "label") for text in hand)
    first = [text for text in hand if text not in more]
    return (*((text, "label") for text in first), (language.lid.sight_way, "size"), *((text, "label") for text in more))


def hand_marks(turning: Turning) -> tuple[Mark, ...]:
    """The lid's back with the box on it, its corner and the line along it, mirrored, in mm of card about the box."""
    box, lid = turning.box, turning.lid
    outline = mirrored(covering_outline(lid))
    rim = mirrored(box.rim)
    return (
        Area(paths=(Path(points=outline, closed=True),), role="plain"),
        Stroke(path=Path(points=outline, closed=True), role="outline"),
        Stroke(path=Path(points=rim, closed=True), role="edge"),
    )


def mirrored(points: Polygon) -> Polygon:
    """As seen from the back: left and right swapped; in reverse, so that it stays anticlockwise."""
    return tuple((-x, y) for x, y in reversed(points))


def whole_picture(turning: Turning, left: float, top: float) -> tuple[Mark, ...]:
    """The box, upside down, on the back of the lid; small."""
    outline = covering_outline(turning.lid)
    xs, ys = [-x for x, _ in outline], [y for _, y in outline]
    scale = min(WHOLE_MM / (max(xs) - min(xs)), WHOLE_MM / (max(ys) - min(ys)))
    shift = (left - min(xs) * scale, top - max(ys) * scale)
    rim = mirrored(turning.box.rim)
    base = Area(paths=(Path(points=rim, closed=True),), role="coloured")
    lid, edge, line = hand_marks(turning)
    marks = placed((lid, base, edge, line), scale, shift)
    return marks


def close_picture(turning: Turning, ruler: Ruler, left: float, top: float) -> tuple[Mark, ...]:
    """The corner large, with what is measured."""
    hand = by_hand(turning, ruler)
    corner, hole = (-hand.corner[0], hand.corner[1]), (-turning.lid.hole[0], turning.lid.hole[1])
    middle = (0.5 * (corner[0] + hole[0]), 0.5 * (corner[1] + hole[1]))
    side = CLOSE_TIMES * math.dist(corner, hole)
    window = Window(
        name="",
        column=0,
        row=0,
        left=middle[0] - side / 2,
        low=middle[1] - side / 2,
        right=middle[0] + side / 2,
        high=middle[1] + side / 2,
    )
    scale = CLOSE_MM / side

    def to_page(at: Point) -> Point:
        return ((at[0] - window.left) * scale + left, top - (window.high - at[1]) * scale)

    found = list(mapped(clipped(hand_marks(turning), window), to_page))
    frame = ((left, top), (left + CLOSE_MM, top), (left + CLOSE_MM, top - CLOSE_MM), (left, top - CLOSE_MM))
    found.append(Stroke(path=Path(points=frame, closed=True), role="frame"))
    a, b = to_page(corner), to_page(hole)
    if hand.along is not None:
        found += sized(a, b, hand.along.text, ratio=0.46)
    away = (math.copysign(1.0, b[0] - a[0]), math.copysign(1.0, b[1] - a[1]))
    found += sized((a[0], b[1]), b, hand.sides[0].text, ratio=0.5, away=(0.0, away[1]))
    found += sized((b[0], a[1]), b, hand.sides[1].text, ratio=0.5, away=(away[0], 0.0))
    found += cross(b)
    return tuple(found)


def cross(at: Point, half_mm: float = CROSS_MM) -> list[Mark]:
    """An upright pencil cross at the hole."""
    x, y = at
    return [
        Stroke(path=Path(points=((x - half_mm, y), (x + half_mm, y))), role="edge"),
        Stroke(path=Path(points=((x, y - half_mm), (x, y + half_mm))), role="edge"),
    ]


def sized(a: Point, b: Point, words: str, *, ratio: float, away: Point = (0.0, 0.0)) -> list[Mark]:
    """A size line with end ticks, and its words on bare paper over it, or beside it in the direction ``away``."""
    dx, dy = b[0] - a[0], b[1] - a[1]
    span = math.hypot(dx, dy)
    nx, ny = -dy / span * TICK_MM, dx / span * TICK_MM
    ticks = [((x - nx, y - ny), (x + nx, y + ny)) for x, y in (a, b)]
    at = (a[0] + ratio * dx, a[1] + ratio * dy)
    wide = text_width_mm(words, "size", SIZE_PT)
    at = (at[0] + away[0] * (0.5 * wide + 2.4), at[1] + away[1] * (0.5 * line_mm(SIZE_PT) + 1.2))
    low = at[1] - 0.30 * SIZE_PT * MM_PER_PT
    under = (
        (at[0] - wide / 2 - 0.6, low - 0.9),
        (at[0] + wide / 2 + 0.6, low - 0.9),
        (at[0] + wide / 2 + 0.6, low + 0.78 * SIZE_PT * MM_PER_PT),
        (at[0] - wide / 2 - 0.6, low + 0.78 * SIZE_PT * MM_PER_PT),
    )
    return [
        *(Stroke(path=Path(points=line), role="dimension") for line in ((a, b), *ticks)),
        Area(paths=(Path(points=under, closed=True),), role="paper"),
        Label(text=words, at=(at[0], low), role="size", size_pt=SIZE_PT, anchor="middle"),
    ]
