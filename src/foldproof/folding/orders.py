"""Every order in which a piece can be folded and glued, searched backwards from the finished piece.

Forwards most states are dead ends that cannot be finished; backwards every state met can be. A state is the set of
steps already done. The search goes level by level, asks the contact table about a whole level at once, and keeps
within a fixed budget of states; when it has to leave states out it says so.
"""

from __future__ import annotations

from collections import Counter
from dataclasses import dataclass

import numpy as np
from numpy.typing import NDArray

from foldproof.folding.arrival import Closing, Rule, arrival_rules, closings, glue_rules
from foldproof.folding.contact import ContactTable, States, blocked, clashes, start_table
from foldproof.folding.layers import Layers
from foldproof.folding.limits import FoldingLimits
from foldproof.folding.reach import ReachTable, pressable, start_reach
from foldproof.folding.tree import FoldTree
from foldproof.pattern.records import Join
from foldproof.progress import Progress, unwatched

Array = NDArray[np.float64]

KIND_COST = 4.0  # going on to another kind of part; like steps together
FAMILY_COST = 1.0  # going on to the same kind of part worked in another way
QUARTER_TURN_COST = 1.0  # turning the sheet by a quarter
OBSTACLE_STATES = 50  # states examined for the reasons of a dead end; bounds the report, not the search
SLIDING_GLUE_COST = 20.0  # a wet face that slides smears: only when nothing else works


@dataclass(frozen=True, slots=True, kw_only=True)
class Obstacle:
    """Why no order was found: folding ``step`` last is ruled out for ``reason`` between ``panels``."""

    step: int
    reason: str
    panels: tuple[str, ...]
    states: int


@dataclass(frozen=True, slots=True, kw_only=True)
class RankedOrder:
    """Steps in the order they are done, and what that order costs a maker (changes of kind, turns, slides)."""

    steps: tuple[int, ...]
    cost: float


@dataclass(frozen=True, slots=True, kw_only=True)
class Orders:
    """What the search found.

    ``ranked`` holds the most natural order for each kind of fold that can come first, best first; ``number`` is how
    many orders work among the states looked at, ``states`` how many states that were, ``complete`` False when the
    budget cut the search, ``stopped`` True when the caller did. ``obstacles`` say what ruled out the last folds of
    the states that led nowhere, most frequent first.
    """

    ranked: tuple[RankedOrder, ...]
    number: int
    states: int
    complete: bool
    stopped: bool
    closings: tuple[Closing, ...]
    obstacles: tuple[Obstacle, ...]


@dataclass(frozen=True, slots=True, kw_only=True)
class Laws:
    """Everything that can forbid a last step, ready to be asked for many states."""

    tree: FoldTree
    contact: ContactTable
    reach: ReachTable
    rules: tuple[Rule, ...]
    closings: tuple[Closing, ...]


@dataclass(frozen=True, slots=True, kw_only=True)
class Level:
    """States with equally many steps done; ``before`` gives for each (state, last step) the state it came from."""

    states: States
    before: NDArray[np.int64]  # (states, steps): row in the next level, -1 when not allowed


def lay_down_laws(tree: FoldTree, layers: Layers, joins: tuple[Join, ...], limits: FoldingLimits) -> Laws:
    """The rules of one piece."""
    contact = start_table(tree, layers, limits)
    own = tuple(j for j in joins if j.a.piece == tree.piece.id and j.b.piece == tree.piece.id)
    found = closings(tree, own)
    rules = arrival_rules(tree, layers) + glue_rules(tree, own, found)
    return Laws(
        tree=tree,
        contact=contact,
        reach=start_reach(contact, layers, own, limits),
        rules=rules,
        closings=found,
    )


def search_orders(laws: Laws, limits: FoldingLimits, progress: Progress = unwatched) -> Orders:
    """Searches backwards from the folded piece; see Orders."""
    steps = len(laws.tree.steps)
    if not steps:
        return _nothing_to_fold()
    widest = max(1, int(limits.states_budget) // max(1, steps))
    states: States = np.ones((1, steps), dtype=bool)
    levels: list[Level] = []
    looked_at, complete, stopped = 1, True, False
    for done in range(steps):
        if not progress("orders", done, steps):
            stopped = True
            break
        allowed = _allowed(laws, states)
        states_before, before, cut = _step_back(states, allowed, widest)
        complete = complete and not cut
        levels.append(Level(states=states, before=before))
        if not len(states_before):
            return _none_found(laws, states, looked_at, complete)
        states = states_before
        looked_at += len(states)
    if stopped:
        return _none_found(laws, states, looked_at, False, stopped=True)
    return _rank(laws, levels, looked_at, complete)


def _nothing_to_fold() -> Orders:
    """A flat piece is finished as it is: one order, of no steps."""
    return Orders(
        ranked=(RankedOrder(steps=(), cost=0.0),),
        number=1,
        states=1,
        complete=True,
        stopped=False,
        closings=(),
        obstacles=(),
    )


def _allowed(laws: Laws, states: States) -> NDArray[np.bool_]:
    """For each state and step: may that step have been the last? Shape (states, steps)."""
    steps = states.shape[1]
    allowed = states.copy()
    rows_of = [np.nonzero(states[:, step])[0] for step in range(steps)]
    hits = blocked(laws.contact, states, list(enumerate(rows_of)))
    for step, (rows, hit) in enumerate(zip(rows_of, hits, strict=True)):
        allowed[rows, step] = ~hit
    for rule in laws.rules:
        allowed[states[:, list(rule.done)].all(axis=1), rule.step] = False
    for closing in laws.closings:
        rows = np.nonzero(allowed[:, closing.step] & states[:, list(closing.steps)].all(axis=1))[0]
        if len(rows):
            allowed[rows, closing.step] = pressable(laws.reach, closing, states[rows])
    return allowed


def _step_back(states: States, allowed: NDArray[np.bool_], widest: int) -> tuple[States, NDArray[np.int64], bool]:
    """The states one step earlier, and where each (state, step) leads; cut to ``widest`` states if need be."""
    rows, steps = np.nonzero(allowed)
    earlier = states[rows].copy()
    earlier[np.arange(len(rows)), steps] = False
    before = np.full(allowed.shape, -1, dtype=np.int64)
    if not len(rows):
        return earlier, before, False
    # Lexicographic order with the last steps done first: a cut keeps states that undo late steps early.
    unique, places = np.unique(np.packbits(earlier[:, ::-1], axis=1), axis=0, return_inverse=True)
    places = places.reshape(-1)
    kept = min(len(unique), widest)
    before[rows, steps] = np.where(places < kept, places, -1)
    unpacked = np.unpackbits(unique[:kept], axis=1, count=states.shape[1])[:, ::-1].astype(bool)
    return unpacked, before, kept < len(unique)


def _rank(laws: Laws, levels: list[Level], looked_at: int, complete: bool) -> Orders:
    """Counts the orders and ranks them by dynamic programming from the finished piece to the flat sheet."""
    trans = _transition_costs(laws.tree)
    steps = len(laws.tree.steps)
    ahead = np.zeros((1, steps))  # least cost to finish from a state when a given step was the last done
    ways: list[int] = [1]
    choices: list[tuple[Array, NDArray[np.int64]]] = []
    for level in levels:
        extra = _sliding_costs(laws, level.states)
        rows, lasts = np.nonzero(level.before >= 0)
        earlier = level.before[rows, lasts]
        via = np.full((int(earlier.max()) + 1, steps), np.inf)
        target = np.full(via.shape, -1, dtype=np.int64)
        via[earlier, lasts] = extra[rows, lasts] + ahead[rows, lasts]
        target[earlier, lasts] = rows
        earlier_ways = [0] * len(via)
        for row, place in zip(rows.tolist(), earlier.tolist(), strict=True):
            earlier_ways[place] += ways[row]
        ways = earlier_ways
        choices.append((via, target))
        ahead = (trans[None, :, :] + via[:, None, :]).min(axis=2)
    ranked = _best_by_first_family(laws.tree, choices, trans)
    return Orders(
        ranked=ranked,
        number=ways[0],
        states=looked_at,
        complete=complete,
        stopped=False,
        closings=laws.closings,
        obstacles=(),
    )


def _best_by_first_family(
    tree: FoldTree, choices: list[tuple[Array, NDArray[np.int64]]], trans: Array
) -> tuple[RankedOrder, ...]:
    """The best order for each family of folds that can come first, cheapest first."""
    first_costs = choices[-1][0][0]
    best: dict[str, int] = {}
    for step in np.argsort(first_costs, kind="stable").tolist():
        if np.isfinite(first_costs[step]):
            best.setdefault(family_of(tree, step), step)
    orders = []
    for step in best.values():
        order, row = [step], int(choices[-1][1][0, step])
        for via, target in reversed(choices[:-1]):
            following = int(np.argmin(via[row] + trans[order[-1]]))
            order.append(following)
            row = int(target[row, following])
        orders.append(RankedOrder(steps=tuple(order), cost=float(first_costs[step])))
    return tuple(orders)


def family_of(tree: FoldTree, step: int) -> str:
    """The family of a step's first crease."""
    return tree.piece.creases[tree.steps[step][0]].family


def _transition_costs(tree: FoldTree) -> Array:
    """Cost (steps, steps) of doing one step right after another: a change of family, quarter turns of the sheet."""
    steps = len(tree.steps)
    families = [family_of(tree, step) for step in range(steps)]
    kinds = [_kind_of(tree, step) for step in range(steps)]
    headings = [_heading_deg(tree, step) for step in range(steps)]
    costs = np.zeros((steps, steps))
    for one in range(steps):
        for other in range(steps):
            turned = abs(headings[one] - headings[other]) % 360.0
            quarters = round(min(turned, 360.0 - turned) / 90.0)
            costs[one, other] = QUARTER_TURN_COST * quarters
            costs[one, other] += FAMILY_COST if families[one] != families[other] else 0.0
            costs[one, other] += KIND_COST if kinds[one] != kinds[other] else 0.0
    return costs


def _kind_of(tree: FoldTree, step: int) -> str:
    child = tree.piece.creases[tree.steps[step][0]].child
    return next(panel.kind for panel in tree.piece.panels if panel.id == child)


def _heading_deg(tree: FoldTree, step: int) -> float:
    """Which way the moving part lies from its crease on the flat sheet: the side the maker turns towards her."""
    number = tree.steps[step][0]
    crease = tree.piece.creases[number]
    _, direction, signed_target = tree.axes[number]
    lies_left = (signed_target > 0) == (crease.direction == "valley")
    outward = np.cross([0.0, 0.0, 1.0], direction) * (1.0 if lies_left else -1.0)
    return float(np.degrees(np.arctan2(outward[1], outward[0])))


def _sliding_costs(laws: Laws, states: States) -> Array:
    """Extra cost (states, steps) where a wet face would slide into place."""
    extra = np.zeros(states.shape)
    for closing in laws.closings:
        if not closing.face_on:
            extra[states[:, list(closing.steps)].all(axis=1), closing.step] += SLIDING_GLUE_COST
    return extra


def closed_by(orders: Orders, steps: tuple[int, ...], position: int) -> tuple[Closing, ...]:
    """The joins that close when ``steps[position]`` is done, as closings."""
    done = set(steps[: position + 1])
    return tuple(c for c in orders.closings if c.step == steps[position] and set(c.steps) <= done)


def _none_found(laws: Laws, states: States, looked_at: int, complete: bool, *, stopped: bool = False) -> Orders:
    """The answer when no order is left, with what ruled out the last folds of the states that led nowhere."""
    counts: Counter[tuple[int, str, tuple[int, ...]]] = Counter()
    for row in states[:OBSTACLE_STATES]:
        for step in np.nonzero(row)[0].tolist():
            for reason, panels in _why_not(laws, row, step):
                counts[step, reason, panels] += 1
    obstacles = [
        Obstacle(step=step, reason=reason, panels=tuple(laws.tree.panels[p] for p in panels), states=number)
        for (step, reason, panels), number in sorted(counts.items(), key=lambda item: (-item[1], item[0]))
    ]
    return Orders(
        ranked=(),
        number=0,
        states=looked_at,
        complete=complete,
        stopped=stopped,
        closings=laws.closings,
        obstacles=tuple(obstacles),
    )


def _why_not(laws: Laws, row: NDArray[np.bool_], step: int) -> list[tuple[str, tuple[int, ...]]]:
    reasons: list[tuple[str, tuple[int, ...]]] = [("contact", pair) for pair in clashes(laws.contact, step, row[None])]
    reasons += [(r.reason, r.panels) for r in laws.rules if r.step == step and row[list(r.done)].all()]
    for closing in laws.closings:
        closes = closing.step == step and row[list(closing.steps)].all()
        if closes and not pressable(laws.reach, closing, row[None])[0]:
            press = laws.reach.presses[closing.join]
            reasons.append(("finger_reach", (press[0].panel, press[1].panel)))
    return reasons
