"""The cut file of a page as DXF (R2010, millimetres): named layers, one colour, meaning in the line type."""

from __future__ import annotations

import math
import re
from dataclasses import dataclass
from functools import cache
from typing import TYPE_CHECKING

from foldproof.drawing.records import Area, LineRole, Page, Path, Stroke
from foldproof.drawing.style import LINES
from foldproof.drawing.wording import one_line

if TYPE_CHECKING:
    from ezdxf.document import Drawing

LAYER_BY_ROLE: dict[LineRole, str] = {"cut": "CUT", "valley": "SCORE-VALLEY", "mountain": "SCORE-MOUNTAIN"}
GLUE_LAYER = "GLUE"
GLUE_DASH_MM = (0.3, 0.9)  # dots, as the glue areas of a printed page have
BLACK_OR_WHITE = 7  # the colour index that shows as ink on any ground
MILLIMETRES = 4  # $INSUNITS
OWNER = "FOLDPROOF"  # whose extended data the names are
TEXT_CODE = 1000  # group code of a text in extended data
NAME_LIMIT = 80  # characters; extended data texts end at 255 bytes
ENTITIES = "\n  2\nENTITIES\n"
NEXT_HANDLE = r"(\n\$HANDSEED\n *5\n)([0-9A-F]+)"
FIXED_HEADER = {
    "$TDCREATE": "2451544.5",
    "$TDUPDATE": "2451544.5",
    "$FINGERPRINTGUID": "{00000000-0000-0000-0000-000000000000}",
    "$VERSIONGUID": "{00000000-0000-0000-0000-000000000000}",
}  # what would change from run to run: dates (Julian, 1 January 2000) and chance


@dataclass(frozen=True, slots=True, kw_only=True)
class Frame:
    """A cut file with nothing drawn: what stands before and after its lines, who owns them, the first free handle.

    Handles are the numbers that things in a file are known by, written in hexadecimal.
    """

    before: str
    after: str
    owner: str
    free: int


def cut_dxf(page: Page) -> str:
    """Cuts, scores and glue areas of ``page`` as polylines, origin bottom left. Same page, same text."""
    frame = empty_frame()
    lines: list[str] = []
    for mark in page.marks:
        match mark:
            case Stroke(role=("cut" | "valley" | "mountain") as role):
                lines.append(_polyline(frame, len(lines), mark.path, LAYER_BY_ROLE[role], mark.name))
            case Area(role="glue"):
                for path in mark.paths:
                    lines.append(_polyline(frame, len(lines), path, GLUE_LAYER, mark.name))
            case _:
                pass
    before, count = re.subn(NEXT_HANDLE, rf"\g<1>{frame.free + len(lines):X}", frame.before)
    assert count == 1, "a file tells its next handle once"
    return "".join([before, *lines, frame.after])


@cache
def empty_frame() -> Frame:
    """Header, layers and all else that every cut file has alike, made by the library."""
    import io

    from ezdxf.filemanagement import new

    drawing = new("R2010")
    drawing.header["$INSUNITS"] = MILLIMETRES
    drawing.header["$MEASUREMENT"] = 1
    drawing.header["$LTSCALE"] = 1.0
    drawing.appids.add(OWNER)
    for role, layer in LAYER_BY_ROLE.items():
        _add_layer(drawing, layer, LINES[role].dash_mm)
    _add_layer(drawing, GLUE_LAYER, GLUE_DASH_MM)
    _settle_classes(drawing)
    written = io.StringIO()
    drawing.write(written)
    text = _steadied(written.getvalue())
    before, start, after = text.partition(ENTITIES)
    handle = re.search(NEXT_HANDLE, before)
    assert start and handle, "a file has a place for its lines, and tells its next handle"
    return Frame(
        before=before + start, after=after, owner=drawing.modelspace().layout_key, free=int(handle.group(2), 16)
    )


def _settle_classes(drawing: Drawing) -> None:
    """Class definitions by name. The library takes them from a set, whose order changes from process to process."""
    drawing.classes.add_required_classes(drawing.dxfversion)
    drawing.classes.classes = dict(sorted(drawing.classes.classes.items()))


def _add_layer(drawing: Drawing, layer: str, dash_mm: tuple[float, ...]) -> None:
    linetype = "CONTINUOUS"
    if dash_mm:
        linetype = layer
        signed = [part if index % 2 == 0 else -part for index, part in enumerate(dash_mm)]
        drawing.linetypes.add(layer, pattern=[sum(dash_mm), *signed], description=layer)
    drawing.layers.add(layer, color=BLACK_OR_WHITE, linetype=linetype)


def _polyline(frame: Frame, number: int, path: Path, layer: str, name: str) -> str:
    """One line as group codes and values (DXF reference, LWPOLYLINE), its name as extended data."""
    finite = all(math.isfinite(x) and math.isfinite(y) for x, y in path.points)
    assert finite, f"{layer} {name!r} is not finite"
    groups: list[tuple[int, object]] = [
        (0, "LWPOLYLINE"),
        (5, f"{frame.free + number:X}"),
        (330, frame.owner),
        (100, "AcDbEntity"),
        (8, layer),
        (100, "AcDbPolyline"),
        (90, len(path.points)),
        (70, int(path.closed)),
    ]
    for x, y in path.points:
        groups += [(10, float(x)), (20, float(y))]
    told = one_line(name)[:NAME_LIMIT]
    if told:
        groups += [(1001, OWNER), (TEXT_CODE, told)]
    return "".join([f"{code:>3}\n{value}\n" for code, value in groups])


def _steadied(text: str) -> str:
    """``text`` without what differs from run to run."""
    for variable, value in FIXED_HEADER.items():
        pattern = rf"(\n{re.escape(variable)}\n *\d+\n)[^\n]*"
        text, count = re.subn(pattern, rf"\g<1>{value}", text)
        assert count == 1, f"{variable} is written {count} times"
    return re.sub(r"(\n *1\n)[\d.]+ @ \d{4}-\d\d-\d\dT[^\n]*", r"\g<1>2000-01-01", text)
