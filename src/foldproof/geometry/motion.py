"""Rigid motions as 4 x 4 matrices: ``point_world = world_from_panel @ point_panel``."""

from __future__ import annotations

import numpy as np
from numpy.typing import NDArray

Array = NDArray[np.float64]


def identity() -> Array:
    """The motion that leaves everything in place."""
    return np.eye(4)


def shift(x_mm: float, y_mm: float, z_mm: float) -> Array:
    """A move without turning."""
    matrix = np.eye(4)
    matrix[:3, 3] = (x_mm, y_mm, z_mm)
    return matrix


def turn(point: Array, direction: Array, angles_rad: Array) -> Array:
    """Turns about the line through ``point`` along the unit vector ``direction``, one for each angle.

    Right-handed (Rodrigues' formula). Shapes: (3,), (3,), (n,) to (n, 4, 4).
    """
    return turns(point[None], direction[None], angles_rad[:, None])[:, 0]


def turns(points: Array, directions: Array, angles_rad: Array) -> Array:
    """As ``turn``, about several lines at once: (k, 3), (k, 3), (n, k) to (n, k, 4, 4)."""
    cross = np.zeros((len(directions), 3, 3))
    cross[:, 2, 1], cross[:, 0, 2], cross[:, 1, 0] = directions.T
    cross -= np.swapaxes(cross, 1, 2)
    sine = np.sin(angles_rad)[..., None, None]
    versine = 1.0 - np.cos(angles_rad)[..., None, None]
    rotation = np.eye(3) + sine * cross + versine * (cross @ cross)
    motion = np.zeros((*angles_rad.shape, 4, 4))
    motion[..., :3, :3] = rotation
    motion[..., :3, 3] = points - (rotation @ points[:, :, None])[..., 0]
    motion[..., 3, 3] = 1.0
    return motion


def inverse(motion: Array) -> Array:
    """Inverse of rigid motions, shape (..., 4, 4)."""
    back = np.zeros_like(motion)
    rotation = np.swapaxes(motion[..., :3, :3], -1, -2)
    back[..., :3, :3] = rotation
    back[..., :3, 3] = -(rotation @ motion[..., :3, 3:4])[..., 0]
    back[..., 3, 3] = 1.0
    return back


def apply(motion: Array, points: Array) -> Array:
    """Moves points (n, 3) by one motion (4, 4), or by many (m, 4, 4) to (m, n, 3)."""
    moved: Array = points @ np.swapaxes(motion[..., :3, :3], -1, -2) + motion[..., None, :3, 3]
    return moved


def lift(polygon: tuple[tuple[float, float], ...]) -> Array:
    """A plane polygon as points (n, 3) in the plane z = 0."""
    flat = np.zeros((len(polygon), 3))
    flat[:, :2] = polygon
    return flat
