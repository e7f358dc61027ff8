"""The log of a project: one line for each change, each with the state that it left.

A change has happened when its line is whole on the disk. Each line has its own check sum, so half a line, or one that
was damaged, is known and passed over.
"""

from __future__ import annotations

import dataclasses
import hashlib
import json
import zlib
from collections.abc import Iterator
from dataclasses import dataclass
from pathlib import Path
from typing import Any, Literal, get_args

from foldproof.service.keeping import disk
from foldproof.service.keeping.places import CHANGES, HISTORY

Kind = Literal["version", "beside", "move", "archived", "restored", "proved", "set aside", "removed", "taken back"]

OF_A_VERSION: tuple[Kind, ...] = ("version", "beside")  # the changes that keep a text

MOST_LOG_BYTES = 1_000_000_000  # millions of changes; a larger file is no log
TAIL_BYTES = 1 << 16  # holds the last line of any log: its words are few
MOST_WHAT = 20  # lines of words in one change
MOST_WORDS = 400  # characters of one of them
MOST_NAME = 300


@dataclass(frozen=True, slots=True, kw_only=True)
class State:
    """How a project stands after a change.

    It stands ``at`` a version, made of version ``parent``; redoing leads towards version ``tip``; ``last`` is the
    highest number given. ``sha256`` is of the text at which it stands, and ``was_sha256`` of the one before: what the
    newest file holds when a stop came between the log and that file.
    """

    at: int
    parent: int
    tip: int
    last: int
    name: str
    changed: str
    sha256: str
    was_sha256: str = ""
    archived: bool = False
    verdict: str = ""


@dataclass(frozen=True, slots=True, kw_only=True)
class Entry:
    """One change. ``number`` is the version it is about; a version kept has its ``parent`` and the hash of its text."""

    kind: Kind
    number: int
    when: str
    what: tuple[str, ...]
    state: State
    parent: int = 0
    sha256: str = ""


def hash_of(data: bytes | None) -> str:
    """The SHA-256 of a file's bytes, in hex digits; "" for no file."""
    return "" if data is None else hashlib.sha256(data).hexdigest()


def line_of(entry: Entry) -> bytes:
    """A change as its line."""
    told = json.dumps(dataclasses.asdict(entry), ensure_ascii=True, separators=(",", ":"), sort_keys=True).encode()
    return b"%08x %s\n" % (zlib.crc32(told), told)


def entry_in(line: bytes) -> Entry | None:
    """The change in a line without its end; None for a line that is not whole."""
    sum_of, _, told = line.partition(b" ")
    if sum_of != b"%08x" % zlib.crc32(told):
        return None
    try:
        return _entry(json.loads(told))
    except (ValueError, KeyError, TypeError, RecursionError):
        return None


def _entry(told: dict[str, Any]) -> Entry:
    """Raises ValueError, KeyError or TypeError for anything that is no change: a line may come from elsewhere."""
    state = State(**told["state"])
    entry = Entry(**{**told, "state": state, "what": tuple(told["what"])})
    counts = (entry.number, entry.parent, state.at, state.parent, state.tip, state.last)
    texts = (entry.when, entry.sha256, state.name, state.changed, state.sha256, state.was_sha256, state.verdict)
    sound = (
        entry.kind in get_args(Kind)
        and all(type(count) is int and 0 <= count < 10**9 for count in counts)
        and all(isinstance(text, str) and len(text) <= MOST_NAME for text in texts)
        and len(entry.what) <= MOST_WHAT
        and all(isinstance(words, str) and len(words) <= MOST_WORDS for words in entry.what)
        and isinstance(state.archived, bool)
    )
    if not sound:
        raise ValueError("no change of ours")
    return entry


@dataclass(frozen=True, slots=True, kw_only=True)
class Log:
    """The whole lines of a log, and how many bytes of the file are lines: what follows is half a line."""

    entries: tuple[Entry, ...]
    whole_bytes: int


def entries_in(data: bytes) -> Log:
    """The changes in the bytes of a log."""
    whole = data.rfind(b"\n") + 1
    found = (entry_in(line) for line in data[:whole].split(b"\n") if line)
    return Log(entries=tuple(entry for entry in found if entry is not None), whole_bytes=whole)


def read_log(here: Path) -> Log:
    """Every change of a project; none when it has no log."""
    return entries_in(disk.read(log_path(here), MOST_LOG_BYTES) or b"")


def read_back(here: Path) -> Iterator[Entry]:
    """Every change of a project, the last one first; of a long log no more lines are read than are asked for."""
    data = disk.read(log_path(here), MOST_LOG_BYTES) or b""
    for line in reversed(data[: data.rfind(b"\n") + 1].split(b"\n")):
        entry = entry_in(line) if line else None
        if entry is not None:
            yield entry


def read_last(here: Path) -> Log:
    """As read_log, with the last change alone, read from the end of the file."""
    data, size = disk.read_end(log_path(here), TAIL_BYTES, only_end=True)
    if data is None:
        return Log(entries=(), whole_bytes=0)
    end = data.rfind(b"\n") + 1
    for line in reversed(data[:end].split(b"\n")):
        entry = entry_in(line) if line else None
        if entry is not None:
            return Log(entries=(entry,), whole_bytes=size - len(data) + end)
    return read_log(here)


def log_path(here: Path) -> Path:
    """The file of a project's log."""
    return here / HISTORY / CHANGES
