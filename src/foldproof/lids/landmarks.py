"""The hole's place told from what a maker can see on the lid: its tips, dips, corners and straight edges.

The lid lies face down, so all is mirrored, and no box is needed. A lid that looks the same after a part of a turn can
lie any way round, and its measures begin at any tip or dip. One that does not is first laid with a mark that cannot
be mistaken towards the maker; its other marks are then found like the hours of a clock.

Each way of measuring is followed on the ruler, as the maker does, and the place it leads to is compared with the true
one. The simplest way that loses hardly more than the rounding of one measure is told.
"""

from __future__ import annotations

import math
import re
from collections.abc import Iterator
from dataclasses import dataclass
from fractions import Fraction
from itertools import combinations, permutations
from typing import Literal

import numpy as np

from foldproof.geometry.plane import Array, Point
from foldproof.lengths import Length, Rounded, Ruler, round_to
from foldproof.outlines.record import Shape

Way = Literal["sides", "edge", "mark", "line", "arcs"]
WAYS: tuple[Way, ...] = ("sides", "edge", "mark", "line", "arcs")  # the simplest first

ROUNDED_SHARE = 0.75  # of a ruler's mark, by which a simple way may miss: two roundings at once, and a little
MOST_STEPS_OFF = 1.5  # marks of the ruler: a way that misses by more is not told at all
HAND_SHARE = 0.01  # of a length: by which a hand measures a long one less surely; common practice, no source
SIDE_SHARE = 0.25  # of a lid's size: an edge so long can be measured from
LEAST_CROSSING_RAD = math.radians(35.0)  # two arcs or edges that cross more flatly do not give a clear point
APART_RAD = math.radians(20.0)  # marks of one kind nearer to each other are not told apart by the hour
PLAIN_MM = 1.5  # a tip that is so much farther out than any other cannot be mistaken
LEAST_MM = 3.0  # shorter than this nothing is measured with a ruler
LEAST_SIDES = 3
HOURS = 12
EXACT_PLACES = 6  # of a millimetre: float noise dropped before a length is rounded to the ruler


@dataclass(frozen=True, slots=True, kw_only=True)
class Spot:
    """A mark on the lid as it lies face down. ``word`` is what it is called, ``hour`` where it is, as on a clock.

    ``unmistaken``: there is no other of its word, so that the hour is not needed.
    """

    word: str
    at_mm: Point
    hour: int
    unmistaken: bool


@dataclass(frozen=True, slots=True, kw_only=True)
class HolePlace:
    """Where the hole is, from marks of the lid, in the frame of the lid face down about its middle.

    ``anchor`` is the mark to lay towards the maker first; None when the lid may lie any way round. By ``way``:
    "sides" measures in from two edges that meet, the second the next one clockwise; "edge" from any place of the edge
    to the middle; "mark" from the one spot to the middle; "line" from the first spot straight to the second; "arcs"
    from both spots, to where the two lengths meet on the middle's side. ``sizes`` are the measures in that order,
    ``lands`` where they lead, ``off_mm`` how far that is from the true ``hole``. ``turned_rad`` is how far the
    mirrored lid was turned into this frame.
    """

    way: Way
    anchor: Spot | None
    spots: tuple[Spot, ...]
    sizes: tuple[Rounded, ...]
    lands: Point
    hole: Point
    off_mm: float
    turned_rad: float


@dataclass(frozen=True, slots=True, kw_only=True)
class _Back:
    """The lid face down: its outline, its marks, the hole, the ruler, and whether it may lie any way round."""

    outline: Array
    spots: tuple[Spot, ...]
    hole: Point
    across_mm: float
    ruler: Ruler
    fold: int
    any_way: bool
    anchor: Spot | None
    turned_rad: float


def hole_place(shape: Shape, turn_rad: float, shift: Point, hole: Point, ruler: Ruler) -> HolePlace | None:
    """The hole of a closed lid from its own marks; None for a shape that has none to tell it by.

    ``shape`` is the lowest layer's, turned by ``turn_rad`` and shifted by ``shift`` when closed; ``hole`` is in the
    box's frame.
    """
    back = _face_down(shape, turn_rad, shift, hole, ruler)
    step_mm = ruler.step_length.float_mm
    every = (*_from_sides(back), *_from_edge(back, shape), *_from_marks(back), *_from_two(back))
    found = [place for place in every if place.off_mm <= MOST_STEPS_OFF * step_mm]
    if not found:
        return None
    spare = ROUNDED_SHARE * step_mm

    def merit(place: HolePlace) -> tuple[int, float]:
        simple = WAYS.index(place.way) if place.off_mm <= spare else len(WAYS)
        long = sum(size.shown.float_mm for size in place.sizes)
        return simple, round(place.off_mm + HAND_SHARE * long, 6)

    return min(found, key=merit)


# --- The lid face down --------------------------------------------------------------------------------------


def _face_down(shape: Shape, turn_rad: float, shift: Point, hole: Point, ruler: Ruler) -> _Back:
    mirrored = _turned([(-x, y) for x, y in _turned(shape.outline, turn_rad)], 0.0)
    places = [(-x, y) for x, y in _turned([mark.at_mm for mark in shape.landmarks], turn_rad)]
    at = (-(hole[0] - shift[0]), hole[1] - shift[1])
    words = [_word(mark.name) for mark in shape.landmarks]
    any_way = shape.fold != 1
    anchor = None if any_way else _unmistaken(words, places)
    turned = 0.0
    if anchor is not None:
        turned = -0.5 * math.pi - math.atan2(places[anchor][1], places[anchor][0])
    elif any_way and places:
        nearest = min(places, key=lambda place: math.dist(place, at))
        turned = 0.5 * math.pi - math.atan2(nearest[1], nearest[0])
    turned_places = _turned(places, turned)
    spots = tuple(_spots(words, turned_places, shape.fold))
    return _Back(
        outline=np.asarray(_turned(mirrored, turned)),
        spots=spots,
        hole=_turned([at], turned)[0],
        across_mm=shape.across_mm,
        ruler=ruler,
        fold=shape.fold,
        any_way=any_way,
        anchor=None if anchor is None else _spot(words[anchor], turned_places[anchor], unmistaken=True),
        turned_rad=turned,
    )


def _turned(points: Array | list[Point] | tuple[Point, ...], turn_rad: float) -> list[Point]:
    cosine, sine = math.cos(turn_rad), math.sin(turn_rad)
    return [(float(x * cosine - y * sine), float(x * sine + y * cosine)) for x, y in points]


def _word(name: str) -> str:
    """What a mark is called: its name without its number, and without its side, which has changed."""
    return re.sub(r"\s*\d+$|\b(?:left|right) ", "", name)


def _unmistaken(words: list[str], places: list[Point]) -> int | None:
    """The mark to lay a lid by: the only one of its word, the one most clearly so, or the tip farthest out."""
    alone = [number for number, word in enumerate(words) if words.count(word) == 1]
    if alone:
        return max(alone, key=lambda number: math.hypot(*places[number]))
    tips = sorted((n for n, word in enumerate(words) if word == "tip"), key=lambda n: -math.hypot(*places[n]))
    if len(tips) > 1 and math.hypot(*places[tips[0]]) - math.hypot(*places[tips[1]]) >= PLAIN_MM:
        return tips[0]
    return None


def _spots(words: list[str], places: list[Point], fold: int) -> Iterator[Spot]:
    """The marks that can be told: any of as many as there are ways round, or one that is alone at its hour."""
    for number, (word, place) in enumerate(zip(words, places, strict=True)):
        others = [places[n] for n, other in enumerate(words) if other == word and n != number]
        if fold == 1:
            spot = _spot(word, place, unmistaken=not others)
            if all(_between(place, other) > APART_RAD and _hour(other) != spot.hour for other in others):
                yield spot
        elif len(others) + 1 == fold:
            yield _spot(word, place, unmistaken=False)


def _spot(word: str, place: Point, *, unmistaken: bool) -> Spot:
    return Spot(word=word, at_mm=place, hour=_hour(place), unmistaken=unmistaken)


def _hour(place: Point) -> int:
    return round((0.25 - math.atan2(place[1], place[0]) / (2.0 * math.pi)) * HOURS) % HOURS or HOURS


def _between(one: Point, other: Point) -> float:
    """The angle at the middle between two places."""
    return abs(math.remainder(math.atan2(one[1], one[0]) - math.atan2(other[1], other[0]), 2.0 * math.pi))


def _exact(size_mm: float) -> Length:
    return Length(Fraction(str(round(size_mm, EXACT_PLACES))))


def _place(back: _Back, way: Way, spots: tuple[Spot, ...], sizes: tuple[Rounded, ...], lands: Point) -> HolePlace:
    return HolePlace(
        way=way,
        anchor=None if len(spots) == 1 and spots[0].unmistaken else back.anchor,
        spots=spots,
        sizes=sizes,
        lands=lands,
        hole=back.hole,
        off_mm=math.dist(lands, back.hole),
        turned_rad=back.turned_rad,
    )


# --- From edges ---------------------------------------------------------------------------------------------


def _from_edge(back: _Back, shape: Shape) -> Iterator[HolePlace]:
    """A disc: in from the edge, anywhere."""
    if shape.fold != 0:
        return
    away = math.hypot(*back.hole)
    size = round_to(_exact(0.5 * back.across_mm - away), back.ruler)
    if size.shown.float_mm < LEAST_MM or away == 0.0:
        return
    reach = 0.5 * back.across_mm - size.shown.float_mm
    lands = (back.hole[0] * reach / away, back.hole[1] * reach / away)
    edge = (back.hole[0] * 0.5 * back.across_mm / away, back.hole[1] * 0.5 * back.across_mm / away)
    yield _place(back, "edge", (_spot("edge", edge, unmistaken=False),), (size,), lands)


def _from_sides(back: _Back) -> Iterator[HolePlace]:
    """In from two straight sides that meet, for a lid whose sides are all alike. Face down, it is clockwise."""
    start = back.outline
    ahead = np.roll(start, -1, axis=0) - start
    long = [n for n in range(len(start)) if math.hypot(*ahead[n]) >= SIDE_SHARE * back.across_mm]
    if len(long) != back.fold or back.fold < LEAST_SIDES:
        return
    for number, first in enumerate(long):
        second = long[(number + 1) % len(long)]
        lines = []
        for edge in (first, second):
            along = ahead[edge] / math.hypot(*ahead[edge])
            inward = np.array([along[1], -along[0]])
            offset = np.asarray(back.hole) - start[edge]
            lines.append((inward, start[edge], float(offset @ inward), float(offset @ along), math.hypot(*ahead[edge])))
        if not all(in_mm >= LEAST_MM and 0.0 <= along_mm <= long_mm for _, _, in_mm, along_mm, long_mm in lines):
            continue
        (n1, p1, in1, _, _), (n2, p2, in2, _, _) = lines
        if abs(n1[0] * n2[1] - n1[1] * n2[0]) < math.sin(LEAST_CROSSING_RAD):
            continue
        sizes = (round_to(_exact(in1), back.ruler), round_to(_exact(in2), back.ruler))
        inside = [n @ p + size.shown.float_mm for n, p, size in zip((n1, n2), (p1, p2), sizes, strict=True)]
        x, y = np.linalg.solve(np.array([n1, n2]), np.array(inside))
        feet = [np.asarray(back.hole) - in_mm * inward for inward, _, in_mm, _, _ in lines]
        spots = tuple(_spot("side", (float(fx), float(fy)), unmistaken=False) for fx, fy in feet)
        yield _place(back, "sides", spots, sizes, (float(x), float(y)))


# --- From marks ---------------------------------------------------------------------------------------------


def _from_marks(back: _Back) -> Iterator[HolePlace]:
    """From a mark to the middle, where the middle can be seen; else from a mark straight to another."""
    if back.any_way:
        for spot in back.spots:
            yield from _along(back, "mark", (spot,), (0.0, 0.0))
    else:
        for pair in permutations(back.spots, 2):
            yield from _along(back, "line", pair, pair[1].at_mm)


def _along(back: _Back, way: Way, spots: tuple[Spot, ...], end: Point) -> Iterator[HolePlace]:
    """The place on a straight way that is nearest to the hole; none where nothing can be measured."""
    (x, y), (to_x, to_y) = spots[0].at_mm, end
    long = math.hypot(to_x - x, to_y - y)
    if long < LEAST_MM:
        return
    ux, uy = (to_x - x) / long, (to_y - y) / long
    size = round_to(_exact((back.hole[0] - x) * ux + (back.hole[1] - y) * uy), back.ruler)
    shown = size.shown.float_mm
    if LEAST_MM <= shown <= long:
        yield _place(back, way, spots, (size,), (x + shown * ux, y + shown * uy))


def _from_two(back: _Back) -> Iterator[HolePlace]:
    """From two marks, to where both lengths meet on the middle's side: neighbours, where the lid may lie any way."""
    for one, other in _pairs(back):
        sizes = tuple(round_to(_exact(math.dist(spot.at_mm, back.hole)), back.ruler) for spot in (one, other))
        lands = _meeting(one.at_mm, other.at_mm, *(size.shown.float_mm for size in sizes))
        if lands is not None and min(size.shown.float_mm for size in sizes) >= LEAST_MM:
            yield _place(back, "arcs", (one, other), sizes, lands)


def _pairs(back: _Back) -> Iterator[tuple[Spot, Spot]]:
    """Pairs of marks, the second the next of its word clockwise where that is how it is told."""
    if not back.any_way:
        yield from combinations(back.spots, 2)
        return
    for word in dict.fromkeys(spot.word for spot in back.spots):
        ring = [spot for spot in back.spots if spot.word == word]
        ring.sort(key=lambda spot: -math.atan2(spot.at_mm[1], spot.at_mm[0]))
        yield from ((spot, ring[(n + 1) % len(ring)]) for n, spot in enumerate(ring) if len(ring) > 1)


def _meeting(one: Point, other: Point, first_mm: float, second_mm: float) -> Point | None:
    """Where circles about two points meet on the side of the origin; None where they do not, or too flatly."""
    apart = math.dist(one, other)
    if apart < LEAST_MM or not abs(first_mm - second_mm) < apart < first_mm + second_mm:
        return None
    crossing = math.acos((first_mm**2 + second_mm**2 - apart**2) / (2.0 * first_mm * second_mm))
    if not LEAST_CROSSING_RAD <= crossing <= math.pi - LEAST_CROSSING_RAD:
        return None
    along = (first_mm**2 - second_mm**2 + apart**2) / (2.0 * apart)
    aside = math.sqrt(first_mm**2 - along**2)
    ux, uy = (other[0] - one[0]) / apart, (other[1] - one[1]) / apart
    ways = [(one[0] + along * ux - s * aside * uy, one[1] + along * uy + s * aside * ux) for s in (1.0, -1.0)]
    nearer, farther = sorted(ways, key=lambda way: math.hypot(*way))
    return nearer if math.hypot(*farther) - math.hypot(*nearer) >= LEAST_MM else None
