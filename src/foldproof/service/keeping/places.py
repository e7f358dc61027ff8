"""Where each kept project lies. Its folder's name is made here, so no name of a maker's or of a file can lead out."""

from __future__ import annotations

import os
import re
from collections.abc import Iterator
from pathlib import Path

from foldproof.errors import InputError, wrong
from foldproof.project.problems import in_short
from foldproof.service.starting import ENDING, RESERVED, file_name
from foldproof.service.world import data_folder

VARIABLE = "FOLDPROOF_PROJECTS"
NEWEST, HISTORY, CHANGES, BIN = "project.toml", "history", "changes.log", ".bin"

ID = re.compile(r"[a-z0-9](?:[a-z0-9-]{0,78}[a-z0-9])?")
VERSION_FILE = re.compile(r"([0-9]{6,9})\.toml")


def projects_folder(asked: str | Path | None = None) -> Path:
    """The folder of kept projects: the one asked for, FOLDPROOF_PROJECTS, or one among the maker's own data."""
    return data_folder("projects", asked, VARIABLE)


def is_id(name: str) -> bool:
    """Whether a folder of this name can be a project's."""
    return ID.fullmatch(name) is not None and RESERVED.fullmatch(name) is None


def no_project(name: str) -> InputError:
    """What to say of an id that leads to no project."""
    return wrong("project", in_short(name), "there is no such project", "choose one that is listed")


def place_of(folder: Path, project_id: str) -> Path:
    """The folder of a kept project. Raises InputError for an id that is none, leads nowhere, or to a link."""
    if not is_id(project_id):
        raise no_project(project_id)
    here = folder / project_id
    if here.is_symlink() or not here.is_dir() or (here / HISTORY).is_symlink():
        raise no_project(project_id)
    return here


def bin_of(folder: Path) -> Path:
    """The folder of what was removed, there or not. Raises InputError for a link in its place."""
    if (folder / BIN).is_symlink():
        raise wrong(BIN, "", "is a link", "take it away")
    return folder / BIN


def ids_in(folder: Path) -> Iterator[str]:
    """The ids of what is in a folder of projects, in alphabetical order. Links and everything else are passed over."""
    try:
        with os.scandir(folder) as entries:
            found = [entry.name for entry in entries if is_id(entry.name) and entry.is_dir(follow_symlinks=False)]
    except (FileNotFoundError, NotADirectoryError):
        found = []
    yield from sorted(found)


def free_id(folder: Path, name: str) -> str:
    """An id for a project of this name, which no other has: 'keepsake-box', 'keepsake-box-2'."""
    plain = file_name(name).removesuffix(ENDING)
    number = 1
    while True:
        candidate = plain if number == 1 else f"{plain}-{number}"
        if not os.path.lexists(folder / candidate):
            return candidate
        number += 1


def version_path(here: Path, number: int) -> Path:
    """The file of one version."""
    return here / HISTORY / f"{number:06d}.toml"
