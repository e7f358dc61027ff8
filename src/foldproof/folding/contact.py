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

SMALL_STEPS = 5  # with at most this many other steps all 32 answers of a link are worked out at once
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
class SmallLinks:
    """The links of one step with few other steps: weights (steps, links) for their codes, touches (links, codes)."""

    links: tuple[Link, ...]
    weights: NDArray[np.int64]
    touches: NDArray[np.bool_]


@dataclass(frozen=True, slots=True, kw_only=True)
class ContactTable:
    """Answers found so far; filled by ``blocked``."""

    tree: FoldTree
    plates: Plates
    limit_mm: float
    hinges: tuple[Array, ...]  # per panel: parent-from-child at flat, then along the step's ladder
    small: dict[int, SmallLinks]  # by step
    large: dict[int, tuple[Link, ...]]
    answers: dict[Link, dict[int, bool]] = field(default_factory=dict)
    filled: list[bool] = field(default_factory=list)


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
    links = _links(tree)
    return ContactTable(
        tree=tree,
        plates=make_plates(outlines, thickness, thickness, limits.plate_share),
        limit_mm=limits.contact_limit_mm(thickness),
        hinges=tuple(hinges),
        small={step: _small(tree, step, found) for step, found in links.items()},
        large={step: tuple(k for k in found if len(k.others) > SMALL_STEPS) for step, found in links.items()},
    )


def _small(tree: FoldTree, step: int, links: tuple[Link, ...]) -> SmallLinks:
    few = tuple(link for link in links if len(link.others) <= SMALL_STEPS)
    return SmallLinks(
        links=few,
        weights=code_weights(len(tree.steps), tuple(link.others for link in few)),
        touches=np.zeros((len(few), 1 << SMALL_STEPS), dtype=bool),
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


def code_weights(steps: int, asked: tuple[tuple[int, ...], ...]) -> NDArray[np.int64]:
    """Weights (steps, groups) that turn states into codes: bit k of a group's code is its k-th step."""
    weights = np.zeros((steps, len(asked)), dtype=np.int64)
    for column, group in enumerate(asked):
        for bit, step in enumerate(group):
            weights[step, column] = 1 << bit
    return weights


def blocked(table: ContactTable, questions: list[tuple[int, States]]) -> list[NDArray[np.bool_]]:
    """ "Does step s, done last of these states, make any pair touch?" for a list of (s, states) at once.

    Small groups of answers are worked out whole the first time; the rest as they are asked for.
    """
    _fill_small(table)
    _fill_asked(table, questions)
    answers = []
    for step, states in questions:
        hit = np.zeros(len(states), dtype=bool)
        small = table.small[step]
        if small.links:
            codes = states.astype(np.int64) @ small.weights
            hit = (small.touches[np.arange(len(small.links)), codes]).any(axis=1)
        for link in table.large[step]:
            store = table.answers[link]
            hit |= np.array([store[code] for code in _long_codes(states, link.others)], dtype=bool)
        answers.append(hit)
    return answers


def clashes(table: ContactTable, step: int, state: States) -> tuple[tuple[int, int], ...]:
    """Pairs of panels that touch when ``step`` is done last of one state, shape (1, steps)."""
    blocked(table, [(step, state)])
    small = table.small[step]
    codes = state.astype(np.int64) @ small.weights
    found = [
        (link.one, link.other) for column, link in enumerate(small.links) if small.touches[column, codes[0, column]]
    ]
    found += [
        (link.one, link.other) for link in table.large[step] if table.answers[link][_long_codes(state, link.others)[0]]
    ]
    return tuple(found)


def _long_codes(states: States, steps: tuple[int, ...]) -> list[int]:
    """Codes as Python integers, for paths of any length."""
    return [int.from_bytes(row.tobytes(), "big") for row in np.packbits(states[:, list(steps)], axis=1)]


def _long_bits(code: int, steps: tuple[int, ...]) -> list[bool]:
    raw = np.frombuffer(code.to_bytes(-(-len(steps) // 8), "big"), dtype=np.uint8)
    return [bool(bit) for bit in np.unpackbits(raw, count=len(steps))]


def _fill_small(table: ContactTable) -> None:
    if table.filled:
        return
    table.filled.append(True)
    jobs = []
    for small in table.small.values():
        for link in small.links:
            count = 1 << len(link.others)
            bits = (np.arange(count)[:, None] >> np.arange(len(link.others))) & 1
            jobs.append((link, bits.astype(bool)))
    for (link, _), touched in zip(jobs, _judge_all(table, jobs), strict=True):
        small = table.small[link.step]
        small.touches[small.links.index(link), : len(touched)] = touched


def _fill_asked(table: ContactTable, questions: list[tuple[int, States]]) -> None:
    jobs, wanted = [], []
    for step, states in questions:
        for link in table.large[step]:
            store = table.answers.setdefault(link, {})
            new = sorted(set(_long_codes(states, link.others)) - set(store))
            if new:
                wanted.append((link, new))
                jobs.append((link, np.array([_long_bits(code, link.others) for code in new], dtype=bool)))
    for (link, codes), touched in zip(wanted, _judge_all(table, jobs), strict=True):
        table.answers[link].update(zip(codes, touched.tolist(), strict=True))


def _judge_all(table: ContactTable, jobs: list[tuple[Link, States]]) -> list[NDArray[np.bool_]]:
    """For each link and states of its other steps: do its panels touch anywhere along the step's ladder?"""
    answers: list[NDArray[np.bool_]] = []
    batch: list[Array] = []
    links: list[Link] = []
    size = 0
    for link, states in jobs:
        motions = relative_motions(table, link, states)
        batch.append(motions)
        links.append(link)
        size += motions.shape[0] * motions.shape[1]
        if size >= LARGEST_BATCH:
            answers += _judge(table, links, batch)
            batch, links, size = [], [], 0
    return answers + (_judge(table, links, batch) if batch else [])


def relative_motions(table: ContactTable, link: Link, states: States) -> Array:
    """one-from-other along the step's ladder, for states (n, others) of the other steps: (n, samples, 4, 4)."""
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
                folded_now = states[:, link.others.index(step)]
                factor = hinge[np.where(folded_now, len(hinge) - 1, 0)][:, None]
            motions = motions @ (motion.inverse(factor) if back else factor)
    samples = len(table.hinges[_a_panel_of(tree, link.step)]) - 1
    shape: Array = np.broadcast_to(motions, (len(states), samples, 4, 4))
    return shape


def _a_panel_of(tree: FoldTree, step: int) -> int:
    return next(p for p in range(1, len(tree.panels)) if tree.step_of_crease[tree.crease_of[p]] == step)


def _judge(table: ContactTable, links: list[Link], batch: list[Array]) -> list[NDArray[np.bool_]]:
    ones, others, motions, owners = [], [], [], []
    first = table.plates.first
    owner = 0
    for link, relative in zip(links, batch, strict=True):
        flat = relative.reshape(-1, 4, 4)
        rows = owner + np.repeat(np.arange(len(relative)), relative.shape[1])
        for a in range(first[link.one], first[link.one + 1]):
            for b in range(first[link.other], first[link.other + 1]):
                ones.append(np.full(len(flat), a))
                others.append(np.full(len(flat), b))
                motions.append(flat)
                owners.append(rows)
        owner += len(relative)
    hit = touching(table.plates, np.concatenate(ones), np.concatenate(others), np.concatenate(motions), table.limit_mm)
    touched = np.zeros(owner, dtype=bool)
    touched[np.concatenate(owners)[hit]] = True
    ends = np.cumsum([len(relative) for relative in batch])[:-1]
    return list(np.split(touched, ends))


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
