"""Double-wall tray: a rectangular base, walls, and inner walls that fold in over the rim and hide the tabs."""

from __future__ import annotations

from dataclasses import dataclass

from foldproof.constructions.parameters import (
    Card,
    LengthOrOpen,
    a_choice,
    a_length,
    a_length_or_choice,
)
from foldproof.constructions.record import Axis, Conflict, Construction
from foldproof.constructions.tray_parts import tray_joins, tray_piece
from foldproof.constructions.tray_values import (
    ADHESIVES,
    allowance_mm,
    box_form,
    content_layers,
    cut_away_conflicts,
    tab_length,
    tab_measures,
    tray_lines,
)
from foldproof.lengths import ZERO, Length
from foldproof.pattern.layout import PieceLayout, Position
from foldproof.pattern.records import Assembly, Placement

PIECE = "tray"


@dataclass(frozen=True, slots=True, kw_only=True)
class DoubleWallTray:
    """The values of a double-wall tray. Lengths are those between score lines."""

    base_length: LengthOrOpen = a_length("the base from left to right", may_be_open=True)
    base_width: LengthOrOpen = a_length(
        "the base from front to back", may_be_open=True, default=("as base_length",) * 2
    )
    wall_height: LengthOrOpen = a_length("how tall the tray stands", may_be_open=True)
    inner_wall: LengthOrOpen = a_length(
        "how far the inner wall reaches down", may_be_open=True, default=("as wall_height",) * 2
    )
    piece: str = a_choice("what the tray is cut from", "cut to size", "whole sheet")
    tab_length: Length | str = a_length_or_choice(
        "how far the corner tabs reach along the side walls",
        "to meet its neighbour",
        "as long as the wall is tall",
        least="4 mm",
    )
    relief: Length = a_length(
        "slanted off the ends of tabs and inner walls",
        default=("1/16 in", "2 mm"),
        least="0 mm",
        most="20 mm",
    )
    allowance: Length | str = a_length_or_choice("room for the thickness of the card", "none", "computed", most="5 mm")
    glue: str = a_choice("what the joins are made with", "wet glue", "hot glue", "tape")


def conflicts(values: DoubleWallTray) -> tuple[Conflict, ...]:
    """Contradictory values, each with one that would work."""
    found = list(cut_away_conflicts(values, "wall_height", values.wall_height))
    inner, wall = values.inner_wall, values.wall_height
    if isinstance(inner, Length) and isinstance(wall, Length) and inner > wall:
        found.append(
            Conflict(
                name="inner_wall",
                reason="deeper than the wall is tall, so it would hit the base",
                remedy="wall_height",
            )
        )
    width = values.base_width
    if isinstance(values.tab_length, Length) and isinstance(width, Length) and values.tab_length >= width:
        found.append(
            Conflict(
                name="tab_length",
                reason="as long as the side it lies on, so it hits the other wall",
                remedy="half of base_width",
            )
        )
    for name in ("base_length", "base_width"):
        side = getattr(values, name)
        if isinstance(side, Length) and side <= values.relief * 6:
            found.append(
                Conflict(
                    name="relief",
                    reason=f"takes more off the inner wall than {name} has",
                    remedy="a sixth of the base at most",
                )
            )
    return tuple(found)


def lay_out(values: DoubleWallTray, card: Card) -> tuple[PieceLayout, ...]:
    """The exact layout: inner wall, wall, base, wall, inner wall, both ways."""
    base_length, base_width = _known(values.base_length), _known(values.base_width)
    wall, inner = _known(values.wall_height), _known(values.inner_wall)
    across, up = _positions((inner, wall, base_length, wall)), _positions((inner, wall, base_width, wall))
    width, height = across[-1].at + inner, up[-1].at + inner
    uncut = values.piece == "whole sheet"
    if uncut:
        width, height = card.sheet_width, card.sheet_height
    measures = tab_measures(
        tab_length(values.tab_length, wall, base_width),
        values.relief,
        allowance_mm(values.allowance, card),
        values.relief,
        values.relief,
    )
    return (
        PieceLayout(piece=PIECE, width=width, height=height, across=across, up=up, measures=measures, uncut=uncut),
    )


def _known(value: LengthOrOpen) -> Length:
    assert isinstance(value, Length), "open values are solved before anything is laid out"
    return value


def _positions(widths: tuple[Length, ...]) -> tuple[Position, ...]:
    names = ("first_rim", "first_base", "second_base", "second_rim")
    at, found = ZERO, []
    for name, width in zip(names, widths, strict=True):
        at = at + width
        found.append(Position(name=name, at=at))
    return tuple(found)


def build(values: DoubleWallTray, card: Card, layouts: tuple[PieceLayout, ...]) -> Assembly:
    """The tray from its layout, exact or marked."""
    lines = tray_lines(layouts[0], inner=True)
    return Assembly(
        pieces=(tray_piece(lines),),
        placements=(Placement(piece=PIECE, upside_down=False, shift_mm=(0.0, 0.0, 0.0)),),
        joins=tray_joins(lines, ADHESIVES[values.glue]),
        forms=(box_form(lines, card.thickness_mm),),
    )


CONSTRUCTION = Construction(
    name="double-wall tray",
    revision=1,
    parameters=DoubleWallTray,
    summary="a tray with walls folded double, from one piece of card",
    axes=(
        Axis(values=("inner_wall", "wall_height", "base_length", "wall_height", "inner_wall")),
        Axis(values=("inner_wall", "wall_height", "base_width", "wall_height", "inner_wall")),
    ),
    content_layers=content_layers,
    conflicts=conflicts,
    lay_out=lay_out,
    build=build,
)
