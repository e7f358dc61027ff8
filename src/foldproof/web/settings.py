"""Where a workbench keeps things, and to whom it answers."""

from __future__ import annotations

from dataclasses import dataclass
from pathlib import Path

MOST_JSON_BYTES = 1_000_000  # an edit is a few hundred; a whole project file a few thousand
MOST_UPLOAD_BYTES = 60_000_000  # the largest photograph that is read
MOST_UPLOAD_SECONDS = 60.0  # a photograph comes in within a second or two, over a slow network in ten


@dataclass(frozen=True, slots=True, kw_only=True)
class Settings:
    """``projects`` and ``shelf`` are folders of the maker's own; ``port`` is where this machine alone is answered.

    ``workers`` is how many processes compute, one of them only what a page waits for after an edit; ``seconds`` how
    long one answer may take before it is given up.
    """

    projects: Path
    shelf: Path
    port: int
    workers: int = 3
    seconds: float = 60.0

    @property
    def own_hosts(self) -> tuple[str, ...]:
        """What this machine calls itself: names that need no name server, so none can be pointed elsewhere."""
        return (f"127.0.0.1:{self.port}", f"localhost:{self.port}", f"[::1]:{self.port}")
