"""A lid at a given position: cover, distances and the whole curve of uncovered area, against a loop over shapely.

``python -m benchmarks.lids`` prints times and ratios of one run, after checking that both give the same areas.
"""

from __future__ import annotations

import math
import time
from collections.abc import Callable
from functools import partial

import numpy as np
from shapely import affinity
from shapely.geometry import LinearRing, Polygon

from foldproof.geometry.cover import cover_margin, distance_to_outline, margins
from foldproof.geometry.outline import points_of
from foldproof.geometry.plane import Array
from foldproof.geometry.turn_area import overlap_areas, sweep_radius
from foldproof.outlines.catalogue import draw, formula_named
from foldproof.outlines.record import Shape

ANGLES_RAD = np.radians(np.arange(-180.0, 181.0))
SIDE_MM = 82.55  # the example box: 3 1/4 in
LEG_MM = 25.4
PIVOT_MM = (26.0, 26.0)
ROUNDS = 15
WARM = 10  # the quick way in tens, so that both ways work long enough to be warm
AIM_MS = 5.0
AIM_RATIO = 20.0
SAME_MM2 = 1e-6
MARGIN_MM = 1e-3

Lids = tuple[tuple[str, dict[str, float]], ...]
LIDS: Lids = (
    ("rosette", {"across": 139.7, "lobes": 10, "depth": 4.7625}),
    ("scalloped disc", {"across": 139.7, "lobes": 16, "depth": 4.7625}),
    ("rosette", {"across": 152.4, "lobes": 12, "depth": 6.35}),
)


def main() -> int:
    """Prints the curve and the whole analysis of each lid, and many poses; 1 when an aim is missed, else 0."""
    half = SIDE_MM / 2.0
    rim = np.array([[-half, -half], [half, -half], [half, half], [-half, half]])
    opening = np.array([[-half, -half], [half, -half], [half, half - LEG_MM], [half - LEG_MM, half], [-half, half]])
    missed = 0
    for name, values in LIDS:
        lid = outline_of(name, values)
        margin, distance, sweep, areas = analysis(lid, rim, opening)
        plain_margin, plain_distance, plain_sweep, plain_areas = plain(lid, rim, opening)
        assert abs(margin - plain_margin) < 2.0 * MARGIN_MM and abs(sweep - plain_sweep) < SAME_MM2
        assert abs(distance - plain_distance) < SAME_MM2 and np.abs(areas - plain_areas).max() < SAME_MM2
        curve_ms, shapely_ms, all_ms, plain_ms = typical_ms(
            (partial(overlap_areas, lid, opening, PIVOT_MM, ANGLES_RAD), WARM),
            (partial(shapely_areas, lid, opening), 1),
            (partial(analysis, lid, rim, opening), WARM),
            (partial(plain, lid, rim, opening), 1),
        )
        missed += all_ms > AIM_MS or shapely_ms < AIM_RATIO * curve_ms
        print(f"{name}, {len(lid)} points, {len(ANGLES_RAD)} angles")
        print(
            f"  curve {curve_ms:.2f} ms; loop over shapely {shapely_ms:.1f} ms:"
            f" {shapely_ms / curve_ms:.0f} times (aim {AIM_RATIO:g})"
        )
        print(
            f"  whole analysis {all_ms:.2f} ms (aim {AIM_MS:g}); plain way {plain_ms:.1f} ms:"
            f" {plain_ms / all_ms:.0f} times"
        )
    lid = outline_of(*LIDS[0])
    steps = np.linspace(-10.0, 10.0, 41)
    shifts = np.stack(np.meshgrid(steps, steps), axis=-1).reshape(-1, 2)
    turns = np.full(len(shifts), math.radians(9.0))
    (grid_ms,) = typical_ms((partial(margins, lid, rim, shifts_mm=shifts, turns_rad=turns), 1))
    print(f"margins of {len(shifts)} places: {grid_ms:.1f} ms, {1000 * grid_ms / len(shifts):.1f} us each")
    return 1 if missed else 0


def outline_of(name: str, values: dict[str, float]) -> Array:
    """Points (n, 2) of a lid by formula."""
    formula = formula_named(name)
    assert formula is not None
    shape = draw(formula, values)
    assert isinstance(shape, Shape)
    return points_of(shape.outline)


def analysis(lid: Array, rim: Array, opening: Array) -> tuple[float, float, float, Array]:
    """Margin, distance to the outline, sweep and the curve of covered areas."""
    return (
        cover_margin(lid, rim),
        distance_to_outline(lid, rim),
        sweep_radius(lid, PIVOT_MM),
        overlap_areas(lid, opening, PIVOT_MM, ANGLES_RAD),
    )


def plain(lid: Array, rim: Array, opening: Array) -> tuple[float, float, float, Array]:
    """The same in the plain way: the margin by halving, the curve angle by angle."""
    shape, box = Polygon(lid), Polygon(rim)
    covered, not_covered = -SIDE_MM / 2.0, float(np.abs(lid).max())
    while not_covered - covered > MARGIN_MM:
        tried = 0.5 * (covered + not_covered)
        fits = shape.covers(box.buffer(tried, join_style="mitre", mitre_limit=10.0))
        covered, not_covered = (tried, not_covered) if fits else (covered, tried)
    return (
        covered,
        LinearRing(lid).distance(LinearRing(rim)),
        max(math.dist(point, PIVOT_MM) for point in lid),
        shapely_areas(lid, opening),
    )


def shapely_areas(lid: Array, opening: Array) -> Array:
    """The curve by turning and intersecting at each angle."""
    shape, area = Polygon(lid), Polygon(opening)
    return np.array(
        [
            affinity.rotate(shape, angle, origin=PIVOT_MM, use_radians=True).intersection(area).area
            for angle in ANGLES_RAD
        ]
    )


def typical_ms(*works: tuple[Callable[[], object], int]) -> tuple[float, ...]:
    """Median time of each work in ms, repeated as often as told, in turns so that a busy moment falls on all."""
    times: list[list[float]] = [[] for _ in works]
    for _ in range(ROUNDS):
        for (work, repeats), taken in zip(works, times, strict=True):
            start = time.perf_counter()
            for _ in range(repeats):
                work()
            taken.append(1000.0 * (time.perf_counter() - start) / repeats)
    return tuple(float(np.median(taken)) for taken in times)


if __name__ == "__main__":
    raise SystemExit(main())
