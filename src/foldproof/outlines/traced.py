"""What is found in a drawing that was read: closed outlines in mm, largest first, and what was left out."""

from __future__ import annotations

import math
from collections import Counter
from collections.abc import Sequence
from dataclasses import dataclass
from typing import Literal, get_args

import numpy as np
import shapely

from foldproof.errors import InputError, wrong
from foldproof.geometry.outline import enclosed_mm2, wound_anticlockwise
from foldproof.geometry.plane import Array, Polygon
from foldproof.outlines.budget import FILE
from foldproof.outlines.cleaning import LEAST_AREA, without_repeats
from foldproof.outlines.joining import Line, gap_mm
from foldproof.outlines.parameters import LEAST_ACROSS_MM
from foldproof.outlines.rings import Ring

Left = Literal["text", "picture", "open line", "too small", "hidden", "clipping", "not flat", "other"]
UnitFrom = Literal["file", "told", "standard"]

SAME_PLACE = 3  # decimals of a millimetre to which an outline drawn twice is the same
SHOWN = 12  # outlines named when one must be chosen
MOST_NAME = 60  # characters of a name in a file


@dataclass(frozen=True, slots=True, kw_only=True)
class FoundOutline:
    """One closed outline of a drawing, in mm, anticlockwise, +y up.

    ``name``: what the file calls it, or "shape 3" by its place in the list. ``holes``: closed outlines right inside
    it that are not part of its area. ``area_mm2``: what the outline encloses, holes not taken off. ``width_mm`` and
    ``height_mm``: of the upright box round it. The outline may still cross itself: ``cleaning.cleaned`` refuses that.
    """

    name: str
    outline: Polygon
    holes: tuple[Polygon, ...]
    area_mm2: float
    width_mm: float
    height_mm: float


@dataclass(frozen=True, slots=True, kw_only=True)
class LeftOut:
    """What of a drawing was not read: a kind, and how many of them."""

    what: Left
    count: int


@dataclass(frozen=True, slots=True, kw_only=True)
class Traced:
    """The closed outlines of a drawing, largest area first, at least one.

    ``accuracy_mm``: the accuracy asked for; curves are flattened to ``cleaning.FLATTENED`` of it, the rest is for
    cleaning. ``unit``: the unit its sizes come from ("mm", "in", "px"); ``unit_from``: whether the file states it,
    the caller told it, or the standard's 96 px to an inch was used because the file states no size.
    """

    shapes: tuple[FoundOutline, ...]
    left_out: tuple[LeftOut, ...]
    accuracy_mm: float
    unit: str
    unit_from: UnitFrom


def traced_of(
    rings: Sequence[Ring],
    still_open: Sequence[Line],
    left: Counter[Left],
    *,
    accuracy_mm: float,
    unit: str,
    unit_from: UnitFrom,
) -> Traced:
    """The outlines of a drawing in order, without those drawn twice and those too small to cut.

    Raises InputError when there is none: with the smallest gap, when lines stay open. When all are too small the
    largest is given, for ``cleaning.cleaned`` to tell its size.
    """
    if not rings:
        raise _nothing_closed(still_open, left)
    told = Counter(left)
    once = list({_places(ring.points): ring for ring in reversed(rings)}.values())[::-1]
    once.sort(key=lambda ring: -abs(enclosed_mm2(ring.points)))
    large = [ring for ring in once if _is_a_shape(ring.points)] or once[:1]
    told["too small"] += len(once) - len(large)
    told["open line"] += len(still_open)
    return Traced(
        shapes=tuple(_found(ring, number) for number, ring in enumerate(large, start=1)),
        left_out=tuple(LeftOut(what=what, count=told[what]) for what in get_args(Left) if told[what]),
        accuracy_mm=accuracy_mm,
        unit=unit,
        unit_from=unit_from,
    )


def chosen(traced: Traced, choice: int | str | None = None, *, field: str = "choose") -> FoundOutline:
    """The outline of that number (from 1) or name; None: the only one.

    Raises InputError naming the shapes when there are several and none is chosen, or when the choice is not there.
    """
    shapes = traced.shapes
    if choice is None:
        if len(shapes) == 1:
            return shapes[0]
        raise wrong(field, "", f"the file holds {len(shapes)} shapes", f"choose one: {_listed(shapes)}")
    if isinstance(choice, int):
        if 1 <= choice <= len(shapes):
            return shapes[choice - 1]
        raise wrong(field, choice, "there is no shape of this number", f"choose one: {_listed(shapes)}")
    named = [shape for shape in shapes if shape.name == choice]
    if len(named) == 1:
        return named[0]
    reason = f"{len(named)} shapes have this name" if named else "there is no shape of this name"
    remedy = f"choose one by its number: {_listed(shapes)}"
    raise wrong(field, choice, reason, remedy)


def _listed(shapes: Sequence[FoundOutline]) -> str:
    told = [
        f"{number} ({shape.name}, {shape.width_mm:.1f} x {shape.height_mm:.1f} mm)"
        for number, shape in enumerate(shapes[:SHOWN], start=1)
    ]
    more = len(shapes) - SHOWN
    return ", ".join(told) + (f", and {more} smaller" if more > 0 else "")


def _places(points: Array) -> frozenset[tuple[float, ...]]:
    return frozenset(map(tuple, points.round(SAME_PLACE).tolist()))


def _is_a_shape(points: Array) -> bool:
    """Whether an outline is not surely too small to cut, and no line drawn there and back."""
    across = math.hypot(*np.ptp(points, axis=0))  # of the upright box round it: no outline is wider
    return across >= LEAST_ACROSS_MM and shapely.MultiPoint(points).convex_hull.area >= LEAST_AREA * across**2


def _found(ring: Ring, number: int) -> FoundOutline:
    width, height = (ring.points.max(axis=0) - ring.points.min(axis=0)).tolist()
    name = " ".join("".join(c if c.isprintable() else " " for c in ring.name).split())[:MOST_NAME]
    return FoundOutline(
        name=name or f"shape {number}",
        outline=_polygon(ring.points),
        holes=tuple(_polygon(hole) for hole in ring.holes),
        area_mm2=abs(enclosed_mm2(ring.points)),
        width_mm=width,
        height_mm=height,
    )


def _polygon(points: Array) -> Polygon:
    return tuple((x, y) for x, y in wound_anticlockwise(without_repeats(points)).tolist())


def _nothing_closed(still_open: Sequence[Line], left: Counter[Left]) -> InputError:
    if not still_open:
        told = ", ".join(f"{count} {what}" for what, count in sorted(left.items()) if count)
        told = f"left out: {told}" if told else ""
        if left["text"]:
            return wrong(FILE, told, "holds no closed outline", "turn its text into lines in the drawing program")
        return wrong(FILE, told, "holds no closed outline", "draw one closed line round the shape")
    nearest = min(still_open, key=gap_mm)
    x, y = nearest.points[-1]
    reason = "holds no closed outline: its lines are open"
    told = f"a gap of {gap_mm(nearest):.2f} mm at {x:.1f}, {y:.1f} mm"
    return wrong(FILE, told, reason, "join the ends in the drawing")
