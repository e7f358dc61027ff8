"""The project as a post: short, one picture for each step, for a web page. Everything arrives in words."""

from __future__ import annotations

from collections.abc import Iterable, Iterator
from dataclasses import dataclass

from foldproof.drawing.records import Block, Code, Document, Heading, Listing, Page, Paragraph, Picture, Table
from foldproof.views.steps_document import ToldPiece
from foldproof.words.catalogue import ENGLISH, Language

PICTURES = "pictures"
PICTURE = f"{PICTURES}/{{name}}.png"  # where a post finds its pictures


@dataclass(frozen=True, slots=True, kw_only=True)
class ToldPost:
    """What a post says. ``rows`` are of the measures; ``link`` is "" for none.

    ``papers`` and ``instead``, lids of another shape, may be empty.
    """

    title: str
    intro: tuple[str, ...]
    cover: Page
    needs: tuple[str, ...]
    rows: tuple[tuple[str, ...], ...]
    papers: tuple[Block, ...]
    instead: tuple[Block, ...]
    cautions: tuple[str, ...]
    pieces: tuple[ToldPiece, ...]
    finished: tuple[Page, ...]
    closing: tuple[str, ...]
    link: str
    link_words: str
    proved: bool


def post_document(told: ToldPost, *, language: Language = ENGLISH) -> Document:
    """Intro, what you need, measures, cautions, steps, what you have, and who made it."""
    blocks: list[Block] = [] if told.proved else [Paragraph(text=language.booklet.not_proved, kind="not_proved")]
    blocks += [Paragraph(text=text) for text in told.intro]
    blocks.append(Picture(page=told.cover))
    blocks += [Heading(text=language.booklet.need, level=1), Listing(items=told.needs)]
    blocks += [
        Heading(text=language.booklet.post_measures, level=1),
        Table(title="", columns=language.booklet.post_columns, rows=told.rows),
        *told.papers,
    ]
    blocks.append(Heading(text=language.booklet.before, level=1))
    blocks += [Paragraph(text=text, kind="caution") for text in told.cautions]
    blocks += _steps(told.pieces, language=language)
    blocks += told.instead
    others = tuple(page for page in told.finished if page is not told.cover)
    if others:
        blocks += [Heading(text=language.booklet.have, level=1), *(Picture(page=page) for page in others)]
    blocks += [Paragraph(text=text) for text in told.closing]
    if told.link:
        blocks.append(Code(target=told.link, text=told.link_words))
    return Document(title=told.title, blocks=tuple(blocks), language=language.name)


def _steps(pieces: Iterable[ToldPiece], *, language: Language = ENGLISH) -> Iterator[Block]:
    """What to do and its picture; checks and what else to do are the booklet's."""
    number = 0
    for piece in pieces:
        yield Heading(text=piece.title, level=1)
        for step in piece.steps:
            number += 1
            yield Heading(text=language.booklet.post_numbered.format(number=number, title=step.title), level=2)
            yield Paragraph(text=step.text)
            if step.caution is not None:
                yield Paragraph(text=step.caution, kind="caution")
            yield Picture(page=step.picture)
        if piece.stuck:
            yield Paragraph(text=language.booklet.no_order, kind="not_proved")
