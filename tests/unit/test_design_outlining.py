"""What a file is, what is found in it, and the pictures it is checked by."""

import pytest

from foldproof.design.outlined import Asked
from foldproof.design.outlining import kind_of, outlined
from foldproof.drawing.records import Label, Stroke
from foldproof.errors import InputError
from foldproof.views.outline_picture import found_page, outline_page

SVG = (
    '<svg xmlns="http://www.w3.org/2000/svg" width="100mm" height="80mm" viewBox="0 0 100 80">'
    '<rect id="plate" x="20" y="10" width="60" height="40"/>{more}</svg>'
)


@pytest.mark.parametrize(
    ("data", "kind"),
    [
        (b"\xff\xd8\xff\xe0rest", "photograph"),
        (b"\x89PNG\r\n\x1a\nrest", "photograph"),
        (b"RIFF\x00\x00\x00\x00WEBP", "photograph"),
        (b"\x00\x00\x00\x18ftypheic", "photograph"),
        (SVG.encode(), "svg"),
        (b"\xef\xbb\xbf  \n" + SVG.encode(), "svg"),
        (SVG.encode("utf-16"), "svg"),
        (b"  0\nSECTION\n", "dxf"),
        (b"999\nmade by hand\n0\r\nSECTION\r\n", "dxf"),
        (b"AutoCAD Binary DXF\r\n\x1a\x00", "dxf"),
    ],
)
def test_what_a_file_is(data, kind):
    assert kind_of(data) == kind


@pytest.mark.parametrize(
    "data", [b"", b"   ", b"hello", b"0", b"\x00" * 100, b"%PDF-1.4", b"\x1f\x8b", b"PK\x03\x04", b"1.5\n2"]
)
def test_what_is_no_file_for_an_outline(data):
    if data == b"0":
        assert kind_of(data) == "dxf"  # and refused where it is read
        return
    with pytest.raises(InputError) as caught:
        kind_of(data)
    assert caught.value.problems[0].remedy


def test_one_shape_is_read_from_its_lower_left_corner():
    found = outlined(SVG.format(more="").encode(), Asked())
    assert (len(found.found), found.kind, found.unit, found.unit_from) == (1, "svg", "mm", "file")
    assert (found.measures.width_mm, found.measures.height_mm) == pytest.approx((60, 40))
    assert set(found.read) == {(0.0, 0.0), (60.0, 0.0), (60.0, 40.0), (0.0, 40.0)}
    assert found.kept == found.read and found.nearly is None
    assert set(found.shape.outline) == {(-30.0, -20.0), (30.0, -20.0), (30.0, 20.0), (-30.0, 20.0)}


def test_holes_are_counted_and_left_out():
    hole = '<path fill-rule="evenodd" id="ring" d="M0,60 h40 v19 h-40 Z M10,65 h10 v8 h-10 Z"/>'
    found = outlined(SVG.format(more=hole).encode(), Asked(choose="ring"))
    assert found.holes == 1 and found.measures.area_mm2 == pytest.approx(40 * 19)


def test_several_shapes_wait_for_a_choice_in_their_places():
    found = outlined(SVG.format(more='<circle cx="10" cy="70" r="8"/>').encode(), Asked())
    assert found.shape is None and [each.number for each in found.found] == [1, 2]
    plate, disc = (each.outline for each in found.found)
    assert min(x for x, _ in plate) == pytest.approx(18.0, abs=0.05) and min(x for x, _ in disc) == pytest.approx(
        0.0, abs=0.05
    )
    page = found_page((plate, disc))
    assert [mark.text for mark in page.marks if isinstance(mark, Label) and mark.role == "heading"] == ["1", "2"]


def test_the_picture_has_the_ruler_and_the_shape_in_one_place():
    found = outlined(SVG.format(more="").encode(), Asked(cuts=(((40.0, -5.0), (40.0, 50.0)),)))
    page = outline_page(found.shape, found.read, found.kept)
    strokes = {mark.role: mark.path.points for mark in page.marks if isinstance(mark, Stroke)}
    left, low = (min(at[axis] for at in strokes["hidden"]) for axis in (0, 1))
    assert max(x for x, _ in strokes["hidden"]) - left == pytest.approx(60.0)
    assert min(x for x, _ in strokes["cut"]) == pytest.approx(left, abs=0.01)
    assert max(x for x, _ in strokes["cut"]) == pytest.approx(left + 40.0, abs=0.01)
    assert min(y for _, y in strokes["cut"]) == pytest.approx(low, abs=0.01)
    xs = [x for mark in page.marks if isinstance(mark, Stroke) for x, _ in mark.path.points]
    assert min(xs) >= 0.0 and max(xs) <= page.width_mm
    numbers = [mark.text for mark in page.marks if isinstance(mark, Label) and mark.role == "note"]
    assert {"0", "10", "60", "mm"} <= set(numbers)
