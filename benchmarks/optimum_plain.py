"""The best place looked for in the plain way: places at random, the better ones shaken, each measured by shapely.

It knows nothing of the search it is compared with: no bounds, no sweeps, no straight programmes. What it finds is a
place that really can be, so no proved bound may lie below it. ``measured`` is the referee of single places.
"""

from __future__ import annotations

import math
from dataclasses import dataclass

import numpy as np
import shapely
from numpy.typing import NDArray
from shapely import affinity

from foldproof.lids.optimum_records import HoleProblem, LidPlace, Wish

Array = NDArray[np.float64]

TURN, RIGHT, BACK, HOLE_RIGHT, HOLE_BACK, OPEN = range(6)  # columns of a place; shift and turn of the lid's own frame
SPECK_SHARE = 1e-9  # of the opening: less than this left covered is none
BETWEEN_MM = 1.5  # points on a lid's edge between which the quick margin does not look
SPECK_MM = 0.05  # half as wide as what is left of a rim at the least margin the referee tells from none
MARGIN_MM = 1e-7  # the referee's margin is halved down to this
SPREAD = np.array([0.12, 4.0, 4.0, 4.0, 4.0, 0.25])  # of the first shaking
CALMER, LEAST_SPREAD = 0.75, 1e-6
MISS_COST = 50.0


@dataclass(frozen=True, slots=True, kw_only=True)
class Effort:
    """How hard the plain way tries: places at random, how many of them are shaken, and how often."""

    first: int
    kept: int
    children: int
    rounds: int


COARSE = Effort(first=1500, kept=12, children=8, rounds=45)
FINE = Effort(first=20_000, kept=60, children=12, rounds=70)


@dataclass(frozen=True, slots=True, kw_only=True)
class Measured:
    """What the referee reads at a place. ``in_region_mm``: how far the hole lies outside its region."""

    margin_mm: float
    uncovered: float
    hole_to_lid_mm: float
    in_region_mm: float
    turn_rad: float


def row_of(place: LidPlace) -> Array:
    """A place of the search as a row here."""
    moved = (place.closed_turn_rad, place.moved_right_mm, place.moved_back_mm)
    return np.array([*moved, *place.hole, place.open_turn_rad])


def measured(problem: HoleProblem, place: Array) -> Measured:
    """One place (6,), by shapely alone: the margin by halving, with the rim's sides moved by its buffer."""
    closed = _posed(problem.lid, place)
    hole = shapely.Point(place[HOLE_RIGHT], place[HOLE_BACK])
    opened = affinity.rotate(closed, float(place[OPEN]), origin=hole, use_radians=True)
    opening = shapely.Polygon(problem.opening)
    to_lid = math.inf
    for outline in problem.pierced:
        posed = _posed(outline, place)
        away = float(posed.exterior.distance(hole))
        to_lid = min(to_lid, away if posed.covers(hole) else -away)
    region = shapely.MultiPoint(np.asarray(problem.region)).convex_hull
    return Measured(
        margin_mm=_margin(closed, shapely.Polygon(problem.rim)),
        uncovered=1.0 - float(opened.intersection(opening).area / opening.area),
        hole_to_lid_mm=to_lid,
        in_region_mm=float(region.distance(hole)),
        turn_rad=float(place[OPEN]),
    )


def _posed(outline: tuple[tuple[float, float], ...], place: Array) -> shapely.Polygon:
    turned = affinity.rotate(shapely.Polygon(outline), float(place[TURN]), origin=(0.0, 0.0), use_radians=True)
    posed = affinity.translate(turned, float(place[RIGHT]), float(place[BACK]))
    assert isinstance(posed, shapely.Polygon), "a lid stays one piece"
    return posed


def _margin(lid: shapely.Polygon, rim: shapely.Polygon) -> float:
    """Minus infinity where not even a speck in the rim's middle is covered."""
    low = -float(shapely.maximum_inscribed_circle(rim, tolerance=1e-4).length) + SPECK_MM
    high = math.dist(lid.bounds[:2], lid.bounds[2:])
    if not lid.covers(_moved(rim, low)):
        return -math.inf
    shapely.prepare(lid)
    while high - low > MARGIN_MM:
        middle = 0.5 * (low + high)
        low, high = (middle, high) if lid.covers(_moved(rim, middle)) else (low, middle)
    return low


def _moved(rim: shapely.Polygon, distance_mm: float) -> shapely.Geometry:
    """A convex rim with its sides moved out, or in: then it is what is left when it is pushed against each side."""
    if distance_mm >= 0.0:
        return rim.buffer(distance_mm, join_style="mitre", mitre_limit=1e3)
    ahead = np.diff(shapely.get_coordinates(shapely.orient_polygons(rim).exterior), axis=0)
    pushes = np.column_stack((ahead[:, 1], -ahead[:, 0])) / np.hypot(*ahead.T)[:, None] * distance_mm
    return shapely.intersection_all([affinity.translate(rim, float(x), float(y)) for x, y in pushes])


def meets(problem: HoleProblem, wish: Wish, found: Measured, *, rounding: float = 0.0) -> bool:
    """Whether a measured place meets the wish, all but its goal."""
    lowest, highest = turn_limits(problem, wish)
    enough = wish.margin_mm is None or wish.goal == "margin" or found.margin_mm >= wish.margin_mm - rounding
    return (
        enough
        and math.isfinite(found.margin_mm)
        and found.uncovered >= wish.uncovered - SPECK_SHARE - rounding
        and found.hole_to_lid_mm >= problem.to_lid_mm - rounding
        and found.in_region_mm <= max(rounding, 1e-9)
        and lowest - rounding <= found.turn_rad <= highest + rounding
    )


def turn_limits(problem: HoleProblem, wish: Wish) -> tuple[float, float]:
    """The least and the largest opening turn a problem and a wish allow."""
    if problem.open_turn_rad is not None:
        return problem.open_turn_rad, problem.open_turn_rad
    widest = math.pi if wish.widest_turn_rad is None else wish.widest_turn_rad
    return (0.0 if problem.opens == "to the left" else -widest), (0.0 if problem.opens == "to the right" else widest)


def best_plain(
    problem: HoleProblem, wish: Wish, effort: Effort, number: int, near: tuple[Array, ...] = ()
) -> tuple[Array, float] | None:
    """The best place (6,) found and its value: margin, turn or distance of the hole; None when none meets the wish.

    ``near``: places to be shaken besides those at random, for whoever wants to be beaten.
    """
    rng = np.random.default_rng(number)
    look = _Look(problem, wish)
    places = np.concatenate((look.at_random(effort.first, rng), np.array(near).reshape(-1, 6)))
    values, misses = look.merits(places)
    order = np.argsort(-(values - MISS_COST * misses), kind="stable")[: effort.kept]
    kept, merits = places[order], (values - MISS_COST * misses)[order]
    best: tuple[float, Array] | None = None
    spread = np.ones(len(kept))
    for _ in range(effort.rounds):
        shaken = np.repeat(kept, effort.children, axis=0)
        size = np.repeat(spread, effort.children)[:, None] * rng.choice([1.0, 0.3, 0.05], size=(len(shaken), 1))
        some = rng.random((len(shaken), 6)) < 0.6
        shaken = look.brought_in(shaken + SPREAD * size * some * rng.normal(size=shaken.shape))
        values, misses = look.merits(shaken)
        whole = np.flatnonzero(misses == 0.0)
        if len(whole):
            first = int(whole[values[whole].argmax()])
            if best is None or values[first] > best[0]:
                best = (float(values[first]), shaken[first])
        tried = (values - MISS_COST * misses).reshape(len(kept), -1)
        child = tried.argmax(axis=1)
        better = tried[np.arange(len(kept)), child] > merits
        kept = np.where(better[:, None], shaken.reshape(len(kept), -1, 6)[np.arange(len(kept)), child], kept)
        merits = np.where(better, tried[np.arange(len(kept)), child], merits)
        spread = np.where(better, np.minimum(1.3 * spread, 1.0), np.maximum(CALMER * spread, LEAST_SPREAD))
    return look.judged(best[1]) if best is not None else None


class _Look:
    """Many places measured at once, each opening turn with its own polygon."""

    def __init__(self, problem: HoleProblem, wish: Wish) -> None:
        self.problem, self.wish = problem, wish
        self.lid = np.asarray(problem.lid)
        self.edge = _points_between(self.lid)
        rim = shapely.orient_polygons(shapely.Polygon(problem.rim))
        corners = shapely.get_coordinates(rim.exterior)
        ahead = np.diff(corners, axis=0)
        self.normals = np.column_stack((ahead[:, 1], -ahead[:, 0])) / np.hypot(*ahead.T)[:, None]
        self.offsets = (self.normals * corners[:-1]).sum(axis=1)
        self.middle = shapely.get_coordinates(shapely.maximum_inscribed_circle(rim, tolerance=1e-4))[0]
        self.opening = shapely.Polygon(problem.opening)
        self.region = np.asarray(problem.region)
        self.hull = shapely.convex_hull(shapely.multipoints(self.region))
        self.inside = [shapely.Polygon(outline) for outline in problem.pierced]
        self.edges = [shapely.LinearRing(outline) for outline in problem.pierced]
        for each in (*self.inside, *self.edges):
            shapely.prepare(each)
        self.turns = turn_limits(problem, wish)

    def at_random(self, count: int, rng: np.random.Generator) -> Array:
        """Closed places over the box, holes anywhere in their region, any allowed turn."""
        places = np.empty((count, 6))
        places[:, TURN] = rng.uniform(-math.pi, math.pi, count)
        turned = _turned(np.tile(self.lid.mean(axis=0), (count, 1)), places[:, TURN])
        places[:, RIGHT : BACK + 1] = self.middle - turned + rng.normal(size=(count, 2)) * 8.0
        weights = rng.dirichlet(np.full(len(self.region), 0.4), size=count)
        places[:, HOLE_RIGHT : HOLE_BACK + 1] = weights @ self.region
        places[:, OPEN] = rng.uniform(*self.turns, count)
        return self.brought_in(places)

    def brought_in(self, places: Array) -> Array:
        """Places with what is given as it is given, turns within their limits, holes in their region."""
        fixed = self.problem.fixed
        given = ((TURN, fixed.closed_turn_rad), (RIGHT, fixed.moved_right_mm), (BACK, fixed.moved_back_mm))
        for column, value in given:
            if value is not None:
                places[:, column] = value
        places[:, OPEN] = np.clip(places[:, OPEN], *self.turns)
        holes = shapely.points(places[:, HOLE_RIGHT : HOLE_BACK + 1])
        lines = shapely.shortest_line(self.hull, holes)
        nearest = shapely.get_coordinates(shapely.get_point(lines, 0))
        places[:, HOLE_RIGHT : HOLE_BACK + 1] = np.where(
            np.asarray(shapely.intersects(self.hull, holes))[:, None], places[:, HOLE_RIGHT : HOLE_BACK + 1], nearest
        )
        return places

    def merits(self, places: Array) -> tuple[Array, Array]:
        """How good places are, and by how much they miss the wish."""
        holes, shifts = places[:, HOLE_RIGHT : HOLE_BACK + 1], places[:, RIGHT : BACK + 1]
        opened = _turned(shifts - holes, places[:, OPEN])[:, None] + holes[:, None]
        both = places[:, TURN] + places[:, OPEN]
        posed = shapely.polygons(_turned(self.lid[None], both[:, None]) + opened)
        covered = shapely.area(shapely.intersection(posed, self.opening)) / self.opening.area
        over = np.maximum(covered - (1.0 - self.wish.uncovered) - SPECK_SHARE, 0.0)
        in_lid = _turned(holes - shifts, -places[:, TURN])
        to_lid = np.full(len(places), math.inf)
        for inside, edge in zip(self.inside, self.edges, strict=True):
            away = shapely.distance(edge, shapely.points(in_lid))
            to_lid = np.minimum(to_lid, np.where(shapely.intersects_xy(inside, *in_lid.T), away, -away))
        margins = self.margins(places)
        misses = 20.0 * np.sqrt(over) + np.maximum(self.problem.to_lid_mm - to_lid, 0.0)
        if self.wish.goal == "margin":
            return margins, misses
        assert self.wish.margin_mm is not None
        misses = misses + np.maximum(self.wish.margin_mm - margins, 0.0)
        return (-20.0 * np.abs(places[:, OPEN]) if self.wish.goal == "angle" else to_lid), misses

    def margins(self, places: Array) -> Array:
        """Margins, a speck too large: edges are looked at only here and there."""
        shifts = places[:, RIGHT : BACK + 1]
        turned = _turned(self.normals[None], -places[:, TURN][:, None])
        levels = np.einsum("mki,ni->mkn", turned, self.edge) - (self.offsets - shifts @ self.normals.T)[:, :, None]
        middle = _turned(self.middle - shifts, -places[:, TURN])
        covered = shapely.intersects_xy(shapely.Polygon(self.lid), *middle.T)
        return np.where(covered, levels.max(axis=1).min(axis=1), -1e3)

    def judged(self, place: Array) -> tuple[Array, float] | None:
        """A place with the value that the referee reads there; None when he does not let it pass."""
        found = measured(self.problem, place)
        if self.wish.goal != "margin" and found.margin_mm > -math.inf:
            # The quick margin was a speck too large: what it asked for is not quite there.
            slack = (self.wish.margin_mm or 0.0) - found.margin_mm
            if slack > 0.0:
                return None
        if not meets(self.problem, self.wish, found):
            return None
        value = {"margin": found.margin_mm, "angle": abs(found.turn_rad), "edge": found.hole_to_lid_mm}
        return place, value[self.wish.goal]


def _turned(vectors: Array, turns_rad: Array) -> Array:
    cosine, sine = np.cos(turns_rad), np.sin(turns_rad)
    x, y = vectors[..., 0], vectors[..., 1]
    return np.stack((cosine * x - sine * y, sine * x + cosine * y), axis=-1)


def _points_between(outline: Array) -> Array:
    ring = shapely.segmentize(shapely.LinearRing(outline), BETWEEN_MM)
    return np.asarray(shapely.get_coordinates(ring)[:-1])
