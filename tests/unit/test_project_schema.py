"""The schema that comes with the package: fresh, valid, and of one mind with reading."""

import tomllib
from importlib.resources import files

import jsonschema
import pytest

from foldproof.errors import InputError
from foldproof.project.read import read_project
from foldproof.project.schema import project_schema, schema_text
from foldproof.project.write import new_project

GOOD = new_project("double-wall tray", "Shells", "in", {"base_length": "3", "wall_height": "2"})
EXAMPLES = sorted(each.name for each in files("foldproof").joinpath("examples").iterdir())
STAR = {"across": "5", "hole_from_corner": "3/4", "lobes": "9", "shape": "star"}
LID = new_project("turning lid", "Urchin", "in", STAR)


def accepts(text):
    """Whether the schema has nothing against a text."""
    return jsonschema.Draft202012Validator(project_schema()).is_valid(tomllib.loads(text))


def reads(text):
    """Whether reading has nothing against a text."""
    try:
        read_project(text)
    except InputError:
        return False
    return True


def test_the_file_is_fresh():
    shipped = files("foldproof").joinpath("schemas", "project.schema.json").read_text(encoding="utf-8")
    assert shipped == schema_text(), "write foldproof.project.schema.schema_text() to the file"


def test_it_is_a_schema():
    jsonschema.Draft202012Validator.check_schema(project_schema())


@pytest.mark.parametrize("name", EXAMPLES)
def test_examples_are_accepted(name):
    assert accepts(files("foldproof").joinpath("examples", name).read_text(encoding="utf-8"))


@pytest.mark.parametrize(
    ("before", "after"),
    [
        ("format = 1 ", "format = 2 "),
        ("name = ", "naem = "),
        ('unit = "in"', 'unit = "ft"'),
        ('weight = "216 gsm"', ""),
        ('sheet = "12x12"', "sheet = 12"),
        ('base_length = "3"', "base_length = true"),
        ('base_length = "3"', ""),
        ("[parts.tray]", '[parts."../tray"]'),
        ("[parts.tray]", "[part.tray]"),
        ('# glue = "wet glue"', 'glue = "spit"'),
        ('# core = "solid"', 'core = "blue"'),
        ("# finger_mm = 16.0", "finger_mm = 99"),
        ("# finger_mm = 16.0", "finger = 16"),
        ("revision = 1 ", "revision = 9 "),
        ("double-wall tray", 'plain tray"\ninner_wall = "1'),
        ("# [extra.notes]", "[extra]\nnotes = 1 #"),
    ],
)
def test_what_the_schema_refuses_reading_refuses(before, after):
    assert before in GOOD
    text = GOOD.replace(before, after, 1)
    assert not accepts(text)
    assert not reads(text)


@pytest.mark.parametrize(
    ("before", "after"),
    [
        ('base_length = "3"', "base_length = 3.5"),
        ('base_length = "3"', 'base_length = "work out"'),
        ('# relief = "1/16 in"', "relief = 0"),
        ('# stops = "inch eighths"', "stops = [1, '2 1/2'] #"),
        ("# [extra.notes]", "[extra.notes]\nanything = [{a = 1}] #"),
    ],
)
def test_what_reading_takes_the_schema_takes(before, after):
    assert before in GOOD
    text = GOOD.replace(before, after, 1)
    assert accepts(text)
    assert reads(text)


@pytest.mark.parametrize(
    ("before", "after"),
    [
        ('on = "tray"', ""),
        ('on = "tray"', "on = 1"),
        ('on = "tray"', 'on = "../tray"'),
        ('shape = "star"', "shape = 5"),
        ('shape = "star"', f'shape = "{"x" * 41}"'),
        ("lobes = 9", "lobes = 9.5"),
        ("lobes = 9", "lobes = 2"),
        ('# closed = "tip over the corner"', "closed = 361"),
        ('# closed = "tip over the corner"', "closed = []"),
        ('brad = "hidden under it"', 'brad = "beside it"'),
        ('brad = "hidden under it"', 'fill = "red"'),
        ('brad = "hidden under it"', f'colour = "{"x" * 41}"'),
        ('brad = "hidden under it"', "foam = true"),
        ('brad = "hidden under it"', 'color = "red"'),
        ("# [content]", "[[parts.lid.layers]]\n" * 39),
        ("[[parts.lid.layers]]", "[parts.lid.layer]\n[[parts.lid.layers]]"),
    ],
)
def test_what_the_schema_refuses_of_a_lid_reading_refuses(before, after):
    assert before in LID
    text = LID.replace(before, after, 1)
    assert not accepts(text)
    assert not reads(text)


@pytest.mark.parametrize(
    ("before", "after"),
    [
        ("lobes = 9", 'lobes = "9"'),
        ("lobes = 9", 'lobes = "usual"'),
        ('# closed = "tip over the corner"', "closed = -7.5"),
        ('brad = "hidden under it"', 'fill = "#E9B9A6"\nacross = 4.5\nturned = "18"'),
        ("# [content]", '[[parts.lid.layers]]\nbrad = "hidden under it"\n#'),
    ],
)
def test_what_reading_takes_of_a_lid_the_schema_takes(before, after):
    assert before in LID
    text = LID.replace(before, after, 1)
    assert accepts(text)
    assert reads(text)
