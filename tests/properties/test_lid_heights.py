"""Edges as heights against the plates of the folding engine: no later than these meet, and not without cause."""

from __future__ import annotations

import dataclasses
import math

import numpy as np
import shapely
from hypothesis import given, settings
from hypothesis import strategies as st
from shapely import affinity
from shapely.geometry import Polygon as Shape

from foldproof.folding.limits import FoldingLimits
from foldproof.folding.turning import Bodies, meetings
from foldproof.geometry import motion
from foldproof.lids.bodies import lid_bodies
from foldproof.lids.box import rectangle
from foldproof.lids.heights import catches, hanging_region
from foldproof.lids.records import Fastener, LidLayer, TurningBox, TurningLid

THICK_MM = 0.3
RIM_MM = 30.0
HALF_MM = 40.0
LEG_MM = 24.0
HOLE = (-32.0, 32.0)
STEP_DEG = 2.0
SHRUNK_MM = 0.45  # plates are drawn in by their thickness, and thinner: what is deeper than this they cannot miss
LIMITS = dataclasses.replace(FoldingLimits(), even_step_deg=STEP_DEG)
INNER_MM = HALF_MM - THICK_MM
CORNER = (-INNER_MM, INNER_MM)
TRIANGLE = (CORNER, (-INNER_MM, INNER_MM - LEG_MM), (-INNER_MM + LEG_MM, INNER_MM))
BOX = TurningBox(
    place="back left",
    rim=rectangle(2 * HALF_MM, 2 * HALF_MM),
    mouth=rectangle(2 * INNER_MM, 2 * INNER_MM),
    opening=rectangle(2 * INNER_MM, 2 * INNER_MM),
    rim_mm=RIM_MM,
    corner=CORNER,
    into=(math.sqrt(0.5), -math.sqrt(0.5)),
    triangle=TRIANGLE,
    tab_mm=THICK_MM,
    mass_g=10.0,
    centre=(0.0, 0.0),
)
BRAD = Fastener(kind="brad", hole_mm=3.0, head_mm=6.0, legs_mm=9.0, back_mm=0.0, least_mm=0.0, most_mm=8.0, mass_g=0.5)


def solids() -> Bodies:
    """The four walls and the level triangle as plates, in the box's frame with z from the base."""
    outlines, world, names = [], [], []
    middle = HALF_MM - 0.5 * THICK_MM
    wall = ((-HALF_MM, 0.0), (HALF_MM, 0.0), (HALF_MM, RIM_MM), (-HALF_MM, RIM_MM))
    for name, turn in (("wall_front", 0.0), ("wall_right", 90.0), ("wall_back", 180.0), ("wall_left", 270.0)):
        upright = np.eye(4)
        upright[:3, :3] = np.array([[1.0, 0.0, 0.0], [0.0, 0.0, -1.0], [0.0, 1.0, 0.0]])
        upright[1, 3] = -middle
        axis = np.array([0.0, 0.0, 1.0])
        world.append(motion.turn(np.zeros(3), axis, np.array([math.radians(turn)]))[0] @ upright)
        outlines.append(wall)
        names.append(name)
    level = np.eye(4)
    level[2, 3] = RIM_MM - 0.5 * THICK_MM
    return Bodies(outlines=(*outlines, TRIANGLE), world=np.array([*world, level]), names=(*names, "triangle"))


@st.composite
def lids(draw: st.DrawFn) -> TurningLid:
    """One hanging layer with straight edges, convex or not: round the whole box, or small inside its mouth.

    Its corners are blunt: at a sharp one the plates, which are square to their edges, would stand out past the layer.
    """
    count = draw(st.integers(6, 11))
    border, droop = draw(st.floats(3.0, 8.0)), draw(st.floats(2.0, 6.0))
    shares = draw(st.lists(st.floats(0.0, 1.0), min_size=count, max_size=count))
    start = draw(st.floats(0.0, 2.0 * math.pi))
    if draw(st.booleans()):
        # Every edge stays outside the circle round the box by the border and a little more.
        least = (HALF_MM * math.sqrt(2.0) + border + 0.5) / math.cos(math.pi / count)
        middle, radii = (0.0, 0.0), [least * (1.0 + 0.1 * share) for share in shares]
    else:
        middle, radii = (12.0, -12.0), [20.0 + 3.0 * share for share in shares]
    turns = (start + 2.0 * math.pi * n / count for n in range(count))
    outline = tuple(
        (middle[0] + r * math.cos(turn), middle[1] + r * math.sin(turn)) for r, turn in zip(radii, turns, strict=True)
    )
    layer = LidLayer(
        name="layer_1",
        outline=outline,
        low_mm=0.0,
        high_mm=THICK_MM,
        mass_g=1.0,
        droop_mm=droop,
        lift_mm=0.0,
        border_mm=border,
        pierced=True,
        greeting=False,
    )
    return TurningLid(layers=(layer,), fastener=BRAD, hole=HOLE, triangle_layers_mm=2 * THICK_MM)


def surely_met(lid: TurningLid, sense: float) -> float:
    """The first even step at which what hangs deep overlaps a wall or triangle, all drawn in; infinite if never."""
    deep = hanging_region(lid, 0, 2.0 * THICK_MM).buffer(-SHRUNK_MM)
    ring = Shape(BOX.rim).difference(Shape(BOX.mouth))
    fixed = shapely.union_all([ring.buffer(-0.1 * THICK_MM), Shape(TRIANGLE).buffer(-SHRUNK_MM)])
    for angle in np.arange(0.0, 180.0 + 1e-9, STEP_DEG).tolist():
        if affinity.rotate(deep, sense * angle, origin=HOLE).intersection(fixed).area > 0.3:
            return float(angle)
    return math.inf


@settings(max_examples=40, deadline=None)
@given(lids())
def test_a_lid_catches_no_later_than_its_plates_meet_and_these_no_later_than_they_must(lid: TurningLid) -> None:
    met = meetings(solids(), lid_bodies(lid, RIM_MM), HOLE, THICK_MM, LIMITS)
    found = catches(BOX, lid, LIMITS.contact_limit_mm(THICK_MM))
    for sense in (1.0, -1.0):
        plates = min((abs(m.angle_deg) for m in met if m.angle_deg * sense >= 0.0), default=math.inf)
        ours = min((abs(c.angle_deg) for c in found if c.angle_deg * sense >= 0.0), default=math.inf)
        assert ours <= plates + 1e-9
        assert plates <= surely_met(lid, sense) + 1e-9


@settings(max_examples=40, deadline=None)
@given(lids())
def test_before_it_catches_nothing_overlaps_and_just_after_something_does(lid: TurningLid) -> None:
    contact = LIMITS.contact_limit_mm(THICK_MM)
    ring = Shape(BOX.rim).difference(Shape(BOX.mouth))
    fixed = shapely.union_all([ring, Shape(TRIANGLE)])
    hanging = hanging_region(lid, 0, contact)
    for catch in catches(BOX, lid, contact):
        sense = math.copysign(1.0, catch.angle_deg)
        for angle in np.arange(0.0, abs(catch.angle_deg), 0.5).tolist():
            turned = affinity.rotate(hanging, sense * angle, origin=HOLE)
            assert turned.intersection(fixed).area == 0.0
        near = affinity.rotate(hanging, catch.angle_deg + sense * 0.1, origin=HOLE)
        reach = float(np.hypot(*(shapely.get_coordinates(hanging) - HOLE).T).max())
        assert near.distance(fixed) <= contact + reach * math.radians(0.1)
