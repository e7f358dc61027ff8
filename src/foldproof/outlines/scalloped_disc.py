"""The scalloped disc: circular arcs that bulge out."""

from __future__ import annotations

import math

from foldproof.outlines.curves import CHORD_ERROR_MM, arc, repeated
from foldproof.outlines.parameters import (
    ACROSS,
    LEAST_DEPTH_MM,
    Misfit,
    a_count,
    a_depth,
    and_also,
    at_most,
    in_range,
)
from foldproof.outlines.record import Drawn, Formula, mirror_axes, ring_of_marks, shape

MOST_OF_DEPTH = 0.98  # at the full depth neighbouring scallops run side by side into the dip

VALUES = (
    ACROSS,
    a_count("lobes", "How many scallops", least=3, most=60, default=12),
    a_depth("How far the dips lie inside the circle round the scallops", ("1/8 in", "3 mm")),
)


def scalloped_disc(
    *, across_mm: float, lobes: float, depth_mm: float, chord_error_mm: float = CHORD_ERROR_MM
) -> Drawn:
    """Equal arcs from dip to dip, their tops on the circle of diameter ``across_mm``; tip 1 points along +x.

    With R the tips' and q = R - depth the dips' distance from the middle and b = pi / lobes, an arc's centre lies
    at c = (R^2 - q^2) / (2 (R - q cos b)). Neighbours touch when q = c cos b, that is q = R tan(pi/4 - b/2): any
    deeper and the outline would cross itself.
    """
    found, (across, whole, depth) = in_range(VALUES, (across_mm, lobes, depth_mm))
    radius = across / 2.0
    count = min(int(whole), _most_lobes(radius))
    if count < whole:
        found = and_also(found, Misfit(name="lobes", reason="are too many for a disc of this size", works=count))
    half = math.pi / count
    deepest = MOST_OF_DEPTH * radius * (1.0 - math.tan(math.pi / 4.0 - half / 2.0))
    crossing = "the scallops are so deep that neighbours would cross"
    found = and_also(found, at_most("depth", depth, deepest, crossing))
    if found:
        return found
    dip = radius - depth
    centre = (radius**2 - dip**2) / (2.0 * (radius - dip * math.cos(half)))
    end = math.atan2(dip * math.sin(half), dip * math.cos(half) - centre)
    scallop = arc((centre, 0.0), radius - centre, -end, 2.0 * end, chord_error_mm)
    return shape(
        "scalloped disc",
        repeated(scallop, count),
        fold=count,
        mirror_axes_rad=mirror_axes(0.0, count),
        landmarks=ring_of_marks("tip", "dip", count=count, first_rad=0.0, tip_mm=radius, dip_mm=dip),
    )


def _most_lobes(radius: float) -> int:
    """As many lobes as can still be twice the least depth deep: the formula for the deepest, turned round."""
    share = 2.0 * LEAST_DEPTH_MM / (MOST_OF_DEPTH * radius)
    return math.floor(math.pi / (2.0 * (math.pi / 4.0 - math.atan(1.0 - share))))


FORMULA = Formula(
    name="scalloped disc", summary="A disc edged with round scallops.", values=VALUES, draw=scalloped_disc
)
