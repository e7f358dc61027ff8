"""The booklet for the printer: page order, true size, readable text, the same bytes each time."""

import io
from functools import cache

import pikepdf
import pypdf
import pytest

from foldproof.drawing.records import Document, PageBreak, Paragraph
from foldproof.exports.booklet_pdf import A5, BookletLook, booklet_pdf
from foldproof.exports.imposed_pdf import booklet_order, imposed_pdf
from foldproof.words.catalogue import ENGLISH

A4_MM, LETTER_MM = (297.0, 210.0), (279.4, 215.9)
HALF_LETTER = BookletLook(width_mm=139.7, height_mm=215.9, foot="A box")
PT_PER_MM = 72.0 / 25.4


@cache
def booklet(count, look=A5):
    blocks = [Paragraph(text="Leaf number 1.")]
    for number in range(2, count + 1):
        blocks += [PageBreak(), Paragraph(text=f"Leaf number {number}.")]
    return booklet_pdf(Document(title="A <box> & more", blocks=tuple(blocks)), look=look)


def imposed(count, look=A5, sheet_mm=A4_MM):
    return imposed_pdf(booklet(count, look), sheet_mm=sheet_mm, document_id=b"test")


def read_when_folded(sides):
    """Pages in reading order, of sheets laid on each other with the first outermost, and folded.

    A sheet turned on its short edge has the left half of its inner side behind the right half of its outer side: the
    leaf at the right of the fold has these two, and lies in front when it is folded.
    """
    sheets = list(zip(sides[::2], sides[1::2], strict=True))
    front = [page for outer, inner in sheets for page in (outer[1], inner[0])]
    back = [page for outer, inner in reversed(sheets) for page in (inner[1], outer[0])]
    return front + back


@pytest.mark.parametrize("count", [1, 2, 3, 4, 5, 7, 8, 12, 30, 31, 32])
def test_folded_sheets_read_in_order_with_blanks_before_the_back(count):
    order = booklet_order(count)
    read = read_when_folded(order)
    assert len(read) == 4 * -(-count // 4) == 2 * len(order)
    blanks = len(read) - count
    assert read == [*range(count - 1), *[None] * blanks, count - 1]


@pytest.mark.parametrize(
    ("count", "order"),
    [
        (4, ((3, 0), (1, 2))),
        (8, ((7, 0), (1, 6), (5, 2), (3, 4))),
        (12, ((11, 0), (1, 10), (9, 2), (3, 8), (7, 4), (5, 6))),
    ],
)
def test_the_order_of_whole_sheets(count, order):
    assert booklet_order(count) == order


def test_thirty_pages_have_two_blanks_beside_the_back():
    order = booklet_order(30)
    assert len(order) == 16
    assert order[:4] == ((29, 0), (1, None), (None, 2), (3, 28))
    assert order[-1] == (15, 16)


@pytest.mark.parametrize("count", [4, 8, 12, 30])
def test_the_text_of_each_side_is_that_of_its_pages_from_left_to_right(count):
    pages = pypdf.PdfReader(io.BytesIO(imposed(count))).pages
    source = pypdf.PdfReader(io.BytesIO(booklet(count))).pages
    assert len(source) == count
    order = booklet_order(count)
    assert len(pages) == len(order)
    for page, side in zip(pages, order, strict=True):
        expected = [source[number].extract_text().split() for number in side if number is not None]
        assert page.extract_text().split() == [word for words in expected for word in words]


@pytest.mark.parametrize(
    ("look", "sheet_mm", "left_mm", "middle_mm"), [(A5, A4_MM, 0.5, 148.5), (HALF_LETTER, LETTER_MM, 0.0, 139.7)]
)
def test_pages_are_placed_unscaled_with_the_fold_between_them(look, sheet_mm, left_mm, middle_mm):
    with pikepdf.open(io.BytesIO(imposed(8, look, sheet_mm))) as pdf:
        for page in pdf.pages:
            assert [float(edge) / PT_PER_MM for edge in page.mediabox] == pytest.approx([0.0, 0.0, *sheet_mm], abs=1e-3)
            moves, drawn = [], []
            for operands, operator in pikepdf.parse_content_stream(page):
                if str(operator) == "cm":
                    assert [float(part) for part in operands[:4]] == [1.0, 0.0, 0.0, 1.0]
                    moves.append([float(part) / PT_PER_MM for part in operands[4:]])
                if str(operator) == "Do":
                    drawn.append(page.Resources.XObject[str(operands[0])])
            assert [x for x, _ in moves] == pytest.approx([left_mm, middle_mm], abs=1e-3)
            assert [y for _, y in moves] == pytest.approx([0.0, 0.0], abs=1e-3)
            for form in drawn:
                assert "/Matrix" not in form or [float(part) for part in form.Matrix] == [1, 0, 0, 1, 0, 0]
                size = [float(edge) / PT_PER_MM for edge in form.BBox]
                assert size == pytest.approx([0.0, 0.0, look.width_mm, look.height_mm], abs=1e-3)


def test_each_page_is_in_the_file_once():
    with pikepdf.open(io.BytesIO(imposed(8))) as pdf:
        forms = [form.objgen for page in pdf.pages for form in page.Resources.XObject.values()]
        assert len(forms) == len(set(forms)) == 8


def test_how_to_print_is_told_to_people_and_printers():
    reader = pypdf.PdfReader(io.BytesIO(imposed(4)))
    assert dict(reader.metadata) == {"/Title": "A <box> & more", "/Subject": ENGLISH.page.print_how}
    told = reader.trailer["/Root"]["/ViewerPreferences"]
    assert (told["/PrintScaling"], told["/Duplex"]) == ("/None", "/DuplexFlipShortEdge")
    assert reader.trailer["/Root"]["/Lang"] == "en"
    assert all(ENGLISH.page.print_how not in page.extract_text() for page in reader.pages)


def test_same_booklet_same_bytes_and_no_date():
    assert imposed(8) == imposed(8)
    assert imposed(8) != imposed_pdf(booklet(8), sheet_mm=A4_MM, document_id=b"other")
    assert b"/CreationDate" not in imposed(8) and b"/ModDate" not in imposed(8)


def test_pages_larger_than_half_a_sheet_are_our_own_mistake():
    with pytest.raises(AssertionError, match="larger than the sheet"):
        imposed(4, A5, LETTER_MM)
