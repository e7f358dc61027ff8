"""Papers going onto a folded piece, and a layer with its paper: the drawings of those steps."""

from __future__ import annotations

from collections.abc import Sequence
from math import hypot

import numpy as np
from numpy.typing import NDArray

from foldproof.checks.evidence import PieceEvidence
from foldproof.drawing.records import Area, Page, Path, Stroke
from foldproof.drawing.solid import Arrow3, Face3, Side, View
from foldproof.folding.joints import world_from_piece
from foldproof.folding.tree import pose
from foldproof.pattern.measured import MeasuredPiece
from foldproof.pattern.records import Assembly, Polygon
from foldproof.views.folded_picture import (
    DRAWN_THICKNESS_MM,
    VIEW,
    DrawnPiece,
    Scene,
    drawn_piece,
    faces_of,
    row_page,
    row_scale,
)
from foldproof.views.panel_papers import PanelPaper, Place
from foldproof.views.piece import placed

Array = NDArray[np.float64]

PANELS: dict[Place, tuple[str, ...]] = {
    "front and back": ("wall_front", "wall_back"),
    "left and right": ("wall_left", "wall_right"),
    "base": ("base",),
    "lid": ("base",),
}
AWAY_MM = 22.0  # of card: far enough that paper and side read as two
OFF_MM = 1.5 * DRAWN_THICKNESS_MM  # a paper lies this far off its side in the drawing, to be told from it
LAYER_SHARE = 0.6  # of a picture's height, for a layer lying flat
PAD_MM = 2.0


def papered_page(
    piece: PieceEvidence,
    assembly: Assembly,
    papers: Sequence[PanelPaper],
    border_mm: float,
    *,
    name: str,
    alt: str,
    size: tuple[float, float],
    view: View = VIEW,
) -> Page:
    """The folded piece with its papers held before their sides, each with its way, and with the papers on.

    A piece that ends upside down, as a lid does, is drawn as it ends. ``size`` is (width, most height) in mm.
    """
    drawn = drawn_piece(piece, assembly.joins, view)
    placement = next(each for each in assembly.placements if each.piece == piece.tree.piece.id)
    folded = np.ones(len(drawn.tree.piece.creases))
    world = world_from_piece(placement)
    card = faces_of(drawn, folded, world_from_root=world)
    panels = world @ pose(drawn.tree, folded[None], drawn.shifts_mm)[0]
    lying = [(paper.place, panel, _lying(drawn, panel, paper, border_mm)) for paper, panel in _sides(papers)]
    over_rim = max(point[2] for face in card for point in face.outline) + 0.5 * AWAY_MM
    away = [
        _face(drawn, panels, place, panel, outline, over_rim if place == "base" else AWAY_MM)
        for place, panel, outline in lying
    ]
    on = [_face(drawn, panels, place, panel, outline, OFF_MM) for place, panel, outline in lying]
    arrows = tuple(Arrow3(points=(_middle(far), _middle(near))) for far, near in zip(away, on, strict=True))
    row = (
        Scene(faces=(*card, *away), arrows=arrows, view=view),
        Scene(faces=(*card, *on), view=view),
    )
    return row_page(row, mm_per_mm=row_scale([row], size), name=name, alt=alt, width_mm=size[0])


def _sides(papers: Sequence[PanelPaper]) -> list[tuple[PanelPaper, str]]:
    return [(paper, panel) for paper in papers for panel in PANELS[paper.place]]


def _lying(drawn: DrawnPiece, panel: str, paper: PanelPaper, border_mm: float) -> Polygon:
    """Where the paper lies on its panel, in the flat frame: ``border_mm`` from the base, else in the middle."""
    tree = drawn.tree
    outline = tree.outline(tree.panels.index(panel))
    xs, ys = [x for x, _ in outline], [y for _, y in outline]
    middle = ((min(xs) + max(xs)) / 2, (min(ys) + max(ys)) / 2)
    wide, tall = paper.width.shown.float_mm, paper.height.shown.float_mm
    hinge = next((crease.line for crease in tree.piece.creases if crease.child == panel), None)
    if hinge is None:
        start = (middle[0] - wide / 2, middle[1] - tall / 2)
        along, up = (1.0, 0.0), (0.0, 1.0)
    else:
        (ax, ay), (bx, by) = hinge
        length = hypot(bx - ax, by - ay)
        along = ((bx - ax) / length, (by - ay) / length)
        up = (-along[1], along[0])
        if (middle[0] - ax) * up[0] + (middle[1] - ay) * up[1] < 0.0:
            up = (-up[0], -up[1])
        halfway = ((ax + bx) / 2, (ay + by) / 2)
        start = (
            halfway[0] - along[0] * wide / 2 + up[0] * border_mm,
            halfway[1] - along[1] * wide / 2 + up[1] * border_mm,
        )
    corners = ((0.0, 0.0), (wide, 0.0), (wide, tall), (0.0, tall))
    ring = tuple((start[0] + along[0] * x + up[0] * y, start[1] + along[1] * x + up[1] * y) for x, y in corners)
    return ring if along[0] * up[1] - along[1] * up[0] > 0.0 else tuple(reversed(ring))


def _face(drawn: DrawnPiece, panels: Array, place: Place, panel: str, outline: Polygon, off_mm: float) -> Face3:
    """A paper ``off_mm`` before its side: the inside of a base, the outside of all else."""
    inside = place == "base"
    # The side that a paper shows is drawn as the other one of what it lies on, so that it stands out.
    shown: Side = "face" if inside else "back"
    lifted = np.array([[x, y, off_mm if inside else -off_mm, 1.0] for x, y in outline])
    points = (panels[drawn.tree.panels.index(panel)] @ lifted.T).T[:, :3]
    ring = tuple((float(x), float(y), float(z)) for x, y, z in points)
    return Face3(
        name=f"paper_{panel}",
        outline=ring if inside else tuple(reversed(ring)),
        coloured_side=shown,
        emphasis=True,
    )


def _middle(face: Face3) -> tuple[float, float, float]:
    points = np.asarray(face.outline)
    x, y, z = points.mean(axis=0).tolist()
    return (x, y, z)


def papered_layer_page(
    layer: MeasuredPiece, paper: PanelPaper, *, name: str, alt: str, size: tuple[float, float]
) -> Page:
    """A layer lying flat with its paper on it, the same border of card all round."""
    flat = layer.piece
    scale = min((size[0] - 2 * PAD_MM) / flat.blank_width_mm, LAYER_SHARE * size[1] / flat.blank_height_mm)
    outline = Path(points=flat.panels[0].outline, closed=True)
    left = (flat.blank_width_mm - max(x for x, _ in paper.outline)) / 2
    low = (flat.blank_height_mm - max(y for _, y in paper.outline)) / 2
    shape = Path(points=tuple((x + left, y + low) for x, y in paper.outline), closed=True)
    marks = (
        Area(paths=(outline,), role="plain"),
        Stroke(path=outline, role="outline"),
        Area(paths=(shape,), role="coloured"),
        Stroke(path=shape, role="outline"),
    )
    height = flat.blank_height_mm * scale + 2 * PAD_MM
    start = ((size[0] - flat.blank_width_mm * scale) / 2, PAD_MM)
    return Page(name=name, width_mm=size[0], height_mm=height, marks=placed(marks, scale, start), alt=alt)
