"""Two lists that were made from one, put together again: lines of a file, or the layers of a lid."""

from __future__ import annotations

from collections.abc import Hashable, Iterator, Sequence
from dataclasses import dataclass
from difflib import SequenceMatcher
from typing import Literal

Whose = Literal["base", "mine", "theirs", "both"]

MOST_COMPARED = 1500  # items left when what both ends share is set aside; more would take seconds to compare


@dataclass(frozen=True, slots=True, kw_only=True)
class Hunk:
    """Items ``start`` to ``end`` of the old list (end not included) gave way to ``new_start``..``new_end``."""

    start: int
    end: int
    new_start: int
    new_end: int


@dataclass(frozen=True, slots=True, kw_only=True)
class Taken:
    """One item of the merged list: whose it is, and its ``place`` there.

    ``"both"``: mine has it at ``place`` and theirs at ``theirs``, and both are made of item ``base``.
    """

    whose: Whose
    place: int
    base: int = -1
    theirs: int = -1


def hunks(old: Sequence[Hashable], new: Sequence[Hashable]) -> tuple[Hunk, ...] | None:
    """What changed, in order. As many for as many are told one by one. None when the lists are too long to compare."""
    head = 0
    while head < min(len(old), len(new)) and old[head] == new[head]:
        head += 1
    tail = 0
    while tail < min(len(old), len(new)) - head and old[-1 - tail] == new[-1 - tail]:
        tail += 1
    left, right = old[head : len(old) - tail], new[head : len(new) - tail]
    if max(len(left), len(right)) > MOST_COMPARED:
        return None
    found: list[Hunk] = []
    for _, i1, i2, j1, j2 in SequenceMatcher(None, left, right, autojunk=False).get_opcodes():
        if left[i1:i2] == right[j1:j2]:
            continue
        if i2 - i1 == j2 - j1:
            pairs = zip(range(i1, i2), range(j1, j2), strict=True)
            spans = [(i, i + 1, j, j + 1) for i, j in pairs]
        else:
            spans = [(i1, i2, j1, j2)]
        found += [Hunk(start=a + head, end=b + head, new_start=c + head, new_end=d + head) for a, b, c, d in spans]
    return tuple(found)


def merge_sequences(
    base: Sequence[Hashable], mine: Sequence[Hashable], theirs: Sequence[Hashable]
) -> tuple[Taken, ...] | None:
    """The items of the list with the changes of both; None when they changed the same place in two ways.

    A change made alike by both is made once. One item changed by both, and by both into one item, is told as "both".
    """
    ours, others = hunks(base, mine), hunks(base, theirs)
    if ours is None or others is None:
        return None
    alike = [hunk for hunk in ours if any(_alike(hunk, other, mine, theirs) for other in others)]
    others = tuple(other for other in others if not any(_alike(hunk, other, mine, theirs) for hunk in alike))
    shared = [(hunk, other) for hunk in ours for other in others if _single(hunk, other)]
    for hunk in ours:
        for other in others:
            if (hunk, other) not in shared and _meet(hunk, other):
                return None
    return tuple(_woven(len(base), ours, others, shared))


def _alike(hunk: Hunk, other: Hunk, mine: Sequence[Hashable], theirs: Sequence[Hashable]) -> bool:
    same_place = (hunk.start, hunk.end) == (other.start, other.end)
    return same_place and mine[hunk.new_start : hunk.new_end] == theirs[other.new_start : other.new_end]


def _single(hunk: Hunk, other: Hunk) -> bool:
    """Whether both turned one and the same item into one item."""
    one_each = all(each.end - each.start == each.new_end - each.new_start == 1 for each in (hunk, other))
    return one_each and hunk.start == other.start


def _meet(hunk: Hunk, other: Hunk) -> bool:
    """Whether the order of what both leave is not clear. Beside each other is clear; two additions at one place not."""
    if hunk.start == hunk.end and other.start == other.end:
        return hunk.start == other.start
    if hunk.start == hunk.end:
        return other.start < hunk.start < other.end
    if other.start == other.end:
        return hunk.start < other.start < hunk.end
    return hunk.start < other.end and other.start < hunk.end


def _woven(
    count: int, ours: tuple[Hunk, ...], others: tuple[Hunk, ...], shared: list[tuple[Hunk, Hunk]]
) -> Iterator[Taken]:
    partner = dict(shared)
    both = set(partner.values())
    mine: list[tuple[int, int, Whose, Hunk]] = [(hunk.start, hunk.end, "mine", hunk) for hunk in ours]
    theirs: list[tuple[int, int, Whose, Hunk]] = [
        (other.start, other.end, "theirs", other) for other in others if other not in both
    ]
    at = 0
    # An addition stands before the item at its place, so it comes before a change of that item.
    for start, end, whose, hunk in sorted(mine + theirs, key=lambda change: change[:3]):
        yield from (Taken(whose="base", place=place) for place in range(at, start))
        if hunk in partner and whose == "mine":
            yield Taken(whose="both", place=hunk.new_start, base=start, theirs=partner[hunk].new_start)
        else:
            yield from (Taken(whose=whose, place=place) for place in range(hunk.new_start, hunk.new_end))
        at = end
    yield from (Taken(whose="base", place=place) for place in range(at, count))
