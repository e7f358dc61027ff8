import io
import math
from itertools import pairwise

import pdfplumber
import pikepdf
import pypdf
import pytest
from pypdf.generic import ContentStream

from foldproof.drawing.records import Area, Folio, Label, Page, Path, Stroke
from foldproof.drawing.style import MM_PER_PT
from foldproof.exports.pdf import folio_pdf

SQUARE = Path(points=((20, 20), (102.55, 20), (102.55, 102.55), (20, 102.55)), closed=True)
MARKS = (
    Area(paths=(SQUARE,), role="waste"),
    Area(paths=(SQUARE,), role="glue"),
    Stroke(path=SQUARE, role="cut", name="base"),
    Stroke(path=Path(points=((20, 60), (102.55, 60))), role="valley"),
    Stroke(path=Path(points=((60, 20), (60, 102.55))), role="mountain"),
    Stroke(path=Path(points=((20, 10), (102.55, 10))), role="dimension"),
    Label(text="3 1/4 in", at=(61.275, 11), role="size", size_pt=13, anchor="middle"),
    Label(text="fold-in, 1 1/2", at=(15, 60), role="label", size_pt=11, angle_deg=90),
    Label(text="10 11/16 and 5/32", at=(20, 150), role="note", size_pt=11),
    Label(text="Tidepool keepsake box", at=(20, 170), role="title", size_pt=21),
)


def folio(*pages, title="Tidepool keepsake box", language="en"):
    return Folio(title=title, pages=pages, language=language)


def sheet(*marks, width_mm=215.9, height_mm=279.4, alt="The base and its four folds."):
    return Page(name="base", width_mm=width_mm, height_mm=height_mm, marks=marks, alt=alt)


def written(*pages, **describe):
    return folio_pdf(folio(*pages, **describe), document_id=b"tidepool")


@pytest.mark.parametrize(("width", "height"), [(215.9, 279.4), (210, 297), (304.8, 304.8)])
def test_a_page_has_its_true_size(width, height):
    data = written(sheet(*MARKS, width_mm=width, height_mm=height))
    box = pypdf.PdfReader(io.BytesIO(data)).pages[0].mediabox
    assert float(box.width) * MM_PER_PT == pytest.approx(width, abs=1e-5)
    assert float(box.height) * MM_PER_PT == pytest.approx(height, abs=1e-5)


def test_letter_is_exactly_612_by_792_points():
    with pikepdf.open(io.BytesIO(written(sheet(*MARKS)))) as pdf:
        assert [float(edge) for edge in pdf.pages[0].MediaBox] == [0, 0, 612, 792]


def test_layers_carry_their_processing_step():
    # ISO 19593-1: GTS_Metadata with a group and, in the group Structural, a type, both as names
    with pikepdf.open(io.BytesIO(written(sheet(*MARKS)))) as pdf:
        found = {}
        for layer in pdf.Root.OCProperties.OCGs:
            assert layer.Type == "/OCG"
            metadata = layer.GTS_Metadata
            assert isinstance(metadata.GTS_ProcStepsGroup, pikepdf.Name)
            found[str(layer.Name)] = (
                str(metadata.GTS_ProcStepsGroup),
                str(metadata.get("/GTS_ProcStepsType", "")),
            )
        assert found == {
            "Drawing and notes": ("/Legend", ""),
            "Glue here": ("/Structural", "/Gluing"),
            "Score, fold up": ("/Structural", "/Creasing"),
            "Score, fold back": ("/Structural", "/ReverseCreasing"),
            "Cut": ("/Structural", "/Cutting"),
            "Sizes": ("/Dimensions", ""),
        }
        assert len(pdf.Root.OCProperties.D.Order) == 6
        assert pdf.Root.OCProperties.D.BaseState == "/ON"
        properties = pdf.pages[0].Resources.Properties
        assert {str(layer.Name) for layer in properties.values()} == set(found)


def test_only_steps_in_use_are_listed():
    with pikepdf.open(io.BytesIO(written(sheet(MARKS[2])))) as pdf:
        assert [str(layer.Name) for layer in pdf.Root.OCProperties.OCGs] == ["Cut"]


def test_everything_lies_in_a_layer_and_is_vector_or_text():
    painting = {"S", "f", "f*", "B", "B*", "s", "b", "TJ", "Tj"}
    with pikepdf.open(io.BytesIO(written(sheet(*MARKS)))) as pdf:
        depth, inside, painted = [], 0, 0
        for instruction in pikepdf.parse_content_stream(pdf.pages[0]):
            operator = str(instruction.operator)
            assert operator not in {"Do", "BI", "sh"}
            if operator == "BDC":
                depth.append(str(instruction.operands[0]))
            elif operator == "EMC":
                depth.pop()
            elif operator in painting:
                painted += 1
                inside += "/OC" in depth
        assert depth == []
        assert painted == inside > 8


def layer_lengths_mm(data):
    """Length of all stroked paths of every layer, read by a library that did not write the file."""
    reader = pypdf.PdfReader(io.BytesIO(data))
    page = reader.pages[0]
    names = {key: layer.get_object()["/Name"] for key, layer in page["/Resources"]["/Properties"].items()}
    stack, path, lengths = [], [], {}
    for operands, operator in ContentStream(page["/Contents"].get_object(), reader).operations:
        match operator:
            case b"BDC":
                stack.append(names.get(operands[1]) if operands[0] == "/OC" else None)
            case b"EMC":
                stack.pop()
            case b"m":
                path.append([tuple(map(float, operands))])
            case b"l":
                path[-1].append(tuple(map(float, operands)))
            case b"h":
                path[-1].append(path[-1][0])
            case b"S":
                total = sum(math.dist(a, b) for points in path for a, b in pairwise(points))
                lengths[stack[-1]] = lengths.get(stack[-1], 0) + total * MM_PER_PT
                path = []
            case b"f*":
                path = []
    return lengths


def test_lengths_of_every_layer_are_the_drawing_s():
    lengths = layer_lengths_mm(written(sheet(*MARKS)))
    assert lengths["Cut"] == pytest.approx(4 * 82.55, abs=0.01)
    assert lengths["Score, fold up"] == pytest.approx(82.55, abs=0.01)
    assert lengths["Score, fold back"] == pytest.approx(82.55, abs=0.01)
    assert lengths["Sizes"] == pytest.approx(82.55, abs=0.01)
    assert lengths["Glue here"] == 0  # dots have no length


def test_lines_lie_where_they_were_drawn():
    with pdfplumber.open(io.BytesIO(written(sheet(*MARKS)))) as pdf:
        scored = [
            line
            for line in pdf.pages[0].lines
            if abs(line["y0"] * MM_PER_PT - 60) < 0.01 > abs(line["height"])
        ]
        assert len(scored) == 1
        assert (scored[0]["x0"] * MM_PER_PT, scored[0]["x1"] * MM_PER_PT) == pytest.approx(
            (20, 102.55), abs=1e-3
        )


def test_fractions_copy_out_as_they_were_typed():
    # the trap: 3 1/4 copied out as 31/4 makes a wrong cut
    data = written(sheet(*MARKS))
    with pdfplumber.open(io.BytesIO(data)) as pdf:
        plumbed = pdf.pages[0].extract_text()
    for text in (plumbed, pypdf.PdfReader(io.BytesIO(data)).pages[0].extract_text()):
        assert "3 1/4 in" in text
        assert "10 11/16 and 5/32" in text
        assert "Tidepool keepsake box" in text
        assert "31/4" not in text and "1011/16" not in text
    assert "fold-in, 1 1/2" in pypdf.PdfReader(io.BytesIO(data)).pages[0].extract_text()


def test_fonts_are_embedded_subsets():
    with pikepdf.open(io.BytesIO(written(sheet(*MARKS)))) as pdf:
        fonts = pdf.pages[0].Resources.Font
        assert len(fonts) == 3  # sans, its semibold, serif semibold
        for font in fonts.values():
            (inner,) = font.DescendantFonts
            assert "+" in str(font.BaseFont)
            assert str(font.BaseFont) == str(inner.BaseFont) == str(inner.FontDescriptor.FontName)
            program = inner.FontDescriptor.FontFile2.read_bytes()
            assert program[:4] == b"\x00\x01\x00\x00"
            assert len(inner.CIDToGIDMap.read_bytes()) == 2 * len(inner.W[1])


def test_widths_are_those_of_the_embedded_glyphs():
    from fontTools.ttLib import TTFont

    with pikepdf.open(io.BytesIO(written(sheet(*MARKS)))) as pdf:
        for font in pdf.pages[0].Resources.Font.values():
            (inner,) = font.DescendantFonts
            program = TTFont(io.BytesIO(inner.FontDescriptor.FontFile2.read_bytes()))
            places = inner.CIDToGIDMap.read_bytes()
            order = program.getGlyphOrder()
            for code, width in enumerate(inner.W[1]):
                glyph = order[int.from_bytes(places[2 * code : 2 * code + 2], "big")]
                assert program["hmtx"][glyph][0] == int(width)


def test_title_language_alt_text_and_true_scale_printing():
    data = written(sheet(*MARKS), sheet(alt="Zweite Seite"), title="Schachtel <1> & Deckel", language="de")
    with pikepdf.open(io.BytesIO(data)) as pdf:
        assert pdf.Root.Lang == "de"
        assert pdf.Root.ViewerPreferences.DisplayDocTitle
        assert pdf.Root.ViewerPreferences.PrintScaling == pikepdf.Name("/None")
        assert str(pdf.docinfo.Title) == "Schachtel <1> & Deckel"
        assert pdf.open_metadata()["dc:title"] == "Schachtel <1> & Deckel"
        figures = list(pdf.Root.StructTreeRoot.K)
        assert [str(figure.Alt) for figure in figures] == ["The base and its four folds.", "Zweite Seite"]
        assert figures[0].Pg.objgen == pdf.pages[0].obj.objgen
        assert [page.StructParents for page in pdf.pages] == [0, 1]
        assert pdf.check_pdf_syntax() == []


def test_same_folio_same_bytes_and_the_id_tells_documents_apart():
    assert written(sheet(*MARKS)) == written(sheet(*MARKS))
    other = folio_pdf(folio(sheet(*MARKS)), document_id=b"another")
    assert other != written(sheet(*MARKS))
    assert b"Date" not in other


@pytest.mark.parametrize(
    "text",
    [
        "</svg> & <b>",
        "a\x07\x00b",
        "🐚 shell",
        "صندوق",
        ") Tj (",
        "\ud800",
        "",
        "   ",
        "\u202e1/4",
        "é" * 300,
    ],
)
def test_hostile_text_in_any_place(text):
    label = Label(text=text, at=(30, 30), role="label", size_pt=11)
    stroke = Stroke(path=SQUARE, role="cut", name=text)
    data = written(sheet(label, stroke, alt=text), title=text)
    shown = pypdf.PdfReader(io.BytesIO(data)).pages[0].extract_text()
    assert all(char in shown for char in text if char.isascii() and char.isprintable() and char != " ")
    with pikepdf.open(io.BytesIO(data)) as pdf:
        assert pdf.check_pdf_syntax() == []


def test_a_character_the_face_lacks_is_seen_and_still_copies_out():
    data = written(sheet(Label(text="a 🐚 b", at=(30, 30), role="label", size_pt=11)))
    assert "🐚" in pypdf.PdfReader(io.BytesIO(data)).pages[0].extract_text()


def test_a_folio_without_text_needs_no_font():
    with pikepdf.open(io.BytesIO(written(sheet(MARKS[2])))) as pdf:
        assert len(pdf.pages[0].Resources.Font) == 0


def test_places_must_be_finite():
    with pytest.raises(AssertionError):
        written(sheet(Stroke(path=Path(points=((0, 0), (math.nan, 1))), role="cut")))
