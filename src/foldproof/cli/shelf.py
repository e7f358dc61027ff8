"""``foldproof shelf``: the maker's own shapes."""

from __future__ import annotations

import click

from foldproof.cli.options import as_json, shelf_option
from foldproof.cli.output import DONE, note, note_unreadable, print_document, print_report


@click.group(invoke_without_command=True)
@shelf_option
@as_json
@click.pass_context
def shelf(context: click.Context, shelf: str | None, as_json: bool) -> int:
    """Your own shapes: what `foldproof outline --keep` has kept.

    Without a command it lists them.
    """
    context.obj = shelf
    return _listed(shelf, as_json) if context.invoked_subcommand is None else DONE


@shelf.command(name="list")
@shelf_option
@as_json
@click.pass_obj
def list_shapes(named: str | None, shelf: str | None, as_json: bool) -> int:
    """Lists the shapes, and the files that could not be read."""
    return _listed(shelf or named, as_json)


@shelf.command()
@click.argument("name")
@click.argument("project")
@click.option("--replace", is_flag=True, help="Replace the shape of that name in the project.")
@shelf_option
@as_json
@click.pass_obj
def take(named: str | None, name: str, project: str, replace: bool, shelf: str | None, as_json: bool) -> int:
    """Puts the shape NAME into the file PROJECT, under [shapes]."""
    from foldproof.project.syntax import quoted
    from foldproof.service.outlines import put_into
    from foldproof.service.shelf import shelf_folder, taken_from

    folder = shelf_folder(shelf or named)
    shape = taken_from(folder, name)
    put_into(project, shape, replace=replace)
    if as_json:
        return _reported(shelf or named, "taken")
    note(f"{shape.name} is in {project}. A lid takes it with shape = {quoted(shape.name)}.")
    return DONE


@shelf.command()
@click.argument("name")
@click.argument("new_name")
@shelf_option
@as_json
@click.pass_obj
def rename(named: str | None, name: str, new_name: str, shelf: str | None, as_json: bool) -> int:
    """Calls the shape NAME NEW_NAME from now on."""
    from foldproof.service.shelf import rename_on, shelf_folder

    now = rename_on(shelf_folder(shelf or named), name, new_name)
    if as_json:
        return _reported(shelf or named, "renamed")
    note(f"It is called {now.shape.name} now.")
    return DONE


@shelf.command()
@click.argument("name")
@shelf_option
@as_json
@click.pass_obj
def remove(named: str | None, name: str, shelf: str | None, as_json: bool) -> int:
    """Takes the shape NAME off the shelf, for good. Projects that hold it keep it."""
    from foldproof.service.shelf import remove_from, shelf_folder

    gone = remove_from(shelf_folder(shelf or named), name)
    if as_json:
        return _reported(shelf or named, "removed")
    note(f"{gone.shape.name} is off your shelf.")
    return DONE


def _listed(named: str | None, as_json: bool) -> int:
    from foldproof.design.shelf_report import shelf_document
    from foldproof.service.files import shown_path
    from foldproof.service.shelf import shelf_at, shelf_folder

    if as_json:
        return _reported(named, "listed")
    folder = shelf_folder(named)
    found = shelf_at(folder)
    shapes = tuple((each.file, each.shape) for each in found.shapes)
    print_document(shelf_document(shapes, shown_path(folder)))
    note_unreadable(tuple((each.file, each.reason) for each in found.unreadable))
    return DONE


def _reported(named: str | None, done: str) -> int:
    from foldproof.design.shelf_report import shelf_report
    from foldproof.service.shelf import shelf_at, shelf_folder

    folder = shelf_folder(named)
    found = shelf_at(folder)
    shapes = tuple((each.file, each.shape) for each in found.shapes)
    unreadable = tuple((each.file, each.reason) for each in found.unreadable)
    print_report(shelf_report(shapes, unreadable, str(folder), done))
    return DONE
