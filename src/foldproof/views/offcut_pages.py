"""Where pieces lie on a sheet that their squares would not share: each sheet drawn small, with the places in words."""

from __future__ import annotations

from collections.abc import Mapping, Sequence

from shapely.geometry import Polygon as Shape

from foldproof.drawing.records import Label, Mark, Page, Path, Stroke
from foldproof.geometry.plane import Polygon
from foldproof.layout.offcuts import CutPlace
from foldproof.lengths import Ruler, about
from foldproof.stock.sheets import SheetSize
from foldproof.views.labels import TEXT_PT
from foldproof.views.lid_by_hand import exact_mm
from foldproof.views.paper import MARGIN_MM, Leaf, header, lines_of, printer_paper, told_alt
from foldproof.views.piece import placed
from foldproof.words.catalogue import ENGLISH, Language

SHEET_MM = 120.0  # drawn length of a sheet's longer side
GAP_MM = 6.0


def offcut_pages(
    places: Sequence[CutPlace],
    names: Mapping[str, str],
    stock: str,
    sheet: SheetSize,
    ruler: Ruler,
    project_name: str,
    *,
    not_proved: bool = False,
    in_class: bool = False,
    language: Language = ENGLISH,
) -> tuple[Page, ...]:
    """A leaf for each sheet that more than one piece is cut from. ``names`` has the pieces in words, by place."""
    leaf = Leaf(
        paper=printer_paper(ruler.unit),
        margin_mm=MARGIN_MM,
        project_name=project_name,
        title=stock[:1].upper() + stock[1:],
        kind=language.lid.offcut_kind,
        not_proved=not_proved,
        in_class=in_class,
    )
    sheets = [
        [place for place in places if place.sheet == number] for number in sorted({place.sheet for place in places})
    ]
    shared = [own for own in sheets if len(own) > 1]
    return tuple(
        _page(leaf, own, names, sheet, ruler, number, len(shared), language=language)
        for number, own in enumerate(shared, start=1)
    )


def _page(
    leaf: Leaf,
    places: Sequence[CutPlace],
    names: Mapping[str, str],
    sheet: SheetSize,
    ruler: Ruler,
    number: int,
    pages: int,
    *,
    language: Language = ENGLISH,
) -> Page:
    wide, tall = sheet.width.float_mm, sheet.height.float_mm
    scale = SHEET_MM / max(wide, tall)
    above = header(leaf, number, pages, language=language)
    top = leaf.top_mm - above.height_mm - 2.0
    intro = lines_of(language.lid.offcut_intro, leaf.margin_mm, top, leaf.width_mm, "label", TEXT_PT)
    top -= intro.height_mm + GAP_MM
    shift = (leaf.margin_mm, top - tall * scale)
    edge: Polygon = ((0.0, 0.0), (wide, 0.0), (wide, tall), (0.0, tall))
    marks: list[Mark] = [Stroke(path=Path(points=edge, closed=True), role="outline", name="sheet")]
    marks += [Stroke(path=Path(points=each.outline, closed=True), role="cut", name=each.name) for each in places]
    drawn: list[Mark] = [*above.marks, *intro.marks, *placed(marks, scale, shift)]
    told = []
    for count, place in enumerate(places, start=1):
        spot = Shape(place.outline).representative_point()
        at = (shift[0] + spot.x * scale, shift[1] + spot.y * scale)
        drawn.append(Label(text=str(count), at=at, role="size", size_pt=TEXT_PT, anchor="middle"))
        told.append(f"{count}. {place_words(place, names[place.name], ruler, language=language)}")
    below = shift[1] - GAP_MM
    for words in told:
        said = lines_of(words, leaf.margin_mm, below, leaf.width_mm, "label", TEXT_PT)
        drawn += said.marks
        below -= said.height_mm + 1.5
    alt = language.lid.offcut_alt.format(stock=leaf.title, places=" ".join(told), page=number, pages=pages)
    return Page(
        name=f"offcuts-{number}",
        width_mm=leaf.paper.width.float_mm,
        height_mm=leaf.paper.height.float_mm,
        marks=tuple(drawn),
        alt=told_alt(leaf, alt, language=language),
    )


def place_words(place: CutPlace, name: str, ruler: Ruler, *, language: Language = ENGLISH) -> str:
    """Where a piece lies: how far its outline begins from the left and from the near edge, and how it is turned."""
    left, low = (min(point[axis] for point in place.outline) for axis in (0, 1))
    sizes = [about(exact_mm(max(0.0, size)), ruler, words=language.told.common.about) for size in (left, low)]
    words = language.lid.offcut_place.format(piece=name[:1].upper() + name[1:], left=sizes[0], low=sizes[1])
    turn = language.lid.offcut_turned.format(angle=place.turn_deg) if place.turn_deg else ""
    return f"{words} {turn}".rstrip()
