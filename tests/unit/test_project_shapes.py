"""Shapes of the maker's own in the project file: what reads, what does not, and that writing and reading agree."""

import dataclasses
import json
import math
import tomllib

import jsonschema
import pytest

from foldproof.constructions.parameters import Open
from foldproof.constructions.turning_lid import lid_shape, owned_sizes, shape_name
from foldproof.errors import InputError
from foldproof.lengths import length
from foldproof.outlines.own import OwnShape
from foldproof.outlines.own_shape import own_shape
from foldproof.project.canonical import canonical
from foldproof.project.read import read_project
from foldproof.project.schema import project_schema
from foldproof.project.shelf_file import read_shelf_text, shelf_text
from foldproof.project.write import with_change
from foldproof.project.write_shapes import exact_size, with_shape

GOOD = """format = 1
name = "Leaf box"
unit = "in"
[cardstock]
sheet = "12x12"
weight = "216 gsm"
# a note that stays
[parts.tray]
construction = "double-wall tray"
base_length = "3 1/4"
wall_height = "2 1/4"
"""
LID = """[parts.lid]
construction = "turning lid"
on = "tray"
shape = "{shape}"
{values}
hole_from_corner = "3/4"
[[parts.lid.layers]]
"""
POINTS = "points = [[0, 0], [120, 10], [130, 110], [60, 140], [-10, 100]]"
LEAF = f'[shapes.leaf]\naccuracy = "0.2 mm"\nsource = "traced at home"\n{POINTS}\n'


def with_lid(shape="leaf", values='across = "5 1/2"', shapes=LEAF):
    return GOOD + LID.format(shape=shape, values=values) + shapes


def problems(text):
    """Everything that is wrong with a text, by path."""
    with pytest.raises(InputError) as caught:
        read_project(text)
    assert all(problem.reason and problem.remedy for problem in caught.value.problems)
    return {problem.field: problem for problem in caught.value.problems}


def wavy(count, lobes=5, depth=0.1, radius=60.0):
    """A closed wave of so many points."""
    turns = [2 * math.pi * n / count for n in range(count)]
    return tuple(
        (
            radius * (1 + depth * math.cos(lobes * a)) * math.cos(a),
            radius * (1 + depth * math.cos(lobes * a)) * math.sin(a),
        )
        for a in turns
    )


def sample(name="Tide leaf", sizes=("4", "5.5"), **values):
    shape = own_shape(name, wavy(180), accuracy_mm=0.2, source="traced at home", symmetric=False)
    return dataclasses.replace(shape, sizes=tuple(length(size, "in") for size in sizes), **values)


def lid_of(text):
    return next(part for part in read_project(text).parts if part.on)


# --- Reading ------------------------------------------------------------------------------------------------


def test_a_shape_reads_about_its_middle_and_a_lid_takes_it_by_name():
    project = read_project(with_lid("  LEAF "))
    (leaf,) = project.shapes
    assert (leaf.name, leaf.source, leaf.accuracy_mm, leaf.sizes) == ("leaf", "traced at home", 0.2, ())
    xs, ys = zip(*leaf.outline, strict=True)
    assert (max(xs) - min(xs), max(ys) - min(ys)) == pytest.approx((140, 140), abs=0.02)
    values = project.parts[1].values
    assert values.shape is leaf and shape_name(values) == "leaf"
    shape = lid_shape(values, 70.0)
    assert shape.across_mm == 70.0
    assert max(math.dist(a, b) for a in shape.outline for b in shape.outline) == pytest.approx(70.0, abs=1e-9)


def test_symmetry_and_landmarks_are_found_again():
    text = with_shape(GOOD, sample())
    assert "symmetr" not in text and "landmark" not in text
    (leaf,) = read_project(text).shapes
    assert leaf.fold == 5 and len(leaf.mirror_axes_rad) == 5
    assert [mark.kind for mark in leaf.landmarks].count("tip") == 5


def test_its_size_may_be_left_out_or_open_beside_a_shape_of_ones_own_only():
    for values in ("", 'across = "work out"'):
        part = lid_of(with_lid(values=values))
        assert isinstance(part.values.across, Open) and part.open_values == ("across",)
    assert problems(with_lid("disc", ""))["parts.lid.across"].reason == "is missing"


def test_a_shape_has_no_lobes_and_no_depth():
    found = problems(with_lid(values='across = "5"\nlobes = 8\ndepth = "1/4"'))
    assert set(found) == {"parts.lid.lobes", "parts.lid.depth"}
    assert all("leaf" in problem.reason and "none" in problem.reason for problem in found.values())


def test_owned_sizes_are_read_in_any_unit_and_rise():
    project = read_project(with_lid(shapes=LEAF + 'sizes = [4, "12 cm", "5 1/2"]\n'))
    assert [size.float_mm for size in project.shapes[0].sizes] == pytest.approx([101.6, 120.0, 139.7])
    assert owned_sizes(project.parts[1].values) == project.shapes[0].sizes


def test_a_shape_nobody_names_is_kept_all_the_same():
    assert [shape.name for shape in read_project(GOOD + LEAF).shapes] == ["leaf"]


# --- What is wrong ------------------------------------------------------------------------------------------


@pytest.mark.parametrize(
    ("points", "reason"),
    [
        ("[[0, 0], [1, 1]]", "2 points"),
        ("[]", "0 points"),
        ("5", "not a list"),
        ("[[0, 0], [50, 0], [25]]", "not two numbers"),
        ('[[0, 0], [50, 0], ["25", 40]]', "not two numbers"),
        ("[[0, 0], [50, true], [25, 40]]", "not two numbers"),
        ("[[0, 0], [50, nan], [25, 40]]", "not two numbers"),
        ("[[0, 0], [inf, 0], [25, 40]]", "not two numbers"),
        (f"[[0, 0], [1{'0' * 400}, 0], [25, 40]]", "not two numbers"),
        ("[[0, 0], [5000, 0], [25, 40]]", "not two numbers"),
        ("[[0, 0], [50, 50], [50, 0], [0, 50]]", "crosses or touches itself at 25.0, 25.0"),
        ("[[0, 0], [50, 0], [100, 0]]", "encloses nothing"),
        ("[[0, 0], [0, 0], [0, 0]]", "less than 10 mm"),
        ("[[0, 0], [5, 0], [2, 4]]", "less than 10 mm"),
        ("[[-900, 0], [900, 0], [0, 40]]", "more than 1000 mm"),
        (f"[{', '.join(['[0, 0]'] * 4001)}]", "4001 points"),
    ],
    ids=lambda text: text[:30],
)
def test_points_that_are_no_outline(points, reason):
    ((field, problem),) = problems(GOOD + f"[shapes.leaf]\npoints = {points}\n").items()
    assert field.startswith("shapes.leaf.points") and reason in problem.reason


def test_clockwise_points_and_points_twice_in_one_place_are_put_right():
    plain = read_project(GOOD + LEAF).shapes[0]
    backwards = "points = [[-10, 100], [60, 140], [130, 110], [130, 110], [120, 10], [0, 0]]"
    assert set(read_project(GOOD + LEAF.replace(POINTS, backwards)).shapes[0].outline) == set(plain.outline)


def test_all_that_is_wrong_is_told_at_once_and_a_lid_that_names_it_says_nothing_more():
    wrong = (
        '[shapes.leaf]\naccuracy = "3 in"\nsource = 5\nsizes = ["5", "4"]\ncolour = "red"\npoints = [[0, 0], [1, 1]]\n'
        "[shapes.disc]\npoints = [[0, 0], [50, 0], [25, 40]]\n"
    )
    found = problems(with_lid(shapes=wrong))
    assert {"accuracy", "source", "sizes", "colour", "points"} <= {field.rpartition(".")[2] for field in found}
    assert "shapes.disc" in found and "meaning of its own" in found["shapes.disc"].reason
    assert not any(field.startswith("parts.") for field in found)


def test_a_shape_that_is_not_there_is_told_with_the_nearest():
    found = problems(with_lid("leef"))["parts.lid.shape"]
    assert "no shape of this name" in found.reason and "leaf" in found.remedy


@pytest.mark.parametrize(
    "name", ["", " leaf", "x" * 41, "two\\nlines", "work out", "Disc", "rounded  SQUARE", "a\\u202eb", "\\u0000"]
)
def test_names_that_cannot_be(name):
    text = GOOD + f'[shapes."{name}"]\n{POINTS}\n'
    assert any(field.startswith("shapes.") for field in problems(text))


def test_names_in_any_script_can_be():
    for name in ("צדף", "贝壳", "../../etc/passwd", "=1+1", "leaf 🐚"):
        (shape,) = read_project(with_shape(GOOD, sample(name))).shapes
        assert shape.name == name


def test_two_names_that_differ_in_capitals_are_one():
    assert "another shape" in problems(GOOD + LEAF + LEAF.replace("leaf", "Leaf"))["shapes.Leaf"].reason


def test_too_many_shapes_are_refused_together():
    many = "".join(f"[shapes.leaf{n}]\n{POINTS}\n" for n in range(13))
    assert "13 shapes" in problems(GOOD + many)["shapes"].reason


@pytest.mark.parametrize("accuracy", ['"0.001 mm"', '"11 mm"', "true", "[]", '"fine"', "nan", "-1"])
def test_accuracies_that_cannot_be(accuracy):
    assert "shapes.leaf.accuracy" in problems(GOOD + f"[shapes.leaf]\naccuracy = {accuracy}\n{POINTS}\n")


@pytest.mark.parametrize(
    "sizes", ['"4 in"', '["4 in", "4 in"]', '["5 mm"]', '["2000 mm"]', "[true]", "[[4]]", "[4] # \n"]
)
def test_sizes_that_cannot_be(sizes):
    text = GOOD.replace('"in"', '"cm"').replace("1/4", "") + f"[shapes.leaf]\nsizes = {sizes}\n{POINTS}\n"
    if sizes.startswith("[4]"):
        assert read_project(text).shapes[0].sizes == (length(4, "cm"),)
    else:
        assert any(field.startswith("shapes.leaf.sizes") for field in problems(text))


# --- Writing ------------------------------------------------------------------------------------------------


def test_what_is_written_reads_back_the_same_and_the_rest_of_the_file_stays():
    shape = sample()
    text = with_shape(GOOD, shape)
    assert text.startswith(GOOD.rstrip()) and "# a note that stays" in text
    assert max(map(len, text.splitlines())) <= 120
    (back,) = read_project(text).shapes
    assert back == shape
    assert with_shape(text, back, replace=True) == text


def test_a_taken_name_is_refused_unless_it_is_replaced():
    text = with_shape(with_shape(GOOD, sample("other")), sample())
    with pytest.raises(InputError, match="already"):
        with_shape(text, sample("tide  LEAF"))
    again = with_shape(text, sample("tide  LEAF", sizes=()), replace=True)
    assert [shape.name for shape in read_project(again).shapes] == ["other", "tide  LEAF"]


def test_a_value_of_a_shape_can_be_changed_by_its_path():
    changed = with_change(with_shape(GOOD, sample("leaf")), "shapes.leaf.source", "a fair")
    assert read_project(changed).shapes[0].source == "a fair"


def test_the_largest_shape_is_read_and_written_within_the_file():
    shape = own_shape(
        "large", wavy(3900, lobes=30, depth=0.02, radius=400), accuracy_mm=0.05, source="", symmetric=False
    )
    text = with_shape(GOOD, shape)
    assert len(text) < 100_000
    assert read_project(text).shapes[0].outline == shape.outline


def test_sizes_are_written_as_makers_write_them():
    written = [exact_size(size) for size in (length("5.5", "in"), length("127", "mm"), length("10.5", "cm"))]
    assert written == ["5 1/2 in", "5 in", "105 mm"]
    assert exact_size(length("3.30375", "mm")) == "3.30375 mm"


def test_the_hash_knows_what_a_shape_is_and_not_how_it_is_written():
    text = with_lid()
    once = canonical(read_project(text))
    assert canonical(read_project(text.replace("[0, 0]", "[0.0, 0.0]").replace('"0.2 mm"', '"0.02 cm"'))) == once
    assert canonical(read_project(text.replace("[0, 0]", "[1, 0]"))) != once
    assert canonical(read_project(text.replace("traced at home", "a fair"))) != once
    assert "outline" not in once


# --- The shelf's files --------------------------------------------------------------------------------------


def test_a_shelf_file_holds_the_same_shape():
    shape = sample("חמסה ../..")
    assert read_shelf_text(shelf_text(shape)) == shape


@pytest.mark.parametrize(
    ("before", "after", "field"),
    [
        ("format = 1\n", "", "format"),
        ("format = 1", "format = 2", "format"),
        ('name = "Tide leaf"\n', "", "name"),
        ('name = "Tide leaf"', 'name = "star"', "name"),
        ("points = [", "other = 1\npoints = [", "other"),
        ("points", "pionts", "points"),
    ],
)
def test_what_is_no_shelf_file(before, after, field):
    text = shelf_text(sample())
    assert before in text
    with pytest.raises(InputError) as caught:
        read_shelf_text(text.replace(before, after, 1))
    assert field in [problem.field for problem in caught.value.problems]


# --- Schema -------------------------------------------------------------------------------------------------


def accepted(text):
    return jsonschema.Draft202012Validator(project_schema()).is_valid(tomllib.loads(text))


def test_the_schema_takes_what_reading_takes_and_refuses_the_rest():
    for text in (with_lid(), with_lid(values=""), with_lid("disc"), with_shape(GOOD, sample())):
        assert accepted(text) and isinstance(json.dumps(project_schema()), str)
        read_project(text)
    for text in (
        with_lid("disc", ""),
        with_lid(shapes="[shapes.leaf]\n"),
        with_lid(shapes="[shapes.leaf]\npoints = [[0, 0], [1, 1]]\n"),
        with_lid(shapes=LEAF.replace("source", "sauce")),
        with_lid(shapes=LEAF.replace("[0, 0]", "[0, 0, 0]")),
    ):
        assert not accepted(text)
        problems(text)


def test_a_shape_is_a_plain_record():
    assert dataclasses.is_dataclass(OwnShape) and hash(sample()) == hash(sample())
