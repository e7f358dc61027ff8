"""A mend is a change that can be made."""

from foldproof.design.measure import measure
from foldproof.design.mend import with_mends
from foldproof.design.prove import prove
from foldproof.project.read import read_project

NARROW = """
format = 1
name = "Narrow"
unit = "in"
[cardstock]
sheet = "12x12"
weight = "176 gsm"
thickness = "0.27 mm"
[board]
stops = "inch eighths"
[parts.tray]
construction = "double-wall tray"
base_length = "{base}"
wall_height = "2"
inner_wall = "1 1/2"
[parts.lid]
construction = "turning lid"
on = "tray"
shape = "disc"
across = "6 in"
strip = "1"
hole_from_corner = "11/16"
legs = "1/2"
[[parts.lid.layers]]
[settings]
hole_edge_mm = 12
opens_fail_percent = 0
opens_look_percent = 0
"""


def strips(base: str) -> list[str]:
    project = read_project(NARROW.format(base=base))
    proof = with_mends(project, prove(measure(project)))
    assert any(finding.code == "hole_to_triangle" for finding in proof.findings)
    return [change.value for mend in proof.mends for change in mend.changes if change.path == "parts.lid.strip"]


def test_a_triangle_too_large_for_its_box_is_no_mend():
    """A strip of 1 1/4 in folds to 1.77 in, more than three quarters of a base of 2 1/4 in."""
    assert "1 1/4 in" in strips("2 3/4")
    assert "1 1/4 in" not in strips("2 1/4")
