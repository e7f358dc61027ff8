"""Does anything run into anything in the finished piece?"""

from __future__ import annotations

from foldproof.checks.evidence import Evidence
from foldproof.checks.judge import finding, named
from foldproof.checks.proposals import choose, nudge
from foldproof.findings import Finding, Severity

CODE = "contact_end"


def judge(evidence: Evidence) -> tuple[Finding, ...]:
    """Pairs of panels that touch when everything is folded; none are allowed."""
    pairs = tuple(
        named(evidence, piece.measured.piece.id, "+".join(pair)) for piece in evidence.pieces for pair in piece.touching
    )
    severity = Severity.FAILS if pairs else Severity.HOLDS
    proposals = (
        nudge(evidence, "relief", 1)
        + nudge(evidence, "relief", 2)
        + choose(evidence, "tab_length", "to meet its neighbour")
        + nudge(evidence, "inner_wall", -1)
    )
    return (finding(CODE, (severity, 0.0), float(len(pairs)), "count", "at_most", pairs, (), proposals),)
