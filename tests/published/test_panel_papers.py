"""Published panel papers: the figures of a box go in as a project, the printed sizes of its papers come out."""

from foldproof.design.measure import measure
from foldproof.design.papers import papers_of
from foldproof.project.read import read_project

# P: the tealight box of stampelicious.blogspot.com, 2014/09: a side of 4 3/4 x 3 1/4 in takes a paper of
# 4 5/8 x 3 1/8 in, which is 1/16 in of border along each edge. The lid's top has that side here.
TEALIGHT = """
format = 1
name = "published"
unit = "in"
[cardstock]
sheet = "12x12"
weight = "216 gsm"
[parts.box]
construction = "plain tray"
base_length = "4 5/8"
base_width = "3 1/8"
wall_height = "1 1/4"
lid = "from a larger piece"
lid_ease = "1/8"
[papers]
border = "1/16"
sides = ["lid", "outer walls"]
"""


def test_a_paper_for_a_side_of_4_3_4_by_3_1_4_is_4_5_8_by_3_1_8():
    plan = papers_of(measure(read_project(TEALIGHT)), ())
    top = next(paper for paper in plan.papers if paper.place == "lid")
    assert (top.width.text, top.height.text, top.copies) == ("4 5/8 in", "3 1/8 in", 1)
    assert (top.width.error.mm, top.height.error.mm) == (0, 0)


# C: the same border on the lid's walls, which are 4 3/4 and 3 1/4 in long and 1 1/4 in tall.
def test_its_walls_take_papers_with_the_same_border():
    plan = papers_of(measure(read_project(TEALIGHT)), ())
    walls = {paper.place: (paper.width.text, paper.height.text, paper.copies) for paper in plan.papers}
    assert walls["front and back"] == ("4 5/8 in", "1 1/8 in", 2)
    assert walls["left and right"] == ("3 1/8 in", "1 1/8 in", 2)
