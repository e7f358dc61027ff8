"""What is asked of a lid's place: which of its values are open, and the problem and the wish that go with them."""

from __future__ import annotations

import dataclasses
import math
from dataclasses import dataclass

import numpy as np
import shapely

from foldproof.checks.turning_evidence import box_of, closed_turn_rad, lid_on
from foldproof.constructions.parameters import Open
from foldproof.constructions.turning_lid import TurningLidValues, layer_across, lid_shape
from foldproof.design.fit_answers import Goal
from foldproof.geometry.plane import Array, Point
from foldproof.geometry.symmetry import turning_fold
from foldproof.lengths import Length
from foldproof.lids.box import from_corner, hole_at
from foldproof.lids.fasteners import held_mm
from foldproof.lids.optimum_problem import HoleKeeps, hole_region
from foldproof.lids.optimum_records import Fixed, HoleProblem, LidPlace, Opens, Wish
from foldproof.lids.records import TurningBox, TurningLid
from foldproof.lids.turning import covering_outline
from foldproof.pattern.records import Assembly
from foldproof.project.records import Project

CLOSED, RIGHT, BACK, ALONG, BESIDE = "closed", "moved_right", "moved_back", "hole_from_corner", "hole_beside"
POSE = (CLOSED, RIGHT, BACK)
HOLE = (ALONG, BESIDE)
PLACE = (*POSE, *HOLE)  # the values that say where a lid lies and where its hole is

FAR_MM = 1000.0  # beyond every box: ends of the line that a hole's region is cut with
ORIGIN_MM = 10.0  # a hole's value while it is open and only outlines are asked for


@dataclass(frozen=True, slots=True, kw_only=True)
class LidQuestion:
    """A lid of known size on its box. ``opened`` are the values to be found, in the order of ``PLACE``.

    ``sizes_mm`` are its layers'; ``drawn`` is the lid in its own frame, neither turned nor moved. ``uncovered`` is the
    share of the opening that has to be uncovered, ``give_mm`` the margin that a smaller turn is worth, ``margin_mm``
    the margin to keep where a goal needs one.
    """

    project: Project
    values: TurningLidValues
    box: TurningBox
    opened: tuple[str, ...]
    sizes_mm: tuple[float, ...]
    drawn: TurningLid
    uncovered: float
    give_mm: float
    margin_mm: float


def question_of(
    project: Project, values: TurningLidValues, host: Assembly, let_go: tuple[str, ...] = ()
) -> LidQuestion:
    """What is left open of a lid's place, and ``let_go`` as if it were."""
    box = box_of(project, values, host)
    assert isinstance(values.across, Length), "a lid is placed when its size is known"
    across = values.across
    sizes = tuple(layer_across(values, layer, across).float_mm for layer in values.layers)
    flat = dataclasses.replace(values, closed=0.0, moved_right=Open(), moved_back=Open())
    checks = project.checks
    return LidQuestion(
        project=project,
        values=values,
        box=box,
        opened=tuple(name for name in PLACE if name in let_go or isinstance(getattr(values, name), Open)),
        sizes_mm=sizes,
        drawn=lid_on(project, flat, box, sizes, ORIGIN_MM),
        uncovered=0.01 * checks.opens_look_percent,
        give_mm=checks.cover_give_mm,
        margin_mm=checks.cover_look_mm,
    )


def wish_of(question: LidQuestion, goal: Goal) -> Wish:
    """What the hole is to be best in."""
    if goal == "least turn":
        return Wish(goal="angle", uncovered=question.uncovered, margin_mm=question.margin_mm)
    if goal == "hole far from the edge":
        return Wish(goal="edge", uncovered=question.uncovered, margin_mm=question.margin_mm)
    return Wish(goal="margin", uncovered=question.uncovered, give_mm=question.give_mm)


def fixed_of(question: LidQuestion) -> Fixed:
    """What of the closed place is given."""
    values, opened = question.values, question.opened
    turn = closed_turn_rad(values, lid_shape(values, question.sizes_mm[0]), question.box)

    def given(name: str) -> float | None:
        value = getattr(values, name)
        return value.float_mm if name not in opened and isinstance(value, Length) else None

    return Fixed(
        closed_turn_rad=None if CLOSED in opened else turn, moved_right_mm=given(RIGHT), moved_back_mm=given(BACK)
    )


def problem_of_question(question: LidQuestion) -> HoleProblem:
    """The problem whose best place is searched. A given hole stays where it is, also where a limit is against it.

    A head that a layer above should hide, and the finger that opens the legs, are not in it: what is proved holds
    without them, and so with them.
    """
    box, drawn, limits = question.box, question.drawn, question.project.checks
    fastener = drawn.fastener
    keeps = HoleKeeps(
        edge_mm=limits.hole_edge_mm,
        head_mm=fastener.head_mm,
        legs_below_mm=max(0.0, fastener.legs_mm - held_mm(drawn)) if fastener.legs_mm > 0.0 else 0.0,
        back_mm=fastener.back_mm,
    )
    hole_is_open = any(name in question.opened for name in HOLE)
    return HoleProblem(
        lid=covering_outline(drawn),
        rim=box.rim,
        opening=box.opening,
        region=_region(question, hole_region(box, keeps)) if hole_is_open else (_given_hole(question),),
        pierced=tuple(layer.outline for layer in drawn.layers if layer.pierced),
        to_lid_mm=max(limits.hole_edge_mm, 0.5 * fastener.head_mm) if hole_is_open else -FAR_MM,
        fixed=fixed_of(question),
        opens=opens_of(question.values),
    )


def opens_of(values: TurningLidValues) -> Opens:
    """Which way the maker wants the lid to open."""
    if values.opens == "to the left":
        return "to the left"
    return "to the right" if values.opens == "to the right" else "either way"


def _given_hole(question: LidQuestion) -> Point:
    return hole_at(question.box, _length_mm(question, ALONG), _length_mm(question, BESIDE))


def _length_mm(question: LidQuestion, name: str) -> float:
    value = getattr(question.values, name)
    return value.float_mm if isinstance(value, Length) else 0.0


def _region(question: LidQuestion, region: Array) -> tuple[Point, ...]:
    """Where the hole may be: all of it, or only the line on which a given measure leaves it."""
    if ALONG in question.opened and BESIDE in question.opened:
        return _points(region)
    box = question.box
    if ALONG in question.opened:
        beside = _length_mm(question, BESIDE)
        ends = (hole_at(box, -FAR_MM, beside), hole_at(box, FAR_MM, beside))
    else:
        along = _length_mm(question, ALONG)
        ends = (hole_at(box, along, -FAR_MM), hole_at(box, along, FAR_MM))
    if len(region) < 3:
        return _points(region) if len(region) == 1 and _on(box, region[0], ends) else ()
    return _points(shapely.get_coordinates(shapely.Polygon(region).intersection(shapely.LineString(ends))))


def _on(box: TurningBox, point: Array, ends: tuple[Point, Point]) -> bool:
    return float(shapely.LineString(ends).distance(shapely.Point(point))) < 1e-6


def _points(array: Array) -> tuple[Point, ...]:
    return tuple((float(x), float(y)) for x, y in array)


def measures_of(question: LidQuestion, place: LidPlace) -> dict[str, float]:
    """A place as a maker measures it: degrees and mm by the names of ``PLACE``.

    Of the turns that look the same the smallest is told.
    """
    along, beside = from_corner(question.box, place.hole)
    fold = turning_fold(np.asarray(covering_outline(question.drawn)))
    turn = math.remainder(place.closed_turn_rad, math.tau / fold)
    return {
        CLOSED: math.degrees(turn),
        RIGHT: place.moved_right_mm,
        BACK: place.moved_back_mm,
        ALONG: along,
        BESIDE: beside,
    }
