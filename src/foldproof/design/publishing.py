"""What a maker publishes beside the booklet's pages: a page for screens, a post, its pictures, a shopping list."""

from __future__ import annotations

from collections.abc import Iterator

from foldproof.checks.proof import Proof
from foldproof.design.alternative_papers import with_alternatives
from foldproof.design.alternative_parts import alternatives_of
from foldproof.design.booklet import FINISHED, both_units, piece_size, pieces_of
from foldproof.design.lid_parts import lids_of
from foldproof.design.measure import Measured
from foldproof.design.papers import papers_of
from foldproof.design.shopping import shopping_of
from foldproof.design.steps import ToldSteps
from foldproof.drawing.records import Block, Document, Heading, PageBreak, Paragraph, Step
from foldproof.drawing.style import Palette
from foldproof.exports.csv import table_csv
from foldproof.exports.html import document_html
from foldproof.exports.markdown import document_markdown
from foldproof.pattern.measured import MeasuredPiece
from foldproof.project.records import Project
from foldproof.stock.board import Mark
from foldproof.views.alternatives import alternative_blocks, alternatives_table
from foldproof.views.layer_pages import layer_cards
from foldproof.views.panel_papers import paper_blocks
from foldproof.views.piece import piece_title
from foldproof.views.post import PICTURE, ToldPost, post_document
from foldproof.words.catalogue import ENGLISH, Language

BETWEEN = ", "


def published(
    measured: Measured,
    proof: Proof,
    steps: ToldSteps,
    booklet: Document,
    palette: Palette,
    *,
    language: Language = ENGLISH,
) -> Iterator[tuple[str, str]]:
    """Paths in the pack and what is in them."""
    yield "booklet.html", document_html(booklet, palette, language=language)
    yield "post.md", document_markdown(post_of(measured, proof, steps, booklet, language=language), picture=PICTURE)
    lids = lids_of(proof, language=language)
    shopping = shopping_of(
        measured,
        lids,
        steps,
        papers_of(measured, lids, language=language),
        language.term(proof.verdict.replace("_", " ")),
        language=language,
    )
    shopping = with_alternatives(
        shopping, measured, lids, alternatives_of(proof, language=language), language=language
    )
    yield "shopping.csv", table_csv(shopping)


def post_of(
    measured: Measured, proof: Proof, steps: ToldSteps, booklet: Document, *, language: Language = ENGLISH
) -> Document:
    """The post. It begins as the booklet does, in its words."""
    project, lids = measured.project, lids_of(proof, language=language)
    by = () if project.maker is None else (language.booklet.by.format(maker=project.maker),)
    cards = {key: card for lid in lids for key, (_, card) in layer_cards(lid.values, lid.pieces).items()}
    finished = [page for page in steps.finished if page.name.startswith(FINISHED)]
    return post_document(
        ToldPost(
            title=project.name,
            intro=_cover_words(booklet),
            cover=finished[-1],
            needs=(steps.card, *steps.tool_needs),
            rows=tuple(
                _row(project, piece, cards.get((piece.part, piece.piece.id), project.cardstock.name), language=language)
                for piece in pieces_of(measured, lids)
            ),
            papers=paper_blocks(project, papers_of(measured, lids, language=language), language=language),
            instead=_instead(steps),
            cautions=steps.cautions,
            pieces=steps.pieces,
            finished=steps.finished,
            closing=by,
            link=project.link or "",
            link_words=language.booklet.link_words,
            proved=proof.verdict == "proved",
        ),
        language=language,
    )


def _instead(steps: ToldSteps) -> tuple[Block, ...]:
    """The table of other shapes and what each is in short."""
    told = steps.instead
    if told is None:
        return ()
    return (*alternatives_table(told), *(block for each in told.each for block in alternative_blocks(each, level=2)))


def _cover_words(booklet: Document) -> tuple[str, ...]:
    """The plain words of the booklet's first page."""
    found: list[str] = []
    for block in booklet.blocks:
        if isinstance(block, Heading | Step | PageBreak):
            break
        if isinstance(block, Paragraph) and block.kind == "text":
            found.append(block.text)
    return tuple(found)


def _row(project: Project, piece: MeasuredPiece, card: str, *, language: Language = ENGLISH) -> tuple[str, ...]:
    title = piece_title(piece, language=language)
    name = title if piece.copies == 1 else language.booklet.copies.format(name=title, count=piece.copies)
    return (
        name,
        both_units(*piece_size(project, piece, language=language), language=language),
        card,
        _at(piece.across),
        _at(piece.up),
    )


def _at(marks: tuple[Mark, ...]) -> str:
    return BETWEEN.join(mark.text for mark in marks)
