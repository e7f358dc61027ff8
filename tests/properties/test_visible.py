"""Random flat faces in space: what is seen is the nearest, once, and all of it."""

from math import cos, pi, sin

import shapely
from hypothesis import given, settings
from hypothesis import strategies as st
from shapely.geometry import Point, Polygon

from foldproof.drawing.camera import dot, normal_of, project
from foldproof.drawing.panels import TOUCH_MM
from foldproof.drawing.solid import Face3, View
from foldproof.drawing.visible import draw_solid, visible_regions

VIEW = View()
places = st.floats(-60, 60, allow_nan=False)
turns = st.floats(-pi, pi, allow_nan=False)
# Points are tried this far inside a region, in mm: at its very edge either neighbour may be the one.
INSIDE_MM = 0.02


@st.composite
def convex_faces(draw, index=0):
    """A convex face of 3 to 7 corners on a circle of 15 to 50 mm, turned and placed anywhere."""
    count = draw(st.integers(3, 7))
    radius = draw(st.floats(15, 50))
    shares = [i + draw(st.floats(-0.35, 0.35)) for i in range(count)]
    yaw, pitch, roll = draw(turns), draw(turns), draw(turns)
    middle = (draw(places), draw(places), draw(places))
    return Face3(
        name=f"face {index}",
        outline=tuple(
            placed(
                (radius * cos(2 * pi * s / count), radius * sin(2 * pi * s / count), 0.0),
                yaw,
                pitch,
                roll,
                middle,
            )
            for s in shares
        ),
    )


def placed(point, yaw, pitch, roll, middle):
    x, y, z = point
    x, y = x * cos(yaw) - y * sin(yaw), x * sin(yaw) + y * cos(yaw)
    y, z = y * cos(pitch) - z * sin(pitch), y * sin(pitch) + z * cos(pitch)
    x, z = x * cos(roll) - z * sin(roll), x * sin(roll) + z * cos(roll)
    return (x + middle[0], y + middle[1], z + middle[2])


def scenes(least=2, most=8):
    return st.lists(convex_faces(), min_size=least, max_size=most).map(
        lambda faces: tuple(Face3(name=f"face {i}", outline=face.outline) for i, face in enumerate(faces))
    )


def shapes_of(faces, view=VIEW):
    return [Polygon([p[:2] for p in project(view, face.outline)]) for face in faces]


@settings(max_examples=150, deadline=None)
@given(scenes().filter(lambda faces: all(lean(face) > 0.05 for face in faces)))
def test_what_is_seen_covers_the_whole_picture_once(faces):
    regions = visible_regions(faces, VIEW)
    whole = shapely.union_all(shapes_of(faces)).area
    assert abs(sum(region.area for region in regions) - whole) <= 0.005 * whole
    assert abs(shapely.union_all(list(regions)).area - whole) <= 0.005 * whole


@settings(max_examples=150, deadline=None)
@given(scenes(), st.randoms(use_true_random=False))
def test_what_is_seen_at_a_point_is_the_nearest_face_there(faces, random):
    shapes = shapes_of(faces)
    for index, region in enumerate(visible_regions(faces, VIEW)):
        inside = region.buffer(-INSIDE_MM)
        if inside.is_empty:
            continue
        low_x, low_y, high_x, high_y = inside.bounds
        for _ in range(20):
            point = Point(random.uniform(low_x, high_x), random.uniform(low_y, high_y))
            if not inside.covers(point):
                continue
            depths = [
                depth_of(face, point) if shape.covers(point) else float("-inf")
                for face, shape in zip(faces, shapes, strict=True)
            ]
            assert depths[index] >= max(depths) - slack_mm(faces)


def depth_of(face, point):
    corners = project(VIEW, face.outline)
    normal = normal_of(corners)
    if abs(normal[2]) < 1e-4:
        return float("-inf")  # edge on: it is a line, and hides nothing
    height = dot(normal, corners[0])
    return (height - normal[0] * point.x - normal[1] * point.y) / normal[2]


def lean(face):
    """How much of a face is seen: 1 from straight before it, 0 edge on, where it is drawn as a line."""
    return abs(normal_of(project(VIEW, face.outline))[2])


def slack_mm(faces):
    """Touching depth, and what the grid of the cuts makes of it on the steepest face."""
    steepest = max(1.0 / max(lean(face), 1e-4) for face in faces)
    return TOUCH_MM + 1e-5 * steepest


@settings(max_examples=60, deadline=None)
@given(scenes(), st.floats(-180, 180))
def test_turning_the_faces_and_the_reader_together_changes_nothing(faces, turn_deg):
    turn = turn_deg * pi / 180
    turned = tuple(
        Face3(
            name=face.name,
            outline=tuple(
                (x * cos(turn) - y * sin(turn), x * sin(turn) + y * cos(turn), z) for x, y, z in face.outline
            ),
        )
        for face in faces
    )
    view = View(azimuth_deg=VIEW.azimuth_deg + turn_deg, elevation_deg=VIEW.elevation_deg)
    for one, other in zip(visible_regions(faces, VIEW), visible_regions(turned, view), strict=True):
        assert abs(one.area - other.area) <= 0.05 + 1e-3 * one.area


@settings(max_examples=60, deadline=None)
@given(scenes(), st.floats(0.2, 1.0))
def test_every_scene_can_be_drawn_within_its_frame(faces, mm_per_mm):
    drawing = draw_solid(faces, VIEW, mm_per_mm=mm_per_mm)
    bounds = shapely.union_all(shapes_of(faces)).bounds
    assert abs(drawing.width_mm - mm_per_mm * (bounds[2] - bounds[0])) <= 0.1
    assert abs(drawing.height_mm - mm_per_mm * (bounds[3] - bounds[1])) <= 0.1
    assert drawing == draw_solid(faces, VIEW, mm_per_mm=mm_per_mm)
