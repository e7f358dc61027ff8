"""Which of the maker's shapes covers a box: every shape at every size she owns, at its best place and turn."""

from __future__ import annotations

import math
from dataclasses import dataclass, replace
from fractions import Fraction
from typing import Literal

from foldproof.design.measure import measure_part
from foldproof.errors import wrong
from foldproof.lengths import Length, length, round_to
from foldproof.lids.box import rectangle
from foldproof.lids.optimum_cover import best_cover
from foldproof.lids.optimum_records import BestCover
from foldproof.lids.optimum_scale import smallest_lid
from foldproof.outlines.own import OwnShape, at_size
from foldproof.outlines.parameters import LEAST_ACROSS_MM, MOST_ACROSS_MM
from foldproof.progress import Progress, Stopped
from foldproof.project.records import Part, Project

From = Literal["project", "shelf"]

STAGE = "fit"
WITHIN_MM = 0.05  # how near the best margin the search comes: finer than a lid is laid on its box
MOST_CELLS = 60_000  # looked at for one size: a second or two; what is then proved is told
STEP_SHARE = 0.125  # of a mark of the ruler, within which the smallest size is searched


@dataclass(frozen=True, slots=True, kw_only=True)
class Covering:
    """A shape at one size over a box: its best place with the bound on all others, and whether its margin is enough."""

    size: Length
    place: BestCover
    covers: bool


@dataclass(frozen=True, slots=True, kw_only=True)
class ShapeAnswer:
    """One shape: ``coverings`` at the sizes that are owned, rising; at the smallest that covers for any other.

    ``best`` is the smallest of them that covers; when none does, the one with the largest margin. ``none_below_mm``:
    proved that no smaller size covers, of a shape that can be cut at any; None where only some sizes are owned.
    """

    shape: OwnShape
    kept: From
    coverings: tuple[Covering, ...]
    best: Covering
    none_below_mm: float | None = None


@dataclass(frozen=True, slots=True, kw_only=True)
class BoxAnswer:
    """One box: its rim from outside, the margin a lid must have, and the shapes, those that cover first."""

    part: str
    rim_mm: tuple[float, float]
    margin_mm: float
    shapes: tuple[ShapeAnswer, ...]


def fit_shapes(project: Project, shelf: tuple[OwnShape, ...], progress: Progress) -> tuple[BoxAnswer, ...]:
    """For each box of the project, its own shapes and those of the shelf that it does not hold, best first.

    Those that cover come first, the smallest of them before the others; then those that miss least. Raises InputError
    when there is no box whose size is known, or no shape; Stopped when the caller stops it.
    """
    shapes: list[tuple[OwnShape, From]] = [(shape, "project") for shape in project.shapes]
    own = {(shape.outline, shape.sizes) for shape in project.shapes}
    shapes += [(shape, "shelf") for shape in shelf if (shape.outline, shape.sizes) not in own]
    if not shapes:
        raise wrong("shapes", "", "there is none, in the file or on your shelf", "trace one: foldproof outline --keep")
    boxes = _boxes(project)
    answers = []
    for number, (part, rim_mm) in enumerate(boxes):
        found = []
        for place, (shape, kept) in enumerate(shapes):
            done, total = number * len(shapes) + place, len(boxes) * len(shapes)
            if not progress(STAGE, done, total):
                raise Stopped
            found.append(_answer(project, shape, kept, rim_mm, _of_one(progress, done, total)))
        found.sort(key=_merit)
        answers.append(
            BoxAnswer(part=part.name, rim_mm=rim_mm, margin_mm=project.checks.cover_look_mm, shapes=tuple(found))
        )
    return tuple(answers)


def _of_one(progress: Progress, done: int, total: int) -> Progress:
    """The progress of one shape's searches: which shape it is counts, not how far its search is."""
    return lambda stage, cells, most: progress(STAGE, done, total)


def _boxes(project: Project) -> tuple[tuple[Part, tuple[float, float]], ...]:
    """The parts that stand alone and have a rim, with the size of it from outside."""
    boxes = tuple(part for part in project.parts if not part.on)
    for part in boxes:
        if part.open_values:
            raise wrong(f"parts.{part.name}", ", ".join(part.open_values), "is open", "fit the box first")
    found = tuple((part, measure_part(project, part).assembly.forms) for part in boxes)
    rims = tuple((part, forms[0].outer_mm) for part, forms in found if forms)
    if not rims:
        raise wrong("parts", "", "there is no box to cover", "add a tray")
    return rims


def _merit(answer: ShapeAnswer) -> tuple[bool, float, float, str]:
    best = answer.best
    size = best.size.float_mm if best.covers else 0.0
    return (not best.covers, size, -round(best.place.margin_mm, 6), answer.shape.name)


def _answer(
    project: Project, shape: OwnShape, kept: From, rim_mm: tuple[float, float], progress: Progress
) -> ShapeAnswer:
    if not shape.sizes:
        smallest, none_below_mm = _smallest(project, shape, rim_mm, progress)
        return ShapeAnswer(shape=shape, kept=kept, coverings=(smallest,), best=smallest, none_below_mm=none_below_mm)
    coverings = tuple(_covering(project, shape, size, rim_mm, progress) for size in shape.sizes)
    covers = [each for each in coverings if each.covers]
    best = covers[0] if covers else max(coverings, key=lambda each: each.place.margin_mm)
    return ShapeAnswer(shape=shape, kept=kept, coverings=coverings, best=best)


def _covering(
    project: Project, shape: OwnShape, size: Length, rim_mm: tuple[float, float], progress: Progress
) -> Covering:
    place = best_cover(
        at_size(shape, size.float_mm).outline,
        rectangle(*rim_mm),
        within_mm=WITHIN_MM,
        progress=progress,
        most_cells=MOST_CELLS,
    )
    if place.stopped:
        raise Stopped
    covers = place.margin_mm >= project.checks.cover_look_mm
    return Covering(size=size, place=_least_turned(place, shape.fold, rim_mm), covers=covers)


def _least_turned(place: BestCover, fold: int, rim_mm: tuple[float, float]) -> BestCover:
    """The same place seen from the side of the box from which the lid is turned least: the rim looks the same."""
    sides = 4 if rim_mm[0] == rim_mm[1] else 2
    step = math.tau / max(fold, 1)
    ways = [(math.remainder(place.closed_turn_rad + n * math.tau / sides, step), n) for n in range(sides)]
    turn, number = min(ways, key=lambda way: (round(abs(way[0]), 6), way[1]))
    cosine, sine = math.cos(number * math.tau / sides), math.sin(number * math.tau / sides)
    right, back = place.moved_right_mm, place.moved_back_mm
    return replace(
        place,
        closed_turn_rad=turn,
        moved_right_mm=right * cosine - back * sine,
        moved_back_mm=right * sine + back * cosine,
    )


def _smallest(
    project: Project, shape: OwnShape, rim_mm: tuple[float, float], progress: Progress
) -> tuple[Covering, float]:
    """The smallest size on the ruler that covers the rim with the margin, and the size below which none does."""
    step = project.ruler.step_length
    found = smallest_lid(
        shape.outline,
        rectangle(*rim_mm),
        margin_mm=project.checks.cover_look_mm,
        within_mm=STEP_SHARE * step.float_mm,
        progress=progress,
        most_cells=MOST_CELLS,
    )
    if found.stopped:
        raise Stopped
    across = min(max(shape.across_mm * found.scale, LEAST_ACROSS_MM), MOST_ACROSS_MM)
    first = round_to(length(Fraction(str(round(across, 3))), "mm"), project.ruler, "up").shown
    at_first = _covering(project, shape, first, rim_mm, progress)
    # A lid that just covers may be searched a hair short of it.
    smallest = at_first if at_first.covers else _covering(project, shape, first + step, rim_mm, progress)
    return smallest, shape.across_mm * found.bound
