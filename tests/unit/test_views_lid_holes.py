"""The brad's hole in every flat piece: all holes come to lie on the lid's, whatever shape, corner and turn."""

import functools
import math

import numpy as np
import pytest

from foldproof.design.lid_parts import lids_of
from foldproof.design.measure import measure
from foldproof.design.prove import prove
from foldproof.drawing.records import Stroke
from foldproof.lids.holes import triangle_in_box, triangle_place
from foldproof.project.read import read_project
from foldproof.views.piece import cut_page

FILE = """format = 1
name = "Tidepool"
unit = "in"
[cardstock]
sheet = "12x12"
weight = "216 gsm"
[parts.box]
construction = "double-wall tray"
base_length = "3 1/2"
base_width = "3"
wall_height = "2 1/4"
inner_wall = "1 1/2"
[parts.lid]
construction = "turning lid"
on = "box"
corner = "{corner}"
across = "7"
hole_from_corner = "3/4"
{shape}
[[parts.lid.layers]]
[[parts.lid.layers]]
across = "6"
turned = 18
[[parts.lid.layers]]
across = "4"
brad = "hidden under it"
"""
SHAPES = {
    "heart": 'shape = "heart"\nclosed = 20.0',
    "star": 'shape = "star"\nlobes = 5\ndepth = "1"',
    "rosette": 'shape = "rosette"\nlobes = 10\ndepth = "3/16"\nclosed = "dip over the corner"',
}
CORNERS = ("back left", "back right", "front left", "front right")


@functools.cache
def lid(shape, corner):
    (found,) = lids_of(prove(measure(read_project(FILE.format(shape=SHAPES[shape], corner=corner)))))
    return found


def piece(found, name):
    return next(each.piece for each in found.pieces if each.piece.id == name)


@pytest.mark.parametrize("corner", CORNERS)
@pytest.mark.parametrize("shape", SHAPES)
def test_layers_laid_closed_have_their_holes_in_one_line(shape, corner):
    """Moved to where it lies closed, by a least-squares fit of its corners, each layer has its hole on the lid's."""
    found = lid(shape, corner)
    for layer in found.turning.lid.layers:
        flat = piece(found, layer.name)
        assert bool(flat.holes) == layer.pierced
        if not layer.pierced:
            continue
        here, there = np.array(flat.panels[0].outline), np.array(layer.outline)
        u, _, v = np.linalg.svd((here - here.mean(0)).T @ (there - there.mean(0)))
        turn = u @ v
        assert np.linalg.det(turn) > 0, "a layer is turned, never mirrored"
        at = (np.array(flat.holes[0].centre) - here.mean(0)) @ turn + there.mean(0)
        assert math.dist(at, found.turning.lid.hole) < 1e-6
        assert flat.holes[0].diameter_mm == found.turning.lid.fastener.hole_mm


@pytest.mark.parametrize("corner", CORNERS)
def test_the_triangles_hole_is_where_the_lid_turns(corner):
    found = lid("rosette", corner)
    box, hole = found.turning.box, found.turning.lid.hole
    for name in ("triangle", "cap"):
        flat = piece(found, name)
        (at,) = (each.centre for each in flat.holes)
        strip = flat.blank_height_mm
        assert at[0] == pytest.approx(strip, abs=1e-6)  # on the middle line of the strip
        # From the folds to the hole is as far as from the inner walls, less the half card that a fold takes.
        from_wall = abs(box.corner[0] - hole[0])
        assert (at[1] / math.sqrt(2.0)) == pytest.approx(from_wall - 0.5 * box.tab_mm, abs=1e-6)
        assert math.dist(triangle_in_box(box, at, strip), hole) < 1e-9


@pytest.mark.parametrize("corner", CORNERS)
def test_to_the_strip_and_back(corner):
    box = lid("heart", corner).turning.box
    for point in ((1.0, 2.0), (-30.0, 4.5), (17.0, -22.0)):
        assert math.dist(triangle_in_box(box, triangle_place(box, point, 25.4), 25.4), point) < 1e-9
    # The strip's middle line runs from the corner into the box.
    start, end = triangle_in_box(box, (25.4, 0.0), 25.4), triangle_in_box(box, (25.4, 10.0), 25.4)
    assert np.allclose((np.array(end) - start) / 10.0, box.into)


def test_cut_files_carry_the_hole_as_a_closed_cut():
    found = lid("heart", "back left")
    for measured in found.pieces:
        holes = [mark for mark in cut_page(measured).marks if isinstance(mark, Stroke) and mark.name == "hole"]
        assert len(holes) == len(measured.piece.holes)
        for stroke in holes:
            assert stroke.role == "cut" and stroke.path.closed
            radius = 0.5 * measured.piece.holes[0].diameter_mm
            middle = measured.piece.holes[0].centre
            for a, b in zip(stroke.path.points, (*stroke.path.points[1:], stroke.path.points[0]), strict=True):
                chord = math.dist(((a[0] + b[0]) / 2, (a[1] + b[1]) / 2), middle)
                assert 0.0 <= radius - chord <= 0.02
