"""What places give, measured exactly, many at once: margin, area left covered, distance of the hole from the edge."""

from __future__ import annotations

import math
from dataclasses import dataclass

import numpy as np

from foldproof.geometry.common_area import common_areas
from foldproof.geometry.cover import margins
from foldproof.geometry.outline import distances_to_edges, half_planes, inside_many
from foldproof.geometry.plane import Array
from foldproof.lids.optimum_ground import BACK, HOLE_BACK, HOLE_RIGHT, OPEN, RIGHT, TURN, Cover, Ground
from foldproof.lids.optimum_records import LidPlace

INWARDS_MM = 1e-6  # how far outside its region a hole may lie by rounding


@dataclass(frozen=True, slots=True, kw_only=True)
class Measures:
    """Of some places (m,): margins in mm, area left covered in mm2, distance of the hole from the edge in mm.

    A distance is below 0 for a hole outside what it should pierce.
    """

    margins: Array
    covered: Array
    to_lid: Array


def measures(ground: Ground, places: Array) -> Measures:
    """Everything of places (m, 6)."""
    return Measures(
        margins=place_margins(ground.cover, places),
        covered=covered_areas(ground, ground.cover.lid, places),
        to_lid=hole_distances(ground, places),
    )


def place_margins(cover: Cover, places: Array) -> Array:
    """The margin of each place (m, 6): (m,)."""
    return margins(cover.lid, cover.sides, shifts_mm=places[:, RIGHT : BACK + 1], turns_rad=places[:, TURN])


def covered_areas(ground: Ground, lid: Array, places: Array) -> Array:
    """How much of the opening an outline (n, 2) leaves covered when opened, in mm2: (m,)."""
    normals, offsets = half_planes(ground.opening)
    shifts = opened_shifts(places)
    turned = turned_back(normals[None], (places[:, TURN] + places[:, OPEN])[:, None])
    return common_areas(lid, turned, offsets - shifts @ normals.T)


def opened_shifts(places: Array) -> Array:
    """Where the lid's origin is when opened (m, 2): the closed shift turned about the hole."""
    holes = places[:, HOLE_RIGHT : HOLE_BACK + 1]
    return holes + turned_back(places[:, RIGHT : BACK + 1] - holes, -places[:, OPEN])


def hole_distances(ground: Ground, places: Array) -> Array:
    """Distance of the hole from the nearest edge of what it pierces (m,), below 0 outside it."""
    holes = holes_in_lid(places)
    nearest = np.full(len(places), math.inf)
    for outline in ground.pierced:
        away = distances_to_edges(holes, outline)
        nearest = np.minimum(nearest, np.where(inside_many(holes, outline), away, -away))
    return nearest


def holes_outside(ground: Ground, places: Array) -> Array:
    """How far the holes lie outside their region, at least (m,): 0 inside it and as near as rounding brings them."""
    holes, region = places[:, HOLE_RIGHT : HOLE_BACK + 1], ground.region
    if len(region) >= 3:
        normals, offsets = half_planes(region)
        away = (holes @ normals.T - offsets).max(axis=1)
    else:
        along = region[-1] - region[0]
        share = ((holes - region[0]) @ along / float(along @ along)).clip(0.0, 1.0) if len(region) == 2 else 0.0
        nearest = region[0] + np.multiply.outer(share, along)
        away = np.hypot(holes[:, 0] - nearest[..., 0], holes[:, 1] - nearest[..., 1])
    return np.asarray(np.where(away > INWARDS_MM, away, 0.0))


def holes_in_lid(places: Array) -> Array:
    """The holes (m, 2) seen from the lid's origin, in the lid's frame."""
    return turned_back(places[:, HOLE_RIGHT : HOLE_BACK + 1] - places[:, RIGHT : BACK + 1], places[:, TURN])


def turned_back(vectors: Array, turns_rad: Array) -> Array:
    """Vectors (..., 2) turned clockwise by turns that broadcast against their leading axes."""
    cosine, sine = np.cos(turns_rad), np.sin(turns_rad)
    x, y = vectors[..., 0], vectors[..., 1]
    return np.stack((cosine * x + sine * y, cosine * y - sine * x), axis=-1)


def own_place(cover: Cover, place: Array) -> tuple[float, float, float]:
    """Closed turn, shift right and shift back of the lid in its own frame."""
    turn = float(place[TURN])
    moved = place[RIGHT : BACK + 1] - turned_back(cover.origin, np.array(-turn))
    given = cover.fixed.closed_turn_rad is not None
    return turn if given else turn % (2.0 * math.pi), float(moved[0]), float(moved[1])


def lid_place(ground: Ground, place: Array) -> LidPlace:
    """A place (6,) measured, in the lid's own frame and with its closed turn brought to one turn."""
    found = measures(ground, place[None])
    turn, right, back = own_place(ground.cover, place)
    share = 1.0 - float(found.covered[0]) / ground.opening_mm2
    return LidPlace(
        closed_turn_rad=turn,
        moved_right_mm=right,
        moved_back_mm=back,
        hole=(float(place[HOLE_RIGHT]), float(place[HOLE_BACK])),
        open_turn_rad=float(place[OPEN]),
        margin_mm=float(found.margins[0]),
        uncovered=min(1.0, max(0.0, share)),
        hole_to_lid_mm=float(found.to_lid[0]),
    )
