"""``foldproof measure FILE``."""

from __future__ import annotations

import click

from foldproof.cli.options import as_json, project_file
from foldproof.cli.output import DONE, NOT_PROVED, print_document, print_report


@click.command()
@project_file
@as_json
def measure(file: str, as_json: bool) -> int:
    """Every piece to cut: its size, where each score line goes and how to find it.

    Ends with 1 when a piece is larger than the sheet.
    """
    from foldproof.design.measure import measure as measure_project
    from foldproof.service.projects import measured_things, open_project
    from foldproof.views.measures import fits_sheet, measures_document, measures_report

    project = open_project(file).project
    things = measured_things(measure_project(project))
    if as_json:
        print_report(measures_report(project, things))
    else:
        print_document(measures_document(project, things))
    sheet = project.cardstock.usable_sheet
    fits = all(fits_sheet(piece, sheet) for thing in things for piece in thing.pieces)
    return DONE if fits else NOT_PROVED
