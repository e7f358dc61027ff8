"""``foldproof pack FILE -o DIR``."""

from __future__ import annotations

import click

from foldproof.cli.options import as_json, project_file
from foldproof.cli.output import DONE, NOT_PROVED, print_report
from foldproof.cli.watch import Watch

HANDS = ("right", "left")


@click.command()
@project_file
@click.option("-o", "--output", "folder", required=True, metavar="DIR", help="The folder of the pack.")
@click.option("--hand", type=click.Choice(HANDS), help="The hand you work with; left turns the drawings the other way.")
@click.option("--class", "in_class", is_flag=True, help="The version for a class: no hot glue, and a teacher who cuts.")
@as_json
def pack(file: str, folder: str, hand: str | None, in_class: bool, as_json: bool) -> int:
    """Makes the folder you print, cut and fold from: score plans, templates, cut files, steps, proof.

    A pack that is in DIR is replaced as a whole, and only when the new one is complete. A project that is not
    proved is packed too, and every page says so. --hand and --class go before what the file says under [teach];
    the pack's own project file has them.
    """
    from foldproof.service.packing import pack_project
    from foldproof.service.projects import open_project, taught_as

    opened = taught_as(open_project(file), hand, "class" if in_class else None)
    with Watch() as watch:
        packed = pack_project(opened, folder, watch)
    if as_json:
        print_report(packed.report)
    else:
        click.echo(packed.words)
    return DONE if packed.all_proved else NOT_PROVED
