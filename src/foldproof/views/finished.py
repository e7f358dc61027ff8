"""The sizes of what is made, in words."""

from __future__ import annotations

from foldproof.lengths import Length, Ruler, in_words, length
from foldproof.pattern.records import BoxForm
from foldproof.words.catalogue import ENGLISH, Language

PLACES = 4  # of a millimetre: float noise dropped before the sizes are written


def finished_rows(
    forms: tuple[BoxForm, ...], ruler: Ruler, other: Ruler, *, language: Language = ENGLISH
) -> tuple[tuple[str, ...], ...]:
    """Rows of (what, length, width, height), outside and inside of each form, on both rulers.

    Sizes are rounded to the ruler without saying "about": outsides and insides always hold some layers of card.
    """

    def words(size_mm: float) -> str:
        size = _length(size_mm)
        return language.report.both.format(first=in_words(size, ruler), second=in_words(size, other))

    rows = []
    for form in forms:
        name = language.term(form.piece.replace("_", " ")).capitalize()
        outer, inner = form.outer_mm, form.inner_mm
        rows.append((language.report.outside.format(piece=name), words(outer[0]), words(outer[1]), words(form.rim_mm)))
        rows.append((language.report.inside.format(piece=name), words(inner[0]), words(inner[1]), ""))
    return tuple(rows)


def _length(size_mm: float) -> Length:
    return length(f"{round(size_mm, PLACES):.{PLACES}f}", "mm")
