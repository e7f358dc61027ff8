"""One shape of the maker's shelf as a small file: the table of a project's own shape, with its name."""

from __future__ import annotations

from foldproof.errors import wrong
from foldproof.lengths import CM_MILLIMETRES
from foldproof.outlines.own import OwnShape
from foldproof.project.keys import SHAPE_KEYS, key_names
from foldproof.project.problems import MOST_SHOWN_NUMBER, Problems
from foldproof.project.read_shapes import read_shape, why_no_shape_name
from foldproof.project.syntax import parse_toml, quoted
from foldproof.project.table import Table, read_text, read_whole, refuse_unknown
from foldproof.project.write_shapes import shape_lines

SHELF_FORMAT = 1  # the format of these files that this program reads and writes


def shelf_text(own: OwnShape) -> str:
    """The text of a shape's file on the shelf."""
    lines = (f"format = {SHELF_FORMAT}", f"name = {quoted(own.name)}", *shape_lines(own))
    return "\n".join((*lines, ""))


def read_shelf_text(text: str) -> OwnShape:
    """The shape in the text of a shelf file. Raises InputError with every problem found."""
    tables = parse_toml(text)
    found = tables.get("format")
    if isinstance(found, int) and not isinstance(found, bool) and SHELF_FORMAT < found < MOST_SHOWN_NUMBER:
        raise wrong(
            "format",
            found,
            f"this program reads format {SHELF_FORMAT} of a shelf's shapes",
            f"use a version of Foldproof that reads format {found}",
        )
    problems = Problems()
    top = Table(path=(), values=tables, unit="mm", ruler=CM_MILLIMETRES, problems=problems)
    refuse_unknown(top, ("format", "name", *key_names(SHAPE_KEYS)))
    if read_whole(top, "format") != SHELF_FORMAT:
        top.wrong("format", "is missing or there is no such format", f"write format = {SHELF_FORMAT}")
    name = read_text(top, "name")
    if "name" not in tables:
        top.wrong("name", "is missing", 'write name = "leaf"')
    elif name is not None and (reason := why_no_shape_name(name)):
        top.wrong("name", reason, "give it another name, on one line")
    keys = {key: value for key, value in tables.items() if key not in ("format", "name")}
    own = read_shape(Table(path=(), values=keys, unit="mm", ruler=CM_MILLIMETRES, problems=problems), name or "")
    problems.raise_any()
    assert own is not None, "a shape that cannot be read is a problem"
    return own
