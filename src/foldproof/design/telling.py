"""A proof put into words, ready to be arranged for people and programs."""

from __future__ import annotations

import dataclasses
import math

from foldproof.checks.proof import AlternativeProof, Mend, PartProof, Proof
from foldproof.checks.turning_evidence import Turning
from foldproof.checks.turning_proposals import no_less_than, no_more_than
from foldproof.findings import Finding, Severity
from foldproof.lids.records import Turn
from foldproof.project.records import Project
from foldproof.teach.messages import (
    assumption_words,
    changes_words,
    finding_words,
    turn_words,
    verdict_words,
)
from foldproof.views.proof_report import (
    State,
    ToldAlternative,
    ToldAssumption,
    ToldFinding,
    ToldLid,
    ToldMend,
    ToldProof,
)
from foldproof.words.catalogue import ENGLISH, Language
from foldproof.words.lengths import (
    Speech,
    area_words,
    exact_length,
    length_words,
    mass_words,
    plain_number,
)

STATES: dict[Severity, State] = {
    Severity.HOLDS: "holds",
    Severity.LOOK: "look",
    Severity.UNDECIDED: "undecided",
    Severity.FAILS: "fails",
}


def speech_of(project: Project) -> Speech:
    """What the project's maker reads sizes on."""
    return Speech(ruler=project.ruler, other_ruler=project.other_ruler)


def tell_proof(project: Project, proof: Proof, *, language: Language = ENGLISH) -> ToldProof:
    """The proof of ``project`` in words, findings worst first."""
    speech = speech_of(project)
    verdict = verdict_words(proof.verdict, proof.findings, speech, catalogue=language.told)
    return ToldProof(
        project_name=proof.project_name,
        input_hash=proof.input_hash,
        program=proof.program,
        verdict=proof.verdict,
        headline=verdict.headline,
        line=verdict.line,
        stopped=proof.stopped,
        orders=proof.orders_tried,
        parts=tuple(part.evidence.part.name for part in proof.parts),
        findings=_told_findings(proof.parts, proof.mends, speech, language=language),
        assumptions=tuple(
            ToldAssumption(
                code=each.code, words=assumption_words(each, speech, catalogue=language.told), values=each.values
            )
            for each in proof.assumptions
        ),
        lids=tuple(
            ToldLid(
                part=part.evidence.part.name,
                rows=lid_rows(part.evidence.turning, speech, language=language),
                analysis=part.evidence.turning.analysis,
            )
            for part in proof.parts
            if part.evidence.turning is not None
        ),
        alternatives=tuple(_tell_alternative(each, proof, speech, language=language) for each in proof.alternatives),
    )


def _told_findings(
    parts: tuple[PartProof, ...], mends: tuple[Mend, ...], speech: Speech, *, language: Language = ENGLISH
) -> tuple[ToldFinding, ...]:
    """The findings of some parts, worst first."""
    return tuple(
        _tell_finding(part.evidence.part.name, finding, mends, speech, language=language)
        for severity in sorted(Severity, reverse=True)
        for part in parts
        for finding in part.findings
        if finding.severity is severity
    )


def _tell_alternative(
    alternative: AlternativeProof, proof: Proof, speech: Speech, *, language: Language = ENGLISH
) -> ToldAlternative:
    """An alternative in words; what fails of its box is named in its verdict, and told with the box."""
    turning = alternative.part.evidence.turning
    assert turning is not None, "an alternative is a turning lid"
    own, on = alternative.part.findings, alternative.part.evidence.part.on
    box = next(part.findings for part in proof.parts if part.evidence.part.name == on)
    failing = tuple(finding for finding in box if finding.severity > Severity.LOOK)
    verdict = verdict_words(alternative.verdict, (*own, *failing), speech, catalogue=language.told)
    return ToldAlternative(
        of=alternative.of,
        verdict=alternative.verdict,
        headline=verdict.headline,
        line=verdict.line,
        findings=_told_findings((alternative.part,), proof.mends, speech, language=language),
        lid=ToldLid(
            part=alternative.name, rows=lid_rows(turning, speech, language=language), analysis=turning.analysis
        ),
    )


def lid_rows(turning: Turning, speech: Speech, *, language: Language = ENGLISH) -> tuple[tuple[str, str], ...]:
    """The figures of a lid in words. What a maker may lose is told no larger, what she has to keep free no smaller."""
    analysis = dataclasses.replace(
        turning.analysis, hole_tolerance_mm=no_more_than(turning.analysis.hole_tolerance_mm, speech.ruler)
    )
    rows = (
        (name, _figure(getattr(analysis, field), field, speech, language=language))
        for field, name in language.figures.figures.items()
    )
    apart = (
        (name, _figure(no_less_than(size, speech.ruler), "apart_mm", speech, language=language))
        for name, size in zip((language.figures.beside, language.figures.behind), turning.apart_mm, strict=True)
    )
    return (*rows, *apart)


def _figure(value: float | str | Turn, field: str, speech: Speech, *, language: Language = ENGLISH) -> str:
    if isinstance(value, Turn):
        return language.figures.turn.format(
            share=plain_number(100.0 * value.uncovered, 0), turn=turn_words(value.angle_deg, catalogue=language.told)
        )
    if isinstance(value, str):
        return language.figures.side.format(side=language.place(value))
    if field.endswith("_mm2"):
        return area_words(value, speech, language.told.common)
    if field.endswith("_g"):
        return mass_words(value, speech, language.told.common)
    if not math.isfinite(value):
        return language.told.common.none_allowed
    return length_words(exact_length(value), speech, language.told.common)


def _tell_finding(
    part: str, finding: Finding, mends: tuple[Mend, ...], speech: Speech, *, language: Language = ENGLISH
) -> ToldFinding:
    words = finding_words(finding, speech, catalogue=language.told)
    return ToldFinding(
        part=part,
        code=finding.code,
        state=STATES[finding.severity],
        state_words=words.state,
        title=words.title,
        why=words.why,
        measured_words=words.measured,
        limit_words=words.limit,
        measured=finding.measured,
        limit=finding.limit,
        unit=finding.unit,
        sense=finding.sense,
        subjects=finding.subjects,
        values=finding.values,
        mends=tuple(
            _tell_mend(mend, speech, language=language)
            for mend in mends
            if mend.part == part and mend.code == finding.code and mend.severity < finding.severity
        ),
    )


def _tell_mend(mend: Mend, speech: Speech, *, language: Language = ENGLISH) -> ToldMend:
    return ToldMend(
        words=changes_words(mend.changes, speech, catalogue=language.told),
        changes=mend.changes,
        state=STATES[mend.severity],
        verdict=mend.verdict,
    )
