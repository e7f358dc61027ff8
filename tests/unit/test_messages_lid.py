"""The words for a lid that turns: what the checks find, what can change, and the steps at the bench."""

import pytest

from foldproof.findings import Change, Finding, Severity
from foldproof.lengths import CM_MILLIMETRES, INCH_SIXTEENTHS, length
from foldproof.teach.messages import bench_words, change_words, finding_words, step_words, turn_words
from foldproof.teach.steps import Fold, FoldingStep
from foldproof.words.lengths import Speech

INCHES = Speech(ruler=INCH_SIXTEENTHS, other_ruler=CM_MILLIMETRES)


def a_finding(code, severity, measured, limit, unit, sense="at_most", subjects=(), **values):
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


def lid_finding(code, severity, measured, limit=0.0, unit="mm", subjects=("lid",), **values):
    return a_finding(code, severity, measured, limit, unit, "at_least", subjects, **values)


def test_a_lid_that_covers_says_what_it_has_to_spare():
    holds = finding_words(lid_finding("lid_covers", Severity.HOLDS, 4.7625, 3.175, distance_mm=6.35), INCHES)
    assert holds.title == "The lid covers the box, with 3/16 in to spare all round"
    assert (holds.measured, holds.limit) == ("3/16 in (4.8 mm) to spare", "at least 1/8 in (3.2 mm)")
    assert holds.why.endswith("At the nearest place its edge is 1/4 in from the rim.")


def test_a_lid_that_is_too_small_shows_the_rim():
    under = finding_words(lid_finding("lid_covers", Severity.FAILS, -4.7625, 1.5875, distance_mm=0.0), INCHES)
    assert under.title == "3/16 in of the rim would show"
    assert under.measured == "3/16 in (4.8 mm) too small on a side"
    close = finding_words(lid_finding("lid_covers", Severity.FAILS, 1.0, 1.5875, distance_mm=1.0), INCHES)
    assert close.title == "The lid covers the box too closely: only 1 mm to spare"


def test_how_far_off_the_hole_may_be():
    values = {"hole_off_mm": 1.5875, "turn_off_deg": 5.0}
    some = lid_finding("lid_comfort", Severity.HOLDS, 1.0, tolerance_mm=3.175, **values)
    assert finding_words(some, INCHES).why == (
        "It was tried with the hole 1/16 in off and the lid turned by 5°. "
        "The hole may be 1/8 in off before a check fails."
    )
    none = lid_finding("lid_comfort", Severity.LOOK, -1.5875, tolerance_mm=0.0, **values)
    assert finding_words(none, INCHES).title == "With the hole a little off, 1/16 in of the rim may show"
    assert finding_words(none, INCHES).why.endswith("The hole has no room to be off.")


OPENED = {
    "opened_deg": -171.0,
    "left_deg": 160.0,
    "left_share": 0.774,
    "right_deg": -171.0,
    "right_share": 0.813,
    "front": "left",
    "sweep_mm": 107.95,
    "beyond_mm": 84.0,
    "beside_mm": 130.175,
    "behind_mm": 38.1,
}


def test_how_far_a_lid_opens_and_which_way():
    words = finding_words(lid_finding("lid_opens", Severity.HOLDS, 81.3, 75.0, "percent", **OPENED), INCHES)
    assert words.title == "The lid opens 81 % of the box, turned 171° to the right"
    assert (words.measured, words.limit) == ("81 % open", "at least 75 %")
    assert words.why == (
        "At best it opens 77 % turned 160° to the left, and 81 % turned 171° to the right. "
        "Keep 4 1/4 in free round the hole, and 5 1/8 in between two boxes side by side. "
        "The open lid lies farthest from the left side. "
        "Take that as the front, and put a greeting square to it."
    )
    near = finding_words(lid_finding("lid_opens", Severity.LOOK, 74.8, 75.0, "percent", **OPENED), INCHES)
    assert near.title == "The lid opens only 74.8 % of the box, turned 171° to the right"


@pytest.mark.parametrize(
    ("severity", "measured", "values", "title"),
    [
        (Severity.HOLDS, 3.0, {"hidden": "no"}, "The head lies wholly on the lid, in view"),
        (Severity.HOLDS, 3.0, {"hidden": "yes", "hidden_mm": 3.0}, "The next layer hides the head"),
        (
            Severity.FAILS,
            -1.5875,
            {"hidden": "yes", "hidden_mm": -1.5875},
            "1/16 in of the head shows beside the layer that should hide it",
        ),
        (Severity.FAILS, -1.5875, {"hidden": "no"}, "The head stands 1/16 in past the lid's edge"),
        (Severity.FAILS, -1.5875, {"hidden": "yes", "hidden_mm": 2.0}, "The head stands 1/16 in past the lid's edge"),
    ],
)
def test_where_the_head_lies(severity, measured, values, title):
    assert finding_words(lid_finding("head_on_lid", severity, measured, **values), INCHES).title == title


def test_legs_too_short_and_too_long():
    legs = {"legs_mm": 12.7, "opening_mm": 4.0}
    short = finding_words(lid_finding("legs_long", Severity.FAILS, -3.175, **legs), INCHES)
    assert short.title == "The legs of the brad are 1/8 in too short"
    assert (short.measured, short.limit) == ("1/8 in (3.2 mm) too short", "legs 1/2 in long")
    long = finding_words(lid_finding("legs_room", Severity.FAILS, -3.175, **legs), INCHES)
    assert long.title == "The legs of the brad would strike the walls: 1/8 in too long"


def test_what_catches_at_which_turn():
    one = {"layer_1": "layer_1", "on_1": "triangle", "angle_1_deg": 12.3, "depth_1_mm": 1.5}
    two = {"layer_2": "layer_3", "on_2": "wall_back", "angle_2_deg": -20.0, "depth_2_mm": 4.7625}
    names = ("layer_1", "layer_3")
    caught = a_finding("lid_catches", Severity.FAILS, 2.0, 0.0, "count", subjects=names, **one, **two)
    words = finding_words(caught, INCHES)
    assert words.title == "The lid catches on the corner triangle when turned 12.3° to the left"
    assert words.why == (
        "The lowest layer hangs 1.5 mm below the rim and meets the corner triangle when turned 12.3° to the left. "
        "The third layer hangs 3/16 in below the rim and meets the back wall when turned 20° to the right. "
        "Keep flat: the lowest layer and the third layer."
    )
    at_once = {**one, "angle_1_deg": 0.0, "on_1": "wall_back"}
    closed = a_finding("lid_catches", Severity.FAILS, 1.0, 0.0, "count", subjects=names[:1], **at_once)
    assert finding_words(closed, INCHES).title == "The lid catches on the back wall when closed"
    free = finding_words(a_finding("lid_catches", Severity.HOLDS, 0.0, 0.0, "count"), INCHES)
    assert (free.title, free.measured) == ("Nothing catches while the lid turns", "none")


def test_which_lifted_edge_presses_on_which_layer():
    values = {"layer_1": "layer_1", "on_1": "layer_2", "room_1_mm": 1.5875, "by_1_mm": 3.175}
    words = finding_words(
        a_finding("edge_presses", Severity.FAILS, 1.0, 0.0, "count", subjects=("layer_1",), **values), INCHES
    )
    assert words.title == "The lifted edge of the lowest layer presses on the second layer"
    assert words.why.startswith(
        "The edge of the lowest layer stands 1/8 in into the second layer, over room of 1/16 in."
    )


@pytest.mark.parametrize(
    ("kind", "side", "severity", "title"),
    [
        ("eyelet", "thick", Severity.FAILS, "The eyelet is 1/8 in too short to be set"),
        ("eyelet", "thin", Severity.LOOK, "The eyelet is 1/8 in too long, and stays loose"),
        ("snap", "thick", Severity.FAILS, "The card is 1/8 in too thick for the snap"),
        ("snap", "thin", Severity.FAILS, "The card is 1/8 in too thin for the snap to grip"),
    ],
)
def test_what_an_eyelet_and_a_snap_hold(kind, side, severity, title):
    values = {"kind": kind, "side": side, "held_mm": 1.3, "least_mm": 0.8, "most_mm": 3.175}
    words = finding_words(lid_finding("fastener_grips", severity, -3.175, **values), INCHES)
    assert words.title == title
    assert words.limit == "from 0.8 mm to 1/8 in of card"


def test_a_back_that_strikes_a_wall_or_stands_over_the_triangle():
    values = {"kind": "snap", "over": "walls", "back_mm": 9.525}
    strikes = finding_words(lid_finding("back_has_room", Severity.FAILS, -3.175, **values), INCHES)
    assert strikes.title == "The back of the snap would strike the walls: 1/8 in too wide"
    over = finding_words(lid_finding("back_has_room", Severity.LOOK, -3.175, **{**values, "over": "edge"}), INCHES)
    assert over.title == "The back of the snap stands 1/8 in over the triangle's long edge"


def test_a_box_that_tips_says_at_which_turn_and_why():
    values = {"angle_deg": -135.0, "mass_g": 28.349523125, "box_g": 14.1747615625}
    words = finding_words(lid_finding("box_tips", Severity.FAILS, -3.175, 0.0, **values), INCHES)
    assert words.title == "The empty box tips over, with the lid turned 135° to the right"
    assert words.measured == "weight 1/8 in (3.2 mm) outside the base"
    assert words.why.startswith("The lid weighs 1 oz and the empty box 0.5 oz.")


def test_a_triangle_that_does_not_go_in():
    pairs = ("wall_back+flap_left", "wall_right+flap_right")
    one = a_finding("triangle_in", Severity.FAILS, 1.0, 0.0, "count", subjects=pairs[:1])
    assert finding_words(one, INCHES).title == (
        "The corner triangle does not go in: the back wall and the left flap run into each other"
    )
    two = finding_words(a_finding("triangle_in", Severity.FAILS, 2.0, 0.0, "count", subjects=pairs), INCHES)
    assert two.title == "The corner triangle does not go in: 2 pairs of parts run into each other"
    assert two.why == "The first pair is the back wall and the left flap."


@pytest.mark.parametrize(
    ("angle", "words"),
    [(-171.0, "turned 171° to the right"), (12.0, "turned 12° to the left"), (0.0, "closed"), (-0.0, "closed")],
)
def test_turns_have_a_side(angle, words):
    """Anticlockwise seen from above is positive: the edge of the lid away from the maker goes to the left."""
    assert turn_words(angle) == words


# --- Changes and steps --------------------------------------------------------------------------------------


@pytest.mark.parametrize(
    ("path", "value", "words"),
    [
        ("parts.lid.across", "5 3/4", "make the lid 5 3/4 in across"),
        ("parts.lid.hole_from_corner", "11/16 in", "put the hole 11/16 in from the inner corner"),
        ("parts.lid.lobes", "10", "give the lid 10 lobes, points or sides"),
        ("parts.lid.closed", "30", "close the lid turned by 30°"),
        ("parts.lid.opens", "either way", "open the lid either way"),
        ("parts.lid.opens", "to the left", "open the lid to the left"),
        ("parts.lid.moved_right", "1/4 in", "close the lid 1/4 in to the right of the middle"),
        ("parts.lid.moved_right", "-1/4 in", "close the lid 1/4 in to the left of the middle"),
        ("parts.lid.layers.2.edge", "flat", "make the second layer flat"),
        ("parts.lid.layers.1.across", "5", "make the lowest layer 5 in across"),
        ("parts.lid.layers.3.spout", "2 in", "set parts.lid.layers.3.spout to 2 in"),
    ],
)
def test_changes_of_a_lid(path, value, words):
    assert change_words(Change(path=path, value=value), INCHES) == words


def test_bench_steps_of_a_lid():
    strip = (length("2", "in"), length("1", "in"))
    assert "2 in (5.1 cm) by 1 in (2.5 cm)." in bench_words("lid_cut_triangle", "triangle", INCHES, strip).text
    cap = bench_words("lid_cut_triangle", "cap", INCHES, strip)
    assert cap.title == "Cut the top triangle" and "second strip" in cap.text
    glued = bench_words("lid_glue_triangle", "triangle", INCHES, place="back left")
    assert "into the back left corner" in glued.text and glued.caution is None
    hot = bench_words("lid_glue_triangle", "triangle", INCHES, glue="hot glue", place="back left")
    assert "at once" in hot.text and "Hot glue burns" in hot.caution
    by_hand = bench_words("lid_hole_by_hand", "lid", INCHES, (length("0.75", "in"),))
    assert "From the drawn corner, measure 3/4 in (1.9 cm) in along its diagonal." in by_hand.text
    assert "awl" in by_hand.caution
    assert "under three" in bench_words("lid_brad", "lid", INCHES).caution
    assert "Turn the left side of the box toward you: that is the front." in (
        bench_words("lid_greeting", "lid", INCHES, place="left").text
    )


def test_layers_are_told_by_their_number():
    sizes = tuple(length(across, "in") for across in ("5.5", "5", "4", "3", "2"))
    one, four, five = (bench_words("lid_cut_layers", "lid", INCHES, sizes[:n]) for n in (1, 4, 5))
    assert "It is 5 1/2 in (14.0 cm) across." in one.text
    assert "They are 5 1/2 in, 5 in, 4 in and 3 in across, the lowest first." in four.text
    assert "Its size stands on the template." in five.text


@pytest.mark.parametrize("code", ["lid_glue_low", "lid_glue_top", "lid_greeting"])
def test_a_layer_is_fixed_with_its_own_glue(code):
    wet, hot, foam = (
        bench_words(code, "layer_2", INCHES, glue=glue, place="left") for glue in ("wet glue", "hot glue", "foam")
    )
    assert "thin film of glue" in wet.text and "hot glue" in hot.text and "foam pads" in foam.text
    assert (wet.caution, foam.caution) == (None, None)
    assert hot.caution.startswith("Hot glue burns.")


def test_flaps_fold_down_and_are_not_glued_yet():
    folds = tuple(
        Fold(crease=f"fold_{child}", child=child, moving=(child,), closes=(), sliding=())
        for child in ("flap_left", "flap_right")
    )
    step = FoldingStep(piece="triangle", family="triangle_flaps", folds=folds, before=(), after=())
    words = step_words(step, "wet glue")
    assert words.title == "Fold down the left and right flaps"
    assert "glue" not in words.text and words.caution is None
