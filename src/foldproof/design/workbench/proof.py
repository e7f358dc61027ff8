"""The proof as the page tells it: verdict, findings with what shows them, the steps in time, and mends that follow."""

from __future__ import annotations

from collections.abc import Iterator
from typing import Any

from foldproof.checks.proof import PartProof, Proof
from foldproof.design.telling import speech_of, tell_proof
from foldproof.design.workbench.model import model_of
from foldproof.findings import Severity
from foldproof.project.records import Project
from foldproof.teach import wording_workbench as words
from foldproof.teach.messages import StepWords, changes_words, piece_words, step_words
from foldproof.teach.steps import FoldingStep, folding_steps
from foldproof.views.proof_report import VERDICT_AFTER, ToldFinding

Fields = dict[str, Any]

ON_SHEET = ("fits_sheet", "marks", "grain", "fold_in_short", "white_shows", "thickness", "tab_wedge", "glue_area")
FOLD = "fold"


def proof_of(project: Project, proof: Proof) -> Fields:
    """Verdict, findings worst first, what is taken for granted, and the steps with their times in the model."""
    told = tell_proof(project, proof)
    steps = steps_of(project, proof, model_of(project, proof))
    return {
        "verdict": told.verdict,
        "headline": told.headline,
        "line": told.line,
        "findings": [_finding(each, proof, steps) for each in told.findings],
        "assumptions": [{"code": each.code, "words": each.words} for each in told.assumptions],
        "steps": steps,
    }


def _finding(told: ToldFinding, proof: Proof, steps: list[Fields]) -> Fields:
    return {
        "part": told.part,
        "code": told.code,
        "state": told.state,
        "title": told.title,
        "why": told.why,
        "measured": told.measured_words,
        "limit": told.limit_words,
        "subjects": list(told.subjects),
        "show": _show(told, proof, steps),
    }


def _show(told: ToldFinding, proof: Proof, steps: list[Fields]) -> Fields:
    """Where to look: at the lid turned so far, at the sheet, or at a step of the folding with the parts it is about."""
    values = dict(told.values)
    names = [name for subject in told.subjects for name in subject.split("+")]
    part = next(part for part in proof.parts if part.evidence.part.name == told.part)
    if part.evidence.turning is not None and told.code.startswith(("lid_", "hole_", "head_", "box_")):
        degrees = values.get("angle_deg", values.get("opened_deg", 0.0 if told.code == "lid_covers" else None))
        return {"what": "lid", "deg": degrees, "names": names}
    if told.code in ON_SHEET:
        return {"what": "sheet", "names": names}
    about = next((number for number, step in enumerate(steps) if set(step["names"]) & set(names)), len(steps) - 1)
    return {"what": "fold", "step": about, "names": names}


def mends_of(project: Project, proof: Proof) -> list[Fields]:
    """The changes that were tried and help, each under the finding that it mends."""
    speech = speech_of(project)
    failing = {
        (part.evidence.part.name, each.code)
        for part in proof.parts
        for each in part.findings
        if each.severity >= Severity.UNDECIDED
    }
    return [
        {
            "part": mend.part,
            "code": mend.code,
            "words": changes_words(mend.changes, speech),
            "changes": [{"path": change.path, "value": change.value} for change in mend.changes],
            "after": VERDICT_AFTER[mend.verdict],
            "failing": (mend.part, mend.code) in failing,
        }
        for mend in proof.mends
    ]


# --- Steps in time ------------------------------------------------------------------------------------------


def steps_of(project: Project, proof: Proof, model: Fields) -> list[Fields]:
    """What is done, in order, each with its clip and its seconds there; first the flat piece, last the lid turned."""
    found: list[Fields] = []
    for part in proof.parts:
        for piece in part.evidence.pieces:
            for step in folding_steps(piece.tree, piece.orders, piece.joins):
                found += _fold(part, step, model)
    found += _carried(model)
    found.sort(key=lambda step: (step["from"], step["to"]))
    for clip in model["clips"]:
        if clip != FOLD:
            found.append(
                _step(clip, 0.0, _opened(model, clip), title=words.TURN_LID, text=words.TURN_LID_TEXT, names=[])
            )
    return found


def _fold(part: PartProof, step: FoldingStep, model: Fields) -> Iterator[Fields]:
    children = {fold.child for fold in step.folds}
    times = [
        (track["times"][0], track["times"][-1])
        for node in model["nodes"]
        for track in node["tracks"]
        if node["about"].get("part") == part.evidence.part.name
        and node["about"].get("piece") == step.piece
        and node["about"].get("panel") in children
        and track["clip"] == FOLD
        and track["path"] == "turn"
    ]
    if times:
        glue = str(getattr(part.evidence.part.values, "glue", "wet glue"))
        said: StepWords = step_words(step, glue)
        made = _step(
            FOLD,
            min(start for start, _ in times),
            max(end for _, end in times),
            title=said.title,
            text=said.text,
            names=sorted({name for fold in step.folds for name in fold.moving}),
        )
        yield made | {"check": said.check, "if_not": said.if_not, "caution": said.caution or ""}


def _carried(model: Fields) -> Iterator[Fields]:
    """Pieces that are brought to their places."""
    for number, node in enumerate(model["nodes"]):
        times = [track["times"] for track in node["tracks"] if track["clip"] == FOLD and track["path"] == "move"]
        inside = [each for each in model["nodes"] if each["parent"] == number and each["about"].get("panel")]
        if times and not node["about"].get("panel") and inside:
            piece = inside[0]["about"]["piece"]
            said = piece_words(piece)
            yield _step(
                FOLD,
                times[0][0],
                times[0][-1],
                title=words.BRING.format(piece=said),
                text=words.BRING_TEXT.format(piece=said),
                names=[each["about"]["panel"] for each in inside],
            )


def _opened(model: Fields, clip: str) -> float:
    """When a lid is turned farthest: the clip goes there, waits, and comes back."""
    turns = [
        (abs(sum(one * other for one, other in zip(value, track["values"][0], strict=True))), time)
        for node in model["nodes"]
        for track in node["tracks"]
        if track["clip"] == clip and track["path"] == "turn"
        for value, time in zip(track["values"], track["times"], strict=True)
    ]
    # The less two unit quaternions have in common, the farther the turn from one to the other.
    return float(min(turns)[1])


def _step(clip: str, start: float, end: float, *, title: str, text: str, names: list[str]) -> Fields:
    return {
        "clip": clip,
        "from": start,
        "to": end,
        "title": title,
        "text": text,
        "check": "",
        "if_not": "",
        "caution": "",
        "names": names,
    }
