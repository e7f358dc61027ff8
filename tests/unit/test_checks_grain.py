"""Score lines against the grain, for a piece that comes out of its sheet only when it is turned."""

from __future__ import annotations

import pytest

from foldproof.checks import grain
from foldproof.checks.evidence import gather
from foldproof.design.measure import measure
from foldproof.project.read import read_project

# 24 cm across and 10 cm up: on an upright A4 (21 x 29.7 cm) it lies turned. A double-wall tray has 8 creases each way
# but its base is long, so a plain tray without inner walls is taken: 2 folds and 4 tabs upright, 2 folds level.
TEXT = """
format = 1
name = "Long"
unit = "cm"
[cardstock]
sheet = "{sheet}"
weight = "300 gsm"
grain = "{grain}"
[parts.tray]
construction = "plain tray"
base_length = "18"
base_width = "4"
wall_height = "3"
"""


def across(sheet: str, along: str) -> float:
    project = read_project(TEXT.format(sheet=sheet, grain=along))
    part = measure(project).parts[0]
    (finding,) = grain.judge(gather(project, part.part, part.pieces, part.assembly))
    return finding.measured


@pytest.mark.parametrize(
    ("sheet", "along", "crossing"),
    [
        ("29.7 x 21 cm", "along width", 6),  # as it lies: upright lines cross a grain that runs across
        ("29.7 x 21 cm", "along height", 2),
        ("21 x 29.7 cm", "along width", 2),  # turned by a quarter the same lines run the other way
        ("21 x 29.7 cm", "along height", 6),
    ],
)
def test_a_turned_piece_turns_its_lines(sheet: str, along: str, crossing: int) -> None:
    assert across(sheet, along) == crossing
