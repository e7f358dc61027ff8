"""Rigid motions: turns, shifts, inverses."""

import numpy as np
import pytest

from foldproof.geometry import motion

X, Y, Z = np.eye(3)


def test_a_turn_is_right_handed_about_its_line():
    quarter = motion.turn(np.array([1.0, 0.0, 0.0]), Z, np.array([np.pi / 2]))[0]
    points = np.array([[1.0, 0.0, 0.0], [2.0, 0.0, 0.0], [1.0, 0.0, 5.0]])
    assert motion.apply(quarter, points) == pytest.approx(np.array([[1, 0, 0], [1, 1, 0], [1, 0, 5.0]]))


def test_many_angles_at_once_are_many_turns():
    angles = np.radians([0.0, 30.0, 180.0])
    together = motion.turn(np.zeros(3), X, angles)
    assert together.shape == (3, 4, 4)
    for angle, turned in zip(angles, together, strict=True):
        assert turned == pytest.approx(motion.turn(np.zeros(3), X, np.array([angle]))[0])


def test_turns_keep_lengths_and_do_not_mirror():
    axis = np.array([1.0, 2.0, -2.0]) / 3.0
    rotation = motion.turn(np.array([4.0, 5.0, 6.0]), axis, np.array([1.1]))[0, :3, :3]
    assert rotation @ rotation.T == pytest.approx(np.eye(3))
    assert np.linalg.det(rotation) == pytest.approx(1.0)
    assert rotation @ axis == pytest.approx(axis)


def test_an_inverse_takes_back():
    moved = motion.shift(1.0, -2.0, 3.0) @ motion.turn(np.array([5.0, 0.0, 1.0]), Y, np.array([0.7]))[0]
    assert motion.inverse(moved) @ moved == pytest.approx(np.eye(4))
    stack = np.stack([moved, moved @ moved])
    assert motion.inverse(stack) @ stack == pytest.approx(np.stack([np.eye(4)] * 2))


def test_apply_takes_one_motion_or_many():
    points = np.array([[0.0, 0.0, 0.0], [1.0, 2.0, 3.0]])
    one = motion.shift(1.0, 1.0, 1.0)
    assert motion.apply(one, points).shape == (2, 3)
    many = motion.apply(np.stack([motion.identity(), one]), points)
    assert many.shape == (2, 2, 3)
    assert many[1] == pytest.approx(points + 1.0)


def test_lift_lays_a_polygon_in_the_plane():
    assert motion.lift(((1.0, 2.0), (3.0, 4.0))).tolist() == [[1.0, 2.0, 0.0], [3.0, 4.0, 0.0]]
