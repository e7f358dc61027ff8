import base64
import dataclasses
import re
from collections import Counter
from html.parser import HTMLParser
from io import BytesIO
from itertools import pairwise

import pytest
import zxingcpp
from fontTools.ttLib import TTFont
from hypothesis import given
from hypothesis import strategies as st
from PIL import Image
from svgelements import Path as SvgPath

from foldproof.drawing.records import (
    Area,
    Code,
    Document,
    Heading,
    Label,
    Listing,
    Page,
    PageBreak,
    Paragraph,
    Path,
    Picture,
    Step,
    Stroke,
    Table,
)
from foldproof.drawing.style import INK_CONTRAST, SEA_GREEN, contrast, palette_for, same_on_both_sides
from foldproof.drawing.webfonts import WEB_FACES, web_font
from foldproof.drawing.wording import one_line
from foldproof.exports.html import document_html, set_text
from foldproof.exports.html_style import DARK, INK_DARK, PLAIN_CONTRAST, dark_palette
from foldproof.exports.png import drawn_png
from foldproof.exports.svg import page_svg
from foldproof.exports.svg_screen import screen_svg

VOID = {"meta", "br"}
OWN_TAGS = {
    *("html", "head", "meta", "title", "style", "body", "header", "main", "footer", "nav", "section", "div", "p", "a"),
    *("span", "h1", "h2", "h3", "ul", "li", "table", "caption", "thead", "tbody", "tr", "th", "td", "figure", "br"),
    *("svg", "desc", "rect", "g", "path", "text", "tspan"),
}
SQUARE = Path(points=((1.0, 1.0), (9.0, 1.0), (9.0, 9.0)), closed=True)
BARE = Page(name="step-01", width_mm=100, height_mm=50, marks=(Area(paths=(SQUARE,), role="coloured"),), alt="A fold.")
LETTERED = dataclasses.replace(
    BARE,
    name="step-02",
    marks=(*BARE.marks, Stroke(path=SQUARE, role="cut"), Label(text="3 1/4 in", at=(5, 5), role="size", size_pt=11.0)),
)


def step(number, picture=BARE, **changes):
    told = {
        "title": "Fold the walls",
        "text": "Score at 3 1/4 in (8.3 cm).",
        "check": "Check: the rim is level.",
        "if_not": "If not: fold again.",
        **changes,
    }
    return Step(number=number, picture=picture, **told)


WHOLE = Document(
    title="Box",
    blocks=(
        Paragraph(text="Made by a club"),
        Picture(page=LETTERED),
        Heading(text="What you need", level=1),
        Listing(items=("A piece, 10 3/4 in square (27.3 cm x 27.3 cm).", "Glue.")),
        Paragraph(text="A knife is sharp.", kind="caution"),
        Heading(text="Tray", level=1),
        step(1),
        step(2, picture=LETTERED, caution="A knife is sharp."),
        step(3, picture=None),
        PageBreak(),
        Heading(text="Sizes", level=1),
        Table(title="Sizes", columns=("what", "size"), rows=(("tray", "3 1/4 in"), ("lid", "by hand"))),
        Heading(text="Where", level=3),
        PageBreak(),
        Code(target="https://example.org/box", text="The page of this box"),
        Paragraph(text="Made by a club"),
    ),
)


class Reader(HTMLParser):
    """Every element with its attributes and the text a reader sees in it; tags must pair."""

    def __init__(self, text):
        super().__init__(convert_charrefs=True)
        self.open, self.elements, self.texts = [], [], []
        self.feed(text)
        self.close()
        assert self.open == []

    def handle_starttag(self, tag, attrs):
        assert len(dict(attrs)) == len(attrs), f"an attribute twice on {tag}"
        entry = {"tag": tag, "attrs": dict(attrs), "text": "", "within": tuple(each["tag"] for each in self.open)}
        self.elements.append(entry)
        if tag not in VOID:
            self.open.append(entry)

    def handle_startendtag(self, tag, attrs):
        self.handle_starttag(tag, attrs)
        if tag not in VOID:
            self.handle_endtag(tag)

    def handle_endtag(self, tag):
        assert self.open and self.open[-1]["tag"] == tag, f"</{tag}> closes nothing"
        self.open.pop()

    def handle_data(self, data):
        for each in self.open:
            each["text"] += data

    def all(self, tag, **attrs):
        named = {"class" if name == "kind" else name: value for name, value in attrs.items()}
        return [
            each
            for each in self.elements
            if each["tag"] == tag and all(each["attrs"].get(name) == value for name, value in named.items())
        ]


def read(document, **more):
    return Reader(document_html(document, **more))


def test_landmarks_headings_and_language_are_what_a_screen_reader_needs():
    page = read(dataclasses.replace(WHOLE, language="en-GB"))
    assert page.all("html")[0]["attrs"]["lang"] == "en-GB"
    assert page.all("title")[0]["text"] == page.all("h1")[0]["text"] == "Box"
    assert Counter(each["tag"] for each in page.elements)["h1"] == 1
    assert [len(page.all(tag)) for tag in ("header", "nav", "main", "footer")] == [1, 1, 1, 1]
    levels = [int(each["tag"][1]) for each in page.elements if re.fullmatch(r"h[1-6]", each["tag"])]
    assert all(after <= before + 1 for before, after in pairwise(levels))
    ids = [each["attrs"]["id"] for each in page.elements if "id" in each["attrs"]]
    assert len(ids) == len(set(ids))
    for each in page.elements:
        for name in ("aria-labelledby", "aria-describedby"):
            assert set(each["attrs"].get(name, "").split()) <= set(ids)
    assert page.all("footer")[0]["text"].strip().endswith("Made by a club")


def test_every_drawing_says_in_words_what_it_shows():
    page = read(WHOLE)
    drawn = [each for each in page.elements if each["tag"] == "svg" and each["attrs"].get("aria-hidden") != "true"]
    assert len(drawn) == 4
    for each in drawn:
        assert each["attrs"]["role"] == "img"
        assert each["attrs"].get("aria-label") or each["attrs"]["aria-labelledby"]


def test_steps_are_sections_with_ways_back_and_on():
    page = read(WHOLE)
    sections = [each for each in page.all("section") if each["attrs"].get("id", "").startswith("step-")]
    assert [each["attrs"]["id"] for each in sections] == ["step-1", "step-2", "step-3"]
    titles = [
        each["text"] for each in page.elements if each["attrs"].get("id", "").endswith("-title") and each["tag"] == "h3"
    ]
    assert titles == [f"Step {number}: Fold the walls" for number in (1, 2, 3)]
    ways = [each["text"] for each in page.all("p", kind="ways")]
    assert ways == ["Next: step 2", "Back: step 1 Next: step 3", "Back: step 2"]
    targets = {each["attrs"]["id"] for each in page.elements if "id" in each["attrs"]}
    links = [each["attrs"]["href"] for each in page.all("a")]
    assert {link[1:] for link in links if link.startswith("#")} <= targets
    assert {f"#step-{number}" for number in (1, 2, 3)} <= set(links)


def test_nothing_is_loaded_and_nothing_runs():
    text = document_html(WHOLE)
    page = Reader(text)
    assert {each["tag"] for each in page.elements}.isdisjoint({"script", "link", "img", "iframe", "object", "form"})
    assert all(not name.startswith("on") for each in page.elements for name in each["attrs"])
    assert [each["attrs"]["href"] for each in page.all("a") if not each["attrs"]["href"].startswith("#")] == [
        "https://example.org/box"
    ]
    style = page.all("style")[0]["text"]
    assert "@import" not in style
    assert all(address.startswith("data:font/woff;base64,") for address in re.findall(r"url\(([^)]*)\)", style))
    policy = page.all("meta")[1]["attrs"]["content"]
    assert policy.startswith("default-src 'none'")


HOSTILE = [
    "<script>alert(1)</script>",
    "</title><img src=x onerror=alert(1)>",
    '"><svg onload=alert(1)>',
    "'; x",
    "&lt;b&gt; & &amp;",
    "</style><style>*{display:none}",
    "<!-- -->]]>",
    "javascript:alert(1)",
    "{{7*7}} ${x}",
    "(1 in <b> 2 cm)",
]


@pytest.mark.parametrize("text", HOSTILE)
def test_hostile_text_stays_text_everywhere(text):
    picture = dataclasses.replace(LETTERED, name=text, alt=text)
    document = Document(
        title=text,
        blocks=(
            Paragraph(text=text, kind="not_proved"),
            Heading(text=text, level=1),
            Listing(items=(text,)),
            Table(title=text, columns=(text,), rows=((text,),)),
            step(1, picture=picture, title=text, text=text, check=text, if_not=text, caution=text),
            Picture(page=picture),
            PageBreak(),
            Code(target=text, text=text),
        ),
    )
    page = read(document)
    assert {each["tag"] for each in page.elements} <= OWN_TAGS
    assert not any(name.startswith("on") for each in page.elements for name in each["attrs"])
    assert page.all("h1")[0]["text"] == page.all("td" if page.all("td") else "th")[-1]["text"] == text
    assert [each["attrs"]["href"] for each in page.all("a") if not each["attrs"]["href"].startswith("#")] == []


@given(st.text(max_size=60))
def test_any_text_reads_back(text):
    page = Reader(f"<p>{set_text(text)}</p>")
    assert page.all("p")[0]["text"] == one_line(text)


@pytest.mark.parametrize(
    ("text", "measures", "fractions"),
    [
        ("Score at 3 1/4 in and 7 in.", ["3 1/4 in", "7 in"], ["1/4"]),
        ("A lid, 15/16 in deep", ["15/16 in"], ["15/16"]),
        ("27.3 cm by 2 mm", ["27.3 cm", "2 mm"], []),
        ("on 3/4/2021", [], []),
        ("11/12 of them", [], []),
        ("A4, p12", [], []),
    ],
)
def test_measures_keep_their_space_and_fractions_are_formed_by_the_face(text, measures, fractions):
    page = Reader(f"<p>{set_text(text)}</p>")
    assert [each["text"] for each in page.all("span", kind="n") if " " in each["text"]] == measures
    assert [each["text"] for each in page.all("span", kind="f")] == fractions


def test_a_measure_alone_in_its_cell_is_set_large():
    page = read(WHOLE)
    assert [(each["text"], each["attrs"].get("class")) for each in page.all("td")] == [
        ("3 1/4 in", "hero"),
        ("by hand", None),
    ]


def test_the_faces_have_every_character_and_the_figures_of_fractions():
    text = document_html(WHOLE)
    seen = {char for each in Reader(text).elements if each["tag"] == "body" for char in each["text"] if char > " "}
    found = re.findall(r"font-family:(\w+)-face;font-weight:(\d+);src:url\(data:font/woff;base64,([^)]*)\)", text)
    assert [(family, int(weight)) for family, weight, _ in found] == [(face.family, face.weight) for face in WEB_FACES]
    for _, _, data in found:
        font = TTFont(BytesIO(base64.b64decode(data)))
        assert font.flavor == "woff"
        missing = {char for char in seen if ord(char) not in font.getBestCmap()}
        assert missing <= {"→"}  # stands in one face only
        assert {record.FeatureTag for record in font["GSUB"].table.FeatureList.FeatureRecord} >= {"frac"}


def test_the_same_document_gives_the_same_bytes():
    assert document_html(WHOLE) == document_html(WHOLE)
    face = WEB_FACES[0]
    assert web_font(face, frozenset("abc")) == web_font(face, frozenset("cba"))


def test_lettering_in_a_drawing_is_text_whose_fractions_read_as_typed():
    text = document_html(WHOLE)
    drawn = re.search(r'class="sans semibold">\n<text transform="matrix\([-0-9. ]+\)">(.*?)</text>', text)
    assert drawn is not None
    assert drawn[1] == '3<tspan class="gap"> </tspan><tspan class="f">1/4</tspan> in'
    assert re.sub("<[^>]*>", "", drawn[1]) == "3 1/4 in"


def test_a_drawing_is_the_same_one_as_the_picture_to_a_hundredth_of_a_millimetre():
    def points(data):
        return SvgPath(data).as_points()

    picture = re.findall(r' d="([^"]*)"', page_svg(BARE))
    drawn = re.findall(r' d="([^"]*)"', screen_svg(BARE, SEA_GREEN, "d1"))
    assert len(picture) == len(drawn) == 1
    for a, b in zip(points(picture[0]), points(drawn[0]), strict=True):
        assert abs(a.x - b.x / 100) <= 0.0051 and abs(a.y - b.y / 100) <= 0.0051


def test_lettering_stays_at_17_pixels_on_any_screen():
    text = document_html(Document(title="x", blocks=(Picture(page=LETTERED), Picture(page=BARE))))
    least = [int(width) for width in re.findall(r'<svg style="min-width:(\d+)px"', text)]
    assert len(least) == 1
    assert 11.0 * 25.4 / 72 * least[0] / 100 >= 17.0 > 11.0 * 25.4 / 72 * (least[0] - 1) / 100


@pytest.mark.parametrize("palette", [SEA_GREEN, palette_for("#7a1f2b"), same_on_both_sides(palette_for("#cfe1d7"))])
def test_on_a_dark_page_light_ink_stands_on_every_side_of_the_card(palette):
    dark = dark_palette(palette)
    for side in (dark.coloured, dark.coloured_shade):
        assert contrast(INK_DARK, side) >= INK_CONTRAST
    for side in (dark.plain, dark.plain_shade):
        assert contrast(INK_DARK, side) >= PLAIN_CONTRAST
    assert len({dark.coloured, dark.coloured_shade, dark.plain, dark.plain_shade}) == 4
    text = document_html(Document(title="x", blocks=(Picture(page=LETTERED),)), palette)
    for light, on_dark in DARK.items():
        assert f'.drawing [fill="{light}"]{{fill:{on_dark}}}' in text
    assert f'.drawing [fill="{palette.coloured}"]{{fill:{dark.coloured}}}' in text


def test_the_code_reads_back_with_a_decoder():
    text = document_html(Document(title="x", blocks=(Code(target="https://example.org/box?a=1&b=2", text="Here"),)))
    drawn = re.search(r'(<svg viewBox="0 0 (\d+) \d+" role="img".*?</svg>)', text, re.DOTALL)
    svg = drawn[1].replace(
        "<svg ", f'<svg xmlns="http://www.w3.org/2000/svg" width="{drawn[2]}mm" height="{drawn[2]}mm" '
    )
    side = Page(name="code", width_mm=float(drawn[2]), height_mm=float(drawn[2]), marks=(), alt="")
    found = zxingcpp.read_barcodes(Image.open(BytesIO(drawn_png(svg, side, width_px=600))))
    assert [each.text for each in found] == ["https://example.org/box?a=1&b=2"]
