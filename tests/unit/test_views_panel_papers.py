from fractions import Fraction

import pytest
from shapely.geometry import Polygon as Shape

from foldproof.design.lid_parts import lids_of
from foldproof.design.measure import measure
from foldproof.design.papers import papers_of
from foldproof.design.prove import prove
from foldproof.drawing.records import Listing, Table
from foldproof.errors import InputError
from foldproof.lengths import length
from foldproof.project.read import read_project
from foldproof.views.cut_list import cut_list
from foldproof.views.panel_papers import paper_blocks, paper_cards, paper_piece
from foldproof.views.paper import printer_paper
from foldproof.views.piece import cut_page
from foldproof.views.templates import template_pages
from foldproof.words.catalogue import ENGLISH

SAME_MM = 1e-6  # float noise of a drawn outline

TRAY = """
format = 1
name = "test"
unit = "in"
[cardstock]
sheet = "12x12"
thickness = "0.3 mm +/- 0 mm"
[parts.tray]
construction = "double-wall tray"
base_length = 4
base_width = 3
wall_height = 2
"""
PLAIN = """
format = 1
name = "test"
unit = "in"
[cardstock]
sheet = "12x12"
thickness = "0.3 mm"
[parts.tray]
construction = "plain tray"
base_length = 4
base_width = 3
wall_height = 2
lid = "from a larger piece"
lid_wall = "{lid_wall}"
"""
LID = """
[parts.lid]
construction = "turning lid"
on = "tray"
shape = "{shape}"
across = 6
strip = 1
hole_from_corner = "1/2"
[[parts.lid.layers]]
{edge}
[[parts.lid.layers]]
across = 4
brad = "hidden under it"
"""


def planned(text, papers=""):
    project = read_project(f"{text}\n[papers]\n{papers}")
    measured = measure(project)
    lids = lids_of(prove(measured)) if "turning lid" in text else ()
    return project, papers_of(measured, lids)


def sizes(plan):
    return {(paper.part, paper.place): (paper.width.text, paper.height.text, paper.copies) for paper in plan.papers}


def test_each_side_less_the_border_on_each_edge():
    _, plan = planned(TRAY, 'border = "1/4"\nsides = ["outer walls"]')
    assert sizes(plan) == {
        ("tray", "front and back"): ("3 1/2 in", "1 1/2 in", 2),
        ("tray", "left and right"): ("2 1/2 in", "1 1/2 in", 2),
    }


def test_inside_the_base_the_inner_layers_count_too():
    """Between the walls: right and left are three layers thick (wall, tab, inner wall), front and back two."""
    _, plan = planned(TRAY, 'border = "0"\nsides = "base"')
    (base,) = plan.papers
    assert float(base.width.exact.mm) == pytest.approx(4 * 25.4 - 5 * 0.3, abs=1e-3)
    assert float(base.height.exact.mm) == pytest.approx(3 * 25.4 - 3 * 0.3, abs=1e-3)
    assert (base.width.text, base.height.text) == ("3 15/16 in", "2 15/16 in")


def test_papers_are_rounded_down_never_up():
    _, plan = planned(TRAY.replace("base_length = 4", 'base_length = "10.13 cm"'))
    for paper in plan.papers:
        assert paper.width.shown <= paper.width.exact and paper.height.shown <= paper.height.exact
        assert paper.width.exact - paper.width.shown < length(Fraction(1, 16), "in")


@pytest.mark.parametrize(("lid_wall", "tall"), [("1/2", "1 1/4 in"), ("1 1/2", "1/4 in"), ("2", None)])
def test_under_a_lid_that_lifts_off_papers_end_below_it(lid_wall, tall):
    _, plan = planned(PLAIN.format(lid_wall=lid_wall))
    found = sizes(plan)
    if tall is None:
        assert ("tray", "front and back") not in found
        assert any("the lid slides over them" in line for line in plan.left_out)
    else:
        assert found["tray", "front and back"][1] == tall
        assert any("end below the lid" in line for line in plan.left_out)
    assert ("lid", "lid") in found and ("tray", "lid") not in found and ("lid", "base") not in found


def test_where_the_edge_of_a_lid_hangs_papers_end_below_its_way():
    hanging = 'edge = "hanging"\nedge_by = "1/4"\nborder = "1/4"'
    level = sizes(planned(TRAY + LID.format(shape="disc", edge=""))[1])
    _, plan = planned(TRAY + LID.format(shape="disc", edge=hanging))
    assert level["tray", "front and back"][1] == "1 3/4 in"
    assert sizes(plan)["tray", "front and back"][1] == "1 1/2 in"
    assert any("swings by" in line for line in plan.left_out)


@pytest.mark.parametrize("shape", ["disc", "square", "rosette", "heart"])
def test_on_the_top_layer_the_border_is_left_all_round(shape):
    project, plan = planned(TRAY + LID.format(shape=shape, edge=""), 'sides = ["lid"]\nborder = "1/8"')
    (top,) = plan.papers
    lid = lids_of(prove(measure(project)))[0]
    layer = Shape(lid.pieces[-1].piece.panels[0].outline)
    left, low, _, _ = layer.buffer(-3.175, join_style="mitre", mitre_limit=10.0).bounds
    paper = Shape([(x + left, y + low) for x, y in top.outline])
    assert layer.contains(paper)
    assert paper.distance(layer.exterior) == pytest.approx(3.175, abs=SAME_MM)
    assert top.like == shape
    wide = max(x for x, _ in top.outline)
    assert top.width.shown.float_mm >= wide - SAME_MM  # what it is cut from holds it


def test_nothing_left_inside_the_border_is_said():
    _, plan = planned(TRAY, 'border = "1"\nsides = ["outer walls", "base"]')
    assert set(sizes(plan)) == {("tray", "base")}
    assert sum("nothing is left inside the border" in line for line in plan.left_out) == 2


def test_no_papers_unless_they_are_asked_for():
    project = read_project(TRAY)
    plan = papers_of(measure(project), ())
    assert plan.papers == () and plan.left_out == () and paper_blocks(project, plan) == ()


def test_the_words_say_sizes_when_and_what_stays_bare():
    project, plan = planned(TRAY, 'print_direction = "upright"\nname = "tide"')
    blocks = paper_blocks(project, plan)
    (table,) = (block for block in blocks if isinstance(block, Table))
    assert table.rows[0] == ("Tray: front and back walls", "2", "3 3/4 in", "1 3/4 in", "9.5 cm x 4.4 cm")
    said = next(block for block in blocks if isinstance(block, Listing)).items
    assert ENGLISH.tables.papers_clear in said and ENGLISH.tables.papers_upright in said
    assert paper_cards(plan, project.papers)["tray", "paper_for_base_inside"] == ("rectangle", "tide")


def test_a_paper_is_a_piece_for_cut_files_and_templates():
    project, plan = planned(TRAY)
    piece = paper_piece(plan.papers[0])
    page = cut_page(piece)
    assert (page.width_mm, page.height_mm) == pytest.approx((3.75 * 25.4, 1.75 * 25.4), abs=SAME_MM)
    assert [mark.role for mark in page.marks] == ["cut"]
    assert len(template_pages(piece, (), printer_paper("in"), project.name)) == 1


# --- The keys -----------------------------------------------------------------------------------------------


def test_what_is_left_out_has_its_usual_value():
    papers = read_project(f"{TRAY}\n[papers]\n").papers
    assert papers.sides == ("outer walls", "base", "lid") and papers.border == length(Fraction(1, 8), "in")
    assert papers.sheet == read_project(TRAY).cardstock.sheet and not papers.upright
    metric = read_project(TRAY.replace('unit = "in"', 'unit = "cm"') + "\n[papers]\n").papers
    assert metric.border == length(3, "mm")


@pytest.mark.parametrize("sides", ['"lid, Base"', '["base", "lid", "lid"]'])
def test_sides_are_a_list_or_a_text_with_commas(sides):
    assert read_project(f"{TRAY}\n[papers]\nsides = {sides}\n").papers.sides == ("base", "lid")


@pytest.mark.parametrize(
    ("line", "field", "reason"),
    [
        ('sides = ["bottom"]', "papers.sides", "is no side"),
        ("sides = 3", "papers.sides", "is not a list of sides"),
        ("sides = [1]", "papers.sides", "is not a list of sides"),
        ("sides = []", "papers.sides", "names no side"),
        ('border = "-1"', "papers.border", "is less than nothing"),
        ('border = "4"', "papers.border", "is too long"),
        ('border = "wide"', "papers.border", "this is not a length"),
        ('sheet = "A99"', "papers.sheet", "no sheet has this name"),
        ('print_direction = "sideways"', "papers.print_direction", "is none of the choices"),
        ("width = 3", "papers.width", "is not a key that is known here"),
        ('name = ""', "papers.name", "is empty"),
    ],
)
def test_wrong_papers_are_told_with_their_path(line, field, reason):
    with pytest.raises(InputError) as caught:
        read_project(f"{TRAY}\n[papers]\n{line}\n")
    assert [(problem.field, problem.reason) for problem in caught.value.problems] == [(field, reason)]


def test_papers_named_as_the_cardstock_come_in_its_size():
    named = TRAY.replace("[cardstock]", '[cardstock]\nname = "sand"') + '\n[papers]\nname = "sand"\n'
    assert read_project(named).papers.name == "sand"
    with pytest.raises(InputError) as caught:
        read_project(named + 'sheet = "6x6 in"\n')
    assert [problem.field for problem in caught.value.problems] == ["papers.name"]


def test_the_cut_list_names_the_sheet_that_papers_come_from():
    project, plan = planned(TRAY, 'sheet = "6x6 in"\nname = "tide"')
    pieces = (*measure(project).parts[0].pieces, *map(paper_piece, plan.papers))
    table = cut_list(project, pieces, "proved", paper_cards(plan, project.papers))
    column = table.columns.index("sheet")
    assert [row[column] for row in table.rows] == ["12x12", *["6x6 in"] * len(plan.papers)]


def test_papers_that_are_no_heading_are_one_problem():
    with pytest.raises(InputError) as caught:
        read_project(TRAY.replace("[cardstock]", "papers = 3\n[cardstock]"))
    assert [problem.field for problem in caught.value.problems] == ["papers"]
