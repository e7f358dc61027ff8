"""Numbers as text, alike in every file format."""

from __future__ import annotations

import math

FORMATS = tuple(f"%.{places}f" for places in range(10))


def decimal(value: float, places: int) -> str:
    """``value`` in plain decimals without trailing zeros: '2.5', '0', '-3'. It must be finite."""
    assert math.isfinite(value), f"not a number to write: {value}"
    text = FORMATS[places] % value
    if places:
        text = text.rstrip("0").rstrip(".")
    return "0" if text == "-0" else text
