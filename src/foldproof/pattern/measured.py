"""A piece measured for a maker: as designed and as marked, with how every score position is found."""

from __future__ import annotations

from dataclasses import dataclass

from foldproof.lengths import Rounded
from foldproof.pattern.layout import PieceLayout
from foldproof.pattern.records import Piece
from foldproof.stock.board import Mark
from foldproof.stock.readings import Readings


@dataclass(frozen=True, slots=True, kw_only=True)
class MeasuredPiece:
    """One piece of card of one part.

    ``exact`` and ``designed`` are the layout and piece before marking, ``marked`` and ``piece`` after. ``across``
    (from the left edge) and ``up`` (from the near edge) say how each score position is found; ``width``,
    ``height`` and ``measures`` are rounded to the ruler. ``readings_across`` and ``readings_up`` compare the two
    ways of reading the score list, given the blank as it really is; None for a piece without score positions.
    ``copies`` is how many to cut.
    """

    part: str
    exact: PieceLayout
    marked: PieceLayout
    designed: Piece
    piece: Piece
    width: Rounded
    height: Rounded
    across: tuple[Mark, ...]
    up: tuple[Mark, ...]
    measures: tuple[tuple[str, Rounded], ...]
    readings_across: Readings | None
    readings_up: Readings | None
    copies: int = 1


def file_stem(name: str) -> str:
    """A part's name as it stands in the names of files: spaces there need quotes in a terminal and an address."""
    return name.replace(" ", "-")
