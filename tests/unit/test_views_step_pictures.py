"""The folding steps, the flat piece and the finished thing as pictures: poses, arrows, glue, room on the page."""

from dataclasses import replace
from functools import cache
from importlib.resources import files
from math import degrees, dist, hypot
from time import perf_counter

import numpy as np
import pytest

from foldproof.design.measure import measure
from foldproof.design.prove import prove
from foldproof.drawing.camera import normal_of, project
from foldproof.drawing.records import Area, Stroke
from foldproof.drawing.style import LINES
from foldproof.exports.svg import page_svg
from foldproof.folding.layers import order_layers
from foldproof.folding.tree import folded, pose
from foldproof.geometry import motion
from foldproof.project.read import read_project
from foldproof.teach.steps import folding_steps
from foldproof.views.flat_picture import LET_OPEN_RAD, flat_picture
from foldproof.views.folded_picture import (
    DRAWN_THICKNESS_MM,
    VIEW,
    drawn_piece,
    faces_of,
    finished_picture,
    in_space,
    seen,
)
from foldproof.views.step_pictures import step_picture, step_pictures, step_scenes, steps_scale

EXAMPLES = ("tidepool", "shell-tray", "pebble-metric")
SIZE_MM = (170.0, 110.0)


@cache
def evidence_of(example):
    text = files("foldproof").joinpath("examples", f"{example}.toml").read_text(encoding="utf-8")
    part = prove(measure(read_project(text))).parts[0]
    return part.evidence


def pieces():
    """(example, piece number) of all pieces; a tray with a lid has two."""
    return [(example, number) for example in EXAMPLES for number in range(2 if example == "shell-tray" else 1)]


def steps_of(example, number):
    evidence = evidence_of(example)
    piece = evidence.pieces[number]
    return piece, evidence.assembly.joins, folding_steps(piece.tree, piece.orders, piece.joins)


@cache
def pages_of(example, number, size=SIZE_MM):
    piece, joins, steps = steps_of(example, number)
    names = [f"step-{count}" for count in range(len(steps))]
    return step_pictures(piece, joins, steps, names=names, alts=names, size=size)


def ink_box(page):
    """Left, low, right, high of the ink, half the line's width and its casing included."""
    lefts, lows, rights, highs = [], [], [], []
    for mark in page.marks:
        paths = mark.paths if isinstance(mark, Area) else (mark.path,)
        around = LINES[mark.role].width_mm / 2 if isinstance(mark, Stroke) else 0.0
        for x, y in (point for path in paths for point in path.points):
            lefts.append(x - around)
            lows.append(y - around)
            rights.append(x + around)
            highs.append(y + around)
    return min(lefts), min(lows), max(rights), max(highs)


def arrow_heads(page):
    return [mark for mark in page.marks if isinstance(mark, Area) and mark.role == "movement"]


def assert_inside(page, size):
    left, low, right, high = ink_box(page)
    assert left >= 0.5 and low >= 0.5
    assert right <= page.width_mm - 0.5 and high <= page.height_mm - 0.5
    assert page.width_mm == size[0] and page.height_mm <= size[1] + 1e-6


@pytest.mark.parametrize(("example", "number"), pieces())
def test_every_step_is_drawn_inside_its_page(example, number):
    pages = pages_of(example, number)
    assert len(pages) == len(steps_of(example, number)[2]) > 2
    for page in pages:
        assert len(page.marks) > 10
        assert_inside(page, SIZE_MM)


@pytest.mark.parametrize("size", [(60.0, 200.0), (300.0, 40.0), (116.0, 180.0)])
def test_narrow_and_low_pages_hold_the_steps_too(size):
    for page in pages_of("tidepool", 0, size):
        assert_inside(page, size)


@pytest.mark.parametrize(("example", "number"), pieces())
def test_what_you_have_is_the_pose_of_the_folding_tree(example, number):
    piece, joins, steps = steps_of(example, number)
    drawn = drawn_piece(piece, joins)
    tree = piece.tree
    for step in steps:
        _, after = step_scenes(drawn, joins, step)
        fractions = np.array([[float(crease.id in step.after) for crease in tree.piece.creases]])
        world = pose(tree, fractions, drawn.shifts_mm)[0]
        for panel, face in enumerate(after.faces[: len(tree.panels)]):
            assert face.name == tree.panels[panel]
            for corner in motion.apply(world[panel], motion.lift(tree.outline(panel))):
                assert min(dist(corner, point) for point in face.outline) < 1e-9
        for rim in after.faces[len(tree.panels) :]:
            assert rim.name in {fold for fold in tree.panels if fold.startswith("inner")}


def test_drawn_layers_stay_out_of_the_numbers():
    piece, joins, _ = steps_of("tidepool", 0)
    before = piece.layers.shifts_mm
    drawn = drawn_piece(piece, joins)
    assert max(map(abs, drawn.shifts_mm)) == pytest.approx(2 * DRAWN_THICKNESS_MM)
    assert piece.layers.shifts_mm == before
    assert piece.layers == order_layers(piece.tree, joins, piece.layers.thickness_mm)


@pytest.mark.parametrize(("example", "number"), pieces())
def test_one_arrow_for_each_moving_part(example, number):
    _, _, steps = steps_of(example, number)
    for step, page in zip(steps, pages_of(example, number), strict=True):
        assert len(arrow_heads(page)) == len(step.folds)


@pytest.mark.parametrize(("example", "number"), pieces())
def test_an_arrow_is_the_true_way_of_a_point_of_what_moves(example, number):
    piece, joins, steps = steps_of(example, number)
    drawn = drawn_piece(piece, joins)
    tree = piece.tree
    for step in steps:
        action, _ = step_scenes(drawn, joins, step)
        for fold, arrow in zip(step.folds, action.arrows, strict=True):
            crease = next(c for c in tree.piece.creases if c.id == fold.crease)
            fractions = np.array([[float(c.id in step.before) for c in tree.piece.creases]])
            parent = pose(tree, fractions, drawn.shifts_mm)[0, tree.index(crease.parent)]
            a, b = (np.array(point) for point in in_space(parent, crease.line))
            along = (b - a) / np.linalg.norm(b - a)
            off = [np.cross(np.array(point) - a, along) for point in arrow.points]
            # About the crease; the layer shift moves it by no more than two drawn layers.
            radii = [float(np.linalg.norm(vector)) for vector in off]
            assert max(radii) - min(radii) < 2 * DRAWN_THICKNESS_MM + 1e-6
            ends = [float(np.dot(np.array(point) - a, along)) for point in arrow.points]
            assert max(ends) - min(ends) < 1e-6
            cosine = float(np.dot(off[0], off[-1])) / (radii[0] * radii[-1])
            assert degrees(np.arccos(np.clip(cosine, -1.0, 1.0))) > 20.0


@pytest.mark.parametrize(("example", "number"), pieces())
def test_glue_is_drawn_in_the_steps_that_close_joins_and_in_no_others(example, number):
    _, _, steps = steps_of(example, number)
    closing = [any(fold.closes for fold in step.folds) for step in steps]
    assert any(closing) and not all(closing)
    for closes, page in zip(closing, pages_of(example, number), strict=True):
        assert any(isinstance(mark, Area) and mark.role == "glue" for mark in page.marks) == closes


@pytest.mark.parametrize(("example", "number"), pieces())
def test_the_glue_of_every_join_is_turned_to_the_reader(example, number):
    piece, joins, steps = steps_of(example, number)
    drawn = drawn_piece(piece, joins)
    own = {join.id: join for join in joins if join.a.piece == piece.tree.piece.id}
    for step in steps:
        action, after = step_scenes(drawn, joins, step)
        glued = [face for face in action.faces if face.glue]
        assert sum(len(face.glue) for face in glued) == sum(len(fold.closes) for fold in step.folds)
        ends = {end for fold in step.folds for name in fold.closes for end in (own[name].a, own[name].b)}
        for face in glued:
            assert (face.name, face.glue_side) in {(end.panel, end.side) for end in ends}
            assert (normal_of(project(VIEW, face.outline))[2] > 0.0) == (face.glue_side == "face")
        assert not any(face.glue for face in after.faces)


def test_glue_that_is_not_glue_has_no_dots():
    piece, joins, steps = steps_of("tidepool", 0)
    tucked = tuple(replace(join, kind="tuck") for join in joins)
    page = step_picture(piece, tucked, steps[2], name="a", alt="a", size=SIZE_MM)
    assert not any(isinstance(mark, Area) and mark.role == "glue" for mark in page.marks)


@pytest.mark.parametrize(("example", "number"), pieces())
def test_creases_are_dashed_until_they_are_folded(example, number):
    piece, joins, steps = steps_of(example, number)
    drawn = drawn_piece(piece, joins)
    count = len(piece.tree.piece.creases)
    for step in steps:
        action, after = step_scenes(drawn, joins, step)
        assert sum(len(face.unfolded) for face in after.faces) == count - len(step.after)
        # A part bent back to show its glue has a worked fold already.
        dashed = sum(len(face.unfolded) for face in action.faces)
        assert count - len(step.after) - 1 <= dashed <= count - len(step.before)
    assert not any(face.unfolded for face in after.faces)


def test_a_finished_tray_has_no_dashes_and_a_flat_one_has():
    first, *_, last = pages_of("tidepool", 0)

    def dashes(page):
        return sum(1 for mark in page.marks if isinstance(mark, Stroke) and mark.role == "valley")

    assert dashes(first) >= 12  # some of the twelve lie in one line and are drawn as one, before and after
    assert dashes(last) == 1  # the back inner wall's, before it is folded


def test_all_steps_have_one_scale_and_the_largest_that_fits():
    piece, joins, steps = steps_of("tidepool", 0)
    scale = steps_scale(piece, joins, steps, SIZE_MM)
    single = step_picture(piece, joins, steps[0], name="step-0", alt="step-0", size=SIZE_MM, mm_per_mm=scale)
    assert single == pages_of("tidepool", 0)[0]
    left, _, right, _ = ink_box(single)
    assert right - left > SIZE_MM[0] - 10.0  # the flat piece twice fills the width
    alone = step_picture(piece, joins, steps[-1], name="a", alt="a", size=SIZE_MM)
    assert alone.height_mm > 1.4 * pages_of("tidepool", 0)[-1].height_mm


def test_the_same_steps_give_the_same_bytes():
    again = pages_of.__wrapped__("pebble-metric", 0)
    assert [page_svg(page) for page in pages_of("pebble-metric", 0)] == [page_svg(page) for page in again]


def test_all_steps_of_a_double_wall_tray_take_seconds_at_most():
    pages_of("tidepool", 0)  # the proof is not what is timed
    started = perf_counter()
    pages_of.__wrapped__("tidepool", 0)
    assert perf_counter() - started < 3.0  # about half a second; room for a busy machine


def test_no_steps_are_no_pictures():
    piece, joins, _ = steps_of("tidepool", 0)
    assert step_pictures(piece, joins, (), names=(), alts=(), size=SIZE_MM) == ()


@pytest.mark.parametrize(("example", "number"), pieces())
def test_the_flat_piece_has_every_fold_a_little_open(example, number):
    piece, joins, _ = steps_of(example, number)
    page = flat_picture(piece, joins, name="flat", alt="flat", size=SIZE_MM)
    assert_inside(page, SIZE_MM)
    assert len(arrow_heads(page)) == 4  # one for each side of the base
    assert not any(isinstance(mark, Stroke) and mark.role == "valley" for mark in page.marks)
    assert degrees(LET_OPEN_RAD) == pytest.approx(25.0)


def test_a_lid_is_drawn_lifted_with_guides_and_then_closed():
    evidence = evidence_of("shell-tray")
    page = finished_picture(evidence.pieces, evidence.assembly, name="finished", alt="a", size=SIZE_MM)
    assert_inside(page, SIZE_MM)
    guides = [mark for mark in page.marks if isinstance(mark, Stroke) and mark.role == "guide"]
    assert guides
    for guide in guides:  # straight up and down, as the lid goes
        (ax, ay), (bx, by) = guide.path.points
        assert ax == pytest.approx(bx, abs=0.002) and ay != by
    higher = finished_picture(
        evidence.pieces, evidence.assembly, name="f", alt="a", size=(170.0, 300.0), lid_lifted_mm=120.0
    )
    lower = finished_picture(
        evidence.pieces, evidence.assembly, name="f", alt="a", size=(170.0, 300.0), lid_lifted_mm=60.0
    )
    assert higher.height_mm > lower.height_mm


def test_a_closed_lid_shows_its_coloured_side_only():
    evidence = evidence_of("shell-tray")
    page = finished_picture(evidence.pieces, evidence.assembly, name="f", alt="a", size=SIZE_MM, lid_lifted_mm=0.0)
    # Nothing lifted: both pictures are the closed box.
    assert {mark.role for mark in page.marks if isinstance(mark, Area)} == {"coloured", "coloured_shade"}


def test_a_tray_without_a_lid_is_drawn_once():
    evidence = evidence_of("tidepool")
    page = finished_picture(evidence.pieces, evidence.assembly, name="f", alt="a", size=SIZE_MM)
    assert_inside(page, SIZE_MM)
    bases = [mark for mark in page.marks if isinstance(mark, Area) and mark.name == "base"]
    assert len(bases) == 1


def test_rims_meet_in_mitres_at_the_corners_of_a_finished_tray():
    piece, joins, _ = steps_of("tidepool", 0)
    drawn = drawn_piece(piece, joins)
    faces = faces_of(drawn, np.ones(len(piece.tree.piece.creases)))
    rims = faces[len(piece.tree.panels) :]
    assert {rim.name for rim in rims} == {"inner_back", "inner_front", "inner_right", "inner_left"}
    top = max(z for face in faces for _, _, z in face.outline)
    corners = [point for rim in rims for point in rim.outline]
    assert all(z == pytest.approx(top) for _, _, z in corners)
    # Each corner of the inner and the outer square is shared by two rims.
    for point in corners:
        assert sum(1 for other in corners if dist(point, other) < 1e-6) == 2
    for rim in rims:
        assert normal_of(rim.outline)[2] == pytest.approx(-1.0)  # the coloured back is up


def test_seen_tells_points_behind_a_wall_from_points_before_it():
    piece, joins, _ = steps_of("tidepool", 0)
    drawn = drawn_piece(piece, joins)
    faces = faces_of(drawn, np.ones(len(piece.tree.piece.creases)))
    world = folded(piece.tree, drawn.shifts_mm)
    front, back = (
        in_space(world[piece.tree.index(name)], [np.mean(piece.tree.outline(piece.tree.index(name)), axis=0)])[0]
        for name in ("wall_front", "wall_back")
    )
    assert hypot(front[0] - back[0]) < 1e-6
    before = (front[0], front[1] - 5.0, front[2])
    behind = (back[0], back[1] + 5.0, 0.0)
    assert seen((before, behind), faces) == [True, False]
