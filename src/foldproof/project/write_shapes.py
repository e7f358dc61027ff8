"""Writes the maker's own shapes: as the table of a project file or of the shelf, points to a hundredth of a mm."""

from __future__ import annotations

import json
from collections.abc import Iterable, Iterator
from typing import Any

import tomlkit
from tomlkit.exceptions import TOMLKitError

from foldproof.errors import wrong
from foldproof.lengths import INCH_THIRTYSECONDS, ZERO, Length, round_to
from foldproof.outlines.own import OwnShape
from foldproof.project.problems import in_short
from foldproof.project.read import read_project
from foldproof.project.read_shapes import plain_name
from foldproof.project.syntax import key_text, parse_toml, quoted

POINT_PLACES = 2  # decimals of a millimetre: finer than any cutter moves
ACCURACY_PLACES = 3
LINE_CHARACTERS = 110


def with_shape(text: str, own: OwnShape, *, replace: bool = False) -> str:
    """The project file with a shape under [shapes.NAME], at its end; comments and layout of the rest stay.

    Raises InputError for a text that cannot be read, for a name that is taken (unless ``replace``), and when the file
    would have a problem with the shape in it.
    """
    taken = [name for name in _shapes_in(text) if plain_name(name) == plain_name(own.name)]
    if taken and not replace:
        raise wrong(
            f"shapes.{in_short(own.name)}",
            in_short(taken[0]),
            "is the name of a shape in this file already",
            "give another --name, or --replace it",
        )
    kept = text if not taken else _without(text, taken)
    lines = "\n".join(shape_lines(own))
    written = f"{kept.rstrip()}\n\n[shapes.{key_text(own.name)}]\n{lines}\n"
    read_project(written)
    return written


def shape_lines(own: OwnShape) -> Iterator[str]:
    """The keys of a shape's table, as they stand in a file."""
    sizes = ", ".join(json.dumps(exact_size(size)) for size in own.sizes)
    yield f"source = {quoted(own.source)}"
    yield f"accuracy = {json.dumps(f'{_number(own.accuracy_mm, ACCURACY_PLACES)} mm')}"
    if own.sizes:
        yield f"sizes = [{sizes}]"
    yield "points = ["
    yield from _wrapped(f"[{', '.join(_number(each, POINT_PLACES) for each in point)}]," for point in own.outline)
    yield "]"


def exact_size(size: Length) -> str:
    """A length exactly, as a maker types it: on an inch ruler where it lies there, else in millimetres."""
    rounded = round_to(size, INCH_THIRTYSECONDS)
    if rounded.error == ZERO:
        return rounded.text
    places = 0
    while (size.mm * 10**places).denominator != 1:  # ends: every length that can be written has decimals
        places += 1
    return f"{float(size.mm):.{places}f} mm"


def _shapes_in(text: str) -> Iterable[str]:
    shapes = parse_toml(text).get("shapes", {})
    return shapes if isinstance(shapes, dict) else ()


def _without(text: str, names: Iterable[str]) -> str:
    try:
        document: Any = tomlkit.parse(text.removeprefix("\ufeff"))
        for name in names:
            del document["shapes"][name]
        if not document["shapes"]:
            del document["shapes"]
        kept: str = tomlkit.dumps(document)
    except TOMLKitError as error:
        raise wrong("shapes", "", f"cannot be replaced in this file: {error}", "change the file by hand") from error
    return kept


def _wrapped(words: Iterable[str]) -> Iterator[str]:
    line = " "
    for word in words:
        if len(line) + len(word) >= LINE_CHARACTERS:
            yield line
            line = " "
        line += f" {word}"
    yield line


def _number(value: float, places: int) -> str:
    written = f"{value:.{places}f}".rstrip("0").rstrip(".")
    return "0" if written in ("-0", "") else written
