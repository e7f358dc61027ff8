"""Outlines from DXF: every kind of line, units, layers, blocks, and chains of lines and arcs."""

import io
import math
import time

import ezdxf
import pytest
import shapely

from foldproof.errors import InputError
from foldproof.geometry.plane import is_simple, signed_area
from foldproof.outlines.cleaning import FLATTENED, cleaned
from foldproof.outlines.dxf_text import MM_PER_UNIT
from foldproof.outlines.vector_dxf import read_dxf

NEAR_MM2 = 12.0  # 0.02 mm of chord error along 600 mm
STADIUM = 100 * 60 + math.pi * 900  # 100 by 60 with half circles on both short sides


def dxf(draw, *, units=4, version="R2010"):
    drawing = ezdxf.new(version)
    if version != "R12":
        drawing.header["$INSUNITS"] = units
    draw(drawing, drawing.modelspace())
    written = io.StringIO()
    drawing.write(written)
    return written.getvalue().encode()


def shapes(draw, **options):
    return read_dxf(dxf(draw, **options)).shapes


def only(draw, **options):
    (found,) = shapes(draw, **options)
    return found


def refused(data, **options):
    started = time.process_time()
    with pytest.raises(InputError) as caught:
        read_dxf(data, **options)
    assert time.process_time() - started < 5.0
    (problem,) = caught.value.problems
    assert problem.remedy
    return problem


def box(found):
    return tuple(round(side, 2) for side in shapely.Polygon(found.outline).bounds)


def told(traced):
    return {each.what: each.count for each in traced.left_out}


def stadium(space, **attributes):
    """A closed line with half circles as bulges of 1 on both short sides."""
    return bulged(space, (0, 0, 0), (100, 0, 1), (100, 60, 0), (0, 60, 1), **attributes)


def bulged(space, *corners, **attributes):
    return space.add_lwpolyline(corners, format="xyb", close=True, dxfattribs=attributes)


CLOSED = [
    (lambda d, m: m.add_circle((10, 20), 50), math.pi * 2500, (-40, -30, 60, 70)),
    (lambda d, m: m.add_ellipse((0, 0), (50, 0), 0.5), math.pi * 1250, (-50, -25, 50, 25)),
    (lambda d, m: m.add_ellipse((0, 0), (0, 50), 0.5), math.pi * 1250, (-25, -50, 25, 50)),
    (lambda d, m: stadium(m), STADIUM, (-30, 0, 130, 60)),
    (lambda d, m: stadium(m, extrusion=(0, 0, -1)), STADIUM, (-130, 0, 30, 60)),
    (lambda d, m: m.add_circle((10, 20), 50, dxfattribs={"extrusion": (0, 0, -1)}), math.pi * 2500, (-60, -30, 40, 70)),
    (lambda d, m: bulged(m, (0, 0, -1), (60, 0, -1)), math.pi * 900, (0, -30, 60, 30)),
    (lambda d, m: m.add_lwpolyline([(0, 0), (60, 0), (60, 40), (0, 40), (0, 0)]), 2400, (0, 0, 60, 40)),
    (lambda d, m: m.add_polyline3d([(0, 0, 5), (60, 0, 5), (60, 40, 5), (0, 40, 5)], close=True), 2400, (0, 0, 60, 40)),
    # Half of a square of 50 and, beside it, a quarter circle of that radius without its triangle.
    (
        lambda d, m: bulged(m, (0, 0, math.tan(math.pi / 8)), (50, 50, 0), (0, 50, 0)),
        1250 + 2500 * (math.pi / 4 - 0.5),
        (0, 0, 50, 50),
    ),
    (lambda d, m: m.add_open_spline([(0, 0), (0, 80), (80, 80), (80, 0), (0, 0)]), None, None),
    (lambda d, m: m.add_spline([(0, 0), (50, 20), (100, 0), (100, 100), (0, 100), (0, 0)]), None, None),
]


@pytest.mark.parametrize(("draw", "area", "bounds"), CLOSED)
def test_every_kind_of_closed_line(draw, area, bounds):
    found = only(draw)
    assert is_simple(found.outline) and signed_area(found.outline) > 0
    if area is not None:
        assert found.area_mm2 == pytest.approx(area, abs=NEAR_MM2)
        assert box(found) == pytest.approx(bounds, abs=0.03)


def test_polylines_of_the_oldest_release():
    corners = [(0, 0, 0), (100, 0, 1), (100, 60, 0), (0, 60, 1)]
    data = dxf(lambda d, m: m.add_polyline2d(corners, format="xyb", close=True), version="R12")
    (found,) = read_dxf(data, unit="mm").shapes
    assert found.area_mm2 == pytest.approx(STADIUM, abs=NEAR_MM2)


@pytest.mark.parametrize("accuracy", [0.01, 0.05, 0.5])
def test_arcs_keep_to_their_share_of_the_accuracy(accuracy):
    data = dxf(lambda d, m: bulged(m, (-45, 0, 1), (45, 0, 1)))
    ring = shapely.LinearRing(read_dxf(data, accuracy_mm=accuracy).shapes[0].outline)
    places = [ring.interpolate(n / 5000, normalized=True) for n in range(5000)]
    off = [45 - math.hypot(place.x, place.y) for place in places]
    assert min(off) >= -1e-9 and 0.3 * accuracy < max(off) <= FLATTENED * accuracy + 1e-9


def chain(model, gap=0.0, layers=("a",) * 4):
    model.add_line((0, 0), (100, 0), dxfattribs={"layer": layers[0]})
    model.add_arc((100, 30), 30, -90, 90, dxfattribs={"layer": layers[1]})
    model.add_line((0, 60), (100, 60 + gap), dxfattribs={"layer": layers[2]})
    model.add_arc((0, 30), 30, 90, 270, dxfattribs={"layer": layers[3]})


@pytest.mark.parametrize("gap", [0.0, 0.04])
def test_lines_and_arcs_are_joined(gap):
    found = only(lambda d, m: chain(m, gap))
    assert found.area_mm2 == pytest.approx(STADIUM, abs=NEAR_MM2) and found.name == "a"


def test_a_gap_is_told():
    problem = refused(dxf(lambda d, m: chain(m, 3.0)))
    assert "open" in problem.reason and "a gap of 3.00 mm at 100.0, 6" in problem.value
    assert read_dxf(dxf(lambda d, m: chain(m, 0.5)), join_mm=0.6).shapes
    half = dxf(lambda d, m: m.add_ellipse((0, 0), (50, 0), 0.5, 0, math.pi))
    assert "a gap of 100.00 mm" in refused(half).value


def test_lines_of_two_layers_are_not_joined():
    assert "open" in refused(dxf(lambda d, m: chain(m, layers=("cut", "cut", "score", "cut")))).reason


def test_half_an_ellipse_and_a_line():
    def draw(d, m):
        m.add_ellipse((0, 0), (50, 0), 0.5, 0, math.pi)
        m.add_line((-50, 0), (50, 0))

    assert only(draw).area_mm2 == pytest.approx(math.pi * 625, abs=NEAR_MM2)


# --- Units --------------------------------------------------------------------------------------------------


@pytest.mark.parametrize(
    ("code", "unit", "mm"),
    [(1, "in", 25.4), (2, "ft", 304.8), (4, "mm", 1), (5, "cm", 10), (6, "m", 1000), (14, "dm", 100)],
)
def test_units_of_the_file(code, unit, mm):
    side = 60 / mm
    square = [(0, 0), (side, 0), (side, side), (0, side)]
    found = read_dxf(dxf(lambda d, m: m.add_lwpolyline(square, close=True), units=code))
    assert (found.unit, found.unit_from) == (unit, "file")
    assert found.shapes[0].width_mm == pytest.approx(60)


@pytest.mark.parametrize(("code", "reason"), [(0, "does not say in which unit"), (7, "code 7"), (99, "code 99")])
def test_a_unit_must_be_told_when_the_file_has_none(code, reason):
    data = dxf(lambda d, m: m.add_circle((0, 0), 2), units=code)
    problem = refused(data)
    assert problem.field == "unit" and reason in problem.reason and "one of mm, cm" in problem.remedy
    found = read_dxf(data, unit="in")
    assert (found.unit, found.unit_from) == ("in", "told")
    assert found.shapes[0].width_mm == pytest.approx(101.6, abs=0.03)


def test_a_file_without_a_header():
    bare = b"  0\nSECTION\n  2\nENTITIES\n  0\nCIRCLE\n 10\n0\n 20\n2\n 40\n25\n  0\nENDSEC\n  0\nEOF\n"
    assert refused(bare).field == "unit"
    assert read_dxf(bare, unit="mm").shapes[0].width_mm == pytest.approx(50, abs=0.03)


def test_the_unit_told_goes_before_the_files():
    data = dxf(lambda d, m: m.add_circle((0, 0), 2), units=1)
    assert read_dxf(data, unit="cm").shapes[0].width_mm == pytest.approx(40, abs=0.03)
    assert refused(data, unit="furlong").field == "unit"
    assert set(MM_PER_UNIT) >= {"mm", "cm", "in"}


# --- Blocks and layers --------------------------------------------------------------------------------------


def test_blocks_are_turned_scaled_and_take_their_layer():
    def draw(d, m):
        block = d.blocks.new("B")
        stadium(block)
        block.add_circle((50, 30), 10)
        m.add_blockref("B", (10, 10), dxfattribs={"rotation": 90, "layer": "flower"})
        m.add_blockref("B", (300, 10), dxfattribs={"xscale": 2, "yscale": -1, "layer": "wide"})

    found = shapes(draw)
    assert [each.name for each in found] == ["wide", "flower", "wide", "flower"]
    assert [each.area_mm2 for each in found] == pytest.approx(
        [2 * STADIUM, STADIUM, 200 * math.pi, 100 * math.pi], abs=2 * NEAR_MM2
    )
    assert box(found[1]) == pytest.approx((-50, -20, 10, 140), abs=0.03)
    assert box(found[0]) == pytest.approx((240, -50, 560, 10), abs=0.06)


def test_blocks_in_rows():
    def draw(d, m):
        d.blocks.new("B").add_circle((0, 0), 10)
        rows = {"row_count": 2, "column_count": 3, "row_spacing": 40, "column_spacing": 30}
        m.add_blockref("B", (0, 0), dxfattribs=rows)

    assert len(shapes(draw)) == 6


def test_outlines_inside_others_are_holes_and_shapes():
    def draw(d, m):
        for radius in (50, 40, 30):
            m.add_circle((0, 0), radius)
        m.add_circle((100, 0), 20)

    found = shapes(draw)
    assert [(round(each.width_mm), len(each.holes)) for each in found] == [(100, 1), (80, 1), (60, 0), (40, 0)]
    assert signed_area(found[0].holes[0]) == pytest.approx(math.pi * 1600, abs=NEAR_MM2)


def test_what_is_left_out_is_told():
    def draw(d, m):
        d.layers.add("off").off()
        d.layers.add("frozen").freeze()
        for layer in ("off", "frozen", "0"):
            m.add_circle((0, 0), 30, dxfattribs={"layer": layer})
        m.add_circle((0, 0), 31, dxfattribs={"invisible": 1})
        m.add_text("flower")
        m.add_point((0, 0))
        m.add_circle((0, 0), 30, dxfattribs={"extrusion": (0, 1, 0)})
        m.add_line((0, 90), (90, 90))
        m.add_circle((0, 0), 1)

    found = read_dxf(dxf(draw))
    assert len(found.shapes) == 1
    assert told(found) == {"hidden": 3, "text": 1, "other": 1, "not flat": 1, "open line": 1, "too small": 1}


# --- What is refused ----------------------------------------------------------------------------------------


def nested_blocks(d, m):
    d.blocks.new("B0").add_circle((0, 0), 10)
    for n in range(1, 10):
        block = d.blocks.new(f"B{n}")
        for copy in range(10):
            block.add_blockref(f"B{n - 1}", (copy, 0))
    m.add_blockref("B9", (0, 0))


def deep_blocks(d, m):
    d.blocks.new("B0").add_circle((0, 0), 10)
    for n in range(1, 40):
        d.blocks.new(f"B{n}").add_blockref(f"B{n - 1}", (0, 0))
    m.add_blockref("B39", (0, 0))


def endless_block(d, m):
    d.blocks.new("B").add_blockref("B", (0, 0))
    m.add_blockref("B", (0, 0))


def many_copies(d, m):
    d.blocks.new("B").add_circle((0, 0), 10)
    m.add_blockref("B", (0, 0), dxfattribs={"row_count": 30_000, "column_count": 30_000, "row_spacing": 1})


@pytest.mark.parametrize(
    ("draw", "reason"),
    [
        (nested_blocks, "too many copies"),
        (deep_blocks, "nests blocks too deep"),
        (endless_block, "copies itself"),
        (many_copies, "too many copies"),
        (lambda d, m: m.add_circle((0, 0), 1e12), "a kilometre away"),
        (lambda d, m: [m.add_circle((0, 0), 9e5 - n) for n in range(300)], "too many points"),
        (lambda d, m: m.add_lwpolyline([(0, 0, 1e300), (10, 0, 0)], format="xyb", close=True), "a kilometre away"),
        (lambda d, m: m.add_open_spline([((-1) ** n * 9e3, n) for n in range(60)], degree=50), "no closed outline"),
        (lambda d, m: m.add_text("flower"), "no closed outline"),
        (lambda d, m: None, "no closed outline"),
    ],
)
def test_more_or_less_than_a_drawing_of_a_shape_holds(draw, reason):
    assert reason in refused(dxf(draw)).reason


@pytest.mark.parametrize(
    ("data", "reason"),
    [
        (b"", "no DXF"),
        (b"hello\nworld\n", "no DXF"),
        (b"\x00\x01\xff" * 5000, "no DXF"),
        (b"<svg/>", "no DXF"),
        (b"binary drawing 001\r\n\x1a\x00" + b"\x00" * 99, "binary DXF"),
        (b"  0\nSECTION\n  2\nENTITIES\n" + b"  0\nLINE\n" * 30_000 + b"  0\nENDSEC\n  0\nEOF\n", "too many elements"),
        (dxf(lambda d, m: chain(m))[:-100], "broken off"),
        (dxf(lambda d, m: chain(m))[:3001], "broken off"),
        (dxf(lambda d, m: chain(m)).replace(b"\n100.0\n", b"\nabc\n", 1), "no number"),
        (dxf(lambda d, m: chain(m)).replace(b"\n100.0\n", b"\nnan\n", 1), "no number"),
        (dxf(lambda d, m: chain(m)).replace(b"\n100.0\n", b"\n1e999\n", 1), "no number"),
        (b"  0\nSECTION\n" + b"999\ncomment\n" * 500_000, "5 MB"),
    ],
)
def test_what_cannot_be_read(data, reason):
    assert reason in refused(data).reason


def test_line_ends_of_every_kind():
    data = dxf(lambda d, m: chain(m))
    assert read_dxf(data.replace(b"\n", b"\r\n")) == read_dxf(data)


def test_a_cut_file_of_ours_is_read_back():
    from foldproof.drawing.records import Page, Path, Stroke
    from foldproof.exports.dxf import cut_dxf

    square = Path(points=((10, 10), (60, 10), (60, 70), (10, 70)), closed=True)
    page = Page(name="base", width_mm=210, height_mm=297, marks=(Stroke(path=square, role="cut", name="base"),), alt="")
    (found,) = read_dxf(cut_dxf(page).encode()).shapes
    assert found.name == "CUT" and box(found) == (10, 10, 60, 70)
    assert set(cleaned(found.outline).outline) == set(square.points)
