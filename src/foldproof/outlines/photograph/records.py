"""What comes out of a photograph."""

from __future__ import annotations

from dataclasses import dataclass

from foldproof.geometry.plane import Point, Polygon
from foldproof.outlines.photograph.refusals import Refused
from foldproof.outlines.photograph.view import View
from foldproof.outlines.symmetry import Symmetrised, Symmetry

DOUBTS: dict[str, tuple[str, str]] = {
    "proportion": (
        "the sheet looks {found:.1%} {way} than the size that was given",
        "check which sheet it is; in a picture that was cut to a part, this can be a false alarm",
    ),
    "too bright": (
        "the sheet is burnt out to white, which makes its own edges and the shape's less sure",
        "take the photograph again with less light, or touch the sheet on the screen to set the light by it",
    ),
    "cast shadow": (
        "the shape throws a shadow along its edge, which makes the edge less sure",
        "press the shape flat and have light from all around",
    ),
    "corners held": (
        "no edge is seen along a side of the sheet, so the corners stay where they were pointed out",
        "point at the very corners of the sheet, in the picture at its full size",
    ),
}


@dataclass(frozen=True, slots=True, kw_only=True)
class Doubt:
    """Something that may be wrong although the shape was traced: its ``code`` and the numbers behind it."""

    code: str
    values: tuple[tuple[str, float | str], ...] = ()

    @property
    def reason(self) -> str:
        """What may be wrong, in a maker's words."""
        return DOUBTS[self.code][0].format(**dict(self.values))

    @property
    def remedy(self) -> str:
        """What would help."""
        return DOUBTS[self.code][1]


@dataclass(frozen=True, slots=True, kw_only=True)
class Photographed:
    """The outline of a shape that was photographed on a sheet of known size.

    ``outline``: mm, anticlockwise, simple, its centre of area at the origin, the picture's up along +y as the sheet
    lies. ``accuracy_mm``: how far its edge is estimated to be from the true one on average, ``farthest_mm`` at its
    worst place, thin card being taken for granted where no thickness was given: 1 mm seen from 400 mm adds 1 in 400.
    ``symmetry``: what was found within the tolerance, ``evened`` the outline with it made exact, where there is any.
    ``corners_px``: the sheet's corners, lower left, lower right, upper right, upper left, in pixels of the upright
    picture from its top left corner. ``sheet_mm``: the sheet across and up the picture. ``view`` and ``middle_mm``
    say where the outline lies in the picture.
    """

    outline: Polygon
    accuracy_mm: float
    farthest_mm: float
    area_mm2: float
    widest_mm: float
    narrowest_mm: float
    pixels_per_mm: float
    blur_mm: float
    bow: float
    corners_px: tuple[Point, ...]
    sheet_mm: Point
    symmetry: Symmetry
    evened: Symmetrised | None
    doubts: tuple[Doubt, ...]
    view: View
    middle_mm: Point


Read = Photographed | Refused
