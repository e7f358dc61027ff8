"""The lines of a folded picture: read off the visible regions, so that fills and lines always agree."""

from __future__ import annotations

from collections.abc import Sequence

import shapely
from shapely.geometry.base import BaseGeometry

from foldproof.drawing.areas import grown, paths_of
from foldproof.drawing.clipping import lines_within, within
from foldproof.drawing.panels import TOUCH_MM, Panel, on_paper
from foldproof.drawing.records import LineRole, Mark, Path, Stroke
from foldproof.drawing.regions import RIM_MM, Crossing
from foldproof.drawing.segments import Line, each_left_of, each_once, flattened, joined, left_of, point_at
from foldproof.drawing.solid import Face3, View

# Lines nearer than this on paper are drawn once: an edge is 0.28 mm wide, so their ink would run together.
DOUBLE_LINE_MM = 0.25
HEAVY_FIRST: tuple[LineRole, ...] = ("outline", "edge", "fold", "valley", "mountain")


def line_marks(
    faces: Sequence[Face3],
    panels: Sequence[Panel],
    regions: Sequence[BaseGeometry],
    crossings: Sequence[Crossing],
    silhouette: BaseGeometry,
    view: View,
    mm_per_mm: float,
) -> list[Mark]:
    """Edges, folds and creases in view, each once, without what the silhouette draws."""
    touch_mm = TOUCH_MM * mm_per_mm
    rims = grown(regions, RIM_MM)
    shown = [panel.shape.is_empty or not region.is_empty for panel, region in zip(panels, regions, strict=True)]
    of_card = _lines_of_card(faces, panels, shown, view, mm_per_mm)
    lines = [(index, line) for index, own in enumerate(of_card) for line in own]
    inside = iter(lines_within([line for _, line in lines], [index for index, _ in lines], rims))
    seen: list[Line] = []
    for index, line in lines:
        parts = next(inside)
        seen.extend(_edge_on(line, panels, silhouette, touch_mm) if panels[index].shape.is_empty else parts)
    for crossing in crossings:
        for line in within(crossing.line, rims[crossing.first]):
            seen.extend(within(line, rims[crossing.second]))
    heavy_first = sorted(map(flattened, seen), key=lambda line: HEAVY_FIRST.index(line.role))
    once = joined(each_once(heavy_first, _sides(silhouette), DOUBLE_LINE_MM))
    light_first = sorted(once, key=lambda line: -HEAVY_FIRST.index(line.role))
    return [
        Stroke(path=Path(points=(line.a[:2], line.b[:2])), role=line.role, name=line.name)
        for line in light_first
    ]


def _lines_of_card(
    faces: Sequence[Face3], panels: Sequence[Panel], shown: Sequence[bool], view: View, mm_per_mm: float
) -> tuple[tuple[Line, ...], ...]:
    """The lines of each face in picture axes; none of a face that is not ``shown``.

    Where lines of several faces lie on one another in space, a flat crease is more than a fold and a fold
    more than a free edge.
    """
    creases: list[list[Line]] = []
    folds: list[list[Line]] = []
    edges: list[list[Line]] = []
    for face, panel in zip(faces, panels, strict=True):
        creases.append([])
        for a, b, role in face.unfolded:
            start, end = on_paper((a, b), view, mm_per_mm)
            creases[-1].append(Line(a=start, b=end, role=role, name=face.name))
        free: LineRole = "outline" if face.emphasis else "edge"
        sides = [
            (index, panel.corners[index], panel.corners[(index + 1) % len(panel.corners)])
            for index in range(len(panel.corners))
        ]
        folds.append([Line(a=a, b=b, role="fold", name=face.name) for i, a, b in sides if i in face.folds])
        edges.append([Line(a=a, b=b, role=free, name=face.name) for i, a, b in sides if i not in face.folds])
    touch_mm = TOUCH_MM * mm_per_mm
    all_creases = [line for own in creases for line in own]
    all_folds = [line for own in folds for line in own]
    creases, folds, edges = (
        [own if seen else [] for own, seen in zip(group, shown, strict=True)] for group in (creases, folds, edges)
    )
    folds_left = iter(each_left_of([line for own in folds for line in own], all_creases, touch_mm))
    edges_left = iter(each_left_of([line for own in edges for line in own], (*all_creases, *all_folds), touch_mm))
    return tuple(
        (
            *own_creases,
            *(left for _ in own_folds for left in next(folds_left)),
            *(left for _ in own_edges for left in next(edges_left)),
        )
        for own_creases, own_folds, own_edges in zip(creases, folds, edges, strict=True)
    )


def _edge_on(line: Line, panels: Sequence[Panel], silhouette: BaseGeometry, touch_mm: float) -> list[Line]:
    """What is seen of an edge of a face seen edge on; as an outline where nothing is behind it."""
    flat = shapely.LineString((line.a[:2], line.b[:2]))
    hidden: list[Line] = []
    for panel in panels:
        if not panel.shape.intersects(flat):
            continue
        for span in within(line, panel.shape):
            lead = [panel.depth_at(*end[:2]) - end[2] for end in (span.a, span.b)]
            if max(lead) <= touch_mm:
                continue
            if min(lead) < -touch_mm:  # it goes through the panel: only the part behind is hidden
                share = lead[0] / (lead[0] - lead[1])
                through = point_at(span, share)
                start, end = (through, span.b) if lead[1] > 0.0 else (span.a, through)
                span = Line(a=start, b=end, role=span.role, name=span.name)
            hidden.append(span)
    seen = left_of(line, hidden, RIM_MM)
    inside = [part for whole in seen for part in within(whole, silhouette)]
    outside = [part for whole in seen for part in left_of(whole, inside, RIM_MM)]
    return inside + [Line(a=part.a, b=part.b, role="outline", name=part.name) for part in outside]


def _sides(area: BaseGeometry) -> tuple[Line, ...]:
    """The straight lines that bound an area, as silhouette."""
    lines: list[Line] = []
    for path in paths_of(area):
        for (ax, ay), (bx, by) in zip(path.points, (*path.points[1:], path.points[0]), strict=True):
            lines.append(Line(a=(ax, ay, 0.0), b=(bx, by, 0.0), role="outline", name=""))
    return tuple(lines)
