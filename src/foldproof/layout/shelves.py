"""Rectangles on as few sheets as shelves give: rows across the sheet, each as tall as its first piece.

Every shelf is cut from edge to edge, and every piece from its shelf, so that a trimmer can cut them all. The count is
one that can really be cut, as the places prove; fewer sheets may do. ``least_sheets`` says how few at the best.
"""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass, replace

from foldproof.lengths import ZERO, Length

Size = tuple[Length, Length]  # width, height


@dataclass(frozen=True, slots=True, kw_only=True)
class Wanted:
    """A rectangle to cut. ``name`` is kept for the caller; ``may_turn``: it may lie a quarter turned."""

    name: str
    width: Length
    height: Length
    may_turn: bool = True


@dataclass(frozen=True, slots=True, kw_only=True)
class Placed:
    """Where a rectangle lies: sheet from 0, distances from the left and the near edge, and its sides as it lies."""

    name: str
    sheet: int
    left: Length
    low: Length
    width: Length
    height: Length


@dataclass(frozen=True, slots=True, kw_only=True)
class Shelves:
    """An arrangement. ``too_large`` are the names of rectangles that no sheet holds."""

    sheets: int
    placed: tuple[Placed, ...]
    too_large: tuple[str, ...]


@dataclass(frozen=True, slots=True, kw_only=True)
class _Shelf:
    """A shelf being filled: its sheet, where it begins, how tall it is, and how much of its length is used."""

    sheet: int
    low: Length
    height: Length
    used: Length


def on_shelves(wanted: Sequence[Wanted], sheet: Size) -> Shelves:
    """First fit over falling height, over both ways the shelves can run; the same rectangles give the same places."""
    tries = [_fill(wanted, sheet, across) for across in (True, False)]
    best = min(tries, key=lambda found: found.sheets)
    assert_apart(best, sheet)
    return best


def least_sheets(wanted: Sequence[Wanted], sheet: Size) -> int:
    """A count below which it cannot be done: by area, and by pieces of which no two share a sheet."""
    fitting = [each for each in wanted if _fits(each, sheet)]
    area = sum((each.width.mm * each.height.mm for each in fitting), start=ZERO.mm)
    by_area = -(-area // (sheet[0].mm * sheet[1].mm))
    # Both sides over half of the sheet's longer one: two such pieces overlap however they lie.
    half = max(sheet) / 2
    alone = sum(min(each.width, each.height) > half for each in fitting)
    return max(int(by_area), alone)


def assert_apart(shelves: Shelves, sheet: Size) -> None:
    """Every piece lies on its sheet, and no two on one place."""
    for number, one in enumerate(shelves.placed):
        inside = one.left >= ZERO and one.low >= ZERO
        assert inside and one.left + one.width <= sheet[0] and one.low + one.height <= sheet[1], f"{one.name} is off"
        for other in shelves.placed[:number]:
            apart = (
                one.sheet != other.sheet
                or one.left + one.width <= other.left
                or other.left + other.width <= one.left
                or one.low + one.height <= other.low
                or other.low + other.height <= one.low
            )
            assert apart, f"{one.name} lies on {other.name}"


def _ways(each: Wanted) -> tuple[Size, ...]:
    """The ways it can lie, the flatter first: shelves stay low."""
    as_it_is = (each.width, each.height)
    if not each.may_turn or each.width == each.height:
        return (as_it_is,)
    return tuple(sorted((as_it_is, as_it_is[::-1]), key=lambda size: size[1]))


def _fits(each: Wanted, sheet: Size) -> bool:
    return any(width <= sheet[0] and height <= sheet[1] for width, height in _ways(each))


def _fill(wanted: Sequence[Wanted], sheet: Size, across: bool) -> Shelves:
    """Shelves that run across the sheet, or up it. Up is across on the sheet laid on its side."""
    lying = [each if across else _turned(each) for each in wanted]
    bed = sheet if across else (sheet[1], sheet[0])
    shelves: list[_Shelf] = []
    heights: list[Length] = []  # used of each sheet
    placed: list[Placed] = []
    fitting = [each for each in lying if _fits(each, bed)]
    for each in sorted(fitting, key=lambda one: (_ways(one)[0][1], one.width + one.height), reverse=True):
        number, size = _shelf_for(each, shelves, heights, bed)
        shelf = shelves[number]
        placed.append(
            Placed(name=each.name, sheet=shelf.sheet, left=shelf.used, low=shelf.low, width=size[0], height=size[1])
        )
        shelves[number] = replace(shelf, used=shelf.used + size[0])
    return Shelves(
        sheets=len(heights),
        placed=tuple(one if across else _turned_back(one) for one in placed),
        too_large=tuple(each.name for each in lying if not _fits(each, bed)),
    )


def _shelf_for(each: Wanted, shelves: list[_Shelf], heights: list[Length], bed: Size) -> tuple[int, Size]:
    """The first shelf with room, else a new one on the first sheet with room, else a new sheet. New ones are added."""
    for number, shelf in enumerate(shelves):
        for size in reversed(_ways(each)):  # the taller way uses less of a shelf's length
            if size[1] <= shelf.height and shelf.used + size[0] <= bed[0]:
                return number, size
    for sheet, used in enumerate(heights):
        for size in _ways(each):
            if size[0] <= bed[0] and used + size[1] <= bed[1]:
                return _new_shelf(sheet, used, size, shelves, heights), size
    size = next(size for size in _ways(each) if size[0] <= bed[0] and size[1] <= bed[1])
    heights.append(ZERO)
    return _new_shelf(len(heights) - 1, ZERO, size, shelves, heights), size


def _new_shelf(sheet: int, low: Length, size: Size, shelves: list[_Shelf], heights: list[Length]) -> int:
    shelves.append(_Shelf(sheet=sheet, low=low, height=size[1], used=ZERO))
    heights[sheet] = low + size[1]
    return len(shelves) - 1


def _turned(each: Wanted) -> Wanted:
    return Wanted(name=each.name, width=each.height, height=each.width, may_turn=each.may_turn)


def _turned_back(one: Placed) -> Placed:
    return Placed(name=one.name, sheet=one.sheet, left=one.low, low=one.left, width=one.height, height=one.width)
