"""``foldproof prove FILE``."""

from __future__ import annotations

import click

from foldproof.cli.options import as_json, project_file, time_limit
from foldproof.cli.output import DONE, NOT_PROVED, STOPPED, print_document, print_report
from foldproof.cli.watch import Watch


@click.command()
@project_file
@time_limit
@as_json
def prove(file: str, seconds: float | None, as_json: bool) -> int:
    """Folds the project in every order and says whether it works.

    What fails comes first, with the number, its limit, and changes that were tried and help.
    """
    from foldproof.service.projects import open_project, prove_project
    from foldproof.views.proof_report import proof_document, proof_report

    project = open_project(file).project
    with Watch(seconds) as watch:
        proof, told = prove_project(project, watch)
    if as_json:
        print_report(proof_report(told))
    else:
        print_document(proof_document(told))
    if watch.stopped:
        return STOPPED
    return DONE if proof.all_proved else NOT_PROVED
