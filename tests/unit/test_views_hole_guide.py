"""The hole guide: mirrored rightly, in true size, and the same hole in numbers."""

import dataclasses
import functools
import itertools
import math

import pytest
import shapely
from shapely import affinity

from foldproof.design.lid_parts import lids_of, sight_of
from foldproof.design.measure import measure
from foldproof.design.prove import prove
from foldproof.drawing.records import Area, Label, Stroke
from foldproof.lids.turning import covering_outline
from foldproof.project.read import read_project
from foldproof.stock.sheets import read_sheet
from foldproof.views.hole_guide import SLIT, STAR_SLITS, hole_guide_page
from foldproof.views.labels import TEXT_PT, label_box
from foldproof.views.lid_by_hand import by_hand, hand_lines
from foldproof.views.templates import MARGIN_MM
from foldproof.words.catalogue import ENGLISH

FILE = """format = 1
name = "Tidepool keepsake box"
unit = "{unit}"
[cardstock]
sheet = "12x12"
weight = "216 gsm"
[parts.box]
construction = "double-wall tray"
base_length = "{length}"
base_width = "{width}"
wall_height = "2 1/4 in"
inner_wall = "1 1/2 in"
[parts.lid]
construction = "turning lid"
on = "box"
corner = "{corner}"
across = "{across}"
hole_from_corner = "3/4 in"
{shape}
[[parts.lid.layers]]
"""
HEART = 'shape = "heart"\nclosed = 20.0'
STAR = 'shape = "star"\nlobes = 5\ndepth = "1 in"\nclosed = 7.0'
ROSETTE = 'shape = "rosette"\nlobes = 10\ndepth = "3/16 in"'
LIDS = {
    "heart": dict(shape=HEART, corner="back left", across="7 in"),
    "star": dict(shape=STAR, corner="front right", across="7 1/2 in"),
    "rosette": dict(shape=ROSETTE, corner="back right", across="5 1/2 in"),
    "large heart": dict(shape=HEART, corner="front left", across="11 in"),
    "oblong": dict(shape=STAR, corner="back left", across="9 in", width="2 1/2 in", unit="cm"),
}


@functools.cache
def lid(name):
    values = dict(length="3 1/4 in", width="3 1/4 in", unit="in") | LIDS[name]
    project = read_project(FILE.format(**values))
    (found,) = lids_of(prove(measure(project)))
    return project, found


def pages(name, paper=None, **options):
    project, found = lid(name)
    sheet = read_sheet(paper, project.unit) if paper else None
    return hole_guide_page(
        found.turning, found.tips, project.ruler, project.other_ruler, project.name, "Lid", sheet, **options
    )


def strokes(page, name):
    return [mark for mark in page.marks if isinstance(mark, Stroke) and mark.name == name]


def closed(points):
    return shapely.Polygon(points)


@pytest.mark.parametrize("name", ["heart", "star", "rosette", "oblong"])
def test_the_guide_turned_over_is_the_lid(name):
    """Mirrored again, the printed outline lies on the lid's and the printed hole on the lid's hole."""
    _, found = lid(name)
    turning = found.turning
    page = pages(name, "A3")[0]
    (outline,) = strokes(page, "lid")
    (hole,) = strokes(page, "hole")
    (rim,) = strokes(page, "rim")
    true = closed(covering_outline(turning.lid))

    def turned_over(stroke):
        return closed([(-x, y) for x, y in stroke.path.points])

    printed = turned_over(outline)
    shift = (true.centroid.x - printed.centroid.x, true.centroid.y - printed.centroid.y)
    assert affinity.translate(printed, *shift).symmetric_difference(true).area < 1e-3
    at = affinity.translate(turned_over(hole), *shift).centroid
    assert math.dist((at.x, at.y), turning.lid.hole) < 1e-6
    box = affinity.translate(turned_over(rim), *shift)
    assert box.symmetric_difference(closed(turning.box.rim)).area < 1e-3


@pytest.mark.parametrize("name", ["heart", "star"])
def test_an_outline_that_was_not_mirrored_would_be_found_out(name):
    """The lids above really are different from their mirror images, so the test can fail."""
    _, found = lid(name)
    true = closed(covering_outline(found.turning.lid))
    mirrored = affinity.scale(true, -1.0, 1.0, origin=true.centroid)
    assert true.symmetric_difference(mirrored).area > 100.0


@pytest.mark.parametrize("name", LIDS)
def test_the_hole_is_a_true_circle_to_be_cut(name):
    _, found = lid(name)
    sheets = [page for page in pages(name) if strokes(page, "hole")]
    whole = [page for page in sheets if all(stroke.path.closed for stroke in strokes(page, "hole"))]
    assert whole
    (hole,) = strokes(whole[0], "hole")
    assert hole.role == "cut"
    middle = closed(hole.path.points).centroid
    radius = 0.5 * found.turning.lid.fastener.hole_mm
    ring = [*hole.path.points, hole.path.points[0]]
    for a, b in itertools.pairwise(ring):
        assert math.dist(a, (middle.x, middle.y)) == pytest.approx(radius, abs=1e-9)
        chord = math.dist(((a[0] + b[0]) / 2, (a[1] + b[1]) / 2), (middle.x, middle.y))
        assert radius - chord <= 0.02


@pytest.mark.parametrize("name", ["heart", "rosette"])
def test_the_star_of_slits_lies_in_the_hole_and_is_as_wide(name):
    """Punching the hole takes the slits away: each goes through its middle, from edge to edge, at even turns."""
    _, found = lid(name)
    page = pages(name, "A3")[0]
    (hole,), slits = strokes(page, "hole"), strokes(page, SLIT)
    middle = closed(hole.path.points).centroid
    assert len(slits) == STAR_SLITS >= 3 and all(slit.role == "cut" for slit in slits)
    turns = []
    for slit in slits:
        a, b = slit.path.points
        assert ((a[0] + b[0]) / 2, (a[1] + b[1]) / 2) == pytest.approx((middle.x, middle.y), abs=1e-6)
        assert math.dist(a, b) == pytest.approx(found.turning.lid.fastener.hole_mm, abs=1e-6)
        turns.append(math.degrees(math.atan2(b[1] - a[1], b[0] - a[0])) % 180.0)
    turns.sort()
    assert [b - a for a, b in itertools.pairwise(turns)] == pytest.approx([180.0 / STAR_SLITS] * (STAR_SLITS - 1))
    said = " ".join(label.text for label in texts(page))
    assert "star" in said and "knife" in said
    for arm in strokes(page, "cross"):  # the cross leaves the star free
        assert closed(hole.path.points).distance(shapely.LineString(arm.path.points)) > 0.5


@pytest.mark.parametrize("name", LIDS)
def test_the_way_by_sight_stands_on_the_guide_under_its_own_title(name):
    project, found = lid(name)
    sight = sight_of(project, found)
    every = [label.text for page in pages(name, "A3", sight=sight) for label in texts(page)]
    assert ENGLISH.lid.sight_way in every and sight[0].split(".")[0] in " ".join(every)
    assert sum("before a limit is passed" in text or "is passed." in text for text in every) <= 2


@pytest.mark.parametrize("name", LIDS)
@pytest.mark.parametrize("paper", ["Letter", "A4", "A5"])
def test_everything_is_on_the_paper_and_no_words_overlap(name, paper):
    for page in pages(name, paper, not_proved=True, sight=sight_of(*lid(name))):
        for mark in page.marks:
            if isinstance(mark, Label):
                left, low, right, high = label_box(mark)
                points = [(left, low), (right, high)]
                assert mark.size_pt >= TEXT_PT
            else:
                paths = mark.paths if isinstance(mark, Area) else (mark.path,)
                points = [point for path in paths for point in path.points]
            for x, y in points:
                assert MARGIN_MM - 1.5 <= x <= page.width_mm - MARGIN_MM + 1.5, (page.name, mark)
                assert MARGIN_MM - 1.5 <= y <= page.height_mm - MARGIN_MM + 1.5, (page.name, mark)
        boxes = [(label_box(mark), mark.text) for mark in page.marks if isinstance(mark, Label)]
        for (a, one), (b, other) in itertools.combinations(boxes, 2):
            apart = a[2] <= b[0] or b[2] <= a[0] or a[3] <= b[1] + 0.5 or b[3] <= a[1] + 0.5
            assert apart, (page.name, one, other)


def test_both_rulers_are_true_on_every_sheet_of_the_guide():
    sheets = pages("large heart", "Letter")
    assert len(sheets) > 2
    for page in sheets[:-1]:
        for ruler, length in (("100 mm", 100.0), ("4 in", 101.6)):
            (stroke,) = strokes(page, ruler)
            assert math.dist(*stroke.path.points) == pytest.approx(length, abs=1e-9)


def test_the_sheets_of_a_large_guide_show_all_of_it():
    _, found = lid("large heart")
    sheets = pages("large heart", "Letter")
    drawn = sum(
        shapely.LineString([*s.path.points, *(s.path.points[:1] if s.path.closed else ())]).length
        for page in sheets
        for s in strokes(page, "lid")
    )
    true = closed(covering_outline(found.turning.lid)).length
    assert true <= drawn + 1e-6 < 1.6 * true  # the overlaps show twice
    assert any(label.text == "back of the lid" or "back" in label.text for label in texts(sheets[-1]))


def texts(page):
    return [mark for mark in page.marks if isinstance(mark, Label)]


def test_the_guide_says_which_side_is_up_and_where_the_front_is():
    (page,) = pages("rosette", "A3")
    said = [label.text for label in texts(page)]
    assert "this side up, on the back of the lid" in said and "front" in said and "back right corner" in said
    (corner,) = (label for label in texts(page) if label.text == "back right corner")
    (outline,) = strokes(page, "lid")
    # Seen from the back the right corner is at the left.
    assert corner.at[0] < closed(outline.path.points).centroid.x


def test_a_guide_that_is_not_proved_says_so():
    for page in pages("large heart", "Letter", not_proved=True):
        assert page.alt.startswith(ENGLISH.paper.not_proved)
        assert ENGLISH.paper.not_proved in [label.text for label in texts(page)]
    assert not pages("rosette")[0].alt.startswith(ENGLISH.paper.not_proved)


# --- By hand ------------------------------------------------------------------------------------------------


@pytest.mark.parametrize("name", LIDS)
def test_measuring_in_from_the_corner_finds_the_hole(name):
    """Both ways, followed on the ruler, end as far from the hole as is said, and no farther than a ruler mark."""
    project, found = lid(name)
    turning = found.turning
    hand = by_hand(turning, project.ruler)
    assert closed(turning.box.rim).exterior.distance(shapely.Point(hand.corner)) < 1e-9
    ix, iy = turning.box.into
    along = hand.along.shown.float_mm
    by_diagonal = (hand.corner[0] + ix * along, hand.corner[1] + iy * along)
    by_sides = tuple(
        corner + math.copysign(side.shown.float_mm, into)
        for corner, side, into in zip(hand.corner, hand.sides, (ix, iy), strict=True)
    )
    worst = max(math.dist(by_diagonal, turning.lid.hole), math.dist(by_sides, turning.lid.hole))
    assert worst == pytest.approx(hand.off_mm, abs=1e-3)
    assert worst <= project.ruler.step_length.float_mm
    assert hand.spare_mm == pytest.approx(max(0.0, turning.analysis.hole_tolerance_mm - hand.off_mm))


def test_what_may_be_off_is_told_and_never_too_large():
    project, found = lid("rosette")
    roomy = dataclasses.replace(
        found.turning, analysis=dataclasses.replace(found.turning.analysis, hole_tolerance_mm=3.0)
    )
    assert "The hole may be 1/16 in off (2 mm)" in hand_lines(roomy, project.ruler, project.other_ruler)[-1]
    tight = dataclasses.replace(
        found.turning, analysis=dataclasses.replace(found.turning.analysis, hole_tolerance_mm=0.0)
    )
    assert "less than 1/16 in" in hand_lines(tight, project.ruler, project.other_ruler)[-1]
