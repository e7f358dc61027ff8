"""The examples that come with the package say what they claim."""

from fractions import Fraction
from importlib.resources import files

import pytest

from foldproof.constructions.parameters import Card
from foldproof.lengths import length
from foldproof.project.canonical import canonical
from foldproof.project.read import read_project

EXAMPLES = ("pebble-metric", "shell-tray", "storm-tray", "tidepool")


def example(name):
    """An example project by its name."""
    return read_project(files("foldproof").joinpath("examples", f"{name}.toml").read_text(encoding="utf-8"))


def layouts(project):
    """Every piece of a project as designed."""
    sheet = project.cardstock.usable_sheet
    card = Card(
        thickness_mm=project.cardstock.thickness.mm,
        sheet_width=sheet.width,
        sheet_height=sheet.height,
        ruler=project.ruler,
    )
    return [layout for part in project.parts for layout in part.construction.lay_out(part.values, card)]


def positions(layout, unit):
    """The piece's sides and the score positions across, in a unit."""
    one = length(1, unit).mm
    return layout.width.mm / one, layout.height.mm / one, [position.at.mm / one for position in layout.across]


def test_these_are_all():
    assert sorted(each.name for each in files("foldproof").joinpath("examples").iterdir()) == [
        f"{name}.toml" for name in EXAMPLES
    ]


@pytest.mark.parametrize("name", EXAMPLES)
def test_an_example_is_complete_and_introduced(name):
    project = example(name)
    assert project.maker == "Harbour Library reading club"
    assert all(part.open_values == () for part in project.parts)
    text = files("foldproof").joinpath("examples", f"{name}.toml").read_text(encoding="utf-8")
    assert text.startswith(f"# {project.name}")
    assert canonical(project) == canonical(read_project(text))


def test_tidepool_uses_most_of_a_sheet():
    (layout,) = layouts(example("tidepool"))
    # 1 1/2 + 2 1/4 + 3 1/4 + 2 1/4 + 1 1/2
    lines = [Fraction(3, 2), Fraction(15, 4), 7, Fraction(37, 4)]
    assert positions(layout, "in") == (Fraction(43, 4), Fraction(43, 4), lines)


def test_the_pebble_box_is_scored_on_half_centimetres():
    (layout,) = layouts(example("pebble-metric"))
    assert positions(layout, "cm") == (21, 21, [3, Fraction(13, 2), Fraction(29, 2), 18])


def test_the_shell_trays_lid_has_the_same_score_from_the_edge():
    tray, lid = layouts(example("shell-tray"))
    assert positions(tray, "in") == (7, Fraction(23, 4), [Fraction(5, 4), Fraction(23, 4)])
    assert positions(lid, "in") == (Fraction(57, 8), Fraction(47, 8), [Fraction(5, 4), Fraction(47, 8)])


def test_the_storm_tray_does_not_fit_its_sheet():
    project = example("storm-tray")
    (layout,) = layouts(project)
    assert layout.width == length("15.25", "in") > project.cardstock.usable_sheet.width
