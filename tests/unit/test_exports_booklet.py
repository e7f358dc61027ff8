"""Booklet and table card as files: PDF/UA-1 read by other libraries, text as it was typed, the same bytes each time."""

import io
import re

import pikepdf
import pypdf
import pytest
import typst
import zxingcpp
from PIL import Image

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
from foldproof.exports.booklet_pdf import A5, LIVE_MM, BookletLook, booklet_files, booklet_pdf
from foldproof.exports.table_card_pdf import table_card_files, table_card_pdf
from foldproof.exports.typeset import BREAK, installed_faces, legible, runs
from foldproof.service.faces import face_folder

HALF_LETTER = BookletLook(width_mm=139.7, height_mm=215.9, foot="A box", notice="Not proved: try it.", author="Ann")
SQUARE = Path(points=((5.0, 5.0), (45.0, 5.0), (45.0, 45.0), (5.0, 45.0)), closed=True)
PICTURE = Page(
    name="square",
    width_mm=LIVE_MM[0],
    height_mm=50.0,
    marks=(
        Area(paths=(SQUARE,), role="glue"),
        Stroke(path=SQUARE, role="cut"),
        Label(text="3 1/4 in", at=(50.0, 20.0), role="size", size_pt=14.0),
    ),
    alt="A square to cut, with glue.",
)
STEP = Step(
    number=1,
    title="Cut a square",
    text="Cut it 3 1/4 in (8.3 cm) wide.",
    check="Check: it is square.",
    if_not="If not: cut it again.",
    caution="A knife is sharp. Cut on a mat.",
    picture=PICTURE,
)
LINK = "https://example.org/boxes/tidepool?from=paper"
HOSTILE = (
    "#panic() `raw` *bold* _low_ $x^2$ <b>&amp; \\u{41} @ref = - + / // /* */ ~ [a] {b} \"q\" 'q' -- ... %p (1)",
    "#import \"x.typ\" <label> https://example.org/*x* #text(fill: red)[no]",
    "<script>alert(1)</script>",
)


def document(title="A box", *, words="Some words.", blocks=()):
    """A booklet with every kind of block."""
    return Document(
        title=title,
        blocks=(
            Picture(page=PICTURE),
            Paragraph(text=words),
            Paragraph(text="Proved. It closes.", kind="check"),
            PageBreak(),
            Heading(text="Before you start", level=1),
            Paragraph(text="A knife is sharp. Mind it.", kind="caution"),
            Paragraph(text="Scissors are sharp. Close them.", kind="caution"),
            Paragraph(text="Not proved: it leans.", kind="not_proved"),
            Listing(items=("A knife", "A rule")),
            Listing(items=("First", "Then"), numbered=True),
            Table(title="Sizes", columns=("What", "Size"), rows=(("Box", "3 1/4 in (8.3 cm)"),)),
            *blocks,
            STEP,
            PageBreak(),
            Code(target=LINK, text="Point a camera here:"),
        ),
    )


def card():
    """A table card."""
    return Document(
        title="A box",
        blocks=(
            Paragraph(text="table card"),
            Picture(page=Page(name="flat", width_mm=88.0, height_mm=50.0, marks=PICTURE.marks, alt="Flat.")),
            Table(title="", columns=("", ""), rows=(("Piece", "3 1/4 in square (8.3 cm)"), ("Tabs", "1/2 in"))),
            Picture(page=Page(name="up", width_mm=58.0, height_mm=50.0, marks=PICTURE.marks, alt="Walls up.")),
            Paragraph(text="Walls up"),
            Paragraph(text="Blade: metal rule.", kind="caution"),
        ),
    )


def text_of(data):
    """All text, a page a string, in one kind of space."""
    return [re.sub(r"\s+", " ", page.extract_text()) for page in pypdf.PdfReader(io.BytesIO(data)).pages]


def structure(data):
    """Every element of the structure tree: (kind, alternate text), in reading order."""
    found = []

    def walk(node):
        if isinstance(node, pikepdf.Array):
            for each in node:
                walk(each)
        elif isinstance(node, pikepdf.Dictionary):
            if "/S" in node:
                found.append((str(node.S), str(node.get("/Alt", ""))))
            if "/K" in node:
                walk(node.K)

    with pikepdf.open(io.BytesIO(data)) as pdf:
        walk(pdf.Root.StructTreeRoot.K)
    return found


@pytest.fixture(scope="module")
def made():
    return booklet_pdf(document(), look=HALF_LETTER)


@pytest.mark.parametrize(("look", "size"), [(A5, (148.0, 210.0)), (HALF_LETTER, (139.7, 215.9))])
def test_every_page_has_the_size_of_its_leaf(look, size):
    pages = pypdf.PdfReader(io.BytesIO(booklet_pdf(document(), look=look))).pages
    assert len(pages) >= 3
    for page in pages:
        assert [float(side) * 25.4 / 72 for side in page.mediabox[2:]] == pytest.approx(size, abs=0.01)


def test_it_says_that_it_is_pdf_ua_and_is_tagged(made):
    with pikepdf.open(io.BytesIO(made)) as pdf:
        with pdf.open_metadata() as metadata:
            assert metadata["pdfuaid:part"] == "1"
            assert metadata["dc:title"] == "A box"
        assert pdf.Root.MarkInfo.Marked
        assert str(pdf.Root.Lang) == "en"
        assert pdf.Root.ViewerPreferences.DisplayDocTitle
        assert str(pdf.docinfo.Author) == "Ann"
        assert "/CreationDate" not in pdf.docinfo and "/ModDate" not in pdf.docinfo


def test_the_structure_has_headings_figures_tables_lists_and_links(made):
    tags = structure(made)
    kinds = [kind.strip("/") for kind, _ in tags]
    assert kinds.count("H1") == 1 and kinds.count("H2") == 1 and kinds.count("H3") == 1
    assert kinds.count("TH") == 2 and kinds.count("TD") == 2
    assert kinds.count("LI") == 4 and kinds.count("L") == 2
    assert "Link" in kinds and "P" in kinds
    alts = [alt for kind, alt in tags if kind == "/Figure"]
    assert alts == [PICTURE.alt, PICTURE.alt, f"QR code of the link {LINK}"]


def test_text_reads_as_it_was_written(made):
    pages = text_of(made)
    assert "Cut it 3 1/4 in (8.3 cm) wide." in pages[1]
    assert "1 Cut a square" in pages[1]
    assert "Check: it is square. If not: cut it again." in pages[1]
    assert "A knife is sharp. Mind it. Scissors are sharp. Close them." in pages[1]
    assert "Box 3 1/4 in (8.3 cm)" in pages[1]
    assert "1. First 2. Then" in pages[1]
    assert LINK in pages[2].replace(" ", "")


def test_every_page_says_what_is_not_proved(made):
    assert all("Not proved: try it." in page for page in text_of(made))
    assert not any("Not proved: try it." in page for page in text_of(booklet_pdf(document(), look=A5)))


def test_pages_are_numbered_but_for_cover_and_back(made):
    ends = [page.replace("Not proved: try it. ", "") for page in text_of(made)]
    assert "2 A box" in ends[1]
    assert "A box 3" not in ends[2] and not ends[0].endswith(" 1")


def test_the_same_document_gives_the_same_bytes(made):
    assert booklet_pdf(document(), look=HALF_LETTER) == made
    assert booklet_pdf(document(words="Other words."), look=HALF_LETTER) != made


def test_the_service_s_faces_are_all_it_needs():
    """In a folder with one of each face the file has those faces and no others."""
    with face_folder() as folder:
        made = booklet_pdf(document(), look=HALF_LETTER, font_folders=(folder,))
        assert booklet_pdf(document(), look=HALF_LETTER, font_folders=(folder,)) == made
    fonts = set()
    with pikepdf.open(io.BytesIO(made)) as pdf:
        for page in pdf.pages:
            fonts |= {str(font.BaseFont).partition("+")[2] for font in page.Resources.Font.values()}
    assert {name.removesuffix("-Identity-H") for name in fonts} <= {
        "SourceSansPro-Regular",
        "SourceSansPro-Semibold",
        "SourceSerifPro-Regular",
        "SourceSerifPro-Semibold",
    }


@pytest.mark.parametrize("words", HOSTILE)
def test_what_was_typed_is_set_and_never_read(words):
    blocks = (
        Heading(text=words, level=1),
        Paragraph(text=words, kind="caution"),
        Listing(items=(words,)),
        Table(title=words, columns=(words, "b"), rows=((words, "c"),)),
    )
    pages = text_of(booklet_pdf(document(words, words=words, blocks=blocks), look=HALF_LETTER))
    plain = re.sub(r"\s+", "", words)
    shown = "".join(re.sub(r"\s+", "", page) for page in pages)
    assert shown.count(plain) >= 7


HEBREW_SHELL_ARABIC = "\u05d0\u05d1\u05d2 \U0001f41a \u0645\u0631"


@pytest.mark.parametrize("name", ["x" * 300, "Long words " * 27, HEBREW_SHELL_ARABIC, "e\u0301t\u0323\u0301", "日" * 9])
def test_names_that_the_face_lacks_or_no_line_holds(name):
    look = BookletLook(width_mm=139.7, height_mm=215.9, foot="", notice="")
    made = booklet_pdf(document(name), look=look)
    shown = re.sub(r"\s+", "", text_of(made)[0])
    expected = re.sub(r"\s+", "", legible(name)).replace(BREAK, "")
    # Letters that run to the left are read back in the order in which they stand.
    backwards = name.startswith("\u05d0") and sorted(shown[: len(expected)]) == sorted(expected)
    assert backwards or shown.startswith(expected)
    left, right = (139.7 - LIVE_MM[0]) / 2, (139.7 + LIVE_MM[0]) / 2
    for start, end in spans(made):
        assert left - 0.5 <= start and end <= right + 0.5


def spans(data):
    """Left and right of every letter, in mm."""
    import pdfplumber

    with pdfplumber.open(io.BytesIO(data)) as pdf:
        letters = [letter for page in pdf.pages for letter in page.chars if letter["text"].strip()]
        return [(letter["x0"] * 25.4 / 72, letter["x1"] * 25.4 / 72) for letter in letters]


def test_the_code_reads_back():
    files = booklet_files(document(), look=HALF_LETTER)
    pages = typst.compile(files, format="png", ppi=200, font_paths=installed_faces(), ignore_system_fonts=True)
    found = zxingcpp.read_barcodes(Image.open(io.BytesIO(pages[-1])))
    assert [(each.text, each.format) for each in found] == [(LINK, zxingcpp.BarcodeFormat.QRCode)]


def test_drawings_are_set_at_true_size(made):
    """The widest path of the square's outline is 40 mm on paper, as it was drawn."""
    import pdfplumber

    with pdfplumber.open(io.BytesIO(made)) as pdf:
        shapes = [*pdf.pages[1].rects, *pdf.pages[1].curves]
        widths = [(shape["x1"] - shape["x0"]) * 25.4 / 72 for shape in shapes]
    assert any(width == pytest.approx(40.0, abs=0.02) for width in widths)


def test_sizes_stay_whole_and_the_other_unit_is_soft():
    found = runs("Cut 3 1/4 in (8.3 cm), or -1/8 in of 12x12.")
    assert [run for run in found if run["kind"] == "size"] == [
        {"kind": "size", "soft": False, "sign": "", "whole": "3", "fraction": "1/4", "unit": " in"},
        {"kind": "size", "soft": True, "sign": "", "whole": "8.3", "fraction": "", "unit": " cm"},
        {"kind": "size", "soft": False, "sign": "-", "whole": "", "fraction": "1/8", "unit": " in"},
    ]
    told = "".join(run.get("text", "") or joined(run) for run in found)
    assert told == "Cut 3 1/4 in (8.3 cm), or -1/8 in of 12x12."


def joined(run):
    """A size as it is read."""
    space = " " if run["whole"] and run["fraction"] else ""
    return f"{run['sign']}{run['whole']}{space}{run['fraction']}{run['unit']}"


def test_what_no_face_has_is_told_by_its_name():
    assert legible("a\U0001f41ab") == "a\U0001f41ab"
    assert legible("a\u2605b") == "a[black star]b"
    assert legible("a\u65e5b") == "a[U+65E5]b"
    assert legible("1\ufe0f\u20e3") == "1"
    assert legible("x" * 50).replace(BREAK, "") == "x" * 50 and BREAK in legible("x" * 50)
    assert legible("one\ttwo\u00a0three") == "one two three"


# --- The table card -----------------------------------------------------------------------------------------


def test_a_card_is_one_page_on_its_side():
    look = BookletLook(width_mm=279.4, height_mm=215.9, foot="", notice="Not proved: try it.")
    (page,) = pypdf.PdfReader(io.BytesIO(table_card_pdf(card(), look=look))).pages
    assert [float(side) * 25.4 / 72 for side in page.mediabox[2:]] == pytest.approx((279.4, 215.9), abs=0.01)
    text = re.sub(r"\s+", " ", page.extract_text())
    for words in ("A box", "table card", "Piece 3 1/4 in square (8.3 cm)", "1 Walls up", "Blade: metal rule."):
        assert words in text
    assert "Not proved: try it." in text


def test_a_card_is_tagged_and_the_same_each_time():
    made = table_card_pdf(card())
    assert made == table_card_pdf(card())
    kinds = structure(made)
    assert [alt for kind, alt in kinds if kind == "/Figure"] == ["Flat.", "Walls up."]
    assert [kind for kind, _ in kinds].count("/H1") == 1
    assert {"/Table", "/P"} <= {kind for kind, _ in kinds}


def test_a_card_is_set_large():
    import pdfplumber

    with pdfplumber.open(io.BytesIO(table_card_pdf(card()))) as pdf:
        sizes = {round(c["size"], 1) for c in pdf.pages[0].chars if c["text"].strip()}
    assert min(sizes) >= 15.0 and 19.0 in sizes


def test_hostile_words_on_a_card():
    hostile = Document(
        title=HOSTILE[0],
        blocks=(*card().blocks[:2], Table(title="", columns=("", ""), rows=((HOSTILE[1], HOSTILE[2]),))),
    )
    text = "".join(page.replace(" ", "") for page in text_of(table_card_pdf(hostile)))
    for words in HOSTILE:
        assert re.sub(r"\s+", "", words) in text


def test_a_card_s_files_carry_no_words_in_the_template():
    files = table_card_files(card())
    assert b"Walls up" not in files["main.typ"] and b"Walls up" in files["table_card.json"]
