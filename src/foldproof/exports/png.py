"""A page as a picture made of dots, for posts: the SVG picture, drawn at a width in pixels."""

from __future__ import annotations

from foldproof.drawing.records import Page
from foldproof.drawing.style import MM_PER_PT, SEA_GREEN, Palette
from foldproof.exports.numbers import decimal
from foldproof.exports.svg import PLACES, page_svg

POST_WIDTH_PX = 1600  # wide enough for a sharp picture on any post, small enough to send
POINTS_PER_INCH = 72.0
DRAWING = "drawing"
# The paper is as large as the drawing; the drawing comes in as text, so that no file is opened.
LEAF = (
    "#set page(width: {width}mm, height: {height}mm, margin: 0pt)\n"
    '#image(bytes(sys.inputs.drawing), format: "svg", width: 100%)\n'
)


def page_png(page: Page, *, palette: Palette = SEA_GREEN, width_px: int = POST_WIDTH_PX) -> bytes:
    """``page`` as a PNG (W3C, 2003) ``width_px`` wide, on white. The same page gives the same bytes."""
    return drawn_png(page_svg(page, palette=palette), page, width_px=width_px)


def drawn_png(drawn: str, page: Page, *, width_px: int = POST_WIDTH_PX) -> bytes:
    """As ``page_png``, for a page that is an SVG picture already."""
    import typst

    width_pt = page.width_mm / MM_PER_PT
    made = typst.compile(
        LEAF.format(width=decimal(page.width_mm, PLACES), height=decimal(page.height_mm, PLACES)).encode("utf-8"),
        format="png",
        ppi=width_px * POINTS_PER_INCH / width_pt,
        font_paths=[],
        ignore_system_fonts=True,
        sys_inputs={DRAWING: drawn},
    )
    assert isinstance(made, bytes), "one page is one picture"
    return made
