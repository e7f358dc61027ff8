"""A lift-off lid: room round the tray, contact on the way down, and whether it reaches the rim."""

from __future__ import annotations

from foldproof.checks.evidence import Evidence
from foldproof.checks.judge import finding
from foldproof.checks.proposals import in_steps, set_value
from foldproof.findings import Finding, Severity

ROOM, WAY, LOOSE = "lid_room", "lid_way", "lid_loose"


def judge(evidence: Evidence) -> tuple[Finding, ...]:
    """The least room on a side between tray and lid, the most, and panels that touch on the way."""
    if not evidence.assembly.joints:
        return ()
    limits = evidence.project.checks
    forms = {form.piece: form for form in evidence.assembly.forms}
    joint = evidence.assembly.joints[0]
    tray, lid = forms[joint.fixed], forms[joint.moving]
    rooms = [0.5 * (inside - outside) for inside, outside in zip(lid.inner_mm, tray.outer_mm, strict=True)]
    least, most = min(rooms), max(rooms)
    severity = (
        Severity.FAILS
        if least < limits.lid_tight_mm
        else Severity.LOOK
        if least < limits.lid_snug_mm
        else Severity.HOLDS
    )
    limit = limits.lid_tight_mm if severity is Severity.FAILS else limits.lid_snug_mm
    ease = tray_ease(evidence)
    step = evidence.project.ruler.step_length
    wider = in_steps(ease + 2.0 * (limits.lid_snug_mm - least), step)
    narrower = in_steps(max(0.0, ease - 2.0 * (most - limits.lid_loose_mm)), step) - step
    found = [
        finding(
            ROOM,
            (severity, limit),
            least,
            "mm",
            "at_least",
            (joint.moving, joint.fixed),
            (("ease_mm", ease),),
            ((set_value(evidence, "lid_ease", wider),),),
        )
    ]
    loose = Severity.LOOK if most > limits.lid_loose_mm else Severity.HOLDS
    found.append(
        finding(
            LOOSE,
            (loose, limits.lid_loose_mm),
            most,
            "mm",
            "at_most",
            (joint.moving, joint.fixed),
            (("ease_mm", ease),),
            ((set_value(evidence, "lid_ease", narrower),),),
        )
    )
    pairs = tuple(f"{c.fixed_panel}+{c.moving_panel}" for c in evidence.joint_clashes)
    way = Severity.FAILS if pairs else Severity.HOLDS
    found.append(
        finding(
            WAY,
            (way, 0.0),
            float(len(pairs)),
            "count",
            "at_most",
            pairs or (joint.moving,),
            (),
            ((set_value(evidence, "lid_ease", wider),),),
        )
    )
    return tuple(found)


def tray_ease(evidence: Evidence) -> float:
    """How much longer the lid's base is than the tray's, as marked, in mm."""
    tray, lid = evidence.pieces[0].measured.marked, evidence.pieces[1].measured.marked
    tray_base = tray.across[1].at - tray.across[0].at
    lid_base = lid.across[1].at - lid.across[0].at
    return (lid_base - tray_base).float_mm
