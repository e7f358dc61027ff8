"""Sheet sizes, paper weights and score positions against published figures; the source stands beside each.

M: from memory of the standard. C: computed from a definition. CP: common practice, no source.
"""

from fractions import Fraction
from itertools import pairwise

import pytest
from reportlab.lib import pagesizes

from foldproof.lengths import INCH_SIXTEENTHS, ZERO, length, parse_length, round_positions
from foldproof.stock.board import mark, read_board
from foldproof.stock.paper import BASIS_SIZES_IN, estimate_thickness, grams_from_pounds, read_weight
from foldproof.stock.readings import compare_readings
from foldproof.stock.sheets import read_sheet

MM_PER_POINT = 25.4 / 72
AGREE_MM = 0.1  # page sizes in other tables are rounded to a tenth of a millimetre or better


def inches(value):
    return length(Fraction(value), "in")


# Referee: reportlab.lib.pagesizes, an independent table in points.
@pytest.mark.parametrize(
    ("name", "points"),
    [
        ("A3", pagesizes.A3),
        ("A4", pagesizes.A4),
        ("A5", pagesizes.A5),
        ("A6", pagesizes.A6),
        ("B4", pagesizes.B4),
        ("B5", pagesizes.B5),
        ("Letter", pagesizes.LETTER),
        ("Legal", pagesizes.LEGAL),
        ("Tabloid", pagesizes.ELEVENSEVENTEEN),
    ],
)
def test_sheets_agree_with_another_library(name, points):
    sheet = read_sheet(name, "in")
    assert sheet.width.float_mm == pytest.approx(points[0] * MM_PER_POINT, abs=AGREE_MM)
    assert sheet.height.float_mm == pytest.approx(points[1] * MM_PER_POINT, abs=AGREE_MM)


# ISO 216 (M): A3 297x420, A4 210x297, A5 148x210, A6 105x148, B4 250x353, B5 176x250 mm, exactly.
# ANSI/ASME Y14.1 (M): Letter 8.5x11, Legal 8.5x14, Tabloid 11x17 in, exactly.
# https://cardsbymaaike.blogspot.com 2016/01 (P): the craft sheet is 12x12 in, 304.8 mm.
@pytest.mark.parametrize(
    ("name", "width", "height"),
    [
        ("A3", "297 mm", "420 mm"),
        ("A4", "210 mm", "297 mm"),
        ("A5", "148 mm", "210 mm"),
        ("A6", "105 mm", "148 mm"),
        ("B4", "250 mm", "353 mm"),
        ("B5", "176 mm", "250 mm"),
        ("Letter", "8.5 in", "11 in"),
        ("Legal", "8.5 in", "14 in"),
        ("Tabloid", "11 in", "17 in"),
        ("12x12", "304.8 mm", "304.8 mm"),
    ],
)
def test_sheets_are_exactly_the_standard(name, width, height):
    sheet = read_sheet(name, "mm")
    assert (sheet.width, sheet.height) == (parse_length(width, "mm"), parse_length(height, "mm"))


# ISO 216 (M), C: halving a sheet across its long side gives the next, whole millimetres rounded down.
@pytest.mark.parametrize(("larger", "smaller"), [("A3", "A4"), ("A4", "A5"), ("A5", "A6"), ("B4", "B5")])
def test_half_a_sheet_is_the_next_size(larger, smaller):
    whole, half = read_sheet(larger, "mm"), read_sheet(smaller, "mm")
    assert half.height == whole.width
    assert half.width.mm == whole.height.mm // 2


# C, from 500 sheets of the basis size: gsm = lb x 1406.1392 / (basis width x height in square inches).
@pytest.mark.parametrize(
    ("pounds", "grade", "gsm"),
    [
        (65, "cover", 175.8),
        (80, "cover", 216.3),
        (100, "cover", 270.4),
        (110, "cover", 297.5),
        (120, "cover", 324.5),
        (90, "index", 162.7),
        (110, "index", 198.9),
        (140, "index", 253.1),
    ],
)
def test_pounds_to_grams(pounds, grade, gsm):
    assert float(grams_from_pounds(pounds, grade)) == pytest.approx(gsm, abs=0.051)
    assert read_weight(f"{pounds} lb {grade}").gsm == pytest.approx(gsm, abs=0.051)


# Published basis sizes in inches (P): bond 17x22, text 25x38, cover 20x26, index 25.5x30.5,
# bristol 22.5x28.5, tag 24x36; the factor 1406.1392 (C).
@pytest.mark.parametrize(
    ("grade", "width_in", "height_in"),
    [
        ("bond", 17, 22),
        ("text", 25, 38),
        ("cover", 20, 26),
        ("index", 25.5, 30.5),
        ("bristol", 22.5, 28.5),
        ("tag", 24, 36),
    ],
)
def test_basis_sizes(grade, width_in, height_in):
    assert BASIS_SIZES_IN[grade] == (width_in, height_in)
    assert float(grams_from_pounds(1, grade)) == pytest.approx(1406.1392 / (width_in * height_in), rel=1e-6)


# https://elegantepress.com cardstock page, and others (P): 80 lb cover is 0.203 mm in one list and 0.254 mm
# in another; 100 lb cover 0.254 and 0.305 mm.
@pytest.mark.parametrize(
    ("weight", "listed_mm"), [("80 lb cover", (0.203, 0.254)), ("100 lb cover", (0.254, 0.305))]
)
def test_an_estimate_covers_what_published_lists_say(weight, listed_mm):
    estimate = estimate_thickness(read_weight(weight).gsm)
    assert estimate.low_mm <= min(listed_mm)
    assert max(listed_mm) <= estimate.high_mm
    # It says no more than the disagreement: a range much wider than 25 % would be no estimate.
    assert estimate.high_mm / estimate.low_mm < 1.26


# Coarse boards (P, published hand-craft pages): the sheet's edge at 1/4 and groove 3 for 2 3/4.
def test_offset_on_a_coarse_board():
    found = mark(read_board(["1/4", 1, 2, 3, 4, 5, 6], "in"), INCH_SIXTEENTHS, inches("11/4"))
    assert (found.how, found.edge_at, found.stop) == ("offset", inches("1/4"), inches(3))


# C: 10 in in three on sixteenths is 3 5/16, 3 3/8, 3 5/16.
def test_ten_inches_in_three():
    marked = [ZERO, *(position.shown for position in round_positions([inches(10) / 3] * 3, INCH_SIXTEENTHS))]
    panels = [after - before for before, after in pairwise(marked)]
    assert panels == [inches("53/16"), inches("27/8"), inches("53/16")]


# CP: a 12 in sheet scored at 1 1/2, 4 1/8, 7 7/8 and 10 1/2 both ways gives a 3 3/4 in base, 2 5/8 in walls
# and 1 1/2 in inner walls.
def test_a_double_wall_sheet_read_in_both_ways():
    positions = [parse_length(text, "in") for text in ("1 1/2", "4 1/8", "7 7/8", "10 1/2")]
    readings = compare_readings(positions, inches(12), inches(12))
    panels = tuple(map(inches, ("3/2", "21/8", "15/4", "21/8", "3/2")))
    assert readings.one_edge == readings.each_edge == panels
    assert readings.safer == "same"


# https://cardsbymaaike.blogspot.com 2016/01 (P): sheets sold as 12x12 can be 11 7/8 in. C: the inner wall or
# the base is 1/8 in short.
def test_the_same_list_on_a_sheet_of_eleven_and_seven_eighths():
    positions = [parse_length(text, "in") for text in ("1 1/2", "4 1/8", "7 7/8", "10 1/2")]
    readings = compare_readings(positions, inches(12), parse_length("11 7/8", "in"))
    assert readings.one_edge[4] == inches("11/8")
    assert readings.each_edge[2] == inches("29/8")
    assert readings.safer == "one edge"
