"""What both tray families compute alike from their values: tabs, reliefs, allowance, and the marked lines."""

from __future__ import annotations

from fractions import Fraction
from typing import Any

from foldproof.constructions.parameters import Card, Open
from foldproof.constructions.record import Conflict
from foldproof.constructions.tray_parts import TrayLines
from foldproof.lengths import ZERO, Length, length, round_to
from foldproof.pattern.layout import PieceLayout, Position
from foldproof.pattern.records import Adhesive, BoxForm

TAB_GAP = length(Fraction(1, 16), "in")  # two tabs of one corner pair stay this far apart together

ADHESIVES: dict[str, Adhesive] = {"wet glue": "wet_glue", "hot glue": "hot_glue", "tape": "tape"}


def allowance_mm(allowance: Length | str, card: Card) -> Length:
    """How far a tab's crease moves in so that it lies flat inside its wall: nothing, as given, or one thickness."""
    if isinstance(allowance, Length):
        return allowance
    return length(Fraction(str(round(card.thickness_mm, 4))), "mm") if allowance == "computed" else ZERO


def tab_length(asked: Length | str, wall_height: Length, side: Length) -> Length:
    """A tab is as long as its wall is tall, or trimmed so that two of them fit side by side."""
    if isinstance(asked, Length):
        return asked
    if asked == "as long as the wall is tall":
        return wall_height
    return min(wall_height, side / 2 - TAB_GAP)


def tab_measures(tab: Length, relief: Length, tab_in: Length, trim: Length, slant: Length) -> tuple[Position, ...]:
    """Measures for the scissors. Tabs round down and reliefs up: both are the safe side."""
    return (
        Position(name="tab_length", at=tab, towards="down"),
        Position(name="tab_relief", at=relief, towards="up"),
        Position(name="tab_in", at=tab_in, towards="nearest"),
        Position(name="inner_trim", at=trim, towards="up"),
        Position(name="inner_slant", at=slant, towards="up"),
    )


def tray_lines(layout: PieceLayout, *, inner: bool) -> TrayLines:
    """Lines in mm of a laid-out tray: with inner walls four scores each way, without them two."""
    across = [p.at.float_mm for p in layout.across]
    up = [p.at.float_mm for p in layout.up]
    width, height = layout.width.float_mm, layout.height.float_mm
    if not inner:
        across, up = [0.0, *across, width], [0.0, *up, height]
    relief = layout.measure_mm("tab_relief")
    return TrayLines(
        piece=layout.piece,
        width_mm=width,
        height_mm=height,
        left_rim=across[0],
        left=across[1],
        right=across[2],
        right_rim=across[3],
        near_rim=up[0],
        near=up[1],
        far=up[2],
        far_rim=up[3],
        inner=inner,
        tab_length_mm=layout.measure_mm("tab_length"),
        tab_in_mm=layout.measure_mm("tab_in"),
        relief_base_mm=relief,
        relief_rim_mm=relief,
        trim_mm=layout.measure_mm("inner_trim"),
        slant_mm=layout.measure_mm("inner_slant"),
    )


def box_form(lines: TrayLines, thickness_mm: float) -> BoxForm:
    """Outside and clear inside sizes. Walls stand on their score lines; each pair's layers count on their own.

    The middle of an outer wall stands on its score line, so the outside is one thickness more, and the inside less by
    twice every layer but half of the outer one. Tabs that lap over each other add a layer beside the left and right
    walls.
    """
    length_mm, width_mm = lines.right - lines.left, lines.far - lines.near
    beside, before = wall_layers(inner=lines.inner, lapped=2.0 * lines.tab_length_mm > width_mm)
    return BoxForm(
        piece=lines.piece,
        centre=(0.5 * (lines.left + lines.right), 0.5 * (lines.near + lines.far)),
        outer_mm=(length_mm + thickness_mm, width_mm + thickness_mm),
        inner_mm=(length_mm - (2 * beside - 1) * thickness_mm, width_mm - (2 * before - 1) * thickness_mm),
        rim_mm=max(lines.far_rim - lines.far, lines.right_rim - lines.right) + thickness_mm,
    )


def wall_layers(*, inner: bool, lapped: bool) -> tuple[int, int]:
    """Layers of card in each of the left and right walls, which carry the tabs, and in each front and back one."""
    around = 2 if inner else 1
    return around + (2 if lapped else 1), around


def content_layers(values: Any) -> tuple[int, int]:
    """Layers of each pair of walls beside a content (length, width); while a size is open, tabs that may lap do."""
    wall, width = values.wall_height, values.base_width
    lapped = values.tab_length != "to meet its neighbour"
    if isinstance(wall, Length) and isinstance(width, Length):
        lapped = tab_length(values.tab_length, wall, width) * 2 > width
    return wall_layers(inner=hasattr(values, "inner_wall"), lapped=lapped)


def rounded_up(value: Length, card: Card) -> Length:
    """A length brought up to the maker's ruler: the safe side for a clearance."""
    return round_to(value, card.ruler, "up").shown


def cut_away_conflicts(values: Any, wall_name: str, wall: Length | Open | str) -> tuple[Conflict, ...]:
    """Reliefs and allowances that leave nothing of a tab or a wall.

    A tab loses the relief at the base and again at the rim; a wall loses the allowance at both ends, and an
    inner wall four reliefs more.
    """
    found = []
    if isinstance(wall, Length) and values.relief * 3 > wall:
        reason = f"takes most of the tabs away, which are as tall as {wall_name}"
        found.append(Conflict(name="relief", reason=reason, remedy=f"a third of {wall_name} at most"))
    base, allowance = values.base_length, values.allowance
    if isinstance(base, Length) and isinstance(allowance, Length) and allowance * 8 > base:
        reason = "takes too much off the ends of the walls"
        found.append(Conflict(name="allowance", reason=reason, remedy="an eighth of base_length at most"))
    return tuple(found)
