"""Photographs that cannot be traced are refused with a reason, and near misses are traced."""

from dataclasses import replace
from typing import Any

import numpy as np
import pytest

from benchmarks.photograph_cases import SHAPES, strays
from benchmarks.photograph_scenes import A4_MM, MAT, OAK, WALNUT, WHITE, Array, Scene, photographed
from foldproof.errors import InputError
from foldproof.outlines.photograph.reading import read_photograph
from foldproof.outlines.photograph.records import DOUBTS, Doubt, Photographed
from foldproof.outlines.photograph.refusals import REASONS, Refused

SMALL, LARGER = (1024, 768), (1280, 960)
PLAIN = Scene(outline=0.8 * SHAPES["rosette"], tilt_deg=(8.0, 6.0), pixels=SMALL)
STEEL = (160, 164, 168)
SKIN = (205, 160, 135)


def box(left: float, low: float, right: float, high: float) -> Array:
    return np.array([[left, low], [right, low], [right, high], [left, high]])


def hand(x: float, y: float) -> Array:
    t = np.linspace(0.0, 2.0 * np.pi, 120, endpoint=False)
    r = 42.0 + 6.0 * np.cos(3.0 * t) + 4.0 * np.sin(5.0 * t)
    return np.column_stack((1.3 * r * np.cos(t) + x, 0.9 * r * np.sin(t) + y))


def two(away: float) -> dict[str, Any]:
    """Two discs of 75 mm, their middles so far left and right of the sheet's."""
    disc = 0.5 * SHAPES["disc"]
    return {"outline": disc, "at_mm": (-away, 0.0), "also": (disc + [away, 0.0],)}


REFUSED: dict[str, tuple[str, dict[str, Any]]] = {
    "sheet cut by the picture": ("sheet not in view", {"off_centre": (0.13, 0.1), "fill": 0.9}),
    "sheet of the table's colour": ("no sheet", {"table": WHITE, "texture": "plain"}),
    "ruler over one side": ("proportion", {"over": ((box(-130, -190, -95, 190), STEEL),)}),
    "ruler over one side by 2 mm": ("side covered", {"over": ((box(-130, -190, -103, 190), STEEL),)}),
    "hand over shape and edge": ("touches the edge", {"over": ((hand(85, 0), SKIN),)}),
    "ruler on the sheet": ("several shapes", {"over": ((box(-90, 90, 90, 118), STEEL),)}),
    "far away": ("too small", {"fill": 0.4}),
    "no shape": ("no shape", {"shape": WHITE}),
    "white on white": ("too little contrast", {"shape": (226, 226, 223)}),
    "dark on dark": ("too little contrast", {"shape": (45, 38, 34), "sheet": (38, 34, 32), "pixels": LARGER}),
    "white on white, its shadow seen": (
        "thin",
        {
            "outline": 0.85 * SHAPES["heart"],
            "shape": (226, 226, 223),
            "cast": 0.4,
            "cast_mm": (1.0, -0.8),
            "pixels": LARGER,
        },
    ),
    "two shapes 1.5 mm apart": ("several shapes", two(38.25)),
    "shape over the sheet's edge": ("touches the edge", {"at_mm": (70.0, 0.0)}),
    "shape at the sheet's edge": ("touches the edge", {"at_mm": (46.5, 0.0)}),
    "blurred": ("blurred", {"blur_px": 4.5}),
    "glare": ("glare", {"glare_mm": 5.0}),
}

# Not far from those above, and traced well.
TRACED: dict[str, dict[str, Any]] = {
    "hand on a corner of the sheet": {"over": ((hand(125, 160), SKIN),)},
    "hand on a side of the sheet": {"outline": 0.5 * SHAPES["disc"], "over": ((hand(100, 60), SKIN),)},
    "ruler beside the sheet": {"over": ((box(-140, -190, -110, 190), STEEL),)},
    "dark shape, dark table": {"shape": (45, 30, 24), "table": WALNUT},
    "shape of the table's colour": {"shape": OAK, "table": OAK},
    "pale shape": {"shape": (222, 208, 180)},
    "sheet on a cutting mat": {"under_mm": (297.0, 420.0), "fill": 0.66},
    "white sheet, grey mat turned": {"table": (90, 90, 95), "texture": "mat", "roll_deg": 60.0},
    "a crumb beside it": {"also": (np.array([[70.0, 90.0], [73.0, 90.0], [73.0, 92.0]]),)},
    "a hole in it": {"holes": (0.4 * SHAPES["disc"],)},
    "4 mm from the edge": {"at_mm": (42.5, 0.0)},
}


@pytest.mark.parametrize("name", REFUSED)
def test_what_cannot_be_traced_is_refused_with_a_reason(name):
    code, changed = REFUSED[name]
    found = read_photograph(photographed(replace(PLAIN, **changed)).data, *A4_MM)
    assert isinstance(found, Refused) and found.code == code
    assert "{" not in found.reason + found.remedy and len(found.remedy) > 20


@pytest.mark.parametrize("name", TRACED)
def test_what_looks_much_like_it_is_traced(name):
    scene = replace(PLAIN, **TRACED[name])
    found = read_photograph(photographed(scene).data, *A4_MM)
    assert isinstance(found, Photographed), found
    mean, worst = strays(np.array(found.outline), scene)
    assert mean <= min(0.3, found.accuracy_mm) and worst <= 0.8


def test_another_sheet_than_was_said_is_refused_until_its_corners_are_pointed_out():
    scene = replace(PLAIN, sheet_mm=(215.9, 279.4))
    drawn = photographed(scene)
    found = read_photograph(drawn.data, *A4_MM)
    assert isinstance(found, Refused) and found.code == "proportion" and len(found.corners_px) == 4
    pointed = read_photograph(drawn.data, *A4_MM, corners=[(x, y) for x, y in drawn.corners_px.tolist()])
    assert isinstance(pointed, Photographed)
    assert [doubt.code for doubt in pointed.doubts] == ["proportion"]
    # The estimate counts it in: the outline is off by some mm, and that is said.
    assert strays(np.array(pointed.outline), scene)[0] < pointed.accuracy_mm


def test_a_bright_sheet_is_doubted_and_the_estimate_holds():
    scene = replace(PLAIN, light=2.5)
    found = read_photograph(photographed(scene).data, *A4_MM, sheet_error_mm=0.0)
    assert isinstance(found, Photographed) and "too bright" in [doubt.code for doubt in found.doubts]
    assert strays(np.array(found.outline), scene)[0] <= found.accuracy_mm


def test_corners_that_make_no_sheet_are_refused():
    data = photographed(replace(PLAIN, table=MAT)).data
    for corners in ([(0, 0), (1, 1), (2, 2), (3, 3)], [(0, 0), (900, 0), (300, 100), (0, 900)], [(9e5, 0)] * 4):
        found = read_photograph(data, *A4_MM, corners=[(float(x), float(y)) for x, y in corners])
        assert isinstance(found, Refused) and found.code == "corners"


def test_values_that_cannot_be_are_all_told():
    with pytest.raises(InputError) as stopped:
        read_photograph(b"", 5.0, float("nan"), thickness_mm=99.0, corners=[(0.0, 0.0)])
    assert [problem.field for problem in stopped.value.problems] == [
        "sheet width",
        "sheet height",
        "thickness",
        "corners",
    ]


def test_every_refusal_and_doubt_has_words():
    values = (("found", 1.0), ("least", 2.0), ("most", 3.0), ("unit", "megabytes"), ("count", 2.0), ("way", "wider"))
    for code in REASONS:
        told = values if code not in ("format", "outline") else (("found", "HEIC"),)
        assert Refused(code=code, values=told).reason and Refused(code=code, values=told).remedy
    for code in DOUBTS:
        assert Doubt(code=code, values=values).reason and Doubt(code=code, values=values).remedy
