"""Pages by plain calls: whatever a text says, it is read back as that text and nothing else."""

import json
from html.parser import HTMLParser

import pytest
from hypothesis import example, given
from hypothesis import strategies as st

from foldproof.web.html import Markup, data_tag, document, tag

HOSTILE = '</script></p><img src=x onerror="a()"> & &amp; \' <!-- ]]> \\u003c'
# What a page can be given: a project's text holds no surrogates, and no NUL, which HTML cannot hold.
TEXTS = st.text(st.characters(exclude_categories=("Cs",), exclude_characters="\0\r"))


class Reader(HTMLParser):
    """What a page's markup says: elements with their attributes, and texts."""

    def __init__(self, page):
        super().__init__(convert_charrefs=True)
        self.elements, self.texts = [], []
        self.feed(page)
        self.close()

    def handle_starttag(self, name, attributes):
        self.elements.append((name, dict(attributes)))

    def handle_data(self, data):
        self.texts.append(data)

    def handle_comment(self, data):
        raise AssertionError(f"a comment: {data}")

    @property
    def text(self):
        return "".join(self.texts)


@given(text=TEXTS, value=TEXTS)
@example(text=HOSTILE, value=HOSTILE)
def test_a_text_is_only_ever_a_text(text, value):
    read = Reader(tag("p", text, tag("b", [text]), title=value, data_name=value).text)
    assert read.elements == [("p", {"title": value, "data-name": value}), ("b", {})]
    assert read.text == text + text


@given(
    st.recursive(
        st.none() | st.booleans() | st.integers() | TEXTS,
        lambda inner: st.lists(inner, max_size=3) | st.dictionaries(TEXTS, inner, max_size=3),
        max_leaves=8,
    )
)
@example(HOSTILE)
@example({HOSTILE: [HOSTILE, "<!--<script>"]})
def test_data_cannot_end_its_own_element_and_is_read_back(data):
    made = data_tag("desk", data).text
    head, inside, tail = (
        made.partition(">")[0],
        made[made.index(">") + 1 : -len("</script>")],
        made[-len("</script>") :],
    )
    assert head == '<script type="application/json" id="desk"' and tail == "</script>"
    assert not set("<>&") & set(inside)
    assert json.loads(inside) == data


def test_numbers_that_json_has_none_of_are_a_fault_of_ours():
    with pytest.raises(ValueError):
        data_tag("desk", {"margin": float("nan")})


def test_attributes_that_are_left_out_and_those_that_stand_alone():
    made = tag("input", id="file", hidden=True, checked=False, list=None, class_="value", for_="x", aria_label="a")
    assert made == Markup('<input id="file" hidden class="value" for="x" aria-label="a">')


def test_children_may_be_nested_and_none():
    assert tag("p", "a", None, ["b", [tag("i", "c")], None]).text == "<p>ab<i>c</i></p>"


def test_a_page_has_its_language_its_modules_and_no_script_of_its_own():
    page = document(title=HOSTILE, language="en", body=["text"], modules=("desk.js",), data=[data_tag("a", HOSTILE)])
    read = Reader(page)
    assert ("html", {"lang": "en"}) in read.elements
    scripts = [attributes for name, attributes in read.elements if name == "script"]
    assert scripts == [
        {"type": "module", "src": "/static/desk.js"},
        {"type": "application/json", "id": "a"},
    ], "the page's policy lets no script run that stands in it"
    assert "img" not in [name for name, _ in read.elements]
