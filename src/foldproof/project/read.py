"""Reads a project file. Everything that is wrong with it is told at once."""

from __future__ import annotations

import json
import re
from collections.abc import Mapping
from typing import Any

from foldproof.errors import wrong
from foldproof.folding.limits import FoldingLimits
from foldproof.lengths import (
    CM_HALF_MILLIMETRES,
    CM_MILLIMETRES,
    INCH_EIGHTHS,
    INCH_SIXTEENTHS,
    INCH_THIRTYSECONDS,
    Length,
    LengthError,
    Ruler,
    Unit,
    length,
    parse_length,
)
from foldproof.project.keys import (
    CONTENT_KEYS,
    LEAST_CONTENT,
    LINK_PATTERN,
    MOST_CONTENT,
    MOST_EASE,
    MOST_LINK_CHARACTERS,
    PROJECT_KEYS,
    PROJECT_TABLES,
    TEACH_KEYS,
    key_names,
    usual_text,
)
from foldproof.project.problems import MOST_SHOWN_NUMBER, Problems
from foldproof.project.read_alternatives import read_alternatives
from foldproof.project.read_papers import read_papers
from foldproof.project.read_parts import read_parts
from foldproof.project.read_settings import read_limits, refuse_unknown_settings
from foldproof.project.read_shapes import read_shapes
from foldproof.project.read_stock import read_the_board, read_the_cardstock
from foldproof.project.records import FORMAT, Content, Project, Teaching
from foldproof.project.settings import CheckLimits
from foldproof.project.syntax import parse_toml
from foldproof.project.table import (
    Table,
    read_choice,
    read_length,
    read_name,
    read_text,
    read_whole,
    refuse_missing,
    refuse_unknown,
    refuse_unknown_keys,
    table_at,
)

RULERS: dict[str, tuple[Ruler, ...]] = {
    "in": (INCH_EIGHTHS, INCH_SIXTEENTHS, INCH_THIRTYSECONDS),
    "cm": (CM_MILLIMETRES, CM_HALF_MILLIMETRES),
}
USUAL_RULER: dict[str, Ruler] = {"in": INCH_SIXTEENTHS, "cm": CM_MILLIMETRES}


def read_project(text: str) -> Project:
    """The project in the text of a file.

    Raises InputError with every problem found: path, value, reason and remedy of each. More than 50 are
    counted, not listed. A text that is not TOML, is over 1 MB, or nests too deep has one problem; so has a
    newer format.
    """
    tables = parse_toml(text)
    _refuse_newer(tables)
    problems = Problems()
    top = Table(path=(), values=tables, unit="in", ruler=INCH_SIXTEENTHS, problems=problems)
    refuse_unknown(top, (*key_names(PROJECT_KEYS), *PROJECT_TABLES))
    refuse_missing(top, PROJECT_KEYS)
    _read_format(top)
    unit: Unit = "cm" if read_choice(top, "unit", ("in", "cm"), "in") == "cm" else "in"
    ruler = _read_ruler(top, unit)
    top = Table(path=(), values=tables, unit=unit, ruler=ruler, problems=problems)
    name = read_name(top, "name", "unnamed")
    maker = read_name(top, "maker", "") or None
    link = _read_link(top)
    cardstock = read_the_cardstock(table_at(top, "cardstock"))
    board = read_the_board(table_at(top, "board"))
    shapes = read_shapes(table_at(top, "shapes"))
    parts_table = table_at(top, "parts")
    parts = read_parts(parts_table, shapes)
    alternatives = read_alternatives(table_at(top, "alternatives"), parts_table, parts, shapes)
    papers = read_papers(table_at(top, "papers"), cardstock) if "papers" in tables else None
    teach = _read_teaching(table_at(top, "teach"))
    content = _read_content(table_at(top, "content")) if "content" in tables else None
    settings = table_at(top, "settings")
    refuse_unknown_settings(settings, (FoldingLimits, CheckLimits))
    folding, checks = read_limits(settings, FoldingLimits), read_limits(settings, CheckLimits)
    extra = _read_extra(table_at(top, "extra"))
    problems.raise_any()
    assert cardstock is not None, "a missing cardstock is a problem"
    return Project(
        format=FORMAT,
        name=name,
        maker=maker,
        link=link,
        unit=unit,
        ruler=ruler,
        other_ruler=USUAL_RULER["cm" if unit == "in" else "in"],
        cardstock=cardstock,
        board=board,
        parts=parts,
        alternatives=alternatives,
        shapes=tuple(shape for shape in shapes.values() if shape is not None),
        papers=papers,
        teach=teach,
        content=content,
        folding=folding,
        checks=checks,
        extra=extra,
    )


def _refuse_newer(tables: Mapping[str, Any]) -> None:
    """A newer format is the only problem told: its other keys may well be right."""
    found = tables.get("format")
    if isinstance(found, int) and not isinstance(found, bool) and FORMAT < found < MOST_SHOWN_NUMBER:
        raise wrong(
            "format",
            found,
            f"this program reads format {FORMAT}; format {found} needs a version made after 0.1",
            f"use a version of Foldproof that reads format {found}, or write format = {FORMAT}",
        )


def _read_format(top: Table) -> None:
    found = read_whole(top, "format")
    if found is not None and found != FORMAT:
        top.wrong("format", "there is no such format", f"write format = {FORMAT}")


def _read_ruler(top: Table, unit: Unit) -> Ruler:
    value = top.values.get("ruler")
    if value is None:
        return USUAL_RULER[unit]
    choices = "1/8 in, 1/16 in or 1/32 in" if unit == "in" else "1 mm or 0.5 mm"
    try:
        step = parse_length(value, unit) if isinstance(value, str | int | float) else None
    except LengthError:
        step = None
    for ruler in RULERS[unit]:
        if step == ruler.step_length:
            return ruler
    top.wrong("ruler", f"is no ruler for a project in {unit}", f"write {choices}")
    return USUAL_RULER[unit]


def _read_link(top: Table) -> str | None:
    """The maker's link: what a camera opens must be plain, short and safe to follow."""
    link = (read_text(top, "link") or "").strip()
    if "link" not in top.values or not isinstance(top.values["link"], str):
        return None
    if len(link) > MOST_LINK_CHARACTERS:
        top.wrong("link", f"has {len(link)} characters", f"write at most {MOST_LINK_CHARACTERS}")
    elif re.fullmatch(LINK_PATTERN, link) is None:
        top.wrong("link", "is not a web address that begins with https://", "write one such as https://example.org/box")
    else:
        return link
    return None


def _read_teaching(table: Table) -> Teaching:
    refuse_unknown_keys(table, TEACH_KEYS)
    hand, version, place = (read_choice(table, key.name, key.choices, key.choices[0]) for key in TEACH_KEYS)
    return Teaching(
        hand="left" if hand == "left" else "right",
        version="class" if version == "class" else "full",
        place="searched" if place == "searched" else "as given",
    )


def _read_content(table: Table) -> Content | None:
    refuse_unknown_keys(table, CONTENT_KEYS)
    least, most = parse_length(LEAST_CONTENT, "mm"), parse_length(MOST_CONTENT, "mm")
    sides = [read_length(table, key.name, least, most) for key in CONTENT_KEYS if key.required]
    usual_ease = parse_length(usual_text(CONTENT_KEYS[-1], table.unit), table.unit)
    ease = read_length(table, "ease", length(0, "mm"), parse_length(MOST_EASE, "mm")) or usual_ease
    known = [side for side in sides if isinstance(side, Length)]
    if len(known) < len(sides):
        return None
    return Content(length=known[0], width=known[1], height=known[2], ease=ease)


def _read_extra(table: Table) -> tuple[tuple[str, str], ...]:
    for name, kept in table.values.items():
        if not isinstance(kept, dict):
            table.wrong(
                name, "is not under a heading of its own", f"write it under [extra.notes]: {name} = …"
            )
    if table.problems:
        return ()
    return tuple((name, _as_text(kept)) for name, kept in sorted(table.values.items()))


def _as_text(value: Any) -> str:
    """What the file keeps, as text that is the same for the same contents."""
    if isinstance(value, dict):
        return f"{{{', '.join(f'{json.dumps(key)}: {_as_text(value[key])}' for key in sorted(value))}}}"
    if isinstance(value, list):
        return f"[{', '.join(map(_as_text, value))}]"
    if isinstance(value, int) and abs(value) > MOST_SHOWN_NUMBER:
        return hex(value)
    return json.dumps(value) if isinstance(value, str) else str(value)
