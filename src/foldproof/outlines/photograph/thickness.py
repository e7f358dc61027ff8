"""A thick shape's upper face is nearer to the camera than the sheet, so it looks larger and further out."""

from __future__ import annotations

import numpy as np

from foldproof.geometry.plane import Array
from foldproof.outlines.photograph.proportion import camera_over
from foldproof.outlines.photograph.rings import outward_of
from foldproof.outlines.photograph.view import View

CARD_MM = 0.3  # cardstock, when nothing else is said
SOFT_MM = 0.02  # an edge moves from its upper to its lower line over so much, not at once
UNSURE_SHARE = 0.35  # of the shift: how far off the camera's height may be judged


def lowered(points: Array, view: View, thickness_mm: float | None) -> tuple[Array, float]:
    """The outline (n, 2) as it is on the sheet, when the shape's upper face stands so high; and the mean unsureness.
    None: it is not known, and taken as card that is too thin to matter.

    A point at height z over p, seen from a camera at height h over c, hides p + (p - c) z / (h - z). That is the line
    that is seen where the outline faces away from the camera; where it faces the camera, the lower edge is seen.
    """
    over, height = camera_over(view)
    shift = (points - np.array(over)) * ((CARD_MM if thickness_mm is None else thickness_mm) / height)
    facing = (shift * outward_of(points)).sum(axis=1)
    part = np.clip(facing / SOFT_MM + 0.5, 0.0, 1.0)[:, None]
    mean = float(np.hypot(*(part * shift).T).mean())
    if thickness_mm is None:
        return points, mean
    return points - part * shift, UNSURE_SHARE * mean
