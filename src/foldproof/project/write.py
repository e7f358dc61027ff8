"""Writes project files: a new one with every key explained, and one with a single value changed."""

from __future__ import annotations

import re
import tomllib
from collections.abc import Iterable, Iterator, Mapping
from typing import Any, Literal

import tomlkit
from tomlkit.exceptions import TOMLKitError

from foldproof.constructions import double_wall_tray, turning_lid
from foldproof.constructions.alternative_lid import alternative_values
from foldproof.constructions.catalogue import CONSTRUCTIONS, construction_named
from foldproof.constructions.parameters import OPEN, Value, values_of
from foldproof.constructions.record import Construction
from foldproof.errors import wrong
from foldproof.folding.limits import FoldingLimits
from foldproof.outlines.catalogue import FORMULAS
from foldproof.project.keys import (
    ALTERNATIVE_KEYS,
    BOARD_KEYS,
    CARDSTOCK_KEYS,
    CONTENT_KEYS,
    PAPERS_KEYS,
    PROJECT_KEYS,
    SHAPE_KEYS,
    TEACH_KEYS,
    Key,
    usual_text,
)
from foldproof.project.problems import in_short, one_of
from foldproof.project.read import read_project
from foldproof.project.read_parts import host_value
from foldproof.project.read_settings import setting_facts
from foldproof.project.read_values import number_in
from foldproof.project.records import FORMAT
from foldproof.project.settings import CheckLimits
from foldproof.project.syntax import key_text, parse_toml, quoted
from foldproof.stock.errors import nearest_names

NOTE_COLUMN = 40  # where the notes after values begin, so that they stand below each other
USUAL_HOST = double_wall_tray.CONSTRUCTION  # what a lid is put on when a project begins with the lid
USUAL_WEIGHT = "216 gsm"  # 80 lb cover, the card most boxes are made of

_ROW_PATH = re.compile(r"(?P<list>\w+)\.(?P<number>[1-9][0-9]?)\.(?P<key>.+)")


def new_project(
    construction_name: str,
    name: str,
    unit: Literal["in", "cm"],
    values: Mapping[str, str],
    *,
    part: str | None = None,
    maker: str | None = None,
    cardstock: Mapping[str, str] | None = None,
    stops: str | None = None,
    content: Mapping[str, str] | None = None,
) -> str:
    """The text of a new project file: every key with what it means; those not given are commented out.

    ``values`` are the construction's values by name, as a maker writes them, or by a path such as
    ``layers.2.across``; a required one that is not given is left to be worked out. A construction that goes on
    another part gets a double-wall tray to go on, whose values are given with its own. ``part`` is "tray" or "lid"
    unless said. ``cardstock`` and ``content`` are keys of those tables; without a weight or a thickness the card is
    216 gsm. The text reads back without problems, else InputError is raised with them.
    """
    construction = construction_named(construction_name)
    if construction is None:
        names = [each.name for each in CONSTRUCTIONS]
        nearest = nearest_names(in_short(construction_name), names)
        raise wrong(
            "construction",
            in_short(construction_name),
            "there is no construction of this name",
            f"write {nearest}",
        )
    card = dict(cardstock or {})
    card.setdefault("sheet", usual_text(CARDSTOCK_KEYS[1], unit))
    if not {"weight", "thickness"} & set(card):
        card["weight"] = USUAL_WEIGHT
    top = {"name": name, "unit": unit} | ({} if maker is None else {"maker": maker})
    lines = (
        "# A Foldproof project. What stands after # is a note. A line that begins with # shows what holds",
        "# when it is left out, or an example: take the # away to write your own.",
        *_key_lines(PROJECT_KEYS, top, unit),
        "",
        "[cardstock]",
        *_key_lines(CARDSTOCK_KEYS, card, unit),
        "",
        "[board]",
        *_key_lines(BOARD_KEYS, {} if stops is None else {"stops": stops}, unit),
        "",
        *_parts_lines(construction, part, values, unit),
        "",
        *_alternatives_lines(construction, unit),
        *_shapes_lines(construction, unit),
        "# [papers]  # papers for the sides that show",
        *_key_lines(PAPERS_KEYS, {}, unit),
        "",
        "[teach]  # how the steps are drawn and told",
        *_key_lines(TEACH_KEYS, {}, unit),
        "",
        *_content_lines(content, unit),
        "",
        "[settings]  # limits of the checks and of the folding",
        *_setting_lines((CheckLimits, FoldingLimits)),
        "",
        "# [extra.notes]  # anything of your own: kept, never read",
    )
    text = "".join(f"{line}\n" for line in lines)
    read_project(text)
    return text


def _key_lines(keys: Iterable[Key], given: Mapping[str, str], unit: str) -> Iterator[str]:
    """A line for each key, then one for each given key that is not known: reading it names the nearest."""
    known = []
    for key in keys:
        known.append(key.name)
        note = f"{key.help}: {one_of(key.choices)}" if key.choices else key.help
        if key.name == "format":
            yield _line(f"format = {FORMAT}", note)
        elif key.name in given:
            yield _line(f"{key.name} = {quoted(given[key.name])}", note)
        else:
            usual = usual_text(key, unit)
            listed = key.holds in ("lengths", "points")
            yield _line(f"# {key.name} = {f'[{usual}]' if listed else quoted(usual)}", note)
    yield from _unknown_lines(given, known)


def _usual_name(construction: Construction) -> str:
    return "tray" if host_value(construction) is None else "lid"


def _parts_lines(construction: Construction, part: str | None, given: Mapping[str, str], unit: str) -> Iterator[str]:
    """The part and before it, for one that goes on another, that other one: each has those values that are its own."""
    name = part or _usual_name(construction)
    own = {path.removeprefix(f"parts.{name}."): written for path, written in given.items()}
    on = host_value(construction)
    if on is not None:
        host = own.setdefault(on.name, _usual_name(USUAL_HOST))
        host_names = _names(USUAL_HOST) - _names(construction)
        hosts = [path for path in own if path in host_names or path.startswith(f"parts.{host}.")]
        host_given = {path.removeprefix(f"parts.{host}."): own.pop(path) for path in hosts}
        yield from _part_lines(host, USUAL_HOST, host_given, unit)
        yield ""
    yield from _part_lines(name, construction, own, unit)


def _names(construction: Construction) -> set[str]:
    return {value.name for value in values_of(construction.parameters)}


def _part_lines(part: str, construction: Construction, given: Mapping[str, str], unit: str) -> Iterator[str]:
    heading = f"parts.{key_text(part)}"
    own = dict(given)
    values = values_of(construction.parameters)
    lists = [(value, _take_rows(value, own)) for value in values if value.kind == "list" and value.name not in own]
    yield f"[{heading}]"
    yield _line(f"construction = {quoted(construction.name)}", construction.summary)
    yield _line(f"revision = {construction.revision}", "the construction's revision this was made for")
    yield from _value_lines(values, own, unit)
    for value, rows in lists:
        assert value.record is not None, "a list has records"
        for number, row in enumerate(rows, start=1):
            yield ""
            yield _line(f"[[{heading}.{value.name}]]", f"{value.help}: number {number}")
            yield from _value_lines(values_of(value.record), row, unit)


def _take_rows(value: Value, given: dict[str, str]) -> list[dict[str, str]]:
    """The usual records of a list, with what is given for them by paths such as ``layers.2.across``: taken out."""
    assert value.top is not None, "a list has a longest"
    rows = [dict(row) for row in value.usual_records]
    for path in list(given):
        found = _ROW_PATH.fullmatch(path)
        if found is None or found["list"] != value.name or int(found["number"]) > value.top:
            continue
        number = int(found["number"])
        rows.extend(dict(value.usual_records[-1]) for _ in range(number - len(rows)))
        rows[number - 1][found["key"]] = given.pop(path)
    return rows


def _value_lines(values: tuple[Value, ...], given: Mapping[str, str], unit: str) -> Iterator[str]:
    for value in values:
        note = f"{value.help}{_ways(value)}"
        if value.kind == "list":
            continue
        if value.name in given:
            yield _line(f"{value.name} = {_written(value, given[value.name])}", note)
        elif value.default is None:
            yield _line(f"{value.name} = {quoted(OPEN)}", note)
        else:
            yield _line(f"# {value.name} = {quoted(value.default[0 if unit == 'in' else 1])}", note)
    yield from _unknown_lines(given, [value.name for value in values if value.kind != "list"])


def _written(value: Value, text: str) -> str:
    """A value as the file has it: counts and angles as plain numbers, all else in quotes."""
    number = number_in(text) if value.kind in ("count", "angle") else None
    return quoted(text) if number is None else str(number)


def _ways(value: Value) -> str:
    """The texts that can stand in a value's place, as the end of its note."""
    ways = (*value.choices, *((OPEN,) if value.may_be_open else ()))
    if not ways:
        return ""
    return f": {one_of(ways)}" if value.kind in ("choice", "shape") else f"; or {one_of(ways)}"


def _alternatives_lines(construction: Construction, unit: str) -> Iterator[str]:
    """Where another shape goes, in a file for a lid that can have one."""
    if construction is not turning_lid.CONSTRUCTION:
        return
    yield "# [alternatives.disc]  # another shape, for people without the die of this one; the rest is as the lid's"
    yield from _key_lines(ALTERNATIVE_KEYS, {}, unit)
    shape, across = (next(each for each in alternative_values() if each.name == name) for name in ("shape", "across"))
    yield _line(f'# shape = {quoted(FORMULAS[0].name)}', f"{shape.help}{_ways(shape)}")
    yield _line(f"# across = {quoted(OPEN)}", f"{across.help}{_ways(across)}")
    yield ""


def _shapes_lines(construction: Construction, unit: str) -> Iterator[str]:
    """Where a shape of the maker's own goes, in a file for something that has a shape."""
    if any(value.kind == "shape" for value in values_of(construction.parameters)):
        yield "# [shapes.leaf]  # a shape of your own; foldproof outline --into writes it from a photograph or drawing"
        yield from _key_lines(SHAPE_KEYS, {}, unit)
        yield ""


def _content_lines(given: Mapping[str, str] | None, unit: str) -> Iterator[str]:
    if given is not None:
        yield "[content]  # what goes in"
        yield from _key_lines(CONTENT_KEYS, given, unit)
        return
    yield "# [content]  # what goes in"
    for key in CONTENT_KEYS:
        yield _line(f"# {key.name} = {quoted(usual_text(key, unit))}", key.help)


def _setting_lines(records: Iterable[type]) -> Iterator[str]:
    for limits in records:
        for field in setting_facts(limits):
            facts = field.metadata
            yield _line(
                f"# {field.name} = {field.default}",
                f"{facts['help']}, {facts['least']:.10g} to {facts['most']:.10g}",
            )


def _unknown_lines(given: Mapping[str, str], known: Iterable[str]) -> Iterator[str]:
    names = tuple(known)
    return (f"{key_text(name)} = {quoted(written)}" for name, written in given.items() if name not in names)


def _line(written: str, note: str) -> str:
    return f"{written:<{NOTE_COLUMN}}  # {note}"


# --- Changing one value -------------------------------------------------------------------------------------


def with_change(text: str, path: str, value: str | int | float) -> str:
    """The file with the value at ``path`` (``parts.tray.wall_height``) set; comments and layout stay.

    In a list of headings the path has their number, from 1: ``parts.lid.layers.2.across``. A missing key is added
    under its heading. Under ``settings``, and for ``format`` and ``revision``, text that is a number is written as a
    number. Raises InputError for a text that is not TOML, or a path that is no path or leads through a value; whether
    the value makes sense is for ``read_project`` to say.
    """
    parse_toml(text)
    keys = path_keys(path)
    try:
        document = tomlkit.parse(text.removeprefix("\ufeff"))
        table: Any = document
        for key in keys[:-1]:
            table = _under(table, key, path, value)
        if isinstance(table, list) or _is_heading(table.get(keys[-1])):
            raise wrong(path, value, "is a heading, not a value", "name a value under it")
        table[keys[-1]] = _as_number(value) if keys[0] == "settings" or keys[-1] in ("format", "revision") else value
        changed: str = tomlkit.dumps(document)
    except TOMLKitError as error:
        raise wrong(path, value, f"cannot be set in this file: {error}", "change the file by hand") from error
    return changed


def _under(table: Any, key: str, path: str, value: object) -> Any:
    """What is under a key: a table, made if it is missing, or a list of tables; in a list the one of that number."""
    if not isinstance(table, list):
        found = table.setdefault(key, tomlkit.table())
    elif key in (numbers := [str(number) for number in range(1, len(table) + 1)]):
        found = table[numbers.index(key)]
    else:
        raise wrong(path, value, f"there is no number {in_short(key)} in this list", f"write 1 to {len(table)}")
    if not _is_heading(found):
        raise wrong(path, value, f"{key} is a value, with nothing under it", "name a value that is there")
    return found


def _is_heading(found: Any) -> bool:
    """Whether there are keys under it: a table, or a list of tables."""
    return isinstance(found, dict) or (
        isinstance(found, list) and bool(found) and all(isinstance(each, dict) for each in found)
    )


def path_keys(path: str) -> tuple[str, ...]:
    """The keys of a path, read as the file format reads the left side of a line."""
    no_path = wrong("path", in_short(path), "is no path to a value", "write it like parts.tray.wall_height")
    try:
        level: Any = {} if "\n" in path or "=" in path else tomllib.loads(f"{path} = 0")
    except tomllib.TOMLDecodeError as error:
        raise no_path from error
    keys: list[str] = []
    while isinstance(level, dict):
        if len(level) != 1:
            raise no_path
        ((key, level),) = level.items()
        keys.append(key)
    return tuple(keys)


def _as_number(value: str | int | float) -> str | int | float:
    if not isinstance(value, str):
        return value
    for kind in (int, float):
        try:
            return kind(value)
        except ValueError:
            continue
    return value
