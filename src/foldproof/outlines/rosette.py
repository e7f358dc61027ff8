"""The rosette: a disc whose edge is a smooth wave."""

from __future__ import annotations

import math

import numpy as np

from foldproof.geometry.plane import Array
from foldproof.outlines.curves import CHORD_ERROR_MM, repeated
from foldproof.outlines.parameters import (
    ACROSS,
    LEAST_MIDDLE_MM,
    a_count,
    a_depth,
    and_also,
    at_most,
    in_range,
)
from foldproof.outlines.record import Drawn, Formula, mirror_axes, ring_of_marks, shape

TRIED_BETWEEN = 8  # places on the curve between two points where its distance from the chord is measured
GROWTH = 1.1  # how much closer the points come when a chord strays too far

VALUES = (
    ACROSS,
    a_count("lobes", "How many lobes", least=2, most=60, default=10),
    a_depth("How much nearer to the middle the dips are than the tips", ("3/16 in", "5 mm")),
)


def rosette(*, across_mm: float, lobes: float, depth_mm: float, chord_error_mm: float = CHORD_ERROR_MM) -> Drawn:
    """A wave round a circle: r = R - depth / 2 + depth / 2 cos(lobes a), with a measured from +x and R the tips' r.

    Tip 1 points along +x; ``across_mm`` is 2 R. Tips and dips are points of the outline.
    """
    found, (across, whole, depth) = in_range(VALUES, (across_mm, lobes, depth_mm))
    radius, count = across / 2.0, int(whole)
    too_deep = "the lobes are deeper than the radius, so the dips would reach the middle"
    found = and_also(found, at_most("depth", depth, radius - LEAST_MIDDLE_MM, too_deep))
    if found:
        return found
    return shape(
        "rosette",
        repeated(_lobe(radius, count, depth, chord_error_mm), count),
        fold=count,
        mirror_axes_rad=mirror_axes(0.0, count),
        landmarks=ring_of_marks("tip", "dip", count=count, first_rad=0.0, tip_mm=radius, dip_mm=radius - depth),
    )


def _lobe(radius: float, count: int, depth: float, chord_error_mm: float) -> Array:
    """One lobe from tip to tip, its end left out: equal steps of angle, as few as keep to the chord error."""
    steps = 4
    while _straying(radius, count, depth, steps) > chord_error_mm:
        steps = 2 * math.ceil(steps * GROWTH / 2.0 + 0.5)
    return _curve(radius, count, depth, 2.0 * math.pi / count * np.arange(steps) / steps)


def _straying(radius: float, count: int, depth: float, steps: int) -> float:
    """How far in mm the curve strays from its chords, over half a lobe, measured between the points."""
    places = np.arange(steps // 2 * TRIED_BETWEEN + 1) / (steps * TRIED_BETWEEN)
    curve = _curve(radius, count, depth, 2.0 * math.pi / count * places)
    start, end = curve[:-1:TRIED_BETWEEN], curve[TRIED_BETWEEN::TRIED_BETWEEN]
    chord = end - start
    offset = curve[:-1].reshape(-1, TRIED_BETWEEN, 2) - start[:, None, :]
    away = offset[:, :, 0] * chord[:, None, 1] - offset[:, :, 1] * chord[:, None, 0]
    return float((np.abs(away) / np.hypot(chord[:, 0], chord[:, 1])[:, None]).max())


def _curve(radius: float, count: int, depth: float, bearings: Array) -> Array:
    distance = radius - depth / 2.0 + depth / 2.0 * np.cos(count * bearings)
    return np.column_stack((distance * np.cos(bearings), distance * np.sin(bearings)))


FORMULA = Formula(name="rosette", summary="A disc with a smooth wavy edge.", values=VALUES, draw=rosette)
