"""The examples that come with the package say what they claim."""

from fractions import Fraction
from importlib.resources import files
from math import hypot

import pytest

from foldproof.constructions.parameters import Card
from foldproof.constructions.turning_lid import lid_shape
from foldproof.lengths import length
from foldproof.project.canonical import canonical
from foldproof.project.read import read_project

EXAMPLES = ("gale-lid", "pebble-metric", "shell-tray", "storm-tray", "tidepool")


def example(name):
    """An example project by its name."""
    return read_project(files("foldproof").joinpath("examples", f"{name}.toml").read_text(encoding="utf-8"))


def layouts(project, name="tray"):
    """Every piece of a part as designed."""
    sheet = project.cardstock.usable_sheet
    card = Card(
        thickness_mm=project.cardstock.thickness.mm,
        sheet_width=sheet.width,
        sheet_height=sheet.height,
        ruler=project.ruler,
    )
    part = lid(project) if name == "lid" else project.parts[0]
    return part.construction.lay_out(part.values, card)


def lid(project):
    """The part that closes the box."""
    (found,) = [part for part in project.parts if part.on]
    return found


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


def test_tidepools_lid_is_a_sea_urchin_in_four_layers_of_two_colours():
    project = example("tidepool")
    part = lid(project)
    assert (part.on, part.values.shape, part.values.lobes) == ("tray", "rosette", 10)
    assert [piece.width for piece in layouts(project, "lid")[2:]] == [length(size, "in") for size in ("5.5", 5, 4, 3)]
    assert len({layer.colour for layer in part.values.layers}) == len({layer.fill for layer in part.values.layers}) == 2
    assert [layer.brad for layer in part.values.layers] == ["through"] * 2 + ["hidden under it"] * 2
    shape = lid_shape(part.values, length("5.5", "in").float_mm)
    distances = {mark.kind: hypot(*mark.at_mm) / 25.4 for mark in shape.landmarks}
    assert distances == pytest.approx({"tip": 2.75, "dip": 2.5625})


def test_the_pebble_boxs_lid_is_a_disc_in_centimetres():
    project = example("pebble-metric")
    assert lid(project).values.shape == "disc"
    triangle, cap, layer = layouts(project, "lid")
    assert (triangle.width, triangle.height, cap.width) == tuple(length(mm, "mm") for mm in (50, 25, 50))
    assert layer.width == length(125, "mm")


def test_the_gale_lid_is_too_small_and_its_legs_end_in_the_foam():
    project = example("gale-lid")
    values, box = lid(project).values, project.parts[0].values
    assert values.across.float_mm < hypot(box.base_length.float_mm, box.base_width.float_mm)
    pierced = [layer for layer in values.layers if layer.brad == "through"]
    foam = sum(layer.foam.float_mm for layer in pierced if layer.fixed == "foam")
    assert values.legs.float_mm < foam + project.cardstock.thickness.mm * len(pierced)


@pytest.mark.parametrize("name", ["gale-lid", "pebble-metric", "tidepool"])
def test_every_piece_of_a_lid_is_built(name):
    project = example(name)
    part = lid(project)
    pieces = layouts(project, "lid")
    card = Card(
        thickness_mm=0.27, sheet_width=length(12, "in"), sheet_height=length(12, "in"), ruler=project.ruler
    )
    assembly = part.construction.build(part.values, card, pieces)
    assert [piece.id for piece in assembly.pieces] == [layout.piece for layout in pieces]
    assert all(panel.outline for piece in assembly.pieces for panel in piece.panels)


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
