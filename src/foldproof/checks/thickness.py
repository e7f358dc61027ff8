"""What the thickness of the card does: folds that reach round layers, stacks, and how well it is known."""

from __future__ import annotations

from foldproof.checks.evidence import Evidence
from foldproof.checks.judge import Values, at_most, finding, named
from foldproof.findings import Change, Finding, Severity

REACH, STACK, ESTIMATED = "fold_takes_up", "stack_height", "thickness_estimated"
THINNER_GSM = ("216 gsm", "176 gsm", "160 gsm")


def judge(evidence: Evidence) -> tuple[Finding, ...]:
    """The fold that reaches farthest, the thickest stack, and whether the thickness was measured."""
    limits, card = evidence.project.checks, evidence.project.cardstock
    reaches = [reach for piece in evidence.pieces for reach in piece.take_up]
    stacks = [
        (height, tuple(piece.tree.panels[p] for p in panels))
        for piece in evidence.pieces
        for panels, height in piece.stacks
    ]
    found = []
    thinner = tuple((Change(path="cardstock.weight", value=text),) for text in THINNER_GSM)
    proposals = thinner if card.thickness.how == "estimated" else ()
    if reaches:
        farthest = max(reaches, key=lambda reach: reach.reach_mm)
        verdict = at_most(farthest.reach_mm, limits.takeup_look_mm, limits.takeup_fail_mm)
        found.append(
            finding(
                REACH,
                verdict,
                farthest.reach_mm,
                "mm",
                "at_most",
                (named(evidence, farthest.piece, farthest.crease),),
                (),
                proposals,
            )
        )
    if stacks:
        height, panels = max(stacks)
        layers = round(height / card.thickness.high_mm)
        severity = Severity.LOOK if height > limits.stack_look_mm else Severity.HOLDS
        found.append(
            finding(
                STACK,
                (severity, limits.stack_look_mm),
                height,
                "mm",
                "at_most",
                panels,
                (("layers", float(layers)),),
                proposals,
            )
        )
    if evidence.turning is not None:
        return tuple(found)  # a lid is of the same card as its box, where this is said
    spread = card.thickness.high_mm - card.thickness.low_mm
    known = Severity.HOLDS if card.thickness.how == "measured" else Severity.LOOK
    values: Values = (
        ("low_mm", card.thickness.low_mm),
        ("high_mm", card.thickness.high_mm),
        ("how", card.thickness.how),
    )
    found.append(finding(ESTIMATED, (known, 0.0), spread, "mm", "at_most", (), values))
    return tuple(found)
