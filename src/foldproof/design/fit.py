"""Fit: the values left open, solved on the stops of the maker's board.

Every construction states its relation: values from edge to edge, each way. Score positions are the running sums, so
a size is buildable when every running sum is a stop. The search goes through the stops for the walls, then chooses
the base each way; all in whole steps, so nothing is rounded.
"""

from __future__ import annotations

import dataclasses
import math
from collections.abc import Iterator
from dataclasses import dataclass
from fractions import Fraction

from foldproof.constructions.parameters import Open
from foldproof.constructions.record import Axis
from foldproof.design.class_version import class_part, class_version
from foldproof.design.fit_answers import LID_GOALS, FitAnswer, Fitted, Goal, SizeBound
from foldproof.design.fit_lid import AT_ONCE, Told, fit_lid, silent
from foldproof.design.under_lid import LidOver, lid_over
from foldproof.errors import wrong
from foldproof.lengths import ZERO, Length, Ruler, length, round_to
from foldproof.progress import Progress, unwatched
from foldproof.project.records import Part, Project

SHOWN = 5  # answers offered, best first
LEAST_INNER = length(10, "mm")  # a fold-in shorter than this is hard to turn by hand
LEAST_BASE = length(20, "mm")


def goal_of(project: Project, part: Part) -> Goal:
    """What the open values ask for: with content to hold it, with the whole sheet to use it, else the largest base."""
    if getattr(part.values, "piece", "") == "whole sheet" and part.open_values:
        return "whole sheet"
    if not part.open_values:
        return "smallest piece"
    return "hold the content" if project.content else "largest base"


def fit(
    project: Project,
    part: Part,
    goal: Goal | None = None,
    progress: Progress = unwatched,
    most_cells: int = AT_ONCE,
    told: Told = silent,
) -> FitAnswer:
    """Solves the open values of one part. Raises InputError when the goal lacks what it needs.

    Of a lid ``told`` gets a good answer at once and every better one, and ``most_cells`` bounds the proof of its place.
    """
    if project.teach.version == "class":
        project, part = class_version(project), class_part(part)
    if part.on:
        return fit_lid(project, part, goal, progress, most_cells, told)
    goal = goal or goal_of(project, part)
    if goal in LID_GOALS:
        raise wrong(f"parts.{part.name}", goal, "is a goal for a lid, and this is none", "add a turning lid")
    if goal == "smallest piece":
        return _smallest_piece(project, part)
    if goal == "hold the content" and project.content is None:
        raise wrong("content", "nothing", "there is nothing to hold", "add [content] with length, width and height")
    if not part.open_values:
        raise wrong(
            f"parts.{part.name}",
            "all given",
            f"nothing is left to work out for: {goal}",
            'write "work out" for a value',
        )
    stops, over = project.board.stops, lid_over(project, part, progress)
    if stops:
        found = _search(project, part, goal, Grid.of(project, stops), over)
        if found:
            answer = FitAnswer(part=part.name, goal=goal, works=True, reason="", short=ZERO, answers=found)
            return _bounded(project, part, answer, over)
    ruled = _search(project, part, goal, Grid.of(project, ()), over)
    if ruled:
        reason = "off_stops" if stops else ""
        answer = FitAnswer(part=part.name, goal=goal, works=not stops, reason=reason, short=ZERO, answers=ruled)
        return _bounded(project, part, answer, over)
    return _nearest(project, part, goal, over)


def _bounded(project: Project, part: Part, answer: FitAnswer, over: LidOver | None) -> FitAnswer:
    """With what is proved of the largest base that the lid covers, where one is to be covered."""
    if over is None or answer.goal != "largest base":
        return answer
    values = answer.answers[0].lengths
    width, long = part.values.base_width, values.get("base_length")
    beside = width.float_mm if isinstance(width, Length) else None
    if long is None or (beside is None and values.get("base_width") != long):
        return answer
    bound = over.bound(beside)
    finished = bound.finished or _none_on_marks(project, part, answer, over, bound)
    size = dataclasses.replace(bound, found_mm=long.float_mm, finished=finished)
    return dataclasses.replace(answer, size=size, stopped=bound.stopped)


def _none_on_marks(project: Project, part: Part, answer: FitAnswer, over: LidOver, bound: SizeBound) -> bool:
    """Whether no larger base on the maker's marks lies under a bound."""
    if bound.bound_mm is None:
        return False
    grid = Grid.of(project, project.board.stops if answer.answers[0].on_stops else ())
    allowing = dataclasses.replace(over, most_mm=bound.bound_mm)
    return _search(project, part, answer.goal, grid, allowing)[:1] == answer.answers[:1]


def filled(part: Part, fitted: Fitted) -> Part:
    """The part with the answer's values in place of its open ones."""
    values = dataclasses.replace(part.values, **dict(fitted.values))
    return dataclasses.replace(part, values=values, open_values=())


@dataclass(frozen=True, slots=True, kw_only=True)
class Grid:
    """Whole steps: ``step`` is one of them, ``stops`` the allowed score positions (None: every ruler mark)."""

    step: Length
    stops: frozenset[int] | None
    mark: int  # steps to one mark of the ruler, on which a piece is cut

    @staticmethod
    def of(project: Project, stops: tuple[Length, ...]) -> Grid:
        """The finest grid that holds the stops, the ruler and every given length."""
        ruler: Ruler = project.ruler
        sheet = project.cardstock.usable_sheet
        lengths = [ruler.step_length, sheet.width, sheet.height, *stops]
        for part in project.parts:
            lengths += [
                getattr(part.values, name)
                for axis in part.construction.axes
                for name in axis.values
                if isinstance(getattr(part.values, name), Length)
            ]
        step = Length(_common_measure([each.mm for each in lengths if each.mm]))
        allowed = frozenset(int(stop.mm / step.mm) for stop in stops) if stops else None
        return Grid(step=step, stops=allowed, mark=int(ruler.step_length.mm / step.mm))

    def steps(self, value: Length) -> int:
        """A length on the grid as whole steps."""
        return int(value.mm / self.step.mm)

    def is_stop(self, at: int) -> bool:
        """May a score line lie here?"""
        return at in self.stops if self.stops is not None else at % self.mark == 0

    def candidates(self, most: int) -> list[int]:
        """Sizes worth trying for a part between the edge and its first score line, in steps, rising."""
        return self.beyond(0, most)

    def beyond(self, at: int, most: int) -> list[int]:
        """Distances in steps, rising, from the edge or a score line at ``at`` to later places of score lines."""
        if self.stops is None:
            return list(range(self.mark, most + 1, self.mark))
        return sorted(stop - at for stop in self.stops if at < stop <= at + most)


def _common_measure(values: list[Fraction]) -> Fraction:
    bottom = math.lcm(*(value.denominator for value in values))
    return Fraction(math.gcd(*(int(value * bottom) for value in values)), bottom)


@dataclass(frozen=True, slots=True, kw_only=True)
class _Wish:
    """A search in steps: sheet sides as the piece lies on it, and what the base must hold and the wall must be.

    ``turned`` tells that the piece lies across the sheet; ``over`` is the lid that is to cover the box.
    """

    sheet: tuple[int, int]
    turned: bool
    least_base: tuple[int, int]
    least_wall: int
    goal: Goal
    over: LidOver | None


@dataclass(frozen=True, slots=True, kw_only=True)
class _Found:
    """Sizes in steps that work."""

    walls: dict[str, int]
    across: int
    up: int
    turned: bool


def _search(project: Project, part: Part, goal: Goal, grid: Grid, over: LidOver | None) -> tuple[Fitted, ...]:
    scored = []
    for turned in _ways_round(project, part, goal):
        wish = _wish(project, part, goal, grid, turned, over)
        for walls in _wall_choices(part, grid, wish):
            both = _bases(part, grid, walls, wish)
            if both is None:
                continue
            merit = (_merit(part, goal, walls, *both), walls["wall_height"], not turned, both[0])
            scored.append((merit, _Found(walls=walls, across=both[0], up=both[1], turned=turned)))
    scored.sort(key=lambda entry: entry[0], reverse=True)
    every = [_fitted(project, part, grid, found) for _, found in scored[: 2 * SHOWN]]
    once = {fitted.values: fitted for fitted in reversed(every)}  # the same sizes may fit both ways round
    return tuple(fitted for fitted in every if once[fitted.values] is fitted)[:SHOWN]


def _ways_round(project: Project, part: Part, goal: Goal) -> tuple[bool, ...]:
    """Is the piece also tried across the sheet? Not where that only swaps the names of length and width."""
    sheet = project.cardstock.usable_sheet
    both_open = all(isinstance(getattr(part.values, name), Open) for name in ("base_length", "base_width"))
    alike = both_open and goal != "hold the content"
    return (False,) if alike or goal == "whole sheet" or sheet.width == sheet.height else (False, True)


def _bases(part: Part, grid: Grid, walls: dict[str, int], wish: _Wish) -> tuple[int, int] | None:
    """The base in steps (across, up) for some walls; None when there is none."""
    axes, names = part.construction.axes, ("base_length", "base_width")
    values = [getattr(part.values, name) for name in names]
    given = [None if isinstance(value, Open) else grid.steps(value) for value in values]
    most = [_most_base(wish, grid, given[1 - side]) for side in (0, 1)]
    both = [_best_base(part, axes[side], grid, walls, wish, side, most[side]) for side in (0, 1)]
    across, up = both
    if across is None or up is None:
        return None
    if _square(part) and across != up:
        if wish.goal == "whole sheet":
            return None
        across = up = min(across, up) if wish.goal == "largest base" else max(across, up)
        if not all(_fits(axis, grid, walls, across, side, wish) for side, axis in enumerate(axes)):
            return None
    if wish.over is not None and wish.goal == "hold the content":
        sides = (across * float(grid.step.mm), up * float(grid.step.mm))
        return (across, up) if wish.over.covers(*sides) else None
    return across, up


def _most_base(wish: _Wish, grid: Grid, other: int | None) -> int | None:
    """The longest base that the lid covers beside a given one, or square; None without such a limit."""
    if wish.over is None or wish.goal != "largest base":
        return None
    most_mm = wish.over.square_mm if other is None else wish.over.longest_mm(other * float(grid.step.mm))
    return int(Fraction(str(round(most_mm, 4))) // grid.step.mm)


def _wish(project: Project, part: Part, goal: Goal, grid: Grid, turned: bool, over: LidOver | None) -> _Wish:
    sheet = project.cardstock.usable_sheet
    sides = (grid.steps(sheet.width), grid.steps(sheet.height))
    least_base, least_wall = (LEAST_BASE, LEAST_BASE), ZERO
    if goal == "hold the content":
        least_base, least_wall = needed_for_content(project, part)
    up = tuple(-(-value.mm // grid.step.mm) for value in (*least_base, least_wall))
    return _Wish(
        sheet=(sides[1], sides[0]) if turned else sides,
        turned=turned,
        least_base=(up[0], up[1]),
        least_wall=up[2],
        goal=goal,
        over=over,
    )


def needed_for_content(project: Project, part: Part) -> tuple[tuple[Length, Length], Length]:
    """Least base (length, width) and wall for the content: its size, its ease, and the layers of both walls.

    The middle of an outer wall stands on its score line, so half of each outer layer lies outside the base.
    """
    content = project.content
    assert content is not None
    thick = length(Fraction(str(round(project.cardstock.thickness.high_mm, 4))), "mm")
    beside, before = part.construction.content_layers(part.values)
    return (
        (
            content.length + content.ease + thick * (2 * beside - 1),
            content.width + content.ease + thick * (2 * before - 1),
        ),
        content.height + thick,
    )


def _wall_choices(part: Part, grid: Grid, wish: _Wish) -> Iterator[dict[str, int]]:
    """Values of wall and inner wall to try: the given ones, or every one on the grid."""
    half = min(wish.sheet) // 2
    wall, inner = part.values.wall_height, getattr(part.values, "inner_wall", None)
    tied = ("inner_wall", "wall_height") in part.tied_values
    if inner is None or tied:
        for tall in grid.candidates(half) if isinstance(wall, Open) else [grid.steps(wall)]:
            if tall >= wish.least_wall:
                yield {"wall_height": tall, "inner_wall": tall} if tied else {"wall_height": tall}
        return
    for deep in grid.candidates(half) if isinstance(inner, Open) else [grid.steps(inner)]:
        if isinstance(inner, Open) and deep * grid.step.mm < LEAST_INNER.mm:
            continue
        # The wall lies between the first score line and the second, so it need not be as tall as a stop is far.
        for tall in grid.beyond(deep, half - deep) if isinstance(wall, Open) else [grid.steps(wall)]:
            if max(deep if isinstance(inner, Open) else 0, wish.least_wall) <= tall <= half:
                yield {"wall_height": tall, "inner_wall": deep}


def _square(part: Part) -> bool:
    return ("base_width", "base_length") in part.tied_values


def _best_base(
    part: Part, axis: Axis, grid: Grid, walls: dict[str, int], wish: _Wish, side: int, most: int | None
) -> int | None:
    """The base for one direction in steps, given or chosen, so that all its scores are stops; None if there is none."""
    name = next(name for name in axis.values if name.startswith("base"))
    given = getattr(part.values, name)
    around = sum(walls[other] for other in axis.values if other != name)
    if not isinstance(given, Open):
        base = grid.steps(given)
        ok = base >= wish.least_base[side] and _fits(axis, grid, walls, base, side, wish)
        return base if ok else None
    room = wish.sheet[side] - around
    if most is not None:
        room = min(room, most)
    if wish.goal == "whole sheet":
        return room if room >= wish.least_base[side] and _fits(axis, grid, walls, room, side, wish) else None
    options: Iterator[int] | range = range(room, wish.least_base[side] - 1, -1)
    if wish.goal == "hold the content":
        options = range(wish.least_base[side], room + 1)
    return next((base for base in options if _fits(axis, grid, walls, base, side, wish)), None)


def _fits(axis: Axis, grid: Grid, walls: dict[str, int], base: int, side: int, wish: _Wish) -> bool:
    """Do all running sums fall on stops, the piece on a ruler mark, and the piece on the sheet?"""
    at = 0
    for name in axis.values[:-1]:
        at += walls.get(name, base)
        if not grid.is_stop(at):
            return False
    total = at + walls.get(axis.values[-1], base)
    if wish.goal == "whole sheet":
        return total == wish.sheet[side]
    return total <= wish.sheet[side] and total % grid.mark == 0


def _merit(part: Part, goal: Goal, walls: dict[str, int], across: int, up: int) -> tuple[float, ...]:
    """What is better, largest first: with the wall given the base counts, with it open the room inside."""
    tall, deep = walls["wall_height"], walls.get("inner_wall", 0)
    if goal == "largest base" and "wall_height" not in part.open_values:
        return (min(across, up), across * up, tall, deep)
    if goal == "hold the content":
        return (-across * up, -tall, deep)
    return (across * up * tall, deep)


def _fitted(project: Project, part: Part, grid: Grid, found: _Found) -> Fitted:
    every = {**found.walls, "base_length": found.across, "base_width": found.up}
    values = tuple((name, Length(every[name] * grid.step.mm)) for name in part.open_values)
    sums = [Length(sum(every[name] for name in axis.values) * grid.step.mm) for axis in part.construction.axes]
    spare = _spare(project, sums[0], sums[1])[found.turned]
    return Fitted(
        values=values,
        width=sums[0],
        height=sums[1],
        spare_width=spare[0],
        spare_height=spare[1],
        on_stops=grid.stops is not None,
    )


def _spare(project: Project, width: Length, height: Length) -> tuple[tuple[Length, Length], tuple[Length, Length]]:
    """Card left beside and behind the piece: as the sheet lies, and with the sheet turned a quarter."""
    sheet = project.cardstock.usable_sheet
    return (sheet.width - width, sheet.height - height), (sheet.height - width, sheet.width - height)


def _smallest_piece(project: Project, part: Part) -> FitAnswer:
    """The piece that the given sizes need, cut on the ruler's marks."""
    if part.open_values:
        names = ", ".join(part.open_values)
        raise wrong(
            f"parts.{part.name}",
            names,
            "is open, and a piece needs every size",
            "write it in, or fit it first",
        )
    sums = []
    for axis in part.construction.axes:
        total = ZERO
        for name in axis.values:
            total = total + getattr(part.values, name)
        sums.append(round_to(total, project.ruler, "up").shown)
    spare = max(_spare(project, sums[0], sums[1]), key=min)
    missing = max(-min(spare), ZERO)
    fitted = Fitted(
        values=(),
        width=sums[0],
        height=sums[1],
        spare_width=spare[0],
        spare_height=spare[1],
        on_stops=_all_on_stops(project, part),
    )
    reason = "piece_too_large" if missing > ZERO else ""
    return FitAnswer(
        part=part.name,
        goal="smallest piece",
        works=not reason,
        reason=reason,
        short=missing,
        answers=(fitted,),
    )


def _all_on_stops(project: Project, part: Part) -> bool:
    stops = set(project.board.stops)
    for axis in part.construction.axes:
        at = ZERO
        for name in axis.values[:-1]:
            at = at + getattr(part.values, name)
            if at not in stops:
                return False
    return bool(stops)


def _nearest(project: Project, part: Part, goal: Goal, over: LidOver | None) -> FitAnswer:
    """Nothing fits as wished: the nearest that works, and by how much it misses."""
    stops = project.board.stops
    grid = Grid.of(project, stops)
    if goal == "hold the content":
        biggest = _search(project, part, "largest base", grid, over)
        biggest = biggest or _search(project, part, "largest base", Grid.of(project, ()), over)
        need, _ = needed_for_content(project, part)
        missing = ZERO
        if biggest:
            have = biggest[0].lengths
            for name, wanted in zip(("base_length", "base_width"), need, strict=True):
                given = have.get(name, getattr(part.values, name))
                missing = max(missing, wanted - given)
        return FitAnswer(
            part=part.name, goal=goal, works=False, reason="content_too_large", short=missing, answers=biggest
        )
    if goal == "whole sheet":
        biggest = _search(project, part, "largest base", grid, over)
        short = max((max(b.spare_width, b.spare_height) for b in biggest[:1]), default=ZERO)
        return FitAnswer(part=part.name, goal=goal, works=False, reason="not_filled", short=short, answers=biggest)
    return _lower_walls(project, part, grid, over)


def _lower_walls(project: Project, part: Part, grid: Grid, over: LidOver | None) -> FitAnswer:
    """No base is left beside the given walls: the same with walls left open too."""
    names = [name for name in ("wall_height", "inner_wall") if hasattr(part.values, name)]
    opened = dataclasses.replace(
        part,
        values=dataclasses.replace(part.values, **{name: Open() for name in names}),
        open_values=tuple(dict.fromkeys((*part.open_values, *names))),
    )
    near = _search(project, opened, "largest base", grid, over)
    short = ZERO
    if near and isinstance(part.values.wall_height, Length):
        short = max(ZERO, part.values.wall_height - near[0].lengths["wall_height"])
    return FitAnswer(
        part=part.name, goal="largest base", works=False, reason="piece_too_large", short=short, answers=near
    )
