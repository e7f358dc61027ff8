"""Packs every example that comes with the program: ``python -m foldproof.cli.demo DIR``."""

from __future__ import annotations

import sys
import tomllib
from pathlib import Path

import click

from foldproof.cli.output import DONE, NOT_PROVED, STOPPED, WRONG_INPUT, note, print_problems, settle_streams
from foldproof.cli.watch import Watch
from foldproof.errors import InputError
from foldproof.progress import Stopped
from foldproof.project.read import read_project
from foldproof.service.packing import pack_project
from foldproof.service.projects import Opened
from foldproof.service.starting import example_names, example_text

EXPECTED = "expected"  # under [extra.demo] of an example: the verdict it is there to show


def pack_examples(folder: Path) -> int:
    """Packs each example into a folder of its own; the exit code says whether each verdict is the expected one."""
    surprises = 0
    for number, name in enumerate(names := example_names(), start=1):
        text = example_text(name)
        project = read_project(text)
        click.echo(f"{number}/{len(names)}  {project.name}")
        opened = Opened(path=name, text=text, project=project)
        with Watch() as watch:
            packed = pack_project(opened, folder / name, watch)
        click.echo(f"{packed.words}\n")
        expected = expected_verdict(text)
        if packed.verdict.replace("_", " ") != expected:
            note(f"{project.name} should be {expected}, and is {packed.verdict.replace('_', ' ')}.")
            surprises += 1
    click.echo(f"Look into {folder}: every verdict is as expected." if not surprises else f"Look into {folder}.")
    return NOT_PROVED if surprises else DONE


def expected_verdict(text: str) -> str:
    """The verdict an example is there to show: 'proved' or 'not proved'."""
    return str(tomllib.loads(text)["extra"]["demo"][EXPECTED])


def main() -> None:
    """Packs into the folder named on the command line."""
    settle_streams()
    arguments = sys.argv[1:]
    if len(arguments) != 1:
        note("Usage: python -m foldproof.cli.demo DIR")
        sys.exit(WRONG_INPUT)
    try:
        code = pack_examples(Path(arguments[0]))
    except InputError as error:
        print_problems(error.problems, as_json=False)
        code = WRONG_INPUT
    except (Stopped, KeyboardInterrupt):
        note("Stopped.")
        code = STOPPED
    sys.exit(code)


if __name__ == "__main__":
    main()
