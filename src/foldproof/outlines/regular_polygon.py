"""The regular polygon."""

from __future__ import annotations

import math

import numpy as np

from foldproof.outlines.curves import repeated
from foldproof.outlines.parameters import ACROSS, a_count, in_range
from foldproof.outlines.record import Drawn, Formula, mirror_axes, ring_of_marks, shape

VALUES = (ACROSS, a_count("sides", "How many sides", least=3, most=60, default=8))


def regular_polygon(*, across_mm: float, sides: float) -> Drawn:
    """A polygon with equal sides in a circle of diameter ``across_mm``; corner 1 points along +x."""
    found, (across, whole) = in_range(VALUES, (across_mm, sides))
    if found:
        return found
    radius, count = across / 2.0, int(whole)
    return shape(
        "regular polygon",
        repeated(np.array([[radius, 0.0]]), count),
        fold=count,
        mirror_axes_rad=mirror_axes(0.0, count),
        landmarks=ring_of_marks(
            "corner",
            "middle of side",
            count=count,
            first_rad=0.0,
            tip_mm=radius,
            dip_mm=radius * math.cos(math.pi / count),
        ),
    )


FORMULA = Formula(
    name="regular polygon", summary="A piece with equal straight sides.", values=VALUES, draw=regular_polygon
)
