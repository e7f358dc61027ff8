"""The maker's own shelf of shapes: a folder of small files, one for each shape with the sizes she owns of it."""

from __future__ import annotations

import os
import re
import unicodedata
from collections.abc import Mapping
from dataclasses import dataclass
from hashlib import sha256
from pathlib import Path

from foldproof.errors import InputError, wrong
from foldproof.outlines.own import OwnShape, renamed
from foldproof.project.problems import in_short
from foldproof.project.read_shapes import plain_name, why_no_shape_name
from foldproof.project.shelf_file import read_shelf_text, shelf_text
from foldproof.service.files import flush_folder, not_writable, read_project_text, shown_path, write_atomically
from foldproof.stock.errors import nearest_names

ENDING = ".toml"
FOLDER_NAMED_BY = "FOLDPROOF_SHELF"  # the environment's name for the folder
MOST_SHAPES = 500  # looked at: far more than a drawer of dies holds
LONGEST_FILE_NAME = 60  # characters, without the ending
HASHED_CHARACTERS = 8  # of a name that has no plain letters


@dataclass(frozen=True, slots=True, kw_only=True)
class OnShelf:
    """A shape of the shelf, and the file it is kept in."""

    file: str
    shape: OwnShape


@dataclass(frozen=True, slots=True, kw_only=True)
class Unreadable:
    """A file of the shelf that holds no shape, and why."""

    file: str
    reason: str


@dataclass(frozen=True, slots=True, kw_only=True)
class Shelf:
    """What is on a shelf, by name, and the files that could not be read."""

    shapes: tuple[OnShelf, ...]
    unreadable: tuple[Unreadable, ...]


def shelf_folder(named: str | Path | None = None, environment: Mapping[str, str] = os.environ) -> Path:
    """The folder of the shelf: the one named, else the environment's, else one in the user's data folder."""
    if named is not None:
        return Path(named)
    if environment.get(FOLDER_NAMED_BY):
        return Path(environment[FOLDER_NAMED_BY])
    data = environment.get("XDG_DATA_HOME", "")
    # The base directory specification: a path that is not absolute does not count.
    home = Path(data) if os.path.isabs(data) else Path.home() / ".local" / "share"
    return home / "foldproof" / "shapes"


def shelf_at(folder: Path) -> Shelf:
    """Everything on the shelf, by name. A shelf that is not there is empty; what cannot be read is told, not fatal.

    Links are not followed: a shelf is only what lies in its folder.
    """
    shapes: list[OnShelf] = []
    unreadable: list[Unreadable] = []
    paths = _files(folder)
    if len(paths) > MOST_SHAPES:
        reason = f"holds {len(paths)} files; the first {MOST_SHAPES} are read"
        unreadable.append(Unreadable(file=folder.name, reason=reason))
    for path in paths[:MOST_SHAPES]:
        try:
            shape = _read(path)
        except InputError as error:
            unreadable.append(Unreadable(file=path.name, reason=_first_reason(path, error)))
            continue
        if any(plain_name(each.shape.name) == plain_name(shape.name) for each in shapes):
            reason = f"holds another shape called {in_short(shape.name)}"
            unreadable.append(Unreadable(file=path.name, reason=reason))
        else:
            shapes.append(OnShelf(file=path.name, shape=shape))
    shapes.sort(key=lambda each: (plain_name(each.shape.name), each.file))
    return Shelf(shapes=tuple(shapes), unreadable=tuple(unreadable))


def taken_from(folder: Path, name: str) -> OwnShape:
    """The shape of that name, whatever its case. Raises InputError when there is none, naming the nearest."""
    return _found(folder, name).shape


def keep_on(folder: Path, own: OwnShape, *, replace: bool = False) -> OnShelf:
    """Keeps a shape, whole or not at all. Raises InputError when its name is taken, unless ``replace``."""
    there = refuse_taken(folder, own.name, replace=replace)
    _make(folder)
    file = there.file if there is not None else _free_file(folder, own.name)
    write_atomically(folder / file, shelf_text(own))
    return OnShelf(file=file, shape=own)


def refuse_taken(folder: Path, name: str, *, replace: bool = False) -> OnShelf | None:
    """The shape that has this name already. Raises InputError if there is one, unless ``replace``; or for no name."""
    _refuse_name(name)
    there = _named(shelf_at(folder), name)
    if there is not None and not replace:
        raise wrong(
            "name", in_short(there.shape.name), "is on your shelf already", "give another --name, or --replace it"
        )
    return there


def rename_on(folder: Path, name: str, new_name: str) -> OnShelf:
    """Gives a shape of the shelf another name; its file stays where it is, so that this is one step."""
    there = _found(folder, name)
    _refuse_name(new_name)
    other = _named(shelf_at(folder), new_name)
    if other is not None and other.file != there.file:
        raise wrong("name", in_short(new_name), "is the name of another shape on your shelf", "give another name")
    shape = renamed(there.shape, new_name)
    write_atomically(folder / there.file, shelf_text(shape))
    return OnShelf(file=there.file, shape=shape)


def remove_from(folder: Path, name: str) -> OnShelf:
    """Takes a shape off the shelf for good; gives back what it was."""
    there = _found(folder, name)
    path = folder / there.file
    try:
        path.unlink()
        flush_folder(folder)
    except OSError as error:
        raise not_writable(shown_path(path), error) from error
    return there


# --- Files --------------------------------------------------------------------------------------------------


def _files(folder: Path) -> list[Path]:
    """The shelf's files by name; those that are hidden or end otherwise are none of ours."""
    try:
        names = sorted(os.listdir(folder))
    except FileNotFoundError:
        return []
    except (OSError, ValueError) as error:
        raise wrong(shown_path(folder), "", "is no folder that can be read", "name another with --shelf") from error
    return [folder / name for name in names if name.endswith(ENDING) and not name.startswith(".")]


def _read(path: Path) -> OwnShape:
    if path.is_symlink():
        raise wrong(path.name, "", "is a link, and links are not followed", "put the file itself there")
    return read_shelf_text(read_project_text(path))


def _first_reason(path: Path, error: InputError) -> str:
    first = error.problems[0]
    where = "" if first.field == shown_path(path) else f"{first.field} "
    more = f" (and {len(error.problems) - 1} more)" if len(error.problems) > 1 else ""
    return f"{where}{first.reason}{more}"


def _named(shelf: Shelf, name: str) -> OnShelf | None:
    return next((each for each in shelf.shapes if plain_name(each.shape.name) == plain_name(name)), None)


def _found(folder: Path, name: str) -> OnShelf:
    shelf = shelf_at(folder)
    there = _named(shelf, name)
    if there is None:
        names = [each.shape.name for each in shelf.shapes]
        keep = "keep one first: foldproof outline --keep"
        remedy = f"write {nearest_names(in_short(name), names)}" if names else keep
        raise wrong("name", in_short(name), "is not on your shelf", remedy)
    return there


def _refuse_name(name: str) -> None:
    reason = why_no_shape_name(name)
    if reason:
        raise wrong("name", in_short(name), reason, "give it another name, on one line")


def _make(folder: Path) -> None:
    try:
        folder.mkdir(parents=True, exist_ok=True)
    except (OSError, ValueError) as error:
        raise not_writable(shown_path(folder), error) from error


def _free_file(folder: Path, name: str) -> str:
    """A file name of plain small letters, digits and hyphens that nothing has yet: a name cannot leave the folder."""
    plain = unicodedata.normalize("NFKD", name).encode("ascii", "ignore").decode("ascii").lower()
    slug = re.sub(r"[^a-z0-9]+", "-", plain).strip("-")[:LONGEST_FILE_NAME].strip("-")
    # In front of it, so that no name is one that some systems keep for themselves.
    stem = f"shape-{slug or sha256(name.encode('utf-8', 'surrogatepass')).hexdigest()[:HASHED_CHARACTERS]}"
    number = 1
    while os.path.lexists(folder / (file := f"{stem}{f'-{number}' if number > 1 else ''}{ENDING}")):
        number += 1
    return file
