"""Scoring boards, and how a position is found: on a groove, with the sheet moved over, or with a ruler."""

from __future__ import annotations

import math
from bisect import bisect_left
from collections.abc import Sequence
from dataclasses import dataclass
from fractions import Fraction
from itertools import pairwise
from typing import Literal

from foldproof.lengths import MM_PER, ZERO, Length, Ruler, Unit, about, round_to
from foldproof.stock.errors import StockError, nearest_names, plain_name, stock_length

MOST_STOPS = 1000  # a board of half millimetres 50 cm long; more is a typing mistake
MOST_REACH = Length(Fraction(2000))  # mm: the longest sheet


@dataclass(frozen=True, slots=True, kw_only=True)
class Board:
    """A list of grooves, each at its distance from where the sheet's edge lies; none means no board.

    Raises StockError unless the stops rise, lie between 0 (not included) and 2 m, and are at most 1000.
    """

    name: str
    unit: Unit
    stops: tuple[Length, ...]

    def __post_init__(self) -> None:
        if len(self.stops) > MOST_STOPS:
            raise StockError(f"a board of {len(self.stops)} grooves", f"write at most {MOST_STOPS}")
        if self.stops and (self.stops[0] <= ZERO or self.stops[-1] > MOST_REACH):
            raise StockError(
                "a groove is at the edge of the sheet, before it, or over 2 m away",
                "write each groove's distance from the edge of the sheet",
            )
        if any(after <= before for before, after in pairwise(self.stops)):
            raise StockError("the grooves are not in order, or one is there twice", "write each once, rising")

    @property
    def reach(self) -> Length:
        """The distance of the farthest groove; nothing when there is no board."""
        return self.stops[-1] if self.stops else ZERO


def even_board(unit: Unit, step: Fraction, reach: Fraction, name: str = "") -> Board:
    """A board with a groove every ``step`` up to and including ``reach``, both in ``unit``."""
    if step <= 0 or reach < step:
        raise StockError("the step between grooves must be above 0 and fit on the board", "use 1/8 in")
    count = reach // step
    if count > MOST_STOPS:
        raise StockError(f"a board of {count} grooves", f"choose a step that gives at most {MOST_STOPS}")
    stops = tuple(Length(place * step * MM_PER[unit]) for place in range(1, count + 1))
    return Board(name=name or f"every {step} {unit}", unit=unit, stops=stops)


NO_BOARD = Board(name="none", unit="in", stops=())

# A 12 in and a 30 cm board take the whole of the common sheets.
NAMED_BOARDS: tuple[Board, ...] = (
    even_board("in", Fraction(1, 8), Fraction(12), "inch eighths"),
    even_board("in", Fraction(1, 4), Fraction(12), "inch quarters"),
    even_board("in", Fraction(1, 2), Fraction(12), "inch halves"),
    even_board("cm", Fraction(1), Fraction(30), "centimetres"),
    even_board("cm", Fraction(1, 2), Fraction(30), "half centimetres"),
    NO_BOARD,
)


def read_board(written: str | Sequence[str | int | float], unit: Unit) -> Board:
    """A board by name ('inch eighths', 'centimetres', 'none'), or from its grooves as typed, in any order.

    Grooves without a unit are in ``unit``; an empty list is no board. Raises StockError.
    """
    if isinstance(written, str):
        name = plain_name(written)
        names = [board.name for board in NAMED_BOARDS]
        if name not in names:
            choices = nearest_names(name, names)
            raise StockError("no board has this name", f"write {choices}, or a list of grooves")
        return NAMED_BOARDS[names.index(name)]
    if len(written) > MOST_STOPS:
        raise StockError(f"a board of {len(written)} grooves", f"write at most {MOST_STOPS}")
    if not written:
        return NO_BOARD
    stops = tuple(sorted(stock_length(stop, unit) for stop in written))
    return Board(name="your board", unit=unit, stops=stops)


def nearest_stops(board: Board, position: Length) -> tuple[Length, ...]:
    """The stops on either side of a position, the lower first; one if it is on a stop or past the ends."""
    at_or_after = bisect_left(board.stops, position)
    on_it = at_or_after < len(board.stops) and board.stops[at_or_after] == position
    first = at_or_after if on_it else max(at_or_after - 1, 0)
    return board.stops[first : at_or_after + 1]


@dataclass(frozen=True, slots=True, kw_only=True)
class Mark:
    """Where a score line is really made.

    ``error`` is marked minus exact. ``how`` is

    - ``groove``: the sheet's edge against the fence, score in the groove ``stop``;
    - ``offset``: the sheet's edge at the groove ``edge_at``, score in the groove ``stop``;
    - ``ruler``: no groove fits, so tick it with a ruler and score with a bone folder.

    ``text`` is the marked position, with 'about' when it is not on the ruler's divisions.
    """

    exact: Length
    marked: Length
    error: Length
    how: Literal["groove", "offset", "ruler"]
    stop: Length | None
    edge_at: Length | None
    text: str


def mark(board: Board, ruler: Ruler, position: Length, snap: Length = ZERO) -> Mark:
    """How to mark ``position`` (from one edge of the sheet), and by how much the mark is off.

    A groove within ``snap`` is used as it is, the nearer first and the lower of two equally near. Otherwise
    the position is rounded to the ruler; if a groove lies there, or one groove less another gives it, the
    board is still used, with the sheet's edge at the lowest groove that serves. Else it is a ruler's work.
    The error is kept in every case.
    """
    near = min(nearest_stops(board, position), key=lambda stop: abs(stop - position), default=None)
    if near is not None and abs(near - position) <= snap:
        return _marked(position, near, ruler, "groove", near, None)
    rounded = round_to(position, ruler).shown
    if _is_stop(board, rounded):
        return _marked(position, rounded, ruler, "groove", rounded, None)
    edge_at = _lowest_edge(board, rounded)
    if edge_at is not None:
        return _marked(position, rounded, ruler, "offset", rounded + edge_at, edge_at)
    return _marked(position, rounded, ruler, "ruler", None, None)


def _marked(
    exact: Length,
    marked: Length,
    ruler: Ruler,
    how: Literal["groove", "offset", "ruler"],
    stop: Length | None,
    edge_at: Length | None,
) -> Mark:
    return Mark(
        exact=exact,
        marked=marked,
        error=marked - exact,
        how=how,
        stop=stop,
        edge_at=edge_at,
        text=about(marked, ruler),
    )


def _is_stop(board: Board, position: Length) -> bool:
    place = bisect_left(board.stops, position)
    return place < len(board.stops) and board.stops[place] == position


def _lowest_edge(board: Board, position: Length) -> Length | None:
    """The lowest stop to lay the sheet's edge at so that another stop lies ``position`` beyond it."""
    # Whole numbers of the stops' common part: adding and finding them is far quicker than fractions.
    parts = math.lcm(*(stop.mm.denominator for stop in board.stops))
    beyond = position.mm * parts
    if beyond <= 0 or beyond.denominator != 1:
        return None
    places = [stop.mm.numerator * (parts // stop.mm.denominator) for stop in board.stops]
    known = frozenset(places)
    lowest = next((index for index, place in enumerate(places) if place + beyond.numerator in known), None)
    return None if lowest is None else board.stops[lowest]
