"""What holds for every length and ruler: rounding stays within half a step, words are read back."""

from fractions import Fraction

from hypothesis import assume, given
from hypothesis import strategies as st

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
    in_words,
    parse_length,
    round_positions,
    round_to,
)

RULERS = [INCH_EIGHTHS, INCH_SIXTEENTHS, INCH_THIRTYSECONDS, CM_MILLIMETRES, CM_HALF_MILLIMETRES, MM]
rulers = st.sampled_from(RULERS)
lengths = st.fractions(min_value=-2000, max_value=2000, max_denominator=960).map(Length)
widths = st.fractions(min_value=1, max_value=300, max_denominator=960).map(Length)


@given(lengths, rulers, st.sampled_from(["in", "cm", "mm"]))
def test_words_are_read_back_as_the_rounded_length(exact, ruler, unit):
    assert parse_length(in_words(exact, ruler), unit) == round_to(exact, ruler).shown


@given(lengths, rulers)
def test_rounding_errors_are_bounded_and_kept(exact, ruler):
    step = ruler.step_length
    nearest, down, up = (round_to(exact, ruler, towards) for towards in ("nearest", "down", "up"))
    assert abs(nearest.error) <= step / 2
    assert -step < down.error <= ZERO <= up.error < step
    for rounded in (nearest, down, up):
        assert rounded.error == rounded.shown - exact
        assert (rounded.shown.mm / step.mm).denominator == 1
        assert round_to(rounded.shown, ruler).error == ZERO


@given(st.lists(widths, min_size=1, max_size=30), rulers)
def test_position_errors_do_not_add_up(panels, ruler):
    positions = round_positions(panels, ruler)
    total = sum(panels, ZERO)
    assert positions[-1].exact == total
    assert all(abs(position.error) <= ruler.step_length / 2 for position in positions)
    marked = [position.shown for position in positions]
    marked_panels = [after - before for before, after in zip([ZERO, *marked], marked, strict=False)]
    assert sum(marked_panels, ZERO) == round_to(total, ruler).shown
    for marked_panel, panel in zip(marked_panels, panels, strict=True):
        assert abs(marked_panel - panel) <= ruler.step_length


@given(
    st.integers(0, 300),
    st.sampled_from([2, 4, 8, 16, 32]).flatmap(
        lambda bottom: st.tuples(st.integers(1, bottom - 1), st.just(bottom))
    ),
    st.sampled_from(
        ["{} {}/{}", "{}-{}/{}", "{}.{}/{}", '{}"{}/{}', '{}" {}/{}', "{} {}/{} in", "{} {}\u2044{}″"]
    ),
)
def test_every_mixed_form_is_read_the_same(whole, fraction, form):
    top, bottom = fraction
    assert parse_length(form.format(whole, top, bottom), "in").mm == (
        whole + Fraction(top, bottom)
    ) * Fraction(254, 10)


@given(st.integers(1, 11), st.sampled_from([2, 4, 8, 16, 32]), st.data())
def test_a_lost_space_is_found_or_asked_about_never_read_as_something_else(whole, bottom, data):
    top = data.draw(st.integers(1, bottom - 1))
    intended = whole + Fraction(top, bottom)
    written = f"{whole}{top}/{bottom}"
    assume(int(f"{whole}{top}") >= bottom)  # 11/16 is a plain fraction: nothing shows that a space was lost
    try:
        read = parse_length(written, "in")
    except LengthError as error:
        assert "can mean" in error.reason
    else:
        assert read.mm == intended * Fraction(254, 10)


@given(st.text(max_size=60), st.sampled_from(["in", "cm", "mm"]))
def test_any_text_is_a_length_or_an_error_that_helps(text, unit):
    try:
        assert abs(parse_length(text, unit).mm) <= 10_000
    except LengthError as error:
        assert error.reason
        assert error.remedy


@given(st.text(alphabet="0123456789/ .,-+\"'½⅛incmx", max_size=14), st.sampled_from(["in", "cm", "mm"]))
def test_text_that_looks_like_a_length_is_one_or_an_error_that_helps(text, unit):
    try:
        assert abs(parse_length(text, unit).mm) <= 10_000
    except LengthError as error:
        assert error.reason
        assert error.remedy
