"""Folded pieces as pictures: panels in a pose as faces in space, several in a row on one page, the finished thing.

The layers of a real fold lie a quarter of a millimetre apart and would run together on paper. The pictures
lay them ``DRAWN_THICKNESS_MM`` apart; nothing is measured from them.
"""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from dataclasses import dataclass
from functools import lru_cache
from math import dist

import numpy as np
import shapely
from numpy.typing import NDArray

from foldproof.checks.evidence import PieceEvidence
from foldproof.drawing.arrows import ARROW_REACH_MM
from foldproof.drawing.camera import dot, normal_of, project
from foldproof.drawing.panels import panels_of
from foldproof.drawing.records import Mark, Page
from foldproof.drawing.solid import Arrow3, Face3, Guide3, Point3, Side, Unfolded, View
from foldproof.drawing.visible import draw_solid
from foldproof.folding.joints import world_from_piece
from foldproof.folding.layers import order_layers
from foldproof.folding.tree import FULL_TURN_BACK_RAD, FoldTree, pose
from foldproof.geometry import motion
from foldproof.geometry.plane import SAME_MM, Point, Polygon
from foldproof.pattern.records import Assembly, Join, Segment
from foldproof.views.piece import placed

Array = NDArray[np.float64]
Glue = tuple[Side, tuple[Polygon, ...]]
Segment3 = tuple[Point3, Point3]

VIEW = View()  # the same for every step: the front of the piece is near the reader
# By the hand that works. It comes from the other side, so the reader looks from the other front corner.
VIEWS: Mapping[str, View] = {"right": VIEW, "left": View(azimuth_deg=-VIEW.azimuth_deg)}
# Three to four times the thickness of card: at a third of true size it still parts two lines of a rim.
DRAWN_THICKNESS_MM = 0.9
FLAT_FRACTION = 1e-6  # of a fold; less is a crease still flat, and the least fold drawn is ten thousand times more
PAGE_PAD_MM = 1.0  # bare paper at the page's edges: half of the heaviest line, and room for the printer
SHORTEST_GUIDE_MM = 4.0  # of card: two dashes at half of true size; a shorter line says nothing
NEAR_CORNER_MM = 2.5  # of card; a rim that ends this near its wall's corner is drawn to it: the gap would be a blot
GAP_MM = 6.0  # between two pictures of a row, so that they do not read as one
OUTLINES_KEPT = 512  # panels' outlines remembered: every picture of a piece has the same ones
BEHIND_MM = 0.5  # a point this much deeper than a face is hidden by it; less, in mm of card, is on it


@dataclass(frozen=True, slots=True, kw_only=True)
class DrawnPiece:
    """A piece as it is drawn: its tree, shifts that lay its layers visibly apart, and where it is seen from."""

    tree: FoldTree
    shifts_mm: tuple[float, ...]
    view: View = VIEW


@dataclass(frozen=True, slots=True, kw_only=True)
class Scene:
    """One picture of a row, in mm of card."""

    faces: tuple[Face3, ...]
    arrows: tuple[Arrow3, ...] = ()
    guides: tuple[Guide3, ...] = ()
    view: View = VIEW


def drawn_piece(piece: PieceEvidence, joins: tuple[Join, ...], view: View = VIEW) -> DrawnPiece:
    """The piece with its layers ``DRAWN_THICKNESS_MM`` apart, in the order that the joins give them."""
    layers = order_layers(piece.tree, joins, DRAWN_THICKNESS_MM)
    return DrawnPiece(tree=piece.tree, shifts_mm=layers.shifts_mm, view=view)


def finished_picture(
    pieces: Sequence[PieceEvidence],
    assembly: Assembly,
    *,
    name: str,
    alt: str,
    size: tuple[float, float],
    lid_lifted_mm: float | None = None,
    view: View = VIEW,
) -> Page:
    """The finished thing. With a lid it is drawn twice: lid lifted off, and lid on.

    ``size`` is (width, height) in mm on paper: the page has that width, and at most that height. The lid is
    lifted by its joint's travel unless ``lid_lifted_mm`` says otherwise.
    """
    drawn = {piece.tree.piece.id: drawn_piece(piece, assembly.joins, view) for piece in pieces}
    together = _together(drawn, assembly, {})
    row = [Scene(faces=tuple(face for faces in together.values() for face in faces), view=view)]
    if assembly.joints:
        away = {}
        for joint in assembly.joints:
            length = dot(joint.axis, joint.axis) ** 0.5
            by_mm = joint.travel_mm if lid_lifted_mm is None else lid_lifted_mm
            x, y, z = (part * by_mm / length for part in joint.axis)
            away[joint.moving] = (x, y, z)
        apart = _together(drawn, assembly, away)
        faces = tuple(face for own in apart.values() for face in own)
        guides = tuple(guide for moving, by in away.items() for guide in _guides(apart[moving], by, faces, view))
        row.insert(0, Scene(faces=faces, guides=guides, view=view))
    scale = row_scale([row], size)
    return row_page(row, mm_per_mm=scale, name=name, alt=alt, width_mm=size[0])


def _together(
    drawn: Mapping[str, DrawnPiece], assembly: Assembly, away: Mapping[str, Point3]
) -> dict[str, tuple[Face3, ...]]:
    """The faces of each piece, all folded, in its place in the assembly or as far ``away`` from it."""
    found = {}
    for placement in assembly.placements:
        piece = drawn[placement.piece]
        by = away.get(placement.piece, (0.0, 0.0, 0.0))
        folded = np.ones(len(piece.tree.piece.creases))
        world = motion.shift(*by) @ world_from_piece(placement)
        found[placement.piece] = faces_of(piece, folded, world_from_root=world)
    return found


def _guides(moving: Sequence[Face3], by: Point3, faces: Sequence[Face3], view: View) -> list[Guide3]:
    """Lines from the corners of the moving piece's rim towards where they land, as far as on bare paper.

    A line over a face would run beside the face's own edge.
    """
    length = dot(by, by) ** 0.5
    if length == 0.0:
        return []
    along: Point3 = (by[0] / length, by[1] / length, by[2] / length)
    lowest = min(dot(along, point) for face in moving for point in face.outline)
    covered = shapely.union_all([panel.shape for panel in panels_of(tuple(faces), view, 1.0)])
    guides = []
    for corner in moving[0].outline:
        start = _moved(corner, along, lowest - dot(along, corner))
        flat = shapely.LineString([(x, y) for x, y, _ in project(view, (start, _moved(start, along, -length)))])
        for part in shapely.get_parts(flat.difference(covered)):
            if part.length >= SHORTEST_GUIDE_MM:
                near, far = (flat.project(shapely.Point(part.coords[end]), normalized=True) for end in (0, -1))
                guides.append(
                    Guide3(a=_moved(start, along, -near * length), b=_moved(start, along, -far * length))
                )
    return guides


def _moved(point: Point3, along: Point3, by_mm: float) -> Point3:
    return (point[0] + by_mm * along[0], point[1] + by_mm * along[1], point[2] + by_mm * along[2])


def faces_of(
    drawn: DrawnPiece,
    fractions: Array,
    *,
    glue: Mapping[str, Glue] | None = None,
    heavy: frozenset[str] = frozenset(),
    world_from_root: Array | None = None,
) -> tuple[Face3, ...]:
    """The panels of a piece in a pose, root first, and the rims that fill the folds of half a turn.

    ``fractions``, shape (creases,), are 0 (flat) to 1 (folded). ``glue`` is by panel: the side and the areas in
    flat coordinates. ``heavy`` panels have heavy edges.
    """
    tree = drawn.tree
    world = pose(tree, fractions[None], drawn.shifts_mm)[0]
    if world_from_root is not None:
        world = world_from_root @ world
    found = []
    for number, panel in enumerate(tree.panels):
        lines = tuple(crease.line for crease in tree.piece.creases if panel in (crease.parent, crease.child))
        outline, folds = _with_folds(tree.outline(number), lines)
        unfolded: list[Unfolded] = []
        for crease, fraction in zip(tree.piece.creases, fractions.tolist(), strict=True):
            if crease.parent == panel and abs(fraction) < FLAT_FRACTION:
                a, b = in_space(world[number], crease.line)
                unfolded.append((a, b, crease.direction))
        side, areas = (glue or {}).get(panel, ("face", ()))
        found.append(
            Face3(
                name=panel,
                outline=in_space(world[number], outline),
                folds=folds,
                glue=tuple(in_space(world[number], area) for area in areas),
                glue_side=side,
                emphasis=panel in heavy,
                unfolded=tuple(unfolded),
            )
        )
    return (*found, *_rims(drawn, world, fractions))


def _rims(drawn: DrawnPiece, world: Array, fractions: Array) -> list[Face3]:
    """Narrow strips over folds of half a turn, from the parent to the child that lies a layer off it."""
    tree = drawn.tree
    strips: list[tuple[str, Array, tuple[Segment3, Segment3]]] = []
    for panel in range(1, len(tree.panels)):
        crease = tree.piece.creases[tree.crease_of[panel]]
        if crease.target_rad < FULL_TURN_BACK_RAD or fractions[tree.crease_of[panel]] < 1.0 - FLAT_FRACTION:
            continue
        parent = tree.parent[panel]
        whole = _to_corners(crease.line, tree.outline(parent))
        outer, inner = (_segment(world[number], whole) for number in (parent, panel))
        if dist(outer[0], inner[0]) < SAME_MM:
            continue
        # The face side looks into the fold, to where the parent's panel is.
        inward = np.mean(in_space(world[parent], tree.outline(parent)), axis=0) - np.asarray(outer[0])
        strips.append((crease.child, inward, (outer, inner)))
    found = []
    for name, inward, (outer, inner) in strips:
        for other, _, (_, edge) in strips:
            if other != name:
                inner = _mitred(inner, edge)
        outline = (outer[0], outer[1], inner[1], inner[0])
        if float(np.dot(normal_of(outline), inward)) < 0.0:
            outline = (outer[1], outer[0], inner[0], inner[1])
        found.append(Face3(name=name, outline=outline, folds=(0, 1, 2, 3)))
    return found


def _to_corners(line: Segment, outline: Polygon) -> Segment:
    """A crease drawn out to the corners of the edge it lies on, if they are near its ends."""
    for a, b in zip(outline, outline[1:] + outline[:1], strict=True):
        if _on((a, b), line[0]) and _on((a, b), line[1]):
            near, far = (a, b) if dist(a, line[0]) < dist(b, line[0]) else (b, a)
            return (
                near if dist(near, line[0]) <= NEAR_CORNER_MM else line[0],
                far if dist(far, line[1]) <= NEAR_CORNER_MM else line[1],
            )
    return line


def _segment(world: Array, line: Segment) -> Segment3:
    a, b = in_space(world, line)
    return (a, b)


def _mitred(edge: Segment3, other: Segment3) -> Segment3:
    """The inner edge of a rim cut off where it meets another rim's, so that the two rims meet in a mitre."""
    start, end = (np.asarray(point) for point in edge)
    there, beyond = (np.asarray(point) for point in other)
    run, across = end - start, beyond - there
    normal = np.cross(run, across)
    square = float(normal @ normal)
    if square < (SAME_MM * float(np.linalg.norm(run) * np.linalg.norm(across))) ** 2:  # they are parallel
        return edge
    if abs(float((there - start) @ normal)) / square**0.5 > SAME_MM:  # one passes over the other
        return edge
    share = float(np.cross(there - start, across) @ normal) / square
    reach = float(np.cross(there - start, run) @ normal) / square
    if not (0.0 < share < 1.0 and 0.0 < reach < 1.0):
        return edge
    x, y, z = (start + share * run).tolist()
    return ((x, y, z), edge[1]) if share < 0.5 else (edge[0], (x, y, z))


def in_space(world: Array, points: Sequence[Point]) -> tuple[Point3, ...]:
    """Points of a panel's flat frame, moved by its world-from-panel motion."""
    return tuple((float(x), float(y), float(z)) for x, y, z in motion.apply(world, motion.lift(tuple(points))))


@lru_cache(maxsize=OUTLINES_KEPT)
def _with_folds(outline: Polygon, lines: tuple[Segment, ...]) -> tuple[Polygon, tuple[int, ...]]:
    """The outline with a corner at every end of a crease, and the numbers of its edges that are creases."""
    corners: list[Point] = []
    ends = [end for line in lines for end in line]
    for a, b in zip(outline, outline[1:] + outline[:1], strict=True):
        corners.append(a)
        between = {end for end in ends if _on((a, b), end) and min(dist(a, end), dist(b, end)) > SAME_MM}
        for end in sorted(between, key=lambda point: (dist(a, point), point)):
            if dist(corners[-1], end) > SAME_MM:
                corners.append(end)
    folds = tuple(
        number
        for number, (a, b) in enumerate(zip(corners, corners[1:] + corners[:1], strict=True))
        if any(_on(line, a) and _on(line, b) for line in lines)
    )
    return tuple(corners), folds


def _on(line: Segment, point: Point) -> bool:
    """Whether a point lies on a segment: the way over it is no longer than the segment."""
    (ax, ay), (bx, by) = line
    ux, uy = bx - ax, by - ay
    square = ux * ux + uy * uy
    share = ((point[0] - ax) * ux + (point[1] - ay) * uy) / square if square > 0.0 else 0.0
    share = min(1.0, max(0.0, share))
    return dist(point, (ax + share * ux, ay + share * uy)) < SAME_MM


def seen(points: Sequence[Point3], faces: Sequence[Face3], view: View = VIEW) -> list[bool]:
    """For each point, whether no face lies before it."""
    marks = project(view, points)
    panels = panels_of(tuple(faces), view, 1.0)
    return [
        not any(panel.depth_at(x, y) - depth > BEHIND_MM and shapely.contains_xy(panel.shape, x, y) for panel in panels)
        for x, y, depth in marks
    ]


def row_scale(rows: Sequence[Sequence[Scene]], size: tuple[float, float]) -> float:
    """The largest scale, mm on paper per mm of card, at which every row fits ``size`` (width, height)."""
    scales = []
    for row in rows:
        boxes = [_extent(scene) for scene in row]
        arrows = sum(1 for scene in row if scene.arrows)
        wide = sum(right - left for left, _, right, _ in boxes)
        high = max(box[3] for box in boxes) - min(box[1] for box in boxes)
        arrow_room = 2.0 * ARROW_REACH_MM
        scales.append((size[0] - 2.0 * PAGE_PAD_MM - GAP_MM * (len(row) - 1) - arrows * arrow_room) / wide)
        scales.append((size[1] - 2.0 * PAGE_PAD_MM - (arrow_room if arrows else 0.0)) / high)
    assert min(scales) > 0.0, "no room to draw in"
    return min(scales)


def _extent(scene: Scene) -> tuple[float, float, float, float]:
    """Left, low, right and high of a scene in picture axes, in mm of card."""
    points = [point for face in scene.faces for point in face.outline]
    points += [point for arrow in scene.arrows for point in arrow.points]
    points += [point for guide in scene.guides for point in (guide.a, guide.b)]
    flat = project(scene.view, points)
    xs, ys = [x for x, _, _ in flat], [y for _, y, _ in flat]
    return min(xs), min(ys), max(xs), max(ys)


def row_page(row: Sequence[Scene], *, mm_per_mm: float, name: str, alt: str, width_mm: float) -> Page:
    """The scenes side by side on one level, on a page of ``width_mm`` that is as high as they need."""
    drawings = [
        draw_solid(scene.faces, scene.view, mm_per_mm=mm_per_mm, arrows=scene.arrows, guides=scene.guides)
        for scene in row
    ]
    below = max(drawing.origin_mm[1] for drawing in drawings)
    above = max(drawing.height_mm - drawing.origin_mm[1] for drawing in drawings)
    used_mm = sum(drawing.width_mm for drawing in drawings) + GAP_MM * (len(row) - 1) + 2.0 * PAGE_PAD_MM
    share_mm = (width_mm - used_mm) / (2 * len(row))
    marks: list[Mark] = []
    left = PAGE_PAD_MM + share_mm
    for drawing in drawings:
        marks += placed(drawing.marks, 1.0, (left, PAGE_PAD_MM + below - drawing.origin_mm[1]))
        left += drawing.width_mm + GAP_MM + 2.0 * share_mm
    return Page(name=name, width_mm=width_mm, height_mm=below + above + 2.0 * PAGE_PAD_MM, marks=tuple(marks), alt=alt)
