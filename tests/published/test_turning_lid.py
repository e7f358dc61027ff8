"""Facts of the trade about lids that turn on a brad, and figures summed by hand."""

from __future__ import annotations

import math

import pytest

from foldproof.checks.turning_evidence import GLUE_GSM
from foldproof.constructions.turning_lid import triangle_piece
from foldproof.design.measure import measure
from foldproof.design.prove import prove
from foldproof.lids.box import corner_triangle, leg_of_strip
from foldproof.project.read import read_project

TEXT = """
format = 1
name = "A lid"
unit = "in"
[cardstock]
sheet = "12x12"
weight = "216 gsm"
thickness = "0.27 mm"
[parts.tray]
construction = "double-wall tray"
base_length = "{base}"
wall_height = "2"
inner_wall = "1 7/8"
[parts.lid]
construction = "turning lid"
on = "tray"
shape = "disc"
across = "6"
hole_from_corner = "3/4"
corner = "{corner}"
[[parts.lid.layers]]
"""
INCH = 25.4


def turning(base: str = "3 3/4", corner: str = "back left"):
    proof = prove(measure(read_project(TEXT.format(base=base, corner=corner))))
    return next(part.evidence.turning for part in proof.parts if part.evidence.turning)


def test_where_the_hole_comes_in_the_lid():
    # Common practice, no source: the hole sits about 1/4 in inside the triangle's long edge; on a 3 3/4 in box under
    # a 6 in lid it then comes between 1 and 1 3/8 in inside the lid's edge.
    found = turning()
    long_edge_mm = leg_of_strip(INCH) / math.sqrt(2.0) - 0.75 * INCH
    assert long_edge_mm == pytest.approx(0.25 * INCH)
    to_middle_of_hole = found.analysis.hole_to_lid_mm + 0.5 * found.lid.fastener.hole_mm
    assert INCH < to_middle_of_hole < 1.375 * INCH


def test_a_longer_strip_gives_the_same_triangle():
    # Common practice, no source: a 1 x 3 in strip folded from its middle and trimmed gives the same triangle as 1 x 2.
    def folded(length_mm: float) -> list[float]:
        middle = (0.5 * length_mm, 0.0)
        ends = [(middle[0] - INCH, INCH), (middle[0] + INCH, INCH)]  # 45 degrees from the middle meet the far side
        corners = [middle, *ends]
        return sorted(math.dist(a, b) for i, a in enumerate(corners) for b in corners[i + 1 :])

    ours = triangle_piece(INCH).panels[0].outline
    sides = sorted(math.dist(a, b) for i, a in enumerate(ours) for b in ours[i + 1 :])
    assert folded(3.0 * INCH) == pytest.approx(folded(2.0 * INCH))
    assert sides == pytest.approx(folded(3.0 * INCH))
    leg = leg_of_strip(INCH)
    assert sides == pytest.approx([leg, leg, 2.0 * INCH])
    assert math.dist(*corner_triangle((0.0, 0.0), (1, 1), leg)[1:]) == pytest.approx(2.0 * INCH)


def test_margins_of_a_six_inch_disc():
    # Common practice, no source: 0.121 in on a 4 in box ("only just") and 0.246 in on a 3 3/4 in box. Those are for
    # walls without thickness; ours stand half a thickness outside their score lines.
    for base, inches in (("4", 0.121), ("3 3/4", 0.246)):
        found = turning(base)
        half_thickness = 0.5 * 0.27 * 1.075
        assert found.analysis.margin_mm + half_thickness == pytest.approx(inches * INCH, abs=0.02)


def test_mass_against_a_hand_sum():
    # 6 in disc: pi x 76.2 mm squared = 18241.5 mm2 = 0.0182415 m2, times (216 + 30) g/m2 = 4.487 g; the brad 0.5 g.
    found = turning()
    assert GLUE_GSM == 30.0
    assert found.analysis.mass_g == pytest.approx(4.487 + 0.5, abs=0.01)


@pytest.mark.parametrize("corner", ["back right", "front left", "front right"])
def test_every_corner_gives_the_same_figures(corner: str):
    one, other = turning().analysis, turning(corner=corner).analysis
    assert other.margin_mm == pytest.approx(one.margin_mm, abs=1e-6)
    assert other.hole_to_lid_mm == pytest.approx(one.hole_to_lid_mm, abs=1e-6)
    assert other.leg_room_mm == pytest.approx(one.leg_room_mm, abs=1e-6)
    # A corner mirrored in one side turns left into right; its walls' layers trade places too.
    assert other.opened.uncovered == pytest.approx(one.opened.uncovered, abs=0.01)
