"""A shape of the maker's own: an outline that was traced or read from a file, at the size it was drawn."""

from __future__ import annotations

from dataclasses import dataclass, replace

from foldproof.geometry.outline import points_of, widest_mm
from foldproof.geometry.plane import Polygon
from foldproof.lengths import Length
from foldproof.outlines.record import Landmark, Shape


@dataclass(frozen=True, slots=True, kw_only=True)
class OwnShape:
    """An outline in mm, anticlockwise and simple, its middle at the origin and its right way up along +y.

    ``fold``, ``mirror_axes_rad`` and ``landmarks`` are as of a Shape. ``accuracy_mm``: how far the outline may be
    from the edge that was traced, at the size it is drawn. ``source``: where it came from, in the maker's words.
    ``sizes``: the sizes she owns, from tip to tip, rising; none: it can be cut at any size.
    """

    name: str
    outline: Polygon
    fold: int
    mirror_axes_rad: tuple[float, ...]
    landmarks: tuple[Landmark, ...]
    accuracy_mm: float
    source: str
    sizes: tuple[Length, ...]

    @property
    def across_mm(self) -> float:
        """Its size as drawn: the largest distance between two of its points."""
        return widest_mm(points_of(self.outline))


def renamed(own: OwnShape, name: str) -> OwnShape:
    """The same shape under another name."""
    return replace(own, name=name)


def at_size(own: OwnShape, across_mm: float) -> Shape:
    """The shape at a size from tip to tip, for everything that works on shapes by formula too."""
    scale = across_mm / own.across_mm
    return Shape(
        kind=own.name,
        outline=tuple((scale * x, scale * y) for x, y in own.outline),
        fold=own.fold,
        mirror_axes_rad=own.mirror_axes_rad,
        across_mm=across_mm,
        landmarks=tuple(
            Landmark(name=mark.name, kind=mark.kind, at_mm=(scale * mark.at_mm[0], scale * mark.at_mm[1]))
            for mark in own.landmarks
        ),
    )
