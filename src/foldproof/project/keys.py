"""The keys of a project file outside its parts, told once for reading, writing and the schema.

The keys of a part are those of its construction's parameter record.
"""

from __future__ import annotations

from dataclasses import dataclass
from typing import Literal

from foldproof.stock.board import NAMED_BOARDS

Holds = Literal["text", "text or number", "whole number", "text or list", "lengths", "points"]


@dataclass(frozen=True, slots=True, kw_only=True)
class Key:
    """One key. ``usual`` is what stands for a missing key, or an example to write: for in, and for cm."""

    name: str
    holds: Holds
    help: str
    usual: tuple[str, str]
    required: bool = False
    choices: tuple[str, ...] = ()


def _choice(name: str, help_text: str, *choices: str) -> Key:
    return Key(name=name, holds="text", help=help_text, usual=(choices[0], choices[0]), choices=choices)


PROJECT_KEYS = (
    Key(name="format", holds="whole number", help="the format of this file", usual=("1", "1"), required=True),
    Key(name="name", holds="text", help="what it is called", usual=("My box", "My box"), required=True),
    Key(
        name="unit",
        holds="text",
        help="what plain numbers are in, and the ruler you use",
        usual=("in", "cm"),
        required=True,
        choices=("in", "cm"),
    ),
    Key(name="maker", holds="text", help="who makes it", usual=("A maker", "A maker")),
    Key(
        name="link",
        holds="text",
        help="your page about it, printed as a code for a camera",
        usual=("https://example.org/box", "https://example.org/box"),
    ),
    Key(
        name="ruler",
        holds="text or number",
        help="the finest marks you work to: 1/8, 1/16 or 1/32 in; 1 mm or 0.5 mm",
        usual=("1/16 in", "1 mm"),
    ),
)

MOST_LINK_CHARACTERS = 200  # a code of more is too fine for a camera at arm's length
# A host with a dot and what follows it, in the characters of RFC 3986; no user name before the host, which misleads.
LINK_PATTERN = r"https://[A-Za-z0-9-]+(?:\.[A-Za-z0-9-]+)+(?::[0-9]{1,5})?(?:[/?#][A-Za-z0-9._~:/?#\[\]@!$&'()*+,;=%-]*)?"

PROJECT_TABLES = (
    "cardstock",
    "board",
    "parts",
    "alternatives",
    "shapes",
    "papers",
    "teach",
    "content",
    "settings",
    "extra",
)

CARDSTOCK_KEYS = (
    Key(name="name", holds="text", help="what you call this card", usual=("cardstock", "cardstock")),
    Key(
        name="sheet",
        holds="text",
        help="the size it is sold as: a name such as 12x12, A4 or Letter, or both sides",
        usual=("12x12", "A4"),
        required=True,
    ),
    Key(
        name="measured",
        holds="text",
        help="the size it really has, if you measured it: this one counts",
        usual=("11 7/8 x 12", "29.6 x 21"),
    ),
    Key(
        name="weight",
        holds="text or number",
        help="the weight on the packet: gsm, or lb with its grade",
        usual=("216 gsm", "216 gsm"),
    ),
    Key(
        name="thickness",
        holds="text or number",
        help="as measured, if you can; otherwise it is estimated from the weight",
        usual=("0.27 mm", "0.27 mm"),
    ),
    _choice("core", "the colour inside the card, seen where it is cut", "solid", "white"),
    _choice("printed", "which sides have the colour or the pattern", "plain", "one side", "both sides"),
    _choice("grain", "the way it bends more easily", "unknown", "along width", "along height"),
    _choice("print_direction", "the way a print stands", "none", "along width", "along height"),
    Key(
        name="fill",
        holds="text",
        help="its colour in drawings, in six hex digits",
        usual=("#ffffff", "#ffffff"),
    ),
)

BOARD_KEYS = (
    Key(
        name="stops",
        holds="text or list",
        help=f"your scoring board: {', '.join(board.name for board in NAMED_BOARDS)}; or its grooves",
        usual=("inch eighths", "half centimetres"),
    ),
)

CONTENT_KEYS = (
    Key(
        name="length",
        holds="text or number",
        help="what goes in, left to right",
        usual=("3", "7.5"),
        required=True,
    ),
    Key(name="width", holds="text or number", help="front to back", usual=("2 1/2", "6"), required=True),
    Key(name="height", holds="text or number", help="how tall it is", usual=("1", "2.5"), required=True),
    Key(
        name="ease",
        holds="text or number",
        help="room in each direction, both sides together",
        usual=("1/8 in", "3 mm"),
    ),
)
PAPERS_SIDES = ("outer walls", "base", "lid")
PAPERS_KEYS = (
    Key(name="name", holds="text", help="what you call this paper", usual=("patterned paper", "patterned paper")),
    Key(name="sheet", holds="text", help="its size; the cardstock's when left out", usual=("12x12", "A4")),
    Key(
        name="sides",
        holds="text or list",
        help="the sides that get a paper",
        usual=(", ".join(PAPERS_SIDES), ", ".join(PAPERS_SIDES)),
    ),
    Key(
        name="border",
        holds="text or number",
        help="the card that shows along each edge of a paper",
        usual=("1/8 in", "3 mm"),
    ),
    _choice("print_direction", "the way a print stands on the box", "none", "upright"),
)
MOST_BORDER = "50 mm"

SHAPE_KEYS = (
    Key(name="source", holds="text", help="where it came from", usual=("traced by me", "traced by me")),
    Key(
        name="accuracy",
        holds="text or number",
        help="how far the outline may be from the true edge, at the size it is drawn",
        usual=("0.1 mm", "0.1 mm"),
    ),
    Key(
        name="sizes",
        holds="lengths",
        help="the sizes you own of it, from tip to tip, rising; left out: it can be cut at any size",
        usual=('"4 in", "5 1/2 in"', '"10 cm", "14 cm"'),
    ),
    Key(
        name="points",
        holds="points",
        help="the outline in mm, its right way up along +y, point by point: [x, y]",
        usual=("[0, 0], [50, 0], [25, 40]", "[0, 0], [50, 0], [25, 40]"),
        required=True,
    ),
)

TEACH_KEYS = (
    _choice("hand", "the hand you work with; left shows folded pieces from the other front corner", "right", "left"),
    _choice("version", "a class has wet glue for hot glue, and a teacher who cuts", "full", "class"),
    _choice("place", "searched: the pack tells how good the hole's place is among all others", "as given", "searched"),
)

ALTERNATIVE_KEYS = (
    Key(
        name="of",
        holds="text",
        help="the turning lid it stands in for; the only one when left out",
        usual=("lid", "lid"),
    ),
)

LEAST_CONTENT, MOST_CONTENT, MOST_EASE = "1 mm", "1000 mm", "50 mm"

PART_KEYS = (
    Key(name="construction", holds="text", help="what kind of thing it is", usual=("", ""), required=True),
    Key(
        name="revision",
        holds="whole number",
        help="the construction's revision this was made for",
        usual=("1", "1"),
    ),
)


def key_names(keys: tuple[Key, ...]) -> tuple[str, ...]:
    """The names of some keys, in order."""
    return tuple(key.name for key in keys)


def usual_text(key: Key, unit: str) -> str:
    """What stands for a missing key in a project of this unit."""
    return key.usual[0 if unit == "in" else 1]
