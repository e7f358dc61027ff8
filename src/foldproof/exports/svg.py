"""A page as SVG at true size in millimetres: a picture that stands alone, or a cut file of bare lines."""

from __future__ import annotations

import html
import re
from collections import Counter
from collections.abc import Sequence
from functools import lru_cache
from itertools import groupby

from foldproof.drawing.painting import PAGES_KEPT, Dotted, Inked, Lettered, Painted, painted
from foldproof.drawing.records import LineRole, Page, Path, Point, Stroke
from foldproof.drawing.style import INK, LINES, PAPER, SEA_GREEN, Cap, Palette
from foldproof.drawing.type import outline_data
from foldproof.drawing.wording import one_line
from foldproof.exports.numbers import decimal, decimals
from foldproof.words.catalogue import ENGLISH, Language

LOOKS_KEPT = 256  # ways of drawing a line, and names of panels
PLACES = 4  # decimals of a millimetre
CUT_LAYERS: tuple[LineRole, ...] = ("valley", "mountain", "cut")  # scored while the sheet is whole, then cut
HAIRLINE_MM = 0.1
SHORT_TITLE = 90  # characters; a title is the first sentence of the picture in words when it is no longer


@lru_cache(maxsize=PAGES_KEPT)
def page_svg(page: Page, *, palette: Palette = SEA_GREEN) -> str:
    """``page`` as a picture. Text is drawn as outlines, each named, so that no font has to travel along."""
    alt = one_line(page.alt)
    prefix = element_id(page.name)
    title = short_title(page)
    lines = [
        f'<svg xmlns="http://www.w3.org/2000/svg" {_size(page)} role="img" '
        f'aria-labelledby="{prefix}-title {prefix}-desc">',
        f'<title id="{prefix}-title">{html.escape(title)}</title>',
        f'<desc id="{prefix}-desc">{html.escape(alt)}</desc>',
        f'<rect width="100%" height="100%" fill="{PAPER}"/>',
    ]
    seen: Counter[str] = Counter()
    for role, run in groupby(painted(page, palette), key=lambda piece: piece.role):
        seen[role] += 1
        count = f"-{seen[role]}" if seen[role] > 1 else ""
        lines.append(f'<g id="{prefix}-{role}{count}" data-role="{role}">')
        lines += [line for piece in run for line in _piece(piece, page.height_mm)]
        lines.append("</g>")
    return "\n".join([*lines, "</svg>", ""])


def cut_svg(page: Page, *, language: Language = ENGLISH) -> str:
    """The cut file of ``page``: its cuts and scores only, one path each, in one colour and no fill.

    What a line means is said by its layer (``cut``, ``valley``, ``mountain``) and by its dashes.
    """
    alt = one_line(page.alt)
    lines = [
        f'<svg xmlns="http://www.w3.org/2000/svg" {_size(page)} role="img">',
        f"<title>{html.escape(one_line(page.name))}</title>",
        f"<desc>{html.escape(alt)}</desc>",
    ]
    for role in CUT_LAYERS:
        dash = " ".join(decimal(part, PLACES) for part in LINES[role].dash_mm)
        dashed = f' stroke-dasharray="{dash}"' if dash else ""
        pen = f'fill="none" stroke="{INK}" stroke-width="{decimal(HAIRLINE_MM, PLACES)}"{dashed}'
        lines.append(f'<g id="{role}" {pen}>')
        lines.append(f"<title>{html.escape(language.page.cut_meanings[role])}</title>")
        for mark in page.marks:
            if isinstance(mark, Stroke) and mark.role == role:
                lines.append(f'<path d="{_data((mark.path,), page.height_mm)}"{_named(mark.name)}/>')
        lines.append("</g>")
    return "\n".join([*lines, "</svg>", ""])


def short_title(page: Page) -> str:
    """The first sentence of the picture in words, or the page's name where that is long."""
    first = re.split(r"(?<=[.!?:;])\s", one_line(page.alt), maxsplit=1)[0]
    return first if len(first) <= SHORT_TITLE else one_line(page.name)


def element_id(name: str) -> str:
    """``name`` as an id that SVG and HTML accept: letters, digits and hyphens, a letter first."""
    return "p-" + (re.sub(r"[^a-z0-9]+", "-", name.lower()).strip("-") or "page")


def _size(page: Page) -> str:
    width, height = decimal(page.width_mm, PLACES), decimal(page.height_mm, PLACES)
    return f'width="{width}mm" height="{height}mm" viewBox="0 0 {width} {height}"'


def _piece(piece: Painted, height_mm: float) -> list[str]:
    match piece:
        case Inked():
            return _inked(piece, height_mm)
        case Dotted():
            data = "".join([f"M{at}h0" for at in _places(piece.points, height_mm)])
            size = decimal(piece.size_mm, PLACES)
            pen = f'fill="none" stroke="{piece.colour}" stroke-width="{size}" stroke-linecap="round"'
            return [f'<path d="{data}" {pen}/>'] if piece.points else []
        case Lettered():
            return _lettered(piece, height_mm)


def _inked(piece: Inked, height_mm: float) -> list[str]:
    if not piece.paths:
        return []
    look = _look(piece.fill, piece.pen, piece.width_mm, piece.cap, piece.dash_mm)
    return [f'<path d="{_data(piece.paths, height_mm)}" {look}{_named(piece.name)}/>']


@lru_cache(maxsize=LOOKS_KEPT)
def _look(fill: str, pen: str, width_mm: float, cap: Cap, dash_mm: tuple[float, ...]) -> str:
    look = [f'fill="{fill}" fill-rule="evenodd"' if fill else 'fill="none"']
    if pen:
        look.append(f'stroke="{pen}" stroke-width="{decimal(width_mm, PLACES)}"')
        look.append(f'stroke-linecap="{cap}" stroke-linejoin="round"')
    if dash_mm:
        look.append(f'stroke-dasharray="{" ".join(decimal(part, PLACES) for part in dash_mm)}"')
    return " ".join(look)


@lru_cache(maxsize=LOOKS_KEPT)
def _named(name: str) -> str:
    return f' data-name="{html.escape(one_line(name))}"' if name else ""


def _lettered(piece: Lettered, height_mm: float) -> list[str]:
    if not piece.line.glyphs:
        return []
    a, b, c, d, x, y = piece.matrix
    flipped = " ".join(decimal(part, 7) for part in (a, -b, c, -d, x, height_mm - y))
    return [
        f'<path role="img" aria-label="{html.escape(piece.line.text)}" transform="matrix({flipped})" '
        f'fill="{piece.colour}" d="{outline_data(piece.line)}"/>'
    ]


def _data(paths: tuple[Path, ...], height_mm: float) -> str:
    """Path data with y turned to run down the page."""
    return "".join(["M" + "L".join(_places(path.points, height_mm)) + "Z" * path.closed for path in paths])


def _places(points: Sequence[Point], height_mm: float) -> list[str]:
    """Each point as its two numbers, y turned to run down the page."""
    numbers = iter(decimals([number for x, y in points for number in (x, height_mm - y)], PLACES))
    return [f"{x} {y}" for x, y in zip(numbers, numbers, strict=True)]
