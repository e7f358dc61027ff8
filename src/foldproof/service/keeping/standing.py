"""A project's folder while it is held: put right after a stop, and one more change made in it.

The order of a change is: the text of the version, the line in the log, the newest file. A change has happened when its
line is on the disk. What a stop leaves before that is swept; a newest file that stayed behind is written again.
"""

from __future__ import annotations

import dataclasses
import os
from collections.abc import Iterator
from contextlib import contextmanager
from dataclasses import dataclass
from datetime import UTC, datetime
from pathlib import Path

from foldproof.design.history_words import change_lines, changes_between_texts
from foldproof.errors import InputError, wrong
from foldproof.project.read import read_project
from foldproof.service.files import MOST_BYTES, project_text
from foldproof.service.keeping import disk
from foldproof.service.keeping.changes import (
    MOST_WHAT,
    MOST_WORDS,
    Entry,
    Kind,
    State,
    hash_of,
    line_of,
    log_path,
    read_last,
)
from foldproof.service.keeping.lock import locked
from foldproof.service.keeping.places import HISTORY, NEWEST, VERSION_FILE, place_of, version_path
from foldproof.teach import wording_history as wording


@dataclass(frozen=True, slots=True, kw_only=True)
class Standing:
    """A project that is held: its folder, its state, the text it stands at, and the length of its log.

    ``outside`` says why a change made by hand to its newest file is not taken in.
    """

    here: Path
    state: State
    text: str
    log_bytes: int
    outside: str = ""


@contextmanager
def held(folder: Path, project_id: str, *, to_write: bool = True) -> Iterator[Standing]:
    """Holds the folder and puts the project right. With ``to_write`` a newest file nobody can read is set aside.

    Raises InputError when there is no such project, or nothing of it can be read.
    """
    with locked(folder):
        yield _put_right(place_of(folder, project_id), to_write)


def _put_right(here: Path, to_write: bool) -> Standing:
    disk.sweep(here)
    log = read_last(here)
    if not log.entries:
        _rebuild(here)
        log = read_last(here)
    state = log.entries[-1].state
    standing = Standing(here=here, state=state, text=standing_text(here, state), log_bytes=log.whole_bytes)
    newest = here / NEWEST
    found = disk.read(newest, MOST_BYTES)
    if hash_of(found) in (state.sha256, hash_of(standing.text.encode())):
        return standing
    if not os.path.lexists(newest) or hash_of(found) == state.was_sha256:
        disk.replace(newest, standing.text.encode())
        return standing
    return _take_in(standing, newest, found, to_write)


def _take_in(standing: Standing, newest: Path, found: bytes | None, to_write: bool) -> Standing:
    """A newest file that was changed by hand becomes a version of its own, when it can be read."""
    try:
        if found is None:
            raise wrong(NEWEST, "", "is no file of a project", "take it away")
        text = project_text(found, NEWEST)
        name = read_project(text).name
    except InputError as error:
        if to_write:
            return _set_aside(standing, newest)
        problem = error.problems[0]
        return dataclasses.replace(standing, outside=f"{problem.field}: {problem.reason}")
    if text == standing.text:  # saved again with other line ends
        disk.replace(newest, text.encode())
        return standing
    what = (wording.OUTSIDE, *what_changed(standing.text, text))
    return kept_version(standing, text, name, when=time_of(newest), what=what)


def _set_aside(standing: Standing, newest: Path) -> Standing:
    """A newest file that is about to be written over, and holds what nobody can read, is kept under another name."""
    number = 1
    while os.path.lexists(aside := standing.here / HISTORY / f"outside-{number:06d}.toml"):
        number += 1
    when = time_of(newest)
    disk.move(newest, aside)
    disk.replace(newest, standing.text.encode())
    what = (wording.SET_ASIDE.format(name=aside.name),)
    return noted(standing, "set aside", standing.state.at, when, what)


def time_of(path: Path) -> str:
    """When a file was changed last, as foldproof.service.world.now tells time."""
    return datetime.fromtimestamp(int(path.lstat().st_mtime), UTC).strftime("%Y-%m-%dT%H:%M:%SZ")


def standing_text(here: Path, state: State) -> str:
    """The text at which a project stands: from its history, or where that is damaged from its newest file."""
    for path in (version_path(here, state.at), here / NEWEST):
        try:
            data = disk.read(path, MOST_BYTES)
        except InputError:
            continue  # a bad place on the disk: the other file may be whole
        if data is not None and hash_of(data) == state.sha256:
            return project_text(data, path.name)
    raise wrong(
        f"version {state.at}",
        "",
        "is damaged on the disk",
        f"open an earlier version from {HISTORY} in the project's folder",
    )


def version_text(here: Path, number: int) -> str:
    """The text of any version. Raises InputError when there is none of this number."""
    data = disk.read(version_path(here, number), MOST_BYTES)
    if data is None:
        raise wrong("version", number, "there is no such version", "choose one of the history")
    return project_text(data, f"version {number}")


def what_changed(before: str, after: str) -> tuple[str, ...]:
    """What changed from one text to the other, in words, as a log keeps them."""
    return told(change_lines(changes_between_texts(before, after)))


def told(what: tuple[str, ...]) -> tuple[str, ...]:
    """Words as a log keeps them: few, on one line each."""
    lines = ("".join(char if char.isprintable() else " " for char in line)[:MOST_WORDS] for line in what[:MOST_WHAT])
    return tuple(lines)


# --- Changes ------------------------------------------------------------------------------------------------


def kept_version(standing: Standing, text: str, name: str, *, when: str, what: tuple[str, ...]) -> Standing:
    """One more version, made of the one at which the project stands; it stands at the new one then.

    ``name`` is the project's in ``text``.
    """
    state = standing.state
    number = _free_number(standing)
    after = dataclasses.replace(
        state,
        at=number,
        parent=state.at,
        tip=number,
        last=number,
        name=name,
        changed=when,
        sha256=hash_of(text.encode()),
        was_sha256=state.sha256,
        verdict="",
    )
    return _keep(standing, "version", text, Change(parent=state.at, when=when, what=what, after=after))


def kept_beside(standing: Standing, text: str, parent: int, *, when: str, what: tuple[str, ...]) -> Standing:
    """One more version beside the project, made of version ``parent``; the project stands where it stood."""
    after = dataclasses.replace(standing.state, last=_free_number(standing))
    return _keep(standing, "beside", text, Change(parent=parent, when=when, what=what, after=after))


def _free_number(standing: Standing) -> int:
    """The next number. A text of that number which the log does not know was left by a stop: half a one is swept."""
    number = standing.state.last + 1
    while os.path.lexists(path := version_path(standing.here, number)):
        if _reads(path):
            number += 1
        else:
            disk.take_away(path)
    return number


def _reads(path: Path) -> bool:
    try:
        read_project(project_text(disk.read(path, MOST_BYTES) or b"", path.name))
    except InputError:
        return False
    return True


def is_last(standing: Standing, text: str) -> bool:
    """Whether the version of the highest number has this text."""
    return disk.read(version_path(standing.here, standing.state.last), MOST_BYTES) == text.encode()


def moved(standing: Standing, after: State, text: str, *, when: str, what: tuple[str, ...]) -> Standing:
    """The project at another of its versions, which has ``text``; ``after`` needs neither time nor hashes."""
    was = standing.state.sha256
    after = dataclasses.replace(after, changed=when, sha256=hash_of(text.encode()), was_sha256=was)
    entry = Entry(kind="move", number=after.at, when=when, what=told(what), state=after)
    return _newest(_log(standing, entry), text)


def noted(
    standing: Standing, kind: Kind, number: int, when: str, what: tuple[str, ...] = (), after: State | None = None
) -> Standing:
    """A line in the log that is about no new version."""
    entry = Entry(kind=kind, number=number, when=when, what=told(what), state=after or standing.state)
    return _log(standing, entry)


@dataclass(frozen=True, slots=True, kw_only=True)
class Change:
    """What a version was made of, when, what changed, and the state after it."""

    parent: int
    when: str
    what: tuple[str, ...]
    after: State


def _keep(standing: Standing, kind: Kind, text: str, change: Change) -> Standing:
    data, number = text.encode(), change.after.last
    path = version_path(standing.here, number)
    disk.write_new(path, data)
    entry = Entry(
        kind=kind,
        number=number,
        parent=change.parent,
        when=change.when,
        what=told(change.what),
        sha256=hash_of(data),
        state=change.after,
    )
    logged = _log(standing, entry)
    return _newest(logged, text) if kind == "version" else logged


def _log(standing: Standing, entry: Entry) -> Standing:
    line = line_of(entry)
    disk.append(log_path(standing.here), line, standing.log_bytes)
    return dataclasses.replace(standing, state=entry.state, log_bytes=standing.log_bytes + len(line))


def _newest(standing: Standing, text: str) -> Standing:
    disk.replace(standing.here / NEWEST, text.encode())
    return dataclasses.replace(standing, text=text)


# --- A project without its log ------------------------------------------------------------------------------


def first_line(text: str, *, when: str, what: tuple[str, ...]) -> bytes:
    """The log of a project with a single version."""
    digest = hash_of(text.encode())
    state = State(at=1, parent=0, tip=1, last=1, name=read_project(text).name, changed=when, sha256=digest)
    entry = Entry(kind="version", number=1, when=when, what=told(what), state=state, sha256=digest)
    return line_of(entry)


def _rebuild(here: Path) -> None:
    """A new log for a folder that has none that can be read: from its versions, in order, and its newest file.

    Raises InputError when there is no project in it at all.
    """
    files = version_files(here)
    lines: list[bytes] = []
    at = 0
    for number, path in files:
        data = disk.read(path, MOST_BYTES)
        try:
            name = read_project(project_text(data or b"", path.name)).name
        except InputError:
            continue
        when, digest = time_of(path), hash_of(data)
        state = State(at=number, parent=at, tip=number, last=files[-1][0], name=name, changed=when, sha256=digest)
        entry = Entry(kind="version", number=number, parent=at, when=when, what=(), state=state, sha256=digest)
        lines.append(line_of(entry))
        at = number
    if not lines:
        lines = [_from_newest(here)]
    disk.sweep(here / HISTORY)
    disk.replace(log_path(here), b"".join(lines))


def _from_newest(here: Path) -> bytes:
    """The log of a folder that has a newest file and nothing else that can be read."""
    data = disk.read(here / NEWEST, MOST_BYTES)
    if data is None:
        raise wrong(here.name, "", "holds no project", f"put a project in it as {NEWEST}, or take the folder away")
    text = project_text(data, NEWEST)
    line = first_line(text, when=time_of(here / NEWEST), what=(wording.BROUGHT_IN,))
    disk.make_folder(here / HISTORY)
    disk.replace(version_path(here, 1), text.encode())
    return line


def version_files(here: Path) -> list[tuple[int, Path]]:
    """The number and the file of every version, in order, whether the log knows it or not."""
    history = here / HISTORY
    if history.is_symlink() or not history.is_dir():
        return []
    found = ((VERSION_FILE.fullmatch(path.name), path) for path in history.iterdir())
    return sorted((int(name[1]), path) for name, path in found if name is not None)
