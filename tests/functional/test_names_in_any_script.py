"""Names in other scripts: a pack of a project named in Arabic and Hebrew, with a little picture, shows real letters."""

import io
import re
from importlib.resources import files

import pdfplumber
import pikepdf
import pypdf
import pytest
from fontTools.ttLib import TTFont

from foldproof.design.pack import pack
from foldproof.drawing.scripts import named
from foldproof.project.read import read_project

NAME = "صندوق المد 🐚 קופסה"
MAKER = "ליאת وليلى 日"
CARD = "بحر 🌊"
LETTERS = set(NAME) - {" "}


@pytest.fixture(scope="module")
def made():
    text = files("foldproof").joinpath("examples", "storm-tray.toml").read_text(encoding="utf-8")
    text = re.sub(r'^name = "Storm tray"', f'name = "{NAME}"', text, count=1, flags=re.MULTILINE)
    text = re.sub(r'^maker = .*', f'maker = "{MAKER}"', text, count=1, flags=re.MULTILINE)
    text = re.sub(r'(\[cardstock\]\n)name = .*', rf'\1name = "{CARD}"', text, count=1)
    project = read_project(text)
    assert (project.name, project.maker, project.cardstock.name) == (NAME, MAKER, CARD)
    return {file.path: file.data for file in pack(project, text).files}


def pdfs(made):
    return {path: data for path, data in made.items() if path.endswith(".pdf")}


def glyphs_used(data):
    """(font, number of the glyph in its file) of everything shown in a PDF, forms in forms too."""
    with pikepdf.open(io.BytesIO(data)) as pdf:
        found = set()
        for page in pdf.pages:
            _gather(page.obj, page.obj.get("/Resources"), found)
        return found


def _gather(holder, resources, found):
    if resources is None:
        return
    fonts = resources.get("/Font", {})
    font = None
    for operands, operator in pikepdf.parse_content_stream(holder):
        if str(operator) == "Tf":
            font = fonts[str(operands[0])]
        elif str(operator) in ("Tj", "TJ"):
            shown = operands[0] if str(operator) == "TJ" else [operands[0]]
            for part in shown:
                if isinstance(part, pikepdf.String):
                    found |= {(str(font.BaseFont), number) for number in _numbers(font, bytes(part))}
    for form in resources.get("/XObject", {}).values():
        if form.get("/Subtype") == "/Form":
            _gather(form, form.get("/Resources"), found)


def _numbers(font, codes):
    (descendant,) = font.DescendantFonts
    places = descendant.get("/CIDToGIDMap")
    table = places.read_bytes() if isinstance(places, pikepdf.Stream) else None
    for at in range(0, len(codes), 2):
        code = int.from_bytes(codes[at : at + 2], "big")
        yield code if table is None else int.from_bytes(table[2 * code : 2 * code + 2], "big")


def test_every_pdf_shows_letters_and_none_of_them_is_the_box_for_nothing(made):
    assert len(pdfs(made)) >= 5
    for path, data in pdfs(made).items():
        used = glyphs_used(data)
        assert used, path
        assert not [font for font, number in used if number == 0], path


def test_every_pdf_reads_back_the_letters_of_the_name(made):
    for path, data in pdfs(made).items():
        with pdfplumber.open(io.BytesIO(data)) as pdf:
            seen = {char for page in pdf.pages for each in page.chars for char in each["text"]}
        assert seen >= LETTERS, path
        assert not seen & {"\ufffd", "\u2610", "\u25a1"}, path


def test_the_name_comes_from_faces_that_are_in_the_file(made):
    for path in ("score-plan.pdf", "templates.pdf", "booklet.pdf", "table-card.pdf"):
        fonts = {font for font, _ in glyphs_used(made[path])}
        for family in ("NotoSansArabic", "NotoSansHebrew", "NotoEmoji"):
            assert any(family in font for font in fonts), (path, family)


def test_glyphs_in_the_sheets_have_outlines_and_joined_forms(made):
    """The last letters of a word are joined to the ones before, so a joined form is among them."""
    with pikepdf.open(io.BytesIO(made["score-plan.pdf"])) as pdf:
        fonts = pdf.pages[0].Resources.Font
        arabic = next(font for font in fonts.values() if "NotoSansArabic" in str(font.BaseFont))
        program = bytes(arabic.DescendantFonts[0].FontDescriptor.FontFile2.read_bytes())
        opened = TTFont(io.BytesIO(program))
        glyphs = [opened["glyf"][name] for name in opened.getGlyphOrder()[1:]]
    assert len(glyphs) >= 8
    assert sum(glyph.numberOfContours != 0 for glyph in glyphs) >= len(glyphs) - 1, "only the space is bare"


def test_what_no_face_has_is_named_not_boxed(made):
    cover = pypdf.PdfReader(io.BytesIO(made["booklet.pdf"])).pages[0].extract_text()
    assert named("日") == "[U+65E5]"
    assert "[U+65E5]" in re.sub(r"\s+", "", cover)


def test_text_files_and_the_page_keep_the_name_as_it_was_typed(made):
    for path in ("booklet.html", "steps.md", "post.md", "proof.txt", "proof.json", "pack.json"):
        text = made[path].decode("utf-8")
        assert NAME in text or NAME.encode("ascii", "backslashreplace").decode() in text, path


def test_the_title_of_every_pdf_is_the_name(made):
    for path, data in pdfs(made).items():
        assert NAME in pypdf.PdfReader(io.BytesIO(data)).metadata.title, path
