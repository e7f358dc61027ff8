"""Vector files against what standards say of them.

Sources: W3C, CSS Values and Units Module Level 3, "Absolute lengths" (1 in = 2.54 cm = 96 px, 1 pt = 1/72 in,
1 pc = 1/6 in, 1 Q = 1/40 cm); W3C, Scalable Vector Graphics (SVG) 2, "Initial viewport", "Paths", and its appendix
"Elliptical arc implementation notes"; figures of its examples from memory, checked against the formula there.
Codes of the DXF variable $INSUNITS: public reference of the format, value from memory.
"""

import math

import numpy as np
import pytest
import shapely

from foldproof.outlines.svg_path import arc_between
from foldproof.outlines.vector_dxf import read_dxf
from foldproof.outlines.vector_svg import read_svg


def svg(body, head=""):
    return read_svg(f'<svg xmlns="http://www.w3.org/2000/svg" {head}>{body}</svg>'.encode())


@pytest.mark.parametrize(
    ("written", "mm"),
    [
        ("96", 25.4),
        ("96px", 25.4),
        ("1in", 25.4),
        ("2.54cm", 25.4),
        ("25.4mm", 25.4),
        ("72pt", 25.4),
        ("6pc", 25.4),
        ("101.6Q", 25.4),
    ],
)
def test_absolute_lengths(written, mm):
    """An inch in each of the units, as the side of a square without a view box."""
    (found,) = svg(f'<rect width="{written}" height="{written}"/>').shapes
    assert (found.width_mm, found.height_mm) == pytest.approx((mm, mm))


@pytest.mark.parametrize("code_and_mm", [(1, 25.4), (2, 304.8), (4, 1.0), (5, 10.0), (6, 1000.0), (14, 100.0)])
def test_units_of_dxf(code_and_mm):
    """Value from memory: 1 inches, 2 feet, 4 millimetres, 5 centimetres, 6 metres, 14 decimetres."""
    code, mm = code_and_mm
    radius = 30 / mm
    text = (
        f"  0\nSECTION\n  2\nHEADER\n  9\n$ACADVER\n  1\nAC1009\n  9\n$INSUNITS\n 70\n{code}\n  0\nENDSEC\n"
        f"  0\nSECTION\n  2\nENTITIES\n  0\nCIRCLE\n  8\n0\n 10\n0\n 20\n0\n 40\n{radius}\n  0\nENDSEC\n  0\nEOF\n"
    )
    (found,) = read_dxf(text.encode()).shapes
    assert found.width_mm == pytest.approx(60, abs=0.03)


@pytest.mark.parametrize(
    ("large", "sweep", "middle", "turn"),
    [(0, 0, (225, 75), -90), (0, 1, (125, 125), 90), (1, 0, (125, 125), -270), (1, 1, (225, 75), 270)],
)
def test_the_four_arcs_between_two_points(large, sweep, middle, turn):
    """SVG 2, "The elliptical arc curve commands": M 125,75 a100,50 0 ?,? 100,50, and which arc the flags take."""
    arc = arc_between((125, 75), (225, 125), 100, 50, 0, (large, sweep))
    assert arc.middle == pytest.approx(middle)
    assert math.degrees(arc.sweep_rad) == pytest.approx(turn)


def test_the_example_of_a_round_cake_with_a_slice_taken_out():
    """SVG 2, "Paths", example of arcs: M300,200 h-150 a150,150 0 1,0 150,-150 z, and its slice besides."""
    head = 'width="12cm" height="5.25cm" viewBox="0 0 1200 400"'
    cake = '<path d="M300,200 h-150 a150,150 0 1,0 150,-150 z"/><path d="M275,175 v-150 a150,150 0 0,0 -150,150 z"/>'
    found = svg(cake, head).shapes
    mm2 = 0.1**2  # 1200 units on 12 cm
    assert [each.area_mm2 for each in found] == pytest.approx(
        [0.75 * math.pi * 150**2 * mm2, 0.25 * math.pi * 150**2 * mm2], abs=1.5
    )
    assert [each.width_mm for each in found] == pytest.approx([30, 15], abs=0.03)


def test_conversion_from_ends_to_middle():
    """SVG 2, "Conversion from endpoint to center parameterization", the other way round: its equations for the ends."""
    for turn_deg in (0, 30, -75):
        turn = math.radians(turn_deg)
        spin = np.array([[math.cos(turn), -math.sin(turn)], [math.sin(turn), math.cos(turn)]])
        for begin, sweep in ((0.3, 1.0), (2.0, -4.5), (5.0, 6.0), (-1.0, -0.2)):
            ends = [
                tuple(spin @ (60 * math.cos(a), 25 * math.sin(a)) + (10, -20)) for a in (begin, begin + sweep)
            ]
            arc = arc_between(*ends, 60, 25, turn_deg, (abs(sweep) > math.pi, sweep > 0))
            assert arc.middle == pytest.approx((10, -20), abs=1e-6)
            assert arc.sweep_rad == pytest.approx(sweep)
            assert math.remainder(arc.start_rad - begin, math.tau) == pytest.approx(0, abs=1e-6)


def test_half_diameters_too_short_grow_until_they_reach():
    """SVG 2, "Correction of out-of-range radii": scaled up evenly until there is exactly one solution."""
    arc = arc_between((0, 0), (100, 0), 10, 5, 0, (0, 1))
    assert arc.middle == pytest.approx((50, 0)) and abs(arc.sweep_rad) == pytest.approx(math.pi)
    assert (math.hypot(*arc.one), math.hypot(*arc.other)) == pytest.approx((50, 25))


def test_fill_rules_of_the_standards_example():
    """SVG 2, "Winding rule": a square within a square the same way round is filled by nonzero, a hole by evenodd."""
    square = "M0 0H200V200H0z M50 50H150V150H50z"
    for rule, holes in (("nonzero", 0), ("evenodd", 1)):
        (found,) = svg(f'<path fill-rule="{rule}" d="{square}"/>').shapes
        assert len(found.holes) == holes
        ring = shapely.Polygon(found.outline, found.holes)
        assert ring.area == pytest.approx((40_000 - 10_000 * holes) * (25.4 / 96) ** 2)
