"""Layers from the offcuts of others: which, of what, and the sheets it saves."""

import functools

import pytest

from foldproof.design.alternative_papers import other_offcuts_told, sheet_name, with_alternatives
from foldproof.design.alternative_parts import alternatives_of
from foldproof.design.lid_parts import lids_of
from foldproof.design.measure import measure
from foldproof.design.offcuts import MOST_CUTS, layout_pages, main_offcuts, offcuts_of
from foldproof.design.papers import papers_of
from foldproof.design.prove import prove
from foldproof.design.shopping import shopping_of
from foldproof.design.steps import told_steps
from foldproof.progress import unwatched
from foldproof.project.read import read_project
from foldproof.views.cut_list import cut_list
from foldproof.words.catalogue import ENGLISH

TEXT = """format = 1
name = "Box"
unit = "in"
[cardstock]
name = "blue"
sheet = "12x12"
weight = "176 gsm"
thickness = "0.27 mm"
{card}
[parts.tray]
construction = "double-wall tray"
base_length = "5"
wall_height = "2"
inner_wall = "1"
[parts.lid]
construction = "turning lid"
on = "tray"
shape = "{shape}"
across = "9"
hole_from_corner = "1/2"
[[parts.lid.layers]]
colour = "white"
[[parts.lid.layers]]
across = "{second}"
colour = "{colour}"
brad = "hidden under it"
"""


@functools.cache
def made(shape="disc", second="3 1/8", colour="white", card="", others=""):
    project = read_project(TEXT.format(shape=shape, second=second, colour=colour, card=card) + others)
    measured = measure(project)
    proof = prove(measured)
    return measured, lids_of(proof), proof


def white(table):
    return [row for row in table.rows if row[0] == "white"]


def shopping(measured, lids, proof):
    steps = told_steps(measured.project, proof, unwatched)
    return shopping_of(measured, lids, steps, papers_of(measured, lids), "proved")


def test_a_small_layer_comes_from_the_corner_that_a_large_one_leaves():
    measured, lids, proof = made()
    found = main_offcuts(measured, lids)
    assert found.of == ((("lid", "layer_2"), ("lid", "layer_1")),)
    assert found.sheets == {"white": 1}  # side by side in squares they are 12 1/8 in long
    (row,) = white(shopping(measured, lids, proof))
    assert row[1] == "1" and "offcuts" in row[5]
    table = cut_list(measured.project, lids[0].pieces, "proved", offcuts=found.told())
    column = ENGLISH.tables.cut_list_columns.index("cut from the offcut of")
    assert {row[1]: row[column] for row in table.rows}["layer_2"] == "the lowest layer"
    named = [sheet_name("Box", piece, found.told()) for piece in lids[0].pieces]
    assert named[-1].startswith("From the offcut of the lowest layer") and named[0] == "Box"


@pytest.mark.parametrize("values", [{"second": "5"}, {"shape": "square"}])
def test_where_it_has_no_room_it_takes_its_own_sheet(values):
    measured, lids, proof = made(**values)
    assert main_offcuts(measured, lids).of == () and white(shopping(measured, lids, proof))[0][1] == "2"


def test_layers_of_different_cards_share_no_sheet():
    measured, lids, _ = made(colour="coral")
    assert main_offcuts(measured, lids).of == ()


def test_a_print_that_has_a_way_up_is_not_turned():
    measured, lids, _ = made(card='print_direction = "along height"\nprinted = "one side"')
    (on_sheet,) = main_offcuts(measured, lids).on_sheets
    assert {place.turn_deg for place in on_sheet.layout.placed} == {0.0}


def test_an_alternative_is_laid_out_in_the_lids_place():
    others = '[alternatives.eight]\nshape = "regular polygon"\nacross = "9"\n'
    measured, lids, proof = made(others=others)
    alternatives = alternatives_of(proof)
    told = other_offcuts_told(measured, lids, alternatives)
    assert told == {("eight", "layer_2"): "the lowest layer"}
    empty = shopping(measured, lids, proof)
    bought = with_alternatives(empty, measured, lids, alternatives).rows[len(empty.rows) :]
    assert [row[1] for row in bought if row[0] == "white"] == ["1"]


def test_more_pieces_than_are_laid_out_by_outlines_are_left_to_rectangles():
    measured, lids, _ = made()
    layer = lids[0].pieces[-1]
    assert offcuts_of(measured.project, [(layer, "white")] * (MOST_CUTS + 1)).on_sheets == ()


def test_the_sheet_is_drawn_only_where_squares_would_not_share_it():
    measured, lids, _ = made()
    (page,) = layout_pages(measured.project, main_offcuts(measured, lids), "Box", not_proved=False)
    assert "The second layer" in page.alt and "from the left edge" in page.alt
    outlines = [mark for mark in page.marks if getattr(mark, "role", "") == "cut"]
    sheet = next(mark for mark in page.marks if getattr(mark, "name", "") == "sheet").path.points
    (left, low), (right, high) = sheet[0], sheet[2]
    assert len(outlines) == 2
    assert all(
        left - 1e-6 <= x <= right + 1e-6 and low - 1e-6 <= y <= high + 1e-6
        for mark in outlines
        for x, y in mark.path.points
    )
    measured, lids, _ = made(second="2")  # by their squares they go on one sheet
    assert main_offcuts(measured, lids).of != ()
    assert layout_pages(measured.project, main_offcuts(measured, lids), "Box", not_proved=False) == ()
