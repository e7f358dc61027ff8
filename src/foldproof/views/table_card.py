"""The card for the craft table: one page that a whole table can read, from measures to cautions."""

from __future__ import annotations

from collections.abc import Sequence

from foldproof.checks.evidence import PieceEvidence
from foldproof.drawing.records import Block, Document, Page, Paragraph, Picture, Table
from foldproof.drawing.solid import View
from foldproof.pattern.records import Join
from foldproof.views.folded_picture import VIEW, Scene, drawn_piece, faces_of, row_page, row_scale
from foldproof.views.lid_solid import turned_faces, whole_faces
from foldproof.views.lid_steps_pictures import Sheet
from foldproof.views.step_pictures import Step, fractions_of
from foldproof.words.catalogue import ENGLISH, Language

MEASURES, AFTERS, CAUTIONS = 6, 4, 3  # what a card has room for
FLAT_MM = (88.0, 88.0)  # the flat piece
AFTER_MM = (58.0, 42.0)  # each picture of what there is after a step


def table_card(
    title: str,
    kind: str,
    flat: Page,
    measures: Sequence[tuple[str, str]],
    afters: Sequence[tuple[str, Page]],
    cautions: Sequence[str],
    instead: Sequence[tuple[str, str]] = (),
    *,
    language: Language = ENGLISH,
) -> Document:
    """The card: the flat piece, measures, a picture with its words for each stage, cautions; ``kind`` says what it is.

    ``instead`` is a last row of the measures, on lids of another shape.

    Of each only as many are set as there is room for, the first ones.
    """
    blocks: list[Block] = [
        Paragraph(text=kind),
        Picture(page=flat),
        Table(title="", columns=("", ""), rows=(*measures[:MEASURES], *instead[:1])),
    ]
    for words, page in afters[:AFTERS]:
        blocks += [Picture(page=page), Paragraph(text=words)]
    blocks += [Paragraph(text=text, kind="caution") for text in cautions[:CAUTIONS]]
    return Document(title=title, blocks=tuple(blocks), language=language.name)


def after_page(
    piece: PieceEvidence, joins: tuple[Join, ...], step: Step, *, name: str, alt: str, view: View = VIEW
) -> Page:
    """The piece as it is after a step, alone."""
    drawn = drawn_piece(piece, joins, view)
    after = faces_of(drawn, fractions_of(drawn.tree, step.after))
    return _alone(Scene(faces=after, view=view), name=name, alt=alt)


def closed_lid_page(sheet: Sheet, *, name: str, alt: str) -> Page:
    """The box with its turning lid closed."""
    faces = turned_faces(whole_faces(sheet.model, 0.0), sheet.quarter_deg)
    return _alone(Scene(faces=tuple(faces), view=sheet.view), name=name, alt=alt)


def _alone(scene: Scene, *, name: str, alt: str) -> Page:
    row = (scene,)
    return row_page(row, mm_per_mm=row_scale([row], AFTER_MM), name=name, alt=alt, width_mm=AFTER_MM[0])


def spread_over(count: int, wanted: int) -> tuple[int, ...]:
    """``wanted`` of ``count`` places evenly, the last one always among them; all where there are no more."""
    if count <= wanted:
        return tuple(range(count))
    return tuple((count * (n + 1)) // wanted - 1 for n in range(wanted))
