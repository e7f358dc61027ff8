"""A lid's layers as plates: flat ones whole, hanging or lifted edges as facets all round."""

from __future__ import annotations

import math

import numpy as np
import shapely
from numpy.typing import NDArray
from shapely.geometry import LineString
from shapely.geometry import Polygon as Shape

from foldproof.folding.turning import Bodies
from foldproof.geometry.plane import Polygon, anticlockwise
from foldproof.lids.records import LidLayer, TurningLid

Array = NDArray[np.float64]

FACET_MM = 0.15  # an outline is drawn with straight pieces this near to it; a tenth of a ruler mark
LEAST_FACET_MM = 0.5  # shorter edges are left to their neighbours


def lid_bodies(lid: TurningLid, rim_mm: float) -> Bodies:
    """The lowest layer, and every layer whose edge hangs, in the box's frame with z from the base.

    An edge that hangs over a lower layer comes to rest on it; only what hangs beside every lower layer is a body.
    """
    outlines: list[Polygon] = []
    world: list[Array] = []
    names: list[str] = []
    for number, layer in enumerate(lid.layers):
        height = rim_mm + 0.5 * (layer.low_mm + layer.high_mm)
        if layer.droop_mm > 0:
            below = shapely.union_all([Shape(lower.outline) for lower in lid.layers[:number]])
            for polygon, pose in _hanging(layer, height, below):
                outlines.append(polygon)
                world.append(pose)
                names.append(layer.name)
        elif number == 0:
            pose = np.eye(4)
            pose[2, 3] = height
            outlines.append(_simpler(layer.outline))
            world.append(pose)
            names.append(layer.name)
    return Bodies(outlines=tuple(outlines), world=np.array(world).reshape(-1, 4, 4), names=tuple(names))


def _simpler(outline: Polygon) -> Polygon:
    """An outline with fewer corners, nowhere more than FACET_MM from the true one."""
    fewer = Shape(outline).simplify(FACET_MM)
    assert isinstance(fewer, Shape)
    return anticlockwise(tuple((float(x), float(y)) for x, y in fewer.exterior.coords[:-1]))


def _hanging(layer: LidLayer, height_mm: float, below: shapely.Geometry) -> list[tuple[Polygon, Array]]:
    """The border of a layer as flat facets that fall from its inner edge to the droop at the outline.

    ``below`` is what lower layers cover; a facet whose outer edge lies over it is left out.
    """
    points = np.array(_simpler(layer.outline))
    ahead = np.roll(points, -1, axis=0) - points
    normals = np.stack([ahead[:, 1], -ahead[:, 0]], axis=1) / np.linalg.norm(ahead, axis=1)[:, None]
    facets: list[tuple[Polygon, Array]] = []
    for start, edge, normal in zip(points, ahead, normals, strict=True):
        length = float(np.hypot(*edge))
        if length < LEAST_FACET_MM or shapely.covers(below, LineString([start, start + edge])):
            continue
        slope = math.hypot(layer.border_mm, layer.droop_mm)
        along = np.array([edge[0] / length, edge[1] / length, 0.0])
        inward = np.array([-normal[0] * layer.border_mm, -normal[1] * layer.border_mm, layer.droop_mm]) / slope
        pose = np.eye(4)
        pose[:3, 0], pose[:3, 1], pose[:3, 2] = along, inward, np.cross(along, inward)
        pose[:3, 3] = (start[0], start[1], height_mm - layer.droop_mm)
        facets.append((((0.0, 0.0), (length, 0.0), (length, slope), (0.0, slope)), pose))
    return facets
