"""What contradicts itself in a turning lid, each with a value that works."""

import pytest

from foldproof.errors import InputError
from foldproof.project.read import read_project

TEXT = """
format = 1
name = "A"
unit = "in"
[cardstock]
sheet = "12x12"
weight = "176 gsm"
[board]
stops = "inch eighths"
[parts.tray]
construction = "plain tray"
base_length = "3 1/4"
wall_height = "2"
lid = "{lid}"
[parts.lid]
construction = "turning lid"
on = "tray"
shape = "disc"
across = "6"
hole_from_corner = "1/2"
[[parts.lid.layers]]
greeting = "{low}"
[[parts.lid.layers]]
across = "5"
brad = "hidden under it"
greeting = "{high}"
"""


def reasons(**values):
    try:
        read_project(TEXT.format(**{"lid": "none", "low": "no", "high": "no", **values}))
    except InputError as error:
        return " ".join(problem.reason for problem in error.problems)
    return ""


@pytest.mark.parametrize(
    ("values", "said"),
    [
        ({"low": "yes"}, "glued over the one that carries the greeting"),
        ({"low": "yes", "high": "yes"}, "2 fronts"),
        ({"lid": "from a larger piece"}, "has a lid that lifts off"),
    ],
)
def test_contradictions_are_told(values, said):
    assert said in reasons(**values)


def test_a_greeting_on_the_last_layer_of_the_only_lid_is_taken():
    assert reasons(high="yes") == ""
