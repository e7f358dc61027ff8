"""The one catalogue of what makers read: every text of the program's papers and proofs, in one language.

English is complete and is what the records hold unless they are told otherwise. Another language is a mapping from
keys to texts, with its rules for numbers; what it lacks stays English, and ``missing`` says what that is.
"""

from __future__ import annotations

import dataclasses
from collections.abc import Mapping
from dataclasses import dataclass, field

from foldproof.errors import InputError, Problem
from foldproof.words.alternatives import AlternativeWords
from foldproof.words.booklet import BookletWords
from foldproof.words.figures import FigureWords
from foldproof.words.fit import FitWords
from foldproof.words.lid import LidWords
from foldproof.words.lists import TableWords
from foldproof.words.numbers import Numbers, counted_form, with_marks
from foldproof.words.page import PageWords
from foldproof.words.paper import PaperWords
from foldproof.words.records import Catalogue
from foldproof.words.report import ReportWords
from foldproof.words.shapes import CoveringWords, OutlineWords, ShelfWords
from foldproof.words.steps import StepWords
from foldproof.words.texts import CODE, named_values, tables_of, texts_of, with_texts
from foldproof.words.told import TOLD
from foldproof.words.workbench import WorkbenchWords


@dataclass(frozen=True, slots=True, kw_only=True, eq=False)  # one language is itself and no other
class Language:
    """All words of one language, by what they stand on. ``told`` has what is told in sentences: findings and steps."""

    name: str = field(default="en", metadata=CODE)
    numbers: Numbers = field(default_factory=Numbers, metadata=CODE)
    paper: PaperWords = field(default_factory=PaperWords)
    lid: LidWords = field(default_factory=LidWords)
    booklet: BookletWords = field(default_factory=BookletWords)
    steps: StepWords = field(default_factory=StepWords)
    report: ReportWords = field(default_factory=ReportWords)
    tables: TableWords = field(default_factory=TableWords)
    figures: FigureWords = field(default_factory=FigureWords)
    alternatives: AlternativeWords = field(default_factory=AlternativeWords)
    fit: FitWords = field(default_factory=FitWords)
    outline: OutlineWords = field(default_factory=OutlineWords)
    shelf: ShelfWords = field(default_factory=ShelfWords)
    covering: CoveringWords = field(default_factory=CoveringWords)
    page: PageWords = field(default_factory=PageWords)
    workbench: WorkbenchWords = field(default_factory=WorkbenchWords)
    told: Catalogue = TOLD

    def term(self, name: str) -> str:
        """What a choice or a piece is called, by the text the program knows it by; a maker's own name stays."""
        return self.told.terms.get(name, name)

    def place(self, code: str) -> str:
        """A side or a corner: 'back left' from "back left" or "back_left"."""
        return " ".join(self.told.places.get(word, word) for word in code.replace("_", " ").split())

    def counted(self, forms: Mapping[str, str], count: int) -> str:
        """A number of things: the text of the form that this count takes, with ``{count}`` in it."""
        return counted_form(forms, count, self.numbers).format(count=with_marks(f"{count:,}", self.numbers))


ENGLISH = Language()


def texts(language: Language = ENGLISH) -> dict[str, str]:
    """Every text by its key."""
    return texts_of(language)


def language_of(name: str, own: Mapping[str, str], numbers: Numbers | None = None) -> Language:
    """A language from its texts; what it lacks is English.

    Raises InputError for keys that no text has, and for texts that name other values than the English ones.
    """
    problems = _problems(own)
    if problems:
        raise InputError(problems)
    found = with_texts(ENGLISH, own)
    assert isinstance(found, Language)
    numbers = numbers or Numbers()
    told = dataclasses.replace(found.told, numbers=numbers)
    return dataclasses.replace(found, name=name, numbers=numbers, told=told)


def missing(own: Mapping[str, str]) -> tuple[str, ...]:
    """The keys that a language has no text for, in the order of the catalogue."""
    return tuple(key for key in texts() if key not in own)


def _problems(own: Mapping[str, str]) -> tuple[Problem, ...]:
    english = texts()
    tables = tables_of(ENGLISH)
    found = []
    for key, text in own.items():
        like = english.get(key, english.get(f"{key.rpartition('.')[0]}.other"))
        if like is None and not any(key.startswith(f"{table}.") for table in tables):
            found.append(Problem(field=key, value=text, reason="is the key of no text", remedy="see the list of keys"))
            continue
        try:
            more = named_values(text) - named_values(text if like is None else like)
        except ValueError:
            found.append(Problem(field=key, value=text, reason="has a bracket too many", remedy="write {name}"))
            continue
        if more:
            names = ", ".join(sorted(more))
            reason = f"names values that the English text has not: {names}"
            remedy = "use the names of the English text"
            found.append(Problem(field=key, value=text, reason=reason, remedy=remedy))
    return tuple(found)
