"""Plates that touch, judged by separating axes, against python-fcl and against the definition of depth.

Every run draws the same poses: seeded, so that no test passes or fails by chance.
"""

import fcl
import numpy as np
import pytest

from foldproof.folding.plates import depth, make_plates, touching
from foldproof.geometry.plane import convex_parts, inset, signed_area

BAND_MM = 1e-5  # a pose whose depth is nearer to nothing than this is a matter of rounding for either side
NO_LIMIT_MM = -np.inf  # depth() goes through all its axes
FULL_SHARE = 1.0
THICKNESS_MM = 0.4

RECTANGLE = ((0.0, 0.0), (60.0, 0.0), (60.0, 35.0), (0.0, 35.0))
TAB = ((10.0, 5.0), (40.0, 9.0), (40.0, 25.0), (10.0, 29.0))
TRIANGLE = ((-30.0, -20.0), (35.0, -10.0), (0.0, 30.0))
HEXAGON = tuple((25.0 * np.cos(a), 25.0 * np.sin(a)) for a in np.radians(np.arange(0, 360, 60)))
STRIP = ((0.0, 0.0), (90.0, 0.0), (90.0, 3.0), (0.0, 3.0))
CONVEX = (RECTANGLE, TAB, TRIANGLE, HEXAGON, STRIP)
ELL = ((0.0, 0.0), (60.0, 0.0), (60.0, 20.0), (20.0, 20.0), (20.0, 50.0), (0.0, 50.0))
ELL_TRIANGLES = ((0, 1, 3), (1, 2, 3), (0, 3, 4), (0, 4, 5))  # by hand
ARROW = ((0.0, 0.0), (50.0, 20.0), (0.0, 40.0), (15.0, 20.0))
ARROW_TRIANGLES = ((0, 1, 3), (1, 2, 3))


def prism(outline, thickness_mm):
    """A convex polygon as a solid for fcl."""
    count, half = len(outline), thickness_mm / 2
    corners = np.array([(x, y, -half) for x, y in outline] + [(x, y, half) for x, y in outline])
    faces = [count, *range(count - 1, -1, -1), count, *range(count, 2 * count)]
    for k in range(count):
        after = (k + 1) % count
        faces += [4, k, after, count + after, count + k]
    return fcl.Convex(corners, count + 2, np.array(faces))


def shell(outline, triangles, thickness_mm):
    """A polygon of any shape as the surface of a plate, triangles for fcl."""
    count, half = len(outline), thickness_mm / 2
    corners = np.array([(x, y, -half) for x, y in outline] + [(x, y, half) for x, y in outline])
    faces = [(c, b, a) for a, b, c in triangles] + [(a + count, b + count, c + count) for a, b, c in triangles]
    for k in range(count):
        after = (k + 1) % count
        faces += [(k, after, count + after), (k, count + after, count + k)]
    model = fcl.BVHModel()
    model.beginModel(len(faces), len(corners))
    model.addSubModel(corners, np.array(faces))
    model.endModel()
    return model


def random_motions(chance, count, reach_mm):
    """Rigid motions (count, 4, 4): half of them turned anyhow, half nearly flat on each other, as layers are."""
    quaternions = chance.normal(size=(count, 4))
    near = np.array([1.0, 0.0, 0.0, 0.0]) + chance.normal(scale=0.01, size=(count, 4))
    quaternions[::2] = near[::2]
    quaternions /= np.linalg.norm(quaternions, axis=1, keepdims=True)
    w, x, y, z = quaternions.T
    motions = np.zeros((count, 4, 4))
    motions[:, 0, :3] = np.stack([1 - 2 * (y * y + z * z), 2 * (x * y - w * z), 2 * (x * z + w * y)], axis=1)
    motions[:, 1, :3] = np.stack([2 * (x * y + w * z), 1 - 2 * (x * x + z * z), 2 * (y * z - w * x)], axis=1)
    motions[:, 2, :3] = np.stack([2 * (x * z - w * y), 2 * (y * z + w * x), 1 - 2 * (x * x + y * y)], axis=1)
    motions[:, :3, 3] = chance.uniform(-reach_mm, reach_mm, size=(count, 3))
    motions[::2, 2, 3] *= 0.02  # a layer or two above or below
    motions[:, 3, 3] = 1.0
    return motions


def meet(one, other, motion):
    """Does fcl find the two solids in each other?"""
    still = fcl.CollisionObject(one, fcl.Transform())
    moved = fcl.CollisionObject(other, fcl.Transform(motion[:3, :3], motion[:3, 3]))
    return fcl.collide(still, moved, fcl.CollisionRequest(), fcl.CollisionResult()) > 0


def judged(plates, one, other, motions):
    """The true depth of each pose and the answer of ``touching`` without any limit."""
    a, b = np.full(len(motions), one), np.full(len(motions), other)
    return depth(plates, a, b, motions, NO_LIMIT_MM), touching(plates, a, b, motions, 0.0)


@pytest.mark.parametrize("first", range(len(CONVEX)))
@pytest.mark.parametrize("second", range(len(CONVEX)))
def test_convex_plates_touch_when_fcl_says_so(first, second):
    plates = make_plates(CONVEX, THICKNESS_MM, 0.0, FULL_SHARE)
    motions = random_motions(np.random.default_rng(100 * first + second), 500, 30.0)
    depths, touched = judged(plates, first, second, motions)
    clear = np.abs(depths) > BAND_MM
    one, other = prism(CONVEX[first], THICKNESS_MM), prism(CONVEX[second], THICKNESS_MM)
    said = np.array([meet(one, other, motion) for motion in motions])
    assert np.count_nonzero(clear) > 480
    assert 15 < np.count_nonzero(said) < 485, "both answers are asked for"
    assert (touched[clear] == said[clear]).all()


@pytest.mark.parametrize(("outline", "triangles"), [(ELL, ELL_TRIANGLES), (ARROW, ARROW_TRIANGLES)])
@pytest.mark.parametrize("other", [RECTANGLE, STRIP, ELL])
def test_plates_with_a_notch_touch_where_one_of_their_convex_parts_does(outline, triangles, other):
    plates = make_plates((outline, other), THICKNESS_MM, 0.0, FULL_SHARE)
    assert plates.first[1] > 1, "a notched outline has several convex parts"
    motions = random_motions(np.random.default_rng(len(outline) + len(other)), 500, 45.0)
    touched, nearest = np.zeros(len(motions), dtype=bool), np.full(len(motions), np.inf)
    for a in range(plates.first[0], plates.first[1]):
        for b in range(plates.first[1], plates.first[2]):
            depths, hit = judged(plates, a, b, motions)
            touched |= hit
            nearest = np.minimum(nearest, np.abs(depths))
    one = shell(outline, triangles, THICKNESS_MM)
    two = shell(ELL, ELL_TRIANGLES, THICKNESS_MM) if other is ELL else prism(other, THICKNESS_MM)
    said = np.array([meet(one, two, motion) for motion in motions])
    clear = nearest > BAND_MM
    assert np.count_nonzero(clear) > 480
    assert 20 < np.count_nonzero(said) < 480
    assert (touched[clear] == said[clear]).all()


@pytest.mark.parametrize("outline", [ELL, ARROW])
def test_convex_parts_make_up_the_whole(outline):
    areas = [signed_area(part) for part in convex_parts(outline)]
    assert len(areas) > 1 and min(areas) > 0
    assert sum(areas) == pytest.approx(signed_area(outline), abs=1e-9)


def solid_corners(outline):
    half = THICKNESS_MM / 2
    return np.array([(x, y, z) for x, y in outline for z in (-half, half)])


def way_out_mm(differences, directions):
    """How far one body has to go along each direction to be clear of the other: the support of their difference."""
    return (differences @ directions.T).max(axis=0)


def least_way_out_mm(differences, chance):
    """The depth by its definition: the shortest way out over all directions, many looked at and the best refined."""
    directions = chance.normal(size=(4000, 3))
    directions[:6] = np.concatenate([np.eye(3), -np.eye(3)])
    directions /= np.linalg.norm(directions, axis=1, keepdims=True)
    ways = way_out_mm(differences, directions)
    best = directions[np.argsort(ways)[:8]]
    width = 0.1
    while width > 1e-7:
        around = best[:, None, :] + width * chance.normal(size=(len(best), 60, 3))
        around = np.concatenate([best[:, None, :], around], axis=1)
        around /= np.linalg.norm(around, axis=2, keepdims=True)
        ways = way_out_mm(differences, around.reshape(-1, 3)).reshape(around.shape[:2])
        best = around[np.arange(len(best)), ways.argmin(axis=1)]
        width *= 0.6
    return float(ways.min())


@pytest.mark.parametrize("other", [RECTANGLE, TRIANGLE, HEXAGON])
def test_depth_is_the_shortest_way_out_over_all_directions(other):
    chance = np.random.default_rng(len(other))
    plates = make_plates((RECTANGLE, other), THICKNESS_MM, 0.0, FULL_SHARE)
    motions = random_motions(chance, 160, 25.0)
    depths, _ = judged(plates, 0, 1, motions)
    inside = np.nonzero(depths > BAND_MM)[0][:40]
    assert len(inside) == 40
    for pose in inside:
        moved = solid_corners(other) @ motions[pose, :3, :3].T + motions[pose, :3, 3]
        differences = (solid_corners(RECTANGLE)[:, None, :] - moved[None, :, :]).reshape(-1, 3)
        assert least_way_out_mm(differences, chance) == pytest.approx(depths[pose], abs=2e-3, rel=2e-3)


def test_moving_by_the_depth_and_no_less_parts_two_boxes_for_fcl():
    """Along the plate's normal, where two layers dip into each other."""
    plates = make_plates((RECTANGLE,), THICKNESS_MM, 0.0, FULL_SHARE)
    solid = prism(RECTANGLE, THICKNESS_MM)
    for height in (0.05, 0.2, 0.39):
        motion = np.eye(4)
        motion[:3, 3] = (12.0, 7.0, height)
        depths, _ = judged(plates, 0, 0, motion[None])
        assert depths[0] == pytest.approx(THICKNESS_MM - height, abs=1e-12)
        for further, still_in in ((depths[0] - 1e-4, True), (depths[0] + 1e-4, False)):
            lifted = motion.copy()
            lifted[2, 3] += further
            assert meet(solid, solid, lifted) is still_in


def test_a_limit_forgives_exactly_that_much():
    plates = make_plates((RECTANGLE,), THICKNESS_MM, 0.0, FULL_SHARE)
    motions = np.repeat(np.eye(4)[None], 3, axis=0)
    motions[:, 2, 3] = THICKNESS_MM - np.array([0.019, 0.021, 0.0])
    none = np.zeros(3, dtype=np.int64)
    assert touching(plates, none, none, motions, 0.02).tolist() == [False, True, False]


def test_solid_share_and_drawing_in_make_the_plate_smaller():
    plates = make_plates((RECTANGLE, STRIP), THICKNESS_MM, THICKNESS_MM, 0.9)
    smaller = prism(inset(RECTANGLE, THICKNESS_MM)[0], 0.9 * THICKNESS_MM)
    motions = random_motions(np.random.default_rng(5), 600, 50.0)
    depths, touched = judged(plates, 0, 0, motions)
    said = np.array([meet(smaller, smaller, motion) for motion in motions])
    clear = np.abs(depths) > BAND_MM
    assert (touched[clear] == said[clear]).all()
    wide = plates.corners[1, :, 1]
    assert float(wide.max() - wide.min()) == pytest.approx(3.0 - 2 * THICKNESS_MM, abs=1e-6)
