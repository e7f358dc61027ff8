"""``foldproof new``."""

from __future__ import annotations

import sys
from pathlib import Path
from typing import TYPE_CHECKING, Literal, cast

import click

from foldproof.cli.options import as_json
from foldproof.cli.output import DONE, note, print_report
from foldproof.errors import wrong

if TYPE_CHECKING:
    from foldproof.constructions.parameters import Value

TO_STANDARD_OUTPUT = "-"
USUAL_NAME = "My box"


@click.command()
@click.argument("name", required=False)
@click.option("--construction", metavar="NAME", help='What to make: "double-wall tray", "plain tray" or "turning lid".')
@click.option("--example", metavar="NAME", help="Start from an example: tidepool, shell-tray, pebble-metric …")
@click.option("--unit", type=click.Choice(("in", "cm")), help="What plain numbers are in.  [default: in]")
@click.option("--set", "settings", multiple=True, metavar="NAME=VALUE", help="A value, as often as you like.")
@click.option("-o", "--output", metavar="FILE", help="The file to write; - for standard output.")
@as_json
def new(
    name: str | None,
    construction: str | None,
    example: str | None,
    unit: str | None,
    settings: tuple[str, ...],
    output: str | None,
    as_json: bool,
) -> int:
    """Starts a project called NAME, with a note beside every value.

    Values that are not set are left to be worked out. On a terminal, what is missing is asked.
    """
    from foldproof.project.read import read_project
    from foldproof.service.files import write_new
    from foldproof.service.starting import file_name, from_construction, from_example, read_settings

    given = read_settings(settings)
    if construction and example:
        raise wrong("--example", example, "cannot go with --construction", "give one of the two")
    if example:
        if unit:
            raise wrong("--unit", unit, "is fixed by the example", "leave it out, or start from a construction")
        text = from_example(example, name, given)
    else:
        if construction is None and _may_ask(as_json, output):
            construction, name, unit, given = _ask(name, unit, given)
        text = from_construction(
            _named(construction), name or USUAL_NAME, cast("Literal['in', 'cm']", unit or "in"), given
        )
    project = read_project(text)
    target = output or file_name(project.name)
    if target == TO_STANDARD_OUTPUT and not as_json:
        click.echo(text, nl=False)
        return DONE
    if target != TO_STANDARD_OUTPUT:
        write_new(Path(target), text)
    left_open = [f"parts.{part.name}.{value}" for part in project.parts for value in part.open_values]
    if as_json:
        from foldproof.views.report import report

        file = None if target == TO_STANDARD_OUTPUT else target
        print_report(report("new", project=project.name, file=file, text=text, open_values=left_open))
    else:
        click.echo(f"{target} is ready. {_what_next(target, bool(left_open))}")
    return DONE


def _what_next(target: str, has_open: bool) -> str:
    if has_open:
        return f"Some values are still to be worked out: foldproof fit {target} --write"
    return f"Next: foldproof prove {target}"


def _named(construction: str | None) -> str:
    if construction is not None:
        return construction
    from foldproof.service.starting import construction_names, example_names

    raise wrong(
        "--construction",
        "",
        "is missing",
        f"give --construction with one of {', '.join(construction_names())}; "
        f"or --example with one of {', '.join(example_names())}",
    )


# --- Questions ----------------------------------------------------------------------------------------------


def _may_ask(as_json: bool, output: str | None) -> bool:
    """Questions need a person at both ends."""
    return not as_json and output != TO_STANDARD_OUTPUT and sys.stdin.isatty() and sys.stdout.isatty()


def _ask(name: str | None, unit: str | None, given: dict[str, str]) -> tuple[str, str, str, dict[str, str]]:
    from foldproof.constructions.catalogue import CONSTRUCTIONS, construction_named
    from foldproof.constructions.parameters import OPEN, values_of

    for number, each in enumerate(CONSTRUCTIONS, start=1):
        note(f"{number}. {each.name}: {each.summary}")
    chosen = click.prompt("What shall it be", type=click.IntRange(1, len(CONSTRUCTIONS)), default=1, err=True)
    construction = construction_named(CONSTRUCTIONS[chosen - 1].name)
    assert construction is not None, "the catalogue knows its own names"
    name = name or click.prompt("What is it called", default=USUAL_NAME, err=True)
    unit = unit or click.prompt("Inches or centimetres", type=click.Choice(("in", "cm")), default="in", err=True)
    assert name is not None and unit is not None, "a prompt with a default has an answer"
    asked = dict(given)
    for value in values_of(construction.parameters):
        if value.default is None and value.kind == "length" and value.name not in asked:
            asked[value.name] = _ask_value(value, unit, OPEN)
    return construction.name, name, unit, asked


def _ask_value(value: Value, unit: str, usual: str) -> str:
    """One value; asked again until it can be read."""
    from foldproof.lengths import LengthError, parse_length

    while True:
        written = str(click.prompt(f"{value.help[:1].upper()}{value.help[1:]}, in {unit}", default=usual, err=True))
        if written == usual:
            return written
        try:
            parse_length(written, "cm" if unit == "cm" else "in")
            return written
        except LengthError as error:
            note(f"{error.reason[:1].upper()}{error.reason[1:]}: {error.remedy}.")
