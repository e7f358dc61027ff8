"""A linear programme in a few unknowns: the lowest of c x where A x <= b, by an interior point method.

Mehrotra's predictor and corrector, as in Nocedal and Wright, Numerical Optimization, chapter 14. With fewer than ten
unknowns each round solves one tiny system, so the whole takes a fraction of a millisecond.
"""

from __future__ import annotations

import numpy as np

from foldproof.geometry.plane import Array

ROUNDS = 40
CLOSE = 1e-9  # mean product of room and weight at which the point counts as lowest, in the programme's own units
STEP_BACK = 0.995  # share of the way to the nearest wall that a step goes at most
LARGEST = 1e15  # a weight beyond it belongs to walls that leave no room inside: the point so far has to do
TINY = 1e-12  # keeps the small system solvable when walls are parallel


def lowest(cost: Array, walls: Array, limits: Array) -> Array:
    """The x (d,) with the lowest ``cost`` (d,) @ x where ``walls`` (r, d) @ x <= ``limits`` (r,).

    The walls must enclose x on all sides and leave room inside; each row should be of the order of one. The answer
    is near the lowest, good to about six digits, and may pass a wall by as little: who needs more checks it.
    """
    x = np.zeros(len(cost))
    weights = np.ones(len(limits))
    room = np.maximum(limits - walls @ x, 1.0)
    tiny = TINY * np.eye(len(cost))
    for _ in range(ROUNDS):
        dual = walls.T @ weights + cost
        primal = walls @ x + room - limits
        mean = float(room @ weights) / len(limits)
        if mean < CLOSE and np.abs(primal).max() < CLOSE and np.abs(dual).max() < CLOSE:
            break
        if weights.max() > LARGEST:
            break
        share = weights / room
        system = walls.T @ (walls * share[:, None]) + tiny
        try:
            inverse: Array = np.linalg.inv(system).astype(np.float64, copy=False)
        except np.linalg.LinAlgError:
            break
        product = room * weights
        step_x, step_room, step_weights = _step(inverse, walls, room, weights, dual, primal, product)
        ahead = min(_way(room, step_room), _way(weights, step_weights))
        after = float((room + ahead * step_room) @ (weights + ahead * step_weights)) / len(limits)
        target = mean * (after / mean) ** 3
        product = product + step_room * step_weights - target
        step_x, step_room, step_weights = _step(inverse, walls, room, weights, dual, primal, product)
        along, along_weights = STEP_BACK * _way(room, step_room), STEP_BACK * _way(weights, step_weights)
        x = x + along * step_x
        room = room + along * step_room
        weights = weights + along_weights * step_weights
    return x


def _step(
    inverse: Array, walls: Array, room: Array, weights: Array, dual: Array, primal: Array, product: Array
) -> tuple[Array, Array, Array]:
    step_x = inverse @ (-dual - walls.T @ ((weights * primal - product) / room))
    step_room = -primal - walls @ step_x
    step_weights = -(product + weights * step_room) / room
    return step_x, step_room, step_weights


def _way(values: Array, step: Array) -> float:
    """How far along a step positive values stay positive: 1 at most."""
    steepest = float((step / values).min())
    return 1.0 if steepest >= -1.0 else -1.0 / steepest
