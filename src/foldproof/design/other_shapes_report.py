"""Other shapes for a lid, for people and for programs."""

from __future__ import annotations

from foldproof.design.other_shapes import OtherShape, toml_lines
from foldproof.drawing.records import Block, Document, Heading, Listing, Paragraph, Table
from foldproof.lengths import Length, about, both_units
from foldproof.project.records import Project
from foldproof.views.lid_by_hand import exact_mm
from foldproof.views.report import Report, mm, number, report
from foldproof.words.catalogue import ENGLISH, Language


def other_shapes_document(
    project: Project, others: tuple[OtherShape, ...], written: tuple[str, ...], *, language: Language = ENGLISH
) -> Document:
    """The shapes to read, the smallest first, as they were proved. ``written`` are put into the file."""
    blocks: list[Block] = [Paragraph(text=language.alternatives.others_intro)]
    for of in dict.fromkeys(other.of for other in others):
        some = [other for other in others if other.of == of]
        rows = tuple(_row(project, other, language=language) for other in some if other.alternative is not None)
        blocks.append(Heading(text=language.alternatives.others_for.format(of=of), level=1))
        if rows:
            blocks.append(Table(title="", columns=language.alternatives.others_columns, rows=rows))
        missing = [other.shape for other in some if other.alternative is None]
        if missing:
            blocks.append(
                Paragraph(text=language.alternatives.others_none.format(shapes=", ".join(missing)), kind="not_proved")
            )
    if written:
        blocks.append(Paragraph(text=language.alternatives.others_written))
        blocks.append(Listing(items=written))
    return Document(title=language.alternatives.others_title.format(name=project.name), blocks=tuple(blocks))


def pasted_text(project: Project, others: tuple[OtherShape, ...]) -> str:
    """The tables of all that are proved, as they stand in a file."""
    tables = ("\n".join(toml_lines(project, other)) for other in others if other.proved)
    return "\n\n".join(tables)


def _row(project: Project, other: OtherShape, *, language: Language = ENGLISH) -> tuple[str, ...]:
    assert other.alternative is not None and other.analysis is not None and other.verdict is not None
    values = other.alternative.part.values
    return (
        other.shape,
        both_units(values.across, project.ruler, project.other_ruler),
        both_units(values.hole_from_corner, project.ruler, project.other_ruler),
        values.closed,
        language.alternatives.percent.format(percent=100.0 * other.analysis.opened.uncovered),
        about(exact_mm(max(0.0, other.analysis.margin_mm)), project.ruler),
        language.alternatives.verdicts[other.verdict],
    )


# --- For programs -------------------------------------------------------------------------------------------


def other_shapes_report(project: Project, others: tuple[OtherShape, ...], written: tuple[str, ...]) -> Report:
    """The shapes as a report of kind ``fit_other_shapes``."""
    return report(
        "fit_other_shapes",
        project=project.name,
        written=list(written),
        shapes=[_shape(project, other) for other in others],
    )


def _shape(project: Project, other: OtherShape) -> Report:
    values = None if other.alternative is None else other.alternative.part.values
    found = other.analysis

    def size(value: Length | None) -> float | None:
        return None if value is None else mm(value)

    return {
        "of": other.of,
        "shape": other.shape,
        "verdict": other.verdict,
        "across_mm": size(None if values is None else values.across),
        "hole_from_corner_mm": size(None if values is None else values.hole_from_corner),
        "closed": None if values is None else values.closed,
        "uncovered_percent": None if found is None else number(100.0 * found.opened.uncovered),
        "margin_mm": None if found is None else number(found.margin_mm),
        "toml": "\n".join(toml_lines(project, other)),
    }
