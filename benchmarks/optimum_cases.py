"""Random lids and boxes for the search of the best place: concave, lopsided, with thin necks, on boxes of any shape.

Always the same cases for the same number. Used by ``benchmarks.optimum`` and, a few of them, by the tests.
"""

from __future__ import annotations

import math
from dataclasses import dataclass

import numpy as np
import shapely
from numpy.typing import NDArray

from foldproof.lids.optimum_records import Fixed, HoleProblem, Opens, Wish

Array = NDArray[np.float64]
Points = tuple[tuple[float, float], ...]

KINDS = ("blob", "star", "heart", "rosette", "neck", "crescent", "polygon", "comb")
WALL_MM = 1.2


@dataclass(frozen=True, slots=True, kw_only=True)
class Case:
    """A problem and what is wished of it."""

    kind: str
    problem: HoleProblem
    wish: Wish


def case(number: int, *, plain: bool = False) -> Case:
    """The case of a number. ``plain``: no closed turn, shift or opening turn given."""
    rng = np.random.default_rng(number)
    kind = KINDS[number % len(KINDS)]
    inner = _box(rng)
    corner = int(rng.integers(len(inner)))
    opening, triangle = _corner_cut(inner, corner, rng)
    rim = _moved(inner, WALL_MM)
    rim_radius = float(np.hypot(*(rim - rim.mean(axis=0)).T).max())
    lid = lid_outline(kind, rng)
    if kind in ("blob", "polygon", "rosette"):
        lid = lid * rim_radius * rng.uniform(1.0, 1.35) / _inner_radius(lid)
    else:
        lid = lid * rim_radius * rng.uniform(1.1, 1.7) / float(np.hypot(*lid.T).max()) * 1.2
    lid = lid + rng.uniform(-15.0, 15.0, 2)
    region = _region(triangle, rng)
    pierced: tuple[Points, ...] = (_points(lid),)
    if rng.random() < 0.3:
        upper = shapely.Polygon(lid).buffer(-rng.uniform(1.0, 6.0), join_style="mitre")
        if isinstance(upper, shapely.Polygon) and upper.area > 1.0:
            pierced = (*pierced, _points(shapely.get_coordinates(upper.exterior)[:-1]))
    uncovered = float(rng.choice([0.5, 0.75, 0.9, 1.0]))
    goal = ("margin", "angle", "edge")[int(rng.integers(3))]
    problem = HoleProblem(
        lid=_points(lid),
        rim=_points(rim),
        opening=_points(opening),
        region=_points(region),
        pierced=pierced,
        to_lid_mm=float(rng.uniform(2.0, 9.0)),
        fixed=Fixed() if plain else _fixed(lid, rim, rng),
        open_turn_rad=float(rng.uniform(-math.pi, math.pi)) if not plain and rng.random() < 0.15 else None,
        opens=_opens(rng),
    )
    margin_mm = None if goal == "margin" else float(rng.uniform(-3.0, 2.0))
    widest_rad = float(rng.uniform(2.0, 3.1)) if rng.random() < 0.25 else None
    wish = Wish(
        goal=goal,  # type: ignore[arg-type]
        uncovered=uncovered,
        margin_mm=margin_mm,
        widest_turn_rad=widest_rad if problem.open_turn_rad is None else None,
    )
    return Case(kind=kind, problem=problem, wish=wish)


def lid_outline(kind: str, rng: np.random.Generator) -> Array:
    """An outline (n, 2) about the origin, about 1 in radius."""
    if kind == "blob":
        count = int(rng.integers(7, 22))
        bearings = 2.0 * math.pi * (np.arange(count) + rng.uniform(-0.3, 0.3, count)) / count
        return _polar(bearings, rng.uniform(0.65, 1.0, count))
    if kind == "star":
        tips = int(rng.integers(4, 9))
        return _polar(math.pi * np.arange(2 * tips) / tips, np.tile([1.0, rng.uniform(0.55, 0.8)], tips))
    if kind == "heart":
        t = 2.0 * math.pi * np.arange(40) / 40
        x = 16.0 * np.sin(t) ** 3
        y = 13.0 * np.cos(t) - 5.0 * np.cos(2.0 * t) - 2.0 * np.cos(3.0 * t) - np.cos(4.0 * t)
        return np.column_stack((x, y))[::-1] / 14.0
    if kind == "rosette":
        lobes = int(rng.integers(5, 10))
        t = 2.0 * math.pi * np.arange(6 * lobes) / (6 * lobes)
        return _polar(t, 1.0 + rng.uniform(0.03, 0.12) * np.cos(lobes * t))
    if kind == "neck":
        neck = rng.uniform(0.05, 0.3)
        ears = shapely.union_all(
            [
                shapely.Point(-0.35, 0.0).buffer(0.8, quad_segs=5),
                shapely.Point(1.1, 0.0).buffer(rng.uniform(0.3, 0.5), quad_segs=4),
                shapely.box(0.0, -neck, 1.1, neck),
            ]
        )
        return _open(ears)
    if kind == "crescent":
        whole = shapely.Point(0.0, 0.0).buffer(1.0, quad_segs=8)
        return _open(whole.difference(shapely.Point(1.1, 0.1).buffer(rng.uniform(0.3, 0.6), quad_segs=6)))
    if kind == "polygon":
        count = int(rng.integers(3, 9))
        return _polar(2.0 * math.pi * np.arange(count) / count, np.ones(count))
    teeth = int(rng.integers(2, 5))
    base = [shapely.box(-0.9, -0.8, 0.9, 0.5)]
    at = np.linspace(-0.9, 0.9, 2 * teeth)
    base += [shapely.box(at[2 * n], 0.4, at[2 * n + 1], rng.uniform(0.6, 1.1)) for n in range(teeth)]
    return _open(shapely.union_all(base))


def _polar(bearings: Array, radii: Array) -> Array:
    return np.column_stack((np.cos(bearings), np.sin(bearings))) * radii[:, None]


def _open(shape: shapely.Geometry) -> Array:
    assert isinstance(shape, shapely.Polygon), "a lid is one piece"
    return np.asarray(shapely.get_coordinates(shapely.normalize(shape).exterior)[:-1][::-1])


def _inner_radius(lid: Array) -> float:
    return float(shapely.Polygon(lid).exterior.distance(shapely.Point(0.0, 0.0)))


def _box(rng: np.random.Generator) -> Array:
    """The inside of a box (k, 2): a rectangle, or a convex polygon of three to eight sides."""
    if rng.random() < 0.5:
        half = 0.5 * rng.uniform(40.0, 90.0, 2)
        corners = np.array([[-1.0, -1.0], [1.0, -1.0], [1.0, 1.0], [-1.0, 1.0]]) * half
    else:
        sides = int(rng.integers(3, 9))
        bearings = 2.0 * math.pi * (np.arange(sides) + rng.uniform(-0.25, 0.25, sides)) / sides
        corners = _polar(bearings, np.full(sides, rng.uniform(30.0, 50.0)))
    return np.asarray(corners + rng.uniform(-20.0, 20.0, 2))


def _corner_cut(inner: Array, corner: int, rng: np.random.Generator) -> tuple[Array, Array]:
    """The opening left beside a triangle in a corner, and the triangle."""
    here, before, after = inner[corner], inner[corner - 1], inner[(corner + 1) % len(inner)]
    sides = [before - here, after - here]
    leg = min(rng.uniform(18.0, 30.0), 0.8 * min(float(np.hypot(*side)) for side in sides))
    ends = [here + leg * side / float(np.hypot(*side)) for side in sides]
    opening = np.concatenate((inner[:corner], ends, inner[corner + 1 :]))
    return opening, np.array([here, ends[1], ends[0]])


def _region(triangle: Array, rng: np.random.Generator) -> Array:
    """Where the hole may be: away from the triangle's edges, now and then less, a stretch or a point."""
    area = shapely.Polygon(triangle).buffer(-rng.uniform(1.0, 3.0), join_style="mitre", mitre_limit=20.0)
    if not isinstance(area, shapely.Polygon) or area.is_empty:
        return np.array([triangle.mean(axis=0)])
    kind = rng.random()
    corners = shapely.get_coordinates(area.exterior)[:-1]
    if kind < 0.15:
        return np.array([corners.mean(axis=0)])
    if kind < 0.3:
        return np.array([corners[0], 0.5 * (corners[1] + corners[2])])
    return np.asarray(corners)


def _fixed(lid: Array, rim: Array, rng: np.random.Generator) -> Fixed:
    shift = rim.mean(axis=0) - lid.mean(axis=0)
    given = rng.random(3) < 0.15
    return Fixed(
        closed_turn_rad=float(rng.uniform(-math.pi, math.pi)) if given[0] else None,
        moved_right_mm=float(shift[0] + rng.uniform(-3.0, 3.0)) if given[1] else None,
        moved_back_mm=float(shift[1] + rng.uniform(-3.0, 3.0)) if given[2] else None,
    )


def _opens(rng: np.random.Generator) -> Opens:
    hands: tuple[Opens, ...] = ("either way", "to the left", "to the right")
    return hands[int(rng.integers(3))]


def _moved(convex: Array, distance_mm: float) -> Array:
    moved = shapely.Polygon(convex).buffer(distance_mm, join_style="mitre", mitre_limit=20.0)
    return np.asarray(shapely.get_coordinates(shapely.orient_polygons(moved).exterior)[:-1])


def _points(points: Array) -> Points:
    return tuple((float(x), float(y)) for x, y in points)
