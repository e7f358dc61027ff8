"""Booklet and table card as the pack writes them, read by other libraries."""

import re

import pdfplumber
import pikepdf
import pypdf
import pytest
import zxingcpp

from foldproof.drawing.type import FRACTION
from foldproof.project.read import read_project
from foldproof.service.starting import example_text

NAMES = ("tidepool", "shell-tray", "pebble-metric", "gale-lid", "storm-tray")
LEAST_PT = 11.0
ROUNDED_PT = 0.01  # sizes are read back through matrices of few decimals
BOTH = ("booklet.pdf", "table-card.pdf")


def sheet_mm(page):
    return tuple(float(side) * 25.4 / 72 for side in page.mediabox[2:])


def figures(pdf):
    """The alternate text of every figure in the structure tree."""
    found, waiting = [], [pdf.Root.StructTreeRoot.K]
    while waiting:
        node = waiting.pop()
        if isinstance(node, pikepdf.Array):
            waiting += list(node)
        elif isinstance(node, pikepdf.Dictionary):
            if node.get("/S") == "/Figure":
                found.append(str(node.get("/Alt", "")))
            if "/K" in node:
                waiting.append(node.K)
    return found


@pytest.mark.parametrize("name", NAMES)
def test_leaves_are_half_of_the_printer_s_paper(packs, name):
    folder, _ = packs[name]
    inches = read_project(example_text(name)).ruler.unit == "in"
    for page in pypdf.PdfReader(folder / "booklet.pdf").pages:
        assert sheet_mm(page) == pytest.approx((139.7, 215.9) if inches else (148.0, 210.0), abs=0.01)
    (card,) = pypdf.PdfReader(folder / "table-card.pdf").pages
    assert sheet_mm(card) == pytest.approx((279.4, 215.9) if inches else (297.0, 210.0), abs=0.01)


@pytest.mark.parametrize("name", NAMES)
@pytest.mark.parametrize("file", BOTH)
def test_files_are_pdf_ua_and_every_figure_has_words(packs, name, file):
    with pikepdf.open(packs[name][0] / file) as pdf:
        with pdf.open_metadata() as metadata:
            assert metadata["pdfuaid:part"] == "1"
        assert pdf.Root.MarkInfo.Marked and str(pdf.Root.Lang) == "en"
        assert pdf.Root.ViewerPreferences.DisplayDocTitle
        alts = figures(pdf)
        drawn = sum(
            str(operator) == "Do" for page in pdf.pages for _, operator in pikepdf.parse_content_stream(page)
        )
        assert "/CreationDate" not in pdf.docinfo
    assert len(alts) >= 5 and all(len(alt) > 10 for alt in alts)
    assert len(alts) >= drawn, "a drawing stands outside the structure"


@pytest.mark.parametrize("name", NAMES)
@pytest.mark.parametrize("file", BOTH)
def test_no_text_is_smaller_than_eleven_points(packs, name, file):
    with pdfplumber.open(packs[name][0] / file) as pdf:
        letters = {(letter["text"], letter["size"]) for page in pdf.pages for letter in page.chars}
    assert {(text, size) for text, size in letters if size < LEAST_PT - ROUNDED_PT} == set()


@pytest.mark.parametrize("name", NAMES)
@pytest.mark.parametrize("file", BOTH)
def test_fractions_copy_out_with_their_space(packs, name, file):
    """No '31/4' for '3 1/4': every fraction is proper, one of a ruler, and parted from its whole number."""
    text = " ".join(page.extract_text() for page in pypdf.PdfReader(packs[name][0] / file).pages)
    assert not re.search("[\u2044\u00bc-\u00be\u2150-\u215e\u202f\u200b]", text)
    found = list(FRACTION.finditer(text))
    assert len(found) == len(re.findall(r"\d/\d", text)) > 5
    for fraction in found:
        assert int(fraction["above"]) < int(fraction["below"])


@pytest.mark.parametrize("file", BOTH)
def test_nothing_runs_off_the_paper(packs, file):
    for name in NAMES:
        with pdfplumber.open(packs[name][0] / file) as pdf:
            for page in pdf.pages:
                letters = [letter for letter in page.chars if letter["text"].strip()]
                assert all(letter["x0"] > 0 and letter["x1"] < page.width for letter in letters)
                assert all(letter["top"] > 0 and letter["bottom"] < page.height for letter in letters)


@pytest.mark.parametrize("name", NAMES)
def test_no_page_is_left_nearly_empty_by_one_line(packs, name):
    """But for the back, a page has more than one line of text or a drawing."""
    with pdfplumber.open(packs[name][0] / "booklet.pdf") as pdf:
        for page in pdf.pages[:-1]:
            lines = {round(letter["top"]) for letter in page.chars}
            assert len(lines) > 3 or len(page.curves) + len(page.rects) + len(page.lines) > 3, page.page_number


def test_two_packs_have_the_same_bytes(packs, examples, run, tmp_path):
    run("pack", examples["shell-tray"], "-o", tmp_path / "again")
    for file in BOTH:
        assert (tmp_path / "again" / file).read_bytes() == (packs["shell-tray"][0] / file).read_bytes()


def test_a_link_is_printed_as_a_code_that_reads_back(run, tmp_path):
    """From the project file to a camera: the back page as another library draws it."""
    link = "https://example.org/club/boxes?name=shell%20tray"
    path = tmp_path / "linked.toml"
    path.write_text(example_text("shell-tray").replace("maker =", f'link = "{link}"\nmaker ='), encoding="utf-8")
    assert run("pack", path, "-o", tmp_path / "pack").code == 0
    with pdfplumber.open(tmp_path / "pack" / "booklet.pdf") as pdf:
        back = pdf.pages[-1].to_image(resolution=200).original
    (code,) = zxingcpp.read_barcodes(back)
    assert code.text == link


@pytest.mark.parametrize("name", ["Shells #1 *new* `x` <b>$y$</b> @z \\\\n", "W" * 300])
def test_hostile_names_are_set_as_they_were_typed(run, tmp_path, name):
    path = tmp_path / "named.toml"
    text = example_text("shell-tray")
    path.write_text(re.sub(r'name = "Shell tray"', lambda _: f'name = "{name}"', text), encoding="utf-8")
    assert run("pack", path, "-o", tmp_path / "pack").code == 0
    typed = read_project(path.read_text(encoding="utf-8")).name
    for file in BOTH:
        first = pypdf.PdfReader(tmp_path / "pack" / file).pages[0].extract_text()
        assert re.sub(r"\s+", "", typed) in re.sub(r"\s+", "", first)
