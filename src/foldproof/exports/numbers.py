"""Numbers as text, alike in every file format."""

from __future__ import annotations

import math
from collections.abc import Sequence
from functools import lru_cache

NUMBERS_KEPT = 16384  # two of three numbers in a pack have been written before
FORMATS = tuple(f"%.{places}f" for places in range(10))


@lru_cache(maxsize=NUMBERS_KEPT)
def decimal(value: float, places: int) -> str:
    """``value`` in plain decimals without trailing zeros: '2.5', '0', '-3'. It must be finite."""
    assert math.isfinite(value), f"not a number to write: {value}"
    text = FORMATS[places] % value
    if places:
        text = text.rstrip("0").rstrip(".")
    return "0" if text == "-0" else text


def decimals(values: Sequence[float], places: int) -> list[str]:
    """As ``decimal``, for many numbers that are hardly ever the same. There is at least one place."""
    assert all(map(math.isfinite, values)), "not numbers to write"
    assert places, "trailing zeros of a whole number are no decimals"
    texts = (f"{FORMATS[places]} " * len(values) % tuple(values)).split()
    short = [text.rstrip("0").rstrip(".") for text in texts]
    return ["0" if text == "-0" else text for text in short] if "-0" in short else short
