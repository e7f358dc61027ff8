"""Text as people typed it, made safe to set: one line, no control characters, no hidden reordering."""

from __future__ import annotations

import re
import unicodedata

HIDDEN = frozenset({"Cc", "Cf", "Cs"})  # controls, reordering marks, halves of pairs
JOINERS = re.compile("([\u200c\u200d]+)")  # some scripts and little pictures are spelled with them


def one_line(text: str) -> str:
    """``text`` on one line: line breaks and tabs become spaces, what cannot be seen is dropped."""
    if text.isascii() and text.isprintable():
        return text  # most of what is set
    spaced = re.sub(r"[\t\n\v\f\r\x85\u2028\u2029]+", " ", text)
    parts = ["".join(char for char in part if not _hidden(char)) for part in JOINERS.split(spaced)[::2]]
    if len(parts) > 1:
        return unicodedata.normalize("NFC", _joined(parts, JOINERS.findall(spaced)))
    return unicodedata.normalize("NFC", parts[0])


def _joined(parts: list[str], joiners: list[str]) -> str:
    """The parts with one joiner between two letters that may need it; plain Latin never does."""
    found = parts[0]
    for joiner, part in zip(joiners, parts[1:], strict=True):
        needed = found and part and not found[-1].isascii() and not part[0].isascii()
        found += (joiner[0] if needed else "") + part
    return found


def _hidden(char: str) -> bool:
    never_a_character = ord(char) & 0xFFFE == 0xFFFE  # the two last of every plane, not allowed in XML
    return never_a_character or unicodedata.category(char) in HIDDEN
