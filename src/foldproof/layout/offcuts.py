"""Outlines cut from what others leave of their sheets: a plain search, whose answer is checked before it is given.

The largest piece comes first. Every other is tried on the sheets that are begun, in a few turns, at the lowest place
and of those the leftmost; where none has room it begins a sheet. Fewer sheets may do: nothing is tried twice.
"""

from __future__ import annotations

import math
from collections.abc import Sequence
from dataclasses import dataclass

import numpy as np
import shapely
from numpy.typing import NDArray
from shapely import affinity
from shapely.geometry import Polygon as Shape
from shapely.geometry.base import BaseGeometry

from foldproof.geometry.plane import Polygon

Array = NDArray[np.float64]

GRID_MM = 4.0  # places are tried this far apart, and beside every piece that lies there
GAP_MM = 3.175  # 1/8 in between cuts: what a hand leaves for scissors; common practice, no source
ROUGH_MM = 0.4  # outlines are searched with this much round them, in few points: never inside the true one
ROUND_SHARE = 1.0 / math.cos(math.pi / 64.0)  # rounds are drawn in chords, 16 to a quarter turn, inside the true arc
SAME_MM = 1e-6  # float noise of an edge: a piece as wide as the sheet still lies on it
TURNS_DEG = (0.0, 90.0, 45.0, 15.0, 30.0, 60.0, 75.0)
UNTURNED_DEG = (0.0,)


@dataclass(frozen=True, slots=True, kw_only=True)
class Cut:
    """An outline in mm to be cut out, where it lies as it is drawn; ``may_turn``: it may lie any way round."""

    name: str
    outline: Polygon
    may_turn: bool = True


@dataclass(frozen=True, slots=True, kw_only=True)
class CutPlace:
    """Where a piece is cut: its sheet from 0, its turn and its outline there, in the sheet's frame.

    ``offcut_of`` is the piece that its sheet was begun for; "" for that piece itself.
    """

    name: str
    sheet: int
    turn_deg: float
    outline: Polygon
    offcut_of: str


@dataclass(frozen=True, slots=True, kw_only=True)
class Nested:
    """Pieces on sheets, in the order they were laid; ``too_large`` are the names of those that no sheet holds."""

    sheets: int
    placed: tuple[CutPlace, ...]
    too_large: tuple[str, ...]


class _Sheet:
    """A sheet being filled: what is free of it for cuts, corners of what lies there, and the piece it was begun for."""

    def __init__(self, sheet_mm: tuple[float, float], first: str) -> None:
        self.free: BaseGeometry = shapely.box(0.0, 0.0, *sheet_mm)
        self.corners: list[tuple[float, float, float, float]] = []
        self.first = first


def nested(cuts: Sequence[Cut], sheet_mm: tuple[float, float], gap_mm: float = GAP_MM) -> Nested:
    """The pieces on sheets of (width, height) in mm, ``gap_mm`` of card between any two; the same pieces, the same way.

    All of every outline is inside its sheet.
    """
    sheets: list[_Sheet] = []
    placed: list[CutPlace] = []
    too_large: list[str] = []
    for cut in sorted(cuts, key=lambda each: (-Shape(each.outline).area, each.name)):
        shape = Shape(cut.outline)
        turns = TURNS_DEG if cut.may_turn and not _is_round(shape) else UNTURNED_DEG
        found = next(
            ((number, *place) for number, sheet in enumerate(sheets) if (place := _place(shape, turns, sheet))), None
        )
        if found is None:
            new = _Sheet(sheet_mm, cut.name)
            begun = _place(shape, turns, new)
            if begun is None:
                too_large.append(cut.name)
                continue
            sheets.append(new)
            found = (len(sheets) - 1, *begun)
        number, turn, laid = found
        sheet = sheets[number]
        sheet.free = sheet.free.difference(laid.buffer(gap_mm * ROUND_SHARE))
        sheet.corners.append(laid.bounds)
        points = tuple((float(x), float(y)) for x, y in laid.exterior.coords[:-1])
        first = sheet.first
        placed.append(
            CutPlace(
                name=cut.name,
                sheet=number,
                turn_deg=turn,
                outline=points,
                offcut_of="" if first == cut.name else first,
            )
        )
    answer = Nested(sheets=len(sheets), placed=tuple(placed), too_large=tuple(too_large))
    assert_apart(answer, sheet_mm, gap_mm)
    return answer


def assert_apart(answer: Nested, sheet_mm: tuple[float, float], gap_mm: float) -> None:
    """Every piece lies on its sheet, and any two of one sheet are as far apart as they have to be."""
    sheet = shapely.box(0.0, 0.0, *sheet_mm).buffer(2.0 * SAME_MM, join_style="mitre")
    shapes = [(place, Shape(place.outline)) for place in answer.placed]
    for number, (place, shape) in enumerate(shapes):
        assert sheet.covers(shape), f"{place.name} is off its sheet"
        for other, beside in shapes[:number]:
            near = place.sheet == other.sheet and shape.distance(beside) < gap_mm - SAME_MM
            assert not near, f"{place.name} lies on {other.name}"


def _is_round(shape: Shape) -> bool:
    """Whether a turn changes nothing: all corners as far from the middle, and many of them."""
    reach = np.hypot(*(shapely.get_coordinates(shape) - np.asarray(shape.centroid.coords[0])).T)
    return bool(np.ptp(reach) < ROUGH_MM and len(reach) > 32)


def _place(shape: Shape, turns: Sequence[float], sheet: _Sheet) -> tuple[float, Shape] | None:
    """The first turn that has room, and the piece there."""
    for turn in turns:
        turned = affinity.rotate(shape, turn, origin=(0.0, 0.0))
        shift = _lowest(turned, sheet)
        if shift is not None:
            return turn, affinity.translate(turned, *shift)
    return None


def _lowest(shape: Shape, sheet: _Sheet) -> tuple[float, float] | None:
    """The shift to the lowest, then leftmost place at which a piece lies in what is free of a sheet."""
    left, low, right, high = shape.bounds
    wide, tall = right - left, high - low
    bounds = sheet.free.bounds
    xs = _tried(bounds[0], bounds[2], wide, [corner[0::2] for corner in sheet.corners])
    ys = _tried(bounds[1], bounds[3], tall, [corner[1::2] for corner in sheet.corners])
    if not len(xs) or not len(ys):
        return None
    rough = _rough(shape)
    roomy = sheet.free.buffer(SAME_MM, join_style="mitre")
    shapely.prepare(roomy)
    outline = shapely.get_coordinates(rough) - (left, low)
    for y in ys:
        shifts = np.column_stack([xs, np.full(len(xs), y)])
        inside = shapely.covers(roomy, shapely.polygons(outline[None, :, :] + shifts[:, None, :]))
        if inside.any():
            x = float(xs[int(np.argmax(inside))])
            return (x - left, float(y) - low)
    return None


def _rough(shape: Shape) -> Shape:
    """An outline of few points that the piece lies in: itself where it has few, and no larger than its bounds."""
    if len(shape.exterior.coords) <= 16:
        return shape
    grown = shape.buffer(ROUGH_MM).simplify(0.5 * ROUGH_MM).intersection(shapely.box(*shape.bounds))
    return grown if isinstance(grown, Shape) and grown.covers(shape) else shape


def _tried(least: float, most: float, size: float, taken: Sequence[tuple[float, ...]]) -> Array:
    """Coordinates of a piece's lower end to try, rising: on the grid, at both edges, and beside what lies there."""
    if not math.isfinite(least) or most - least < size - SAME_MM:
        return np.empty(0)
    beside = [at for low, high in taken for at in (high + GAP_MM + ROUGH_MM, low - GAP_MM - ROUGH_MM - size, low)]
    tried = np.concatenate([np.arange(least, most - size, GRID_MM), [least, max(least, most - size)], beside])
    return np.unique(np.round(tried[(tried >= least - SAME_MM) & (tried <= most - size + SAME_MM)], 6))
