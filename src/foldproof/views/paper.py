"""What every printed leaf carries: header, page number, the notice of what is not proved, and the legend."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass
from typing import Literal

from foldproof.drawing.records import Area, Label, Mark, Path, Point, Stroke, TextRole
from foldproof.drawing.style import MM_PER_PT
from foldproof.drawing.type import text_width_mm
from foldproof.lengths import Unit
from foldproof.stock.sheets import SheetSize, read_sheet
from foldproof.views.labels import ASCENT, TEXT_PT, line_mm, shortened, wrapped
from foldproof.words.catalogue import ENGLISH, Language

MARGIN_MM = 14.0  # of a leaf that is read: room for a thumb and a punch
TITLE_PT = 24.0
STEP_NUMBER_PT = 25.0
STEP_TITLE_PT = 14.5
NOTICE_MM = 9.0  # height of the notice's frame
NOTICE_GAP_MM = 5.0  # between the project's name and what stands beside it
SWATCH_MM = 9.0
SWATCH_GAP_MM = 2.0
LEGEND_GAP_MM = 6.0
CROSS_IN_MM = 4.0
CROSS_HALF_MM = 1.7
CROSS_ROOM_MM = 18.0  # a drawn piece narrower than this gets a smaller cross
TRIANGLE_MM = (3.4, 3.2)  # width and height of the mark at a groove

LegendKey = Literal["cut", "valley", "mountain", "waste", "glue", "groove", "tick", "cross"]


@dataclass(frozen=True, slots=True, kw_only=True)
class Leaf:
    """The page being filled: its paper, what stands in its header, and the width inside the margins."""

    paper: SheetSize
    margin_mm: float
    project_name: str
    title: str
    kind: str
    not_proved: bool
    in_class: bool = False

    @property
    def width_mm(self) -> float:
        return self.paper.width.float_mm - 2 * self.margin_mm

    @property
    def top_mm(self) -> float:
        return self.paper.height.float_mm - self.margin_mm


@dataclass(frozen=True, slots=True, kw_only=True)
class Drawn:
    """Marks and the height they took, downwards from the top that was given."""

    marks: tuple[Mark, ...]
    height_mm: float


def printer_paper(unit: Unit) -> SheetSize:
    """The paper of a maker's printer, upright: Letter where inches are used, A4 elsewhere."""
    return read_sheet("Letter" if unit == "in" else "A4", unit)


def notice(leaf: Leaf, *, language: Language = ENGLISH) -> Drawn:
    """'Not proved', framed, with the square and cross that failing things carry; nothing on a proved leaf."""
    if not leaf.not_proved:
        return Drawn(marks=(), height_mm=0.0)
    left, top = leaf.margin_mm, leaf.top_mm
    low = top - NOTICE_MM
    square = _rectangle(left + 2.0, low + 2.0, left + 7.0, top - 2.0)
    cross = ((left + 3.1, low + 3.1), (left + 5.9, top - 3.1)), ((left + 3.1, top - 3.1), (left + 5.9, low + 3.1))
    text = Label(
        text=shortened(language.paper.not_proved, "caution", 13.0, leaf.width_mm - 12.0),
        at=(left + 9.5, low + NOTICE_MM / 2 - 0.33 * 13.0 * MM_PER_PT),
        role="caution",
        size_pt=13.0,
    )
    marks: list[Mark] = [
        Stroke(path=_rectangle(left, low, left + leaf.width_mm, top), role="outline"),
        Area(paths=(square,), role="movement"),
        *(Area(paths=(_band(a, b, 0.7),), role="paper") for a, b in cross),
        text,
    ]
    return Drawn(marks=tuple(marks), height_mm=NOTICE_MM + 3.0)


def header(leaf: Leaf, page: int, pages: int, *, language: Language = ENGLISH) -> Drawn:
    """Project and page number, between them whom the version is for, the title below them, and a rule."""
    above = notice(leaf, language=language)
    left, right = leaf.margin_mm, leaf.margin_mm + leaf.width_mm
    number = language.paper.page_of.format(page=page, pages=pages)
    first = leaf.top_mm - above.height_mm - ASCENT * TEXT_PT * MM_PER_PT
    second = first - 9.6
    room = leaf.width_mm - text_width_mm(number, "note", TEXT_PT) - 8.0
    kind_room = text_width_mm(leaf.kind, "note", 14.0) + 4.0
    title = shortened(leaf.title, "title", TITLE_PT, leaf.width_mm - kind_room)
    kind_at = left + text_width_mm(title, "title", TITLE_PT) + 3.0
    marks: tuple[Mark, ...] = (
        *above.marks,
        *project_line(leaf, (left, first), room, language=language),
        Label(text=number, at=(right, first), role="note", size_pt=TEXT_PT, anchor="end"),
        Label(text=title, at=(left, second), role="title", size_pt=TITLE_PT),
        Label(text=leaf.kind, at=(kind_at, second), role="note", size_pt=14.0),
        Stroke(path=Path(points=((left, second - 4.0), (right, second - 4.0))), role="rule"),
    )
    return Drawn(marks=marks, height_mm=leaf.top_mm - (second - 4.0) + 2.5)


def project_line(leaf: Leaf, at: Point, room_mm: float, *, language: Language = ENGLISH) -> list[Mark]:
    """The project's name and, on a class version, that it is one. The name is cut where both have no room."""
    notice_text = language.paper.class_version if leaf.in_class else ""
    notice_mm = text_width_mm(notice_text, "heading", TEXT_PT) + NOTICE_GAP_MM if notice_text else 0.0
    name = shortened(leaf.project_name, "note", TEXT_PT, room_mm - notice_mm)
    marks: list[Mark] = [Label(text=name, at=at, role="note", size_pt=TEXT_PT)]
    if notice_text:
        after = at[0] + text_width_mm(name, "note", TEXT_PT) + NOTICE_GAP_MM
        marks.append(Label(text=notice_text, at=(after, at[1]), role="heading", size_pt=TEXT_PT))
    return marks


def told_alt(leaf: Leaf, alt: str, *, language: Language = ENGLISH) -> str:
    """A page in words, after what the whole leaf says."""
    notices = [language.paper.not_proved] if leaf.not_proved else []
    notices += [language.paper.class_version] if leaf.in_class else []
    return " ".join((*notices, alt))


def step_heading(number: int, title: str, left: float, top: float, width_mm: float) -> Drawn:
    """A step's large number and its title on one baseline."""
    base = top - ASCENT * STEP_NUMBER_PT * MM_PER_PT + 1.0
    after = text_width_mm(str(number), "title", STEP_NUMBER_PT) + 3.0
    marks = (
        Label(text=str(number), at=(left, base), role="title", size_pt=STEP_NUMBER_PT),
        Label(
            text=shortened(title, "heading", STEP_TITLE_PT, width_mm - after),
            at=(left + after, base),
            role="heading",
            size_pt=STEP_TITLE_PT,
        ),
    )
    return Drawn(marks=marks, height_mm=top - base + 2.6)


def legend(
    keys: Sequence[LegendKey], left: float, top: float, width_mm: float, *, language: Language = ENGLISH
) -> Drawn:
    """The line table in small, in rows."""
    marks: list[Mark] = []
    x, y = left, top - ASCENT * TEXT_PT * MM_PER_PT
    for key in keys:
        swatch = TRIANGLE_MM[0] if key in ("groove", "tick", "cross") else SWATCH_MM
        wide = swatch + SWATCH_GAP_MM + text_width_mm(language.paper.legend[key], "label", TEXT_PT)
        if x > left and x + wide > left + width_mm:
            x, y = left, y - line_mm(TEXT_PT) - 0.8
        marks += _swatch(key, x, y + 1.3)
        marks.append(
            Label(text=language.paper.legend[key], at=(x + swatch + SWATCH_GAP_MM, y), role="label", size_pt=TEXT_PT)
        )
        x += wide + LEGEND_GAP_MM
    return Drawn(marks=tuple(marks), height_mm=top - y + 2.0)


def _swatch(key: LegendKey, x: float, middle: float) -> list[Mark]:
    match key:
        case "cut" | "valley" | "mountain":
            return [Stroke(path=Path(points=((x, middle), (x + SWATCH_MM, middle))), role=_SAMPLES[key])]
        case "waste" | "glue":
            box = _rectangle(x, middle - 1.9, x + SWATCH_MM, middle + 1.9)
            return [Area(paths=(box,), role=key), Stroke(path=box, role="frame")]
        case "groove":
            return triangle((x + TRIANGLE_MM[0] / 2, middle - TRIANGLE_MM[1] / 2), solid=True)
        case "tick":
            return triangle((x + TRIANGLE_MM[0] / 2, middle - TRIANGLE_MM[1] / 2), solid=False)
        case "cross":
            return pencil_cross((x + TRIANGLE_MM[0] / 2, middle))


# The samples are no lines of the piece: they lie in the legend, so they must not count as cuts.
_SAMPLES: dict[str, Literal["outline", "valley", "mountain"]] = {
    "cut": "outline",
    "valley": "valley",
    "mountain": "mountain",
}


def triangle(tip: Point, *, solid: bool) -> list[Mark]:
    """The mark at a groove, pointing down; hollow where a ruler is needed."""
    x, y = tip
    path = Path(
        points=((x, y), (x + TRIANGLE_MM[0] / 2, y + TRIANGLE_MM[1]), (x - TRIANGLE_MM[0] / 2, y + TRIANGLE_MM[1])),
        closed=True,
    )
    if solid:
        return [Area(paths=(path,), role="ink")]
    return [Area(paths=(path,), role="paper"), Stroke(path=path, role="edge")]


def pencil_cross(middle: Point, half_mm: float = CROSS_HALF_MM) -> list[Mark]:
    """The cross a maker pencils to know a corner again."""
    x, y = middle
    h = half_mm
    arms = ((x - h, y - h), (x + h, y + h)), ((x - h, y + h), (x + h, y - h))
    return [Area(paths=(_band(a, b, 0.6),), role="movement") for a, b in arms]


def cross_in(width_mm: float, height_mm: float) -> tuple[float, float]:
    """How far inside its corner the cross stands on a drawn piece, and half its size: less on a narrow one."""
    narrow = min(1.0, min(width_mm, height_mm) / CROSS_ROOM_MM)
    return CROSS_IN_MM * narrow, CROSS_HALF_MM * narrow


def lines_of(text: str, left: float, top: float, width_mm: float, role: TextRole, size_pt: float) -> Drawn:
    """Running text downwards from its upper left corner."""
    first = top - ASCENT * size_pt * MM_PER_PT
    lines = wrapped(text, role, size_pt, width_mm)
    marks = tuple(
        Label(text=line, at=(left, first - n * line_mm(size_pt)), role=role, size_pt=size_pt)
        for n, line in enumerate(lines)
    )
    return Drawn(marks=marks, height_mm=len(lines) * line_mm(size_pt))


def _rectangle(x0: float, y0: float, x1: float, y1: float) -> Path:
    return Path(points=((x0, y0), (x1, y0), (x1, y1), (x0, y1)), closed=True)


def _band(a: Point, b: Point, width_mm: float) -> Path:
    """A thick straight line as an area."""
    dx, dy = b[0] - a[0], b[1] - a[1]
    part = width_mm / 2 / (dx * dx + dy * dy) ** 0.5
    nx, ny = -dy * part, dx * part
    return Path(
        points=((a[0] + nx, a[1] + ny), (b[0] + nx, b[1] + ny), (b[0] - nx, b[1] - ny), (a[0] - nx, a[1] - ny)),
        closed=True,
    )
