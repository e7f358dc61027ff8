"""Copies of an outline about its middle at the origin, turned and mirrored, and the mean of them."""

from __future__ import annotations

import math
from collections.abc import Iterable

import numpy as np

from foldproof.geometry.outline import after_each, placed
from foldproof.geometry.plane import SAME_MM, Array
from foldproof.outlines.curves import CHORD_ERROR_MM, repeated
from foldproof.outlines.simplifying import simplified_line
from foldproof.outlines.walking import at_places, nearest_places, part_of, with_steps

STEP_MM = 1.0  # between places at which the mean is taken: a straight edge may be bowed in a copy
STRAIGHT_MM = 1e-4  # off a straight line by less than an axis may be: no corner


def turned(points: Array, fold: int) -> Iterable[Array]:
    """The points in each turn of 360 degrees / fold but the first."""
    return (placed(points, turn_rad=math.tau * turn / fold) for turn in range(1, fold))


def mirrored(points: Array, axis_rad: float) -> Array:
    """Points (n, 2) mirrored in the line through the origin with that direction."""
    cosine, sine = math.cos(2.0 * axis_rad), math.sin(2.0 * axis_rad)
    found: Array = points @ np.array([[cosine, sine], [sine, -cosine]])
    return found


def mean_of_copies(about: Array, fold: int, axes: tuple[float, ...]) -> Array:
    """The mean of an outline (n, 2) and its copies: all turns of 360 degrees / fold, mirrored in all axes.

    The part between two mirror axes, or within one turn, is moved to the mean of the places nearest to it on all
    copies; then that part is repeated, so the symmetry is exact up to rounding.
    """
    copies = [about, *turned(about, fold), *(mirrored(about, axis) for axis in axes)]
    part = _part_between_axes(about, axes[0], fold) if axes else _part_of_one_turn(about, fold)
    part = with_steps(part, STEP_MM)
    mean = np.mean([at_places(copy, nearest_places(part, copy)) for copy in copies], axis=0)
    if not axes:
        mean = mean[simplified_line(mean, CHORD_ERROR_MM / 2.0)]
        return _without_straight_points(repeated(mean[:-1], fold))
    span = math.pi / fold
    mean = _between_rays(placed(mean, turn_rad=-axes[0]), span)
    mean = mean[simplified_line(mean, CHORD_ERROR_MM / 2.0)]
    both = np.concatenate((mean, mirrored(mean[-2:0:-1], span)))
    return placed(_without_straight_points(repeated(both, fold)), turn_rad=axes[0])


def _part_of_one_turn(about: Array, fold: int) -> Array:
    """What of the outline is repeated in turns, from its farthest point."""
    first = int(np.argmax(np.hypot(*about.T)))
    after = placed(about[first : first + 1], turn_rad=math.tau / fold)
    return part_of(about, float(first), float(nearest_places(after, about)[0]))


def _part_between_axes(about: Array, axis: float, fold: int) -> Array:
    """What of the outline lies between a mirror axis and the next one.

    Either axis is crossed once on its way out, since only places on it are their own mirror images.
    """
    return part_of(about, _on_the_ray(about, axis), _on_the_ray(about, axis + math.pi / fold))


def _on_the_ray(about: Array, bearing: float) -> float:
    """The place where an outline crosses a ray from the middle; the farthest, if a ragged edge crosses it again."""
    x, y = placed(about, turn_rad=-bearing).T
    after_x, after_y = np.roll(x, -1), np.roll(y, -1)
    edges = np.nonzero((y > 0.0) != (after_y > 0.0))[0]
    share = y[edges] / (y[edges] - after_y[edges])
    out = x[edges] + share * (after_x[edges] - x[edges])
    best = int(np.argmax(out))
    return float(edges[best] + share[best])


def _between_rays(line: Array, span: float) -> Array:
    """A line from the ray along +x to the one at ``span``: its ends put on them, and what strays over left out."""
    start = np.array([np.hypot(*line[0]), 0.0])
    end = np.hypot(*line[-1]) * np.array([math.cos(span), math.sin(span)])
    before_end = math.sin(span) * line[:, 0] - math.cos(span) * line[:, 1]
    inside = (line[:, 1] > SAME_MM) & (before_end > SAME_MM)
    return np.concatenate(([start], line[1:-1][inside[1:-1]], [end]))


def _without_straight_points(outline: Array) -> Array:
    """Without points on a straight way from the one before to the one after, such as where an edge crosses an axis."""
    before, after = np.roll(outline, 1, axis=0), after_each(outline)
    chord, offset = after - before, outline - before
    off = np.abs(chord[:, 0] * offset[:, 1] - chord[:, 1] * offset[:, 0])
    kept: Array = outline[off > STRAIGHT_MM * np.hypot(*chord.T)]
    return kept
