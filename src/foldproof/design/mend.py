"""Mend: try the changes that checks propose, prove each, and keep those that help and break nothing."""

from __future__ import annotations

import dataclasses

from foldproof.checks.proof import Mend, Proof
from foldproof.design.alternatives import every_part, verdict_for, with_only
from foldproof.design.change import changed
from foldproof.design.measure import measure
from foldproof.design.prove import prove
from foldproof.errors import InputError
from foldproof.findings import Change, Severity
from foldproof.progress import Progress, unwatched
from foldproof.project.records import Project

TRIES = 24  # proposals tried in all; bounds the work, best-ranked findings first
KEPT_FOR_ONE = 3  # mends shown for one finding; more is a catalogue, not advice


def with_mends(project: Project, proof: Proof, progress: Progress = unwatched) -> Proof:
    """The proof with the changes that were tried and mend a finding, worst finding first."""
    questions = [
        (part.evidence.part.name, finding, proposal)
        for severity in (Severity.FAILS, Severity.UNDECIDED, Severity.LOOK)
        for part in every_part(proof)
        for finding in part.findings
        if finding.severity is severity
        for proposal in dict.fromkeys(finding.proposals)
    ][:TRIES]
    mends: list[Mend] = []
    tried: dict[tuple[str, tuple[Change, ...]], Proof | None] = {}
    others = {each.name for each in proof.alternatives}
    for number, (part, finding, proposal) in enumerate(questions):
        if not progress("mend", number, len(questions)):
            break
        if sum(mend.code == finding.code and mend.part == part for mend in mends) >= KEPT_FOR_ONE:
            continue
        asked = (part if part in others else "", proposal)  # what is tried for one part counts for all of them
        if asked not in tried:
            tried[asked] = _prove_changed(project, proposal, part)
        after = tried[asked]
        if after is None:
            continue
        severity = _severity(after, part, finding.code)
        if severity < finding.severity and not _breaks(proof, after):
            mends.append(
                Mend(
                    part=part,
                    code=finding.code,
                    changes=proposal,
                    severity=severity,
                    verdict=verdict_for(after, part),
                )
            )
    return dataclasses.replace(proof, mends=tuple(mends))


def _prove_changed(project: Project, changes: tuple[Change, ...], name: str) -> Proof | None:
    """The proof of the changed project, as far as the part or the alternative of that name goes.

    None when it cannot be built with these values.
    """
    try:
        other = with_only(changed(project, changes), name)
        parts = (*other.parts, *(each.part for each in other.alternatives))
        values = {part.name: part.values for part in other.parts}
        conflicts = [c for part in parts for c in part.construction.conflicts(part.values)]
        conflicts += [
            c for part in parts if part.on for c in part.construction.conflicts_on(part.values, values[part.on])
        ]
        return None if conflicts else prove(measure(other))
    except InputError:
        return None


def _severity(proof: Proof, part: str, code: str) -> Severity:
    return max(
        (f.severity for p in every_part(proof) if p.evidence.part.name == part for f in p.findings if f.code == code),
        default=Severity.HOLDS,
    )


def _breaks(before: Proof, after: Proof) -> bool:
    """True when any finding of a part became worse than it was."""
    for part in every_part(after):
        name = part.evidence.part.name
        if any(_severity(after, name, f.code) > _severity(before, name, f.code) for f in part.findings):
            return True
    return False
