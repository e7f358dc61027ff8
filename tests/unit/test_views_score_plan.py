"""Score plans read back: the sizes, their places, the words, and the room they take."""

import re
from itertools import combinations, pairwise

import pytest

from foldproof.design.measure import measure
from foldproof.drawing.records import Area, Label, Stroke
from foldproof.lengths import ZERO, parse_length
from foldproof.project.read import read_project
from foldproof.stock.sheets import read_sheet
from foldproof.views.labels import TEXT_PT, label_box
from foldproof.views.piece import glue_areas_of
from foldproof.views.score_plan import score_plan_pages

HEAD = 'format = 1\nname = "Tidepool keepsake box"\nunit = "in"\n'
CARD = '[cardstock]\nsheet = "12x12"\nweight = "216 gsm"\n'
DOUBLE = """[parts.box]
construction = "double-wall tray"
base_length = "{0}"
base_width = "{1}"
wall_height = "{2}"
inner_wall = "{3}"
"""
TIDEPOOL = HEAD + CARD + DOUBLE.format("3 1/4", "3 1/4", "2 1/4", "1 1/2")
OBLONG = HEAD + CARD + DOUBLE.format("3 5/16", "4 1/8", "2 1/4", "1 1/2")
WHOLE = (
    HEAD
    + CARD
    + 'measured = "11 7/8 x 11 7/8"\n'
    + DOUBLE.format("3 3/4", "3 3/4", "2 5/8", "1 1/2")
    + 'piece = "whole sheet"\n'
)
METRIC = TIDEPOOL.replace('"in"', '"cm"').replace("12x12", "A4").replace('"3 1/4"', '"8"')
METRIC = METRIC.replace('"2 1/4"', '"3.5"').replace('"1 1/2"', '"3"')
SHELL = (
    HEAD
    + CARD
    + """[parts.shell]
construction = "plain tray"
base_length = "4"
base_width = "5"
wall_height = "1 1/2"
lid = "from a larger piece"
"""
)
HALVES = '[board]\nstops = "inch halves"\n'
FEW = '[board]\nstops = ["1/4", "1", "2", "4", "7 1/4", "9 1/4"]\n'
NONE = '[board]\nstops = "none"\n'


def with_board(text, line):
    return text.replace(HEAD, HEAD + line)


EXAMPLES = {
    "tidepool": TIDEPOOL,
    "oblong": OBLONG,
    "whole sheet": WHOLE,
    "metric": METRIC,
    "shell": SHELL,
    "halves": with_board(TIDEPOOL, HALVES),
    "few grooves": with_board(TIDEPOOL, FEW),
    "no board": with_board(OBLONG, NONE),
    "rounded": with_board(OBLONG, NONE).replace("3 5/16", "3.33"),
    "tiny": HEAD + CARD + DOUBLE.format("1", "1", "3/4", "1/2"),
    "slim": SHELL.replace('"4"', '"9"').replace('"5"', '"1"').replace('"1 1/2"', '"3/4"'),
}


def planned(text, **options):
    """Every piece of a project with its score plan."""
    project = read_project(text)
    found = []
    for part in measure(project).parts:
        for piece in part.pieces:
            glue = glue_areas_of(part.assembly.joins, piece.piece.id)
            pages = score_plan_pages(
                piece,
                project.board,
                project.ruler,
                project.other_ruler,
                project.name,
                glue_areas=glue,
                **options,
            )
            found.append((piece, project, pages))
    return found


def labels(page, *roles):
    return [m for m in page.marks if isinstance(m, Label) and (not roles or m.role in roles)]


def read_out(page):
    """All text of a page; sentences broken over lines are joined."""
    return " ".join(label.text for label in labels(page))


def score_sizes(page):
    """The sizes over the boards: 14 pt, centred, left to right, one list for each board."""
    # Sizes over a size line are lower on the page than those over the boards.
    sizes = [m for m in labels(page, "size") if m.size_pt == 14.0 and m.anchor == "middle"]
    found = [[], []]
    for label in sorted(sizes, key=lambda m: m.at[0]):
        if label.at[1] > page.height_mm * 0.55:
            found[0 if label.at[0] < page.width_mm / 2 else 1].append(label.text)
    return found


@pytest.mark.parametrize("name", EXAMPLES)
def test_sizes_read_back_are_the_marks(name):
    for piece, project, pages in planned(EXAMPLES[name]):
        across, up = score_sizes(pages[0])
        unit = project.ruler.unit
        assert [parse_length(text, unit) for text in across] == [m.marked for m in piece.across]
        assert [parse_length(text, unit) for text in up] == [m.marked for m in piece.up]
        width = next(m for m in labels(pages[0], "size") if m.size_pt > 20).text
        assert width.startswith(piece.width.text.split(" in")[0].split(" cm")[0])


@pytest.mark.parametrize("name", EXAMPLES)
def test_nothing_lies_outside_the_page(name):
    for _, _, pages in planned(EXAMPLES[name], not_proved=True):
        for page in pages:
            for mark in page.marks:
                if isinstance(mark, Label):
                    left, low, right, high = label_box(mark)
                    points = [(left, low), (right, high)]
                else:
                    paths = mark.paths if isinstance(mark, Area) else (mark.path,)
                    points = [point for path in paths for point in path.points]
                for x, y in points:
                    assert 6.0 <= x <= page.width_mm - 6.0, (page.name, mark)
                    assert 6.0 <= y <= page.height_mm - 6.0, (page.name, mark)


@pytest.mark.parametrize("name", EXAMPLES)
def test_no_two_labels_overlap_and_none_is_small(name):
    for _, _, pages in planned(EXAMPLES[name], not_proved=True):
        for page in pages:
            boxes = [(label_box(m), m.text) for m in labels(page)]
            # Half a millimetre of leading may be shared: no letter reaches both ends of its box.
            for (a, one), (b, other) in combinations(boxes, 2):
                apart = a[2] <= b[0] or b[2] <= a[0] or a[3] <= b[1] + 0.5 or b[3] <= a[1] + 0.5
                assert apart, (page.name, one, other)
            assert all(m.size_pt >= TEXT_PT for m in labels(page))


def test_the_usual_box_takes_one_leaf_of_the_paper_of_its_unit():
    for text, paper in ((TIDEPOOL, "Letter"), (METRIC, "A4"), (WHOLE, "Letter")):
        ((_, _, pages),) = planned(text)
        assert len(pages) == 1
        size = read_sheet(paper, "in")
        assert (pages[0].width_mm, pages[0].height_mm) == (size.width.float_mm, size.height.float_mm)


def test_a_leaf_can_be_asked_for_on_other_paper():
    ((_, _, pages),) = planned(TIDEPOOL, paper=read_sheet("A4", "in"))
    assert (pages[0].width_mm, pages[0].height_mm) == (210.0, 297.0)


def test_metric_example_says_its_sizes():
    ((_, _, pages),) = planned(METRIC)
    assert score_sizes(pages[0]) == [["3.0 cm", "6.5 cm", "14.5 cm", "18.0 cm"]] * 2
    assert "21.0 cm square" in read_out(pages[0])


def test_triangles_stand_at_the_grooves():
    ((piece, _, pages),) = planned(TIDEPOOL)
    solid = [m for m in pages[0].marks if isinstance(m, Area) and m.role == "ink"]
    tips = sorted(m.paths[0].points[0] for m in solid)
    # Two boards and the legend.
    assert len(tips) == 2 * len(piece.across) + 1
    upper = sorted(x for x, y in tips if y > pages[0].height_mm / 2)[: len(piece.across)]
    gaps = [(b - a) / (upper[1] - upper[0]) for a, b in pairwise(upper)]
    meant = [m.marked.float_mm for m in piece.across]
    assert gaps == pytest.approx([(b - a) / (meant[1] - meant[0]) for a, b in pairwise(meant)])


def test_scores_lie_on_the_piece_as_marked():
    ((piece, _, pages),) = planned(TIDEPOOL)
    tall = [
        m.path.points
        for m in pages[0].marks
        if isinstance(m, Stroke) and m.role == "valley" and m.path.points[0][0] == m.path.points[1][0]
    ]
    longest = max(abs(a[1] - b[1]) for a, b in tall)
    full = sorted(a[0] for a, b in tall if abs(abs(a[1] - b[1]) - longest) < 1e-6)
    assert len(full) == len(piece.across) + len(piece.up)
    scale = longest / piece.marked.height.float_mm
    across = [(x - full[0]) / scale for x in full[: len(piece.across)]]
    first = piece.across[0].marked.float_mm
    assert across == pytest.approx([m.marked.float_mm - first for m in piece.across])


def test_off_the_grooves_a_ruler_or_a_moved_edge_helps():
    ((_, _, pages),) = planned(EXAMPLES["halves"])
    text = read_out(pages[0])
    assert "No groove fits 3 3/4 in, 9 1/4 in." in text and "not on a groove" in read_out(pages[-1])
    ((piece, _, pages),) = planned(EXAMPLES["few grooves"])
    text = read_out(pages[0])
    offset = [m for m in piece.across if m.how == "offset"]
    assert offset
    for mark in offset:
        found = re.search(rf"For {re.escape(mark.text)}: edge at (.+? in), groove (.+? in)\.", text)
        assert found, mark.text
        edge, groove = (parse_length(size, "in") for size in found.groups())
        assert (edge, groove) == (mark.edge_at, mark.stop) and groove - edge == mark.marked


def test_without_a_board_the_words_speak_of_a_ruler():
    ((_, _, pages),) = planned(EXAMPLES["no board"])
    text = " ".join(read_out(page) for page in pages)
    assert "Tick the sizes from its left edge" in text
    assert "groove" not in text and "against the stop" not in text


def test_every_rounded_position_says_so_and_no_exact_one():
    ((piece, _, pages),) = planned(EXAMPLES["rounded"])
    off = [m for m in (*piece.across, *piece.up) if m.error != ZERO]
    assert off
    said = [m for m in labels(pages[0], "note") if m.text.endswith((" over", " under"))]
    assert len(said) == len(off)
    assert "rounded to your ruler" in read_out(pages[0])
    ((piece, _, pages),) = planned(TIDEPOOL)
    assert all(m.error == ZERO for m in piece.across)
    assert "rounded to your ruler" not in read_out(pages[0])


def test_a_short_sheet_tells_which_reading_is_safe_and_by_how_much():
    ((piece, _, pages),) = planned(WHOLE, whole_sheet=True)
    text = read_out(pages[0])
    assert "Take one whole sheet 11 7/8 in square" in text
    assert "Your piece is 1/8 in short of the list." in text
    assert "All from one edge: the last strip becomes 1 3/8 in, not 1 1/2 in." in text
    assert "From each edge: the middle strip becomes 3 5/8 in, not 3 3/4 in." in text
    assert "Safe: all from one edge." in text
    assert piece.readings_across.safer == "one edge"


def test_a_long_sheet_can_be_trimmed():
    ((_, _, pages),) = planned(WHOLE.replace("11 7/8 x 11 7/8", "12 1/8 x 12"))
    text = " ".join(read_out(page) for page in pages)
    assert "Your piece is 1/8 in longer than the list." in text
    assert "Or cut 1/8 in off first" in text
    # The other side is true: its list is told apart.
    assert "both give the same lines" in text


def test_both_readings_are_written_out():
    ((_, _, pages),) = planned(TIDEPOOL)
    text = read_out(pages[0])
    assert "All from one edge: 1 1/2, 3 3/4, 7, 9 1/4 in." in text
    assert "From each edge in turn: 1 1/2, 3 3/4 in, then turn the piece end for end: 1 1/2, 3 3/4 in." in text


def test_scissors_get_every_measure_that_is_not_nothing():
    ((piece, _, pages),) = planned(TIDEPOOL)
    text = read_out(pages[0])
    for name, size in piece.measures:
        if size.shown != ZERO:
            assert size.text in text, name
    assert "Set each tab fold" not in text
    ((_, _, pages),) = planned(TIDEPOOL + 'allowance = "1/16"\n')
    assert "Set each tab fold 1/16 in (2 mm) in" in read_out(pages[0])


def test_not_proved_stands_on_every_page_and_only_when_asked():
    for text in (TIDEPOOL, EXAMPLES["few grooves"]):
        for _, _, pages in planned(text, not_proved=True):
            for page in pages:
                (notice,) = labels(page, "caution")
                assert notice.text.startswith("Not proved")
                assert notice.at[1] > page.height_mm - 30.0
                assert page.alt.startswith("Not proved")
        for _, _, pages in planned(text):
            assert not any(labels(page, "caution") for page in pages)


def test_pages_are_numbered_and_named():
    for name in ("tidepool", "few grooves", "shell"):
        for _, project, pages in planned(EXAMPLES[name]):
            assert len({page.name for page in pages}) == len(pages)
            for number, page in enumerate(pages, start=1):
                assert f"page {number} of {len(pages)}" in read_out(page)
                assert project.name in read_out(page)


def test_the_legend_names_what_the_leaf_shows_and_nothing_else():
    (_, _, tray), _ = planned(SHELL)
    text = read_out(tray[-1])
    for word in ("cut", "score, fold up", "glue here", "groove to use", "pencil cross"):
        assert word in text
    assert "fold back" not in text and "not on a groove" not in text


def test_same_piece_same_pages():
    assert planned(OBLONG) == planned(OBLONG)
