from io import BytesIO

import pytest
from PIL import Image

from foldproof.drawing.records import Area, Label, Page, Path, Stroke
from foldproof.drawing.style import channels, palette_for
from foldproof.exports.png import POST_WIDTH_PX, drawn_png, page_png
from foldproof.exports.svg import page_svg


def page(width_mm=160.0, height_mm=80.0):
    left = Path(points=((0.0, 0.0), (width_mm / 2, 0.0), (width_mm / 2, height_mm), (0.0, height_mm)), closed=True)
    low = Path(points=((0.0, 10.0), (width_mm, 10.0)))
    return Page(
        name="a drawing",
        width_mm=width_mm,
        height_mm=height_mm,
        marks=(Area(paths=(left,), role="coloured"), Stroke(path=low, role="cut")),
        alt="The left half is coloured.",
    )


def opened(data):
    return Image.open(BytesIO(data)).convert("RGB")


@pytest.mark.parametrize(("width_mm", "height_mm"), [(160.0, 80.0), (116.0, 96.0), (40.3, 127.7532222)])
def test_a_post_picture_is_1600_pixels_wide_and_keeps_its_shape(width_mm, height_mm):
    width, height = opened(page_png(page(width_mm, height_mm))).size
    assert abs(width - POST_WIDTH_PX) <= 1
    assert abs(height - POST_WIDTH_PX * height_mm / width_mm) <= 1.5


def test_colours_and_places_are_those_of_the_page():
    palette = palette_for("#cfe1d7")
    image = opened(page_png(page(), palette=palette, width_px=400))
    wanted = tuple(round(255 * channel) for channel in channels(palette.coloured))
    assert image.getpixel((100, 50)) == wanted
    assert image.getpixel((300, 50)) == (255, 255, 255)
    # The cut, 10 mm above the lower edge, is the darkest row of the right half.
    rows = [sum(image.getpixel((300, y))) for y in range(image.height)]
    assert abs(rows.index(min(rows)) - (80 - 10) * 400 / 160) <= 2


def test_the_same_page_gives_the_same_bytes():
    assert page_png(page(), width_px=200) == page_png(page(), width_px=200)
    assert page_png(page(), width_px=200) == drawn_png(page_svg(page()), page(), width_px=200)


def test_lettering_is_drawn_without_a_font_of_the_system():
    bare = page(100.0, 20.0)
    lettered = Page(
        name="x",
        width_mm=100.0,
        height_mm=20.0,
        marks=(Label(text="3 1/4 in <b>", at=(60.0, 5.0), role="size", size_pt=20.0),),
        alt="",
    )
    image = opened(page_png(lettered, width_px=400))
    dark = sum(sum(image.getpixel((x, y))) < 300 for x in range(240, 400) for y in range(80))
    assert dark > 200
    assert opened(page_png(bare, width_px=400)).size == image.size
