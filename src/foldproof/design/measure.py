"""Measure: every piece of a project as designed and as marked on the maker's board and ruler."""

from __future__ import annotations

from dataclasses import dataclass
from functools import lru_cache
from itertools import pairwise

from foldproof.constructions.parameters import Card
from foldproof.design.class_version import as_taught
from foldproof.errors import InputError, Problem
from foldproof.lengths import ZERO, Length, Rounded, Ruler, about, length, round_to
from foldproof.pattern.layout import PieceLayout, Position
from foldproof.pattern.measured import MeasuredPiece
from foldproof.pattern.records import Assembly, Piece
from foldproof.project.records import Part, Project
from foldproof.stock.board import Board, Mark, mark
from foldproof.stock.readings import Readings, compare_readings

PARTS_KEPT = 64  # parts remembered: a change to one leaves the others as they are
LEAST_PANEL = length(5, "mm")  # narrower than this nothing can be folded by hand


@dataclass(frozen=True, slots=True, kw_only=True)
class MeasuredPart:
    """One part: its pieces with their marks, and the assembly as marked and as designed."""

    part: Part
    pieces: tuple[MeasuredPiece, ...]
    assembly: Assembly
    designed: Assembly


@dataclass(frozen=True, slots=True, kw_only=True)
class Measured:
    """A measured project as it is made, in a class without hot glue; ``alternatives`` in the order of the project's."""

    project: Project
    parts: tuple[MeasuredPart, ...]
    alternatives: tuple[MeasuredPart, ...]


def measure(project: Project) -> Measured:
    """Measures every part and alternative. Raises InputError while a value is still to be worked out."""
    still_open = tuple(
        Problem(
            field=f"{heading}.{part.name}.{name}",
            value="work out",
            reason="is still to be worked out",
            remedy="run `foldproof fit` on this file and write in the value it finds",
        )
        for heading, part in (
            *(("parts", part) for part in project.parts),
            *(("alternatives", each.part) for each in project.alternatives),
        )
        for name in part.open_values
    )
    if still_open:
        raise InputError(still_open)
    taught = as_taught(project)
    return Measured(
        project=taught,
        parts=tuple(measure_part(taught, part) for part in taught.parts),
        alternatives=tuple(measure_part(taught, each.part) for each in taught.alternatives),
    )


def card_of(project: Project) -> Card:
    """What constructions need to know of the project's card and tools; its card at the thick end, as in the proof."""
    sheet = project.cardstock.usable_sheet
    return Card(
        thickness_mm=project.cardstock.thickness.high_mm,
        sheet_width=sheet.width,
        sheet_height=sheet.height,
        ruler=project.ruler,
    )


def measure_part(project: Project, part: Part) -> MeasuredPart:
    """Lays out, marks and builds one part whose values are all known."""
    return _measure_part(part, card_of(project), project.board)


@lru_cache(maxsize=PARTS_KEPT)
def _measure_part(part: Part, card: Card, board: Board) -> MeasuredPart:
    exact = part.construction.lay_out(part.values, card)
    _refuse_lost_panels(part, exact)
    marked = tuple(_mark_layout(board, card.ruler, layout) for layout in exact)
    _refuse_lost_panels(part, tuple(m.layout for m in marked))
    assembly = part.construction.build(part.values, card, tuple(m.layout for m in marked))
    designed = part.construction.build(part.values, card, exact)
    pieces = tuple(
        _measured(part, layout, done, _piece(designed, layout.piece), _piece(assembly, layout.piece))
        for layout, done in zip(exact, marked, strict=True)
    )
    return MeasuredPart(part=part, pieces=pieces, assembly=assembly, designed=designed)


def _refuse_lost_panels(part: Part, layouts: tuple[PieceLayout, ...]) -> None:
    """Raises InputError where a panel would be lost: past the end of a whole sheet, or by a coarse ruler's rounding."""
    problems = []
    for layout in layouts:
        for side, positions in ((layout.width, layout.across), (layout.height, layout.up)):
            lines = (ZERO, *(p.at for p in positions), side)
            narrowest = min(after - before for before, after in pairwise(lines))
            if narrowest < LEAST_PANEL:
                problems.append(
                    Problem(
                        field=f"parts.{part.name}",
                        value=f"{layout.piece} {float(side.mm):g} mm long",
                        reason="a panel of it would be narrower than 5 mm, or lie past the end of the card",
                        remedy="make the sizes smaller, take a larger sheet or a finer ruler",
                    )
                )
    if problems:
        raise InputError(tuple(dict.fromkeys(problems)))


@dataclass(frozen=True, slots=True, kw_only=True)
class _Marked:
    layout: PieceLayout
    width: Rounded
    height: Rounded
    across: tuple[Mark, ...]
    up: tuple[Mark, ...]
    measures: tuple[tuple[str, Rounded], ...]
    intended_width: Length
    intended_height: Length


def _mark_layout(board: Board, ruler: Ruler, layout: PieceLayout) -> _Marked:
    across = tuple(mark(board, ruler, p.at) for p in layout.across)
    up = tuple(mark(board, ruler, p.at) for p in layout.up)
    width, height = (_side(ruler, layout, side) for side in (layout.width, layout.height))
    measures = tuple((p.name, round_to(p.at, ruler, p.towards)) for p in layout.measures)
    marked = PieceLayout(
        piece=layout.piece,
        width=width.shown,
        height=height.shown,
        across=_replaced(layout.across, across),
        up=_replaced(layout.up, up),
        measures=tuple(
            Position(name=p.name, at=shown.shown, towards=p.towards)
            for p, (_, shown) in zip(layout.measures, measures, strict=True)
        ),
        uncut=layout.uncut,
    )
    return _Marked(
        layout=marked,
        width=width,
        height=height,
        across=across,
        up=up,
        measures=measures,
        intended_width=_intended(layout.across, layout.width),
        intended_height=_intended(layout.up, layout.height),
    )


def _side(ruler: Ruler, layout: PieceLayout, side: Length) -> Rounded:
    """A side of the piece on the ruler it is cut by; the side of a sheet that is not cut stays what it is."""
    if not layout.uncut:
        return round_to(side, ruler)
    return Rounded(exact=side, shown=side, error=ZERO, text=about(side, ruler))


def _replaced(positions: tuple[Position, ...], marks: tuple[Mark, ...]) -> tuple[Position, ...]:
    return tuple(Position(name=p.name, at=m.marked, towards=p.towards) for p, m in zip(positions, marks, strict=True))


def _intended(positions: tuple[Position, ...], side: Length) -> Length:
    """The length a side has by its recipe: what lies beyond the last score is as wide as the first panel."""
    return positions[-1].at + positions[0].at if positions else side


def _measured(part: Part, exact: PieceLayout, done: _Marked, designed: Piece, piece: Piece) -> MeasuredPiece:
    return MeasuredPiece(
        part=part.name,
        exact=exact,
        marked=done.layout,
        designed=designed,
        piece=piece,
        width=done.width,
        height=done.height,
        across=done.across,
        up=done.up,
        measures=done.measures,
        readings_across=_readings(done.across, done.intended_width, exact.width),
        readings_up=_readings(done.up, done.intended_height, exact.height),
    )


def _readings(marks: tuple[Mark, ...], intended: Length, real: Length) -> Readings | None:
    if not marks:
        return None
    return compare_readings(tuple(m.exact for m in marks), intended, real)


def _piece(assembly: Assembly, name: str) -> Piece:
    return next(piece for piece in assembly.pieces if piece.id == name)
