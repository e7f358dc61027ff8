"""How much of a convex opening a lid still lies over while it turns on a pivot.

All angles at once, without a loop over them. In the lid's own frame only the normals of the opening's sides turn;
the distances of their lines from the pivot stay. Two facts make it quick and exact.

* A lid point at distance r from the pivot lies outside a side at distance h for one span of angles, as wide as
  2 acos(h / r). Which edges cross which sides at which angles follows from the ends of these spans.
* Green's theorem gives the common area as half the sum, along its boundary, of the cross product of place and
  step about the pivot. A stretch of a lid edge e from p, inside the opening from t0 to t1, gives
  (t1 - t0) (p x e). The stretch of a side inside the lid gives h times its length; along the side's line every
  lid edge crossed at s is left (+1) or entered (-1), and the length inside from 0 to L is the sum of these signs
  times s clipped to 0..L.
"""

from __future__ import annotations

from dataclasses import dataclass

import numpy as np
from numpy.typing import NDArray

from foldproof.geometry.outline import Flags, after_each, half_planes, wound_anticlockwise
from foldproof.geometry.plane import SAME_MM, Array, Point

Places = NDArray[np.intp]

FULL_TURN = 2.0 * np.pi


@dataclass(frozen=True, slots=True, kw_only=True)
class _Turning:
    """A lid about its pivot, and a convex opening whose sides turn backwards, at angles (m,) in rising order.

    ``points`` (2, n) and ``corners`` (k, 2) are measured from the pivot; ``normals`` (2, k, m) are the sides'
    outward normals in the lid's frame at each angle; ``distances`` and ``lengths`` (k,) belong to the sides.
    """

    points: Array
    corners: Array
    normals: Array
    distances: Array
    lengths: Array


@dataclass(frozen=True, slots=True, kw_only=True)
class _Spans:
    """At which angles, by number, a lid point is outside a side; each array is (k, n).

    It is outside at angle x when ``wraps`` differs from exactly one of ``first <= x`` and ``last <= x``. This one
    answer is used everywhere, so a point on a line neither counts twice nor gets lost, however it was rounded.
    """

    first: Places
    last: Places
    wraps: Flags

    def outside(self, angle: Places, side: Places | slice, point: Places) -> Flags:
        """Whether points (c,) are outside sides at angles (c,): (c,), or (k, c) for a slice of all sides."""
        where = (side, point)
        outside: Flags = self.wraps[where] ^ (self.first[where] <= angle) ^ (self.last[where] <= angle)
        return outside


@dataclass(frozen=True, slots=True, kw_only=True)
class _Cuts:
    """Where lid edges meet the lines of sides, each array (c,): ``along`` in mm from the side's start.

    ``signs``: walking along the side's line, the lid is left there (+1) or entered (-1).
    """

    angle: Places
    side: Places
    edge: Places
    along: Array
    signs: Array


def overlap_areas(lid: Array, convex: Array, pivot: Point, angles_rad: Array) -> Array:
    """Common area in mm2 of the lid turned anticlockwise about the pivot, and a fixed convex outline.

    ``lid`` (n, 2) is a simple outline and ``convex`` (k, 2) a convex one, each either way round; ``angles_rad``
    (m,) in any order; gives (m,). Exact up to rounding.
    """
    angles = _in_one_turn(angles_rad)
    order = np.argsort(angles, kind="stable")
    turning = _turning(lid, convex, pivot, angles[order])
    spans = _spans(turning, angles[order])
    cuts = _cuts(turning, spans, *_crossings(spans, len(angles)))
    # Edges that meet a side's line beyond its ends stay outside the opening.
    meets = (cuts.along >= -SAME_MM) & (cuts.along <= turning.lengths[cuts.side] + SAME_MM)
    cut_edges = np.unique(cuts.angle[meets] * turning.points.shape[1] + cuts.edge[meets])
    areas = np.empty(len(angles))
    areas[order] = 0.5 * (_lid_edges(turning, spans, cut_edges) + _opening_sides(turning, cuts))
    return areas


def sweep_radius(lid: Array, pivot: Point) -> float:
    """How far from the pivot the lid (n, 2) reaches as it turns, in mm: the radius of the place to keep free."""
    return float(np.hypot(lid[:, 0] - pivot[0], lid[:, 1] - pivot[1]).max())


def _turning(lid: Array, convex: Array, pivot: Point, angles: Array) -> _Turning:
    corners = wound_anticlockwise(convex) - np.asarray(pivot)
    ahead = after_each(corners) - corners
    corners = corners[np.hypot(ahead[:, 0], ahead[:, 1]) > SAME_MM]
    ahead = after_each(corners) - corners
    upright, distances = half_planes(corners)
    cosine, sine = np.cos(angles), np.sin(angles)
    x, y = upright[:, :1], upright[:, 1:]
    return _Turning(
        points=np.ascontiguousarray((wound_anticlockwise(lid) - np.asarray(pivot)).T),
        corners=corners,
        normals=np.array((cosine * x + sine * y, cosine * y - sine * x)),
        distances=distances,
        lengths=np.hypot(ahead[:, 0], ahead[:, 1]),
    )


def _in_one_turn(angles_rad: Array) -> Array:
    """Angles from 0 to below a full turn; the remainder of a tiny negative angle would round to a full one."""
    angles = np.mod(angles_rad, FULL_TURN)
    return np.where(angles < FULL_TURN, angles, 0.0)


def _spans(turning: _Turning, angles: Array) -> _Spans:
    """A point at bearing b and distance r is outside while cos(bearing of the normal - b) > h / r."""
    x, y = turning.points
    radius = np.hypot(x, y)
    distance = np.broadcast_to(turning.distances[:, None], (len(turning.distances), len(radius)))
    # The pivot itself is outside all the time (h < 0) or never; elsewhere the ratio settles it.
    ratio = np.where(distance < 0.0, -np.inf, np.inf)
    np.divide(distance, radius, out=ratio, where=radius > 0.0)
    half = np.arccos(np.clip(ratio, -1.0, 1.0))
    ahead = after_each(turning.corners) - turning.corners
    bearing = np.arctan2(-ahead[:, 0], ahead[:, 1])[:, None] - np.arctan2(y, x)
    start = _in_one_turn(bearing - half)
    twice = np.concatenate((angles, angles + FULL_TURN))
    first = np.searchsorted(twice, start, side="right")
    last = np.searchsorted(twice, start + 2.0 * half, side="left")
    count = len(angles)
    last = np.where(ratio < -1.0, first + count, np.clip(last, first, first + count))
    wraps = last > count
    return _Spans(first=first, last=np.where(wraps, last - count, last), wraps=wraps)


def _crossings(spans: _Spans, count: int) -> tuple[Places, Places, Places]:
    """Every angle, side and edge where the edge's ends are on different sides of the side's line: three of (c,).

    An edge is cut where the spans of its ends differ, so between every second of their sorted ends.
    """
    ends = np.zeros((*spans.first.shape, 6), dtype=np.intp)
    after = np.append(np.arange(1, ends.shape[1]), 0)
    ends[:, :, 0], ends[:, :, 1] = spans.first, spans.last
    ends[:, :, 2], ends[:, :, 3] = spans.first[:, after], spans.last[:, after]
    ends[:, :, 5] = np.where(spans.wraps != spans.wraps[:, after], count, 0)
    ends.sort(axis=2)
    starts, lengths = ends[:, :, ::2], ends[:, :, 1::2] - ends[:, :, ::2]
    side, edge, which = np.nonzero(lengths)
    lengths, starts = lengths[side, edge, which], starts[side, edge, which]
    before = np.cumsum(lengths) - lengths
    angle = np.arange(lengths.sum()) + np.repeat(starts - before, lengths)
    return angle, np.repeat(side, lengths), np.repeat(edge, lengths)


def _cuts(turning: _Turning, spans: _Spans, angle: Places, side: Places, edge: Places) -> _Cuts:
    x, y = turning.points
    after = np.where(edge + 1 < len(x), edge + 1, 0)
    normal_x, normal_y = turning.normals[0, side, angle], turning.normals[1, side, angle]
    distance, start_x, start_y, end_x, end_y = turning.distances[side], x[edge], y[edge], x[after], y[after]
    shares = _shares(
        normal_x * start_x + normal_y * start_y - distance,
        normal_x * end_x + normal_y * end_y - distance,
    )
    at_x = start_x + shares * (end_x - start_x)
    at_y = start_y + shares * (end_y - start_y)
    # A side runs a quarter turn anticlockwise from its normal. Turning it about the pivot leaves its start where
    # it is along its own line.
    ahead = after_each(turning.corners) - turning.corners
    start = np.einsum("ij,ij->i", ahead, turning.corners) / turning.lengths
    return _Cuts(
        angle=angle,
        side=side,
        edge=edge,
        along=normal_x * at_y - normal_y * at_x - start[side],
        signs=np.where(spans.outside(angle, side, edge), 1.0, -1.0),
    )


def _shares(start: Array, end: Array) -> Array:
    """How far along an edge its signed distance from a line is nought; on the line all along, its start will do."""
    fall = start - end
    shares: Array = np.divide(start, fall, out=np.zeros_like(start), where=fall != 0.0)
    return np.minimum(np.maximum(shares, 0.0), 1.0)


def _lid_edges(turning: _Turning, spans: _Spans, cuts: Places) -> Array:
    """The lid's edges inside the opening, each its stretch inside times its cross product: (m,).

    ``cuts`` (c,) are the pairs of angle and edge where the opening's outline cuts the edge, as angle x n + edge,
    rising. A run of edges between two of them is wholly inside or outside: the sum of its cross products, or 0.
    """
    x, y = turning.points
    count, total = len(x), turning.normals.shape[2]
    crosses = x * after_each(y) - y * after_each(x)
    before = np.concatenate(([0.0], np.cumsum(crosses)))
    angle, edge = np.divmod(cuts, count)
    after = np.where(edge + 1 < count, edge + 1, 0)
    every = slice(None)
    normal_x, normal_y = turning.normals[0][:, angle], turning.normals[1][:, angle]
    start = normal_x * x[edge] + normal_y * y[edge] - turning.distances[:, None]
    end = normal_x * x[after] + normal_y * y[after] - turning.distances[:, None]
    from_outside, to_outside = spans.outside(angle, every, edge), spans.outside(angle, every, after)
    shares = _shares(start, end)
    enters = np.where(from_outside, np.where(to_outside, 1.0, shares), 0.0).max(axis=0)
    leaves = np.where(to_outside & ~from_outside, shares, 1.0).min(axis=0)
    inside = np.maximum(leaves - enters, 0.0) * crosses[edge]

    if len(cuts):
        last = np.append(angle[1:] != angle[:-1], True)
        first = np.insert(last[:-1], 0, True)
        following = np.append(before[edge[1:]], 0.0)
        following[last] = before[edge[first]] + before[-1]
        inside += np.where(to_outside.any(axis=0), 0.0, following - before[edge + 1])
    sums = _summed(angle, inside, total)
    uncut = np.flatnonzero(np.bincount(angle, minlength=total) == 0)
    away = spans.outside(uncut, every, np.zeros_like(uncut)).any(axis=0)
    sums[uncut] = np.where(away, 0.0, before[-1])
    return sums


def _opening_sides(turning: _Turning, cuts: _Cuts) -> Array:
    """The opening's sides inside the lid, each its length inside times its line's distance from the pivot: (m,)."""
    inside = cuts.signs * np.clip(cuts.along, 0.0, turning.lengths[cuts.side])
    return _summed(cuts.angle, inside * turning.distances[cuts.side], turning.normals.shape[2])


def _summed(places: Places, values: Array, count: int) -> Array:
    """The sum of the values (c,) that belong to each place: (count,)."""
    return np.asarray(np.bincount(places, weights=values, minlength=count), dtype=np.float64)
