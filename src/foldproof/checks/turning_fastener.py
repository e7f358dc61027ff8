"""What a lid turns on: long enough, with room inside the box, and a disc round its hole that stays hidden."""

from __future__ import annotations

import math

from foldproof.checks.evidence import Evidence
from foldproof.checks.judge import Values, at_least, finding
from foldproof.checks.proposals import Proposal, nudge, set_value
from foldproof.checks.turning_evidence import Turning
from foldproof.checks.turning_proposals import hole_moved, sized, smaller_strip
from foldproof.constructions.fasteners import EYELET
from foldproof.findings import Finding

LEGS, LEG_ROOM, FINGER = "legs_long", "legs_room", "legs_finger"
GRIPS, BACK, DISC = "fastener_grips", "back_has_room", "disc_hidden"
CODES = (LEGS, LEG_ROOM, FINGER, GRIPS, BACK, DISC)
MORE_LEG = ("5/8 in", "3/4 in", "1 in")
MORE_LEG_METRIC = ("15 mm", "20 mm", "25 mm")
MORE_GRIP_STEPS = (1, 2, 4, 8)  # marks of the ruler by which another barrel or grip is tried


def judge(evidence: Evidence, turning: Turning) -> tuple[Finding, ...]:
    """The legs of a brad, or the grip and the back of the others; and the disc round the hole, when there is one."""
    return (*_legs(evidence, turning), *_back(evidence, turning))


def _legs(evidence: Evidence, turning: Turning) -> tuple[Finding, ...]:
    """Legs long enough, room to open them, and a finger that reaches them. Only a brad has legs."""
    if turning.lid.fastener.legs_mm <= 0.0:
        return ()
    found, limits = turning.analysis, evidence.project.checks
    lengths = MORE_LEG if evidence.project.unit == "in" else MORE_LEG_METRIC
    longer = tuple((set_value(evidence, "legs", text),) for text in lengths)
    shorter = tuple(p for steps in (1, 2, 3) for p in sized(evidence, "legs", -steps))
    has: Values = (("legs_mm", turning.lid.fastener.legs_mm), ("opening_mm", limits.leg_opening_mm))
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
            shorter + hole_moved(evidence, 1),
        ),
        finding(
            FINGER,
            at_least(found.finger_mm, turning.limits.finger_mm, turning.limits.finger_mm),
            found.finger_mm,
            "mm",
            "at_least",
            (evidence.part.name,),
            (("opened_deg", found.opened.angle_deg),),
            hole_moved(evidence, -1) + smaller_strip(evidence),
        ),
    )


def _back(evidence: Evidence, turning: Turning) -> tuple[Finding, ...]:
    """Card that an eyelet or a snap holds, and room for its back; a disc round the hole that stays hidden."""
    found, fastener = turning.analysis, turning.lid.fastener
    told = () if fastener.legs_mm > 0.0 else (_grip(evidence, turning), _back_room(evidence, turning))
    disc = turning.lid.reinforcement
    if disc is None:
        return told
    hidden = finding(
        DISC,
        at_least(found.disc_hidden_mm, evidence.project.checks.disc_look_mm, -math.inf),
        found.disc_hidden_mm,
        "mm",
        "at_least",
        (evidence.part.name,),
        (("disc_mm", disc.diameter_mm),),
        tuple(p for steps in (2, 4, 8) for p in nudge(evidence, "reinforce", -steps)) + hole_moved(evidence, 1),
    )
    return (*told, hidden)


def _grip(evidence: Evidence, turning: Turning) -> Finding:
    """Too much card fails; too little leaves a snap open, which fails, and an eyelet loose, which is worth a look."""
    fastener, held = turning.lid.fastener, turning.analysis.held_mm
    spare = min(fastener.most_mm - held, held - fastener.least_mm)
    thick = fastener.most_mm - held <= held - fastener.least_mm
    loose = fastener.kind == EYELET and not thick
    changes: list[Proposal] = []
    sense = 1 if thick else -1
    for name in ("barrel",) if fastener.kind == EYELET else ("grip_most" if thick else "grip_least",):
        changes += [p for steps in MORE_GRIP_STEPS for p in sized(evidence, name, sense * steps)]
    if not thick and turning.lid.reinforcement is None:
        changes.append((set_value(evidence, "reinforce", "1 in" if evidence.project.unit == "in" else "25 mm"),))
    return finding(
        GRIPS,
        at_least(spare, 0.0, -math.inf if loose else 0.0),
        spare,
        "mm",
        "at_least",
        (evidence.part.name,),
        (
            ("kind", fastener.kind),
            ("side", "thick" if thick else "thin"),
            ("held_mm", held),
            ("least_mm", fastener.least_mm),
            ("most_mm", fastener.most_mm),
        ),
        tuple(changes),
    )


def _back_room(evidence: Evidence, turning: Turning) -> Finding:
    """The back may not strike a wall or a flap; over the triangle's long edge it holds, but not all round."""
    found = turning.analysis
    over = found.back_room_mm >= 0.0 > found.back_on_mm
    return finding(
        BACK,
        at_least(found.back_on_mm, 0.0, -math.inf) if over else at_least(found.back_room_mm, 0.0, 0.0),
        found.back_on_mm if over else found.back_room_mm,
        "mm",
        "at_least",
        (evidence.part.name,),
        (
            ("kind", turning.lid.fastener.kind),
            ("over", "edge" if over else "walls"),
            ("back_mm", turning.lid.fastener.back_mm),
        ),
        tuple(p for steps in (1, 2, 4) for p in sized(evidence, "back", -steps))
        + hole_moved(evidence, -1 if over else 1)
        + nudge(evidence, "strip", 4),
    )
