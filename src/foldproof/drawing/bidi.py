"""In which order the characters of a line stand: the Unicode Bidirectional Algorithm (Unicode Standard Annex 9).

Marks that only steer the order are dropped from all text before it gets here, so the rules for them (X1 to X8) are
left out; all others are here by the names that the annex gives them.
"""

from __future__ import annotations

import unicodedata
from collections.abc import Callable, Sequence

BRACKETS = {"(": ")", "[": "]", "{": "}", "\u2329": "\u232a", "\u3008": "\u3009", "\u300a": "\u300b"}
LEFT, RIGHT = ("L",), ("R", "AL")
NUMBERS = ("EN", "AN")
NEUTRAL = frozenset({"B", "S", "WS", "ON"})
TRAILING = frozenset({"WS", "S", "B"})  # L1
RTL = frozenset({"R", "AL", "AN"})
MOST_OPEN = 63  # brackets looked at for pairs (BD16)

Kinds = list[str]


def is_one_way(text: str) -> bool:
    """Whether all of ``text`` runs from left to right as it stands."""
    return text.isascii() or not any(unicodedata.bidirectional(char) in RTL for char in text)


def levels(text: str) -> tuple[int, tuple[int, ...]]:
    """The level of the line and of each character: even ones run to the right, odd ones to the left.

    The line runs as its first letter does (P2 and P3).
    """
    kinds = [unicodedata.bidirectional(char) or "ON" for char in text]
    base = next((0 if kind == "L" else 1 for kind in kinds if kind in ("L", "R", "AL")), 0)
    edge = "R" if base else "L"
    solved = _weak(kinds, edge)
    _brackets(text, kinds, solved, edge)
    _neutral(solved, edge)
    found = [base + _raised(kind, base) for kind in solved]
    for at in range(len(text) - 1, -1, -1):  # L1: spaces at the end, and separators, go with the line
        if kinds[at] not in TRAILING:
            break
        found[at] = base
    return base, tuple(found)


def visual_runs(run_levels: Sequence[int]) -> tuple[int, ...]:
    """The places of runs as they stand from left to right, by the level of each (L2)."""
    order = list(range(len(run_levels)))
    highest = max(run_levels, default=0)
    for level in range(highest, 0, -1):
        start = 0
        while start < len(order):
            end = start
            while end < len(order) and run_levels[order[end]] >= level:
                end += 1
            order[start:end] = reversed(order[start:end])
            start = max(end, start + 1)
    return tuple(order)


def _raised(kind: str, base: int) -> int:
    """I1 and I2."""
    if base:
        return 0 if kind == "R" else 1
    return {"R": 1, "L": 0}.get(kind, 2)


def _weak(kinds: Kinds, edge: str) -> Kinds:
    """W1 to W7: marks, numbers and what stands about them."""
    solved = list(kinds)
    before = edge
    for at, kind in enumerate(solved):  # W1
        solved[at] = before if kind == "NSM" else kind
        before = solved[at]
    strong = edge
    for at, kind in enumerate(solved):  # W2
        strong = kind if kind in ("L", "R", "AL") else strong
        if kind == "EN" and strong == "AL":
            solved[at] = "AN"
    solved = ["R" if kind == "AL" else kind for kind in solved]  # W3
    for at in range(1, len(solved) - 1):  # W4
        around = solved[at - 1]
        if around == solved[at + 1] and (
            (solved[at] == "CS" and around in NUMBERS) or (solved[at] == "ES" and around == "EN")
        ):
            solved[at] = around
    _each_run(solved, lambda kind: kind == "ET", _beside_numbers)  # W5
    solved = ["ON" if kind in ("ES", "ET", "CS", "BN") else kind for kind in solved]  # W6
    strong = edge
    for at, kind in enumerate(solved):  # W7
        strong = kind if kind in ("L", "R") else strong
        if kind == "EN" and strong == "L":
            solved[at] = "L"
    return solved


def _each_run(kinds: Kinds, wanted: Callable[[str], bool], change: Callable[[Kinds, int, int], None]) -> None:
    start = 0
    while start < len(kinds):
        end = start
        while end < len(kinds) and wanted(kinds[end]):
            end += 1
        if end > start:
            change(kinds, start, end)
        start = max(end, start + 1)


def _beside_numbers(kinds: Kinds, start: int, end: int) -> None:
    if (start > 0 and kinds[start - 1] == "EN") or (end < len(kinds) and kinds[end] == "EN"):
        kinds[start:end] = ["EN"] * (end - start)


def _brackets(text: str, kinds: Kinds, solved: Kinds, edge: str) -> None:
    """N0: both brackets of a pair run the same way."""
    for start, end in _pairs(text, solved):
        inside = {_strong(kind) for kind in solved[start + 1 : end]} - {""}
        if not inside:
            continue
        if edge in inside:
            way = edge
        else:
            before = next((_strong(kind) for kind in reversed(solved[:start]) if _strong(kind)), edge)
            way = before if before in inside else edge
        for at in (start, end):
            solved[at] = way
            after = at + 1
            while after < len(kinds) and kinds[after] == "NSM":
                solved[after] = way
                after += 1


def _pairs(text: str, solved: Kinds) -> list[tuple[int, int]]:
    """Brackets that belong together, by where they open (BD16)."""
    found: list[tuple[int, int]] = []
    waiting: list[tuple[str, int]] = []
    for at, char in enumerate(text):
        if solved[at] != "ON":
            continue
        if char in BRACKETS:
            if len(waiting) == MOST_OPEN:
                break
            waiting.append((BRACKETS[char], at))
        elif any(char == close for close, _ in waiting):
            while waiting[-1][0] != char:
                waiting.pop()
            found.append((waiting.pop()[1], at))
    return sorted(found)


def _strong(kind: str) -> str:
    """Numbers count as running to the left where neutrals are decided."""
    return "R" if kind in ("R", *NUMBERS) else "L" if kind == "L" else ""


def _neutral(solved: Kinds, edge: str) -> None:
    """N1 and N2: what has no way of its own goes as what stands on both sides of it, or as the line."""

    def decide(kinds: Kinds, start: int, end: int) -> None:
        before = _strong(kinds[start - 1]) if start else edge
        after = _strong(kinds[end]) if end < len(kinds) else edge
        kinds[start:end] = [before if before == after else edge] * (end - start)

    _each_run(solved, NEUTRAL.__contains__, decide)
