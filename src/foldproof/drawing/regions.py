"""What is seen of flat faces in space, as exact regions of the picture.

Without perspective the depth of a flat face is a x + b y + c over the picture, so where one face lies before
another is a half-plane of their overlap. Every face's visible region follows by exact cuts, with no sorting:
crossing faces, layers and faces that lock each other come right. All lengths are mm on paper unless said.
"""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass

import shapely
from shapely.geometry import Polygon
from shapely.geometry.base import BaseGeometry

from foldproof.drawing.camera import in_shade, normal_of, project
from foldproof.drawing.records import FillRole, Path, Point
from foldproof.drawing.segments import Line, point_at
from foldproof.drawing.solid import Face3, Point3, View

# Depths, in mm of card, that count as touching: a third of the thinnest card (0.15 mm), and more than the
# closing error of a folded pose.
TOUCH_MM = 0.05
# Faces and regions narrower than this in the picture, in mm on paper, are drawn as lines: a tenth of the
# thinnest line (0.19 mm), which hides them.
SLIVER_MM = 0.02
# Slots and cracks up to twice this, in mm on paper, do not break the silhouette: between two lines of its
# weight (0.48 mm) they would close to one thick bar. Their sides are drawn as edges instead.
CRACK_MM = 0.3
# A line on the rim of a region belongs to it: in mm on paper, coarser than float noise, finer than any line.
RIM_MM = 0.005
# Cuts are made on a grid of this step, in mm on paper. Without it, edges that two faces share up to float
# noise leave spikes without width, along which hidden lines show, or give one face whole for the overlap.
GRID_MM = 1e-6

NOTHING: BaseGeometry = Polygon()


@dataclass(frozen=True, slots=True, kw_only=True)
class Panel:
    """A face in picture axes, in mm on paper. ``plane`` is (a, b, c) of its depth; no shape when edge on."""

    name: str
    corners: tuple[Point3, ...]
    shape: BaseGeometry
    plane: Point3
    face_seen: bool
    fill: FillRole

    def depth_at(self, x: float, y: float) -> float:
        return self.plane[0] * x + self.plane[1] * y + self.plane[2]


@dataclass(frozen=True, slots=True, kw_only=True)
class Crossing:
    """Where two faces pass through one another: a line seen where both are."""

    line: Line
    first: int
    second: int


def on_paper(points: Sequence[Point3], view: View, mm_per_mm: float) -> tuple[Point3, ...]:
    """Points of space in picture axes (right, up, towards the reader), in mm on paper."""
    assert mm_per_mm > 0.0, "a scale is greater than nothing"
    return tuple((x * mm_per_mm, y * mm_per_mm, z * mm_per_mm) for x, y, z in project(view, points))


def panel_of(face: Face3, view: View, mm_per_mm: float) -> Panel:
    """The face as the picture has it. A face that is not flat is a mistake of the caller's."""
    corners = on_paper(face.outline, view, mm_per_mm)
    shape = polygon_on_grid([corner[:2] for corner in corners])
    normal = normal_of(corners)
    if _is_sliver(shape) or normal[2] == 0.0:
        return Panel(
            name=face.name,
            corners=corners,
            shape=NOTHING,
            plane=(0.0, 0.0, 0.0),
            face_seen=True,
            fill="plain",
        )
    nx, ny, nz = normal
    # The plane goes through the middle of the corners: least off for a face bent by float noise.
    x, y, z = (sum(corner[axis] for corner in corners) / len(corners) for axis in range(3))
    bent_mm = max(abs(nx * (u - x) + ny * (v - y) + nz * (w - z)) for u, v, w in corners)
    assert bent_mm <= TOUCH_MM * mm_per_mm, f"face {face.name!r} is not flat"
    face_seen = nz > 0.0
    shade = in_shade((nx, ny, nz) if face_seen else (-nx, -ny, -nz), view)
    coloured = (face.coloured_side == "face") == face_seen
    tones: tuple[FillRole, FillRole] = (
        ("coloured", "coloured_shade") if coloured else ("plain", "plain_shade")
    )
    return Panel(
        name=face.name,
        corners=corners,
        shape=shape,
        plane=(-nx / nz, -ny / nz, z + (nx * x + ny * y) / nz),
        face_seen=face_seen,
        fill=tones[shade],
    )


def regions_of(
    panels: Sequence[Panel], touch_mm: float
) -> tuple[tuple[BaseGeometry, ...], tuple[Crossing, ...]]:
    """Visible region of each panel, and the lines where panels cross. Depths within ``touch_mm`` touch."""
    hidden: list[list[BaseGeometry]] = [[] for _ in panels]
    crossings: list[Crossing] = []
    tree = shapely.STRtree([panel.shape for panel in panels])
    firsts, seconds = tree.query([panel.shape for panel in panels], predicate="intersects")
    for first, second in sorted(zip(firsts.tolist(), seconds.tolist(), strict=True)):
        if first >= second:
            continue
        p, q = panels[first], panels[second]
        for part in shapely.get_parts(cut(p.shape, q.shape)):
            if _is_sliver(part):
                continue
            lead = [q.depth_at(x, y) - p.depth_at(x, y) for x, y in part.exterior.coords]
            if min(lead) >= -touch_mm:  # in front, or touching all over: then the later face is the upper one
                hidden[first].append(part)
            elif max(lead) <= touch_mm:
                hidden[second].append(part)
            else:
                behind, before, between = _split(part, p, q)
                hidden[first].append(before)
                hidden[second].append(behind)
                crossings.extend(
                    Crossing(line=line, first=first, second=second) for line in within(between, part)
                )
    regions = tuple(
        solid_parts(cut_away(panel.shape, shapely.union_all(covers, grid_size=GRID_MM)))
        for panel, covers in zip(panels, hidden, strict=True)
    )
    return regions, tuple(crossings)


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
    return solid_parts(cut_away(part, half)), solid_parts(cut(part, half)), between


def silhouette_of(panels: Sequence[Panel]) -> BaseGeometry:
    """All that the faces cover together, slots and cracks closed."""
    whole = shapely.union_all([panel.shape for panel in panels], grid_size=GRID_MM)
    # Closing with sharp corners can grow past sharp points, closing with round ones fills every inner corner
    # a little: what both close is a slot. Both blunt points, so what the faces cover is put back.
    sharp = grown(grown(whole, CRACK_MM), -CRACK_MM)
    soft = _on_grid(whole.buffer(CRACK_MM).buffer(-CRACK_MM))
    closed = shapely.union(whole, solid_parts(cut(sharp, soft)), grid_size=GRID_MM)
    return solid_parts(_on_grid(_without_pinholes(closed).simplify(RIM_MM)))


def _without_pinholes(area: BaseGeometry) -> BaseGeometry:
    """The polygons of an area without holes narrower than a sliver."""
    return shapely.MultiPolygon(
        [
            Polygon(part.exterior, [ring for ring in part.interiors if not _is_sliver(Polygon(ring))])
            for part in shapely.get_parts(area)
            if isinstance(part, Polygon) and not part.is_empty
        ]
    )


def within(line: Line, region: BaseGeometry) -> list[Line]:
    """The parts of a line that lie in a region of the picture, from its start to its end."""
    flat = shapely.LineString((line.a[:2], line.b[:2]))
    if flat.length == 0.0:
        return []
    spans: list[tuple[float, float]] = []
    for part in shapely.get_parts(cut(flat, region)):
        if part.geom_type == "LineString" and not part.is_empty:
            ends = [flat.project(shapely.Point(part.coords[end]), normalized=True) for end in (0, -1)]
            spans.append((min(ends), max(ends)))
    return [
        Line(a=point_at(line, start), b=point_at(line, end), role=line.role, name=line.name)
        for start, end in sorted(spans)
    ]


def paths_of(area: BaseGeometry) -> tuple[Path, ...]:
    """The closed rings of an area; holes follow the ring that holds them."""
    return tuple(
        Path(points=tuple((x, y) for x, y in ring.coords[:-1]), closed=True)
        for part in shapely.get_parts(area)
        if not part.is_empty
        for ring in (part.exterior, *part.interiors)
    )


def polygon_on_grid(points: Sequence[Point]) -> BaseGeometry:
    """The area inside a ring of points; empty if they lie on one line."""
    return _on_grid(Polygon(points))


def grown(area: BaseGeometry, by_mm: float) -> BaseGeometry:
    """An area with its edges moved outwards, corners kept sharp."""
    return _on_grid(area.buffer(by_mm, join_style="mitre"))


def _on_grid(area: BaseGeometry) -> BaseGeometry:
    """An area with its corners on the grid and valid: a cut on the grid relies on both.

    A buffer with sharp corners can cross itself where a long corner meets another part.
    """
    sound = area if area.is_valid else shapely.make_valid(area, method="structure", keep_collapsed=False)
    return shapely.set_precision(sound, GRID_MM)


def cut(a: BaseGeometry, b: BaseGeometry) -> BaseGeometry:
    """What two geometries share."""
    return shapely.intersection(a, b, grid_size=GRID_MM)


def cut_away(a: BaseGeometry, b: BaseGeometry) -> BaseGeometry:
    """What is left of a without b."""
    return shapely.difference(a, b, grid_size=GRID_MM)


def solid_parts(geometry: BaseGeometry) -> BaseGeometry:
    """The polygons of a geometry that are wider than a sliver, in a fixed order."""
    parts: list[Polygon] = [
        part for part in shapely.get_parts(geometry) if isinstance(part, Polygon) and not _is_sliver(part)
    ]
    parts.sort(key=lambda part: part.bounds)
    return shapely.MultiPolygon(parts) if parts else NOTHING


def _is_sliver(area: BaseGeometry) -> bool:
    """Whether an area is narrower than ``SLIVER_MM``; a strip's width is twice its area by its perimeter."""
    return bool(2.0 * area.area <= SLIVER_MM * area.length)
