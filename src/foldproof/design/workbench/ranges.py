"""How far a length can really go in this design, and why it ends there: looked for on the marks of the ruler."""

from __future__ import annotations

from typing import Any

from foldproof.constructions.parameters import values_of
from foldproof.design.workbench.solving import Solved, solved
from foldproof.errors import InputError, wrong
from foldproof.lengths import Length, in_words, parse_length, round_to
from foldproof.project.read import read_project
from foldproof.project.write import path_keys, with_change
from foldproof.words.catalogue import ENGLISH, Language

Fields = dict[str, Any]


def range_of(text: str, path: str, *, language: Language = ENGLISH) -> Fields:
    """The least and the most that a length of a part can be, the others as they are. Raises InputError.

    Works is a length with which everything can be laid out and every piece fits its sheet. Between a length that works
    and one that does not the end is found by halving, on the ruler.
    """
    project = read_project(text)
    head, part_name, name, *_ = (*path_keys(path), "", "")
    part = next((part for part in project.parts if part.name == part_name), None)
    values = values_of(part.construction.parameters) if part else ()
    value = next((each for each in values if each.name == name), None)
    if head != "parts" or value is None or value.least is None or value.most is None:
        raise wrong(path[:80], "", "is no length of a part", "ask for one that is")
    step = project.ruler.step_length
    now = next((each for each in solved(project).filled.parts if each.name == part_name), None)
    current = getattr(now.values, name) if now else None
    low = int(round_to(value.least, project.ruler, "up").shown.mm // step.mm)
    high = int(round_to(value.most, project.ruler, "down").shown.mm // step.mm)
    middle = int(current.mm // step.mm) if isinstance(current, Length) else (low + high) // 8
    ends = []
    if _why_not(text, path, step * middle, language=language) is not None:
        return {"path": path, "least": "", "most": ""}
    for far in (low, high):
        ends.append(_end(text, path, step, middle, far, language=language))
    (least, why_least), (most, why_most) = ends
    return {
        "path": path,
        "least": in_words(step * least, project.ruler),
        "most": in_words(step * most, project.ruler),
        "least_mm": (step * least).float_mm,
        "most_mm": (step * most).float_mm,
        "why_least": why_least,
        "why_most": why_most,
    }


def _end(text: str, path: str, step: Length, works: int, far: int, *, language: Language = ENGLISH) -> tuple[int, str]:
    """The last mark towards ``far`` that works, and why the next one does not; "" when all do."""
    why = _why_not(text, path, step * far, language=language)
    if why is None:
        return far, ""
    while abs(far - works) > 1:
        middle = (far + works) // 2
        found = _why_not(text, path, step * middle, language=language)
        if found is None:
            works = middle
        else:
            far, why = middle, found
    return works, why


def _why_not(text: str, path: str, value: Length, *, language: Language = ENGLISH) -> str | None:
    """Why a length does not work, in words; None when it does."""
    written = f"{float(value.mm):.4f} mm"
    try:
        parse_length(written, "mm")
        done = solved(read_project(with_change(text, path, written)))
    except InputError as error:
        return error.problems[0].reason
    if done.problems:
        return done.problems[0].reason
    return language.workbench.outgrows if _outgrows(done) else None


def _outgrows(done: Solved) -> bool:
    """Is any piece larger than the sheet, whichever way it lies?"""
    assert done.measured is not None, "a project without problems is measured"
    sheet = done.filled.cardstock.usable_sheet
    long, short = max(sheet.width, sheet.height), min(sheet.width, sheet.height)
    return any(
        max(piece.exact.width, piece.exact.height) > long or min(piece.exact.width, piece.exact.height) > short
        for part in done.measured.parts
        for piece in part.pieces
    )
