"""What the checks look at: one part, measured, folded, and searched for orders."""

from __future__ import annotations

from dataclasses import dataclass

from foldproof.checks.turning_evidence import Turning, gather_turning
from foldproof.folding.closure import JoinFit, TakeUp, fit_joins, stack_heights, take_up
from foldproof.folding.contact import final_contact
from foldproof.folding.joints import FoldedPiece, JointClash, joint_clashes
from foldproof.folding.layers import Layers, order_layers
from foldproof.folding.orders import Orders, lay_down_laws, search_orders
from foldproof.folding.tree import FoldTree, grow
from foldproof.pattern.measured import MeasuredPiece
from foldproof.pattern.records import Assembly
from foldproof.progress import Progress, unwatched
from foldproof.project.records import Part, Project


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
    folded_pieces = {p.measured.piece.id: FoldedPiece(tree=p.tree, layers=p.layers) for p in pieces}
    clashes = tuple(
        clash for joint in assembly.joints for clash in joint_clashes(assembly, folded_pieces, joint, project.folding)
    )
    return Evidence(
        project=project,
        part=part,
        assembly=assembly,
        pieces=pieces,
        joint_clashes=clashes,
        turning=None if host is None else _gather_turning(project, part, pieces, folded_pieces, host),
    )


def _gather_turning(
    project: Project,
    part: Part,
    pieces: tuple[PieceEvidence, ...],
    folded_pieces: dict[str, FoldedPiece],
    host: Evidence,
) -> Turning:
    under = {p.measured.piece.id: FoldedPiece(tree=p.tree, layers=p.layers) for p in host.pieces}
    measured = tuple(piece.measured for piece in pieces)
    return gather_turning(project, part.values, measured, folded_pieces, host.assembly, under)


def _gather_piece(project: Project, measured: MeasuredPiece, assembly: Assembly, progress: Progress) -> PieceEvidence:
    tree = grow(measured.piece)
    layers = order_layers(tree, assembly.joins, project.cardstock.thickness.high_mm)
    laws = lay_down_laws(tree, layers, assembly.joins, project.folding)
    touching = tuple((tree.panels[a], tree.panels[b]) for a, b in final_contact(laws.contact))
    return PieceEvidence(
        measured=measured,
        tree=tree,
        layers=layers,
        joins=fit_joins(tree, layers, assembly.joins),
        take_up=take_up(tree, layers),
        stacks=stack_heights(layers),
        touching=touching,
        orders=search_orders(laws, project.folding, progress),
    )
