"""One piece of card as a drawing: its cuts and scores exactly, with waste, glue and names where they help."""

from __future__ import annotations

import math
from collections.abc import Callable, Sequence
from dataclasses import replace
from functools import lru_cache

import shapely
from shapely.geometry import Polygon as Shape
from shapely.geometry.base import BaseGeometry

from foldproof.drawing.records import Area, Label, Mark, Page, Path, Point, Stroke
from foldproof.lengths import Rounded
from foldproof.pattern.cuts import cut_paths
from foldproof.pattern.measured import MeasuredPiece, file_stem
from foldproof.pattern.records import Join, Panel, Piece, Polygon
from foldproof.views.labels import TEXT_PT, label_box, set_inside
from foldproof.words.catalogue import ENGLISH, Language

SLIVER_MM2 = 0.01  # waste smaller than a pencil dot is rounding, not a part to cut away
PIECES_KEPT = 64  # pieces whose shape and waste are remembered: every drawing of a piece shows them
HOLE_CLEAR_MM = 1.0  # paper kept free round a hole
HOLE_SIDES = 72  # corners of a drawn hole: within 0.01 mm of the circle for any brad or eyelet


def piece_marks(
    measured: MeasuredPiece,
    *,
    glue_areas: Sequence[Polygon] = (),
    mm_per_mm: float = 1.0,
    waste: bool = True,
    names: bool = True,
    keep_free: BaseGeometry | None = None,
    language: Language = ENGLISH,
) -> tuple[Mark, ...]:
    """The piece as marked, in its flat frame, origin at the blank's left near corner, at ``mm_per_mm``.

    Painted in order: waste, glue, scores (named by crease), cuts (named 'cut'), holes (named by hole), names of
    panels that have room for theirs outside ``keep_free`` (in mm on paper).
    """
    piece = measured.piece
    marks: list[Mark] = []
    if waste:
        marks += [
            Area(paths=rings(part), role="waste", name="waste")
            for part in shapely.get_parts(waste_of(piece))
            if part.area > SLIVER_MM2
        ]
    marks += [Area(paths=(Path(points=area, closed=True),), role="glue", name="glue") for area in glue_areas]
    marks += score_strokes(piece)
    marks += cut_strokes(piece)
    marks = list(placed(marks, mm_per_mm, (0.0, 0.0)))
    if names:
        glue = shapely.union_all([Shape(area) for area in glue_areas])
        taken = shapely.transform(round_holes(piece), lambda xy: xy * mm_per_mm)
        taken = taken if keep_free is None else taken.union(keep_free)
        marks += [mark for panel in piece.panels for mark in _name(panel, glue, mm_per_mm, taken, language=language)]
    return tuple(marks)


def cut_strokes(piece: Piece) -> list[Mark]:
    """Cuts and holes in the flat frame at true scale."""
    found: list[Mark] = [Stroke(path=_path(points), role="cut", name="cut") for points in cut_paths(piece)]
    for hole in piece.holes:
        turns = (2.0 * math.pi * n / HOLE_SIDES for n in range(HOLE_SIDES))
        radius, (x, y) = hole.diameter_mm / 2.0, hole.centre
        ring = tuple((x + radius * math.cos(turn), y + radius * math.sin(turn)) for turn in turns)
        found.append(Stroke(path=Path(points=ring, closed=True), role="cut", name=hole.id))
    return found


def round_holes(piece: Piece) -> BaseGeometry:
    """All holes and a little paper round each, in the flat frame: no name runs through them."""
    return shapely.union_all(
        [shapely.Point(hole.centre).buffer(0.5 * hole.diameter_mm + HOLE_CLEAR_MM) for hole in piece.holes]
    )


def score_strokes(piece: Piece) -> list[Mark]:
    """Scores in the flat frame at true scale, each named by its crease."""
    return [Stroke(path=Path(points=c.line), role=c.direction, name=c.id) for c in piece.creases]


def _path(points: Polygon) -> Path:
    closed = len(points) > 3 and points[0] == points[-1]
    return Path(points=points[:-1] if closed else points, closed=closed)


@lru_cache(maxsize=PIECES_KEPT)
def panels_of(piece: Piece) -> BaseGeometry:
    """All panels as one shape."""
    return shapely.union_all([Shape(panel.outline) for panel in piece.panels])


@lru_cache(maxsize=PIECES_KEPT)
def waste_of(piece: Piece) -> BaseGeometry:
    """What of the blank is no panel."""
    return shapely.box(0.0, 0.0, piece.blank_width_mm, piece.blank_height_mm).difference(panels_of(piece))


def rings(shape: BaseGeometry) -> tuple[Path, ...]:
    """The outline of one polygon and of its holes."""
    if not isinstance(shape, Shape) or shape.is_empty:
        return ()
    return tuple(
        Path(points=tuple((x, y) for x, y in ring.coords[:-1]), closed=True)
        for ring in (shape.exterior, *shape.interiors)
    )


def glue_areas_of(joins: Sequence[Join], piece_id: str) -> tuple[Polygon, ...]:
    """Where glue goes on the side of a piece that is up on the board."""
    return tuple(
        join.area for join in joins if join.a.piece == piece_id and join.a.side == "face" and join.adhesive != "none"
    )


def panel_name(panel: Panel, *, language: Language = ENGLISH) -> str:
    """What a maker calls a panel; its kind in plain letters where no name is listed."""
    known = language.paper.panel_names.get(panel.kind, panel.kind.replace("_", " "))
    return known.format(place=language.place(panel.place)).strip()


def plain_kind(panel: Panel, *, language: Language = ENGLISH) -> str:
    """A panel's name without its place."""
    return language.paper.panel_kinds.get(panel.kind, panel.kind.replace("_", " "))


def panel_labels(
    panel: Panel, mm_per_mm: float, keep_free: BaseGeometry | None = None, *, language: Language = ENGLISH
) -> tuple[Label, ...]:
    """The panel's name inside it at ``mm_per_mm``, or its bare kind where that is too long; none without room."""
    shape: BaseGeometry = shapely.transform(Shape(panel.outline), lambda xy: xy * mm_per_mm)
    if keep_free is not None:
        shape = shape.difference(keep_free)
    for name in dict.fromkeys((panel_name(panel, language=language), plain_kind(panel, language=language))):
        labels = set_inside(name, shape, "label", TEXT_PT)
        if labels:
            return labels
    return ()


def _name(
    panel: Panel, glue: BaseGeometry, mm_per_mm: float, keep_free: BaseGeometry | None, *, language: Language = ENGLISH
) -> list[Mark]:
    """The panel's name, on bare paper where glue dots would run through it."""
    dotted = shapely.transform(glue, lambda xy: xy * mm_per_mm)
    return [
        mark
        for label in panel_labels(panel, mm_per_mm, keep_free, language=language)
        for mark in on_paper(label, dotted)
    ]


def on_paper(label: Label, dotted: BaseGeometry) -> list[Mark]:
    """The label, with paper under it if it meets ``dotted``."""
    left, low, right, high = label_box(label)
    under = shapely.box(left - 0.4, low, right + 0.4, high)
    return [Area(paths=rings(under), role="paper"), label] if dotted.intersects(under) else [label]


def placed(marks: Sequence[Mark], mm_per_mm: float, shift: Point) -> tuple[Mark, ...]:
    """Marks scaled about the origin, then moved. Text keeps its size."""
    return mapped(marks, lambda at: (at[0] * mm_per_mm + shift[0], at[1] * mm_per_mm + shift[1]))


def mapped(marks: Sequence[Mark], to: Callable[[Point], Point]) -> tuple[Mark, ...]:
    """Every point of every mark led through ``to``."""

    def path(old: Path) -> Path:
        return Path(points=tuple(map(to, old.points)), closed=old.closed)

    found: list[Mark] = []
    for mark in marks:
        match mark:
            case Stroke():
                found.append(replace(mark, path=path(mark.path)))
            case Area():
                found.append(replace(mark, paths=tuple(map(path, mark.paths))))
            case Label():
                found.append(replace(mark, at=to(mark.at)))
    return tuple(found)


def piece_title(measured: MeasuredPiece, *, language: Language = ENGLISH) -> str:
    """The part's name as a heading, with the piece's where the part has another name."""
    own = plain(measured.part)
    part = language.term(own) if measured.piece.id.startswith("paper_for_") else own  # papers name pieces too
    kind, _, number = measured.piece.id.rpartition("_")
    if kind == "layer":
        piece = language.paper.piece_names[kind].format(number=number)
    else:
        piece = language.paper.piece_names.get(measured.piece.id) or language.term(plain(measured.piece.id))
    template = language.paper.title if part == plain(measured.piece.id) else language.paper.title_with_piece
    title = template.format(part=part, piece=piece)
    return title[:1].upper() + title[1:]


def plain(name: str) -> str:
    return name.replace("_", " ").replace("-", " ").strip()


def size_words(width: Rounded, height: Rounded, *, language: Language = ENGLISH) -> str:
    """'10 3/4 in square', '8 x 10 in'."""
    if width.text == height.text:
        return language.paper.square.format(side=width.text)
    first, unit = width.text.rsplit(" ", 1)
    other_unit = height.text.rsplit(" ", 1)[1]
    return language.paper.oblong.format(width=first if unit == other_unit else width.text, height=height.text)


def cut_page(measured: MeasuredPiece, *, language: Language = ENGLISH) -> Page:
    """Cuts and scores alone, at true scale, for cut files. The page is the blank; names as in piece_marks.

    Scores come before cuts: a piece is scored while it is whole.
    """
    piece = measured.piece
    part = measured.part
    return Page(
        name=piece.id if part == piece.id else f"{file_stem(part)}-{piece.id}",
        width_mm=piece.blank_width_mm,
        height_mm=piece.blank_height_mm,
        marks=(*score_strokes(piece), *cut_strokes(piece)),
        alt=language.paper.alt_cut_page.format(
            title=piece_title(measured, language=language),
            size=size_words(measured.width, measured.height, language=language),
        ),
    )
