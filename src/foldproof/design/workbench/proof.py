"""The proof as the page tells it: verdict, findings with what shows them, the steps in time, and mends that follow."""

from __future__ import annotations

import re
from collections.abc import Iterator, Mapping, Sequence
from itertools import pairwise, zip_longest
from typing import Any

from foldproof.checks.proof import PartProof, Proof
from foldproof.design.alternatives import every_part
from foldproof.design.telling import speech_of, tell_proof
from foldproof.design.workbench.model import model_of
from foldproof.findings import Severity
from foldproof.project.records import Project
from foldproof.teach.messages import StepWords, changes_words, piece_words, step_words
from foldproof.teach.steps import FoldingStep, folding_steps
from foldproof.views.proof_report import ToldFinding
from foldproof.words.catalogue import ENGLISH, Language

Fields = dict[str, Any]

ON_SHEET = (
    "fits_sheet",
    "mark_error",
    "readings_differ",
    "grain",
    "white_shows",
    "thickness_estimated",
    "tab_wedge",
    "glue_area",
)
# What in the drawing of a lid from above a check looks at; the lid itself, where nothing is named.
ON_LID: Mapping[str, str] = {
    "lid_covers": "rim",
    "lid_comfort": "rim",
    "lid_opens": "opening",
    "hole_to_lid": "hole",
    "hole_to_triangle": "triangle",
    "triangle_flaps": "triangle",
    "head_on_lid": "hole",
    "head_hidden": "hole",
    "legs_long": "hole",
    "legs_room": "hole",
    "legs_finger": "opening",
}
CLOSED = ("lid_covers", "lid_comfort")
FOLD = "fold"
IN_BOTH_UNITS = re.compile(r"(?P<first>[^()]+?) \((?P<other>[^()]+)\)(?P<rest>.*)")


def proof_of(project: Project, proof: Proof, *, language: Language = ENGLISH) -> Fields:
    """Verdict, findings worst first, what is taken for granted, and the steps with their times in the model."""
    told = tell_proof(project, proof, language=language)
    steps = steps_of(project, proof, model_of(project, proof), language=language)
    return {
        "verdict": told.verdict,
        "headline": told.headline,
        "line": told.line,
        "findings": [_finding(each, proof, steps) for each in told.findings],
        "assumptions": [{"code": each.code, "words": each.words} for each in told.assumptions],
        "steps": steps,
    }


def _finding(told: ToldFinding, proof: Proof, steps: list[Fields]) -> Fields:
    measured, other = first_unit(told.measured_words)
    limit, other_limit = first_unit(told.limit_words)
    return {
        "part": told.part,
        "code": told.code,
        "state": told.state,
        "title": told.title,
        "why": told.why,
        "measured": measured,
        "measured_other": other,
        "limit": limit,
        "limit_other": other_limit,
        "subjects": list(told.subjects),
        "show": _show(told, proof, steps),
    }


def first_unit(said: str) -> tuple[str, str]:
    """Words with a size in both units as two texts: in the maker's own unit, and the other by itself."""
    found = IN_BOTH_UNITS.fullmatch(said)
    return (said, "") if found is None else (f"{found['first']}{found['rest']}", found["other"])


def _show(told: ToldFinding, proof: Proof, steps: list[Fields]) -> Fields:
    """Where to look: at the lid turned so far, at the sheet, or at a step of the folding with the parts it is about."""
    part = next(part for part in every_part(proof) if part.evidence.part.name == told.part)
    names = _names(told, part)
    shown: Fields = {"part": told.part, "names": names}
    if part.evidence.turning is not None and (told.code in ON_LID or told.code.startswith(("lid_", "box_"))):
        values = dict(told.values)
        closed = 0.0 if told.code in CLOSED else None
        degrees = values.get("angle_deg", values.get("opened_deg", closed))
        return shown | {"what": "lid", "deg": degrees, "names": [ON_LID.get(told.code, "lid")]}
    if told.code in ON_SHEET:
        return shown | {"what": "sheet"}
    about = [number for number, step in enumerate(steps) if set(step["names"]) & set(names)]
    folds = [number for number, step in enumerate(steps) if step["clip"] == FOLD and step["part"] == told.part]
    last = len(steps) - 1
    return shown | {"what": "fold", "step": (about or folds or [last])[-1]}


def _names(told: ToldFinding, part: PartProof) -> list[str]:
    """Pieces, panels and creases that a finding is about; with a crease the panel that it turns.

    Subjects are names, pairs of names joined by a plus, and may begin with their piece and a colon. A whole part is
    all its pieces.
    """
    pieces = [piece.tree.piece.id for piece in part.evidence.pieces]
    whole = {part.evidence.part.name: pieces} if part.evidence.part.name not in pieces else {}
    turned = {crease.id: crease.child for piece in part.evidence.pieces for crease in piece.tree.piece.creases}
    if told.code == "grain":
        return sorted(turned)
    found: list[str] = []
    for subject in told.subjects:
        piece, colon, rest = subject.rpartition(":")
        for name in rest.split("+"):
            both = [name, turned[name]] if name in turned else whole.get(name, [name])
            found += [f"{piece}{colon}{each}" for each in both]
    return found


def mends_of(project: Project, proof: Proof, *, language: Language = ENGLISH) -> list[Fields]:
    """The changes that were tried and help, each under the finding that it mends."""
    speech = speech_of(project)
    failing = {
        (part.evidence.part.name, each.code)
        for part in every_part(proof)
        for each in part.findings
        if each.severity >= Severity.UNDECIDED
    }
    return [
        {
            "part": mend.part,
            "code": mend.code,
            "words": changes_words(mend.changes, speech, catalogue=language.told),
            "changes": [{"path": change.path, "value": change.value} for change in mend.changes],
            "after": language.report.verdict_after[mend.verdict],
            "failing": (mend.part, mend.code) in failing,
        }
        for mend in proof.mends
    ]


# --- Steps in time ------------------------------------------------------------------------------------------


def steps_of(project: Project, proof: Proof, model: Fields, *, language: Language = ENGLISH) -> list[Fields]:
    """What is done, in order, each with its clip and its seconds there; first the flat piece, last the lid turned."""
    found: list[Fields] = []
    for part in proof.parts:
        for piece in part.evidence.pieces:
            for step in folding_steps(piece.tree, piece.orders, piece.joins):
                found += _fold(part, step, model)
    found += _carried(model, language=language)
    found.sort(key=lambda step: (step["from"], step["to"]))
    for clip in model["clips"]:
        if clip != FOLD:
            found.append(
                _step(
                    clip,
                    0.0,
                    _opened(model, clip),
                    title=language.workbench.turn_lid,
                    text=language.workbench.turn_lid_text,
                )
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
            part=part.evidence.part.name,
        )
        yield made | {"check": said.check, "if_not": said.if_not, "caution": said.caution or ""}


def _carried(model: Fields, *, language: Language = ENGLISH) -> Iterator[Fields]:
    """Pieces that are brought to their places, in order. One that waits for another is brought once that lies on it."""
    moves = sorted(_moves(model), key=lambda move: move[:2])
    for (start, end, inside), following in zip_longest(moves, moves[1:]):
        piece = inside[0]["about"]["piece"]
        said = piece_words(piece, catalogue=language.told)
        yield _step(
            FOLD,
            start,
            min(end, following[0]) if following else end,
            title=language.workbench.bring.format(piece=said),
            text=language.workbench.bring_text.format(piece=said),
            names=[each["about"]["panel"] for each in inside],
            part=str(inside[0]["about"].get("part", "")),
        )


def _moves(model: Fields) -> Iterator[tuple[float, float, list[Fields]]]:
    """When each piece begins its last way and ends it, and its panels."""
    for number, node in enumerate(model["nodes"]):
        tracks = [track for track in node["tracks"] if track["clip"] == FOLD and track["path"] == "move"]
        inside = [each for each in model["nodes"] if each["parent"] == number and each["about"].get("panel")]
        if tracks and not node["about"].get("panel") and inside:
            times, values = tracks[0]["times"], tracks[0]["values"]
            rests = [at for at, (one, other) in enumerate(pairwise(values)) if one == other]
            yield times[rests[-1] + 1] if rests else times[0], times[-1], inside


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


def _step(
    clip: str, start: float, end: float, *, title: str, text: str, names: Sequence[str] = (), part: str = ""
) -> Fields:
    return {
        "clip": clip,
        "from": start,
        "to": end,
        "title": title,
        "text": text,
        "check": "",
        "if_not": "",
        "caution": "",
        "names": list(names),
        "part": part,
    }
