"""The steps as one document: what you need, then every step with its drawing. They arrive in words."""

from __future__ import annotations

from dataclasses import dataclass

from foldproof.drawing.records import Block, Document, Heading, Listing, Page, Paragraph, Picture, Step
from foldproof.words.catalogue import ENGLISH, Language


@dataclass(frozen=True, slots=True, kw_only=True)
class ToldStep:
    """One step in words, with its drawing."""

    title: str
    text: str
    check: str
    if_not: str
    caution: str | None
    picture: Page


@dataclass(frozen=True, slots=True, kw_only=True)
class ToldPiece:
    """The steps of one piece, or of putting pieces together. ``stuck``: no order of folding was found."""

    title: str
    steps: tuple[ToldStep, ...]
    stuck: bool = False


def steps_document(
    project_name: str,
    needs: tuple[str, ...],
    cautions: tuple[str, ...],
    pieces: tuple[ToldPiece, ...],
    finished: tuple[Page, ...],
    *,
    not_proved: bool,
    notice: str = "",
    language: Language = ENGLISH,
) -> Document:
    """The document, steps numbered through. ``finished`` are pictures of what comes out; ``notice`` stands first."""
    blocks: list[Block] = [Paragraph(text=language.booklet.not_proved, kind="not_proved")] if not_proved else []
    blocks += [Paragraph(text=notice)] if notice else []
    blocks += [Heading(text=language.booklet.need, level=1), Listing(items=needs)]
    blocks.append(Heading(text=language.booklet.before, level=1))
    blocks += [Paragraph(text=text, kind="caution") for text in cautions]
    number = 0
    for piece in pieces:
        blocks.append(Heading(text=piece.title, level=1))
        for step in piece.steps:
            number += 1
            blocks.append(told_step(step, number, language=language))
        if piece.stuck:
            blocks.append(Paragraph(text=language.booklet.no_order, kind="not_proved"))
    if finished:
        blocks.append(Heading(text=language.booklet.have, level=1))
        blocks += [Picture(page=page) for page in finished]
    return Document(
        title=language.booklet.steps_title.format(name=project_name), blocks=tuple(blocks), language=language.name
    )


def told_step(step: ToldStep, number: int, *, language: Language = ENGLISH) -> Step:
    """One step with its number; check and what else to do begin with their own words."""
    return Step(
        number=number,
        title=step.title,
        text=step.text,
        check=language.booklet.check.format(check=step.check),
        if_not=language.booklet.if_not.format(if_not=step.if_not),
        caution=step.caution,
        picture=step.picture,
    )
