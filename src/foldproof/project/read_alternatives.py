"""Reads the alternatives: other shapes for a turning lid, for people without the die of the first."""

from __future__ import annotations

from typing import Any

from foldproof.constructions.alternative_lid import OF_THE_BOX, alternative_values, other_lid
from foldproof.constructions.parameters import Open
from foldproof.constructions.turning_lid import CONSTRUCTION, TurningLidValues
from foldproof.pattern.measured import file_stem
from foldproof.project.keys import ALTERNATIVE_KEYS, PART_KEYS, key_names
from foldproof.project.problems import field_path, in_short, one_of
from foldproof.project.read_parts import MOST_PART_NAME, PART_NAME, construction_written, tell_conflicts
from foldproof.project.read_shapes import Shapes
from foldproof.project.read_values import read_values
from foldproof.project.records import Alternative, Part
from foldproof.project.table import Table, read_text, refuse_unknown, table_at
from foldproof.stock.errors import nearest_names

MOST_ALTERNATIVES = 8  # each has pages of its own; more are projects of their own


def read_alternatives(
    table: Table, parts_table: Table, parts: tuple[Part, ...], shapes: Shapes
) -> tuple[Alternative, ...]:
    """Every alternative under [alternatives], in the order of the file. The wrong ones are problems and left out.

    ``parts_table`` is what the file says of the parts, ``parts`` those of them that could be read.
    """
    if len(table.values) > MOST_ALTERNATIVES:
        reason, remedy = f"has {len(table.values)} alternatives", f"write at most {MOST_ALTERNATIVES}"
        table.problems.add("alternatives", "", reason, f"{remedy}, and the others in files of their own")
        return ()
    lids = tuple(name for name in parts_table.values if _is_lid(parts_table.values[name]))
    by_name = {part.name: part for part in parts}
    found = []
    for place, name in enumerate(table.values):
        _check_name(table, name, (*list(table.values)[:place], *parts_table.values))
        read = _read_alternative(table_at(table, name), name, lids, by_name, shapes)
        if read is not None:
            found.append(read)
    return tuple(found)


def _is_lid(values: Any) -> bool:
    return isinstance(values, dict) and construction_written(values.get("construction")) is CONSTRUCTION


def _check_name(table: Table, name: str, taken: tuple[str, ...]) -> None:
    """Its name becomes names of files, beside those of the parts."""
    if len(name) > MOST_PART_NAME or not PART_NAME.fullmatch(name):
        remedy = f"use letters, digits, spaces, - and _, at most {MOST_PART_NAME}"
        table.problems.add(field_path(*table.path), name, "is no name for an alternative", remedy)
    elif file_stem(name).casefold() in (file_stem(other).casefold() for other in taken):
        reason = "is the name of a part or of another alternative too"
        table.problems.add(table.field(name), name, reason, "give it another name")


def _read_alternative(
    table: Table, name: str, lids: tuple[str, ...], parts: dict[str, Part], shapes: Shapes
) -> Alternative | None:
    before = len(table.problems)
    values = alternative_values()
    fixed = (*OF_THE_BOX, *key_names(PART_KEYS))
    refuse_unknown(table, (*key_names(ALTERNATIVE_KEYS), *(value.name for value in values), *fixed))
    of = _read_of(table, lids)
    for key in fixed:
        if key in table.values:
            where = f", or change it under [parts.{of}]" if of else ""
            table.wrong(key, "is the same for every lid of one box", f"leave it out here{where}")
    given, _ = read_values(table, tuple(value for value in values if value.name in table.values), shapes)
    main = parts.get(of or "")
    if len(table.problems) > before or of is None or main is None:
        return None
    # A shape of the maker's own that has a problem is None, told where it stands.
    if "shape" in table.values and "shape" not in given:
        return None
    record = other_lid(main.values, given, table.ruler)
    tell_conflicts(table, _new_conflicts(main, record, parts), record)
    part = Part(
        name=name,
        construction=main.construction,
        revision=main.revision,
        values=record,
        open_values=tuple(value.name for value in values if isinstance(getattr(record, value.name), Open)),
        on=main.on,
    )
    return Alternative(of=of, part=part, keeps_shares="layers" not in given)


def _new_conflicts(main: Part, values: TurningLidValues, parts: dict[str, Part]) -> list[Any]:
    """Contradictions that the main lid does not have: its own are told where it stands."""
    told = main.construction.conflicts(main.values)
    return [each for each in main.construction.conflicts(values) if each not in told]


def _read_of(table: Table, lids: tuple[str, ...]) -> str | None:
    """The lid that it stands in for: what is written, or the only one there is."""
    if "of" not in table.values:
        if len(lids) == 1:
            return lids[0]
        if lids:
            table.wrong("of", "is missing, and there is more than one turning lid", f"write of = {one_of(lids)}")
        else:
            table.problems.add(
                field_path(*table.path), "", "there is no turning lid to stand in for", "add one under [parts.lid]"
            )
        return None
    text = read_text(table, "of")
    if text is None:
        return None
    if text.strip() in lids:
        return text.strip()
    nearest = f"write {nearest_names(in_short(text), lids)}" if lids else "add one under [parts.lid]"
    table.wrong("of", "is no turning lid of this project", nearest)
    return None
