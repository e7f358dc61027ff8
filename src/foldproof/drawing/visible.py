"""The folded picture: what a reader sees of flat faces in space, as marks on paper."""

from __future__ import annotations

from collections.abc import Sequence
from functools import lru_cache

import shapely
from shapely.geometry.base import BaseGeometry

from foldproof.drawing.areas import all_solid, grown, paths_of, polygon_on_grid, solid_parts
from foldproof.drawing.arrows import arrow_marks
from foldproof.drawing.linework import line_marks
from foldproof.drawing.panels import TOUCH_MM, Panel, on_paper, panels_of
from foldproof.drawing.records import Area, Mark, Path, Point, Stroke
from foldproof.drawing.regions import sights_of, silhouette_of
from foldproof.drawing.solid import Arrow3, Drawing, Face3, Guide3, View

# A fill runs this far, in mm on paper, under what bounds it: neighbours cut exactly to one edge print with a
# light hairline between them. Less than half the thinnest line, which covers it.
UNDERLAP_MM = 0.04
DRAWINGS_KEPT = 64  # drawings remembered: of two changes to a project most of its pictures show neither
DECIMALS = 3  # a thousandth of a mm on paper: finer than a printer, and stable in files


def draw_solid(
    faces: Sequence[Face3],
    view: View,
    *,
    mm_per_mm: float,
    arrows: Sequence[Arrow3] = (),
    guides: Sequence[Guide3] = (),
) -> Drawing:
    """The hidden-line picture of faces in space at ``mm_per_mm`` (mm on paper per mm of card).

    Painted in order: fills, glue, lines in view, silhouette, guides, arrows. Of two faces that touch over an
    area, the later in ``faces`` is seen. A face seen edge on is a line. Same input, same marks.
    """
    return _drawing(tuple(faces), view, mm_per_mm, tuple(arrows), tuple(guides))


@lru_cache(maxsize=DRAWINGS_KEPT)
def _drawing(
    faces: tuple[Face3, ...], view: View, mm_per_mm: float, arrows: tuple[Arrow3, ...], guides: tuple[Guide3, ...]
) -> Drawing:
    assert faces, "nothing to draw"
    panels = panels_of(faces, view, mm_per_mm)
    sights = sights_of(panels, TOUCH_MM * mm_per_mm)
    regions, crossings = sights.regions, sights.crossings
    silhouette = silhouette_of(panels, sights.inner)
    marks: list[Mark] = [
        *_fills(panels, regions, silhouette),
        *_glue(faces, panels, regions, view, mm_per_mm),
    ]
    marks.extend(line_marks(faces, panels, regions, crossings, silhouette, view, mm_per_mm))
    marks.extend(
        Stroke(path=path, role="outline") for part in shapely.get_parts(silhouette) for path in paths_of(part)
    )
    for guide in guides:
        ends = on_paper((guide.a, guide.b), view, mm_per_mm)
        marks.append(Stroke(path=Path(points=tuple((x, y) for x, y, _ in ends)), role="guide"))
    paths = [on_paper(arrow.points, view, mm_per_mm) for arrow in arrows]
    marks.extend(arrow_marks([tuple((x, y) for x, y, _ in path) for path in paths]))
    return _from_corner(marks)


def visible_regions(
    faces: Sequence[Face3], view: View, *, mm_per_mm: float = 1.0
) -> tuple[BaseGeometry, ...]:
    """What is seen of each face in turn, in picture axes in mm on paper; empty if hidden or edge on.

    The regions do not overlap, and together they cover what the faces' projections cover.
    """
    return _regions(tuple(faces), view, mm_per_mm)


@lru_cache(maxsize=DRAWINGS_KEPT)
def _regions(faces: tuple[Face3, ...], view: View, mm_per_mm: float) -> tuple[BaseGeometry, ...]:
    return sights_of(panels_of(faces, view, mm_per_mm), TOUCH_MM * mm_per_mm).regions


def _fills(panels: Sequence[Panel], regions: Sequence[BaseGeometry], silhouette: BaseGeometry) -> list[Mark]:
    """The tones of what is seen, each run a little under its neighbours but not past the silhouette."""
    shapely.prepare(silhouette)
    fills = all_solid(list(shapely.intersection(grown(regions, UNDERLAP_MM), silhouette)))
    return [
        Area(paths=paths_of(fill), role=panel.fill, name=panel.name)
        for panel, fill in zip(panels, fills, strict=True)
        if not fill.is_empty
    ]


def _glue(
    faces: Sequence[Face3],
    panels: Sequence[Panel],
    regions: Sequence[BaseGeometry],
    view: View,
    mm_per_mm: float,
) -> list[Mark]:
    """Glue on the sides that are seen, where they are seen."""
    marks: list[Mark] = []
    for face, panel, region in zip(faces, panels, regions, strict=True):
        if region.is_empty or (face.glue_side == "face") != panel.face_seen:
            continue
        for ring in face.glue:
            corners = on_paper(ring, view, mm_per_mm)
            seen = solid_parts(shapely.intersection(polygon_on_grid([c[:2] for c in corners]), region))
            if not seen.is_empty:
                marks.append(Area(paths=paths_of(seen), role="glue", name=face.name))
    return marks


def _from_corner(marks: Sequence[Mark]) -> Drawing:
    """The marks moved so that their bounding box starts at (0, 0), and rounded."""
    points = [point for mark in marks for path in _mark_paths(mark) for point in path.points]
    left_mm, low_mm = min([x for x, _ in points]), min([y for _, y in points])

    def moved(places: Sequence[Point]) -> tuple[Point, ...]:
        # Adding nothing turns a negative zero into zero, which would otherwise be written with its sign.
        return tuple([(round(x - left_mm, DECIMALS) + 0.0, round(y - low_mm, DECIMALS) + 0.0) for x, y in places])

    def placed(path: Path) -> Path:
        return Path(points=moved(path.points), closed=path.closed)

    result: list[Mark] = []
    for mark in marks:
        if isinstance(mark, Area):
            result.append(Area(paths=tuple(map(placed, mark.paths)), role=mark.role, name=mark.name))
        elif isinstance(mark, Stroke):
            result.append(Stroke(path=placed(mark.path), role=mark.role, name=mark.name))
    corner = (max([x for x, _ in points]), max([y for _, y in points]))
    (width_mm, height_mm), origin_mm = moved((corner, (0.0, 0.0)))
    return Drawing(marks=tuple(result), width_mm=width_mm, height_mm=height_mm, origin_mm=origin_mm)


def _mark_paths(mark: Mark) -> tuple[Path, ...]:
    if isinstance(mark, Area):
        return mark.paths
    return (mark.path,) if isinstance(mark, Stroke) else ()
