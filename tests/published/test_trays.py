"""Published trays and boxes: their figures go in as a project, the published sheets, scores and sizes come out.

The source stands beside each. All are made without an allowance, as their pages are.
P: published page. C: computed from a definition. CP: common practice, no source.
"""

import pytest

from foldproof.design.measure import measure
from foldproof.design.prove import prove
from foldproof.findings import Severity
from foldproof.project.read import read_project

AGREE_MM = 1e-9  # lengths are exact; only the step to floating point is not


def project(unit, sheet, construction, **values):
    lines = [f'{key} = "{value}"' for key, value in values.items()]
    return read_project(
        "\n".join(
            [
                "format = 1",
                'name = "published"',
                f'unit = "{unit}"',
                'ruler = "0.5 mm"' if unit == "cm" else 'ruler = "1/16"',
                "[cardstock]",
                f'sheet = "{sheet}"',
                'weight = "216 gsm"',
                'thickness = "0.27 mm"',
                "[parts.tray]",
                f'construction = "{construction}"',
                'allowance = "none"',
                *lines,
            ]
        )
    )


def sizes(measured, unit):
    """(width, height, scores across, scores up) of every piece as marked, in the unit of the page."""
    scale = 25.4 if unit == "in" else 10.0
    return [
        (
            piece.width.shown.float_mm / scale,
            piece.height.shown.float_mm / scale,
            [mark.marked.float_mm / scale for mark in piece.across],
            [mark.marked.float_mm / scale for mark in piece.up],
        )
        for piece in measured.parts[0].pieces
    ]


def assert_sizes(found, wanted):
    assert len(found) == len(wanted)
    for one, other in zip(found, wanted, strict=True):
        for figure, printed in zip(one, other, strict=True):
            assert figure == pytest.approx(printed, abs=AGREE_MM)


def assert_marks_exact(measured):
    """Published figures lie on the ruler, so marking changes nothing."""
    for piece in measured.parts[0].pieces:
        for mark in (*piece.across, *piece.up):
            assert mark.error.float_mm == 0.0
        for side in (piece.width, piece.height):
            assert side.error.float_mm == 0.0


def base_of(measured, piece, unit):
    """Base length, base width and wall height between score lines, from the panels that are cut."""
    scale = 25.4 if unit == "in" else 10.0
    panels = {panel.id: panel.outline for panel in measured.parts[0].assembly.pieces[piece].panels}

    def extent(name, axis):
        values = [corner[axis] for corner in panels[name]]
        return (max(values) - min(values)) / scale

    return [extent("base", 0), extent("base", 1), extent("wall_back", 1)]


def failing(proof):
    return {finding.code for finding in proof.findings if finding.severity >= Severity.UNDECIDED}


PLAIN = [
    pytest.param(
        # P: T1, Simple Box Instructions, cathyscraftroom.blogspot.com 2010/02: 6 1/2 x 7 3/4 @1 makes
        # 4 1/2 x 5 3/4 x 1; a lid from the same sheet @15/16 is 1/8 larger
        "in",
        "12x12",
        {"base_length": "4 1/2", "base_width": "5 3/4", "wall_height": "1", "lid": "scored nearer the edge"}
        | {"lid_ease": "1/8"},
        [
            (6.5, 7.75, [1.0, 5.5], [1.0, 6.75]),
            (6.5, 7.75, [0.9375, 5.5625], [0.9375, 6.8125]),
        ],
        [(4.5, 5.75, 1.0), (4.625, 5.875, 0.9375)],
        set(),
        id="T1-lid-an-eighth-larger",
    ),
    pytest.param(
        # P: T1, the same page: the lid @7/8 is 1/4 larger
        "in",
        "12x12",
        {"base_length": "4 1/2", "base_width": "5 3/4", "wall_height": "1", "lid": "scored nearer the edge"}
        | {"lid_ease": "1/4"},
        [(6.5, 7.75, [1.0, 5.5], [1.0, 6.75]), (6.5, 7.75, [0.875, 5.625], [0.875, 6.875])],
        [(4.5, 5.75, 1.0), (4.75, 6.0, 0.875)],
        set(),
        id="T1-lid-a-quarter-larger",
    ),
    pytest.param(
        # P: T2, 1/16" Rule, catherinepooler.com 2013/05/29: 8 1/2 x 9 3/4 @2 makes 4 1/2 x 5 3/4; its lid
        # 8 9/16 x 9 13/16 @2 makes 4 9/16 x 5 13/16
        "in",
        "12x12",
        {"base_length": "4 1/2", "base_width": "5 3/4", "wall_height": "2", "lid": "from a larger piece"}
        | {"lid_ease": "1/16"},
        [
            (8.5, 9.75, [2.0, 6.5], [2.0, 7.75]),
            (8.5625, 9.8125, [2.0, 6.5625], [2.0, 7.8125]),
        ],
        [(4.5, 5.75, 2.0), (4.5625, 5.8125, 2.0)],
        # In card of 0.27 mm, 1/16 in leaves about 0.2 mm on each side between the tray's walls and the lid's tabs: it
        # goes on, tightly.
        set(),
        id="T2",
    ),
    pytest.param(
        # P: T4, Box Measurements, stampinmoments.com 2008/11: 21 @4.5 makes 12 x 12 x 4.5 cm; lid 17.25 @2.5, 12.25
        "cm",
        "30 x 30 cm",
        {"base_length": "12", "wall_height": "4.5", "lid": "from a larger piece", "lid_wall": "2.5"}
        | {"lid_ease": "0.25"},
        [(21.0, 21.0, [4.5, 16.5], [4.5, 16.5]), (17.25, 17.25, [2.5, 14.75], [2.5, 14.75])],
        [(12.0, 12.0, 4.5), (12.25, 12.25, 2.5)],
        set(),
        id="T4",
    ),
    pytest.param(
        # P: T5, auntannie.com, Rectangular Box Pattern in Any Size: 4 x 6 x 2 from 8 x 10; lid 7 5/8 x 9 5/8,
        # 1 3/4 deep, makes 4 1/8 x 6 1/8
        "in",
        "12x12",
        {"base_length": "4", "base_width": "6", "wall_height": "2", "lid": "from a larger piece"}
        | {"lid_wall": "1 3/4", "lid_ease": "1/8"},
        [
            (8.0, 10.0, [2.0, 6.0], [2.0, 8.0]),
            (7.625, 9.625, [1.75, 5.875], [1.75, 7.875]),
        ],
        [(4.0, 6.0, 2.0), (4.125, 6.125, 1.75)],
        set(),
        id="T5",
    ),
]


@pytest.mark.parametrize(("unit", "sheet", "values", "pieces", "finished", "objections"), PLAIN)
def test_a_published_tray_and_its_lid(unit, sheet, values, pieces, finished, objections):
    measured = measure(project(unit, sheet, "plain tray", **values))
    assert_sizes(sizes(measured, unit), pieces)
    assert_marks_exact(measured)
    for number, size in enumerate(finished):
        assert base_of(measured, number, unit) == pytest.approx(size, abs=AGREE_MM)
    proof = prove(measured)
    assert failing(proof) == objections
    assert proof.verdict == ("not_proved" if objections else "proved")
    assert proof.orders_tried > 0


DOUBLE = [
    pytest.param(
        # P: D1, The Art of Box Making Part 2, cardcutups.com 2020/09/09: 9 x 10 @1 1/2, 3 makes 3 x 4 x 1 1/2
        "in",
        "12x12",
        {"base_length": "3", "base_width": "4", "wall_height": "1 1/2"},
        (9.0, 10.0, [1.5, 3.0, 6.0, 7.5], [1.5, 3.0, 7.0, 8.5]),
        (3.0, 4.0, 1.5),
        1.5,
        id="D1",
    ),
    pytest.param(
        # P: D2, Note Card Gift Box, inspirationaltechniquesandtutorials.blogspot.com 2008/07: 20.5 cm = 3+3+8.5+3+3
        "cm",
        "30 x 30 cm",
        {"base_length": "8.5", "wall_height": "3"},
        (20.5, 20.5, [3.0, 6.0, 14.5, 17.5], [3.0, 6.0, 14.5, 17.5]),
        (8.5, 8.5, 3.0),
        3.0,
        id="D2-box",
    ),
    pytest.param(
        # P: D2, the same page: its lid is made of 21 cm, 5 mm more
        "cm",
        "30 x 30 cm",
        {"base_length": "9", "wall_height": "3"},
        (21.0, 21.0, [3.0, 6.0, 15.0, 18.0], [3.0, 6.0, 15.0, 18.0]),
        (9.0, 9.0, 3.0),
        3.0,
        id="D2-lid",
    ),
    pytest.param(
        # P: D3, Cardboard Stationery Drawers, instructables.com: 15 cm @2.5, 5, 10, 12.5 makes 5 x 5 x 2.5
        "cm",
        "30 x 30 cm",
        {"base_length": "5", "wall_height": "2.5"},
        (15.0, 15.0, [2.5, 5.0, 10.0, 12.5], [2.5, 5.0, 10.0, 12.5]),
        (5.0, 5.0, 2.5),
        2.5,
        id="D3",
    ),
    pytest.param(
        # CP: common practice, no source: 12 in @1 1/2, 4 1/8, 7 7/8, 10 1/2 both ways makes a base of 3 3/4 in,
        # walls of 2 5/8 and inner walls of 1 1/2
        "in",
        "12x12",
        {"base_length": "3 3/4", "wall_height": "2 5/8", "inner_wall": "1 1/2", "piece": "whole sheet"},
        (12.0, 12.0, [1.5, 4.125, 7.875, 10.5], [1.5, 4.125, 7.875, 10.5]),
        (3.75, 3.75, 2.625),
        1.5,
        id="whole-12-inch-sheet",
    ),
    pytest.param(
        # C: from the definition 3 + 3.5 + 8 + 3.5 + 3 = 21 cm, the width of A4
        "cm",
        "A4",
        {"base_length": "8", "wall_height": "3.5", "inner_wall": "3"},
        (21.0, 21.0, [3.0, 6.5, 14.5, 18.0], [3.0, 6.5, 14.5, 18.0]),
        (8.0, 8.0, 3.5),
        3.0,
        id="A4",
    ),
]


@pytest.mark.parametrize(("unit", "sheet", "values", "piece", "finished", "inner_wall"), DOUBLE)
def test_a_published_tray_with_double_walls(unit, sheet, values, piece, finished, inner_wall):
    measured = measure(project(unit, sheet, "double-wall tray", **values))
    assert_sizes(sizes(measured, unit), [piece])
    assert_marks_exact(measured)
    assert base_of(measured, 0, unit) == pytest.approx(finished, abs=AGREE_MM)
    scale = 25.4 if unit == "in" else 10.0
    inner = [p.outline for p in measured.parts[0].assembly.pieces[0].panels if p.kind == "inner_wall"]
    assert len(inner) == 4
    for outline in inner:
        spans = [max(c[axis] for c in outline) - min(c[axis] for c in outline) for axis in (0, 1)]
        assert min(spans) / scale == pytest.approx(inner_wall, abs=AGREE_MM)
    proof = prove(measured)
    assert failing(proof) == set()
    assert proof.verdict == "proved"


def test_a_wall_as_tall_as_its_inner_wall_is_pointed_out_but_proved():
    """D1 to D3 fold their inner walls right down to the base; we point out that nothing is left for the card."""
    proof = prove(measure(project("in", "12x12", "double-wall tray", base_length="3", wall_height="1 1/2")))
    looks = {finding.code: finding for finding in proof.findings if finding.severity is Severity.LOOK}
    assert looks["fold_in_clears"].measured == pytest.approx(0.0, abs=AGREE_MM)

