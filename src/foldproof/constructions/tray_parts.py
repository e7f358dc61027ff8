"""The parts all trays share: walls round a base, tabs at the corners, inner walls, and the joins between them.

The base lies in the middle of the piece, walls stand on its four sides. ``length`` runs across, ``width`` up. Tabs
hang on the front and back walls and are glued inside the left and right ones.
"""

from __future__ import annotations

from dataclasses import dataclass

from foldproof.geometry.plane import Polygon, anticlockwise, common, inset, signed_area, without
from foldproof.pattern.records import Adhesive, Crease, FaceRef, Join, Panel, Piece, Point, Side

GLUE_EDGE_MM = 1.5  # glue is kept this far from a tab's edge, so that it does not squeeze out
LEAST_GLUE_MM2 = 1.0  # smaller patches than this hold nothing and are not called glue areas
QUARTER_TURN_RAD = 1.5707963267948966
HALF_TURN_RAD = 3.141592653589793

CORNERS = (("back", "right"), ("back", "left"), ("front", "right"), ("front", "left"))


@dataclass(frozen=True, slots=True, kw_only=True)
class TrayLines:
    """The lines of a tray in mm from the piece's left and near edges, and the measures of its tabs.

    ``left``, ``right``, ``near``, ``far`` bound the base; the ``_rim`` lines are the tops of the walls.
    ``inner`` is False for a tray without inner walls. ``tab_in_mm`` moves the tabs' creases in from the ends of the
    walls; the reliefs are what is slanted off a tab's ends (base and rim) and off an inner wall's ends (``trim``
    at the rim, ``slant`` more at its far edge).
    """

    piece: str
    width_mm: float
    height_mm: float
    left_rim: float
    left: float
    right: float
    right_rim: float
    near_rim: float
    near: float
    far: float
    far_rim: float
    inner: bool
    tab_length_mm: float
    tab_in_mm: float
    relief_base_mm: float
    relief_rim_mm: float
    trim_mm: float
    slant_mm: float


def tray_piece(lines: TrayLines) -> Piece:
    """The piece with its panels and creases, creases in the order a maker would fold them."""
    panels = [_panel("base", "base", "", _rectangle(lines.left, lines.near, lines.right, lines.far))]
    panels += [_wall(lines, place) for place in ("back", "front", "right", "left")]
    panels += [_panel(tab_id(*corner), "tab", "_".join(corner), tab_outline(lines, *corner)) for corner in CORNERS]
    creases = [_tab_crease(lines, *corner) for corner in CORNERS]
    creases += [_wall_crease(lines, place) for place in ("back", "front", "right", "left")]
    if lines.inner:
        for place in ("right", "left", "back", "front"):
            panels.append(_panel(f"inner_{place}", "inner_wall", place, inner_outline(lines, place)))
            creases.append(_inner_crease(lines, place))
    return Piece(
        id=lines.piece,
        blank_width_mm=lines.width_mm,
        blank_height_mm=lines.height_mm,
        root="base",
        panels=tuple(panels),
        creases=tuple(creases),
    )


def tab_id(along: str, side: str) -> str:
    """Panel id of the tab that hangs on the ``along`` wall and is glued to the ``side`` wall."""
    return f"tab_{along}_{side}"


def _panel(name: str, kind: str, place: str, outline: Polygon) -> Panel:
    return Panel(id=name, kind=kind, place=place, outline=anticlockwise(outline))


def _rectangle(x0: float, y0: float, x1: float, y1: float) -> Polygon:
    return ((x0, y0), (x1, y0), (x1, y1), (x0, y1))


def _wall(lines: TrayLines, place: str) -> Panel:
    set_in = lines.tab_in_mm
    outlines = {
        "back": _rectangle(lines.left + set_in, lines.far, lines.right - set_in, lines.far_rim),
        "front": _rectangle(lines.left + set_in, lines.near_rim, lines.right - set_in, lines.near),
        "right": _rectangle(lines.right, lines.near, lines.right_rim, lines.far),
        "left": _rectangle(lines.left_rim, lines.near, lines.left, lines.far),
    }
    return _panel(f"wall_{place}", "wall", place, outlines[place])


def _corner(lines: TrayLines, along: str, side: str) -> tuple[float, float, int, int, float, float]:
    """Base corner (x, y), outward senses (sx, sy), the wall's height there, and where the tab's crease runs."""
    sx, sy = (1 if side == "right" else -1), (1 if along == "back" else -1)
    x = lines.right if side == "right" else lines.left
    y = lines.far if along == "back" else lines.near
    tall = (lines.far_rim - lines.far) if along == "back" else (lines.near - lines.near_rim)
    return x, y, sx, sy, tall, x - sx * lines.tab_in_mm


def tab_outline(lines: TrayLines, along: str, side: str) -> Polygon:
    """A tab: as tall as its wall at the crease, slanted at base and rim towards its far end."""
    _, y, sx, sy, tall, crease_x = _corner(lines, along, side)
    far_x = crease_x + sx * lines.tab_length_mm
    return anticlockwise(
        (
            (crease_x, y),
            (far_x, y + sy * lines.relief_base_mm),
            (far_x, y + sy * (tall - lines.relief_rim_mm)),
            (crease_x, y + sy * tall),
        )
    )


def tab_landing(lines: TrayLines, along: str, side: str, polygon: Polygon) -> Polygon:
    """Where points of a tab come to lie on the side wall, in that wall's flat frame."""
    x, y, sx, sy, _, crease_x = _corner(lines, along, side)
    return tuple((x + sy * sx * (py - y), y - sy * sx * (px - crease_x)) for px, py in polygon)


def tab_from_landing(lines: TrayLines, along: str, side: str, polygon: Polygon) -> Polygon:
    """The inverse of ``tab_landing``."""
    x, y, sx, sy, _, crease_x = _corner(lines, along, side)
    return tuple((crease_x - sy * sx * (py - y), y + sy * sx * (px - x)) for px, py in polygon)


def inner_outline(lines: TrayLines, place: str) -> Polygon:
    """An inner wall: from the rim to the edge of the piece, its ends trimmed and slanted."""
    near, wide = lines.trim_mm, lines.trim_mm + lines.slant_mm
    upright = place in ("back", "front")
    low, high = (lines.left, lines.right) if upright else (lines.near, lines.far)
    if upright:
        low, high = low + lines.tab_in_mm, high - lines.tab_in_mm
    rim = {"back": lines.far_rim, "front": lines.near_rim, "right": lines.right_rim, "left": lines.left_rim}[place]
    edge = {"back": lines.height_mm, "front": 0.0, "right": lines.width_mm, "left": 0.0}[place]
    corners = ((low + near, rim), (low + wide, edge), (high - wide, edge), (high - near, rim))
    return anticlockwise(corners if upright else tuple((y, x) for x, y in corners))


def inner_landing(lines: TrayLines, place: str, polygon: Polygon) -> Polygon:
    """Where points of an inner wall come to lie on its wall, mirrored at the rim; its own inverse."""
    rim = {"back": lines.far_rim, "front": lines.near_rim, "right": lines.right_rim, "left": lines.left_rim}[place]
    if place in ("back", "front"):
        return tuple((x, 2.0 * rim - y) for x, y in polygon)
    return tuple((2.0 * rim - x, y) for x, y in polygon)


def _tab_crease(lines: TrayLines, along: str, side: str) -> Crease:
    _, y, _, sy, tall, crease_x = _corner(lines, along, side)
    name = tab_id(along, side)
    return _crease(name, f"wall_{along}", ((crease_x, y), (crease_x, y + sy * tall)), QUARTER_TURN_RAD, "tabs")


def _wall_crease(lines: TrayLines, place: str) -> Crease:
    set_in = lines.tab_in_mm
    along = {
        "back": ((lines.left + set_in, lines.far), (lines.right - set_in, lines.far)),
        "front": ((lines.left + set_in, lines.near), (lines.right - set_in, lines.near)),
        "right": ((lines.right, lines.near), (lines.right, lines.far)),
        "left": ((lines.left, lines.near), (lines.left, lines.far)),
    }[place]
    family = "tabbed_walls" if place in ("back", "front") else "glued_walls"
    return _crease(f"wall_{place}", "base", along, QUARTER_TURN_RAD, family)


def _inner_crease(lines: TrayLines, place: str) -> Crease:
    outline = inner_outline(lines, place)
    rim = {"back": lines.far_rim, "front": lines.near_rim, "right": lines.right_rim, "left": lines.left_rim}[place]
    axis = 1 if place in ("back", "front") else 0
    ends = sorted(point for point in outline if point[axis] == rim)
    family = "inner_walls" if place in ("back", "front") else "inner_walls_over_tabs"
    return _crease(f"inner_{place}", f"wall_{place}", (ends[0], ends[1]), HALF_TURN_RAD, family)


def _crease(child: str, parent: str, line: tuple[Point, Point], target_rad: float, family: str) -> Crease:
    return Crease(
        id=f"fold_{child}",
        parent=parent,
        child=child,
        line=line,
        direction="valley",
        scored_face="face",
        target_rad=target_rad,
        family=family,
    )


def tray_joins(lines: TrayLines, adhesive: Adhesive) -> tuple[Join, ...]:
    """Every place that is glued: tabs to the side walls (and to each other where they lap), inner walls to both."""
    joins: list[Join] = []
    for side in ("right", "left"):
        wall = _wall(lines, side)
        first, second = tab_id("back", side), tab_id("front", side)
        landing_first = tab_landing(lines, "back", side, tab_outline(lines, "back", side))
        landing_second = tab_landing(lines, "front", side, tab_outline(lines, "front", side))
        glue_first = tab_landing(lines, "back", side, _glue(tab_outline(lines, "back", side)))
        glue_second = tab_landing(lines, "front", side, _glue(tab_outline(lines, "front", side)))
        joins += _tab_to(lines, adhesive, "back", side, glue_first, wall.id)
        joins += _second_tab(lines, adhesive, side, glue_second, landing_first, first)
        if lines.inner:
            joins += _inner_over_tabs(lines, adhesive, side, (first, landing_first), (second, landing_second))
    if lines.inner:
        for place in ("back", "front"):
            area = inner_landing(lines, place, _glue(inner_outline(lines, place)))
            joins += _inner_to(lines, adhesive, place, area, f"wall_{place}", area)
    return tuple(joins)


def _glue(outline: Polygon) -> Polygon:
    smaller = inset(outline, GLUE_EDGE_MM)
    return smaller[0] if smaller else outline


def _tab_to(lines: TrayLines, adhesive: Adhesive, along: str, side: str, patch: Polygon, wall: str) -> list[Join]:
    tab = tab_id(along, side)
    return [_join(lines, adhesive, (wall, patch), (tab, "back", tab_from_landing(lines, along, side, patch)))]


def _second_tab(
    lines: TrayLines, adhesive: Adhesive, side: str, patch: Polygon, landing_first: Polygon, first: str
) -> list[Join]:
    """The later tab holds to the wall, and to the first tab where it laps over it."""
    joins: list[Join] = []
    for part in without(patch, landing_first):
        joins += _tab_to(lines, adhesive, "front", side, part, f"wall_{side}")
        break
    second = tab_id("front", side)
    for part in common(patch, landing_first):
        if abs(signed_area(part)) > LEAST_GLUE_MM2:
            on_first = tab_from_landing(lines, "back", side, part)
            on_second = tab_from_landing(lines, "front", side, part)
            joins.append(_join(lines, adhesive, (first, on_first), (second, "back", on_second)))
        break
    return joins


def _inner_over_tabs(
    lines: TrayLines, adhesive: Adhesive, side: str, first: tuple[str, Polygon], second: tuple[str, Polygon]
) -> list[Join]:
    """An inner wall holds to the uppermost tab, then the other, then to the wall between them."""
    patch = inner_landing(lines, side, _glue(inner_outline(lines, side)))
    joins: list[Join] = []
    rest: tuple[Polygon, ...] = (patch,)
    for along, (tab, landing) in (("front", second), ("back", first)):
        under = [part for piece in rest for part in common(piece, landing)]
        if under and abs(signed_area(under[0])) > LEAST_GLUE_MM2:
            on_tab = tab_from_landing(lines, along, side, under[0])
            joins += _inner_to(lines, adhesive, side, under[0], tab, on_tab)
        rest = tuple(part for piece in rest for part in without(piece, landing))
    for part in rest:
        if len(inset(part, 4.0 * GLUE_EDGE_MM)) > 0:  # the slit between two tabs is no place for glue
            joins += _inner_to(lines, adhesive, side, part, f"wall_{side}", part)
            break
    return joins


def _inner_to(
    lines: TrayLines, adhesive: Adhesive, place: str, patch: Polygon, under: str, on_under: Polygon
) -> list[Join]:
    inner: tuple[str, Side, Polygon] = (f"inner_{place}", "face", inner_landing(lines, place, patch))
    return [_join(lines, adhesive, (under, on_under), inner)]


def _join(lines: TrayLines, adhesive: Adhesive, a: tuple[str, Polygon], b: tuple[str, Side, Polygon]) -> Join:
    """A join of an inside face with one side of what is laid on it."""
    return Join(
        id=f"{a[0]}+{b[0]}",
        a=FaceRef(piece=lines.piece, panel=a[0], side="face"),
        b=FaceRef(piece=lines.piece, panel=b[0], side=b[1]),
        area=a[1],
        landing=b[2],
        adhesive=adhesive,
    )
