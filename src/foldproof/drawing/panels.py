"""Flat faces as the picture has them: shape, plane of depth, side and tone. All lengths are mm on paper unless said."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass
from functools import lru_cache

import numpy as np
import shapely
from shapely.geometry.base import BaseGeometry

from foldproof.drawing.areas import GRID_MM, NOTHING, SLIVER_MM, on_grid
from foldproof.drawing.camera import axes_of, in_shade
from foldproof.drawing.records import FillRole
from foldproof.drawing.rings import Array, Rings, cross, polygons_of, rings_at, sums
from foldproof.drawing.solid import Face3, Point3, View

# Depths, in mm of card, that count as touching: a third of the thinnest card (0.15 mm), and more than the
# closing error of a folded pose.
TOUCH_MM = 0.05
SCENES_KEPT = 32  # scenes remembered: every arrow of a step asks what hides it


@dataclass(frozen=True, slots=True, kw_only=True)
class Panel:
    """A face in picture axes, in mm on paper. ``plane`` is (a, b, c) of its depth; no shape when edge on."""

    name: str
    corners: tuple[Point3, ...]
    shape: BaseGeometry
    plane: Point3
    face_seen: bool
    fill: FillRole

    def depth_at(self, x: float, y: float) -> float:
        return self.plane[0] * x + self.plane[1] * y + self.plane[2]


def on_paper(points: Sequence[Point3], view: View, mm_per_mm: float) -> tuple[Point3, ...]:
    """Points of space in picture axes (right, up, towards the reader), in mm on paper."""
    assert mm_per_mm > 0.0, "a scale is greater than nothing"
    found = mm_per_mm * (np.array(points).reshape(-1, 3) @ axes_of(view).T)
    return tuple((x, y, z) for x, y, z in found.tolist())


def panel_of(face: Face3, view: View, mm_per_mm: float) -> Panel:
    """The face as the picture has it. A face that is not flat is a mistake of the caller's."""
    return panels_of((face,), view, mm_per_mm)[0]


@lru_cache(maxsize=SCENES_KEPT)
def panels_of(faces: tuple[Face3, ...], view: View, mm_per_mm: float) -> tuple[Panel, ...]:
    """Faces as the picture has them, all worked out at once."""
    if not faces:
        return ()
    corners = on_paper([point for face in faces for point in face.outline], view, mm_per_mm)
    points = np.array(corners)
    rings = rings_at(points[:, :2], np.array([len(face.outline) for face in faces]))
    normals = _normals(points, rings)
    # The plane goes through the middle of the corners: least off for a face bent by float noise.
    middles = sums(points, rings.starts) / rings.sizes[:, None]
    off = np.repeat(normals, rings.sizes, axis=0) * (points - np.repeat(middles, rings.sizes, axis=0))
    bent_mm = np.maximum.reduceat(np.abs(off.sum(axis=1)), rings.starts)
    shapes = _shapes(rings)
    found = []
    for number, face in enumerate(faces):
        start = int(rings.starts[number])
        own = corners[start : start + len(face.outline)]
        nx, ny, nz = normals[number].tolist()
        if shapes[number].is_empty or nz == 0.0:
            found.append(_edge_on(face, own))
            continue
        assert bent_mm[number] <= TOUCH_MM * mm_per_mm, f"face {face.name!r} is not flat"
        x, y, z = middles[number].tolist()
        found.append(
            Panel(
                name=face.name,
                corners=own,
                shape=shapes[number],
                plane=(-nx / nz, -ny / nz, z + (nx * x + ny * y) / nz),
                face_seen=nz > 0.0,
                fill=_tone(face, (nx, ny, nz), view),
            )
        )
    return tuple(found)


def _edge_on(face: Face3, corners: tuple[Point3, ...]) -> Panel:
    return Panel(
        name=face.name, corners=corners, shape=NOTHING, plane=(0.0, 0.0, 0.0), face_seen=True, fill="plain"
    )


def _tone(face: Face3, normal: Point3, view: View) -> FillRole:
    nx, ny, nz = normal
    face_seen = nz > 0.0
    shade = in_shade((nx, ny, nz) if face_seen else (-nx, -ny, -nz), view)
    if (face.coloured_side == "face") == face_seen:
        return "coloured_shade" if shade else "coloured"
    return "plain_shade" if shade else "plain"


def _normals(points: Array, rings: Rings) -> Array:
    """Unit normals of flat polygons by Newell's sum, as ``camera.normal_of`` has them."""
    here, there = points, points[rings.nexts]
    parts = [
        (here[:, one] - there[:, one]) * (here[:, other] + there[:, other]) for one, other in ((1, 2), (2, 0), (0, 1))
    ]
    found = sums(np.stack(parts, axis=1), rings.starts)
    lengths = np.sqrt((found * found).sum(axis=1))[:, None]
    normals: Array = found / np.where(lengths > 0.0, lengths, 1.0)
    return normals


def _shapes(rings: Rings) -> list[BaseGeometry]:
    """The polygons with their corners on the grid; nothing for one that is narrower than a sliver."""
    points = np.floor(rings.points / GRID_MM + 0.5) * GRID_MM
    ahead = points[rings.nexts]
    doubles = np.abs(sums(cross(points, ahead), rings.starts))
    rims = sums(np.hypot(*(ahead - points).T), rings.starts)
    shapes = polygons_of(rings_at(points, rings.sizes))
    simple = shapely.is_valid(shapes).tolist()
    return [
        NOTHING if sliver else shape if sound else on_grid(shape)
        for shape, sliver, sound in zip(shapes, (doubles <= SLIVER_MM * rims).tolist(), simple, strict=True)
    ]
