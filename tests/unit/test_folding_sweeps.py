"""Balls that turn about a line: what is set aside can meet at no angle."""

import numpy as np

from foldproof.folding.sweeps import balls_round, can_meet, middles_of
from foldproof.geometry import motion

SQUARE = ((0.0, 0.0), (10.0, 0.0), (10.0, 10.0), (0.0, 10.0))


def test_a_ball_holds_its_panel_with_its_thickness():
    balls = balls_round([SQUARE], 0.4)
    assert balls.middle.tolist() == [[5.0, 5.0]]
    assert np.isclose(balls.radius_mm[0], np.hypot(5.0, 5.0) + 0.2)


def test_middles_move_with_their_panels():
    balls = balls_round([SQUARE, SQUARE], 0.4)
    world = np.stack([motion.identity(), motion.shift(1.0, 2.0, 3.0)])[None]
    assert middles_of(balls, world).tolist() == [[[5.0, 5.0, 0.0], [6.0, 7.0, 3.0]]]


def test_pairs_set_aside_stay_apart_at_every_angle():
    """Against the definition: a whole turn in small steps."""
    chance = np.random.default_rng(2)
    balls = balls_round([SQUARE, SQUARE], 0.4)
    angles = np.radians(np.arange(0.0, 360.0, 1.0))
    kept, aside = 0, 0
    for _ in range(200):
        middles = chance.uniform(-40.0, 40.0, size=(1, 2, 3))
        start, direction = chance.uniform(-20.0, 20.0, size=3), chance.normal(size=3)
        direction /= np.linalg.norm(direction)
        pair = (np.array([0]), np.array([1]))
        meets = can_meet(balls, middles, motion.identity()[None], (start, direction, 1.0), pair, 0.0)[0, 0]
        turned = motion.apply(motion.turn(start, direction, angles), middles[0, 1:])[:, 0]
        nearest = np.linalg.norm(turned - middles[0, 0], axis=1).min()
        if meets:
            kept += 1
            assert nearest < balls.radius_mm.sum() + 1.0, "a degree moves a ball less than a millimetre here"
        else:
            aside += 1
            assert nearest >= balls.radius_mm.sum()
    assert kept > 20 and aside > 20
