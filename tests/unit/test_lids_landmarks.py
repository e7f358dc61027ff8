"""The hole by what can be seen on the lid: whoever follows what is told ends at the hole, mirrored and all."""

from __future__ import annotations

import dataclasses
import itertools
import math

import pytest
from shapely.geometry import Polygon as Area

from foldproof.geometry.plane import Point
from foldproof.lengths import CM_MILLIMETRES, INCH_SIXTEENTHS, Ruler
from foldproof.lids.landmarks import HolePlace, hole_place
from foldproof.outlines.catalogue import draw, formula_named
from foldproof.outlines.record import Landmark, Shape


def formula(name: str, **values: float) -> Shape:
    found = formula_named(name)
    assert found is not None
    shape = draw(found, values)
    assert isinstance(shape, Shape)
    return shape


# A leaf with a stalk to one side: no turn and no mirror leaves it as it is.
LEAF = Shape(
    kind="leaf",
    outline=(
        *((0.0, -62.0), (30.0, -40.0), (58.0, -8.0), (40.0, 30.0)),
        *((12.0, 70.0), (-20.0, 38.0), (-55.0, 20.0), (-46.0, -20.0)),
    ),
    fold=1,
    mirror_axes_rad=(),
    across_mm=132.5,
    landmarks=(
        Landmark(name="tip 1", kind="tip", at_mm=(58.0, -8.0)),
        Landmark(name="tip 2", kind="tip", at_mm=(12.0, 70.0)),
        Landmark(name="tip 3", kind="tip", at_mm=(-55.0, 20.0)),
        Landmark(name="dip 1", kind="dip", at_mm=(-20.0, 38.0)),
    ),
)  # fmt: skip
SHAPES = {
    "rosette": formula("rosette", across=139.7, lobes=10, depth=4.7625),
    "star": formula("star", across=170.0, points=5, depth=25.0),
    "hexagon": formula("regular polygon", across=150.0, sides=6),
    "square": formula("square", side=120.0),
    "rounded square": formula("rounded square", side=120.0, corner_radius=10.0),
    "disc": formula("disc", across=140.0),
    "heart": formula("heart", across=170.0),
    "leaf": LEAF,
}
POSES = [
    (0.0, (0.0, 0.0), (-30.0, 30.0)),
    (math.radians(7.0), (0.0, 0.0), (28.0, 31.0)),
    (math.radians(-20.0), (3.0, -4.0), (-25.0, -29.0)),
    (math.radians(135.0), (0.0, 6.0), (32.0, -24.0)),
]
CASES = list(itertools.product(SHAPES, range(len(POSES)), (INCH_SIXTEENTHS, CM_MILLIMETRES)))


def face_down(at: Point, shift: Point, place: HolePlace) -> Point:
    """A point of the box's frame on the lid as the maker has laid it: mirrored, then turned."""
    x, y = -(at[0] - shift[0]), at[1] - shift[1]
    cosine, sine = math.cos(place.turned_rad), math.sin(place.turned_rad)
    return (x * cosine - y * sine, x * sine + y * cosine)


def closed(points, turn: float, shift: Point) -> list[Point]:
    cosine, sine = math.cos(turn), math.sin(turn)
    return [(x * cosine - y * sine + shift[0], x * sine + y * cosine + shift[1]) for x, y in points]


def hour_of(at: Point) -> int:
    """12 is away from the maker, 3 at her right."""
    turn = math.degrees(math.atan2(at[0], at[1])) % 360.0
    return round(turn / 30.0) % 12 or 12


def place_of(name: str, pose: int, ruler: Ruler) -> HolePlace | None:
    turn, shift, hole = POSES[pose]
    return hole_place(SHAPES[name], turn, shift, hole, ruler)


def followed(place: HolePlace, spots: list[Point]) -> Point:
    """Where a maker ends who measures as told from marks that lie there."""
    first, *more = (size.shown.float_mm for size in place.sizes)
    start = spots[0]
    if place.way in ("mark", "edge", "line"):
        end = spots[-1] if place.way == "line" else (0.0, 0.0)
        long = math.dist(start, end)
        return (start[0] + first * (end[0] - start[0]) / long, start[1] + first * (end[1] - start[1]) / long)
    if place.way == "sides":
        lines = []
        for spot, length in zip(spots, (first, *more), strict=True):
            inward = (place.hole[0] - spot[0], place.hole[1] - spot[1])
            long = math.hypot(*inward)
            nx, ny = inward[0] / long, inward[1] / long
            lines.append((nx, ny, nx * spot[0] + ny * spot[1] + length))
        (a, b, c), (d, e, f) = lines
        turn = a * e - b * d
        return ((c * e - b * f) / turn, (a * f - c * d) / turn)
    return meeting(start, spots[1], first, more[0])


def meeting(one: Point, other: Point, first: float, second: float) -> Point:
    """Where two arcs cross, on the middle's side: found by walking along the first one."""
    best = (math.inf, (0.0, 0.0))
    for step in range(360_000):
        turn = 2.0 * math.pi * step / 360_000
        at = (one[0] + first * math.cos(turn), one[1] + first * math.sin(turn))
        miss = abs(math.dist(at, other) - second)
        if miss < 2e-3:
            best = min(best, (math.hypot(*at), at))
    return best[1]


@pytest.mark.parametrize(("name", "pose", "ruler"), CASES)
def test_what_is_told_leads_to_the_hole(name, pose, ruler):
    _, shift, hole = POSES[pose]
    place = place_of(name, pose, ruler)
    assert place is not None
    true = face_down(hole, shift, place)
    assert place.hole == pytest.approx(true, abs=1e-6)
    lands = followed(place, [spot.at_mm for spot in place.spots])
    assert lands == pytest.approx(place.lands, abs=5e-3)
    assert math.dist(lands, true) == pytest.approx(place.off_mm, abs=5e-3)
    assert place.off_mm <= 1.5 * ruler.step_length.float_mm


@pytest.mark.parametrize(("name", "pose", "ruler"), CASES)
def test_what_is_told_begins_at_marks_that_are_there_and_cannot_be_mistaken(name, pose, ruler):
    turn, shift, _ = POSES[pose]
    shape, place = SHAPES[name], place_of(name, pose, ruler)
    assert place is not None
    marks = closed([mark.at_mm for mark in shape.landmarks], turn, shift)
    laid = [(mark.kind, face_down(at, shift, place)) for mark, at in zip(shape.landmarks, marks, strict=True)]
    outline = Area([face_down(at, shift, place) for at in closed(shape.outline, turn, shift)])
    for spot in (*place.spots, *([place.anchor] if place.anchor else [])):
        near = [(kind, at) for kind, at in laid if math.dist(at, spot.at_mm) < 1e-6]
        if spot.word in ("side", "edge"):
            assert outline.exterior.distance(Area([spot.at_mm] * 3)) < 0.05
            continue
        ((kind, at),) = near
        if place.anchor is not None and not spot.unmistaken:
            assert [a for k, a in laid if k == kind and hour_of(a) == spot.hour] == [at]
    if place.anchor is not None:
        assert place.anchor.hour == 6  # towards the maker


@pytest.mark.parametrize("pose", range(len(POSES)))
def test_with_the_lid_face_up_the_same_words_do_not_lead_to_the_hole(pose):
    """Who forgets to turn the lid over ends somewhere else, or finds no such mark: so the tests above can fail."""
    turn, shift, hole = POSES[pose]
    place = place_of("leaf", pose, INCH_SIXTEENTHS)
    assert place is not None
    anchor = place.anchor or place.spots[0]
    marks = [(mark.kind, mark.at_mm) for mark in LEAF.landmarks]
    laid_by = {"dip": (-20.0, 38.0), "tip": (12.0, 70.0)}[anchor.word]
    back = -0.5 * math.pi - math.atan2(laid_by[1], laid_by[0])  # that mark towards the maker
    up = [(kind, *closed([at], back, (0.0, 0.0))) for kind, at in marks]
    found = []
    for spot in place.spots:
        there = [at for kind, at in up if kind == spot.word and (spot.unmistaken or hour_of(at) == spot.hour)]
        if len(there) != 1:
            return  # no such mark, or more than one: the maker is stopped
        found += there
    lands = followed(place, found)
    true = closed([(hole[0] - shift[0], hole[1] - shift[1])], back - turn, (0.0, 0.0))[0]
    assert math.dist(lands, true) > 5.0


@pytest.mark.parametrize("name", ["rosette", "star", "hexagon", "square"])
def test_a_lid_that_looks_the_same_all_round_needs_no_way_to_lie(name):
    place = place_of(name, 0, INCH_SIXTEENTHS)
    assert place is not None and place.anchor is None
    assert not any(spot.unmistaken for spot in place.spots)


def test_each_shape_is_told_in_its_simplest_way():
    ways = {name: place_of(name, 0, INCH_SIXTEENTHS).way for name in SHAPES}
    assert ways["square"] == ways["rounded square"] == "sides" and ways["disc"] == "edge"
    assert ways["leaf"] in ("line", "arcs") and ways["heart"] in ("line", "arcs")


def test_a_hole_on_the_way_from_a_tip_to_the_middle_is_one_measure():
    """Tip over the corner, hole on the diagonal: 69.85 mm less the hole's way from the middle, on the ruler."""
    place = hole_place(SHAPES["rosette"], math.radians(135.0), (0.0, 0.0), (-30.0, 30.0), INCH_SIXTEENTHS)
    assert place is not None and (place.way, place.spots[0].word) == ("mark", "tip")
    exact = 69.85 - 30.0 * math.sqrt(2.0)
    assert place.off_mm == pytest.approx(abs(place.sizes[0].shown.float_mm - exact), abs=1e-6)
    assert place.sizes[0].text == "1 1/16 in"


@pytest.mark.parametrize("name", ["square", "rounded square", "hexagon"])
def test_the_second_side_is_the_next_one_clockwise(name):
    for pose in range(len(POSES)):
        place = place_of(name, pose, INCH_SIXTEENTHS)
        if place is not None and place.way == "sides":
            one, other = (math.atan2(spot.at_mm[1], spot.at_mm[0]) for spot in place.spots)
            assert 0.0 < math.degrees((one - other) % (2.0 * math.pi)) < 180.0


def test_a_hole_off_every_such_way_is_where_two_arcs_cross():
    place = place_of("rosette", 1, INCH_SIXTEENTHS)
    assert place is not None and place.way == "arcs"
    one, other = (math.atan2(spot.at_mm[1], spot.at_mm[0]) for spot in place.spots)
    assert math.degrees((one - other) % (2.0 * math.pi)) == pytest.approx(36.0)  # the next lobe clockwise


def test_a_shape_without_marks_and_without_symmetry_has_no_such_way():
    blob = dataclasses.replace(LEAF, landmarks=())
    assert hole_place(blob, 0.0, (0.0, 0.0), (-30.0, 30.0), INCH_SIXTEENTHS) is None
