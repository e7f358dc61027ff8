"""What the compiler sets of a pack: booklet, table card, pictures for posts. It is begun while the rest is made."""

from __future__ import annotations

from collections.abc import Callable, Iterator, Mapping, Sequence
from dataclasses import dataclass
from functools import partial
from itertools import groupby

from foldproof.checks.proof import Proof
from foldproof.design.booklet import booklet_look, booklet_of, card_look
from foldproof.design.measure import Measured
from foldproof.design.searched_places import NOWHERE
from foldproof.design.steps import ToldSteps
from foldproof.design.table_card import table_card_of
from foldproof.drawing.records import Document, Page
from foldproof.drawing.style import Palette
from foldproof.exports.beside import Beside
from foldproof.exports.booklet_pdf import booklet_files
from foldproof.exports.imposed_pdf import imposed_pdf
from foldproof.exports.png import drawn_pngs
from foldproof.exports.svg import page_svg
from foldproof.exports.table_card_pdf import table_card_files
from foldproof.exports.typeset import Files, set_pdf
from foldproof.progress import Progress, Stopped
from foldproof.views.post import PICTURES
from foldproof.views.proof_report import ToldProof
from foldproof.words.catalogue import ENGLISH, Language

TOGETHER = 4  # pictures set in one go: fewer cost a start each, more keep one worker busy when the other is done


@dataclass(frozen=True, slots=True, kw_only=True)
class Pictures:
    """Some drawings by name, as SVG, and their pictures for posts, which are waited for when they are asked for."""

    drawn: Mapping[str, str]
    wait: Callable[[], tuple[bytes, ...]]


@dataclass(frozen=True, slots=True, kw_only=True)
class Begun:
    """Work that goes on. ``booklet`` is in words; ``printed`` gives it by pages, and on sheets for a printer."""

    booklet: Document
    pictures: tuple[Pictures, ...]
    printed: Callable[[], tuple[bytes, bytes]]
    card: Callable[[], bytes]


def begin_pictures(pages: Sequence[Page], palette: Palette, side: Beside) -> tuple[Pictures, ...]:
    """Starts the compiler on the pictures of drawings."""
    found = []
    for some in _batches(pages):
        drawn = {page.name: page_svg(page, palette=palette) for page in some}
        wait = side.start(partial(drawn_pngs, [(drawn[page.name], page) for page in some]))
        found.append(Pictures(drawn=drawn, wait=wait))
    return tuple(found)


def begin(
    measured: Measured,
    proof: Proof,
    told: ToldProof,
    steps: ToldSteps,
    pictures: Sequence[Pictures],
    palette: Palette,
    side: Beside,
    font_folders: Sequence[str],
    *,
    places: Mapping[str, tuple[str, ...]] = NOWHERE,
    language: Language = ENGLISH,
) -> Begun:
    """Words everything, and starts the compiler on it; ``pictures`` are those that were begun before.

    ``places`` tell of lids whose places were searched, how good they are.
    """
    project, not_proved = measured.project, proof.verdict != "proved"
    known = {name for some in pictures for name in some.drawn}
    others = begin_pictures([page for page in steps.pages if page.name not in known], palette, side)
    booklet, sheet = (
        booklet_of(measured, proof, told, steps, places=places, language=language),
        card_look(project, not_proved=not_proved, language=language),
    )
    files = booklet_files(
        booklet,
        look=booklet_look(project, not_proved=not_proved, language=language),
        palette=palette,
        language=language,
    )
    size, document_id = (sheet.width_mm, sheet.height_mm), f"{proof.input_hash}/booklet-print.pdf".encode()
    printed = side.start(partial(_printed, files, font_folders, size, document_id, language=language))
    files = table_card_files(table_card_of(measured, proof, language=language), look=sheet, palette=palette)
    return Begun(
        booklet=booklet,
        pictures=(*pictures, *others),
        printed=printed,
        card=side.start(partial(set_pdf, files, font_folders)),
    )


def _printed(
    files: Files,
    font_folders: Sequence[str],
    sheet_mm: tuple[float, float],
    document_id: bytes,
    *,
    language: Language = ENGLISH,
) -> tuple[bytes, bytes]:
    """The booklet by pages, and on sheets for a printer."""
    pages = set_pdf(files, font_folders)
    return pages, imposed_pdf(pages, sheet_mm=sheet_mm, document_id=document_id, language=language)


def _batches(pages: Sequence[Page]) -> Iterator[tuple[Page, ...]]:
    """Pages of one width that follow each other, not too many at once."""
    for _, alike in groupby(pages, key=lambda page: page.width_mm):
        run = tuple(alike)
        for at in range(0, len(run), TOGETHER):
            yield run[at : at + TOGETHER]


def finished(begun: Begun, progress: Progress) -> Iterator[tuple[str, bytes]]:
    """Paths in the pack and what is in them, as it gets done. Raises Stopped when the caller says so."""
    done, total = 0, sum(len(some.drawn) for some in begun.pictures)
    for some in begun.pictures:
        if not progress("pictures", done, total):
            raise Stopped
        for (name, drawn), picture in zip(some.drawn.items(), some.wait(), strict=True):
            yield f"{PICTURES}/{name}.svg", drawn.encode("utf-8")
            yield f"{PICTURES}/{name}.png", picture
        done += len(some.drawn)
    yield "table-card.pdf", begun.card()
    pages, sheets = begun.printed()
    yield "booklet.pdf", pages
    yield "booklet-print.pdf", sheets
