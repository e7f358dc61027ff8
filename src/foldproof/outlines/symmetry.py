"""The symmetry of an outline that was traced, found within a tolerance: turns and mirror axes about its middle.

A symmetry is confirmed by what it means: the largest distance between the outline and its copy, over all turns and
mirror axes together. Comparing only one turn would take a wave of ten shallow lobes for one of fifty-nine.
"""

from __future__ import annotations

import math
from collections.abc import Iterable
from dataclasses import dataclass

import numpy as np
import shapely

from foldproof.geometry.outline import after_each, distances_to_edges, enclosed_mm2, placed, points_of
from foldproof.geometry.plane import Array, Point, Polygon, centre
from foldproof.outlines.copies import STEP_MM, mean_of_copies, mirrored, turned
from foldproof.outlines.crossing import is_simple_ring
from foldproof.outlines.curves import CHORD_ERROR_MM, arc
from foldproof.outlines.record import mirror_axes
from foldproof.outlines.simplifying import chord_distances, simplified
from foldproof.outlines.walking import round_with_steps

TOLERANCE_MM = 0.5  # the width of a pencil line: what hand, blade and camera may differ from lobe to lobe
MOST_FOLD = 60  # as many lobes or sides as a shape by formula may have

MANY_POINTS = 600  # an outline with more is compared with fewer, off by a small share of the tolerance
SHARE_OF_TOLERANCE = 0.02
STEPS_ROUND = 360  # points added round an outline, on which it is compared with its copies
STEPS_ROUND_AT_FIRST = 90
AXES_ROUND = 180  # directions in half a turn in which mirror axes are looked for
AXES_REFINED = 5  # best of these directions that are looked at closely
STRAYS = 2.0  # a mean is no farther from an outline than its copies; at sharp corners, not much farther
ALONG_X_RAD = 5e-5  # an axis this near to +x is along it: a place 70 mm out is mirrored within 0.01 mm
HALVINGS = 12  # of a step of a degree at most: a place 100 mm out is then mirrored within a micrometre


@dataclass(frozen=True, slots=True, kw_only=True)
class Symmetry:
    """``fold`` and ``mirror_axes_rad`` as of a Shape: fold 1 without axes is no symmetry, fold 0 a disc.

    ``error_mm``: the largest distance between the outline and any of its turned and mirrored copies about ``middle``;
    0.0 when there is no symmetry. Never over the tolerance it was asked for.
    """

    fold: int
    mirror_axes_rad: tuple[float, ...]
    error_mm: float
    middle: Point

    @property
    def found(self) -> bool:
        """Whether there is any symmetry."""
        return self.fold != 1 or bool(self.mirror_axes_rad)


@dataclass(frozen=True, slots=True, kw_only=True)
class Symmetrised:
    """An outline with exact symmetry about the same middle; ``change_mm``: its largest distance from the one given."""

    outline: Polygon
    change_mm: float


@dataclass(frozen=True, slots=True, kw_only=True)
class _Compared:
    """An outline about its middle: its edges, how far it reaches, the places (m, 2) at which it is compared."""

    edges: shapely.STRtree
    reach_mm: float
    places: Array
    few: Array
    strayed_mm: float


def symmetry_of(outline: Polygon, *, tolerance_mm: float = TOLERANCE_MM) -> Symmetry:
    """The most turns and mirror axes whose copies all lie within ``tolerance_mm`` of a simple anticlockwise outline.

    The middle is the centre of area, which every symmetry leaves where it is. With more than 600 points the outline
    is thinned first, and the error is told so much larger.
    """
    middle = centre(outline)
    about = points_of(outline) - np.asarray(middle)
    # The farthest place turns to bearings where the outline is nearest, so this is the error over all turns.
    roundness = float(np.hypot(*about.T).max() - distances_to_edges(np.zeros((1, 2)), about)[0])
    if roundness <= tolerance_mm:
        return Symmetry(fold=0, mirror_axes_rad=(), error_mm=roundness, middle=middle)
    compared = _to_compare(about, tolerance_mm)
    tolerance = tolerance_mm - 2.0 * compared.strayed_mm
    fold, turned_off = _turns(compared, tolerance)
    axes, mirrored_off = _axes(compared, fold, tolerance)
    found = fold > 1 or axes
    return Symmetry(
        fold=fold,
        mirror_axes_rad=axes,
        error_mm=max(turned_off, mirrored_off) + 2.0 * compared.strayed_mm if found else 0.0,
        middle=middle,
    )


def symmetrised(outline: Polygon, symmetry: Symmetry) -> Symmetrised | None:
    """The mean of an outline's turned and mirrored copies. None: it has no symmetry, or its copies have no good mean.

    The part between two mirror axes, or within one turn, is moved to the mean of the places nearest to it on all
    copies; then that part is repeated. Symmetry is exact up to rounding.
    """
    if not symmetry.found:
        return None
    middle = np.asarray(symmetry.middle)
    about = points_of(outline) - middle
    if symmetry.fold == 0:
        made = _round_of_same_area(about)
    else:
        made = mean_of_copies(about, symmetry.fold, symmetry.mirror_axes_rad)
    if len(made) < 3 or not is_simple_ring(made) or enclosed_mm2(made) <= 0.0:
        return None
    change = max(
        float(distances_to_edges(round_with_steps(made, STEP_MM), about).max()),
        float(distances_to_edges(round_with_steps(about, STEP_MM), made).max()),
    )
    if change > STRAYS * symmetry.error_mm + STEP_MM / 10.0:
        return None
    return Symmetrised(outline=tuple((x, y) for x, y in (made + middle).tolist()), change_mm=change)


def _round_of_same_area(about: Array) -> Array:
    return arc((0.0, 0.0), math.sqrt(enclosed_mm2(about) / math.pi), 0.0, math.tau, CHORD_ERROR_MM, multiple=8)


def _to_compare(about: Array, tolerance_mm: float) -> _Compared:
    outline, strayed = about, 0.0
    if len(about) > MANY_POINTS:
        kept = simplified(about, SHARE_OF_TOLERANCE * tolerance_mm)
        outline, strayed = about[kept], float(chord_distances(about, kept).max())
    round_mm = float(np.hypot(*(np.roll(outline, -1, axis=0) - outline).T).sum())
    places = round_with_steps(outline, round_mm / STEPS_ROUND)
    edges = shapely.linestrings(np.stack((outline, after_each(outline)), axis=1))
    return _Compared(
        edges=shapely.STRtree(np.asarray(edges, dtype=np.object_)),
        reach_mm=float(np.hypot(*outline.T).max()),
        places=places,
        few=places[:: max(1, len(places) // STEPS_ROUND_AT_FIRST)],
        strayed_mm=strayed,
    )


def _apart(compared: _Compared, copy: Array) -> Array:
    """Distance in mm of each place of a copy (m, 2) from the outline: (m,)."""
    found: Array = compared.edges.query_nearest(shapely.points(copy), return_distance=True, all_matches=False)[1]
    return found


def _error(compared: _Compared, copies: Iterable[Array], tolerance: float) -> float | None:
    """The largest distance of any copy from the outline; None as soon as one is over the tolerance."""
    largest = 0.0
    for copy in copies:
        largest = max(largest, float(_apart(compared, copy).max()))
        if largest > tolerance:
            return None
    return largest


def _turns(compared: _Compared, tolerance: float) -> tuple[int, float]:
    """How many turns lay the outline onto itself, and the largest distance then.

    The first turn, at a few places, is looked at before all of them.
    """
    for fold in range(MOST_FOLD, 1, -1):
        first = placed(compared.few, turn_rad=math.tau / fold)
        if _error(compared, [first], tolerance) is None:
            continue
        error = _error(compared, turned(compared.places, fold), tolerance)
        if error is not None:
            return fold, error
    return 1, 0.0


def _axes(compared: _Compared, fold: int, tolerance: float) -> tuple[tuple[float, ...], float]:
    """The mirror axes of an outline with so many turns, none or as many as turns, and the largest distance then."""
    count = max(8, math.ceil(AXES_ROUND / fold))
    step = math.pi / fold / count
    tried = [_off(compared, number * step) for number in range(count)]
    lows = [n for n in range(count) if tried[n] <= min(tried[n - 1], tried[(n + 1) % count])]
    for number in sorted(lows, key=lambda n: tried[n])[:AXES_REFINED]:
        # Half a step off an axis every place is mirrored as far off as a whole step of its circle, and no farther.
        if tried[number] > tolerance + compared.reach_mm * step:
            break
        axis = _refined(compared, number * step, step)
        axes = mirror_axes(0.0 if abs(math.remainder(axis, math.pi / fold)) < ALONG_X_RAD else axis % math.pi, fold)
        error = _error(compared, (mirrored(compared.places, axis) for axis in axes), tolerance)
        if error is not None:
            return axes, error
    return (), 0.0


def _off(compared: _Compared, axis: float) -> float:
    """Root of the mean square distance of some mirrored places from the outline, in mm."""
    return float(np.sqrt(np.mean(_apart(compared, mirrored(compared.few, axis)) ** 2)))


def _refined(compared: _Compared, axis: float, step: float) -> float:
    """The direction near ``axis`` in which the outline is mirrored best, by halving the step."""
    best = _off(compared, axis)
    for _ in range(HALVINGS):
        step /= 2.0
        for tried in (axis - step, axis + step):
            off = _off(compared, tried)
            if off < best:
                axis, best = tried, off
                break
    return axis
