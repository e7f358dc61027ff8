"""A turning lid on its box, put together from both measured parts and analysed."""

from __future__ import annotations

from dataclasses import dataclass
from typing import Any

import numpy as np

from foldproof.constructions.fasteners import BRAD, EYELET, FastenerSizes, fastener_sizes
from foldproof.constructions.turning_lid import (
    AS_CARD,
    TRIANGLE,
    LidLayerValues,
    TurningLidValues,
    closed_shift,
    is_layer,
    layer_piece,
    lid_shape,
    placed_outline,
    turned_rad,
)
from foldproof.folding.joints import FoldedPiece, JointClash, joint_clashes
from foldproof.geometry.plane import signed_area
from foldproof.lengths import Length
from foldproof.lids.beside import apart_mm
from foldproof.lids.box import CORNERS, hole_at, turning_box
from foldproof.lids.heights import Press, catches, presses
from foldproof.lids.records import (
    Catch,
    Fastener,
    LidAnalysis,
    LidLayer,
    Reinforcement,
    TurningBox,
    TurningLid,
)
from foldproof.lids.turning import LidLimits, analyse, covering_outline
from foldproof.outlines.record import Shape
from foldproof.pattern.measured import MeasuredPiece
from foldproof.pattern.records import Assembly, BoxForm, Joint, Placement
from foldproof.project.records import Project
from foldproof.stock.paper import MIDDLE_BULK, MILL_THICKNESS_TOLERANCE, estimate_thickness, read_weight

HOT_GLUE_MM = 0.5  # what a thin line of hot glue adds when pressed; value from memory
USUAL_GSM = 200.0  # mass of card whose weight was not given, for tipping only; common practice, no source
GLUE_GSM = 30.0  # dried glue on a whole face; value from memory
FOAM_KG_M3 = 60.0  # craft foam with its adhesive; value from memory
FOAM_SHARE = 0.3  # of a layer's face that carries foam; common practice, no source
FASTENER_G = {"brad": 0.5, "eyelet": 0.3, "snap": 0.6}  # small ones; values from memory
INTO_BOX_MM = 30.0  # the triangle is tried on its way down from this far above its place


@dataclass(frozen=True, slots=True, kw_only=True)
class Turning:
    """A turning lid with its box: what was analysed, and what it gave.

    ``catches`` are hanging edges that meet something, ``presses`` lifted ones that reach into the layer over them.
    ``apart_mm`` is the least distance between two such boxes, side by side and one behind the other, at which either
    lid can turn. ``triangle_clashes`` are panels the triangle meets on its way into the corner; ``flap_spare_mm`` is
    wall left below the triangle's flaps; ``greeting`` tells that one layer has a right way up.
    """

    box: TurningBox
    lid: TurningLid
    limits: LidLimits
    analysis: LidAnalysis
    catches: tuple[Catch, ...]
    presses: tuple[Press, ...]
    apart_mm: tuple[float, float]
    triangle_clashes: tuple[JointClash, ...]
    flap_spare_mm: float
    greeting: bool


def lid_limits(project: Project) -> LidLimits:
    """The limits an analysis needs, from the project's settings."""
    checks, folding = project.checks, project.folding
    return LidLimits(
        hole_off_mm=checks.hole_off_mm,
        turn_off_deg=checks.turn_off_deg,
        cover_fail_mm=checks.cover_fail_mm,
        opens_fail_percent=checks.opens_fail_percent,
        hole_edge_mm=checks.hole_edge_mm,
        leg_opening_mm=checks.leg_opening_mm,
        finger_mm=folding.finger_mm,
        finger_reach_mm=folding.finger_reach_mm,
    )


def box_of(project: Project, values: TurningLidValues, host: Assembly) -> TurningBox:
    """The box of a lid: the host's first folded piece, with the lid's triangle in its corner."""
    form = host.forms[0]
    gsm = project.cardstock.weight.gsm if project.cardstock.weight else USUAL_GSM
    piece = next(piece for piece in host.pieces if piece.id == form.piece)
    area_mm2 = sum(abs(signed_area(panel.outline)) for panel in piece.panels)
    mass_g = area_mm2 * 1e-6 * (gsm + GLUE_GSM)
    return turning_box(form, values.corner, values.strip.float_mm, project.cardstock.thickness.high_mm, mass_g)


def closed_turn_rad(values: TurningLidValues, shape: Shape, box: TurningBox) -> float:
    """How far the shape is turned when closed: a tip or dip lies along the line from the box's middle to its corner."""
    sx, sy = CORNERS[box.place]
    return turned_rad(values, shape, (sx * max(x for x, _ in box.rim), sy * max(y for _, y in box.rim)))


def lid_on(
    project: Project, values: TurningLidValues, box: TurningBox, sizes_mm: tuple[float, ...], hole_mm: float
) -> TurningLid:
    """The closed lid on the box: ``sizes_mm`` of its layers, ``hole_mm`` from the corner along the diagonal.

    How far the hole lies beside the diagonal is taken from ``values``; not at all while that is open.
    """
    beside_mm = values.hole_beside.float_mm if isinstance(values.hole_beside, Length) else 0.0
    turn = closed_turn_rad(values, lid_shape(values, sizes_mm[0]), box)
    reinforcement = _reinforcement(project, values)
    height = 0.0 if reinforcement is None else reinforcement.thickness_mm
    layers = []
    for number, (layer, size) in enumerate(zip(values.layers, sizes_mm, strict=True), start=1):
        own = np.radians(layer.turned) if isinstance(layer.turned, float) else 0.0
        outline = placed_outline(lid_shape(values, size), turn + float(own), closed_shift(values))
        fixing = _fixing_mm(layer) if number > 1 else 0.0
        thickness, gsm = layer_card(project, layer)
        area_mm2 = abs(signed_area(outline))
        mass = area_mm2 * 1e-6 * (gsm + GLUE_GSM) + area_mm2 * FOAM_SHARE * fixing * FOAM_KG_M3 * 1e-6
        droop = layer.edge_by.float_mm if layer.edge == "hanging" else 0.0
        lift = layer.edge_by.float_mm if layer.edge == "lifted" else 0.0
        layers.append(
            LidLayer(
                name=layer_piece(number),
                outline=outline,
                low_mm=height + fixing,
                high_mm=height + fixing + thickness,
                mass_g=mass,
                droop_mm=droop,
                lift_mm=lift,
                border_mm=layer.border.float_mm,
                pierced=layer.brad == "through",
                greeting=layer.greeting == "yes",
            )
        )
        height += fixing + thickness
    return TurningLid(
        layers=tuple(layers),
        fastener=fastener_of(project, fastener_sizes(values, project.unit)),
        hole=hole_at(box, hole_mm, beside_mm),
        triangle_layers_mm=2.0 * project.cardstock.thickness.high_mm,
        reinforcement=reinforcement,
    )


def layer_card(project: Project, layer: LidLayerValues) -> tuple[float, float]:
    """Thickness (the thick end, mm) and weight (g/m2) of a layer's card: its own as far as told, else the cardstock's.

    Of card with only one of the two told the other is estimated.
    """
    card = project.cardstock
    weight = card.weight if layer.weight == AS_CARD else read_weight(layer.weight)
    gsm = USUAL_GSM if weight is None else weight.gsm
    if isinstance(layer.thickness, Length):
        thickness = layer.thickness.float_mm
        return thickness * (1.0 + float(MILL_THICKNESS_TOLERANCE)), (
            thickness * 1000.0 / MIDDLE_BULK if layer.weight == AS_CARD else gsm
        )
    return card.thickness.high_mm if layer.weight == AS_CARD else estimate_thickness(gsm).high_mm, gsm


def _reinforcement(project: Project, values: TurningLidValues) -> Reinforcement | None:
    """The disc round the hole, of the project's cardstock."""
    if not isinstance(values.reinforce, Length):
        return None
    gsm = project.cardstock.weight.gsm if project.cardstock.weight else USUAL_GSM
    across = values.reinforce.float_mm
    return Reinforcement(
        diameter_mm=across,
        thickness_mm=project.cardstock.thickness.high_mm,
        mass_g=0.25 * np.pi * across * across * 1e-6 * (gsm + GLUE_GSM),
    )


def _fixing_mm(layer: LidLayerValues) -> float:
    """What lies between a layer and the one below it."""
    if layer.fixed == "foam":
        return layer.foam.float_mm
    return HOT_GLUE_MM if layer.fixed == "hot glue" else 0.0


def fastener_of(project: Project, sizes: FastenerSizes) -> Fastener:
    """The fastener as a lid sees it: from its measures, the card it holds."""
    limits = project.checks
    if sizes.kind == BRAD:
        least, most = 0.0, sizes.legs.float_mm - limits.leg_opening_mm
    elif sizes.kind == EYELET:
        least, most = (
            sizes.barrel.float_mm - limits.eyelet_out_most_mm,
            sizes.barrel.float_mm - limits.eyelet_out_least_mm,
        )
    else:
        least, most = sizes.grip_least.float_mm, sizes.grip_most.float_mm
    return Fastener(
        kind=sizes.kind,
        hole_mm=sizes.hole.float_mm,
        head_mm=sizes.head.float_mm,
        legs_mm=sizes.legs.float_mm,
        back_mm=sizes.back.float_mm,
        least_mm=max(0.0, least),
        most_mm=most,
        mass_g=FASTENER_G[sizes.kind],
    )


def gather_turning(
    project: Project,
    values: Any,
    pieces: tuple[MeasuredPiece, ...],
    folded: dict[str, FoldedPiece],
    host: Assembly,
    host_folded: dict[str, FoldedPiece],
) -> Turning:
    """Puts the marked lid on the marked box and analyses it."""
    box = box_of(project, values, host)
    assert isinstance(values.hole_from_corner, Length), "open values are solved before a lid is judged"
    sizes = tuple(piece.marked.measure_mm("size") for piece in pieces if is_layer(piece.piece.id))
    lid = lid_on(project, values, box, sizes, values.hole_from_corner.float_mm)
    limits = lid_limits(project)
    form = host.forms[0]
    triangle = folded[TRIANGLE]
    placement = _triangle_place(box, form, values, triangle)
    together = Assembly(
        pieces=(host_folded[form.piece].tree.piece, triangle.tree.piece),
        placements=(Placement(piece=form.piece, upside_down=False, shift_mm=(0.0, 0.0, 0.0)), placement),
        joins=(),
    )
    way = Joint(
        id="triangle_in",
        kind="prismatic",
        fixed=form.piece,
        moving=TRIANGLE,
        axis=(0.0, 0.0, 1.0),
        travel_mm=INTO_BOX_MM,
    )
    both = {form.piece: host_folded[form.piece], TRIANGLE: triangle}
    flap_mm = values.strip.float_mm / float(np.sqrt(2.0))
    analysis = analyse(box, lid, values.opens, limits)
    contact = project.folding.contact_limit_mm(project.cardstock.thickness.high_mm)
    return Turning(
        box=box,
        lid=lid,
        limits=limits,
        analysis=analysis,
        catches=catches(box, lid, contact),
        presses=presses(lid, contact),
        apart_mm=apart_mm(box, covering_outline(lid), lid.hole, analysis.opened.angle_deg),
        triangle_clashes=joint_clashes(together, both, way, project.folding),
        flap_spare_mm=form.rim_mm - 2.0 * project.cardstock.thickness.high_mm - flap_mm,
        greeting=any(layer.greeting for layer in lid.layers),
    )


def _triangle_place(box: TurningBox, form: BoxForm, values: TurningLidValues, triangle: FoldedPiece) -> Placement:
    """The folded triangle in the corner: its right angle at the inner corner, one cap and itself below the rim."""
    thickness = triangle.layers.thickness_mm
    strip = values.strip.float_mm
    sx, sy = CORNERS[box.place]
    # Flat, the triangle's bisector points along +y from its right angle at (strip, 0).
    turned = np.degrees(np.arctan2(-sy, -sx)) - 90.0
    corner = (
        form.centre[0] + box.corner[0] - sx * 0.5 * thickness,
        form.centre[1] + box.corner[1] - sy * 0.5 * thickness,
    )
    cosine, sine = np.cos(np.radians(turned)), np.sin(np.radians(turned))
    return Placement(
        piece=TRIANGLE,
        upside_down=False,
        turned_deg=float(turned),
        shift_mm=(
            float(corner[0] - strip * cosine),
            float(corner[1] - strip * sine),
            form.rim_mm - 1.5 * thickness,
        ),
    )
