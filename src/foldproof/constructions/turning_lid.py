"""A layered lid that turns on a brad, an eyelet or a snap in one corner of a box: triangle, its cap, the layers.

The triangle is a strip twice as long as wide. Both ends are folded back at 45 degrees from the middle of one long
side, to the corners of the other; the two ends are tabs that are glued inside the walls.
"""

from __future__ import annotations

import math
from dataclasses import dataclass
from itertools import pairwise

from foldproof.constructions.fasteners import KINDS, USUAL, fastener_conflicts, fastener_sizes
from foldproof.constructions.parameters import (
    Card,
    LengthOrOpen,
    Open,
    a_choice,
    a_count,
    a_length,
    a_length_or_choice,
    a_list,
    a_part,
    a_shape,
    a_text,
    a_weight,
    an_angle,
)
from foldproof.constructions.record import Axis, Conflict, Construction
from foldproof.geometry.plane import Point, Polygon, anticlockwise, inset
from foldproof.lengths import ZERO, Length
from foldproof.outlines.catalogue import FORMULAS, draw, formula_named
from foldproof.outlines.disc import disc
from foldproof.outlines.own import OwnShape, at_size
from foldproof.outlines.record import Formula, Shape
from foldproof.pattern.layout import PieceLayout, Position
from foldproof.pattern.records import Assembly, Crease, Panel, Piece, Placement

TRIANGLE, CAP, DISC = "triangle", "cap", "disc"
QUARTER_TURN_RAD = 0.5 * math.pi
CAP_SMALLER_MM = 0.8  # the cap is drawn in by this much, 1/32 in, so that it never stands out over the triangle
SIZES = ("across", "side")  # what a formula calls the size of its shape
COUNTS = ("lobes", "points", "sides")
DEPTHS = ("depth", "corner_radius")
TIP, DIP, AS_DRAWN = "tip over the corner", "dip over the corner", "as drawn"
AS_LID, AS_CARD, NO_DISC = "as the lid", "as the cardstock", "none"


@dataclass(frozen=True, slots=True, kw_only=True)
class LidLayerValues:
    """One layer, lowest first."""

    across: Length | str = a_length_or_choice("its size", AS_LID, least="10 mm")
    colour: str = a_text("what you call its card", default="cardstock")
    fill: str = a_text("its colour in drawings, as #rrggbb", default="#fbf7ee", form="colour")
    turned: float | str = an_angle("how far it is turned against the lid, in degrees", "not turned")
    fixed: str = a_choice("what fixes it to the layer below", "wet glue", "hot glue", "foam")
    foam: Length = a_length("how thick the foam is", least="0.5 mm", most="10 mm", default=("1/16 in", "1.5 mm"))
    brad: str = a_choice("does the brad go through it", "through", "hidden under it")
    edge: str = a_choice("its edge", "flat", "hanging", "lifted")
    edge_by: Length = a_length("how far the edge hangs or lifts", least="0 mm", most="30 mm", default=("0 in", "0 mm"))
    border: Length = a_length("how wide the shaped edge is", least="1 mm", most="100 mm", default=("1/4 in", "6 mm"))
    thickness: Length | str = a_length_or_choice("how thick its card is", AS_CARD, least="0.03 mm", most="2 mm")
    weight: str = a_weight("how heavy its card is, such as 216 gsm or 80 lb cover", AS_CARD)
    greeting: str = a_choice("does it carry a greeting that has a right way up", "no", "yes")


@dataclass(frozen=True, slots=True, kw_only=True)
class TurningLidValues:
    """The values of a turning lid."""

    on: str = a_part("the part that it closes")
    shape: str | OwnShape = a_shape(
        "its shape, by formula or one of your own under [shapes]", *(formula.name for formula in FORMULAS)
    )
    across: LengthOrOpen = a_length(
        "its size from tip to tip, or the side of a square", may_be_open=True, open_beside_own=True
    )
    lobes: int | str = a_count("how many lobes, points or sides", USUAL, fewest=3, top=48)
    depth: Length | str = a_length_or_choice(
        "how deep the lobes or points are, or how round the corners", USUAL, least="0.5 mm"
    )
    corner: str = a_choice("the corner that carries the brad", "back left", "back right", "front left", "front right")
    closed: float | str | Open = an_angle(
        "how it lies when closed, in degrees", TIP, DIP, AS_DRAWN, may_be_open=True
    )
    moved_right: LengthOrOpen = a_length(
        "how far its middle lies right of the box's when closed",
        least="-100 mm",
        most="100 mm",
        default=("0 in", "0 mm"),
        may_be_open=True,
    )
    moved_back: LengthOrOpen = a_length(
        "how far its middle lies behind the box's when closed",
        least="-100 mm",
        most="100 mm",
        default=("0 in", "0 mm"),
        may_be_open=True,
    )
    strip: Length = a_length("width of the strip for the corner triangle", most="100 mm", default=("1 in", "2.5 cm"))
    hole_from_corner: LengthOrOpen = a_length(
        "the hole, from the inner corner along the diagonal", least="3 mm", most="200 mm", may_be_open=True
    )
    hole_beside: LengthOrOpen = a_length(
        "how far the hole lies to the right of that diagonal, as you look down on the closed lid; below 0 to the left",
        least="-100 mm",
        most="100 mm",
        default=("0 in", "0 mm"),
        may_be_open=True,
    )
    opens: str = a_choice("which way it opens", "either way", "to the left", "to the right")
    fastener: str = a_choice("what it turns on", *KINDS)
    hole: Length | str = a_length_or_choice("how wide a hole it needs", USUAL, least="1 mm", most="15 mm")
    head: Length | str = a_length_or_choice(
        "how wide the brad's head, the eyelet's flange or the snap's cap is", USUAL, least="2 mm", most="40 mm"
    )
    legs: Length | str = a_length_or_choice("how long the brad's legs are", USUAL, least="2 mm", most="60 mm")
    barrel: Length | str = a_length_or_choice(
        "how long the eyelet's barrel is under its flange", USUAL, least="1 mm", most="20 mm"
    )
    back: Length | str = a_length_or_choice(
        "how wide the set eyelet's back or the snap's socket is", USUAL, least="2 mm", most="40 mm"
    )
    grip_least: Length | str = a_length_or_choice(
        "the least thickness of card that the snap grips", USUAL, least="0 mm", most="10 mm"
    )
    grip_most: Length | str = a_length_or_choice(
        "the most thickness of card that the snap grips", USUAL, least="0.2 mm", most="20 mm"
    )
    reinforce: Length | str = a_length_or_choice(
        "how wide a disc of card is glued round the hole, on the lid's back", NO_DISC, least="10 mm", most="100 mm"
    )
    layers: tuple[LidLayerValues, ...] = a_list(
        "its layers, lowest first", LidLayerValues, top=40, usual=({}, {"brad": "hidden under it"})
    )


# --- Shapes -------------------------------------------------------------------------------------------------


def shape_name(values: TurningLidValues) -> str:
    """What the lid's shape is called: its formula, or the maker's own name for it."""
    return values.shape.name if isinstance(values.shape, OwnShape) else values.shape


def formula_of(values: TurningLidValues) -> Formula | None:
    """The formula of the lid's shape; None for a shape of the maker's own."""
    return None if isinstance(values.shape, OwnShape) else formula_named(values.shape)


def owned_sizes(values: TurningLidValues) -> tuple[Length, ...]:
    """The sizes of the lid's shape that the maker owns, rising; none when she can cut it at any size."""
    return values.shape.sizes if isinstance(values.shape, OwnShape) else ()


def shape_arguments(values: TurningLidValues, across_mm: float) -> dict[str, float]:
    """The values of the lid's formula, by the formula's own names. A shape of the maker's own has none."""
    formula = formula_of(values)
    assert formula is not None, "the choices are the formulas' names"
    found: dict[str, float] = {}
    for value in formula.values:
        if value.name in SIZES:
            found[value.name] = across_mm
        elif value.name in COUNTS:
            found[value.name] = value.usual if isinstance(values.lobes, str) else float(values.lobes)
        elif value.name in DEPTHS:
            found[value.name] = value.usual if isinstance(values.depth, str) else values.depth.float_mm
    return found


def lid_shape(values: TurningLidValues, across_mm: float) -> Shape:
    """The lid's shape at one size; conflicts have been told before."""
    if isinstance(values.shape, OwnShape):
        return at_size(values.shape, across_mm)
    formula = formula_of(values)
    assert formula is not None
    drawn = draw(formula, shape_arguments(values, across_mm))
    assert isinstance(drawn, Shape), "a shape that does not fit is refused before it is drawn"
    return drawn


def turned_rad(values: TurningLidValues, shape: Shape, corner: Point) -> float:
    """How far the drawn shape is turned when the lid is closed; ``corner`` is the direction of the box's corner.

    Not at all while that is open.
    """
    if isinstance(values.closed, Open):
        return 0.0
    if isinstance(values.closed, float):
        return math.radians(values.closed)
    wanted = {TIP: "tip", DIP: "dip"}.get(values.closed)
    marks = [mark for mark in shape.landmarks if mark.kind == wanted]
    if not marks:
        return 0.0
    bearing = math.atan2(corner[1], corner[0])
    return bearing - math.atan2(marks[0].at_mm[1], marks[0].at_mm[0])


def placed_outline(shape: Shape, turn_rad: float, shift: Point = (0.0, 0.0)) -> Polygon:
    """The shape's outline turned and shifted."""
    cosine, sine = math.cos(turn_rad), math.sin(turn_rad)
    return tuple((x * cosine - y * sine + shift[0], x * sine + y * cosine + shift[1]) for x, y in shape.outline)


def closed_shift(values: TurningLidValues) -> Point:
    """How far the lid's middle lies from the box's when closed, in mm; nothing while that is open."""
    right, back = values.moved_right, values.moved_back
    return (
        right.float_mm if isinstance(right, Length) else 0.0,
        back.float_mm if isinstance(back, Length) else 0.0,
    )


def layer_across(values: TurningLidValues, layer: LidLayerValues, across: Length) -> Length:
    """A layer's own size."""
    return layer.across if isinstance(layer.across, Length) else across


# --- Conflicts ----------------------------------------------------------------------------------------------


def conflicts(values: TurningLidValues) -> tuple[Conflict, ...]:
    """Shapes that cannot be, legs and heads that cannot go, greetings that contradict."""
    found = _shape_conflicts(values)
    found += fastener_conflicts(values)
    hole = max(fastener_sizes(values, "in").hole, fastener_sizes(values, "cm").hole)
    if isinstance(values.reinforce, Length) and values.reinforce < hole * 2:
        found.append(
            Conflict(name="reinforce", reason="leaves hardly any card round the hole", remedy="four times the hole")
        )
    through = [layer.brad == "through" for layer in values.layers]
    if not through[0]:
        found.append(
            Conflict(
                name="layers", reason="the brad has to go through the lowest layer", remedy='brad = "through" there'
            )
        )
    if any(later and not earlier for earlier, later in pairwise(through)):
        found.append(
            Conflict(
                name="layers",
                reason="the brad cannot go through a layer above one it is hidden under",
                remedy='brad = "hidden under it" there',
            )
        )
    greetings = sum(layer.greeting == "yes" for layer in values.layers)
    if greetings > 1:
        found.append(
            Conflict(
                name="layers",
                reason=f"{greetings} layers carry a greeting, so the lid has {greetings} fronts",
                remedy='greeting = "yes" on one layer',
            )
        )
    elif greetings and values.layers[-1].greeting != "yes":
        found.append(
            Conflict(
                name="layers",
                reason="a layer is glued over the one that carries the greeting",
                remedy='greeting = "yes" on the last layer',
            )
        )
    if any(layer.edge != "flat" and layer.edge_by == ZERO for layer in values.layers):
        found.append(
            Conflict(name="layers", reason="a shaped edge has no height", remedy='edge_by = "1/8 in", or edge = "flat"')
        )
    return tuple(found)


def given_sizes(values: TurningLidValues) -> tuple[Length, ...]:
    """The lid's size and the layers' own sizes, as far as they are known."""
    own = [layer.across for layer in values.layers]
    return tuple(size for size in (values.across, *own) if isinstance(size, Length))


def _shape_conflicts(values: TurningLidValues) -> list[Conflict]:
    formula = formula_of(values)
    known = () if formula is None else tuple(value.name for value in formula.values)
    said = f"{shape_name(values)} is a shape of your own and" if formula is None else f"a {formula.name}"
    found = []
    if not set(COUNTS) & set(known) and not isinstance(values.lobes, str):
        found.append(Conflict(name="lobes", reason=f"{said} has none", remedy="leave it out"))
    if not set(DEPTHS) & set(known) and isinstance(values.depth, Length):
        found.append(Conflict(name="depth", reason=f"{said} has none", remedy="leave it out"))
    if formula is None:
        return found
    names = {**dict.fromkeys(SIZES, "across"), **dict.fromkeys(COUNTS, "lobes"), **dict.fromkeys(DEPTHS, "depth")}
    for size in given_sizes(values):
        drawn = draw(formula, shape_arguments(values, size.float_mm))
        if isinstance(drawn, tuple):
            found += [
                Conflict(
                    name=names[misfit.name],
                    reason=f"{misfit.reason} at a size of {size.float_mm:g} mm",
                    remedy=f"write {misfit.works:g}{' mm' if misfit.name not in COUNTS else ''}"
                    if misfit.works is not None
                    else "leave it out",
                )
                for misfit in drawn
            ]
    return list(dict.fromkeys(found))


def conflicts_on(values: TurningLidValues, host: object) -> tuple[Conflict, ...]:
    """A triangle that does not go into its box, a part with no base to turn over, or with another lid on it."""
    found = []
    sides = [getattr(host, name, None) for name in ("base_length", "base_width")]
    if any(side is None for side in sides):
        return (Conflict(name="on", reason="is no box", remedy="name a tray"),)
    if getattr(host, "lid", "none") != "none":
        found.append(Conflict(name="on", reason="has a lid that lifts off", remedy='lid = "none" there'))
    least = min((side for side in sides if isinstance(side, Length)), default=None)
    leg = values.strip.float_mm * math.sqrt(2.0)
    if least is not None and leg > 0.75 * least.float_mm:
        works = 0.5 * least.float_mm / math.sqrt(2.0)
        found.append(
            Conflict(
                name="strip",
                reason=f"gives a triangle of {leg:.0f} mm a side, too large for a base of {least.float_mm:.0f} mm",
                remedy=f"write {works:.0f} mm",
            )
        )
    return tuple(found)


# --- Pieces -------------------------------------------------------------------------------------------------


def lay_out(values: TurningLidValues, card: Card) -> tuple[PieceLayout, ...]:
    """Triangle, cap, and every layer: none is scored along its edges."""
    across = _known(values.across)
    found = [_layout(TRIANGLE, values.strip * 2, values.strip), _layout(CAP, values.strip * 2, values.strip)]
    if isinstance(values.reinforce, Length):
        found.append(_layout(DISC, values.reinforce, values.reinforce))
    for number, layer in enumerate(values.layers, start=1):
        size = layer_across(values, layer, across)
        found.append(_layout(layer_piece(number), size, size))
    return tuple(found)


def layer_piece(number: int) -> str:
    """Piece id of a layer, counted from 1, lowest first."""
    return f"layer_{number}"


def is_layer(piece: str) -> bool:
    """Whether a piece is a layer, and not triangle, cap or disc."""
    return piece.startswith("layer_")


def _known(value: LengthOrOpen) -> Length:
    assert not isinstance(value, Open), "open values are solved before anything is laid out"
    return value


def _layout(piece: str, width: Length, height: Length) -> PieceLayout:
    size = (Position(name="size", at=width),)
    return PieceLayout(piece=piece, width=width, height=height, across=(), up=(), measures=size)


def build(values: TurningLidValues, card: Card, layouts: tuple[PieceLayout, ...]) -> Assembly:
    """The pieces from their layouts; where they go on the box is worked out with the box."""
    strip = layouts[0].height.float_mm
    pieces = [triangle_piece(strip), cap_piece(strip)]
    pieces += [disc_piece(layout.measure_mm("size")) for layout in layouts if layout.piece == DISC]
    layers = [layout for layout in layouts if is_layer(layout.piece)]
    for number, layout in enumerate(layers, start=1):
        pieces.append(_layer_piece(values, number, layout.measure_mm("size")))
    return Assembly(
        pieces=tuple(pieces),
        placements=tuple(Placement(piece=piece.id, upside_down=False, shift_mm=(0.0, 0.0, 0.0)) for piece in pieces),
        joins=(),
    )


def triangle_piece(strip_mm: float) -> Piece:
    """The strip: its middle triangle, and the two ends that fold back as tabs from the middle of the near side."""
    w = strip_mm
    middle, left, right = (w, 0.0), (0.0, w), (2 * w, w)
    return Piece(
        id=TRIANGLE,
        blank_width_mm=2 * w,
        blank_height_mm=w,
        root="triangle",
        panels=(
            Panel(id="triangle", kind="triangle", place="", outline=(left, middle, right)),
            Panel(id="flap_left", kind="flap", place="left", outline=((0.0, 0.0), middle, left)),
            Panel(id="flap_right", kind="flap", place="right", outline=(middle, (2 * w, 0.0), right)),
        ),
        creases=(
            _back_fold("flap_left", (middle, left)),
            _back_fold("flap_right", (middle, right)),
        ),
    )


def _back_fold(child: str, line: tuple[Point, Point]) -> Crease:
    return Crease(
        id=f"fold_{child}",
        parent="triangle",
        child=child,
        line=line,
        direction="mountain",
        scored_face="face",
        target_rad=QUARTER_TURN_RAD,
        family="triangle_flaps",
    )


def cap_piece(strip_mm: float) -> Piece:
    """The slightly smaller triangle that is glued on top and comes level with the rim."""
    w = strip_mm
    whole = anticlockwise(((0.0, w), (w, 0.0), (2 * w, w)))
    smaller = inset(whole, CAP_SMALLER_MM)
    return Piece(
        id=CAP,
        blank_width_mm=2 * w,
        blank_height_mm=w,
        root="cap",
        panels=(Panel(id="cap", kind="cap", place="", outline=smaller[0]),),
        creases=(),
    )


def disc_piece(across_mm: float) -> Piece:
    """The disc of card that is glued round the hole, on the back of the lowest layer."""
    drawn = disc(across_mm=across_mm)
    assert isinstance(drawn, Shape), "a disc is drawn at every size that its value may have"
    half = 0.5 * across_mm
    return Piece(
        id=DISC,
        blank_width_mm=across_mm,
        blank_height_mm=across_mm,
        root="disc",
        panels=(Panel(id="disc", kind="disc", place="", outline=placed_outline(drawn, 0.0, (half, half))),),
        creases=(),
    )


def _layer_piece(values: TurningLidValues, number: int, across_mm: float) -> Piece:
    shape = lid_shape(values, across_mm)
    xs, ys = [x for x, _ in shape.outline], [y for _, y in shape.outline]
    outline = placed_outline(shape, 0.0, (-min(xs), -min(ys)))
    return Piece(
        id=layer_piece(number),
        blank_width_mm=max(xs) - min(xs),
        blank_height_mm=max(ys) - min(ys),
        root="layer",
        panels=(Panel(id="layer", kind="layer", place=str(number), outline=outline),),
        creases=(),
    )


def nothing_inside(values: TurningLidValues) -> tuple[int, int]:
    """A lid holds no content: no layers of walls beside it."""
    return (0, 0)


CONSTRUCTION = Construction(
    name="turning lid",
    revision=1,
    parameters=TurningLidValues,
    summary="a layered lid that turns on a brad in one corner of a tray",
    axes=(Axis(values=()), Axis(values=())),
    content_layers=nothing_inside,
    conflicts=conflicts,
    lay_out=lay_out,
    build=build,
    conflicts_on=conflicts_on,
)
