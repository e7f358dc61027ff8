"""A page as a picture made of dots, for posts: the SVG picture, drawn at a width in pixels."""

from __future__ import annotations

from collections.abc import Sequence
from functools import lru_cache

from foldproof.drawing.records import Page
from foldproof.drawing.style import MM_PER_PT, SEA_GREEN, Palette
from foldproof.exports.numbers import decimal
from foldproof.exports.svg import PLACES, page_svg

POST_WIDTH_PX = 1600  # wide enough for a sharp picture on any post, small enough to send
PICTURES_KEPT = 64  # about 100 kB each
POINTS_PER_INCH = 72.0
DRAWING = "drawing-{number}"
# The paper is as large as the drawing; the drawing comes in as text, so that no file is opened.
LEAF = (
    "#page(width: {width}mm, height: {height}mm, margin: 0pt, "
    'image(bytes(sys.inputs.at("{drawing}")), format: "svg", width: 100%))\n'
)


def page_png(page: Page, *, palette: Palette = SEA_GREEN, width_px: int = POST_WIDTH_PX) -> bytes:
    """``page`` as a PNG (W3C, 2003) ``width_px`` wide, on white. The same page gives the same bytes."""
    return drawn_png(page_svg(page, palette=palette), page, width_px=width_px)


def drawn_png(drawn: str, page: Page, *, width_px: int = POST_WIDTH_PX) -> bytes:
    """As ``page_png``, for a page that is an SVG picture already."""
    return drawn_pngs(((drawn, page),), width_px=width_px)[0]


def drawn_pngs(drawings: Sequence[tuple[str, Page]], *, width_px: int = POST_WIDTH_PX) -> tuple[bytes, ...]:
    """As ``drawn_png``, for several pages of one width, set in one go: each is the picture it is by itself.

    Pictures are remembered: in a pack that is made again most of them are what they were.
    """
    places = [_place_for(drawn, page.width_mm, page.height_mm, width_px) for drawn, page in drawings]
    new = [number for number, place in enumerate(places) if not place]
    if new:
        for number, picture in zip(new, _set([drawings[number] for number in new], width_px), strict=True):
            places[number][:] = [picture]
    return tuple(place[0] for place in places)


@lru_cache(maxsize=PICTURES_KEPT)
def _place_for(drawn: str, width_mm: float, height_mm: float, width_px: int) -> list[bytes]:
    """Where the picture of a drawing is kept: empty at first."""
    return []


def _set(drawings: Sequence[tuple[str, Page]], width_px: int) -> tuple[bytes, ...]:
    import typst

    widths = {page.width_mm for _, page in drawings}
    assert len(widths) == 1, "pages set together have one width"
    leaves = "".join(
        LEAF.format(
            width=decimal(page.width_mm, PLACES),
            height=decimal(page.height_mm, PLACES),
            drawing=DRAWING.format(number=number),
        )
        for number, (_, page) in enumerate(drawings)
    )
    made = typst.compile(
        leaves.encode("utf-8"),
        format="png",
        ppi=width_px * POINTS_PER_INCH * MM_PER_PT / widths.pop(),
        font_paths=[],
        ignore_system_fonts=True,
        sys_inputs={DRAWING.format(number=number): drawn for number, (drawn, _) in enumerate(drawings)},
    )
    pictures = (made,) if isinstance(made, bytes) else tuple(made or ())
    assert len(pictures) == len(drawings), "one page is one picture"
    return pictures
