"""The best place of a lid against a plain search, and every step of its proof against places that really can be."""

import dataclasses
import itertools
import math

import numpy as np
import pytest
import shapely

from benchmarks.optimum_cases import case
from benchmarks.optimum_plain import Effort, best_plain, measured, meets, row_of
from foldproof.errors import InputError
from foldproof.lids.optimum import best_hole
from foldproof.lids.optimum_cells import (
    Cells,
    Search,
    closely_reachable,
    edge_reachable,
    far_from_edge,
    halved,
    least_covered,
    reachable,
    root_cells,
    search_of,
)
from foldproof.lids.optimum_cover import best_cover
from foldproof.lids.optimum_ground import BACK, HOLE_BACK, HOLE_RIGHT, OPEN, RIGHT, TURN, ground_of
from foldproof.lids.optimum_halving import Halving
from foldproof.lids.optimum_measure import measures, turned_back
from foldproof.lids.optimum_proof import level_of
from foldproof.lids.optimum_records import Aims, Fixed
from foldproof.lids.optimum_start import covering_starts

ROUNDING_MM, ROUNDING_RAD = 2e-6, 1e-7  # what a found place may miss by arithmetic, and a bound too
EFFORT = Effort(first=400, kept=6, children=6, rounds=25)
SMALL = Aims(most_cells=1000)


def placed_as_given(fixed, row):
    given = (fixed.closed_turn_rad, fixed.moved_right_mm, fixed.moved_back_mm)
    return all(value is None or abs(value - found) < 1e-9 for value, found in zip(given, row, strict=False))


def what_is_wrong(problem, wish, best, number):
    """Everything a plain search and the referee have against an answer: an empty list when it holds."""
    found, certificate = [], best.certificate
    near = ()
    level = wish
    if wish.goal == "margin" and certificate.level_mm is not None:
        level = dataclasses.replace(wish, goal="angle", margin_mm=certificate.level_mm)
    if best.place is not None:
        near = (row_of(best.place),)
        read = measured(problem, near[0])
        if not meets(problem, level, read, rounding=ROUNDING_MM):
            found.append(f"the place does not meet the wish: {read}")
        if not placed_as_given(problem.fixed, near[0]):
            found.append("what was given of the place is not kept")
        if abs(read.margin_mm - best.place.margin_mm) > 1e-5 or abs(read.uncovered - best.place.uncovered) > 1e-8:
            found.append(f"told {best.place}, read {read}")
    plain = best_plain(problem, wish, EFFORT, number, near)
    if plain is not None:
        value = plain[1]
        bounds = {
            "margin": (value, certificate.margin_bound_mm),
            "angle": (-value, None if certificate.angle_bound_rad is None else -certificate.angle_bound_rad),
            "edge": (value, certificate.edge_bound_mm),
        }
        reached, bound = bounds[wish.goal]
        if bound is not None and reached > bound + ROUNDING_MM:
            found.append(f"the plain search has {value}, beyond the bound {bound}")
        if certificate.none_exists and (wish.goal != "margin" or bound is None):
            found.append(f"a place exists: {plain}")
    if level is not wish and certificate.angle_bound_rad is not None:
        plain = best_plain(problem, level, EFFORT, number, near)
        if plain is not None and plain[1] < certificate.angle_bound_rad - ROUNDING_RAD:
            found.append(f"a turn of {plain[1]} will do, less than the bound {certificate.angle_bound_rad}")
    return found


@pytest.mark.parametrize("number", [3, 5, 6, 7, 10, 13, 16, 20, 21, 23, 25, 29, 33, 34])
def test_no_plain_search_beats_a_bound_and_no_answer_breaks_the_wish(number):
    each = case(number)
    assert what_is_wrong(each.problem, each.wish, best_hole(each.problem, each.wish, aims=SMALL), number) == []


@pytest.mark.parametrize("cells", [1, 40, 400])
def test_bounds_hold_however_early_the_search_ends(cells):
    for number in (13, 33):
        each = case(number)
        best = best_hole(each.problem, each.wish, aims=Aims(most_cells=cells))
        assert what_is_wrong(each.problem, each.wish, best, number) == [], number


def test_a_stopped_search_keeps_its_bounds():
    each = case(13)
    told = []

    def stop(_stage, done, _all):
        told.append(done)
        return len(told) < 12

    best = best_hole(each.problem, each.wish, stop)
    assert best.certificate.stopped and not best.certificate.finished
    assert what_is_wrong(each.problem, each.wish, best, 13) == []


@pytest.mark.parametrize("number", [1, 2, 5])
def test_a_more_patient_search_never_contradicts_a_hasty_one(number):
    each = case(number, plain=True)
    found = [best_hole(each.problem, each.wish, aims=Aims(most_cells=cells)) for cells in (200, 1500)]
    for one in found:
        for other in found:
            if other.place is None or one.certificate.none_exists:
                assert not (one.certificate.none_exists and other.place is not None)
                continue
            if each.wish.goal == "edge":
                assert other.place.hole_to_lid_mm <= one.certificate.edge_bound_mm + ROUNDING_MM
            elif each.wish.goal == "margin":
                assert other.place.margin_mm <= one.certificate.margin_bound_mm + ROUNDING_MM
            else:
                assert abs(other.place.open_turn_rad) >= one.certificate.angle_bound_rad - ROUNDING_RAD


def turned(points, turn_rad):
    cosine, sine = math.cos(turn_rad), math.sin(turn_rad)
    return as_points(np.asarray(points).reshape(-1, 2) @ np.array([[cosine, sine], [-sine, cosine]]))


def as_points(points):
    return tuple((float(x), float(y)) for x, y in points)


def from_elsewhere(problem):
    """The same problem on a table turned round, in a mirror, and with the lid drawn another way."""
    fixed = problem.fixed
    closed, right, back = fixed.closed_turn_rad, fixed.moved_right_mm, fixed.moved_back_mm

    def less(value, by):
        return None if value is None else value - by

    if right is None and back is None:
        box = {name: turned(getattr(problem, name), 0.7) for name in ("rim", "opening", "region")}
        yield dataclasses.replace(problem, **box, fixed=Fixed(closed_turn_rad=less(closed, -0.7)))
    flipped = {
        name: as_points(np.asarray(getattr(problem, name)).reshape(-1, 2) * (-1.0, 1.0))
        for name in ("lid", "rim", "opening", "region")
    }
    yield dataclasses.replace(
        problem,
        **flipped,
        pierced=tuple(as_points(np.asarray(each) * (-1.0, 1.0)) for each in problem.pierced),
        fixed=Fixed(
            closed_turn_rad=None if closed is None else -closed,
            moved_right_mm=None if right is None else -right,
            moved_back_mm=back,
        ),
        open_turn_rad=None if problem.open_turn_rad is None else -problem.open_turn_rad,
        opens={"to the left": "to the right", "to the right": "to the left"}.get(problem.opens, problem.opens),
    )
    more = [turned(shapely.segmentize(shapely.LinearRing(each), 9.0).coords[:-1], 1.3) for each in problem.pierced]
    yield dataclasses.replace(
        problem,
        lid=turned(problem.lid, 1.3)[::-1],
        pierced=tuple(more),
        fixed=dataclasses.replace(fixed, closed_turn_rad=less(closed, 1.3)),
    )


@pytest.mark.parametrize("number", [1, 4, 10, 16, 21, 30])
def test_seen_from_elsewhere_no_place_found_is_beyond_any_bound(number):
    each = case(number)
    here = best_hole(each.problem, each.wish, aims=Aims(most_cells=600))
    others = [best_hole(other, each.wish, aims=Aims(most_cells=250)) for other in from_elsewhere(each.problem)]
    every = [here, *others]
    assert any(answer.place is not None for answer in every)
    for place, bounds in itertools.product([a.place for a in every if a.place], [a.certificate for a in every]):
        if each.wish.goal == "margin":
            assert place.margin_mm <= bounds.margin_bound_mm + ROUNDING_MM
            continue
        assert not bounds.none_exists
        if each.wish.goal == "edge":
            assert place.hole_to_lid_mm <= bounds.edge_bound_mm + ROUNDING_MM
        else:
            assert abs(place.open_turn_rad) >= bounds.angle_bound_rad - ROUNDING_RAD


# Each step of the proof by itself: a cell round a place that can be is never let go at what that place reaches.


def some_places(ground, rng, count):
    places = covering_starts(ground.cover)
    places = places[rng.integers(len(places), size=count)].copy()
    size = rng.choice([0.1, 1.0, 5.0, 15.0], size=count)
    fixed = ground.cover.fixed
    if fixed.closed_turn_rad is None:
        places[:, TURN] = np.mod(places[:, TURN] + rng.normal(size=count) * size / 30, 2 * math.pi / ground.cover.fold)
    if fixed.moved_right_mm is None:
        places[:, RIGHT] += rng.normal(size=count) * size
    if fixed.moved_back_mm is None:
        places[:, BACK] += rng.normal(size=count) * size
    weights = rng.dirichlet(np.full(len(ground.region), 0.5), size=count)
    places[:, HOLE_RIGHT : HOLE_BACK + 1] = weights @ ground.region
    places[:, OPEN] = rng.uniform(*ground.turns, size=count)
    return places[np.isfinite(measures(ground, places).margins)]


def interval_with(value, widest, given, rng):
    """An interval with a value in it, often at one end; of no width when the value is given."""
    half = 0.0 if given else widest * 4.0 ** -rng.integers(0, 7)
    return Halving(middles=[value - rng.choice([-1.0, 1.0, rng.uniform(-1, 1)]) * half], halves=[half])


def search_round(ground, place, rng):
    """A search with one cell of random size round a place, and the shift of the place as seen from its pivot."""
    plain = search_of(ground, ground.region[0] + rng.normal(size=2) * rng.choice([0.0, 3.0, 20.0]))
    hole = place[HOLE_RIGHT : HOLE_BACK + 1] - plain.pivot
    given = ground.cover.fixed.closed_turn_rad is not None
    patch = hole + rng.choice([1.0, 0.5, 0.1, 0.01]) * (ground.region - plain.pivot - hole)
    search = Search(
        ground=ground,
        pivot=plain.pivot,
        axes=plain.axes,
        directions=plain.directions,
        closed=interval_with(place[TURN], 0.2, given, rng),
        opened=interval_with(place[OPEN], 0.1, ground.turns[0] == ground.turns[1], rng),
        patches=dataclasses.replace(plain.patches, corners=[patch]),
        sweeps=plain.sweeps,
    )
    shift = place[RIGHT : BACK + 1] + turned_back(hole, np.array(place[OPEN])) - hole
    half = 10.0 * 4.0 ** -rng.integers(0, 7, size=2) * rng.choice([0.0, 1.0], p=[0.1, 0.9], size=2)
    off = np.array([rng.choice([-1.0, 1.0, rng.uniform(-1, 1)]) for _ in range(2)])
    first = np.zeros(1, dtype=np.intp)
    middles = (search.axes @ shift - off * half)[None]
    return search, Cells(closed=first, opened=first, patch=first, middles=middles, halves=half[None]), shift


@pytest.mark.parametrize("number", range(16))
def test_a_cell_round_a_place_is_never_let_go_at_what_the_place_reaches(number):
    rng = np.random.default_rng(number)
    each = case(number)
    ground = ground_of(each.problem, each.wish)
    places = some_places(ground, rng, 15)
    found = measures(ground, places)
    for place, margin, to_lid, covered in zip(places, found.margins, found.to_lid, found.covered, strict=True):
        search, cell, shift = search_round(ground, place, rng)
        level = level_of(ground, float(margin), float(to_lid))
        assert reachable(search, level, cell)[0] and closely_reachable(search, level, cell)[0]
        if level.holes is not None:
            assert edge_reachable(search, level, cell)[0] and far_from_edge(search, level, cell)[0]
        assert least_covered(search, cell)[0] <= covered + 1e-7
        roots = root_cells(search, level)
        assert len(roots) == 1 and np.all(np.abs(roots.middles - search.axes @ shift) <= roots.halves + 1e-7)
        halves = halved(search, cell, patches=True)
        holds = np.abs(halves.middles - search.axes @ shift) <= halves.halves + 1e-9
        assert holds.all(axis=1).any()


@pytest.mark.parametrize("number", range(4))
def test_no_place_covers_better_than_the_best_cover_is_bound_by(number):
    rng = np.random.default_rng(number)
    each = case(number)
    ground = ground_of(each.problem, each.wish)
    fixed = ground.cover.fixed
    best = best_cover(each.problem.lid, each.problem.rim, fixed=fixed, within_mm=0.1, most_cells=4000)
    assert best.margin_mm <= best.bound_mm
    assert measures(ground, some_places(ground, rng, 400)).margins.max() <= best.bound_mm + ROUNDING_MM
    turn = rng.uniform(-math.pi, math.pi)
    given = best_cover(
        each.problem.lid, each.problem.rim, fixed=Fixed(closed_turn_rad=turn), within_mm=0.1, most_cells=4000
    )
    assert given.closed_turn_rad == turn
    free = best_cover(each.problem.lid, each.problem.rim, within_mm=0.1, most_cells=4000)
    assert given.margin_mm <= free.bound_mm + ROUNDING_MM


def test_every_value_that_cannot_be_used_is_told_at_once():
    each = case(10)
    bad = dataclasses.replace(each.problem, rim=((0.0, 0.0), (10.0, 0.0), (1.0, 1.0), (0.0, 10.0)), to_lid_mm=math.nan)
    with pytest.raises(InputError) as told:
        best_hole(bad, dataclasses.replace(each.wish, uncovered=1.5))
    assert {problem.field for problem in told.value.problems} == {"rim", "to_lid_mm", "uncovered"}
