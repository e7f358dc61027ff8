"""Which shapes cover a box: the smallest size that does, among those that are owned, best first."""

import dataclasses
import math
from fractions import Fraction

import numpy as np
import pytest

from foldproof.design.fit_shapes import fit_shapes
from foldproof.design.shapes_report import shapes_document
from foldproof.errors import InputError
from foldproof.exports.text import document_text
from foldproof.geometry.cover import cover_margin
from foldproof.geometry.outline import placed, points_of
from foldproof.lengths import length
from foldproof.lids.box import rectangle
from foldproof.outlines.own import at_size
from foldproof.outlines.own_shape import own_shape
from foldproof.progress import Stopped, unwatched
from foldproof.project.read import read_project
from foldproof.project.write_shapes import with_shape

TRAY = """format = 1
name = "Box"
unit = "in"
[cardstock]
sheet = "12x12"
weight = "176 gsm"
thickness = "0.27 mm +/- 0.0001"
[parts.tray]
construction = "double-wall tray"
base_length = "{length}"
base_width = "{width}"
wall_height = "2"
"""


def tray(length_in="3 1/4", width_in="3 1/4"):
    return TRAY.format(length=length_in, width=width_in)


def round_shape(name, *sizes, flat=1.0):
    """A disc of 400 sides, or flattened across."""
    turns = [2 * math.pi * n / 400 for n in range(400)]
    outline = tuple((60 * math.cos(a), 60 * flat * math.sin(a)) for a in turns)
    shape = own_shape(name, outline, accuracy_mm=0.1, source="", symmetric=False)
    return dataclasses.replace(shape, sizes=tuple(length(Fraction(size), "in") for size in sizes))


def wavy_shape(name, *sizes):
    """A shape without any symmetry."""
    turns = [2 * math.pi * n / 200 for n in range(200)]
    reach = [60 * (1 + 0.1 * math.cos(a) + 0.06 * math.cos(3 * a + 0.4) + 0.03 * math.sin(7 * a)) for a in turns]
    outline = tuple((r * math.cos(a), r * math.sin(a)) for r, a in zip(reach, turns, strict=True))
    shape = own_shape(name, outline, accuracy_mm=0.1, source="", symmetric=False)
    return dataclasses.replace(shape, sizes=tuple(length(size, "in") for size in sizes))


def test_the_smallest_owned_size_that_covers_is_named():
    project = read_project(tray())
    (box,) = fit_shapes(project, (round_shape("round", "4", "5", "6"),), unwatched)
    # Computed from the definition: a disc over a square has radius / root 2 less half a side.
    side = box.rim_mm[0]
    assert box.rim_mm == pytest.approx((82.55 + 0.27, 82.55 + 0.27), abs=1.5)
    (answer,) = box.shapes
    for each in answer.coverings:
        wanted = 0.5 * each.size.float_mm / math.sqrt(2) - 0.5 * side
        assert each.place.margin_mm == pytest.approx(wanted, abs=0.06)
        assert wanted <= each.place.bound_mm + 0.02
        assert each.covers == (wanted >= box.margin_mm)
    assert answer.best.size == length(5, "in") and answer.best.covers


def test_those_that_cover_come_first_the_smallest_before_the_others():
    shelf = (round_shape("large", "8"), round_shape("small", "3"), round_shape("snug", "5", "7"), round_shape("any"))
    (box,) = fit_shapes(read_project(tray()), shelf, unwatched)
    assert [each.shape.name for each in box.shapes] == ["any", "snug", "large", "small"]
    assert [each.best.covers for each in box.shapes] == [True, True, True, False]


def test_a_shape_of_any_size_gets_the_smallest_on_the_ruler():
    project = read_project(tray())
    (box,) = fit_shapes(project, (round_shape("any"),), unwatched)
    best = box.shapes[0].best
    assert best.covers and best.size.mm % project.ruler.step_length.mm == 0
    least = math.sqrt(2) * (box.rim_mm[0] + 2 * box.margin_mm)
    assert least - 0.5 <= box.shapes[0].none_below_mm <= least + 0.01  # 400 sides: 0.01 mm short of a disc
    assert least <= best.size.float_mm <= least + 2 * project.ruler.step_length.float_mm


def test_a_long_shape_is_turned_to_lie_along_a_long_box():
    (box,) = fit_shapes(read_project(tray("2", "4")), (round_shape("leaf", "8", flat=0.6),), unwatched)
    best = box.shapes[0].best
    assert best.covers
    # It is drawn along x and the box is longer front to back: a quarter turn either way.
    assert abs(math.cos(best.place.closed_turn_rad)) < 0.05
    at = placed(
        points_of(at_size(box.shapes[0].shape, best.size.float_mm).outline),
        turn_rad=best.place.closed_turn_rad,
        shift_mm=(best.place.moved_right_mm, best.place.moved_back_mm),
    )
    assert cover_margin(at, np.asarray(rectangle(*box.rim_mm))) == pytest.approx(best.place.margin_mm, abs=1e-9)


def test_the_place_told_is_turned_as_little_as_can_be():
    (box,) = fit_shapes(read_project(tray()), (wavy_shape("wave", "6"),), unwatched)
    place = box.shapes[0].best.place
    assert abs(math.degrees(place.closed_turn_rad)) <= 45.0
    at = placed(
        points_of(at_size(box.shapes[0].shape, 152.4).outline),
        turn_rad=place.closed_turn_rad,
        shift_mm=(place.moved_right_mm, place.moved_back_mm),
    )
    assert cover_margin(at, np.asarray(rectangle(*box.rim_mm))) == pytest.approx(place.margin_mm, abs=1e-9)


def test_shapes_of_the_file_and_of_the_shelf_are_both_looked_at():
    project = read_project(with_shape(tray(), round_shape("mine", "6")))
    (box,) = fit_shapes(project, (round_shape("theirs", "7"), round_shape("mine", "6")), unwatched)
    assert {(each.shape.name, each.kept) for each in box.shapes} == {("mine", "project"), ("theirs", "shelf")}
    text = document_text(shapes_document(project, (box,)), 88)
    assert "mine" in text and "your shelf" in text and "were searched" in text and "6 in" in text


def test_where_none_covers_the_nearest_comes_first_and_what_is_missing_is_told():
    project = read_project(tray())
    (box,) = fit_shapes(project, (round_shape("a", "2", "3"), round_shape("b", "1"), round_shape("c", "4")), unwatched)
    assert [each.shape.name for each in box.shapes] == ["c", "a", "b"]
    assert box.shapes[1].best.size == length(3, "in")
    text = document_text(shapes_document(project, (box,)), 88)
    assert "None of these shapes covers" in text and "missing" in text


def test_what_is_missing_is_told():
    with pytest.raises(InputError, match="none"):
        fit_shapes(read_project(tray()), (), unwatched)
    with pytest.raises(InputError, match="open"):
        fit_shapes(read_project(tray("work out")), (round_shape("a", "5"),), unwatched)


def test_it_can_be_stopped():
    with pytest.raises(Stopped):
        fit_shapes(read_project(tray()), (round_shape("a", "5"),), lambda *_: False)
