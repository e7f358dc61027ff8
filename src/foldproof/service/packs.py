"""Writing a pack: built whole beside its place, then swapped in, so that a pack that is there stays whole."""

from __future__ import annotations

import hashlib
import json
import os
import re
import shutil
from collections.abc import Iterable
from pathlib import Path, PurePosixPath
from typing import Any

from foldproof.errors import wrong
from foldproof.service.files import flush_folder, not_writable, shown_path, write_flushed

LISTING = "pack.json"  # marks a folder as a pack, and lists its files with their hashes
OF_THE_SYSTEM = frozenset({".DS_Store", "Thumbs.db", "desktop.ini"})  # left in folders by file windows
MOST_LISTING_BYTES = 10_000_000
MOST_NAMED = 3  # foreign files named in a refusal
MOST_FILES = 5_000  # looked at in a folder before it is called foreign
# Names that every file system takes: no letters but plain ones, no leading dot or hyphen, no dot at the end.
SAFE_NAME = re.compile(r"[A-Za-z0-9_](?:[A-Za-z0-9 ._-]{0,98}[A-Za-z0-9_-])?")


def write_pack(folder: str | Path, files: Iterable[tuple[str, bytes]]) -> None:
    """Makes ``folder`` hold exactly ``files``: (path inside it with ``/``, contents), one of them ``pack.json``.

    Raises InputError, with nothing changed, when the folder holds anything that is not an untouched pack of
    ours, or cannot be written. A failure or a stop at any moment leaves the previous pack whole; if the
    machine itself stops between the two renames, the next pack puts it back first.
    """
    contents = dict(files)
    assert LISTING in contents, "a pack lists its files"
    for path in contents:
        _assert_inside(path)
    target, told = _resolved(folder), shown_path(folder)
    previous = target.with_name(f".{target.name[:80]}.previous")
    fresh = target.with_name(f".{target.name[:80]}.{os.getpid()}.fresh")
    try:
        target.parent.mkdir(parents=True, exist_ok=True)
        _restore(previous, target)
        refuse_foreign(target)
        shutil.rmtree(fresh, ignore_errors=True)
        try:
            _build(fresh, contents)
            _swap(fresh, target, previous)
        finally:
            shutil.rmtree(fresh, ignore_errors=True)
        shutil.rmtree(previous, ignore_errors=True)
    except OSError as error:
        raise not_writable(told, error) from error


def refuse_foreign(folder: str | Path) -> None:
    """Raises InputError unless ``folder`` is missing, empty, or a pack of ours that nobody changed."""
    target, told = Path(folder), shown_path(folder)
    if not os.path.lexists(target):
        return
    if not target.is_dir():
        raise wrong(told, "", "is a file, and a pack is a folder", "name a folder")
    found = _files_in(target)
    if not found:
        return
    listed = _listing(target)
    if listed is None:
        raise wrong(told, "", "holds files that are not a pack", "name a new folder, or an empty one")
    foreign = [path for path in found if listed.get(path) != _hash(target / path) and path != LISTING]
    if foreign:
        more = f" and {len(foreign) - MOST_NAMED} more" if len(foreign) > MOST_NAMED else ""
        names = ", ".join(shown_path(path) for path in foreign[:MOST_NAMED])
        raise wrong(
            told, "", f"holds files of your own: {names}{more}", "move them out first, or name a new folder"
        )


def _resolved(folder: str | Path) -> Path:
    told = shown_path(folder)
    try:
        target = Path(folder).resolve()
    except (OSError, ValueError, RuntimeError) as error:
        raise wrong(told, "", "is no place for a folder", "name a new folder") from error
    if not target.name:
        raise wrong(told, "", "is the root of the disk", "name a new folder")
    return target


def _assert_inside(path: str) -> None:
    names = path.split("/")
    safe = all(SAFE_NAME.fullmatch(name) for name in names)
    assert safe and not PurePosixPath(path).is_absolute(), f"{path!r} is no path inside a pack"


def _files_in(folder: Path) -> list[str]:
    """Every file below ``folder`` as a path inside it, sorted; links and empty folders count as files."""
    found: list[str] = []
    waiting = [folder]
    while waiting and len(found) < MOST_FILES:
        here = waiting.pop()
        entries = sorted(here.iterdir())
        if not entries and here != folder:
            found.append(here.relative_to(folder).as_posix())
        for entry in entries:
            if entry.is_dir() and not entry.is_symlink():
                waiting.append(entry)
            elif entry.name not in OF_THE_SYSTEM:
                found.append(entry.relative_to(folder).as_posix())
    return sorted(found)


def _listing(folder: Path) -> dict[str, str] | None:
    """Path to hash as ``pack.json`` lists them; None when there is no such listing."""
    path = folder / LISTING
    try:
        if path.is_symlink() or not path.is_file() or path.stat().st_size > MOST_LISTING_BYTES:
            return None
        told: Any = json.loads(path.read_bytes())
        if told["report"] != "pack":
            return None
        return {str(entry["path"]): str(entry["sha256"]) for entry in told["files"]}
    except (ValueError, KeyError, TypeError, RecursionError):
        return None


def _hash(path: Path) -> str:
    if path.is_symlink() or not path.is_file():
        return ""
    with open(path, "rb") as file:
        return hashlib.file_digest(file, "sha256").hexdigest()


def _build(fresh: Path, contents: dict[str, bytes]) -> None:
    os.mkdir(fresh)
    folders = {fresh}
    for path, data in contents.items():
        place = fresh.joinpath(*path.split("/"))
        place.parent.mkdir(parents=True, exist_ok=True)
        folders.add(place.parent)
        write_flushed(place, data)
    for folder in sorted(folders):
        flush_folder(folder)


def _restore(previous: Path, target: Path) -> None:
    """Puts back a pack that was set aside when the machine stopped; drops one that was replaced."""
    if not os.path.lexists(previous):
        return
    if os.path.lexists(target):
        shutil.rmtree(previous)
    else:
        os.rename(previous, target)


def _swap(fresh: Path, target: Path, previous: Path) -> None:
    """Two renames. If the second one does not come about, the first is undone."""
    was_there = os.path.lexists(target)
    if was_there:
        os.rename(target, previous)
    done = False
    try:
        os.rename(fresh, target)
        done = True
    finally:
        if was_there and not done:
            os.rename(previous, target)
    flush_folder(target.parent)
