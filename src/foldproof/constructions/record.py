"""What every construction offers; the catalogue lists them."""

from __future__ import annotations

from collections.abc import Callable
from dataclasses import dataclass
from typing import Any

from foldproof.constructions.parameters import Card
from foldproof.pattern.layout import PieceLayout
from foldproof.pattern.records import Assembly


@dataclass(frozen=True, slots=True, kw_only=True)
class Conflict:
    """Values that cannot go together: which one to change, why, and a text that would work."""

    name: str
    reason: str
    remedy: str


@dataclass(frozen=True, slots=True, kw_only=True)
class Axis:
    """The exact relation of one direction of the main piece: values from edge to edge, in order.

    Score positions are the running sums; the piece is as long as all of them together.
    """

    values: tuple[str, ...]


def no_conflicts_on(values: Any, host: Any) -> tuple[Conflict, ...]:
    """For constructions that stand alone, or go with any part they are made on."""
    return ()


@dataclass(frozen=True, slots=True, kw_only=True)
class Construction:
    """A family of things to make.

    ``conflicts(parameters)`` lists contradictory settings; ``lay_out(parameters, card)`` gives every piece's exact
    layout; ``build(parameters, card, layouts)`` the assembly, from exact or from marked layouts; ``axes`` the
    relation the fitting solves, across and up; ``conflicts_on(parameters, host)`` lists what does not go with the
    part it is made on; ``layers`` the layers of card in each pair of walls (length, width).
    """

    name: str
    revision: int
    parameters: type
    summary: str
    axes: tuple[Axis, Axis]
    content_layers: Callable[[Any], tuple[int, int]]
    conflicts: Callable[[Any], tuple[Conflict, ...]]
    lay_out: Callable[[Any, Card], tuple[PieceLayout, ...]]
    build: Callable[[Any, Card, tuple[PieceLayout, ...]], Assembly]
    conflicts_on: Callable[[Any, Any], tuple[Conflict, ...]] = no_conflicts_on
