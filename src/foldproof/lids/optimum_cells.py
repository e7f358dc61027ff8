"""Cells of places, what is certainly covered in them, and which of them can be let go.

A cell is an interval of closed turns, one of opening turns, a patch of the hole's region, and a rectangle of shifts as
seen with the hole at the pivot. It can be let go for good when even what the lid covers in every one of its places
leaves more of the opening covered than allowed: for the turns of the closed lid that is an outline kept at all of
them, for the rest the opening is drawn in so far that every place of the cell has all of it. It can be let go
at a level when none of its shifts can be reached with that margin, or its hole is too near the edge.
"""

from __future__ import annotations

import math
from dataclasses import dataclass, field

import numpy as np

from foldproof.geometry.common_area import common_areas
from foldproof.geometry.half_plane import left_of_each
from foldproof.geometry.outline import half_planes
from foldproof.geometry.plane import Array
from foldproof.lids.optimum_cover import closed_turns
from foldproof.lids.optimum_ground import BACK, HOLE_BACK, HOLE_RIGHT, OPEN, RIGHT, TURN, Ground
from foldproof.lids.optimum_halving import Halving, Places, half_widths_of, halves_of, intervals, middles_of
from foldproof.lids.optimum_measure import covered_areas, hole_distances, turned_back
from foldproof.lids.optimum_reach import (
    DIRECTIONS,
    ROUNDING_MM,
    Level,
    Shifts,
    covering_shifts,
    directions_from,
    hole_reach,
    holes_in_turn,
    turned_normals,
    turned_reach,
)
from foldproof.lids.optimum_sweeps import Sweeps, graded, grades, kept_by

FIRST_OPEN_RAD = 0.2  # the widest interval of opening turns begun with
NARROW_RAD = 1e-4  # sides turned by less are too nearly level with one another for an area to be told exactly
NO_MATTER_MM = 1.0  # a side so far outside its twin cuts nothing off
ROUNDING_MM2 = 1e-7  # far more than an area loses to arithmetic
LEVER_SHARE = 0.2  # of the opening's width: how far what stays covered lies from the hole, about

Flags = np.ndarray[tuple[int], np.dtype[np.bool_]]


@dataclass(frozen=True, slots=True, kw_only=True)
class Patches:
    """Convex pieces of the hole's region by number: their corners (v, 2) from the pivot."""

    corners: list[Array]
    parts: dict[int, tuple[int, int]] = field(default_factory=dict)


@dataclass(frozen=True, slots=True, kw_only=True)
class Search:
    """One search: its intervals and patches, the axes (2, 2) of its rectangles as rows, and answers found so far.

    ``openings`` are normals and offsets of the opening drawn in for an interval of opening turns, from the pivot and
    in the frame of the closed lid.
    """

    ground: Ground
    pivot: Array
    axes: Array
    directions: Array
    closed: Halving
    opened: Halving
    patches: Patches
    sweeps: Sweeps
    openings: dict[int, tuple[Array, Array]] = field(default_factory=dict)
    hole_reaches: dict[tuple[int, int], Array] = field(default_factory=dict)


@dataclass(frozen=True, slots=True, kw_only=True)
class Cells:
    """Cells (m,): numbers of both intervals and the patch, middles and half widths (m, 2) of shifts along the axes."""

    closed: Places
    opened: Places
    patch: Places
    middles: Array
    halves: Array

    def take(self, which: Flags | Places | slice) -> Cells:
        """Some of the cells."""
        return Cells(
            closed=self.closed[which],
            opened=self.opened[which],
            patch=self.patch[which],
            middles=self.middles[which],
            halves=self.halves[which],
        )

    def __len__(self) -> int:
        return len(self.closed)


def joined(*cells: Cells) -> Cells:
    """All of the cells."""
    return Cells(
        closed=np.concatenate([each.closed for each in cells]),
        opened=np.concatenate([each.opened for each in cells]),
        patch=np.concatenate([each.patch for each in cells]),
        middles=np.concatenate([each.middles for each in cells]),
        halves=np.concatenate([each.halves for each in cells]),
    )


def search_of(ground: Ground, pivot: Array) -> Search:
    """A search that has found nothing yet. The nearer the pivot is to the best hole, the quicker it ends."""
    away = pivot - ground.opening.mean(axis=0)
    along = away / float(np.hypot(*away)) if float(np.hypot(*away)) > 1.0 else np.array([1.0, 0.0])
    low, high = ground.turns
    return Search(
        ground=ground,
        pivot=pivot,
        axes=np.array([along, [-along[1], along[0]]]),
        directions=directions_from(along),
        closed=closed_turns(ground.cover),
        opened=intervals(low, high, FIRST_OPEN_RAD, even=low < 0.0),
        patches=Patches(corners=[ground.region - pivot]),
        sweeps=Sweeps(lid=ground.cover.lid),
    )


def corners_of(search: Search, patch: Places) -> Array:
    """Corners (m, v, 2) of patches from the pivot, all with as many as the one that has most, some twice."""
    numbers, which = np.unique(patch, return_inverse=True)
    some = [search.patches.corners[number] for number in numbers.tolist()]
    most = max(len(each) for each in some)
    return np.array([each[np.minimum(np.arange(most), len(each) - 1)] for each in some])[which]


def root_cells(search: Search, level: Level) -> Cells:
    """One cell for every pair of first intervals whose shifts can be reached at a level."""
    closed, opened = (
        axis.ravel() for axis in np.indices((len(search.closed.middles), len(search.opened.middles)), dtype=np.intp)
    )
    patch = np.zeros(len(closed), dtype=np.intp)
    reach = _shift_reach(search, level, closed) + _hole_reach(search, opened, patch)
    kept = np.isfinite(reach).all(axis=1)
    reach = reach[kept]
    quarter = DIRECTIONS // 4
    high, low = reach[:, [0, quarter]], -reach[:, [2 * quarter, 3 * quarter]]
    return Cells(
        closed=closed[kept],
        opened=opened[kept],
        patch=patch[kept],
        middles=0.5 * (high + low),
        halves=np.maximum(0.5 * (high - low), 0.0),
    )


def _shifts(search: Search, level: Level, number: int) -> Shifts:
    found = level.shifts.get(number)
    if found is None:
        found = covering_shifts(
            search.ground.cover,
            search.sweeps,
            search.closed.middles[number],
            search.closed.halves[number],
            level.moved,
            search.directions,
        )
        level.shifts[number] = found
    return found


def _shift_reach(search: Search, level: Level, closed: Places) -> Array:
    numbers, which = np.unique(closed, return_inverse=True)
    return np.array([_shifts(search, level, number).reach for number in numbers.tolist()])[which]


def _hole_reach(search: Search, opened: Places, patch: Places) -> Array:
    """How far the holes of a patch move shifts (m, d), over an interval of opening turns."""
    pairs = patch * len(search.opened.middles) + opened
    _, first, which = np.unique(pairs, return_index=True, return_inverse=True)
    keys = list(zip(opened[first].tolist(), patch[first].tolist(), strict=True))
    new = [key for key in keys if key not in search.hole_reaches]
    if new:
        turns, pieces = (np.array(each, dtype=np.intp) for each in zip(*new, strict=True))
        found = hole_reach(
            np.broadcast_to(search.directions, (len(new), *search.directions.shape)),
            corners_of(search, pieces),
            middles_of(search.opened, turns),
            half_widths_of(search.opened, turns),
        )
        search.hole_reaches.update(zip(new, found, strict=True))
    return np.array([search.hole_reaches[key] for key in keys])[which]


def reachable(search: Search, level: Level, cells: Cells) -> Flags:
    """Which cells hold shifts that may be reached, judged in the search's directions alone: (m,)."""
    reach = _shift_reach(search, level, cells.closed) + _hole_reach(search, cells.opened, cells.patch)
    along = search.directions @ search.axes.T
    nearest = cells.middles @ along.T - cells.halves @ np.abs(along).T
    return np.asarray((nearest <= reach).all(axis=1))


def edge_reachable(search: Search, level: Level, cells: Cells) -> Flags:
    """Which cells hold shifts with which some hole of the patch may be far enough from the edge: (m,).

    Seen from the pivot, a shift is a hole turned back by the opening turn, less the same hole in the lid turned
    by the closed turn. Judged in the search's directions alone.
    """
    assert level.holes is not None, "asked only where the distance is looked at"
    if not len(level.holes):
        return np.zeros(len(cells), dtype=np.bool_)
    reach = _patch_reach(search, cells.opened, cells.patch) + _lid_reach(search, level, cells.closed)
    along = search.directions @ search.axes.T
    nearest = cells.middles @ along.T - cells.halves @ np.abs(along).T - search.directions @ search.pivot
    return np.asarray((nearest <= reach).all(axis=1))


def _patch_reach(search: Search, opened: Places, patch: Places) -> Array:
    """How far the holes of a patch, turned back by an interval of opening turns, reach in the directions: (m, d)."""
    moved = _hole_reach(search, opened, patch)
    return np.asarray(moved + (corners_of(search, patch) @ search.directions.T).max(axis=1), dtype=np.float64)


def _lid_reach(search: Search, level: Level, closed: Places) -> Array:
    """How far the holes in the lid that are far enough from its edge reach backwards in the directions: (m, d)."""
    assert level.holes is not None, "asked only where the distance is looked at"
    numbers, which = np.unique(closed, return_inverse=True)
    for number in numbers.tolist():
        if number not in level.hole_reaches:
            middle, half = search.closed.middles[number], search.closed.halves[number]
            turned = turned_reach(-search.directions[None], level.holes[None], np.array([-middle]), np.array([half]))
            level.hole_reaches[number] = turned[0].max(axis=1) + ROUNDING_MM
    return np.array([level.hole_reaches[number] for number in numbers.tolist()])[which]


def closely_reachable(search: Search, level: Level, cells: Cells) -> Flags:
    """Which cells hold shifts that may be reached, judged along the normals of both sets' sides too: (m,)."""
    cell, tables, part = _with_parts(search, level, cells)
    some = cells.take(cell)
    holes = corners_of(search, some.patch)
    middles, halves = middles_of(search.opened, some.opened), half_widths_of(search.opened, some.opened)
    normals = np.concatenate([table.normals for table in tables])[part]
    heights = np.concatenate([table.heights for table in tables])[part]
    found = (_nearest(search, some, normals) <= heights + hole_reach(normals, holes, middles, halves)).all(axis=1)
    corners = np.concatenate([table.corners for table in tables])[part]
    sides = turned_normals(_patch_normals(holes), middles)
    far = np.einsum("mki,mvi->mkv", sides, corners).max(axis=2) + hole_reach(sides, holes, middles, halves)
    found &= (_nearest(search, some, sides) <= far + ROUNDING_MM).all(axis=1)
    if level.holes is not None:
        widths = half_widths_of(search.closed, some.closed)
        for width in np.unique(widths[found]).tolist():
            each = np.flatnonzero(found & (widths == width))
            found[each] = _holes_left(search, level, some.take(each), normals[each], heights[each])
    return np.asarray(np.bincount(cell, weights=found, minlength=len(cells)) > 0)


def _with_parts(search: Search, level: Level, cells: Cells) -> tuple[Places, list[Shifts], Places]:
    """Each cell with each convex part of its shifts: the cell's number, the tables, and the part's number in them."""
    numbers, which = np.unique(cells.closed, return_inverse=True)
    tables = [_shifts(search, level, number) for number in numbers.tolist()]
    counts = np.array([len(table.heights) for table in tables], dtype=np.intp)
    first = np.cumsum(counts) - counts
    cell = np.repeat(np.arange(len(cells)), counts[which])
    part = np.arange(len(cell)) - np.repeat(np.cumsum(counts[which]) - counts[which], counts[which])
    return cell, tables, part + first[which][cell]


def _nearest(search: Search, cells: Cells, normals: Array) -> Array:
    """The least that the shifts of cells have along normals (m, k, 2): (m, k)."""
    along = normals @ search.axes.T
    fall = np.abs(along[..., 0]) * cells.halves[:, :1] + np.abs(along[..., 1]) * cells.halves[:, 1:]
    return np.asarray(np.einsum("mki,mi->mk", normals, cells.middles @ search.axes) - fall)


def _holes_left(search: Search, level: Level, cells: Cells, normals: Array, heights: Array) -> Flags:
    """Whether some hole of the patch may do for both: its shift covers, and it is far enough from the edge: (m,).

    For given turns and a shift both are half-planes for the hole; for a cell they are as much wider as its shifts
    and turns move them. The cells have intervals of closed turns of one width.
    """
    assert level.holes is not None, "asked only where the distance is looked at"
    if len(level.holes) < 3:
        return np.ones(len(cells), dtype=np.bool_)
    patch = corners_of(search, cells.patch)
    turn, closed = middles_of(search.opened, cells.opened), middles_of(search.closed, cells.closed)
    from_pivot = np.hypot(patch[..., 0], patch[..., 1]).max(axis=1) * half_widths_of(search.opened, cells.opened)
    covers = normals - turned_back(normals, -turn[:, None])
    room = heights - _nearest(search, cells, normals) + from_pivot[:, None]
    width = search.closed.halves[int(cells.closed[0])]
    sides, offsets = half_planes(holes_in_turn(level, width))
    placed = turned_back(sides[None], -closed[:, None])
    # The farthest that the shift has along a side, taken as the nearest against it.
    shifted = -_nearest(search, cells, -placed) - placed @ search.pivot
    edges = turned_back(placed, -turn[:, None])
    return left_of_each(
        patch,
        np.concatenate((covers, edges), axis=1),
        np.concatenate((room, offsets + shifted + from_pivot[:, None]), axis=1) + ROUNDING_MM,
    )


def _patch_normals(corners: Array) -> Array:
    """Outward normals (m, v, 2) of patches' sides; where two corners are one, some direction that does no harm."""
    ahead = np.concatenate((corners[:, 1:], corners[:, :1]), axis=1) - corners
    long = np.hypot(ahead[..., 0], ahead[..., 1])
    safe = np.where(long > ROUNDING_MM, long, 1.0)
    normals = np.stack((ahead[..., 1], -ahead[..., 0]), axis=-1) / safe[..., None]
    normals[long <= ROUNDING_MM] = (1.0, 0.0)
    return normals


def far_from_edge(search: Search, level: Level, cells: Cells) -> Flags:
    """Which cells may have a hole as far from the edge of what it pierces as the level asks for: (m,).

    The distance of a hole changes by no more than the hole moves in the lid.
    """
    places = middle_places(search, cells)
    corners = corners_of(search, cells.patch)
    spread = np.hypot(*(corners - corners.mean(axis=1, keepdims=True)).transpose(2, 0, 1)).max(axis=1)
    from_pivot = np.hypot(corners[..., 0], corners[..., 1]).max(axis=1)
    from_lid = np.hypot(*(places[:, HOLE_RIGHT : HOLE_BACK + 1] - places[:, RIGHT : BACK + 1]).T)
    shifted = np.hypot(cells.halves[:, 0], cells.halves[:, 1])
    moved = spread + shifted + from_pivot * half_widths_of(search.opened, cells.opened)
    moved += (from_lid + moved) * half_widths_of(search.closed, cells.closed)
    return np.asarray(hole_distances(search.ground, places) + moved + ROUNDING_MM >= level.to_lid_mm)


def middle_places(search: Search, cells: Cells) -> Array:
    """The middle place (m, 6) of each cell, its hole in the middle of the patch's corners."""
    corners = corners_of(search, cells.patch).mean(axis=1)
    return places_with(search, cells, corners)


def places_with(search: Search, cells: Cells, holes: Array) -> Array:
    """The places (m, 6) in the middle of cells with holes (m, 2), measured from the pivot."""
    places = np.empty((len(cells), 6))
    places[:, TURN] = middles_of(search.closed, cells.closed)
    places[:, OPEN] = middles_of(search.opened, cells.opened)
    places[:, HOLE_RIGHT : HOLE_BACK + 1] = holes + search.pivot
    moved = turned_back(holes, places[:, OPEN]) - holes
    places[:, RIGHT : BACK + 1] = cells.middles @ search.axes - moved
    return places


def with_given(search: Search, places: Array) -> Array:
    """Places (m, 6) of cells with the given shifts as they are given: see ``places_with``, which does not know them.

    The hole moves, in its region, to where the opened lid stays as it was; where it cannot, the closed lid moves.
    """
    fixed = search.ground.cover.fixed
    given = [(axis, v) for axis, v in enumerate((fixed.moved_right_mm, fixed.moved_back_mm)) if v is not None]
    if not given:
        return places
    made = places.copy()
    for axis, value in given:
        made[:, RIGHT + axis] = value
    if len(search.ground.region) < 3:
        return made
    # A hole moved by h takes the closed shift with it by h less h turned back.
    unit = np.eye(2)
    rows = np.stack([unit[axis] - turned_back(unit[axis], -places[:, OPEN]) for axis, _ in given], axis=1)
    wanted = np.stack([value - places[:, RIGHT + axis] for axis, value in given], axis=1)
    moved = np.einsum("mij,mj->mi", np.linalg.pinv(rows), wanted)
    holes = places[:, HOLE_RIGHT : HOLE_BACK + 1] + moved
    normals, offsets = half_planes(search.ground.region)
    inside = (holes @ normals.T <= offsets).all(axis=1)
    kept = places[inside].copy()
    kept[:, HOLE_RIGHT : HOLE_BACK + 1] = holes[inside]
    kept[:, RIGHT : BACK + 1] += moved[inside] - turned_back(moved[inside], kept[:, OPEN])
    for axis, value in given:
        kept[:, RIGHT + axis] = value
    return np.concatenate((made, kept))


def least_covered(search: Search, cells: Cells) -> Array:
    """How much of the opening stays covered in every place of each cell, in mm2: (m,). Never too much."""
    found = np.zeros(len(cells))
    normals, offsets = _drawn_in(search, cells)
    widths = half_widths_of(search.closed, cells.closed)
    turned = turned_back(normals, middles_of(search.closed, cells.closed)[:, None])
    size = np.maximum(cells.halves.max(axis=1), _lever(search) * half_widths_of(search.opened, cells.opened))
    for width in np.unique(widths).tolist():
        kept = kept_by(search.sweeps, width)
        same = np.flatnonzero(widths == width)
        grade = grades(size[same] + kept.lost_mm)
        for number in np.unique(grade).tolist():
            some = same[grade == number]
            for outline in graded(kept, number):
                found[some] += common_areas(outline, turned[some], offsets[some])
    return found


def _lever(search: Search) -> float:
    return LEVER_SHARE * float(np.ptp(search.ground.opening, axis=0).max())


def _drawn_in(search: Search, cells: Cells) -> tuple[Array, Array]:
    """Normals (m, k, 2) and offsets (m, k) of what every place of a cell has of the opening, in the closed frame.

    Seen from the pivot the opening turns back by the opening turn. A point is inside at every turn of an interval
    when it is at both ends, with sides on the pivot's far side nearer by the cosine of half the interval. Where both
    ends are all but the same, it is at the middle, with all sides nearer by the way the opening's farthest point goes.
    """
    numbers, which = np.unique(cells.opened, return_inverse=True)
    found = [_opening_at(search, number) for number in numbers.tolist()]
    normals = np.array([each[0] for each in found])[which]
    offsets = np.array([each[1] for each in found])[which]
    along = normals @ search.axes.T
    fall = np.abs(along[..., 0]) * cells.halves[:, :1] + np.abs(along[..., 1]) * cells.halves[:, 1:]
    from_pivot = cells.middles @ search.axes - search.pivot
    return normals, offsets - np.einsum("mki,mi->mk", normals, from_pivot) - fall


def _opening_at(search: Search, number: int) -> tuple[Array, Array]:
    known = search.openings.get(number)
    if known is None:
        middle, half = search.opened.middles[number], search.opened.halves[number]
        normals, offsets = half_planes(search.ground.opening)
        offsets = offsets - normals @ search.pivot
        if half < NARROW_RAD:
            far = float(np.hypot(*(search.ground.opening - search.pivot).T).max())
            ends, drawn = (middle, middle), (offsets - half * far, offsets + NO_MATTER_MM)
        else:
            nearer = np.where(offsets >= 0.0, offsets * math.cos(half), offsets)
            ends, drawn = (middle - half, middle + half), (nearer, nearer)
        known = np.concatenate([turned_back(normals, np.array(end)) for end in ends]), np.concatenate(drawn)
        search.openings[number] = known
    return known


def covered_in_middle(search: Search, cells: Cells) -> Array:
    """How much of the opening is covered in the middle place of each cell: (m,). Its hole makes no difference."""
    return covered_areas(search.ground, search.ground.cover.lid, places_with(search, cells, np.zeros((len(cells), 2))))


def halved(search: Search, cells: Cells, *, patches: bool) -> Cells:
    """Each cell cut in two where it loses most: in a turn, a shift, or, when asked for, its patch."""
    closed, opened = half_widths_of(search.closed, cells.closed), half_widths_of(search.opened, cells.opened)
    lost = {width: 2.0 * kept_by(search.sweeps, width).lost_mm for width in np.unique(closed).tolist()}
    sizes = [
        np.array([lost[width] for width in closed.tolist()]) * (closed > 0.0),
        _lever(search) * opened,
        cells.halves[:, 0],
        cells.halves[:, 1],
    ]
    if patches:
        corners = corners_of(search, cells.patch)
        sizes.append(0.5 * np.ptp(corners, axis=1).max(axis=1))
    axis = np.column_stack(sizes).argmax(axis=1)
    low = [cells.closed.copy(), cells.opened.copy(), cells.patch.copy()]
    high = [each.copy() for each in low]
    for number, halving in ((0, search.closed), (1, search.opened)):
        some = axis == number
        low[number][some], high[number][some] = halves_of(halving, low[number][some])
    some = axis == 4
    low[2][some], high[2][some] = _patch_halves(search.patches, low[2][some])
    halves = np.where(axis[:, None] == [2, 3], 0.5 * cells.halves, cells.halves)
    step = np.where(axis[:, None] == [2, 3], halves, 0.0)
    return joined(
        Cells(closed=low[0], opened=low[1], patch=low[2], middles=cells.middles - step, halves=halves),
        Cells(closed=high[0], opened=high[1], patch=high[2], middles=cells.middles + step, halves=halves),
    )


def _patch_halves(patches: Patches, which: Places) -> tuple[Places, Places]:
    """Both halves of each of some patches, by number: cut across where it is longest."""
    for number in np.unique(which).tolist():
        if number not in patches.parts:
            first = len(patches.corners)
            patches.corners.extend(_cut(patches.corners[number]))
            patches.parts[number] = (first, first + 1)
    found = np.array([patches.parts[number] for number in which.tolist()], dtype=np.intp).reshape(-1, 2)
    return found[:, 0], found[:, 1]


def _cut(corners: Array) -> tuple[Array, Array]:
    axis = int(np.ptp(corners, axis=0).argmax())
    middle = 0.5 * (corners[:, axis].min() + corners[:, axis].max())
    found: list[Array] = []
    for sense in (1.0, -1.0):
        beyond = sense * (corners[:, axis] - middle)
        pieces: list[Array] = []
        for place, corner in enumerate(corners):
            after = (place + 1) % len(corners)
            if beyond[place] <= 0.0:
                pieces.append(corner)
            if (beyond[place] > 0.0) != (beyond[after] > 0.0):
                share = beyond[place] / (beyond[place] - beyond[after])
                pieces.append(corner + share * (corners[after] - corner))
        kept = [each for number, each in enumerate(pieces) if number == 0 or np.any(each != pieces[number - 1])]
        found.append(np.array(kept))
    return found[0], found[1]
