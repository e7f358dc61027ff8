"""Plain tray with glued corner tabs, and the lid that lifts off it: two pieces by one recipe."""

from __future__ import annotations

from dataclasses import dataclass
from fractions import Fraction

from foldproof.constructions.parameters import (
    Card,
    LengthOrOpen,
    Open,
    a_choice,
    a_length,
    a_length_or_choice,
)
from foldproof.constructions.record import Axis, Conflict, Construction
from foldproof.constructions.tray_parts import TrayLines, tray_joins, tray_piece
from foldproof.constructions.tray_values import (
    ADHESIVES,
    allowance_mm,
    box_form,
    content_layers,
    cut_away_conflicts,
    rounded_up,
    tab_length,
    tab_measures,
    tray_lines,
)
from foldproof.lengths import ZERO, Length, length
from foldproof.pattern.layout import PieceLayout, Position
from foldproof.pattern.records import Assembly, Joint, Placement

TRAY, LID = "tray", "lid"
USUAL_EASES = (length(Fraction(1, 8), "in"), length(3, "mm"))  # for inch projects and metric ones; most common
LEAST_LID_WALL = length(5, "mm")  # as the range of lid_wall has it
LIFT_CLEAR_MM = 20.0  # a lid is drawn and tried from this far above the tray


@dataclass(frozen=True, slots=True, kw_only=True)
class PlainTray:
    """The values of a plain tray and its lid. Lengths are those between score lines."""

    base_length: LengthOrOpen = a_length("the base from left to right", may_be_open=True)
    base_width: LengthOrOpen = a_length(
        "the base from front to back", may_be_open=True, default=("as base_length",) * 2
    )
    wall_height: LengthOrOpen = a_length("how tall the tray stands", may_be_open=True)
    lid: str = a_choice("the lid that lifts off", "none", "from a larger piece", "scored nearer the edge")
    lid_wall: Length | str = a_length_or_choice("how far the lid comes down", "as wall_height", least="5 mm")
    lid_ease: Length | str = a_length_or_choice(
        "how much longer and wider the lid is than the tray", "usual", "computed", most="20 mm"
    )
    tab_length: Length | str = a_length_or_choice(
        "how far the corner tabs reach along the side walls",
        "to meet its neighbour",
        "as long as the wall is tall",
        least="4 mm",
    )
    relief: Length = a_length(
        "slanted off the ends of the tabs", default=("1/16 in", "2 mm"), least="0 mm", most="20 mm"
    )
    allowance: Length | str = a_length_or_choice("room for the thickness of the card", "none", "computed", most="5 mm")
    glue: str = a_choice("what the joins are made with", "wet glue", "hot glue", "tape")


def conflicts(values: PlainTray) -> tuple[Conflict, ...]:
    """Contradictory values, each with one that would work."""
    found = list(cut_away_conflicts(values, "wall_height", values.wall_height))
    tab, width = values.tab_length, values.base_width
    if isinstance(tab, Length) and isinstance(width, Length) and tab >= width:
        found.append(
            Conflict(
                name="tab_length",
                reason="as long as the side it lies on, so it hits the other wall",
                remedy="half of base_width",
            )
        )
    if values.lid == "none" and isinstance(values.lid_wall, Length):
        found.append(
            Conflict(name="lid_wall", reason="there is no lid to be so deep", remedy='lid = "from a larger piece"')
        )
    if values.lid == "scored nearer the edge" and isinstance(values.lid_wall, Length):
        found.append(
            Conflict(
                name="lid_wall",
                reason="a lid scored nearer the edge of the same size of piece has its depth from lid_ease",
                remedy='lid = "from a larger piece", or leave lid_wall out',
            )
        )
    if not found and values.lid == "from a larger piece":
        found += cut_away_conflicts(values, "lid_wall", values.lid_wall)
    wall, ease = values.wall_height, values.lid_ease
    if not found and values.lid == "scored nearer the edge" and isinstance(wall, Length):
        lid_wall = wall - (ease if isinstance(ease, Length) else USUAL_EASES[0]) / 2
        if lid_wall < max(values.relief * 3, LEAST_LID_WALL):
            found.append(
                Conflict(
                    name="wall_height",
                    reason="leaves hardly any wall for the lid, which is half of lid_ease shallower",
                    remedy='a taller wall, or lid = "from a larger piece"',
                )
            )
    return tuple(found)


def lid_ease(values: PlainTray, card: Card) -> Length:
    """How much longer and wider the lid's base is than the tray's.

    Usual is 1/8 in or 3 mm (common practice, no source: what most published boxes use); computed is that and twice
    the thickness more, rounded up to the ruler.
    """
    usual = USUAL_EASES[0] if card.ruler.unit == "in" else USUAL_EASES[1]
    if isinstance(values.lid_ease, Length):
        return values.lid_ease
    if values.lid_ease == "usual":
        return usual
    return rounded_up(usual + length(Fraction(str(round(2 * card.thickness_mm, 4))), "mm"), card)


def lay_out(values: PlainTray, card: Card) -> tuple[PieceLayout, ...]:
    """The tray's exact layout, and the lid's when there is one."""
    base_length, base_width, wall = (_known(v) for v in (values.base_length, values.base_width, values.wall_height))
    tray = _one(TRAY, values, card, base_length, base_width, wall)
    if values.lid == "none":
        return (tray,)
    ease = lid_ease(values, card)
    lid_wall = values.lid_wall if isinstance(values.lid_wall, Length) else wall
    if values.lid == "scored nearer the edge":
        lid_wall = wall - ease / 2
    return (tray, _one(LID, values, card, base_length + ease, base_width + ease, lid_wall))


def _known(value: LengthOrOpen) -> Length:
    assert not isinstance(value, Open), "open values are solved before anything is laid out"
    return value


def _one(
    piece: str, values: PlainTray, card: Card, base_length: Length, base_width: Length, wall: Length
) -> PieceLayout:
    measures = tab_measures(
        tab_length(values.tab_length, wall, base_width),
        values.relief,
        allowance_mm(values.allowance, card),
        ZERO,
        ZERO,
    )
    return PieceLayout(
        piece=piece,
        width=base_length + wall * 2,
        height=base_width + wall * 2,
        across=_positions(wall, base_length),
        up=_positions(wall, base_width),
        measures=measures,
    )


def _positions(wall: Length, base: Length) -> tuple[Position, ...]:
    return (Position(name="first_base", at=wall), Position(name="second_base", at=wall + base))


def build(values: PlainTray, card: Card, layouts: tuple[PieceLayout, ...]) -> Assembly:
    """Tray and lid from their layouts, exact or marked; the lid comes down on the tray from above."""
    lines = tuple(tray_lines(layout, inner=False) for layout in layouts)
    joins = tuple(join for each in lines for join in tray_joins(each, ADHESIVES[values.glue]))
    placements = [Placement(piece=TRAY, upside_down=False, shift_mm=(0.0, 0.0, 0.0))]
    joints = []
    if len(lines) == 2:
        placements.append(Placement(piece=LID, upside_down=True, shift_mm=_over(lines[0], lines[1], card)))
        travel = lines[0].far_rim - lines[0].far + LIFT_CLEAR_MM
        joints.append(
            Joint(
                id="lift_off",
                kind="prismatic",
                fixed=TRAY,
                moving=LID,
                axis=(0.0, 0.0, 1.0),
                travel_mm=travel,
            )
        )
    return Assembly(
        pieces=tuple(tray_piece(each) for each in lines),
        placements=tuple(placements),
        joins=joins,
        joints=tuple(joints),
        forms=tuple(box_form(each, card.thickness_mm) for each in lines),
    )


def _over(tray: TrayLines, lid: TrayLines, card: Card) -> tuple[float, float, float]:
    """Where the lid's flat origin goes: turned over about x, its base's middle over the tray's, on the rim."""
    middle_x = 0.5 * (tray.left + tray.right) - 0.5 * (lid.left + lid.right)
    middle_y = 0.5 * (tray.near + tray.far) + 0.5 * (lid.near + lid.far)
    # A lid deeper than the tray stands on the table, not on the rim.
    rim = max(tray.far_rim - tray.far, tray.right_rim - tray.right, lid.far_rim - lid.far, lid.right_rim - lid.right)
    return (middle_x, middle_y, rim + card.thickness_mm)


CONSTRUCTION = Construction(
    name="plain tray",
    revision=1,
    parameters=PlainTray,
    summary="a tray with glued corner tabs, and a lid that lifts off",
    axes=(
        Axis(values=("wall_height", "base_length", "wall_height")),
        Axis(values=("wall_height", "base_width", "wall_height")),
    ),
    content_layers=content_layers,
    conflicts=conflicts,
    lay_out=lay_out,
    build=build,
)
