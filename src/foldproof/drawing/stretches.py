"""A line in stretches that are set in one go: one face, one way of running, in the order in which they stand."""

from __future__ import annotations

import unicodedata
from collections.abc import Sequence
from dataclasses import dataclass
from itertools import groupby
from operator import itemgetter

from foldproof.drawing.bidi import is_one_way, levels, visual_runs
from foldproof.drawing.fonts import glyph_of
from foldproof.drawing.scripts import REGULAR, SEMIBOLD, has, named, other_face
from foldproof.drawing.style import Face

JOINERS = "\u200c\u200d"
LEFTWARDS = ("NotoSansArabic", "NotoSansHebrew")
MARKS = ("Mn", "Me")


@dataclass(frozen=True, slots=True, kw_only=True)
class Stretch:
    """Text in one face, "" for the line's own. ``stands_for`` is a character that no face has, told by its name."""

    text: str
    face: str = ""
    leftwards: bool = False
    stands_for: str = ""


@dataclass(frozen=True, slots=True, kw_only=True)
class _Letter:
    char: str
    face: str
    level: int
    stands_for: str = ""


def stretches(text: str, own: Face, steering: str) -> tuple[Stretch, ...]:
    """``text`` in stretches from left to right. ``steering`` is as long and decides which way each letter runs."""
    if is_one_way(text) and all(char in JOINERS or _drawn(own, char) or _is_mark(char) for char in text):
        return (Stretch(text=text),)
    _, ways = levels(steering)
    letters = _closed_up(_letters(text, own, ways))
    alike = [  # what is told by its name is told one by one
        (letter.face, letter.level, at if letter.stands_for else -1) for at, letter in enumerate(letters)
    ]
    pairs = groupby(zip(alike, letters, strict=True), key=itemgetter(0))
    groups = [tuple(each for _, each in group) for _, group in pairs]
    order = visual_runs([group[0].level for group in groups])
    return tuple(_stretch(groups[at]) for at in order)


def _stretch(group: Sequence[_Letter]) -> Stretch:
    first = group[0]
    return Stretch(
        text="".join(letter.char for letter in group),
        face=first.face,
        leftwards=first.level % 2 == 1 and not first.stands_for,
        stands_for=first.stands_for,
    )


def _letters(text: str, own: Face, ways: Sequence[int]) -> list[_Letter]:
    """Each letter with its face; marks and joiners go with the letter before them, or are left out."""
    weight = SEMIBOLD if own.endswith("semibold") else REGULAR
    found: list[_Letter] = []
    for char, level in zip(text, ways, strict=True):
        before = found[-1] if found else None
        if char in JOINERS or _is_mark(char):
            if before is not None and not before.stands_for and _takes(own, before.face, char):
                found.append(_Letter(char=char, face=before.face, level=before.level))
            continue
        face = "" if _drawn(own, char) else other_face(char, weight)
        if face is None:
            found.append(_Letter(char=named(char), face="", level=level, stands_for=char))
        else:
            found.append(_Letter(char=char, face=face, level=level))
    return found


def _takes(own: Face, face: str, char: str) -> bool:
    if char in JOINERS:
        return bool(face)
    return has(face, char) if face else glyph_of(own, char) is not None


def _closed_up(letters: list[_Letter]) -> list[_Letter]:
    """Spaces and stops inside words that run to the left are set in those words' face."""
    found: list[_Letter] = []
    for at, letter in enumerate(letters):
        after = letters[at + 1] if at + 1 < len(letters) else None
        if letter.level % 2 and not letter.face and not letter.stands_for:
            for near in (found[-1] if found else None, after):
                if near is None or near.level != letter.level or not near.face.startswith(LEFTWARDS):
                    continue
                if has(near.face, letter.char):
                    letter = _Letter(char=letter.char, face=near.face, level=letter.level)
                    break
        found.append(letter)
    return found


def _drawn(own: Face, char: str) -> bool:
    return glyph_of(own, " " if unicodedata.category(char) == "Zs" else char) is not None


def _is_mark(char: str) -> bool:
    return unicodedata.category(char) in MARKS
