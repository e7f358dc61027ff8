"""One file to send a project in, and a project from such a file: its text alone, or all of its history with it.

With its history it is a zip of ``project.toml``, ``history/changes.log`` and ``history/000001.toml`` and so on. What
comes from outside is read within bounds, by these names alone, and its log is written anew: nothing of it is believed
but texts, times and words.
"""

from __future__ import annotations

import io
import re
import struct
import zipfile
import zlib
from collections.abc import Iterator
from pathlib import Path

from foldproof.errors import InputError, wrong
from foldproof.project.read import read_project
from foldproof.service.files import MOST_BYTES, project_text
from foldproof.service.keeping import disk
from foldproof.service.keeping.changes import OF_A_VERSION, Entry, State, entries_in, hash_of, line_of, read_log
from foldproof.service.keeping.places import CHANGES, HISTORY, NEWEST, VERSION_FILE, place_of, version_path
from foldproof.service.keeping.reading import open_kept
from foldproof.service.keeping.shelving import put_in, start
from foldproof.service.keeping.standing import told, version_text
from foldproof.teach import wording_history as wording

LOG = f"{HISTORY}/{CHANGES}"
ZIP_BEGINS = b"PK\x03\x04"
MOST_SENT_BYTES = 20_000_000  # years of edits of one project
MOST_VERSIONS = 20_000
MOST_LOG_BYTES = 50_000_000
MOST_UNPACKED_BYTES = 200_000_000  # of all texts together
SENT_TIME = (1980, 1, 1, 0, 0, 0)  # the first a zip can tell: the same project, the same bytes
TIME = re.compile(r"[0-9]{4}-[0-9]{2}-[0-9]{2}T[0-9]{2}:[0-9]{2}:[0-9]{2}Z")

# The end of a zip (PKWARE APPNOTE 6.3, 4.3.16): entries, bytes and place of its directory, length of a note.
_END = struct.Struct("<4s4xHHIIH")
_END_BEGINS, _LARGE = b"PK\x05\x06", b"PK\x06\x07"
_MOST_DIRECTORY_BYTES = 200 * (MOST_VERSIONS + 2)


def send_out(folder: Path, project_id: str, *, with_history: bool = False) -> bytes:
    """The project as one file: its text, or a zip that has every version too. Raises InputError for too many."""
    opened = open_kept(folder, project_id)
    if not with_history:
        return opened.text.encode()
    here = place_of(folder, project_id)
    entries = read_log(here).entries
    numbers = sorted({entry.number for entry in entries if entry.kind in OF_A_VERSION})
    if len(numbers) > MOST_VERSIONS:
        raise wrong("history", len(numbers), "has too many versions for one file", "send the project without it")
    packed = io.BytesIO()
    with zipfile.ZipFile(packed, "w", zipfile.ZIP_DEFLATED) as sent:
        _add(sent, NEWEST, opened.text.encode())
        _add(sent, LOG, b"".join(map(line_of, entries)))
        for number in numbers:
            _add(sent, f"{HISTORY}/{version_path(here, number).name}", version_text(here, number).encode())
    data = packed.getvalue()
    if len(data) > MOST_SENT_BYTES:
        raise wrong("history", f"{len(data)} bytes", "is too large for one file", "send the project without it")
    return data


def _add(sent: zipfile.ZipFile, name: str, data: bytes) -> None:
    about = zipfile.ZipInfo(name, SENT_TIME)
    about.compress_type = zipfile.ZIP_DEFLATED
    about.create_system = 3  # as on Unix, whatever system it is written on
    sent.writestr(about, data)


def bring_in(folder: Path, data: bytes, *, when: str) -> str:
    """Keeps a project that was sent, as text or as a zip with its history; its id. Raises InputError."""
    if not data.startswith(ZIP_BEGINS):
        return start(folder, project_text(data, "the file"), when=when, what=wording.BROUGHT_IN)
    name, files = _history(_unpacked(data), when)

    def fill(here: Path) -> None:
        disk.write_all(here, {path: text for path, text in files.items() if "/" not in path})
        disk.write_all(here / HISTORY, {path.partition("/")[2]: text for path, text in files.items() if "/" in path})

    return put_in(folder, name, fill)


# --- What comes from outside --------------------------------------------------------------------------------


def _refused(reason: str) -> InputError:
    return wrong("the file", "", reason, f"bring in the {NEWEST} that is in it, or ask for the file again")


def _unpacked(data: bytes) -> dict[str, bytes]:
    """The files in a zip by name, none but ours, within bounds of number and size."""
    if len(data) > MOST_SENT_BYTES:
        raise _refused(f"is larger than {MOST_SENT_BYTES // 1_000_000} MB")
    _refuse_long_directory(data)
    try:
        with zipfile.ZipFile(io.BytesIO(data)) as sent:
            return dict(_members(sent))
    except (zipfile.BadZipFile, zlib.error, EOFError, NotImplementedError, RuntimeError, ValueError) as error:
        raise _refused("is damaged, or packed in a way we do not read") from error


def _refuse_long_directory(data: bytes) -> None:
    """Looks at the size of the directory before anything makes a list of it."""
    at = data.rfind(_END_BEGINS)
    if at < 0 or len(data) - at < _END.size or _LARGE in data[max(0, at - 20) : at]:
        raise _refused("is damaged, or packed in a way we do not read")
    _, _, count, directory_bytes, _, _ = _END.unpack_from(data, at)
    if count > MOST_VERSIONS + 2 or directory_bytes > _MOST_DIRECTORY_BYTES:
        raise _refused("has too many files in it")


def _members(sent: zipfile.ZipFile) -> Iterator[tuple[str, bytes]]:
    seen: set[str] = set()
    left = MOST_UNPACKED_BYTES
    for about in sent.infolist():
        name = about.filename
        version = name.startswith(f"{HISTORY}/") and VERSION_FILE.fullmatch(name.removeprefix(f"{HISTORY}/"))
        if name in seen or not (version or name in (NEWEST, LOG)):
            raise _refused("has a file in it that is none of a project's")
        seen.add(name)
        most = min(MOST_LOG_BYTES if name == LOG else MOST_BYTES, left)
        # What the directory says of the size is not believed: never more than the bound is unpacked.
        with sent.open(about) as member:
            content = member.read(most + 1)
        if len(content) > most:
            raise _refused("has a file in it that is too large")
        left -= len(content)
        yield name, content


def _history(files: dict[str, bytes], when: str) -> tuple[str, dict[str, bytes]]:
    """The project's name, and its files as they are to be kept: texts in our spelling, and a log of our own."""
    if NEWEST not in files or LOG not in files:
        raise _refused("has no project in it")
    entries = entries_in(files[LOG]).entries
    newest = project_text(files[NEWEST], NEWEST)
    name = read_project(newest).name
    if not entries:
        raise _refused("has a history that cannot be read")
    found = {entry.number: entry for entry in entries if entry.kind in OF_A_VERSION}
    texts = {number: _text(files, number) for number in sorted(found)}
    last = entries[-1].state
    if texts.get(last.at) != newest:
        raise _refused("has a history that is not the project's")
    kept = {NEWEST: newest.encode()}
    kept |= {_version_name(number): text.encode() for number, text in texts.items()}
    kept[LOG] = b"".join(map(line_of, _entries_anew(found, texts, last, name, when)))
    return name, kept


def _version_name(number: int) -> str:
    return f"{HISTORY}/{version_path(Path(), number).name}"


def _text(files: dict[str, bytes], number: int) -> str:
    if _version_name(number) not in files:
        raise _refused(f"has no version {number}, of which its history tells")
    return project_text(files[_version_name(number)], f"version {number}")


def _entries_anew(found: dict[int, Entry], texts: dict[int, str], last: State, name: str, when: str) -> Iterator[Entry]:
    """A line for each version, and one for having been brought in. Verdicts of others are not taken over."""

    def parent_of(number: int) -> int:
        parent = found[number].parent
        return parent if parent < number and parent in found else 0

    state = State(
        at=last.at,
        parent=parent_of(last.at),
        tip=last.tip if last.tip in found else last.at,
        last=max(found),
        name=name,
        changed=when,
        sha256=hash_of(texts[last.at].encode()),
    )
    for number, text in texts.items():
        entry = found[number]
        yield Entry(
            kind=entry.kind,
            number=number,
            parent=parent_of(number),
            when=entry.when if TIME.fullmatch(entry.when) else "",
            what=told(entry.what),
            sha256=hash_of(text.encode()),
            state=state,
        )
    yield Entry(kind="move", number=last.at, when=when, what=(wording.BROUGHT_IN,), state=state)
