"""Folded card in space, as the hidden-line drawing reads it: flat faces, arrows, guides and a view.

Lengths are millimetres of the real thing. x runs to the right along the front, y away from the reader and
z up from the table.
"""

from __future__ import annotations

from dataclasses import dataclass
from itertools import chain
from math import isfinite
from typing import Literal

from foldproof.drawing.records import Mark, Point

Point3 = tuple[float, float, float]
Side = Literal["face", "back"]
Unfolded = tuple[Point3, Point3, Literal["valley", "mountain"]]


@dataclass(frozen=True, slots=True, kw_only=True)
class Face3:
    """A flat panel, possibly concave, its outline anticlockwise seen from its face side.

    ``folds`` are the numbers of the edges (point i to i + 1) shared with another panel; the others are free.
    ``unfolded`` are creases still flat, listed by one of the two panels beside them. ``glue`` are polygons in
    the panel's plane, drawn when ``glue_side`` is seen. ``emphasis`` draws the panel's free edges as heavy
    as a silhouette, to set the part that a step is about apart.
    """

    name: str
    outline: tuple[Point3, ...]
    folds: tuple[int, ...] = ()
    glue: tuple[tuple[Point3, ...], ...] = ()
    glue_side: Side = "face"
    coloured_side: Side = "back"
    emphasis: bool = False
    unfolded: tuple[Unfolded, ...] = ()

    def __post_init__(self) -> None:
        assert len(self.outline) >= 3, f"face {self.name!r} has fewer than three corners"
        assert all(0 <= fold < len(self.outline) for fold in self.folds), f"face {self.name!r}: no such edge"
        assert all(len(ring) >= 3 for ring in self.glue), f"face {self.name!r}: glue without an area"
        numbers = chain(*self.outline, *chain(*self.glue))
        assert all(isfinite(number) for number in numbers), f"face {self.name!r} has a corner nowhere"


@dataclass(frozen=True, slots=True, kw_only=True)
class Arrow3:
    """The true path of one point on a moving part, from where it is to where it goes."""

    points: tuple[Point3, ...]

    def __post_init__(self) -> None:
        assert len(self.points) >= 2, "an arrow needs a start and an end"


@dataclass(frozen=True, slots=True, kw_only=True)
class Guide3:
    """A thin dashed line from a corner to where it lands: attachment, not movement."""

    a: Point3
    b: Point3


@dataclass(frozen=True, slots=True, kw_only=True)
class View:
    """Where the reader looks from, without perspective.

    ``azimuth_deg`` is how far round to the right of the front, ``elevation_deg`` how far above the table.
    """

    azimuth_deg: float = 30.0
    elevation_deg: float = 38.0


@dataclass(frozen=True, slots=True, kw_only=True)
class Drawing:
    """Marks in millimetres on paper, their bounding box from (0, 0) to (``width_mm``, ``height_mm``).

    ``origin_mm`` is where the point (0, 0, 0) of space falls, to set labels by:
    ``origin_mm + mm_per_mm * project(view, point)``. Half a line's width sticks out of the box on each side.
    """

    marks: tuple[Mark, ...]
    width_mm: float
    height_mm: float
    origin_mm: Point
