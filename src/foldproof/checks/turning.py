"""A lid that turns on a brad: does it cover, open, stay on, and clear everything?"""

from __future__ import annotations

import math

from foldproof.checks.evidence import Evidence
from foldproof.checks.judge import Values, at_least, finding
from foldproof.checks.proposals import Proposal, choose, nudge, set_value, value_of
from foldproof.checks.turning_evidence import Turning
from foldproof.findings import Change, Finding, Severity
from foldproof.lengths import Length, round_to

COVER, COMFORT, OPENS = "lid_covers", "lid_comfort", "lid_opens"
HOLE_LID, HOLE_TRIANGLE, HEAD = "hole_to_lid", "hole_to_triangle", "head_on_lid"
LEGS, LEG_ROOM, FINGER = "legs_long", "legs_room", "legs_finger"
CATCHES, TIPS = "lid_catches", "box_tips"
TRIANGLE, FLAPS = "triangle_in", "triangle_flaps"
CODES = (
    *(COVER, COMFORT, OPENS, HOLE_LID, HOLE_TRIANGLE, HEAD),
    *(LEGS, LEG_ROOM, FINGER, CATCHES, TIPS, TRIANGLE, FLAPS),
)
STEPS_TRIED = (1, 2, 4)  # ruler marks by which a hole is moved to see whether that helps
MORE_LEG = ("5/8 in", "3/4 in", "1 in")
MORE_LEG_METRIC = ("15 mm", "20 mm", "25 mm")


def judge(evidence: Evidence) -> tuple[Finding, ...]:
    """Every check of a turning lid; none for a part that has no such lid."""
    turning = evidence.turning
    if turning is None:
        return ()
    return (
        *_covering(evidence, turning),
        *_hole(evidence, turning),
        *_legs(evidence, turning),
        *_motion(evidence, turning),
        *_triangle(evidence, turning),
    )


def _covering(evidence: Evidence, turning: Turning) -> tuple[Finding, ...]:
    limits, found = evidence.project.checks, turning.analysis
    margin = max(found.margin_mm, -0.5 * max(abs(x) for x, _ in turning.box.rim))
    opened: Values = (
        ("opened_deg", found.opened.angle_deg),
        ("left_deg", found.best_left.angle_deg),
        ("left_share", found.best_left.uncovered),
        ("right_deg", found.best_right.angle_deg),
        ("right_share", found.best_right.uncovered),
        ("front", found.front),
        ("sweep_mm", found.sweep_mm),
        ("beyond_mm", max(found.beyond_mm)),
    )
    return (
        finding(
            COVER,
            at_least(margin, limits.cover_look_mm, limits.cover_fail_mm),
            margin,
            "mm",
            "at_least",
            (evidence.part.name,),
            (("distance_mm", found.distance_mm),),
            _larger(evidence, limits.cover_look_mm - margin),
        ),
        finding(
            COMFORT,
            at_least(found.comfort_mm, 0.0, -math.inf),
            found.comfort_mm,
            "mm",
            "at_least",
            (evidence.part.name,),
            (
                ("hole_off_mm", limits.hole_off_mm),
                ("turn_off_deg", limits.turn_off_deg),
                ("tolerance_mm", found.hole_tolerance_mm),
            ),
            _larger(evidence, -found.comfort_mm),
        ),
        finding(
            OPENS,
            at_least(100.0 * found.opened.uncovered, limits.opens_look_percent, limits.opens_fail_percent),
            100.0 * found.opened.uncovered,
            "percent",
            "at_least",
            (evidence.part.name,),
            opened,
            _hole_moved(evidence, -1) + choose(evidence, "opens", "either way") + _smaller_strip(evidence),
        ),
    )


def _larger(evidence: Evidence, missing_mm: float) -> tuple[Proposal, ...]:
    """The lid larger by what its margin lacks on each side, and a little more."""
    across = value_of(evidence, "across")
    if across is None:
        return ()
    ruler = evidence.project.ruler
    found = []
    for factor in (2.0, 3.0):
        more = Length(across.mm + round(factor * max(missing_mm, 0.0)))
        found.append((set_value(evidence, "across", round_to(more, ruler, "up").shown),))
    return tuple(found)


def _hole_moved(evidence: Evidence, sense: int) -> tuple[Proposal, ...]:
    return tuple(p for steps in STEPS_TRIED for p in nudge(evidence, "hole_from_corner", sense * steps))


def _smaller_strip(evidence: Evidence) -> tuple[Proposal, ...]:
    return nudge(evidence, "strip", -4)


def _hole(evidence: Evidence, turning: Turning) -> tuple[Finding, ...]:
    found, limits = turning.analysis, evidence.project.checks
    edge = limits.hole_edge_mm - 0.5 * turning.lid.brad.hole_mm
    moves = _hole_moved(evidence, 1) + _hole_moved(evidence, -1)
    head: Values = (("hidden", "no" if found.head_hidden_mm is None else "yes"),)
    if found.head_hidden_mm is not None:
        head = (*head, ("hidden_mm", found.head_hidden_mm))
    room = found.head_room_mm if found.head_hidden_mm is None else min(found.head_room_mm, found.head_hidden_mm)
    return (
        finding(
            HOLE_LID,
            at_least(found.hole_to_lid_mm, edge, edge),
            found.hole_to_lid_mm,
            "mm",
            "at_least",
            (evidence.part.name,),
            (),
            moves,
        ),
        finding(
            HOLE_TRIANGLE,
            at_least(found.hole_to_triangle_mm, edge, edge),
            found.hole_to_triangle_mm,
            "mm",
            "at_least",
            (evidence.part.name,),
            (),
            moves + nudge(evidence, "strip", 4),
        ),
        finding(
            HEAD,
            at_least(room, 0.0, 0.0),
            room,
            "mm",
            "at_least",
            (evidence.part.name,),
            head,
            moves,
        ),
    )


def _legs(evidence: Evidence, turning: Turning) -> tuple[Finding, ...]:
    """Legs long enough, room to open them, and a finger that reaches them. An eyelet has no legs."""
    if turning.lid.brad.legs_mm <= 0:
        return ()
    found, limits = turning.analysis, evidence.project.checks
    lengths = MORE_LEG if evidence.project.unit == "in" else MORE_LEG_METRIC
    legs = value_of(evidence, "legs")
    longer = tuple((set_value(evidence, "legs", text),) for text in lengths)
    shorter = nudge(evidence, "legs", -1) + nudge(evidence, "legs", -2) + nudge(evidence, "legs", -3)
    has: Values = (("legs_mm", legs.float_mm if legs else 0.0), ("opening_mm", limits.leg_opening_mm))
    return (
        finding(
            LEGS,
            at_least(found.legs_spare_mm, 0.0, 0.0),
            found.legs_spare_mm,
            "mm",
            "at_least",
            (evidence.part.name,),
            has,
            longer,
        ),
        finding(
            LEG_ROOM,
            at_least(found.leg_room_mm, 0.0, 0.0),
            found.leg_room_mm,
            "mm",
            "at_least",
            (evidence.part.name,),
            has,
            shorter + _hole_moved(evidence, 1),
        ),
        finding(
            FINGER,
            at_least(found.finger_mm, turning.limits.finger_mm, turning.limits.finger_mm),
            found.finger_mm,
            "mm",
            "at_least",
            (evidence.part.name,),
            (("opened_deg", found.opened.angle_deg),),
            _hole_moved(evidence, -1) + _smaller_strip(evidence),
        ),
    )


def _motion(evidence: Evidence, turning: Turning) -> tuple[Finding, ...]:
    found, limits = turning.analysis, evidence.project.checks
    first = min(turning.catches, key=lambda met: abs(met.angle_deg), default=None)
    values: Values = ()
    if first is not None:
        values = (("angle_deg", first.angle_deg), ("depth_mm", first.depth_mm), ("on", first.on))
    names = tuple(dict.fromkeys(met.layer for met in turning.catches))
    flat = tuple(
        (Change(path=f"parts.{evidence.part.name}.layers.{name.removeprefix('layer_')}.edge", value="flat"),)
        for name in names
    )
    caught = Severity.FAILS if names else Severity.HOLDS
    return (
        finding(CATCHES, (caught, 0.0), float(len(names)), "count", "at_most", names, values, flat),
        finding(
            TIPS,
            at_least(found.tipping_mm, limits.tipping_look_mm, 0.0),
            found.tipping_mm,
            "mm",
            "at_least",
            (evidence.part.name,),
            (("angle_deg", found.tipping_at_deg), ("mass_g", found.mass_g), ("box_g", turning.box.mass_g)),
            nudge(evidence, "across", -4),
        ),
    )


def _triangle(evidence: Evidence, turning: Turning) -> tuple[Finding, ...]:
    pairs = tuple(f"{clash.fixed_panel}+{clash.moving_panel}" for clash in turning.triangle_clashes)
    stuck = Severity.FAILS if pairs else Severity.HOLDS
    smaller = _smaller_strip(evidence)
    return (
        finding(TRIANGLE, (stuck, 0.0), float(len(pairs)), "count", "at_most", pairs, (), smaller),
        finding(
            FLAPS,
            at_least(turning.flap_spare_mm, 0.0, 0.0),
            turning.flap_spare_mm,
            "mm",
            "at_least",
            (evidence.part.name,),
            (),
            smaller,
        ),
    )
