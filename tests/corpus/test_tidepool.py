"""The double-wall tray that folding was learnt on, in thin, usual and thick card, and the traps it set."""

import dataclasses

import pytest

from foldproof.folding.arrival import Rule
from foldproof.folding.closure import fit_joins
from foldproof.folding.contact import final_contact, start_table
from foldproof.folding.layers import order_layers
from foldproof.folding.limits import FoldingLimits
from foldproof.folding.orders import search_orders
from foldproof.folding.tree import grow

THICKNESSES_MM = (0.2, 0.27, 0.4)
EVERY_THICKNESS = pytest.mark.parametrize("thickness_mm", THICKNESSES_MM)
SIDES = ("right", "left")


@pytest.fixture(scope="module")
def folded_trays(pieces):
    assembly = pieces.tray()
    return {t: pieces.fold(assembly.pieces[0], assembly.joins, t) for t in THICKNESSES_MM}


def orders_with(tray, rules):
    """How many orders there are when some are ruled out besides."""
    laws = dataclasses.replace(tray.laws, rules=tray.laws.rules + tuple(rules))
    return search_orders(laws, tray.limits).number


def never_last(tray, panels, kept):
    """Rules that leave only orders in which ``kept`` is the last of ``panels`` to be folded."""
    steps = tuple(sorted(tray.step[panel] for panel in panels))
    return [Rule(step=tray.step[p], done=steps, reason="asked", panels=()) for p in panels if p != kept]


def not_last(tray, panels, barred):
    """A rule that leaves only orders in which ``barred`` is not the last of ``panels`` to be folded."""
    steps = tuple(sorted(tray.step[panel] for panel in panels))
    return [Rule(step=tray.step[barred], done=steps, reason="asked", panels=())]


@EVERY_THICKNESS
def test_it_closes_in_its_layers_and_nothing_touches(folded_trays, thickness_mm):
    tray = folded_trays[thickness_mm]
    fits = fit_joins(tray.tree, tray.layers, tray.joins)
    assert len(fits) == len(tray.joins) == 10
    assert max(fit.residual_mm for fit in fits) < 1e-9
    assert all(fit.facing for fit in fits)
    assert max(fit.overhang_mm for fit in fits) < 1e-9
    assert final_contact(tray.laws.contact) == ()
    assert tray.layers.contradictions == ()


@EVERY_THICKNESS
def test_the_layers_are_wall_tab_inner_wall(folded_trays, thickness_mm):
    tray = folded_trays[thickness_mm]
    shifts = {name: tray.layers.shifts_mm[k] / thickness_mm for k, name in enumerate(tray.tree.panels)}
    for side in SIDES:
        assert shifts[f"wall_{side}"] == pytest.approx(0.0)
        assert [shifts[f"tab_{along}_{side}"] for along in ("back", "front")] == pytest.approx([1.0, 1.0])
        assert shifts[f"inner_{side}"] == pytest.approx(-2.0)
    assert [shifts[f"inner_{place}"] for place in ("back", "front")] == pytest.approx([-1.0, -1.0])


def test_the_orders_are_found_and_alike_in_every_thickness(folded_trays):
    numbers = {t: tray.orders.number for t, tray in folded_trays.items()}
    assert all(tray.orders.complete and not tray.orders.stopped for tray in folded_trays.values())
    assert len(set(numbers.values())) == 1, numbers
    assert numbers[0.27] > 1_000_000
    assert {tray.orders.states for tray in folded_trays.values()} == {folded_trays[0.27].orders.states}


@EVERY_THICKNESS
@pytest.mark.parametrize("side", SIDES)
def test_an_inner_wall_folded_before_the_tabs_it_covers_is_in_no_order(folded_trays, thickness_mm, side):
    tray = folded_trays[thickness_mm]
    inner = f"inner_{side}"
    for along in ("back", "front"):
        covered = (f"tab_{along}_{side}", f"wall_{along}", f"wall_{side}", inner)
        assert orders_with(tray, not_last(tray, covered, inner)) == 0
    # Nothing keeps it from being folded before a wall it has nothing to do with.
    other = "left" if side == "right" else "right"
    assert orders_with(tray, not_last(tray, (inner, f"wall_{other}"), inner)) > 0


@EVERY_THICKNESS
@pytest.mark.parametrize("side", SIDES)
@pytest.mark.parametrize("along", ["back", "front"])
def test_a_tab_folded_after_both_its_walls_stand_is_in_no_order(folded_trays, thickness_mm, side, along):
    """It would arrive on the outside of the side wall."""
    tray = folded_trays[thickness_mm]
    tab, corner = f"tab_{along}_{side}", (f"tab_{along}_{side}", f"wall_{along}", f"wall_{side}")
    assert orders_with(tray, never_last(tray, corner, tab)) == 0
    assert orders_with(tray, never_last(tray, corner, f"wall_{side}")) > 0


@EVERY_THICKNESS
def test_every_ranked_order_is_made_of_all_steps_and_obeys(folded_trays, thickness_mm):
    tray = folded_trays[thickness_mm]
    assert tray.orders.ranked
    costs = [order.cost for order in tray.orders.ranked]
    assert costs == sorted(costs)
    for order in tray.orders.ranked:
        assert sorted(order.steps) == list(range(len(tray.tree.steps)))
        at = {panel: order.steps.index(step) for panel, step in tray.step.items()}
        for side in SIDES:
            for along in ("back", "front"):
                assert at[f"tab_{along}_{side}"] < max(at[f"wall_{along}"], at[f"wall_{side}"])
                assert at[f"inner_{side}"] > at[f"tab_{along}_{side}"]


@EVERY_THICKNESS
def test_trap_without_layers_the_finished_tray_runs_into_itself(pieces, thickness_mm):
    assembly = pieces.tray()
    tree = grow(assembly.pieces[0])
    layers = order_layers(tree, assembly.joins, thickness_mm)
    flat = dataclasses.replace(layers, shifts_mm=(0.0,) * len(tree.panels))
    limits = FoldingLimits()
    touching = final_contact(start_table(tree, flat, limits))
    named = {(tree.panels[a], tree.panels[b]) for a, b in touching}
    assert ("wall_right", "tab_back_right") in named
    assert final_contact(start_table(tree, layers, limits)) == ()


@EVERY_THICKNESS
def test_trap_coarse_samples_and_no_rules_accept_orders_that_do_not_fold(pieces, folded_trays, thickness_mm):
    assembly = pieces.tray()
    coarse = FoldingLimits(finest_step_deg=5.0)
    tray = pieces.fold(assembly.pieces[0], assembly.joins, thickness_mm, coarse, search=False)
    laws = dataclasses.replace(tray.laws, rules=())
    assert search_orders(laws, coarse).number > folded_trays[thickness_mm].orders.number


@EVERY_THICKNESS
def test_with_the_exact_rules_coarse_samples_change_nothing(pieces, folded_trays, thickness_mm):
    assembly = pieces.tray()
    coarse = FoldingLimits(even_step_deg=10.0, finest_step_deg=0.5)
    tray = pieces.fold(assembly.pieces[0], assembly.joins, thickness_mm, coarse)
    assert tray.orders.number == folded_trays[thickness_mm].orders.number


@EVERY_THICKNESS
def test_finer_samples_change_nothing(pieces, folded_trays, thickness_mm):
    assembly = pieces.tray()
    fine = FoldingLimits(even_step_deg=1.0, finest_step_deg=0.01)
    tray = pieces.fold(assembly.pieces[0], assembly.joins, thickness_mm, fine)
    assert tray.orders.number == folded_trays[thickness_mm].orders.number


def test_a_tab_folded_to_the_outside_does_not_close(pieces):
    """A mountain fold where a valley belongs: the join is missed by far, and the finding's number says so."""
    assembly = pieces.tray()
    piece = assembly.pieces[0]
    wrong = tuple(
        dataclasses.replace(crease, direction="mountain") if crease.child == "tab_back_right" else crease
        for crease in piece.creases
    )
    tray = pieces.fold(dataclasses.replace(piece, creases=wrong), assembly.joins, 0.27, search=False)
    fits = {fit.join: fit for fit in fit_joins(tray.tree, tray.layers, tray.joins)}
    assert fits["wall_right+tab_back_right"].residual_mm > 10.0
    assert fits["wall_right+tab_front_right"].residual_mm < 1e-9
