"""The engine against the straightforward version: same states, same poses, same answers, and how much faster."""

from __future__ import annotations

import time
from dataclasses import dataclass

import numpy as np
from numpy.typing import NDArray

from benchmarks.example import Example, example, fill_contact
from benchmarks.plain import PlainPiece, overlapping, pair_touches, plain_piece, step_touches
from benchmarks.table import milliseconds, timed, warm_seconds
from foldproof.design.measure import measure
from foldproof.design.prove import prove
from foldproof.folding.contact import blocked, ladder, start_table
from foldproof.folding.layers import order_layers
from foldproof.folding.orders import _allowed, _step_back, lay_down_laws, search_orders
from foldproof.geometry.plane import signed_area

ONE_IN = 24  # of the questions of the search, this share is put to the straightforward version
LEAST_RATIO = "30"


@dataclass(frozen=True, slots=True, kw_only=True)
class Compared:
    """Rows for the table, whether all answers agreed, and what the figures are of."""

    rows: list[tuple[str, ...]]
    same_answers: bool
    note: str


@dataclass(frozen=True, slots=True, kw_only=True)
class Question:
    """May ``step`` be folded last of the steps ``done``? ``touches`` is the engine's answer."""

    step: int
    done: NDArray[np.bool_]
    touches: bool


def comparison() -> Compared:
    """Overlaps, the contact table, and every question of the search, by both versions."""
    piece = example()
    plain = plain_piece(piece.tree, piece.layers, piece.limits)
    creases = piece.tree.piece.creases
    ladders = [ladder(max(creases[c].target_rad for c in step), piece.limits) for step in piece.tree.steps]
    layering, _ = warm_seconds(
        lambda: order_layers(piece.tree, piece.joins, piece.project.cardstock.thickness.high_mm)
    )
    areas, overlap_plain = timed(lambda: overlapping(plain))
    contact, _ = warm_seconds(lambda: fill_contact(piece))
    differ, poses, table_plain = _same_table(piece, plain, ladders)
    questions = _questions(piece)
    asked = questions[::ONE_IN]
    wrong, search_plain = timed(lambda: sum(_differs(plain, question, ladders) for question in asked))
    search_plain *= len(questions) / len(asked)
    whole, _ = warm_seconds(lambda: prove(measure(piece.project)))
    measuring, _ = warm_seconds(lambda: measure(piece.project))
    rows = [
        _row("layers: overlaps and areas", layering, overlap_plain, ""),
        _row("contact table, each question once", contact, table_plain, ""),
        _row("measure and prove, pair tables kept", whole, measuring + overlap_plain + table_plain, ""),
        _row("measure and prove, state by state", whole, measuring + overlap_plain + search_plain, LEAST_RATIO),
    ]
    note = (
        f"  {poses:,} poses of pairs in the table; {len(questions):,} questions of the search, 1 in {ONE_IN} put to the"
        f" plain version and its time scaled up.\n  Answers that differ: {differ} in the table, {wrong} in the search."
    )
    return Compared(rows=rows, same_answers=not differ and not wrong and _same_areas(piece, areas), note=note)


def _row(what: str, engine: float, plain: float, aim: str) -> tuple[str, ...]:
    return (what, milliseconds(engine), milliseconds(plain), f"{plain / engine:,.0f}", aim)


def _same_areas(piece: Example, areas: dict[tuple[int, int], float]) -> bool:
    """Does the engine lay the same panels on each other, by the same areas?"""
    ours = {(min(o.lower, o.upper), max(o.lower, o.upper)): signed_area(o.region) for o in piece.layers.overlaps}
    return ours.keys() == areas.keys() and all(abs(ours[pair] - area) < 1e-3 * area for pair, area in areas.items())


def _same_table(piece: Example, plain: PlainPiece, ladders: list[NDArray[np.float64]]) -> tuple[int, int, float]:
    """How many answers of the table differ, how many poses it stands for, and how long the plain one took."""
    table = start_table(piece.tree, piece.layers, piece.limits)
    blocked(table, np.ones((1, len(piece.tree.steps)), dtype=bool), [(0, np.array([0]))])
    differ = poses = 0
    seconds = 0.0
    for step, small in table.small.items():
        for link, touches in zip(small.links, small.touches, strict=True):
            for code in range(1 << len(link.others)):
                done = np.zeros(len(piece.tree.steps), dtype=bool)
                done[[other for bit, other in enumerate(link.others) if code >> bit & 1]] = True
                start = time.perf_counter()
                found = pair_touches(plain, link.one, link.other, step, done, ladders[step])
                seconds += time.perf_counter() - start
                poses += len(ladders[step])
                differ += found != bool(touches[code])
    return differ, poses, seconds


def _questions(piece: Example) -> list[Question]:
    """Everything the search asks the contact table, from the finished piece back, with the answers."""
    laws = lay_down_laws(piece.tree, piece.layers, piece.joins, piece.limits)
    level = np.ones((1, len(piece.tree.steps)), dtype=bool)
    levels = [level]
    while level.any():
        level, _, cut = _step_back(level, _allowed(laws, level), int(piece.limits.states_budget))
        assert not cut, "the example is searched to its end"
        levels.append(level)
    states = np.concatenate(levels)
    assert len(states) == search_orders(laws, piece.limits).states, "these are the states of the search"
    rows_of = [np.nonzero(states[:, step])[0] for step in range(states.shape[1])]
    answers = blocked(laws.contact, states, list(enumerate(rows_of)))
    return [
        Question(step=step, done=states[row], touches=bool(touches))
        for step, (rows, hits) in enumerate(zip(rows_of, answers, strict=True))
        for row, touches in zip(rows.tolist(), hits, strict=True)
    ]


def _differs(plain: PlainPiece, question: Question, ladders: list[NDArray[np.float64]]) -> bool:
    return step_touches(plain, question.step, question.done, ladders[question.step]) != question.touches
