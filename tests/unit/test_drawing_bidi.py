"""The order of letters in a line, against Unicode Standard Annex 9: examples there in capitals for Hebrew."""

import pytest
from hypothesis import given
from hypothesis import strategies as st

from foldproof.drawing.bidi import is_one_way, levels, visual_runs

HEBREW = "אבגדהוזחטיךכלםמןנסעףפץצק"
CAPITALS = {chr(65 + at): letter for at, letter in enumerate(HEBREW)}


def seen(text):
    """As it stands from left to right."""
    _, found = levels(text)
    return "".join(text[at] for at in visual_runs(found))


def hebrew(text):
    return "".join(CAPITALS.get(char, char) for char in text)


@pytest.mark.parametrize(
    ("memory", "display"),
    [
        # Unicode Standard Annex 9, 3.4 (L2): its first example, and the same words the other way.
        ("car means CAR.", "car means RAC."),
        ("CAR means car.", ".means car RAC"),
        # W5 and W7 as their tables show them: a sign beside a number goes with it.
        ("A 1% B", "B 1% A"),
        ("a 1 b", "a 1 b"),
        # N0: brackets round words of the line's own way stand as the line does.
        ("A(b)C", "C)b(A"),
        ("a(B)c", "a(B)c"),
    ],
)
def test_lines_of_the_annex(memory, display):
    assert seen(hebrew(memory)) == hebrew(display)


def test_arabic_makes_numbers_its_own():
    """W2: a European number after an Arabic letter counts as an Arabic one, and still runs to the right."""
    assert levels("د12") == (1, (1, 2, 2))


def test_spaces_at_the_end_go_with_the_line():
    """L1."""
    assert levels("א ") == (1, (1, 1))
    assert levels("a א ") == (0, (0, 0, 1, 0))


def test_a_line_of_one_way_needs_no_order():
    assert is_one_way("3 1/4 in Ω Ж 日") and not is_one_way("a א")


@given(st.text(alphabet="ab1 .,()[]+%/אבدم٣🐚\u0301", max_size=20))
def test_every_letter_keeps_its_place_in_exactly_one_spot(text):
    base, found = levels(text)
    assert sorted(visual_runs(found)) == list(range(len(text)))
    assert base in (0, 1) and all(base <= level <= 2 for level in found)
