"""How good the holes of a project's lids lie among all places there could be, for the papers that tell it."""

from __future__ import annotations

from collections.abc import Mapping

from foldproof.checks.proof import Proof
from foldproof.design.fit_answers import FitAnswer
from foldproof.design.fit_proved import proved_words
from foldproof.design.lid_parts import lids_of
from foldproof.lengths import about
from foldproof.progress import Progress, Stopped
from foldproof.project.records import Project
from foldproof.views.lid_by_hand import exact_mm
from foldproof.words.catalogue import ENGLISH, Language

NOWHERE: Mapping[str, tuple[str, ...]] = {}  # nothing was searched


def searched_places(project: Project, progress: Progress) -> tuple[FitAnswer, ...]:
    """The best hole of every lid as it lies, when the project asks for it. Raises Stopped when the caller stops it."""
    if project.teach.place != "searched":
        return ()
    from foldproof.design.fit_lid import PROVED, fit_lid  # packs that do not search need not wait for it

    found = tuple(fit_lid(project, part, "best hole", progress, PROVED) for part in project.parts if part.on)
    if any(answer.stopped for answer in found):
        raise Stopped
    return found


def place_words(
    project: Project, proof: Proof, answers: tuple[FitAnswer, ...], *, language: Language = ENGLISH
) -> dict[str, tuple[str, ...]]:
    """By lid, sentences on its own place and on all others."""
    words, told = language.booklet, {}
    analyses = {lid.name: lid.turning.analysis for lid in lids_of(proof, language=language)}
    for answer in answers:
        own = analyses[answer.part]
        spare = about(exact_mm(max(own.margin_mm, 0.0)), project.ruler, words=language.told.common.about)
        told[answer.part] = (
            words.as_it_lies,
            words.made_here.format(spare=spare, percent=100.0 * own.opened.uncovered),
            *proved_words(project, answer, language=language),
        )
    return told
