"""A booklet's pages two by two on sheets of printer paper, so that they fold into the booklet.

Printed on both sides and turned on the short edge, the sheets lie in order; nothing is scaled. This file is for the
printer alone: who reads with a screen reader takes the booklet itself.
"""

from __future__ import annotations

import hashlib

from foldproof.drawing.style import MM_PER_PT
from foldproof.exports.numbers import decimal
from foldproof.words.catalogue import ENGLISH, Language

PLACES = 4  # decimals of a point: finer than a ten-thousandth of a millimetre
PAGES_A_SHEET = 4
# A sheet's side as it is given in mm and a leaf's in points may differ by float noise, never by a printed dot.
NOISE_MM = 0.01

Side = tuple[int | None, int | None]  # the pages at the left and the right of the fold, from 0; None is a blank


def booklet_order(count: int) -> tuple[Side, ...]:
    """Which of ``count`` pages lie on each side of the sheets: outer, inner, outer, inner, from the cover inwards.

    The pages are filled up to whole sheets with blanks before the last page, which stays the back.
    """
    assert count > 0, "a booklet has pages"
    blanks: list[int | None] = [None] * (-count % PAGES_A_SHEET)
    pages = [*range(count - 1), *blanks, count - 1]
    found: list[Side] = []
    for outer in range(0, len(pages) // 2, 2):
        found.append((pages[-1 - outer], pages[outer]))
        found.append((pages[outer + 1], pages[-2 - outer]))
    return tuple(found)


def imposed_pdf(
    booklet: bytes, *, sheet_mm: tuple[float, float], document_id: bytes, language: Language = ENGLISH
) -> bytes:
    """The booklet for a printer: the pages of a PDF, which have one size, at true size on both sides of sheets.

    ``sheet_mm`` is (width, height) of the paper on its side. The pages meet in the middle, where the paper is folded;
    what it is wider or higher than they are is bare paper. ``document_id`` names the document in its trailer. It
    carries no date: the same booklet gives the same bytes.
    """
    import io

    import pikepdf

    made = pikepdf.new()
    with pikepdf.open(io.BytesIO(booklet)) as source:
        boxes = [tuple(float(edge) for edge in page.mediabox) for page in source.pages]
        assert len(set(boxes)) == 1, "the pages have one size"
        forms = [made.copy_foreign(page.as_form_xobject()) for page in source.pages]
        title, spoken = source.docinfo.get("/Title"), source.Root.get("/Lang")
        width, height = (side / MM_PER_PT for side in sheet_mm)
        left, low, right, high = boxes[0]
        over_mm = max(2.0 * (right - left) - width, high - low - height) * MM_PER_PT
        assert over_mm <= NOISE_MM, "two pages are larger than the sheet"
        bottom = 0.5 * (height - (high - low)) - low
        for side in booklet_order(len(forms)):
            page = made.add_blank_page(page_size=(round(width, PLACES), round(height, PLACES)))
            starts = (0.5 * width - right, 0.5 * width - left)
            placed = {
                f"/Page{number + 1}": (forms[number], start)
                for number, start in zip(side, starts, strict=True)
                if number is not None
            }
            page.Resources = pikepdf.Dictionary(
                XObject=pikepdf.Dictionary({name: form for name, (form, _) in placed.items()})
            )
            drawn = "".join(
                f"q 1 0 0 1 {decimal(start, PLACES)} {decimal(bottom, PLACES)} cm {name} Do Q\n"
                for name, (_, start) in placed.items()
            )
            page.Contents = made.make_stream(drawn.encode("ascii"))
        made.docinfo[pikepdf.Name.Title] = pikepdf.String(str(title or ""))
        made.docinfo[pikepdf.Name.Subject] = pikepdf.String(language.page.print_how)
        if spoken is not None:
            made.Root.Lang = pikepdf.String(str(spoken))
    # Told to printers as well as to people, ISO 32000-1, table 150.
    made.Root.ViewerPreferences = pikepdf.Dictionary(
        DisplayDocTitle=True, PrintScaling=pikepdf.Name("/None"), Duplex=pikepdf.Name("/DuplexFlipShortEdge")
    )
    first_id = hashlib.sha256(document_id).digest()[:16]
    made.trailer.ID = pikepdf.Array([pikepdf.String(first_id), pikepdf.String(first_id)])
    written = io.BytesIO()
    made.save(written, deterministic_id=True, min_version="1.7", compress_streams=True)
    return written.getvalue()
