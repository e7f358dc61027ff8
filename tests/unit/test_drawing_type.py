import math
from itertools import pairwise

import pytest
from hypothesis import given
from hypothesis import strategies as st
from svgelements import Path as SvgPath

from foldproof.drawing.fonts import MISSING, advance, face_font, kerning, subset
from foldproof.drawing.records import Label
from foldproof.drawing.style import TEXTS
from foldproof.drawing.type import FRACTION_GAP, outline_data, placed, set_line, text_width_mm
from foldproof.drawing.wording import one_line


def names(text, role="size"):
    return [glyph.name for glyph in set_line(text, role).glyphs]


def reads_as(text, role="size"):
    return "".join(glyph.text for glyph in set_line(text, role).glyphs)


def test_a_fraction_is_set_with_its_own_figures():
    assert names("3 1/4") == ["three", "space", "one.numr", "fraction", "four.dnom"]
    assert names("19/16")[:2] == ["one.numr", "nine.numr"]


@pytest.mark.parametrize(
    "text", ["3 1/4", "3 1/4 in (8.3 cm)", "1 9/16, 3 3/4, 7", "11/16", "12 x 12", "5\u202f1/2", "3 1\u20444"]
)
def test_a_line_reads_as_it_was_typed(text):
    expected = text.replace("\u202f", " ").replace("\u2044", "/")
    assert reads_as(text) == expected


@pytest.mark.parametrize(
    "text", ["25/11/2026", "3/4/5", "11/12", "1/4.5", "2.1/4", "and/or", "0/0", "1234/64", "216 g/m2"]
)
def test_what_is_no_fraction_stays_plain(text):
    assert not any(name.endswith((".numr", ".dnom")) for name in names(text))
    assert reads_as(text) == text


def test_whole_number_and_fraction_are_parted():
    three, _, raised, *_ = set_line("3 1/4", "size").glyphs
    assert raised.x - three.x - advance("sans_semibold", "three") == FRACTION_GAP


def test_a_sentence_may_end_on_a_fraction():
    assert "four.dnom" in names("Cut at 3 1/4.")
    assert "four.dnom" in names("3 1/4, 7")


def test_other_scripts_and_pictures_are_set_in_faces_that_have_them():
    line = set_line("shell 🐚 عربي", "label")
    assert {glyph.text: glyph.face for glyph in line.glyphs if glyph.text == "🐚"} == {"🐚": "NotoEmoji/400"}
    letters = [glyph for glyph in line.glyphs if glyph.face == "NotoSansArabic/400"]
    assert "".join(glyph.text for glyph in letters) == "يبرع", "the word runs to the left"
    assert letters[-1].name.endswith(".init"), "its first letter is joined to the second"
    assert outline_data(set_line("🐚", "label")), "the shell must be seen"


def test_heavy_words_stay_heavy_in_another_script():
    assert {glyph.face for glyph in set_line("קופסה", "size").glyphs} == {"NotoSansHebrew/600"}


def test_what_no_face_has_is_told_by_name_and_copies_out_as_typed():
    assert names("a★", "label")[1:3] == ["bracketleft", "b"]
    assert len(names("★", "label")) == len("[black star]")
    assert len(names("日日", "label")) == 2 * len("[U+65E5]")
    assert reads_as("a★ 日日", "label") == "a★ 日日"


def test_a_size_stays_whole_in_a_line_that_runs_to_the_left():
    line = set_line("קופסה 3 1/4 in", "label")
    assert "".join(glyph.text for glyph in line.glyphs) == "3 1/4 in הספוק"


def test_brackets_turn_round_where_a_line_runs_to_the_left():
    drawn = set_line("(קופסה)", "label").glyphs
    assert (drawn[0].x, drawn[0].name) == (0, "parenleft") and drawn[0].text == ")"


@given(st.text(alphabet="abc ֊אבגصدمहिन्दी🐚日★(1/4)\u200d", max_size=24))
def test_no_line_uses_the_box_that_stands_for_nothing(text):
    assert MISSING not in [glyph.name for glyph in set_line(text, "title").glyphs]


@pytest.mark.parametrize(
    "text", ["a\x07b", "a\x1b[31mb", "a\u202eb", "a\ud800b", "a\uffffb", "a\x00b", "a\u200bb"]
)
def test_what_cannot_be_seen_is_dropped(text):
    assert one_line(text).startswith("a") and one_line(text).endswith("b")
    one_line(text).encode("utf-8")
    assert not set(one_line(text)) & set("\x07\x1b\u202e\uffff\x00\u200b")


def test_line_breaks_become_spaces():
    assert one_line("a\r\nb\tc\u2028d") == "a b c d"


@given(st.text(max_size=40))
def test_any_text_can_be_set(text):
    line = set_line(text, "label")
    places = [glyph.x for glyph in line.glyphs]
    assert math.isfinite(line.width)
    own = [glyph.x for glyph in line.glyphs if not glyph.face]  # marks of other scripts are moved back onto letters
    assert min(places, default=0) >= -2000 and all(b >= a - 200 for a, b in pairwise(own))


def test_width_grows_with_size():
    assert text_width_mm("base", "label", 22) == pytest.approx(2 * text_width_mm("base", "label", 11))
    assert text_width_mm("", "label", 11) == 0


def test_pairs_are_kerned():
    assert kerning("sans", "T", "o") < -20
    assert kerning("sans", "n", "n") == 0
    assert text_width_mm("To", "label", 11) < text_width_mm("T", "label", 11) + text_width_mm(
        "o", "label", 11
    )


@pytest.mark.parametrize(("anchor", "share"), [("start", 0), ("middle", 0.5), ("end", 1)])
@pytest.mark.parametrize("angle", [0, 90, -30])
def test_a_label_hangs_from_its_anchor(anchor, share, angle):
    label = Label(text="10 3/4 in", at=(50, 70), role="size", size_pt=12, anchor=anchor, angle_deg=angle)
    line, (a, b, c, d, e, f) = placed(label)
    at = share * line.width
    assert (a * at + e, b * at + f) == pytest.approx((50, 70))
    assert math.degrees(math.atan2(b, a)) == pytest.approx(angle)
    assert (c, d) == pytest.approx((-b, a))


def test_a_label_must_lie_somewhere():
    with pytest.raises(AssertionError):
        placed(Label(text="x", at=(math.nan, 0), role="label", size_pt=11))


def test_outlines_fill_the_height_of_a_capital():
    box = SvgPath(outline_data(set_line("H", "label"))).bbox()
    cap_height = face_font("sans")["OS/2"].sCapHeight
    assert (box[1], box[3]) == pytest.approx((0, cap_height), abs=12)


def test_outlines_lie_within_their_width():
    line = set_line("3 1/4 in", "size")
    box = SvgPath(outline_data(line)).bbox()
    assert box[0] > -60 and box[2] < line.width + 60


def test_a_subset_repeats_and_holds_what_is_asked():
    wanted = frozenset({"three", "one.numr", "fraction", "four.dnom"})
    one, other = subset("sans", wanted), subset("sans", wanted)
    assert one == other
    assert wanted | {MISSING} <= set(one.places)
    assert len(one.data) < 10_000


def test_every_face_opens():
    for look in TEXTS.values():
        assert advance(look.face, "three") > 0
