"""Pieces cut from offcuts never overlap, keep their gap, and lie on their sheets, whatever their shapes are."""

import math

import pytest
import shapely
from hypothesis import given, settings
from hypothesis import strategies as st
from shapely.geometry import Polygon

from foldproof.layout.offcuts import GAP_MM, Cut, Nested, assert_apart, nested
from foldproof.outlines.catalogue import FORMULAS, draw

SHEET_MM = (304.8, 304.8)


def outline(number, across_mm):
    formula = FORMULAS[number % len(FORMULAS)]
    given_values = {value.name: value.usual for value in formula.values}
    size = next(name for name in ("across", "side") if name in given_values)
    drawn = draw(formula, {**given_values, size: across_mm})
    return None if isinstance(drawn, tuple) else drawn.outline


@settings(max_examples=25)
@given(st.lists(st.tuples(st.integers(0, 7), st.floats(30.0, 320.0)), min_size=1, max_size=6))
def test_never_overlaps_and_always_inside(wanted):
    outlines = [outline(number, size) for number, size in wanted]
    cuts = [Cut(name=f"p{number}", outline=each) for number, each in enumerate(outlines) if each is not None]
    found = nested(cuts, SHEET_MM)
    shapes = [(place, Polygon(place.outline)) for place in found.placed]
    sheet = shapely.box(-1e-5, -1e-5, SHEET_MM[0] + 1e-5, SHEET_MM[1] + 1e-5)
    for number, (place, shape) in enumerate(shapes):
        assert sheet.covers(shape)
        for other, beside in shapes[:number]:
            assert place.sheet != other.sheet or shape.distance(beside) >= GAP_MM - 1e-6
    by_name = {cut.name: Polygon(cut.outline) for cut in cuts}
    for place, shape in shapes:  # moved and turned, nothing else
        assert shape.area == pytest.approx(by_name[place.name].area) and len(place.outline) > 2
        assert shape.length == pytest.approx(by_name[place.name].length)
    assert {place.name for place in found.placed} | set(found.too_large) == set(by_name)
    assert found.sheets == len({place.sheet for place in found.placed})
    firsts = {place.sheet: place.name for place in reversed(found.placed)}
    assert all(
        place.offcut_of == ("" if firsts[place.sheet] == place.name else firsts[place.sheet]) for place in found.placed
    )
    assert nested(cuts, SHEET_MM) == found


def test_a_small_disc_is_cut_beside_a_large_one_where_their_squares_have_no_room():
    """A disc of 10 in leaves the corners of its sheet of 12 in: by their squares 2 in are left, by their outlines more.

    In the corner of a square of side s, outside a circle of diameter d that touches two far sides, the largest circle
    clear by g has the radius r with (s - d/2 - r) sqrt 2 = d/2 + r + g.
    """
    large, side = 254.0, 304.8
    radius = ((side - large / 2) * math.sqrt(2) - large / 2 - GAP_MM) / (1 + math.sqrt(2))
    assert 2 * radius > side - large - GAP_MM  # more than beside its square
    fits, not_quite = 2 * radius - 4.0, 2 * radius + 1.0
    for size, sheets in ((fits, 1), (not_quite, 2)):
        cuts = [Cut(name="large", outline=outline(0, large)), Cut(name="small", outline=outline(0, size))]
        found = nested(cuts, (side, side))
        assert found.sheets == sheets
        assert found.placed[1].offcut_of == ("large" if sheets == 1 else "")


def test_a_strip_fits_only_when_it_may_be_turned():
    sheet = (200.0, 100.0)
    block = Cut(name="block", outline=((0, 0), (180, 0), (180, 100), (0, 100)), may_turn=False)
    strip = ((0.0, 0.0), (90.0, 0.0), (90.0, 16.0), (0.0, 16.0))
    assert nested([block, Cut(name="strip", outline=strip)], sheet).sheets == 1
    assert nested([block, Cut(name="strip", outline=strip, may_turn=False)], sheet).sheets == 2


def test_what_no_sheet_holds_is_named():
    found = nested([Cut(name="disc", outline=outline(0, 310.0))], SHEET_MM)
    assert found == Nested(sheets=0, placed=(), too_large=("disc",))


def test_the_check_would_see_an_overlap():
    found = nested([Cut(name="a", outline=outline(0, 50.0)), Cut(name="b", outline=outline(0, 40.0))], SHEET_MM)
    one, other = found.placed
    moved = Nested(sheets=1, placed=(one, type(other)(**{**_fields(other), "outline": one.outline})), too_large=())
    with pytest.raises(AssertionError, match="lies on"):
        assert_apart(moved, SHEET_MM, GAP_MM)
    with pytest.raises(AssertionError, match="off its sheet"):
        assert_apart(found, (45.0, 45.0), GAP_MM)


def _fields(place):
    return {name: getattr(place, name) for name in ("name", "sheet", "turn_deg", "outline", "offcut_of")}
