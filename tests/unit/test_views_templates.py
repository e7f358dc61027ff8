"""Templates: true size, true rulers, and sheets that add up to the piece."""

import dataclasses
import math
from itertools import combinations

import pytest
import shapely
from shapely import affinity

from foldproof.design.measure import measure
from foldproof.drawing.records import Area, Label, Stroke
from foldproof.pattern.cuts import cut_length, score_length
from foldproof.project.read import read_project
from foldproof.stock.sheets import read_sheet
from foldproof.views.labels import TEXT_PT, label_box
from foldproof.views.paper import Leaf
from foldproof.views.piece import glue_areas_of
from foldproof.views.templates import MARGIN_MM, best_layout, template_pages
from foldproof.views.tiling import OVERLAP_MM

FILE = """format = 1
name = "Tidepool keepsake box"
unit = "in"
[cardstock]
sheet = "12x12"
weight = "216 gsm"
[parts.box]
construction = "double-wall tray"
base_length = "{0}"
base_width = "{1}"
wall_height = "{2}"
inner_wall = "{3}"
"""
SIZES = {
    "one sheet": ("2", "2 1/2", "1", "3/4"),
    "four sheets": ("3 1/4", "3 1/4", "2 1/4", "1 1/2"),
    "wide": ("4 1/2", "1", "1 1/2", "5/8"),
    "tall": ("1", "4 1/2", "1 1/2", "5/8"),
}
PAPERS = ("Letter", "A4", "A5")


def example(name):
    part = measure(read_project(FILE.format(*SIZES[name]))).parts[0]
    (piece,) = part.pieces
    return piece, glue_areas_of(part.assembly.joins, piece.piece.id)


def laid_out(piece, paper):
    leaf = Leaf(paper=paper, margin_mm=MARGIN_MM, project_name="", title="", kind="", not_proved=False)
    return best_layout(piece, leaf)


def strokes(page, *roles):
    return [m for m in page.marks if isinstance(m, Stroke) and m.role in roles]


def labels(page):
    return [m for m in page.marks if isinstance(m, Label)]


def segments(page, *roles):
    """The drawn lines that belong to the piece: those with a name (samples in the legend have none)."""
    found = []
    for stroke in strokes(page, *roles):
        if stroke.name:
            closed = stroke.path.points[:1] if stroke.path.closed else ()
            found.append(shapely.LineString(stroke.path.points + closed))
    return found


@pytest.mark.parametrize("paper", PAPERS)
@pytest.mark.parametrize("name", SIZES)
def test_sheets_without_their_overlaps_are_the_piece(name, paper):
    piece, glue = example(name)
    sheet = read_sheet(paper, "in")
    pages = template_pages(piece, glue, sheet, "Tidepool")
    layout = laid_out(piece, sheet)
    assert len(pages) == len(layout.windows)
    for roles, meant in ((("cut",), cut_length(piece.piece)), (("valley", "mountain"), score_length(piece.piece))):
        total, seen = 0.0, shapely.Polygon()
        for page, window in zip(pages, layout.windows, strict=True):
            # From the page back to the piece, by the margins alone; what an earlier sheet shows counts once.
            back = (
                window.left - (page.width_mm - window.right + window.left) / 2,
                window.high - max_high(page, layout),
            )
            for line in segments(page, *roles):
                total += affinity.translate(line, *back).difference(seen).length
            seen = seen.union(window.shape.buffer(1e-6))
        assert total == pytest.approx(meant, abs=0.01)


def max_high(page, layout):
    """How high on the page the window's upper edge is."""
    return page.height_mm - MARGIN_MM - layout.header_mm - layout.gutter_mm


@pytest.mark.parametrize("name", SIZES)
def test_the_rulers_are_true(name):
    piece, glue = example(name)
    for page in template_pages(piece, glue, read_sheet("Letter", "in"), "Tidepool"):
        for ruler, length in (("100 mm", 100.0), ("4 in", 101.6)):
            (stroke,) = [s for s in strokes(page, "registration") if s.name == ruler]
            assert math.dist(*stroke.path.points) == pytest.approx(length, abs=1e-9)
            base = stroke.path.points[0][1]
            ticks = sorted(
                s.path.points[0][0]
                for s in strokes(page, "registration")
                if not s.name and s.path.points[0][1] == base and s.path.points[0][0] == s.path.points[1][0]
            )
            assert ticks[0] == stroke.path.points[0][0]
            assert ticks[-1] == pytest.approx(stroke.path.points[1][0])
            assert ruler in [label.text for label in labels(page)]


@pytest.mark.parametrize("paper", PAPERS)
@pytest.mark.parametrize("name", SIZES)
def test_nothing_lies_outside_what_a_printer_inks_and_no_labels_overlap(name, paper):
    piece, glue = example(name)
    for page in template_pages(piece, glue, read_sheet(paper, "in"), "Tidepool", not_proved=True):
        for mark in page.marks:
            if isinstance(mark, Label):
                left, low, right, high = label_box(mark)
                points = [(left, low), (right, high)]
                assert mark.size_pt >= TEXT_PT
            else:
                paths = mark.paths if isinstance(mark, Area) else (mark.path,)
                points = [point for path in paths for point in path.points]
            for x, y in points:
                assert MARGIN_MM - 1.5 <= x <= page.width_mm - MARGIN_MM + 1.5, (page.name, mark)
                assert MARGIN_MM - 1.5 <= y <= page.height_mm - MARGIN_MM + 1.5, (page.name, mark)
        boxes = [(label_box(m), m.text) for m in labels(page)]
        for (a, one), (b, other) in combinations(boxes, 2):
            apart = a[2] <= b[0] or b[2] <= a[0] or a[3] <= b[1] + 0.5 or b[3] <= a[1] + 0.5
            assert apart, (page.name, one, other)


def test_the_piece_is_turned_where_that_takes_fewer_sheets():
    wide, _ = example("wide")
    tall, _ = example("tall")
    letter = read_sheet("Letter", "in")
    assert laid_out(wide, letter).turned and not laid_out(tall, letter).turned
    assert len(laid_out(wide, letter).windows) == len(laid_out(tall, letter).windows) == 1


def test_one_sheet_has_no_joins():
    piece, glue = example("one sheet")
    (page,) = template_pages(piece, glue, read_sheet("Letter", "in"), "Tidepool")
    text = " ".join(label.text for label in labels(page))
    assert "join to" not in text and "Print at 100 %, true size" in text
    assert not strokes(page, "guide")


def test_joined_sheets_meet_on_their_crosses():
    piece, glue = example("four sheets")
    letter = read_sheet("Letter", "in")
    pages = template_pages(piece, glue, letter, "Tidepool")
    layout = laid_out(piece, letter)
    assert [w.name for w in layout.windows] == ["A1", "B1", "A2", "B2"]
    crosses = {}
    for page, window in zip(pages, layout.windows, strict=True):
        text = [label.text for label in labels(page)]
        for _, name in window.neighbours:
            assert f"join to {name}" in text
        left, high = (page.width_mm - (window.right - window.left)) / 2, max_high(page, layout)
        level = [
            s.path.points
            for s in strokes(page, "registration")
            if not s.name and s.path.points[0][1] == s.path.points[1][1]
        ]
        crosses[window.name] = {
            (round((a[0] + b[0]) / 2 + window.left - left, 6), round(a[1] + window.high - high, 6)) for a, b in level
        }
    middle = set.intersection(*crosses.values())
    assert len(middle) == 1
    a1 = layout.windows[0]
    ((x, y),) = middle
    assert (x, y) == pytest.approx((a1.right - OVERLAP_MM / 2, a1.low + OVERLAP_MM / 2))
    assert len(crosses["A1"] & crosses["B1"]) == 2


def test_not_proved_stands_on_every_sheet():
    piece, glue = example("four sheets")
    pages = template_pages(piece, glue, read_sheet("Letter", "in"), "Tidepool", not_proved=True)
    for page in pages:
        assert [m.text[:10] for m in labels(page) if m.role == "caution"] == ["Not proved"]


def test_more_copies_do_not_change_a_template():
    piece, glue = example("one sheet")
    many = dataclasses.replace(piece, copies=7)
    letter = read_sheet("Letter", "in")
    assert template_pages(many, glue, letter, "T") == template_pages(piece, glue, letter, "T")
