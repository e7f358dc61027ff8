"""How a measure becomes a severity, and how findings are put together. Every check uses these."""

from __future__ import annotations

from foldproof.checks.evidence import Evidence
from foldproof.findings import Change, Finding, Severity

Values = tuple[tuple[str, str | float], ...]


def at_most(measured: float, look: float, fail: float) -> tuple[Severity, float]:
    """Severity of a measure that should stay small, and the limit that decided it."""
    if measured > fail:
        return Severity.FAILS, fail
    if measured > look:
        return Severity.LOOK, look
    return Severity.HOLDS, look


def at_least(measured: float, look: float, fail: float) -> tuple[Severity, float]:
    """Severity of a measure that should stay large, and the limit that decided it."""
    if measured < fail:
        return Severity.FAILS, fail
    if measured < look:
        return Severity.LOOK, look
    return Severity.HOLDS, look


def named(evidence: Evidence, piece: str, subject: str) -> str:
    """A subject as findings name it: with its piece before a colon unless it is of the part's first piece."""
    return subject if piece == evidence.pieces[0].measured.piece.id else f"{piece}:{subject}"


def finding(
    code: str,
    verdict: tuple[Severity, float],
    measured: float,
    unit: str,
    sense: str,
    subjects: tuple[str, ...] = (),
    values: Values = (),
    proposals: tuple[tuple[Change, ...], ...] = (),
) -> Finding:
    """A finding from a verdict; a finding that holds proposes nothing."""
    severity, limit = verdict
    return Finding(
        code=code,
        severity=severity,
        measured=measured,
        limit=limit,
        unit=unit,
        sense=sense,
        subjects=subjects,
        values=values,
        proposals=proposals if severity is not Severity.HOLDS else (),
    )
