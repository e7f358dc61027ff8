"""The smallest lid of a shape that is owned in some sizes only: among these, and it is said so."""

import dataclasses
import math

import pytest

from foldproof.design.fit_report import fit_document, fit_report
from foldproof.exports.text import document_text
from foldproof.lengths import length
from foldproof.outlines.own_shape import own_shape
from foldproof.project.read import read_project
from foldproof.project.write_shapes import with_shape
from foldproof.service.projects import fit_parts

TEXT = """format = 1
name = "Box"
unit = "in"
[cardstock]
sheet = "12x12"
weight = "176 gsm"
thickness = "0.27 mm +/- 0.0001"
[parts.tray]
construction = "double-wall tray"
base_length = "3 1/4"
wall_height = "2"
[parts.lid]
construction = "turning lid"
on = "tray"
shape = "{shape}"
{values}
hole_from_corner = "1/2"
[[parts.lid.layers]]
"""
TURNS = [2 * math.pi * n / 200 for n in range(200)]
ROUND = own_shape(
    "round", tuple((60 * math.cos(a), 60 * math.sin(a)) for a in TURNS), accuracy_mm=0.1, source="", symmetric=False
)


def project_of(*sizes, shape="round", values=""):
    own = dataclasses.replace(ROUND, sizes=tuple(length(size, "in") for size in sizes))
    text = with_shape(TEXT.format(shape="disc", values='across = "5"'), own)
    return read_project(text.replace('shape = "disc"', f'shape = "{shape}"').replace('across = "5"', values))


def fitted(project, goal=None):
    (answer,) = fit_parts(project, goal)
    return answer


def test_the_smallest_of_the_owned_sizes_that_covers_is_taken():
    # Computed from the definition: half a disc / root 2 less half the rim must be 1/8 in: 4.97 in across.
    answer = fitted(project_of("3", "4.5", "5.25", "6"))
    assert answer.works and dict(answer.answers[0].values)["across"] == length("5.25", "in")
    assert [size.float_mm for size in answer.among] == pytest.approx([76.2, 114.3, 133.35, 152.4])


def test_without_owned_sizes_any_on_the_ruler_will_do_and_nothing_is_said():
    answer = fitted(project_of())
    assert answer.works and answer.among == ()
    across = dict(answer.answers[0].values)["across"]
    assert length("4.9", "in") < across < length("5.1", "in")


def test_where_the_place_is_open_too_the_best_place_counts():
    project = project_of("4.5", "5.25", values='moved_right = "work out"\nmoved_back = "work out"')
    found = dict(fitted(project).answers[0].values)
    assert found["across"] == length("5.25", "in") and abs(found["moved_right"].float_mm) < 1.0


def test_when_none_of_them_covers_what_is_missing_at_the_largest_is_told():
    project = project_of("3", "4")
    answer = fitted(project)
    assert not answer.works and answer.reason == "no_owned" and answer.answers == ()
    text = document_text(fit_document(project, (answer,), None), 88)
    assert "None of the sizes you own" in text and "4 in (10.2 cm)" in text
    report = fit_report(project, (answer,), None, None)["parts"][0]
    assert report["reason"] == "no_owned" and report["short_mm"] > 0 and report["among_mm"] == [76.2, 101.6]


def test_it_is_said_which_sizes_were_looked_at():
    project = project_of("4.5", "5.25")
    text = document_text(fit_document(project, (fitted(project),), None), 88)
    assert "the sizes you own: 4 1/2 in" in text


def test_a_lid_goal_asks_the_lid_alone_even_when_nothing_is_open():
    project = project_of("4.5", "5.25", "6", values='across = "6"')
    answer = fitted(project, "smallest lid")
    assert answer.part == "lid" and dict(answer.answers[0].values) == {"across": length("5.25", "in")}


def test_what_is_missing_is_told_of_a_shape_of_any_size_too():
    project = project_of()
    answer = dataclasses.replace(fitted(project), works=False, reason="no_lid", short=length("0.5", "in"), answers=())
    text = document_text(fit_document(project, (answer,), None), 88)
    assert "No lid of this shape covers the box" in text and "1/2 in" in text
