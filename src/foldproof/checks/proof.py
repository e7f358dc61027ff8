"""The proof of a project: verdict, findings, what was assumed, and changes that were tried and mend."""

from __future__ import annotations

from dataclasses import dataclass
from typing import Literal

from foldproof.checks.evidence import Evidence
from foldproof.findings import Change, Finding, Severity

Verdict = Literal["proved", "not_proved", "not_decided"]


@dataclass(frozen=True, slots=True, kw_only=True)
class Assumption:
    """Something the proof takes for granted; ``values`` fill its wording."""

    code: str
    values: tuple[tuple[str, str | float], ...] = ()


@dataclass(frozen=True, slots=True, kw_only=True)
class PartProof:
    """One part's evidence and all its findings in catalogue order."""

    evidence: Evidence
    findings: tuple[Finding, ...]


@dataclass(frozen=True, slots=True, kw_only=True)
class AlternativeProof:
    """The proof of a lid that is made instead of the lid ``of``, on the same box.

    ``verdict`` is of this lid on this box, as if the other one were not there.
    """

    of: str
    part: PartProof
    verdict: Verdict

    @property
    def name(self) -> str:
        """The alternative's name."""
        return self.part.evidence.part.name


@dataclass(frozen=True, slots=True, kw_only=True)
class Mend:
    """Changes that were tried together: the finding they answer, its severity after, and the verdict after."""

    part: str
    code: str
    changes: tuple[Change, ...]
    severity: Severity
    verdict: Verdict


@dataclass(frozen=True, slots=True, kw_only=True)
class Proof:
    """The proof of one project. ``input_hash`` is of the project as read, ``program`` the version that proved it."""

    project_name: str
    input_hash: str
    program: str
    assumptions: tuple[Assumption, ...]
    parts: tuple[PartProof, ...]
    orders_tried: int
    verdict: Verdict
    stopped: bool = False
    mends: tuple[Mend, ...] = ()
    alternatives: tuple[AlternativeProof, ...] = ()

    @property
    def all_proved(self) -> bool:
        """Whether the project and every alternative are proved. The verdict is of the project without them."""
        return self.verdict == "proved" and all(each.verdict == "proved" for each in self.alternatives)

    @property
    def findings(self) -> tuple[Finding, ...]:
        """All findings, worst first; within one severity in catalogue order."""
        every = [finding for part in self.parts for finding in part.findings]
        return tuple(sorted(every, key=lambda finding: -finding.severity))


def verdict_of(findings: tuple[Finding, ...]) -> Verdict:
    """Proved when nothing fails and nothing is left undecided."""
    worst = max((finding.severity for finding in findings), default=Severity.HOLDS)
    if worst is Severity.FAILS:
        return "not_proved"
    return "not_decided" if worst is Severity.UNDECIDED else "proved"
