"""What the program takes from the world outside a project: the time, and where a maker's own things are kept."""

from __future__ import annotations

import os
from datetime import UTC, datetime
from pathlib import Path


def now() -> str:
    """The time, in universal time to the second: '2031-05-04T09:30:00Z'."""
    return datetime.now(UTC).strftime("%Y-%m-%dT%H:%M:%SZ")


def data_folder(name: str, asked: str | Path | None, variable: str) -> Path:
    """The folder for one kind of a maker's things: as asked for, as the variable says, or under her own data.

    Her own data are where XDG_DATA_HOME says (an absolute path, else it is not heeded: XDG Base Directory
    Specification 0.8), or in .local/share of her home folder.
    """
    if asked is not None:
        return Path(asked)
    if os.environ.get(variable):
        return Path(os.environ[variable])
    base = Path(os.environ.get("XDG_DATA_HOME", ""))
    if not base.is_absolute():
        base = Path.home() / ".local" / "share"
    return base / "foldproof" / name
