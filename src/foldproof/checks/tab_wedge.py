"""Are tabs and inner walls slanted enough to go in without catching?"""

from __future__ import annotations

from foldproof.checks.evidence import Evidence
from foldproof.checks.judge import finding
from foldproof.checks.proposals import in_steps, set_value
from foldproof.findings import Finding, Severity

CODE = "tab_wedge"


def judge(evidence: Evidence) -> tuple[Finding, ...]:
    """The slant at the wide end of the tabs, as marked, against the least that clears a hand-cut edge."""
    limit = evidence.project.checks.wedge_look_mm
    trays = [piece for piece in evidence.pieces if piece.measured.marked.has("tab_relief")]
    if not trays:
        return ()
    slants = [(piece.measured.marked.measure_mm("tab_relief"), piece.measured.piece.id) for piece in trays]
    slant, name = min(slants)
    severity = Severity.LOOK if slant < limit else Severity.HOLDS
    enough = in_steps(limit, evidence.project.ruler.step_length)
    return (
        finding(
            CODE,
            (severity, limit),
            slant,
            "mm",
            "at_least",
            (name,),
            (),
            ((set_value(evidence, "relief", enough),),),
        ),
    )
