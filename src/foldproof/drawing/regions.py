"""What is seen of flat faces in space, as exact regions of the picture.

Without perspective the depth of a flat face is a x + b y + c over the picture, so where one face lies before
another is a half-plane of their overlap. Every face's visible region follows by exact cuts, with no sorting:
crossing faces, layers and faces that lock each other come right. All lengths are mm on paper unless said.
"""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass

import numpy as np
import shapely
from shapely.geometry import Polygon
from shapely.geometry.base import BaseGeometry

from foldproof.drawing import overlaps
from foldproof.drawing.areas import (
    NOTHING,
    SLIVER_MM,
    all_solid,
    grown,
    is_sliver,
    on_grid,
    only_areas,
    polygon_on_grid,
    solid_parts,
)
from foldproof.drawing.clipping import within
from foldproof.drawing.overlaps import Faces, Pairs, Seen, faces_at, pairs_of
from foldproof.drawing.panels import Panel
from foldproof.drawing.rings import polygons_of, rings_at
from foldproof.drawing.segments import Line

# Slots and cracks up to twice this do not break the silhouette: between two lines of its weight (0.48 mm) they
# would close to one thick bar. Their sides are drawn as edges instead.
CRACK_MM = 0.3
# A line on the rim of a region belongs to it: coarser than float noise, finer than any line.
RIM_MM = 0.005
# What lies before a face hides this much more of it. Without it, edges that two faces share up to float noise and
# the grid of their corners leave spikes without width, along which hidden lines show.
COVER_MM = 5e-6


@dataclass(frozen=True, slots=True, kw_only=True)
class Crossing:
    """Where two faces pass through one another: a line seen where both are."""

    line: Line
    first: int
    second: int


@dataclass(frozen=True, slots=True, kw_only=True)
class Sights:
    """What is seen of each panel, and the lines where panels cross; ``inner`` panels lie in another's outline."""

    regions: tuple[BaseGeometry, ...]
    crossings: tuple[Crossing, ...]
    inner: frozenset[int]


def sights_of(panels: Sequence[Panel], touch_mm: float) -> Sights:
    """What is seen. Depths within ``touch_mm`` touch."""
    numbers = [number for number, panel in enumerate(panels) if not panel.shape.is_empty]
    regions = [NOTHING] * len(panels)
    if not numbers:
        return Sights(regions=tuple(regions), crossings=(), inner=frozenset())
    shaped = [panels[number] for number in numbers]
    outlines = _faces(shaped)
    pairs = pairs_of(outlines, touch_mm, SLIVER_MM)
    wider = polygons_of(overlaps.grown(outlines, COVER_MM))
    behind, covers, crossings = _hidden(shaped, wider, pairs, touch_mm)
    seen = [place for place in range(len(shaped)) if place not in behind]
    left = _left([shaped[place].shape for place in seen], [covers[place] for place in seen])
    for place, region in zip(seen, left, strict=True):
        regions[numbers[place]] = region
    return Sights(
        regions=tuple(regions),
        crossings=tuple(
            Crossing(line=each.line, first=numbers[each.first], second=numbers[each.second]) for each in crossings
        ),
        inner=frozenset(
            numbers[n] for n in (*pairs.first[pairs.in_second], *pairs.second[pairs.in_first & ~pairs.in_second])
        ),
    )


def _faces(panels: Sequence[Panel]) -> Faces:
    shapes = [panel.shape for panel in panels]
    points, owners = shapely.get_coordinates(shapes, return_index=True)
    closing = np.append(owners[1:] != owners[:-1], True)  # a ring ends where it begins
    sizes = np.bincount(owners, minlength=len(shapes)) - 1
    return faces_at(rings_at(points[~closing], sizes), np.array([panel.plane for panel in panels]))


Covers = list[list[BaseGeometry]]


def _hidden(
    panels: Sequence[Panel], wider: Sequence[BaseGeometry], pairs: Pairs, touch_mm: float
) -> tuple[set[int], Covers, list[Crossing]]:
    """The panels that lie wholly behind another one; of each panel what lies before it, largest first; crossings.

    ``wider`` are the panels' shapes as they hide others.
    """
    whole: list[list[tuple[float, int]]] = [[] for _ in panels]
    covers: Covers = [[] for _ in panels]
    crossings: list[Crossing] = []
    columns = (pairs.first, pairs.second, pairs.seen, pairs.shared_mm2, pairs.in_second, pairs.in_first)
    behind: set[int] = set()
    within_others: list[set[int]] = [set() for _ in panels]
    for first, second, seen, shared_mm2, in_second, in_first in zip(*(c.tolist() for c in columns), strict=True):
        if in_second:
            within_others[first].add(second)
        elif in_first:
            within_others[second].add(first)
        if seen == Seen.BOTH:
            _look_closely(panels, first, second, touch_mm, covers, crossings)
            continue
        lower, upper, covered = (first, second, in_second) if seen == Seen.SECOND else (second, first, in_first)
        whole[lower].append((-shared_mm2, upper))
        if covered:
            behind.add(lower)
    for place, own in enumerate(whole):
        uppers = {upper for _, upper in own}
        telling = [wider[upper] for _, upper in sorted(own) if not within_others[upper] & uppers]
        covers[place] = [*telling, *grown(covers[place], COVER_MM)] if covers[place] else telling
    return behind, covers, crossings


def _look_closely(
    panels: Sequence[Panel], first: int, second: int, touch_mm: float, covers: Covers, crossings: list[Crossing]
) -> None:
    """Two panels part by part of what they share, parted where they cross."""
    p, q = panels[first], panels[second]
    for part in shapely.get_parts(only_areas(shapely.intersection(p.shape, q.shape))):
        if is_sliver(part):
            continue
        lead = [q.depth_at(x, y) - p.depth_at(x, y) for x, y in shapely.get_coordinates(part).tolist()]
        if min(lead) >= -touch_mm:  # in front, or touching all over: then the later face is the upper one
            covers[first].append(part)
        elif max(lead) <= touch_mm:
            covers[second].append(part)
        else:
            behind, before, between = _split(part, p, q)
            covers[first].append(before)
            covers[second].append(behind)
            crossings.extend(
                Crossing(line=line, first=first, second=second) for line in within(between, part)
            )


def _left(shapes: Sequence[BaseGeometry], covers: Covers) -> list[BaseGeometry]:
    """What is left of each area without what lies before it: one cover off each, then the next off each."""
    left = np.array(shapes, dtype=object)
    rows = np.arange(len(left))
    for turn in range(max((len(own) for own in covers), default=0)):
        rows = np.array([row for row in rows.tolist() if turn < len(covers[row]) and not left[row].is_empty], dtype=int)
        lying = [covers[row][turn] for row in rows.tolist()]
        left[rows] = [only_areas(area) for area in shapely.difference(left[rows], lying)]
    return all_solid(left.tolist())


def _split(part: BaseGeometry, p: Panel, q: Panel) -> tuple[BaseGeometry, BaseGeometry, Line]:
    """Where q lies behind p, where before it, and the line between, of an overlap that has both."""
    a, b, c = (q.plane[axis] - p.plane[axis] for axis in range(3))
    low_x, low_y, high_x, high_y = part.bounds
    x, y = (low_x + high_x) / 2.0, (low_y + high_y) / 2.0
    reach = high_x - low_x + high_y - low_y
    steepness = (a * a + b * b) ** 0.5
    ux, uy = a / steepness, b / steepness
    ahead = (a * x + b * y + c) / steepness
    foot_x, foot_y = x - ahead * ux, y - ahead * uy  # on the line, nearest the middle of the overlap
    start = (foot_x + reach * uy, foot_y - reach * ux)
    end = (foot_x - reach * uy, foot_y + reach * ux)
    far = 2.0 * reach
    half = polygon_on_grid(
        (start, end, (end[0] + far * ux, end[1] + far * uy), (start[0] + far * ux, start[1] + far * uy))
    )
    between = Line(a=(*start, 0.0), b=(*end, 0.0), role="edge", name=p.name)
    return solid_parts(shapely.difference(part, half)), solid_parts(shapely.intersection(part, half)), between


def silhouette_of(panels: Sequence[Panel], inner: frozenset[int] = frozenset()) -> BaseGeometry:
    """All that the faces cover together, slots and cracks closed. ``inner`` panels add nothing to the others."""
    shapes = [panel.shape for number, panel in enumerate(panels) if number not in inner]
    whole = on_grid(shapely.union_all(shapes))
    # Closing with sharp corners can grow past sharp points, closing with round ones fills every inner corner
    # a little: what both close is a slot. Both blunt points, so what the faces cover is put back.
    (sharp,) = grown(grown([whole], CRACK_MM), -CRACK_MM)
    closes = shapely.difference(sharp, whole)
    if closes.area > COVER_MM * whole.length:
        soft = whole.buffer(CRACK_MM).buffer(-CRACK_MM)
        whole = on_grid(shapely.union(whole, only_areas(shapely.intersection(closes, soft))))
    return solid_parts(_without_pinholes(whole).simplify(RIM_MM))


def _without_pinholes(area: BaseGeometry) -> BaseGeometry:
    """The polygons of an area without holes narrower than a sliver."""
    return shapely.MultiPolygon(
        [
            Polygon(part.exterior, [ring for ring in part.interiors if not is_sliver(Polygon(ring))])
            for part in shapely.get_parts(area)
            if isinstance(part, Polygon) and not part.is_empty
        ]
    )
