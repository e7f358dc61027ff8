"""What a maker writes about an outline, as it is meant; what can be meant two ways is asked about."""

import pytest

from foldproof.errors import InputError
from foldproof.lengths import LengthError, length
from foldproof.service import asking
from foldproof.stock.errors import StockError


def inches(*values):
    return tuple(length(value, "in") for value in values)


@pytest.mark.parametrize(
    ("text", "unit", "wanted"),
    [
        ("3, 4 1/4, 5 1/2", None, inches("3", "4.25", "5.5")),
        ("3, 4, 5 in", None, inches("3", "4", "5")),
        ("3; 4; 5", "in", inches("3", "4", "5")),
        ('3", 4", 5½"', None, inches("3", "4", "5.5")),
        ("10, 14", "cm", (length(10, "cm"), length(14, "cm"))),
        ("101.6 mm, 5 in", None, inches("4", "5")),
        ("5.5 in,", None, inches("5.5")),
    ],
)
def test_sizes_as_makers_write_them(text, unit, wanted):
    assert asking.sizes(text, unit) == wanted


@pytest.mark.parametrize(
    ("text", "reason"),
    [
        ("4, 5, 6", "no unit"),
        ("4,5 in", "comma between two digits"),
        ("5, 4 in", "does not rise"),
        ("4, 4 in", "does not rise"),
        ("", "list of 0"),
        (", ".join(["4 in"] * 25), "list of 25"),
        ("4 in, 12 cm, 5", "without a unit"),
        ("4 in, five", "not a length"),
        ("1/8, 4 in", "under 10 mm"),
        ("4 in, 50 in", "over 1000 mm"),
    ],
)
def test_sizes_that_cannot_be(text, reason):
    with pytest.raises(LengthError) as caught:
        asking.sizes(text, None)
    assert reason in caught.value.reason and caught.value.remedy


@pytest.mark.parametrize(
    ("text", "wanted"),
    [
        ("A4", (210.0, 297.0)),
        ("letter", (215.9, 279.4)),
        ("12x12", (304.8, 304.8)),
        ("210 x 297", (210.0, 297.0)),
        ("8 1/2 x 11", (215.9, 279.4)),
        ("8.5 x 11 in", (215.9, 279.4)),
        ("21 x 29,7 cm", (210.0, 297.0)),
    ],
)
def test_sheets_under_a_shape(text, wanted):
    assert asking.sheet_mm(text) == pytest.approx(wanted)


@pytest.mark.parametrize("text", ["8.5 x 11", "A9", "", "x", "210"])
def test_sheets_that_cannot_be(text):
    with pytest.raises(StockError) as caught:
        asking.sheet_mm(text)
    assert caught.value.remedy


def test_points():
    assert asking.cut(" 10,0  10.5,-80 ") == ((10.0, 0.0), (10.5, -80.0))
    assert asking.corners("(1,2) (3,4), 5,6 7,8".replace("),", ")")) == ((1, 2), (3, 4), (5, 6), (7, 8))
    for text in ("", "10,0", "10,0 10,80 1,1", "a,b c,d", "10;0 10;80", "nan,0 1,1", "1e9,0 1,1", "1" * 60 + ",0 1,1"):
        with pytest.raises(StockError):
            asking.cut(text)


def test_accuracy():
    assert asking.accuracy_mm("0.1") == asking.accuracy_mm("0.1mm") == asking.accuracy_mm("0.01 cm") == 0.1
    for text in ("0", "-1", "11 mm", "fine"):
        with pytest.raises(LengthError):
            asking.accuracy_mm(text)


def test_a_source_is_one_short_line():
    assert asking.source("  a die of mine ") == "a die of mine"
    for text in ("x" * 201, "two\nlines", "a\u202eb"):
        with pytest.raises(StockError):
            asking.source(text)


def test_everything_wrong_is_told_together():
    reading = asking.Reading()
    assert reading.of("--sheet", "A9", asking.sheet_mm, None) is None
    assert reading.of("--trim", None, asking.cut, None) is None
    reading.of("--accuracy", "x" * 500, asking.accuracy_mm, None)
    with pytest.raises(InputError) as caught:
        reading.tell()
    assert [problem.field for problem in caught.value.problems] == ["--sheet", "--accuracy"]
    assert len(caught.value.problems[1].value) <= 60
