"""The cut file of a page as DXF (R2010, millimetres): named layers, one colour, meaning in the line type."""

from __future__ import annotations

import math
import re
from dataclasses import dataclass
from functools import cache

from foldproof.drawing.records import Area, LineRole, Page, Path, Stroke
from foldproof.drawing.wording import one_line

LAYER_BY_ROLE: dict[LineRole, str] = {"cut": "CUT", "valley": "SCORE-VALLEY", "mountain": "SCORE-MOUNTAIN"}
GLUE_LAYER = "GLUE"
OWNER = "FOLDPROOF"  # whose extended data the names are
TEXT_CODE = 1000  # group code of a text in extended data
NAME_LIMIT = 80  # characters; extended data texts end at 255 bytes
FRAME_FILE = "cut_frame.dxf"
ENTITIES = "\n  2\nENTITIES\n"
# The model space is a block record; the lines of the drawing name it as their owner.
OWNER_OF_LINES = r"BLOCK_RECORD\n  5\n([0-9A-F]+)\n(?:(?!  0\n).*\n.*\n)*?  2\n\*Model_Space\n"
NEXT_HANDLE = r"(\n\$HANDSEED\n *5\n)([0-9A-F]+)"


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
    """Header, layers and all else that every cut file has alike: ``cut_frame.dxf``, see ``dxf_frame``."""
    from importlib.resources import files as resources

    text = resources("foldproof.exports").joinpath(FRAME_FILE).read_text(encoding="utf-8")
    before, start, after = text.partition(ENTITIES)
    handle, owner = re.search(NEXT_HANDLE, before), re.search(OWNER_OF_LINES, before)
    assert start and handle and owner, "a frame has a place and an owner for its lines, and tells its next handle"
    return Frame(before=before + start, after=after, owner=owner.group(1), free=int(handle.group(2), 16))


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
