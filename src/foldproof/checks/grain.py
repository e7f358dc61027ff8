"""Score lines against the grain: in heavy card the outside of such a fold can crack."""

from __future__ import annotations

from foldproof.checks.evidence import Evidence, PieceEvidence
from foldproof.checks.judge import finding
from foldproof.findings import Change, Finding, Severity
from foldproof.stock.paper import is_heavy

CODE = "grain"
ALONG = 1e-6  # mm; a score line this nearly level runs along the sheet's side


def _lies_turned(evidence: Evidence, piece: PieceEvidence) -> bool:
    """Does the piece come out of the sheet only when it is turned by a quarter?"""
    sheet = evidence.project.cardstock.usable_sheet
    width, height = piece.measured.width.shown, piece.measured.height.shown
    straight = width <= sheet.width and height <= sheet.height
    return not straight and width <= sheet.height and height <= sheet.width


def judge(evidence: Evidence) -> tuple[Finding, ...]:
    """How many score lines cross the grain; with unknown grain, the larger of the two counts."""
    card = evidence.project.cardstock
    level = upright = 0
    for piece in evidence.pieces:
        lines = [crease.line for crease in piece.measured.piece.creases]
        flat = sum(abs(y1 - y0) < ALONG for (_, y0), (_, y1) in lines)
        standing = sum(abs(x1 - x0) < ALONG for (x0, _), (x1, _) in lines)
        turned = _lies_turned(evidence, piece)
        level += standing if turned else flat
        upright += flat if turned else standing
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
