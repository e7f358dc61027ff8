"""The commands together: what they share of reading the command line, stopping and exit codes."""

from __future__ import annotations

import sys
from collections.abc import Sequence
from typing import Any

import click

from foldproof import __version__
from foldproof.cli.fit import fit
from foldproof.cli.measure import measure
from foldproof.cli.new import new
from foldproof.cli.open import open_workbench
from foldproof.cli.outline import outline
from foldproof.cli.output import (
    DONE,
    STOPPED,
    WRONG_INPUT,
    print_problems,
    print_stopped,
    print_usage_error,
    settle_streams,
    wants_json,
)
from foldproof.cli.pack import pack
from foldproof.cli.prove import prove
from foldproof.cli.shelf import shelf
from foldproof.errors import InputError
from foldproof.progress import Stopped

HELP = """Measures, proves and teaches things folded of card, before the first cut.

A project is a small text file. Start one with `foldproof new`, then prove it and pack what you print.

\b
Exit codes:
  0  done, and proved
  1  done, and something is not proved
  2  the input is wrong
  3  stopped, with the best result there was
"""


class Commands(click.Group):
    """A group whose commands give their exit code, and in which wrong input never shows a traceback."""

    def main(  # type: ignore[override]  # always ends the process, unlike click's own
        self, args: Sequence[str] | None = None, prog_name: str | None = None, **extra: Any
    ) -> None:
        """Runs the command line and exits: see HELP for the codes."""
        settle_streams()
        arguments = list(sys.argv[1:] if args is None else args)
        as_json = wants_json(arguments)
        extra["standalone_mode"] = False
        try:
            code = super().main(arguments, prog_name, **extra)
        except InputError as error:
            print_problems(error.problems, as_json)
            code = WRONG_INPUT
        except click.ClickException as error:
            print_usage_error(error, as_json)
            code = WRONG_INPUT
        except (Stopped, KeyboardInterrupt, click.Abort):
            print_stopped(as_json)
            code = STOPPED
        except SystemExit:  # click's own answer when the reader of standard output has gone
            code = STOPPED
        sys.exit(code if isinstance(code, int) else DONE)


@click.group(cls=Commands, help=HELP, context_settings={"help_option_names": ["-h", "--help"]})
@click.version_option(__version__, prog_name="foldproof", message="%(prog)s %(version)s")
def foldproof() -> None:
    """Holds the commands."""


for command in (new, measure, prove, fit, pack, outline, shelf, open_workbench):
    foldproof.add_command(command)
