"""What is on the maker's shelf of shapes, for people and for programs."""

from __future__ import annotations

from foldproof.design.outline_report import TO_WITHIN, shape_sizes, size_words
from foldproof.drawing.records import Document, Paragraph, Table
from foldproof.outlines.own import OwnShape
from foldproof.project.write_shapes import exact_size
from foldproof.views.report import Report, number, report

TITLE = "Your shapes"
COUNT = {1: "One shape is in"}
COUNT_MANY = "{count} shapes are in"
EMPTY = "There is no shape in {folder} yet. Keep one: foldproof outline FILE --keep"
COLUMNS = ("Name", "Sizes you own", "As drawn", "Accuracy", "Source")
ANY_SIZE = "any"


def shelf_document(shapes: tuple[tuple[str, OwnShape], ...], folder: str) -> Document:
    """The shapes of a shelf, pairs of file and shape, by name."""
    if not shapes:
        return Document(title=TITLE, blocks=(Paragraph(text=EMPTY.format(folder=folder)),))
    rows = tuple(
        (
            shape.name,
            ", ".join(exact_size(size) for size in shape.sizes) or ANY_SIZE,
            size_words(shape.across_mm),
            TO_WITHIN.format(accuracy=shape.accuracy_mm),
            shape.source,
        )
        for _, shape in shapes
    )
    count = COUNT.get(len(shapes), COUNT_MANY.format(count=len(shapes)))
    blocks = (Paragraph(text=f"{count} {folder}"), Table(title="", columns=COLUMNS, rows=rows))
    return Document(title=TITLE, blocks=blocks)


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
