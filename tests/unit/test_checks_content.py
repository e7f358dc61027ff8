"""What goes in beside the corner triangle of a turning lid: pushed away from it, below its flaps, or in its way."""

from __future__ import annotations

import math

import pytest

from foldproof.checks.catalogue import run_checks
from foldproof.design.measure import measure
from foldproof.design.mend import with_mends
from foldproof.design.prove import prove
from foldproof.findings import Severity
from foldproof.project.read import read_project

# Inside, 3 1/4 in less the walls' layers is 82.55 - 5 x 0.27 = 81.2 by 81.74 mm; the rim is 57.42 mm high,
# a card more than the wall.
TEXT = """
format = 1
name = "A box"
unit = "in"
[cardstock]
sheet = "12x12"
weight = "176 gsm"
thickness = "0.27 mm +/- 0.0001"
[parts.tray]
construction = "double-wall tray"
base_length = "3 1/4"
wall_height = "2 1/4"
inner_wall = "2 1/8"
{lid}
[content]
length = "{length} mm"
width = "{width} mm"
height = "{height} mm"
ease = "1 mm"
"""
LID = """
[parts.lid]
construction = "turning lid"
on = "tray"
shape = "disc"
across = "6"
strip = "1"
hole_from_corner = "1/2"
[[parts.lid.layers]]
"""
LEG_MM = 25.4 * math.sqrt(2.0)
FLAPS_MM = 57.42 - 2 * 0.27 - 25.4 / math.sqrt(2.0)


def corner(length=60.0, width=60.0, height=30.0, lid=LID):
    project = read_project(TEXT.format(length=length, width=width, height=height, lid=lid))
    proof = prove(measure(project))
    found = [f for part in proof.parts for f in run_checks(part.evidence) if f.code == "content_corner"]
    return project, proof, found


def test_room_beside_the_triangle_is_measured_from_its_long_edge():
    """60 by 60 mm leave 21.2 and 21.74 mm to the two walls: 42.9 mm together, 7 mm more than the triangle's leg."""
    _, _, (found,) = corner(height=50.0)
    assert found.severity is Severity.HOLDS
    assert found.measured == pytest.approx((81.2 + 81.74 - 120.0 - LEG_MM) / math.sqrt(2.0), abs=0.01)


def test_what_is_lower_than_the_flaps_may_lie_under_the_triangle():
    _, _, (found,) = corner(70.0, 70.0, 38.0)
    assert found.severity is Severity.HOLDS and dict(found.values)["where"] == "under"
    assert found.measured == pytest.approx(FLAPS_MM - 38.27, abs=0.01)


def test_what_is_as_tall_as_the_flaps_has_to_be_tipped_in():
    _, _, (found,) = corner(70.0, 70.0, 39.0)
    assert found.severity is Severity.LOOK
    assert found.measured == pytest.approx((81.2 + 81.74 - 140.0 - LEG_MM) / math.sqrt(2.0), abs=0.01)


def test_what_is_as_tall_as_the_triangle_does_not_go_in():
    # The rim less cap, triangle and 1 mm of opened legs is 55.88 mm high, and the base 0.27 mm thick.
    assert corner(70.0, 70.0, 55.5)[2][0].severity is Severity.LOOK
    assert corner(70.0, 70.0, 55.7)[2][0].severity is Severity.FAILS


def test_a_box_without_such_a_lid_has_no_triangle():
    assert corner(70.0, 70.0, 50.0, lid="")[2] == []


def test_a_smaller_triangle_a_longer_base_or_taller_walls_are_tried():
    project, proof, (found,) = corner(66.0, 66.0, 50.0)
    assert found.severity is Severity.LOOK
    assert {change.path for (change,) in found.proposals} == {
        "parts.lid.strip",
        "parts.tray.base_length",
        "parts.tray.base_width",
        "parts.tray.wall_height",
    }
    mended = [mend for mend in with_mends(project, proof).mends if mend.code == "content_corner"]
    assert "parts.lid.strip" in {change.path for mend in mended for change in mend.changes}
    assert all(mend.severity is Severity.HOLDS for mend in mended)
