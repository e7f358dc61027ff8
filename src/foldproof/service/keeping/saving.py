"""Saving an edit as a version, and moving along the versions. Nothing is written over: an older edit is merged."""

from __future__ import annotations

import dataclasses
from collections.abc import Mapping
from pathlib import Path

from foldproof.checks.proof import Verdict
from foldproof.design.merging import Merged, Whose, merge
from foldproof.errors import InputError, wrong
from foldproof.project.read import read_project
from foldproof.project.write import with_change
from foldproof.service.files import project_text
from foldproof.service.keeping.changes import OF_A_VERSION, read_back
from foldproof.service.keeping.records import Clashed, Saved
from foldproof.service.keeping.standing import (
    Standing,
    held,
    is_last,
    kept_beside,
    kept_version,
    moved,
    noted,
    version_text,
    what_changed,
)
from foldproof.teach import wording_history as wording


def save(
    folder: Path,
    project_id: str,
    text: str,
    expected_version: int,
    what: str = "",
    *,
    when: str,
    choices: Mapping[str, Whose] | None = None,
) -> Saved | Clashed:
    """Keeps ``text`` as a new version. ``what`` says what changed; without it that is worked out.

    ``expected_version`` is the version the text was made of. When the project stands at another one by now, the two
    are merged value by value; where both changed a value, or the values do not go together, the project stays as it
    is, the text is kept beside it, and every clash is told; ``choices`` settle clashes by their paths. A text that
    says nothing new makes no version. Raises InputError for a text that is no project, and when it cannot be kept.
    """
    text = project_text(text.encode(), "the project")
    name = read_project(text).name
    with held(folder, project_id) as standing:
        base = standing.text
        if expected_version != standing.state.at:
            base = version_text(standing.here, expected_version)
        if base == standing.text or text == standing.text:
            return _saved(_next(standing, text, name, when, what), merged=False)
        merged = merge(base, text, standing.text, choices)
        if merged.clashes:
            return _clashed(standing, text, expected_version, when, what, merged)
        try:
            name = read_project(merged.text).name
        except InputError as error:
            return _clashed(standing, text, expected_version, when, what, merged, error)
        if not merged.notes_kept:  # what the merged text leaves out is kept too
            standing = _beside(standing, text, expected_version, when, what)
        return _saved(_next(standing, merged.text, name, when, what), merged=True)


def _next(standing: Standing, text: str, name: str, when: str, what: str) -> tuple[Standing, tuple[str, ...]]:
    """The project with one more version, and what changed; as it was when nothing did."""
    if text == standing.text:
        return standing, ()
    said = (what,) if what else what_changed(standing.text, text)
    return kept_version(standing, text, name, when=when, what=said), said


def _saved(kept: tuple[Standing, tuple[str, ...]], *, merged: bool) -> Saved:
    standing, what = kept
    return Saved(version=standing.state.at, text=standing.text, what=what, merged=merged)


def _beside(standing: Standing, text: str, parent: int, when: str, what: str) -> Standing:
    """The text kept beside the project, once however often it is tried."""
    if is_last(standing, text):
        return standing
    said = (what,) if what else what_changed(version_text(standing.here, parent), text)
    return kept_beside(standing, text, parent, when=when, what=said)


def _clashed(
    standing: Standing,
    text: str,
    parent: int,
    when: str,
    what: str,
    merged: Merged,
    error: InputError | None = None,
) -> Clashed:
    standing = _beside(standing, text, parent, when, what)
    return Clashed(
        version=standing.state.at,
        text=standing.text,
        beside=standing.state.last,
        clashes=merged.clashes,
        problems=error.problems if error else (),
    )


def rename(folder: Path, project_id: str, name: str, *, when: str) -> Saved | Clashed:
    """Gives a project another name, which is a change like any other. Its id stays."""
    with held(folder, project_id) as standing:
        text = with_change(standing.text, "name", name)
        new_name = read_project(text).name
        return _saved(_next(standing, text, new_name, when, ""), merged=False)


# --- Along the versions -------------------------------------------------------------------------------------


def undo(folder: Path, project_id: str, expected_version: int, *, when: str) -> Saved:
    """Goes back to the version that this one was made of. Nothing is taken out of the history.

    Raises InputError at the first version, and when the project stands at another version than expected: then
    something would be undone that the one who asks has not seen.
    """
    with held(folder, project_id) as standing:
        _expect(standing, expected_version)
        if not standing.state.parent:
            raise wrong("undo", "", "there is nothing to undo", "this is the first version")
        return _gone_to(standing, standing.state.parent, when, wording.UNDONE)


def redo(folder: Path, project_id: str, expected_version: int, *, when: str) -> Saved:
    """Goes forward again, to the version that was undone last. Raises InputError as undo does."""
    with held(folder, project_id) as standing:
        _expect(standing, expected_version)
        following = _step_towards(standing.here, standing.state.tip, standing.state.at)
        if not following:
            raise wrong("redo", "", "there is nothing to redo", "this is the last version")
        return _gone_to(standing, following, when, wording.REDONE)


def go_to(folder: Path, project_id: str, number: int, expected_version: int, *, when: str) -> Saved:
    """Goes to any version of the history, also one of another branch or one kept beside. Raises InputError."""
    with held(folder, project_id) as standing:
        _expect(standing, expected_version)
        return _gone_to(standing, number, when, wording.GONE_TO.format(number=number))


def _expect(standing: Standing, version: int) -> None:
    if standing.state.at != version:
        raise wrong(
            "version", version, f"the project stands at version {standing.state.at} by now", "look at it again first"
        )


def _gone_to(standing: Standing, number: int, when: str, what: str) -> Saved:
    text = version_text(standing.here, number)
    name = read_project(text).name
    state = standing.state
    if number != state.at:
        parent, verdict = _known_of(standing.here, number)
        on_the_way = number == state.tip or _step_towards(standing.here, state.tip, number)
        tip = state.tip if on_the_way else number
        after = dataclasses.replace(state, at=number, parent=parent, tip=tip, name=name, verdict=verdict)
        standing = moved(standing, after, text, when=when, what=(what,))
    return Saved(version=standing.state.at, text=standing.text, what=(what,))


def _known_of(here: Path, number: int) -> tuple[int, str]:
    """What a version was made of, and what was said last of its proof; 0 and "" where the log tells nothing."""
    verdict = ""
    for entry in read_back(here):
        if entry.number == number and entry.kind in OF_A_VERSION:
            return entry.parent, verdict
        if entry.number == number and entry.kind == "proved" and not verdict:
            verdict = entry.what[0]
    return 0, verdict


def _step_towards(here: Path, tip: int, number: int) -> int:
    """The version that was made of ``number`` and leads to ``tip``; 0 when none does.

    A version is made of one with a lower number, whose line comes before its own.
    """
    for entry in read_back(here):
        if entry.number == tip and entry.kind in OF_A_VERSION:
            if entry.parent == number:
                return tip
            tip = entry.parent
        if tip <= number:
            return 0
    return 0


def note_verdict(folder: Path, project_id: str, version: int, verdict: Verdict, *, when: str) -> None:
    """Keeps what a proof of a version said, for the list of projects."""
    with held(folder, project_id, to_write=False) as standing:
        state = standing.state
        version_text(standing.here, version)
        if (state.at, state.verdict) != (version, verdict):
            after = dataclasses.replace(state, verdict=verdict) if version == state.at else state
            noted(standing, "proved", version, when, (verdict,), after)
