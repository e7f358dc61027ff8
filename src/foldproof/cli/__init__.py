"""The command line."""

from __future__ import annotations


def main() -> None:
    """Runs one command and ends the process with its exit code."""
    from foldproof.cli.app import foldproof

    foldproof(prog_name="foldproof")
