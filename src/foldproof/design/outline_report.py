"""What was found in a photograph or a drawing, for people and for programs."""

from __future__ import annotations

import math
from fractions import Fraction

from foldproof.design.outlined import FileKind, Outlined
from foldproof.drawing.records import Block, Document, Paragraph, Table
from foldproof.lengths import INCH_SIXTEENTHS, Length, about, length
from foldproof.outlines.own import OwnShape
from foldproof.project.write_shapes import exact_size
from foldproof.views.report import Report, mm, number, report

TITLE = "Outline: {name}"
SEVERAL_TITLE = "Several shapes"
SEVERAL = "The drawing holds {count} shapes. Say which one: --choose and its number or its name."
SEVERAL_COLUMNS = ("Number", "Name", "Wide", "High", "Area")
MOST_LISTED = 30
MORE = "{count} smaller ones are not listed."
KINDS: dict[FileKind, str] = {"photograph": "a photograph", "svg": "an SVG drawing", "dxf": "a DXF drawing"}
FROM = "Read from"
UNIT_FROM = {
    "file": "{kind}, drawn in {unit}",
    "told": "{kind}, in {unit} as you say",
    "standard": "{kind} that states no size: 96 px to the inch",
}
SHARP = "{kind}, {sharp:.1f} pixels to the mm"
WIDEST, NARROWEST, BOX, AREA = "Size across, at its widest", "At its narrowest", "Wide and high", "Area"
ACCURACY, SYMMETRY, POINTS, MARKS, SIZES, SOURCE = (
    "Accuracy",
    "Symmetry",
    "Points",
    "Tips and dips",
    "Sizes you own",
    "Source",
)
TO_WITHIN = "to within {accuracy:.2g} mm"
MOSTLY_WITHIN = "about {accuracy:.2g} mm, up to {farthest:.2g} mm at its worst place (an estimate)"
DOUBT = "Look: {doubt}."
ROUND = "a disc: any turn leaves it as it is"
TURNS = "{fold} turns leave it as it is"
TURNS_AND_MIRRORS = "{fold} turns leave it as it is, and {axes} mirror lines"
ONE_MIRROR = "one mirror line"
NONE = "none"
TIPS_AND_DIPS = "{tips} and {dips}"
NEARLY = "Nearly symmetric ({symmetry}): --symmetric makes that exact; the edge moves by {change:.2f} mm at most."
TRIMMED = "What you cut off is left out."
MENDED = {1: "A small loop in the line was taken out."}
MENDED_MANY = "{count} small loops in the line were taken out."
HOLES = {1: "A hole inside it is left out."}
HOLES_MANY = "{count} holes inside it are left out."
LEFT_OUT = "Not read: {things}."
CHECK = "Look at it before you trust it: --picture OUT.svg shows it over a ruler."
CHECK_PHOTOGRAPH = "Look at it before you trust it: --picture OUT.png shows it over your photograph."


def outline_document(found: Outlined, shape: OwnShape, *, pictured: bool = False) -> Document:
    """The shape in figures, and what a maker should know of how it was read; how to look at it, unless pictured."""
    assert found.measures is not None, "a shape that was read was measured"
    measures = found.measures
    tips = sum(mark.kind == "tip" for mark in shape.landmarks)
    rows = [
        (FROM, _from(found)),
        (WIDEST, size_words(measures.widest_mm)),
        (NARROWEST, size_words(measures.narrowest_mm)),
        (BOX, f"{size_words(measures.width_mm)} and {size_words(measures.height_mm)}"),
        (AREA, f"{measures.area_mm2 / 100.0:.1f} cm²"),
        (ACCURACY, _accuracy(found, shape)),
        (SYMMETRY, symmetry_words(shape.fold, len(shape.mirror_axes_rad))),
        (POINTS, str(len(shape.outline))),
    ]
    if shape.landmarks:
        rows.append((MARKS, TIPS_AND_DIPS.format(tips=tips, dips=len(shape.landmarks) - tips)))
    if shape.sizes:
        rows.append((SIZES, ", ".join(exact_size(size) for size in shape.sizes)))
    if shape.source:
        rows.append((SOURCE, shape.source))
    blocks: list[Block] = [Table(title="", columns=("", ""), rows=tuple(rows))]
    blocks += [Paragraph(text=text) for text in _notes(found)]
    if not pictured:
        blocks.append(Paragraph(text=CHECK if found.photograph is None else CHECK_PHOTOGRAPH, kind="caution"))
    return Document(title=TITLE.format(name=shape.name), blocks=tuple(blocks))


def several_document(found: Outlined) -> Document:
    """The shapes of a drawing to choose from, largest first."""
    rows = tuple(
        (
            str(each.number),
            each.name,
            size_words(each.width_mm),
            size_words(each.height_mm),
            f"{each.area_mm2 / 100.0:.1f} cm²",
        )
        for each in found.found[:MOST_LISTED]
    )
    blocks: list[Block] = [
        Paragraph(text=SEVERAL.format(count=len(found.found))),
        Table(title="", columns=SEVERAL_COLUMNS, rows=rows),
    ]
    if len(found.found) > MOST_LISTED:
        blocks.append(Paragraph(text=MORE.format(count=len(found.found) - MOST_LISTED)))
    return Document(title=SEVERAL_TITLE, blocks=tuple(blocks))


def symmetry_words(fold: int, axes: int) -> str:
    """What leaves a shape as it is."""
    if fold == 0:
        return ROUND
    if fold == 1:
        return ONE_MIRROR if axes else NONE
    return (TURNS_AND_MIRRORS if axes else TURNS).format(fold=fold, axes=axes)


def _from(found: Outlined) -> str:
    kind = KINDS[found.kind]
    if found.photograph is not None:
        return SHARP.format(kind=kind, sharp=found.photograph.pixels_per_mm)
    return UNIT_FROM.get(found.unit_from, "{kind}").format(kind=kind, unit=found.unit)


def _accuracy(found: Outlined, shape: OwnShape) -> str:
    if found.photograph is None:
        return TO_WITHIN.format(accuracy=shape.accuracy_mm)
    farthest = max(found.photograph.farthest_mm, shape.accuracy_mm)
    return MOSTLY_WITHIN.format(accuracy=shape.accuracy_mm, farthest=farthest)


def _notes(found: Outlined) -> list[str]:
    said = [DOUBT.format(doubt=doubt) for doubt in (found.photograph.doubts if found.photograph else ())]
    if found.nearly is not None:
        words = symmetry_words(found.nearly.fold, found.nearly.axes)
        said.append(NEARLY.format(symmetry=words, change=found.nearly.change_mm))
    if found.read != found.kept:
        said.append(TRIMMED)
    if found.mended:
        said.append(MENDED.get(found.mended, MENDED_MANY.format(count=found.mended)))
    if found.holes:
        said.append(HOLES.get(found.holes, HOLES_MANY.format(count=found.holes)))
    if found.left_out:
        things = ", ".join(f"{what} ({count})" for what, count in found.left_out)
        said.append(LEFT_OUT.format(things=things))
    return said


def size_words(size_mm: float) -> str:
    """In mm to a tenth, and on an inch ruler beside it."""
    return f"{size_mm:.1f} mm ({about(_length(size_mm), INCH_SIXTEENTHS)})"


def _length(size_mm: float) -> Length:
    return length(Fraction(str(round(size_mm, 4))), "mm")


# --- For programs -------------------------------------------------------------------------------------------


def outline_report(
    found: Outlined, shape: OwnShape, *, file: str, kept_in: str | None, into: str | None, picture: str | None
) -> Report:
    """The shape as a report of kind ``outline``: figures, landmarks and points, and the files that were written."""
    assert found.measures is not None, "a shape that was read was measured"
    measures, photograph = found.measures, found.photograph
    return report(
        "outline",
        file=file,
        read_from=found.kind,
        unit=found.unit or None,
        unit_from=found.unit_from or None,
        shapes_found=max(1, len(found.found)),
        name=shape.name,
        across_mm=number(shape.across_mm),
        across_text=size_words(shape.across_mm),
        widest_mm=number(measures.widest_mm),
        narrowest_mm=number(measures.narrowest_mm),
        width_mm=number(measures.width_mm),
        height_mm=number(measures.height_mm),
        perimeter_mm=number(measures.perimeter_mm),
        area_mm2=number(measures.area_mm2),
        accuracy_mm=number(shape.accuracy_mm),
        fold=shape.fold,
        mirror_axes_deg=[number(math.degrees(axis)) for axis in shape.mirror_axes_rad],
        symmetry_text=symmetry_words(shape.fold, len(shape.mirror_axes_rad)),
        nearly=None
        if found.nearly is None
        else {
            "fold": found.nearly.fold,
            "mirror_axes": found.nearly.axes,
            "change_mm": number(found.nearly.change_mm),
        },
        sizes=shape_sizes(shape),
        source=shape.source,
        landmarks=[
            {"name": mark.name, "kind": mark.kind, "x_mm": number(mark.at_mm[0]), "y_mm": number(mark.at_mm[1])}
            for mark in shape.landmarks
        ],
        points_mm=[[number(x), number(y)] for x, y in shape.outline],
        photograph=None
        if photograph is None
        else {
            "pixels_per_mm": number(photograph.pixels_per_mm),
            "farthest_mm": number(photograph.farthest_mm),
            "corners_px": [[number(x), number(y)] for x, y in photograph.corners_px],
        },
        notes=_notes(found),
        shelf_file=kept_in,
        project_file=into,
        picture_file=picture,
    )


def shape_sizes(shape: OwnShape) -> list[Report]:
    """The sizes that are owned, for a report."""
    return [{"size_mm": mm(size), "size_text": exact_size(size)} for size in shape.sizes]
