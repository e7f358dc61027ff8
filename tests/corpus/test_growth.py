"""Trees of many panels: an answer within the budget of states, and the truth about whether it is all."""

import dataclasses

import pytest

from foldproof.folding.layers import order_layers
from foldproof.folding.limits import FoldingLimits
from foldproof.folding.orders import lay_down_laws, search_orders
from foldproof.folding.tree import grow


def searched(piece, budget):
    limits = FoldingLimits(states_budget=budget)
    tree = grow(piece)
    laws = lay_down_laws(tree, order_layers(tree, (), 0.27), (), limits)
    return tree, search_orders(laws, limits)


def test_a_small_tree_is_searched_to_its_end(comb):
    tree, orders = searched(comb(13), 20000)
    assert orders.complete and orders.number > 0
    assert orders.states <= 2 ** len(tree.steps)


@pytest.mark.parametrize("count", [1, 2, 3])
def test_trees_with_hardly_any_panels(comb, count):
    tree, orders = searched(comb(count), 20000)
    assert len(tree.panels) == count
    assert orders.complete and orders.number == (1, 1, 2)[count - 1]


def test_sixty_panels_stay_within_the_budget_and_say_that_not_all_was_seen(comb):
    budget = 1500
    tree, orders = searched(comb(60), budget)
    assert len(tree.panels) == 60
    assert orders.states <= budget
    assert not orders.complete, "2 to the 59 states are more than were looked at"
    assert orders.number > 0
    for order in orders.ranked:
        assert sorted(order.steps) == list(range(59))


def test_a_strip_with_more_folds_in_a_row_than_a_word_has_bits(comb):
    """Only the strip, without its wings: a path of sixty-four steps."""
    whole = comb(3 * 65)
    strip = dataclasses.replace(
        whole,
        panels=tuple(panel for panel in whole.panels if panel.kind == "strip"),
        creases=tuple(crease for crease in whole.creases if crease.family == "strip"),
    )
    tree, orders = searched(strip, 130)
    assert len(tree.path[-1]) == 64
    assert not orders.complete
    assert orders.states <= 130
    assert orders.number > 0
