"""Codes and values in, sentences out."""

import re
from dataclasses import replace
from fractions import Fraction

import pytest
from hypothesis import given
from hypothesis import strategies as st

from foldproof.checks.proof import Assumption
from foldproof.errors import Problem
from foldproof.findings import Change, Finding, Severity
from foldproof.lengths import (
    CM_HALF_MILLIMETRES,
    CM_MILLIMETRES,
    INCH_EIGHTHS,
    INCH_SIXTEENTHS,
    INCH_THIRTYSECONDS,
    Length,
    length,
    parse_length,
    round_to,
)
from foldproof.teach.messages import (
    ENGLISH,
    assumption_words,
    bench_words,
    cautions,
    change_words,
    changes_words,
    counted,
    finding_words,
    join_words,
    parts_together,
    piece_words,
    problem_words,
    stage_words,
    step_words,
    subject_words,
    verdict_words,
    words_for_part,
)
from foldproof.teach.steps import Fold, FoldingStep
from foldproof.words.lengths import (
    Speech,
    area_pair,
    area_words,
    exact_length,
    length_pair,
    length_words,
    mass_words,
    number_pair,
    short_length,
)
from foldproof.words.records import Counted

INCHES = Speech(ruler=INCH_SIXTEENTHS, other_ruler=CM_MILLIMETRES)
METRIC = Speech(ruler=CM_MILLIMETRES, other_ruler=INCH_SIXTEENTHS)
RULERS = (INCH_EIGHTHS, INCH_SIXTEENTHS, INCH_THIRTYSECONDS, CM_MILLIMETRES, CM_HALF_MILLIMETRES)


def a_finding(
    code, severity=Severity.HOLDS, measured=0.0, limit=0.0, unit="mm", sense="at_most", subjects=(), **values
):
    return Finding(
        code=code,
        severity=severity,
        measured=measured,
        limit=limit,
        unit=unit,
        sense=sense,
        subjects=subjects,
        values=tuple(values.items()),
    )


def sheet_finding(width_mm, height_mm, severity=Severity.FAILS):
    sheet = 304.8
    return a_finding(
        "fits_sheet",
        severity,
        min(sheet - width_mm, sheet - height_mm),
        0.0,
        "mm",
        "at_least",
        ("tray",),
        sheet="12x12",
        width_mm=width_mm,
        height_mm=height_mm,
        sheet_width_mm=sheet,
        sheet_height_mm=sheet,
    )


def orders_finding(severity, number, **values):
    subjects = ("tray", *values.pop("panels", ()))
    values = {"states": 688.0, "complete": "yes", **values}
    return a_finding("fold_order", severity, number, 1.0, "count", "at_least", subjects, **values)


# --- Parts --------------------------------------------------------------------------------------------------


@pytest.mark.parametrize(
    ("panel", "words"),
    [
        ("base", "the base"),
        ("wall_back", "the back wall"),
        ("tab_back_right", "the back right tab"),
        ("inner_left", "the left inner wall"),
        ("triangle", "the corner triangle"),
        ("flap_left", "the left flap"),
        ("cap", "the top triangle"),
        ("spout_2", "the part spout 2"),
        ("wall_roof", "the part wall roof"),
    ],
)
def test_parts_have_names(panel, words):
    assert words_for_part(panel) == words


def test_pieces_folds_and_pairs_have_names():
    assert piece_words("lid") == "the lid"
    assert [piece_words(f"layer_{n}") for n in (1, 2, 41)] == [
        "the lowest layer",
        "the second layer",
        "the part layer 41",
    ]
    assert subject_words("wall_back+flap_left") == "the back wall and the left flap"
    assert join_words("wall_right+tab_back_right") == "the right wall and the back right tab"
    assert subject_words("fold_inner_left") == "the fold of the left inner wall"
    assert subject_words("tray") == "the tray"


def test_like_parts_are_named_together():
    tabs = ("tab_back_right", "tab_back_left", "tab_front_right", "tab_front_left")
    assert parts_together(tabs) == "all four tabs"
    assert parts_together(tabs[:2]) == "the back right and back left tabs"
    assert parts_together(("wall_back",)) == "the back wall"
    assert parts_together(("inner_right", "inner_left")) == "the right and left inner walls"
    assert parts_together(("wall_back", "tab_back_left")) == "the back wall and the back left tab"


# --- Sizes --------------------------------------------------------------------------------------------------


@pytest.mark.parametrize(
    ("mm", "speech", "both", "short"),
    [
        ("19.05", INCHES, "3/4 in (1.9 cm)", "3/4 in"),
        ("82.55", INCHES, "3 1/4 in (8.3 cm)", "3 1/4 in"),
        ("0.27", INCHES, "0.27 mm", "0.27 mm"),
        ("1.5875", INCHES, "1/16 in (1.6 mm)", "1/16 in"),
        ("5", INCHES, "about 3/16 in (5 mm)", "about 3/16 in"),
        ("0", INCHES, "0 mm", "0 mm"),
        ("355.6", INCHES, "14 in (35.6 cm)", "14 in"),
        ("140", METRIC, "14.0 cm (about 5 1/2 in)", "14.0 cm"),
        ("6", METRIC, "6 mm (about 1/4 in)", "6 mm"),
        ("1.5", METRIC, "1.5 mm", "1.5 mm"),
    ],
)
def test_sizes_are_said_in_the_makers_unit_first(mm, speech, both, short):
    assert length_words(length(mm, "mm"), speech) == both
    assert short_length(length(mm, "mm"), speech) == short


@given(
    mm=st.decimals(min_value="0.01", max_value="900", places=4),
    own=st.sampled_from(RULERS),
    other=st.sampled_from(RULERS),
)
def test_printed_lengths_read_back_to_the_same_size(mm, own, other):
    """What is printed, read as a maker types it, is the length to the nearest mark, or the millimetres it had."""
    value = Length(Fraction(mm))
    text = length_words(value, Speech(ruler=own, other_ruler=other)).replace("about ", "")
    printed = re.fullmatch(r"([^()]+?)(?: \(([^()]+)\))?", text)
    read = [parse_length(part, "mm") for part in printed.groups() if part]
    rulers = (own, other, CM_MILLIMETRES)  # in brackets after inches there are always millimetres
    on_marks = [round_to(value, ruler).shown for ruler in rulers]
    half_a_mark_mm = max(ruler.step_length.float_mm for ruler in rulers) / 2
    in_mm = [length(f"{float(mm):.{places}f}", "mm") for places in (1, 2)]
    for found in read:
        near = min(abs((found - wanted).float_mm) for wanted in (*on_marks, *in_mm))
        assert near <= 0.01
        assert abs((found - value).float_mm) <= half_a_mark_mm + 0.01


def test_a_measure_and_a_limit_that_look_alike_are_told_apart():
    assert length_pair(exact_length(1.62), exact_length(1.5875), INCHES) == ("1.62 mm", "1.59 mm")
    assert length_pair(exact_length(0.8004), exact_length(0.8), INCHES) == ("0.8004 mm", "0.8 mm")
    assert length_pair(exact_length(1.5875), exact_length(1.5875), INCHES) == ("1/16 in (1.6 mm)",) * 2
    assert area_pair(149.9, 150.0, INCHES) == ("149.9 mm²", "150 mm²")


def test_a_limit_between_two_marks_is_never_about():
    assert length_pair(exact_length(4.5), exact_length(4.0), INCHES) == ("about 3/16 in (4.5 mm)", "4 mm")


@pytest.mark.parametrize(
    ("mm2", "speech", "words"),
    [
        (1290.32, INCHES, "2 sq in (12.9 cm²)"),
        (150.0, INCHES, "0.23 sq in (1.5 cm²)"),
        (12.0, INCHES, "12 mm²"),
        (1290.32, METRIC, "12.9 cm²"),
        (0.0, METRIC, "0 mm²"),
    ],
)
def test_areas(mm2, speech, words):
    assert area_words(mm2, speech) == words


def test_a_number_and_its_limit_are_told_apart():
    assert number_pair(81.3, 75.0, 0) == ("81", "75")
    assert number_pair(74.6, 75.0, 0) == ("74.6", "75")
    assert number_pair(74.996, 75.0, 0) == ("74.996", "75")
    assert number_pair(75.0, 75.0, 0) == ("75", "75")


def test_masses():
    """One ounce is 28.349523125 g by definition."""
    assert [mass_words(g, INCHES) for g in (28.349523125, 12.0)] == ["1 oz", "0.42 oz"]
    assert [mass_words(g, METRIC) for g in (28.349523125, 9.54)] == ["28 g", "9.5 g"]


def test_counts():
    orders = Counted(none="none", one="one order", many="{count} orders")
    assert [counted(n, orders) for n in (0, 1, 3311616)] == ["none", "one order", "3,311,616 orders"]


# --- Findings -----------------------------------------------------------------------------------------------


def test_a_piece_that_is_too_long():
    words = finding_words(sheet_finding(387.35, 100.0), INCHES)
    assert words.title == "The piece for the tray is 3 1/4 in too long for the sheet"
    assert (words.measured, words.limit) == ("3 1/4 in (8.3 cm) too much", "sheet 12 in by 12 in")
    assert words.state == "fails"
    both = finding_words(sheet_finding(387.35, 387.35), INCHES)
    assert both.title == "The piece for the tray is too large for the sheet, by up to 3 1/4 in"


def test_a_piece_turned_to_fit_is_judged_the_way_it_fits_better():
    """A long narrow piece on A4 upright is over in one direction only, once it is turned."""
    finding = replace(
        sheet_finding(310.0, 100.0),
        measured=-13.0,
        values=(
            ("sheet", "A4"),
            ("width_mm", 310.0),
            ("height_mm", 100.0),
            ("sheet_width_mm", 210.0),
            ("sheet_height_mm", 297.0),
        ),
    )
    assert finding_words(finding, METRIC).title == "The piece for the tray is 1.3 cm too long for the sheet"


def test_a_piece_that_fits():
    words = finding_words(sheet_finding(273.05, 273.05, Severity.HOLDS), INCHES)
    assert (words.title, words.measured) == ("The piece for the tray fits the sheet", "1 1/4 in (3.2 cm) to spare")
    exact = finding_words(sheet_finding(304.8, 304.8, Severity.HOLDS), INCHES)
    assert (exact.title, exact.measured) == ("The piece for the tray takes up the sheet", "nothing to spare")


def test_orders():
    words = finding_words(orders_finding(Severity.HOLDS, 3311616.0), INCHES)
    assert words.title == "The tray folds up, in 3,311,616 ways"
    assert (words.measured, words.limit) == ("3,311,616 orders", "at least one")
    assert finding_words(orders_finding(Severity.HOLDS, 1.0), INCHES).title == "The tray folds up, in just one way"
    cut = finding_words(orders_finding(Severity.HOLDS, 12.0, complete="no"), INCHES)
    assert cut.title == "The tray folds up, in 12 ways or more"
    undecided = finding_words(orders_finding(Severity.UNDECIDED, 0.0, complete="no"), INCHES)
    assert (undecided.title, undecided.state) == ("No order was found yet for the tray", "not decided")


@pytest.mark.parametrize(
    ("reason", "panels", "told"),
    [
        ("contact", ("wall_back", "inner_left"), "the back wall and the left inner wall run into each other."),
        ("wrong_side", ("base", "inner_back"), "the back inner wall comes to the base from the wrong side."),
        (
            "pocket",
            ("wall_right", "tab_back_right", "inner_right"),
            "the back right tab cannot slide in between the right wall and the right inner wall.",
        ),
        (
            "hot_glue_slides",
            ("wall_right", "tab_back_right"),
            "the back right tab slides on the right wall, and this glue grips at once.",
        ),
        ("finger_reach", ("wall_right", "tab_back_right"), "no finger can press the back right tab to the right wall."),
    ],
)
def test_no_order_and_what_stops_it(reason, panels, told):
    words = finding_words(orders_finding(Severity.FAILS, 0.0, reason=reason, panels=panels), INCHES)
    assert words.title == "There is no order that folds and glues the tray"
    assert words.measured == "none"
    assert words.why.endswith(told)


def test_parts_in_the_way_are_named_and_the_rest_counted():
    one = a_finding("contact_end", Severity.FAILS, 1.0, 0.0, "count", subjects=("wall_back+inner_left",))
    assert finding_words(one, INCHES).title == "At the end the back wall and the left inner wall run into each other"
    assert finding_words(one, INCHES).limit == "none allowed"
    three = replace(one, measured=3.0, subjects=("wall_back+inner_left",) * 3)
    assert finding_words(three, INCHES).title == (
        "At the end 3 pairs of parts run into each other, first the back wall and the left inner wall"
    )


def test_the_lids_way_names_the_piece_of_each_part():
    finding = a_finding("lid_way", Severity.FAILS, 1.0, 0.0, "count", subjects=("wall_right+tab_back_right",))
    assert finding_words(finding, INCHES).title == (
        "The lid is held up on its way down: the right wall of the tray and the back right tab of the lid touch"
    )


def test_a_lid_that_is_too_small_says_by_how_much():
    finding = a_finding("lid_room", Severity.FAILS, -1.5875, 0.2, "mm", "at_least", ("lid", "tray"), ease_mm=0.0)
    words = finding_words(finding, INCHES)
    assert words.title == "The lid is too small by 1/16 in on a side"
    assert (words.measured, words.limit) == ("1/16 in (1.6 mm) too small on a side", "at least 0.2 mm")


def test_two_ways_to_read_the_list():
    values = {"safer": "one edge", "trim_first_mm": 0.0}
    finding = a_finding("readings_differ", Severity.LOOK, 3.175, 0.05, subjects=("tray",), **values)
    assert "from the same edge" in finding_words(finding, INCHES).why
    each = replace(finding, values=(("safer", "each edge"), ("trim_first_mm", 0.0)))
    assert "each edge in turn" in finding_words(each, INCHES).why
    trim = replace(finding, values=(("safer", "one edge"), ("trim_first_mm", 3.175)))
    assert finding_words(trim, INCHES).why == "Trim 1/8 in off the far edge first. Then both ways agree."


def test_grain_that_is_not_known_is_told_as_a_most():
    finding = a_finding("grain", Severity.LOOK, 8.0, 0.0, "count", grain="unknown", gsm=216.0, heavy_gsm=200.0)
    words = finding_words(finding, INCHES)
    assert words.title == "Up to 8 score lines may go against the grain in heavy card"
    assert words.limit == "none in card from 200 gsm"


def test_a_code_without_words_is_our_mistake():
    with pytest.raises(KeyError):
        finding_words(a_finding("no_such_check"), INCHES)


# --- Verdict ------------------------------------------------------------------------------------------------

TABS = a_finding("tabs_in_view", Severity.LOOK, 19.05, 3.2, subjects=("inner_left",))
WEDGE = a_finding("tab_wedge", Severity.LOOK, 0.5, 1.5, "mm", "at_least", ("tray",))


def test_proved():
    words = verdict_words("proved", (sheet_finding(100.0, 100.0, Severity.HOLDS),), INCHES)
    assert (words.headline, words.line) == ("Proved.", "It folds, it glues, it closes.")


def test_proved_with_something_to_look_at():
    words = verdict_words("proved", (TABS, WEDGE), INCHES)
    assert words.line == (
        "It folds, it glues, it closes. Two things are worth a look. "
        "The lowest 3/4 in of the tabs still shows inside. The ends of the tabs are hardly slanted."
    )
    one = verdict_words("proved", (TABS,), INCHES)
    assert one.line.endswith("One thing is worth a look: the lowest 3/4 in of the tabs still shows inside.")
    many = verdict_words("proved", (TABS,) * 5, INCHES)
    assert "Five things are worth a look." in many.line
    assert many.line.count("The lowest") == 3


def test_not_proved_leads_with_the_failure():
    words = verdict_words("not_proved", (TABS, sheet_finding(387.35, 100.0)), INCHES)
    assert words.headline == "Not proved: the piece for the tray is 3 1/4 in too long for the sheet."
    assert words.line == "Nothing else fails."
    two = verdict_words("not_proved", (sheet_finding(387.35, 100.0), orders_finding(Severity.FAILS, 0.0)), INCHES)
    assert two.line == "One more check fails: there is no order that folds and glues the tray."


def test_not_decided():
    words = verdict_words("not_decided", (orders_finding(Severity.UNDECIDED, 0.0, complete="no"),), INCHES)
    assert words.headline == "Not decided: no order was found yet for the tray."
    assert words.line == "Nothing that was found fails."


# --- Changes, assumptions -----------------------------------------------------------------------------------


@pytest.mark.parametrize(
    ("path", "value", "words"),
    [
        ("parts.tray.inner_wall", "1 3/8 in", "make the inner walls 1 3/8 in deep"),
        ("parts.tray.inner_wall", "1 3/8", "make the inner walls 1 3/8 in deep"),
        ("parts.my box.tab_length", "to meet its neighbour", "cut the tabs so that two meet on each side"),
        ("parts.tray.glue", "wet glue", "use wet glue"),
        ("cardstock.sheet", "12x12", "use a sheet of size 12x12"),
        ("cardstock.weight", "176 gsm", "use card of 176 gsm"),
        ("ruler", "1/32", "work to marks of 1/32 in"),
        ("parts.tray.spout", "3", "set parts.tray.spout to 3 in"),
    ],
)
def test_changes_are_things_to_do(path, value, words):
    assert change_words(Change(path=path, value=value), INCHES) == words


def test_changes_together():
    both = (Change(path="parts.tray.wall_height", value="2 in"), Change(path="parts.tray.inner_wall", value="2 in"))
    assert changes_words(both, INCHES) == "make the walls 2 in tall and make the inner walls 2 in deep"


@pytest.mark.parametrize(
    ("code", "values", "words"),
    [
        ("thickness", {"how": "measured", "high_mm": 0.29}, "thickness 0.29 mm, the thick end of what you measured"),
        (
            "thickness",
            {"how": "estimated", "high_mm": 0.29},
            "thickness 0.29 mm, the thick end of an estimate from the weight",
        ),
        ("fingers", {"finger_mm": 16.0, "finger_reach_mm": 60.0}, "fingers 16 mm wide and 60 mm long"),
        ("marks", {"board": "none"}, "every part as it is marked, with a ruler"),
        ("allowance", {"how": "none"}, "allowance none"),
    ],
)
def test_assumptions(code, values, words):
    assert assumption_words(Assumption(code=code, values=tuple(values.items())), INCHES) == words


# --- Steps and the rest -------------------------------------------------------------------------------------


def a_step(family, children, closes=(), sliding=()):
    folds = tuple(
        Fold(crease=f"fold_{child}", child=child, moving=(child,), closes=closes, sliding=sliding) for child in children
    )
    return FoldingStep(piece="tray", family=family, folds=folds, before=(), after=())


def test_a_step_without_glue():
    words = step_words(a_step("tabbed_walls", ("wall_back", "wall_front")), "hot glue")
    assert words.title == "Fold up the back and front walls"
    assert "glue" not in words.text and words.caution is None


def test_a_step_with_each_glue():
    step = a_step("glued_walls", ("wall_right", "wall_left"), ("wall_right+tab_back_right",))
    wet, hot, tape = (step_words(step, glue) for glue in ("wet glue", "hot glue", "tape"))
    assert wet.text == (
        "Put a thin line of glue where the dots are. Swing the right wall up against the tabs. "
        "Press it for half a minute. Do the same with the left wall."
    )
    assert wet.caution is None and tape.caution is None
    assert hot.caution.startswith("Hot glue burns.")
    assert len({wet.text, hot.text, tape.text}) == 3


def test_one_part_alone_is_not_done_again():
    step = a_step("inner_walls", ("inner_back",), ("wall_back+inner_back",))
    assert "same" not in step_words(step, "wet glue").text


def test_glue_that_slides_is_a_caution():
    step = a_step("tabs", ("tab_back_right",), ("wall_right+tab_back_right",), ("wall_right+tab_back_right",))
    assert "slides" in step_words(step, "wet glue").caution


def test_bench_steps():
    size = (length("10.75", "in"), length("10.75", "in"))
    cut = bench_words("cut_piece", "tray", INCHES, size)
    assert cut.text.startswith("Cut a piece of cardstock, 10 3/4 in (27.3 cm) by 10 3/4 in (27.3 cm).")
    assert "knife" in cut.caution
    positions = tuple(length(at, "in") for at in ("1.5", "3.75", "7", "9.25"))
    score = bench_words("score_one_way", "tray", INCHES, positions)
    assert "Score at 1 1/2 in, 3 3/4 in, 7 in and 9 1/4 in, all from the left edge." in score.text
    assert bench_words("lid_on", "lid", INCHES).title == "Put the lid on"


def test_cautions_are_those_that_hold():
    plain = cautions("wet glue", ())
    assert len(plain) == 1 and "local rules" in plain[0]
    hot = cautions("hot glue", ("knife",))
    assert [text.split()[0] for text in hot] == ["A", "Hot", "If"]
    assert any("under three" in text for text in cautions("wet glue", ("awl", "small parts")))


def test_stages_and_problems():
    assert stage_words("orders") == "Looking for an order to fold and glue"
    problem = Problem(field="parts.tray.wall_height", value="x", reason="is not a length", remedy="write 8 1/2")
    assert problem_words(problem) == 'parts.tray.wall_height ("x"): is not a length. Try: write 8 1/2.'
    missing = replace(problem, value="", reason="is missing")
    assert problem_words(missing) == "parts.tray.wall_height: is missing. Try: write 8 1/2."


def test_another_language_takes_another_catalogue():
    other = replace(ENGLISH, pieces={"tray": "tarsk"}, fold_of="{part}-ino")
    assert piece_words("tray", other) == "tarsk"
    assert subject_words("fold_base", other) == "the base-ino"
