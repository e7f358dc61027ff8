"""Trees and poses: who hangs on whom, which way folds go, where panels end."""

import dataclasses
import math

import numpy as np
import pytest

from foldproof.folding.contact import path_steps
from foldproof.folding.tree import between, folded, grow, pose
from foldproof.geometry import motion
from foldproof.pattern.records import Crease, Panel, Piece

QUARTER, HALF = math.pi / 2, math.pi


def square(name, x, y, side=10.0):
    return Panel(id=name, kind="wall", place="", outline=((x, y), (x + side, y), (x + side, y + side), (x, y + side)))


def crease(parent, child, line, target_rad=QUARTER, direction="valley"):
    return Crease(
        id=f"fold_{child}",
        parent=parent,
        child=child,
        line=line,
        direction=direction,
        scored_face="face",
        target_rad=target_rad,
        family="walls",
    )


# A cross of five squares and a lid on the right one.
CROSS = Piece(
    id="cross",
    blank_width_mm=40.0,
    blank_height_mm=30.0,
    root="base",
    panels=(
        square("lid", 30.0, 10.0),
        square("right", 20.0, 10.0),
        square("base", 10.0, 10.0),
        square("left", 0.0, 10.0),
        square("back", 10.0, 20.0),
        square("front", 10.0, 0.0),
    ),
    creases=(
        crease("right", "lid", ((30.0, 10.0), (30.0, 20.0))),
        crease("base", "right", ((20.0, 20.0), (20.0, 10.0))),  # drawn the other way round: makes no difference
        crease("base", "left", ((10.0, 10.0), (10.0, 20.0))),
        crease("base", "back", ((10.0, 20.0), (20.0, 20.0))),
        crease("base", "front", ((10.0, 10.0), (20.0, 10.0))),
    ),
)


def corner(tree, world, name, number):
    moved = motion.apply(world[tree.index(name)], motion.lift((tree.outline(tree.index(name))[number],)))
    return [round(float(value), 9) for value in moved[0]]


def test_parents_come_before_their_children():
    tree = grow(CROSS)
    assert tree.panels[0] == "base" and tree.parent[0] == -1
    assert all(tree.parent[k] < k for k in range(1, 6))
    lid, right = tree.index("lid"), tree.index("right")
    assert tree.parent[lid] == right
    assert tree.path[lid] == (1, 0), "nearest the root first"


def test_a_cube_folds_up_on_the_face_side():
    tree = grow(CROSS)
    world = folded(tree, [0.0] * 6)
    assert corner(tree, world, "right", 1) == [20.0, 10.0, 10.0]
    assert corner(tree, world, "left", 0) == [10.0, 10.0, 10.0]
    assert corner(tree, world, "back", 3) == [10.0, 20.0, 10.0]
    assert corner(tree, world, "lid", 1) == [10.0, 10.0, 10.0]
    # All faces look into the cube.
    middle = np.array([15.0, 15.0, 5.0])
    for panel in range(6):
        at = motion.apply(world[panel], motion.lift((tree.outline(panel)[0],)))[0]
        assert float(world[panel, :3, 2] @ (middle - at)) > 0


def test_mountains_fold_down():
    creases = tuple(dataclasses.replace(c, direction="mountain") for c in CROSS.creases)
    tree = grow(dataclasses.replace(CROSS, creases=creases))
    assert corner(tree, folded(tree, [0.0] * 6), "lid", 1) == [10.0, 10.0, -10.0]


def test_a_pose_between_flat_and_folded():
    tree = grow(CROSS)
    states = np.zeros((2, 5))
    states[1, 1] = 1.0 / 3.0  # the right wall at 30 degrees, its lid straight on
    flat, raised = pose(tree, states, [0.0] * 6)
    assert corner(tree, flat, "lid", 1) == [40.0, 10.0, 0.0]
    far = 20.0 + 20.0 * math.cos(math.radians(30.0))
    assert corner(tree, raised, "lid", 1) == pytest.approx([far, 10.0, 10.0])


def test_a_shift_moves_along_the_panels_own_normal_as_the_fold_closes():
    tree = grow(CROSS)
    shifts = [0.0] * 6
    shifts[tree.index("right")] = 0.5
    world = folded(tree, shifts)
    assert corner(tree, world, "right", 1) == [19.5, 10.0, 10.0]
    assert corner(tree, world, "lid", 0) == [19.5, 10.0, 10.0], "what hangs on it comes along"
    half = pose(tree, np.array([[0.0, 0.5, 0.0, 0.0, 0.0]]), shifts)[0]
    normal = half[tree.index("right"), :3, 2]
    moved = half[tree.index("right")] @ np.array([20.0, 10.0, 0.0, 1.0])
    assert moved[:3] == pytest.approx(np.array([20.0, 10.0, 0.0]) + 0.25 * normal)


def test_between_goes_up_to_the_common_panel_and_down():
    tree = grow(CROSS)
    assert between(tree, tree.index("lid"), tree.index("left")) == ((0, 1), (2,))
    assert between(tree, tree.index("base"), tree.index("lid")) == ((), (1, 0))
    assert between(tree, 3, 3) == ((), ())
    assert path_steps(tree, tree.index("left"), tree.index("lid")) == (0, 1, 2)


def test_creases_that_move_together_are_one_step():
    tree = grow(dataclasses.replace(CROSS, together=(("fold_left", "fold_right"),)))
    assert tree.steps == ((0,), (1, 2), (3,), (4,))
    assert tree.step_of_crease == (0, 1, 1, 2, 3)
    assert path_steps(tree, tree.index("left"), tree.index("right")) == (1,)


def test_a_panel_that_hangs_on_nothing_is_our_own_mistake():
    with pytest.raises(AssertionError):
        grow(dataclasses.replace(CROSS, creases=CROSS.creases[1:]))
