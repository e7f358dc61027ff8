"""The star."""

from __future__ import annotations

import math

import numpy as np

from foldproof.outlines.curves import repeated
from foldproof.outlines.parameters import (
    ACROSS,
    LEAST_DEPTH_MM,
    LEAST_MIDDLE_MM,
    Misfit,
    a_count,
    a_depth,
    and_also,
    in_range,
)
from foldproof.outlines.record import Drawn, Formula, mirror_axes, ring_of_marks, shape

UP = math.pi / 2.0

VALUES = (
    ACROSS,
    a_count("points", "How many points", least=3, most=40, default=5),
    a_depth("How much nearer to the middle the dips are than the tips", ("1 1/4 in", "32 mm")),
)


def star(*, across_mm: float, points: float, depth_mm: float) -> Drawn:
    """A star with straight edges, tip 1 at the top; its tips lie on the circle of diameter ``across_mm``.

    The dips must lie inside the straight lines from tip to tip, which come within R cos(pi / points) of the middle,
    and must not reach the middle.
    """
    found, (across, whole, depth) = in_range(VALUES, (across_mm, points, depth_mm))
    radius, count = across / 2.0, int(whole)
    flat, deepest = radius * (1.0 - math.cos(math.pi / count)), radius - LEAST_MIDDLE_MM
    works = 0.5 * (flat + deepest)
    if depth > deepest:
        reason = "is deeper than the radius, so the dips would reach the middle"
        found = and_also(found, Misfit(name="depth", reason=reason, works=works))
    if depth < flat + LEAST_DEPTH_MM:
        reason = "is so small that the dips are no dips: a polygon would be left"
        found = and_also(found, Misfit(name="depth", reason=reason, works=works))
    if found:
        return found
    dip = radius - depth
    step = math.pi / count
    part = np.array([[0.0, radius], [dip * math.cos(UP + step), dip * math.sin(UP + step)]])
    return shape(
        "star",
        repeated(part, count),
        fold=count,
        mirror_axes_rad=mirror_axes(UP, count),
        landmarks=ring_of_marks("tip", "dip", count=count, first_rad=UP, tip_mm=radius, dip_mm=dip),
    )


FORMULA = Formula(name="star", summary="A star with straight edges.", values=VALUES, draw=star)
