"""From marks with roles to what is inked, in order: the one place where style meets a drawing.

Every page exporter writes these few kinds, so that print and picture cannot differ.
"""

from __future__ import annotations

import math
from collections.abc import Iterator
from dataclasses import dataclass
from functools import lru_cache
from itertools import chain, groupby, pairwise
from typing import assert_never

from foldproof.drawing import style
from foldproof.drawing.records import Area, Label, Mark, Page, Path, Stroke
from foldproof.drawing.style import Cap, Palette, ProcessStep
from foldproof.drawing.texture import dots, hatch
from foldproof.drawing.type import Matrix, SetLine, placed

PAGES_KEPT = 128  # pages remembered: a drawing stands in the booklet, on the web page and by itself
DASH_STRETCH = 1.35  # how far dashes may be drawn out or in so that a line ends on a dash


@dataclass(frozen=True, slots=True, kw_only=True)
class Inked:
    """Paths filled, drawn or both; '' is no colour. ``name`` is the mark's own."""

    paths: tuple[Path, ...]
    role: str
    step: ProcessStep
    name: str = ""
    fill: str = ""
    pen: str = ""
    width_mm: float = 0.0
    dash_mm: tuple[float, ...] = ()
    cap: Cap = "butt"


@dataclass(frozen=True, slots=True, kw_only=True)
class Dotted:
    """Round dots of one size."""

    points: tuple[tuple[float, float], ...]
    size_mm: float
    colour: str
    role: str
    step: ProcessStep


@dataclass(frozen=True, slots=True, kw_only=True)
class Lettered:
    """A set line; ``matrix`` leads from font units to millimetres on the page."""

    line: SetLine
    matrix: Matrix
    size_pt: float
    colour: str
    role: str
    step: ProcessStep


Painted = Inked | Dotted | Lettered


@lru_cache(maxsize=PAGES_KEPT)
def painted(page: Page, palette: Palette) -> tuple[Painted, ...]:
    """What to ink for each mark of ``page``, in painting order. Coordinates are checked to be finite."""
    assert math.isfinite(page.width_mm) and page.width_mm > 0, f"page {page.name} has no width"
    assert math.isfinite(page.height_mm) and page.height_mm > 0, f"page {page.name} has no height"
    return tuple(
        piece for _, marks in groupby(page.marks, key=_cased) for piece in _run(tuple(marks), palette)
    )


def length_mm(path: Path) -> float:
    """The length of a path, its closing side included."""
    points = path.points + path.points[:1] if path.closed else path.points
    return sum(math.dist(a, b) for a, b in pairwise(points))


def fitted_dash(dash_mm: tuple[float, ...], path_length_mm: float) -> tuple[float, ...]:
    """The dash drawn out or in so that a line starts and ends on its first dash; a short line is solid."""
    if not dash_mm or path_length_mm <= dash_mm[0]:
        return ()
    period = sum(dash_mm)
    count = max(1, round((path_length_mm - dash_mm[0]) / period))
    stretch = path_length_mm / (count * period + dash_mm[0])
    if not 1 / DASH_STRETCH <= stretch <= DASH_STRETCH:
        return dash_mm
    return tuple(part * stretch for part in dash_mm)


def _cased(mark: Mark) -> bool:
    return isinstance(mark, Stroke) and style.LINES[mark.role].casing_mm > 0


def _run(marks: tuple[Mark, ...], palette: Palette) -> Iterator[Painted]:
    """Neighbouring lines with casings get all casings first, so that none cuts another."""
    for mark in marks:
        if isinstance(mark, Stroke) and _cased(mark):
            yield _casing(mark)
    for mark in marks:
        match mark:
            case Stroke():
                yield _line(mark)
            case Area():
                yield from _area(mark, palette)
            case Label():
                line, matrix = placed(mark)
                yield Lettered(
                    line=line,
                    matrix=matrix,
                    size_pt=mark.size_pt,
                    colour=style.TEXTS[mark.role].colour,
                    role=mark.role,
                    step=style.process_step(mark),
                )
            case _:
                assert_never(mark)


def _line(stroke: Stroke) -> Inked:
    _assert_finite((stroke.path,), stroke.role, stroke.name)
    pen = style.LINES[stroke.role]
    return Inked(
        paths=(stroke.path,),
        role=stroke.role,
        step=style.process_step(stroke),
        name=stroke.name,
        pen=pen.colour,
        width_mm=pen.width_mm,
        dash_mm=fitted_dash(pen.dash_mm, length_mm(stroke.path)) if pen.dash_mm else (),
        cap=pen.cap,
    )


def _casing(stroke: Stroke) -> Inked:
    _assert_finite((stroke.path,), stroke.role, stroke.name)
    pen = style.LINES[stroke.role]
    return Inked(
        paths=(stroke.path,),
        role=stroke.role,
        step=style.process_step(stroke),
        pen=style.PAPER,
        width_mm=pen.width_mm + 2 * pen.casing_mm,
    )


def _area(area: Area, palette: Palette) -> Iterator[Painted]:
    _assert_finite(area.paths, area.role, area.name)
    assert all(path.closed for path in area.paths), f"area {area.role} {area.name!r} is open"
    look = style.fill_style(area.role, palette)
    step = style.process_step(area)
    if look.colour:
        yield Inked(paths=area.paths, role=area.role, step=step, name=area.name, fill=look.colour)
    if look.texture == "dots":
        points = dots(area.paths, style.DOT_SIZE_MM, style.DOT_STEP_MM)
        yield Dotted(
            points=points, size_mm=style.DOT_SIZE_MM, colour=look.texture_colour, role=area.role, step=step
        )
    elif look.texture != "none":
        angles = (45.0,) if look.texture == "hatch" else (45.0, 135.0)
        lines = tuple(line for angle in angles for line in hatch(area.paths, angle, style.HATCH_STEP_MM))
        width = style.HATCH_WIDTH_MM if look.texture == "hatch" else style.FAILS_WIDTH_MM
        yield Inked(
            paths=lines, role=area.role, step=step, name=area.name, pen=look.texture_colour, width_mm=width
        )
    if look.outline_mm:
        yield Inked(
            paths=area.paths,
            role=area.role,
            step=step,
            name=area.name,
            pen=look.texture_colour,
            width_mm=look.outline_mm,
        )


def _assert_finite(paths: tuple[Path, ...], role: str, name: str) -> None:
    for path in paths:
        assert len(path.points) >= 2, f"{role} {name!r} has fewer than two points"
        finite = all(map(math.isfinite, chain.from_iterable(path.points)))
        assert finite, f"{role} {name!r} is not finite"
