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

State = Literal["holds", "look", "undecided", "fails"]

TITLE = "Proof: {name}"
GROUPS: tuple[tuple[State, str], ...] = (
    ("fails", "What fails"),
    ("undecided", "What is not decided"),
    ("look", "Worth a look"),
)
HOLD = "What holds"
COLUMNS = ("Check", "Measured", "Limit")
PART = "{part}: {title}"
MEASURED = "Measured: {measured}. Limit: {limit}."
MENDS = "Tried, and it helps: {changes}. {verdict}"
VERDICT_AFTER: dict[Verdict, str] = {
    "proved": "Then the project is proved.",
    "not_proved": "Other checks still fail then.",
    "not_decided": "Then it is not decided.",
}
OTHER_AFTER: dict[Verdict, str] = {
    "proved": "Then it is proved.",
    "not_proved": "Other checks still fail then.",
    "not_decided": "Then it is not decided.",
}
INSTEAD = "Instead of the {of}: {name}"
INSTEAD_VERDICT = "Instead of the {of}, {name}: {headline}"
GRANTED = "Taken for granted"
STOPPED = "The search was stopped before it was done. What is said here is what was known by then."
MADE_BY = "Foldproof {program}. Project {hash}."

LID_FIGURES = "The {part} in figures"
LID_COLUMNS = ("What", "How much")
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


def proof_document(told: ToldProof) -> Document:
    """The proof to read: the verdict, what fails and what mends it, what holds, what is taken for granted."""
    kind: Literal["text", "not_proved"] = "text" if told.verdict == "proved" else "not_proved"
    blocks: list[Block] = [Paragraph(text=told.headline, kind=kind)]
    blocks += [Paragraph(text=told.line)] if told.line else []
    blocks += [Paragraph(text=STOPPED, kind="caution")] if told.stopped else []
    blocks += [_alternative_verdict(each) for each in told.alternatives]
    for state, heading in GROUPS:
        found = [finding for finding in told.findings if finding.state == state]
        if found:
            blocks.append(Heading(text=heading, level=1))
            blocks += [
                block
                for finding in found
                for block in _finding(finding, _title(finding, told), told.verdict, VERDICT_AFTER)
            ]
    blocks += _holding(told)
    for lid in told.lids:
        blocks += [Heading(text=LID_FIGURES.format(part=lid.part), level=1)]
        blocks += [Table(title="", columns=LID_COLUMNS, rows=lid.rows)]
    for each in told.alternatives:
        blocks += _alternative(each)
    blocks.append(Heading(text=GRANTED, level=1))
    blocks.append(Listing(items=tuple(assumption.words for assumption in told.assumptions)))
    blocks.append(Paragraph(text=MADE_BY.format(program=told.program, hash=told.input_hash[:16])))
    return Document(title=TITLE.format(name=told.project_name), blocks=tuple(blocks))


def _alternative_verdict(alternative: ToldAlternative) -> Paragraph:
    text = INSTEAD_VERDICT.format(name=alternative.name, of=alternative.of, headline=alternative.headline)
    return Paragraph(text=text, kind="text" if alternative.verdict == "proved" else "not_proved")


def _alternative(alternative: ToldAlternative) -> list[Block]:
    """One alternative: its verdict, what does not hold with what mends it, what holds, and its figures."""
    kind: Literal["text", "not_proved"] = "text" if alternative.verdict == "proved" else "not_proved"
    blocks: list[Block] = [
        Heading(text=INSTEAD.format(name=alternative.name, of=alternative.of), level=1),
        Paragraph(text=alternative.headline, kind=kind),
        *([Paragraph(text=alternative.line)] if alternative.line else []),
    ]
    for finding in alternative.findings:
        if finding.state != "holds":
            blocks += _finding(finding, finding.title, alternative.verdict, OTHER_AFTER)
    rows = tuple(
        (finding.title, finding.measured_words, finding.limit_words)
        for finding in alternative.findings
        if finding.state == "holds"
    )
    if rows:
        blocks += [Heading(text=HOLD, level=2), Table(title="", columns=COLUMNS, rows=rows)]
    figures = Table(title="", columns=LID_COLUMNS, rows=alternative.lid.rows)
    return [*blocks, Heading(text=LID_FIGURES.format(part=alternative.name), level=2), figures]


def _title(finding: ToldFinding, told: ToldProof) -> str:
    """The finding's title, with its part where there are several."""
    return finding.title if len(told.parts) == 1 else PART.format(part=finding.part, title=finding.title)


def _finding(
    finding: ToldFinding, title: str, verdict: Verdict, after: Mapping[Verdict, str]
) -> list[Block]:
    """A finding under its title; ``verdict`` is the one that its mends may change, ``after`` says to what."""
    sizes = MEASURED.format(measured=finding.measured_words, limit=finding.limit_words)
    mends = [
        Paragraph(
            text=MENDS.format(
                changes=mend.words, verdict="" if mend.verdict == verdict == "proved" else after[mend.verdict]
            ),
            kind="check",
        )
        for mend in finding.mends
    ]
    return [Heading(text=title, level=2), Paragraph(text=f"{sizes} {finding.why}"), *mends]


def _holding(told: ToldProof) -> list[Block]:
    rows = tuple(
        (_title(finding, told), finding.measured_words, finding.limit_words)
        for finding in told.findings
        if finding.state == "holds"
    )
    return [Heading(text=HOLD, level=1), Table(title="", columns=COLUMNS, rows=rows)] if rows else []


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
