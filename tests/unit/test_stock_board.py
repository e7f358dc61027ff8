"""Boards by name and as typed, and how a position is marked on one."""

from fractions import Fraction

import pytest

from foldproof.lengths import CM_MILLIMETRES, INCH_SIXTEENTHS, ZERO, length
from foldproof.stock.board import (
    NAMED_BOARDS,
    NO_BOARD,
    Board,
    even_board,
    mark,
    nearest_stops,
    read_board,
)
from foldproof.stock.errors import StockError


def inches(value):
    return length(Fraction(value), "in")


EIGHTHS = read_board("inch eighths", "in")
HALVES = read_board("inch halves", "in")


@pytest.mark.parametrize(
    ("name", "count", "first", "reach"),
    [
        ("inch eighths", 96, inches("1/8"), inches(12)),
        ("inch quarters", 48, inches("1/4"), inches(12)),
        ("Inch Halves", 24, inches("1/2"), inches(12)),
        ("centimetres", 30, length(10, "mm"), length(300, "mm")),
        (" half  centimetres", 60, length(5, "mm"), length(300, "mm")),
        ("none", 0, None, ZERO),
    ],
)
def test_named_boards(name, count, first, reach):
    board = read_board(name, "in")
    assert len(board.stops) == count
    assert board.reach == reach
    assert first is None or board.stops[0] == first


def test_names_are_known_once():
    assert len({board.name for board in NAMED_BOARDS}) == len(NAMED_BOARDS)


def test_a_board_from_typed_grooves_is_sorted():
    board = read_board(["3", "2.5 cm", 1, 1.5], "in")
    assert board.stops == (length(25, "mm"), inches(1), inches("3/2"), inches(3))
    assert read_board([], "in") == NO_BOARD


@pytest.mark.parametrize(
    ("written", "reason"),
    [
        ("inch eigths", "no board has this name"),
        ("", "nothing is written"),
        ([1, 2, "25.4 mm"], "not in order, or one is there twice"),
        ([0, 1], "edge of the sheet"),
        (["-1", 1], "edge of the sheet"),
        (["2001 mm"], "over 2 m"),
        ([1, "wide"], "not a length"),
        ([float("nan")], "not a finite number"),
        ([1] * 1001, "1001 grooves"),
    ],
    ids=lambda value: str(value)[:20],
)
def test_unusable_boards(written, reason):
    with pytest.raises(StockError, match=reason) as caught:
        read_board(written, "in")
    assert caught.value.remedy


def test_the_nearest_board_is_named():
    with pytest.raises(StockError) as caught:
        read_board("inch eigths", "in")
    assert "write inch eighths" in caught.value.remedy


def test_even_boards():
    assert even_board("in", Fraction(1, 4), Fraction(1)).stops == tuple(map(inches, ["1/4", "1/2", "3/4", 1]))
    assert even_board("cm", Fraction(2), Fraction(5)).reach == length(40, "mm")
    for step, reach in [
        (Fraction(0), Fraction(1)),
        (Fraction(2), Fraction(1)),
        (Fraction(1, 1000), Fraction(2)),
    ]:
        with pytest.raises(StockError):
            even_board("in", step, reach)


def test_a_board_refuses_grooves_out_of_order():
    with pytest.raises(StockError, match="not in order"):
        Board(name="odd", unit="in", stops=(inches(2), inches(1)))


def test_nearest_stops():
    assert nearest_stops(HALVES, inches("11/16")) == (inches("1/2"), inches(1))
    assert nearest_stops(HALVES, inches("1/2")) == (inches("1/2"),)
    assert nearest_stops(HALVES, inches("1/4")) == (inches("1/2"),)
    assert nearest_stops(HALVES, inches(13)) == (inches(12),)
    assert nearest_stops(NO_BOARD, inches(1)) == ()


def test_a_position_on_a_groove():
    found = mark(EIGHTHS, INCH_SIXTEENTHS, inches("21/8"))
    assert (found.how, found.stop, found.edge_at) == ("groove", inches("21/8"), None)
    assert (found.error, found.text) == (ZERO, "2 5/8 in")


def test_snap_takes_a_near_groove_and_keeps_the_error():
    position = inches("5/2") + length("0.4", "mm")
    near = mark(HALVES, INCH_SIXTEENTHS, position, snap=length("0.4", "mm"))
    assert (near.how, near.marked, near.error) == ("groove", inches("5/2"), -length("0.4", "mm"))
    # Just outside the snap the ruler rounds it; on sixteenths that is the same groove, and the error is kept.
    outside = mark(HALVES, INCH_SIXTEENTHS, position, snap=length("0.39", "mm"))
    assert (outside.how, outside.error) == ("groove", near.error)
    # A snap too small for the next groove leaves a ruler's work.
    far = mark(HALVES, INCH_SIXTEENTHS, inches("41/16"), snap=inches("1/17"))
    assert (far.how, far.marked, far.stop) == ("ruler", inches("41/16"), None)
    assert mark(HALVES, INCH_SIXTEENTHS, inches("41/16"), snap=inches("1/16")).how == "groove"


def test_of_two_grooves_equally_near_the_lower_is_taken():
    assert mark(HALVES, INCH_SIXTEENTHS, inches("3/4"), snap=inches(1)).stop == inches("1/2")


def test_a_groove_that_is_on_no_ruler_is_told_as_about():
    board = read_board(["33.3 mm"], "cm")
    found = mark(board, CM_MILLIMETRES, length("33.3", "mm"))
    assert (found.how, found.text) == ("groove", "about 3.3 cm")
    assert (found.marked, found.error) == (length("33.3", "mm"), ZERO)
    assert mark(board, INCH_SIXTEENTHS, length("33.3", "mm")).text == "about 1 5/16 in"


def test_the_offset_uses_the_lowest_edge_that_serves():
    board = read_board(["1/4", "1/2", "1", "2", "3", "3 1/4"], "in")
    found = mark(board, INCH_SIXTEENTHS, inches("11/4"))
    assert (found.how, found.edge_at, found.stop) == ("offset", inches("1/4"), inches(3))
    assert (found.marked, found.error, found.text) == (inches("11/4"), ZERO, "2 3/4 in")


def test_the_offset_stays_on_the_board():
    board = read_board(["1/4", "1", "2"], "in")
    assert mark(board, INCH_SIXTEENTHS, inches("7/4")).how == "offset"
    assert mark(board, INCH_SIXTEENTHS, inches("9/4")).how == "ruler"  # 2 1/2 would be past the last groove


def test_a_position_off_the_ruler_is_rounded_first():
    board = read_board(["1/4", "3"], "in")
    found = mark(board, INCH_SIXTEENTHS, inches("11/4") + length("0.3", "mm"))
    assert (found.how, found.marked, found.error) == ("offset", inches("11/4"), -length("0.3", "mm"))


def test_no_board_is_a_rulers_work():
    found = mark(NO_BOARD, INCH_SIXTEENTHS, inches("10/3"))
    assert (found.how, found.stop, found.edge_at) == ("ruler", None, None)
    assert (found.marked, found.error) == (inches("53/16"), inches("-1/48"))


def test_the_edge_itself_is_no_groove():
    found = mark(EIGHTHS, INCH_SIXTEENTHS, ZERO)
    assert (found.how, found.marked) == ("ruler", ZERO)
