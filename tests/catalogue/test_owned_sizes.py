"""A layer of a size that is not owned is worth a look, and mended by the nearest that is; the others hold."""

import pytest

from foldproof.checks.owned_sizes import CODE
from foldproof.design.change import changed
from foldproof.design.measure import measure
from foldproof.design.prove import prove
from foldproof.findings import Severity
from foldproof.project.read import read_project
from foldproof.teach.messages import finding_words
from foldproof.words.lengths import Speech

TEXT = """format = 1
name = "Leaf box"
unit = "in"
[cardstock]
sheet = "12x12"
weight = "176 gsm"
thickness = "0.27 mm +/- 0.0001"
[parts.tray]
construction = "double-wall tray"
base_length = "3 1/4"
wall_height = "2 1/4"
inner_wall = "2 1/8"
[parts.lid]
construction = "turning lid"
on = "tray"
shape = "{shape}"
across = "{across}"
closed = "as drawn"
hole_from_corner = "1/2"
[[parts.lid.layers]]
[[parts.lid.layers]]
across = "{second}"
brad = "hidden under it"
[[parts.lid.layers]]
across = "{third}"
brad = "hidden under it"
[shapes.leaf]
{sizes}
points = [[60, 0], [42, 42], [0, 60], [-42, 42], [-60, 0], [-42, -42], [0, -60], [42, -42]]
"""


def project_of(shape="leaf", across="6", second="5", third="4", sizes='sizes = ["4 in", "5 in", "6 in"]'):
    return read_project(TEXT.format(shape=shape, across=across, second=second, third=third, sizes=sizes))


def found(project):
    return [finding for finding in prove(measure(project)).findings if finding.code == CODE]


def test_near_miss_every_layer_is_a_size_of_the_set():
    (finding,) = found(project_of())
    assert finding.severity is Severity.HOLDS and finding.measured == 0.0 and finding.proposals == ()


@pytest.mark.parametrize(
    ("values", "count", "changes"),
    [
        ({"across": "5 15/16"}, 1, {"parts.lid.across": "6 in"}),
        ({"second": "5 1/16"}, 1, {"parts.lid.layers.2.across": "5 in"}),
        (
            {"second": "4 1/2", "third": "1"},
            2,
            {"parts.lid.layers.2.across": "5 in", "parts.lid.layers.3.across": "4 in"},
        ),
    ],
)
def test_trigger_and_the_nearest_owned_size_mends_it(values, count, changes):
    project = project_of(**values)
    (finding,) = found(project)
    assert finding.severity is Severity.LOOK and finding.measured == count
    (proposal,) = finding.proposals
    assert {change.path: change.value for change in proposal} == changes
    (after,) = found(changed(project, proposal))
    assert after.severity is Severity.HOLDS
    words = finding_words(finding, Speech(ruler=project.ruler, other_ruler=project.other_ruler))
    assert "own" in words.title and "in" in words.why


def test_a_shape_of_any_size_and_a_formula_have_no_such_finding():
    assert found(project_of(sizes="")) == []
    assert found(project_of(shape="disc")) == []
