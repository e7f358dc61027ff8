import pytest
from hypothesis import given
from hypothesis import strategies as st

from foldproof.drawing.records import Document, Heading, Listing, Page, Paragraph, Picture, Table
from foldproof.exports.text import document_text

LONG = "Fold each score toward you, one at a time, and press it flat with a bone folder along its length."


def document(*blocks):
    return Document(title="Tidepool keepsake box", blocks=blocks)


def test_a_document_as_plain_lines():
    text = document_text(
        document(
            Heading(text="Score", level=1),
            Paragraph(text="Lay piece A plain side up."),
            Paragraph(text="The rim is level.", kind="check"),
            Paragraph(text="The lid is 3/16 in too small.", kind="not_proved"),
            Picture(page=Page(name="s", width_mm=1, height_mm=1, marks=(), alt="Four folds.")),
        )
    )
    assert text.split("\n\n") == [
        "Tidepool keepsake box\n=====================",
        "Score\n-----",
        "Lay piece A plain side up.",
        "✓ The rim is level.",
        "✗ The lid is 3/16 in too small.",
        "  [Four folds.]\n",
    ]


def test_lists_hang_from_their_numbers():
    text = document_text(document(Listing(items=(LONG, *["Turn."] * 9), numbered=True)), width=40)
    lines = text.splitlines()[3:]
    assert lines[0].startswith(" 1. Fold") and lines[1].startswith("    ")
    assert lines[-1] == "10. Turn."


def test_columns_stand_under_each_other():
    text = document_text(
        document(
            Table(title="Cuts", columns=("piece", "size"), rows=(("tray", "10 3/4 in"), ("long lid", "7")))
        )
    )
    assert text.endswith("Cuts\n\npiece     size\n--------  ---------\ntray      10 3/4 in\nlong lid  7\n")


@pytest.mark.parametrize("width", [40, 78, 120])
def test_a_wide_table_is_folded_into_the_width(width):
    table = Table(
        title="", columns=("check", "what", "measured"), rows=(("fold", LONG, "0.1 mm"), (LONG, "x", "y"))
    )
    lines = document_text(document(table), width=width).splitlines()
    assert max(map(len, lines)) <= width
    words = " ".join(lines)
    assert all(word.strip(",.") in words for word in LONG.split())


@given(st.text(max_size=60))
def test_no_text_reaches_the_terminal_s_controls(text):
    shown = document_text(document(Paragraph(text=text), Heading(text=text, level=3), Listing(items=(text,))))
    assert all(char == "\n" or char.isprintable() or char.isspace() for char in shown if ord(char) < 0xA0)
    assert "\x1b" not in shown
    shown.encode("utf-8")


@given(st.lists(st.text(alphabet="abc ", max_size=30), min_size=1), st.integers(20, 100))
def test_lines_keep_to_the_width(words, width):
    text = document_text(document(Paragraph(text=" ".join(words))), width=width)
    longest = max((len(word) for item in words for word in item.split()), default=0)
    assert max(map(len, text.splitlines())) <= max(width, longest, 21)
