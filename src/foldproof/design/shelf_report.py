"""What is on the maker's shelf of shapes, for people and for programs."""

from __future__ import annotations

from foldproof.design.outline_report import shape_sizes, size_words
from foldproof.drawing.records import Document, Paragraph, Table
from foldproof.outlines.own import OwnShape
from foldproof.project.write_shapes import exact_size
from foldproof.views.report import Report, number, report
from foldproof.words.catalogue import ENGLISH, Language
from foldproof.words.numbers import counted_form


def shelf_document(shapes: tuple[tuple[str, OwnShape], ...], folder: str, *, language: Language = ENGLISH) -> Document:
    """The shapes of a shelf, pairs of file and shape, by name."""
    if not shapes:
        return Document(
            title=language.shelf.title, blocks=(Paragraph(text=language.shelf.empty.format(folder=folder)),)
        )
    rows = tuple(
        (
            shape.name,
            ", ".join(exact_size(size) for size in shape.sizes) or language.shelf.any_size,
            size_words(shape.across_mm, language=language),
            language.outline.to_within.format(accuracy=shape.accuracy_mm),
            shape.source,
        )
        for _, shape in shapes
    )
    count = counted_form(language.shelf.count, len(shapes), language.numbers).format(count=len(shapes), folder=folder)
    blocks = (Paragraph(text=count), Table(title="", columns=language.shelf.columns, rows=rows))
    return Document(title=language.shelf.title, blocks=blocks)


def shelf_report(
    shapes: tuple[tuple[str, OwnShape], ...], unreadable: tuple[tuple[str, str], ...], folder: str, done: str
) -> Report:
    """A shelf as a report of kind ``shelf``. ``done`` is what was done: listed, renamed, removed, taken."""
    return report(
        "shelf",
        folder=folder,
        done=done,
        shapes=[
            {
                "name": shape.name,
                "file": file,
                "source": shape.source,
                "across_mm": number(shape.across_mm),
                "accuracy_mm": number(shape.accuracy_mm),
                "sizes": shape_sizes(shape),
                "points": len(shape.outline),
                "fold": shape.fold,
            }
            for file, shape in shapes
        ],
        unreadable=[{"file": file, "reason": reason} for file, reason in unreadable],
    )
