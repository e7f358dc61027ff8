import pytest
from hypothesis import given
from hypothesis import strategies as st

from foldproof.design.lid_parts import lids_of
from foldproof.design.measure import measure
from foldproof.design.papers import papers_of
from foldproof.design.prove import prove
from foldproof.design.shopping import shopping_of
from foldproof.design.steps import told_steps
from foldproof.layout.shelves import Placed, Shelves, Wanted, assert_apart, least_sheets, on_shelves
from foldproof.lengths import ZERO, length
from foldproof.progress import unwatched
from foldproof.project.read import read_project
from foldproof.words.catalogue import ENGLISH

SHEET = (length(12, "in"), length(12, "in"))
BOX = """
format = 1
name = "test"
unit = "in"
[cardstock]
name = "sand"
sheet = "12x12"
thickness = "0.3 mm"
[parts.tray]
construction = "double-wall tray"
base_length = {base}
base_width = 3
wall_height = 2
inner_wall = "1 1/2"
"""
LID = """
[parts.lid]
construction = "turning lid"
on = "tray"
shape = "disc"
across = "5 3/4"
hole_from_corner = "5/8"
strip = 1
[[parts.lid.layers]]
colour = "coral"
[[parts.lid.layers]]
across = 4
colour = "sand"
fixed = "foam"
brad = "hidden under it"
"""


def wanted(*sizes, may_turn=True):
    return [
        Wanted(name=str(number), width=length(width, "in"), height=length(height, "in"), may_turn=may_turn)
        for number, (width, height) in enumerate(sizes)
    ]


# C: counts that can be seen on squared paper.
@pytest.mark.parametrize(
    ("sizes", "sheets"),
    [
        ([(12, 12)], 1),
        ([(6, 6)] * 4, 1),
        ([(6, 6)] * 5, 2),
        ([(7, 7)] * 3, 3),
        ([(4, 3)] * 12, 1),
        ([(4, 3)] * 13, 2),
        ([(8, 12), (4, 12)], 1),
        ([(12, 8), (4, 12)], 1),
        ([], 0),
    ],
)
def test_sheets_on_squared_paper(sizes, sheets):
    found = on_shelves(wanted(*sizes), SHEET)
    assert (found.sheets, found.too_large) == (sheets, ())
    assert len(found.placed) == len(sizes)
    assert least_sheets(wanted(*sizes), SHEET) <= sheets


# P and C: 12 x 12 holds 16 pieces of 2 1/2 x 3 1/2 only as a pinwheel; with cuts from edge to edge it is 14.
def test_shelves_do_not_claim_a_pinwheel():
    assert on_shelves(wanted(*[("2.5", "3.5")] * 16), SHEET).sheets == 2
    assert least_sheets(wanted(*[("2.5", "3.5")] * 16), SHEET) == 1


def test_what_no_sheet_holds_is_named_and_a_print_may_not_turn():
    sheet = (length(8, "in"), length(12, "in"))
    assert on_shelves(wanted((12, 8)), sheet).sheets == 1
    found = on_shelves(wanted((12, 8), (13, 1), may_turn=False), sheet)
    assert (found.sheets, found.too_large) == (0, ("0", "1"))


def test_an_overlap_is_seen():
    spot = Placed(name="a", sheet=0, left=ZERO, low=ZERO, width=length(1, "in"), height=length(1, "in"))
    with pytest.raises(AssertionError, match="lies on"):
        assert_apart(Shelves(sheets=1, placed=(spot, spot), too_large=()), SHEET)
    with pytest.raises(AssertionError, match="is off"):
        assert_apart(Shelves(sheets=1, placed=(spot,), too_large=()), (length(1, "mm"), SHEET[1]))


@given(st.lists(st.tuples(st.integers(1, 100), st.integers(1, 100)), max_size=20), st.booleans())
def test_every_piece_is_placed_once_as_large_as_it_is_and_apart(sides, may_turn):
    """The places alone, judged by areas and by cells of a grid: an arrangement that this passes can be cut."""
    sheet = (length(100, "mm"), length(60, "mm"))
    pieces = [
        Wanted(name=str(n), width=length(w, "mm"), height=length(h, "mm"), may_turn=may_turn)
        for n, (w, h) in enumerate(sides)
    ]
    found = on_shelves(pieces, sheet)
    assert sorted([each.name for each in found.placed] + list(found.too_large)) == sorted(each.name for each in pieces)
    cells = set()
    for each in found.placed:
        w, h = sides[int(each.name)]
        lying = (int(each.width.mm), int(each.height.mm))
        assert lying == (w, h) or (may_turn and lying == (h, w))
        left, low = int(each.left.mm), int(each.low.mm)
        assert 0 <= left <= 100 - lying[0] and 0 <= low <= 60 - lying[1] and each.sheet < found.sheets
        own = {(each.sheet, x, y) for x in range(left, left + lying[0]) for y in range(low, low + lying[1])}
        assert cells.isdisjoint(own)
        cells |= own
    assert least_sheets(pieces, sheet) <= found.sheets


def listed(text):
    project = read_project(text)
    measured = measure(project)
    proof = prove(measured)
    lids = lids_of(proof)
    steps = told_steps(project, proof, unwatched)
    table = shopping_of(measured, lids, steps, papers_of(measured, lids), "proved")
    return {row[0]: dict(zip(ENGLISH.tables.shopping_columns, row, strict=True)) for row in table.rows}


def test_a_row_for_each_card_and_what_else_is_needed():
    rows = listed(BOX.format(base=4) + LID)
    assert rows["sand"]["how many"] == "2"  # 11 x 10 in and 4 in square
    assert rows["sand"]["for"] == "1 x 11 x 10 in (1 to a sheet); 1 x 4 in square (9 to a sheet)"
    assert rows["sand"]["note"] == "at most 2: the pieces were laid out; 1 may do"
    assert rows["coral"]["how many"] == "1" and "as large as the cardstock's" in rows["coral"]["note"]
    assert (rows["brad"]["how many"], rows["brad"]["size"]) == ("1", "head 1/4 in, legs 1/2 in")
    assert rows["foam, 1/16 in thick"]["size"] == "4 in x 4 in"
    assert {row["verdict"] for row in rows.values()} == {"proved"}
    assert "Glue for paper" in rows and "A brad" not in rows


def test_papers_have_their_own_sheet_and_are_not_turned():
    rows = listed(BOX.format(base=4) + '[papers]\nname = "tide"\nsheet = "6x6 in"\nprint_direction = "upright"\n')
    # Walls of 3 3/4 and 2 3/4 by 1 3/4 in, the base 3 5/8 by 2 11/16 in: more than one sheet by area.
    assert rows["tide"]["size"] == "6x6 in (6 in x 6 in)"
    assert rows["tide"]["how many"] == "2"
    assert "unturned" in rows["tide"]["note"]


def test_a_piece_that_no_sheet_holds_has_no_count():
    rows = listed(BOX.format(base=9))
    assert rows["sand"]["how many"] == ""
    assert rows["sand"]["note"] == "tray: no sheet of this size holds it; take a larger one"
