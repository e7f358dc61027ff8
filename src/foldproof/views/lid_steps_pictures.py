"""The steps of a turning lid as drawings: pieces, corner triangle, hole, fastener, layers, greeting.

Steps in space have one view and are drawn as action and result, as the folding steps are; what is flat on the table
is drawn from above.
"""

from __future__ import annotations

import dataclasses
import math
from collections.abc import Sequence
from dataclasses import dataclass

from shapely import affinity
from shapely.geometry import Polygon as Shape

from foldproof.drawing.camera import normal_of, project
from foldproof.drawing.records import Area, FillRole, Label, Mark, Page, Path, Point, Stroke
from foldproof.drawing.solid import Arrow3, Face3, Point3, View
from foldproof.lengths import Ruler
from foldproof.pattern.measured import MeasuredPiece
from foldproof.views.folded_picture import VIEW, Scene, row_page, row_scale
from foldproof.views.hole_guide import guide_marks
from foldproof.views.labels import TEXT_PT
from foldproof.views.layer_pages import STRIP_MM, strip_picture
from foldproof.views.lid_by_hand import CLOSE_MM, WHOLE_MM, close_picture, whole_picture
from foldproof.views.lid_picture import circle, layer_marks
from foldproof.views.lid_section import section_page
from foldproof.views.lid_solid import (
    LidModel,
    cap_face,
    disc_face,
    head_face,
    layer_faces,
    layer_height,
    top_pierced,
    triangle_faces,
    turned_faces,
    turned_points,
    whole_faces,
)
from foldproof.views.paper import Drawn
from foldproof.views.piece import mapped, placed
from foldproof.words.catalogue import ENGLISH, Language

PAD_MM = 2.0
GLUE_IN_MM = 6.0  # glue is drawn this far inside a layer's edge
GLUE_SHARE = 0.75  # of a small face, measured from its middle, that is drawn with glue
LIFTED_MM = 32.0  # what is about to be laid on is drawn this far above
SMALL_LIFT_MM = 16.0
PART_WAY_DEG = 110.0  # the lid turned so far that a hand gets in; less where it opens less
FACING = 0.99  # cosine between a flap and the wall behind it
NEAR_WALL_MM = 6.0  # a flap is at most so far from the drawn wall that it is glued to
FRONT_TURNS = {"front": 0.0, "right": -90.0, "back": 180.0, "left": 90.0}
FROM_BELOW_MM = (46.0, 44.0)
LEG_HALF_MM = 0.9


@dataclass(frozen=True, slots=True, kw_only=True)
class Sheet:
    """What every picture gets: the model, its quarter turn, the layers' fills, the size, and where it is seen from."""

    model: LidModel
    quarter_deg: float
    colours: tuple[FillRole, ...]
    size: tuple[float, float]
    view: View = VIEW


def finished_lid(sheet: Sheet, *, name: str, alt: str) -> Page:
    """The lid closed, and turned open."""
    opened = sheet.model.turning.analysis.opened.angle_deg
    return _solid(sheet, [(whole_faces(sheet.model, angle), ()) for angle in (0.0, opened)], name=name, alt=alt)


# --- Pieces -------------------------------------------------------------------------------------------------


def strip_page(
    piece: MeasuredPiece, ruler: Ruler, other: Ruler, *, name: str, alt: str, size: tuple[float, float]
) -> Page:
    """The strip of triangle or cap with its lines and sizes."""
    drawn = strip_picture(piece, ruler, other, (0.0, 0.0), STRIP_MM)
    return drawn_page(drawn, 0.5 * (size[0] - STRIP_MM) - 8.0, name=name, alt=alt, width_mm=size[0])


def drawn_page(drawn: Drawn, left: float, *, name: str, alt: str, width_mm: float) -> Page:
    """What was drawn downwards from (0, 0), on a page of its own height."""
    height = drawn.height_mm + 2 * PAD_MM
    marks = placed(drawn.marks, 1.0, (left, height - PAD_MM))
    return Page(name=name, width_mm=width_mm, height_mm=height, marks=marks, alt=alt)


# --- Corner triangle ----------------------------------------------------------------------------------------


def cap_page(sheet: Sheet, *, name: str, alt: str) -> Page:
    """The cap goes on the folded triangle."""
    model = sheet.model
    triangle = triangle_faces(model)
    glued = tuple(
        dataclasses.replace(face, glue=(_inset(face.outline),), glue_side="face") if face.name == "triangle" else face
        for face in triangle
    )
    lifted = cap_face(model, SMALL_LIFT_MM, emphasis=True)
    action = ((*glued, lifted), (_down(sheet, lifted.outline, SMALL_LIFT_MM),))
    return _solid(sheet, [action, ((*triangle, cap_face(model)), ())], name=name, alt=alt, most=0.62)


def triangle_page(sheet: Sheet, *, name: str, alt: str) -> Page:
    """The triangle with its cap goes into the corner; glue where its flaps meet the walls."""
    model = sheet.model
    box = _glued_walls(model)
    lifted = (*triangle_faces(model, LIFTED_MM), cap_face(model, LIFTED_MM, emphasis=True))
    arrow = _down(sheet, lifted[0].outline, LIFTED_MM)
    done = (*model.box, *triangle_faces(model), cap_face(model))
    return _solid(sheet, [((*box, *lifted), (arrow,)), (done, ())], name=name, alt=alt)


def _glued_walls(model: LidModel) -> tuple[Face3, ...]:
    """The box with glue dots on its walls just where the flaps come to lie."""
    faces = list(model.box)
    for flap in (face for face in triangle_faces(model) if face.name.startswith("flap")):
        normal, middle = normal_of(flap.outline), _middle(flap.outline)
        found = [
            (abs(_dot(normal, _minus(middle, face.outline[0]))), number)
            for number, face in enumerate(faces)
            if abs(_dot(normal, normal_of(face.outline))) > FACING and len(face.folds) < len(face.outline)
        ]
        near = [(off, number) for off, number in found if off <= NEAR_WALL_MM]
        if near:
            number = min(near)[1]
            face = faces[number]
            inside = _dot(normal_of(face.outline), _minus((0.0, 0.0, middle[2]), middle)) > 0.0
            faces[number] = dataclasses.replace(
                face, glue=(*face.glue, _inset(flap.outline)), glue_side="face" if inside else "back"
            )
    return tuple(faces)


# --- Hole ---------------------------------------------------------------------------------------------------


def guide_page(sheet: Sheet, tips: Sequence[Point], *, name: str, alt: str) -> Page:
    """The guide on the back of the lid, edge on edge."""
    turning = sheet.model.turning
    marks = guide_marks(turning, tips)
    lid = marks[0]
    assert isinstance(lid, Stroke)
    paper = Area(paths=(lid.path,), role="paper")
    card = Area(paths=(Path(points=_shifted(lid.path.points, (2.5, -2.5)), closed=True),), role="coloured_shade")
    return _flat((card, paper, *marks), lid.path.points, sheet.size, 0.62, (), name=name, alt=alt)


def by_hand_page(sheet: Sheet, ruler: Ruler, *, name: str, alt: str) -> Page:
    """The box upside down on the lid's back, and the corner with what is measured."""
    turning = sheet.model.turning
    left = 0.5 * (sheet.size[0] - WHOLE_MM - CLOSE_MM - 8.0)
    marks = (
        *whole_picture(turning, left, -6.0),
        *close_picture(turning, ruler, left + WHOLE_MM + 8.0, 0.0),
    )
    return drawn_page(Drawn(marks=marks, height_mm=CLOSE_MM), 0.0, name=name, alt=alt, width_mm=sheet.size[0])


def mark_page(sheet: Sheet, *, name: str, alt: str) -> Page:
    """The pierced layers go on the box as they close; the hole marks the triangle."""
    model = sheet.model
    box = (*model.box, *triangle_faces(model), cap_face(model))
    count = top_pierced(model) + 1
    hole = model.turning.lid.fastener.hole_mm
    top = layer_height(model, count - 1) + 0.2
    up = layer_faces(model, last=count, lifted_mm=LIFTED_MM, heavy=True)
    on = (*layer_faces(model, last=count), disc_face(model, "hole", hole, top))
    point = model.turning.lid.hole
    above = Arrow3(points=((*point, top + LIFTED_MM), (*point, top)))
    action = ((*box, *up, disc_face(model, "hole", hole, top + LIFTED_MM)), (_down(sheet, up[0].outline, LIFTED_MM),))
    return _solid(sheet, [action, ((*box, *on), (above,))], name=name, alt=alt)


# --- Fastener -----------------------------------------------------------------------------------------------


def fasten_page(sheet: Sheet, *, name: str, alt: str, language: Language = ENGLISH) -> Page:
    """The lid turned part way and the fastener above its hole; the triangle from below; and the cut through all."""
    model = sheet.model
    turning = model.turning
    opened = turning.analysis.opened.angle_deg
    angle = math.copysign(min(PART_WAY_DEG, abs(opened)), opened)
    count = top_pierced(model) + 1
    faces = (
        *model.box,
        *triangle_faces(model),
        cap_face(model),
        *layer_faces(model, angle, last=count),
        head_face(model, LIFTED_MM),
    )
    top = layer_height(model, count - 1)
    arrow = Arrow3(points=((*turning.lid.hole, top + LIFTED_MM), (*turning.lid.hole, top)))
    wide = sheet.size[0] - FROM_BELOW_MM[0]
    part = dataclasses.replace(sheet, size=(wide, 0.62 * sheet.size[1]))
    solid = _solid(part, [(faces, (arrow,))], name=name, alt=alt)
    cut = section_page(
        turning, sheet.colours, name=name, alt=alt, size=(sheet.size[0], 0.5 * sheet.size[1]), language=language
    )
    below = from_below(model, language=language)
    marks = (
        *placed(solid.marks, 1.0, (0.0, cut.height_mm)),
        *placed(below.marks, 1.0, (wide, cut.height_mm + 0.5 * (solid.height_mm + below.height_mm))),
        *cut.marks,
    )
    height = cut.height_mm + solid.height_mm
    return Page(name=name, width_mm=sheet.size[0], height_mm=height, marks=marks, alt=alt)


def from_below(model: LidModel, *, language: Language = ENGLISH) -> Drawn:
    """The triangle from below with the opened legs along its long edge, from the upper left corner."""
    box, lid = model.turning.box, model.turning.lid
    ix, iy = box.into
    strip = model.triangle.tree.piece.blank_height_mm

    def at(point: Point) -> Point:
        x, y = point[0] - box.corner[0], point[1] - box.corner[1]
        return (-(x * iy - y * ix), -(x * ix + y * iy))

    scale = (FROM_BELOW_MM[0] - 4.0) / (2.0 * strip)
    outline = tuple(at(point) for point in box.triangle)
    hole = at(lid.hole)
    top = max(layer.high_mm for layer in lid.layers if layer.pierced)
    leg = max(0.0, lid.fastener.legs_mm - top - lid.triangle_layers_mm)
    marks: list[Mark] = [
        Area(paths=(Path(points=outline, closed=True),), role="plain_shade"),
        Stroke(path=Path(points=outline, closed=True), role="outline", name="triangle"),
    ]
    if leg > 0.0:
        bar = tuple(
            (hole[0] + x, hole[1] + y)
            for x, y in ((-leg, -LEG_HALF_MM), (leg, -LEG_HALF_MM), (leg, LEG_HALF_MM), (-leg, LEG_HALF_MM))
        )
        marks += [
            Area(paths=(Path(points=bar, closed=True),), role="coloured_shade", name="legs"),
            Stroke(path=Path(points=bar, closed=True), role="edge", name="legs"),
        ]
    if lid.fastener.back_mm > 0.0:
        back = Path(points=circle(hole, 0.5 * lid.fastener.back_mm), closed=True)
        marks += [Area(paths=(back,), role="coloured_shade", name="back"), Stroke(path=back, role="edge", name="back")]
    ring = Path(points=circle(hole, 0.5 * lid.fastener.hole_mm), closed=True)
    marks += [Area(paths=(ring,), role="ink"), Stroke(path=ring, role="edge")]
    drawn = list(placed(marks, scale, (0.5 * FROM_BELOW_MM[0], -8.0)))
    low = -8.0 - strip * scale
    for text, y in ((language.lid.from_below, -4.0), (language.lid.long_edge, low - 5.0)):
        drawn.append(Label(text=text, at=(0.5 * FROM_BELOW_MM[0], y), role="label", size_pt=TEXT_PT, anchor="middle"))
    return Drawn(marks=tuple(drawn), height_mm=8.0 - low)


# --- Layers -------------------------------------------------------------------------------------------------


def layer_page(sheet: Sheet, number: int, *, name: str, alt: str) -> Page:
    """Layer ``number`` (0 is the lowest) goes on the ones below it, over the head where that is there by then."""
    model = sheet.model
    layer = model.turning.lid.layers[number]
    below = list(layer_faces(model, last=number))
    after = list(layer_faces(model, last=number + 1))
    shape = Shape(layer.outline).intersection(Shape(model.turning.lid.layers[number - 1].outline))
    glue = shape.buffer(-GLUE_IN_MM).simplify(0.5)
    height = below[-1].outline[0][2]
    if isinstance(glue, Shape) and not glue.is_empty:
        ring = tuple((float(x), float(y), height) for x, y in glue.exterior.coords[:-1])
        below[-1] = dataclasses.replace(below[-1], glue=(ring,), glue_side="face")
    if not layer.pierced:
        below.append(head_face(model))
        if number == top_pierced(model) + 1:
            after.insert(number, head_face(model))
    lifted = layer_faces(model, first=number, last=number + 1, lifted_mm=LIFTED_MM, heavy=True)
    action = ((*below, *lifted), (_down(sheet, lifted[0].outline, LIFTED_MM),))
    return _solid(sheet, [action, (tuple(after), ())], name=name, alt=alt, most=0.7)


def greeting_page(sheet: Sheet, *, name: str, alt: str, language: Language = ENGLISH) -> Page:
    """The closed lid from above, the chosen front towards the reader, and the greeting square to it."""
    turning = sheet.model.turning
    turn = FRONT_TURNS[turning.analysis.front]
    greeting = next(number for number, layer in enumerate(turning.lid.layers) if layer.greeting)
    marks: list[Mark] = [
        *layer_marks(turning, sheet.colours, 0.0),
        Stroke(path=Path(points=turning.box.rim, closed=True), role="hidden", name="rim"),
    ]
    turned = _turned(marks, turn)
    whole = affinity.rotate(Shape(turning.lid.layers[0].outline), turn, origin=(0.0, 0.0))
    points = tuple((float(x), float(y)) for x, y in whole.exterior.coords)
    middle = affinity.rotate(Shape(turning.lid.layers[greeting].outline), turn, origin=(0.0, 0.0)).centroid
    near = min(y for _, y in points)
    labels = (
        Label(text=language.lid.greeting_here, at=(middle.x, middle.y), role="heading", size_pt=14.0, anchor="middle"),
        Label(text=language.lid.front, at=(0.0, near), role="size", size_pt=TEXT_PT, anchor="middle"),
    )
    return _flat(turned, points, sheet.size, 0.7, labels, name=name, alt=alt)


# --- Putting on a page --------------------------------------------------------------------------------------


def _solid(
    sheet: Sheet,
    scenes: Sequence[tuple[tuple[Face3, ...], tuple[Arrow3, ...]]],
    *,
    name: str,
    alt: str,
    most: float = 1.0,
) -> Page:
    """Scenes in the common view, side by side; ``most`` is the share of the height that they may take."""
    row = [
        Scene(
            faces=turned_faces(faces, sheet.quarter_deg),
            arrows=tuple(Arrow3(points=turned_points(arrow.points, sheet.quarter_deg)) for arrow in arrows),
            view=sheet.view,
        )
        for faces, arrows in scenes
    ]
    scale = row_scale([row], (sheet.size[0], most * sheet.size[1]))
    return row_page(row, mm_per_mm=scale, name=name, alt=alt, width_mm=sheet.size[0])


def _flat(
    marks: Sequence[Mark],
    round_points: Sequence[Point],
    size: tuple[float, float],
    most: float,
    labels: Sequence[Label],
    *,
    name: str,
    alt: str,
) -> Page:
    """Marks in mm of card in the middle of a page; a label at the lowest edge stands under it."""
    xs, ys = [x for x, _ in round_points], [y for _, y in round_points]
    below = 8.0 if labels else 3.0
    scale = min((size[0] - 2 * PAD_MM) / (max(xs) - min(xs)), most * size[1] / (max(ys) - min(ys)))
    height = (max(ys) - min(ys)) * scale + 2 * PAD_MM + below
    shift = (0.5 * size[0] - 0.5 * (max(xs) + min(xs)) * scale, PAD_MM + below - min(ys) * scale)
    drawn = list(placed(marks, scale, shift))
    for label in labels:
        x, y = label.at[0] * scale + shift[0], label.at[1] * scale + shift[1]
        drop = -6.0 if label.role == "size" else -1.5
        drawn.append(dataclasses.replace(label, at=(x, y + drop)))
    return Page(name=name, width_mm=size[0], height_mm=height, marks=tuple(drawn), alt=alt)


def _down(sheet: Sheet, outline: Sequence[Point3], by_mm: float) -> Arrow3:
    """Straight down from the corner of an outline that is lowest in the picture."""
    marks = project(sheet.view, turned_points(outline, sheet.quarter_deg))
    x, y, z = outline[min(range(len(marks)), key=lambda n: (round(marks[n][1], 3), marks[n][0]))]
    return Arrow3(points=((x, y, z), (x, y, z - by_mm)))


def _inset(outline: Sequence[Point3]) -> tuple[Point3, ...]:
    """A flat outline drawn in towards its middle, as far as glue is kept from an edge."""
    mx, my, mz = _middle(outline)
    k = GLUE_SHARE
    return tuple((mx + k * (x - mx), my + k * (y - my), mz + k * (z - mz)) for x, y, z in outline)


def _middle(points: Sequence[Point3]) -> Point3:
    count = len(points)
    return (sum(p[0] for p in points) / count, sum(p[1] for p in points) / count, sum(p[2] for p in points) / count)


def _minus(a: Point3, b: Point3) -> Point3:
    return (a[0] - b[0], a[1] - b[1], a[2] - b[2])


def _dot(a: Point3, b: Point3) -> float:
    return a[0] * b[0] + a[1] * b[1] + a[2] * b[2]


def _shifted(points: Sequence[Point], by: Point) -> tuple[Point, ...]:
    return tuple((x + by[0], y + by[1]) for x, y in points)


def _turned(marks: Sequence[Mark], angle_deg: float) -> tuple[Mark, ...]:
    cosine, sine = math.cos(math.radians(angle_deg)), math.sin(math.radians(angle_deg))
    return mapped(marks, lambda at: (at[0] * cosine - at[1] * sine, at[0] * sine + at[1] * cosine))
