"""Small pieces in the waste of a larger one: where they fit, and that they never touch what is kept."""

import itertools
import random

import pytest
import shapely

from foldproof.design.measure import measure
from foldproof.layout.waste import SAME_MM, place_in_waste
from foldproof.project.read import read_project

TRAY = """format = 1
name = "Tidepool"
unit = "in"
[cardstock]
sheet = "12x12"
weight = "216 gsm"
[parts.box]
construction = "double-wall tray"
base_length = "3 1/4"
base_width = "3 1/4"
wall_height = "2 1/4"
inner_wall = "1 1/2"
"""


def box(left, low, right, high):
    return ((left, low), (right, low), (right, high), (left, high))


def inside(blank, panels, places):
    """Every place in the waste, and none on another."""
    waste = shapely.box(0, 0, *blank).difference(shapely.union_all([shapely.Polygon(panel) for panel in panels]))
    shapes = [shapely.Polygon(place.outline) for place in places]
    return all(waste.buffer(2 * SAME_MM).covers(shape) for shape in shapes) and all(
        one.intersection(other).area < 1e-3 for one, other in itertools.combinations(shapes, 2)
    )


def test_both_strips_fit_in_the_waste_of_the_tray():
    piece = measure(read_project(TRAY)).parts[0].pieces[0].piece
    blank = (piece.blank_width_mm, piece.blank_height_mm)
    panels = [panel.outline for panel in piece.panels]
    strips = [(50.8, 25.4), (50.8, 25.4)]
    places = place_in_waste(blank, panels, strips)
    assert places is not None and inside(blank, panels, places)
    assert {tuple(sorted((p.width_mm, p.height_mm))) for p in places} == {(25.4, 50.8)}
    assert places == place_in_waste(blank, panels, strips)
    # The corner with the maker's pencil cross stays free while another has room.
    assert all(place.left_mm > 0.5 * blank[0] for place in places)
    assert place_in_waste(blank, panels, [(120.0, 60.0)]) is None


@pytest.mark.parametrize(("size", "turned"), [((40.0, 20.0), False), ((20.0, 40.0), True)])
def test_a_piece_as_large_as_the_waste_fits_either_way(size, turned):
    # 33.3 and 53.3 are on no grid: the place is found along the edges of the panel.
    panels = [box(0.0, 0.0, 60.0, 33.3), box(0.0, 33.3, 20.0, 53.3)]
    (place,) = place_in_waste((60.0, 53.3), panels, [size])
    assert (place.left_mm, place.low_mm, place.turned) == (20.0, 33.3, turned)


def test_a_hair_too_large_does_not_fit():
    panels = [box(0.0, 0.0, 60.0, 33.3), box(0.0, 33.3, 20.0, 53.3)]
    assert place_in_waste((60.0, 53.3), panels, [(40.001, 20.0)]) is None


def test_the_first_piece_makes_room_for_the_second():
    # Two parts of waste: the lower one is the only one large enough for the second piece.
    panels = [box(0.0, 50.0, 100.0, 60.0)]
    sizes = [(60.0, 20.0), (100.0, 50.0)]
    places = place_in_waste((100.0, 90.0), panels, sizes)
    assert places is not None and inside((100.0, 90.0), panels, places)
    assert places[0].low_mm == 60.0 and places[1].low_mm == 0.0


def test_random_waste_is_never_overrun():
    chance = random.Random(4)
    found = 0
    for _ in range(60):
        panels = []
        for _ in range(4):
            x, y = chance.uniform(0, 80), chance.uniform(0, 80)
            panels.append(box(x, y, x + chance.uniform(10, 40), y + chance.uniform(10, 40)))
        sizes = [(chance.uniform(10, 40), chance.uniform(10, 30)) for _ in range(2)]
        places = place_in_waste((100.0, 100.0), panels, sizes)
        if places is not None:
            found += 1
            assert inside((100.0, 100.0), panels, places)
    assert found > 20


def test_nothing_to_place_needs_no_waste():
    assert place_in_waste((10.0, 10.0), [box(0, 0, 10, 10)], []) == ()
