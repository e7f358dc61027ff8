"""A cut through wall, corner triangle, cap, layers and fastener, along the corner's middle line.

Lengths along the cut are true; card is drawn as thick as can be seen, and the picture says so.
"""

from __future__ import annotations

import math
from collections.abc import Callable, Sequence
from dataclasses import dataclass

import shapely

from foldproof.checks.turning_evidence import Turning
from foldproof.drawing.records import Area, FillRole, Label, Mark, Page, Path, Point, Stroke
from foldproof.drawing.style import MM_PER_PT
from foldproof.lids.records import LidLayer
from foldproof.views.labels import TEXT_PT, spread
from foldproof.views.piece import placed
from foldproof.words.catalogue import ENGLISH, Language

CARD_MM = 2.6  # drawn thickness of a card, on paper
FOAM_MM = 3.2
GLUE_MM = 0.5  # drawn thin line between glued cards
TURNING_MM = 1.0  # between the box and the lid, which is not glued to it
WALL_MM = 4.4  # drawn thickness of the walls
WALL_TALL_MM = 34.0
HEAD_MM = 2.4
LEG_MM = 1.3
SOCKET_MM = 4.0
HEADS = {"brad": "head", "eyelet": "eyelet", "snap": "snap"}
BACKS = {"brad": "legs", "eyelet": "flare", "snap": "socket"}
BEYOND_MM = 16.0  # of card: the cut goes so far past the triangle
PAD_MM = 2.0
LABEL_MM = 58.0  # room at the right for the names
LINE_MM = TEXT_PT * MM_PER_PT * 1.3
MOST_NAMED = 8  # layers; of more only the lowest and the uppermost are named
WIDEST = 2.2  # most paper for a millimetre of card


@dataclass(frozen=True, slots=True, kw_only=True)
class _Part:
    """A named part: where its line starts, and its words."""

    at: Point
    words: str


def section_page(
    turning: Turning,
    colours: Sequence[FillRole],
    *,
    name: str,
    alt: str,
    size: tuple[float, float],
    language: Language = ENGLISH,
) -> Page:
    """The cut, with names at the right. ``size`` is (width, most height) in mm on paper."""
    box, lid = turning.box, turning.lid
    spans = [_span(turning, layer) for layer in lid.layers]
    inner = _along(turning, box.triangle)
    start, end = min(0.0, *(span[0] for span in spans)) - 2.0, inner[1] + BEYOND_MM
    scale = min((size[0] - 2 * PAD_MM - LABEL_MM) / (end - start), WIDEST)
    left = PAD_MM

    def x_at(along_mm: float) -> float:
        return left + (min(max(along_mm, start), end) - start) * scale

    marks: list[Mark] = []
    parts: list[_Part] = []
    _box_part(marks, parts, x_at, inner[1], language=language)
    bottom = _disc_part(marks, parts, turning, x_at, language=language)
    heights = _layers_part(
        marks, parts, turning, colours, [(x_at(a), x_at(b)) for a, b in spans], bottom, language=language
    )
    _fastener(marks, parts, turning, x_at, heights, language=language)
    side = x_at(end)
    marks.append(Stroke(path=Path(points=((side, -6.0), (side, heights[-1][1] + 2.0))), role="guide"))
    parts.sort(key=lambda part: -part.at[1])
    low, high = -WALL_TALL_MM, heights[-1][1] + HEAD_MM
    wanted = [-part.at[1] for part in parts]
    places = spread(wanted, [LINE_MM] * len(parts), -high - 2 * LINE_MM, -low + 2 * LINE_MM)
    assert places is not None, "there is room for a name at every height of the picture"
    for part, place in zip(parts, places, strict=True):
        marks.append(Stroke(path=Path(points=(part.at, (side + 4.0, -place))), role="dimension"))
        marks.append(Label(text=part.words, at=(side + 5.0, -place - 1.3), role="label", size_pt=TEXT_PT))
    note = Label(text=language.lid.not_to_scale, at=(x_at(2.0) + WALL_MM, low - 1.0), role="note", size_pt=TEXT_PT)
    marks.append(note)
    return _as_page(marks, low - 3 * LINE_MM, high + 2 * LINE_MM, name=name, alt=alt, width_mm=size[0])


def _as_page(marks: Sequence[Mark], low: float, high: float, *, name: str, alt: str, width_mm: float) -> Page:
    """The marks on a page that is as high as they are."""
    ys = [y for mark in marks for y in _ys(mark)]
    low, high = max(low, min(ys) - PAD_MM), min(high, max(ys) + PAD_MM + 1.0)
    from_low = tuple(_raised(mark, -low) for mark in marks)
    return Page(name=name, width_mm=width_mm, height_mm=high - low, marks=from_low, alt=alt)


def _ys(mark: Mark) -> list[float]:
    match mark:
        case Stroke():
            return [y for _, y in mark.path.points]
        case Area():
            return [y for path in mark.paths for _, y in path.points]
        case Label():
            return [mark.at[1] - 1.2, mark.at[1] + 3.2]


def _raised(mark: Mark, by: float) -> Mark:
    return placed((mark,), 1.0, (0.0, by))[0]


# --- Lengths along the cut ----------------------------------------------------------------------------------


def _along(turning: Turning, polygon: tuple[Point, ...]) -> tuple[float, float]:
    """From where to where the cut goes through a polygon, in mm from the inner corner into the box."""
    corner, into = turning.box.corner, turning.box.into
    reach = 2.0 * max(math.dist(corner, point) for point in polygon)
    line = shapely.LineString(
        [(corner[0] + sense * reach * into[0], corner[1] + sense * reach * into[1]) for sense in (-1.0, 1.0)]
    )
    met = line.intersection(shapely.Polygon(polygon))
    if met.is_empty:
        return (0.0, 0.0)
    spots = shapely.get_coordinates(met)
    along = [float((x - corner[0]) * into[0] + (y - corner[1]) * into[1]) for x, y in spots]
    return min(along), max(along)


def _span(turning: Turning, layer: LidLayer) -> tuple[float, float]:
    return _along(turning, layer.outline)


# --- The parts ----------------------------------------------------------------------------------------------


def _box_part(
    marks: list[Mark],
    parts: list[_Part],
    x_at: Callable[[float], float],
    triangle_mm: float,
    *,
    language: Language = ENGLISH,
) -> None:
    """Wall, flap, triangle and cap; the rim and the cap's face are level at 0."""
    inside, far = x_at(0.0), x_at(triangle_mm)
    flap = -2 * CARD_MM - GLUE_MM
    _bar(marks, inside - WALL_MM, -WALL_TALL_MM, inside, 0.0, "coloured", "wall")
    _bar(marks, inside, flap - 12.0, inside + CARD_MM, -CARD_MM - GLUE_MM, "plain_shade", "flap")
    _bar(marks, inside, flap, far, -CARD_MM - GLUE_MM, "plain", "triangle")
    _bar(marks, inside + 0.6, -CARD_MM, far - 0.6, 0.0, "plain", "cap")
    parts += [
        _Part(at=(far - 1.5, -0.5 * CARD_MM), words=language.lid.section["cap"]),
        _Part(at=(far - 3.0, -1.5 * CARD_MM - GLUE_MM), words=language.lid.section["triangle"]),
        _Part(at=(inside + 0.5 * CARD_MM, flap - 8.0), words=language.lid.section["flap"]),
        _Part(at=(inside - 0.5 * WALL_MM, -WALL_TALL_MM + 6.0), words=language.lid.section["wall"]),
    ]


def _disc_part(
    marks: list[Mark],
    parts: list[_Part],
    turning: Turning,
    x_at: Callable[[float], float],
    *,
    language: Language = ENGLISH,
) -> float:
    """The disc round the hole on the lid's back, where there is one; gives the height of the lowest layer's back."""
    disc, box, hole = turning.lid.reinforcement, turning.box, turning.lid.hole
    if disc is None:
        return TURNING_MM
    along = (hole[0] - box.corner[0]) * box.into[0] + (hole[1] - box.corner[1]) * box.into[1]
    left, right = x_at(along - 0.5 * disc.diameter_mm), x_at(along + 0.5 * disc.diameter_mm)
    _bar(marks, left, TURNING_MM, right, TURNING_MM + CARD_MM, "plain_shade", "disc")
    parts.append(_Part(at=(right - 1.0, TURNING_MM + 0.5 * CARD_MM), words=language.lid.section["disc"]))
    return TURNING_MM + CARD_MM + GLUE_MM


def _layers_part(
    marks: list[Mark],
    parts: list[_Part],
    turning: Turning,
    colours: Sequence[FillRole],
    spans: Sequence[tuple[float, float]],
    bottom: float,
    *,
    language: Language = ENGLISH,
) -> list[tuple[float, float]]:
    """The layers upwards, with foam where they lie apart; gives each layer's heights on paper."""
    heights: list[tuple[float, float]] = []
    top = bottom
    for number, (layer, colour, (a, b)) in enumerate(zip(turning.lid.layers, colours, spans, strict=True)):
        apart = layer.low_mm - turning.lid.layers[number - 1].high_mm if number else 0.0
        if number:
            top += FOAM_MM if apart > 0.0 else GLUE_MM
        if apart > 0.0 and b - a > 4.0:
            _bar(marks, b - 14.0, top - FOAM_MM, b - 3.0, top, "board", "between")
            if all(part.words != language.lid.section["between"] for part in parts):
                parts.append(_Part(at=(b - 6.0, top - 0.5 * FOAM_MM), words=language.lid.section["between"]))
        if b > a:
            _bar(marks, a, top, b, top + CARD_MM, colour, layer.name)
            words = language.lid.section["layer" if layer.pierced else "over"].format(number=number + 1)
            if len(turning.lid.layers) <= MOST_NAMED or number in (0, len(turning.lid.layers) - 1):
                parts.append(_Part(at=(b - 1.0, top + 0.5 * CARD_MM), words=words))
        heights.append((top, top + CARD_MM))
        top += CARD_MM
    return heights


def _fastener(
    marks: list[Mark],
    parts: list[_Part],
    turning: Turning,
    x_at: Callable[[float], float],
    heights: Sequence[tuple[float, float]],
    *,
    language: Language = ENGLISH,
) -> None:
    """Head, shank, and what lies under the triangle: legs open along its long edge, so they are cut across here."""
    pin, box, hole = turning.lid.fastener, turning.box, turning.lid.hole
    along = (hole[0] - box.corner[0]) * box.into[0] + (hole[1] - box.corner[1]) * box.into[1]
    x = x_at(along)

    def half_of(across_mm: float) -> float:
        return max(0.5 * abs(x_at(along + 0.5 * across_mm) - x_at(along - 0.5 * across_mm)), 2.0)

    half = half_of(pin.head_mm)
    on = max(high for layer, (_, high) in zip(turning.lid.layers, heights, strict=True) if layer.pierced)
    below = -2 * CARD_MM - GLUE_MM
    tall = SOCKET_MM if pin.kind == "snap" else LEG_MM
    _bar(marks, x - LEG_MM, below - tall, x + LEG_MM, on, "paper", "shank")
    marks.append(Stroke(path=Path(points=((x, below - tall), (x, on))), role="edge"))
    above = [low for layer, (low, _) in zip(turning.lid.layers, heights, strict=True) if not layer.pierced]
    # A thin head under the layers over it is drawn no higher than the room it has.
    head = min(HEAD_MM, min(above) - on + 0.6 * CARD_MM) if above else HEAD_MM
    path = ((x - half, on), (x + half, on), (x + 0.7 * half, on + head), (x - 0.7 * half, on + head))
    marks.append(Area(paths=(Path(points=path, closed=True),), role="coloured_shade", name="head"))
    marks.append(Stroke(path=Path(points=path, closed=True), role="edge", name="head"))
    words = language.lid.section[HEADS[pin.kind]]
    parts.append(_Part(at=(x + 0.6 * half, on + 0.5 * head), words=words))
    wide = 2.2 if pin.back_mm <= 0.0 else half_of(pin.back_mm)
    _bar(marks, x - wide, below - tall, x + wide, below, "ink" if pin.kind == "brad" else "coloured_shade", "back")
    parts.append(_Part(at=(x + wide, below - 0.5 * tall), words=language.lid.section[BACKS[pin.kind]]))


def _bar(marks: list[Mark], left: float, low: float, right: float, high: float, role: FillRole, name: str) -> None:
    path = Path(points=((left, low), (right, low), (right, high), (left, high)), closed=True)
    marks.append(Area(paths=(path,), role=role, name=name))
    marks.append(Stroke(path=path, role="edge", name=name))
