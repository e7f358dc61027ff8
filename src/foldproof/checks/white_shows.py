"""Card coloured on one side: how much of its white back is in view in the finished thing?"""

from __future__ import annotations

from shapely import unary_union
from shapely.geometry import Polygon as Shape

from foldproof.checks.evidence import Evidence, PieceEvidence
from foldproof.checks.judge import finding
from foldproof.findings import Change, Finding, Severity
from foldproof.folding.tree import folded
from foldproof.geometry.plane import signed_area

CODE = "white_shows"


def judge(evidence: Evidence) -> tuple[Finding, ...]:
    """Area of plain faces that nothing covers, for card coloured on one side; none for other card."""
    if evidence.turning is not None:
        return ()  # a lid shows the faces it is meant to show
    card, limit = evidence.project.cardstock, evidence.project.checks.white_look_mm2
    bare = sorted(
        ((area, panel) for piece in evidence.pieces for panel, area in _bare(piece)),
        reverse=True,
    )
    shown = sum(area for area, _ in bare) if card.printed == "one side" else 0.0
    severity = Severity.LOOK if shown > limit else Severity.HOLDS
    subjects = tuple(panel for area, panel in bare if area > 1.0) if shown else ()
    return (
        finding(
            CODE,
            (severity, limit),
            shown,
            "mm2",
            "at_most",
            subjects,
            (("printed", card.printed), ("core", card.core)),
            ((Change(path="cardstock.printed", value="both sides"),),),
        ),
    )


def _bare(piece: PieceEvidence) -> list[tuple[str, float]]:
    """For each panel the area of its face (the plain side, up when scored) that no other panel lies on."""
    tree, world = piece.tree, folded(piece.tree, piece.layers.shifts_mm)
    found = []
    for panel, name in enumerate(tree.panels):
        area = abs(signed_area(tree.outline(panel)))
        above = [Shape(o.region) for o in piece.layers.overlaps if o.lower == panel and o.side == 1]
        covered = unary_union(above).area if above else 0.0
        for overlap in piece.layers.overlaps:
            alike = float(world[overlap.lower, :3, 2] @ world[overlap.upper, :3, 2]) > 0
            # The upper panel shows its face to the lower one when it lies face down on it.
            if overlap.upper == panel and (overlap.side == 1) != alike:
                covered += abs(signed_area(overlap.region))
        found.append((name, max(0.0, area - covered)))
    return found
