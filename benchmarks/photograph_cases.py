"""What is photographed in tests and benchmarks: shapes up to 150 mm, and every condition the tracing has to stand."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import replace
from typing import Any

import numpy as np

from benchmarks.photograph_scenes import CREAM, KRAFT, MAT, OAK, WALNUT, Array, Scene, turned
from foldproof.geometry.outline import after_each, distances_to_edges
from foldproof.geometry.plane import centre
from foldproof.outlines.catalogue import draw, formula_named
from foldproof.outlines.record import Shape

OWN_POINTS = 720
DENSE_MM = 0.3  # between the points at which two outlines are compared
ROUNDS = 5  # of laying one outline on the other
FEW_OF = 5  # one in so many points is enough to lay it
TURNS = 4  # the sheet may lie any of four ways


def by_formula(name: str, **values: float) -> Array:
    """Points (n, 2) of a shape of the catalogue, in mm."""
    formula = formula_named(name)
    assert formula is not None
    shape = draw(formula, values)
    assert isinstance(shape, Shape)
    return np.array(shape.outline)


def own_shape() -> Array:
    """A leaf without any symmetry: r = 46 + 13 cos(2t + 0.4) + 5 sin 3t + 3.2 cos(7t + 1) mm, 130 mm across."""
    t = 2.0 * np.pi * np.arange(OWN_POINTS) / OWN_POINTS
    r = 46.0 + 13.0 * np.cos(2.0 * t + 0.4) + 5.0 * np.sin(3.0 * t) + 3.2 * np.cos(7.0 * t + 1.0)
    return np.column_stack((r * np.cos(t), r * np.sin(t)))


SHAPES: Mapping[str, Array] = {
    "disc": by_formula("disc", across=150.0),
    "rosette": by_formula("rosette", across=145.0, lobes=8.0, depth=6.0),
    "star": by_formula("star", across=140.0, points=5.0, depth=38.0),
    "heart": by_formula("heart", across=130.0),
    "own": own_shape(),
}

# What is changed from a plain scene. Several things go wrong at once in most of them, as they do on a table.
CONDITIONS: Mapping[str, Mapping[str, Any]] = {
    "straight from above": {},
    "tilt 25 degrees": {"tilt_deg": (24.0, -7.0), "roll_deg": 97.0, "sheet_mm": (297.0, 297.0)},
    "tilt both ways": {"tilt_deg": (16.0, 14.0), "roll_deg": 84.0},
    "lens bow +4 %": {"bow": 0.04, "tilt_deg": (8.0, -12.0), "off_centre": (0.02, 0.01)},
    "lens bow -4 %": {"bow": -0.04, "tilt_deg": (12.0, 5.0), "at_mm": (8.0, -30.0)},
    "soft shadow, uneven light": {"shadow": 0.55, "shadow_soft_mm": 12.0, "uneven": 0.5, "tilt_deg": (10.0, 10.0)},
    "hard shadow": {"shadow": 0.55, "shadow_soft_mm": 2.5, "tilt_deg": (6.0, 10.0), "table": WALNUT},
    "the shape's own shadow": {"cast": 0.5, "cast_mm": (0.9, -0.8), "cast_soft_mm": 0.6, "tilt_deg": (8.0, 6.0)},
    "dim and noisy": {"light": 0.25, "noise": 0.02, "uneven": 0.4, "tilt_deg": (12.0, 5.0)},
    "JPEG quality 50": {"quality": 50, "tilt_deg": (9.0, -6.0)},
    "blurred a little": {"blur_px": 3.0, "tilt_deg": (12.0, 5.0)},
    "sharpened, tones bent": {"tone": 0.3, "sharpen": 0.8, "blur_px": 1.2, "tilt_deg": (14.0, 8.0), "bow": 0.02},
    "cream sheet": {"sheet": CREAM, "table": WALNUT, "shape": (150, 40, 50), "tilt_deg": (7.0, 9.0)},
    "kraft sheet on oak": {"sheet": KRAFT, "table": OAK, "shape": (232, 230, 226), "tilt_deg": (5.0, 15.0)},
    "kraft sheet, shadow": {"sheet": KRAFT, "table": WALNUT, "shape": (40, 70, 60), "shadow": 0.4, "bow": 0.03},
    "cutting mat": {"table": MAT, "texture": "mat", "tilt_deg": (10.0, -10.0), "bow": 0.02},
    "shape of the table's colour": {"shape": OAK, "table": OAK, "tilt_deg": (10.0, 8.0), "shadow": 0.3},
    "shape nearly the sheet's colour": {"shape": (222, 211, 185), "tilt_deg": (5.0, 5.0), "uneven": 0.2},
    "sheet's edges of the shape's colour": {
        "shape": (214, 190, 130),
        "edge_tint": (214, 196, 150),
        "table": WALNUT,
        "tilt_deg": (5.0, 8.0),
    },
    "grey on white, shadow": {"shape": (140, 140, 140), "shadow": 0.5, "uneven": 0.3, "tilt_deg": (5.0, 5.0)},
    "dark on dark table": {"shape": (60, 44, 36), "table": WALNUT, "tilt_deg": (9.0, 6.0), "bow": -0.02},
    "printed shape": {"pattern": 0.5, "tilt_deg": (5.0, 8.0)},
    "turned tag, shape turned": {"orientation": 6, "turn_deg": 33.0, "tilt_deg": (9.0, 9.0)},
    "sheet turned 40 degrees": {"roll_deg": 50.0, "tilt_deg": (6.0, 4.0), "bow": 0.02},
}


def scene_of(shape: str, condition: str, pixels: tuple[int, int]) -> Scene:
    """A shape under a condition. The noise and the wood's grain are each scene's own."""
    number = list(SHAPES).index(shape) + len(SHAPES) * list(CONDITIONS).index(condition)
    plain = Scene(outline=SHAPES[shape], pixels=pixels, variant=1 + number)
    return replace(plain, **CONDITIONS[condition])


def strays(found: Array, scene: Scene) -> tuple[float, float]:
    """How far a traced outline (n, 2) is from the true one in mm: on average, and at the worst place of either.

    The one is laid on the other as well as it goes, as the sheet may have been read either way up; it is not scaled.
    """
    line = dense(found) - middle_of(found)
    ways = [turned(scene.outline, scene.turn_deg + 90.0 * turn) for turn in range(TURNS)]
    ways = [way - middle_of(way) for way in ways]
    true = min(ways, key=lambda way: float(distances_to_edges(line[::FEW_OF], way).mean()))
    for _ in range(ROUNDS):
        some = line[::FEW_OF]
        near = nearest(some, true)
        a, b = some - some.mean(axis=0), near - near.mean(axis=0)
        one, _, other = np.linalg.svd(a.T @ b)
        turn = one @ np.diag([1.0, np.linalg.det(one @ other)]) @ other
        line = (line - some.mean(axis=0)) @ turn + near.mean(axis=0)
    there, back = distances_to_edges(line, true), distances_to_edges(dense(true), line)
    return float(0.5 * (there.mean() + back.mean())), float(max(there.max(), back.max()))


def middle_of(outline: Array) -> Array:
    """The centre of area (2,) of a closed line (n, 2)."""
    return np.array(centre(tuple((x, y) for x, y in outline.tolist())))


def dense(outline: Array) -> Array:
    """A closed line with further points (m, 2) between its own, so that no two are far apart."""
    parts = []
    for a, b in zip(outline, after_each(outline), strict=True):
        count = max(1, int(np.ceil(np.hypot(*(b - a)) / DENSE_MM)))
        parts.append(a + (b - a) * (np.arange(count) / count)[:, None])
    return np.concatenate(parts)


def nearest(points: Array, outline: Array) -> Array:
    """The places on a closed line (n, 2) nearest to points (m, 2): (m, 2)."""
    ahead = after_each(outline) - outline
    along = ((points[:, None] - outline) * ahead).sum(axis=2) / (ahead**2).sum(axis=1)
    at = outline + np.clip(along, 0.0, 1.0)[:, :, None] * ahead
    best = ((points[:, None] - at) ** 2).sum(axis=2).argmin(axis=1)
    found: Array = at[np.arange(len(points)), best]
    return found
