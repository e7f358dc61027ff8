"""How far a length can go: the ends are tight, the next mark of the ruler does not work, and the reason is told."""

import pytest

from foldproof.constructions.parameters import OPEN
from foldproof.design.workbench.ranges import range_of
from foldproof.design.workbench.solving import solved
from foldproof.errors import InputError
from foldproof.project.read import read_project
from foldproof.project.write import with_change
from foldproof.service.starting import example_text

IN_INCHES, IN_CM = "tidepool", "pebble-metric"
ASKED = [
    (IN_INCHES, "parts.tray.base_length"),
    (IN_INCHES, "parts.tray.wall_height"),
    (IN_INCHES, "parts.tray.inner_wall"),
    (IN_INCHES, "parts.lid.strip"),
    (IN_CM, "parts.tray.base_length"),
    (IN_CM, "parts.lid.across"),
    ("shell-tray", "parts.tray.wall_height"),
]


def works(text, path, mm):
    """Can it be laid out, and does every piece fit the sheet one way or the other?"""
    try:
        done = solved(read_project(with_change(text, path, f"{mm:.4f} mm")))
    except InputError:
        return False
    if done.problems:
        return False
    sheet = done.filled.cardstock.usable_sheet
    long, short = sorted((sheet.width.float_mm, sheet.height.float_mm), reverse=True)
    sides = [
        sorted((piece.exact.width.float_mm, piece.exact.height.float_mm), reverse=True)
        for part in done.measured.parts
        for piece in part.pieces
    ]
    return all(one <= long + 1e-6 and other <= short + 1e-6 for one, other in sides)


@pytest.mark.parametrize(("example", "path"), ASKED)
def test_the_ends_work_and_the_next_mark_does_not(example, path):
    text = example_text(example)
    project = read_project(text)
    step = project.ruler.step_length.float_mm
    found = range_of(text, path)
    assert found["path"] == path
    for end, why, beyond in (("least_mm", "why_least", -step), ("most_mm", "why_most", step)):
        assert works(text, path, found[end]), end
        assert works(text, path, found[end] + beyond) is False, end
        if found[why]:
            assert len(found[why]) > 5
    assert found["least_mm"] < found["most_mm"]


def test_a_wall_can_be_as_tall_as_the_sheet_lets_it_and_that_is_the_reason():
    found = range_of(example_text("shell-tray"), "parts.tray.base_length")
    assert "sheet" in found["why_most"]


def test_other_values_move_the_ends():
    text = example_text(IN_INCHES)
    most = range_of(text, "parts.tray.base_length")["most_mm"]
    lower = range_of(with_change(text, "parts.tray.wall_height", "1 1/2"), "parts.tray.base_length")["most_mm"]
    assert lower > most, "lower walls leave room for a larger base"


def test_from_a_value_that_does_not_work_no_range_is_told():
    text = with_change(example_text(IN_INCHES), "parts.tray.base_length", "20")
    assert range_of(text, "parts.tray.base_length") == {"path": "parts.tray.base_length", "least": "", "most": ""}


def test_an_open_value_has_a_range_too():
    text = with_change(example_text(IN_INCHES), "parts.tray.wall_height", OPEN)
    assert range_of(text, "parts.tray.wall_height")["most_mm"] > 25.4


@pytest.mark.parametrize(
    "path", ["parts.tray.construction", "cardstock.sheet", "parts.no.base_length", "nothing", "a b"]
)
def test_what_is_no_length_of_a_part_has_no_range(path):
    with pytest.raises(InputError):
        range_of(example_text(IN_INCHES), path)
