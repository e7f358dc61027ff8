"""The sheet on its board, read back: the piece at its scale, marks over its scores, waste beside it, names to show."""

import pytest

from foldproof.design.measure import measure
from foldproof.drawing.records import Area, Label, Stroke
from foldproof.project.read import read_project
from foldproof.service.starting import example_names, example_text
from foldproof.views.board_picture import Tools
from foldproof.views.piece import glue_areas_of
from foldproof.views.sheet_picture import BESIDE_MM, COMB_MM, EDGE_MM, SIZE_PT, sheet_picture

WIDE_MM = 180.0
NEAR_MM = 1e-6


def pictures(text):
    """Every folded piece with its picture: (measured piece, sheet, page)."""
    project = read_project(text)
    tools = Tools(board=project.board, ruler=project.ruler, other=project.other_ruler)
    sheet = project.cardstock.usable_sheet
    found = []
    for part in measure(project).parts:
        for piece in part.pieces:
            if piece.across or piece.up:
                glue = glue_areas_of(part.assembly.joins, piece.piece.id)
                page = sheet_picture(piece, sheet, tools, glue, name="sheet", alt="", width_mm=WIDE_MM)
                found.append((piece, sheet, page))
    return found


def named(page, name):
    return [mark for mark in page.marks if getattr(mark, "name", None) == name]


def box_of(path):
    xs, ys = zip(*path.points, strict=True)
    return min(xs), min(ys), max(xs), max(ys)


def box_of_area(area):
    boxes = [box_of(path) for path in area.paths]
    return tuple(pick(box[at] for box in boxes) for at, pick in enumerate((min, min, max, max)))


@pytest.fixture(params=example_names())
def drawn(request):
    return pictures(example_text(request.param))


def test_everything_lies_on_the_page(drawn):
    for _, _, page in drawn:
        assert page.width_mm == WIDE_MM
        for mark in page.marks:
            if isinstance(mark, Area | Stroke):
                paths = mark.paths if isinstance(mark, Area) else (mark.path,)
                for path in paths:
                    left, low, right, high = box_of(path)
                    assert left >= -NEAR_MM and right <= page.width_mm + NEAR_MM, mark
                    assert low >= -NEAR_MM and high <= page.height_mm + NEAR_MM, mark
            elif isinstance(mark, Label):
                assert 0 <= mark.at[0] <= page.width_mm and 0 <= mark.at[1] <= page.height_mm, mark


def test_the_piece_is_drawn_at_one_scale_and_its_panels_fill_it(drawn):
    for piece, _, page in drawn:
        (blank,) = named(page, "blank")
        left, low, right, high = box_of(blank.path)
        across, up = (right - left) / piece.width.shown.float_mm, (high - low) / piece.height.shown.float_mm
        assert across == pytest.approx(up)
        assert left == pytest.approx(BESIDE_MM + COMB_MM)
        for panel in piece.piece.panels:
            (area,) = [each for each in named(page, panel.id) if isinstance(each, Area)]
            xs, ys = zip(*panel.outline, strict=True)
            wanted = (left + across * min(xs), low + across * min(ys), left + across * max(xs), low + across * max(ys))
            assert box_of_area(area) == pytest.approx(wanted)


def test_a_figure_stands_over_every_score_and_points_at_it(drawn):
    for piece, _, page in drawn:
        (blank,) = named(page, "blank")
        left, _, right, _ = box_of(blank.path)
        scale = (right - left) / piece.width.shown.float_mm
        labels = [mark for mark in page.marks if isinstance(mark, Label) and mark.size_pt == SIZE_PT]
        for each in piece.across:
            figure = each.text.removesuffix(" in").removesuffix(" cm")
            over = [label for label in labels if label.text == figure and label.anchor == "middle"]
            assert any(label.at[0] == pytest.approx(left + scale * each.marked.float_mm) for label in over), figure
        beside = {label.text for label in labels if label.anchor == "end"}
        assert beside <= {each.text.removesuffix(" in").removesuffix(" cm") for each in piece.up}
        if piece.up:
            first = piece.up[0].text.removesuffix(" in").removesuffix(" cm")
            assert first in beside


def test_what_is_left_of_the_sheet_is_waste_and_no_more(drawn):
    for piece, sheet, page in drawn:
        (blank,) = named(page, "blank")
        left, low, right, high = box_of(blank.path)
        scale = (right - left) / piece.width.shown.float_mm
        cut_off = [box_of_area(each) for each in named(page, "waste")]
        beside = [box for box in cut_off if box[0] >= right - NEAR_MM or box[3] <= low + NEAR_MM]
        waste = sum((b[2] - b[0]) * (b[3] - b[1]) for b in beside)
        used = (right - left) * (high - low)
        whole = sheet.width.float_mm * sheet.height.float_mm * scale**2
        fits = max(piece.width.shown, piece.height.shown) <= max(sheet.width, sheet.height)
        assert waste + used == pytest.approx(whole) if fits else not beside


def test_scores_and_cuts_can_be_shown_by_name(drawn):
    for piece, _, page in drawn:
        names = {getattr(mark, "name", None) for mark in page.marks}
        assert {crease.id for crease in piece.piece.creases} <= names
        assert {panel.id for panel in piece.piece.panels} <= names


def test_a_piece_too_large_goes_beyond_its_sheet_and_is_still_on_the_page():
    text = example_text("storm-tray").replace('sheet = "12x12"', 'sheet = "6x6"')
    ((piece, sheet, page), *_) = pictures(text)
    assert piece.width.shown > sheet.width
    (blank,) = named(page, "blank")
    assert box_of(blank.path)[2] == pytest.approx(WIDE_MM - EDGE_MM)


def test_figures_that_would_touch_stand_in_rows():
    text = example_text("tidepool")
    for piece, _, page in pictures(text):
        labels = [m for m in page.marks if isinstance(m, Label) and m.size_pt == SIZE_PT and m.anchor == "middle"]
        over = [label for label in labels if label.at[1] > page.height_mm - 40]
        for one in over:
            for other in over:
                if one is not other and one.at[1] == other.at[1]:
                    assert abs(one.at[0] - other.at[0]) > 4.0, (one.text, other.text, piece.piece.id)
