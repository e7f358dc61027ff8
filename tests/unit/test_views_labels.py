"""Breaking, spreading and placing text."""

from itertools import pairwise

import shapely
from hypothesis import given
from hypothesis import strategies as st

from foldproof.drawing.type import text_width_mm
from foldproof.views.labels import label_box, set_inside, shortened, spread, wrapped

WORDS = "Keep each tab 1 9/16 in (4.0 cm) long, and slant both ends by 1/16 in (2 mm)."


def test_wrapped_lines_fit_and_say_the_same():
    for width in (30.0, 45.0, 60.0, 200.0):
        lines = wrapped(WORDS, "label", 11.0, width)
        assert " ".join(lines) == WORDS
        assert all(text_width_mm(line, "label", 11.0) <= width for line in lines)


def test_a_size_is_never_parted_from_its_unit():
    for width in range(18, 90, 3):
        for line in wrapped(WORDS, "label", 11.0, float(width)):
            assert not line.endswith((" 1", "9/16", "1/16", "4.0", " 2"))
            assert not line.startswith(("9/16", "in ", "cm", "mm"))


def test_long_text_is_shortened_to_its_room():
    text = shortened("A very long name for one small box", "title", 24.0, 60.0)
    assert text.endswith("…") and text_width_mm(text, "title", 24.0) <= 60.0
    assert shortened("Box", "title", 24.0, 60.0) == "Box"


@given(st.lists(st.tuples(st.floats(-50, 250), st.floats(1, 30)), min_size=1, max_size=9))
def test_spread_labels_keep_apart_and_inside(items):
    items.sort()
    wanted, widths = [w for w, _ in items], [s for _, s in items]
    places = spread(wanted, widths, 0.0, 200.0)
    if sum(widths) > 200.0:
        assert places is None
        return
    assert places is not None
    edges = [(p - w / 2, p + w / 2) for p, w in zip(places, widths, strict=True)]
    assert edges[0][0] >= -1e-6 and edges[-1][1] <= 200.0 + 1e-6
    assert all(a[1] <= b[0] + 1e-6 for a, b in pairwise(edges))


def test_labels_with_room_stay_where_they_are_wanted():
    assert spread([10.0, 40.0, 90.0], [8.0, 8.0, 8.0], 0.0, 100.0) == (10.0, 40.0, 90.0)


def test_a_name_stands_inside_its_shape_turned_if_need_be():
    for box, angle in ((shapely.box(0, 0, 30, 8), 0.0), (shapely.box(0, 0, 6, 30), 90.0)):
        labels = set_inside("inner wall", box, "label", 11.0)
        assert [label.angle_deg for label in labels] == [angle]
        assert all(box.covers(shapely.box(*label_box(label))) for label in labels)
    two = set_inside("inner wall", shapely.box(0, 0, 13, 14), "label", 11.0)
    assert [label.text for label in two] == ["inner", "wall"]
    assert set_inside("inner wall", shapely.box(0, 0, 3, 3), "label", 11.0) == ()


def test_a_name_finds_room_where_the_middle_is_taken():
    ring = shapely.box(0, 0, 60, 60).difference(shapely.box(15, 15, 45, 45))
    (label,) = set_inside("base", ring, "label", 11.0)
    assert ring.covers(shapely.box(*label_box(label)))
