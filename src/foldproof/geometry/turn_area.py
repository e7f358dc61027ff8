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

    def outside(self, angle: Places, place: Places) -> Flags:
        """Whether points are outside sides at angles (c,); ``place`` (c,) or (k, c) is side x n + point."""
        begun, ended = self.first.take(place) <= angle, self.last.take(place) <= angle
        outside: Flags = self.wraps.take(place) ^ begun ^ ended
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
    meets = (cuts.along >= -SAME_MM) & (cuts.along <= turning.lengths.take(cuts.side) + SAME_MM)
    cut_edges = np.sort((cuts.angle * turning.points.shape[1] + cuts.edge)[meets])
    repeated = np.flatnonzero(cut_edges[1:] == cut_edges[:-1])
    cut_edges = np.delete(cut_edges, repeated) if len(repeated) else cut_edges
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

    An edge is cut where the spans of its ends differ: between every second of their ends, put in order.
    """
    low, high = np.minimum(spans.first, spans.last), np.maximum(spans.first, spans.last)
    after = np.append(np.arange(1, low.shape[1]), 0)
    later_low, later_high = low.take(after, axis=1), high.take(after, axis=1)
    first, last = np.minimum(low, later_low), np.maximum(high, later_high)
    inner, other = np.maximum(low, later_low), np.minimum(high, later_high)
    second, third = np.minimum(inner, other), np.maximum(inner, other)
    # With just one of the two outside before the first end, the spaces between are cut instead.
    apart = spans.wraps != spans.wraps.take(after, axis=1)
    starts = np.array((np.zeros_like(first), np.where(apart, second, first), np.where(apart, last, third)))
    ends = np.array((np.where(apart, first, 0), np.where(apart, third, second), np.where(apart, count, last)))
    lengths = ends - starts
    which, side, edge = np.nonzero(lengths)
    lengths, starts = lengths[which, side, edge], starts[which, side, edge]
    before = np.cumsum(lengths) - lengths
    angle = np.arange(lengths.sum()) + np.repeat(starts - before, lengths)
    return angle, np.repeat(side, lengths), np.repeat(edge, lengths)


def _cuts(turning: _Turning, spans: _Spans, angle: Places, side: Places, edge: Places) -> _Cuts:
    x, y = turning.points
    after = np.where(edge + 1 < len(x), edge + 1, 0)
    normal_place = side * turning.normals.shape[2] + angle
    normal_x, normal_y = turning.normals[0].take(normal_place), turning.normals[1].take(normal_place)
    distance = turning.distances.take(side)
    start_x, start_y, end_x, end_y = x.take(edge), y.take(edge), x.take(after), y.take(after)
    shares = _shares(
        normal_x * start_x + normal_y * start_y - distance,
        normal_x * end_x + normal_y * end_y - distance,
    )
    at_x = start_x + shares * (end_x - start_x)
    at_y = start_y + shares * (end_y - start_y)
    # A side runs a quarter turn anticlockwise from its normal. Turning it about the pivot leaves its start where
    # it is along its own line.
    ahead = after_each(turning.corners) - turning.corners
    start = (ahead * turning.corners).sum(axis=1) / turning.lengths
    return _Cuts(
        angle=angle,
        side=side,
        edge=edge,
        along=normal_x * at_y - normal_y * at_x - start.take(side),
        signs=np.where(spans.outside(angle, side * len(x) + edge), 1.0, -1.0),
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
    side_starts = count * np.arange(len(turning.distances))[:, None]  # places of the sides' first points
    normal_x, normal_y = turning.normals[0].take(angle, axis=1), turning.normals[1].take(angle, axis=1)
    start = normal_x * x.take(edge) + normal_y * y.take(edge) - turning.distances[:, None]
    end = normal_x * x.take(after) + normal_y * y.take(after) - turning.distances[:, None]
    from_outside, to_outside = spans.outside(angle, side_starts + edge), spans.outside(angle, side_starts + after)
    shares = _shares(start, end)
    enters = np.where(from_outside, shares, 0.0).max(axis=0)
    leaves = np.where(to_outside, shares, 1.0).min(axis=0)
    missed = (leaves <= enters) | (from_outside & to_outside).any(axis=0)
    inside = np.where(missed, 0.0, (leaves - enters) * crosses.take(edge))

    if len(cuts):
        firsts = np.flatnonzero(np.concatenate(([True], angle[1:] != angle[:-1])))
        lasts = np.concatenate((firsts[1:], [len(cuts)])) - 1
        following = before.take(np.concatenate((edge[1:], edge[:1])))
        following[lasts] = before.take(edge.take(firsts)) + before[-1]  # on round to the angle's first cut
        inside += np.where(to_outside.any(axis=0), 0.0, following - before.take(edge + 1))
    sums = _summed(angle, inside, total)
    uncut = np.flatnonzero(np.bincount(angle, minlength=total) == 0)
    away = spans.outside(uncut, side_starts + np.zeros_like(uncut)).any(axis=0)
    sums[uncut] = np.where(away, 0.0, before[-1])
    return sums


def _opening_sides(turning: _Turning, cuts: _Cuts) -> Array:
    """The opening's sides inside the lid, each its length inside times its line's distance from the pivot: (m,)."""
    inside = cuts.signs * np.minimum(np.maximum(cuts.along, 0.0), turning.lengths.take(cuts.side))
    return _summed(cuts.angle, inside * turning.distances.take(cuts.side), turning.normals.shape[2])


def _summed(places: Places, values: Array, count: int) -> Array:
    """The sum of the values (c,) that belong to each place: (count,)."""
    return np.asarray(np.bincount(places, weights=values, minlength=count), dtype=np.float64)
