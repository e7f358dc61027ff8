"""Printing tables and taking times."""

from __future__ import annotations

import time
from collections.abc import Callable, Iterable
from typing import TypeVar

T = TypeVar("T")


def print_rows(title: str, heads: tuple[str, ...], rows: Iterable[tuple[str, ...]]) -> None:
    """A table in plain text, columns as wide as they need to be."""
    lines = [heads, *rows]
    widths = [max(len(line[column]) for line in lines) for column in range(len(heads))]
    print(f"\n{title}")
    for line in lines:
        rest = (cell.rjust(width) for cell, width in zip(line[1:], widths[1:], strict=True))
        print("  " + "   ".join([line[0].ljust(widths[0]), *rest]), flush=True)


def warm_seconds(work: Callable[[], T], rounds: int = 7) -> tuple[float, T]:
    """The middle one of several times after one that does not count, and the answer."""
    answer = work()
    times = []
    for _ in range(rounds):
        answer, seconds = timed(work)
        times.append(seconds)
    return sorted(times)[rounds // 2], answer


def timed(work: Callable[[], T]) -> tuple[T, float]:
    """The answer and how long it took, once."""
    start = time.perf_counter()
    answer = work()
    return answer, time.perf_counter() - start


def milliseconds(seconds: float) -> str:
    """A time as it is printed."""
    return f"{1000 * seconds:,.0f} ms" if seconds >= 0.01 else f"{1000 * seconds:,.1f} ms"
