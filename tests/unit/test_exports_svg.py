import math
import xml.etree.ElementTree as ET

import pytest
from svgelements import SVG
from svgelements import Path as SvgPath

from foldproof.drawing.records import Area, Label, Page, Path, Stroke
from foldproof.drawing.style import INK, Palette
from foldproof.exports.svg import cut_svg, element_id, page_svg

NAMESPACE = "{http://www.w3.org/2000/svg}"
SQUARE = Path(points=((10, 10), (60, 10), (60, 60), (10, 60)), closed=True)
MARKS = (
    Area(paths=(SQUARE,), role="coloured"),
    Area(paths=(SQUARE,), role="glue", name="tab 1"),
    Stroke(path=SQUARE, role="cut", name="base"),
    Stroke(path=Path(points=((10, 30), (60, 30))), role="valley", name="fold 1"),
    Stroke(path=Path(points=((5, 5), (5, 90))), role="cut", name="edge"),
    Label(text="3 1/4 in", at=(35, 70), role="size", size_pt=13, anchor="middle"),
)


def page(*marks, alt="Base with one fold. It is 5 cm wide.", name="Score plan A"):
    return Page(name=name, width_mm=105, height_mm=148.5, marks=marks, alt=alt)


def test_true_size_in_millimetres():
    root = ET.fromstring(page_svg(page(*MARKS)))
    assert (root.get("width"), root.get("height")) == ("105mm", "148.5mm")
    assert root.get("viewBox") == "0 0 105 148.5"


def test_a_picture_has_a_name_and_its_words():
    root = ET.fromstring(page_svg(page(*MARKS)))
    title, words = root.find(f"{NAMESPACE}title"), root.find(f"{NAMESPACE}desc")
    assert root.get("role") == "img"
    assert root.get("aria-labelledby").split() == [title.get("id"), words.get("id")]
    assert title.text == "Base with one fold."
    assert words.text == "Base with one fold. It is 5 cm wide."


def test_roles_are_groups_in_painting_order_with_ids_of_their_own():
    root = ET.fromstring(page_svg(page(*MARKS)))
    groups = root.findall(f"{NAMESPACE}g")
    assert [group.get("data-role") for group in groups] == [
        "coloured",
        "glue",
        "cut",
        "valley",
        "cut",
        "size",
    ]
    ids = [node.get("id") for node in root.iter() if node.get("id")]
    assert len(ids) == len(set(ids))
    assert "p-score-plan-a-cut-2" in ids


def test_text_travels_as_outlines_with_its_reading():
    text = page_svg(page(*MARKS))
    root = ET.fromstring(text)
    assert "<text" not in text and "font" not in text
    (label,) = [node for node in root.iter() if node.get("aria-label")]
    assert label.get("aria-label") == "3 1/4 in"
    (outline,) = [e for e in SVG.parse(_file(text), ppi=25.4).elements() if e.values.get("aria-label")]
    x0, y0, x1, y1 = SvgPath(outline).bbox()
    assert (x0 + x1) / 2 == pytest.approx(35, abs=0.2)
    assert y1 == pytest.approx(148.5 - 70, abs=0.3)  # stands on its baseline
    assert y1 - y0 < 13 * 25.4 / 72


def _file(text):
    import io

    return io.StringIO(text)


def test_up_is_up():
    root = ET.fromstring(page_svg(page(MARKS[3])))
    (line,) = [node for node in root.iter() if node.get("data-name") == "fold 1"]
    assert line.get("d") == "M10 118.5L60 118.5"


def test_a_picture_may_be_in_the_maker_s_card():
    assert "#ffccaa" in page_svg(page(*MARKS), palette=Palette(coloured="#ffccaa"))


def test_same_page_same_text():
    assert page_svg(page(*MARKS)) == page_svg(page(*MARKS))
    assert cut_svg(page(*MARKS)) == cut_svg(page(*MARKS))


@pytest.mark.parametrize(
    "text",
    [
        '</svg><script>alert("1")</script>',
        "& < > \" '",
        "a\x00\x1bb",
        "🐚 صندوق",
        "\ud800",
        "",
        "]]>",
        "\ufffe",
    ],
)
def test_hostile_text_in_any_place(text):
    marks = (
        Label(text=text, at=(30, 30), role="label", size_pt=11),
        Stroke(path=SQUARE, role="cut", name=text),
    )
    for write in (page_svg, cut_svg):
        written = write(page(*marks, alt=text, name=text))
        written.encode("utf-8")
        root = ET.fromstring(written)
        assert {node.tag.removeprefix(NAMESPACE) for node in root.iter()} <= {
            "svg",
            "title",
            "desc",
            "rect",
            "g",
            "path",
        }


def test_a_long_first_sentence_is_no_title():
    root = ET.fromstring(page_svg(page(alt="word " * 40)))
    assert root.find(f"{NAMESPACE}title").text == "Score plan A"


def test_ids_are_plain():
    assert element_id("Score plan Å / 2") == "p-score-plan-2"
    assert element_id("") == element_id("🐚") == "p-page"


def test_a_cut_file_holds_bare_lines_in_one_colour():
    root = ET.fromstring(cut_svg(page(*MARKS)))
    groups = {group.get("id"): group for group in root.findall(f"{NAMESPACE}g")}
    assert list(groups) == ["valley", "mountain", "cut"]
    assert {group.get("stroke") for group in groups.values()} == {INK}
    assert {group.get("fill") for group in groups.values()} == {"none"}
    dashes = [group.get("stroke-dasharray") for group in groups.values()]
    assert dashes[2] is None and None not in dashes[:2] and dashes[0] != dashes[1]
    assert [path.get("data-name") for path in groups["cut"].findall(f"{NAMESPACE}path")] == ["base", "edge"]
    assert not [node for node in root.iter() if node.get("fill") not in (None, "none")]


@pytest.mark.parametrize("write", [page_svg, cut_svg])
def test_places_must_be_finite(write):
    with pytest.raises(AssertionError):
        write(page(Stroke(path=Path(points=((0, 0), (math.inf, 1))), role="cut")))
