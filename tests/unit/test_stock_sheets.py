"""Sheets by name and as typed."""

import pytest

from foldproof.lengths import length
from foldproof.stock.errors import StockError
from foldproof.stock.sheets import NAMED_SHEETS, SheetSize, read_sheet


def sides_mm(text, unit="in"):
    sheet = read_sheet(text, unit)
    return sheet.width.float_mm, sheet.height.float_mm


@pytest.mark.parametrize("named", NAMED_SHEETS, ids=lambda named: named.size.name)
def test_every_name_is_read_in_any_case_and_unit(named):
    for name in (named.size.name, *named.also_called):
        for written in (name, name.upper(), name.lower(), f"  {name} ", name.replace(" ", "")):
            assert {read_sheet(written, unit) for unit in ("in", "cm", "mm")} == {named.size}


@pytest.mark.parametrize(
    ("text", "unit", "expected_mm"),
    [
        ("12x12", "cm", (304.8, 304.8)),
        ("12 × 12 in", "cm", (304.8, 304.8)),
        ('12" x 12"', "cm", (304.8, 304.8)),
        ("30 cm", "in", (300, 300)),
        ("21 x 29,7 cm", "in", (210, 297)),
        ("21 cm x 29,7", "in", (210, 297)),
        ("21 x 29.7", "cm", (210, 297)),
        ("210x297 mm", "in", (210, 297)),
        ("11 7/8 x 12", "in", (301.625, 304.8)),
        ('11 7/8" x 12', "cm", (301.625, 304.8)),
        ("8½ by 11", "in", (215.9, 279.4)),
        ("8.5x11", "in", (215.9, 279.4)),
        ("30 cm x 12 in", "mm", (300, 304.8)),
        ("6x6", "in", (152.4, 152.4)),
        ("6x6", "cm", (60, 60)),
        ("20 x 2000 mm", "in", (20, 2000)),
    ],
)
def test_typed_sizes(text, unit, expected_mm):
    assert sides_mm(text, unit) == expected_mm


def test_a_typed_sheet_is_named_by_its_sides():
    assert read_sheet("11 7/8 x 12", "in").name == "11 7/8 in x 12 in"
    assert read_sheet("21 x 29,7 cm", "in").name == "21.0 cm x 29.7 cm"


@pytest.mark.parametrize(
    ("text", "reason", "remedy"),
    [
        ("leter", "no sheet has this name", "write Letter,"),
        ("A9", "no sheet has this name", "A4"),
        ("", "nothing is written here", "a name or a size"),
        ("3 x 4 x 5", "two sides", "12 x 12 in"),
        ("a x b", "not a length", "8 1/2"),
        ("13/4 x 6", "can mean", "1 3/4 or 3 1/4"),
        ("19.9 x 30 mm", "width of .* under 20 mm", "20 mm and 2 m"),
        ("30 x 2000.1 mm", "height of .* over 2 m", "20 mm and 2 m"),
        ("-5 x 5", "under 20 mm", "20 mm and 2 m"),
        ("x" * 10_000_000, "too long", "at most"),
        ("9" * 41 + " x 5", "too long", "one length"),
    ],
    ids=lambda text: text[:20],
)
def test_unusable_sheets_say_why_and_what_would_work(text, reason, remedy):
    with pytest.raises(StockError, match=reason) as caught:
        read_sheet(text, "in")
    assert remedy in caught.value.remedy


def test_a_sheet_refuses_sides_that_cannot_be_scored():
    with pytest.raises(StockError, match="under 20 mm"):
        SheetSize(name="slip", width=length(19, "mm"), height=length(100, "mm"))
