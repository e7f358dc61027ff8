"""The folded picture: which faces and lines are seen, in which tone, and what is drawn once."""

from itertools import pairwise
from math import cos, dist, hypot, radians, sin
from time import perf_counter

import pytest
import shapely
from shapely.geometry import MultiPoint, Polygon

from foldproof.drawing.camera import fit_scale, project
from foldproof.drawing.records import Area, Path, Stroke
from foldproof.drawing.regions import COVER_MM
from foldproof.drawing.segments import Line, joined, left_of
from foldproof.drawing.solid import Arrow3, Face3, Guide3, View
from foldproof.drawing.visible import draw_solid, visible_regions

VIEW = View()
FROM_ABOVE = View(azimuth_deg=0.0, elevation_deg=90.0)
FROM_THE_FRONT = View(azimuth_deg=0.0, elevation_deg=0.0)


def box_sides(width, depth, height):
    """Four walls and a base; faces look in, so the coloured back is outside."""
    a, b, c, d = (0, 0, 0), (width, 0, 0), (width, depth, 0), (0, depth, 0)
    e, f, g, h = (0, 0, height), (width, 0, height), (width, depth, height), (0, depth, height)
    return (
        Face3(name="base", outline=(a, b, c, d), folds=(0, 1, 2, 3)),
        Face3(name="front", outline=(b, a, e, f), folds=(0,)),
        Face3(name="right", outline=(c, b, f, g), folds=(0,)),
        Face3(name="back", outline=(d, c, g, h), folds=(0,)),
        Face3(name="left", outline=(a, d, h, e), folds=(0,)),
    )


def cube(size=10.0):
    top = ((0, 0, size), (0, size, size), (size, size, size), (size, 0, size))
    return (*box_sides(size, size, size), Face3(name="top", outline=top))


def flat_square(name, x, y, z, size, **details):
    outline = ((x, y, z), (x + size, y, z), (x + size, y + size, z), (x, y + size, z))
    return Face3(name=name, outline=outline, **details)


def strip(name, *outline):
    """A rim between a wall and its inner wall."""
    return Face3(name=name, outline=outline, folds=(0, 2))


def inner_wall(name, *outline):
    return Face3(name=name, outline=outline, coloured_side="face", folds=(0,))


def tray(gap=0.6):
    """82 x 82 x 57, two inner walls ``gap`` inside, reaching 38 down, joined over a narrow rim."""
    w, h, low, top = 82.0, 57.0, 19.0, 56.0
    sides = box_sides(w, w, h)
    rims = (
        strip("left rim", (0, 0, h), (0, w, h), (gap, w, h), (gap, 0, h)),
        strip("back rim", (0, w, h), (w, w, h), (w, w - gap, h), (0, w - gap, h)),
    )
    inner = (
        inner_wall("left inner", (gap, w, h), (gap, 0, h), (gap, 0, low), (gap, w, low)),
        inner_wall("back inner", (w, w - gap, h), (0, w - gap, h), (0, w - gap, low), (w, w - gap, low)),
    )
    tabs = (
        Face3(name="tab", outline=((w - 0.3, 0, 0), (w - 0.3, 40, 0), (w - 0.3, 40, top), (w - 0.3, 0, top))),
        Face3(name="tab 2", outline=((0.3, 0, 0), (0.3, 40, 0), (0.3, 40, top), (0.3, 0, top))[::-1]),
    )
    return (*sides, *rims, *inner, *tabs)


def polygon(points):
    return Polygon([point[:2] for point in points])


def fills(drawing):
    return {
        mark.name: (mark.role, sum(Polygon(path.points).area for path in mark.paths))
        for mark in drawing.marks
        if isinstance(mark, Area) and mark.name and mark.role != "glue"
    }


def lines(drawing, *roles):
    return [mark for mark in drawing.marks if isinstance(mark, Stroke) and mark.role in roles]


def length_of(path):
    points = path.points + path.points[:1] if path.closed else path.points
    return sum(dist(a, b) for a, b in pairwise(points))


# --- the camera


def test_the_picture_axes_are_a_rotation():
    (ox, oy, oz), *ends = project(VIEW, ((0, 0, 0), (1, 0, 0), (0, 1, 0), (0, 0, 1)))
    assert (ox, oy, oz) == (0, 0, 0)
    for i, a in enumerate(ends):
        for j, b in enumerate(ends):
            assert sum(p * q for p, q in zip(a, b, strict=True)) == pytest.approx(float(i == j), abs=1e-12)


def test_the_front_is_near_and_up_is_up():
    (x, y, near), (_, _, far), (_, top, _) = project(VIEW, ((1, 0, 0), (0, 1, 0), (0, 0, 1)))
    assert near > 0 > far
    assert top == pytest.approx(cos(radians(38)))
    assert (x, y) == pytest.approx((cos(radians(30)), -sin(radians(30)) * sin(radians(38))))


def test_one_scale_for_several_poses_fits_the_widest_and_the_tallest():
    flat = [flat_square("flat", 0, 0, 0, 100)]
    tall = [Face3(name="tall", outline=((0, 0, 0), (10, 0, 0), (10, 0, 300), (0, 0, 300)))]
    scale = fit_scale([flat, tall], FROM_THE_FRONT, 50, 60)
    assert scale == pytest.approx(min(50 / 100, 60 / 300))
    scale = fit_scale([flat, tall], VIEW, 50, 60)
    drawings = [draw_solid(pose, VIEW, mm_per_mm=scale) for pose in (flat, tall)]
    assert all(drawing.width_mm <= 50.001 and drawing.height_mm <= 60.001 for drawing in drawings)
    assert any(
        drawing.width_mm == pytest.approx(50, abs=0.01) or drawing.height_mm == pytest.approx(60, abs=0.01)
        for drawing in drawings
    )


def test_the_common_scale_leaves_room_for_arrows():
    pose = [flat_square("flat", 0, 0, 0, 100)]
    arrow = Arrow3(points=((50, 50, 0), (50, 50, 60), (50, 110, 100)))
    scale = fit_scale([pose], VIEW, 50, 40, arrows=[[arrow]])
    drawing = draw_solid(pose, VIEW, mm_per_mm=scale, arrows=[arrow])
    assert drawing.width_mm <= 50 and drawing.height_mm <= 40


# --- what is seen


def test_a_cube_shows_three_faces_and_nine_edges():
    drawing = draw_solid(cube(), VIEW, mm_per_mm=3.0)
    assert set(fills(drawing)) == {"front", "right", "top"}
    inner = lines(drawing, "edge", "fold")
    outline = lines(drawing, "outline")
    assert len(inner) == 3
    assert [len(stroke.path.points) for stroke in outline] == [6]
    ends = [end for stroke in inner for end in stroke.path.points]
    shared = [end for end in ends if sum(dist(end, other) < 0.01 for other in ends) == 3]
    assert len(shared) == 3, "the three inner edges meet in the near corner"
    expected = sum(
        dist(*(p[:2] for p in project(VIEW, edge)))
        for edge in (((30, 0, 30), (0, 0, 30)), ((30, 0, 30), (30, 30, 30)), ((30, 0, 30), (30, 0, 0)))
    )
    assert sum(length_of(stroke.path) for stroke in inner) == pytest.approx(expected, abs=0.01)


def test_a_convex_prism_fills_its_projected_hull():
    corners = [(20 * cos(radians(60 * i)), 20 * sin(radians(60 * i))) for i in range(6)]
    base = Face3(name="base", outline=tuple((x, y, 0.0) for x, y in reversed(corners)))
    top = Face3(name="top", outline=tuple((x, y, 25.0) for x, y in corners))
    sides = tuple(
        Face3(name=f"side {i}", outline=((*a, 0.0), (*b, 0.0), (*b, 25.0), (*a, 25.0)))
        for i, (a, b) in enumerate(zip(corners, corners[1:] + corners[:1], strict=True))
    )
    hull = MultiPoint([p[:2] for face in (base, top) for p in project(VIEW, face.outline)]).convex_hull
    regions = visible_regions((base, top, *sides), VIEW)
    assert sum(region.area for region in regions) == pytest.approx(hull.area, rel=1e-6)
    assert regions[0].is_empty


def test_an_open_box_shows_its_inside():
    drawing = draw_solid(box_sides(80, 80, 30), VIEW, mm_per_mm=0.5)
    seen = fills(drawing)
    assert set(seen) == {"base", "front", "right", "back", "left"}
    assert seen["front"][0] == "coloured" and seen["right"][0] == "coloured_shade"
    assert seen["base"][0] == "plain" and seen["back"][0] == "plain" and seen["left"][0] == "plain_shade"
    whole = polygon(project(VIEW, box_sides(80, 80, 30)[0].outline)).area * 0.25
    assert 0 < seen["base"][1] < 0.9 * whole


def test_a_tall_box_hides_its_base():
    assert "base" not in fills(draw_solid(box_sides(40, 40, 200), VIEW, mm_per_mm=0.3))


def test_crossing_planes_show_each_its_near_half_and_the_line_between():
    one = Face3(name="one", outline=((-10, 0, -10), (10, 0, -10), (10, 0, 10), (-10, 0, 10)))
    slope = ((-10, -6, -10), (10, -6, -10), (10, 6, 10), (-10, 6, 10))
    two = Face3(name="two", outline=slope)
    front, sloped = visible_regions((one, two), FROM_THE_FRONT)
    assert front.bounds == pytest.approx((-10, 0, 10, 10), abs=2 * COVER_MM)
    assert sloped.bounds == pytest.approx((-10, -10, 10, 0), abs=2 * COVER_MM)
    for faces in ((one, two), (two, one)):
        drawing = draw_solid(faces, FROM_THE_FRONT, mm_per_mm=1.0)
        (crossing,) = lines(drawing, "edge", "fold")
        assert sorted(crossing.path.points) == [(0, 10), (20, 10)]


def test_three_faces_that_lock_each_other_need_no_order():
    """Each lies over the next, all the way round: no painting order is right, the regions are."""
    bars = []
    for i in range(3):
        turn = radians(120 * i)
        c, s = cos(turn), sin(turn)
        corners = ((-40, 8, -5), (40, 8, 5), (40, 20, 5), (-40, 20, -5))
        bars.append(
            Face3(name=f"bar {i}", outline=tuple((c * x - s * y, s * x + c * y, z) for x, y, z in corners))
        )
    regions = visible_regions(bars, FROM_ABOVE)
    areas = [region.area for region in regions]
    assert areas[0] == pytest.approx(areas[1], rel=1e-6) and areas[1] == pytest.approx(areas[2], rel=1e-6)
    union = shapely.union_all([polygon(project(FROM_ABOVE, bar.outline)) for bar in bars])
    assert sum(areas) == pytest.approx(union.area, rel=1e-6)


@pytest.mark.parametrize("gap", [0.3, 0.6, 1.0])
def test_layers_a_card_apart_hide_what_lies_beneath(gap):
    under = flat_square("under", 0, 0, 0, 40)
    over = flat_square("over", 10, 10, gap, 20)
    for faces in ((under, over), (over, under)):
        regions = visible_regions(faces, FROM_ABOVE, mm_per_mm=0.4)
        seen = dict(zip((face.name for face in faces), regions, strict=True))
        assert seen["over"].area == pytest.approx(400 * 0.16)
        assert seen["under"].area == pytest.approx(1200 * 0.16)
    below = View(azimuth_deg=0.0, elevation_deg=-90.0)
    drawing = draw_solid((under, over), below, mm_per_mm=0.4)
    assert set(fills(drawing)) == {"under"} and not lines(drawing, "edge", "fold")


def test_of_touching_faces_the_later_is_seen_and_the_earlier_keeps_its_lines_to_itself():
    under, over = flat_square("under", 0, 0, 0, 20), flat_square("over", -5, -5, 0, 30)
    drawing = draw_solid((under, over), FROM_ABOVE, mm_per_mm=1.0)
    assert set(fills(drawing)) == {"over"} and not lines(drawing, "edge", "fold")
    drawing = draw_solid((over, under), FROM_ABOVE, mm_per_mm=1.0)
    assert set(fills(drawing)) == {"over", "under"}
    assert sum(length_of(s.path) for s in lines(drawing, "edge")) == pytest.approx(80, abs=0.01)


def test_a_wall_standing_behind_a_panel_is_not_seen_through_it():
    """Its foot touches the panel's far side: depth zero along a whole edge, yet hidden."""
    panel = flat_square("panel", 0, 0, 0, 40)
    wall = Face3(name="wall", outline=((10, 20, 0), (30, 20, 0), (30, 20, -15), (10, 20, -15)))
    drawing = draw_solid((panel, wall), View(azimuth_deg=0, elevation_deg=70), mm_per_mm=1.0)
    assert set(fills(drawing)) == {"panel"} and not lines(drawing, "edge", "fold")


def test_a_concave_face_shows_what_is_in_its_notch():
    notch = (
        (0, 0, 5),
        (30, 0, 5),
        (30, 30, 5),
        (20, 30, 5),
        (20, 10, 5),
        (10, 10, 5),
        (10, 30, 5),
        (0, 30, 5),
    )
    drawing = draw_solid(
        (flat_square("back", 5, 5, 0, 20), Face3(name="notched", outline=notch)), FROM_ABOVE, mm_per_mm=1.0
    )
    assert fills(drawing)["back"][1] == pytest.approx(150, rel=0.02)


def test_a_tray_with_inner_walls():
    drawing = draw_solid(tray(), VIEW, mm_per_mm=0.6)
    seen = fills(drawing)
    assert {"base", "front", "right", "back", "left", "left inner", "back inner"} <= set(seen)
    assert "tab" not in seen, "the tab is behind the right wall"
    assert seen["left inner"][0].startswith("coloured") and seen["back inner"][0].startswith("coloured")
    assert seen["left"][0].startswith("plain")
    outline = lines(drawing, "outline")
    assert [len(stroke.path.points) for stroke in outline] == [6], "an open box has a block's outline"
    inner_foot = [s for s in lines(drawing, "edge") if s.name == "back inner"]
    assert len(inner_foot) == 1


# --- lines


def overlaps(strokes):
    """How much of the strokes lies along an earlier one, in mm."""
    total = 0.0
    shapes = [shapely.LineString(s.path.points) for s in strokes]
    for i, a in enumerate(shapes):
        for b in shapes[:i]:
            shared = a.intersection(b.buffer(0.05, cap_style="flat")).length
            total += shared if shared > 0.5 else 0.0  # crossing lines share a little
    return total


@pytest.mark.parametrize("faces", [cube(), box_sides(80, 60, 30), tray()])
def test_no_line_is_drawn_twice(faces):
    drawing = draw_solid(faces, VIEW, mm_per_mm=0.7)
    strokes = lines(drawing, "edge", "fold", "valley", "mountain")
    for outline in lines(drawing, "outline"):
        ring = Path(points=outline.path.points + outline.path.points[:1])
        strokes.insert(0, Stroke(path=ring, role="outline"))
    assert overlaps(strokes) == 0.0


def test_a_flat_crease_is_dashed_once_though_both_panels_have_the_edge():
    crease = ((20, 0, 0), (20, 20, 0), "valley")
    left = Face3(name="left", outline=((0, 0, 0), (20, 0, 0), (20, 20, 0), (0, 20, 0)), folds=(1,))
    right = Face3(
        name="right",
        outline=((20, 0, 0), (40, 0, 0), (40, 20, 0), (20, 20, 0)),
        folds=(3,),
        unfolded=(crease,),
    )
    drawing = draw_solid((left, right), VIEW, mm_per_mm=1.0)
    assert [s.role for s in lines(drawing, "edge", "fold", "valley", "mountain")] == ["valley"]


def test_a_flat_crease_is_hidden_by_what_lies_before_it():
    panel = flat_square("panel", 0, 0, 0, 40, unfolded=(((20, 0, 0), (20, 40, 0), "mountain"),))
    cover = flat_square("cover", 10, 10, 5, 20)
    dashed = lines(draw_solid((panel, cover), FROM_ABOVE, mm_per_mm=1.0), "mountain")
    assert sorted(length_of(s.path) for s in dashed) == pytest.approx([10, 10], abs=0.02)


def test_an_emphasised_face_has_heavy_free_edges_inside_the_picture():
    panel = flat_square("panel", 0, 0, 0, 40)
    cover = flat_square("cover", 10, 10, 5, 20, emphasis=True)
    heavy = [s for s in lines(draw_solid((panel, cover), FROM_ABOVE, mm_per_mm=1.0), "outline") if s.name]
    assert sum(length_of(s.path) for s in heavy) == pytest.approx(80, abs=0.01)


def test_a_face_seen_edge_on_is_one_line():
    panel = flat_square("panel", 0, 0, 0, 40)
    standing = Face3(name="standing", outline=((10, 20, 1), (60, 20, 1), (60, 20, 30), (10, 20, 30)))
    drawing = draw_solid((panel, standing), FROM_ABOVE, mm_per_mm=1.0)
    inside = [s for s in lines(drawing, "edge") if s.name == "standing"]
    outside = [s for s in lines(drawing, "outline") if s.name == "standing"]
    assert "standing" not in fills(drawing)
    assert [length_of(s.path) for s in inside] == pytest.approx([30], abs=0.02)
    assert [length_of(s.path) for s in outside] == pytest.approx([20], abs=0.02)


def test_a_face_seen_edge_on_is_hidden_behind_another():
    standing = Face3(name="standing", outline=((10, 20, 1), (30, 20, 1), (30, 20, 30), (10, 20, 30)))
    drawing = draw_solid((flat_square("lid", 0, 0, 40, 40), standing), FROM_ABOVE, mm_per_mm=1.0)
    assert not lines(drawing, "edge")


def test_a_narrow_slot_is_not_outlined_twice():
    left, right = flat_square("left", 0, 0, 0, 20), flat_square("right", 20.4, 0, 0, 20)
    drawing = draw_solid((left, right), FROM_ABOVE, mm_per_mm=1.0)
    assert len(lines(drawing, "outline")) == 1 and lines(drawing, "edge")
    apart = (left, flat_square("right", 25, 0, 0, 20))
    assert len(lines(draw_solid(apart, FROM_ABOVE, mm_per_mm=1.0), "outline")) == 2


def test_neighbouring_fills_leave_no_hairline():
    drawing = draw_solid(box_sides(80, 60, 30), VIEW, mm_per_mm=0.5)
    areas = [Polygon(path.points) for mark in drawing.marks if isinstance(mark, Area) for path in mark.paths]
    (outline,) = lines(drawing, "outline")
    assert Polygon(outline.path.points).difference(shapely.union_all(areas)).area < 0.01
    for area in areas:
        neighbours = shapely.union_all([other for other in areas if other is not area])
        assert area.intersection(neighbours).area > 0.5, "fills run under one another"


def line(ax, ay, bx, by, role="edge", name=""):
    return Line(a=(ax, ay, 0.0), b=(bx, by, 0.0), role=role, name=name)


def test_a_line_keeps_what_no_other_lies_along():
    whole = line(0, 0, 10, 0)
    beside = (line(7, 0.1, 4, 0.1), line(2, 0, 1, 0))
    assert [(round(s.a[0], 9), round(s.b[0], 9)) for s in left_of(whole, beside, 0.2)] == [
        (0, 1),
        (2, 4),
        (7, 10),
    ]
    assert left_of(whole, beside[:1], 0.05) == (whole,), "too far off to be the same line"
    assert left_of(whole, (line(5, -5, 5, 5),), 0.2) == (whole,), "a crossing line takes nothing"
    assert left_of(whole, (line(-1, 0, 11, 0),), 0.2) == ()


def test_lines_that_run_on_are_joined_and_corners_are_not():
    ahead, next_one, corner = line(0, 0, 4, 0, name="a"), line(9, 0, 4, 0, name="b"), line(9, 0, 9, 5)
    (joint, other) = joined((ahead, next_one, corner))
    assert (joint.a, joint.b, joint.name) == ((0, 0, 0), (9, 0, 0), "a")
    assert other == corner
    dashed = line(4, 0, 9, 0, role="valley")
    assert joined((ahead, dashed)) == (ahead, dashed)


def test_only_faces_seen_edge_on_still_make_a_picture():
    standing = Face3(
        name="standing",
        outline=((0, 0, 0), (50, 0, 0), (50, 0, 30), (0, 0, 30)),
        glue=(((5, 0, 5), (45, 0, 5), (45, 0, 25)),),
    )
    drawing = draw_solid((standing,), FROM_ABOVE, mm_per_mm=1.0)
    assert [(mark.role, length_of(mark.path)) for mark in drawing.marks] == [("outline", 50)]
    assert (drawing.width_mm, drawing.height_mm) == (50, 0)


def test_a_bent_face_is_refused():
    bent = Face3(name="bent", outline=((0, 0, 0), (50, 0, 0), (50, 50, 5), (0, 50, 0)))
    with pytest.raises(AssertionError, match="not flat"):
        draw_solid((bent,), VIEW, mm_per_mm=1.0)


# --- glue, guides, arrows, the frame


def test_glue_shows_on_its_own_side_where_it_is_in_view():
    glue = (((5, 5, 0), (35, 5, 0), (35, 35, 0), (5, 35, 0)),)
    panel = flat_square("panel", 0, 0, 0, 40, glue=glue)
    cover = flat_square("cover", 20, -10, 5, 60)
    (dots,) = [
        mark
        for mark in draw_solid((panel, cover), FROM_ABOVE, mm_per_mm=1.0).marks
        if isinstance(mark, Area) and mark.role == "glue"
    ]
    assert Polygon(dots.paths[0].points).area == pytest.approx(15 * 30, abs=0.1)
    back = flat_square("panel", 0, 0, 0, 40, glue=glue, glue_side="back")
    marks = draw_solid((back,), FROM_ABOVE, mm_per_mm=1.0).marks
    assert not [mark for mark in marks if isinstance(mark, Area) and mark.role == "glue"]


def test_an_arrow_lies_on_top_and_stops_short():
    panel = flat_square("panel", 0, 0, 0, 40)
    quarter = tuple((40 + 30 * cos(radians(t)), 20.0, 30 * sin(radians(t))) for t in range(0, 91, 5))
    guide = Guide3(a=(0, 0, 0), b=(0, 0, 30))
    drawing = draw_solid((panel,), VIEW, mm_per_mm=0.5, arrows=(Arrow3(points=quarter),), guides=(guide,))
    *_, before, casing, shaft, head = drawing.marks
    assert (before.role, casing.role, shaft.role, head.role) == ("guide", "paper", "movement", "movement")
    assert isinstance(shaft, Stroke) and isinstance(head, Area)
    ox, oy = drawing.origin_mm
    places = [(ox + 0.5 * x, oy + 0.5 * y) for x, y, _ in project(VIEW, quarter)]
    assert dist(shaft.path.points[0], places[0]) < 0.01
    assert 1.0 < dist(head.paths[0].points[0], places[-1]) < 1.4
    path = shapely.LineString(places)
    assert all(path.distance(shapely.Point(point)) < 0.01 for point in shaft.path.points)


def test_an_arrow_straight_at_the_reader_is_not_drawn():
    arrow = Arrow3(points=((0, 0, 0), (0, 0, 50)))
    drawing = draw_solid((flat_square("panel", 0, 0, 0, 40),), FROM_ABOVE, mm_per_mm=1.0, arrows=(arrow,))
    assert not lines(drawing, "movement")


def test_the_picture_starts_at_its_corner_and_says_where_the_origin_fell():
    drawing = draw_solid(tray(), VIEW, mm_per_mm=0.6)
    points = [
        point
        for mark in drawing.marks
        for path in (mark.paths if isinstance(mark, Area) else (mark.path,))
        for point in path.points
    ]
    xs, ys = [x for x, _ in points], [y for _, y in points]
    assert (min(xs), min(ys), max(xs), max(ys)) == (0, 0, drawing.width_mm, drawing.height_mm)
    assert all(round(value, 3) == value for value in (*xs, *ys))
    far = project(VIEW, ((82, 0, 0),))[0]
    corner = (drawing.origin_mm[0] + 0.6 * far[0], drawing.origin_mm[1] + 0.6 * far[1])
    assert min(hypot(corner[0] - x, corner[1] - y) for x, y in points) < 0.005


def test_the_same_faces_give_the_same_marks():
    assert draw_solid(tray(), VIEW, mm_per_mm=0.6) == draw_solid(tray(), VIEW, mm_per_mm=0.6)


def test_a_tray_is_drawn_in_good_time():
    draw_solid(tray(), VIEW, mm_per_mm=0.6)
    times = []
    for _ in range(3):
        start = perf_counter()
        draw_solid(tray(), VIEW, mm_per_mm=0.6)
        times.append(perf_counter() - start)
    assert min(times) < 0.150


@pytest.mark.parametrize(
    "details",
    [
        {"outline": ((0, 0, 0), (1, 0, 0))},
        {"outline": ((0, 0, 0), (1, 0, 0), (0, 1, float("nan")))},
        {"outline": ((0, 0, 0), (1, 0, 0), (0, 1, 0)), "folds": (3,)},
        {"outline": ((0, 0, 0), (1, 0, 0), (0, 1, 0)), "glue": (((0, 0, 0), (1, 0, 0)),)},
    ],
)
def test_a_face_that_cannot_be_is_refused(details):
    with pytest.raises(AssertionError):
        Face3(name="bad", **details)
