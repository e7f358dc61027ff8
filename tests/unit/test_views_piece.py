"""A piece as a drawing: every cut and score exactly once, and what helps to read it."""

import dataclasses
import math
from itertools import pairwise

import pytest
import shapely

from foldproof.design.measure import measure
from foldproof.drawing.records import Area, Label, Stroke
from foldproof.lengths import round_to
from foldproof.pattern.cuts import WELD_MM, cut_length, score_length
from foldproof.pattern.records import Hole
from foldproof.project.read import read_project
from foldproof.views.labels import label_box
from foldproof.views.piece import cut_page, glue_areas_of, piece_marks, piece_title, size_words

FILE = """format = 1
name = "Tidepool keepsake box"
unit = "in"
[cardstock]
sheet = "12x12"
weight = "216 gsm"
[parts.box]
construction = "double-wall tray"
base_length = "3 1/4"
base_width = "4 1/2"
wall_height = "2 1/4"
inner_wall = "1 1/2"
"""


@pytest.fixture(scope="module")
def part():
    return measure(read_project(FILE)).parts[0]


def strokes(marks, *roles):
    return [m for m in marks if isinstance(m, Stroke) and m.role in roles]


def total(found):
    length = 0.0
    for stroke in found:
        points = stroke.path.points + stroke.path.points[: 1 if stroke.path.closed else 0]
        length += sum(math.dist(a, b) for a, b in pairwise(points))
    return length


def test_cuts_and_scores_are_those_of_the_pattern(part):
    (measured,) = part.pieces
    for scale in (1.0, 0.3):
        marks = piece_marks(measured, mm_per_mm=scale)
        assert total(strokes(marks, "cut")) == pytest.approx(scale * cut_length(measured.piece))
        scores = strokes(marks, "valley", "mountain")
        assert total(scores) == pytest.approx(scale * score_length(measured.piece))
        assert [s.name for s in scores] == [c.id for c in measured.piece.creases]
        assert {s.name for s in strokes(marks, "cut")} == {"cut"}


def test_waste_is_the_blank_less_its_panels(part):
    (measured,) = part.pieces
    waste = [m for m in piece_marks(measured) if isinstance(m, Area) and m.role == "waste"]
    areas = [shapely.Polygon(m.paths[0].points, [p.points for p in m.paths[1:]]).area for m in waste]
    piece = measured.piece
    panels = shapely.union_all([shapely.Polygon(panel.outline) for panel in piece.panels]).area
    assert sum(areas) == pytest.approx(piece.blank_width_mm * piece.blank_height_mm - panels, abs=0.1)
    assert len(areas) >= 4


def test_names_stand_inside_their_panels(part):
    (measured,) = part.pieces
    labels = [m for m in piece_marks(measured) if isinstance(m, Label)]
    outlines = [shapely.Polygon(panel.outline).buffer(1e-6) for panel in measured.piece.panels]
    assert len(labels) >= len(outlines)
    for label in labels:
        assert any(outline.covers(shapely.box(*label_box(label))) for outline in outlines), label.text
    assert {"base", "tab", "back wall", "inner wall"} <= {label.text for label in labels}


def test_glue_is_where_the_joins_are(part):
    (measured,) = part.pieces
    areas = glue_areas_of(part.assembly.joins, measured.piece.id)
    glued = {j.a.panel for j in part.assembly.joins if j.a.side == "face"}
    assert areas and {"wall_left", "wall_right"} <= glued
    drawn = [m for m in piece_marks(measured, glue_areas=areas) if isinstance(m, Area) and m.role == "glue"]
    assert [m.paths[0].points for m in drawn] == list(areas)
    assert glue_areas_of(part.assembly.joins, "another piece") == ()


def test_the_cut_page_is_the_blank_and_has_only_lines(part):
    (measured,) = part.pieces
    page = cut_page(measured)
    assert (page.width_mm, page.height_mm) == (measured.piece.blank_width_mm, measured.piece.blank_height_mm)
    assert page.name == "box-tray"
    assert all(isinstance(mark, Stroke) and mark.role in ("cut", "valley", "mountain") for mark in page.marks)
    points = [point for mark in page.marks for point in mark.path.points]
    assert min(min(p) for p in points) >= -WELD_MM
    assert max(x for x, _ in points) <= page.width_mm + WELD_MM
    assert max(y for _, y in points) <= page.height_mm + WELD_MM
    roles = [mark.role for mark in page.marks]
    assert roles == sorted(roles, key=lambda role: role == "cut")


def test_holes_are_cut(part):
    (measured,) = part.pieces
    hole = Hole(id="brad", panel="base", centre=(100.0, 100.0), diameter_mm=3.0)
    holed = dataclasses.replace(measured, piece=dataclasses.replace(measured.piece, holes=(hole,)))
    (ring,) = [s for s in strokes(cut_page(holed).marks, "cut") if s.name == "brad"]
    assert ring.path.closed
    assert total([ring]) == pytest.approx(math.pi * 3.0, rel=1e-3)
    assert all(math.dist(p, (100.0, 100.0)) == pytest.approx(1.5) for p in ring.path.points)


def test_titles_and_sizes_in_words(part):
    (measured,) = part.pieces
    assert piece_title(measured) == "Box: tray"
    assert size_words(measured.width, measured.height) == "10 3/4 x 12 in"
    assert size_words(measured.width, measured.width) == "10 3/4 in square"
    tall = round_to(measured.width.exact * 0 + measured.width.exact / 43, read_project(FILE).other_ruler)
    wide = round_to(measured.width.exact, read_project(FILE).other_ruler)
    assert size_words(wide, tall) == "27.3 cm x 6 mm"
