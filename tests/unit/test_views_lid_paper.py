"""The paper of a turning lid: its pieces on a leaf, its pictures, its steps and its place in the pack."""

import dataclasses
import functools
import itertools
import math

import pytest
import shapely

from foldproof.design.lid_parts import lids_of
from foldproof.design.lid_steps import layer_fills, lid_pictures, lid_piece, sheet_of
from foldproof.design.measure import measure
from foldproof.design.pack import pack
from foldproof.design.prove import prove
from foldproof.design.telling import speech_of
from foldproof.drawing.records import Area, Label, Stroke
from foldproof.project.read import read_project
from foldproof.views.labels import TEXT_PT, label_box
from foldproof.views.layer_pages import layer_pages
from foldproof.views.lid_picture import curve_page
from foldproof.views.lid_section import section_page
from foldproof.views.lid_solid import cap_face, layer_faces, layer_height, triangle_faces, turned_faces
from foldproof.words.catalogue import ENGLISH

SIZE = (160.0, 120.0)
FILE = """format = 1
name = "Tidepool keepsake box"
unit = "in"
[cardstock]
sheet = "12x12"
weight = "216 gsm"
[parts.box]
construction = "double-wall tray"
base_length = "3 1/4"
base_width = "3 1/4"
wall_height = "2 1/4"
inner_wall = "1 1/2"
[parts.lid]
construction = "turning lid"
on = "box"
shape = "rosette"
across = "5 1/2"
lobes = 10
depth = "3/16"
corner = "{corner}"
hole_from_corner = "3/4"
fastener = "{fastener}"
{legs}
[[parts.lid.layers]]
colour = "shell white"
[[parts.lid.layers]]
colour = "sea green"
across = "5"
turned = 18
[[parts.lid.layers]]
colour = "shell white"
across = "4"
brad = "hidden under it"
fixed = "foam"
[[parts.lid.layers]]
colour = "sea green"
across = "3"
brad = "hidden under it"
greeting = "{greeting}"
"""
USUAL = dict(corner="back left", fastener="brad", legs='legs = "1/2"', greeting="no")
OTHER = dict(corner="front right", fastener="eyelet", legs="", greeting="yes")
SHORT = dict(corner="back right", fastener="brad", legs='legs = "1/8"', greeting="no")
SNAP = dict(corner="front left", fastener="snap", legs='reinforce = "1 1/4"', greeting="no")
WAYS = {"usual": USUAL, "other": OTHER, "short legs": SHORT, "snap and disc": SNAP}


def text_of(way):
    return FILE.format(**WAYS[way])


@functools.cache
def lid(way):
    project = read_project(text_of(way))
    proof = prove(measure(project))
    (found,) = lids_of(proof)
    return project, proof, found


@functools.cache
def told(way):
    project, _, found = lid(way)
    names = (f"lid-{number:02d}" for number in itertools.count(1))
    return lid_piece(project, found, speech_of(project), SIZE, lambda: next(names))


@functools.cache
def packed(way):
    return {file.path: file.data for file in pack(read_project(text_of(way)), text_of(way)).files}


def leaves(way, **options):
    project, _, found = lid(way)
    return layer_pages(found.values, found.pieces, project.ruler, project.other_ruler, project.name, **options)


def strokes(page, *roles):
    return [mark for mark in page.marks if isinstance(mark, Stroke) and mark.role in roles]


def texts(page):
    return [mark.text for mark in page.marks if isinstance(mark, Label)]


def said(page):
    """All words of a page in one line, wrapped or not."""
    return " ".join(texts(page))


def check_page(page, edge_mm=0.0):
    """All marks on the page, words large enough and not on each other."""
    for mark in page.marks:
        if isinstance(mark, Label):
            left, low, right, high = label_box(mark)
            points = [(left, low), (right, high)]
            assert mark.size_pt >= TEXT_PT
        else:
            paths = mark.paths if isinstance(mark, Area) else (mark.path,)
            points = [point for path in paths for point in path.points]
        for x, y in points:
            assert edge_mm - 0.6 <= x <= page.width_mm - edge_mm + 0.6, (page.name, mark)
            assert edge_mm - 0.6 <= y <= page.height_mm - edge_mm + 0.6, (page.name, mark)
    boxes = [(label_box(mark), mark.text) for mark in page.marks if isinstance(mark, Label)]
    for (a, one), (b, other) in itertools.combinations(boxes, 2):
        apart = a[2] <= b[0] or b[2] <= a[0] or a[3] <= b[1] + 0.6 or b[3] <= a[1] + 0.6
        assert apart, (page.name, one, other)


# --- Pieces -------------------------------------------------------------------------------------------------


@pytest.mark.parametrize("way", WAYS)
def test_the_leaf_of_pieces_is_whole(way):
    pages = leaves(way, not_proved=True, from_waste={"triangle": "the tray"})
    for page in pages:
        check_page(page, 10.0)
        assert page.alt.startswith(ENGLISH.paper.not_proved) and ENGLISH.paper.not_proved in texts(page)
    words = " ".join(said(page) for page in pages)
    assert "Cut 1 rosette, 5 1/2 in (14.0 cm), shell white." in words
    assert "Cut 1 rosette, 3 in (7.6 cm), sea green." in words
    assert "Cut 1 strip, 2 in (5.1 cm) x 1 in (2.5 cm)." in words
    assert words.count("Cut it from the waste of the tray") == 1
    assert "Fix it with foam, 1/16 in" in words
    assert words.count("goes through: one hole") == (5 if way == "snap and disc" else 4)
    assert words.count("hidden under it") == 2


def test_the_strip_is_scored_from_its_middle_to_both_far_corners():
    (page, *_) = leaves("usual")
    scores = [stroke.path.points for stroke in strokes(page, "mountain") if stroke.name]
    assert len(scores) == 2
    shared = set(scores[0]) & set(scores[1])
    assert len(shared) == 1
    (middle,) = shared
    ends = [next(point for point in line if point != middle) for line in scores]
    assert middle[0] == pytest.approx((ends[0][0] + ends[1][0]) / 2)
    for end in ends:  # 45 degrees, up to the far side
        assert abs(end[0] - middle[0]) == pytest.approx(end[1] - middle[1])


def test_kept_strips_stand_in_the_waste_of_the_tray():
    _, _, found = lid("usual")
    assert found.from_waste == ("triangle", "cap")
    tray = found.host.pieces[0].measured.piece
    panels = shapely.union_all([shapely.Polygon(panel.outline) for panel in tray.panels])
    for each in found.kept:
        assert shapely.Polygon(each.outline).intersection(panels).area < 1e-3
        assert each.size == "2 x 1 in"


# --- Pictures -----------------------------------------------------------------------------------------------


@pytest.mark.parametrize("way", WAYS)
def test_every_picture_is_whole_and_in_words(way):
    project, _, found = lid(way)
    pages = lid_pictures(project, found, SIZE)
    for page in (*pages, *(step.picture for step in told(way).steps)):
        check_page(page)
        assert page.alt
        assert page.width_mm == SIZE[0]
    names = [page.name for page in pages]
    assert names == ["finished", "lid-closed", "lid-opened", "lid-turns", "lid-section"]


@pytest.mark.parametrize("way", ["usual", "other"])
def test_the_chart_is_the_curve(way):
    _, _, found = lid(way)
    analysis = found.turning.analysis
    page = curve_page(found.turning, name="a", alt="a", size=(160.0, 90.0))
    (line,) = [stroke for stroke in strokes(page, "outline") if stroke.name == "uncovered"]
    points = line.path.points
    assert len(points) == len(analysis.curve) == 361
    # The first point is a half turn to the right, at the right edge; heights are in proportion to the shares.
    assert points[0][0] == max(x for x, _ in points)
    zero = min(y for _, y in points)
    most = max(turn.uncovered for turn in analysis.curve)
    high = max(y for _, y in points)
    for (_, y), turn in zip(points, analysis.curve, strict=True):
        assert (y - zero) / (high - zero) == pytest.approx(turn.uncovered / most, abs=1e-9)
    rings = [
        shapely.Polygon(stroke.path.points).centroid for stroke in strokes(page, "outline") if stroke.name == "best"
    ]
    wanted = [points[round(best.angle_deg) + 180] for best in (analysis.best_left, analysis.best_right)]
    assert {(round(p.x, 6), round(p.y, 6)) for p in rings} == {(round(x, 6), round(y, 6)) for x, y in wanted}
    assert f"{100 * analysis.best_left.uncovered:.0f} % at {abs(analysis.best_left.angle_deg):.0f}°" in texts(page)


def test_margin_and_share_are_told_as_in_the_proof():
    project, _, found = lid("usual")
    pages = {page.name: page for page in lid_pictures(project, found, SIZE)}
    assert found.turning.analysis.margin_mm == pytest.approx(4.63, abs=0.01)
    assert "about 3/16 in (4.6 mm) to spare all round" in texts(pages["lid-closed"])
    tight = dataclasses.replace(found.turning, analysis=dataclasses.replace(found.turning.analysis, margin_mm=-2.0))
    short = {page.name: page for page in lid_pictures(project, dataclasses.replace(found, turning=tight), SIZE)}
    assert "about 1/16 in (2.0 mm) too small" in texts(short["lid-closed"])
    assert f"{100 * found.turning.analysis.opened.uncovered:.0f} % free" in texts(pages["lid-opened"])


def test_a_lid_that_is_too_small_shows_where():
    project, _, found = lid("usual")
    bare = [mark for mark in lid_pictures(project, found, SIZE)[1].marks if getattr(mark, "role", "") == "fails"]
    assert not bare
    small = text_of("usual").replace('across = "5 1/2"', 'across = "4 1/2"').replace('across = "5"', 'across = "4"')
    project = read_project(small)
    (found,) = lids_of(prove(measure(project)))
    assert found.turning.analysis.margin_mm < 0.0
    page = lid_pictures(project, found, SIZE)[1]
    bare = [mark for mark in page.marks if isinstance(mark, Area) and mark.role == "fails"]
    assert len(bare) == 4  # the corners of the box
    assert any(text.endswith("too small") for text in texts(page))
    check_page(page)


def test_the_section_stacks_as_the_lid_does():
    _, _, found = lid("usual")
    page = section_page(found.turning, layer_fills(found), name="a", alt="a", size=SIZE)
    names = ("wall", "triangle", "cap", "layer_1", "layer_2", "head", "layer_3", "layer_4", "back", "flap")
    spans = {
        name: (min(ys), max(ys))
        for name in names
        for ys in [[y for s in strokes(page, "edge") if s.name == name for _, y in s.path.points]]
    }
    order = ("back", "triangle", "cap", "layer_1", "layer_2", "layer_3", "layer_4")
    for low, high in itertools.pairwise(order):
        assert spans[low][1] <= spans[high][0] + 1e-9, (low, high)
    assert spans["cap"][1] == pytest.approx(spans["wall"][1])  # level with the rim
    assert spans["head"][0] == pytest.approx(spans["layer_2"][1])
    assert "Thicknesses are not to scale." in texts(page)
    eyelet = lid("other")[2]
    other = section_page(eyelet.turning, layer_fills(eyelet), name="a", alt="a", size=SIZE)
    assert {"flange of the eyelet", "back of the eyelet, set"} <= set(texts(other))
    assert not any("legs" in text for text in texts(other))


def test_the_section_of_a_snap_shows_its_socket_and_the_disc_under_the_lid():
    _, _, found = lid("snap and disc")
    page = section_page(found.turning, layer_fills(found), name="a", alt="a", size=SIZE)
    assert {"cap of the snap", "socket of the snap", "disc round the hole"} <= set(texts(page))
    ys = {
        name: [y for s in strokes(page, "edge") if s.name == name for _, y in s.path.points]
        for name in ("cap", "disc", "layer_1", "back", "triangle")
    }
    assert max(ys["cap"]) < min(ys["disc"]) and max(ys["disc"]) < min(ys["layer_1"])
    assert max(ys["back"]) <= min(ys["triangle"]) + 1e-9
    check_page(page)


@pytest.mark.parametrize("way", WAYS)
def test_in_space_the_lid_lies_over_the_triangle_at_its_corner(way):
    _, _, found = lid(way)
    sheet = sheet_of(found, SIZE)
    model = sheet.model
    heights = [layer_height(model, number) for number in range(4)]
    assert heights == sorted(heights) and len(set(heights)) == 4
    assert min(heights) > cap_face(model).outline[0][2] > triangle_faces(model)[0].outline[0][2]
    sx, sy = (1 if word in ("right", "back") else -1 for word in reversed(found.values.corner.split()))
    x, y = (sum(p[axis] for p in cap_face(model).outline) for axis in (0, 1))
    assert x * sx > 0 and y * sy > 0
    closed, turned = layer_faces(model), layer_faces(model, 180.0)
    hole = found.turning.lid.hole
    for one, other in zip(closed, turned, strict=True):
        a, b = (shapely.Polygon([p[:2] for p in face.outline]).centroid for face in (one, other))
        assert ((a.x + b.x) / 2, (a.y + b.y) / 2) == pytest.approx(hole, abs=0.05)
    back = turned_faces(turned_faces(closed, 90.0), 270.0)
    assert all(
        math.dist(p, q) < 1e-9
        for f, g in zip(closed, back, strict=True)
        for p, q in zip(f.outline, g.outline, strict=True)
    )


# --- Steps --------------------------------------------------------------------------------------------------


def test_a_hidden_brad_goes_in_before_the_layers_over_it():
    titles = [step.title for step in told("usual").steps]
    guide = next(n for n, title in enumerate(titles) if "guide" in title)
    brad = next(n for n, title in enumerate(titles) if "brad" in title)
    low = next(n for n, title in enumerate(titles) if "second layer" in title)
    top = [n for n, title in enumerate(titles) if "third layer" in title or "fourth layer" in title]
    assert low < guide < brad < min(top) and len(top) == 2
    triangle = next(n for n, title in enumerate(titles) if "into its corner" in title)
    assert triangle < guide
    assert not any("greeting" in title for title in titles)


def test_an_eyelet_and_a_greeting_have_their_own_steps():
    steps = told("other").steps
    assert any("eyelet" in step.title for step in steps) and not any("brad" in step.title for step in steps)
    assert "greeting" in steps[-1].title
    front = lid("other")[2].turning.analysis.front
    assert f"the {front} side" in steps[-1].text


@pytest.mark.parametrize("way", WAYS)
def test_the_hole_is_found_then_tried_as_a_star_then_made(way):
    titles = [step.title for step in told(way).steps]
    order = [
        "Find the hole with the hole guide",
        "Find the hole without a printer",
        "Find the hole by the lid's own shape",
        "Cut a star to try the turn",
        *(["Glue the disc round the hole"] if way == "snap and disc" else []),
        "Pierce the hole through the star",
        "Mark and pierce the triangle",
    ]
    at = [titles.index(title) for title in order]
    assert at == list(range(at[0], at[0] + len(order)))
    steps = told(way).steps[at[0] : at[-1]]
    assert all(step.caution for step in steps)  # needle, knife or scissors
    for step in steps:
        check_page(step.picture)


def test_a_snap_has_its_own_step_and_its_pieces_are_in_the_pack():
    files = packed("snap and disc")
    steps = files["steps.md"].decode()
    assert "Fasten the lid with the snap" in steps and "until it clicks" in steps
    assert "A two-part snap: cap and socket." in steps
    rows = files["cut-list.csv"].decode().splitlines()
    assert any(row.startswith("lid,disc,disc,1,1 1/4 in") for row in rows)
    assert "cut/lid-disc.svg" in files and "Cut 1 disc, 1 1/4 in" in files["measures.txt"].decode()
    bought = files["shopping.csv"].decode()
    assert 'snap,1,piece,"cap 1/2 in, socket 3/8 in, for card from 1/32 in to 1/8 in thick"' in bought
    post = files["post.md"].decode()
    assert "Find the hole by the lid's own shape" in post and "From any tip" in post


def test_pieces_in_the_first_steps_have_no_hole_yet():
    first, *_ = told("usual").steps
    assert not [stroke for stroke in strokes(first.picture, "cut") if stroke.name == "hole"]


# --- Pack ---------------------------------------------------------------------------------------------------


def test_the_pack_has_all_the_paper_of_the_lid():
    files = packed("usual")
    for name in ("hole-guide.pdf", "pictures/lid-closed.svg", "pictures/lid-turns.svg", "pictures/lid-section.svg"):
        assert name in files
    for piece in ("triangle", "cap", "layer_1", "layer_4"):
        assert f"cut/lid-{piece}.svg" in files and f"cut/lid-{piece}.dxf" in files
    steps = files["steps.md"].decode()
    assert steps.index("Glue in the back and front inner walls") < steps.index("Cut the strip for the corner triangle")
    assert "A piece of shell white, 5 1/2 in square" in steps and "A brad." in steps
    assert "No order was found" not in steps
    rows = files["cut-list.csv"].decode().splitlines()
    assert any(row.startswith("lid,layer_1,rosette,1,5 1/2 in") and "shell white" in row for row in rows)
    assert "Cut 1 rosette, 5 in (12.7 cm), sea green." in files["measures.txt"].decode()


def test_the_same_project_gives_the_same_bytes():
    again = {file.path: file.data for file in pack(read_project(text_of("usual")), text_of("usual")).files}
    assert again == packed("usual")


def test_a_lid_that_is_not_proved_says_so_everywhere():
    assert lid("short legs")[1].verdict == "not_proved"
    files = packed("short legs")
    assert files["steps.md"].decode().count("Not proved") >= 1
    assert "Not proved" in files["cut/lid-layer_1.svg"].decode()
    assert "Not proved" in files["cut/lid-layer_1.dxf"].decode()
