"""``foldproof fit FILE``."""

from __future__ import annotations

from typing import TYPE_CHECKING, cast

import click

from foldproof.cli.options import as_json, project_file
from foldproof.cli.output import DONE, NOT_PROVED, STOPPED, note, print_document, print_report
from foldproof.cli.watch import Watch

if TYPE_CHECKING:
    from foldproof.design.fit_answers import Goal

GOALS = ("largest base", "smallest piece", "hold the content", "whole sheet", "best hole", "smallest lid")


@click.command()
@project_file
@click.option("--goal", type=click.Choice(GOALS), help="What to look for. Without it, the file decides.")
@click.option("--write", is_flag=True, help="Put the best values into FILE. Its comments stay.")
@as_json
def fit(file: str, goal: str | None, write: bool, as_json: bool) -> int:
    """Works out the values left open, on the grooves of your board.

    Write "work out" for a value to leave it open. When nothing works, the nearest that does is shown.
    """
    from foldproof.design.fit_report import fit_document, fit_report
    from foldproof.service.projects import fit_parts, open_project, verdict_filled, write_fitted

    opened = open_project(file)
    answers = fit_parts(opened.project, cast("Goal | None", goal))
    with Watch() as watch:
        verdict = verdict_filled(opened.project, answers, watch)
    works = all(answer.works for answer in answers)
    written = write and works and not watch.stopped and write_fitted(opened, answers)
    if as_json:
        print_report(fit_report(opened.project, answers, verdict, file if written else None, watch.stopped))
    else:
        print_document(fit_document(opened.project, answers, verdict))
    if write and not as_json:
        note(f"The best values are in {file}." if written else f"{file} was left as it is.")
    if watch.stopped:
        return STOPPED
    return DONE if works and verdict == "proved" else NOT_PROVED
