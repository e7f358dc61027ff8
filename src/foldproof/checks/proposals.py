"""Changes worth trying, worded as a maker would type them. The design room tries each and keeps what mends."""

from __future__ import annotations

from fractions import Fraction

from foldproof.checks.evidence import Evidence
from foldproof.findings import Change
from foldproof.lengths import ZERO, Length, in_words, length, round_to
from foldproof.stock.sheets import NAMED_SHEETS

Proposal = tuple[Change, ...]

LEAST_PART = length(10, "mm")  # a wall or inner wall shorter than this is hard to fold by hand


def grid(evidence: Evidence) -> Length:
    """The step new values are chosen on: the board's first stop, or the ruler's mark without a board."""
    stops = evidence.project.board.stops
    return stops[0] if stops else evidence.project.ruler.step_length


def set_value(evidence: Evidence, name: str, value: Length | str) -> Change:
    """A change of one value of the part."""
    text = value if isinstance(value, str) else in_words(value, evidence.project.ruler)
    return Change(path=f"parts.{evidence.part.name}.{name}", value=text)


def value_of(evidence: Evidence, name: str) -> Length | None:
    """A length of the part, or None when it has no such length."""
    value = getattr(evidence.part.values, name, None)
    return value if isinstance(value, Length) else None


def smaller_parts(evidence: Evidence, over: tuple[Length, Length]) -> tuple[Proposal, ...]:
    """Ways to shorten the piece by ``over`` (across, up): each value of its relation made smaller in turn."""
    proposals: list[Proposal] = []
    axes = evidence.part.construction.axes
    for name in dict.fromkeys(name for axis in axes for name in axis.values):
        needed = ZERO
        for axis, amount in zip(axes, over, strict=True):
            times = axis.values.count(name)
            if amount > ZERO and times == 0:
                needed = ZERO
                break
            if times:
                needed = max(needed, amount / times)
        value = value_of(evidence, name)
        if needed <= ZERO or value is None:
            continue
        if name == "wall_height" and value_of(evidence, "inner_wall") == value:
            needed = needed / 2  # wall and inner wall get shorter together
        step = grid(evidence)
        fewer = Length(step.mm * ((value - needed).mm // step.mm))
        if fewer >= LEAST_PART:
            proposals.append(_with_inner(evidence, name, fewer))
    return tuple(proposals)


def _with_inner(evidence: Evidence, name: str, value: Length) -> Proposal:
    """An inner wall never stays deeper than a wall made lower."""
    inner = value_of(evidence, "inner_wall")
    first = set_value(evidence, name, value)
    if name == "wall_height" and inner is not None and inner > value:
        return (first, set_value(evidence, "inner_wall", value))
    return (first,)


def larger_sheet(evidence: Evidence, width: Length, height: Length) -> tuple[Proposal, ...]:
    """The smallest named sheet that a piece fits on."""
    if evidence.project.cardstock.measured is not None:
        return ()
    fitting = [
        (sheet.size.width.mm * sheet.size.height.mm, sheet.size.name)
        for sheet in NAMED_SHEETS
        if (sheet.size.width >= width and sheet.size.height >= height)
        or (sheet.size.width >= height and sheet.size.height >= width)
    ]
    return ((Change(path="cardstock.sheet", value=min(fitting)[1]),),) if fitting else ()


def nudge(evidence: Evidence, name: str, steps: int) -> tuple[Proposal, ...]:
    """One value some steps of the ruler up or down, when it stays sensible."""
    value = value_of(evidence, name)
    if value is None:
        return ()
    step = evidence.project.ruler.step_length
    moved = round_to(value + step * steps, evidence.project.ruler).shown
    return ((set_value(evidence, name, moved),),) if moved > ZERO else ()


def choose(evidence: Evidence, name: str, text: str) -> tuple[Proposal, ...]:
    """One choice made differently, when the part has it and it is not so already."""
    if not hasattr(evidence.part.values, name) or getattr(evidence.part.values, name) == text:
        return ()
    return ((set_value(evidence, name, text),),)


def in_steps(value_mm: float, step: Length) -> Length:
    """A float length brought up to whole steps."""
    return Length(step.mm * (-(-Fraction(str(round(value_mm, 4))) // step.mm)))
