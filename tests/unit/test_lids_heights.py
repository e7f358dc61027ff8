"""Hanging and lifted edges of a lid as heights: what catches, at which turn, and what presses on what."""

import dataclasses
import math

import pytest

from foldproof.geometry.plane import Polygon
from foldproof.lids.box import rectangle
from foldproof.lids.heights import catches, hanging_region, presses
from foldproof.lids.records import Fastener, LidLayer, TurningBox, TurningLid

CONTACT_MM = 0.02
BRAD = Fastener(kind="brad", hole_mm=3.0, head_mm=6.0, legs_mm=12.0, back_mm=0.0, least_mm=0.0, most_mm=8.0, mass_g=0.5)
FLAT = LidLayer(
    name="layer_1",
    outline=rectangle(120.0, 120.0),
    low_mm=0.0,
    high_mm=0.3,
    mass_g=1.0,
    droop_mm=0.0,
    lift_mm=0.0,
    border_mm=6.0,
    pierced=True,
    greeting=False,
)


def box(side_mm: float = 80.0, wall_mm: float = 1.0) -> TurningBox:
    """A square box of a side, its triangle of legs 20 mm at the back left."""
    half = 0.5 * side_mm - wall_mm
    corner = (-half, half)
    return TurningBox(
        place="back left",
        rim=rectangle(side_mm, side_mm),
        mouth=rectangle(2 * half, 2 * half),
        opening=rectangle(2 * half, 2 * half),
        rim_mm=50.0,
        corner=corner,
        into=(math.sqrt(0.5), -math.sqrt(0.5)),
        triangle=(corner, (-half, half - 20.0), (-half + 20.0, half)),
        tab_mm=0.3,
        mass_g=10.0,
        centre=(0.0, 0.0),
    )


def lid(*layers: LidLayer, hole: tuple[float, float] = (-30.0, 30.0), fastener: Fastener = BRAD) -> TurningLid:
    return TurningLid(layers=layers, fastener=fastener, hole=hole, triangle_layers_mm=0.6)


def layer(number: int, outline: Polygon, low_mm: float, **shaped: float) -> LidLayer:
    return dataclasses.replace(
        FLAT, name=f"layer_{number}", outline=outline, low_mm=low_mm, high_mm=low_mm + 0.3, **shaped
    )


def test_a_flat_lid_catches_nothing():
    assert catches(box(), lid(FLAT), CONTACT_MM) == ()


def test_the_deeper_part_of_a_border_is_narrower():
    """A border of 6 mm that hangs 3 mm is at half its depth 3 mm from the outline."""
    hanging = lid(dataclasses.replace(FLAT, droop_mm=3.0))
    whole, half = hanging_region(hanging, 0, 0.0), hanging_region(hanging, 0, 1.5)
    assert whole.area == pytest.approx(120.0**2 - 108.0**2)
    assert half.area == pytest.approx(120.0**2 - 114.0**2)
    assert hanging_region(hanging, 0, 3.0).is_empty


def test_what_lies_over_a_lower_layer_rests_on_it():
    low = dataclasses.replace(FLAT, outline=rectangle(120.0, 60.0))
    upper = layer(2, rectangle(100.0, 100.0), 0.3, droop_mm=3.0)
    hanging = hanging_region(lid(low, upper), 1, 0.0)
    assert hanging.bounds == pytest.approx((-50.0, -50.0, 50.0, 50.0))
    assert hanging.intersection(hanging_region(lid(upper), 0, 0.0)).area == pytest.approx(hanging.area)
    assert not any(abs(y) < 30.0 - 1e-9 for piece in hanging.geoms for _, y in piece.exterior.coords)


def test_the_first_turn_at_which_a_hanging_edge_meets_a_wall():
    """A square lid turning about its own middle: its hanging edge, 0.5 mm off a square box, meets it at a known turn.

    The rim's corner lies on a circle of radius R = 40 root 2; the hanging border's inside, a square of half side
    s, meets it when R cos(45 deg - turn) = s, that is at 45 deg - acos(s / R). The border is as deep as the contact
    limit 6 (1 - 0.02 / 3) mm from the outline.
    """
    half = 40.5 + 6.0
    outline = rectangle(2 * half, 2 * half)
    hanging = lid(dataclasses.replace(FLAT, outline=outline, droop_mm=3.0), hole=(0.0, 0.0))
    inner = half - 6.0 * (1.0 - CONTACT_MM / 3.0)
    expected = 45.0 - math.degrees(math.acos(inner / (40.0 * math.sqrt(2.0))))
    found = catches(box(), hanging, CONTACT_MM)
    assert [met.layer for met in found] == ["layer_1", "layer_1"]
    assert [math.copysign(1.0, met.angle_deg) for met in found] == [1.0, -1.0]
    for met in found:
        assert abs(met.angle_deg) == pytest.approx(expected, abs=0.15)
        assert abs(met.angle_deg) <= expected + 1e-9  # told downwards: sooner is the safe side
        assert met.on.startswith("wall_") and met.depth_mm == pytest.approx(3.0)


def test_an_edge_that_is_on_a_wall_when_closed_catches_at_once():
    tight = lid(dataclasses.replace(FLAT, outline=rectangle(86.0, 86.0), droop_mm=3.0))
    (met,) = catches(box(), tight, CONTACT_MM)
    assert met.angle_deg == 0.0 and met.on.startswith("wall_")


def small_flap(away_mm: float) -> LidLayer:
    """A square of 2 mm, hanging 3 mm all over, its middle so far from the hole, straight into the box."""
    x, y = -30.0 + away_mm * math.sqrt(0.5), 30.0 - away_mm * math.sqrt(0.5)
    outline = ((x - 1.0, y - 1.0), (x + 1.0, y - 1.0), (x + 1.0, y + 1.0), (x - 1.0, y + 1.0))
    return layer(1, outline, 0.0, droop_mm=3.0, border_mm=1.0)


def test_an_edge_inside_the_mouth_meets_the_triangle():
    """The long edge is root 2 mm from the hole, square to the way in. Turned by t, the flap's middle is 8 cos t along
    that way and its nearest corner root 2 sin t less, so it comes within the limit where
    8 cos t - root 2 sin t = root 2 + 0.02.
    """
    long, lean = math.hypot(8.0, math.sqrt(2.0)), math.atan2(math.sqrt(2.0), 8.0)
    expected = math.degrees(math.acos((math.sqrt(2.0) + CONTACT_MM) / long) - lean)
    found = catches(box(), lid(small_flap(8.0)), CONTACT_MM)
    assert [met.on for met in found] == ["triangle", "triangle"]
    for met in found:
        assert expected - 0.15 <= abs(met.angle_deg) <= expected + 0.05


def test_an_edge_in_the_way_of_what_stands_out_under_the_triangle_catches_on_it():
    """A socket 10 mm wide stands 3.6 mm over the long edge, 0.6 mm below the rim: a flap 5 mm away is on it at once."""
    snap = dataclasses.replace(BRAD, kind="snap", legs_mm=0.0, back_mm=10.0)
    (met,) = catches(box(), lid(small_flap(5.0), fastener=snap), CONTACT_MM)
    assert (met.on, met.angle_deg) == ("fastener", 0.0)
    shallow = dataclasses.replace(small_flap(5.0), droop_mm=0.5)
    assert all(met.on == "triangle" for met in catches(box(), lid(shallow, fastener=snap), CONTACT_MM))


def test_a_lifted_edge_presses_on_the_layer_over_it():
    low = dataclasses.replace(FLAT, lift_mm=3.0, border_mm=6.0)
    # The upper layer ends 2 mm inside: the edge there is 3 (1 - 2 / 6) = 2 mm up, and the room is 1.5 mm.
    upper = layer(2, rectangle(116.0, 116.0), 0.3 + 1.5)
    (press,) = presses(lid(low, upper), CONTACT_MM)
    assert (press.layer, press.on) == ("layer_1", "layer_2")
    assert press.by_mm == pytest.approx(0.5) and press.room_mm == pytest.approx(1.5)


def test_a_lifted_edge_with_room_presses_on_nothing():
    low = dataclasses.replace(FLAT, lift_mm=3.0, border_mm=6.0)
    assert presses(lid(low, layer(2, rectangle(116.0, 116.0), 0.3 + 2.1)), CONTACT_MM) == ()
    assert presses(lid(low, layer(2, rectangle(100.0, 100.0), 0.3)), CONTACT_MM) == ()
    assert presses(lid(low), CONTACT_MM) == ()


def test_the_layer_that_is_pressed_on_is_the_nearest_of_those():
    low = dataclasses.replace(FLAT, lift_mm=3.0, border_mm=6.0)
    small, large = layer(2, rectangle(60.0, 60.0), 0.3), layer(3, rectangle(120.0, 120.0), 0.6)
    (press,) = presses(lid(low, small, large), CONTACT_MM)
    assert press.on == "layer_3" and press.by_mm == pytest.approx(3.0 - 0.3)
