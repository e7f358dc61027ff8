"""Score lines against the grain: in heavy card the outside of such a fold can crack."""

from __future__ import annotations

from foldproof.checks.evidence import Evidence
from foldproof.checks.judge import finding
from foldproof.findings import Change, Finding, Severity
from foldproof.stock.paper import is_heavy

CODE = "grain"
ALONG = 1e-6  # mm; a score line this nearly level runs along the sheet's side


def judge(evidence: Evidence) -> tuple[Finding, ...]:
    """How many score lines cross the grain; with unknown grain, the larger of the two counts."""
    card = evidence.project.cardstock
    level = upright = 0
    for piece in evidence.pieces:
        for crease in piece.measured.piece.creases:
            (x0, y0), (x1, y1) = crease.line
            level += abs(y1 - y0) < ALONG
            upright += abs(x1 - x0) < ALONG
    if not level + upright:
        return ()  # nothing is scored along the sheet's sides
    across = {"along width": upright, "along height": level}.get(card.grain, max(level, upright))
    heavy = is_heavy(card, evidence.project.checks.heavy_gsm)
    severity = Severity.LOOK if heavy and across else Severity.HOLDS
    weight = card.weight.gsm if card.weight else 0.0
    return (
        finding(
            CODE,
            (severity, 0.0 if heavy else float(across)),
            float(across),
            "count",
            "at_most",
            (),
            (("grain", card.grain), ("gsm", weight), ("heavy_gsm", evidence.project.checks.heavy_gsm)),
            ((Change(path="cardstock.weight", value="176 gsm"),),),
        ),
    )
