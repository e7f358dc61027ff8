"""From the name of a project file to what is known of it: measured, fitted, proved."""

from __future__ import annotations

from collections.abc import Callable
from dataclasses import dataclass
from pathlib import Path
from typing import TYPE_CHECKING

from foldproof.checks.proof import Proof, Verdict
from foldproof.constructions.turning_lid import is_layer
from foldproof.design.alternative_papers import named_instead
from foldproof.design.lid_parts import cut_words_of
from foldproof.design.measure import Measured, measure
from foldproof.design.mend import with_mends
from foldproof.design.prove import prove
from foldproof.design.telling import tell_proof
from foldproof.errors import InputError, Problem
from foldproof.progress import Progress, unwatched
from foldproof.project.problems import field_path
from foldproof.project.read import read_project
from foldproof.project.records import Part, Project
from foldproof.project.write import with_change
from foldproof.service.files import read_project_text, write_atomically
from foldproof.views.measures import MeasuredThing
from foldproof.views.proof_report import ToldProof

if TYPE_CHECKING:
    from foldproof.design.fit_answers import FitAnswer, Goal
    from foldproof.design.other_shapes import OtherShape


@dataclass(frozen=True, slots=True, kw_only=True)
class Opened:
    """A project file as it was read: its text and what it says."""

    path: str
    text: str
    project: Project


def open_project(path: str | Path) -> Opened:
    """Reads a project file. Raises InputError with everything that is wrong with it."""
    text = read_project_text(path)
    return Opened(path=str(path), text=text, project=read_project(text))


def taught_as(opened: Opened, hand: str | None, version: str | None) -> Opened:
    """The project with another hand or version under [teach], in its text too: what is packed can be packed again.

    None leaves what the file says. The file on disk stays as it is.
    """
    text = opened.text
    for key, asked in (("hand", hand), ("version", version)):
        if asked is not None and asked != getattr(opened.project.teach, key):
            text = with_change(text, f"teach.{key}", asked)
    return opened if text == opened.text else Opened(path=opened.path, text=text, project=read_project(text))


def measured_things(measured: Measured) -> tuple[MeasuredThing, ...]:
    """The parts as their measures are told, and the layers of each alternative."""
    project = measured.project
    parts = tuple(
        MeasuredThing(
            name=part.part.name,
            construction=part.part.construction.name,
            revision=part.part.revision,
            pieces=part.pieces,
            forms=part.assembly.forms,
            cut_words=cut_words_of(project, part),
        )
        for part in measured.parts
    )
    others = tuple(
        MeasuredThing(
            name=each.name,
            construction=part.part.construction.name,
            revision=part.part.revision,
            pieces=named_instead([p for p in part.pieces if is_layer(p.piece.id)], each.name, each.of),
            forms=(),
            cut_words=cut_words_of(project, part),
            instead_of=each.of,
        )
        for each, part in zip(project.alternatives, measured.alternatives, strict=True)
    )
    return (*parts, *others)


def prove_project(project: Project, progress: Progress) -> tuple[Proof, ToldProof]:
    """Proves the project and tries what would mend it; the same in words beside it."""
    proof = prove(measure(project), progress)
    proof = proof if proof.stopped else with_mends(project, proof, progress)
    return proof, tell_proof(project, proof)


# --- Fit ----------------------------------------------------------------------------------------------------
# Fitting is started by those who fit: who packs or proves does not wait for its libraries.


def fit_parts(
    project: Project,
    goal: Goal | None,
    progress: Progress = unwatched,
    told: Callable[[FitAnswer], None] | None = None,
) -> tuple[FitAnswer, ...]:
    """Answers for every part and alternative that has values left open; for all parts when nothing is.

    Boxes come first, and lids are fitted to what was found for theirs; a lid whose box found nothing that works is left
    out, and its answer says so. A goal is asked of the parts it is for. ``told`` gets every answer about a lid's place
    as it gets better.
    """
    from foldproof.design.fit import fit
    from foldproof.design.fit_alternatives import fit_alternatives, with_answers
    from foldproof.design.fit_answers import LID_GOALS
    from foldproof.design.fit_lid import PROVED, left_out, silent

    asked = _asked_parts(project, goal is not None and goal in LID_GOALS)
    answers: list[FitAnswer] = []
    for part in asked:
        now = with_answers(project, tuple(answers))
        current = next(each for each in now.parts if each.name == part.name)
        own = goal if (goal in LID_GOALS) == bool(part.on) or len(asked) == 1 else None
        if any(each.name == part.on and each.open_values for each in now.parts):
            answers.append(left_out(current, own))
            continue
        answers.append(fit(now, current, own, progress, PROVED, told or silent))
    return (*answers, *fit_alternatives(project, tuple(answers)))


def _asked_parts(project: Project, of_lids: bool) -> tuple[Part, ...]:
    """The parts to fit, boxes before their lids: those with open values, or all of the kind that is asked about."""
    parts = tuple(sorted(project.parts, key=lambda part: bool(part.on)))
    lids = tuple(part for part in parts if part.on)
    if of_lids and lids:
        hosts = {lid.on for lid in lids}
        return (*(part for part in parts if part.name in hosts and part.open_values), *lids)
    open_parts = tuple(part for part in parts if part.open_values)
    any_open = bool(open_parts) or any(each.part.open_values for each in project.alternatives)
    return open_parts if any_open else parts


def verdict_filled(project: Project, answers: tuple[FitAnswer, ...], progress: Progress) -> Verdict | None:
    """The verdict with the best answers filled in, of the alternatives too; None when values stay open, or stopped."""
    from foldproof.design.fit_alternatives import with_answers

    if any(not answer.works or not answer.answers for answer in answers):
        return None
    done = with_answers(project, answers)
    _refuse_conflicts("parts", done.parts)
    _refuse_conflicts("alternatives", tuple(each.part for each in done.alternatives))
    proof = prove(measure(done), progress)
    verdicts = (proof.verdict, *(each.verdict for each in proof.alternatives))
    return None if proof.stopped else next((each for each in verdicts if each != "proved"), "proved")


def _refuse_conflicts(heading: str, parts: tuple[Part, ...]) -> None:
    """Values that were worked out may contradict the given ones."""
    problems = tuple(
        Problem(
            field=field_path(heading, part.name, conflict.name),
            value="",
            reason=f"does not go with what was worked out: {conflict.reason}",
            remedy=conflict.remedy,
        )
        for part in parts
        for conflict in part.construction.conflicts(part.values)
    )
    if problems:
        raise InputError(problems)


def write_other_shapes(opened: Opened, others: tuple[OtherShape, ...]) -> tuple[str, ...]:
    """Puts the proved ones under [alternatives] in the project's file; their names, none when it was left as it is.

    Comments and layout stay. The changed file is read before it takes the old one's place.
    """
    from foldproof.design.other_shapes import with_other_shapes

    text, names = with_other_shapes(opened.text, opened.project, others)
    if names:
        write_atomically(opened.path, text)
    return names


def write_fitted(opened: Opened, answers: tuple[FitAnswer, ...]) -> bool:
    """Puts the best answers' values into the project's file; False when there is nothing to write.

    Comments and layout stay. The changed file is read before it takes the old one's place.
    """
    from foldproof.design.fit_report import typed_values

    typed = [pair for answer in answers if answer.works for pair in typed_values(opened.project, answer)]
    if not typed:
        return False
    text = opened.text
    for path, value in typed:
        text = with_change(text, path, value)
    read_project(text)
    write_atomically(opened.path, text)
    return True
