"""The booklet's page in a browser: a phone, a tablet and a screen, light and dark, and on paper."""

import html
import json
import re
from importlib.resources import files

import pypdf
import pytest

from foldproof.design.booklet import booklet_of
from foldproof.design.measure import measure
from foldproof.design.pack import _palette
from foldproof.design.prove import prove
from foldproof.design.steps import told_steps
from foldproof.design.telling import tell_proof
from foldproof.drawing.records import Document, Heading, Paragraph, Step, Table
from foldproof.drawing.style import TEXTS, contrast, hexed
from foldproof.drawing.type import set_line
from foldproof.exports.html import document_html
from foldproof.progress import unwatched
from foldproof.project.read import read_project

WIDTHS = (1280, 820, 390)
LEAST_TARGET_PX = 44  # what a finger hits: the look asks for it of every control
LEAST_CONTRAST = 4.5  # WCAG 2.1, 1.4.3
LARGE_CONTRAST = 3.0  # the same, for text of 24 px and more

# Written into a copy of the page; the page itself has no script, and forbids one.
MEASURE = """
document.fonts.ready.then(() => {
  const colour = (element) => {
    let each = element;
    while (each && getComputedStyle(each).backgroundColor === 'rgba(0, 0, 0, 0)') each = each.parentElement;
    return [getComputedStyle(element).color, getComputedStyle(each || document.body).backgroundColor];
  };
  const seen = (selector) => [...document.querySelectorAll(selector)];
  const box = (element) => { const r = element.getBoundingClientRect(); return [r.left, r.right, r.width, r.height]; };
  const fraction = seen('.f')[0];
  const formed = fraction && fraction.getBoundingClientRect().width;
  if (fraction) fraction.style.fontFeatureSettings = 'normal';
  const plain = fraction && fraction.getBoundingClientRect().width;
  if (fraction) fraction.style.fontFeatureSettings = '';
  const result = {
    inner: innerWidth, scroll: document.scrollingElement.scrollWidth,
    formed, plain,
    faces: [...document.fonts].map(f => [f.family, f.weight, f.status]),
    loaded: performance.getEntriesByType('resource').map(r => r.name.slice(0, 20)),
    steps: seen('.do').map(e => e.innerText), measures: seen('.n').map(e => e.innerText),
    headings: seen('h2').map(e => e.innerText), cells: seen('td').map(e => e.innerText),
    targets: seen('nav a, .ways a').map(e => [e.innerText, ...box(e)]),
    drawings: seen('.view').map(e => [...box(e), e.scrollWidth, e.scrollHeight, e.clientHeight]),
    colours: seen('h1, h2, h3, p, li, td, th, a, .other, .n').map(
      e => [e.className || e.tagName, parseFloat(getComputedStyle(e).fontSize), ...colour(e)]),
    letters: seen('.drawing text').map(
      e => [e.textContent, e.parentElement.getAttribute('class'), e.getComputedTextLength()]),
    sizes: seen('p, li, td, th, a').map(e => parseFloat(getComputedStyle(e).fontSize)),
  };
  const out = document.createElement('pre');
  out.id = 'measured';
  out.textContent = JSON.stringify(result);
  parent.document.body.append(out);
});
"""


WRAPPER = """<!DOCTYPE html><html><head><meta charset="utf-8"><style>:root {{ color-scheme: light dark }}
iframe {{ border: 0; width: {width}px; height: 900px }}</style></head>
<body><iframe srcdoc="{page}"></iframe></body></html>"""


def booklet(name, extra=""):
    text = files("foldproof").joinpath("examples", f"{name}.toml").read_text(encoding="utf-8")
    project = read_project(text + extra)
    measured = measure(project)
    proof = prove(measured)
    steps = told_steps(project, proof, unwatched)
    document = booklet_of(measured, proof, tell_proof(project, proof), steps)
    return document, document_html(document, _palette(project.cardstock))


@pytest.fixture(scope="module")
def tidepool():
    return booklet("tidepool")


def hostile():
    name = "<script>document.title='hit'</script>" + "W" * 300 + " \u05d0\u05d1\u05d2 3 1/4 in \U0001f41a"
    step = Step(number=1, title=name, text=name, check=name, if_not=name, caution=name)
    blocks = (
        Paragraph(text=name),
        Heading(text=name, level=1),
        step,
        Table(title=name, columns=(name, "b", "c"), rows=((name, name, "3 1/4 in"),)),
    )
    return document_html(Document(title=name, blocks=blocks))


@pytest.fixture
def measured_in(browser, tmp_path):
    def measured(text, width, dark=False):
        copy = re.sub(r'<meta http-equiv="Content-Security-Policy"[^>]*>', "", text)
        copy = copy.replace("</body>", f"<script>{MEASURE}</script></body>")
        # A frame is as narrow as a phone; a window is not.
        frame = WRAPPER.format(width=width, page=html.escape(copy))
        page = tmp_path / "page.html"
        page.write_text(frame, encoding="utf-8")
        scheme = f"--blink-settings=preferredColorScheme={0 if dark else 1}"
        dumped = browser("--window-size=1400,1000", scheme, "--virtual-time-budget=20000", "--dump-dom", page.as_uri())
        found = re.search(r'<pre id="measured">(.*?)</pre>', dumped, re.DOTALL)
        assert found, "the page was not measured"
        result = json.loads(html.unescape(found[1]))
        assert result["inner"] == width
        return result

    return measured


@pytest.mark.parametrize("width", WIDTHS)
def test_no_page_is_wider_than_its_screen(tidepool, measured_in, width):
    found = measured_in(tidepool[1], width)
    assert found["scroll"] <= width
    for left, right, *_ in found["drawings"]:
        assert left >= 0 and right <= width
    assert measured_in(hostile(), width)["scroll"] <= width


def test_a_phone_slides_drawings_with_lettering_and_shows_all_others_whole(tidepool, measured_in):
    drawings = measured_in(tidepool[1], 390)["drawings"]
    sliding = [scroll > width + 1 for _, _, width, _, scroll, _, _ in drawings]
    assert any(sliding) and not all(sliding)
    assert all(tall <= shown for *_, tall, shown in drawings)


def test_lettering_in_drawings_is_as_long_as_on_paper(tidepool, measured_in):
    letters = measured_in(tidepool[1], 1280)["letters"]
    roles = {look.face.replace("_", " "): role for role, look in TEXTS.items()}
    assert len(letters) > 100
    for text, face, length in letters:
        assert length == pytest.approx(set_line(text, roles[face]).width, rel=0.01, abs=20), text


def test_the_page_is_small_enough_to_send(tidepool):
    assert len(tidepool[1].encode("utf-8")) < 400_000


@pytest.mark.parametrize("width", WIDTHS)
def test_what_is_read_is_what_the_document_says(tidepool, measured_in, width):
    document, text = tidepool
    found = measured_in(text, width)
    assert found["steps"] == [block.text for block in document.blocks if isinstance(block, Step)]
    assert found["headings"] == [b.text for b in document.blocks if isinstance(b, Heading) and b.level == 1]
    cells = [cell for block in document.blocks if isinstance(block, Table) for row in block.rows for cell in row[1:]]
    assert found["cells"] == cells
    assert "10 3/4 in" in found["measures"] and "1 9/16 in" in found["measures"]


def test_fractions_are_formed_by_the_faces_that_travel_along(tidepool, measured_in):
    found = measured_in(tidepool[1], 820)
    assert found["formed"] < found["plain"] * 0.95
    assert all(status == "loaded" for _, _, status in found["faces"])
    assert len(found["faces"]) == 5


def test_nothing_is_asked_of_the_network_and_no_script_runs(browser, tidepool, measured_in, tmp_path):
    found = measured_in(tidepool[1], 820)
    assert all(name.startswith("data:") for name in found["loaded"])
    page = tmp_path / "untouched.html"
    page.write_text(hostile(), encoding="utf-8")
    title = re.search(r"<title>(.*?)</title>", browser("--dump-dom", page.as_uri()), re.DOTALL)[1]
    assert "hit" in title and title.startswith("&lt;script&gt;")


@pytest.mark.parametrize("width", WIDTHS)
def test_links_are_as_large_as_a_finger_and_text_as_large_as_the_look_asks(tidepool, measured_in, width):
    found = measured_in(tidepool[1], width)
    for name, _, _, wide, tall in found["targets"]:
        assert wide >= LEAST_TARGET_PX and tall >= LEAST_TARGET_PX, name
    assert min(found["sizes"]) >= 17


def _hex(colour):
    return hexed(tuple(int(part) / 255 for part in re.findall(r"\d+", colour)[:3]))


@pytest.mark.parametrize("dark", [False, True])
def test_text_stands_out_on_light_and_dark_pages(tidepool, measured_in, dark):
    found = measured_in(tidepool[1], 820, dark=dark)["colours"]
    backs = {_hex(back) for *_, back in found}
    assert backs == ({"#1c2024"} if dark else {"#f4f2ea"})
    for name, size_px, front, back in found:
        assert contrast(_hex(front), _hex(back)) >= (LARGE_CONTRAST if size_px >= 24 else LEAST_CONTRAST), name


def test_on_paper_every_step_stays_whole_and_light(browser, tidepool, tmp_path):
    document, text = tidepool
    page, printed = tmp_path / "booklet.html", tmp_path / "booklet.pdf"
    page.write_text(text, encoding="utf-8")
    browser("--no-pdf-header-footer", f"--print-to-pdf={printed}", page.as_uri())
    pages = [" ".join(each.extract_text().split()) for each in pypdf.PdfReader(printed).pages]
    steps = [block for block in document.blocks if isinstance(block, Step)]
    assert 3 < len(pages) < 3 * len(steps)
    for step in steps:
        assert any(step.text.split(".")[0] in each and step.if_not in each for each in pages), step.number
    assert not any("Next: step" in each for each in pages)
