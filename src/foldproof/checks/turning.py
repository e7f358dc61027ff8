"""A lid that turns in one corner: does it cover, open, stay on, and clear everything?"""

from __future__ import annotations

import math

from foldproof.checks import turning_edges, turning_fastener
from foldproof.checks.evidence import Evidence
from foldproof.checks.judge import Values, at_least, finding
from foldproof.checks.proposals import Proposal, choose, nudge, set_value, value_of
from foldproof.checks.turning_evidence import Turning
from foldproof.checks.turning_proposals import hole_moved, no_less_than, no_more_than, smaller_strip
from foldproof.findings import Finding, Severity
from foldproof.lengths import Length, round_to

COVER, COMFORT, OPENS = "lid_covers", "lid_comfort", "lid_opens"
HOLE_LID, HOLE_TRIANGLE, HEAD = "hole_to_lid", "hole_to_triangle", "head_on_lid"
TIPS, TRIANGLE, FLAPS = "box_tips", "triangle_in", "triangle_flaps"
CODES = (
    *(COVER, COMFORT, OPENS, HOLE_LID, HOLE_TRIANGLE, HEAD),
    *turning_fastener.CODES,
    *turning_edges.CODES,
    *(TIPS, TRIANGLE, FLAPS),
)


def judge(evidence: Evidence) -> tuple[Finding, ...]:
    """Every check of a turning lid; none for a part that has no such lid."""
    turning = evidence.turning
    if turning is None:
        return ()
    return (
        *_covering(evidence, turning),
        *_hole(evidence, turning),
        *turning_fastener.judge(evidence, turning),
        *turning_edges.judge(evidence, turning),
        _tips(evidence, turning),
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
        ("beside_mm", no_less_than(turning.apart_mm[0], evidence.project.ruler)),
        ("behind_mm", no_less_than(turning.apart_mm[1], evidence.project.ruler)),
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
                ("tolerance_mm", no_more_than(found.hole_tolerance_mm, evidence.project.ruler)),
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
            hole_moved(evidence, -1) + choose(evidence, "opens", "either way") + smaller_strip(evidence),
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


def _hole(evidence: Evidence, turning: Turning) -> tuple[Finding, ...]:
    found, limits = turning.analysis, evidence.project.checks
    edge = limits.hole_edge_mm - 0.5 * turning.lid.fastener.hole_mm
    moves = tuple(dict.fromkeys(hole_moved(evidence, 1) + hole_moved(evidence, -1)))
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


def _tips(evidence: Evidence, turning: Turning) -> Finding:
    found = turning.analysis
    return finding(
        TIPS,
        at_least(found.tipping_mm, evidence.project.checks.tipping_look_mm, 0.0),
        found.tipping_mm,
        "mm",
        "at_least",
        (evidence.part.name,),
        (("angle_deg", found.tipping_at_deg), ("mass_g", found.mass_g), ("box_g", turning.box.mass_g)),
        nudge(evidence, "across", -4),
    )


def _triangle(evidence: Evidence, turning: Turning) -> tuple[Finding, ...]:
    pairs = tuple(f"{clash.fixed_panel}+{clash.moving_panel}" for clash in turning.triangle_clashes)
    stuck = Severity.FAILS if pairs else Severity.HOLDS
    smaller = smaller_strip(evidence)
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
