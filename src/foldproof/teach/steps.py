"""The proved order as steps for people: like folds together, and what is glued when."""

from __future__ import annotations

from dataclasses import dataclass

from foldproof.folding.closure import JoinFit
from foldproof.folding.orders import Orders, closed_by, family_of
from foldproof.folding.tree import FoldTree


@dataclass(frozen=True, slots=True, kw_only=True)
class Fold:
    """One fold of a step: the panels that move (the child first), and the joins it closes by their ids."""

    crease: str
    child: str
    moving: tuple[str, ...]
    closes: tuple[str, ...]
    sliding: tuple[str, ...]


@dataclass(frozen=True, slots=True, kw_only=True)
class FoldingStep:
    """Folds done one after another as one step. ``before`` and ``after`` are the creases folded by then."""

    piece: str
    family: str
    folds: tuple[Fold, ...]
    before: tuple[str, ...]
    after: tuple[str, ...]


def folding_steps(tree: FoldTree, orders: Orders, joins: tuple[JoinFit, ...]) -> tuple[FoldingStep, ...]:
    """The best order in steps; none when no order was found. ``joins`` are the piece's joins in search order."""
    if not orders.ranked:
        return ()
    best = orders.ranked[0].steps
    groups: list[list[int]] = []
    for position, step in enumerate(best):
        if position and family_of(tree, step) == family_of(tree, best[position - 1]):
            groups[-1].append(position)
        else:
            groups.append([position])
    done: list[str] = []
    found = []
    for group in groups:
        folds = tuple(fold for position in group for fold in _folds(tree, orders, joins, best, position))
        before = tuple(done)
        done += [fold.crease for fold in folds]
        found.append(
            FoldingStep(
                piece=tree.piece.id,
                family=family_of(tree, best[group[0]]),
                folds=folds,
                before=before,
                after=tuple(done),
            )
        )
    return tuple(found)


def _folds(
    tree: FoldTree, orders: Orders, joins: tuple[JoinFit, ...], best: tuple[int, ...], position: int
) -> list[Fold]:
    closing = closed_by(orders, best, position)
    folds = []
    for number, crease_number in enumerate(tree.steps[best[position]]):
        crease = tree.piece.creases[crease_number]
        moving = tuple(name for name, path in zip(tree.panels, tree.path, strict=True) if crease_number in path)
        now = closing if number == 0 else ()  # creases that move together close their joins once
        folds.append(
            Fold(
                crease=crease.id,
                child=crease.child,
                moving=moving,
                closes=tuple(joins[c.join].join for c in now),
                sliding=tuple(joins[c.join].join for c in now if not c.face_on),
            )
        )
    return folds
