"""Files that are whole or not there: each is on the disk before anything speaks of it.

Every call to the system that changes something is in here, and each is safe to be the last one.
"""

from __future__ import annotations

import os
import shutil
import stat
from collections.abc import Mapping
from pathlib import Path

from foldproof.errors import wrong
from foldproof.service.files import flush_folder, said

NEW = ".new"  # what the name of an unfinished file or folder ends with
_PLAIN = getattr(os, "O_NOFOLLOW", 0) | getattr(os, "O_CLOEXEC", 0) | getattr(os, "O_BINARY", 0)
_WAIT_NOT = getattr(os, "O_NONBLOCK", 0)  # a pipe in the place of a file must not hold us up


def read(path: Path, most_bytes: int) -> bytes | None:
    """A file's bytes; None when there is none, it is no ordinary file, is a link, or is larger.

    Raises InputError when there is a file and the system does not give it.
    """
    return read_end(path, most_bytes)[0]


def read_end(path: Path, most_bytes: int, *, only_end: bool = False) -> tuple[bytes | None, int]:
    """As read, and the file's size. With ``only_end`` a larger file's last bytes are read."""
    try:
        if path.is_symlink() or not path.is_file():
            return None, 0
        return _read_end(path, most_bytes, only_end)
    except (FileNotFoundError, NotADirectoryError):
        return None, 0
    except OSError as error:
        # Not the same as no file: what is there must not be taken for lost because the system is short of something.
        raise wrong(path.name, "", f"cannot be read: {said(error)}", "try again, or look at the disk") from error


def _read_end(path: Path, most_bytes: int, only_end: bool) -> tuple[bytes | None, int]:
    handle = os.open(path, os.O_RDONLY | _PLAIN | _WAIT_NOT)
    try:
        about = os.fstat(handle)
        if not stat.S_ISREG(about.st_mode) or (about.st_size > most_bytes and not only_end):
            return None, about.st_size
        start = max(0, about.st_size - most_bytes)
        os.lseek(handle, start, os.SEEK_SET)
        data = bytearray()
        while len(data) < most_bytes and (chunk := os.read(handle, most_bytes - len(data))):
            data += chunk
        return bytes(data), start + len(data)
    finally:
        os.close(handle)


def write_new(path: Path, data: bytes) -> None:
    """A new file. One that is there already is an error. After a stop there may be half of it."""
    _write(path, os.O_CREAT | os.O_EXCL, data)
    flush_folder(path.parent)


def write_all(folder: Path, files: Mapping[str, bytes]) -> None:
    """New files in a folder that nobody looks into yet."""
    for name, data in files.items():
        _write(folder / name, os.O_CREAT | os.O_EXCL, data)
    flush_folder(folder)


def replace(path: Path, data: bytes) -> None:
    """A file in the place of another, at one stroke."""
    fresh = path.with_name(f".{path.name}{NEW}")
    fresh.unlink(missing_ok=True)
    _write(fresh, os.O_CREAT | os.O_EXCL, data)
    os.replace(fresh, path)
    flush_folder(path.parent)


def append(path: Path, data: bytes, whole_bytes: int) -> None:
    """Adds to the first ``whole_bytes`` of a file; what follows them is left of a stop, and goes.

    When the disk is full the file is as it was.
    """
    handle = os.open(path, os.O_WRONLY | os.O_APPEND | _PLAIN)
    try:
        if os.fstat(handle).st_size != whole_bytes:
            os.ftruncate(handle, whole_bytes)
        try:
            _write_all(handle, data)
            os.fsync(handle)
        except OSError:
            os.ftruncate(handle, whole_bytes)
            raise
    finally:
        os.close(handle)


def _write(path: Path, how: int, data: bytes) -> None:
    handle = os.open(path, os.O_WRONLY | how | _PLAIN, 0o666)
    try:
        _write_all(handle, data)
        os.fsync(handle)
    finally:
        os.close(handle)


def _write_all(handle: int, data: bytes) -> None:
    view = memoryview(data)
    while view:
        view = view[os.write(handle, view) :]


def take_away(path: Path) -> None:
    """A file, or a link, is no more."""
    path.unlink()
    flush_folder(path.parent)


def make_folder(path: Path) -> None:
    """A folder that is there, made when it is missing."""
    path.mkdir(exist_ok=True)
    flush_folder(path.parent)


def sweep(folder: Path) -> None:
    """Takes away what a stop left unfinished in a folder. Only the one who holds the lock may."""
    with os.scandir(folder) as entries:
        left = [entry for entry in entries if entry.name.startswith(".") and entry.name.endswith(NEW)]
    for entry in left:
        if entry.is_dir(follow_symlinks=False):
            shutil.rmtree(entry.path)
        else:
            os.unlink(entry.path)


def move(source: Path, target: Path) -> None:
    """A folder or file in another place, which must be free, at one stroke."""
    assert not os.path.lexists(target), "the one who holds the lock looked"
    os.rename(source, target)
    flush_folder(target.parent)
    if source.parent != target.parent:
        flush_folder(source.parent)
