"""Where flat faces lie over one another in the picture, and which of two is nearer: for all pairs of faces at once.

What two convex polygons share is bounded by the parts of the edges of each that lie in the other. Each such part is cut
out by half-planes (Cyrus and Beck, 1978); the shared area follows from its boundary by Green's theorem, and a depth,
which is linear over the picture, is least and greatest at the ends of those parts.
"""

from __future__ import annotations

from dataclasses import dataclass
from enum import IntEnum

import numpy as np
from numpy.typing import NDArray

from foldproof.drawing.rings import Array, Index, Rings, cross, rings_at, spread, sums, totals, without_straight_corners

# Corners lie on a grid of 1e-6 mm: lines that should be one may be this far apart, in mm on paper.
ALIKE_MM = 3e-6
SHARPEST = 0.05  # cosine and 1 of the angle between the edges of a corner up to which it stays sharp: 18 degrees
FLAT_SLOPE = 1e-12  # of an edge against a half-plane, in mm: beneath it the two run alike, and nothing is divided by it


class Seen(IntEnum):
    """What is known of two faces, the first and the second in order."""

    APART = 0  # they share nothing wider than a sliver
    SECOND = 1  # the second lies before the first, or touches it, wherever they share something
    FIRST = 2  # the first lies before the second
    BOTH = 3  # part of each lies before the other, or it has to be looked at more closely


@dataclass(frozen=True, slots=True, kw_only=True)
class Faces:
    """Faces as polygons in the picture: twice their area (with its sign), which are convex, and planes (faces, 3).

    ``normals`` (corners, 2) are of unit length and point into the polygon, one for each edge.
    """

    rings: Rings
    double_areas: Array
    convex: NDArray[np.bool_]
    planes: Array
    normals: Array


@dataclass(frozen=True, slots=True, kw_only=True)
class Pairs:
    """Pairs of faces that lie over one another, by number, ``first`` before ``second``.

    ``shared_mm2`` is about the area they share: for faces that are not both convex, the least of both areas.
    ``in_second`` and ``in_first`` tell of convex ones that the other one lies wholly in it.
    """

    first: Index
    second: Index
    seen: Index
    shared_mm2: Array
    in_second: NDArray[np.bool_]
    in_first: NDArray[np.bool_]


def faces_at(outlines: Rings, planes: Array) -> Faces:
    """Polygons, simple and wider than a sliver, with the (a, b, c) of their depths.

    Corners on a straight edge are left out: the half-plane of a short piece of an edge is off at the edge's far end.
    """
    rings = without_straight_corners(outlines, ALIKE_MM)
    edges = rings.edges
    lengths = np.hypot(edges[:, 0], edges[:, 1])
    double_areas = sums(cross(rings.points, rings.points[rings.nexts]), rings.starts)
    turned = np.repeat(np.sign(double_areas), rings.sizes)
    safe = np.where(lengths > 0.0, lengths, 1.0)
    normals = np.stack([-edges[:, 1], edges[:, 0]], axis=1) * (turned / safe)[:, None]
    # How far the next corner but one turns away: inwards at every corner of a convex polygon.
    inwards = np.einsum("ij,ij->i", normals, edges[rings.nexts])
    return Faces(
        rings=rings,
        double_areas=double_areas,
        convex=np.minimum.reduceat(inwards, rings.starts) >= -ALIKE_MM,
        planes=planes,
        normals=normals,
    )


def grown(faces: Faces, by_mm: float) -> Rings:
    """The polygons with their edges moved outwards by much less than any of them is long."""
    rings = faces.rings
    before = np.empty_like(faces.normals)
    before[rings.nexts] = faces.normals
    both = before + faces.normals
    # Two edges moved by the same length meet at the corner moved along the line between them.
    turn = np.maximum(1.0 + np.einsum("ij,ij->i", before, faces.normals), SHARPEST)
    return rings_at(rings.points - by_mm * both / turn[:, None], rings.sizes)


def pairs_of(faces: Faces, touch_mm: float, sliver_mm: float) -> Pairs:
    """All pairs that share more than a sliver; depths within ``touch_mm`` touch, and then the later face is before."""
    first, second = _with_boxes_over(faces.rings)
    leads = faces.planes[second] - faces.planes[first]
    doubles = np.minimum(np.abs(faces.double_areas[first]), np.abs(faces.double_areas[second]))
    seen = np.full(len(first), int(Seen.BOTH))
    wide, in_second, in_first = np.ones(len(first), bool), np.zeros(len(first), bool), np.zeros(len(first), bool)
    both = faces.convex[first] & faces.convex[second]
    if both.any():
        shared = _shared(faces, first[both], second[both], leads[both])
        seen[both] = _by_lead(shared.low, shared.high, touch_mm)
        doubles[both] = np.minimum(doubles[both], shared.doubles)
        wide[both] = shared.doubles > sliver_mm * shared.rims
        in_second[both], in_first[both] = shared.in_second, shared.in_first
    others = ~both
    if others.any():
        seen[others] = _by_corners(faces, first[others], second[others], leads[others], touch_mm)
    return Pairs(
        first=first[wide],
        second=second[wide],
        seen=seen[wide],
        shared_mm2=0.5 * doubles[wide],
        in_second=in_second[wide],
        in_first=in_first[wide],
    )


def _with_boxes_over(rings: Rings) -> tuple[Index, Index]:
    """Pairs, in order, whose bounding boxes share an area."""
    low = np.minimum.reduceat(rings.points, rings.starts)
    high = np.maximum.reduceat(rings.points, rings.starts)
    over = (low[:, None] < high[None] - ALIKE_MM).all(axis=2)
    first, second = np.nonzero(np.triu(over & over.T, 1))
    return first, second


def _by_lead(low: Array, high: Array, touch_mm: float) -> Index:
    """From how far the second lies before the first, at least and at most."""
    answer: Index = np.where(
        low >= -touch_mm, int(Seen.SECOND), np.where(high <= touch_mm, int(Seen.FIRST), int(Seen.BOTH))
    )
    return answer


def _by_corners(faces: Faces, first: Index, second: Index, leads: Array, touch_mm: float) -> Index:
    """From all corners of each: what holds for every corner of one of them holds where they share something."""
    lows, highs = [], []
    for mine in (first, second):
        run, corner = spread(faces.rings.starts[mine], faces.rings.sizes[mine])
        x, y = faces.rings.points[corner].T
        lead = leads[run, 0] * x + leads[run, 1] * y + leads[run, 2]
        begins = np.cumsum(faces.rings.sizes[mine]) - faces.rings.sizes[mine]
        lows.append(np.minimum.reduceat(lead, begins))
        highs.append(np.maximum.reduceat(lead, begins))
    low, high = np.maximum(*lows), np.minimum(*highs)
    answer: Index = np.where(
        low >= -touch_mm, int(Seen.SECOND), np.where(high < -touch_mm, int(Seen.FIRST), int(Seen.BOTH))
    )
    return answer


@dataclass(frozen=True, slots=True, kw_only=True)
class _Shared:
    """Of what convex pairs share: twice the area, the length of its rim, least and greatest lead of the second."""

    doubles: Array
    rims: Array
    low: Array
    high: Array
    in_second: NDArray[np.bool_]
    in_first: NDArray[np.bool_]


def _shared(faces: Faces, first: Index, second: Index, leads: Array) -> _Shared:
    count = len(first)
    one, other = _inside(faces, first, second, False), _inside(faces, second, first, True)
    pair = np.concatenate([one.pair, other.pair])
    starts, ends = np.concatenate([one.starts, other.starts]), np.concatenate([one.ends, other.ends])
    turned = np.concatenate([one.turned, other.turned])
    # Areas are taken round the middle of the rim: where only a line is shared, none comes of float noise.
    met = 2.0 * np.maximum(np.bincount(pair, minlength=count), 1)
    twice = starts + ends
    middles = np.stack([totals(x, pair, count) / met for x in twice.T], axis=1)
    a, b = starts - middles[pair], ends - middles[pair]
    low, high = np.full(count, np.inf), np.full(count, -np.inf)
    for x, y in (starts.T, ends.T):
        lead = leads[pair, 0] * x + leads[pair, 1] * y + leads[pair, 2]
        np.minimum.at(low, pair, lead)
        np.maximum.at(high, pair, lead)
    doubles, rims = totals(turned * cross(a, b), pair, count), totals(np.hypot(*(b - a).T), pair, count)
    return _Shared(doubles=doubles, rims=rims, low=low, high=high, in_second=one.whole, in_first=other.whole)


@dataclass(frozen=True, slots=True, kw_only=True)
class _Inside:
    """Parts of edges: pair, start, end, which way round they run. ``whole``, of each pair: all of it lies inside."""

    pair: Index
    starts: Array
    ends: Array
    turned: Array
    whole: NDArray[np.bool_]


def _inside(faces: Faces, mine: Index, other: Index, once: bool) -> _Inside:
    """The parts of the edges of each ``mine`` that lie in its ``other``.

    ``once`` leaves out edges that lie on an edge of the other with both insides on one side: those are the other's.
    """
    rings = faces.rings
    pair, edge = spread(rings.starts[mine], rings.sizes[mine])
    run, plane = spread(rings.starts[other[pair]], rings.sizes[other[pair]])
    begins = np.cumsum(rings.sizes[other[pair]]) - rings.sizes[other[pair]]
    along = rings.edges[edge]
    normals = faces.normals[plane]
    off = np.einsum("ij,ij->i", normals, rings.points[edge][run] - rings.points[plane])
    slope = np.einsum("ij,ij->i", normals, along[run])
    level = np.abs(slope) < FLAT_SLOPE
    share = -(off + ALIKE_MM) / np.where(level, 1.0, slope)
    outside = level & (off < -ALIKE_MM)
    enters = np.where(level | (slope < 0.0), np.where(outside, np.inf, -np.inf), share)
    leaves = np.where(level | (slope > 0.0), np.inf, share)
    since = np.maximum(np.maximum.reduceat(enters, begins), 0.0)
    until = np.minimum(np.minimum.reduceat(leaves, begins), 1.0)
    kept = until > since
    if once:
        alike = (np.abs(off) <= ALIKE_MM) & (np.abs(off + slope) <= ALIKE_MM)
        alike &= np.einsum("ij,ij->i", normals, faces.normals[edge][run]) > 0.0
        kept &= ~np.logical_or.reduceat(alike, begins)
    corner_in = np.minimum.reduceat(off, begins) >= -ALIKE_MM
    whole = np.logical_and.reduceat(corner_in, np.cumsum(rings.sizes[mine]) - rings.sizes[mine])
    pair, edge, along = pair[kept], edge[kept], along[kept]
    start = rings.points[edge]
    return _Inside(
        pair=pair,
        starts=start + since[kept, None] * along,
        ends=start + until[kept, None] * along,
        turned=np.sign(faces.double_areas)[mine[pair]],
        whole=whole,
    )
