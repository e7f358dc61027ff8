"""The ladder of poses, and the table of contact: by pair and state, for short paths and for very long ones."""

import dataclasses
import math

import numpy as np
import pytest

from foldproof.folding.contact import blocked, clashes, final_contact, ladder, pairs_to_watch, start_table
from foldproof.folding.layers import order_layers
from foldproof.folding.limits import FoldingLimits
from foldproof.folding.tree import grow
from foldproof.pattern.records import Crease, Panel, Piece

LIMITS = FoldingLimits()
FIRST = np.array([0])


def strip(lengths, directions, target_rad=math.pi / 2, width=20.0):
    """A row of panels, each hanging on the one before."""
    starts = np.concatenate([[0.0], np.cumsum(lengths)])
    panels = tuple(
        Panel(
            id=f"p{k}",
            kind="strip",
            place="",
            outline=(
                (float(starts[k]), 0.0),
                (float(starts[k + 1]), 0.0),
                (float(starts[k + 1]), width),
                (float(starts[k]), width),
            ),
        )
        for k in range(len(lengths))
    )
    creases = tuple(
        Crease(
            id=f"fold_p{k}",
            parent=f"p{k - 1}",
            child=f"p{k}",
            line=((float(starts[k]), 0.0), (float(starts[k]), width)),
            direction=directions[k - 1],
            scored_face="face",
            target_rad=target_rad,
            family="strip",
        )
        for k in range(1, len(lengths))
    )
    return Piece(
        id="strip",
        blank_width_mm=float(starts[-1]),
        blank_height_mm=width,
        root="p0",
        panels=panels,
        creases=creases,
    )


def table_of(piece, thickness_mm=0.3):
    tree = grow(piece)
    return start_table(tree, order_layers(tree, (), thickness_mm), LIMITS)


@pytest.mark.parametrize("span_deg", [0.02, 3.0, 45.0, 90.0, 180.0])
def test_the_ladder_rises_to_the_end_and_is_fine_at_both(span_deg):
    fractions = ladder(math.radians(span_deg), LIMITS)
    angles = fractions * span_deg
    assert (np.diff(angles) > 0).all()
    assert fractions[0] > 0 and fractions[-1] == pytest.approx(1.0, abs=1e-12)
    assert np.diff(np.concatenate([[0.0], angles])).max() <= LIMITS.even_step_deg + 1e-9
    if span_deg > 2 * LIMITS.even_step_deg:
        assert angles[0] <= LIMITS.finest_step_deg
        assert span_deg - angles[-2] <= LIMITS.finest_step_deg


def test_pairs_that_share_a_crease_are_not_watched():
    tree = grow(strip([20.0] * 4, ["valley"] * 3))
    assert pairs_to_watch(tree) == ((0, 2), (0, 3), (1, 3))


def ask(table, step, *done):
    state = np.zeros((1, len(table.tree.steps)), dtype=bool)
    state[0, [step, *done]] = True
    return bool(blocked(table, state, [(step, FIRST)])[0][0]), clashes(table, step, state)


def test_a_strip_that_comes_round_runs_into_itself_and_a_shorter_one_does_not():
    # Sides 30, 30, 20 and an end of 40 that comes down on the base 30 below.
    table = table_of(strip([30.0, 30.0, 20.0, 40.0], ["valley"] * 3))
    assert ask(table, 2) == (False, ())
    hit, pairs = ask(table, 2, 0, 1)
    assert hit and pairs == ((0, 3),)
    short = table_of(strip([30.0, 30.0, 20.0, 25.0], ["valley"] * 3))
    assert ask(short, 2, 0, 1) == (False, ())


def test_folding_the_root_end_last_asks_the_same_pair():
    table = table_of(strip([30.0, 30.0, 20.0, 40.0], ["valley"] * 3))
    assert ask(table, 0, 1, 2)[0]
    assert ask(table, 1, 0, 2)[0]


def test_final_contact_names_what_runs_into_what():
    assert final_contact(table_of(strip([30.0, 30.0, 20.0, 40.0], ["valley"] * 3))) == ((0, 3),)
    assert final_contact(table_of(strip([30.0, 30.0, 20.0, 25.0], ["valley"] * 3))) == ()
    assert final_contact(table_of(strip([30.0, 30.0], ["valley"]))) == ()


def test_answers_by_level_are_the_answers_one_by_one():
    table, other = (table_of(strip([12.0] * 9, ["valley", "mountain", "valley", "valley"] * 2)) for _ in range(2))
    chance = np.random.default_rng(3)
    questions = []
    states = chance.random((40, 8)) < 0.5
    for step in range(8):
        questions.append((step, np.nonzero(states[:, step])[0]))
    together = blocked(table, states, questions)
    for (step, rows), hits in zip(questions, together, strict=True):
        assert [bool(blocked(other, states[[row]], [(step, FIRST)])[0][0]) for row in rows] == hits.tolist()
    assert any(hits.any() for hits in together) and not all(hits.all() for hits in together)


@pytest.mark.parametrize("count", [20, 75])
def test_long_paths_with_more_steps_than_a_machine_word_has_bits(count):
    """A pleated strip is free; the same with four valleys in a row at its far end is not."""
    directions = ["valley" if k % 2 else "mountain" for k in range(count - 1)]
    table = table_of(strip([20.0] * count, directions))
    everything = np.ones((1, count - 1), dtype=bool)
    for step in (0, count // 2, count - 2):
        assert not blocked(table, everything, [(step, FIRST)])[0][0]
    # The same stairs with the pleats that would part the last five panels undone: they roll up on themselves.
    rolled = table_of(strip([20.0] * (count - 5) + [20.0, 20.0, 20.0, 20.0, 30.0], [*directions[:-4], *["valley"] * 4]))
    hit = blocked(rolled, everything, [(count - 2, FIRST)])[0][0]
    assert hit
    assert (count - 5, count - 1) in clashes(rolled, count - 2, everything)


def test_a_far_pair_clashes_through_a_path_of_many_steps():
    """The first and last of twelve panels meet: a long way round a closed loop, one panel too long."""
    lengths = [30.0, 10.0, 10.0, 10.0, 10.0, 10.0, 30.0, 30.0, 50.0, 30.0, 30.0]
    directions = ["valley", *["mountain", "valley"] * 2, "valley", "valley", "valley", "valley", "valley"]
    table = table_of(strip(lengths, directions))
    state = np.ones((1, 10), dtype=bool)
    hits = {pair for step in range(10) for pair in clashes(table, step, state)}
    far = [pair for pair in hits if pair[1] - pair[0] > 6]
    assert far, "a pair with more than five other steps between them is found"
    assert set(final_contact(table)) <= hits


def test_setting_far_pairs_aside_changes_no_answer(monkeypatch):
    """Random strips in random states: the quick bound leaves out only pairs that do not touch."""
    chance = np.random.default_rng(11)
    touched = 0
    for _ in range(6):
        directions = chance.choice(["valley", "mountain"], size=11).tolist()
        piece = strip(chance.uniform(8.0, 30.0, size=12).tolist(), directions, math.radians(chance.uniform(60, 120)))
        states = chance.random((60, 11)) < 0.7
        questions = [(step, np.nonzero(states[:, step])[0]) for step in range(11)]
        quick = blocked(table_of(piece), states, questions)
        with monkeypatch.context() as patch:
            patch.setattr(
                "foldproof.folding.contact.can_meet",
                lambda balls, middles, hinge, axis, pairs, slack: np.ones((len(hinge), len(pairs[0])), dtype=bool),
            )
            slow = blocked(table_of(piece), states, questions)
        for one, other in zip(quick, slow, strict=True):
            assert one.tolist() == other.tolist()
            touched += int(np.count_nonzero(one))
    assert touched > 100


def test_creases_that_move_together_far_apart_are_judged_alike():
    """Two folds on one step, the strip between them: as each alone when the other makes no difference."""
    directions = ["valley", "mountain"] * 5
    piece = strip([20.0] * 11, directions)
    together = dataclasses.replace(piece, together=(("fold_p1", "fold_p10"),))
    table = table_of(together)
    everything = np.ones((1, 9), dtype=bool)
    assert [bool(blocked(table, everything, [(step, FIRST)])[0][0]) for step in range(9)] == [False] * 9
    # Rolled up at the far end, the last panel comes down on one before it, whatever else moves with it.
    rolled = strip([20.0] * 8 + [20.0, 12.0, 30.0], [*directions[:7], "valley", "valley", "valley"])
    rolled = dataclasses.replace(rolled, together=(("fold_p1", "fold_p10"),))
    assert blocked(table_of(rolled), everything, [(0, FIRST)])[0][0]
