"""Lids that cover and turn, against figures from definitions; each check says where its figures come from.

C: computed from a definition. CP: common practice, no source. Everything in mm unless inches are written.
"""

import math

import numpy as np
import pytest
from hypothesis import given
from hypothesis import strategies as st

from foldproof.geometry.cover import cover_margin, distance_to_outline, margins
from foldproof.geometry.outline import points_of
from foldproof.geometry.turn_area import overlap_areas, sweep_radius
from foldproof.outlines.disc import disc
from foldproof.outlines.regular_polygon import regular_polygon
from foldproof.outlines.rosette import rosette
from foldproof.outlines.square import square

FINE_MM = 1e-5  # chords so fine that a disc's figures hold to the digits given
IN = 25.4


def square_box(side):
    return points_of(square(side_mm=side).outline)


def disc_lid(diameter, chord_error_mm=FINE_MM):
    return points_of(disc(across_mm=diameter, chord_error_mm=chord_error_mm).outline)


# C: a square lid on a square box of side 100, turning about a point 8 in from two sides; 180 degrees gives 4 e^2.
@pytest.mark.parametrize(
    ("degrees", "area"),
    [(15, 8032.6161), (30, 6429.9406), (45, 5057.4326), (90, 1600), (120, 384), (180, 256), (0, 10_000)],
)
def test_a_square_lid_on_a_square_box(degrees, area):
    box = square_box(100)
    for sense in (1, -1):
        found = overlap_areas(box, box, (42.0, 42.0), np.array([sense * math.radians(degrees)]))
        assert found[0] == pytest.approx(area, abs=5e-5)


# C: its sweep radius is sqrt 2 (a - e).
def test_the_sweep_of_a_square_lid():
    assert sweep_radius(square_box(100), (42.0, 42.0)) == pytest.approx(130.1076, abs=5e-5)
    assert sweep_radius(square_box(100), (42.0, 42.0)) == pytest.approx(math.sqrt(2) * (100 - 8))


EVERY_DEGREE = np.radians(np.arange(360))
CHORD_MM = 0.02
places = st.floats(-30, 30)


def turned_about(pivot, angles):
    """The shifts that make turning about the origin a turn about the pivot."""
    cosine, sine = np.cos(angles), np.sin(angles)
    x, y = pivot
    return np.column_stack((x - cosine * x + sine * y, y - sine * x - cosine * y))


# C: a disc lid covers the box at every angle iff R >= |pivot - disc centre| + max |corner - pivot|.
@given(st.floats(30, 120), st.floats(30, 120), st.tuples(places, places), st.tuples(places, places))
def test_the_disc_rule(length, width, pivot, centre):
    corners = np.array([[length, width], [-length, width], [-length, -width], [length, -width]]) / 2
    away = corners - pivot
    off = math.dist(pivot, centre)
    least = off + np.hypot(*away.T).max()
    farthest = away[np.hypot(*away.T).argmax()]
    # The disc covers least when its middle is turned straight away from the corner that is farthest from the pivot.
    worst = math.atan2(-farthest[1], -farthest[0]) - math.atan2(centre[1] - pivot[1], centre[0] - pivot[0])
    angles = np.append(EVERY_DEGREE, worst)

    def least_margin(radius):
        lid = disc_lid(2 * radius, CHORD_MM / 4) + np.array(centre)
        return margins(lid, corners, shifts_mm=turned_about(pivot, angles), turns_rad=angles).min()

    assert least_margin(least + CHORD_MM) >= 0
    assert least_margin(least - CHORD_MM) < 0


# C, checked by area: a disc of radius 80 on a square box of side 100, triangle legs 40 in one corner, walls without
# thickness. Opening: the square less the triangle.
BOX = square_box(100)
OPENING = np.array([[-50, -50], [50, -50], [50, 10], [10, 50], [-50, 50]], dtype=float)
DISC = disc_lid(160)


# C: hole on the diagonal 8 inside the triangle's long edge, disc over the box's middle.
@pytest.mark.parametrize(("degrees", "percent"), [(90, 50.96), (120, 69.88), (150, 82.35), (180, 85.75), (0, 0.0)])
def test_what_a_disc_lid_uncovers(degrees, percent):
    along = (60 + 8 * math.sqrt(2)) / 2
    covered = overlap_areas(DISC, OPENING, (along, along), np.radians([degrees, -degrees]))
    assert 100 * (1 - covered / 9200) == pytest.approx([percent, percent], abs=0.005)


# C: hole 8 from both walls, opening entirely uncovered at 180 degrees: best margin legs / 2 - 2 e = 4.000.
def test_the_best_margin_when_all_of_the_opening_is_uncovered():
    def left_covered(along):
        return overlap_areas(DISC + along, OPENING, (42.0, 42.0), np.array([math.pi]))[0]

    clear, touching = -20.0, 0.0  # where the disc's middle may lie on the diagonal, seen from the box's middle
    assert left_covered(clear) == 0.0 and left_covered(touching) > 100.0
    while touching - clear > 1e-7:
        along = (clear + touching) / 2
        clear, touching = (clear, along) if left_covered(along) > 1e-6 else (along, touching)
    assert cover_margin(DISC + clear, BOX) == pytest.approx(4.000, abs=5e-4)
    sideways = np.arange(-5, 5.01, 0.5)
    beside = np.column_stack((clear + sideways, clear - sideways))
    assert margins(DISC, BOX, shifts_mm=beside, turns_rad=np.zeros(21)).argmax() == 10


# C: without that wish: R / sqrt 2 - side / 2 = 6.5685, over the box's middle.
def test_the_best_margin_of_a_disc():
    places = np.stack(np.meshgrid(np.arange(-3, 3.01, 0.25), np.arange(-3, 3.01, 0.25)), axis=-1).reshape(-1, 2)
    found = margins(DISC, BOX, shifts_mm=places, turns_rad=np.zeros(len(places)))
    assert places[found.argmax()].tolist() == [0, 0]
    assert found.max() == pytest.approx(6.5685, abs=5e-5)
    # A straight ruler finds the distance from corner to edge.
    assert distance_to_outline(DISC, BOX) == pytest.approx(80 - 50 * math.sqrt(2), abs=2 * FINE_MM)


# C: 4.000 is the best at 180 degrees. Beside the diagonal a little more is to be had at a smaller turn: the disc's
# middle may move round the far corner, which takes it farther from the hole. The second corner ends this at 4.0137.
def test_beside_the_diagonal_a_smaller_turn_gives_a_little_more():
    reach = 80 + (60 - 84) / math.sqrt(2)  # from the hole to a disc's middle that just clears the long edge
    sideways = 2.4
    along = 42 - math.sqrt(reach**2 / 2 - sideways**2)
    middle = np.array([along - sideways, along + sideways])
    bearing = math.atan2(*(middle - 42)[::-1])
    turn = math.pi / 4 - bearing - 2 * math.pi * (bearing < 0)
    turn = math.remainder(turn, 2 * math.pi)
    assert math.degrees(turn) == pytest.approx(-176.913, abs=1e-3)
    assert overlap_areas(DISC + middle, OPENING, (42.0, 42.0), np.array([turn]))[0] == pytest.approx(0, abs=1e-6)
    assert cover_margin(DISC + middle, BOX) == pytest.approx(4.0137, abs=2e-4)


# C: the largest square in a regular polygon with sides of 1. Here sides of 100, and the square is found by moving the
# sides of a small one outwards: its side and twice the best margin over all places and turns.
@pytest.mark.parametrize(
    ("sides", "largest"), [(3, 0.4641016), (5, 1.0673957), (6, 1.2679492), (8, 1.8477591), (4, 1.0)]
)
def test_the_largest_square_in_a_polygon(sides, largest):
    lid = points_of(regular_polygon(across_mm=100 / math.sin(math.pi / sides), sides=sides).outline)
    rim = square_box(20)
    grid = np.linspace(-1, 1, 9)
    x, y, turn = (values.ravel() for values in np.meshgrid(grid, grid, grid, indexing="ij"))
    best, span = np.zeros(3), np.array([30.0, 30.0, math.pi / 4])
    for _ in range(60):
        poses = best + span * np.column_stack((x, y, turn))
        found = margins(lid, rim, shifts_mm=poses[:, :2], turns_rad=poses[:, 2])
        best, span = poses[found.argmax()], span * 0.75
    assert 20 + 2 * found.max() == pytest.approx(100 * largest, abs=1e-3)
    assert 20 + 2 * found.max() <= 100 * largest + 1e-5


# CP: a 6 in disc leaves 0.121 in margin on a 4 in box ("only just") and 0.246 in on a 3 3/4 in box.
@pytest.mark.parametrize(("box_in", "margin_in"), [(4, 0.121), (3.75, 0.246)])
def test_a_six_inch_disc_lid(box_in, margin_in):
    lid = points_of(disc(across_mm=6 * IN).outline)
    assert cover_margin(lid, square_box(box_in * IN)) / IN == pytest.approx(margin_in, abs=0.0005)


# C: a ten-lobed shape on a square box never has all four corners under lobes (90 / 36 degrees = 2.5): when one
# diagonal falls on tips, the other falls on dips. Tips 2 3/4 in and dips 2 9/16 in from the middle.
def test_ten_lobes_on_a_square_box():
    shape = rosette(across_mm=5.5 * IN, lobes=10, depth_mm=3 / 16 * IN)

    def nearest(kind, bearing):
        bearings = [math.atan2(*mark.at_mm[::-1]) for mark in shape.landmarks if mark.kind == kind]
        return min(abs(math.remainder(bearing - b, 2 * math.pi)) for b in bearings)

    # The first diagonal along a tip (0 degrees), so the corners at 0, 90, 180 and 270 degrees.
    assert [nearest("tip", q * math.pi / 2) for q in (0, 2)] == pytest.approx([0, 0], abs=1e-9)
    assert [nearest("dip", q * math.pi / 2) for q in (1, 3)] == pytest.approx([0, 0], abs=1e-9)
    assert {round(math.hypot(*m.at_mm) / IN, 9) for m in shape.landmarks} == {2.75, 2.5625}
