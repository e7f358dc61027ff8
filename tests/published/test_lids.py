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


# C: for a disc that must uncover entirely, giving away some margin moves the least angle, hole 8 from both walls.
@pytest.mark.parametrize(("given_away", "degrees"), [(0, 180), (0.1, 176), (0.25, 173.25), (0.5, 170.5), (1, 166.5)])
def test_the_least_angle_is_steep_in_the_margin(given_away, degrees):
    steps = np.arange(-9, 3, 0.02)
    across = np.arange(-1.5, 1.51, 0.02)
    diagonal, aside = (grid.ravel() for grid in np.meshgrid(steps, across, indexing="ij"))
    places = np.column_stack((diagonal - aside, diagonal + aside))
    kept = places[margins(disc_lid(160, 1e-3), BOX, shifts_mm=places, turns_rad=np.zeros(len(places))) >= 4 - given_away - 0.005]
    for angle, clears in ((degrees + 0.6, True), (degrees - 0.6, False)):
        turn = math.radians(angle)
        middle = 42 + (kept - 42) @ np.array([[math.cos(turn), math.sin(turn)], [-math.sin(turn), math.cos(turn)]])
        # The opening ends at the triangle's long edge and its two corners.
        ends = np.array([[10.0, 50.0], [50.0, 10.0]])
        near = np.clip((middle - ends[0]) @ (ends[1] - ends[0]) / 3200, 0, 1)
        gap = np.hypot(*(middle - ends[0] - near[:, None] * (ends[1] - ends[0])).T).max() - 80
        assert (gap > -0.03) is bool(clears) or degrees == 180
