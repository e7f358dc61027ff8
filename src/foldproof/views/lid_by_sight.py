"""The hole by what can be seen on the lid: in sentences, and drawn on the lid as it lies face down."""

from __future__ import annotations

import math
from collections.abc import Callable

from foldproof.drawing.records import Area, FillRole, Mark, Page, Path, Point, Stroke
from foldproof.geometry.plane import Polygon
from foldproof.lengths import Ruler, in_words
from foldproof.lids.landmarks import HolePlace, Spot
from foldproof.views.lid_by_hand import cross, sized
from foldproof.views.piece import placed
from foldproof.words.catalogue import ENGLISH, Language

PAD_MM = 4.0
MOST_MM = 78.0  # drawn height of the lid
SPOT_MM = 1.6  # radius of the ring round a mark
RING_POINTS = 24
ARC_STEP_RAD = math.radians(3.0)
ARC_HALF_RAD = math.radians(16.0)  # drawn either side of where two arcs cross


def sight_lines(place: HolePlace, ruler: Ruler, other: Ruler, *, language: Language = ENGLISH) -> tuple[str, ...]:
    """The way in sentences: how the lid lies, and what is measured from where."""
    anchor, sizes = place.anchor, [f"{s.text} ({in_words(s.shown, other)})" for s in place.sizes]
    start = (
        language.lid.sight_face_down
        if anchor is None
        else language.lid.sight_anchor.format(spot=_spot(anchor, anchor, language=language))
    )
    same = len(sizes) > 1 and sizes[0] == sizes[1]
    any_way = anchor is None and not any(spot.unmistaken for spot in place.spots)
    keys = [f"{place.way}/{ending}" for ending, fits in (("same", same), ("any", any_way)) if fits]
    template = next(language.lid.sight[key] for key in (*keys, place.way) if key in language.lid.sight)
    spots = [_spot(spot, anchor, language=language) for spot in place.spots]
    measure = template.format(first=sizes[0], second=sizes[-1], spot=spots[0], other=spots[-1])
    return (start, measure)


def _spot(spot: Spot, anchor: Spot | None, *, language: Language = ENGLISH) -> str:
    word = language.term(language.lid.sight_words.get(spot.word, spot.word))
    if spot.unmistaken:
        return language.lid.sight_spot_alone.format(word=word)
    return (language.lid.sight_spot_any if anchor is None else language.lid.sight_spot).format(
        word=word, hour=spot.hour
    )


def sight_page(place: HolePlace, outline: Polygon, fill: FillRole, *, name: str, alt: str, width_mm: float) -> Page:
    """The lid face down as it is laid, its marks ringed, the lengths measured and the hole; one picture.

    ``outline`` is the lowest layer's, closed, about the lid's middle.
    """
    cosine, sine = math.cos(place.turned_rad), math.sin(place.turned_rad)
    back = tuple((-x * cosine - y * sine, -x * sine + y * cosine) for x, y in reversed(outline))
    xs, ys = [x for x, _ in back], [y for _, y in back]
    scale = min((width_mm - 2 * PAD_MM) / (max(xs) - min(xs)), MOST_MM / (max(ys) - min(ys)))
    height = (max(ys) - min(ys)) * scale + 2 * PAD_MM
    shift = (0.5 * (width_mm - (max(xs) + min(xs)) * scale), PAD_MM - min(ys) * scale)

    def to_page(at: Point) -> Point:
        return (at[0] * scale + shift[0], at[1] * scale + shift[1])

    lid = Path(points=back, closed=True)
    marks: list[Mark] = [*placed((Area(paths=(lid,), role=fill), Stroke(path=lid, role="outline")), scale, shift)]
    for spot in place.spots:
        marks += _ring(to_page(spot.at_mm))
    marks += _measured(place, to_page)
    marks += cross(to_page(place.hole))
    return Page(name=name, width_mm=width_mm, height_mm=height, marks=tuple(marks), alt=alt)


def _ring(at: Point) -> list[Mark]:
    turns = (2.0 * math.pi * n / RING_POINTS for n in range(RING_POINTS))
    ring = tuple((at[0] + SPOT_MM * math.cos(turn), at[1] + SPOT_MM * math.sin(turn)) for turn in turns)
    return [Stroke(path=Path(points=ring, closed=True), role="edge", name="spot")]


def _measured(place: HolePlace, to_page: Callable[[Point], Point]) -> list[Mark]:
    """A size line from each mark to the hole; on to where a straight way leads; arcs where two lengths cross."""
    found: list[Mark] = []
    ends = {"mark": (0.0, 0.0), "edge": (0.0, 0.0), "line": place.spots[-1].at_mm}
    if place.way in ends:
        guide = Path(points=(to_page(place.spots[0].at_mm), to_page(ends[place.way])))
        found.append(Stroke(path=guide, role="guide"))
    for number, (spot, size) in enumerate(zip(place.spots, place.sizes, strict=False)):
        start, end = to_page(spot.at_mm), to_page(place.hole)
        away = (0.0, 0.0) if len(place.sizes) == 1 else _away(start, end, to_page(place.spots[1 - number].at_mm))
        found += sized(start, end, size.text, ratio=0.5, away=away)
        if place.way == "arcs":
            found.append(Stroke(path=Path(points=_arc(spot.at_mm, place.hole, to_page)), role="guide", name="arc"))
    return found


def _away(start: Point, end: Point, other: Point) -> Point:
    """Square to a size line, on the side where the other one is not: there its words have room."""
    along = math.dist(start, end)
    nx, ny = -(end[1] - start[1]) / along, (end[0] - start[0]) / along
    side = (other[0] - start[0]) * nx + (other[1] - start[1]) * ny
    return (-nx, -ny) if side > 0.0 else (nx, ny)


def _arc(middle: Point, through: Point, to_page: Callable[[Point], Point]) -> tuple[Point, ...]:
    radius, bearing = math.dist(middle, through), math.atan2(through[1] - middle[1], through[0] - middle[0])
    steps = round(2.0 * ARC_HALF_RAD / ARC_STEP_RAD)
    turns = (bearing - ARC_HALF_RAD + n * ARC_STEP_RAD for n in range(steps + 1))
    return tuple(to_page((middle[0] + radius * math.cos(t), middle[1] + radius * math.sin(t))) for t in turns)
