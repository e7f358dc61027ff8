"""Weight, thickness and the cardstock record."""

from fractions import Fraction

import pytest

from foldproof.stock.errors import StockError
from foldproof.stock.paper import (
    BASIS_SIZES_IN,
    Cardstock,
    Weight,
    estimate_thickness,
    grams_from_pounds,
    is_heavy,
    read_thickness,
    read_weight,
)
from foldproof.stock.sheets import read_sheet


def card(**changes):
    given = {"name": "sea green", "sheet": read_sheet("12x12", "in"), "thickness": estimate_thickness(216)}
    return Cardstock(**(given | changes))


@pytest.mark.parametrize(
    ("text", "gsm", "shown"),
    [
        ("216 gsm", 216, "216 gsm"),
        ("216gsm", 216, "216 gsm"),
        ("216 g/m2", 216, "216 gsm"),
        ("216 g/m²", 216, "216 gsm"),
        ("216,5 GSM", 216.5, "216.5 gsm"),
        ("80 lb cover", 216.329, "80 lb cover"),
        ("80# Cover", 216.329, "80 lb cover"),
        ("80lb. cover", 216.329, "80 lb cover"),
        ("80 pounds cover", 216.329, "80 lb cover"),
        ("110 lb index", 198.875, "110 lb index"),
    ],
)
def test_weights(text, gsm, shown):
    weight = read_weight(text)
    assert weight.gsm == pytest.approx(gsm, abs=0.001)
    assert weight.text == shown


@pytest.mark.parametrize("text", ["80 lb", "80#", "80 lb cardstock"])
def test_pounds_without_a_grade_name_every_grade_and_what_it_would_mean(text):
    with pytest.raises(StockError) as caught:
        read_weight(text)
    for grade in BASIS_SIZES_IN:
        assert f"{grade} {float(grams_from_pounds(80, grade)):.0f} gsm" in caught.value.reason
    assert "cover 216 gsm" in caught.value.reason
    assert "'80 lb cover'" in caught.value.remedy


@pytest.mark.parametrize(
    ("text", "reason"),
    [
        ("216", "no unit"),
        ("heavy", "not a paper weight"),
        ("-80 gsm", "not a paper weight"),
        ("nan gsm", "not a paper weight"),
        ("", "nothing is written"),
        ("9" * 1_000_000, "too long"),
        ("19 gsm", "no paper"),
        ("2001 gsm", "no paper"),
        ("99999 lb bond", "no paper"),
    ],
    ids=lambda text: text[:20],
)
def test_unusable_weights(text, reason):
    with pytest.raises(StockError, match=reason) as caught:
        read_weight(text)
    assert caught.value.remedy


def test_an_unknown_grade_names_the_nearest():
    with pytest.raises(StockError) as caught:
        grams_from_pounds(80, "covers")
    assert caught.value.remedy == "write cover"


@pytest.mark.parametrize(
    ("text", "expected"),
    [
        ("0.27 mm", (0.27, 0.24975, 0.29025)),
        ("0,27mm", (0.27, 0.24975, 0.29025)),
        ("0.27 mm +/- 0.02", (0.27, 0.25, 0.29)),
        ("0.27 +/- 0.02 mm", (0.27, 0.25, 0.29)),
        ("0.27 mm ± 0.02 mm", (0.27, 0.25, 0.29)),
        ("0.27 mm +- 0", (0.27, 0.27, 0.27)),
        ("0.01 in", (0.254, 0.23495, 0.27305)),
    ],
)
def test_measured_thickness(text, expected):
    thickness = read_thickness(text, "cm")
    assert (thickness.mm, thickness.low_mm, thickness.high_mm) == expected
    assert thickness.how == "measured"


@pytest.mark.parametrize(
    ("text", "reason"),
    [
        ("0.27", "cannot be folded"),  # in a cm project this is 2.7 mm: the unit is asked for
        ("0 mm", "cannot be folded"),
        ("-0.3 mm", "cannot be folded"),
        ("0.27 mm +/- 0.27", "tolerance must be less"),
        ("0.27 mm +/- -0.1", "tolerance must be less"),
        ("0.27 +/- 0.1 +/- 0.1 mm", "more than one tolerance"),
        ("thick", "not a length"),
        ("0.27 mm +/-", "no length here"),
    ],
)
def test_unusable_thickness(text, reason):
    with pytest.raises(StockError, match=reason) as caught:
        read_thickness(text, "cm")
    assert caught.value.remedy


def test_an_estimate_says_so_and_carries_its_range():
    estimate = estimate_thickness(216)
    assert estimate.how == "estimated"
    assert estimate.low_mm < estimate.mm < estimate.high_mm
    assert estimate.high_mm / estimate.low_mm == pytest.approx(1.25, abs=0.01)


def test_the_sheet_as_measured_wins():
    assert card().usable_sheet.name == "12x12"
    measured = read_sheet("11 7/8 x 11 7/8", "in")
    assert card(measured=measured).usable_sheet == measured


@pytest.mark.parametrize(
    "changes", [{"name": " "}, {"rgb": "green"}, {"rgb": "#12345"}, {"rgb": "#2A9D8F\n"}]
)
def test_a_cardstock_refuses_what_cannot_be_shown(changes):
    with pytest.raises(StockError):
        card(**changes)


@pytest.mark.parametrize(("gsm", "heavy"), [(199.9, False), (200.0, True), (216.0, True)])
def test_heavy_by_weight(gsm, heavy):
    assert is_heavy(card(weight=Weight(gsm=gsm, text=f"{gsm} gsm"))) is heavy


def test_heavy_is_a_setting():
    assert not is_heavy(card(weight=Weight(gsm=216, text="216 gsm")), heavy_gsm=250)


def test_heavy_without_a_weight_goes_by_thickness():
    assert is_heavy(card(thickness=estimate_thickness(201)))
    assert not is_heavy(card(thickness=estimate_thickness(199)))


def test_pounds_are_exact():
    assert grams_from_pounds(80, "cover") == Fraction(80) * Fraction("453.59237") / (
        500 * 20 * 26 * Fraction("0.00064516")
    )
