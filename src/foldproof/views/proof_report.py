"""The proof for people and for programs. It arrives in words; this module arranges it."""

from __future__ import annotations

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
class ToldProof:
    """A proof in words and numbers; ``findings`` are worst first."""

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


def proof_document(told: ToldProof) -> Document:
    """The proof to read: the verdict, what fails and what mends it, what holds, what is taken for granted."""
    kind: Literal["text", "not_proved"] = "text" if told.verdict == "proved" else "not_proved"
    blocks: list[Block] = [Paragraph(text=told.headline, kind=kind)]
    blocks += [Paragraph(text=told.line)] if told.line else []
    blocks += [Paragraph(text=STOPPED, kind="caution")] if told.stopped else []
    for state, heading in GROUPS:
        found = [finding for finding in told.findings if finding.state == state]
        if found:
            blocks.append(Heading(text=heading, level=1))
            blocks += [block for finding in found for block in _finding(finding, told)]
    blocks += _holding(told)
    for lid in told.lids:
        blocks += [Heading(text=LID_FIGURES.format(part=lid.part), level=1)]
        blocks += [Table(title="", columns=LID_COLUMNS, rows=lid.rows)]
    blocks.append(Heading(text=GRANTED, level=1))
    blocks.append(Listing(items=tuple(assumption.words for assumption in told.assumptions)))
    blocks.append(Paragraph(text=MADE_BY.format(program=told.program, hash=told.input_hash[:16])))
    return Document(title=TITLE.format(name=told.project_name), blocks=tuple(blocks))


def _title(finding: ToldFinding, told: ToldProof) -> str:
    """The finding's title, with its part where there are several."""
    return finding.title if len(told.parts) == 1 else PART.format(part=finding.part, title=finding.title)


def _finding(finding: ToldFinding, told: ToldProof) -> list[Block]:
    sizes = MEASURED.format(measured=finding.measured_words, limit=finding.limit_words)
    mends = [
        Paragraph(
            text=MENDS.format(changes=mend.words, verdict=_after(mend, told)),
            kind="check",
        )
        for mend in finding.mends
    ]
    return [Heading(text=_title(finding, told), level=2), Paragraph(text=f"{sizes} {finding.why}"), *mends]


def _after(mend: ToldMend, told: ToldProof) -> str:
    """What the verdict becomes; nothing where it is proved before and after."""
    return "" if mend.verdict == told.verdict == "proved" else VERDICT_AFTER[mend.verdict]


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
        assumptions=[
            {"code": each.code, "text": each.words, "values": _values(each.values)} for each in told.assumptions
        ],
    )


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
