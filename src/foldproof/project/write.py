"""Writes project files: a new one with every key explained, and one with a single value changed."""

from __future__ import annotations

import json
import tomllib
from collections.abc import Iterable, Iterator, Mapping
from typing import Any, Literal

import tomlkit
from tomlkit.exceptions import TOMLKitError

from foldproof.constructions.catalogue import CONSTRUCTIONS, construction_named
from foldproof.constructions.parameters import OPEN, Value, values_of
from foldproof.constructions.record import Construction
from foldproof.errors import wrong
from foldproof.folding.limits import FoldingLimits
from foldproof.project.keys import BOARD_KEYS, CARDSTOCK_KEYS, CONTENT_KEYS, PROJECT_KEYS, Key, usual_text
from foldproof.project.problems import in_short, one_of
from foldproof.project.read import read_project
from foldproof.project.read_settings import setting_facts
from foldproof.project.records import FORMAT
from foldproof.project.settings import CheckLimits
from foldproof.project.syntax import parse_toml
from foldproof.stock.errors import nearest_names

NOTE_COLUMN = 40  # where the notes after values begin, so that they stand below each other
USUAL_WEIGHT = "216 gsm"  # 80 lb cover, the card most boxes are made of


def new_project(
    construction_name: str,
    name: str,
    unit: Literal["in", "cm"],
    values: Mapping[str, str],
    *,
    part: str = "tray",
    maker: str | None = None,
    cardstock: Mapping[str, str] | None = None,
    stops: str | None = None,
    content: Mapping[str, str] | None = None,
) -> str:
    """The text of a new project file: every key with what it means; those not given are commented out.

    ``values`` are the construction's values by name, as a maker writes them; a required one that is not given
    is left to be worked out. ``cardstock`` and ``content`` are keys of those tables; without a weight or a
    thickness the card is 216 gsm. The text reads back without problems, else InputError is raised with them.
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
        f"[parts.{_key(part)}]",
        *_part_lines(construction, values, unit),
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
            yield _line(f"{key.name} = {_text(given[key.name])}", note)
        else:
            yield _line(f"# {key.name} = {_text(usual_text(key, unit))}", note)
    yield from _unknown_lines(given, known)


def _part_lines(construction: Construction, given: Mapping[str, str], unit: str) -> Iterator[str]:
    yield _line(f"construction = {_text(construction.name)}", construction.summary)
    yield _line(f"revision = {construction.revision}", "the construction's revision this was made for")
    values = values_of(construction.parameters)
    for value in values:
        note = f"{value.help}{_ways(value)}"
        if value.name in given:
            yield _line(f"{value.name} = {_text(given[value.name])}", note)
        elif value.default is None:
            yield _line(f"{value.name} = {_text(OPEN)}", note)
        else:
            yield _line(f"# {value.name} = {_text(value.default[0 if unit == 'in' else 1])}", note)
    yield from _unknown_lines(given, [value.name for value in values])


def _ways(value: Value) -> str:
    """The texts that can stand in a value's place, as the end of its note."""
    ways = (*value.choices, *((OPEN,) if value.may_be_open else ()))
    if not ways:
        return ""
    return f": {one_of(ways)}" if value.kind == "choice" else f"; or {one_of(ways)}"


def _content_lines(given: Mapping[str, str] | None, unit: str) -> Iterator[str]:
    if given is not None:
        yield "[content]  # what goes in"
        yield from _key_lines(CONTENT_KEYS, given, unit)
        return
    yield "# [content]  # what goes in"
    for key in CONTENT_KEYS:
        yield _line(f"# {key.name} = {_text(usual_text(key, unit))}", key.help)


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
    return (f"{_key(name)} = {_text(written)}" for name, written in given.items() if name not in names)


def _line(written: str, note: str) -> str:
    return f"{written:<{NOTE_COLUMN}}  # {note}"


def _text(written: str) -> str:
    """Text in the quotes of the file format, which are those of JSON but for one character."""
    return json.dumps(written, ensure_ascii=False).replace("\x7f", "\\u007f")


def _key(name: str) -> str:
    return name if name.isascii() and name.replace("-", "").replace("_", "").isalnum() else _text(name)


# --- Changing one value -------------------------------------------------------------------------------------


def with_change(text: str, path: str, value: str | int | float) -> str:
    """The file with the value at ``path`` (``parts.tray.wall_height``) set; comments and layout stay.

    A missing key is added under its heading. Under ``settings``, and for ``format`` and ``revision``, text
    that is a number is written as a number. Raises InputError for a text that is not TOML, or a path that is
    no path or leads through a value; whether the value makes sense is for ``read_project`` to say.
    """
    parse_toml(text)
    keys = _path_keys(path)
    try:
        document = tomlkit.parse(text.removeprefix("\ufeff"))
        table: Any = document
        for key in keys[:-1]:
            table = table.setdefault(key, tomlkit.table())
            if not isinstance(table, dict):
                raise wrong(
                    path, value, f"{key} is a value, with nothing under it", "name a value that is there"
                )
        if isinstance(table.get(keys[-1]), dict):
            raise wrong(path, value, "is a heading, not a value", "name a value under it")
        table[keys[-1]] = (
            _as_number(value) if keys[0] == "settings" or keys[-1] in ("format", "revision") else value
        )
        changed: str = tomlkit.dumps(document)
    except TOMLKitError as error:
        raise wrong(path, value, f"cannot be set in this file: {error}", "change the file by hand") from error
    return changed


def _path_keys(path: str) -> tuple[str, ...]:
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
