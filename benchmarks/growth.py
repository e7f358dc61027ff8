"""How the search grows with the number of panels."""

from __future__ import annotations

from collections.abc import Iterator
from functools import partial

from benchmarks.table import milliseconds, timed
from benchmarks.trees import comb
from foldproof.folding.layers import order_layers
from foldproof.folding.limits import FoldingLimits
from foldproof.folding.orders import Orders, lay_down_laws, search_orders
from foldproof.folding.tree import grow

PANELS = (10, 20, 30, 40, 60, 80, 100)
BUDGET = 2000  # states; small, so that the figure is of growth and not of patience
THICKNESS_MM = 0.27


def growth_rows() -> Iterator[tuple[str, ...]]:
    """Layers, rules, contact and orders of a pleated strip, one row for each number of panels."""
    for count in PANELS:
        orders, seconds = timed(partial(searched, count))
        number = f"{orders.number:,}" if orders.number < 10**9 else f"{orders.number:.1e}"
        yield (str(count), milliseconds(seconds), f"{orders.states:,}", number, "yes" if orders.complete else "no")


def searched(panel_count: int) -> Orders:
    """The orders of one strip, within the budget."""
    limits = FoldingLimits(states_budget=BUDGET)
    tree = grow(comb(panel_count))
    orders = search_orders(lay_down_laws(tree, order_layers(tree, (), THICKNESS_MM), (), limits), limits)
    assert orders.states <= BUDGET + 1, "the budget is kept"
    return orders
