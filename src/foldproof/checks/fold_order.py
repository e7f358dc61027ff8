"""Is there an order in which it can be folded and glued, and how comfortable is the best one?"""

from __future__ import annotations

from foldproof.checks.evidence import Evidence, PieceEvidence
from foldproof.checks.judge import finding, named
from foldproof.checks.proposals import Proposal, choose, nudge, set_value, value_of
from foldproof.findings import Finding, Severity
from foldproof.folding.orders import closed_by

CODE, SLIDING = "fold_order", "glue_slides"


def judge(evidence: Evidence) -> tuple[Finding, ...]:
    """For each piece the number of orders that work (at least one), and glue that has to slide in the best."""
    found: list[Finding] = []
    for piece in (piece for piece in evidence.pieces if piece.tree.steps):
        found.append(_orders(evidence, piece))
        if piece.orders.ranked:
            found.append(_sliding(evidence, piece))
    return tuple(found)


def _orders(evidence: Evidence, piece: PieceEvidence) -> Finding:
    orders = piece.orders
    severity = Severity.HOLDS if orders.number else Severity.FAILS
    if not orders.number and not orders.complete:
        severity = Severity.UNDECIDED
    values: list[tuple[str, str | float]] = [
        ("states", float(orders.states)),
        ("complete", "yes" if orders.complete else "no"),
    ]
    subjects = [piece.measured.piece.id]
    if orders.obstacles:
        first = orders.obstacles[0]
        values.append(("reason", first.reason))
        subjects += first.panels
    return finding(
        CODE,
        (severity, 1.0),
        float(orders.number),
        "count",
        "at_least",
        tuple(subjects),
        tuple(values),
        _mends(evidence),
    )


def _mends(evidence: Evidence) -> tuple[Proposal, ...]:
    proposals = choose(evidence, "tab_length", "to meet its neighbour") + choose(evidence, "glue", "wet glue")
    proposals += nudge(evidence, "relief", 1) + nudge(evidence, "inner_wall", -1) + nudge(evidence, "inner_wall", -2)
    wall = value_of(evidence, "wall_height")
    if wall is not None and value_of(evidence, "inner_wall") is not None:
        proposals += ((set_value(evidence, "inner_wall", wall / 2),),)
    return proposals


def _sliding(evidence: Evidence, piece: PieceEvidence) -> Finding:
    """Joins whose wet faces slide into place in the best order."""
    best = piece.orders.ranked[0].steps
    slides = tuple(
        named(evidence, piece.measured.piece.id, piece.joins[closing.join].join)
        for position in range(len(best))
        for closing in closed_by(piece.orders, best, position)
        if not closing.face_on
    )
    severity = Severity.LOOK if slides else Severity.HOLDS
    return finding(
        SLIDING,
        (severity, 0.0),
        float(len(slides)),
        "count",
        "at_most",
        slides or (piece.measured.piece.id,),
        (),
        choose(evidence, "tab_length", "to meet its neighbour"),
    )
