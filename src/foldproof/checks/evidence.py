"""What the checks look at: one part, measured, folded, and searched for orders."""

from __future__ import annotations

import dataclasses
from dataclasses import dataclass
from functools import lru_cache

from foldproof.checks.turning_evidence import Turning, gather_turning
from foldproof.folding.closure import JoinFit, TakeUp, fit_joins, stack_heights, take_up
from foldproof.folding.contact import final_contact
from foldproof.folding.joints import FoldedPiece, JointClash, joint_clashes
from foldproof.folding.layers import Layers, order_layers
from foldproof.folding.limits import FoldingLimits
from foldproof.folding.orders import Orders, lay_down_laws, search_orders
from foldproof.folding.tree import FoldTree, grow
from foldproof.pattern.measured import MeasuredPiece
from foldproof.pattern.records import Assembly, Join, Piece
from foldproof.progress import Progress, unwatched
from foldproof.project.records import Part, Project

TURNINGS_KEPT = 16  # turning lids remembered, each on its box
FOLDINGS_KEPT = 64  # pieces whose folding is remembered: those of a project, and of the changes tried to mend it


@dataclass(frozen=True, slots=True, kw_only=True)
class PieceEvidence:
    """One piece folded in the thick end of its card's range."""

    measured: MeasuredPiece
    tree: FoldTree
    layers: Layers
    joins: tuple[JoinFit, ...]
    take_up: tuple[TakeUp, ...]
    stacks: tuple[tuple[tuple[int, ...], float], ...]
    touching: tuple[tuple[str, str], ...]
    orders: Orders


@dataclass(frozen=True, slots=True, kw_only=True)
class Evidence:
    """Everything known of one part before it is judged."""

    project: Project
    part: Part
    assembly: Assembly
    pieces: tuple[PieceEvidence, ...]
    joint_clashes: tuple[JointClash, ...]
    turning: Turning | None = None


def gather(
    project: Project,
    part: Part,
    measured: tuple[MeasuredPiece, ...],
    assembly: Assembly,
    progress: Progress = unwatched,
    host: Evidence | None = None,
) -> Evidence:
    """Folds the marked pieces and searches their orders.

    The thick end of the thickness range is used: thicker card is harder to close and to clear. ``host`` is the
    evidence of the part that a lid is made on.
    """
    pieces = tuple(_gather_piece(project, piece, assembly, progress) for piece in measured)
    folded_pieces = _folded(pieces)
    clashes = tuple(
        clash for joint in assembly.joints for clash in joint_clashes(assembly, folded_pieces, joint, project.folding)
    )
    return Evidence(
        project=project,
        part=part,
        assembly=assembly,
        pieces=pieces,
        joint_clashes=clashes,
        turning=None if host is None else _gather_turning(project, part, pieces, host),
    )


@lru_cache(maxsize=TURNINGS_KEPT)
def _gather_turning(project: Project, part: Part, pieces: tuple[PieceEvidence, ...], host: Evidence) -> Turning:
    measured = tuple(piece.measured for piece in pieces)
    return gather_turning(project, part.values, measured, _folded(pieces), host.assembly, _folded(host.pieces))


def _folded(pieces: tuple[PieceEvidence, ...]) -> dict[str, FoldedPiece]:
    return {piece.measured.piece.id: FoldedPiece(tree=piece.tree, layers=piece.layers) for piece in pieces}


def _gather_piece(project: Project, measured: MeasuredPiece, assembly: Assembly, progress: Progress) -> PieceEvidence:
    """How a piece folds. It is remembered: most of what is proved again, when a change is tried, has not changed."""
    joins, thickness_mm = assembly.joins, project.cardstock.thickness.high_mm
    kept = _place_for(measured.piece, joins, thickness_mm, project.folding)
    if kept and progress("orders", 0, 1):
        return dataclasses.replace(kept[0], measured=measured)
    tree = grow(measured.piece)
    layers = order_layers(tree, joins, thickness_mm)
    laws = lay_down_laws(tree, layers, joins, project.folding)
    found = PieceEvidence(
        measured=measured,
        tree=tree,
        layers=layers,
        joins=fit_joins(tree, layers, joins),
        take_up=take_up(tree, layers),
        stacks=stack_heights(layers),
        touching=tuple((tree.panels[a], tree.panels[b]) for a, b in final_contact(laws.contact)),
        orders=search_orders(laws, project.folding, progress),
    )
    if not found.orders.stopped:
        kept[:] = [found]
    return found


@lru_cache(maxsize=FOLDINGS_KEPT)
def _place_for(
    piece: Piece, joins: tuple[Join, ...], thickness_mm: float, limits: FoldingLimits
) -> list[PieceEvidence]:
    """Where it is kept how this very piece folds: empty at first. A search that was stopped is not kept."""
    return []
