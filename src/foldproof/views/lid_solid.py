"""The turning lid in space: box, corner triangle, cap, layers and fastener as faces, in the box's frame.

The box's frame has its origin in the middle of the base. Like the folded pictures these lay card visibly apart;
nothing is measured from them.
"""

from __future__ import annotations

import dataclasses
import math
from collections.abc import Sequence
from dataclasses import dataclass
from functools import lru_cache
from itertools import pairwise

import numpy as np
from numpy.typing import NDArray
from shapely import affinity
from shapely.geometry import Polygon as Shape

from foldproof.checks.evidence import Evidence, PieceEvidence
from foldproof.checks.turning_evidence import Turning
from foldproof.constructions.turning_lid import CAP, TRIANGLE
from foldproof.drawing.solid import Face3, Point3, Side, Unfolded, View
from foldproof.drawing.visible import visible_regions
from foldproof.folding.tree import pose
from foldproof.geometry import motion
from foldproof.geometry.plane import Point, Polygon, anticlockwise
from foldproof.lids.holes import triangle_in_box
from foldproof.views.folded_picture import DRAWN_THICKNESS_MM, VIEW, drawn_piece, faces_of, in_space

Array = NDArray[np.float64]

SIMPLER_MM = 0.3  # an outline in space is drawn with straight pieces this near to it
OUTLINES_KEPT = 128  # layers remembered as they are drawn: each lies in the picture of every layer that goes over it
HEAD_POINTS = 20
LIFT_MM = 0.45  # half the drawn card: what lies on something is drawn this far above it
CORNER_IN_MM = 2.0  # the drawn walls are thicker than the card's, so the drawn triangle stands this far in
QUARTERS = (0.0, 90.0, 180.0, 270.0)


@dataclass(frozen=True, slots=True, kw_only=True)
class LidModel:
    """What the pictures in space are made of: the box's faces, its drawn rim, and the folded triangle's flat piece."""

    turning: Turning
    box: tuple[Face3, ...]
    rim_mm: float
    triangle: PieceEvidence
    cap: Polygon
    sides_up: tuple[Side, ...]


def lid_model(evidence: Evidence, host: Evidence, turning: Turning, sides_up: Sequence[Side]) -> LidModel:
    """The model of one lid. ``sides_up`` is which side of its card each layer shows, lowest first."""
    form = host.assembly.forms[0]
    folded = next(piece for piece in host.pieces if piece.tree.piece.id == form.piece)
    drawn = drawn_piece(folded, host.assembly.joins)
    middle = motion.shift(-form.centre[0], -form.centre[1], 0.0)
    box = faces_of(drawn, np.ones(len(drawn.tree.piece.creases)), world_from_root=middle)
    pieces = {piece.tree.piece.id: piece for piece in evidence.pieces}
    return LidModel(
        turning=turning,
        box=box,
        rim_mm=max(z for face in box for _, _, z in face.outline),
        triangle=pieces[TRIANGLE],
        cap=pieces[CAP].tree.piece.panels[0].outline,
        sides_up=tuple(sides_up),
    )


def triangle_faces(model: LidModel, lifted_mm: float = 0.0, *, glue: bool = False) -> tuple[Face3, ...]:
    """The folded triangle in its corner, or that far above it; ``glue`` dots on its flaps."""
    drawn = drawn_piece(model.triangle, ())
    folded = np.ones(len(drawn.tree.piece.creases))
    world = _world(model, model.rim_mm - DRAWN_THICKNESS_MM + lifted_mm)
    faces = faces_of(drawn, folded, world_from_root=world)
    if not glue:
        return faces
    poses = world @ pose(drawn.tree, folded[None], drawn.shifts_mm)[0]
    found = []
    for number, face in enumerate(faces):
        if face.name.startswith("flap"):
            inner = Shape(drawn.tree.outline(number)).buffer(-2.0, join_style="mitre")
            area = tuple((float(x), float(y)) for x, y in inner.exterior.coords[:-1])
            face = dataclasses.replace(face, glue=(in_space(poses[number], area),), glue_side="face")
        found.append(face)
    return tuple(found)


def cap_face(model: LidModel, lifted_mm: float = 0.0, *, emphasis: bool = False) -> Face3:
    """The cap on the triangle, level with the rim, or that far above it."""
    return Face3(
        name=CAP,
        outline=in_space(_world(model, model.rim_mm + lifted_mm), model.cap),
        coloured_side="back",
        emphasis=emphasis,
    )


def _world(model: LidModel, height_mm: float) -> Array:
    """The motion from the triangle's flat frame into its corner of the box."""
    box = model.turning.box
    strip = model.triangle.tree.piece.blank_height_mm
    origin, right = triangle_in_box(box, (0.0, 0.0), strip), triangle_in_box(box, (1.0, 0.0), strip)
    world = np.eye(4)
    cosine, sine = right[0] - origin[0], right[1] - origin[1]
    world[:2, :2] = ((cosine, -sine), (sine, cosine))
    inwards = CORNER_IN_MM / math.sqrt(2.0)
    world[:3, 3] = (
        origin[0] + math.copysign(inwards, box.into[0]),
        origin[1] + math.copysign(inwards, box.into[1]),
        height_mm,
    )
    return world


def layer_faces(
    model: LidModel,
    angle_deg: float = 0.0,
    *,
    first: int = 0,
    last: int | None = None,
    lifted_mm: float = 0.0,
    heavy: bool = False,
) -> tuple[Face3, ...]:
    """Layers ``first`` to ``last`` (not included), the lid turned about its hole and lifted so far."""
    faces = []
    layers = model.turning.lid.layers
    for number in range(first, len(layers) if last is None else last):
        height = layer_height(model, number) + lifted_mm
        outline = _turned(layers[number].outline, model.turning.lid.hole, angle_deg)
        faces.append(
            Face3(
                name=layers[number].name,
                outline=tuple((x, y, height) for x, y in outline),
                coloured_side=model.sides_up[number],
                emphasis=heavy,
            )
        )
    return tuple(faces)


def layer_height(model: LidModel, number: int) -> float:
    """How high a layer is drawn: by its true height, and not nearer to the next than cards are drawn."""
    layers = model.turning.lid.layers
    height = model.rim_mm + LIFT_MM
    for below, layer in pairwise(layers[: number + 1]):
        height += max(DRAWN_THICKNESS_MM, layer.low_mm - below.low_mm)
    return height


@lru_cache(maxsize=OUTLINES_KEPT)
def _turned(outline: Polygon, hole: Point, angle_deg: float) -> Polygon:
    shape = affinity.rotate(Shape(outline), angle_deg, origin=hole).simplify(SIMPLER_MM)
    assert isinstance(shape, Shape)
    return anticlockwise(tuple((float(x), float(y)) for x, y in shape.exterior.coords[:-1]))


def top_pierced(model: LidModel) -> int:
    """The number of the uppermost layer that the fastener goes through."""
    return max(number for number, layer in enumerate(model.turning.lid.layers) if layer.pierced)


def disc_face(model: LidModel, name: str, diameter_mm: float, height_mm: float) -> Face3:
    """A level disc at the hole: the fastener's head, or a hole."""
    hole = model.turning.lid.hole
    turns = (2.0 * math.pi * n / HEAD_POINTS for n in range(HEAD_POINTS))
    outline = tuple(
        (hole[0] + 0.5 * diameter_mm * math.cos(t), hole[1] + 0.5 * diameter_mm * math.sin(t), height_mm) for t in turns
    )
    return Face3(name=name, outline=outline, coloured_side="back")


def head_face(model: LidModel, lifted_mm: float = 0.0) -> Face3:
    """The fastener's head on the uppermost pierced layer."""
    height = layer_height(model, top_pierced(model)) + LIFT_MM + lifted_mm
    return disc_face(model, "head", model.turning.lid.fastener.head_mm, height)


def whole_faces(model: LidModel, angle_deg: float) -> tuple[Face3, ...]:
    """Everything in its place, the lid turned."""
    return (
        *model.box,
        *triangle_faces(model),
        cap_face(model),
        *layer_faces(model, angle_deg),
        head_face(model),
    )


def best_quarter(model: LidModel, view: View = VIEW) -> float:
    """By which quarter turn of the whole thing most is seen of the opened box, its triangle and its cap.

    Only the lowest layer is laid over them for this: the others hide less.
    """
    angle = model.turning.analysis.opened.angle_deg
    below = (*model.box, *triangle_faces(model), cap_face(model))
    shares = []
    for quarter in QUARTERS:
        faces = turned_faces((*below, *layer_faces(model, angle, last=1)), quarter)
        regions = visible_regions(faces, view)[: len(below)]
        shares.append(round(sum(float(region.area) for region in regions), 3))
    return QUARTERS[shares.index(max(shares))]


def turned_faces(faces: Sequence[Face3], quarter_deg: float) -> tuple[Face3, ...]:
    """Faces turned about the upright line through the middle of the base."""
    if quarter_deg == 0.0:
        return tuple(faces)
    return tuple(
        dataclasses.replace(
            face,
            outline=turned_points(face.outline, quarter_deg),
            glue=tuple(turned_points(ring, quarter_deg) for ring in face.glue),
            unfolded=tuple(_turned_crease(crease, quarter_deg) for crease in face.unfolded),
        )
        for face in faces
    )


def _turned_crease(crease: Unfolded, quarter_deg: float) -> Unfolded:
    a, b = turned_points(crease[:2], quarter_deg)
    return (a, b, crease[2])


def turned_points(points: Sequence[Point3], quarter_deg: float) -> tuple[Point3, ...]:
    """Points turned about the upright line through the origin."""
    cosine, sine = math.cos(math.radians(quarter_deg)), math.sin(math.radians(quarter_deg))
    return tuple((x * cosine - y * sine, x * sine + y * cosine, z) for x, y, z in points)
