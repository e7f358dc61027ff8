"""Every shape by formula: listed, with ranges that hold, and with every problem told at once."""

import math
from itertools import product
from pathlib import Path

import pytest
from shapely.geometry import Polygon

from foldproof import outlines
from foldproof.geometry.plane import signed_area
from foldproof.lengths import parse_length
from foldproof.outlines.catalogue import FORMULAS, draw, formula_named
from foldproof.outlines.record import Shape

VALUES = [(formula, value) for formula in FORMULAS for value in formula.values]


def name_of(item):
    return item.name


def usual(formula):
    return {value.name: value.usual for value in formula.values}


def test_every_formula_of_the_package_is_listed():
    paths = list(Path(outlines.__file__).parent.glob("*.py"))
    files = {path.stem for path in paths if "\nFORMULA = " in path.read_text(encoding="utf-8")}
    assert {"disc", "heart", "star"} <= files
    assert {formula.name.replace(" ", "_") for formula in FORMULAS} >= files
    assert len(FORMULAS) == len(files) == len({formula.name for formula in FORMULAS})


def test_formulas_are_found_by_name():
    assert [formula_named(formula.name) for formula in FORMULAS] == list(FORMULAS)
    assert formula_named("dodecahedron") is None


@pytest.mark.parametrize(("formula", "value"), VALUES, ids=lambda item: item.name)
def test_a_value_has_help_a_range_and_defaults_in_it(formula, value):
    assert value.help and value.least < value.most
    assert value.argument == (f"{value.name}_mm" if value.kind == "length" else value.name)
    for text, unit in zip(value.default, ("in", "mm"), strict=True):
        number = parse_length(text, unit).float_mm if value.kind == "length" else float(text)
        assert value.least <= number <= value.most
    inches, metric = (parse_length(text, "mm").float_mm for text in value.default)
    assert value.kind == "count" or inches == pytest.approx(metric, rel=0.1)


@pytest.mark.parametrize("formula", FORMULAS, ids=name_of)
def test_usual_values_give_a_simple_outline(formula):
    drawn = draw(formula, usual(formula))
    assert isinstance(drawn, Shape)
    assert drawn.kind == formula.name
    assert Polygon(drawn.outline).is_valid and signed_area(drawn.outline) > 0
    assert len(set(drawn.outline)) == len(drawn.outline) <= 400


@pytest.mark.parametrize("formula", FORMULAS, ids=name_of)
def test_the_ends_of_the_ranges_draw_or_say_what_works(formula):
    names = [value.name for value in formula.values]
    for numbers in product(*((value.least, value.usual, value.most) for value in formula.values)):
        given = dict(zip(names, numbers, strict=True))
        drawn = draw(formula, given)
        if isinstance(drawn, tuple):
            mended = {**given, **{misfit.name: misfit.works for misfit in drawn}}
            assert isinstance(draw(formula, mended), Shape), (given, drawn)


@pytest.mark.parametrize("bad", [math.nan, math.inf, -math.inf, 0.0, -5.0, 1e-3, 1e9])
@pytest.mark.parametrize(("formula", "value"), VALUES, ids=lambda item: getattr(item, "name", None))
def test_a_value_out_of_its_range_is_told_with_one_that_works(formula, value, bad):
    """The usual depth may not go with the smallest size that works: then both are told, and both mended."""
    given = {**usual(formula), value.name: bad}
    found = draw(formula, given)
    (told,) = (misfit for misfit in found if misfit.name == value.name)
    assert told.works is not None and value.least <= told.works <= value.most
    assert {misfit.name for misfit in found} <= {value.name, "depth", "corner_radius"}
    assert isinstance(draw(formula, {**given, **{misfit.name: misfit.works for misfit in found}}), Shape)


@pytest.mark.parametrize("formula", FORMULAS, ids=name_of)
def test_all_values_wrong_are_all_told_and_mended_together(formula):
    given = {value.name: math.nan for value in formula.values}
    found = draw(formula, given)
    assert {misfit.name for misfit in found} == set(given)
    assert isinstance(draw(formula, {misfit.name: misfit.works for misfit in found}), Shape)


def misfits(name, **given):
    found = draw(formula_named(name), given)
    assert isinstance(found, tuple)
    assert isinstance(draw(formula_named(name), {**given, **{m.name: m.works for m in found}}), Shape)
    return {misfit.name: misfit.reason for misfit in found}


# Each with its near miss: the last value that still draws.
def test_lobes_deeper_than_the_radius():
    assert "deeper than the radius" in misfits("rosette", across=100, lobes=8, depth=49.5)["depth"]
    assert isinstance(draw(formula_named("rosette"), {"across": 100, "lobes": 8, "depth": 48.9}), Shape)


def test_scallops_that_would_cross():
    # 12 lobes on R = 50: they touch at a depth of 50 (1 - tan 37.5 deg) = 11.634; 0.98 of it is 11.40.
    assert "cross" in misfits("scalloped disc", across=100, lobes=12, depth=11.41)["depth"]
    assert isinstance(draw(formula_named("scalloped disc"), {"across": 100, "lobes": 12, "depth": 11.39}), Shape)
    assert "too many" in misfits("scalloped disc", across=10, lobes=14, depth=0.5)["lobes"]
    assert isinstance(draw(formula_named("scalloped disc"), {"across": 10, "lobes": 13, "depth": 0.5}), Shape)


def test_a_star_without_dips_or_without_a_middle():
    # 5 points on R = 50: the lines from tip to tip come within 50 cos 36 deg = 40.45 of the middle.
    assert "no dips" in misfits("star", across=100, points=5, depth=10.0)["depth"]
    assert isinstance(draw(formula_named("star"), {"across": 100, "points": 5, "depth": 10.1}), Shape)
    assert "deeper than the radius" in misfits("star", across=100, points=5, depth=49.1)["depth"]
    assert isinstance(draw(formula_named("star"), {"across": 100, "points": 5, "depth": 48.9}), Shape)


def test_corners_that_leave_no_side():
    assert "half the side" in misfits("rounded square", side=50, corner_radius=25)["corner_radius"]
    assert isinstance(draw(formula_named("rounded square"), {"side": 50, "corner_radius": 24.5}), Shape)


def test_counts_are_whole_and_enough():
    assert misfits("regular polygon", across=100, sides=2) == {"sides": "is too small for this shape"}
    assert misfits("regular polygon", across=100, sides=7.5) == {"sides": "must be a whole number"}
    assert isinstance(draw(formula_named("regular polygon"), {"across": 100, "sides": 3}), Shape)


def test_missing_and_unknown_values_are_told_with_the_others():
    found = draw(formula_named("rosette"), {"across": -3.0, "petals": 5, "depth": 4.0})
    assert {misfit.name: misfit.reason for misfit in found} == {
        "petals": "is no value of a rosette",
        "lobes": "is missing",
        "across": "must be more than nothing",
    }
    assert {misfit.name: misfit.works for misfit in found} == {"petals": None, "lobes": 10.0, "across": 140.0}
