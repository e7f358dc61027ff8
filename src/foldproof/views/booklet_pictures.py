"""Pictures that only a booklet has: the key to its drawings, and every piece drawn to one scale."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass

from foldproof.drawing.arrows import arrow_marks
from foldproof.drawing.records import Area, FillRole, Label, LineRole, Mark, Page, Path, Point, Stroke, TextRole
from foldproof.drawing.type import text_width_mm
from foldproof.views.labels import TEXT_PT, line_mm
from foldproof.views.piece import placed
from foldproof.words.catalogue import ENGLISH, Language

KEY = ("outline", "valley", "mountain", "guide", "hidden", "glue", "waste", "sides", "arrow")
LINES: dict[str, LineRole] = {
    "outline": "outline",
    "valley": "valley",
    "mountain": "mountain",
    "guide": "guide",
    "hidden": "hidden",
}
SWATCH_MM = (20.0, 5.6)
KEY_ROW_MM = 7.4
KEY_WORDS_MM = 26.0  # from the left edge to the words
KEY_PT = 11.5

MOST_SHOWN = 12  # pieces on one page; their words take more room than they do
# One part in so many; words, because a drawing's scale is no measure of the piece.
SCALES = (2, 3, 4, 5, 6, 7, 8, 10, 15, 20, 40)
GAP_MM = 5.0  # between pieces, and between rows
LABEL_GAP_MM = 1.6


@dataclass(frozen=True, slots=True, kw_only=True)
class ShownPiece:
    """A piece to draw: its outline in mm of card from (0, 0), and the words under it, most important first."""

    outline: tuple[Point, ...]
    width_mm: float
    height_mm: float
    fill: FillRole
    name: str
    size: str
    other: str


def key_page(width_mm: float, name: str = "key", *, language: Language = ENGLISH) -> Page:
    """What each line, texture and arrow of the drawings means."""
    height = KEY_ROW_MM * len(KEY)
    marks: list[Mark] = []
    for number, sign in enumerate(KEY):
        middle = height - KEY_ROW_MM * (number + 0.5)
        marks += _swatch(sign, middle)
        marks.append(
            Label(text=language.booklet.key_words[sign], at=(KEY_WORDS_MM, middle - 1.3), role="label", size_pt=KEY_PT)
        )
    told = " ".join(
        language.booklet.key_item.format(sign=language.booklet.signs[sign], words=language.booklet.key_words[sign])
        for sign in KEY
    )
    return Page(
        name=name, width_mm=width_mm, height_mm=height, marks=tuple(marks), alt=f"{language.booklet.key_title} {told}"
    )


def _swatch(sign: str, middle: float) -> Sequence[Mark]:
    left, right = 0.8, 0.8 + SWATCH_MM[0]
    if sign in LINES:
        return [Stroke(path=Path(points=((left, middle), (right, middle))), role=LINES[sign])]
    low, high = middle - SWATCH_MM[1] / 2, middle + SWATCH_MM[1] / 2
    frame = Stroke(path=_box(left, low, right, high), role="edge")
    if sign == "arrow":
        turn = tuple((left + SWATCH_MM[0] * n / 12, low + 1.0 + 3.6 * n * (12 - n) / 36) for n in range(13))
        return arrow_marks([turn])
    if sign == "sides":
        half = (left + right) / 2
        return [
            Area(paths=(_box(left, low, half, high),), role="plain"),
            Area(paths=(_box(half, low, right, high),), role="coloured"),
            Stroke(path=Path(points=((half, low), (half, high))), role="edge"),
            frame,
        ]
    return [Area(paths=(_box(left, low, right, high),), role="glue" if sign == "glue" else "waste"), frame]


def _box(left: float, low: float, right: float, high: float) -> Path:
    return Path(points=((left, low), (right, low), (right, high), (left, high)), closed=True)


# --- Pieces -------------------------------------------------------------------------------------------------


def pieces_pages(
    pieces: Sequence[ShownPiece],
    size: tuple[float, float],
    *,
    name: str,
    alts: Sequence[str],
    language: Language = ENGLISH,
) -> tuple[tuple[Page, ...], str]:
    """All pieces at one scale, in rows, and the scale in words: the largest at which they fit pages of ``size``.

    A page holds at most MOST_SHOWN pieces, so that their words fit too; ``alts`` has one text for each piece.
    """
    groups = [pieces[first : first + MOST_SHOWN] for first in range(0, len(pieces), MOST_SHOWN)]
    fitting = (all(_fitting(group, parts, size) for group in groups) for parts in SCALES)
    parts = next((scale for scale, fits in zip(SCALES, fitting, strict=True) if fits), SCALES[-1])
    told = [" ".join(alts[first : first + MOST_SHOWN]) for first in range(0, len(pieces), MOST_SHOWN)]
    names = [name if number == 0 else f"{name}-{number + 1}" for number in range(len(groups))]
    pages = tuple(
        _pieces_page(group, parts, size, name=each, alt=alt)
        for group, each, alt in zip(groups, names, told, strict=True)
    )
    return pages, language.booklet.scale_words[str(parts)]


def _pieces_page(pieces: Sequence[ShownPiece], parts: int, size: tuple[float, float], *, name: str, alt: str) -> Page:
    rows = _rows(pieces, 1.0 / parts, size[0])
    height = _rows_mm(rows, 1.0 / parts)
    marks: list[Mark] = []
    top = height - 1.0
    for row in rows:
        marks += _row(row, 1.0 / parts, size[0], top)
        top -= _row_height(row, 1.0 / parts) + GAP_MM
    return Page(name=name, width_mm=size[0], height_mm=height, marks=tuple(marks), alt=alt)


def _fitting(pieces: Sequence[ShownPiece], parts: int, size: tuple[float, float]) -> bool:
    widest = max(piece.width_mm for piece in pieces) / parts
    return widest <= size[0] - 2.0 and _rows_mm(_rows(pieces, 1.0 / parts, size[0]), 1.0 / parts) <= size[1]


def _rows_mm(rows: Sequence[Sequence[ShownPiece]], scale: float) -> float:
    return sum(_row_height(row, scale) for row in rows) + GAP_MM * (len(rows) - 1) + 2.0


def _cell_mm(piece: ShownPiece, scale: float) -> float:
    words = (text_width_mm(text, role, TEXT_PT) for text, role in _words(piece))
    return max(piece.width_mm * scale + 1.0, *words)


def _words(piece: ShownPiece) -> tuple[tuple[str, TextRole], ...]:
    return ((piece.name, "heading"), (piece.size, "size"), (piece.other, "other_unit"))


def _rows(pieces: Sequence[ShownPiece], scale: float, width_mm: float) -> list[list[ShownPiece]]:
    rows: list[list[ShownPiece]] = []
    used = 0.0
    for piece in pieces:
        cell = _cell_mm(piece, scale)
        if rows and used + GAP_MM + cell <= width_mm:
            rows[-1].append(piece)
            used += GAP_MM + cell
        else:
            rows.append([piece])
            used = cell
    return rows


def _row_height(row: Sequence[ShownPiece], scale: float) -> float:
    return max(piece.height_mm for piece in row) * scale + LABEL_GAP_MM + 3 * line_mm(TEXT_PT)


def _row(row: Sequence[ShownPiece], scale: float, width_mm: float, top: float) -> list[Mark]:
    """Pieces on one level, each over its words, the room left over shared out between them."""
    cells = [_cell_mm(piece, scale) for piece in row]
    spare = (width_mm - sum(cells)) / (len(row) + 1)
    low = top - max(piece.height_mm for piece in row) * scale
    marks: list[Mark] = []
    left = spare
    for piece, cell in zip(row, cells, strict=True):
        middle = left + cell / 2
        path = Path(points=piece.outline, closed=True)
        drawn: tuple[Mark, ...] = (Area(paths=(path,), role=piece.fill), Stroke(path=path, role="outline"))
        marks += placed(drawn, scale, (middle - piece.width_mm * scale / 2, low))
        base = low - LABEL_GAP_MM - 0.8 * line_mm(TEXT_PT)
        for number, (text, role) in enumerate(_words(piece)):
            at = (middle, base - number * line_mm(TEXT_PT))
            marks.append(Label(text=text, at=at, role=role, size_pt=TEXT_PT, anchor="middle"))
        left += cell + spare
    return marks
