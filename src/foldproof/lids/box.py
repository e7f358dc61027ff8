"""The corner triangle, and what a turning lid sees of the box that carries it."""

from __future__ import annotations

import math

from shapely.geometry import Polygon as Shape

from foldproof.geometry.plane import Point, Polygon, parts
from foldproof.lids.records import TurningBox
from foldproof.pattern.records import BoxForm

CORNERS: dict[str, tuple[int, int]] = {
    "back right": (1, 1),
    "back left": (-1, 1),
    "front right": (1, -1),
    "front left": (-1, -1),
}


def rectangle(length_mm: float, width_mm: float) -> Polygon:
    """A rectangle about the origin, anticlockwise."""
    x, y = 0.5 * length_mm, 0.5 * width_mm
    return ((-x, -y), (x, -y), (x, y), (-x, y))


def corner_triangle(corner: Point, senses: tuple[int, int], leg_mm: float) -> Polygon:
    """The right-angled triangle in a corner: its right angle first, legs along the walls."""
    sx, sy = senses
    return (corner, (corner[0] - sx * leg_mm, corner[1]), (corner[0], corner[1] - sy * leg_mm))


def leg_of_strip(strip_mm: float) -> float:
    """Leg of the triangle folded from a strip twice as long as wide, both ends folded from the middle at 45 degrees.

    The folds run from the middle of one long side to the corners of the other, so a leg is width times root two.
    """
    return strip_mm * math.sqrt(2.0)


def turning_box(form: BoxForm, place: str, strip_mm: float, thickness_mm: float, mass_g: float) -> TurningBox:
    """The box in its own frame, with the triangle of a strip in one corner, glued inside the walls."""
    mouth = rectangle(*form.inner_mm)
    sx, sy = CORNERS[place]
    corner = (sx * 0.5 * form.inner_mm[0], sy * 0.5 * form.inner_mm[1])
    triangle = corner_triangle(corner, (sx, sy), leg_of_strip(strip_mm))
    left = parts(Shape(mouth).difference(Shape(triangle)))
    return TurningBox(
        place=place,
        rim=rectangle(*form.outer_mm),
        mouth=mouth,
        opening=left[0] if left else mouth,
        rim_mm=form.rim_mm,
        corner=corner,
        into=(-sx / math.sqrt(2.0), -sy / math.sqrt(2.0)),
        triangle=triangle,
        tab_mm=thickness_mm,
        mass_g=mass_g,
        centre=(0.0, 0.0),
    )


def on_diagonal(box: TurningBox, from_corner_mm: float) -> Point:
    """The point so far from the inner corner along its diagonal."""
    return hole_at(box, from_corner_mm, 0.0)


def beside_diagonal(box: TurningBox) -> Point:
    """The unit vector square to the corner's diagonal that points to the maker's right, seen from above."""
    right = math.copysign(1.0, box.into[1])
    return (right * box.into[1], -right * box.into[0])


def hole_at(box: TurningBox, from_corner_mm: float, beside_mm: float) -> Point:
    """The point so far from the inner corner along its diagonal, and so far to the right of that line."""
    aside = beside_diagonal(box)
    return (
        box.corner[0] + box.into[0] * from_corner_mm + aside[0] * beside_mm,
        box.corner[1] + box.into[1] * from_corner_mm + aside[1] * beside_mm,
    )


def from_corner(box: TurningBox, point: Point) -> tuple[float, float]:
    """How far a point lies from the inner corner along its diagonal, and to the right of it: ``hole_at`` undone."""
    away = (point[0] - box.corner[0], point[1] - box.corner[1])
    aside = beside_diagonal(box)
    return (away[0] * box.into[0] + away[1] * box.into[1], away[0] * aside[0] + away[1] * aside[1])
