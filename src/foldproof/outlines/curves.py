"""Points along arcs, near enough to the true curve for any cutter."""

from __future__ import annotations

import math

import numpy as np

from foldproof.geometry.plane import Array, Point

CHORD_ERROR_MM = 0.02  # a tenth of the thinnest card: no eye and no blade finds it


def arc(
    centre: Point, radius_mm: float, start_rad: float, sweep_rad: float, chord_error_mm: float, *, multiple: int = 2
) -> Array:
    """Points (n, 2) on a circular arc, its start and not its end, at equal turns.

    The number of steps is a multiple of ``multiple``, so that the arc's middle is among them; the chords keep
    within ``chord_error_mm`` of the arc: a step of angle a strays by radius x (1 - cos(a / 2)).
    """
    widest = 2.0 * math.acos(max(0.0, 1.0 - chord_error_mm / radius_mm))
    steps = multiple * math.ceil(abs(sweep_rad) / widest / multiple)
    bearings = start_rad + sweep_rad * np.arange(steps) / steps
    return np.column_stack((centre[0] + radius_mm * np.cos(bearings), centre[1] + radius_mm * np.sin(bearings)))


def repeated(points: Array, count: int) -> Array:
    """One part of an outline (n, 2), repeated at equal turns about the origin: (count x n, 2)."""
    bearings = 2.0 * math.pi * np.arange(count)[:, None] / count
    cosine, sine = np.cos(bearings), np.sin(bearings)
    x, y = points[:, 0], points[:, 1]
    return np.stack((cosine * x - sine * y, sine * x + cosine * y), axis=-1).reshape(-1, 2)
