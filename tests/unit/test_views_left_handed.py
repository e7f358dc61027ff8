"""Drawings for the left hand: the same object and steps, seen from the other front corner, with nothing lost."""

from dataclasses import replace
from functools import cache
from importlib.resources import files

import pytest

from foldproof.design.lid_parts import lids_of
from foldproof.design.lid_steps import sheet_of
from foldproof.design.measure import measure
from foldproof.design.prove import prove
from foldproof.design.steps import told_steps
from foldproof.design.table_card import table_card_of
from foldproof.drawing.camera import in_shade, normal_of, project
from foldproof.drawing.records import Area, Picture, Stroke
from foldproof.drawing.visible import visible_regions
from foldproof.progress import unwatched
from foldproof.project.read import read_project
from foldproof.teach.steps import folding_steps
from foldproof.views.flat_picture import flat_picture
from foldproof.views.folded_picture import VIEW, VIEWS, drawn_piece, finished_picture, row_scale, seen
from foldproof.views.lid_solid import cap_face, layer_faces, triangle_faces, turned_faces
from foldproof.views.step_pictures import step_pictures, step_scenes

RIGHT, LEFT = VIEWS["right"], VIEWS["left"]
EXAMPLES = ("tidepool", "shell-tray", "pebble-metric")
WITH_LIDS = ("tidepool", "pebble-metric")
SIZE_MM = (116.0, 96.0)
FOLDED_AS_MUCH = 0.85  # of the glue that a right-handed picture shows, at least so much is seen in the other one


@cache
def proved(example, hand="right"):
    text = files("foldproof").joinpath("examples", f"{example}.toml").read_text(encoding="utf-8")
    project_ = read_project(text)
    measured = measure(replace(project_, teach=replace(project_.teach, hand=hand)))
    return measured, prove(measured)


@cache
def told(example, hand):
    measured, proof = proved(example, hand)
    return told_steps(measured.project, proof, unwatched)


def pieces():
    return [(example, number) for example in EXAMPLES for number in range(2 if example == "shell-tray" else 1)]


@cache
def steps_of(example, number):
    evidence = proved(example)[1].parts[0].evidence
    piece = evidence.pieces[number]
    return piece, evidence.assembly.joins, folding_steps(piece.tree, piece.orders, piece.joins)


@cache
def pages_of(example, number, view):
    piece, joins, steps = steps_of(example, number)
    names = [f"step-{count}" for count in range(len(steps))]
    return step_pictures(piece, joins, steps, names=names, alts=names, size=SIZE_MM, view=view)


def glue_dots(page):
    return sum(len(mark.paths) for mark in page.marks if isinstance(mark, Area) and mark.role == "glue")


# --- View and light -----------------------------------------------------------------------------------------


def test_the_left_view_is_the_mirror_of_the_right_one():
    points = [(1.0, 2.0, 3.0), (-4.0, 0.5, 2.0), (0.0, -7.0, 1.5)]
    mirrored = project(LEFT, [(-x, y, z) for x, y, z in points])
    for (x, y, depth), (u, v, w) in zip(project(RIGHT, points), mirrored, strict=True):
        assert (-x, y, depth) == pytest.approx((u, v, w))
    assert VIEW == RIGHT


@pytest.mark.parametrize(("hand", "beside"), [("right", "wall_right"), ("left", "wall_left")])
def test_front_is_seen_lit_and_the_side_beside_it_in_shade(hand, beside):
    evidence = proved("tidepool")[1].parts[0].evidence
    page = finished_picture(
        evidence.pieces, evidence.assembly, name="f", alt="a", size=SIZE_MM, view=VIEWS[hand]
    )
    tones = {mark.name: mark.role for mark in page.marks if isinstance(mark, Area)}
    assert tones["wall_front"] == "coloured"
    assert tones[beside] == "coloured_shade"
    other = {"wall_right": "wall_left", "wall_left": "wall_right"}[beside]
    assert other not in tones


def test_light_comes_over_the_shoulder_away_from_the_working_hand():
    assert in_shade((0.9, 0.0, 0.436), RIGHT) and not in_shade((-0.9, 0.0, 0.436), RIGHT)
    assert in_shade((-0.9, 0.0, 0.436), LEFT) and not in_shade((0.9, 0.0, 0.436), LEFT)


# --- Steps --------------------------------------------------------------------------------------------------


@pytest.mark.parametrize(("example", "number"), pieces())
def test_every_step_is_another_picture_with_an_arrow_for_each_moving_part(example, number):
    _, _, steps = steps_of(example, number)
    for step, left, right in zip(
        steps, pages_of(example, number, LEFT), pages_of(example, number, RIGHT), strict=True
    ):
        assert left.marks != right.marks
        heads = [mark for mark in left.marks if isinstance(mark, Area) and mark.role == "movement"]
        assert len(heads) == len(step.folds)


@pytest.mark.parametrize(("example", "number"), pieces())
def test_dots_where_joins_close_and_nowhere_else(example, number):
    piece, joins, steps = steps_of(example, number)
    drawn = drawn_piece(piece, joins, LEFT)
    for step, left, right in zip(
        steps, pages_of(example, number, LEFT), pages_of(example, number, RIGHT), strict=True
    ):
        closes = sum(len(fold.closes) for fold in step.folds)
        action, after = step_scenes(drawn, joins, step)
        assert action.view == after.view == LEFT
        glued = [face for face in action.faces if face.glue]
        assert sum(len(face.glue) for face in glued) == closes
        assert (glue_dots(left) > 0) == (closes > 0)
        assert glue_dots(left) >= FOLDED_AS_MUCH * glue_dots(right)
        for face in glued:
            assert (normal_of(project(LEFT, face.outline))[2] > 0.0) == (face.glue_side == "face")
        assert not any(face.glue for face in after.faces)


@pytest.mark.parametrize(("example", "number"), pieces())
def test_arrows_start_in_the_open(example, number):
    piece, joins, steps = steps_of(example, number)
    drawn = drawn_piece(piece, joins, LEFT)
    for step in steps:
        action, _ = step_scenes(drawn, joins, step)
        shares = []
        for arrow in action.arrows:
            shown = seen(arrow.points, action.faces, LEFT)
            shares.append(sum(shown) / len(shown))
        assert max(shares) > 0.5


@pytest.mark.parametrize(("example", "number"), pieces())
def test_the_scale_is_that_of_the_other_hand(example, number):
    piece, joins, steps = steps_of(example, number)
    scales = [
        row_scale([step_scenes(drawn_piece(piece, joins, view), joins, step) for step in steps], SIZE_MM)
        for view in (RIGHT, LEFT)
    ]
    assert scales[1] == pytest.approx(scales[0], rel=0.05)


def test_the_flat_piece_and_a_lifted_lid_are_turned_too():
    piece, joins, _ = steps_of("shell-tray", 0)
    evidence = proved("shell-tray")[1].parts[0].evidence
    flat, whole = (
        [
            flat_picture(piece, joins, name="a", alt="a", size=SIZE_MM, view=view),
            finished_picture(evidence.pieces, evidence.assembly, name="a", alt="a", size=SIZE_MM, view=view),
        ]
        for view in (RIGHT, LEFT)
    )
    for right, left in zip(flat, whole, strict=True):
        assert right.marks != left.marks
        for role in ("guide", "movement"):
            count = [sum(isinstance(m, Area | Stroke) and m.role == role for m in page.marks) for page in (right, left)]
            assert count[0] == count[1]


# --- Lid ----------------------------------------------------------------------------------------------------


def uncovered_mm2(example, view):
    """What is seen of the opened box's corner: (triangle and cap, in mm² of picture; the whole box)."""
    lid = lids_of(proved(example)[1])[0]
    sheet = sheet_of(lid, SIZE_MM, view)
    model = sheet.model
    below = (*model.box, *triangle_faces(model), cap_face(model))
    angle = model.turning.analysis.opened.angle_deg
    regions = visible_regions(turned_faces((*below, *layer_faces(model, angle, last=1)), sheet.quarter_deg), view)
    areas = [float(region.area) for region in regions]
    return sum(areas[len(model.box) : len(below)]), sum(areas[: len(below)])


@pytest.mark.parametrize("example", WITH_LIDS)
def test_the_opened_lid_shows_as_much_of_the_box(example):
    (corner_right, box_right), (corner_left, box_left) = (uncovered_mm2(example, view) for view in (RIGHT, LEFT))
    assert box_left >= 0.9 * box_right
    assert corner_left >= 0.9 * corner_right


# --- The whole pack of drawings -----------------------------------------------------------------------------


@pytest.mark.parametrize("example", ("tidepool", "shell-tray"))
def test_words_stay_and_only_what_is_seen_in_space_is_drawn_anew(example):
    right, left = told(example, "right"), told(example, "left")
    for one, other in zip(right.pieces, left.pieces, strict=True):
        for a, b in zip(one.steps, other.steps, strict=True):
            assert (a.title, a.text, a.check, a.if_not, a.caution) == (b.title, b.text, b.check, b.if_not, b.caution)
            assert (a.picture.name, a.picture.alt) == (b.picture.name, b.picture.alt)
    changed = [a.name for a, b in zip(right.pages, left.pages, strict=True) if a.marks != b.marks]
    assert "finished" in changed
    assert {"step-01", "step-02", "lid-section", "lid-closed", "lid-opened"}.isdisjoint(changed)
    assert len(changed) >= len(right.pages) // 3


@pytest.mark.parametrize("example", ("tidepool", "shell-tray"))
def test_the_table_card_is_turned_too(example):
    cards = [table_card_of(*proved(example, hand)) for hand in ("right", "left")]
    pairs = [
        (a.page, b.page) for a, b in zip(*(card.blocks for card in cards), strict=True) if isinstance(a, Picture)
    ]
    assert pairs[0][0] == pairs[0][1]  # the flat piece, from above
    assert len(pairs) > 3 and all(a.marks != b.marks for a, b in pairs[1:])
