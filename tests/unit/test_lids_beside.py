"""Two boxes on a shelf: how far apart they stand so that either lid turns while the other is closed."""

from __future__ import annotations

import math

import numpy as np
import pytest
from shapely import affinity
from shapely.geometry import Polygon as Area

from foldproof.lids.beside import STEP_DEG, apart_mm
from foldproof.lids.box import on_diagonal, turning_box
from foldproof.outlines.catalogue import draw, formula_named
from foldproof.pattern.records import BoxForm

FORM = BoxForm(piece="tray", centre=(0.0, 0.0), outer_mm=(82.8, 60.0), inner_mm=(81.0, 58.2), rim_mm=57.0)
NEAR_MM = 0.05


def outline(name, **values):
    return draw(formula_named(name), values).outline


def by_trying(box, closed, hole, opened_deg, axis):
    """The least distance, moved apart until nothing overlaps at any of many turns, either box's lid turning."""
    hull = Area(closed).convex_hull
    turned = [affinity.rotate(hull, angle, origin=hole) for angle in np.linspace(0.0, opened_deg, 240)]
    wide = (82.8, 60.0)[axis]

    def meet(away, sense):
        other = affinity.translate(hull, *((sense * (wide + away), 0.0) if axis == 0 else (0.0, sense * (wide + away))))
        return any(each.intersects(other) for each in turned)

    found = 0.0
    for sense in (1.0, -1.0):
        low, high = 0.0, 400.0
        while high - low > NEAR_MM:
            middle = 0.5 * (low + high)
            low, high = (middle, high) if meet(middle, sense) else (low, middle)
        found = max(found, low)
    return found


@pytest.mark.parametrize("opened_deg", [-171.0, 95.0, 30.0])
@pytest.mark.parametrize(
    ("name", "values"), [("heart", {"across": 170.0}), ("square", {"side": 90.0}), ("disc", {"across": 130.0})]
)
def test_as_far_as_trying_says_and_never_nearer(name, values, opened_deg):
    box = turning_box(FORM, "back left", 25.4, 0.3, 12.0)
    closed, hole = outline(name, **values), on_diagonal(box, 13.0)
    told = apart_mm(box, closed, hole, opened_deg)
    reach = max(math.dist(hole, point) for point in closed)
    for axis in (0, 1):
        tried = by_trying(box, closed, hole, opened_deg, axis)
        assert told[axis] >= tried - NEAR_MM
        assert told[axis] <= tried + NEAR_MM + reach * math.radians(STEP_DEG) + 2.5  # what was added to be sure


def test_two_discs_that_turn_half_way_round():
    """A disc of radius R about the box's middle turns half about a hole h behind it: it comes to lie 2 h behind.

    One behind the other, the boxes then stand so far apart that 2 R + 2 h is between the two lids' middles.
    """
    box = turning_box(FORM, "back left", 25.4, 0.3, 12.0)
    radius, behind = 50.0, 20.0
    told = apart_mm(box, outline("disc", across=2 * radius), (0.0, behind), 180.0)
    assert told[1] == pytest.approx(2 * radius + 2 * behind - 60.0, abs=2.5)
    assert told[1] >= 2 * radius + 2 * behind - 60.0
