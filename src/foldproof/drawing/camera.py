"""From space to the picture: projection without perspective, depth, light and a common scale."""

from __future__ import annotations

from collections.abc import Iterable, Sequence
from math import cos, radians, sin

import numpy as np
from numpy.typing import NDArray

from foldproof.drawing.arrows import ARROW_REACH_MM
from foldproof.drawing.solid import Arrow3, Face3, Point3, View

# Light falls over the reader's left shoulder, in picture axes (right, up, towards the reader). It moves with
# the reader, so a wall keeps its tone from step to step. Seen from the left of the front it falls over the right
# shoulder: the front stays lit, and the side beside it in shade.
LIGHT = (-0.45, 0.55, 0.70)
# Cosine between a side and the light below which it is in shade: 81 degrees. Inner and outer walls that face
# the reader's right are shaded; the front and everything lying flat are not.
SHADE_COSINE = 0.15


def project(view: View, points: Iterable[Point3]) -> tuple[Point3, ...]:
    """Picture x (right), picture y (up) and depth (greater is nearer the reader) of points, all in mm.

    Orthographic: the three axes are the rows of a rotation, so lengths in the picture's plane are true.
    """
    right, up, near = _axes(view)
    return tuple((dot(right, point), dot(up, point), dot(near, point)) for point in points)


def axes_of(view: View) -> NDArray[np.float64]:
    """The picture's axes as the rows of a matrix: right, up and towards the reader."""
    return np.array(_axes(view))


def _axes(view: View) -> tuple[Point3, Point3, Point3]:
    round_, above = radians(view.azimuth_deg), radians(view.elevation_deg)
    return (
        (cos(round_), sin(round_), 0.0),
        (-sin(round_) * sin(above), cos(round_) * sin(above), cos(above)),
        (sin(round_) * cos(above), -cos(round_) * cos(above), sin(above)),
    )


def dot(a: Point3, b: Point3) -> float:
    return a[0] * b[0] + a[1] * b[1] + a[2] * b[2]


def normal_of(points: Sequence[Point3]) -> Point3:
    """Unit normal of a flat polygon, on the side from which it runs anticlockwise; (0, 0, 0) without an area.

    Newell's sum over the edges: exact for any flat polygon, concave or not, whichever corner comes first.
    """
    x = y = z = 0.0
    for (px, py, pz), (qx, qy, qz) in zip(points, (*points[1:], points[0]), strict=True):
        x += (py - qy) * (pz + qz)
        y += (pz - qz) * (px + qx)
        z += (px - qx) * (py + qy)
    length = (x * x + y * y + z * z) ** 0.5
    return (x / length, y / length, z / length) if length > 0.0 else (0.0, 0.0, 0.0)


def in_shade(towards_reader: Point3, view: View) -> bool:
    """Whether a side is turned from the light, by its unit normal in picture axes, pointing at the reader."""
    x, y, z = towards_reader
    cosine: float = dot((x if view.azimuth_deg >= 0.0 else -x, y, z), LIGHT) / dot(LIGHT, LIGHT) ** 0.5
    return cosine < SHADE_COSINE


def fit_scale(
    poses: Sequence[Sequence[Face3]],
    view: View,
    width_mm: float,
    height_mm: float,
    *,
    arrows: Sequence[Sequence[Arrow3]] = (),
) -> float:
    """The largest scale, mm on paper per mm, at which every pose fits ``width_mm`` by ``height_mm``.

    ``arrows``, if given, holds the arrows of each pose in turn; room is kept for their heads.
    """
    assert len(arrows) in (0, len(poses)), "arrows are given for every pose or for none"
    assert width_mm > 0.0 and height_mm > 0.0, "a picture needs room"
    scales: list[float] = []
    for index, pose in enumerate(poses):
        points = [point for face in pose for point in face.outline]
        paths = arrows[index] if arrows else ()
        points.extend(point for arrow in paths for point in arrow.points)
        seen = project(view, points)
        room_mm = 2.0 * ARROW_REACH_MM if paths else 0.0
        for axis, space_mm in ((0, width_mm), (1, height_mm)):
            extent_mm = max(point[axis] for point in seen) - min(point[axis] for point in seen)
            if extent_mm > 0.0:
                scales.append((space_mm - room_mm) / extent_mm)
    assert scales and min(scales) > 0.0, "nothing to draw, or no room to draw it"
    return min(scales)
