"""Do two thin plates touch, and how deep? Batched separating axes over convex prisms.

Two convex bodies are apart exactly when some axis separates them; for polytopes the face normals and the cross
products of edges suffice, and the least overlap over these axes is the penetration depth
(Gottschalk, Lin and Manocha, "OBBTree", SIGGRAPH 1996, section 5, for boxes; the same argument for prisms).
"""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass

import numpy as np
from numpy.typing import NDArray

from foldproof.geometry.plane import Polygon, anticlockwise, convex_parts, inradius, inset

Array = NDArray[np.float64]
Index = NDArray[np.int64]

DRAW_IN_SHARE = 0.45  # of the largest disc inside: a narrow strip is thinned, never drawn in to nothing
PARALLEL_EDGES = 1e-6  # cross products of unit edges shorter than this give no direction
SAME_DIRECTION = 1.0 - 1e-9  # cosine; two edges of a convex part that give the same axis


@dataclass(frozen=True, slots=True, kw_only=True)
class Plates:
    """Convex parts of panels as prisms about the plane z = 0 of their flat frames.

    ``corners`` (parts, k, 2) is padded by repeating the last corner, ``edges`` (parts, e, 2) holds the unit
    directions of edges without repeats, padded with zeros, ``middle`` and ``radius`` (parts,) a bounding ball.
    ``first`` gives for each panel the range of its parts.
    """

    corners: Array
    edges: Array
    middle: Array
    radius: Array
    half_thickness_mm: float
    first: tuple[int, ...]


def make_plates(outlines: Sequence[Polygon], thickness_mm: float, draw_in_mm: float, share: float) -> Plates:
    """Prisms ``share`` of the thickness thick, with outlines drawn in by ``draw_in_mm``."""
    shapes: list[Polygon] = []
    first = [0]
    for outline in outlines:
        distance = min(draw_in_mm, DRAW_IN_SHARE * inradius(outline)) if draw_in_mm > 0 else 0.0
        for smaller in inset(outline, distance) if distance > 0 else (anticlockwise(outline),):
            shapes.extend(convex_parts(smaller))
        first.append(len(shapes))
    most = max((len(shape) for shape in shapes), default=1)
    corners = np.array([[*shape, *[shape[-1]] * (most - len(shape))] for shape in shapes], dtype=float)
    corners = corners.reshape(-1, most, 2)
    directions = [_edge_directions(shape) for shape in shapes]
    widest = max((len(d) for d in directions), default=1)
    edges = np.zeros((len(shapes), widest, 2))
    for row, found in enumerate(directions):
        edges[row, : len(found)] = found
    middle = 0.5 * (corners.min(axis=1) + corners.max(axis=1))
    radius = np.linalg.norm(corners - middle[:, None], axis=2).max(axis=1) + 0.5 * share * thickness_mm
    return Plates(
        corners=corners,
        edges=edges,
        middle=middle,
        radius=radius,
        half_thickness_mm=0.5 * share * thickness_mm,
        first=tuple(first),
    )


def _edge_directions(shape: Polygon) -> list[Array]:
    points = np.asarray(shape)
    kept: list[Array] = []
    for edge in np.roll(points, -1, axis=0) - points:
        unit = edge / np.linalg.norm(edge)
        if all(abs(float(unit @ other)) < SAME_DIRECTION for other in kept):
            kept.append(unit)
    return kept


def touching(plates: Plates, one: Index, other: Index, one_from_other: Array, limit_mm: float) -> NDArray[np.bool_]:
    """Which pairs go into each other by more than ``limit_mm``: parts (n,), (n,), motions (n, 4, 4) to (n,)."""
    hit = np.zeros(len(one), dtype=bool)
    near = np.nonzero(_balls_meet(plates, one, other, one_from_other))[0]
    if len(near):
        hit[near] = depth(plates, one[near], other[near], one_from_other[near], limit_mm) > limit_mm
    return hit


def _balls_meet(plates: Plates, one: Index, other: Index, one_from_other: Array) -> NDArray[np.bool_]:
    seen = np.einsum("nij,nj->ni", one_from_other[:, :3, :2], plates.middle[other]) + one_from_other[:, :3, 3]
    seen[:, :2] -= plates.middle[one]
    apart = plates.radius[one] + plates.radius[other]
    meet: NDArray[np.bool_] = np.einsum("ni,ni->n", seen, seen) < apart * apart
    return meet


def depth(plates: Plates, one: Index, other: Index, one_from_other: Array, enough_mm: float) -> Array:
    """Penetration depth in mm, shape (n,); at or below ``enough_mm`` any figure not above the true depth's bound.

    Exact where the answer exceeds ``enough_mm``: an axis that shows less ends the question early.
    """
    found = np.full(len(one), np.inf)
    alive = np.arange(len(one))
    for axes_of in (_flat_axes, _side_axes, _edge_axes):
        a, b, motions = one[alive], other[alive], one_from_other[alive]
        found[alive] = np.minimum(found[alive], axes_of(plates, a, b, motions))
        alive = alive[found[alive] > enough_mm]
        if not len(alive):
            break
    return found


def _world_corners(plates: Plates, parts: Index, motions: Array) -> Array:
    turned = plates.corners[parts] @ np.swapaxes(motions[:, :3, :2], 1, 2)
    moved: Array = turned + motions[:, None, :3, 3]
    return moved


def _flat_axes(plates: Plates, one: Index, other: Index, motions: Array) -> Array:
    """Overlap along the two plate normals."""
    half = plates.half_thickness_mm
    normal = motions[:, :3, 2]
    heights = np.einsum("nkj,nj->nk", plates.corners[other], motions[:, 2, :2]) + motions[:, 2, 3:4]
    first = _overlap(heights, half * (1.0 + np.abs(normal[:, 2])))
    distances = np.einsum("nkj,nj->nk", plates.corners[one], normal[:, :2])
    distances -= np.einsum("nj,nj->n", motions[:, :3, 3], normal)[:, None]
    second = _overlap(distances, half * (1.0 + np.abs(normal[:, 2])))
    return np.minimum(first, second)


def _overlap(heights: Array, reach: Array) -> Array:
    """Least move that clears an interval of heights from (-reach, reach)."""
    least: Array = np.minimum(heights.max(axis=1), -heights.min(axis=1)) + reach
    return least


def _side_axes(plates: Plates, one: Index, other: Index, motions: Array) -> Array:
    """Overlap along the normals of the narrow side faces, of the first plate and then of the second."""
    corners_one = np.concatenate([plates.corners[one], np.zeros((len(one), plates.corners.shape[1], 1))], axis=2)
    corners_other = _world_corners(plates, other, motions)
    edges_one = plates.edges[one]
    across_one = np.stack([edges_one[..., 1], -edges_one[..., 0], np.zeros(edges_one.shape[:2])], axis=2)
    edges_other = plates.edges[other]
    flat_other = np.stack([edges_other[..., 1], -edges_other[..., 0]], axis=2)
    across_other = flat_other @ np.swapaxes(motions[:, :3, :2], 1, 2)
    axes = np.concatenate([across_one, across_other], axis=1)
    return _least_overlap(plates, axes, corners_one, corners_other, motions)


def _edge_axes(plates: Plates, one: Index, other: Index, motions: Array) -> Array:
    """Overlap along the cross products of edges, the plates' normals counted as edges."""
    count = len(one)
    corners_one = np.concatenate([plates.corners[one], np.zeros((count, plates.corners.shape[1], 1))], axis=2)
    corners_other = _world_corners(plates, other, motions)
    flat_one = plates.edges[one]
    lines_one = np.zeros((count, flat_one.shape[1] + 1, 3))
    lines_one[:, :-1, :2] = flat_one
    lines_one[:, -1, 2] = 1.0
    lines_other = np.concatenate(
        [plates.edges[other] @ np.swapaxes(motions[:, :3, :2], 1, 2), motions[:, None, :3, 2]], axis=1
    )
    axes = np.cross(lines_one[:, :, None, :], lines_other[:, None, :, :]).reshape(count, -1, 3)
    length = np.linalg.norm(axes, axis=2)
    usable = length > PARALLEL_EDGES
    axes = np.where(usable[..., None], axes / np.where(usable, length, 1.0)[..., None], 0.0)
    return _least_overlap(plates, axes, corners_one, corners_other, motions)


def _least_overlap(plates: Plates, axes: Array, corners_one: Array, corners_other: Array, motions: Array) -> Array:
    half = plates.half_thickness_mm
    along_one = corners_one @ np.swapaxes(axes, 1, 2)
    along_other = corners_other @ np.swapaxes(axes, 1, 2)
    thick = half * (np.abs(axes[..., 2]) + np.abs(np.einsum("naj,nj->na", axes, motions[:, :3, 2])))
    one_way = along_one.max(axis=1) - along_other.min(axis=1)
    other_way = along_other.max(axis=1) - along_one.min(axis=1)
    overlap = np.minimum(one_way, other_way) + thick
    dead = np.abs(axes).sum(axis=2) < PARALLEL_EDGES
    least: Array = np.where(dead, np.inf, overlap).min(axis=1)
    return least
