"""The proof for people and for programs. It arrives in words; this module arranges it."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass
from typing import Literal

from foldproof.checks.proof import Verdict
from foldproof.drawing.records import Block, Document, Heading, Listing, Paragraph, Table
from foldproof.findings import Change
from foldproof.lids.records import LidAnalysis, Turn
from foldproof.views.report import Report, number, report
from foldproof.words.catalogue import ENGLISH, Language

State = Literal["holds", "look", "undecided", "fails"]
GROUPS: tuple[State, ...] = ("fails", "undecided", "look")
SIDES = ("right", "back", "left", "front")
UNIT_NAMES = {"mm": "mm", "mm2": "mm2", "deg": "deg", "percent": "percent", "count": "count"}


@dataclass(frozen=True, slots=True, kw_only=True)
class ToldMend:
    """Changes that were tried and help: in words, as they are made, and what holds after them."""

    words: str
    changes: tuple[Change, ...]
    state: State
    verdict: Verdict


@dataclass(frozen=True, slots=True, kw_only=True)
class ToldFinding:
    """A finding in words and in numbers, with the changes that mend it."""

    part: str
    code: str
    state: State
    state_words: str
    title: str
    why: str
    measured_words: str
    limit_words: str
    measured: float
    limit: float
    unit: str
    sense: str
    subjects: tuple[str, ...]
    values: tuple[tuple[str, str | float], ...]
    mends: tuple[ToldMend, ...]


@dataclass(frozen=True, slots=True, kw_only=True)
class ToldAssumption:
    """What the proof takes for granted."""

    code: str
    words: str
    values: tuple[tuple[str, str | float], ...]


@dataclass(frozen=True, slots=True, kw_only=True)
class ToldLid:
    """The figures of a turning lid: rows of (what, how much) in words, and the analysis they come from."""

    part: str
    rows: tuple[tuple[str, str], ...]
    analysis: LidAnalysis


@dataclass(frozen=True, slots=True, kw_only=True)
class ToldAlternative:
    """A lid made instead of the lid ``of``: its own verdict in words, its findings worst first, its figures."""

    of: str
    verdict: Verdict
    headline: str
    line: str
    findings: tuple[ToldFinding, ...]
    lid: ToldLid

    @property
    def name(self) -> str:
        """Its name."""
        return self.lid.part


@dataclass(frozen=True, slots=True, kw_only=True)
class ToldProof:
    """A proof in words and numbers; ``findings`` are worst first. Alternatives have verdicts of their own."""

    project_name: str
    input_hash: str
    program: str
    verdict: Verdict
    headline: str
    line: str
    stopped: bool
    orders: int
    parts: tuple[str, ...]
    findings: tuple[ToldFinding, ...]
    assumptions: tuple[ToldAssumption, ...]
    lids: tuple[ToldLid, ...] = ()
    alternatives: tuple[ToldAlternative, ...] = ()


def proof_document(told: ToldProof, *, language: Language = ENGLISH) -> Document:
    """The proof to read: the verdict, what fails and what mends it, what holds, what is taken for granted."""
    kind: Literal["text", "not_proved"] = "text" if told.verdict == "proved" else "not_proved"
    blocks: list[Block] = [Paragraph(text=told.headline, kind=kind)]
    blocks += [Paragraph(text=told.line)] if told.line else []
    blocks += [Paragraph(text=language.report.stopped, kind="caution")] if told.stopped else []
    blocks += [_alternative_verdict(each, language=language) for each in told.alternatives]
    for state in GROUPS:
        found = [finding for finding in told.findings if finding.state == state]
        if found:
            blocks.append(Heading(text=language.report.groups[state], level=1))
            blocks += [
                block
                for finding in found
                for block in _finding(
                    finding,
                    _title(finding, told, language=language),
                    told.verdict,
                    language.report.verdict_after,
                    language=language,
                )
            ]
    blocks += _holding(told, language=language)
    for lid in told.lids:
        blocks += [Heading(text=language.report.lid_figures.format(part=lid.part), level=1)]
        blocks += [Table(title="", columns=language.report.lid_columns, rows=lid.rows)]
    for each in told.alternatives:
        blocks += _alternative(each, language=language)
    blocks.append(Heading(text=language.report.granted, level=1))
    blocks.append(Listing(items=tuple(assumption.words for assumption in told.assumptions)))
    blocks.append(Paragraph(text=language.report.made_by.format(program=told.program, hash=told.input_hash[:16])))
    return Document(
        title=language.report.proof_title.format(name=told.project_name), blocks=tuple(blocks), language=language.name
    )


def _alternative_verdict(alternative: ToldAlternative, *, language: Language = ENGLISH) -> Paragraph:
    text = language.report.instead_verdict.format(
        name=alternative.name, of=alternative.of, headline=alternative.headline
    )
    return Paragraph(text=text, kind="text" if alternative.verdict == "proved" else "not_proved")


def _alternative(alternative: ToldAlternative, *, language: Language = ENGLISH) -> list[Block]:
    """One alternative: its verdict, what does not hold with what mends it, what holds, and its figures."""
    kind: Literal["text", "not_proved"] = "text" if alternative.verdict == "proved" else "not_proved"
    blocks: list[Block] = [
        Heading(text=language.report.instead.format(name=alternative.name, of=alternative.of), level=1),
        Paragraph(text=alternative.headline, kind=kind),
        *([Paragraph(text=alternative.line)] if alternative.line else []),
    ]
    for finding in alternative.findings:
        if finding.state != "holds":
            blocks += _finding(
                finding, finding.title, alternative.verdict, language.report.other_after, language=language
            )
    rows = tuple(
        (finding.title, finding.measured_words, finding.limit_words)
        for finding in alternative.findings
        if finding.state == "holds"
    )
    if rows:
        blocks += [
            Heading(text=language.report.hold, level=2),
            Table(title="", columns=language.report.proof_columns, rows=rows),
        ]
    figures = Table(title="", columns=language.report.lid_columns, rows=alternative.lid.rows)
    return [*blocks, Heading(text=language.report.lid_figures.format(part=alternative.name), level=2), figures]


def _title(finding: ToldFinding, told: ToldProof, *, language: Language = ENGLISH) -> str:
    """The finding's title, with its part where there are several."""
    return (
        finding.title if len(told.parts) == 1 else language.report.part.format(part=finding.part, title=finding.title)
    )


def _finding(
    finding: ToldFinding, title: str, verdict: Verdict, after: Mapping[str, str], *, language: Language = ENGLISH
) -> list[Block]:
    """A finding under its title; ``verdict`` is the one that its mends may change, ``after`` says to what."""
    sizes = language.report.measured.format(measured=finding.measured_words, limit=finding.limit_words)
    mends = [
        Paragraph(
            text=language.report.mends.format(
                changes=mend.words, verdict="" if mend.verdict == verdict == "proved" else after[mend.verdict]
            ),
            kind="check",
        )
        for mend in finding.mends
    ]
    return [Heading(text=title, level=2), Paragraph(text=f"{sizes} {finding.why}"), *mends]


def _holding(told: ToldProof, *, language: Language = ENGLISH) -> list[Block]:
    rows = tuple(
        (_title(finding, told, language=language), finding.measured_words, finding.limit_words)
        for finding in told.findings
        if finding.state == "holds"
    )
    return (
        [Heading(text=language.report.hold, level=1), Table(title="", columns=language.report.proof_columns, rows=rows)]
        if rows
        else []
    )


# --- For programs -------------------------------------------------------------------------------------------


def proof_report(told: ToldProof) -> Report:
    """The proof as a report of kind ``prove``."""
    return report(
        "prove",
        project=told.project_name,
        input_hash=told.input_hash,
        verdict=told.verdict,
        headline=told.headline,
        line=told.line,
        stopped=told.stopped,
        orders=told.orders,
        findings=[_finding_report(finding) for finding in told.findings],
        lids=[_lid_report(lid) for lid in told.lids],
        alternatives=[_alternative_report(each) for each in told.alternatives],
        assumptions=[
            {"code": each.code, "text": each.words, "values": _values(each.values)} for each in told.assumptions
        ],
    )


def _alternative_report(alternative: ToldAlternative) -> Report:
    return {
        "name": alternative.name,
        "of": alternative.of,
        "verdict": alternative.verdict,
        "headline": alternative.headline,
        "line": alternative.line,
        "findings": [_finding_report(finding) for finding in alternative.findings],
        "figures": _lid_report(alternative.lid),
    }


def _finding_report(finding: ToldFinding) -> Report:
    unit = UNIT_NAMES[finding.unit]
    return {
        "part": finding.part,
        "code": finding.code,
        "state": finding.state,
        "state_text": finding.state_words,
        "title": finding.title,
        "why": finding.why,
        "unit": unit,
        "sense": finding.sense,
        f"measured_{unit}": number(finding.measured),
        "measured_text": finding.measured_words,
        f"limit_{unit}": number(finding.limit),
        "limit_text": finding.limit_words,
        "subjects": list(finding.subjects),
        "values": _values(finding.values),
        "mends": [
            {
                "text": mend.words,
                "changes": [{"path": change.path, "value": change.value} for change in mend.changes],
                "state": mend.state,
                "verdict": mend.verdict,
            }
            for mend in finding.mends
        ],
    }


def _lid_report(lid: ToldLid) -> Report:
    """Lengths in mm, angles in degrees anticlockwise, shares of the opening in per cent."""
    found = lid.analysis
    return {
        "part": lid.part,
        "margin_mm": number(found.margin_mm),
        "distance_mm": number(found.distance_mm),
        "comfort_mm": number(found.comfort_mm),
        "hole_tolerance_mm": number(found.hole_tolerance_mm),
        "opened": _turn(found.opened),
        "best_left": _turn(found.best_left),
        "best_right": _turn(found.best_right),
        "curve": [_turn(turn) for turn in found.curve],
        "sweep_mm": number(found.sweep_mm),
        "beyond_mm": dict(zip(SIDES, (number(beyond) for beyond in found.beyond_mm), strict=True)),
        "front": found.front,
        "stack_mm": number(found.stack_mm),
        "area_mm2": number(found.area_mm2),
        "mass_g": number(found.mass_g),
        "tipping_mm": number(found.tipping_mm),
        "tipping_at_deg": number(found.tipping_at_deg),
    }


def _turn(turn: Turn) -> Report:
    return {"angle_deg": number(turn.angle_deg), "uncovered_percent": number(100.0 * turn.uncovered)}


def _values(values: tuple[tuple[str, str | float], ...]) -> Report:
    return {name: value if isinstance(value, str) else number(value) for name, value in values}
