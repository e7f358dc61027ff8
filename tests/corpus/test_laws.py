"""Glue that grips, fingers that have to reach, lids that have to pass, layers that cannot be."""

import dataclasses
import math

import pytest

from foldproof.folding.arrival import Rule
from foldproof.folding.joints import FoldedPiece, joint_clashes
from foldproof.folding.layers import order_layers
from foldproof.folding.limits import FoldingLimits
from foldproof.folding.orders import SLIDING_GLUE_COST, closed_by, search_orders
from foldproof.folding.tree import grow
from foldproof.pattern.records import Crease, FaceRef, Join, Panel, Piece

PLAIN = {"construction": "plain tray", "base_length": "4", "wall_height": "1"}
NARROW = {"construction": "plain tray", "base_length": "5/8", "wall_height": "4"}
CORNER = ("tab_back_right", "wall_back", "wall_right")


def folded(pieces, **values):
    assembly = pieces.tray(**values)
    return pieces.fold(assembly.pieces[0], assembly.joins, 0.27)


def forced_to_end_with(tray, panels, last):
    """The search with only those orders left in which ``last`` is folded after the other panels."""
    steps = tuple(sorted(tray.step[panel] for panel in panels))
    asked = tuple(Rule(step=tray.step[p], done=steps, reason="asked", panels=()) for p in panels if p != last)
    return search_orders(dataclasses.replace(tray.laws, rules=tray.laws.rules + asked), tray.limits)


@pytest.mark.parametrize("values", [PLAIN, {}], ids=["plain", "double-wall"])
def test_a_tab_slides_under_wet_glue_at_a_cost_and_never_under_hot_glue(pieces, values):
    wet, hot = folded(pieces, **values), folded(pieces, **values, glue="hot glue")
    assert 0 < hot.orders.number < wet.orders.number
    # The back wall folded last carries its tab along the side wall.
    sliding = forced_to_end_with(wet, CORNER, "wall_back")
    assert sliding.number > 0
    assert sliding.ranked[0].cost >= wet.orders.ranked[0].cost + SLIDING_GLUE_COST
    assert forced_to_end_with(hot, CORNER, "wall_back").number == 0
    # The side wall folded last closes on the tab face to face: either glue will do.
    assert forced_to_end_with(hot, CORNER, "wall_right").number > 0


@pytest.mark.parametrize("glue", ["hot glue", "tape"])
def test_no_ranked_order_slides_a_face_that_grips_at_once(pieces, glue):
    tray = folded(pieces, **PLAIN, glue=glue)
    for ranked in tray.orders.ranked:
        for position in range(len(ranked.steps)):
            assert all(closing.face_on for closing in closed_by(tray.orders, ranked.steps, position))


def test_wet_glue_prefers_to_close_face_on(pieces):
    tray = folded(pieces)
    best = tray.orders.ranked[0].steps
    closed = [closing for k in range(len(best)) for closing in closed_by(tray.orders, best, k)]
    assert len({closing.join for closing in closed}) == len(tray.joins)
    assert all(closing.face_on for closing in closed)


def test_a_deep_narrow_box_keeps_fingers_out(pieces):
    tray = folded(pieces, **NARROW)
    assert tray.orders.number == 0 and tray.orders.complete
    assert "finger_reach" in {obstacle.reason for obstacle in tray.orders.obstacles}
    # With finer fingers the very same piece can be glued, and so can a wider box by any hand.
    assembly = pieces.tray(**NARROW)
    fine = pieces.fold(assembly.pieces[0], assembly.joins, 0.27, FoldingLimits(finger_mm=6.0))
    assert fine.orders.number > 0
    assert folded(pieces, **NARROW | {"base_length": "1"}).orders.number > 0


def lid_clashes(pieces, thickness_mm, **values):
    """Clashes of a lid on its way down to its tray."""
    assembly = pieces.tray(**PLAIN, lid="from a larger piece", **values)
    made = {}
    for piece in assembly.pieces:
        tree = grow(piece)
        made[piece.id] = FoldedPiece(tree=tree, layers=order_layers(tree, assembly.joins, thickness_mm))
    (joint,) = assembly.joints
    return joint_clashes(assembly, made, joint, FoldingLimits())


def test_a_lid_without_ease_runs_into_its_tray_on_the_way(pieces):
    clashes = lid_clashes(pieces, 0.27, lid_ease="0")
    assert clashes
    assert {clash.fixed_panel.split("_")[0] for clash in clashes} <= {"wall", "tab"}
    # It strikes as soon as it comes down over the rim: about a wall's height before its place.
    assert max(clash.away_mm for clash in clashes) > 20.0


@pytest.mark.parametrize("ease", ["1/16", "1/8", "1/4"])
def test_a_lid_with_the_usual_ease_passes(pieces, ease):
    assert lid_clashes(pieces, 0.27, lid_ease=ease) == ()


def test_thick_card_needs_more_ease(pieces):
    assert lid_clashes(pieces, 0.5, lid_ease="1/16")
    assert lid_clashes(pieces, 0.5, lid_ease="1/8") == ()


def pinwheel():
    """A square base with four flaps, each lying on the next one: no sheet of card has layers like that."""
    side, long, wide = 40.0, 30.0, 30.0
    corners = ((0.0, 0.0), (side, 0.0), (side, side), (0.0, side))
    panels = [Panel(id="base", kind="base", place="", outline=corners)]
    creases = []
    for k, (x, y) in enumerate(corners):
        ux, uy = (1.0, 0.0) if k == 0 else (0.0, 1.0) if k == 1 else (-1.0, 0.0) if k == 2 else (0.0, -1.0)
        outline = ((x, y), (x + uy * long, y - ux * long))
        far = (x + uy * long + ux * wide, y - ux * long + uy * wide)
        near = (x + ux * wide, y + uy * wide)
        name = f"flap{k}"
        panels.append(Panel(id=name, kind="flap", place=str(k), outline=(*outline, far, near)))
        creases.append(
            Crease(
                id=f"fold_{name}",
                parent="base",
                child=name,
                line=((x, y), near),
                direction="valley",
                scored_face="face",
                target_rad=math.pi,
                family="flaps",
            )
        )
    return Piece(
        id="pinwheel",
        blank_width_mm=100.0,
        blank_height_mm=100.0,
        root="base",
        panels=tuple(panels),
        creases=tuple(creases),
    )


def laid_on(lower, upper):
    area = ((10.0, 10.0), (20.0, 10.0), (20.0, 20.0), (10.0, 20.0))
    return Join(
        id=f"{lower}+{upper}",
        a=FaceRef(piece="pinwheel", panel=lower, side="back"),
        b=FaceRef(piece="pinwheel", panel=upper, side="face"),
        area=area,
        landing=area,
        adhesive="wet_glue",
    )


def test_layers_that_go_round_in_a_ring_are_a_contradiction():
    tree = grow(pinwheel())
    ring = tuple(laid_on(f"flap{k}", f"flap{(k + 1) % 4}") for k in range(4))
    assert order_layers(tree, ring, 0.3).contradictions != ()


def test_layers_that_do_not_go_round_are_none():
    tree = grow(pinwheel())
    layers = order_layers(tree, tuple(laid_on(f"flap{k}", f"flap{k + 1}") for k in range(3)), 0.3)
    assert layers.contradictions == ()
    height = dict(zip(tree.panels, layers.layer, strict=True))
    assert [height[f"flap{k}"] for k in range(4)] == [1, 2, 3, 4]


def test_two_faces_laid_on_each_other_both_ways_round_are_a_contradiction():
    tree = grow(pinwheel())
    both = (laid_on("flap0", "flap1"), laid_on("flap1", "flap0"))
    assert order_layers(tree, both, 0.3).contradictions == (("flap0", "flap1"),)
