"""What every shape by formula gives, and what each formula says of itself; the catalogue lists them."""

from __future__ import annotations

import math
from collections.abc import Callable
from dataclasses import dataclass
from typing import Literal

from foldproof.geometry.outline import points_of, widest_mm
from foldproof.geometry.plane import Array, Point, Polygon, is_simple, signed_area
from foldproof.outlines.parameters import Misfit, ShapeValue

ROUNDING = 1e-9  # share of a step between axes by which an axis at 0 may seem to be short of it


@dataclass(frozen=True, slots=True, kw_only=True)
class Landmark:
    """A place on an outline a maker can point at: a ``tip`` is farthest from the middle, a ``dip`` nearest."""

    name: str
    kind: Literal["tip", "dip"]
    at_mm: Point


@dataclass(frozen=True, slots=True, kw_only=True)
class Shape:
    """An outline in mm, anticlockwise, with its middle at the origin and its right way up along +y.

    The middle is the centre of symmetry; a shape without one (``fold`` 1) has its centre of area there.
    ``fold``: how many turns of 360 degrees / fold leave it as it is; 0 for a disc, which any turn leaves.
    ``mirror_axes_rad``: directions from 0 to below pi of the lines through the middle that mirror it; none are
    listed for a disc, which every line mirrors. ``across_mm``: the largest distance between two of its points.
    """

    kind: str
    outline: Polygon
    fold: int
    mirror_axes_rad: tuple[float, ...]
    across_mm: float
    landmarks: tuple[Landmark, ...]


Drawn = Shape | tuple[Misfit, ...]


@dataclass(frozen=True, slots=True, kw_only=True)
class Formula:
    """A shape by formula: its name, its values in order, and ``draw``.

    ``draw(**arguments)`` takes each value under its ``argument``, and ``chord_error_mm`` if the outline has curves;
    it gives the shape, or every problem of the values.
    """

    name: str
    summary: str
    values: tuple[ShapeValue, ...]
    draw: Callable[..., Drawn]


def shape(
    kind: str, points: Array, *, fold: int, mirror_axes_rad: tuple[float, ...], landmarks: tuple[Landmark, ...]
) -> Shape:
    """A shape from its points (n, 2) in mm, anticlockwise about their middle at the origin."""
    outline = tuple((float(x), float(y)) for x, y in points)
    assert is_simple(outline) and signed_area(outline) > 0, f"{kind} is not a simple anticlockwise outline"
    return Shape(
        kind=kind,
        outline=outline,
        fold=fold,
        mirror_axes_rad=mirror_axes_rad,
        across_mm=widest_mm(points_of(outline)),
        landmarks=landmarks,
    )


def mirror_axes(first_rad: float, fold: int) -> tuple[float, ...]:
    """The ``fold`` mirror axes of a shape with a tip at ``first_rad``, each from 0 to below pi, rising."""
    step = math.pi / fold
    turns = math.floor(first_rad / step + ROUNDING)
    start = max(0.0, first_rad - turns * step)
    return tuple(start + number * step for number in range(fold))


def ring_of_marks(
    tip: str, dip: str, *, count: int, first_rad: float, tip_mm: float, dip_mm: float
) -> tuple[Landmark, ...]:
    """Tips at equal turns from ``first_rad``, numbered anticlockwise from 1, and the dips after each of them."""
    step = 2.0 * math.pi / count
    tips = (_mark(tip, "tip", n, first_rad + n * step, tip_mm) for n in range(count))
    dips = (_mark(dip, "dip", n, first_rad + (n + 0.5) * step, dip_mm) for n in range(count))
    return (*tips, *dips)


def _mark(name: str, kind: Literal["tip", "dip"], number: int, bearing_rad: float, radius_mm: float) -> Landmark:
    at_mm = (radius_mm * math.cos(bearing_rad), radius_mm * math.sin(bearing_rad))
    return Landmark(name=f"{name} {number + 1}", kind=kind, at_mm=at_mm)
