"""One hand at a time in a folder of projects, whichever window, thread or process it comes from.

The lock is held by the system through a database that stays empty, so it ends with the process that holds it: one that
is killed leaves nothing to wait for, and no lock is ever mistaken for an old one. Reading needs no lock.
"""

from __future__ import annotations

import sqlite3
import threading
from collections.abc import Iterator
from contextlib import closing, contextmanager
from pathlib import Path

from foldproof.errors import wrong
from foldproof.service.files import not_writable, shown_path

LOCK = ".lock"
WAIT_SECONDS = 20.0  # a save takes a hundredth of one; a hundred windows saving at once are let through

_THREADS = threading.Lock()  # threads of one process wait here in turn; the database serves the processes


@contextmanager
def locked(folder: Path) -> Iterator[None]:
    """Holds the folder, which is made when it is missing. Raises InputError when it cannot be held or written."""
    told = shown_path(folder)
    busy = wrong(told, "", "is being written by another Foldproof", "wait a moment, and try again")
    if not _THREADS.acquire(timeout=WAIT_SECONDS):
        raise busy
    try:
        folder.mkdir(parents=True, exist_ok=True)
        if (folder / LOCK).is_symlink():
            raise wrong(told, "", f"has a link in the place of {LOCK}", "take it away")
        with closing(sqlite3.connect(folder / LOCK, timeout=WAIT_SECONDS, isolation_level=None)) as database:
            try:
                database.execute("PRAGMA journal_mode = MEMORY")  # nothing is written, so nothing lies beside it
                database.execute("BEGIN EXCLUSIVE")
            except sqlite3.Error as error:
                if error.sqlite_errorcode == sqlite3.SQLITE_BUSY:
                    raise busy from error
                raise wrong(
                    told, "", f"cannot be held: {error}", f"take {LOCK} away, or name another folder"
                ) from error
            yield
    except (OSError, sqlite3.OperationalError) as error:
        raise not_writable(told, error if isinstance(error, OSError) else ValueError(str(error))) from error
    finally:
        _THREADS.release()
