import math

import pytest
from hypothesis import given
from hypothesis import strategies as st

from foldproof.drawing.painting import Dotted, Inked, Lettered, fitted_dash, length_mm, painted
from foldproof.drawing.records import Area, Label, Page, Path, Stroke
from foldproof.drawing.style import LINES, PAPER, SEA_GREEN, Palette

SQUARE = Path(points=((10, 10), (40, 10), (40, 40), (10, 40)), closed=True)


def page(*marks):
    return Page(name="p", width_mm=100, height_mm=100, marks=marks, alt="")


def line(role, *points):
    return Stroke(path=Path(points=points), role=role)


def test_marks_are_painted_in_order():
    marks = (
        Area(paths=(SQUARE,), role="coloured"),
        Area(paths=(SQUARE,), role="glue"),
        line("cut", (0, 0), (50, 0)),
        Label(text="3 1/4", at=(20, 20), role="size", size_pt=12),
    )
    pieces = painted(page(*marks), SEA_GREEN)
    assert [type(piece) for piece in pieces] == [Inked, Dotted, Inked, Lettered]
    assert [piece.role for piece in pieces] == ["coloured", "glue", "cut", "size"]


def test_the_card_has_the_palette_s_colour():
    (piece,) = painted(page(Area(paths=(SQUARE,), role="coloured")), Palette(coloured="#ffccaa"))
    assert piece.fill == "#ffccaa"


def test_failing_areas_have_hatches_both_ways_and_an_outline():
    lines, outline = painted(page(Area(paths=(SQUARE,), role="fails")), SEA_GREEN)
    slopes = {
        round(math.degrees(math.atan2(b[1] - a[1], b[0] - a[0]))) % 180
        for a, b in (p.points for p in lines.paths)
    }
    assert slopes == {45, 135}
    assert outline.paths == (SQUARE,) and outline.width_mm > 0.8


def test_all_casings_lie_beneath_neighbouring_movement():
    pieces = painted(
        page(line("movement", (0, 0), (50, 50)), line("movement", (0, 50), (50, 0))),
        SEA_GREEN,
    )
    assert [piece.pen for piece in pieces] == [
        PAPER,
        PAPER,
        LINES["movement"].colour,
        LINES["movement"].colour,
    ]
    assert pieces[0].width_mm > 2 * pieces[2].width_mm


@pytest.mark.parametrize("value", [math.nan, math.inf])
def test_places_must_be_finite(value):
    for mark in (
        line("cut", (0, 0), (value, 1)),
        line("movement", (0, 0), (value, 1)),
        Area(paths=(Path(points=((0, 0), (1, 0), (value, 1)), closed=True),), role="waste"),
    ):
        with pytest.raises(AssertionError):
            painted(page(mark), SEA_GREEN)


def test_an_area_must_be_closed():
    with pytest.raises(AssertionError):
        painted(page(Area(paths=(Path(points=((0, 0), (1, 0), (1, 1))),), role="glue")), SEA_GREEN)


def test_length_of_a_closed_path():
    assert length_mm(SQUARE) == 120
    assert length_mm(Path(points=SQUARE.points)) == 90


@given(st.floats(0.1, 400), st.sampled_from(["valley", "mountain", "guide"]))
def test_a_dashed_line_ends_on_a_dash(length, role):
    pattern = LINES[role].dash_mm
    dash = fitted_dash(pattern, length)
    if not dash or dash == pattern:
        return  # too short to be dashed, or to be fitted
    periods = (length - dash[0]) / sum(dash)
    assert periods == pytest.approx(round(periods))
    assert all(0.7 < part / whole < 1.4 for part, whole in zip(dash, pattern, strict=True))


def test_long_lines_are_always_fitted():
    for length in (20.0, 57.15, 82.55, 300.0):
        assert fitted_dash(LINES["mountain"].dash_mm, length) != LINES["mountain"].dash_mm
    assert fitted_dash((), 50) == ()
    assert fitted_dash(LINES["valley"].dash_mm, 2.0) == ()
