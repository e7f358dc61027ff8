"""Outlines from a DXF drawing: the closed lines of its model, and those closed by joining line to line."""

from __future__ import annotations

from collections import Counter
from dataclasses import dataclass
from typing import TYPE_CHECKING

import numpy as np

from foldproof.errors import wrong
from foldproof.outlines.budget import FILE, Budget
from foldproof.outlines.cleaning import ACCURACY_MM, FLATTENED, refuse_accuracy
from foldproof.outlines.dxf_text import MM_PER_UNIT, DxfText, looked_through, unit_used
from foldproof.outlines.joining import JOIN_MM, Line, joined
from foldproof.outlines.rings import Ring, with_those_inside
from foldproof.outlines.traced import Left, Traced, traced_of

if TYPE_CHECKING:
    from collections.abc import Iterable

    from ezdxf.document import Drawing
    from ezdxf.entities.dxfentity import DXFEntity
    from ezdxf.entities.insert import Insert

    from foldproof.outlines.dxf_lines import Pen

MOST_BLOCKS_DEEP = 16  # blocks within blocks
RESAVE = "save the drawing again as text (ASCII) DXF"
COMMON_LAYER = "0"  # an entity of a block that is on it takes the layer of the block


def read_dxf(
    data: bytes, *, unit: str | None = None, accuracy_mm: float = ACCURACY_MM, join_mm: float = JOIN_MM
) -> Traced:
    """The closed outlines of a DXF file's model, in mm, largest first.

    ``unit`` ("mm", "cm", "in", ...) is used instead of what the file states. Lines and arcs of a layer are joined
    where their ends lie within ``join_mm``. Outlines inside others are told as their holes and stay in the list.
    Raises InputError: field "the file" as ``vector_svg.read_svg`` does, field "unit" when the file states none.
    """
    refuse_accuracy(accuracy_mm, FILE)
    budget = Budget()
    text = looked_through(data, budget)
    used = unit_used(text, unit)
    from foldproof.outlines.dxf_lines import Pen

    drawing = _opened(text)
    reading = _Reading(drawing, Pen(mm_per_unit=MM_PER_UNIT[used], tolerance_mm=FLATTENED * accuracy_mm, budget=budget))
    reading.entities(drawing.modelspace(), _Place(layer=COMMON_LAYER, blocks=()))
    chains = joined(reading.open_lines, join_mm)
    closed = [*reading.closed_lines, *(line for line in chains.closed if len(line.points) > 2)]
    budget.spend("closed outlines", len(closed))
    rings = with_those_inside([Ring(name=line.name, points=line.points) for line in closed])
    return traced_of(
        rings,
        chains.still_open,
        reading.left,
        accuracy_mm=accuracy_mm,
        unit=used,
        unit_from="told" if unit is not None else "file",
    )


def _opened(text: DxfText) -> Drawing:
    """The file as the library reads it, mending what it can. InputError when it cannot."""
    import io

    from ezdxf import recover

    try:
        return recover.read(io.BytesIO(text.data))[0]
    except _damage() as error:
        raise wrong(FILE, "", "cannot be read as DXF", RESAVE) from error


def _damage() -> tuple[type[Exception], ...]:
    """What the library raises for a file whose parts do not fit together: its own error, and what it stumbles over."""
    from ezdxf.lldxf.const import DXFError

    stumbles = (ValueError, TypeError, AttributeError, LookupError, ArithmeticError, AssertionError, RecursionError)
    return (DXFError, *stumbles)


@dataclass(frozen=True, slots=True, kw_only=True)
class _Place:
    """Where an entity stands: the layer of the block it is in, and the blocks around it."""

    layer: str
    blocks: tuple[str, ...]


class _Reading:
    """What is found while the drawing is gone through. Grows, so it is no record."""

    def __init__(self, drawing: Drawing, pen: Pen) -> None:
        self._pen = pen
        self._unseen = {
            layer.dxf.name.lower() for layer in drawing.layers if layer.is_off() or layer.is_frozen()
        }
        self.closed_lines: list[Line] = []
        self.open_lines: list[Line] = []
        self.left: Counter[Left] = Counter()

    def entities(self, found: Iterable[DXFEntity], place: _Place) -> None:
        """All entities of the model, or of a block."""
        from ezdxf.entities.dxfgfx import DXFGraphic
        from ezdxf.entities.insert import Insert

        for entity in found:
            self._pen.budget.spend("shapes and groups", 1)
            if not isinstance(entity, DXFGraphic):
                self.left["other"] += 1
                continue
            own = str(entity.dxf.get("layer", COMMON_LAYER))
            layer = place.layer if own == COMMON_LAYER else own
            if layer.lower() in self._unseen or entity.dxf.get("invisible", 0):
                self.left["hidden"] += 1
                continue
            try:
                if isinstance(entity, Insert):
                    self._block(entity, _Place(layer=layer, blocks=place.blocks))
                else:
                    self._line(entity, layer)
            except _damage() as error:
                reason = f"has a {entity.dxftype()[:20]} that cannot be read"
                raise wrong(FILE, f"layer {layer[:40]}", reason, RESAVE) from error

    def _block(self, insert: Insert, place: _Place) -> None:
        name = str(insert.dxf.get("name", "")).lower()
        if name in place.blocks or len(place.blocks) >= MOST_BLOCKS_DEEP:
            reason = "has a block that copies itself without end" if name in place.blocks else "nests blocks too deep"
            raise wrong(FILE, name[:40], reason, "save the outline alone in a file of its own")
        self._pen.budget.spend("copies", max(1, insert.mcount))
        inner = _Place(layer=place.layer, blocks=(*place.blocks, name))
        for single in insert.multi_insert() if insert.mcount > 1 else (insert,):
            self.entities(single.virtual_entities(), inner)

    def _line(self, entity: DXFEntity, layer: str) -> None:
        from foldproof.outlines.dxf_lines import line_of

        found = line_of(entity, self._pen)
        if isinstance(found, str):
            self.left[found] += 1
            return
        line = Line(name="" if layer == COMMON_LAYER else layer, group=layer, points=found.points)
        if found.closed and len(found.points) > 2:
            self.closed_lines.append(line)
        elif float(np.ptp(found.points, axis=0).max()) > 0.0:
            self.open_lines.append(line)
