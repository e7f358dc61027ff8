"""Curves as points no farther from them than a tolerance: cubics and arcs of ellipses, in mm."""

from __future__ import annotations

import math

import numpy as np

from foldproof.geometry.plane import Array, Point


def cubic_points(start: Point, one: Point, two: Point, end: Point, tolerance_mm: float) -> Array:
    """Points (n, 2) on a cubic Bezier curve, its start left out and its end among them.

    A chord over 1 / n of the parameter strays by at most max |B''| / (8 n^2), and |B''| is at most six times the
    larger of the second differences of the control points.
    """
    control = np.array([start, one, two, end])
    bend = np.hypot(*np.diff(control, n=2, axis=0).T).max()
    steps = max(1, math.ceil(math.sqrt(6.0 * bend / (8.0 * tolerance_mm))))
    t = (np.arange(1, steps + 1) / steps)[:, None]
    s = 1.0 - t
    points: Array = s**3 * control[0] + 3.0 * s**2 * t * control[1] + 3.0 * s * t**2 * control[2] + t**3 * control[3]
    points[-1] = control[3]
    return points


def ellipse_points(
    middle: Point, one: Point, other: Point, start_rad: float, sweep_rad: float, tolerance_mm: float
) -> Array:
    """Points (n, 2) on middle + one cos(a) + other sin(a), a from start over a sweep; start left out, end among them.

    ``one`` and ``other`` are half diameters, each along the tangent at the end of the other. Seen along its longest
    half diameter r the ellipse is a circle pressed flat, so a chord over a step a strays by at most r (1 - cos(a / 2)).
    """
    longest = float(np.linalg.norm(np.array([one, other]), ord=2))
    # 1 - cos(a / 2) is 2 sin^2(a / 4), which keeps its figures on the largest circles.
    widest = 4.0 * math.asin(math.sqrt(min(0.5, tolerance_mm / (2.0 * longest)))) if longest > 0.0 else math.pi
    steps = max(1, math.ceil(abs(sweep_rad) / widest))
    a = (start_rad + sweep_rad * np.arange(1, steps + 1) / steps)[:, None]
    points: Array = np.asarray(middle) + np.cos(a) * np.asarray(one) + np.sin(a) * np.asarray(other)
    return points
