"""A project as plain text that depends on what it says, not on how its file is written."""

from __future__ import annotations

import dataclasses
import json
from collections.abc import Iterator
from fractions import Fraction
from typing import Any

from foldproof.constructions.parameters import OPEN, Open
from foldproof.constructions.record import Construction
from foldproof.lengths import Length
from foldproof.outlines.own import OwnShape
from foldproof.project.records import Project
from foldproof.project.write_shapes import shape_lines


def canonical(project: Project) -> str:
    """One line for each value that matters, in a fixed order: the input of a hash.

    Lengths are exact fractions of a millimetre. What the file keeps under [extra] is left out: nothing
    reads it. Two files that differ in spelling only ('8 1/2', '8.5 in', 21.59 cm) give the same text.
    """
    return "".join(f"{line}\n" for line in _lines("project", project))


def _lines(path: str, value: Any) -> Iterator[str]:
    if isinstance(value, Length):
        yield f"{path} = {value.mm} mm"
    elif isinstance(value, Open):
        yield f"{path} = {OPEN}"
    elif isinstance(value, Construction):
        yield f"{path} = {json.dumps(value.name)}"
    elif isinstance(value, OwnShape) and not path.startswith("project.shapes."):
        yield f"{path} = {json.dumps(value.name)}"  # a part names it; what it is stands once
    elif isinstance(value, OwnShape):
        yield from (f"{path} {line}" for line in (f"name = {json.dumps(value.name)}", *shape_lines(value)))
    elif isinstance(value, tuple):
        yield f"{path} has {len(value)}"
        for place, each in enumerate(value):
            yield from _lines(f"{path}.{place}", each)
    elif dataclasses.is_dataclass(value):
        for field in dataclasses.fields(value):
            if not (isinstance(value, Project) and field.name in left_out(value)):
                yield from _lines(f"{path}.{field.name}", getattr(value, field.name))
    elif isinstance(value, Fraction):
        yield f"{path} = {value}"
    else:
        yield f"{path} = {_plain(value)}"


def left_out(project: Project) -> tuple[str, ...]:
    """What is no part of the hash: [extra], and alternatives where there are none, as before there were any."""
    return ("extra",) if project.alternatives else ("extra", "alternatives")


def _plain(value: str | int | float | None) -> str:
    assert value is None or isinstance(value, str | int | float), (
        "a project holds plain values and records only"
    )
    # A setting written 20000 and one written 20000.0 are the same.
    return json.dumps(float(value) if isinstance(value, int) else value)
