"""A project: the cardstock, the board, and the parts a maker wants to make of them."""

from __future__ import annotations

from dataclasses import dataclass
from typing import Any, Literal

from foldproof.constructions.record import Construction
from foldproof.folding.limits import FoldingLimits
from foldproof.lengths import Length, Ruler, Unit
from foldproof.outlines.own import OwnShape
from foldproof.project.settings import CheckLimits
from foldproof.stock.board import Board
from foldproof.stock.paper import Cardstock
from foldproof.stock.sheets import SheetSize

FORMAT = 1  # the file format this program reads and writes

Hand = Literal["right", "left"]
Version = Literal["full", "class"]


@dataclass(frozen=True, slots=True, kw_only=True)
class Part:
    """One thing to make: its construction, and the values of the construction's parameter record.

    ``open_values`` are the names still to be worked out. ``tied_values`` are pairs (name, other name) of
    values that were not given and are the same as the other one; a tied value is open while the other is. ``on`` is
    the name of the part it is made on; "" when it stands alone.
    """

    name: str
    construction: Construction
    revision: int
    values: Any  # the construction's parameter record
    open_values: tuple[str, ...]
    tied_values: tuple[tuple[str, str], ...] = ()
    on: str = ""


@dataclass(frozen=True, slots=True, kw_only=True)
class Alternative:
    """A lid of another shape, made instead of the turning lid ``of`` by those who do not have its die.

    ``part`` is whole: what the file does not say of it is the lid's. ``keeps_shares``: its layers were not given, and
    keep their share of the lid's sizes.
    """

    of: str
    part: Part
    keeps_shares: bool

    @property
    def name(self) -> str:
        """Its name in the file, and on every page."""
        return self.part.name


@dataclass(frozen=True, slots=True, kw_only=True)
class Content:
    """What goes in. ``ease`` is the room left in each direction, both sides together."""

    length: Length
    width: Length
    height: Length
    ease: Length


@dataclass(frozen=True, slots=True, kw_only=True)
class Papers:
    """Papers to glue on the sides that show: which sides, and the card left in view along each edge.

    ``upright`` tells that the print stands the way the box does, so that no paper may be turned when it is cut.
    """

    name: str
    sheet: SheetSize
    sides: tuple[str, ...]
    border: Length
    upright: bool


@dataclass(frozen=True, slots=True, kw_only=True)
class Teaching:
    """Who is taught: the hand that works, whether it is the version for a class, without hot glue, and whether the
    places of all holes are searched to tell how good the given ones are.
    """

    hand: Hand
    version: Version
    place: Literal["as given", "searched"]


@dataclass(frozen=True, slots=True, kw_only=True)
class Project:
    """All that a project file says, with what it leaves out filled in.

    ``unit`` is what plain numbers meant in the file. Makers read ``ruler`` first, ``other_ruler`` beside it.
    ``link`` is an https address of the maker's own, for the booklet. ``shapes`` are her own, in the file's order.
    ``extra`` is what the file keeps for its owner: (name, contents as text). Nothing else reads it.
    """

    format: int
    name: str
    maker: str | None
    link: str | None
    unit: Unit
    ruler: Ruler
    other_ruler: Ruler
    cardstock: Cardstock
    board: Board
    parts: tuple[Part, ...]
    alternatives: tuple[Alternative, ...]
    shapes: tuple[OwnShape, ...]
    papers: Papers | None
    teach: Teaching
    content: Content | None
    folding: FoldingLimits
    checks: CheckLimits
    extra: tuple[tuple[str, str], ...]
