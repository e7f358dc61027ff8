"""From the bytes of a drawing or a photograph to a shape of the maker's own: read, chosen, cleaned, trimmed."""

from __future__ import annotations

from dataclasses import replace

from foldproof.design.outlined import Asked, FileKind, FoundShape, Outlined, with_shape
from foldproof.errors import InputError, wrong
from foldproof.outlines.cleaning import ACCURACY_MM, cleaned
from foldproof.outlines.traced import Traced, chosen

OF_THE_FILE = ("the file", "outline")  # fields of problems with what is in the file
HEAD_BYTES = 4096  # looked at to tell what a file is
PICTURES = (b"\xff\xd8\xff", b"\x89PNG\r\n\x1a\n", b"RIFF", b"GIF8", b"BM", b"II*\x00", b"MM\x00*")
BYTE_ORDER_MARKS = (b"\xef\xbb\xbf", b"\xff\xfe", b"\xfe\xff")
# Files that makers are likely to try, and what to do instead.
OTHERS: tuple[tuple[bytes, str, str], ...] = (
    (b"%PDF", "is a PDF", "save it as SVG or DXF from the program it was drawn in"),
    (b"%!PS", "is PostScript", "save it as SVG or DXF from the program it was drawn in"),
    (b"\x1f\x8b", "is packed", "unpack it first; a .svgz is an SVG that was packed with gzip"),
    (b"PK\x03\x04", "is an archive", "unpack it and name the drawing in it"),
    (b"AC10", "is a drawing that only its own program reads", "save it as DXF"),
)


BINARY_DXF, BINARY_WITHIN = b"Binary DXF\r\n", 32  # in the first line of that form; reading it says why it is refused


def kind_of(data: bytes) -> FileKind:
    """What a file is, told by what is in it and not by its name. Raises InputError for anything else."""
    head = data[:HEAD_BYTES]
    for mark, what, remedy in OTHERS:
        if head.startswith(mark):
            raise wrong("the file", "", f"{what}, not a photograph or a drawing", remedy)
    if head.startswith(PICTURES) or head[4:8] == b"ftyp":
        return "photograph"
    for mark in BYTE_ORDER_MARKS:
        head = head.removeprefix(mark)
    plain = head.replace(b"\x00", b"").lstrip()  # UTF-16 has a zero in every second place
    if BINARY_DXF in plain[:BINARY_WITHIN]:
        return "dxf"
    if plain.startswith(b"<"):
        return "svg"
    lines = plain.split(None, 2)
    if lines[:1] in ([b"0"], [b"999"]):  # a DXF's pairs of lines begin with a section or a comment
        return "dxf"
    raise wrong(
        "the file", "", "is no photograph and no drawing that can be read", "name a JPEG, PNG or WebP, an SVG or a DXF"
    )


def outlined(data: bytes, asked: Asked) -> Outlined:
    """The outline in a file, as a shape called "shape". Raises InputError with what stands in the way."""
    kind = kind_of(data)
    if kind == "photograph":
        from foldproof.design.outlining_photograph import from_photograph

        return from_photograph(data, asked)
    accuracy = asked.accuracy_mm or ACCURACY_MM
    traced = _read_drawing(kind, data, asked, accuracy)
    found = _found(traced)
    told = Outlined(
        kind=kind,
        found=found,
        left_out=tuple((left.what, left.count) for left in traced.left_out),
        unit=traced.unit,
        unit_from=traced.unit_from,
    )
    if len(found) > 1 and asked.choose is None:
        return told
    choice = asked.choose
    one = chosen(traced, int(choice) if choice is not None and choice.strip().isdecimal() else choice)
    clean = cleaned(one.outline, accuracy_mm=accuracy)
    told = replace(told, holes=len(one.holes), strayed_mm=clean.strayed_mm, mended=len(clean.mended))
    return with_shape(told, clean.outline, accuracy, asked)


def _read_drawing(kind: FileKind, data: bytes, asked: Asked, accuracy_mm: float) -> Traced:
    if kind == "svg":
        from foldproof.outlines.vector_svg import read_svg

        return read_svg(data, accuracy_mm=accuracy_mm)
    from foldproof.outlines.vector_dxf import read_dxf

    return read_dxf(data, unit=asked.unit, accuracy_mm=accuracy_mm)


def _found(traced: Traced) -> tuple[FoundShape, ...]:
    left = min(x for shape in traced.shapes for x, _ in shape.outline)
    low = min(y for shape in traced.shapes for _, y in shape.outline)
    return tuple(
        FoundShape(
            number=number,
            name=shape.name,
            outline=tuple((x - left, y - low) for x, y in shape.outline),
            area_mm2=shape.area_mm2,
            width_mm=shape.width_mm,
            height_mm=shape.height_mm,
        )
        for number, shape in enumerate(traced.shapes, start=1)
    )


def told_as(error: InputError, field: str) -> InputError:
    """The same problems told of a field by the name the maker gave."""
    return InputError(
        tuple(replace(each, field=field) if each.field in OF_THE_FILE else each for each in error.problems)
    )
