"""The search of orders: counts, ranks, budget, and being stopped."""

import dataclasses
import math
from itertools import pairwise

import pytest

from foldproof.folding.arrival import Rule
from foldproof.folding.layers import order_layers
from foldproof.folding.limits import FoldingLimits
from foldproof.folding.orders import KIND_COST, family_of, lay_down_laws, search_orders
from foldproof.folding.tree import grow
from foldproof.pattern.records import Crease, Panel, Piece

LIMITS = FoldingLimits()
SIDES = {
    "right": (((40.0, 0.0), (50.0, 0.0), (50.0, 40.0), (40.0, 40.0)), ((40.0, 0.0), (40.0, 40.0))),
    "left": (((-10.0, 0.0), (0.0, 0.0), (0.0, 40.0), (-10.0, 40.0)), ((0.0, 0.0), (0.0, 40.0))),
    "back": (((0.0, 40.0), (40.0, 40.0), (40.0, 50.0), (0.0, 50.0)), ((0.0, 40.0), (40.0, 40.0))),
    "front": (((0.0, -10.0), (40.0, -10.0), (40.0, 0.0), (0.0, 0.0)), ((0.0, 0.0), (40.0, 0.0))),
}


def open_tray(kinds=("wall",) * 4):
    """A base with four low walls that have nothing to do with each other: any order works."""
    base = Panel(id="base", kind="base", place="", outline=((0.0, 0.0), (40.0, 0.0), (40.0, 40.0), (0.0, 40.0)))
    panels, creases = [base], []
    for kind, (name, (outline, line)) in zip(kinds, SIDES.items(), strict=True):
        panels.append(Panel(id=name, kind=kind, place=name, outline=outline))
        creases.append(
            Crease(
                id=f"fold_{name}",
                parent="base",
                child=name,
                line=line,
                direction="valley",
                scored_face="face",
                target_rad=math.pi / 2,
                family=kind,
            )
        )
    return Piece(
        id="tray",
        blank_width_mm=60.0,
        blank_height_mm=60.0,
        root="base",
        panels=tuple(panels),
        creases=tuple(creases),
    )


def laws_of(piece):
    tree = grow(piece)
    return lay_down_laws(tree, order_layers(tree, (), 0.3), (), LIMITS)


def test_without_obstacles_every_permutation_is_counted():
    orders = search_orders(laws_of(open_tray()), LIMITS)
    assert orders.number == math.factorial(4)
    assert orders.states == 2**4
    assert orders.complete and not orders.stopped and orders.obstacles == ()


def test_a_rule_takes_out_exactly_the_orders_it_forbids():
    laws = laws_of(open_tray())
    # Step 0 may not be the last of steps 0 and 1: half of all orders are left.
    ruled = dataclasses.replace(laws, rules=(Rule(step=0, done=(0, 1), reason="asked", panels=(1, 2)),))
    assert search_orders(ruled, LIMITS).number == 12
    both = (*ruled.rules, Rule(step=1, done=(0, 1), reason="asked", panels=(1, 2)))
    none = search_orders(dataclasses.replace(laws, rules=both), LIMITS)
    assert none.number == 0 and none.complete
    assert {obstacle.reason for obstacle in none.obstacles} == {"asked"}


def test_ranks_start_with_each_family_once_and_keep_like_steps_together():
    laws = laws_of(open_tray(("wall", "wall", "flap", "flap")))
    orders = search_orders(laws, LIMITS)
    firsts = [family_of(laws.tree, order.steps[0]) for order in orders.ranked]
    assert sorted(firsts) == ["flap", "wall"]
    assert [order.cost for order in orders.ranked] == sorted(order.cost for order in orders.ranked)
    for order in orders.ranked:
        kinds = [family_of(laws.tree, step) for step in order.steps]
        assert sum(one != other for one, other in pairwise(kinds)) == 1
        assert KIND_COST < order.cost < 2 * KIND_COST + 6


def test_the_cheapest_way_round_turns_the_sheet_least():
    """Four like walls: each neighbour is a quarter turn on, opposite ones are half a turn."""
    orders = search_orders(laws_of(open_tray()), LIMITS)
    assert orders.ranked[0].cost == 3.0


def test_a_small_budget_is_admitted_and_what_is_found_is_an_order():
    laws = laws_of(open_tray())
    orders = search_orders(laws, FoldingLimits(states_budget=4))
    assert not orders.complete and 0 < orders.number < 24
    assert sorted(orders.ranked[0].steps) == [0, 1, 2, 3]


@pytest.mark.parametrize("go_on", [0, 1, 2, 3])
def test_stopped_by_the_caller_it_says_so(go_on):
    told = []

    def watch(stage, done, total):
        told.append((stage, done, total))
        return done < go_on

    orders = search_orders(laws_of(open_tray()), LIMITS, watch)
    assert orders.stopped and not orders.complete and orders.ranked == ()
    assert told == [("orders", done, 4) for done in range(go_on + 1)]


def test_the_same_piece_gives_the_same_answer():
    assert search_orders(laws_of(open_tray()), LIMITS) == search_orders(laws_of(open_tray()), LIMITS)
