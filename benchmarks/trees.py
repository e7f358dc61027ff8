"""Trees of any number of panels for the growth figures: a pleated strip with wings on both sides."""

from __future__ import annotations

import math

from foldproof.pattern.records import Crease, Direction, Panel, Piece, Point, Polygon

LONG_MM = 40.0
WING_MM = 6.0
WIDTH_MM = 30.0


def comb(panel_count: int) -> Piece:
    """A strip pleated into stairs by quarter turns, each panel with a wing on either side, ``panel_count`` in all.

    Panels come in threes: one of the strip, its upper wing, its lower wing; wings fold up by a quarter turn. Any
    number of panels can be folded, but four quarter turns one way without those between run into the strip.
    """
    assert panel_count >= 1, "a tree has at least its root"
    panels: list[Panel] = []
    creases: list[Crease] = []
    start = 0.0
    for number in range(-(-panel_count // 3)):
        end = start + LONG_MM
        strip = f"strip{number}"
        panels.append(_panel(strip, "strip", _rectangle(start, 0.0, end, WIDTH_MM)))
        if number:
            line = ((start, 0.0), (start, WIDTH_MM))
            direction: Direction = "valley" if number % 2 else "mountain"
            creases.append(_crease(f"strip{number - 1}", strip, line, direction, "strip"))
        for side, low, high in (("upper", WIDTH_MM, WIDTH_MM + WING_MM), ("lower", -WING_MM, 0.0)):
            if len(panels) < panel_count:
                wing, edge = f"{side}{number}", WIDTH_MM if side == "upper" else 0.0
                inset = 2.0 * WING_MM  # wings of neighbours stay clear of each other at the corners
                panels.append(_panel(wing, "wing", _rectangle(start + inset, low, end - inset, high)))
                line = ((start + inset, edge), (end - inset, edge))
                creases.append(_crease(strip, wing, line, "valley", f"{side}_wings"))
        start = end
    return Piece(
        id="comb",
        blank_width_mm=start,
        blank_height_mm=WIDTH_MM + 2.0 * WING_MM,
        root="strip0",
        panels=tuple(panels),
        creases=tuple(creases),
    )


def _rectangle(x0: float, y0: float, x1: float, y1: float) -> Polygon:
    return ((x0, y0), (x1, y0), (x1, y1), (x0, y1))


def _panel(name: str, kind: str, outline: Polygon) -> Panel:
    return Panel(id=name, kind=kind, place="", outline=outline)


def _crease(parent: str, child: str, line: tuple[Point, Point], direction: Direction, family: str) -> Crease:
    return Crease(
        id=f"fold_{child}",
        parent=parent,
        child=child,
        line=line,
        direction=direction,
        scored_face="face",
        target_rad=math.pi / 2,
        family=family,
    )
