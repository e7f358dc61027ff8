"""Papers for the sides as steps: when they go on, in which words, and where the drawings put them."""

from collections import Counter
from importlib.resources import files

import pytest
import shapely

from foldproof.design.booklet import booklet_of
from foldproof.design.lid_parts import lids_of
from foldproof.design.measure import measure
from foldproof.design.papers import papers_of, proved_papers
from foldproof.design.prove import prove
from foldproof.design.steps import told_steps
from foldproof.design.telling import tell_proof
from foldproof.drawing.records import Area, Step
from foldproof.progress import unwatched
from foldproof.project.read import read_project
from foldproof.views.folded_picture import drawn_piece
from foldproof.views.panel_papers import Place
from foldproof.views.papered import _lying

PAPERS = '\n[papers]\nname = "tide"\n'


def made(name, extra=""):
    text = files("foldproof").joinpath("examples", f"{name}.toml").read_text(encoding="utf-8") + extra
    measured = measure(read_project(text))
    proof = prove(measured)
    return measured, proof, told_steps(measured.project, proof, unwatched)


@pytest.fixture(scope="module")
def shell():
    return made("shell-tray")


@pytest.fixture(scope="module")
def tidepool():
    return made("tidepool", PAPERS)


def titles(steps):
    return [step.title for piece in steps.pieces for step in piece.steps]


def test_papers_go_on_when_the_piece_is_glued_and_before_the_lid_is_on(shell):
    found = titles(shell[2])
    walls = found.index("Glue the papers to the walls of the lid")
    top = found.index("Glue the paper to the top of the lid")
    glued = [place for place, title in enumerate(found) if title.startswith("Glue the right and left walls")]
    assert glued[-1] < walls < top < found.index("Put the lid on") == len(found) - 1
    assert glued[0] < found.index("Lay the paper into the tray") < glued[-1]


def test_a_turning_lid_is_not_in_the_way_of_papers(tidepool):
    found = titles(tidepool[2])
    base, layer = found.index("Lay the paper into the tray"), found.index("Glue the paper to the fourth layer")
    assert base < found.index("Glue the triangle into its corner")
    assert found.index("Cut out the layers") + 1 == layer < found.index("Put the fourth layer on, over the head")


def test_papers_are_numbered_steps_of_the_booklet(shell):
    measured, proof, steps = shell
    booklet = booklet_of(measured, proof, tell_proof(measured.project, proof), steps)
    numbered = {block.title: block for block in booklet.blocks if isinstance(block, Step)}
    step = numbered["Glue the papers to the walls of the lid"]
    assert step.number == 18 and step.check.startswith("Check: ") and step.picture is not None


def test_no_step_for_papers_that_were_not_asked_for():
    assert not [title for title in titles(made("storm-tray")[2]) if "paper" in title.lower()]


def test_glue_for_paper_is_among_what_is_needed():
    text = files("foldproof").joinpath("examples", "shell-tray.toml").read_text(encoding="utf-8")
    taped = text.replace("[parts.tray]\n", '[parts.tray]\nglue = "tape"\n', 1)
    measured = measure(read_project(taped))
    needs = told_steps(measured.project, prove(measured), unwatched).needs
    assert "Double-sided tape." in needs and "Glue for paper." in needs


def test_what_is_proved_takes_the_papers_of_what_is_measured(shell, tidepool):
    for measured, proof, _ in (shell, tidepool):
        lids = lids_of(proof)
        assert proved_papers(measured.project, proof, lids) == papers_of(measured, lids)


@pytest.mark.parametrize("place", ["front and back", "left and right", "base"])
def test_each_paper_lies_within_its_side_with_the_border_all_round(tidepool, place: Place):
    measured, proof, _ = tidepool
    border_mm = measured.project.papers.border.float_mm
    (piece,) = proof.parts[0].evidence.pieces
    drawn = drawn_piece(piece, proof.parts[0].evidence.assembly.joins)
    paper = next(each for each in papers_of(measured, lids_of(proof)).papers if each.place == place)
    panels = {"front and back": ("wall_front", "wall_back"), "left and right": ("wall_left", "wall_right")}
    for panel in panels.get(place, ("base",)):
        side = shapely.Polygon(drawn.tree.outline(drawn.tree.panels.index(panel)))
        lying = shapely.Polygon(_lying(drawn, panel, paper, border_mm))
        assert lying.exterior.is_ccw
        assert side.buffer(-border_mm + 1e-6, join_style="mitre").contains(lying)


def test_the_drawing_shows_every_paper_before_its_side_and_the_near_ones_on_it(shell):
    steps = [step for piece in shell[2].pieces for step in piece.steps]
    step = next(step for step in steps if step.title == "Glue the papers to the walls of the lid")
    filled = Counter(mark.name for mark in step.picture.marks if isinstance(mark, Area) and mark.name)
    # The lid is drawn as it ends: turned over, its back towards the reader.
    assert filled["paper_wall_back"] == filled["paper_wall_right"] == 2
    assert filled["paper_wall_left"] == filled["paper_wall_front"] == 1
