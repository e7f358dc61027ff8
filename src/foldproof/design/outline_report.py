"""What was found in a photograph or a drawing, for people and for programs."""

from __future__ import annotations

import math
from fractions import Fraction

from foldproof.design.outlined import Outlined
from foldproof.drawing.records import Block, Document, Paragraph, Table
from foldproof.lengths import INCH_SIXTEENTHS, Length, about, length
from foldproof.outlines.own import OwnShape
from foldproof.project.write_shapes import exact_size
from foldproof.views.report import Report, mm, number, report
from foldproof.words.catalogue import ENGLISH, Language

MOST_LISTED = 30


def outline_document(
    found: Outlined, shape: OwnShape, *, pictured: bool = False, language: Language = ENGLISH
) -> Document:
    """The shape in figures, and what a maker should know of how it was read; how to look at it, unless pictured."""
    assert found.measures is not None, "a shape that was read was measured"
    measures = found.measures
    tips = sum(mark.kind == "tip" for mark in shape.landmarks)
    rows = [
        (language.outline.read_from, _from(found, language=language)),
        (language.outline.widest, size_words(measures.widest_mm, language=language)),
        (language.outline.narrowest, size_words(measures.narrowest_mm, language=language)),
        (
            language.outline.box,
            language.outline.wide_and_high.format(
                width=size_words(measures.width_mm, language=language),
                height=size_words(measures.height_mm, language=language),
            ),
        ),
        (language.outline.area, language.outline.area_cm2.format(area=measures.area_mm2 / 100.0)),
        (language.outline.accuracy, _accuracy(found, shape, language=language)),
        (language.outline.symmetry, symmetry_words(shape.fold, len(shape.mirror_axes_rad), language=language)),
        (language.outline.points, str(len(shape.outline))),
    ]
    if shape.landmarks:
        rows.append(
            (language.outline.marks, language.outline.tips_and_dips.format(tips=tips, dips=len(shape.landmarks) - tips))
        )
    if shape.sizes:
        rows.append((language.outline.sizes, ", ".join(exact_size(size) for size in shape.sizes)))
    if shape.source:
        rows.append((language.outline.source, shape.source))
    blocks: list[Block] = [Table(title="", columns=("", ""), rows=tuple(rows))]
    blocks += [Paragraph(text=text) for text in _notes(found, language=language)]
    if not pictured:
        blocks.append(
            Paragraph(
                text=language.outline.check if found.photograph is None else language.outline.check_photograph,
                kind="caution",
            )
        )
    return Document(title=language.outline.title.format(name=shape.name), blocks=tuple(blocks))


def several_document(found: Outlined, *, language: Language = ENGLISH) -> Document:
    """The shapes of a drawing to choose from, largest first."""
    rows = tuple(
        (
            str(each.number),
            each.name,
            size_words(each.width_mm, language=language),
            size_words(each.height_mm, language=language),
            language.outline.area_cm2.format(area=each.area_mm2 / 100.0),
        )
        for each in found.found[:MOST_LISTED]
    )
    blocks: list[Block] = [
        Paragraph(text=language.outline.several.format(count=len(found.found))),
        Table(title="", columns=language.outline.several_columns, rows=rows),
    ]
    if len(found.found) > MOST_LISTED:
        blocks.append(Paragraph(text=language.outline.more.format(count=len(found.found) - MOST_LISTED)))
    return Document(title=language.outline.several_title, blocks=tuple(blocks))


def symmetry_words(fold: int, axes: int, *, language: Language = ENGLISH) -> str:
    """What leaves a shape as it is."""
    if fold == 0:
        return language.outline.round
    if fold == 1:
        return language.outline.one_mirror if axes else language.outline.no_symmetry
    return (language.outline.turns_and_mirrors if axes else language.outline.turns).format(fold=fold, axes=axes)


def _from(found: Outlined, *, language: Language = ENGLISH) -> str:
    kind = language.outline.kinds[found.kind]
    if found.photograph is not None:
        return language.outline.sharp.format(kind=kind, sharp=found.photograph.pixels_per_mm)
    return language.outline.unit_from[found.unit_from].format(kind=kind, unit=found.unit)


def _accuracy(found: Outlined, shape: OwnShape, *, language: Language = ENGLISH) -> str:
    if found.photograph is None:
        return language.outline.to_within.format(accuracy=shape.accuracy_mm)
    farthest = max(found.photograph.farthest_mm, shape.accuracy_mm)
    return language.outline.mostly_within.format(accuracy=shape.accuracy_mm, farthest=farthest)


def _notes(found: Outlined, *, language: Language = ENGLISH) -> list[str]:
    said = [
        language.outline.doubt.format(doubt=doubt) for doubt in (found.photograph.doubts if found.photograph else ())
    ]
    if found.nearly is not None:
        words = symmetry_words(found.nearly.fold, found.nearly.axes, language=language)
        said.append(language.outline.nearly.format(symmetry=words, change=found.nearly.change_mm))
    if found.read != found.kept:
        said.append(language.outline.trimmed)
    if found.mended:
        said.append(language.counted(language.outline.mended, found.mended))
    if found.holes:
        said.append(language.counted(language.outline.holes, found.holes))
    if found.left_out:
        things = ", ".join(f"{what} ({count})" for what, count in found.left_out)
        said.append(language.outline.left_out.format(things=things))
    return said


def size_words(size_mm: float, *, language: Language = ENGLISH) -> str:
    """In mm to a tenth, and on an inch ruler beside it."""
    return language.outline.size.format(
        size=size_mm, inches=about(_length(size_mm), INCH_SIXTEENTHS, words=language.told.common.about)
    )


def _length(size_mm: float) -> Length:
    return length(Fraction(str(round(size_mm, 4))), "mm")


# --- For programs -------------------------------------------------------------------------------------------


def outline_report(
    found: Outlined,
    shape: OwnShape,
    *,
    file: str,
    kept_in: str | None,
    into: str | None,
    picture: str | None,
    language: Language = ENGLISH,
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
        across_text=size_words(shape.across_mm, language=language),
        widest_mm=number(measures.widest_mm),
        narrowest_mm=number(measures.narrowest_mm),
        width_mm=number(measures.width_mm),
        height_mm=number(measures.height_mm),
        perimeter_mm=number(measures.perimeter_mm),
        area_mm2=number(measures.area_mm2),
        accuracy_mm=number(shape.accuracy_mm),
        fold=shape.fold,
        mirror_axes_deg=[number(math.degrees(axis)) for axis in shape.mirror_axes_rad],
        symmetry_text=symmetry_words(shape.fold, len(shape.mirror_axes_rad), language=language),
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
        notes=_notes(found, language=language),
        shelf_file=kept_in,
        project_file=into,
        picture_file=picture,
    )


def shape_sizes(shape: OwnShape) -> list[Report]:
    """The sizes that are owned, for a report."""
    return [{"size_mm": mm(size), "size_text": exact_size(size)} for size in shape.sizes]
