"""Lengths as people write them, the questions asked back, and rounding to a ruler."""

from fractions import Fraction

import pytest

from foldproof.lengths import (
    CM_HALF_MILLIMETRES,
    CM_MILLIMETRES,
    INCH_EIGHTHS,
    INCH_SIXTEENTHS,
    INCH_THIRTYSECONDS,
    MM,
    ZERO,
    Length,
    LengthError,
    Ruler,
    about,
    both_units,
    in_words,
    length,
    parse_length,
    round_positions,
    round_to,
    written_unit,
)


def inches(value):
    return length(Fraction(value), "in")


READ_AS_INCHES = [
    ("8 1/2", "17/2"),
    ("8-1/2", "17/2"),
    ("8 - 1/2", "17/2"),
    ("8–1/2", "17/2"),
    ("8½", "17/2"),
    ("8 ½", "17/2"),
    ("8-½", "17/2"),
    ("8.5", "17/2"),
    ("8,5", "17/2"),
    ("8.", "8"),
    (".5", "1/2"),
    ("3.1/8", "25/8"),
    ("13.1/8", "105/8"),
    ("3,1/8", "25/8"),
    ("53/4", "23/4"),
    ("81/2", "17/2"),
    ("111/2", "23/2"),
    ("1015/16", "175/16"),
    ("3/4", "3/4"),
    ("11/16", "11/16"),
    ("31/32", "31/32"),
    ("3/2", "3/2"),
    ("10/4", "5/2"),
    ('5"7/8', "47/8"),
    ('6" 1/4', "25/4"),
    ('6"-1/4', "25/4"),
    ("6 in 1/4", "25/4"),
    ("5 and 3/8", "43/8"),
    ("5 & 3/8", "43/8"),
    ("8⅛", "65/8"),
    ("8⅜", "67/8"),
    ("8⅝", "69/8"),
    ("8⅞", "71/8"),
    ("¼", "1/4"),
    ("¾″", "3/4"),
    ("8 1\u20442", "17/2"),
    ("8 1\u22152", "17/2"),
    ("8³\u2044₈", "67/8"),
    ("8\u202f1/2", "17/2"),
    ("8\u00a01/2\u2009in", "17/2"),
    ("  8   1 / 2  ", "17/2"),
    ("12", "12"),
    ("8.5in", "17/2"),
    ("8.5 in.", "17/2"),
    ("8.5 inch", "17/2"),
    ("8 1/2 INCHES", "17/2"),
    ('8 1/2"', "17/2"),
    ("8 1/2″", "17/2"),
    ("8 1/2”", "17/2"),
    ("8 1/2''", "17/2"),
    ("8 1/2’’", "17/2"),
    ("-3 1/4", "-13/4"),
    ("−½", "-1/2"),
    ("+1/16", "1/16"),
    ("0", "0"),
    ("2,125", "17/8"),  # 2125 in is no length, so the comma is a decimal one
    ("0,125", "1/8"),
    (8, "8"),
    (8.5, "17/2"),
    (0.1, "1/10"),
    (-3, "-3"),
]


@pytest.mark.parametrize(("written", "expected"), READ_AS_INCHES)
def test_written_forms(written, expected):
    assert parse_length(written, "in") == inches(expected)


READ_AS_MILLIMETRES = [
    ("8,5 cm", "85"),
    ("8.5cm", "85"),
    ("8,5 CM.", "85"),
    ("6 mm", "6"),
    ("6½ mm", "13/2"),
    ("21 centimetres", "210"),
    ("21 centimeter", "210"),
    ("3 millimeters", "3"),
    ("30㎝", "300"),
    ("3/10 cm", "3"),
    ("2.54 cm", "127/5"),
    ("1 in", "127/5"),
    ("1000 cm", "10000"),
]


@pytest.mark.parametrize(("written", "expected"), READ_AS_MILLIMETRES)
def test_a_written_unit_wins_over_the_given_one(written, expected):
    for unit in ("in", "cm", "mm"):
        assert parse_length(written, unit).mm == Fraction(expected)


def test_no_unit_means_the_given_unit():
    assert parse_length("8,5", "cm").mm == 85
    assert parse_length(8.5, "mm").mm == Fraction(17, 2)


ASKS_WHICH = [
    ("13/4", "in", ("1 3/4", "3 1/4")),
    ("21/2", "in", ("2 1/2", "10 1/2")),
    ("31/8", "in", ("3 1/8", "3 7/8")),
    ("115/16", "in", ("1 15/16", "7 3/16", "11 5/16")),
    ("141/2", "in", ("14 1/2", "70 1/2")),  # both are longer than a board: still two readings
    ("16/8", "in", ("1 3/4", "2")),
    ("53/4 mm", "in", ("5 3/4", "13 1/4")),  # in millimetres neither is too long
    ("1,250 mm", "in", ("1.250", "1250")),
]


@pytest.mark.parametrize(("written", "unit", "readings"), ASKS_WHICH)
def test_two_readings_are_asked_for(written, unit, readings):
    with pytest.raises(LengthError) as caught:
        parse_length(written, unit)
    for reading in readings:
        assert reading in caught.value.reason
        assert reading in caught.value.remedy


@pytest.mark.parametrize("written", ["1/3", "8 1/3", "8⅓", "3/10", "5/64", "1/0", "8 1/0", "7/1"])
def test_a_division_on_no_inch_ruler_is_asked_about(written):
    with pytest.raises(LengthError, match=r"halves, quarters, eighths, 16ths and 32nds"):
        parse_length(written, "in")


def test_the_nearest_division_is_named():
    with pytest.raises(LengthError) as caught:
        parse_length("8 1/3", "in")
    assert caught.value.remedy.endswith("the nearest to 1/3 is 11/32 in")
    with pytest.raises(LengthError) as caught:
        parse_length("1/3 cm", "in")
    assert caught.value.remedy.endswith("the nearest to 1/3 is 0.35 cm")


@pytest.mark.parametrize(
    ("written", "reason"),
    [
        ("", "there is no length here"),
        (" \t\u200b", "there is no length here"),
        ("nan", "not a length"),
        ("inf", "not a length"),
        ("1e3", "not a length"),
        ("wide", "not a length"),
        ("8 1/2 1/4", "not a length"),
        ("8.5 1/2", "not a length"),
        ("8 cm²", "not a length"),
        ("1,250.5", "not a length"),
        ("- 3", "not a length"),
        ("1'", "not a length"),
        ("12x12", "not a length"),
        ("٣", "not a length"),
        ("½½", "not a length"),
        ("2 m", "not a length"),
        ("8 3/2", "not less than one"),
        ('5"7/8 cm', "two units"),
        ("1001 cm", "longer than 10 metres"),
        ("-1001 cm", "longer than 10 metres"),
        ("9" * 40, "longer than 10 metres"),
        ("9" * 41, "too long to be one length"),
        (float("nan"), "not a finite number"),
        (float("inf"), "not a finite number"),
        (1e300, "longer than 10 metres"),
        (True, "not a length"),
    ],
)
def test_what_is_not_a_length_says_why_and_what_would_work(written, reason):
    with pytest.raises(LengthError, match=reason) as caught:
        parse_length(written, "in")
    assert isinstance(caught.value, ValueError)
    assert caught.value.remedy


def test_huge_input_is_refused_at_once():
    with pytest.raises(LengthError, match="too long to be one length"):
        parse_length("1/" * 5_000_000, "in")
    with pytest.raises(LengthError, match="longer than 10 metres"):
        parse_length(10**5000, "in")


def test_characters_that_open_to_many_stay_quick():
    with pytest.raises(LengthError, match="not a length"):
        parse_length("\ufdfa" * 40, "in")  # each opens to 18 characters


def test_ten_metres_is_the_most():
    assert parse_length("10000 mm", "in").mm == 10_000
    with pytest.raises(LengthError, match="10 metres"):
        parse_length("10000.001 mm", "in")


@pytest.mark.parametrize(
    ("written", "unit"),
    [("8 1/2", None), ('5"7/8', "in"), ("8½″", "in"), ("3 inch", "in"), ("8,5 cm", "cm"), ("6 mm", "mm")],
)
def test_written_unit(written, unit):
    assert written_unit(written) == unit


def test_arithmetic_is_exact():
    third = inches(10) / 3
    assert third + third + third == inches(10)
    assert third * 3 == 3 * third == inches(10)
    assert Fraction(1, 2) * inches(1) == length("12.7", "mm")
    assert inches(1) - inches(3) == -inches(2)
    assert abs(-inches(2)) == inches(2)
    assert inches(1) > length(25, "mm") > ZERO
    assert sum([inches(1), inches(2)], ZERO) == inches(3)
    assert inches(1).float_mm == 25.4


def test_arithmetic_refuses_floats_and_areas():
    with pytest.raises(TypeError):
        inches(1) * 0.5
    with pytest.raises(TypeError):
        inches(1) / 0.5
    with pytest.raises(TypeError):
        inches(1) * inches(1)
    with pytest.raises(TypeError):
        inches(1) + 1
    with pytest.raises(TypeError):
        inches(1) - 1
    with pytest.raises(AssertionError):
        Length(25.4)


@pytest.mark.parametrize(
    ("unit", "step"),
    [("in", Fraction(0)), ("in", Fraction(-1, 8)), ("in", Fraction(1, 3)), ("cm", Fraction(1, 3))],
)
def test_rulers_nobody_has(unit, step):
    with pytest.raises(LengthError):
        Ruler(unit=unit, step=step)


def test_round_to_keeps_the_error():
    rounded = round_to(inches("10/3"), INCH_SIXTEENTHS)
    assert rounded.exact == inches("10/3")
    assert rounded.shown == inches("53/16")
    assert rounded.error == inches("-1/48")
    assert rounded.text == "3 5/16 in"


def test_towards_and_ties():
    middle = inches("1/32")
    assert round_to(middle, INCH_SIXTEENTHS).shown == inches("1/16")
    assert round_to(-middle, INCH_SIXTEENTHS).shown == ZERO
    assert round_to(middle, INCH_SIXTEENTHS, "down").shown == ZERO
    assert round_to(inches("1/100"), INCH_SIXTEENTHS, "up").shown == inches("1/16")
    assert round_to(inches("-1/100"), INCH_SIXTEENTHS, "down").shown == inches("-1/16")
    for towards in ("nearest", "down", "up"):
        assert round_to(inches("3/16"), INCH_SIXTEENTHS, towards).error == ZERO


@pytest.mark.parametrize(
    ("written", "ruler", "words"),
    [
        ("3 1/4 in", INCH_SIXTEENTHS, "3 1/4 in"),
        ("3 in", INCH_SIXTEENTHS, "3 in"),
        ("4/16 in", INCH_SIXTEENTHS, "1/4 in"),
        ("-3 1/4 in", INCH_SIXTEENTHS, "-3 1/4 in"),
        ("-1/4 in", INCH_SIXTEENTHS, "-1/4 in"),
        ("0", INCH_SIXTEENTHS, "0 in"),
        ("3 1/32 in", INCH_THIRTYSECONDS, "3 1/32 in"),
        ("3 1/32 in", INCH_EIGHTHS, "3 in"),
        ("8.3 cm", CM_MILLIMETRES, "8.3 cm"),
        ("8 cm", CM_MILLIMETRES, "8.0 cm"),
        ("3 1/4 in", CM_MILLIMETRES, "8.3 cm"),
        ("6 mm", CM_MILLIMETRES, "6 mm"),
        ("9.6 mm", CM_MILLIMETRES, "1.0 cm"),
        ("-6 mm", CM_MILLIMETRES, "-6 mm"),
        ("0", CM_MILLIMETRES, "0 mm"),
        ("8.25 cm", CM_HALF_MILLIMETRES, "8.25 cm"),
        ("8.5 cm", CM_HALF_MILLIMETRES, "8.5 cm"),
        ("6.5 mm", CM_HALF_MILLIMETRES, "6.5 mm"),
        ("82.5 mm", MM, "83 mm"),
    ],
)
def test_in_words(written, ruler, words):
    assert in_words(parse_length(written, "in"), ruler) == words


def test_about_stands_only_before_a_rounded_figure():
    assert about(inches("13/4"), INCH_SIXTEENTHS) == "3 1/4 in"
    assert about(inches("10/3"), INCH_SIXTEENTHS) == "about 3 5/16 in"


def test_both_units():
    assert both_units(inches("13/4"), INCH_SIXTEENTHS, CM_MILLIMETRES) == "3 1/4 in (8.3 cm)"


def test_positions_are_rounded_not_panels():
    positions = [rounded.shown for rounded in round_positions([inches(10) / 3] * 3, INCH_SIXTEENTHS)]
    assert positions == [inches("53/16"), inches("107/16"), inches(10)]
    panels = [after - before for before, after in zip([ZERO, *positions], positions, strict=False)]
    assert panels == [inches("53/16"), inches("27/8"), inches("53/16")]
    assert round_positions([], INCH_SIXTEENTHS) == ()
