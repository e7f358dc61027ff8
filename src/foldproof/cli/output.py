"""What commands print: one document or one report, and the codes they end with."""

from __future__ import annotations

import sys
from typing import TYPE_CHECKING, Any

import click

if TYPE_CHECKING:
    from foldproof.drawing.records import Document
    from foldproof.errors import Problem

# The codes other programs rely on.
DONE, NOT_PROVED, WRONG_INPUT, STOPPED = 0, 1, 2, 3
WIDTH = 88  # characters of a line: read on any terminal


def print_document(document: Document) -> None:
    """A document on standard output as plain text."""
    from foldproof.exports.text import document_text

    click.echo(document_text(document, WIDTH), nl=False)


def print_report(data: dict[str, Any]) -> None:
    """A report on standard output as JSON."""
    from foldproof.views.report import report_text

    click.echo(report_text(data), nl=False)


def note(text: str) -> None:
    """A message beside the result, on standard error."""
    click.echo(text, err=True)


def note_unreadable(files: tuple[tuple[str, str], ...]) -> None:
    """The files of the shelf that hold no shape, and why: on standard error."""
    for file, reason in files:
        note(f"On your shelf, {file} was left out: {reason}.")


def print_problems(problems: tuple[Problem, ...], as_json: bool) -> None:
    """Everything that is wrong with the input: on standard error, or as one report on standard output."""
    from foldproof.views.report import report

    if as_json:
        rows = [
            {"field": each.field, "value": each.value, "reason": each.reason, "remedy": each.remedy}
            for each in problems
        ]
        print_report(report("error", error="input", problems=rows))
        return
    from foldproof.teach.messages import problem_words

    for problem in problems:
        note(problem_words(problem))


def print_stopped(as_json: bool) -> None:
    """The work was stopped before there was anything to show."""
    if as_json:
        from foldproof.views.report import report

        print_report(report("error", error="stopped", problems=[]))
    else:
        note("Stopped. Nothing was written.")


def wants_json(arguments: list[str]) -> bool:
    """Whether a command line that could not be read asks for JSON."""
    return "--json" in (arguments[: arguments.index("--")] if "--" in arguments else arguments)


def print_usage_error(error: click.ClickException, as_json: bool) -> None:
    """A command line that cannot be read: told as click tells it, or as a report."""
    if not as_json:
        error.show()
        return
    rows = [
        {
            "field": "command line",
            "value": "",
            "reason": error.format_message(),
            "remedy": "see foldproof --help",
        }
    ]
    from foldproof.views.report import report

    print_report(report("error", error="input", problems=rows))


def settle_streams() -> None:
    """A terminal that lacks a character shows a question mark instead of failing."""
    for stream in (sys.stdout, sys.stderr):
        reconfigure = getattr(stream, "reconfigure", None)
        if reconfigure is not None:
            reconfigure(errors="replace")
