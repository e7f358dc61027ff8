"""What every cut file has alike, made by the DXF library: header, layers, line types.

The library takes a fifth of a second to start, so what it makes is kept as ``cut_frame.dxf``; a test holds that file to
``frame_text``, which is what must be written there when a layer or a dash changes.
"""

from __future__ import annotations

import io
import re

from ezdxf.document import Drawing
from ezdxf.filemanagement import new

from foldproof.drawing.style import LINES
from foldproof.exports.dxf import GLUE_LAYER, LAYER_BY_ROLE, OWNER

GLUE_DASH_MM = (0.3, 0.9)  # dots, as the glue areas of a printed page have
BLACK_OR_WHITE = 7  # the colour index that shows as ink on any ground
MILLIMETRES = 4  # $INSUNITS
FIXED_HEADER = {
    "$TDCREATE": "2451544.5",
    "$TDUPDATE": "2451544.5",
    "$FINGERPRINTGUID": "{00000000-0000-0000-0000-000000000000}",
    "$VERSIONGUID": "{00000000-0000-0000-0000-000000000000}",
}  # what would change from run to run: dates (Julian, 1 January 2000) and chance


def frame_text() -> str:
    """A cut file with nothing drawn, without what would differ from run to run."""
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
    return _steadied(written.getvalue())


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


def _steadied(text: str) -> str:
    """``text`` without what differs from run to run."""
    for variable, value in FIXED_HEADER.items():
        pattern = rf"(\n{re.escape(variable)}\n *\d+\n)[^\n]*"
        text, count = re.subn(pattern, rf"\g<1>{value}", text)
        assert count == 1, f"{variable} is written {count} times"
    return re.sub(r"(\n *1\n)[\d.]+ @ \d{4}-\d\d-\d\dT[^\n]*", r"\g<1>2000-01-01", text)
