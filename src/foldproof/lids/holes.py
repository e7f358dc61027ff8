"""Where the fastener's hole comes to lie on every flat piece of a turning lid."""

from __future__ import annotations

import dataclasses
import math
from collections.abc import Sequence

from foldproof.geometry.plane import Point, Polygon
from foldproof.lids.records import TurningBox, TurningLid
from foldproof.pattern.records import Hole, Piece

HOLE = "hole"


def with_holes(pieces: Sequence[Piece], box: TurningBox, lid: TurningLid) -> tuple[Piece, ...]:
    """The flat pieces of a lid with the hole in each that the fastener goes through, in the piece's own frame.

    Pierced layers are known by their names, triangle, cap and reinforcement by the kind of their root panel; other
    pieces come back as they are. Lengths in mm.
    """
    pierced = {layer.name: layer.outline for layer in lid.layers if layer.pierced}
    found = []
    for piece in pieces:
        root = next(panel for panel in piece.panels if panel.id == piece.root)
        if piece.id in pierced:
            found.append(_pierced(piece, _laid_flat(lid.hole, pierced[piece.id], root.outline), lid))
        elif root.kind in ("triangle", "cap"):
            found.append(_pierced(piece, triangle_place(box, lid.hole, piece.blank_height_mm), lid))
        elif root.kind == "disc":
            found.append(_pierced(piece, (0.5 * piece.blank_width_mm, 0.5 * piece.blank_height_mm), lid))
        else:
            found.append(piece)
    return tuple(found)


def _pierced(piece: Piece, at: Point, lid: TurningLid) -> Piece:
    hole = Hole(id=HOLE, panel=piece.root, centre=at, diameter_mm=lid.fastener.hole_mm)
    return dataclasses.replace(piece, holes=(*piece.holes, hole))


def _laid_flat(point: Point, closed: Polygon, flat: Polygon) -> Point:
    """A point of the closed lid in the frame of a layer's flat piece: both outlines have the same corners in turn."""
    assert len(closed) == len(flat), "a layer and its piece are one shape"
    far = max(range(len(closed)), key=lambda n: math.dist(closed[0], closed[n]))
    (ax, ay), (bx, by) = closed[0], closed[far]
    (cx, cy), (dx, dy) = flat[0], flat[far]
    turn = math.atan2(dy - cy, dx - cx) - math.atan2(by - ay, bx - ax)
    cosine, sine = math.cos(turn), math.sin(turn)
    x, y = point[0] - ax, point[1] - ay
    return (cx + x * cosine - y * sine, cy + x * sine + y * cosine)


def triangle_place(box: TurningBox, point: Point, strip_mm: float) -> Point:
    """A point of the box's frame in the flat frame of the triangle's strip, ``strip_mm`` wide and twice as long.

    Flat, the right angle is in the middle of the near side and the middle line points along +y. Folded, its edges
    lie half a card off the inner walls, because a fold is drawn through the middle of the card.
    """
    half_mm = 0.5 * box.tab_mm
    ix, iy = box.into
    apex = (box.corner[0] + math.copysign(half_mm, ix), box.corner[1] + math.copysign(half_mm, iy))
    x, y = point[0] - apex[0], point[1] - apex[1]
    return (strip_mm + x * iy - y * ix, x * ix + y * iy)


def triangle_in_box(box: TurningBox, at: Point, strip_mm: float) -> Point:
    """The way back of ``triangle_place``: a point of the strip's flat frame in the box's frame."""
    half_mm = 0.5 * box.tab_mm
    ix, iy = box.into
    apex = (box.corner[0] + math.copysign(half_mm, ix), box.corner[1] + math.copysign(half_mm, iy))
    x, y = at[0] - strip_mm, at[1]
    return (apex[0] + x * iy + y * ix, apex[1] - x * ix + y * iy)
