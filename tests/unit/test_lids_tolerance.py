"""How far off a hole may be: true in every direction on the whole analysis, and no smaller than it has to be."""

from __future__ import annotations

import dataclasses
import math

import pytest

from foldproof.geometry.plane import Polygon
from foldproof.lids import turning
from foldproof.lids.box import on_diagonal, turning_box
from foldproof.lids.records import Fastener, LidAnalysis, LidLayer, TurningBox, TurningLid
from foldproof.lids.turning import LidLimits, analyse
from foldproof.outlines.catalogue import draw, formula_named
from foldproof.pattern.records import BoxForm

DIRECTIONS = 12
NEAR_MM = 0.02
FORM = BoxForm(piece="tray", centre=(0.0, 0.0), outer_mm=(82.8, 82.8), inner_mm=(81.0, 81.0), rim_mm=57.0)
LIMITS = LidLimits(
    hole_off_mm=1.5875,
    turn_off_deg=5.0,
    cover_fail_mm=1.5875,
    opens_fail_percent=50.0,
    hole_edge_mm=6.35,
    leg_opening_mm=4.0,
    finger_mm=16.0,
    finger_reach_mm=60.0,
)
BRAD = Fastener(
    kind="brad", hole_mm=3.175, head_mm=6.35, legs_mm=9.0, back_mm=0.0, least_mm=0.0, most_mm=5.0, mass_g=0.5
)
SNAP = dataclasses.replace(BRAD, kind="snap", legs_mm=0.0, back_mm=10.0, head_mm=12.0)


def layer(number: int, outline: Polygon, *, pierced: bool = True) -> LidLayer:
    return LidLayer(
        name=f"layer_{number}",
        outline=outline,
        low_mm=0.3 * (number - 1),
        high_mm=0.3 * number,
        mass_g=4.0,
        droop_mm=0.0,
        lift_mm=0.0,
        border_mm=6.0,
        pierced=pierced,
        greeting=False,
    )


def outline(name: str, turn_deg: float, **values: float) -> Polygon:
    formula = formula_named(name)
    assert formula is not None
    turn = math.radians(turn_deg)
    shape = draw(formula, values)
    return tuple(
        (x * math.cos(turn) - y * math.sin(turn), x * math.sin(turn) + y * math.cos(turn)) for x, y in shape.outline
    )


def case(
    shape: Polygon, from_corner_mm: float, fastener: Fastener = BRAD, **limits: float
) -> tuple[TurningBox, TurningLid, LidLimits]:
    box = turning_box(FORM, "back left", 25.4, 0.3, 12.0)
    lid = TurningLid(
        layers=(layer(1, shape), layer(2, tuple((0.8 * x, 0.8 * y) for x, y in shape), pierced=False)),
        fastener=fastener,
        hole=on_diagonal(box, from_corner_mm),
        triangle_layers_mm=0.6,
    )
    return box, lid, dataclasses.replace(LIMITS, **limits)


DISC = outline("disc", 0.0, across=139.7)
CASES = {
    "edge of the triangle at a wall": case(DISC, 13.0),
    "legs": case(DISC, 12.7, dataclasses.replace(BRAD, legs_mm=12.0)),
    "long edge of the triangle": case(DISC, 17.5),
    "cover": case(outline("disc", 0.0, across=124.0), 13.5),
    "cover at a corner of the rim": case(outline("square", 0.0, side=92.0), 14.0),
    "rosette": case(outline("rosette", 8.0, across=139.7, lobes=10, depth=4.7625), 13.5),
    "heart": case(outline("heart", 20.0, across=170.0), 14.0, SNAP),
    "back": case(outline("square", 0.0, side=110.0), 11.0, dataclasses.replace(SNAP, back_mm=14.0)),
    "opens": case(outline("rosette", 0.0, across=200.0, lobes=5, depth=10.0), 13.0, opens_fail_percent=51.0),
}


def fails(found: LidAnalysis, lid: TurningLid, limits: LidLimits) -> bool:
    """Whether any limit that the hole's place decides is passed."""
    edge = limits.hole_edge_mm - 0.5 * lid.fastener.hole_mm
    return (
        found.margin_mm < limits.cover_fail_mm
        or min(found.hole_to_lid_mm, found.hole_to_triangle_mm) < edge
        or found.head_room_mm < 0.0
        or (found.head_hidden_mm is not None and found.head_hidden_mm < 0.0)
        or min(found.leg_room_mm, found.back_room_mm) < 0.0
        or 100.0 * found.opened.uncovered < limits.opens_fail_percent
    )


def fails_at(box: TurningBox, lid: TurningLid, limits: LidLimits, x: float, y: float) -> bool:
    """The hole off by so much, in both readings: only in the lid, which then closes askew, or in the triangle too."""
    both = dataclasses.replace(lid, hole=(lid.hole[0] + x, lid.hole[1] + y))
    askew = dataclasses.replace(
        lid,
        layers=tuple(
            dataclasses.replace(each, outline=tuple((px - x, py - y) for px, py in each.outline)) for each in lid.layers
        ),
    )
    return any(fails(analyse(box, each, "either way", limits), each, limits) for each in (both, askew))


def any_fails(box: TurningBox, lid: TurningLid, limits: LidLimits, away_mm: float) -> bool:
    turns = (2.0 * math.pi * n / DIRECTIONS for n in range(DIRECTIONS))
    return any(fails_at(box, lid, limits, away_mm * math.cos(t), away_mm * math.sin(t)) for t in turns)


@pytest.mark.parametrize("name", CASES)
def test_within_it_nothing_fails_and_beyond_it_something_does(name, monkeypatch):
    box, lid, limits = CASES[name]
    tolerance = analyse(box, lid, "either way", limits).hole_tolerance_mm
    assert tolerance > 5.0 * NEAR_MM
    monkeypatch.setattr(turning, "hole_tolerance", lambda *_: 0.0)  # the moved holes' own tolerance is not asked
    assert not any_fails(box, lid, limits, tolerance - NEAR_MM)
    # Between two of the directions the limit may lie a little nearer than in them.
    assert any_fails(box, lid, limits, tolerance / math.cos(math.pi / DIRECTIONS) + NEAR_MM)


def test_the_cases_are_decided_by_what_their_names_say():
    """Each limit let go in turn: then the hole may be farther off."""
    let_go = {
        "legs": {"fastener": dataclasses.replace(BRAD, legs_mm=3.0)},
        "back": {"fastener": dataclasses.replace(SNAP, back_mm=4.0)},
    }
    for name, change in let_go.items():
        box, lid, limits = CASES[name]
        free = dataclasses.replace(lid, **change)
        assert (
            analyse(box, free, "either way", limits).hole_tolerance_mm
            > analyse(box, lid, "either way", limits).hole_tolerance_mm + 0.1
        )
    for name, change in (("cover", {"cover_fail_mm": 0.5}), ("opens", {"opens_fail_percent": 50.0})):
        box, lid, limits = CASES[name]
        free = dataclasses.replace(limits, **change)
        assert (
            analyse(box, lid, "either way", free).hole_tolerance_mm
            > analyse(box, lid, "either way", limits).hole_tolerance_mm + 0.1
        )


def test_a_lid_that_fails_already_leaves_no_room():
    box, lid, limits = case(outline("disc", 0.0, across=115.0), 13.0)
    assert analyse(box, lid, "either way", limits).hole_tolerance_mm == 0.0
