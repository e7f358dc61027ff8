"""Lids of another shape for people without the die of the first: proved on the box as it was proved already."""

from __future__ import annotations

import dataclasses

from foldproof.checks.catalogue import run_checks
from foldproof.checks.evidence import gather
from foldproof.checks.proof import AlternativeProof, PartProof, Proof, Verdict, verdict_of
from foldproof.design.measure import MeasuredPart
from foldproof.findings import Change, Finding
from foldproof.progress import Progress, unwatched
from foldproof.project.records import Project

PARTS, ALTERNATIVES = "parts", "alternatives"  # the headings of a project file, which begin the paths of changes


def prove_alternative(
    project: Project, of: str, measured: MeasuredPart, host: PartProof, progress: Progress = unwatched
) -> AlternativeProof:
    """Folds, turns and judges one alternative; ``host`` is the proof of the box, as it stands.

    Its findings propose changes of the alternative's own values. Its verdict is of this lid on this box: what is wrong
    with the box counts, what is wrong with the lid that it stands in for does not.
    """
    evidence = gather(project, measured.part, measured.pieces, measured.assembly, progress, host.evidence)
    findings = tuple(_own(finding, measured.part.name) for finding in run_checks(evidence))
    part = PartProof(evidence=evidence, findings=findings)
    return AlternativeProof(of=of, part=part, verdict=verdict_of((*host.findings, *findings)))


def _own(finding: Finding, name: str) -> Finding:
    """The finding with changes under [alternatives]: a check knows its part by name only."""
    proposals = tuple(tuple(_own_change(each, name) for each in changes) for changes in finding.proposals)
    return dataclasses.replace(finding, proposals=proposals)


def _own_change(change: Change, name: str) -> Change:
    own = f"{PARTS}.{name}."
    if not change.path.startswith(own):
        return change
    return dataclasses.replace(change, path=f"{ALTERNATIVES}.{name}.{change.path.removeprefix(own)}")


def every_part(proof: Proof) -> tuple[PartProof, ...]:
    """The project's parts and then its alternatives: all that has findings."""
    return (*proof.parts, *(each.part for each in proof.alternatives))


def verdict_for(proof: Proof, name: str) -> Verdict:
    """The verdict that counts for a part or an alternative, by its name."""
    return next((each.verdict for each in proof.alternatives if each.name == name), proof.verdict)


def with_only(project: Project, name: str) -> Project:
    """The project as it is for a part or an alternative of that name, so that little has to be proved.

    For a part without the alternatives, whose verdicts are their own; for an alternative without the lid that it
    stands in for, and without the others.
    """
    kept = tuple(each for each in project.alternatives if each.name == name)
    of = {each.of for each in kept}
    parts = tuple(part for part in project.parts if part.name not in of)
    return dataclasses.replace(project, parts=parts, alternatives=kept)
