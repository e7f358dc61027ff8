"""From a photograph or a drawing to a shape of the maker's own, on her shelf, in a project, and in a picture."""

from __future__ import annotations

import dataclasses
import os
from dataclasses import dataclass
from pathlib import Path, PurePath

from foldproof.design.outlined import Asked, Outlined
from foldproof.drawing.records import Page
from foldproof.errors import InputError, wrong
from foldproof.exports.svg import page_svg
from foldproof.lengths import Length
from foldproof.outlines.own import OwnShape
from foldproof.project.problems import in_short
from foldproof.project.read_shapes import MOST_SHAPE_NAME, why_no_shape_name
from foldproof.project.table import cannot_print
from foldproof.project.write_shapes import with_shape
from foldproof.service import asking
from foldproof.service.files import read_project_text, shown_path, write_atomically, write_new
from foldproof.service.projects import Opened, open_project
from foldproof.service.reading_outlines import read_outline
from foldproof.service.shelf import keep_on, refuse_taken, shelf_folder
from foldproof.views.outline_picture import found_page, outline_page

UNNAMED = "shape"
MINE = "my {name}"  # a shape whose file has the name of a formula
PICTURES = (".svg", ".png")
ASKED = ("choose", "unit", "trim", "sheet", "corners", "accuracy")  # told by the readers as they are asked
REPLACE = "name another file, or --replace it"


@dataclass(frozen=True, slots=True, kw_only=True)
class Written:
    """What stands on the command line, as it was written. None and empty: left out."""

    sheet: str | None = None
    corners: str | None = None
    unit: str | None = None
    choose: str | None = None
    accuracy: str | None = None
    symmetric: bool = False
    trim: tuple[str, ...] = ()
    name: str | None = None
    sizes: str | None = None
    source: str | None = None
    keep: bool = False
    into: str | None = None
    replace: bool = False
    picture: str | None = None
    shelf: str | None = None


@dataclass(frozen=True, slots=True, kw_only=True)
class Wish:
    """The same, understood: how to read, and what to do with the shape. ``project`` is the one it goes into."""

    asked: Asked
    name: str | None
    sizes: tuple[Length, ...]
    source: str
    shelf: Path | None
    project: Opened | None
    replace: bool
    picture: str | None


@dataclass(frozen=True, slots=True, kw_only=True)
class Stored:
    """Where the shape went: its file on the shelf, the project's file, the picture's; None where it did not go."""

    shelf_file: str | None
    project_file: str | None
    picture_file: str | None


def understood(written: Written) -> Wish:
    """What is written, read. Raises InputError with everything that is wrong with it, before anything is read."""
    reading = asking.Reading()
    project = None if written.into is None else open_project(written.into)
    if len(written.trim) > asking.MOST_CUTS:
        reading.add("--trim", written.trim[0], f"is there {len(written.trim)} times", f"cut {asking.MOST_CUTS} times")
    cuts = [reading.of("--trim", each, asking.cut, ((0.0, 0.0), (0.0, 0.0))) for each in written.trim]
    asked = Asked(
        choose=written.choose,
        unit=written.unit,
        sheet_mm=reading.of("--sheet", written.sheet, asking.sheet_mm, None),
        corners_px=reading.of("--corners", written.corners, asking.corners, ()),
        accuracy_mm=reading.of("--accuracy", written.accuracy, asking.accuracy_mm, None),
        cuts=tuple(cuts),
        symmetric=written.symmetric,
    )
    unit = None if project is None else project.project.unit
    nothing: tuple[Length, ...] = ()
    sizes = reading.of("--sizes", written.sizes, lambda text: asking.sizes(text, unit), nothing)
    source = reading.of("--source", written.source, asking.source, "")
    if written.name is not None and (reason := why_no_shape_name(written.name)):
        reading.add("--name", written.name, reason, "give it another name, on one line")
    if written.picture is not None and PurePath(written.picture).suffix.lower() not in PICTURES:
        reading.add("--picture", written.picture, "is no picture that is drawn here", "end its name in .svg or .png")
    if written.replace and not (written.keep or written.into or written.picture):
        reading.add("--replace", "", "has nothing to replace", "give --keep, --into or --picture with it")
    reading.tell()
    return Wish(
        asked=asked,
        name=written.name,
        sizes=sizes,
        source=source,
        shelf=shelf_folder(written.shelf) if written.keep else None,
        project=project,
        replace=written.replace,
        picture=written.picture,
    )


def traced(file: str, wish: Wish, *, seconds: float) -> tuple[Outlined, OwnShape | None]:
    """What is in the file, and the shape under its name with the sizes that are owned; None: several to choose from."""
    try:
        found = read_outline(file, wish.asked, seconds=seconds)
    except InputError as error:
        raise _of_options(error) from error
    if found.shape is None:
        return found, None
    name = wish.name or _usual_name(found, file, wish.asked.choose)
    shape = dataclasses.replace(found.shape, name=name, sizes=wish.sizes, source=wish.source)
    return found, shape


def _of_options(error: InputError) -> InputError:
    """The problems of what was asked, told of the options that asked it."""
    return InputError(
        tuple(
            dataclasses.replace(each, field=f"--{each.field}") if each.field in ASKED else each
            for each in error.problems
        )
    )


def _usual_name(found: Outlined, file: str, choose: str | None) -> str:
    """The name that the drawing or the file has, where a shape can be called so."""
    one = found.found[0].name if len(found.found) == 1 else ""
    plain = choose if choose is not None and not choose.strip().isdecimal() else one
    for name in (plain, PurePath(file).stem):
        kept = "".join(" " if cannot_print(each) else each for each in name).strip()[:MOST_SHAPE_NAME].strip()
        for tried in (kept, MINE.format(name=kept)):
            if kept and not kept.startswith(UNNAMED) and not why_no_shape_name(tried):
                return tried
    return UNNAMED


def stored(file: str, found: Outlined, shape: OwnShape, wish: Wish) -> Stored:
    """Keeps the shape where it was wished: all places are looked at before anything is written."""
    into = None if wish.project is None else with_shape(wish.project.text, shape, replace=wish.replace)
    if wish.shelf is not None:
        refuse_taken(wish.shelf, shape.name, replace=wish.replace)
    if wish.picture is not None:
        _refuse_picture(file, wish)
        _write(wish.picture, _picture(found, shape, wish.picture), wish.replace)
    kept = None if wish.shelf is None else keep_on(wish.shelf, shape, replace=wish.replace)
    if wish.project is not None and into is not None:
        write_atomically(wish.project.path, into)
    return Stored(
        shelf_file=None if kept is None or wish.shelf is None else str(wish.shelf / kept.file),
        project_file=None if wish.project is None else wish.project.path,
        picture_file=wish.picture,
    )


def put_into(path: str, shape: OwnShape, *, replace: bool = False) -> None:
    """Puts a shape into a project's file, which may name it already.

    Raises InputError when the file has one of that name, or a problem with the shape in it.
    """
    write_atomically(path, with_shape(read_project_text(path), shape, replace=replace))


def picture_of_several(file: str, found: Outlined, wish: Wish) -> None:
    """Draws all shapes of a drawing with their numbers, when a picture is wished."""
    if wish.picture is not None:
        _refuse_picture(file, wish)
        page = found_page(tuple(each.outline for each in found.found))
        _write(wish.picture, _drawn(page, wish.picture), wish.replace)


def _refuse_picture(file: str, wish: Wish) -> None:
    assert wish.picture is not None
    if os.path.exists(wish.picture) and os.path.exists(file) and os.path.samefile(wish.picture, file):
        raise wrong("--picture", in_short(wish.picture), "is the file that is read", "name another file")
    if os.path.lexists(wish.picture) and not wish.replace:
        raise wrong(shown_path(wish.picture), "", "is there already", REPLACE)


def _write(path: str, contents: bytes, replace: bool) -> None:
    if replace:
        write_atomically(path, contents)
    else:
        write_new(path, contents, remedy=REPLACE)


def _picture(found: Outlined, shape: OwnShape, path: str) -> bytes:
    """The trace over the photograph as PNG; anything else drawn over a ruler."""
    if found.photograph is not None and PurePath(path).suffix.lower() == ".png":
        return found.photograph.picture
    return _drawn(outline_page(shape, found.read, found.kept), path)


def _drawn(page: Page, path: str) -> bytes:
    if PurePath(path).suffix.lower() == ".svg":
        return page_svg(page).encode("utf-8")
    from foldproof.exports.png import page_png

    return page_png(page)
