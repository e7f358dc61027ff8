"""Any shape of the maker's own goes through a project file and a shelf file unchanged."""

import math

from hypothesis import given, settings
from hypothesis import strategies as st

from foldproof.errors import InputError
from foldproof.lengths import length
from foldproof.outlines.own_shape import own_shape
from foldproof.project.canonical import canonical
from foldproof.project.read import read_project
from foldproof.project.read_shapes import why_no_shape_name
from foldproof.project.shelf_file import read_shelf_text, shelf_text
from foldproof.project.write_shapes import with_shape

PROJECT = """format = 1
name = "Box"
unit = "cm"
[cardstock]
sheet = "A4"
weight = "216 gsm"
[parts.tray]
construction = "double-wall tray"
base_length = "8"
wall_height = "4"
"""


@st.composite
def shapes(draw):
    """A shape round its middle with a few waves, drawn anywhere, under any name, in some sizes."""
    count = draw(st.integers(5, 60))
    waves = draw(st.lists(st.floats(-0.12, 0.12), min_size=3, max_size=3))
    radius, right, up = draw(st.floats(8.0, 400.0)), draw(st.floats(-50.0, 50.0)), draw(st.floats(-50.0, 50.0))
    turns = [2 * math.pi * n / count for n in range(count)]
    reach = [radius * (1 + sum(wave * math.cos((k + 1) * a) for k, wave in enumerate(waves))) for a in turns]
    outline = tuple((right + r * math.cos(a), up + r * math.sin(a)) for r, a in zip(reach, turns, strict=True))
    return own_shape(
        draw(st.text(min_size=1, max_size=40).filter(lambda name: not why_no_shape_name(name))),
        outline,
        accuracy_mm=draw(st.floats(0.01, 1.0)),
        source=draw(st.text(st.characters(codec="utf-8", exclude_categories=("C", "Z")), max_size=60)),
        sizes=tuple(length(size, "mm") for size in draw(st.lists(st.integers(10, 1000), max_size=5))),
        symmetric=draw(st.booleans()),
    )


@settings(max_examples=15)
@given(shape=shapes())
def test_it_is_the_same_on_the_other_side(shape):
    text = with_shape(PROJECT, shape)
    (back,) = read_project(text).shapes
    assert back == shape
    assert with_shape(text, back, replace=True) == text
    assert read_shelf_text(shelf_text(shape)) == shape
    assert canonical(read_project(text)) == canonical(read_project(with_shape(PROJECT, back)))


@settings(max_examples=150)
@given(points=st.lists(st.lists(st.one_of(st.floats(), st.integers(), st.booleans()), max_size=3), max_size=8))
def test_no_points_are_anything_but_read_or_refused(points):
    written = str(points).replace("True", "true").replace("False", "false")
    try:
        (shape,) = read_project(f"{PROJECT}[shapes.leaf]\npoints = {written}\n").shapes
    except InputError as error:
        assert all(problem.reason and problem.remedy for problem in error.problems)
    else:
        assert 10.0 <= shape.across_mm <= 1000.0
