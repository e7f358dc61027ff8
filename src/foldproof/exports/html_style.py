"""The look of a page of running text on a screen and on paper: colours, type and space, as one style sheet."""

from __future__ import annotations

import base64

from foldproof.drawing.style import (
    BOARD,
    EDGE,
    HAIRLINE,
    INK,
    INK_CONTRAST,
    MADDER,
    PAPER,
    SOFT,
    Palette,
    channels,
    contrast,
    hexed,
)
from foldproof.drawing.webfonts import WEB_FACES, web_font

INK_DARK = "#ece6d8"
PLAIN_CONTRAST = 7.0  # the plain side is told from the coloured one, which stands at least contrast, by its depth
FULLER = 2.0  # times as far from grey: a pale tint that is only made darker looks grey
SHADE_DARK = 0.86  # a side turned from the light keeps this share of it
SPACE_BESIDE_PX = 100  # of a page in one column beside a drawing: its margins, and the drawing's own edge
BESIDE_PX = 1100  # from this width on a drawing stands beside its words,
BESIDE_DRAWING_PX = 620  # and has this much room
DARK = {
    INK: INK_DARK,
    SOFT: "#b9b5a9",
    EDGE: "#8b8d88",
    HAIRLINE: "#4c5154",
    MADDER: "#f2998a",
    BOARD: "#343a3f",
}

SHEET = """
:root{color-scheme:light dark;--paper:#f4f2ea;--slip:#fdfcf7;--ink:#23262b;--soft:#565a5e;--edge:#827e70;
--hair:#bdb9ab;--woad:#27497d;--weld:#825000;--madder:#9c2b1e}
@media screen and (prefers-color-scheme:dark){:root{--paper:#1c2024;--slip:#272c31;--ink:#ece6d8;--soft:#b9b5a9;
--edge:#8b8d88;--hair:#4c5154;--woad:#a9c4f2;--weld:#e5b95c;--madder:#f2998a}}
*{box-sizing:border-box}
html{-webkit-text-size-adjust:100%;text-size-adjust:100%}
body{margin:0;background:var(--paper);color:var(--ink);font:400 18px/28px sans-face,Verdana,sans-serif;
overflow-wrap:anywhere}
header,main,footer{max-width:1180px;margin:0 auto;padding:0 40px}
h1,h2,h3,h4,h5,h6,p,ul,ol,figure{margin:0;text-wrap:pretty}
h1,h2{font-family:serif-face,Georgia,serif;font-weight:300}
h1{font-size:48px;line-height:56px;padding-top:56px;margin-bottom:28px;max-width:22em}
h2{font-size:40px;line-height:48px;margin:84px 0 28px}
h3{font-size:27px;line-height:34px;font-weight:600;margin:42px 0 14px;font-family:serif-face,Georgia,serif}
h4,h5,h6{font-size:20px;line-height:28px;font-weight:600;margin:28px 0 7px}
p{max-width:36em;margin:0 0 14px}
ul,ol{margin:0 0 28px;padding-left:1.2em;max-width:36em}
li{margin-bottom:7px}
a{color:var(--woad);text-underline-offset:3px}
:focus-visible{outline:3px solid var(--woad);outline-offset:3px}
.skip{position:absolute;left:-9999px}
.skip:focus{left:16px;top:16px;background:var(--slip);padding:8px 16px;z-index:1}
.hidden{position:absolute;width:1px;height:1px;overflow:hidden;clip-path:inset(50%);white-space:nowrap}
.n{white-space:nowrap;direction:ltr;unicode-bidi:isolate;word-spacing:-.06em;font-variant-numeric:lining-nums}
.f{font-feature-settings:"frac";font-size:1.17em;line-height:1}
.contents ul{list-style:none;padding:0;max-width:none}
.contents>ul>li{display:flex;flex-wrap:wrap;gap:0 14px;align-items:baseline;border-top:1px solid var(--hair);
padding:7px 0;margin:0}
.contents>ul>li>a{min-width:14em;line-height:44px}
.contents ul ul{display:flex;flex-wrap:wrap;margin:0}
.contents ul ul li{margin:0}
.contents ul ul a{display:block;min-width:44px;line-height:44px;text-align:center;font:300 24px/44px serif-face,serif}
.check,.caution,.not_proved{padding-left:38px;position:relative}
.sign{position:absolute;left:0;top:2px;width:24px;height:24px;fill:none;stroke:currentColor;stroke-width:1.8;
stroke-linecap:round;stroke-linejoin:round}
.caution .sign{color:var(--weld)}
.not_proved{font-weight:600;color:var(--madder)}
.if-not{color:var(--soft)}
.step{margin:0 0 60px;padding-top:28px;border-top:1px solid var(--hair)}
.step>h2,.step>h3,.step>h4{display:flex;align-items:baseline;gap:16px;margin:0 0 14px;
font:600 27px/34px serif-face,Georgia,serif}
.step .number{font:300 56px/62px serif-face,Georgia,serif;flex:none}
.do{font:400 25px/36px serif-face,Georgia,serif;max-width:30em;margin-bottom:21px}
.do .n,.hero .n{font-size:1.12em;line-height:1}
.other{color:var(--soft)}
.ways{display:flex;gap:28px;margin:14px 0 0}
.ways a{line-height:44px;min-width:44px}
.drawing{margin:0 0 21px;min-width:0;max-width:760px}
.view{background:var(--slip);border-radius:2px;overflow-x:auto;padding:10px}
.view svg{display:block;width:100%;height:auto;margin:0 auto}
.slides{display:none;font-size:17px;color:var(--soft);margin:0 0 7px;text-align:right;max-width:none}
.drawing [fill="@PAPER@"]{fill:var(--slip)}.drawing [stroke="@PAPER@"]{stroke:var(--slip)}
.drawing text{font-size:1000px;letter-spacing:0}
.drawing .sans{font-family:sans-face,Verdana,sans-serif}.drawing .serif{font-family:serif-face,Georgia,serif}
.drawing .semibold{font-weight:600}.drawing .gap{letter-spacing:-.15em}
.told{min-width:0}
.table{overflow-x:auto;margin:0 0 28px}
table{border-collapse:collapse;min-width:50%}
caption{text-align:left;font-weight:600;padding-bottom:7px}
th,td{overflow-wrap:break-word;text-align:left;vertical-align:baseline;padding:7px 28px 7px 0;
border-bottom:1px solid var(--hair)}
thead th{font-size:17px;font-weight:400;color:var(--soft);vertical-align:bottom}
tbody th{font-weight:600}
.hero{font:300 28px/36px serif-face,Georgia,serif;white-space:nowrap}
.code{display:flex;gap:28px;align-items:center;flex-wrap:wrap}
.code svg{width:148px;height:148px;flex:none}
.code p{min-width:0;margin:0}
footer{padding-top:42px;padding-bottom:84px;color:var(--soft)}
@media (min-width:1100px){.step.pictured{display:grid;grid-template-columns:minmax(0,1fr) 640px;gap:0 56px}
.step.pictured>.drawing{grid-column:2;grid-row:1/span 3;align-self:start;margin:0}
.step.pictured>*{grid-column:1}.step.pictured{grid-template-rows:auto auto 1fr}}
@media (max-width:640px){header,main,footer{padding-left:20px;padding-right:20px}
h1{font-size:36px;line-height:43px;padding-top:34px}h2{font-size:32px;line-height:39px;margin:60px 0 21px}
.do{font-size:24px;line-height:34px}.view{margin-left:-20px;margin-right:-20px;border-radius:0}
.contents>ul>li>a{min-width:100%}.step .number{font-size:48px;line-height:54px}
th,td{padding-right:20px}.hero{font-size:25px}}
@media screen and (prefers-color-scheme:dark){@DARK@}
@media print{@page{margin:15mm}
:root{--paper:#fff;--slip:#fff}body{font-size:11.5pt;line-height:1.4}header,main,footer{max-width:none;padding:0}
h1{font-size:28pt;line-height:1.1;padding-top:0}h2{font-size:20pt;line-height:1.2;margin:10mm 0 4mm;break-after:avoid}
h3,h4{break-after:avoid;font-size:14pt;line-height:1.3}.skip,.ways,.contents{display:none}.step{break-inside:avoid;margin-bottom:8mm}
.step.pictured{display:block}.do{font-size:14pt;line-height:1.35}.step .number{font-size:26pt;line-height:1.1}
.step>h2,.step>h3,.step>h4{font-size:15pt;line-height:1.2}.drawing{margin:0 0 4mm}.view{overflow:visible;padding:0}
.slides{display:none!important}.view svg{width:auto;max-width:100%;min-width:0!important}.break{break-after:page}
a{color:inherit;text-decoration:none}
.table,tr{overflow:visible;break-inside:avoid}}
"""


def style_sheet(palette: Palette, characters: frozenset[str], widths_px: frozenset[int]) -> str:
    """The style sheet with its faces, each the part of it that draws ``characters``.

    ``widths_px`` are the least widths of drawings: on a narrower page it is said that they slide.
    """
    faces = "".join(
        f"@font-face{{font-family:{face.family}-face;font-weight:{face.weight};"
        f"src:url(data:font/woff;base64,{base64.b64encode(web_font(face, characters)).decode('ascii')})}}\n"
        for face in WEB_FACES
    )
    slides = "".join(_slides(width_px) for width_px in sorted(widths_px))
    return faces + slides + SHEET.replace("@PAPER@", PAPER).replace("@DARK@", _dark_drawings(palette))


def _slides(width_px: int) -> str:
    """Where a drawing of this least width has no room, the words that it slides sideways stand above it."""
    shown = f".drawing.w{width_px} .slides{{display:block}}"
    beside_text = f"@media (min-width:{BESIDE_PX}px){{{shown}}}" if width_px > BESIDE_DRAWING_PX else ""
    return f"@media (max-width:{width_px + SPACE_BESIDE_PX - 1}px){{{shown}}}{beside_text}\n"


def dark_palette(palette: Palette) -> Palette:
    """The sides of the card on a dark page: deepened until light ink stands on them, never the ink changed."""
    coloured = deepened(palette.coloured, INK_CONTRAST)
    plain = deepened(palette.plain, PLAIN_CONTRAST)
    return Palette(coloured=coloured, coloured_shade=_shaded(coloured), plain=plain, plain_shade=_shaded(plain))


def deepened(colour: str, ratio: float) -> str:
    """The colour, darker until the dark page's ink has this contrast on it. A tint keeps its hue for the eye."""
    red, green, blue = channels(colour)
    grey = (red + green + blue) / 3
    red, green, blue = (min(1.0, max(0.0, grey + FULLER * (channel - grey))) for channel in (red, green, blue))
    full = hexed((red, green, blue))
    for percent in range(100, -1, -1):
        found = _times(full, percent / 100)
        if contrast(INK_DARK, found) >= ratio:
            return found
    raise AssertionError("black carries light ink")


def _shaded(colour: str) -> str:
    return _times(colour, SHADE_DARK)


def _times(colour: str, share: float) -> str:
    red, green, blue = (channel * share for channel in channels(colour))
    return hexed((red, green, blue))


def _dark_drawings(palette: Palette) -> str:
    """A rule for every colour a drawing is made of: style sheets come before what a picture says itself."""
    dark = dark_palette(palette)
    sides = {getattr(palette, side): getattr(dark, side) for side in Palette.__dataclass_fields__}
    return "".join(
        f'.drawing [fill="{light}"]{{fill:{dark_one}}}.drawing [stroke="{light}"]{{stroke:{dark_one}}}\n'
        for light, dark_one in {**sides, **DARK}.items()
    )
