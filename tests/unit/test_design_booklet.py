"""The booklet of real projects: its order, its words, and that each number in it is one that was measured."""

import dataclasses
import io
import re
from fractions import Fraction
from importlib.resources import files

import pypdf
import pytest

from foldproof.design.alternative_parts import alternatives_of
from foldproof.design.alternatives_told import size_of
from foldproof.design.booklet import booklet_look, booklet_of, card_look
from foldproof.design.lid_parts import lids_of
from foldproof.design.measure import measure
from foldproof.design.mend import with_mends
from foldproof.design.papers import papers_of
from foldproof.design.prove import prove
from foldproof.design.steps import told_steps
from foldproof.design.table_card import table_card_of
from foldproof.design.telling import tell_proof
from foldproof.drawing.records import Code, Heading, PageBreak, Paragraph, Picture, Step, Table
from foldproof.exports.booklet_pdf import LIVE_MM, booklet_pdf
from foldproof.exports.table_card_pdf import table_card_pdf
from foldproof.lengths import CM_HALF_MILLIMETRES
from foldproof.progress import unwatched
from foldproof.project.read import read_project
from foldproof.views.alternatives import stepped_out
from foldproof.views.lid_by_hand import by_hand

MM_PER = {"in": Fraction(254, 10), "cm": Fraction(10), "mm": Fraction(1)}
NAMES = ("tidepool", "pebble-metric", "shell-tray", "gale-lid", "storm-tray")
NUMBER = r"(?:\d+ \d+/\d+|\d+/\d+|\d[\d,]*\d(?:\.\d+)?|\d+\.\d+|\d)"
# One size, or some that share their unit: '1 1/2, 3 3/4, 7, 9 1/4 in', '5.1 x 2.5 cm', 'from 0.25 mm to 0.29 mm'.
SIZES = re.compile(rf"({NUMBER}(?:(?:, | x | to ){NUMBER})*) (in|cm|mm)\b")
# Numbers that are no lengths of the piece; each says what it counts.
OTHERS = (
    r"Revision [0-9a-f]{8}",
    r"Foldproof \d+(\.\d+)+",
    r"12x12|sheet A4",
    rf"{NUMBER} (?:%|gsm|oz|g|sq in|cm²|mm²|ways|orders|score lines|half-made stages)(?![\w²])",
    rf"{NUMBER}°",
    r"layer \d",  # a layer's number, in its name
    r"(?:step|Step) \d",  # the two score lists
)


class Made:
    """One example, measured, proved, told and set."""

    def __init__(self, name, text=None):
        self.text = text or files("foldproof").joinpath("examples", f"{name}.toml").read_text(encoding="utf-8")
        self.project = read_project(self.text)
        self.measured = measure(self.project)
        self.proof = with_mends(self.project, prove(self.measured), unwatched)
        self.told = tell_proof(self.project, self.proof)
        self.steps = told_steps(self.project, self.proof, unwatched)
        self.document = booklet_of(self.measured, self.proof, self.told, self.steps)
        self.card = table_card_of(self.measured, self.proof)

    @property
    def not_proved(self):
        return self.proof.verdict != "proved"

    def pdf(self):
        return booklet_pdf(self.document, look=booklet_look(self.project, not_proved=self.not_proved))

    def card_pdf(self):
        return table_card_pdf(self.card, look=card_look(self.project, not_proved=self.not_proved))


@pytest.fixture(scope="module")
def made():
    """Every example, made once."""
    found = {}

    def of(name):
        if name not in found:
            found[name] = Made(name)
        return found[name]

    return of


def text_of(data):
    return [re.sub(r"\s+", " ", page.extract_text()) for page in pypdf.PdfReader(io.BytesIO(data)).pages]


def headings(document, level=1):
    return [block.text for block in document.blocks if isinstance(block, Heading) and block.level == level]


# --- What stands where --------------------------------------------------------------------------------------


def test_the_sections_come_in_the_order_of_use(made):
    assert headings(made("tidepool").document) == [
        "Before you start",
        "What you need",
        "Cut list",
        "Score plan, tray",
        "Tray",
        "Lid",
        "Where the hole goes",
        "What you have",
        "Sizes",
        "What was proved",
        "If something is off",
    ]


def test_a_box_without_a_turning_lid_has_no_hole(made):
    found = headings(made("storm-tray").document)
    assert "Where the hole goes" not in found and "The lid in figures" not in headings(made("storm-tray").document, 2)
    assert "What was checked" in found and "What was proved" not in found


def test_the_cover_shows_the_finished_thing_and_the_verdict(made):
    blocks = made("tidepool").document.blocks
    cover = blocks[: blocks.index(PageBreak())]
    (picture,) = [block for block in cover if isinstance(block, Picture)]
    assert picture.page.name == "finished"
    told = [block.text for block in cover if isinstance(block, Paragraph)]
    revision = made("tidepool").proof.input_hash[:8]
    assert told == [
        "Made by Harbour Library reading club",
        "Tray: 3 1/4 in (8.3 cm) by 3 1/4 in (8.3 cm), 2 1/4 in (5.7 cm) tall. "
        "With a lid, 5 1/2 in (14.0 cm) across, that turns on a brad.",
        "Proved. It folds, it glues, it closes.",
        f"Revision {revision}.",
    ]


def test_every_step_is_there_with_its_drawing(made):
    found = made("tidepool")
    steps = [block for block in found.document.blocks if isinstance(block, Step)]
    assert [step.number for step in steps] == list(range(1, len(steps) + 1))
    assert [step.title for step in steps] == [step.title for piece in found.steps.pieces for step in piece.steps]
    assert all(step.picture is not None and step.picture.alt for step in steps)
    assert all(step.check.startswith("Check: ") and step.if_not.startswith("If not: ") for step in steps)


@pytest.mark.parametrize("name", NAMES)
def test_every_drawing_fits_a_page_at_true_size(made, name):
    pages = [block.page for block in made(name).document.blocks if isinstance(block, Picture)]
    pages += [block.picture for block in made(name).document.blocks if isinstance(block, Step)]
    assert len({page.name for page in pages}) == len(pages)
    for page in pages:
        assert page.width_mm == LIVE_MM[0] and page.height_mm <= LIVE_MM[1] - 50.0, page.name


def test_the_pieces_are_drawn_to_the_scale_that_is_told(made):
    """A tray of 10 3/4 in and a layer of 5 1/2 in, at the seventh that the page names."""
    found = made("tidepool").document
    page = next(block.page for block in found.blocks if isinstance(block, Picture) and block.page.name == "pieces")
    words = next(block.text for block in found.blocks if isinstance(block, Paragraph) and "of their size" in block.text)
    parts = {"a fifth": 5, "a sixth": 6, "a seventh": 7, "an eighth": 8}[words.split("at ")[1].split(" of")[0]]
    outlines = [mark.path.points for mark in page.marks if getattr(mark, "role", "") == "outline"]
    widths = [max(x for x, _ in points) - min(x for x, _ in points) for points in outlines]
    assert widths[0] == pytest.approx(10.75 * 25.4 / parts)
    assert max(widths[3:]) == pytest.approx(5.5 * 25.4 / parts, rel=0.03)


def test_cut_list_and_score_plan_are_the_measures(made):
    tables = [block for block in made("tidepool").document.blocks if isinstance(block, Table)]
    cuts, across, up = tables[:3]
    assert cuts.rows[0] == ("Tray", "10 3/4 in square (27.3 cm)", "sea green")
    assert cuts.rows[1] == ("Lid: corner triangle", "2 x 1 in (5.1 x 2.5 cm)", "the waste of tray")
    assert [row[1:3] for row in across.rows] == [
        ("1 1/2 in", "3.8 cm"),
        ("3 3/4 in", "9.5 cm"),
        ("7 in", "17.8 cm"),
        ("9 1/4 in", "23.5 cm"),
    ]
    assert across.rows == up.rows


def test_the_maker_s_unit_comes_first(made):
    tables = [block for block in made("pebble-metric").document.blocks if isinstance(block, Table)]
    assert tables[0].rows[0][1] == "21.0 cm square (8 1/4 in)"
    assert tables[1].rows[0][1:3] == ("3.0 cm", "1 3/16 in")


def test_the_lid_s_hole_is_told_both_ways(made):
    found = made("tidepool").document
    assert [text for text in headings(found, 2) if "guide" in text or "printer" in text] == [
        "With the printed guide",
        "Without a printer",
    ]


def test_a_link_stands_on_the_back_and_only_there():
    text = files("foldproof").joinpath("examples", "shell-tray.toml").read_text(encoding="utf-8")
    linked = Made("shell-tray", text.replace("maker =", 'link = "https://example.org/box"\nmaker ='))
    codes = [number for number, block in enumerate(linked.document.blocks) if isinstance(block, Code)]
    breaks = [number for number, block in enumerate(linked.document.blocks) if isinstance(block, PageBreak)]
    assert len(codes) == 1 and codes[0] > breaks[-1]
    assert "https://example.org/box" in text_of(linked.pdf())[-1]


def test_without_a_maker_nobody_is_named(made):
    found = made("shell-tray")
    project = dataclasses.replace(found.project, maker=None)
    measured = measure(project)
    document = booklet_of(measured, found.proof, found.told, found.steps)
    assert not any(isinstance(block, Paragraph) and block.text.startswith("Made by") for block in document.blocks)


@pytest.mark.parametrize("name", NAMES)
def test_every_page_of_what_is_not_proved_says_so(made, name):
    notice = "Not proved: try it in copy paper first, and read the proof."
    for page in (*text_of(made(name).pdf()), *text_of(made(name).card_pdf())):
        assert (notice in page) == made(name).not_proved


def test_the_proof_is_told_with_what_fails(made):
    texts = [block.text for block in made("gale-lid").document.blocks if isinstance(block, Paragraph)]
    fails = [finding for finding in made("gale-lid").told.findings if finding.state == "fails"]
    assert fails and all(any(finding.title in text for text in texts) for finding in fails)


def test_the_same_project_gives_the_same_bytes(made):
    again = Made("shell-tray")
    assert again.pdf() == made("shell-tray").pdf()
    assert again.card_pdf() == made("shell-tray").card_pdf()


# --- Numbers ------------------------------------------------------------------------------------------------


def measured_mm(made):
    """Every length that the booklet may name, in mm: as marked, as found by the proof, or taken for granted."""
    found = []
    for part in made.measured.parts:
        for piece in part.pieces:
            found += [piece.width.shown.float_mm, piece.height.shown.float_mm]
            found += [mark.marked.float_mm for mark in (*piece.across, *piece.up)]
            found += [size.shown.float_mm for _, size in piece.measures]
            found += [0.5 * piece.width.shown.float_mm]
            for readings in (piece.readings_across, piece.readings_up):
                if readings is not None:
                    found += [length.float_mm for length in (*readings.one_edge, *readings.each_edge)]
                    found += [length.float_mm for length in readings.from_far_edge]
        for form in part.assembly.forms:
            found += [*form.outer_mm, *form.inner_mm, form.rim_mm]
    others = alternatives_of(made.proof)
    for other in others:
        found += [size.shown.float_mm for piece in other.own for size in (piece.width, piece.height)]
        found += [size.shown.float_mm for piece in other.own for _, size in piece.measures]
        if other.lid.values.shape == "regular polygon":
            found.append(stepped_out(size_of(other), other.lid.values.lobes, CM_HALF_MILLIMETRES).chord.float_mm)
    for lid in (*lids_of(made.proof), *(other.lid for other in others)):
        hand = by_hand(lid.turning, made.project.ruler)
        found += [hand.along.shown.float_mm, hand.along.exact.float_mm, hand.spare_mm]
        found += [side.shown.float_mm for side in hand.sides]
        found += [lid.values.hole.float_mm, made.project.ruler.step_length.float_mm]
        analysis = lid.turning.analysis
        found += [getattr(analysis, field.name) for field in dataclasses.fields(analysis) if field.name.endswith("_mm")]
    for paper in papers_of(made.measured, lids_of(made.proof)).papers:
        found += [paper.width.shown.float_mm, paper.height.shown.float_mm]
    if made.project.papers is not None:
        found += [made.project.papers.border.float_mm]
    for part in made.proof.parts:
        for finding in part.findings:
            found += [finding.measured, finding.limit] if finding.unit == "mm" else []
            found += [value for name, value in finding.values if name.endswith("_mm")]
    found += [value for each in made.proof.assumptions for name, value in each.values if name.endswith("_mm")]
    card, sheet = made.project.cardstock, made.project.cardstock.usable_sheet
    found += [sheet.width.float_mm, sheet.height.float_mm, card.thickness.mm, card.thickness.low_mm]
    found += [card.thickness.high_mm]
    return [abs(value) for value in found if isinstance(value, float | int)]


def value_of(number):
    whole, _, part = number.replace(",", "").rpartition(" ")
    return Fraction(part) + Fraction(whole or 0)


def rounding_mm(number, unit):
    """How far a size may be off by being rounded to its last place: half a sixteenth, or half of that place."""
    if unit == "in":
        return float(MM_PER["in"]) / 32
    places = len(number.partition(".")[2])
    return 0.5 * float(MM_PER[unit]) / 10**places


def is_known(known, number, unit):
    size = float(value_of(number) * MM_PER[unit])
    nearest = min(known, key=lambda mm: abs(mm - size))
    return abs(nearest - size) <= rounding_mm(number, unit) + 1e-6


@pytest.mark.parametrize("name", NAMES)
def test_every_size_was_measured(made, name):
    known = measured_mm(made(name))
    told = [
        (number, unit)
        for page in (*text_of(made(name).pdf()), *text_of(made(name).card_pdf()))
        for numbers, unit in SIZES.findall(page)
        for number in re.findall(NUMBER, numbers)
    ]
    assert len(told) > 60
    assert sorted({size for size in told if not is_known(known, *size)}) == []


def test_a_size_that_was_not_measured_is_found_out(made):
    known = measured_mm(made("tidepool"))
    assert not any(is_known(known, *size) for size in (("10 7/8", "in"), ("4 3/4", "in"), ("27.5", "cm"), ("55", "mm")))


@pytest.mark.parametrize("name", NAMES)
def test_every_other_number_says_what_it_counts(made, name):
    """What is left when sizes and known counts are taken away are the numbers of pages, steps, lines and items."""
    pages = text_of(made(name).pdf())
    most = max(len(pages), sum(isinstance(block, Step) for block in made(name).document.blocks))
    for page in pages:
        rest = SIZES.sub(" ", page)
        for other in OTHERS:
            rest = re.sub(other, " ", rest)
        for number in re.findall(NUMBER, rest):
            assert re.fullmatch(r"\d+", number) and 1 <= int(number) <= most, (number, page)


@pytest.mark.parametrize("name", NAMES)
def test_the_sizes_of_the_score_plan_are_the_marked_ones_exactly(made, name):
    """Sizes in the maker's own unit stand on her ruler: no rounding is left to allow for."""
    found = made(name)
    for part in found.measured.parts:
        for piece in part.pieces:
            for marks in (piece.across, piece.up):
                for mark in marks:
                    assert any(
                        row[1] == mark.text and value_of(mark.text.rsplit(" ", 1)[0].removeprefix("about "))
                        * MM_PER[mark.text.rsplit(" ", 1)[1]]
                        == mark.marked.mm
                        for block in found.document.blocks
                        if isinstance(block, Table) and len(block.columns) == 4
                        for row in block.rows
                    )


# --- The table card -----------------------------------------------------------------------------------------


def test_the_card_has_what_a_table_needs(made):
    blocks = made("tidepool").card.blocks
    (measures,) = [block for block in blocks if isinstance(block, Table)]
    assert [name for name, _ in measures.rows] == ["Tray", "Score at", "Tabs", "Strip", "Lid layers", "Hole"]
    assert dict(measures.rows)["Score at"] == (
        "1 1/2 in (3.8 cm), 3 3/4 in (9.5 cm), 7 in (17.8 cm), 9 1/4 in (23.5 cm), quarter turn, same four again"
    )
    assert sum(isinstance(block, Picture) for block in blocks) == 1 + 4
    cautions = [block.text for block in blocks if isinstance(block, Paragraph) and block.kind == "caution"]
    assert cautions == [
        "Blade: metal rule, hand behind.",
        "Awl: cork beneath, hand aside.",
        "Small parts: keep the tin shut.",
    ]


def test_the_card_tells_both_lists_where_they_differ(made):
    (measures,) = [block for block in made("shell-tray").card.blocks if isinstance(block, Table)]
    told = [text for name, text in measures.rows if name == "Score at"]
    assert told[0] == "1 1/4 in (3.2 cm), 5 3/4 in (14.6 cm), quarter turn, then 1 1/4 in (3.2 cm), 4 1/2 in (11.4 cm)"


@pytest.mark.parametrize("name", NAMES)
def test_the_card_ends_with_the_finished_thing(made, name):
    pictures = [block.page for block in made(name).card.blocks if isinstance(block, Picture)]
    last = {"storm-tray": "after-4", "shell-tray": "after-all"}.get(name, "after-lid")
    assert pictures[-1].name == last and len(pictures) == 5
    assert len(pypdf.PdfReader(io.BytesIO(made(name).card_pdf())).pages) == 1
