"""All positions from one edge, or from each edge in turn: where a sheet that is off its size shows."""

from fractions import Fraction

import pytest

from foldproof.lengths import ZERO, length
from foldproof.stock.errors import StockError
from foldproof.stock.readings import compare_readings


def inches(*values):
    found = tuple(length(Fraction(value), "in") for value in values)
    return found if len(found) > 1 else found[0]


DOUBLE_WALL = inches("3/2", "33/8", "63/8", "21/2")


def test_on_a_sheet_of_the_intended_size_both_are_the_same():
    readings = compare_readings(DOUBLE_WALL, inches(12), inches(12))
    assert readings.one_edge == readings.each_edge == inches("3/2", "21/8", "15/4", "21/8", "3/2")
    assert readings.from_far_edge == inches("33/8", "3/2")
    assert (readings.safer, readings.differ_mm, readings.trim_first_mm) == ("same", 0, 0)


def test_a_short_sheet_changes_the_last_panel_or_the_base():
    readings = compare_readings(DOUBLE_WALL, inches(12), inches("95/8"))
    assert readings.one_edge == inches("3/2", "21/8", "15/4", "21/8", "11/8")
    assert readings.each_edge == inches("3/2", "21/8", "29/8", "21/8", "3/2")
    assert (readings.one_edge_panel, readings.each_edge_panel) == (4, 2)
    assert readings.change == -inches("1/8")
    assert readings.differ_mm == 3.175
    assert (readings.safer, readings.trim_first_mm) == ("one edge", 0)


def test_a_long_sheet_is_trimmed_first():
    readings = compare_readings(DOUBLE_WALL, inches(12), inches("97/8"))
    assert readings.one_edge[4] == inches("13/8")
    assert readings.each_edge[2] == inches("31/8")
    assert (readings.safer, readings.trim_first_mm) == ("one edge", 3.175)


def test_a_position_in_the_middle_is_read_from_the_first_edge():
    readings = compare_readings(inches("17/4", 6), inches("17/2"), inches("67/8"))
    assert readings.each_edge_panel == 1
    assert readings.from_far_edge == (inches("5/2"),)
    assert readings.each_edge[0] == inches("17/4")


def test_positions_all_in_the_first_half_read_the_same():
    readings = compare_readings(inches(1, 2), inches(12), inches(11))
    assert readings.one_edge == readings.each_edge == inches(1, 1, 9)
    assert (readings.safer, readings.differ_mm, readings.from_far_edge) == ("same", 0, ())


def test_positions_all_in_the_second_half_shift_the_first_panel():
    readings = compare_readings(inches(9, 10), inches(12), inches("23/2"))
    assert readings.each_edge == inches("17/2", 1, 2)
    assert (readings.each_edge_panel, readings.safer) == (0, "one edge")


def test_a_sheet_without_room_for_the_last_panel_is_read_from_each_edge():
    readings = compare_readings(DOUBLE_WALL, inches(12), inches("21/2"))
    assert readings.one_edge[4] == ZERO
    assert readings.each_edge[2] == inches("9/4")
    assert readings.safer == "each edge"
    # Near miss: the least sliver of a last panel, and one edge is safer again.
    assert compare_readings(DOUBLE_WALL, inches(12), inches("337/32")).safer == "one edge"


def test_a_sheet_too_short_in_both_readings_is_refused():
    with pytest.raises(StockError, match="too short"):
        compare_readings(DOUBLE_WALL, inches(12), inches(8))


@pytest.mark.parametrize("positions", [(2, 1), (0, 1), (1, 1), (1, 12), (1, 13)])
def test_positions_that_do_not_rise_inside_the_sheet_are_refused(positions):
    with pytest.raises(StockError, match="do not rise"):
        compare_readings(inches(*positions), inches(12), inches(12))


def test_no_positions_is_one_panel():
    readings = compare_readings((), inches(12), inches(11))
    assert readings.one_edge == readings.each_edge == (inches(11),)
    assert readings.safer == "same"
