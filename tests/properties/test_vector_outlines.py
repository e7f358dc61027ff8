"""Outlines through vector files and back, over chance: never farther off than the accuracy that is stated."""

import io
import math

import ezdxf
import numpy as np
import shapely
import svgelements
from hypothesis import assume, given, settings
from hypothesis import strategies as st

from foldproof.geometry.plane import is_simple, signed_area
from foldproof.outlines.budget import Budget
from foldproof.outlines.cleaning import cleaned
from foldproof.outlines.flattening import cubic_points, ellipse_points
from foldproof.outlines.joining import Line, joined
from foldproof.outlines.svg_path import arc_between, flattened, sub_paths
from foldproof.outlines.svg_values import SAME
from foldproof.outlines.symmetry import symmetrised, symmetry_of
from foldproof.outlines.vector_dxf import read_dxf
from foldproof.outlines.vector_svg import read_svg

WRITTEN_MM = 1e-5  # numbers are written to six decimals

number = st.floats(-90, 90).map(lambda value: round(value, 3))
point = st.tuples(number, number)
radii = st.lists(st.floats(18, 60), min_size=5, max_size=40)


def star_shaped(distances):
    """A simple outline: at even turns, each point as far from the middle as its distance says."""
    bearing = np.arange(len(distances)) * math.tau / len(distances)
    return np.column_stack((distances * np.cos(bearing), distances * np.sin(bearing)))


def apart(one, other):
    return shapely.hausdorff_distance(shapely.LinearRing(one), shapely.LinearRing(other), densify=0.25)


@given(radii, st.floats(-3, 3), st.floats(0.5, 2), st.floats(-1, 1), st.booleans(), st.tuples(number, number))
def test_any_outline_through_any_transform_and_back(distances, turn, stretch, skew, flip, shift):
    drawn = star_shaped(np.array(distances))
    cosine, sine = math.cos(turn), math.sin(turn)
    matrix = np.array([[cosine * stretch, -sine], [sine * stretch, cosine + skew * sine]])
    matrix[:, 0] *= -1 if flip else 1
    assume(abs(np.linalg.det(matrix)) > 0.2)
    a, c, b, d = matrix.ravel()
    points = " ".join(f"{x:.6f},{y:.6f}" for x, y in drawn)
    transform = f"matrix({a:.9f} {b:.9f} {c:.9f} {d:.9f} {shift[0]} {shift[1]})"
    text = (
        f'<svg xmlns="http://www.w3.org/2000/svg" width="100mm" height="100mm" viewBox="0 0 100 100">'
        f'<polygon transform="{transform}" points="{points}"/></svg>'
    )
    (found,) = read_svg(text.encode()).shapes
    true = (drawn @ matrix.T + shift) * [1, -1] + [0, 100]
    assert apart(found.outline, true) < 2e-4  # what six and nine decimals leave
    clean = cleaned(found.outline)
    assert is_simple(clean.outline) and signed_area(clean.outline) > 0
    assert apart(clean.outline, true) <= clean.strayed_mm + 2e-4 <= 0.05


def relative(command, start, values):
    """The same command told from the pen's place."""
    upper = command.upper()
    if upper == "A":
        return [*values[:5], values[5] - start[0], values[6] - start[1]]
    if upper in "HV":
        return [values[0] - start[0 if upper == "H" else 1]]
    return [value - start[n % 2] for n, value in enumerate(values)]


@st.composite
def path_text(draw):
    """A path with every kind of command, absolute and relative."""
    start = draw(point)
    pen, parts, before = start, [f"M{start[0]},{start[1]}"], "M"
    for _ in range(draw(st.integers(1, 8))):
        # After a curve of the other kind the other reader mirrors its control, which the standard says not to.
        mirrored = {"C": "S", "S": "S", "Q": "T", "T": "T"}.get(before, "ST")
        command = before = draw(st.sampled_from("LHVCQA" + mirrored))
        if command == "A":
            size = st.floats(1, 90).map(lambda value: round(value, 2))
            flags = [draw(st.integers(0, 1)), draw(st.integers(0, 1))]
            values = [draw(size), draw(size), draw(st.integers(-90, 90)), *flags, *draw(point)]
        else:
            pairs = {"L": 2, "H": 1, "V": 1, "C": 6, "S": 4, "Q": 4, "T": 2}[command]
            values = [draw(number) for _ in range(pairs)]
        end = {"H": (values[0], pen[1]), "V": (pen[0], values[-1])}.get(command, tuple(values[-2:]))
        # An arc's ends not quite in the same place: the direction of such an arc hangs on rounding.
        assume(math.dist(end, pen) > 0.5)
        told = values
        if draw(st.booleans()):
            told, command = relative(command, pen, values), command.lower()
        parts.append(command + " ".join(f"{value:.3f}".rstrip("0").rstrip(".") for value in told))
        pen = end
    return " ".join(parts)


@settings(max_examples=60)
@given(path_text())
def test_paths_agree_with_another_reader(text):
    """Against the MIT-licensed library svgelements, which reads path data and places points on its segments."""
    (path,) = sub_paths(text, Budget())
    ours = shapely.LineString(flattened(path, SAME, 0.02, Budget()))
    segments = [segment for segment in svgelements.Path(text) if not isinstance(segment, svgelements.Move)]
    assert len(segments) == len(path.segments)
    theirs = [segment.point(share) for segment in segments for share in np.linspace(0, 1, 12)]
    places = shapely.points([(place.x, place.y) for place in theirs])
    assert shapely.distance(ours, places).max() <= 0.02 + 1e-6
    # And nothing of ours is far from theirs: their points with ours between them.
    fine = [segment.point(share) for segment in segments for share in np.linspace(0, 1, 200)]
    line = shapely.LineString([(place.x, place.y) for place in fine])
    assert shapely.distance(line, shapely.points(shapely.get_coordinates(ours))).max() <= 0.1


@given(point, point, point, point, st.sampled_from([0.5, 0.02, 0.001]))
def test_cubics_keep_to_the_tolerance(start, one, two, end, tolerance):
    assume(math.dist(start, end) > 1)
    line = shapely.LineString([start, *cubic_points(start, one, two, end, tolerance)])
    t = np.linspace(0, 1, 500)[:, None]
    first, second, third, last = np.array([start, one, two, end])
    s = 1 - t
    curve = s**3 * first + 3 * s**2 * t * second + 3 * s * t**2 * third + t**3 * last
    assert shapely.distance(line, shapely.points(curve)).max() <= tolerance + 1e-9


@given(point, point, st.floats(-7, 7), st.floats(-6.28, 6.28), st.sampled_from([0.5, 0.02, 0.001]))
def test_arcs_of_ellipses_keep_to_the_tolerance(one, other, start, sweep, tolerance):
    assume(abs(one[0] * other[1] - one[1] * other[0]) > 1 and abs(sweep) > 0.1)
    a = start + sweep * np.linspace(0, 1, 500)[:, None]
    curve = np.cos(a) * np.array(one) + np.sin(a) * np.array(other)
    line = shapely.LineString(np.concatenate((curve[:1], ellipse_points((0, 0), one, other, start, sweep, tolerance))))
    assert shapely.distance(line, shapely.points(curve)).max() <= tolerance + 1e-9


@given(point, point, st.floats(1, 120), st.floats(1, 120), st.floats(-180, 180), st.integers(0, 1), st.integers(0, 1))
def test_arcs_between_two_points_are_what_their_flags_say(start, end, rx, ry, turn, large, sweep):
    assume(math.dist(start, end) > 0.1)
    arc = arc_between(start, end, rx, ry, turn, (large, sweep))
    for place, a in ((start, arc.start_rad), (end, arc.start_rad + arc.sweep_rad)):
        on_it = np.array(arc.middle) + math.cos(a) * np.array(arc.one) + math.sin(a) * np.array(arc.other)
        assert math.dist(on_it, place) < 1e-4
    grown = math.hypot(*arc.one) / rx
    assert grown > 1 - 1e-9 and abs(math.hypot(*arc.other) / ry - grown) < 1e-9 * grown
    assert (arc.sweep_rad > 0) == bool(sweep)
    if grown < 1 + 1e-9 and abs(abs(arc.sweep_rad) - math.pi) > 1e-3:
        assert (abs(arc.sweep_rad) > math.pi) == bool(large)


@settings(max_examples=40)
@given(radii, st.lists(st.floats(-0.6, 0.6), min_size=40, max_size=40), st.floats(-180, 180), st.booleans())
def test_polylines_with_bulges_agree_with_the_library(distances, bulges, turn, flip):
    """Against the library's own paths of the same block; these are Bezier curves, 0.03 mm off on an arc of 100 mm."""
    corners = [(x, y, bulge) for (x, y), bulge in zip(star_shaped(np.array(distances)), bulges, strict=False)]
    drawing = ezdxf.new("R2000")
    drawing.header["$INSUNITS"] = 4
    block = drawing.blocks.new("B")
    block.add_lwpolyline(corners, format="xyb", close=True)
    placed = {"rotation": turn, "xscale": -1.0 if flip else 1.0}
    insert = drawing.modelspace().add_blockref("B", (10, 20), dxfattribs=placed)
    written = io.StringIO()
    drawing.write(written)
    (found,) = read_dxf(written.getvalue().encode()).shapes
    (copy,) = insert.virtual_entities()
    theirs = [(place.x, place.y) for place in ezdxf.path.make_path(copy).flattening(0.01)]
    assert apart(found.outline, theirs) < 0.06


@given(st.lists(point, min_size=3, max_size=12, unique=True), st.randoms(use_true_random=False), st.integers(0, 2))
def test_edges_in_any_order_and_direction_join_to_their_outline(corners, chance, shake):
    """All corners more than the joining distance apart, so that there is only one way to join them."""
    assume(min(math.dist(a, b) for n, a in enumerate(corners) for b in corners[:n]) > 0.5)
    edges = []
    for n, start in enumerate(corners):
        edge = np.array([start, corners[(n + 1) % len(corners)]]) + 0.01 * shake * np.eye(2)
        edges.append(Line(name="", group="", points=edge[::-1] if chance.random() < 0.5 else edge))
    chance.shuffle(edges)
    found = joined(edges, 0.1)
    assert len(found.closed) == 1 and not found.still_open
    ring = shapely.LinearRing(found.closed[0].points)
    assert len(found.closed[0].points) == 2 * len(corners)
    assert shapely.distance(ring, shapely.points(corners)).max() <= 0.03
    without = joined(edges[1:], 0.1)
    assert not without.closed and len(without.still_open) == 1


@settings(max_examples=25)
@given(st.integers(2, 9), st.lists(st.floats(30, 60), min_size=3, max_size=6), st.floats(-3, 3), st.booleans())
def test_repeated_parts_are_found_repeated(fold, part, turn, mirrored_too):
    distances = np.tile([*part, *(part[-2:0:-1] if mirrored_too else ())], fold)
    drawn = star_shaped(distances)
    cosine, sine = math.cos(turn), math.sin(turn)
    outline = cleaned(drawn @ np.array([[cosine, sine], [-sine, cosine]]) + [7, -3]).outline
    found = symmetry_of(outline)
    assert found.fold == 0 or found.fold % fold == 0
    assert not mirrored_too or found.fold == 0 or len(found.mirror_axes_rad) == found.fold
    assert found.error_mm <= 0.5
    exact = symmetrised(outline, found)
    assert exact is None or (is_simple(exact.outline) and exact.change_mm <= 0.6)
