"""The heart."""

from __future__ import annotations

import math

import numpy as np

from foldproof.outlines.curves import CHORD_ERROR_MM, arc
from foldproof.outlines.parameters import LEAST_ACROSS_MM, MOST_ACROSS_MM, ShapeValue, in_range
from foldproof.outlines.record import Drawn, Formula, Landmark, shape

VALUES = (
    ShapeValue(
        name="across",
        kind="length",
        help="Greatest width, from side to side",
        least=LEAST_ACROSS_MM,
        most=MOST_ACROSS_MM,
        default=("5 1/2 in", "14 cm"),
    ),
)


def heart(*, across_mm: float, chord_error_mm: float = CHORD_ERROR_MM) -> Drawn:
    """A square standing on a corner with a half circle on each upper side, upright, its centre of area at the origin.

    A square of side s makes it s (1 + 1 / sqrt 2) wide, which is also its largest diameter.
    """
    found, (across,) = in_range(VALUES, (across_mm,))
    if found:
        return found
    side = across / (1.0 + 1.0 / math.sqrt(2.0))
    out, top = side / math.sqrt(2.0), side * math.sqrt(2.0)
    eighth = math.pi / 4.0
    right = arc((out / 2.0, 1.5 * out), side / 2.0, -eighth, math.pi, chord_error_mm, multiple=4)
    left = arc((-out / 2.0, 1.5 * out), side / 2.0, eighth, math.pi, chord_error_mm, multiple=4)
    points = np.concatenate(([[0.0, 0.0]], right, left, [[-out, out]]))
    # Centre of area above the point: the square's is at `out`, each half circle's 4 r / (3 pi) beyond its diameter.
    circles = math.pi / 4.0
    lift = out * (1.0 + circles * (1.5 + 2.0 / (3.0 * math.pi))) / (1.0 + circles)
    landmarks = (
        Landmark(name="point", kind="tip", at_mm=(0.0, -lift)),
        Landmark(name="top of right lobe", kind="tip", at_mm=(out / 2.0, 1.5 * out + side / 2.0 - lift)),
        Landmark(name="top of left lobe", kind="tip", at_mm=(-out / 2.0, 1.5 * out + side / 2.0 - lift)),
        Landmark(name="dip", kind="dip", at_mm=(0.0, top - lift)),
    )
    return shape(
        "heart",
        points - np.array([0.0, lift]),
        fold=1,
        mirror_axes_rad=(math.pi / 2.0,),
        landmarks=landmarks,
    )


FORMULA = Formula(name="heart", summary="A heart, point down.", values=VALUES, draw=heart)
