"""Starting a project: from a construction or from an example, with values set on the way."""

from __future__ import annotations

import re
import unicodedata
from collections.abc import Mapping
from importlib import resources
from typing import Literal

from foldproof.constructions.catalogue import CONSTRUCTIONS
from foldproof.errors import InputError, Problem, wrong
from foldproof.project.keys import PROJECT_KEYS, PROJECT_TABLES, key_names
from foldproof.project.read import read_project
from foldproof.project.write import new_project, with_change
from foldproof.stock.errors import nearest_names

ENDING = ".toml"
LONGEST_FILE_NAME = 60  # characters, without the ending
RESERVED = re.compile(r"(?:con|prn|aux|nul|com\d|lpt\d)", re.I)  # names some systems keep for themselves


def example_names() -> tuple[str, ...]:
    """The examples that come with the program, in alphabetical order."""
    folder = resources.files("foldproof") / "examples"
    names = (entry.name for entry in folder.iterdir())
    return tuple(sorted(name.removesuffix(ENDING) for name in names if name.endswith(ENDING)))


def example_text(name: str) -> str:
    """The text of an example. Raises InputError naming the nearest for one that is not there."""
    names = example_names()
    if name not in names:
        raise wrong(
            "example", name[:60], "there is no example of this name", f"write {nearest_names(name[:60], names)}"
        )
    return (resources.files("foldproof") / "examples" / f"{name}{ENDING}").read_text(encoding="utf-8")


def construction_names() -> tuple[str, ...]:
    """What can be made."""
    return tuple(construction.name for construction in CONSTRUCTIONS)


def read_settings(written: tuple[str, ...]) -> dict[str, str]:
    """``name=value`` texts as a mapping. Raises InputError with every one that is not written so."""
    found: dict[str, str] = {}
    problems: list[Problem] = []
    for text in written:
        name, equals, value = text.partition("=")
        name = name.strip()
        if not equals or not name:
            problems.append(
                Problem(
                    field="--set",
                    value=text[:60],
                    reason="is not name=value",
                    remedy='write it like --set wall_height="2 1/4"',
                )
            )
        elif name in found:
            problems.append(Problem(field="--set", value=name[:60], reason="is there twice", remedy="keep one"))
        found[name] = value.strip()
    if problems:
        raise InputError(tuple(problems))
    return found


def from_construction(
    construction: str, name: str, unit: Literal["in", "cm"], settings: Mapping[str, str]
) -> str:
    """The text of a new project. ``settings`` are values of the part, or paths such as ``cardstock.sheet``."""
    part_values: dict[str, str] = {}
    tables: dict[str, dict[str, str]] = {}
    later: dict[str, str] = {}
    for path, value in settings.items():
        table, _, key = path.rpartition(".")
        if table in ("cardstock", "content"):
            tables.setdefault(table, {})[key] = value
        elif not _is_elsewhere(path):
            part_values[path.removeprefix("parts.tray.")] = value
        elif path not in ("maker", "board.stops"):
            later[path] = value
    text = new_project(
        construction,
        name,
        unit,
        part_values,
        maker=settings.get("maker"),
        cardstock=tables.get("cardstock"),
        stops=settings.get("board.stops"),
        content=tables.get("content"),
    )
    return _changed(text, later)


def from_example(example: str, name: str | None, settings: Mapping[str, str]) -> str:
    """An example's text with another name and other values; a bare value's name means the first part's."""
    text = example_text(example)
    part = read_project(text).parts[0].name
    changes = {} if name is None else {"name": name}
    for path, value in settings.items():
        changes[path if _is_elsewhere(path) or path.startswith("parts.") else f"parts.{part}.{path}"] = value
    return _changed(text, changes)


def _is_elsewhere(path: str) -> bool:
    """Whether a path leads to something else than the values of a part."""
    head, dot, _ = path.partition(".")
    if dot:
        return head in PROJECT_TABLES and head != "parts"
    return head in key_names(PROJECT_KEYS)


def _changed(text: str, changes: Mapping[str, str]) -> str:
    for path, value in changes.items():
        text = with_change(text, path, value)
    read_project(text)
    return text


def file_name(project_name: str) -> str:
    """A file name for a project: plain small letters, digits and hyphens, whatever it is called."""
    plain = unicodedata.normalize("NFKD", project_name).encode("ascii", "ignore").decode("ascii").lower()
    slug = re.sub(r"[^a-z0-9]+", "-", plain).strip("-")[:LONGEST_FILE_NAME].strip("-")
    if not slug or RESERVED.fullmatch(slug):
        slug = f"project-{slug}".strip("-")
    return f"{slug}{ENDING}"
