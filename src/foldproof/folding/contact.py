"""Contact along every fold: one table by pair of panels and state of the creases between them.

How two panels stand to each other depends only on the creases on their path through the tree, so the answer to
"does this fold make them touch?" is worked out once for each state of those creases and serves every order.
"""

from __future__ import annotations

from dataclasses import dataclass, field

import numpy as np
from numpy.typing import NDArray

from foldproof.folding.layers import Layers
from foldproof.folding.limits import FoldingLimits
from foldproof.folding.plates import Plates, make_plates, touching
from foldproof.folding.tree import FoldTree, between, fold_motions
from foldproof.geometry import motion

Array = NDArray[np.float64]
States = NDArray[np.bool_]

DENSE_STEPS = 14  # paths of more steps than this keep their answers in a dictionary, not an array
LARGEST_BATCH = 60000  # poses judged at once; bounds memory, does not change the answer


@dataclass(frozen=True, slots=True, kw_only=True)
class Link:
    """A pair of panels and one step that moves them apart: the key of a group of answers.

    ``others`` are the further steps on the path; a state of them is coded with bit k for ``others[k]`` folded.
    """

    one: int
    other: int
    step: int
    others: tuple[int, ...]


@dataclass(frozen=True, slots=True, kw_only=True)
class ContactTable:
    """Answers found so far. 0 not asked, 1 clear, 2 touching. Filled by ``blocked``."""

    tree: FoldTree
    plates: Plates
    limit_mm: float
    hinges: tuple[Array, ...]  # per panel: parent-from-child at flat, then along the step's ladder
    links: dict[int, tuple[Link, ...]]  # by step
    answers: dict[Link, NDArray[np.int8] | dict[int, int]] = field(default_factory=dict)


def ladder(target_rad: float, limits: FoldingLimits) -> Array:
    """Fractions of a fold to look at, from just above 0 to 1: even steps, and ever finer ones at both ends."""
    span = abs(float(np.degrees(target_rad)))
    even = np.arange(limits.even_step_deg, span - 1e-9, limits.even_step_deg)
    halvings = int(np.ceil(np.log2(limits.even_step_deg / limits.finest_step_deg)))
    fine = limits.even_step_deg / 2.0 ** np.arange(1, halvings + 1)
    angles = np.concatenate([even, fine, span - fine, [span]])
    kept = np.unique(np.round(angles[(angles > 0) & (angles <= span)], 9))
    fractions: Array = kept / span
    return fractions


def start_table(tree: FoldTree, layers: Layers, limits: FoldingLimits) -> ContactTable:
    """An empty table for a piece whose layers are known."""
    thickness = layers.thickness_mm
    outlines = [tree.outline(panel) for panel in range(len(tree.panels))]
    ladders = {
        step: ladder(max(tree.piece.creases[c].target_rad for c in creases), limits)
        for step, creases in enumerate(tree.steps)
    }
    hinges: list[Array] = [motion.identity()[None]]
    for panel in range(1, len(tree.panels)):
        step = tree.step_of_crease[tree.crease_of[panel]]
        fractions = np.concatenate([[0.0], ladders[step]])
        hinges.append(fold_motions(tree, panel, fractions, layers.shifts_mm[panel]))
    return ContactTable(
        tree=tree,
        plates=make_plates(outlines, thickness, thickness, limits.plate_share),
        limit_mm=limits.contact_limit_mm(thickness),
        hinges=tuple(hinges),
        links=_links(tree),
    )


def pairs_to_watch(tree: FoldTree) -> tuple[tuple[int, int], ...]:
    """All pairs of panels but those that share a crease: they always touch along it."""
    count = len(tree.panels)
    return tuple(
        (i, j) for i in range(count) for j in range(i + 1, count) if tree.parent[j] != i and tree.parent[i] != j
    )


def _links(tree: FoldTree) -> dict[int, tuple[Link, ...]]:
    links: dict[int, list[Link]] = {step: [] for step in range(len(tree.steps))}
    for one, other in pairs_to_watch(tree):
        steps = path_steps(tree, one, other)
        for step in steps:
            others = tuple(s for s in steps if s != step)
            links[step].append(Link(one=one, other=other, step=step, others=others))
    return {step: tuple(found) for step, found in links.items()}


def path_steps(tree: FoldTree, one: int, other: int) -> tuple[int, ...]:
    """Steps that change how two panels stand to each other, in order of number."""
    up, down = between(tree, one, other)
    return tuple(sorted({tree.step_of_crease[crease] for crease in (*up, *down)}))


def state_codes(states: States, steps: tuple[int, ...]) -> NDArray[np.int64] | list[int]:
    """Codes of the named steps in each state: bit k is ``steps[k]``; Python integers when there are over 62."""
    if len(steps) <= 62:
        weights = 1 << np.arange(len(steps), dtype=np.int64)
        codes: NDArray[np.int64] = states[:, list(steps)].astype(np.int64) @ weights
        return codes
    return [int("".join("1" if bit else "0" for bit in row[::-1]), 2) for row in states[:, list(steps)]]


def ask(table: ContactTable, questions: list[tuple[int, States]]) -> None:
    """Answers "does step s, begun from these states, make any pair touch?" for a list of (s, states) at once."""
    jobs: list[tuple[Link, list[int]]] = []
    for step, states in questions:
        for link in table.links[step]:
            store = table.answers.get(link)
            if store is None:
                store = np.zeros(1 << len(link.others), dtype=np.int8) if len(link.others) <= DENSE_STEPS else {}
                table.answers[link] = store
            codes = state_codes(states, link.others)
            if isinstance(store, dict):
                new = sorted({int(code) for code in codes} - set(store))
            else:
                present = np.zeros(len(store), dtype=bool)
                present[np.asarray(codes)] = True
                new = [int(code) for code in np.nonzero(present & (store == 0))[0]]
            if new:
                jobs.append((link, new))
    _answer(table, jobs)


def blocked(table: ContactTable, step: int, states: States) -> NDArray[np.bool_]:
    """For states already asked about: does folding ``step`` from there make something touch? Shape (states,)."""
    hit = np.zeros(len(states), dtype=bool)
    for link in table.links[step]:
        hit |= _stored(table, link, states) == 2
    return hit


def clashes(table: ContactTable, step: int, state: States) -> tuple[tuple[int, int], ...]:
    """Pairs of panels that touch when ``step`` is folded from one state (shape (1, steps)) already asked about."""
    return tuple(
        (link.one, link.other) for link in table.links[step] if _stored(table, link, state)[0] == 2
    )


def _stored(table: ContactTable, link: Link, states: States) -> NDArray[np.int8]:
    store = table.answers[link]
    codes = state_codes(states, link.others)
    if isinstance(store, dict):
        return np.array([store[int(code)] for code in codes], dtype=np.int8)
    answers: NDArray[np.int8] = store[np.asarray(codes)]
    return answers


def _answer(table: ContactTable, jobs: list[tuple[Link, list[int]]]) -> None:
    batch: list[tuple[Link, list[int], Array]] = []
    size = 0
    for link, codes in jobs:
        motions = relative_motions(table, link, codes)
        batch.append((link, codes, motions))
        size += motions.shape[0] * motions.shape[1]
        if size >= LARGEST_BATCH:
            _judge(table, batch)
            batch, size = [], 0
    if batch:
        _judge(table, batch)


def relative_motions(table: ContactTable, link: Link, codes: list[int]) -> Array:
    """one-from-other along the step's ladder, for each coded state: shape (codes, samples, 4, 4)."""
    tree = table.tree
    up, down = between(tree, link.one, link.other)
    child_of = {tree.crease_of[panel]: panel for panel in range(1, len(tree.panels))}
    motions: Array = np.broadcast_to(motion.identity(), (1, 1, 4, 4))
    for creases, back in ((up, True), (down, False)):
        for crease in creases:
            hinge = table.hinges[child_of[crease]]
            step = tree.step_of_crease[crease]
            if step == link.step:
                factor = hinge[None, 1:]
            else:
                bit = link.others.index(step)
                folded_now = np.array([(code >> bit) & 1 for code in codes], dtype=np.int64)
                factor = hinge[np.where(folded_now == 1, len(hinge) - 1, 0)][:, None]
            motions = motions @ (motion.inverse(factor) if back else factor)
    samples = len(table.hinges[_a_panel_of(tree, link.step)]) - 1
    shape: Array = np.broadcast_to(motions, (len(codes), samples, 4, 4))
    return shape


def _a_panel_of(tree: FoldTree, step: int) -> int:
    return next(p for p in range(1, len(tree.panels)) if tree.step_of_crease[tree.crease_of[p]] == step)


def _judge(table: ContactTable, batch: list[tuple[Link, list[int], Array]]) -> None:
    ones, others, motions, owners = [], [], [], []
    first = table.plates.first
    owner = 0
    for link, codes, relative in batch:
        flat = relative.reshape(-1, 4, 4)
        rows = owner + np.repeat(np.arange(len(codes)), relative.shape[1])
        for a in range(first[link.one], first[link.one + 1]):
            for b in range(first[link.other], first[link.other + 1]):
                ones.append(np.full(len(flat), a))
                others.append(np.full(len(flat), b))
                motions.append(flat)
                owners.append(rows)
        owner += len(codes)
    hit = touching(
        table.plates, np.concatenate(ones), np.concatenate(others), np.concatenate(motions), table.limit_mm
    )
    touched = np.zeros(owner, dtype=bool)
    touched[np.concatenate(owners)[hit]] = True
    owner = 0
    for link, codes, _ in batch:
        store = table.answers[link]
        for offset, code in enumerate(codes):
            store[code] = 2 if touched[owner + offset] else 1
        owner += len(codes)


def final_contact(table: ContactTable) -> tuple[tuple[int, int], ...]:
    """Pairs of panels that touch in the finished piece; pairs sharing a crease are left out."""
    pairs = pairs_to_watch(table.tree)
    if not pairs:
        return ()
    world = _finished(table)
    first = table.plates.first
    one, other, owner = [], [], []
    for number, (i, j) in enumerate(pairs):
        for a in range(first[i], first[i + 1]):
            for b in range(first[j], first[j + 1]):
                one.append(a)
                other.append(b)
                owner.append(number)
    left = np.array([pairs[n][0] for n in owner])
    right = np.array([pairs[n][1] for n in owner])
    relative = motion.inverse(world[left]) @ world[right]
    hit = touching(table.plates, np.array(one), np.array(other), relative, table.limit_mm)
    return tuple(pairs[n] for n in sorted({owner[k] for k in np.nonzero(hit)[0].tolist()}))


def _finished(table: ContactTable) -> Array:
    world = np.empty((len(table.tree.panels), 4, 4))
    world[0] = motion.identity()
    for panel in range(1, len(table.tree.panels)):
        world[panel] = world[table.tree.parent[panel]] @ table.hinges[panel][-1]
    return world
