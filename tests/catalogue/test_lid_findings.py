"""Every finding about a turning lid has a trigger and a near miss."""

from __future__ import annotations

import pytest

from foldproof.checks import turning
from foldproof.checks.catalogue import run_checks
from foldproof.design.measure import measure
from foldproof.design.prove import prove
from foldproof.findings import Finding, Severity
from foldproof.project.read import read_project

TEXT = """
format = 1
name = "A lid"
unit = "in"
ruler = "1/32"
[cardstock]
sheet = "12x12"
weight = "176 gsm"
thickness = "0.27 mm +/- 0.0001"
[parts.tray]
construction = "double-wall tray"
base_length = "{base}"
wall_height = "{wall}"
inner_wall = "{inner}"
[parts.lid]
construction = "turning lid"
on = "tray"
shape = "{shape}"
across = "{across}"
strip = "{strip}"
corner = "back left"
closed = "as drawn"
moved_right = "{moved}"
hole_from_corner = "{hole}"
head = "{head}"
{fastener}
[[parts.lid.layers]]
{layer}
[settings]
{settings}
"""
USUAL = {
    "base": "3 1/4",
    "wall": "2 1/4",
    "inner": "2 1/8",
    "shape": "disc",
    "across": "5 1/2",
    "strip": "1",
    "moved": "0",
    "hole": "1/2",
    "head": "1/4",
    "fastener": 'legs = "1/2"',
    "layer": "",
    "settings": "",
}


def finding_of(code: str, **changes: str) -> Finding:
    """The worst finding of one code about the usual lid with some changes."""
    proof = prove(measure(read_project(TEXT.format(**{**USUAL, **changes}))))
    lid = next(part for part in proof.parts if part.evidence.part.on)
    return max((f for f in run_checks(lid.evidence) if f.code == code), key=lambda f: f.severity)


L, F = Severity.LOOK, Severity.FAILS
LEGS_3_8 = {"fastener": 'legs = "3/8"'}
LIFTED = """edge = "lifted"
edge_by = "1/8"
border = "1/2"
[[parts.lid.layers]]
across = "5 3/8"
fixed = "foam"
foam = "{foam}"
"""
# code: (severity when triggered, changes that trigger, changes that just miss)
CASES: dict[str, tuple[Severity, dict[str, str], dict[str, str]]] = {
    # A disc covers a square of half side a with margin R / sqrt 2 - a (published geometry of the square).
    "lid_covers": (F, {"across": "4 11/16"}, {"across": "4 7/8"}),
    "lid_comfort": (L, {"across": "5"}, {"across": "5 1/4"}),
    "lid_opens": (F, {"across": "8 1/2"}, {"across": "7"}),
    "hole_to_lid": (F, {"across": "4 1/4", "hole": "5/16"}, {"across": "4 3/4", "hole": "1/2"}),
    "hole_to_triangle": (F, {"hole": "25/32"}, {"hole": "23/32"}),
    "head_on_lid": (F, {"head": "1 1/8", "across": "4 5/8"}, {"head": "7/8", "across": "4 5/8"}),
    "legs_long": (F, {"fastener": 'legs = "3/16"'}, {"fastener": 'legs = "1/4"'}),
    "legs_room": (F, {"fastener": 'legs = "9/16"'}, {"fastener": 'legs = "1/2"'}),
    # Lid, cap and triangle are 0.81 mm of card; an eyelet needs 1.5 mm more to be set (a limit), a snap what it grips.
    "fastener_grips": (
        F,
        {"fastener": 'fastener = "eyelet"\nbarrel = "2.2 mm"'},
        {"fastener": 'fastener = "eyelet"\nbarrel = "2.4 mm"'},
    ),
    # The hole lies 1/2 in / root 2 = 8.98 mm from both walls, and a flap of 0.27 mm is on each.
    "back_has_room": (
        F,
        {"fastener": 'fastener = "snap"\nback = "17.5 mm"'},
        {"fastener": 'fastener = "snap"\nback = "17.3 mm"'},
    ),
    # A disc of 5 1/2 in over the middle of the box: its edge is 25.3 mm from the hole.
    "disc_hidden": (L, {"fastener": 'reinforce = "49 mm"'}, {"fastener": 'reinforce = "45 mm"'}),
    "legs_finger": (
        F,
        {"base": "1 3/4", "wall": "1", "inner": "7/8", "across": "4 1/2", "strip": "3/4", "hole": "3/8"} | LEGS_3_8,
        {"base": "2 1/4", "wall": "1", "inner": "7/8", "across": "4 1/2", "strip": "3/4", "hole": "3/8"} | LEGS_3_8,
    ),
    # A border that hangs 1/8 in beside the rim meets it as soon as the lid turns.
    "lid_catches": (
        F,
        {"layer": 'edge = "hanging"\nedge_by = "1/8"\nborder = "1/4"'},
        {"layer": 'edge = "lifted"\nedge_by = "1/8"\nborder = "1/4"'},
    ),
    # An edge lifted by 1/8 in under a layer that ends 1/16 in inside it, with foam of 1/16 in or 1/8 in between.
    "edge_presses": (F, {"layer": LIFTED.format(foam="1/16")}, {"layer": LIFTED.format(foam="1/8")}),
    "box_tips": (
        L,
        {"across": "10", "wall": "3/4", "inner": "5/8"},
        {"across": "5 1/2", "wall": "3/4", "inner": "5/8"},
    ),
    "triangle_in": (
        F,
        {"settings": "contact_mm = 0.001\nplate_share = 0.99", "wall": "3/4", "inner": "5/8", "strip": "1 1/4"},
        {"wall": "1 1/4", "inner": "1 1/8", "strip": "1 1/4"},
    ),
    "triangle_flaps": (
        F,
        {"wall": "5/8", "inner": "1/2", "strip": "1"},
        {"wall": "3/4", "inner": "5/8", "strip": "1"},
    ),
}


def test_every_code_has_a_case() -> None:
    assert sorted(CASES) == sorted(turning.CODES)


@pytest.mark.parametrize("code", sorted(CASES))
def test_triggers(code: str) -> None:
    severity, trigger, _ = CASES[code]
    finding = finding_of(code, **trigger)
    assert finding.severity >= severity
    worse = finding.measured > finding.limit if finding.sense == "at_most" else finding.measured < finding.limit
    assert worse, f"{finding.measured} against {finding.limit} is no reason for {finding.severity.name}"


@pytest.mark.parametrize("code", sorted(CASES))
def test_near_miss_holds(code: str) -> None:
    severity, _, near = CASES[code]
    assert finding_of(code, **near).severity < severity


def test_every_layer_that_catches_is_told_with_its_turn_each_way() -> None:
    hanging = 'edge = "hanging"\nedge_by = "{by}"\nborder = "1/4"\n'
    both = hanging.format(by="1/8") + '[[parts.lid.layers]]\nacross = "6"\n' + hanging.format(by="1/4")
    finding = finding_of("lid_catches", layer=both)
    told = dict(finding.values)
    assert finding.subjects == ("layer_1", "layer_2") and finding.measured == 2.0
    assert [told[f"layer_{n}"] for n in (1, 2, 3, 4)] == ["layer_1", "layer_1", "layer_2", "layer_2"]
    for number in (1, 3):
        left, right = (float(told[f"angle_{n}_deg"]) for n in (number, number + 1))
        assert left > 0.0 > right and str(told[f"on_{number}"]).startswith("wall_")
        assert round(10.0 * left) == pytest.approx(10.0 * left)  # to a tenth of a degree
    assert finding.proposals[0] == tuple(change for (change,) in finding.proposals[1:])  # all flat, then one by one
