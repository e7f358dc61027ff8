"""``foldproof outline FILE``."""

from __future__ import annotations

from typing import TYPE_CHECKING, Any

import click

from foldproof.cli.options import as_json, shelf_option
from foldproof.cli.output import DONE, note, print_document, print_report
from foldproof.errors import wrong

if TYPE_CHECKING:
    from foldproof.design.outlined import Outlined
    from foldproof.service.outlines import Stored

SHEET = "The sheet in the photograph: A4, Letter, 12x12 or 'W x H'."


@click.command()
@click.argument("file", metavar="FILE")
@click.option("--sheet", "--size", "sheet", metavar="SIZE", help=SHEET)
@click.option("--corners", metavar="POINTS", help="Its four corners in pixels, where they were not found well.")
@click.option("--unit", metavar="UNIT", help="What a DXF is drawn in, if it does not say: mm, cm, in …")
@click.option("--choose", metavar="N", help="Which of several shapes: its number, or its name.")
@click.option("--accuracy", metavar="SIZE", help="How near to the drawn line to keep.  [default: 0.05 mm]")
@click.option("--symmetric/--as-traced", help="Make a symmetry that is nearly there exact.  [default: as traced]")
@click.option("--trim", multiple=True, metavar="'X,Y X,Y'", help="Cut along a line, in mm; the largest piece is kept.")
@click.option("--name", metavar="NAME", help="What you call the shape.  [default: as in the file]")
@click.option("--sizes", metavar="SIZES", help="The sizes you own: '3, 4 1/4, 5 1/2 in'.  [default: any size]")
@click.option("--source", metavar="TEXT", help="Where it comes from; printed with it.")
@click.option("--keep", is_flag=True, help="Keep it on your shelf.")
@click.option("--into", metavar="PROJECT", help="Put it into a project file, under [shapes].")
@click.option("--replace", is_flag=True, help="Replace what has its name: shape or picture.")
@click.option("--picture", metavar="OUT", help="Draw it: OUT.svg over a ruler, OUT.png over the photograph.")
@click.option("--seconds", type=click.FloatRange(min=0.1), default=20.0, metavar="N", help="Give up after N seconds.")
@shelf_option
@as_json
def outline(file: str, seconds: float, as_json: bool, **written: Any) -> int:
    """Reads the outline of a shape of your own from a photograph, an SVG or a DXF.

    Photograph the shape from above on a plain sheet of known size, all four corners in view, and name the sheet. What
    FILE is, is told by what is in it, not by its name.
    """
    from foldproof.design.outline_report import outline_document, outline_report
    from foldproof.service.outlines import Written, stored, traced, understood

    wish = understood(Written(**written))
    found, shape = traced(file, wish, seconds=seconds)
    if shape is None:
        from foldproof.service.outlines import picture_of_several

        picture_of_several(file, found, wish)
        raise _several(found, as_json)
    kept = stored(file, found, shape, wish)
    if as_json:
        print_report(
            outline_report(
                found,
                shape,
                file=file,
                kept_in=kept.shelf_file,
                into=kept.project_file,
                picture=kept.picture_file,
            )
        )
    else:
        print_document(outline_document(found, shape, pictured=kept.picture_file is not None))
        _note_where(shape.name, kept)
    return DONE


def _several(found: Outlined, as_json: bool) -> Exception:
    """What stops a drawing of several shapes: they are listed, and one has to be chosen."""
    from foldproof.design.outline_report import several_document
    from foldproof.exports.text import document_text

    if not as_json:
        note(document_text(several_document(found), 88).rstrip())
    names = ", ".join(f"{each.number} {each.name}" for each in found.found[:10])
    count = len(found.found)
    return wrong("--choose", "", f"is missing: there are {count} shapes ({names})", f"give --choose with 1 to {count}")


def _note_where(name: str, kept: Stored) -> None:
    from foldproof.project.syntax import quoted

    if kept.picture_file:
        note(f"The picture is {kept.picture_file}")
    if kept.shelf_file:
        note(f"{name} is on your shelf: {kept.shelf_file}")
    if kept.project_file:
        note(f"{name} is in {kept.project_file}. A lid takes it with shape = {quoted(name)}.")
