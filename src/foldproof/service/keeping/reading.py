"""Looking at kept projects: the list, one of them, its history, and what differs between two versions."""

from __future__ import annotations

from pathlib import Path

from foldproof.design.history_words import ValueChange, changes_between_texts
from foldproof.errors import InputError
from foldproof.project.read import read_project
from foldproof.service.files import MOST_BYTES, project_text
from foldproof.service.keeping import disk
from foldproof.service.keeping.changes import OF_A_VERSION, Entry, State, hash_of, read_last, read_log
from foldproof.service.keeping.places import NEWEST, ids_in, place_of
from foldproof.service.keeping.records import Kept, KeptText, Version
from foldproof.service.keeping.standing import held, standing_text, time_of, version_files, version_text
from foldproof.teach import wording_history as wording


def kept(folder: Path) -> tuple[Kept, ...]:
    """Every project in the folder, the one changed last first. One that cannot be opened says why."""
    found = [_listed(folder / project_id) for project_id in ids_in(folder)]
    return tuple(sorted(sorted(found, key=lambda each: each.id), key=lambda each: each.changed, reverse=True))


def _listed(here: Path) -> Kept:
    try:
        log = read_last(here)
        if log.entries:
            return _as_logged(here.name, log.entries[-1].state)
        name = read_project(project_text(disk.read(here / NEWEST, MOST_BYTES) or b"", NEWEST)).name
        return Kept(id=here.name, name=name, changed=time_of(here / NEWEST), version=0)
    except InputError as error:
        return Kept(id=here.name, name=here.name, changed="", version=0, trouble=error.problems[0].reason)


def _as_logged(project_id: str, state: State) -> Kept:
    return Kept(
        id=project_id,
        name=state.name,
        changed=state.changed,
        version=state.at,
        archived=state.archived,
        verdict=state.verdict,
    )


def open_kept(folder: Path, project_id: str) -> KeptText:
    """A project as it stands. A change made by hand to its newest file is taken in as a version, if it can be read.

    The text is not read as a project: whether this program can is for ``read_project`` to say. Raises InputError
    when there is no such project, or its text is damaged.
    """
    here = place_of(folder, project_id)
    log = read_last(here)
    if log.entries:
        state = log.entries[-1].state
        if hash_of(disk.read(here / NEWEST, MOST_BYTES)) == state.sha256:
            return kept_text(project_id, state, standing_text(here, state))
    with held(folder, project_id, to_write=False) as standing:
        return kept_text(project_id, standing.state, standing.text, standing.outside)


def kept_text(project_id: str, state: State, text: str, outside: str = "") -> KeptText:
    """A state and its text as they are told."""
    return KeptText(
        id=project_id,
        name=state.name,
        version=state.at,
        text=text,
        changed=state.changed,
        archived=state.archived,
        verdict=state.verdict,
        can_undo=state.parent > 0,
        can_redo=state.at != state.tip,
        outside=outside,
    )


# --- History ------------------------------------------------------------------------------------------------


def versions(folder: Path, project_id: str) -> tuple[Version, ...]:
    """The history: every version that was ever kept, in the order of their numbers."""
    here = place_of(folder, project_id)
    entries = read_log(here).entries
    if not entries:
        with held(folder, project_id, to_write=False):
            entries = read_log(here).entries
    state = entries[-1].state
    known = {entry.number: entry for entry in entries if entry.kind in OF_A_VERSION}
    way = set(way_to(entries, state.tip))
    found = [
        Version(
            number=entry.number,
            parent=entry.parent,
            when=entry.when,
            what=entry.what,
            current=entry.number == state.at,
            on_the_way=entry.number in way,
            beside=entry.kind == "beside",
        )
        for entry in known.values()
    ]
    found += [_found(number, path) for number, path in version_files(here) if number not in known]
    return tuple(sorted(found, key=lambda version: version.number))


def _found(number: int, path: Path) -> Version:
    """A text that no line of the log tells of: the stop came before the line, or the line is damaged."""
    return Version(
        number=number,
        parent=0,
        when=time_of(path),
        what=(wording.FOUND,),
        current=False,
        on_the_way=False,
        beside=True,
    )


def way_to(entries: tuple[Entry, ...], number: int) -> tuple[int, ...]:
    """A version and all that it was made of, the newest first."""
    parents = {entry.number: entry.parent for entry in entries if entry.kind in OF_A_VERSION}
    way = []
    while number in parents:
        way.append(number)
        number = parents.pop(number)  # taken out, so that a damaged log cannot lead round in a ring
    return tuple(way)


def text_of(folder: Path, project_id: str, number: int) -> str:
    """The text of any version. Raises InputError when there is none of this number."""
    return version_text(place_of(folder, project_id), number)


def compare(folder: Path, project_id: str, one: int, other: int) -> tuple[ValueChange, ...]:
    """Every value that differs between two versions, with both of its values."""
    here = place_of(folder, project_id)
    return changes_between_texts(version_text(here, one), version_text(here, other))
