from itertools import combinations
from typing import get_args

import pytest
from hypothesis import given
from hypothesis import strategies as st

from foldproof.drawing import style
from foldproof.drawing.records import Area, FillRole, Label, LineRole, Path, Stroke, TextRole

LINE = Path(points=((0, 0), (1, 0)))


def test_every_role_has_a_look():
    assert set(style.LINES) == set(get_args(LineRole))
    assert set(style.TEXTS) == set(get_args(TextRole))
    for role in get_args(FillRole):
        look = style.fill_style(role, style.SEA_GREEN)
        assert look.colour or look.texture != "none"


def test_what_a_maker_acts_on_differs_without_colour():
    acted_on = ("cut", "valley", "mountain", "guide", "hidden", "movement")
    for one, other in combinations(acted_on, 2):
        a, b = style.LINES[one], style.LINES[other]
        assert a.dash_mm != b.dash_mm or abs(a.width_mm - b.width_mm) > 0.1, (one, other)
    looks = [
        style.fill_style(role, style.SEA_GREEN).texture for role in ("coloured", "waste", "glue", "fails")
    ]
    assert len(set(looks)) == 4


def test_dashes_are_whole_pairs():
    for role, pen in style.LINES.items():
        assert len(pen.dash_mm) % 2 == 0, role
        assert all(part > 0 for part in pen.dash_mm), role


@pytest.mark.parametrize(
    ("mark", "group", "kind"),
    [
        (Stroke(path=LINE, role="cut"), "Structural", "Cutting"),
        (Stroke(path=LINE, role="valley"), "Structural", "Creasing"),
        (Stroke(path=LINE, role="mountain"), "Structural", "ReverseCreasing"),
        (Area(paths=(LINE,), role="glue"), "Structural", "Gluing"),
        (Stroke(path=LINE, role="dimension"), "Dimensions", ""),
        (Label(text="3 1/4", at=(0, 0), role="size", size_pt=11), "Dimensions", ""),
        (Label(text="waste", at=(0, 0), role="label", size_pt=11), "Legend", ""),
        (Stroke(path=LINE, role="outline"), "Legend", ""),
        (Area(paths=(LINE,), role="waste"), "Legend", ""),
    ],
)
def test_processing_step_of_a_mark(mark, group, kind):
    step = style.process_step(mark)
    assert (step.group, step.kind) == (group, kind)
    assert step in style.PROCESS_STEPS


def test_text_is_readable_on_paper():
    for role, look in style.TEXTS.items():
        assert style.contrast(look.colour, style.PAPER) >= 4.5, role


def test_contrast_of_black_on_white():
    # WCAG 2.1: the ratio runs from 1 (the same) to 21 (black on white)
    assert style.contrast("#000000", "#ffffff") == pytest.approx(21)
    assert style.contrast("#123456", "#123456") == 1


@given(st.integers(0, 0xFFFFFF))
def test_ink_is_readable_on_any_card(number):
    palette = style.palette_for(f"#{number:06x}")
    for side in (palette.coloured, palette.coloured_shade):
        assert style.contrast(style.INK, side) >= 4.5
    assert style.luminance(palette.coloured_shade) < style.luminance(palette.coloured)


def test_a_light_card_keeps_its_own_colour():
    assert style.palette_for("#cfe1d7").coloured == "#cfe1d7"
