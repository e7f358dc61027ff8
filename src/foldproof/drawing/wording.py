"""Text as people typed it, made safe to set: one line, no control characters, no hidden reordering."""

from __future__ import annotations

import re
import unicodedata

HIDDEN = frozenset({"Cc", "Cf", "Cs"})  # controls, reordering marks, halves of pairs


def one_line(text: str) -> str:
    """``text`` on one line: line breaks and tabs become spaces, what cannot be seen is dropped."""
    spaced = re.sub(r"[\t\n\v\f\r\x85\u2028\u2029]+", " ", text)
    shown = "".join(char for char in spaced if not _hidden(char))
    return unicodedata.normalize("NFC", shown)


def _hidden(char: str) -> bool:
    never_a_character = ord(char) & 0xFFFE == 0xFFFE  # the two last of every plane, not allowed in XML
    return never_a_character or unicodedata.category(char) in HIDDEN
