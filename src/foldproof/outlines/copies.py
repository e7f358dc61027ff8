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
FINE_MM = CHORD_ERROR_MM / 2.0  # to which the mean is simplified
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
        mean = mean[simplified_line(mean, FINE_MM)]
        return _without_straight_joints(mean[:-1], fold, (0,))
    span = math.pi / fold
    mean = _between_rays(placed(mean, turn_rad=-axes[0]), span)
    mean = mean[simplified_line(mean, FINE_MM)]
    both = np.concatenate((mean, mirrored(mean[-2:0:-1], span)))
    return placed(_without_straight_joints(both, fold, (0, len(mean) - 1)), turn_rad=axes[0])


def _part_of_one_turn(about: Array, fold: int) -> Array:
    """What of the outline is repeated in turns, from its farthest point."""
    first = int(np.argmax(np.hypot(*about.T)))
    after = placed(about[first : first + 1], turn_rad=math.tau / fold)
    return part_of(about, float(first), float(nearest_places(after, about)[0]))


def _part_between_axes(about: Array, axis: float, fold: int) -> Array:
    """What of the outline lies between a mirror axis and the next one, anticlockwise.

    A line that mirrors an outline is crossed by it twice, since only places on the line are their own mirror images:
    on both sides of the middle, or on one side if the middle lies in the hollow of a crescent.
    """
    start, opposite = _ends_along(about, axis)
    end = opposite if fold == 1 else _ends_along(about, axis + math.pi / fold)[0]
    return part_of(about, start, end)


def _ends_along(about: Array, bearing: float) -> tuple[float, float]:
    """The places where an outline crosses a line through the middle: farthest along its bearing, and least far."""
    x, y = placed(about, turn_rad=-bearing).T
    after_x, after_y = np.roll(x, -1), np.roll(y, -1)
    edges = np.nonzero((y > 0.0) != (after_y > 0.0))[0]
    share = y[edges] / (y[edges] - after_y[edges])
    out = x[edges] + share * (after_x[edges] - x[edges])
    first, last = int(np.argmax(out)), int(np.argmin(out))
    return float(edges[first] + share[first]), float(edges[last] + share[last])


def _between_rays(line: Array, span: float) -> Array:
    """A line from the ray along +x to the one at ``span``: its ends put on them, and what strays over left out."""
    along = np.array([math.cos(span), math.sin(span)])
    start, end = np.array([line[0, 0], 0.0]), (line[-1] @ along) * along
    before_end = math.sin(span) * line[:, 0] - math.cos(span) * line[:, 1]
    inside = (line[:, 1] > SAME_MM) & (before_end > SAME_MM)
    for on_axis in (start, end):  # a corner on the axis is not drawn again beside it
        inside &= np.hypot(*(line - on_axis).T) > FINE_MM
    return np.concatenate(([start], line[1:-1][inside[1:-1]], [end]))


def _without_straight_joints(part: Array, fold: int, joints: tuple[int, ...]) -> Array:
    """The outline of a part that is repeated, without those of its joints that are on a straight edge."""
    outline = repeated(part, fold)
    before, after = np.roll(outline, 1, axis=0), after_each(outline)
    chord, offset = after - before, outline - before
    off = np.abs(chord[:, 0] * offset[:, 1] - chord[:, 1] * offset[:, 0])
    straight = off <= STRAIGHT_MM * np.hypot(*chord.T)
    is_joint = np.isin(np.arange(len(outline)) % len(part), joints)
    kept: Array = outline[~(straight & is_joint)]
    return kept
