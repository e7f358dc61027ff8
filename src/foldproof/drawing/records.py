"""Drawings as inert records: the only bridge from the trade to files.

Lengths are millimetres on paper, origin bottom left, y up. A role says what a mark is; how a role looks is
``style.py``'s business and how it is written an exporter's.
"""

from __future__ import annotations

from dataclasses import dataclass
from typing import Literal

Point = tuple[float, float]

LineRole = Literal[
    "cut",  # cut through
    "valley",  # score, fold up (towards the reader)
    "mountain",  # score, fold back
    "outline",  # silhouette of a drawn thing
    "edge",  # an edge in view
    "fold",  # a fold already made, in view
    "hidden",  # beneath something
    "guide",  # pencil line, construction line
    "dimension",  # a size, with end ticks drawn as strokes of the same role
    "movement",  # path of a moving part
    "frame",  # outline of a sheet, board or page part
    "tick",  # ruler and groove ticks
    "registration",  # marks for joining tiled pages
    "rule",  # thin line that parts text
]
FillRole = Literal[
    "plain",  # inside or plain side of the card
    "coloured",  # the card's coloured side
    "coloured_shade",  # the same, turned from the light
    "plain_shade",
    "waste",  # 45 degree hatch
    "glue",  # dots
    "board",  # the board or table under the sheet
    "ink",  # solid ink (arrow heads, groove triangles)
    "movement",  # solid arrow head in the movement colour
    "paper",  # covers what is under it
    "fails",  # cross hatch in the failing colour
]
TextRole = Literal["label", "size", "other_unit", "heading", "title", "note", "caution"]
Anchor = Literal["start", "middle", "end"]


@dataclass(frozen=True, slots=True, kw_only=True)
class Path:
    """A polyline; ``closed`` joins its last point to its first."""

    points: tuple[Point, ...]
    closed: bool = False


@dataclass(frozen=True, slots=True, kw_only=True)
class Stroke:
    """A drawn line. ``name`` ties it to a panel or crease of the pattern ('' for none)."""

    path: Path
    role: LineRole
    name: str = ""


@dataclass(frozen=True, slots=True, kw_only=True)
class Area:
    """A filled region bounded by closed paths, even-odd."""

    paths: tuple[Path, ...]
    role: FillRole
    name: str = ""


@dataclass(frozen=True, slots=True, kw_only=True)
class Label:
    """One line of text, baseline at ``at``, turned ``angle_deg`` anticlockwise. Fractions are written '3 1/4'."""

    text: str
    at: Point
    role: TextRole
    size_pt: float
    anchor: Anchor = "start"
    angle_deg: float = 0.0


Mark = Stroke | Area | Label


@dataclass(frozen=True, slots=True, kw_only=True)
class Page:
    """A drawing at true size. Marks are painted in order. ``alt`` is the picture in words."""

    name: str
    width_mm: float
    height_mm: float
    marks: tuple[Mark, ...]
    alt: str


@dataclass(frozen=True, slots=True, kw_only=True)
class Folio:
    """Fixed pages that print as one file."""

    title: str
    pages: tuple[Page, ...]
    language: str = "en"


@dataclass(frozen=True, slots=True, kw_only=True)
class Table:
    """Rows under columns; every cell is text."""

    title: str
    columns: tuple[str, ...]
    rows: tuple[tuple[str, ...], ...]


@dataclass(frozen=True, slots=True, kw_only=True)
class Heading:
    text: str
    level: int


@dataclass(frozen=True, slots=True, kw_only=True)
class Paragraph:
    """Running text; ``kind`` sets a check, a caution or a not-proved notice apart."""

    text: str
    kind: Literal["text", "check", "caution", "not_proved"] = "text"


@dataclass(frozen=True, slots=True, kw_only=True)
class Listing:
    items: tuple[str, ...]
    numbered: bool = False


@dataclass(frozen=True, slots=True, kw_only=True)
class Picture:
    """A drawing set in running text; written beside the text as ``<page.name>.svg``."""

    page: Page


@dataclass(frozen=True, slots=True, kw_only=True)
class Step:
    """One numbered step, kept together: what to do, its drawing, what to see, and one thing to do if it is not so.

    ``check`` and ``if_not`` carry their own leading word and colon.
    """

    number: int
    title: str
    text: str
    check: str
    if_not: str
    caution: str | None = None
    picture: Page | None = None


@dataclass(frozen=True, slots=True, kw_only=True)
class PageBreak:
    """What follows begins on a new page, where there are pages."""


@dataclass(frozen=True, slots=True, kw_only=True)
class Code:
    """A link that a camera can read, with the words beside it."""

    target: str
    text: str


Block = Heading | Paragraph | Listing | Picture | Table | Step | PageBreak | Code


@dataclass(frozen=True, slots=True, kw_only=True)
class Document:
    """Running text with pictures and tables."""

    title: str
    blocks: tuple[Block, ...]
    language: str = "en"
