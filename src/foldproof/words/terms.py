"""English: names of choices and pieces that stand in sentences, by the text the program knows them by."""

from __future__ import annotations

from collections.abc import Mapping

_NAMES = (
    # pieces
    *("tray", "lid", "triangle", "cap", "disc"),
    # shapes
    *("disc", "square", "rounded square", "regular polygon", "scalloped disc", "rosette", "star", "heart"),
    "rectangle",
    # what a lid turns on
    *("brad", "eyelet", "snap"),
    # marks on the edge of a lid
    *("tip", "dip", "corner", "middle of a side"),
    # boards
    *("inch eighths", "inch quarters", "inch halves", "centimetres", "half centimetres", "none", "your board"),
    # verdicts
    *("proved", "not proved", "not decided"),
    # what is made
    "a tray with walls folded double, from one piece of card",
    "a tray with glued corner tabs, and a lid that lifts off",
    "a layered lid that turns on a brad in one corner of a tray",
)
TERMS: Mapping[str, str] = {name: name for name in _NAMES}
