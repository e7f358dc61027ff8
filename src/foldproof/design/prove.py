"""Prove: fold every part of a measured project, judge it, and say what was assumed."""

from __future__ import annotations

import hashlib

from foldproof import __version__
from foldproof.checks.catalogue import run_checks
from foldproof.checks.evidence import Evidence, gather
from foldproof.checks.proof import Assumption, PartProof, Proof, verdict_of
from foldproof.design.alternatives import prove_alternative
from foldproof.design.measure import Measured, MeasuredPart
from foldproof.lengths import Length
from foldproof.progress import Progress, unwatched
from foldproof.project.canonical import canonical
from foldproof.project.records import Project


def prove(measured: Measured, progress: Progress = unwatched) -> Proof:
    """The proof of every part. Stopped by the caller, it judges what it has and says so."""
    proved: dict[str, PartProof] = {}
    # A lid is proved on the part that it closes, so that part comes first; the report keeps the file's order.
    for part in sorted(measured.parts, key=lambda part: bool(part.part.on)):
        host = proved[part.part.on].evidence if part.part.on else None
        proved[part.part.name] = _prove_part(measured.project, part, progress, host)
    parts = tuple(proved[part.part.name] for part in measured.parts)
    alternatives = tuple(
        prove_alternative(measured.project, alternative.of, part, proved[part.part.on], progress)
        for alternative, part in zip(measured.project.alternatives, measured.alternatives, strict=True)
    )
    pieces = [piece for part in parts for piece in part.evidence.pieces]
    searched = [*pieces, *(piece for each in alternatives for piece in each.part.evidence.pieces)]
    return Proof(
        project_name=measured.project.name,
        input_hash=hashlib.sha256(canonical(measured.project).encode()).hexdigest(),
        program=__version__,
        assumptions=_assumptions(measured.project),
        parts=parts,
        orders_tried=sum(piece.orders.number for piece in pieces),
        verdict=verdict_of(tuple(finding for part in parts for finding in part.findings)),
        stopped=any(piece.orders.stopped for piece in searched),
        alternatives=alternatives,
    )


def _prove_part(project: Project, part: MeasuredPart, progress: Progress, host: Evidence | None) -> PartProof:
    evidence = gather(project, part.part, part.pieces, part.assembly, progress, host)
    return PartProof(evidence=evidence, findings=run_checks(evidence))


def _assumptions(project: Project) -> tuple[Assumption, ...]:
    card, folding = project.cardstock, project.folding
    thickness = Assumption(
        code="thickness",
        values=(
            ("how", card.thickness.how),
            ("used_mm", card.thickness.high_mm),
            ("low_mm", card.thickness.low_mm),
            ("high_mm", card.thickness.high_mm),
        ),
    )
    fingers = Assumption(
        code="fingers",
        values=(("finger_mm", folding.finger_mm), ("finger_reach_mm", folding.finger_reach_mm)),
    )
    marks = Assumption(code="marks", values=(("board", project.board.name),))
    contact = Assumption(
        code="contact",
        values=(
            ("contact_mm", folding.contact_limit_mm(card.thickness.high_mm)),
            ("plate_share", folding.plate_share),
            ("even_step_deg", folding.even_step_deg),
            ("finest_step_deg", folding.finest_step_deg),
        ),
    )
    states = Assumption(code="states", values=(("states_budget", folding.states_budget),))
    taught = (Assumption(code="class_version", values=()),) if project.teach.version == "class" else ()
    return (*taught, thickness, *_allowances(project), marks, fingers, contact, states)


def _allowances(project: Project) -> tuple[Assumption, ...]:
    """How each part leaves room for thickness, each way said once."""
    given = dict.fromkeys(getattr(part.values, "allowance", "none") for part in project.parts)
    return tuple(
        Assumption(
            code="allowance",
            values=(("allowance_mm", way.float_mm) if isinstance(way, Length) else ("allowance", way),),
        )
        for way in given
    )
