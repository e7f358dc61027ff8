"""The largest box under a lid, the smallest lid over a box: global, with bounds.

A lid covers what it covers also of a smaller box, so sizes are searched by asking for the best cover: a size at which
some place covers, and one a little larger of which it is proved that none does. A lid made smaller by a scale covers a
rim with a margin exactly when the lid itself covers the rim with its margin made larger by the same scale.
"""

from __future__ import annotations

import dataclasses
import math
from dataclasses import dataclass
from typing import Literal

import numpy as np

from foldproof.errors import Problem, wrong
from foldproof.geometry.cover import cover_margin
from foldproof.geometry.half_plane import sides_moved
from foldproof.geometry.outline import half_planes, innermost, placed, wound_anticlockwise
from foldproof.geometry.plane import Array, Polygon
from foldproof.lids.optimum_cover import covering
from foldproof.lids.optimum_ground import Cover, convex_problems, cover_of, outline_problems, refuse
from foldproof.lids.optimum_measure import own_place
from foldproof.lids.optimum_records import ANYWHERE, MOST_CELLS, BestScale, Fixed
from foldproof.progress import Progress, unwatched

Grows = Literal["both", "length", "width"]

SHARE = 0.1  # of the way within which a size is sought: how near margins are judged for it
HALVINGS = 48  # of a size at one place: to rounding
LEAST_SCALE, MOST_SCALE = 1e-4, 1e6  # a box a ten-thousandth of the given one is none
TRIES = 80  # sizes asked for at most; each is nearer than the one before
NEARER, GROWTH = 0.3, 0.02  # where the next size is asked for: of the way to the bound, or of the size
SKEWED = 1e-12  # product of a normal's parts: nought for sides along the axes, but for rounding
HAIR = 0.98  # of a size: less is another size
CLOSE = 1e-6  # a way is as short as asked for, but for rounding


@dataclass(frozen=True, slots=True, kw_only=True)
class _Sizes:
    """Which sizes are asked for: a convex shape (k, 2) that grows about the box's origin along ``grows`` (1 or 0).

    ``shifted``: a given shift is that at scale 1, and grows with the shape.
    """

    lid: Polygon
    shape: Array
    grows: Array
    margin_mm: float
    fixed: Fixed
    shifted: bool
    within_mm: float


@dataclass(frozen=True, slots=True, kw_only=True)
class _Found:
    """Largest scale found, its place in the lid's own frame (turn, right, back), and its margin."""

    scale: float
    place: tuple[float, float, float]
    margin_mm: float


def largest_box(
    lid: Polygon,
    shape: Polygon,
    *,
    margin_mm: float,
    grows: Grows = "both",
    fixed: Fixed = ANYWHERE,
    within_mm: float = 0.05,
    progress: Progress = unwatched,
    most_cells: int = MOST_CELLS,
) -> BestScale:
    """How large a convex shape may be made about the box's origin, in both directions or one, and still be covered.

    A rectangle of a given ratio grows both ways; one with a given width grows in length only. Walls outside the
    shape are added to ``margin_mm``. Only a rectangle along the axes grows one way: sides that turn as they grow need
    not cover more of the lid. ``within_mm`` is of the shape's size across. ``scale`` 0: not even a speck is
    covered. ``progress`` is told "lid_size" with the cells looked at. Raises InputError.
    """
    problems = outline_problems("lid", lid) + convex_problems("shape", shape) + _margin_problems(margin_mm)
    refuse(problems)
    points = wound_anticlockwise(np.asarray(shape, dtype=np.float64))
    normals, offsets = half_planes(points)
    if grows != "both" and float(np.abs(normals[:, 0] * normals[:, 1]).max()) > SKEWED:
        raise wrong("grows", grows, "only a rectangle can grow one way", "let the shape grow both ways")
    if fixed.moved_right_mm is not None or fixed.moved_back_mm is not None:
        if offsets.min() <= 0.0:
            raise wrong(
                "shape", "a shape beside the origin", "a given shift needs it inside", "draw it about the middle"
            )
        middle = np.zeros(2)
    else:
        middle = np.asarray(innermost(normals, offsets)[0])
    along = np.array([0.0 if grows == "width" else 1.0, 0.0 if grows == "length" else 1.0])
    sizes = _Sizes(
        lid=lid,
        shape=points - middle,
        grows=along,
        margin_mm=margin_mm,
        fixed=fixed,
        shifted=False,
        within_mm=within_mm,
    )
    found = _largest(sizes, progress, most_cells)
    right, back = middle * np.where(along > 0.0, found.scale, 1.0)
    return dataclasses.replace(
        found, moved_right_mm=found.moved_right_mm + float(right), moved_back_mm=found.moved_back_mm + float(back)
    )


def smallest_lid(
    lid: Polygon,
    rim: Polygon,
    *,
    margin_mm: float,
    fixed: Fixed = ANYWHERE,
    within_mm: float = 0.05,
    progress: Progress = unwatched,
    most_cells: int = MOST_CELLS,
) -> BestScale:
    """How small a lid may be made, about its own origin, and still cover the rim with a margin.

    ``within_mm`` is of the rim's size across. A given shift is that of the lid as made. ``scale`` infinite: no
    lid of this shape covers. A given shift has to leave the lid's own origin over the rim, or a larger lid
    need not cover what a smaller one does. ``progress`` is told "lid_size" with the cells looked at. Raises InputError.
    """
    refuse(outline_problems("lid", lid) + convex_problems("rim", rim) + _margin_problems(margin_mm))
    moved = sides_moved(wound_anticlockwise(np.asarray(rim, dtype=np.float64)), margin_mm)
    _refuse_beside(moved, fixed)
    middle = np.zeros(2)
    if fixed.moved_right_mm is None and fixed.moved_back_mm is None:
        middle = np.asarray(innermost(*half_planes(moved))[0])
    sizes = _Sizes(
        lid=lid,
        shape=moved - middle,
        grows=np.ones(2),
        margin_mm=0.0,
        fixed=fixed,
        shifted=True,
        within_mm=within_mm,
    )
    found = _largest(sizes, progress, most_cells)
    scale = 1.0 / found.scale if found.scale > 0.0 else math.inf
    size = scale if math.isfinite(scale) else 1.0
    return dataclasses.replace(
        found,
        scale=scale,
        bound=1.0 / found.bound,
        moved_right_mm=found.moved_right_mm * size + float(middle[0]),
        moved_back_mm=found.moved_back_mm * size + float(middle[1]),
        margin_mm=margin_mm + found.margin_mm * size,
    )


def _refuse_beside(rim: Array, fixed: Fixed) -> None:
    """Raises InputError when the lid's own origin cannot be over the rim (k, 2), its given shifts kept."""
    right, back = fixed.moved_right_mm, fixed.moved_back_mm
    normals, offsets = half_planes(rim)
    remedy = "give a shift that leaves it over the box"
    for field, given, axis in (("moved_right_mm", right, 0), ("moved_back_mm", back, 1)):
        if given is not None and not rim[:, axis].min() <= given <= rim[:, axis].max():
            raise wrong(field, given, "the lid's own middle is beside the box", remedy)
    if right is not None and back is not None and bool(np.any(normals @ np.array([right, back]) > offsets)):
        raise wrong("moved_right_mm", right, "the lid's own middle is beside the box", remedy)


def _margin_problems(margin_mm: float) -> list[Problem]:
    if math.isfinite(margin_mm) and margin_mm >= 0.0:
        return []
    return [Problem(field="margin_mm", value=str(margin_mm), reason="it is less than nothing", remedy="give 0 or more")]


def _largest(sizes: _Sizes, progress: Progress, most_cells: int) -> BestScale:
    """The search: a size that is covered grows at its place; the next one asked for is a little larger."""
    step = sizes.within_mm / float(np.ptp(sizes.shape[:, sizes.grows > 0.0], axis=0).max())
    best = _Found(scale=0.0, place=(0.0, 0.0, 0.0), margin_mm=-math.inf)
    bound, scale, cells, stopped = math.inf, 1.0, 0, False
    open_scale = 0.0  # the last size so near the best that neither is seen
    for _ in range(TRIES):
        cover = _cover_at(sizes, scale)
        state = None
        for state in covering(cover, SHARE * sizes.within_mm, sizes.margin_mm):
            stopped = not progress("lid_size", cells + state.cells, most_cells)
            if stopped or cells + state.cells >= most_cells:
                break
        assert state is not None, "a search has a first state"
        cells += state.cells
        if state.bound_mm < sizes.margin_mm:
            bound = min(bound, scale)
        else:
            # A place that misses the margin by a hair has it at a size a hair smaller.
            best = max(best, _grown(sizes, scale, own_place(cover, state.place)), key=lambda found: found.scale)
            open_scale = scale if state.margin_mm < sizes.margin_mm else open_scale
        if stopped or cells >= most_cells or bound - best.scale <= step * (1.0 + CLOSE) or scale < LEAST_SCALE:
            break
        if best.scale == 0.0:
            scale *= 0.5
        else:
            nearer = NEARER * (bound - best.scale) if math.isfinite(bound) else GROWTH * best.scale
            scale = best.scale + max(step, nearer)
            scale = open_scale + 0.5 * step if abs(scale - open_scale) < 0.5 * step else scale
    return BestScale(
        scale=best.scale,
        bound=max(bound, best.scale),
        closed_turn_rad=best.place[0],
        moved_right_mm=best.place[1],
        moved_back_mm=best.place[2],
        margin_mm=best.margin_mm,
        cells=cells,
        finished=bound - best.scale <= step * (1.0 + CLOSE),
        stopped=stopped,
    )


def _scaled(sizes: _Sizes, scale: float) -> Array:
    return sizes.shape * np.where(sizes.grows > 0.0, scale, 1.0)


def _cover_at(sizes: _Sizes, scale: float) -> Cover:
    fixed = sizes.fixed
    if sizes.shifted:
        right, back = fixed.moved_right_mm, fixed.moved_back_mm
        fixed = dataclasses.replace(
            fixed,
            moved_right_mm=None if right is None else right * scale,
            moved_back_mm=None if back is None else back * scale,
        )
    rim = tuple((float(x), float(y)) for x, y in _scaled(sizes, scale))
    return cover_of(sizes.lid, rim, fixed)


def _grown(sizes: _Sizes, scale: float, place: tuple[float, float, float]) -> _Found:
    """The largest scale at which the lid covers at its place, from one at which it does or all but does; 0 for none."""
    low, high = scale, 2.0 * scale

    def margin(tried: float) -> float:
        grown = tried / scale if sizes.shifted else 1.0
        shift = (place[1] * grown, place[2] * grown)
        posed = placed(np.asarray(sizes.lid, dtype=np.float64), turn_rad=place[0], shift_mm=shift)
        return cover_margin(posed, _scaled(sizes, tried))

    if margin(low) < sizes.margin_mm:
        low, high = HAIR * scale, scale
        if margin(low) < sizes.margin_mm:
            return _Found(scale=0.0, place=place, margin_mm=-math.inf)
    while margin(high) >= sizes.margin_mm and high < MOST_SCALE:
        low, high = high, 2.0 * high
    for _ in range(HALVINGS):
        middle = 0.5 * (low + high)
        low, high = (middle, high) if margin(middle) >= sizes.margin_mm else (low, middle)
    grown = low / scale if sizes.shifted else 1.0
    return _Found(scale=low, place=(place[0], place[1] * grown, place[2] * grown), margin_mm=margin(low))
