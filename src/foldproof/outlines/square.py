"""The square."""

from __future__ import annotations

import math

import numpy as np

from foldproof.outlines.parameters import SIDE, in_range
from foldproof.outlines.record import Drawn, Formula, mirror_axes, ring_of_marks, shape

VALUES = (SIDE,)


def square(*, side_mm: float) -> Drawn:
    """A square standing on a side; corner 1 is at the upper right."""
    found, (side,) = in_range(VALUES, (side_mm,))
    if found:
        return found
    half = side / 2.0
    return shape(
        "square",
        np.array([[half, half], [-half, half], [-half, -half], [half, -half]]),
        fold=4,
        mirror_axes_rad=mirror_axes(math.pi / 4.0, 4),
        landmarks=ring_of_marks(
            "corner",
            "middle of side",
            count=4,
            first_rad=math.pi / 4.0,
            tip_mm=half * math.sqrt(2.0),
            dip_mm=half,
        ),
    )


FORMULA = Formula(name="square", summary="A square with sharp corners.", values=VALUES, draw=square)
