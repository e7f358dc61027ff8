"""The disc."""

from __future__ import annotations

import math

from foldproof.outlines.curves import CHORD_ERROR_MM, arc
from foldproof.outlines.parameters import ACROSS, in_range
from foldproof.outlines.record import Drawn, Formula, shape

VALUES = (ACROSS,)


def disc(*, across_mm: float, chord_error_mm: float = CHORD_ERROR_MM) -> Drawn:
    """A disc. Points lie on the circle, some of them at every eighth of a turn from +x; the chords lie inside."""
    found, (across,) = in_range(VALUES, (across_mm,))
    if found:
        return found
    points = arc((0.0, 0.0), across / 2.0, 0.0, 2.0 * math.pi, chord_error_mm, multiple=8)
    return shape("disc", points, fold=0, mirror_axes_rad=(), landmarks=())


FORMULA = Formula(name="disc", summary="A round piece.", values=VALUES, draw=disc)
