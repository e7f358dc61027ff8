"""Outlines from rendered photographs against the true ones: 0.3 mm on average, 0.8 mm at the worst place."""

from dataclasses import replace

import cv2
import numpy as np
import pytest

from benchmarks.photograph_cases import CONDITIONS, SHAPES, scene_of, strays
from benchmarks.photograph_scenes import (
    A4_MM,
    KRAFT,
    MAT,
    MEGAPIXELS_3,
    MEGAPIXELS_12,
    WALNUT,
    Scene,
    photographed,
)
from foldproof.geometry.outline import enclosed_mm2
from foldproof.outlines.photograph.reading import STEPS, read_photograph
from foldproof.outlines.photograph.records import Photographed
from foldproof.outlines.photograph.trace import picture_of_trace
from foldproof.progress import Stopped

SMALL = (1024, 768)
MEAN_MM, WORST_MM = 0.3, 0.8

# At 12 megapixels: everything that goes wrong on a table, in two photographs. At 3, where a mm is 5 pixels, one each.
AT_12 = {
    "leaf, tilt 25, bow, shadow": replace(
        scene_of("own", "tilt 25 degrees", MEGAPIXELS_12), bow=0.03, shadow=0.5, uneven=0.4, orientation=8
    ),
    "star, kraft, own shadow": replace(
        scene_of("star", "lens bow -4 %", MEGAPIXELS_12), sheet=KRAFT, table=WALNUT, cast=0.3, cast_mm=(0.8, -0.6)
    ),
}
AT_3 = (
    ("rosette", "lens bow +4 %"),
    ("heart", "hard shadow"),
    ("own", "sheet's edges of the shape's colour"),
    ("rosette", "sheet turned 40 degrees"),
)


def read(scene: Scene, **asked: float) -> Photographed:
    # What is drawn has exactly its size, so the estimate gets no allowance for a sheet that has not.
    found = read_photograph(photographed(scene).data, *scene.sheet_mm, sheet_error_mm=0.0, **asked)
    assert isinstance(found, Photographed), found
    return found


def check(found: Photographed, scene: Scene) -> None:
    mean, worst = strays(np.array(found.outline), scene)
    assert mean <= MEAN_MM and worst <= WORST_MM
    assert mean <= found.accuracy_mm <= found.farthest_mm and worst <= found.farthest_mm
    assert found.accuracy_mm < MEAN_MM  # an estimate that is always large says nothing
    assert found.area_mm2 == pytest.approx(abs(enclosed_mm2(scene.outline)), rel=0.004)
    assert found.narrowest_mm <= found.widest_mm < 152.0


@pytest.mark.parametrize("name", AT_12)
def test_twelve_megapixels(name):
    scene = AT_12[name]
    check(read(scene), scene)


@pytest.mark.parametrize(("shape", "condition"), AT_3)
def test_three_megapixels(shape, condition):
    scene = scene_of(shape, condition, MEGAPIXELS_3)
    check(read(scene), scene)


def test_every_condition_is_a_scene():
    """What is changed is a field of a scene, so no condition is silently a plain one."""
    for condition, changed in CONDITIONS.items():
        scene = scene_of("disc", condition, SMALL)
        assert all(getattr(scene, name) == value for name, value in changed.items())


def test_symmetry_is_found_and_offered():
    scene = scene_of("star", "tilt both ways", SMALL)
    found = read(scene)
    assert (found.symmetry.fold, len(found.symmetry.mirror_axes_rad)) == (5, 5)
    assert found.evened is not None
    mean, worst = strays(np.array(found.evened.outline), scene)
    assert mean < MEAN_MM and worst < WORST_MM
    assert read(scene_of("own", "straight from above", SMALL)).symmetry.found is False


def test_the_way_a_sheet_lies_is_told_by_the_lens_that_fits():
    """Seen from one side, Letter paper lying across looks much as if it lay along, under a lens no telephone has."""
    scene = Scene(
        outline=SHAPES["rosette"], sheet_mm=(215.9, 279.4), tilt_deg=(23.0, 0.0), focal=0.8, pixels=SMALL, roll_deg=89.0
    )
    found = read(scene)
    assert max(strays(np.array(found.outline), scene)) < WORST_MM


def test_a_thick_shape_is_brought_down_to_the_sheet():
    scene = Scene(outline=SHAPES["heart"], thick_mm=3.0, tilt_deg=(14.0, 8.0), pixels=SMALL)
    flat, lowered = read(scene), read(scene, thickness_mm=3.0)
    assert strays(np.array(flat.outline), scene)[0] > 2.0 * strays(np.array(lowered.outline), scene)[0]
    assert strays(np.array(lowered.outline), scene)[0] <= min(MEAN_MM, lowered.accuracy_mm)


def test_corners_that_are_pointed_out_are_brought_to_the_sheets_edges():
    scene = replace(scene_of("own", "lens bow +4 %", SMALL), table=MAT, texture="mat")
    drawn = photographed(scene)
    off = drawn.corners_px + [[3.0, -2.0], [-3.0, 2.0], [2.0, 3.0], [-2.0, -3.0]]
    for order in ([0, 1, 2, 3], [2, 0, 3, 1]):
        found = read_photograph(drawn.data, *A4_MM, corners=[(x, y) for x, y in off[order].tolist()])
        assert isinstance(found, Photographed)
        mean, worst = strays(np.array(found.outline), scene)
        assert mean <= MEAN_MM and worst <= WORST_MM


def test_the_picture_of_the_trace_has_it_where_the_edge_is():
    scene = scene_of("rosette", "straight from above", SMALL)
    drawn = photographed(scene)
    found = read_photograph(drawn.data, *A4_MM)
    assert isinstance(found, Photographed)
    png = picture_of_trace(drawn.data, found, most_px=1024)
    assert png is not None
    picture = cv2.imdecode(np.frombuffer(png, np.uint8), cv2.IMREAD_COLOR)
    assert picture is not None and picture.shape == (768, 1024, 3)
    blue, green, red = (picture[..., n].astype(int) for n in range(3))
    pink = (red > 200) & (green < 60) & (blue > 120)
    rows, columns = np.nonzero(pink)
    # The blue shape is just inside of the pink line and the white sheet just outside.
    middle = (columns.mean(), rows.mean())
    away = np.hypot(columns - middle[0], rows - middle[1])
    assert away.min() / found.pixels_per_mm == pytest.approx(66.5, abs=0.8)
    assert away.max() / found.pixels_per_mm == pytest.approx(72.5, abs=0.8)
    corners = np.array(found.corners_px)
    assert np.abs(np.sort(corners, axis=0) - np.sort(drawn.corners_px, axis=0)).max() < 1.0


def test_the_same_photograph_gives_the_same_outline_and_can_be_stopped():
    scene = scene_of("heart", "straight from above", SMALL)
    drawn = photographed(scene)
    told: list[tuple[str, int, int]] = []

    def watched(stage: str, done: int, total: int) -> bool:
        told.append((stage, done, total))
        return True

    assert read_photograph(drawn.data, *A4_MM, progress=watched) == read_photograph(drawn.data, *A4_MM)
    assert [done for _, done, _ in told] == list(range(STEPS + 1))
    with pytest.raises(Stopped):
        read_photograph(drawn.data, *A4_MM, progress=lambda stage, done, total: done < 3)
