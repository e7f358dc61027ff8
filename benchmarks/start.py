"""How long the command line takes to answer at all."""

from __future__ import annotations

import subprocess
import sys

from benchmarks.table import milliseconds, warm_seconds


def start_rows() -> list[tuple[str, ...]]:
    """A bare interpreter, and the program's help in a fresh one."""
    bare, _ = warm_seconds(lambda: _run("-c", "pass"))
    usage, _ = warm_seconds(lambda: _run("-m", "foldproof", "--help"))
    return [
        ("a bare interpreter", milliseconds(bare), ""),
        ("foldproof --help", milliseconds(usage), "100 ms"),
    ]


def _run(*arguments: str) -> None:
    subprocess.run([sys.executable, *arguments], check=True, stdout=subprocess.DEVNULL)
