"""Contact along every fold: one table by pair of panels and state of the creases between them.

How two panels stand to each other depends only on the creases on their path through the tree, so the answer to
"does this fold make them touch?" is worked out once for each state of those creases and serves every order.
"""

from __future__ import annotations

from collections.abc import Iterable
from dataclasses import dataclass, field

import numpy as np
from numpy.typing import NDArray

from foldproof.folding.layers import Layers
from foldproof.folding.limits import FoldingLimits
from foldproof.folding.plates import Plates, make_plates, touching
from foldproof.folding.sweeps import Balls, balls_round, can_meet, middles_of
from foldproof.folding.tree import FoldTree, between, fold_motions
from foldproof.geometry import motion

Array = NDArray[np.float64]
States = NDArray[np.bool_]

SMALL_STEPS = 5  # with at most this many other steps all 32 answers of a link are worked out at once
WORD_BITS = 62  # steps coded at once: an int64 less its sign, and one to spare
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
    weights: NDArray[np.float32]  # small whole numbers: exact, and multiplied fast
    touches: NDArray[np.bool_]


@dataclass(frozen=True, slots=True, kw_only=True)
class LargeLinks:
    """The links of one step with many other steps, and the panels of each: (links,), (links,)."""

    links: tuple[Link, ...]
    one: NDArray[np.int64]
    other: NDArray[np.int64]


@dataclass(frozen=True, slots=True, kw_only=True)
class ContactTable:
    """Answers found so far; filled by ``blocked``."""

    tree: FoldTree
    plates: Plates
    limit_mm: float
    hinges: tuple[Array, ...]  # per panel: parent-from-child at flat, then along the step's ladder
    small: dict[int, SmallLinks]  # by step
    large: dict[int, LargeLinks]
    balls: Balls
    shifts_mm: tuple[float, ...]
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
        # No two panels of a flat piece can meet: its outline, however fine, is not taken apart.
        plates=make_plates(outlines if links else (), thickness, thickness, limits.plate_share),
        limit_mm=limits.contact_limit_mm(thickness),
        hinges=tuple(hinges),
        small={step: _small(tree, step, found) for step, found in links.items()},
        large={step: _large(found) for step, found in links.items()},
        balls=balls_round(outlines, thickness),
        shifts_mm=layers.shifts_mm,
    )


def _small(tree: FoldTree, step: int, links: tuple[Link, ...]) -> SmallLinks:
    few = tuple(link for link in links if len(link.others) <= SMALL_STEPS)
    return SmallLinks(
        links=few,
        weights=code_weights(len(tree.steps), tuple(link.others for link in few)).astype(np.float32),
        touches=np.zeros((len(few), 1 << SMALL_STEPS), dtype=bool),
    )


def _large(links: tuple[Link, ...]) -> LargeLinks:
    many = tuple(link for link in links if len(link.others) > SMALL_STEPS)
    return LargeLinks(
        links=many,
        one=np.array([link.one for link in many], dtype=np.int64),
        other=np.array([link.other for link in many], dtype=np.int64),
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


Rows = NDArray[np.int64]


def blocked(table: ContactTable, states: States, questions: list[tuple[int, Rows]]) -> list[NDArray[np.bool_]]:
    """ "Does step s, done last, make any pair touch?" for states (n, steps) and a list of (s, rows of states).

    Small groups of answers are worked out whole the first time; of the rest, only pairs that can meet are asked for.
    """
    _fill_small(table)
    near = _near(table, states, questions)
    answers = []
    for (step, rows), asked in zip(questions, near, strict=True):
        small = table.small[step]
        hit: NDArray[np.bool_] = np.zeros(len(rows), dtype=bool)
        if small.links:
            columns = np.arange(len(small.links))
            hit = np.any(small.touches[columns, _short_codes(small, states[rows])], axis=1)
        for link, matter, codes in asked:
            store = table.answers[link]
            hit[matter] |= np.array([store[code] for code in codes], dtype=bool)
        answers.append(hit)
    return answers


def clashes(table: ContactTable, step: int, state: States) -> tuple[tuple[int, int], ...]:
    """Pairs of panels that touch when ``step`` is done last of one state, shape (1, steps)."""
    _fill_small(table)
    near = _near(table, state, [(step, np.array([0]))])
    small = table.small[step]
    codes = _short_codes(small, state)
    found = [
        (link.one, link.other) for column, link in enumerate(small.links) if small.touches[column, codes[0, column]]
    ]
    found += [(link.one, link.other) for link, _, codes in near[0] if table.answers[link][codes[0]]]
    return tuple(found)


def _short_codes(small: SmallLinks, states: States) -> NDArray[np.int64]:
    codes: NDArray[np.int64] = (states.astype(np.float32) @ small.weights).astype(np.int64)
    return codes


Asked = list[tuple[Link, Rows, list[int]]]  # a link, which of the asked states it can matter for, their codes


def _near(table: ContactTable, states: States, questions: list[tuple[int, Rows]]) -> list[Asked]:
    """For each question the large links whose panels can meet at all, and in which states; their answers are filled."""
    if not any(table.large[step].links for step, _ in questions):
        return [[] for _ in questions]
    tree = table.tree
    world = _posed(table, states)
    middles = middles_of(table.balls, world)
    found: list[Asked] = []
    jobs: list[tuple[Link, list[int], Rows]] = []  # links, codes not met yet, and a state for each
    for step, rows in questions:
        large, creases = table.large[step], tree.steps[step]
        asked: Asked = []
        meet = np.ones((len(rows), len(large.links)), dtype=bool)
        if large.links and len(creases) == 1:  # several creases turn about several lines: every pair is asked for
            child = _a_panel_of(tree, step)
            hinge, slack = world[rows, tree.parent[child]], abs(table.shifts_mm[child])
            pairs = (large.one, large.other)
            meet = can_meet(table.balls, middles[rows], hinge, tree.axes[creases[0]], pairs, slack)
        for column in np.nonzero(meet.any(axis=0))[0].tolist():
            link, matter = large.links[column], np.nonzero(meet[:, column])[0]
            codes = _long_codes(states[rows[matter]], link.others)
            asked.append((link, matter, codes))
            store = table.answers.setdefault(link, {})
            state_of = {code: row for code, row in zip(codes, rows[matter].tolist(), strict=True) if code not in store}
            if state_of:
                jobs.append((link, list(state_of), np.array(list(state_of.values()))))
        found.append(asked)
    motions = (_motions_in_pose(table, link, states[rows], world[rows]) for link, _, rows in jobs)
    for (link, codes, _), touched in zip(jobs, _judge_all(table, [link for link, _, _ in jobs], motions), strict=True):
        table.answers[link].update(zip(codes, touched.tolist(), strict=True))
    return found


def _posed(table: ContactTable, states: States) -> Array:
    """World-from-panel with each step flat or at its target, (states, panels, 4, 4)."""
    tree = table.tree
    world = np.empty((len(states), len(tree.panels), 4, 4))
    world[:, 0] = motion.identity()
    for panel in range(1, len(tree.panels)):
        hinge = table.hinges[panel]
        done = states[:, tree.step_of_crease[tree.crease_of[panel]]]
        world[:, panel] = world[:, tree.parent[panel]] @ hinge[np.where(done, len(hinge) - 1, 0)]
    return world


def _long_codes(states: States, steps: tuple[int, ...]) -> list[int]:
    """Codes as Python integers, for paths of any length: bit k for the k-th step, in words of 62 bits."""
    bits = states[:, list(steps)].astype(np.int64)
    codes: list[int] = [0] * len(states)
    for first in range(0, len(steps), WORD_BITS):
        word = bits[:, first : first + WORD_BITS]
        values = (word @ (1 << np.arange(word.shape[1]))).tolist()
        codes = [code | value << first for code, value in zip(codes, values, strict=True)]
    return codes


def _fill_small(table: ContactTable) -> None:
    if table.filled:
        return
    table.filled.append(True)
    links = [link for small in table.small.values() for link in small.links]
    motions = (relative_motions(table, link, _every_state(len(link.others))) for link in links)
    for link, touched in zip(links, _judge_all(table, links, motions), strict=True):
        small = table.small[link.step]
        small.touches[small.links.index(link), : len(touched)] = touched


def _every_state(steps: int) -> States:
    bits: States = ((np.arange(1 << steps)[:, None] >> np.arange(steps)) & 1).astype(bool)
    return bits


def _judge_all(table: ContactTable, links: list[Link], motions: Iterable[Array]) -> list[NDArray[np.bool_]]:
    """For each link and its motions (states, samples, 4, 4): do its panels touch anywhere along the ladder?"""
    answers: list[NDArray[np.bool_]] = []
    batch: list[Array] = []
    size = 0
    for relative in motions:
        batch.append(relative)
        size += relative.shape[0] * relative.shape[1]
        if size >= LARGEST_BATCH:
            answers += _judge(table, links[len(answers) : len(answers) + len(batch)], batch)
            batch, size = [], 0
    return answers + (_judge(table, links[len(answers) :], batch) if batch else [])


def _motions_in_pose(table: ContactTable, link: Link, states: States, world: Array) -> Array:
    """As ``relative_motions``, for whole states with the step done, posed as ``world``: a long path costs no more."""
    tree = table.tree
    creases = tree.steps[link.step]
    if len(creases) > 1:
        return relative_motions(table, link, states[:, list(link.others)])
    child = tree.crease_of.index(creases[0])
    hinge = table.hinges[child]
    turning = hinge[1:] @ motion.inverse(hinge[-1])
    if creases[0] in tree.path[link.one]:
        turning = motion.inverse(turning)
    parent = world[:, tree.parent[child]]
    before = motion.inverse(world[:, link.one]) @ parent
    after = motion.inverse(parent) @ world[:, link.other]
    motions: Array = before[:, None] @ turning @ after[:, None]
    return motions


def relative_motions(table: ContactTable, link: Link, states: States) -> Array:
    """one-from-other along the step's ladder, for states (n, others) of the other steps: (n, samples, 4, 4)."""
    tree = table.tree
    up, down = between(tree, link.one, link.other)
    motions: Array = np.broadcast_to(motion.identity(), (1, 1, 4, 4))
    still: Array = np.broadcast_to(motion.identity(), (1, 4, 4))  # folds that stand, gathered before they are spread
    for crease, back in (*((crease, True) for crease in up), *((crease, False) for crease in down)):
        hinge = table.hinges[tree.crease_of.index(crease)]
        step = tree.step_of_crease[crease]
        if step == link.step:
            turning = motion.inverse(hinge[1:]) if back else hinge[1:]
            motions = (motions @ still[:, None]) @ turning
            still = np.broadcast_to(motion.identity(), (1, 4, 4))
        else:
            ends = motion.inverse(hinge[[0, -1]]) if back else hinge[[0, -1]]
            still = still @ ends[states[:, link.others.index(step)].astype(np.int64)]
    motions = motions @ still[:, None]
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
