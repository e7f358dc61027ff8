"""What a lid turns on: the card it holds, room for its back, and what of its measures makes no sense."""

from __future__ import annotations

import dataclasses
import math

import pytest

from foldproof.constructions.fasteners import MEASURES, fastener_sizes
from foldproof.design.measure import measure
from foldproof.design.prove import prove
from foldproof.errors import InputError
from foldproof.lengths import length
from foldproof.project.read import read_project

TEXT = """
format = 1
name = "A lid"
unit = "{unit}"
[cardstock]
sheet = "12x12"
weight = "216 gsm"
thickness = "0.3 mm +/- 0.0001"
[parts.tray]
construction = "double-wall tray"
base_length = "3 1/4 in"
wall_height = "2 in"
inner_wall = "1 7/8 in"
[parts.lid]
construction = "turning lid"
on = "tray"
shape = "disc"
across = "6 in"
hole_from_corner = "3/4 in"
{lid}
[[parts.lid.layers]]
{low}
[[parts.lid.layers]]
across = "5 in"
{high}
"""


def project(lid: str = "", low: str = "", high: str = "", unit: str = "in"):
    return read_project(TEXT.format(lid=lid, low=low, high=high, unit=unit))


def turning(lid: str = "", low: str = "", high: str = "", unit: str = "in"):
    proof = prove(measure(project(lid, low, high, unit)))
    return next(part.evidence.turning for part in proof.parts if part.evidence.turning)


def reasons(lid: str) -> dict[str, str]:
    try:
        project(lid)
    except InputError as error:
        return {problem.field: problem.reason for problem in error.problems}
    return {}


@pytest.mark.parametrize("kind", ["brad", "eyelet", "snap"])
@pytest.mark.parametrize("unit", ["in", "cm"])
def test_every_measure_of_a_kind_has_a_usual_size_and_the_others_are_nothing(kind, unit):
    sizes = fastener_sizes(project(f'fastener = "{kind}"', unit=unit).parts[1].values, unit)
    measures = {field.name: getattr(sizes, field.name) for field in dataclasses.fields(sizes) if field.name != "kind"}
    assert {name for name, size in measures.items() if size.mm > 0} == set(MEASURES[kind])
    assert sizes.head > sizes.hole


def test_a_given_measure_takes_the_place_of_the_usual_one():
    values = project('fastener = "eyelet"\nbarrel = "6 mm"').parts[1].values
    assert fastener_sizes(values, "in").barrel == length(6, "mm")
    assert fastener_sizes(values, "in").head == length("0.3125", "in")


@pytest.mark.parametrize(
    ("lid", "field", "reason"),
    [
        ('fastener = "snap"\nlegs = "1/2"', "parts.lid.legs", "a snap has none"),
        ('fastener = "eyelet"\ngrip_most = "1/8"', "parts.lid.grip_most", "an eyelet has none"),
        ('barrel = "1/8"', "parts.lid.barrel", "a brad has none"),
        ('back = "1/4"', "parts.lid.back", "a brad has none"),
        ('fastener = "eyelet"\nhead = "1/8"', "parts.lid.head", "slips through the hole"),
        ('fastener = "snap"\nback = "2 mm"', "parts.lid.back", "slips through the hole"),
        (
            'fastener = "snap"\ngrip_least = "3 mm"\ngrip_most = "2 mm"',
            "parts.lid.grip_most",
            "no more than grip_least",
        ),
        ('hole = "1/4"\nhead = "1/2"\nreinforce = "7/16"', "parts.lid.reinforce", "hardly any card round the hole"),
    ],
)
def test_measures_that_make_no_sense_are_told(lid, field, reason):
    assert reason in reasons(lid)[field]


def test_all_that_is_wrong_is_told_at_once():
    assert set(reasons('fastener = "snap"\nlegs = "1/2"\nbarrel = "1/4"\nback = "2 mm"')) == {
        "parts.lid.legs",
        "parts.lid.barrel",
        "parts.lid.back",
    }


def test_the_card_that_is_held_is_all_it_goes_through():
    """Two layers, cap and triangle of 0.3 mm each; foam between the layers and a disc below add themselves."""
    assert turning().analysis.held_mm == pytest.approx(4 * 0.3, abs=1e-3)
    foam = turning(high='fixed = "foam"\nfoam = "2 mm"').analysis
    assert foam.held_mm == pytest.approx(4 * 0.3 + 2.0, abs=1e-3)
    disc = turning('reinforce = "30 mm"')
    assert disc.analysis.held_mm == pytest.approx(5 * 0.3, abs=1e-3)
    assert disc.lid.layers[0].low_mm == pytest.approx(0.3, abs=1e-3)  # the disc lifts the lid
    assert disc.analysis.stack_mm == pytest.approx(turning().analysis.stack_mm + 0.3, abs=1e-3)
    hidden = turning(high='brad = "hidden under it"').analysis
    assert hidden.held_mm == pytest.approx(3 * 0.3, abs=1e-3)


def test_a_layer_of_its_own_card_counts_with_its_own_thickness_and_weight():
    usual, own = turning(), turning(high='thickness = "1 mm"\nweight = "700 gsm"')
    upper = own.lid.layers[1]
    thick = 1.0 * 1.075  # the thick end of what was measured, as for the cardstock
    assert upper.high_mm - upper.low_mm == pytest.approx(thick)
    assert own.analysis.held_mm == pytest.approx(3 * 0.3 + thick, abs=1e-3)
    area_m2 = math.pi * 63.5**2 * 1e-6
    assert own.analysis.mass_g - usual.analysis.mass_g == pytest.approx(area_m2 * (700.0 - 216.0), rel=1e-3)
    assert own.analysis.tipping_mm < usual.analysis.tipping_mm  # the heavier lid pulls more


def test_the_weight_of_a_layer_alone_tells_about_its_thickness_too():
    heavy = turning(high='weight = "300 gsm"').lid.layers[1]
    assert heavy.high_mm - heavy.low_mm == pytest.approx(300.0 * 1.177 / 1000.0)  # the bulky end of an estimate
    pounds = project(high='weight = "80 lb cover"').parts[1].values.layers[1]
    assert pounds.weight == "80 lb cover"


def test_a_wrong_weight_is_told():
    with pytest.raises(InputError) as caught:
        project(high='weight = "80 lb"')
    (problem,) = caught.value.problems
    assert problem.field == "parts.lid.layers.2.weight" and "grade is missing" in problem.reason


def test_the_disc_weighs_what_its_area_weighs():
    disc, plain = turning('reinforce = "30 mm"'), turning()
    mass = math.pi * 15.0**2 * 1e-6 * (216.0 + 30.0)
    assert disc.analysis.mass_g - plain.analysis.mass_g == pytest.approx(mass, rel=1e-6)


def test_room_for_the_back_is_to_the_nearest_wall_less_its_flap():
    found = turning('fastener = "snap"\nback = "10 mm"')
    to_walls = 0.75 * 25.4 / math.sqrt(2.0)
    assert found.analysis.back_room_mm == pytest.approx(to_walls - 0.3 - 5.0, abs=1e-3)
    assert found.analysis.back_on_mm == pytest.approx(25.4 - 0.75 * 25.4 - 5.0, abs=1e-3)  # to the long edge
    brad = turning().analysis
    assert brad.back_room_mm == brad.back_on_mm == brad.disc_hidden_mm == math.inf
