"""The pieces of a turning lid on a leaf: triangle strip and cap with their lines, every layer with size and card."""

from __future__ import annotations

import math
from collections.abc import Callable, Mapping, Sequence
from dataclasses import dataclass

from shapely.geometry import Polygon as Shape

from foldproof.constructions.fasteners import fastener_sizes
from foldproof.constructions.turning_lid import (
    CAP,
    DISC,
    TRIANGLE,
    LidLayerValues,
    TurningLidValues,
    is_layer,
    shape_name,
)
from foldproof.drawing.records import Area, FillRole, Label, Mark, Page, Path, Point, Stroke, TextRole
from foldproof.drawing.style import MM_PER_PT
from foldproof.lengths import Length, Ruler, in_words
from foldproof.pattern.measured import MeasuredPiece
from foldproof.stock.sheets import SheetSize
from foldproof.views.labels import TEXT_PT
from foldproof.views.lid_by_hand import cross, exact_mm
from foldproof.views.paper import (
    MARGIN_MM,
    Drawn,
    Leaf,
    LegendKey,
    header,
    legend,
    lines_of,
    printer_paper,
    told_alt,
)
from foldproof.views.piece import cut_strokes, placed, plain, rings, score_strokes
from foldproof.words.catalogue import ENGLISH, Language

HEADING_PT = 14.5
SIZE_PT = 13.0
GAP_MM = 8.0  # between columns, and between rows
LINE_GAP_MM = 1.0
STRIP_MM = 78.0  # drawn width of a strip
LAYER_MM = 40.0  # drawn width of the largest layer
SIZES_MM = (13.0, 14.0)  # room at the left of a strip and below it for its sizes
FLAP_EDGE_MM = 2.5  # glue is kept this far from a flap's edges
TICK_MM = 1.3

Item = Callable[[float, float, float], Drawn]  # left, top and width to what is drawn there


@dataclass(frozen=True, slots=True, kw_only=True)
class Says:
    """What the leaf is written with: both rulers, the lid's values, and which pieces come from whose waste."""

    values: TurningLidValues
    ruler: Ruler
    other: Ruler
    from_waste: Mapping[str, str]
    from_offcut: Mapping[str, str]

    @property
    def hole(self) -> Length:
        """The hole that what the lid turns on needs."""
        return fastener_sizes(self.values, self.ruler.unit).hole

    def both(self, size: Length) -> str:
        return f"{in_words(size, self.ruler)} ({in_words(size, self.other)})"


def layer_pages(
    values: TurningLidValues,
    pieces: Sequence[MeasuredPiece],
    ruler: Ruler,
    other_ruler: Ruler,
    project_name: str,
    paper: SheetSize | None = None,
    *,
    from_waste: Mapping[str, str] | None = None,
    from_offcut: Mapping[str, str] | None = None,
    not_proved: bool = False,
    in_class: bool = False,
    language: Language = ENGLISH,
) -> tuple[Page, ...]:
    """Leaves with every piece of a lid: what to cut, how large, of which card, with its scores and its hole.

    ``from_waste`` names, by piece, the piece in whose waste it is cut, ``from_offcut`` the one from the rest of whose
    sheet. The pieces carry their holes.
    """
    leaf = Leaf(
        paper=paper or printer_paper(ruler.unit),
        margin_mm=MARGIN_MM,
        project_name=project_name,
        title=plain(pieces[0].part).capitalize(),
        kind=language.lid.pieces_kind,
        not_proved=not_proved,
        in_class=in_class,
    )
    says = Says(
        values=values, ruler=ruler, other=other_ruler, from_waste=from_waste or {}, from_offcut=from_offcut or {}
    )
    strips = [_row((_strip(says, piece, language=language),)) for piece in pieces if piece.piece.id in (TRIANGLE, CAP)]
    layers = [_layer(says, piece, pieces, language=language) for piece in pieces if is_layer(piece.piece.id)]
    discs = [_row((_disc(says, piece, pieces, language=language),)) for piece in pieces if piece.piece.id == DISC]
    rows = [*strips, *discs, *(_row(tuple(layers[n : n + 2])) for n in range(0, len(layers), 2))]
    return _paged(leaf, rows, [piece_words(says, piece, language=language) for piece in pieces], language=language)


def _paged(leaf: Leaf, rows: Sequence[Item], words: Sequence[str], *, language: Language = ENGLISH) -> tuple[Page, ...]:
    """Rows downwards; a row that has no room begins the next leaf."""
    keys: tuple[LegendKey, ...] = ("cut", "mountain", "glue")
    below = leaf.margin_mm + 8.0
    leaves: list[list[Mark]] = [[]]
    start = leaf.top_mm - header(leaf, 1, 1, language=language).height_mm - 2.0
    top = start
    for row in rows:
        drawn = row(leaf.margin_mm, top, leaf.width_mm)
        if top - drawn.height_mm < below and leaves[-1]:
            leaves.append([])
            drawn = row(leaf.margin_mm, start, leaf.width_mm)
            top = start
        leaves[-1] += drawn.marks
        top -= drawn.height_mm + GAP_MM
    pages = len(leaves)
    return tuple(
        _page(
            leaf,
            (*marks, *legend(keys, leaf.margin_mm, below - 2.0, leaf.width_mm, language=language).marks),
            words,
            number,
            pages,
            language=language,
        )
        for number, marks in enumerate(leaves, start=1)
    )


def _page(
    leaf: Leaf, marks: tuple[Mark, ...], words: Sequence[str], number: int, pages: int, *, language: Language = ENGLISH
) -> Page:
    alt = language.lid.alt_pieces.format(title=leaf.title, pieces=" ".join(words), page=number, pages=pages)
    return Page(
        name=f"lid-pieces-{number}",
        width_mm=leaf.paper.width.float_mm,
        height_mm=leaf.paper.height.float_mm,
        marks=(*header(leaf, number, pages, language=language).marks, *marks),
        alt=told_alt(leaf, alt, language=language),
    )


def _row(items: tuple[Item, ...]) -> Item:
    """Items side by side; two columns, or one that takes the whole width."""

    def draw(left: float, top: float, width_mm: float) -> Drawn:
        if len(items) == 1:
            return items[0](left, top, width_mm)
        wide = (width_mm - GAP_MM) / 2
        drawn = [item(left + n * (wide + GAP_MM), top, wide) for n, item in enumerate(items)]
        return Drawn(
            marks=tuple(mark for each in drawn for mark in each.marks), height_mm=max(e.height_mm for e in drawn)
        )

    return draw


# --- Words --------------------------------------------------------------------------------------------------


def piece_words(says: Says, piece: MeasuredPiece, *, language: Language = ENGLISH) -> str:
    """What to cut, in a sentence: 'Cut 1 rosette, 5 1/2 in (14.0 cm), shell white.'"""
    if piece.piece.id in (TRIANGLE, CAP):
        return language.lid.cut_strip.format(width=says.both(piece.width.shown), height=says.both(piece.height.shown))
    if piece.piece.id == DISC:
        return language.lid.cut_disc.format(size=says.both(dict(piece.measures)["size"].shown))
    layer = layer_of(says.values, piece.piece.id)
    return language.lid.cut_layer.format(
        shape=language.term(shape_name(says.values)),
        size=says.both(dict(piece.measures)["size"].shown),
        card=layer.colour,
    )


def cut_words(
    values: TurningLidValues,
    pieces: Sequence[MeasuredPiece],
    ruler: Ruler,
    other: Ruler,
    *,
    language: Language = ENGLISH,
) -> tuple[tuple[str, str], ...]:
    """By piece, what to cut in a sentence or two, for lists that have no pictures."""
    says = Says(values=values, ruler=ruler, other=other, from_waste={}, from_offcut={})
    found = []
    for piece in pieces:
        words = piece_words(says, piece, language=language)
        if piece.piece.id == TRIANGLE:
            words = f"{words} {language.lid.score_diagonals} {language.lid.fold_back}"
        elif piece.piece.id == CAP:
            words = f"{words} {language.lid.cap_cut}"
        elif piece.piece.id == DISC:
            words = f"{words} {language.lid.disc_glued}"
        found.append((piece.piece.id, words))
    return tuple(found)


def layer_cards(values: TurningLidValues, pieces: Sequence[MeasuredPiece]) -> dict[tuple[str, str], tuple[str, str]]:
    """By part and piece, the shape and the card of every layer, for the cut list."""
    return {
        (piece.part, piece.piece.id): (shape_name(values), layer_of(values, piece.piece.id).colour)
        for piece in pieces
        if is_layer(piece.piece.id)
    }


def layer_of(values: TurningLidValues, piece_id: str) -> LidLayerValues:
    """The values of the layer that a piece is."""
    return values.layers[_number(piece_id) - 1]


def fill_of(values: TurningLidValues, piece_id: str) -> FillRole:
    """How layers are told apart: those in the lowest one's card plain, those in another coloured."""
    return "plain" if layer_of(values, piece_id).colour == values.layers[0].colour else "coloured"


def _number(piece_id: str) -> int:
    return int(piece_id.rpartition("_")[2])


def _offcut(says: Says, piece: MeasuredPiece, *, language: Language = ENGLISH) -> list[tuple[str, TextRole]]:
    if piece.piece.id not in says.from_offcut:
        return []
    return [(language.lid.from_offcut.format(piece=says.from_offcut[piece.piece.id]), "label")]


def _layer_lines(says: Says, piece: MeasuredPiece, *, language: Language = ENGLISH) -> list[tuple[str, TextRole]]:
    number = _number(piece.piece.id)
    layer = layer_of(says.values, piece.piece.id)
    lines: list[tuple[str, TextRole]] = [
        (piece_words(says, piece, language=language), "label"),
        *_offcut(says, piece, language=language),
    ]
    if number > 1:
        lines.append((language.lid.fixed[layer.fixed].format(foam=says.both(layer.foam)), "label"))
    if isinstance(layer.turned, float) and layer.turned:
        lines.append((language.lid.turned.format(angle=layer.turned), "label"))
    if layer.edge != "flat":
        template = language.lid.hanging if layer.edge == "hanging" else language.lid.lifted
        lines.append((template.format(size=says.both(layer.edge_by)), "label"))
    if layer.brad == "through":
        lines.append(
            (
                language.lid.through.format(fastener=language.term(says.values.fastener), size=says.both(says.hole)),
                "label",
            )
        )
    else:
        lines.append((language.lid.hidden_under.format(fastener=language.term(says.values.fastener)), "note"))
    if layer.greeting == "yes":
        lines.append((language.lid.greeting, "label"))
    return lines


def _said(heading: str, lines: Sequence[tuple[str, TextRole]], left: float, top: float, width_mm: float) -> Drawn:
    first = lines_of(heading, left, top, width_mm, "heading", HEADING_PT)
    marks = [*first.marks]
    below = top - first.height_mm - LINE_GAP_MM
    for text, role in lines:
        said = lines_of(text, left, below, width_mm, role, TEXT_PT)
        marks += said.marks
        below -= said.height_mm + LINE_GAP_MM
    return Drawn(marks=tuple(marks), height_mm=top - below)


# --- A layer ------------------------------------------------------------------------------------------------


def _layer(says: Says, piece: MeasuredPiece, pieces: Sequence[MeasuredPiece], *, language: Language = ENGLISH) -> Item:
    """A layer small, all layers of a lid at one scale, with its words beside it."""
    largest = max(max(p.piece.blank_width_mm, p.piece.blank_height_mm) for p in pieces)
    number, count = _number(piece.piece.id), len(says.values.layers)
    heading = language.lid.layer.format(number=number)
    if count > 1 and number in (1, count):
        heading = f"{heading}, {language.lid.lowest if number == 1 else language.lid.highest}"

    def draw(left: float, top: float, width_mm: float) -> Drawn:
        scale = LAYER_MM / largest
        flat = piece.piece
        drop = flat.blank_height_mm * scale
        outline = Path(points=flat.panels[0].outline, closed=True)
        marks: list[Mark] = [Area(paths=(outline,), role=fill_of(says.values, flat.id))]
        marks += cut_strokes(flat)
        at = (left + (LAYER_MM - flat.blank_width_mm * scale) / 2, top - drop - 1.0)
        words = _said(
            heading, _layer_lines(says, piece, language=language), left + LAYER_MM + 4.0, top, width_mm - LAYER_MM - 4.0
        )
        return Drawn(marks=(*placed(marks, scale, at), *words.marks), height_mm=max(drop + 2.0, words.height_mm))

    return draw


def _disc(says: Says, piece: MeasuredPiece, pieces: Sequence[MeasuredPiece], *, language: Language = ENGLISH) -> Item:
    """The disc round the hole, at the scale of the layers."""
    largest = max(max(p.piece.blank_width_mm, p.piece.blank_height_mm) for p in pieces)
    through = language.lid.through.format(fastener=language.term(says.values.fastener), size=says.both(says.hole))
    lines: list[tuple[str, TextRole]] = [
        (piece_words(says, piece, language=language), "label"),
        *_offcut(says, piece, language=language),
        (language.lid.disc_glued, "label"),
        (through, "label"),
    ]

    def draw(left: float, top: float, width_mm: float) -> Drawn:
        scale = LAYER_MM / largest
        flat = piece.piece
        drop = flat.blank_height_mm * scale
        outline = Path(points=flat.panels[0].outline, closed=True)
        marks: list[Mark] = [Area(paths=(outline,), role="plain"), *cut_strokes(flat)]
        at = (left + (LAYER_MM - flat.blank_width_mm * scale) / 2, top - drop - 1.0)
        words = _said(language.lid.disc, lines, left + LAYER_MM + 4.0, top, width_mm - LAYER_MM - 4.0)
        return Drawn(marks=(*placed(marks, scale, at), *words.marks), height_mm=max(drop + 2.0, words.height_mm))

    return draw


# --- Triangle and cap ---------------------------------------------------------------------------------------


def _strip(says: Says, piece: MeasuredPiece, *, language: Language = ENGLISH) -> Item:
    cap = piece.piece.id == CAP
    lines: list[tuple[str, TextRole]] = [(piece_words(says, piece, language=language), "label")]
    if piece.piece.id in says.from_waste:
        lines.append((language.lid.from_waste.format(piece=says.from_waste[piece.piece.id]), "label"))
    if cap:
        lines.append((language.lid.cap_cut, "label"))
    else:
        lines += [
            (language.lid.score_diagonals, "label"),
            (language.lid.fold_back, "label"),
            (language.lid.three_to_one, "note"),
        ]
    lines.append(
        (language.lid.through.format(fastener=language.term(says.values.fastener), size=says.both(says.hole)), "label")
    )

    def draw(left: float, top: float, width_mm: float) -> Drawn:
        picture = strip_picture(piece, says.ruler, says.other, (left, top), STRIP_MM)
        aside = left + SIZES_MM[0] + STRIP_MM + GAP_MM
        heading = language.lid.cap if cap else language.lid.triangle
        words = _said(heading, lines, aside, top, width_mm - (aside - left))
        return Drawn(marks=(*picture.marks, *words.marks), height_mm=max(picture.height_mm, words.height_mm))

    return draw


def strip_picture(piece: MeasuredPiece, ruler: Ruler, other: Ruler, corner: Point, width_mm: float) -> Drawn:
    """The strip with its diagonals, its hole and its sizes, from the upper left corner; ``width_mm`` of the strip."""
    flat = piece.piece
    wide, tall = flat.blank_width_mm, flat.blank_height_mm
    scale = width_mm / wide
    left, low = corner[0] + SIZES_MM[0], corner[1] - tall * scale - 1.0
    blank = Path(points=((0.0, 0.0), (wide, 0.0), (wide, tall), (0.0, tall)), closed=True)
    cap = flat.id == CAP
    middle, ends = (wide / 2, 0.0), ((0.0, tall), (wide, tall))
    marks: list[Mark] = [Area(paths=(blank,), role="plain")]
    if cap:
        marks.append(Stroke(path=blank, role="frame"))
        marks += [Stroke(path=Path(points=(middle, end)), role="guide") for end in ends]
    else:
        flaps = (panel.outline for panel in flat.panels if panel.kind == "flap")
        glue = (Shape(flap).buffer(-FLAP_EDGE_MM / scale, join_style="mitre") for flap in flaps)
        marks += [Area(paths=rings(area), role="glue", name="glue") for area in glue if not area.is_empty]
        marks += score_strokes(flat)
    marks += cut_strokes(flat)
    found = list(placed(marks, scale, (left, low)))
    for hole in flat.holes:
        at = (left + hole.centre[0] * scale, low + hole.centre[1] * scale)
        found += cross(at, max(3.0, 0.5 * hole.diameter_mm * scale + 1.5))
    half = exact_mm(0.5 * piece.width.shown.float_mm)
    words = (in_words(half, ruler), in_words(half, other))
    found += _size_below((left, low), (left + width_mm / 2, low), words)
    found += _size_below((left + width_mm / 2, low), (left + width_mm, low), words)
    high = piece.height.shown
    found += _size_left((left, low), (left, low + tall * scale), in_words(high, ruler))
    return Drawn(marks=tuple(found), height_mm=tall * scale + 1.0 + SIZES_MM[1])


def _size_below(a: Point, b: Point, words: tuple[str, str]) -> list[Mark]:
    """A level size line under a drawing, its words below it in both units on one line."""
    y = a[1] - 4.0
    ticks = [((x, y - TICK_MM), (x, a[1] - 1.0)) for x in (a[0], b[0])]
    middle = (a[0] + b[0]) / 2
    base = y - 1.4 - SIZE_PT * 0.8 * MM_PER_PT
    return [
        *(Stroke(path=Path(points=line), role="dimension") for line in (((a[0], y), (b[0], y)), *ticks)),
        Label(text=words[0], at=(middle - 1.0, base), role="size", size_pt=SIZE_PT, anchor="end"),
        Label(text=words[1], at=(middle + 1.0, base), role="other_unit", size_pt=TEXT_PT),
    ]


def _size_left(a: Point, b: Point, words: str) -> list[Mark]:
    x = a[0] - 4.0
    ticks = [((x - TICK_MM, y), (a[0] - 1.0, y)) for y in (a[1], b[1])]
    return [
        *(Stroke(path=Path(points=line), role="dimension") for line in (((x, a[1]), (x, b[1])), *ticks)),
        Label(
            text=words,
            at=(x - 2.0, (a[1] + b[1]) / 2),
            role="size",
            size_pt=SIZE_PT,
            anchor="middle",
            angle_deg=90.0,
        ),
    ]


def layers_picture(
    values: TurningLidValues, pieces: Sequence[MeasuredPiece], ruler: Ruler, size_mm: tuple[float, float]
) -> Drawn:
    """All layers in a row at one scale, their sizes under them, from (0, 0) downwards."""
    layers = [piece for piece in pieces if is_layer(piece.piece.id)]
    gap = 5.0
    widest = sum(piece.piece.blank_width_mm for piece in layers)
    tallest = max(piece.piece.blank_height_mm for piece in layers)
    scale = min((size_mm[0] - gap * (len(layers) - 1)) / widest, (size_mm[1] - 14.0) / tallest)
    marks: list[Mark] = []
    left = (size_mm[0] - widest * scale - gap * (len(layers) - 1)) / 2
    for piece in layers:
        flat = piece.piece
        outline = Path(points=flat.panels[0].outline, closed=True)
        fill = Area(paths=(outline,), role=fill_of(values, flat.id))
        low = -0.5 * (tallest + flat.blank_height_mm) * scale
        marks += placed((fill, *cut_strokes(flat)), scale, (left, low))
        middle = left + 0.5 * flat.blank_width_mm * scale
        text = in_words(dict(piece.measures)["size"].shown, ruler)
        at = (middle, -tallest * scale - 6.0)
        marks.append(Label(text=text, at=at, role="size", size_pt=SIZE_PT, anchor="middle"))
        marks.append(
            Label(
                text=str(_number(flat.id)),
                at=(middle, -0.5 * tallest * scale - 1.5),
                role="heading",
                size_pt=HEADING_PT,
                anchor="middle",
            )
        )
        left += flat.blank_width_mm * scale + gap
    return Drawn(marks=tuple(marks), height_mm=math.ceil(tallest * scale + 10.0))
