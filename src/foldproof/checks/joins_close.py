"""Does every join close: faces on each other, on the right sides, where they should?"""

from __future__ import annotations

from foldproof.checks.evidence import Evidence
from foldproof.checks.judge import at_most, finding, named
from foldproof.checks.proposals import choose
from foldproof.findings import Finding, Severity

CODE, WRONG_SIDE, OUTSIDE = "joins_close", "join_wrong_side", "glue_outside"
OUTSIDE_LOOK_MM = 0.05  # float noise and the rounding of a drawn corner, not card


def judge(evidence: Evidence) -> tuple[Finding, ...]:
    """The join that misses most, any whose sides do not face, and the glue that reaches farthest outside."""
    limits = evidence.project.checks
    fits = [fit for piece in evidence.pieces for fit in piece.joins]
    if not fits:
        return ()
    worst = max(fits, key=lambda fit: fit.residual_mm)
    found = [
        finding(
            CODE,
            at_most(worst.residual_mm, limits.closure_look_mm, limits.closure_fail_mm),
            worst.residual_mm,
            "mm",
            "at_most",
            (named(evidence, worst.piece, worst.join),),
            (("joins", float(len(fits))), ("gap_mm", worst.gap_mm), ("slip_mm", worst.slip_mm)),
            choose(evidence, "allowance", "computed") + choose(evidence, "allowance", "none"),
        )
    ]
    backwards = [named(evidence, fit.piece, fit.join) for fit in fits if not fit.facing]
    clashing = [
        named(evidence, piece.measured.piece.id, "+".join(pair))
        for piece in evidence.pieces
        for pair in piece.layers.contradictions
    ]
    wrong = (Severity.FAILS if backwards or clashing else Severity.HOLDS, 0.0)
    names = (*backwards, *clashing)
    found.append(finding(WRONG_SIDE, wrong, float(len(names)), "count", "at_most", names))
    outside = max(fits, key=lambda fit: fit.overhang_mm)
    found.append(
        finding(
            OUTSIDE,
            at_most(outside.overhang_mm, OUTSIDE_LOOK_MM, OUTSIDE_LOOK_MM),
            outside.overhang_mm,
            "mm",
            "at_most",
            (named(evidence, outside.piece, outside.join),),
            (),
            choose(evidence, "tab_length", "to meet its neighbour"),
        )
    )
    return tuple(found)
