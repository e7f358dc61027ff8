"""The square with rounded corners."""

from __future__ import annotations

import math

import numpy as np

from foldproof.outlines.curves import CHORD_ERROR_MM, arc, repeated
from foldproof.outlines.parameters import LEAST_DEPTH_MM, MOST_ACROSS_MM, SIDE, ShapeValue, and_also, at_most, in_range
from foldproof.outlines.record import Drawn, Formula, mirror_axes, ring_of_marks, shape

MOST_OF_SIDE = 0.49  # with half the side as corner radius it would be a disc

VALUES = (
    SIDE,
    ShapeValue(
        name="corner_radius",
        kind="length",
        help="Radius of each corner",
        least=LEAST_DEPTH_MM,
        most=MOST_ACROSS_MM / 2.0,
        default=("1/2 in", "12 mm"),
    ),
)


def rounded_square(*, side_mm: float, corner_radius_mm: float, chord_error_mm: float = CHORD_ERROR_MM) -> Drawn:
    """A square standing on a side, its corners quarter circles; corner 1 is at the upper right."""
    found, (side, radius) = in_range(VALUES, (side_mm, corner_radius_mm))
    too_round = "must be less than half the side, or there are no sides left"
    found = and_also(found, at_most("corner_radius", radius, MOST_OF_SIDE * side, too_round))
    if found:
        return found
    half = side / 2.0
    middle = half - radius
    corner = arc((middle, middle), radius, 0.0, math.pi / 2.0, chord_error_mm)
    corner = np.concatenate((corner, [[middle, half]]))
    return shape(
        "rounded square",
        repeated(corner, 4),
        fold=4,
        mirror_axes_rad=mirror_axes(math.pi / 4.0, 4),
        landmarks=ring_of_marks(
            "corner",
            "middle of side",
            count=4,
            first_rad=math.pi / 4.0,
            tip_mm=middle * math.sqrt(2.0) + radius,
            dip_mm=half,
        ),
    )


FORMULA = Formula(
    name="rounded square", summary="A square with round corners.", values=VALUES, draw=rounded_square
)
