"""Reading a project file and writing single files: bounded, worded when it cannot be, and never half done."""

from __future__ import annotations

import os
from pathlib import Path

from foldproof.errors import InputError, wrong

MOST_BYTES = 1_000_000  # thousands of times a project file
UTF16_MARKS = (b"\xff\xfe", b"\xfe\xff")
TOO_LONG_TO_SHOW = 200  # characters of a path; longer ones are told by their end


def read_project_text(path: str | Path) -> str:
    """The text of a project file. Raises InputError when there is none to read, saying why.

    A file over 1 MB is refused by its size, before it is read. UTF-8 with or without a byte-order mark.
    """
    told = shown_path(path)
    return project_text(_read_bounded(Path(path), told), told)


def project_text(data: bytes, told: str) -> str:
    """The text in the bytes of a project file, which is ``told`` so. Raises InputError when they are no text."""
    if len(data) > MOST_BYTES:
        raise _too_large(told, len(data))
    if data.startswith(UTF16_MARKS):
        raise wrong(told, "", "is saved as UTF-16", "save it again as UTF-8")
    try:
        text = data.decode("utf-8-sig")
    except UnicodeDecodeError as error:
        line = data.count(b"\n", 0, error.start) + 1
        reason = f"is not UTF-8 text: line {line} has a character that cannot be read"
        raise wrong(told, "", reason, "save it again as UTF-8") from error
    return text.replace("\r\n", "\n")


def _read_bounded(path: Path, told: str) -> bytes:
    try:
        if path.is_dir():
            raise wrong(told, "", "is a folder", "name the project file in it")
        if path.exists() and not path.is_file():
            raise wrong(told, "", "is no ordinary file", "name a project file")
        with open(path, "rb") as file:
            size = os.fstat(file.fileno()).st_size
            if size > MOST_BYTES:
                raise _too_large(told, size)
            data = file.read(MOST_BYTES + 1)
    except FileNotFoundError as error:
        raise wrong(
            told, "", "is not there", "check the name, or start one: foldproof new --help"
        ) from error
    except PermissionError as error:
        raise wrong(told, "", "may not be read by you", "change its permissions, or copy it") from error
    except (OSError, ValueError) as error:  # a name too long, or with a zero character
        raise wrong(told, "", f"cannot be read: {said(error)}", "check the name") from error
    if len(data) > MOST_BYTES:
        raise _too_large(told, len(data))
    return data


def _too_large(told: str, size: int) -> InputError:
    reason = f"is {size / 1_000_000:.1f} MB, far too large for a project file"
    return wrong(told, "", reason, "name a project file; one has a few dozen lines")


def write_atomically(path: str | Path, contents: str | bytes) -> None:
    """Writes a file whole or not at all: the old one stays until the new one is safe on the disk. Text is UTF-8.

    Raises InputError when the folder or the file may not be written.
    """
    target = Path(path)
    target = target.resolve() if target.is_symlink() else target
    fresh = target.with_name(f".{target.name[:80]}.{os.getpid()}.new")
    told = shown_path(path)
    try:
        mode = target.stat().st_mode & 0o777 if target.exists() else None
        try:
            write_flushed(fresh, contents.encode("utf-8") if isinstance(contents, str) else contents)
            if mode is not None:
                os.chmod(fresh, mode)
            os.replace(fresh, target)
        finally:
            fresh.unlink(missing_ok=True)
        flush_folder(target.parent)
    except (OSError, ValueError) as error:
        raise not_writable(told, error) from error


def write_new(path: str | Path, contents: str | bytes, *, remedy: str = "name another file with -o") -> None:
    """As write_atomically, but refuses to replace a file that is there."""
    if os.path.lexists(path):
        raise wrong(shown_path(path), "", "is there already", remedy)
    write_atomically(path, contents)


def write_flushed(path: Path, data: bytes) -> None:
    """Writes a new file and waits until it is on the disk."""
    with open(path, "xb") as file:
        file.write(data)
        file.flush()
        os.fsync(file.fileno())


def flush_folder(folder: Path) -> None:
    """Waits until a folder's entries are on the disk, where a folder can be asked for that."""
    if os.name != "posix":
        return
    handle = os.open(folder, os.O_RDONLY)
    try:
        os.fsync(handle)
    finally:
        os.close(handle)


def not_writable(told: str, error: OSError | ValueError) -> InputError:
    """What to say of a place that cannot be written."""
    if isinstance(error, FileNotFoundError | NotADirectoryError):
        return wrong(told, "", "is in a folder that is not there", "make the folder, or name another place")
    if isinstance(error, PermissionError):
        return wrong(told, "", "may not be written by you", "name a place of your own")
    return wrong(told, "", f"cannot be written: {said(error)}", "name another place")


def said(error: OSError | ValueError) -> str:
    """The reason the system gives for what did not come about, without the path."""
    if isinstance(error, OSError) and error.strerror:
        return error.strerror[:1].lower() + error.strerror[1:]
    return str(error)


def shown_path(path: str | Path) -> str:
    """A path as a person recognises it: on one line, not endless."""
    text = "".join(char if char.isprintable() else "\ufffd" for char in str(path))
    return text if len(text) <= TOO_LONG_TO_SHOW else f"…{text[-TOO_LONG_TO_SHOW:]}"
