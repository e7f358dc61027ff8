"""What the compiler sets of a pack: booklet, table card, pictures for posts. It is begun while the rest is made."""

from __future__ import annotations

from collections.abc import Callable, Iterator, Mapping, Sequence
from dataclasses import dataclass
from functools import partial
from itertools import groupby

from foldproof.checks.proof import Proof
from foldproof.design.booklet import booklet_look, booklet_of, card_look
from foldproof.design.measure import Measured
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

TOGETHER = 4  # pictures set in one go: fewer cost a start each, more keep one worker busy when the other is done


@dataclass(frozen=True, slots=True, kw_only=True)
class Begun:
    """Work that goes on. ``drawn`` are the drawings of the steps as SVG, by name, in order; ``booklet`` is in words."""

    booklet: Document
    drawn: Mapping[str, str]
    pictures: tuple[tuple[tuple[str, ...], Callable[[], tuple[bytes, ...]]], ...]
    printed: Callable[[], tuple[bytes, bytes]]
    card: Callable[[], bytes]


def begin(
    measured: Measured,
    proof: Proof,
    told: ToldProof,
    steps: ToldSteps,
    palette: Palette,
    side: Beside,
    font_folders: Sequence[str],
) -> Begun:
    """Draws and words everything, and starts the compiler on it."""
    project, not_proved = measured.project, proof.verdict != "proved"
    drawn = {page.name: page_svg(page, palette=palette) for page in steps.pages}
    pictures = tuple(
        (tuple(page.name for page in pages), side.start(partial(drawn_pngs, [(drawn[p.name], p) for p in pages])))
        for pages in _batches(steps.pages)
    )
    booklet, sheet = booklet_of(measured, proof, told, steps), card_look(project, not_proved=not_proved)
    files = booklet_files(booklet, look=booklet_look(project, not_proved=not_proved), palette=palette)
    size, document_id = (sheet.width_mm, sheet.height_mm), f"{proof.input_hash}/booklet-print.pdf".encode()
    printed = side.start(partial(_printed, files, font_folders, size, document_id))
    files = table_card_files(table_card_of(measured, proof), look=sheet, palette=palette)
    return Begun(
        booklet=booklet,
        drawn=drawn,
        pictures=pictures,
        printed=printed,
        card=side.start(partial(set_pdf, files, font_folders)),
    )


def _printed(
    files: Files, font_folders: Sequence[str], sheet_mm: tuple[float, float], document_id: bytes
) -> tuple[bytes, bytes]:
    """The booklet by pages, and on sheets for a printer."""
    pages = set_pdf(files, font_folders)
    return pages, imposed_pdf(pages, sheet_mm=sheet_mm, document_id=document_id)


def _batches(pages: Sequence[Page]) -> Iterator[tuple[Page, ...]]:
    """Pages of one width that follow each other, not too many at once."""
    for _, alike in groupby(pages, key=lambda page: page.width_mm):
        run = tuple(alike)
        for at in range(0, len(run), TOGETHER):
            yield run[at : at + TOGETHER]


def finished(begun: Begun, progress: Progress) -> Iterator[tuple[str, bytes]]:
    """Paths in the pack and what is in them, as it gets done. Raises Stopped when the caller says so."""
    done, total = 0, len(begun.drawn)
    for names, pictures in begun.pictures:
        if not progress("pictures", done, total):
            raise Stopped
        for name, picture in zip(names, pictures(), strict=True):
            yield f"{PICTURES}/{name}.svg", begun.drawn[name].encode("utf-8")
            yield f"{PICTURES}/{name}.png", picture
        done += len(names)
    yield "table-card.pdf", begun.card()
    pages, sheets = begun.printed()
    yield "booklet.pdf", pages
    yield "booklet-print.pdf", sheets
