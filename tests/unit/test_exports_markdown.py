import html
import re

import pytest
from hypothesis import given
from hypothesis import strategies as st
from markdown_it import MarkdownIt

from foldproof.drawing.records import Document, Heading, Listing, Page, Paragraph, Picture, Table
from foldproof.drawing.wording import one_line
from foldproof.exports.markdown import document_markdown

BARE = Page(name="step 3", width_mm=10, height_mm=10, marks=(), alt="The [front] wall stands up.")


def document(*blocks, title="Steps"):
    return Document(title=title, blocks=blocks)


def rendered(text):
    return MarkdownIt("gfm-like", {"html": True, "linkify": False}).render(text)


def test_a_document_reads_as_written():
    text = document_markdown(
        document(
            Heading(text="Fold", level=1),
            Paragraph(text="Lay piece A plain side up."),
            Listing(items=("Score at 3 1/4.", "Turn."), numbered=True),
            Listing(items=("knife",)),
            Paragraph(text="The rim is level.", kind="check"),
            Paragraph(text="Not proved.", kind="not_proved"),
            Picture(page=BARE),
            Table(title="Cuts", columns=("piece", "size"), rows=(("tray", "10 3/4 in"),)),
        )
    )
    page = rendered(text)
    assert "<h1>Steps</h1>" in page and "<h2>Fold</h2>" in page
    assert "<ol>\n<li>Score at 3 1/4.</li>\n<li>Turn.</li>\n</ol>" in page
    assert "<blockquote>\n<p>✓ The rim is level.</p>" in page
    assert "✗ <strong>Not proved.</strong>" in page
    assert '<img src="step%203.svg" alt="The [front] wall stands up." />' in page
    assert "<td>10 3/4 in</td>" in page and "<th>piece</th>" in page


HOSTILE = [
    "<script>alert(1)</script>",
    "[x](http://bad.example)",
    "![x](http://bad.example/a.png)",
    "http://bad.example",
    "www.bad.example",
    "a | b",
    "`code` **bold** _it_ ~~gone~~",
    "# heading",
    "- item",
    "+ item",
    "1. item",
    "1) item",
    "> quote",
    "===",
    "---",
    "a\n\n# b",
    "&lt;b&gt; &amp;",
    "trailing \\",
    "<http://bad.example>",
    "a\x1b[31mb",
    "[x]: http://bad.example",
    "    indented",
    "~~~",
    "$x$ ^up^",
]
ALLOWED = {"h1", "p", "img", "ul", "li", "table", "thead", "tbody", "tr", "th", "td", "strong", "blockquote"}


@pytest.mark.parametrize("text", HOSTILE)
def test_what_people_typed_stays_text(text):
    page = rendered(
        document_markdown(
            document(
                Paragraph(text=text),
                Paragraph(text=text, kind="caution"),
                Listing(items=(text,)),
                Table(title=text, columns=(text, "size"), rows=((text, "1"),)),
                Picture(page=Page(name=text, width_mm=1, height_mm=1, marks=(), alt=text)),
                title=text,
            )
        )
    )
    assert set(re.findall(r"</?([a-z0-9]+)", page)) <= ALLOWED
    shown = one_line(text).strip()
    for tag in ("h1", "li", "td"):
        assert html.unescape(re.search(f"<{tag}>(.*?)</{tag}>", page)[1]) == shown


@given(st.text(min_size=1, max_size=30))
def test_any_paragraph_shows_exactly_its_text(text):
    page = rendered(document_markdown(document(Paragraph(text=text), title="t")))
    body = page.removeprefix("<h1>t</h1>\n").strip()
    shown = one_line(text).strip()
    assert html.unescape(body) == (f"<p>{shown}</p>" if shown else "")


@pytest.mark.parametrize(
    "text", ["http://bad.example", "https://bad.example", "www.bad.example", "ftp://bad.example"]
)
def test_addresses_do_not_turn_into_links(text):
    # readers that link bare addresses look for these very letters in the source
    assert text[:7] not in document_markdown(document(Paragraph(text=f"see {text}")))


def test_a_picture_s_file_cannot_leave_its_folder():
    page = Page(name="../a b)(<", width_mm=1, height_mm=1, marks=(), alt="x")
    assert "](..%2Fa%20b%29%28%3C.svg)" in document_markdown(document(Picture(page=page)))
