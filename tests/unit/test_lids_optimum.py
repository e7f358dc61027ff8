"""The best place of a lid: the traps, both senses, what is given, what is empty, and how an answer ends."""

import dataclasses
import itertools
import math

import numpy as np
import pytest
import shapely
from shapely import affinity

from foldproof.errors import InputError
from foldproof.geometry.common_area import common_areas
from foldproof.geometry.outline import half_planes
from foldproof.lids import optimum_proof
from foldproof.lids.box import corner_triangle, rectangle
from foldproof.lids.optimum import best_hole, improving_holes
from foldproof.lids.optimum_cells import Cells, least_covered, search_of
from foldproof.lids.optimum_cover import best_cover, covering
from foldproof.lids.optimum_ground import corners_only, cover_of, ground_of
from foldproof.lids.optimum_polish import Task
from foldproof.lids.optimum_problem import HoleKeeps, hole_region, problem_of
from foldproof.lids.optimum_records import Aims, Fixed, HoleProblem, Wish
from foldproof.lids.optimum_scale import largest_box, smallest_lid
from foldproof.lids.records import TurningBox

SIDE_MM, LEG_MM, EDGE_MM = 100.0, 40.0, 8.0
SPECK_MM = 2e-6


def disc(radius, points=180, turn=0.0):
    bearings = turn + 2 * math.pi * np.arange(points) / points
    return tuple((float(radius * math.cos(b)), float(radius * math.sin(b))) for b in bearings)


def box(sx=1, sy=1, side=SIDE_MM):
    """A box of no wall thickness with its triangle in one corner."""
    mouth, corner = rectangle(side, side), (sx * side / 2, sy * side / 2)
    triangle = corner_triangle(corner, (sx, sy), LEG_MM)
    opening = shapely.orient_polygons(shapely.Polygon(mouth).difference(shapely.Polygon(triangle)))
    return TurningBox(
        place="corner",
        rim=mouth,
        mouth=mouth,
        opening=tuple(opening.exterior.coords[:-1]),
        rim_mm=30.0,
        corner=corner,
        into=(-sx / math.sqrt(2), -sy / math.sqrt(2)),
        triangle=triangle,
        tab_mm=0.0,
        mass_g=1.0,
        centre=(0.0, 0.0),
    )


def disc_problem(**changes):
    return dataclasses.replace(problem_of(box(), disc(80.0), HoleKeeps(edge_mm=EDGE_MM)), **changes)


# The three known traps.


def test_an_opening_wholly_under_the_lid_is_all_covered_though_no_edge_crosses_it():
    problem = disc_problem(open_turn_rad=math.radians(3.0), fixed=Fixed(moved_right_mm=0.0, moved_back_mm=0.0))
    opening = np.asarray(problem.opening)
    normals, offsets = half_planes(opening)
    whole = common_areas(np.asarray(problem.lid), normals[None], offsets[None])
    assert whole[0] == pytest.approx(shapely.Polygon(opening).area, abs=1e-8)
    best = best_hole(problem, Wish(goal="margin", uncovered=0.05))
    assert best.place is None and best.certificate.none_exists
    under = best_hole(problem, Wish(goal="margin", uncovered=0.0))
    assert under.place is not None and under.place.uncovered == pytest.approx(0.0, abs=1e-9)


def test_a_corner_of_the_opening_that_shows_between_two_lid_points_counts_as_covered():
    # A square lid of four points: no point of it ever lies over the opening's corner, its edges do.
    problem = disc_problem(lid=rectangle(150.0, 150.0), pierced=(rectangle(150.0, 150.0),))
    wish = Wish(goal="angle", uncovered=1.0, margin_mm=4.0)
    best = best_hole(problem, wish, aims=Aims(most_cells=60_000))
    place = best.place
    closed = affinity.translate(
        affinity.rotate(shapely.Polygon(problem.lid), place.closed_turn_rad, origin=(0, 0), use_radians=True),
        place.moved_right_mm,
        place.moved_back_mm,
    )
    opened = affinity.rotate(closed, place.open_turn_rad, origin=place.hole, use_radians=True)
    opening = shapely.Polygon(problem.opening)
    assert opened.intersection(opening).area <= 1e-8 * opening.area
    # A little less of a turn covers a corner, though none of the lid's own corners comes over the opening.
    less = affinity.rotate(closed, 0.97 * place.open_turn_rad, origin=place.hole, use_radians=True)
    points = shapely.points(np.asarray(less.exterior.coords[:-1]))
    assert less.intersection(opening).area > 0.01 and not shapely.intersects(opening, points).any()
    assert abs(place.open_turn_rad) - best.certificate.angle_bound_rad <= math.radians(0.3)


def test_a_corner_of_the_rim_that_shows_between_two_lid_points_is_no_cover():
    # The rim's corners reach through the edges of a lid whose points all lie far outside the rim.
    diamond = disc(72.0, points=4)
    best = best_cover(diamond, rectangle(SIDE_MM, SIDE_MM), fixed=Fixed(closed_turn_rad=0.0))
    assert best.margin_mm == pytest.approx(72.0 / 2 - SIDE_MM / 2, abs=1e-6) and best.finished
    turned = best_cover(diamond, rectangle(SIDE_MM, SIDE_MM))
    assert turned.margin_mm == pytest.approx(72.0 / math.sqrt(2) - SIDE_MM / 2, abs=0.01)


def test_an_early_exit_is_not_taken_for_the_true_depth():
    lid, rim = disc(80.0, points=720), rectangle(SIDE_MM, SIDE_MM)
    true = 80.0 / math.sqrt(2) - SIDE_MM / 2
    *_, enough = covering(cover_of(lid, rim, Fixed()), 0.01, 1.0)
    assert enough.margin_mm >= 1.0 and enough.bound_mm >= true - 1e-3  # it was enough, and claims no more
    *_, too_much = covering(cover_of(lid, rim, Fixed()), 0.01, 30.0)
    assert too_much.margin_mm <= true + 1e-3 and true - 1e-3 <= too_much.bound_mm < 30.0
    hasty = best_cover(lid, rim, most_cells=1)
    assert not hasty.finished and hasty.bound_mm >= true - 1e-3
    box_now = largest_box(lid, rim, margin_mm=1.0, most_cells=1)
    assert box_now.bound >= (80.0 * math.sqrt(2) - 2.0) / SIDE_MM - 1e-3 >= box_now.scale - 2e-3


def test_levels_come_down_and_the_first_cells_hold_what_the_lowest_of_them_leaves(monkeypatch):
    # Without better places on the way, and from one said to give 3.9, nothing above the true 4.01 may be excluded.
    problem, wish = disc_problem(), Wish(goal="margin", uncovered=1.0)
    ground = ground_of(problem, wish)
    monkeypatch.setattr(optimum_proof, "_better_place", lambda *_: None)
    monkeypatch.setattr(optimum_proof, "_value", lambda *_: 3.9)
    task = Task(cover=ground.cover, ground=ground, goal="margin")
    search = search_of(ground, np.array([42.0, 42.0]))
    for step in optimum_proof.highest(search, task, np.zeros(6), 6.57, 0.1):
        assert step.bound >= 4.0 and not step.done
        if step.cells > 4000:
            break
    assert step.bound < 5.0


# Both senses, every corner.


@pytest.mark.parametrize(("sx", "sy"), [(-1, 1), (1, -1), (-1, -1)])
def test_every_corner_gives_the_same_and_so_does_the_mirrored_lid(sx, sy):
    lopsided = tuple((x * (1.0 + 0.15 * (x > 0.0)), y) for x, y in disc(76.0, points=24))
    wish = Wish(goal="angle", uncovered=0.75, margin_mm=1.0)
    aims = Aims(turn_rad=math.radians(1.0))
    first = problem_of(box(), lopsided, HoleKeeps(edge_mm=EDGE_MM), opens="to the left")
    here = best_hole(first, wish, aims=aims)
    lid = tuple((sx * x, sy * y) for x, y in lopsided)
    mirrored = sx * sy < 0
    other = problem_of(
        box(sx, sy), lid, HoleKeeps(edge_mm=EDGE_MM), opens="to the right" if mirrored else "to the left"
    )
    there = best_hole(other, wish, aims=aims)
    assert here.certificate.finished and there.certificate.finished
    assert math.copysign(1.0, there.place.open_turn_rad) == (-1.0 if mirrored else 1.0)
    assert abs(there.place.open_turn_rad) == pytest.approx(abs(here.place.open_turn_rad), abs=math.radians(1.0))
    assert abs(there.place.open_turn_rad) >= here.certificate.angle_bound_rad - 1e-9
    assert abs(here.place.open_turn_rad) >= there.certificate.angle_bound_rad - 1e-9


def test_a_lid_that_is_its_own_mirror_image_is_looked_at_one_way_only_and_either_way_agrees():
    ground = ground_of(disc_problem(), Wish(goal="margin", uncovered=1.0))
    assert ground.one_sense and ground.turns == (0.0, math.pi)
    # A box whose hole has a region on one side of the diagonal is no mirror image.
    lopsided = disc_problem(region=((42.0, 42.0), (42.0, 35.0)))
    assert not ground_of(lopsided, Wish(goal="margin", uncovered=1.0)).one_sense
    wish, aims = Wish(goal="angle", uncovered=0.75, margin_mm=3.0), Aims(turn_rad=math.radians(0.3))
    turns = [abs(best_hole(disc_problem(opens=way), wish, aims=aims).place.open_turn_rad) for way in WAYS]
    assert max(turns) - min(turns) <= math.radians(0.3)


WAYS = ("either way", "to the left", "to the right")


# What is given stays as it is given.


@pytest.mark.parametrize("which", list(itertools.product((False, True), repeat=3)))
@pytest.mark.parametrize("goal", ["margin", "angle", "edge"])
def test_what_is_given_of_the_place_is_kept_whatever_is_wished(goal, which):
    values = (0.4, 0.7, -0.9)
    fixed = Fixed(
        **{
            name: value
            for name, value, given in zip(
                ("closed_turn_rad", "moved_right_mm", "moved_back_mm"), values, which, strict=True
            )
            if given
        }
    )
    lid = tuple((1.02 * x + 1.0, y - 0.5) for x, y in disc(78.0, points=16))
    problem = disc_problem(lid=lid, pierced=(lid,), fixed=fixed)
    wish = Wish(goal=goal, uncovered=0.6, margin_mm=None if goal == "margin" else 0.5)
    best = best_hole(problem, wish, aims=Aims(most_cells=800))
    found = (best.place.closed_turn_rad, best.place.moved_right_mm, best.place.moved_back_mm)
    for value, told, given in zip(values, found, which, strict=True):
        assert not given or told == pytest.approx(value, abs=1e-9)
    assert best.place.uncovered >= 0.6 - 1e-8 and best.place.hole_to_lid_mm >= EDGE_MM - SPECK_MM


def test_a_given_opening_turn_and_a_given_hole_are_kept():
    problem = disc_problem(region=((40.0, 38.0),), open_turn_rad=-2.2)
    best = best_hole(problem, Wish(goal="margin", uncovered=0.6))
    assert best.place.hole == (40.0, 38.0) and best.place.open_turn_rad == -2.2
    assert best.certificate.finished and best.certificate.angle_bound_rad == pytest.approx(2.2)


def test_no_turn_is_wider_than_the_widest_wished():
    best = best_hole(disc_problem(), Wish(goal="margin", uncovered=0.75, widest_turn_rad=2.0))
    assert abs(best.place.open_turn_rad) <= 2.0
    freely = best_hole(disc_problem(), Wish(goal="margin", uncovered=0.75))
    assert best.certificate.margin_bound_mm <= freely.certificate.margin_bound_mm + 0.1


# Nowhere, and what ends a search.


def test_no_room_for_a_hole_is_told_at_once():
    problem = problem_of(box(), disc(80.0), HoleKeeps(edge_mm=20.0))
    assert problem.region == ()
    best = best_hole(problem, Wish())
    assert best.place is None and best.certificate.none_exists and best.certificate.finished


def test_legs_of_a_brad_need_room_between_the_walls():
    free, legs = (hole_region(box(), HoleKeeps(edge_mm=EDGE_MM, legs_below_mm=length)) for length in (0.0, 14.0))
    assert np.isclose(free, [42.0, 42.0]).all(axis=1).any()
    # Legs open at 45 degrees to the walls: 14 mm of leg come 14 / root 2 nearer to each of them.
    assert legs.max() == pytest.approx(50.0 - 14.0 / math.sqrt(2), abs=1e-5)


def test_a_wish_that_no_lid_can_keep_is_proved_to_have_no_place():
    small = disc(60.0, points=48)
    best = best_hole(disc_problem(lid=small, pierced=(small,)), Wish(goal="angle", uncovered=0.5, margin_mm=2.0))
    assert best.place is None and best.certificate.none_exists and best.certificate.finished
    assert best.certificate.angle_bound_rad is None


def test_a_lid_that_would_have_to_leave_its_box_is_no_answer():
    # Turned so little it uncovers everything only where it hangs by its edge, half the box and more from covering.
    aims = Aims(most_cells=4000)
    best = best_hole(disc_problem(), Wish(goal="margin", uncovered=1.0, widest_turn_rad=0.6), aims=aims)
    assert best.place is None and best.certificate.none_exists and best.certificate.finished
    assert best.certificate.margin_bound_mm == pytest.approx(-25.0, abs=1e-6)  # half the way to the rim's middle


def test_a_given_opening_turn_is_a_turn_and_no_wider_than_the_widest_wished():
    wish = Wish(goal="margin", uncovered=0.5, widest_turn_rad=1.0)
    for given in (math.nan, 7.0, -2.0):
        with pytest.raises(InputError) as told:
            best_hole(disc_problem(open_turn_rad=given), wish)
        assert [problem.field for problem in told.value.problems] == ["open_turn_rad"]


def test_a_margin_so_low_that_nothing_is_left_of_the_rim_asks_for_its_middle_alone():
    best = best_hole(disc_problem(), Wish(goal="angle", uncovered=0.0, margin_mm=-60.0))
    assert best.place is not None and not best.certificate.none_exists


def test_the_first_answer_comes_before_any_cell_and_answers_only_get_better():
    answers = list(improving_holes(disc_problem(), Wish(goal="margin", uncovered=0.75)))
    assert answers[0].place is not None and answers[0].certificate.cells == 0
    bounds = [a.certificate.margin_bound_mm for a in answers]
    assert bounds == sorted(bounds, reverse=True)
    angles = [a.certificate.angle_bound_rad for a in answers if a.certificate.angle_bound_rad is not None]
    assert angles == sorted(angles) and answers[-1].certificate.finished


def test_a_budget_that_runs_out_says_what_gap_is_left():
    best = best_hole(disc_problem(), Wish(goal="angle", uncovered=1.0, margin_mm=3.9), aims=Aims(most_cells=5))
    certificate = best.certificate
    assert not certificate.finished and not certificate.stopped
    assert certificate.angle_gap_rad == pytest.approx(abs(best.place.open_turn_rad) - certificate.angle_bound_rad)
    assert certificate.angle_gap_rad > math.radians(0.2)


def test_points_along_straight_edges_make_no_difference():
    ring = shapely.segmentize(shapely.LinearRing(rectangle(150.0, 150.0)), 5.0)
    many = np.asarray(ring.coords[:-1])
    assert len(corners_only(many)) == 4 and len(many) > 100
    assert len(corners_only(np.asarray(disc(80.0, points=720)))) == 720


def test_points_along_the_sides_of_an_opening_do_not_count_it_twice():
    problem, wish = disc_problem(), Wish(goal="angle", uncovered=0.75, margin_mm=3.0)
    plain = best_hole(problem, wish, aims=Aims(turn_rad=math.radians(0.5)))
    ring = shapely.segmentize(shapely.LinearRing(problem.opening), 17.0)
    more = dataclasses.replace(
        problem, opening=tuple(ring.coords[:-1]), rim=problem.rim[:1] + ((0.0, -50.0),) + problem.rim[1:]
    )
    there = best_hole(more, wish, aims=Aims(turn_rad=math.radians(0.5)))
    assert there.place.open_turn_rad == pytest.approx(plain.place.open_turn_rad, abs=math.radians(0.5))
    assert there.certificate.angle_bound_rad <= abs(plain.place.open_turn_rad)


def test_intervals_of_turns_however_narrow_never_cover_more_than_their_middle():
    problem = disc_problem()
    ground = ground_of(problem, Wish(goal="margin", uncovered=0.75))
    covered = []
    for half in (1e-2, 1e-3, 1e-5, 1e-7, 1e-10, 1e-13, 0.0):
        search = search_of(ground, np.array([42.0, 42.0]))
        search.opened.middles[0], search.opened.halves[0] = 1.3, half
        search.closed.middles[0], search.closed.halves[0] = 0.0, 0.0
        one = np.zeros(1, dtype=np.intp)
        cell = Cells(closed=one, opened=one, patch=one, middles=np.zeros((1, 2)), halves=np.zeros((1, 2)))
        covered.append(float(least_covered(search, cell)[0]))
    turned = affinity.rotate(shapely.Polygon(problem.lid), 1.3, origin=(42.0, 42.0), use_radians=True)
    true = turned.intersection(shapely.Polygon(problem.opening)).area
    assert covered == sorted(covered) and covered[-1] == pytest.approx(true, abs=1e-6)


def test_parts_on_both_sides_of_a_neck_are_not_counted_twice():
    neck = shapely.union_all(
        [shapely.Point(-40, 0).buffer(30), shapely.Point(40, 0).buffer(30), shapely.box(-40, -1, 40, 1)]
    )
    lid = tuple(neck.exterior.coords[:-1])
    problem = HoleProblem(
        lid=lid,
        rim=rectangle(30.0, 30.0),
        opening=((-14.0, -14.0), (14.0, -14.0), (14.0, 2.0), (2.0, 14.0), (-14.0, 14.0)),
        region=((11.0, 11.0),),
        pierced=(lid,),
        to_lid_mm=2.0,
    )
    best = best_hole(problem, Wish(goal="margin", uncovered=0.9), aims=Aims(most_cells=3000))
    assert best.place is not None and best.place.margin_mm <= best.certificate.margin_bound_mm + SPECK_MM


# Sizes.


def test_only_a_rectangle_grows_one_way():
    rhombus = ((-30.0, 0.0), (0.0, -40.0), (30.0, 0.0), (0.0, 40.0))
    with pytest.raises(InputError, match="only a rectangle"):
        largest_box(disc(80.0), rhombus, margin_mm=2.0, grows="length")
    found = largest_box(disc(80.0, points=720), rectangle(50.0, 60.0), margin_mm=2.0, grows="length")
    true = 2.0 * (math.sqrt(80.0**2 - 32.0**2) - 2.0) / 50.0
    assert found.scale == pytest.approx(true, abs=2e-3) and found.scale <= found.bound


def test_a_lid_that_is_shifted_off_its_box_has_no_smallest_size():
    with pytest.raises(InputError, match="beside the box"):
        smallest_lid(disc(80.0), rectangle(60.0, 60.0), margin_mm=1.0, fixed=Fixed(moved_right_mm=70.0))
    with pytest.raises(InputError, match="beside the box"):
        fixed = Fixed(moved_right_mm=29.0, moved_back_mm=35.0)
        smallest_lid(disc(80.0), rectangle(60.0, 60.0), margin_mm=1.0, fixed=fixed)
    given = smallest_lid(
        disc(80.0, points=720), rectangle(60.0, 60.0), margin_mm=1.0, fixed=Fixed(moved_right_mm=5.0, moved_back_mm=0.0)
    )
    assert given.scale * 80.0 == pytest.approx(math.hypot(36.0, 31.0), abs=0.1)
