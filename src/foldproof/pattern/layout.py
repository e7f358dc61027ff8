"""Where the score lines of a piece lie: exact lengths from the piece's edges, before and after marking.

A layout is a piece's recipe: its size, the score positions each way, and the further measures for the scissors. The
same record holds the piece as designed and as marked on a board or ruler.
"""

from __future__ import annotations

from dataclasses import dataclass
from typing import Literal

from foldproof.lengths import Length

Rounding = Literal["nearest", "down", "up"]


@dataclass(frozen=True, slots=True, kw_only=True)
class Position:
    """A named length. ``towards`` is the side to which marking may round it without harm."""

    name: str
    at: Length
    towards: Rounding = "nearest"


@dataclass(frozen=True, slots=True, kw_only=True)
class PieceLayout:
    """``across`` are score positions from the left edge, ``up`` from the near edge, ``measures`` the rest.

    ``uncut`` tells that the piece is the sheet as it is: its size is what was measured, and no cut is marked for it.
    """

    piece: str
    width: Length
    height: Length
    across: tuple[Position, ...]
    up: tuple[Position, ...]
    measures: tuple[Position, ...] = ()
    uncut: bool = False

    def has(self, name: str) -> bool:
        """Is there a measure of this name?"""
        return any(p.name == name for p in self.measures)

    def measure_mm(self, name: str) -> float:
        """A measure by its name, in millimetres."""
        return next(p.at.float_mm for p in self.measures if p.name == name)
