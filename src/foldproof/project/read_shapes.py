"""Reads the maker's own shapes: outlines in mm under [shapes.NAME], so that a project is one file to send."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import replace
from functools import lru_cache

import shapely

from foldproof.constructions.parameters import OPEN
from foldproof.errors import InputError
from foldproof.geometry.outline import points_of, widest_mm
from foldproof.geometry.plane import FLAT_AREA_MM2, Polygon, anticlockwise, is_simple
from foldproof.lengths import Length, LengthError, parse_length
from foldproof.outlines.catalogue import FORMULAS
from foldproof.outlines.own import OwnShape
from foldproof.outlines.own_shape import own_shape
from foldproof.outlines.parameters import LEAST_ACROSS_MM, MOST_ACROSS_MM
from foldproof.project.keys import SHAPE_KEYS
from foldproof.project.problems import field_path
from foldproof.project.table import (
    Table,
    cannot_print,
    read_length,
    read_text,
    refuse_unknown_keys,
    table_at,
)

MOST_SHAPES = 12  # in one project, so that it stays a file to send by post; the shelf has room for more
MOST_SHAPE_NAME = 40  # characters: a name is printed beside drawings
MOST_SOURCE = 200  # characters: where it came from, in a line or two
MOST_POINTS = 4000  # far finer than any blade follows
MOST_SIZES = 24  # of a nested set; sets have half as many
MOST_ACCURACY_MM = 10.0  # rougher than this is not a trace of an edge
FINEST_ACCURACY_MM = 0.01  # what points are written to
MOST_REMEMBERED = 64  # outlines whose symmetry is remembered: the same files are read again and again
USUAL_ACCURACY = "0.1 mm"

Shapes = Mapping[str, OwnShape | None]  # by name; None for one that is wrong


def read_shapes(table: Table) -> Shapes:
    """Every shape under [shapes], in the order of the file. The wrong ones are problems, and None."""
    if len(table.values) > MOST_SHAPES:
        reason, remedy = f"has {len(table.values)} shapes", f"keep at most {MOST_SHAPES}, and the others on your shelf"
        table.problems.add("shapes", "", reason, remedy)
        return dict.fromkeys(table.values)
    found: dict[str, OwnShape | None] = {}
    for name in table.values:
        reason = why_no_shape_name(name)
        if not reason and plain_name(name) in (plain_name(earlier) for earlier in found):
            reason = "is the name of another shape too"
        if reason:
            table.problems.add(table.field(name), name, reason, "give it another name, on one line")
        read = read_shape(table_at(table, name), name)
        found[name] = None if reason else read
    return found


def why_no_shape_name(name: str) -> str:
    """Why a shape cannot be called so; nothing when it can."""
    if not name.strip() or name != name.strip():
        return "is no name for a shape"
    if len(name) > MOST_SHAPE_NAME:
        return f"has {len(name)} characters, more than {MOST_SHAPE_NAME}"
    if any(map(cannot_print, name)):
        return "has a character that cannot be printed"
    if plain_name(name) in (OPEN, *(formula.name for formula in FORMULAS)):
        return "has a meaning of its own here"
    return ""


def plain_name(name: str) -> str:
    """A name as it is compared: whatever its case and spaces."""
    return " ".join(name.casefold().split())


def read_shape(table: Table, name: str) -> OwnShape | None:
    """The shape in one table; None when anything in it is wrong, which is a problem."""
    before = len(table.problems)
    refuse_unknown_keys(table, SHAPE_KEYS)
    outline = _read_points(table)
    source = _read_source(table)
    accuracy = _read_accuracy(table)
    sizes = _read_sizes(table)
    if len(table.problems) > before:
        return None
    try:
        return replace(_placed(outline, accuracy), name=name, source=source, sizes=sizes)
    except InputError as error:
        for problem in error.problems:
            table.wrong("points", f"{problem.reason} ({problem.value})", problem.remedy)
        return None


@lru_cache(maxsize=MOST_REMEMBERED)
def _placed(outline: Polygon, accuracy_mm: float) -> OwnShape:
    """The shape of an outline, its symmetry and landmarks found again, so that they need not stand in the file."""
    return own_shape("", outline, accuracy_mm=accuracy_mm, source="", symmetric=False)


def _read_source(table: Table) -> str:
    text = (read_text(table, "source") or "").strip()
    if len(text) > MOST_SOURCE:
        table.wrong("source", f"has {len(text)} characters", f"write at most {MOST_SOURCE}")
    elif any(map(cannot_print, text)):
        table.wrong("source", "has a character that cannot be printed", "type it again, on one line")
    return text


def _read_accuracy(table: Table) -> float:
    finest, roughest = parse_length(f"{FINEST_ACCURACY_MM} mm", "mm"), parse_length(f"{MOST_ACCURACY_MM} mm", "mm")
    written = table.values.get("accuracy", USUAL_ACCURACY)
    try:
        found = parse_length(written, table.unit) if isinstance(written, str | int | float) else None
    except LengthError:
        found = None
    if found is None or not finest <= found <= roughest:
        reason = "is not a length" if found is None else f"is too {'fine' if found < finest else 'rough'}"
        table.wrong("accuracy", reason, f'write "{FINEST_ACCURACY_MM:g} mm" to "{MOST_ACCURACY_MM:g} mm"')
        return MOST_ACCURACY_MM
    return found.float_mm


def _read_sizes(table: Table) -> tuple[Length, ...]:
    """The sizes that are owned, rising; each wrong one is a problem, told by its number from 1."""
    written = table.values.get("sizes", [])
    if not isinstance(written, list):
        table.wrong("sizes", "is not a list", 'write it like sizes = ["4 in", "5 1/2 in"]')
        return ()
    if len(written) > MOST_SIZES:
        table.wrong("sizes", f"has {len(written)} of them", f"write at most {MOST_SIZES}")
        return ()
    least, most = (parse_length(f"{end:g} mm", "mm") for end in (LEAST_ACROSS_MM, MOST_ACROSS_MM))
    numbered = Table(
        path=(*table.path, "sizes"),
        values={str(number): size for number, size in enumerate(written, start=1)},
        unit=table.unit,
        ruler=table.ruler,
        problems=table.problems,
    )
    read = [read_length(numbered, key, least, most) for key in numbered.values]
    sizes = tuple(size for size in read if size is not None)
    if len(sizes) == len(written) and list(sizes) != sorted(set(sizes)):
        table.wrong("sizes", "do not rise", "write them from the smallest to the largest, each once")
    return sizes


# --- Points -------------------------------------------------------------------------------------------------


def _read_points(table: Table) -> Polygon:
    """The outline; one problem, the first that is found. What is wrong stands in for nothing: it is never used."""
    written = table.values.get("points")
    if written is None:
        return ()  # missing: told already
    if not isinstance(written, list):
        table.wrong("points", "is not a list", "write it like points = [[0, 0], [50, 0], [25, 40]], in mm")
        return ()
    if not 3 <= len(written) <= MOST_POINTS:
        table.wrong("points", f"has {len(written)} points", f"write 3 to {MOST_POINTS} of them, round the outline")
        return ()
    for number, point in enumerate(written, start=1):
        if not _is_point(point):
            table.problems.add(
                field_path(*table.path, "points", str(number)),
                point,
                f"is not two numbers of at most {MOST_ACROSS_MM:g}",
                "write [x, y] in mm, such as [12.5, -3]",
            )
            return ()
    outline = tuple((float(x), float(y)) for x, y in written)
    reason = why_no_outline(outline)
    if reason:
        table.wrong("points", reason, "read the outline again: foldproof outline --help")
        return ()
    before = (outline[-1], *outline[:-1])
    return anticlockwise(tuple(at for at, last in zip(outline, before, strict=True) if at != last))


def _is_point(point: object) -> bool:
    return (
        isinstance(point, list)
        and len(point) == 2
        and all(isinstance(each, int | float) and not isinstance(each, bool) for each in point)
        and all(abs(each) <= MOST_ACROSS_MM for each in point)  # what is no number is not
    )


def why_no_outline(outline: Polygon) -> str:
    """Why points in mm are no outline of a shape; nothing when they are."""
    across = widest_mm(points_of(outline))
    if across < LEAST_ACROSS_MM:
        return f"is {across:.1f} mm across, less than {LEAST_ACROSS_MM:g} mm"
    if across > MOST_ACROSS_MM:
        return f"is {across:.0f} mm across, more than {MOST_ACROSS_MM:g} mm"
    if is_simple(outline):
        return ""
    if shapely.MultiPoint(outline).convex_hull.area < FLAT_AREA_MM2 * across:
        return "encloses nothing"
    # GEOS says "Self-intersection[12.5 3]".
    _, _, at = shapely.is_valid_reason(shapely.Polygon(outline)).partition("[")
    if not at:
        return "encloses nothing"
    x, y = (float(each) for each in at.rstrip("]").split()[:2])
    return f"crosses or touches itself at {x:.1f}, {y:.1f} mm"
