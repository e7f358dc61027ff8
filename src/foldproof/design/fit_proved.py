"""What is proved of an answer, in sentences: bounds on every other size and place, and how far they leave it open."""

from __future__ import annotations

import math
from collections.abc import Iterator

from foldproof.design.fit_answers import FitAnswer
from foldproof.design.lid_question import PLACE, POSE
from foldproof.lids.optimum_records import BestHole, Certificate, LidPlace
from foldproof.project.records import Project
from foldproof.words.catalogue import ENGLISH, Language

FINE = 100  # parts of a millimetre, and of a degree, in which bounds are told, rounded to the safe side


def proved_words(project: Project, answer: FitAnswer, *, language: Language = ENGLISH) -> tuple[str, ...]:
    """Sentences, none for an answer of which nothing is to be proved."""
    found = [*_of_size(project, answer, language=language)]
    if answer.place is not None:
        found += _of_place(answer, answer.place, language=language)
    if answer.stopped:
        found.append(language.fit.stopped)
    return tuple(found)


def _of_size(project: Project, answer: FitAnswer, *, language: Language) -> Iterator[str]:
    size = answer.size
    if size is None or size.bound_mm is None:
        return
    lid = size.bound_mm < size.found_mm
    bound = size.bound_mm
    told = (math.floor if lid else math.ceil)(bound * FINE) / FINE
    frame = language.fit.lid_bound if lid else language.fit.base_bound
    lies = language.fit.lies[_lies(project, answer)]
    yield frame.format(bound=language.fit.fine_mm.format(size=told), lies=lies)
    if not size.finished:
        yield language.fit.size_unfinished


def _lies(project: Project, answer: FitAnswer) -> str:
    """How much is open of the place of the lid that a size is about: "open", "partly" or "given"."""
    parts = (*project.parts, *(each.part for each in project.alternatives))
    part = next(each for each in parts if each.name == answer.part)
    lid = part if part.on else next(each for each in parts if each.on == part.name)
    free = [name in lid.open_values for name in POSE]
    return "open" if all(free) else "partly" if any(free) else "given"


def _of_place(answer: FitAnswer, best: BestHole, *, language: Language) -> Iterator[str]:
    words, proof = language.fit, best.certificate
    if proof.none_exists:
        yield words.none_exists
        return
    if proof.cells == 0 or best.place is None:
        if best.place is not None:
            yield words.only_good
        return
    yield from _bounds(answer, best.place, proof, language=language)
    if not proof.finished:
        yield words.unfinished


def _bounds(answer: FitAnswer, place: LidPlace, proof: Certificate, *, language: Language) -> Iterator[str]:
    words = language.fit
    searched = words.searched if set(PLACE) <= set(answer.sought) else words.searched_open
    moves = any(name in POSE for name in answer.sought)
    if not moves:
        lacks = place.margin_mm < 0.0
        found = _spare(place.margin_mm, lacks, language=language)
        yield (words.margin_given_lacks if lacks else words.margin_given).format(found=found)
    elif _known(proof.margin_bound_mm):
        bound, marked = proof.margin_bound_mm or 0.0, answer.answers[0].lid
        lacks = bound < 0.0
        yield (words.margin_lacks if lacks else words.margin_bound).format(
            searched=searched,
            bound=_below(-bound, language=language) if lacks else _above(bound, language=language),
            found=_spare(place.margin_mm if proof.level_mm is None else _best(proof), lacks, language=language),
            marked=_spare(place.margin_mm if marked is None else marked.margin_mm, lacks, language=language),
        )
    if _known(proof.angle_bound_rad) and _known(proof.level_mm):
        level = proof.level_mm or 0.0
        frame = words.angle_lacks if level < 0.0 else words.angle_bound
        yield (frame if moves else words.angle_given).format(
            searched=searched,
            level=_spare(level, level < 0.0, language=language),
            bound=f"{math.floor(math.degrees(proof.angle_bound_rad or 0.0) * FINE) / FINE:g}",
            percent=100.0 * (answer.uncovered or 0.0),
            found=f"{math.ceil(math.degrees(abs(place.open_turn_rad)) * FINE) / FINE:g}",
        )
    if _known(proof.edge_bound_mm):
        marked = answer.answers[0].lid
        yield words.edge_bound.format(
            searched=searched,
            percent=100.0 * (answer.uncovered or 0.0),
            bound=_above(proof.edge_bound_mm or 0.0, language=language),
            found=_below(place.hole_to_lid_mm, language=language),
            marked=_below(place.hole_to_lid_mm if marked is None else marked.edge_mm, language=language),
        )


def _spare(margin_mm: float, lacks: bool, *, language: Language) -> str:
    """A margin that is there, or what is missing of it, never told better than it is."""
    return _above(-margin_mm, language=language) if lacks else _below(margin_mm, language=language)


def _best(proof: Certificate) -> float:
    """The best margin that was found: the place itself may have less, given away for a smaller turn."""
    return (proof.margin_bound_mm or 0.0) - (proof.margin_gap_mm or 0.0)


def _known(value: float | None) -> bool:
    return value is not None and math.isfinite(value)


def _above(value: float, *, language: Language) -> str:
    return language.fit.fine_mm.format(size=math.ceil(value * FINE) / FINE)


def _below(value: float, *, language: Language) -> str:
    return language.fit.fine_mm.format(size=math.floor(value * FINE) / FINE)
