"""Intervals of turns, halved again and again; each is known by its number."""

from __future__ import annotations

from dataclasses import dataclass, field

import numpy as np
from numpy.typing import NDArray

from foldproof.geometry.plane import Array

Places = NDArray[np.intp]


@dataclass(frozen=True, slots=True, kw_only=True)
class Halving:
    """Equal intervals side by side, and all halves made of them; lists by an interval's number, and its two halves."""

    middles: list[float]
    halves: list[float]
    parts: dict[int, tuple[int, int]] = field(default_factory=dict)


def intervals(low_rad: float, high_rad: float, most_rad: float, *, even: bool = False) -> Halving:
    """Equal intervals from low to high, none wider than ``most_rad``; one of no width when the two are the same.

    ``even``: an even number of them, so that the middle of the whole is an end.
    """
    width = high_rad - low_rad
    count = max(1, int(np.ceil(width / most_rad)))
    count += count % 2 if even and width > 0.0 else 0
    step = width / count
    return Halving(middles=[low_rad + (number + 0.5) * step for number in range(count)], halves=[0.5 * step] * count)


def halves_of(halving: Halving, which: Places) -> tuple[Places, Places]:
    """The lower and the upper half of each of some intervals, by number: two of (m,)."""
    for number in np.unique(which).tolist():
        if number not in halving.parts:
            first = len(halving.middles)
            half = 0.5 * halving.halves[number]
            halving.middles.extend((halving.middles[number] - half, halving.middles[number] + half))
            halving.halves.extend((half, half))
            halving.parts[number] = (first, first + 1)
    found = np.array([halving.parts[number] for number in which.tolist()], dtype=np.intp).reshape(-1, 2)
    return found[:, 0], found[:, 1]


def middles_of(halving: Halving, which: Places) -> Array:
    """Middles of some intervals (m,)."""
    return np.asarray(halving.middles)[which]


def half_widths_of(halving: Halving, which: Places) -> Array:
    """Half the widths of some intervals (m,)."""
    return np.asarray(halving.halves)[which]
