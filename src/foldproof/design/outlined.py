"""What is asked of a photograph or a drawing, and what was found in it: records, and the way to a shape."""

from __future__ import annotations

from dataclasses import dataclass, replace
from typing import Literal

from foldproof.geometry.plane import Point, Polygon
from foldproof.outlines.own import OwnShape
from foldproof.outlines.own_shape import Cut, Measures, measures_of, own_shape, trimmed
from foldproof.outlines.symmetry import symmetrised, symmetry_of

FileKind = Literal["photograph", "svg", "dxf"]


@dataclass(frozen=True, slots=True, kw_only=True)
class Asked:
    """How a file is to be read. None and empty: as it comes.

    ``choose`` is a shape's number from 1 or its name, ``unit`` what a DXF is drawn in, ``sheet_mm`` the sheet under the
    shape in a photograph, ``corners_px`` where its corners are, ``cuts`` lines in mm from the lower left corner of the
    box round the outline, ``symmetric`` whether a symmetry that is nearly there is made exact.
    """

    choose: str | None = None
    unit: str | None = None
    sheet_mm: tuple[float, float] | None = None
    corners_px: tuple[Point, ...] = ()
    accuracy_mm: float | None = None
    cuts: tuple[Cut, ...] = ()
    symmetric: bool = False


@dataclass(frozen=True, slots=True, kw_only=True)
class FoundShape:
    """One of the shapes in a drawing: its number from 1, and its outline moved to the drawing's lower left corner."""

    number: int
    name: str
    outline: Polygon
    area_mm2: float
    width_mm: float
    height_mm: float


@dataclass(frozen=True, slots=True, kw_only=True)
class NearlySymmetric:
    """A symmetry that the outline nearly has, and the most its edge would move if that were made exact."""

    fold: int
    axes: int
    change_mm: float


@dataclass(frozen=True, slots=True, kw_only=True)
class FromPhotograph:
    """What only a photograph has.

    ``farthest_mm`` is how far the outline may be off at its worst place. ``corners_px`` are the sheet's corners in it,
    ``picture`` the trace drawn over it as PNG, ``doubts`` what may be wrong with it, in words.
    """

    pixels_per_mm: float
    farthest_mm: float
    corners_px: tuple[Point, ...]
    doubts: tuple[str, ...]
    picture: bytes


@dataclass(frozen=True, slots=True, kw_only=True)
class Outlined:
    """What was found. ``shape`` is None when there are several to choose from.

    ``read`` is the outline before it was trimmed, its box's lower left corner at the origin, ``kept`` what is left, in
    the same place. ``strayed_mm`` is how far cleaning moved the line, ``mended`` how many small loops it took out.
    ``holes`` are
    holes in the shape, which are not kept. ``left_out`` are kinds of things that were not read, and how many. ``unit``
    is what the sizes come from.
    """

    kind: FileKind
    found: tuple[FoundShape, ...]
    shape: OwnShape | None = None
    measures: Measures | None = None
    read: Polygon = ()
    kept: Polygon = ()
    strayed_mm: float = 0.0
    mended: int = 0
    holes: int = 0
    nearly: NearlySymmetric | None = None
    left_out: tuple[tuple[str, int], ...] = ()
    unit: str = ""
    unit_from: str = ""
    photograph: FromPhotograph | None = None


def with_shape(told: Outlined, outline: Polygon, accuracy_mm: float, asked: Asked) -> Outlined:
    """What was found, from a cleaned outline: trimmed, measured and set on its middle."""
    read = _from_corner(outline)
    kept = trimmed(read, asked.cuts) if asked.cuts else read
    shape = own_shape("shape", kept, accuracy_mm=accuracy_mm, source="", symmetric=asked.symmetric)
    return replace(
        told,
        shape=shape,
        measures=measures_of(shape.outline),
        read=read,
        kept=kept,
        nearly=None if asked.symmetric else _nearly(kept, shape),
    )


def _from_corner(outline: Polygon) -> Polygon:
    left, low = min(x for x, _ in outline), min(y for _, y in outline)
    return tuple((x - left, y - low) for x, y in outline)


def _nearly(outline: Polygon, shape: OwnShape) -> NearlySymmetric | None:
    """A symmetry found in the outline that the shape, as traced, does not have yet."""
    symmetry = symmetry_of(outline)
    axes = len(symmetry.mirror_axes_rad)
    if not symmetry.found or (symmetry.fold, axes) == (shape.fold, len(shape.mirror_axes_rad)):
        return None
    exact = symmetrised(outline, symmetry)
    if exact is None:
        return None
    return NearlySymmetric(fold=symmetry.fold, axes=axes, change_mm=exact.change_mm)
