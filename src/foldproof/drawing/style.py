"""How each role looks on paper: width, dash, colour, pattern and face.

Meaning never rests on colour alone: every line that a maker acts on has its own weight or dash, every area
its own texture. Line weights are given in points, as printers do, and kept in millimetres at true size.
"""

from __future__ import annotations

import dataclasses
from dataclasses import dataclass
from typing import Literal

from foldproof.drawing.records import Area, FillRole, Label, LineRole, Mark, Stroke, TextRole

MM_PER_PT = 25.4 / 72

INK = "#23262b"
SOFT = "#565a5e"
EDGE = "#827e70"
HAIRLINE = "#bdb9ab"
MADDER = "#9c2b1e"
PAPER = "#ffffff"
BOARD = "#ece8dc"

INK_CONTRAST = 4.5  # least ratio of ink on a tinted area that small text can be read at (WCAG 2.1, 1.4.3)

Cap = Literal["butt", "round"]
Face = Literal["serif", "serif_semibold", "sans", "sans_semibold"]
Texture = Literal["none", "hatch", "cross_hatch", "dots"]


@dataclass(frozen=True, slots=True, kw_only=True)
class LineStyle:
    """A pen. ``dash_mm`` alternates drawn and blank lengths and ends on a blank; empty is solid.

    ``casing_mm`` is a strip of bare paper on each side that lifts the line off what it crosses.
    """

    width_mm: float
    colour: str
    dash_mm: tuple[float, ...] = ()
    cap: Cap = "butt"
    casing_mm: float = 0.0


@dataclass(frozen=True, slots=True, kw_only=True)
class FillStyle:
    """A filled area: a flat ``colour`` ('' for none), a ``texture`` drawn in ``texture_colour``, an edge."""

    colour: str = ""
    texture: Texture = "none"
    texture_colour: str = INK
    outline_mm: float = 0.0


@dataclass(frozen=True, slots=True, kw_only=True)
class TextStyle:
    face: Face
    colour: str


@dataclass(frozen=True, slots=True, kw_only=True)
class ProcessStep:
    """A processing step of ISO 19593-1: ``name`` is read by people; ``kind`` is '' where a group has none."""

    name: str
    group: str
    kind: str = ""


@dataclass(frozen=True, slots=True, kw_only=True)
class Palette:
    """The two sides of the card, each lit and turned from the light, as ``#rrggbb``."""

    coloured: str = "#b9d3c6"
    coloured_shade: str = "#a3c3b4"
    plain: str = "#fdfcf7"
    plain_shade: str = "#e9e6dc"


SEA_GREEN = Palette()

HATCH_STEP_MM = 2.6
HATCH_WIDTH_MM = 0.45 * MM_PER_PT
FAILS_WIDTH_MM = 0.6 * MM_PER_PT
DOT_SIZE_MM = 0.8
DOT_STEP_MM = 2.35

LINES: dict[LineRole, LineStyle] = {
    "cut": LineStyle(width_mm=1.35 * MM_PER_PT, colour=INK, cap="round"),
    "valley": LineStyle(width_mm=0.8 * MM_PER_PT, colour=INK, dash_mm=(2.2, 1.2)),
    "mountain": LineStyle(width_mm=0.8 * MM_PER_PT, colour=INK, dash_mm=(3.0, 0.9, 0.35, 0.8, 0.35, 0.9)),
    "outline": LineStyle(width_mm=1.35 * MM_PER_PT, colour=INK, cap="round"),
    "edge": LineStyle(width_mm=0.8 * MM_PER_PT, colour=INK, cap="round"),
    "fold": LineStyle(width_mm=0.55 * MM_PER_PT, colour=INK, cap="round"),
    "hidden": LineStyle(width_mm=0.5 * MM_PER_PT, colour=SOFT, dash_mm=(0.4, 0.8)),
    "guide": LineStyle(width_mm=0.6 * MM_PER_PT, colour=SOFT, dash_mm=(1.4, 1.0)),
    "dimension": LineStyle(width_mm=0.45 * MM_PER_PT, colour=SOFT),
    "movement": LineStyle(width_mm=2.0 * MM_PER_PT, colour=MADDER, casing_mm=1.3 * MM_PER_PT),
    "frame": LineStyle(width_mm=0.6 * MM_PER_PT, colour=EDGE),
    "tick": LineStyle(width_mm=0.5 * MM_PER_PT, colour=EDGE),
    "registration": LineStyle(width_mm=0.5 * MM_PER_PT, colour=INK),
    "rule": LineStyle(width_mm=0.5 * MM_PER_PT, colour=HAIRLINE),
}

TEXTS: dict[TextRole, TextStyle] = {
    "label": TextStyle(face="sans", colour=INK),
    "size": TextStyle(face="sans_semibold", colour=INK),
    "other_unit": TextStyle(face="sans", colour=SOFT),
    "heading": TextStyle(face="sans_semibold", colour=INK),
    "title": TextStyle(face="serif_semibold", colour=INK),
    "note": TextStyle(face="sans", colour=SOFT),
    "caution": TextStyle(face="sans_semibold", colour=MADDER),
}

CUTTING = ProcessStep(name="Cut", group="Structural", kind="Cutting")
CREASING = ProcessStep(name="Score, fold up", group="Structural", kind="Creasing")
REVERSE_CREASING = ProcessStep(name="Score, fold back", group="Structural", kind="ReverseCreasing")
GLUING = ProcessStep(name="Glue here", group="Structural", kind="Gluing")
DIMENSIONS = ProcessStep(name="Sizes", group="Dimensions")
LEGEND = ProcessStep(name="Drawing and notes", group="Legend")

STEP_OF_LINE: dict[LineRole, ProcessStep] = {
    "cut": CUTTING,
    "valley": CREASING,
    "mountain": REVERSE_CREASING,
    "dimension": DIMENSIONS,
}
PROCESS_STEPS = (LEGEND, GLUING, CREASING, REVERSE_CREASING, CUTTING, DIMENSIONS)


def process_step(mark: Mark) -> ProcessStep:
    """The layer a mark belongs to."""
    match mark:
        case Stroke():
            return STEP_OF_LINE.get(mark.role, LEGEND)
        case Area(role="glue"):
            return GLUING
        case Label(role="size" | "other_unit"):
            return DIMENSIONS
        case _:
            return LEGEND


def fill_style(role: FillRole, palette: Palette) -> FillStyle:
    """The look of an area; the four sides of the card come from the palette."""
    match role:
        case "plain":
            return FillStyle(colour=palette.plain)
        case "plain_shade":
            return FillStyle(colour=palette.plain_shade)
        case "coloured":
            return FillStyle(colour=palette.coloured)
        case "coloured_shade":
            return FillStyle(colour=palette.coloured_shade)
        case "waste":
            return FillStyle(texture="hatch", texture_colour=EDGE)
        case "glue":
            return FillStyle(texture="dots")
        case "board":
            return FillStyle(colour=BOARD)
        case "ink":
            return FillStyle(colour=INK)
        case "movement":
            return FillStyle(colour=MADDER)
        case "paper":
            return FillStyle(colour=PAPER)
        case "fails":
            return FillStyle(texture="cross_hatch", texture_colour=MADDER, outline_mm=2.6 * MM_PER_PT)


def palette_for(card_colour: str) -> Palette:
    """A palette in the maker's own card, ``#rrggbb``, lightened until ink stays readable on its shade too."""
    red, green, blue = channels(card_colour)
    for percent in range(101):
        share = percent / 100
        lit = (red + (1 - red) * share, green + (1 - green) * share, blue + (1 - blue) * share)
        shade = (lit[0] * SHADE, lit[1] * SHADE, lit[2] * SHADE)
        if contrast(INK, hexed(shade)) >= INK_CONTRAST:
            return Palette(coloured=hexed(lit), coloured_shade=hexed(shade))
    raise AssertionError("white in the shade carries ink")


def same_on_both_sides(palette: Palette) -> Palette:
    """The palette of card of one colour: its inside is a paler tint, so that drawings still tell the sides apart."""
    return dataclasses.replace(
        palette, plain=_paler(palette.coloured), plain_shade=_paler(palette.coloured_shade)
    )


def _paler(tint: str) -> str:
    red, green, blue = (PALER + (1 - PALER) * channel for channel in channels(tint))
    return hexed((red, green, blue))


PALER = 0.6  # share of white paper in the paler tint
SHADE = 0.88  # a side turned from the light keeps this share of it: told apart on a grey copy, still light


def channels(colour: str) -> tuple[float, float, float]:
    """Red, green and blue of ``#rrggbb``, each 0 to 1."""
    assert len(colour) == 7 and colour[0] == "#", f"not a colour: {colour!r}"
    return int(colour[1:3], 16) / 255, int(colour[3:5], 16) / 255, int(colour[5:7], 16) / 255


def hexed(rgb: tuple[float, float, float]) -> str:
    return "#" + "".join(f"{round(channel * 255):02x}" for channel in rgb)


def contrast(one: str, other: str) -> float:
    """Contrast ratio of two colours, 1 to 21 (WCAG 2.1, relative luminance)."""
    bright, dark = sorted((luminance(one), luminance(other)), reverse=True)
    return (bright + 0.05) / (dark + 0.05)


def luminance(colour: str) -> float:
    red, green, blue = (
        channel / 12.92 if channel <= 0.04045 else float(((channel + 0.055) / 1.055) ** 2.4)
        for channel in channels(colour)
    )
    return 0.2126 * red + 0.7152 * green + 0.0722 * blue
