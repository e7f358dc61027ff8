"""Putting projects into the folder, copying them, and putting them away: into the archive, or into the bin."""

from __future__ import annotations

import dataclasses
from collections.abc import Callable
from pathlib import Path

from foldproof.errors import wrong
from foldproof.project.problems import in_short
from foldproof.project.read import read_project
from foldproof.project.write import with_change
from foldproof.service.files import project_text
from foldproof.service.keeping import disk
from foldproof.service.keeping.changes import log_path, read_last
from foldproof.service.keeping.lock import locked
from foldproof.service.keeping.places import HISTORY, NEWEST, bin_of, free_id, ids_in, version_path
from foldproof.service.keeping.reading import open_kept
from foldproof.service.keeping.records import Removed
from foldproof.service.keeping.standing import first_line, held, noted
from foldproof.teach import wording_history as wording

UNFINISHED = f".project{disk.NEW}"  # one hand at a time, so one name is enough


def start(folder: Path, text: str, *, when: str, what: str = wording.STARTED) -> str:
    """Keeps a new project; its id. Raises InputError for a text that is no project, and when it cannot be kept."""
    text = project_text(text.encode(), "the project")
    name = read_project(text).name

    def fill(here: Path) -> None:
        disk.write_new(here / NEWEST, text.encode())
        disk.write_new(version_path(here, 1), text.encode())
        disk.write_new(log_path(here), first_line(text, when=when, what=(what,)))

    return put_in(folder, name, fill)


def put_in(folder: Path, name: str, fill: Callable[[Path], None]) -> str:
    """A new project's folder, filled before it can be seen; its id, made from its name."""
    with locked(folder):
        disk.sweep(folder)
        unfinished = folder / UNFINISHED
        disk.make_folder(unfinished)
        disk.make_folder(unfinished / HISTORY)
        fill(unfinished)
        project_id = free_id(folder, name)
        disk.move(unfinished, folder / project_id)
        return project_id


def copy(folder: Path, project_id: str, name: str, *, when: str) -> str:
    """A new project with the text at which another stands, under its own name; its id. Its history begins anew."""
    source = open_kept(folder, project_id)
    text = with_change(source.text, "name", name)
    return start(folder, text, when=when, what=wording.COPIED.format(name=source.name))


def archive(folder: Path, project_id: str, *, when: str) -> None:
    """Marks a project as put away: it stays where it is, and is listed as archived."""
    _mark(folder, project_id, when, archived=True)


def restore(folder: Path, project_id: str, *, when: str) -> None:
    """Takes a project out of the archive."""
    _mark(folder, project_id, when, archived=False)


def _mark(folder: Path, project_id: str, when: str, *, archived: bool) -> None:
    with held(folder, project_id, to_write=False) as standing:
        if standing.state.archived != archived:
            after = dataclasses.replace(standing.state, archived=archived)
            noted(standing, "archived" if archived else "restored", after.at, when, (), after)


# --- The bin ------------------------------------------------------------------------------------------------


def remove(folder: Path, project_id: str, *, when: str) -> str:
    """Puts a project into the bin with its whole history; the name it has there, to take it back with."""
    with held(folder, project_id, to_write=False) as standing:
        noted(standing, "removed", standing.state.at, when)
        bin_folder = bin_of(folder)
        disk.make_folder(bin_folder)
        bin_id = free_id(bin_folder, project_id)
        disk.move(standing.here, bin_folder / bin_id)
        return bin_id


def removed(folder: Path) -> tuple[Removed, ...]:
    """What is in the bin, put there last first."""
    found = []
    for bin_id in ids_in(bin_of(folder)):
        entries = read_last(bin_of(folder) / bin_id).entries
        name, when = (entries[-1].state.name, entries[-1].when) if entries else (bin_id, "")
        found.append(Removed(bin_id=bin_id, name=name, when=when))
    return tuple(sorted(found, key=lambda each: each.when, reverse=True))


def take_back(folder: Path, bin_id: str, *, when: str) -> str:
    """Takes a project out of the bin; its id, which is the one it had unless another has it now."""
    with locked(folder):
        if bin_id not in ids_in(bin_of(folder)):
            raise wrong("bin", in_short(bin_id), "there is no such project in the bin", "choose one that is listed")
        project_id = free_id(folder, bin_id)
        disk.move(bin_of(folder) / bin_id, folder / project_id)
    with held(folder, project_id, to_write=False) as standing:
        noted(standing, "taken back", standing.state.at, when)
    return project_id
