"""A page as a drawing inside a web page: small, and its lettering is text in the faces that the web page carries.

Lengths are hundredths of a millimetre, finer than a screen shows; what looks alike is written once for all of it.
"""

from __future__ import annotations

import html
from collections.abc import Iterator
from itertools import groupby

from foldproof.drawing.painting import Dotted, Inked, Lettered, Painted, painted
from foldproof.drawing.records import Page, Path
from foldproof.drawing.style import PAPER, Palette
from foldproof.drawing.type import FRACTION
from foldproof.drawing.wording import one_line
from foldproof.exports.numbers import decimal
from foldproof.exports.svg import PLACES, short_title

PER_MM = 100  # of the drawing's own unit
EM = 1000  # lettering is set in the units of its faces
Look = tuple[tuple[str, str], ...]  # attributes by name


def screen_svg(page: Page, palette: Palette, prefix: str, *, style: str = "") -> str:
    """``page`` as an ``svg`` element whose ids begin with ``prefix``; ``style`` is its own style, if any."""
    width, height = round(page.width_mm * PER_MM), round(page.height_mm * PER_MM)
    size = f'width="{decimal(page.width_mm, PLACES)}mm" height="{decimal(page.height_mm, PLACES)}mm"'
    styled = f'style="{style}" ' if style else ""
    lines = [
        f'<svg {styled}{size} viewBox="0 0 {width} {height}" role="img" '
        f'aria-labelledby="{prefix}-title {prefix}-desc">',
        f'<title id="{prefix}-title">{html.escape(short_title(page))}</title>',
        f'<desc id="{prefix}-desc">{html.escape(one_line(page.alt))}</desc>',
        f'<rect width="100%" height="100%" fill="{PAPER}"/>',
    ]
    for look, run in groupby(painted(page, palette), key=_look):
        lines += _alike(look, tuple(run), height)
    return "\n".join([*lines, "</svg>", ""])


def _look(piece: Painted) -> Look:
    match piece:
        case Inked():
            return _inked_look(piece)
        case Dotted():
            pen = (("stroke", piece.colour), ("stroke-width", _length(piece.size_mm)), ("stroke-linecap", "round"))
            return (("fill", "none"), *pen)
        case Lettered():
            return (("fill", piece.colour), ("class", piece.line.face.replace("_", " ")))


def _inked_look(piece: Inked) -> Look:
    look = [("fill", piece.fill or "none"), *([("fill-rule", "evenodd")] if piece.fill else [])]
    if piece.pen:
        look += [("stroke", piece.pen), ("stroke-width", _length(piece.width_mm)), ("stroke-linejoin", "round")]
        look += [("stroke-linecap", piece.cap)] if piece.cap != "butt" else []
    if piece.dash_mm:
        look.append(("stroke-dasharray", " ".join(_length(part) for part in piece.dash_mm)))
    return tuple(look)


def _alike(look: Look, pieces: tuple[Painted, ...], height: int) -> Iterator[str]:
    """Pieces of one look. Lines are one path; areas stay apart, because where two overlap both are filled."""
    attributes = "".join(f' {name}="{value}"' for name, value in look)
    if isinstance(pieces[0], Lettered):
        yield f"<g{attributes}>"
        yield from (_text(piece, height) for piece in pieces if isinstance(piece, Lettered))
        yield "</g>"
        return
    data = [each for each in (_data(piece, height) for piece in pieces) if each]
    if ("fill", "none") in look:
        data = ["".join(data)] if data else []
    if len(data) == 1:
        yield f'<path{attributes} d="{data[0]}"/>'
    elif data:
        yield f"<g{attributes}>"
        yield from (f'<path d="{each}"/>' for each in data)
        yield "</g>"


def _data(piece: Painted, height: int) -> str:
    if isinstance(piece, Dotted):
        return "".join(f"M{_at(x)} {height - _at(y)}h0" for x, y in piece.points)
    assert isinstance(piece, Inked)
    return "".join(_path(path, height) for path in piece.paths)


def _path(path: Path, height: int) -> str:
    """A path by its steps: whole numbers from point to point, so that roundings never add up."""
    points = [(_at(x), height - _at(y)) for x, y in path.points]
    parts = [f"M{points[0][0]} {points[0][1]}"]
    before, letter = points[0], "l"
    for point in points[1:]:
        across, down = point[0] - before[0], point[1] - before[1]
        if across or down:
            parts.append(f"{letter}{across}{down if down < 0 else f' {down}'}")
            before, letter = point, " " if letter == "l" else letter
    text = "".join(parts).replace(" -", "-")
    if before == points[0] and len(parts) == 1:
        text += "h0"
    return text + ("z" if path.closed else "")


def _text(piece: Lettered, height: int) -> str:
    """One line of lettering; fractions are formed by the face, the space before one stays a space."""
    a, b, _, _, x, y = (PER_MM * part for part in piece.matrix)
    matrix = " ".join(decimal(part, 5) for part in (a, -b, b, a, x, height - y))
    said = []
    done = 0
    shown = piece.line.text
    for found in FRACTION.finditer(shown):
        start = found.start("above")
        whole = shown[done : found.start("gap")] if found["gap"] else shown[done:start]
        said.append(html.escape(whole) + ('<tspan class="gap"> </tspan>' if found["gap"] else ""))
        said.append(f'<tspan class="f">{found["above"]}/{found["below"]}</tspan>')
        done = found.end()
    said.append(html.escape(shown[done:]))
    return f'<text transform="matrix({matrix})">{"".join(said)}</text>'


def _at(length_mm: float) -> int:
    return round(length_mm * PER_MM)


def _length(length_mm: float) -> str:
    return decimal(length_mm * PER_MM, 1)
