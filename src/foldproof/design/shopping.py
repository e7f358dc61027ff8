"""What to buy for a project: the pieces on their sheets, and everything else in the order it is needed."""

from __future__ import annotations

from collections.abc import Iterator

from foldproof.constructions.fasteners import MEASURES, fastener_sizes
from foldproof.constructions.turning_lid import TurningLidValues
from foldproof.design.lid_parts import LidParts
from foldproof.design.measure import Measured
from foldproof.design.offcuts import main_offcuts
from foldproof.design.steps import ToldSteps
from foldproof.drawing.records import Table
from foldproof.lengths import INCH_THIRTYSECONDS, ZERO, Length, Ruler, in_words, round_to
from foldproof.project.records import Project
from foldproof.stock.sheets import SheetSize
from foldproof.teach.messages import piece_words
from foldproof.views.layer_pages import layer_cards, layer_of
from foldproof.views.panel_papers import PaperPlan, paper_piece
from foldproof.views.piece import plain
from foldproof.views.shopping import ShoppingPiece, Supply, foam_supply, shopping_list
from foldproof.words.catalogue import ENGLISH, Language


def shopping_of(
    measured: Measured,
    lids: tuple[LidParts, ...],
    steps: ToldSteps,
    plan: PaperPlan,
    verdict: str,
    *,
    language: Language = ENGLISH,
) -> Table:
    """The list, ``verdict`` in words in every row. Pieces that are cut from another one's waste need no sheet."""
    project = measured.project
    sheets: dict[str, SheetSize] = {}
    if project.papers is not None:
        sheets[project.papers.name] = project.papers.sheet
    supplies = [
        *(supply for lid in lids for supply in _fasteners(project, lid, language=language)),
        *_tools(steps, language=language),
    ]
    return shopping_list(
        project,
        _pieces(measured, lids, plan, language=language),
        supplies,
        verdict,
        sheets,
        by_outline=main_offcuts(measured, lids).sheets,
        language=language,
    )


def _pieces(
    measured: Measured, lids: tuple[LidParts, ...], plan: PaperPlan, *, language: Language = ENGLISH
) -> tuple[ShoppingPiece, ...]:
    project = measured.project
    by_name = {lid.name: lid for lid in lids}
    found = []
    for part in measured.parts:
        lid = by_name.get(part.part.name)
        cards = {} if lid is None else layer_cards(lid.values, lid.pieces)
        for piece in part.pieces if lid is None else lid.pieces:
            if lid is not None and piece.piece.id in lid.from_waste:
                continue
            _, stock = cards.get((piece.part, piece.piece.id), ("", project.cardstock.name))
            found.append(ShoppingPiece(measured=piece, stock=stock))
    if project.papers is not None:
        for paper in plan.papers:
            piece = paper_piece(paper)
            found.append(ShoppingPiece(measured=piece, stock=project.papers.name, may_turn=not project.papers.upright))
    return tuple(found)


def _fasteners(project: Project, lid: LidParts, *, language: Language = ENGLISH) -> Iterator[Supply]:
    """The brad, eyelet or snap, and foam under each layer that lies on some."""
    values = lid.values
    assert isinstance(values, TurningLidValues)
    measured = fastener_sizes(values, project.unit)
    sizes = {name: _size_words(getattr(measured, name), project.ruler) for name in MEASURES[measured.kind]}
    yield Supply(
        what=language.term(values.fastener),
        count=1,
        unit=language.tables.piece_unit,
        size=language.tables.fastener_sizes[values.fastener].format(**sizes),
        use=language.tables.for_part.format(part=plain(lid.name)),
    )
    layers = layer_cards(values, lid.pieces)
    for piece in lid.pieces:
        if (piece.part, piece.piece.id) not in layers:
            continue
        layer = layer_of(values, piece.piece.id)
        if layer.fixed == "foam" and layer is not values.layers[0]:
            yield foam_supply(
                project,
                piece,
                in_words(layer.foam, project.ruler),
                piece_words(piece.piece.id, catalogue=language.told),
                language=language,
            )


def _size_words(size: Length, ruler: Ruler) -> str:
    """A measure of what is bought: as it is told, though the ruler has no such mark."""
    rounded = round_to(size, ruler)
    if rounded.error == ZERO:
        return rounded.text
    return in_words(size, INCH_THIRTYSECONDS) if ruler.unit == "in" else f"{size.float_mm:g} mm"


def _tools(steps: ToldSteps, *, language: Language = ENGLISH) -> Iterator[Supply]:
    """Board, tools and glue as the booklet names them; fasteners have rows of their own."""
    for need in steps.tool_needs:
        if need not in language.steps.need_fastener.values():
            yield Supply(what=need.rstrip("."), count=None, unit="", size="", use="")
