"""Inner walls: do they stop short of the base, and what of the tabs stays in view below them?"""

from __future__ import annotations

import math

from foldproof.checks.evidence import Evidence, PieceEvidence
from foldproof.checks.judge import finding
from foldproof.checks.proposals import Proposal, nudge, set_value, value_of
from foldproof.findings import Finding, Severity
from foldproof.folding.tree import FULL_TURN_BACK_RAD
from foldproof.geometry.plane import Point

CLEAR, VIEW = "fold_in_clears", "tabs_in_view"
ALL_HIDDEN_MM = 3.2  # 1/8 in: a strip narrower than this in the corner of a box is not noticed


def judge(evidence: Evidence) -> tuple[Finding, ...]:
    """The least distance between a fold-in's edge and the fold its wall stands on, and the strip of tab it leaves."""
    gaps = [(gap, name) for piece in evidence.pieces for gap, name in _gaps(piece)]
    if not gaps:
        return ()
    limit = evidence.project.checks.clear_base_look_mm
    gap, name = min(gaps)
    severity = Severity.FAILS if gap < -1e-6 else Severity.LOOK if gap < limit else Severity.HOLDS
    found = [finding(CLEAR, (severity, limit), gap, "mm", "at_least", (name,), (), nudge(evidence, "inner_wall", -1))]
    shown, name = max(gaps)
    severity = Severity.LOOK if shown > ALL_HIDDEN_MM else Severity.HOLDS
    proposals: tuple[Proposal, ...] = ()
    wall = value_of(evidence, "wall_height")
    if wall is not None:
        proposals = ((set_value(evidence, "inner_wall", wall - evidence.project.ruler.step_length),),)
    found.append(finding(VIEW, (severity, ALL_HIDDEN_MM), max(shown, 0.0), "mm", "at_most", (name,), (), proposals))
    return tuple(found)


def _gaps(piece: PieceEvidence) -> list[tuple[float, str]]:
    """For every panel folded right back on its parent: how far its edge stops short of the parent's own fold."""
    tree = piece.tree
    found = []
    for panel in range(1, len(tree.panels)):
        crease = tree.piece.creases[tree.crease_of[panel]]
        parent = tree.parent[panel]
        if crease.target_rad < FULL_TURN_BACK_RAD or tree.crease_of[parent] < 0:
            continue
        standing = tree.piece.creases[tree.crease_of[parent]]
        wall = _distance(crease.line[0], standing.line)
        fold_in = max(_distance(corner, crease.line) for corner in tree.outline(panel))
        found.append((wall - fold_in, tree.panels[panel]))
    return found


def _distance(point: Point, line: tuple[Point, Point]) -> float:
    """Distance in mm of a point from an endless line."""
    (x0, y0), (x1, y1) = line
    length = math.hypot(x1 - x0, y1 - y0)
    return abs((x1 - x0) * (point[1] - y0) - (y1 - y0) * (point[0] - x0)) / length
