"""Changes worth trying on a turning lid, and figures rounded to the safe side."""

from __future__ import annotations

import math
from fractions import Fraction

from foldproof.checks.evidence import Evidence
from foldproof.checks.proposals import Proposal, nudge, set_value
from foldproof.constructions.fasteners import fastener_sizes
from foldproof.lengths import ZERO, Length, Ruler, round_to

STEPS_TRIED = (1, 2, 4)  # ruler marks by which a hole is moved to see whether that helps


def hole_moved(evidence: Evidence, sense: int) -> tuple[Proposal, ...]:
    """The hole nearer to its corner (-1) or farther from it (1) by some marks of the ruler; nearer to the diagonal."""
    along = tuple(p for steps in STEPS_TRIED for p in nudge(evidence, "hole_from_corner", sense * steps))
    beside = evidence.part.values.hole_beside
    return (*along, (set_value(evidence, "hole_beside", ZERO),)) if beside != ZERO else along


def smaller_strip(evidence: Evidence) -> tuple[Proposal, ...]:
    """A smaller corner triangle."""
    return nudge(evidence, "strip", -4)


def sized(evidence: Evidence, name: str, steps: int) -> tuple[Proposal, ...]:
    """A measure of the fastener, the usual one where none is given, some steps of the ruler up or down."""
    size: Length = getattr(fastener_sizes(evidence.part.values, evidence.project.unit), name)
    ruler = evidence.project.ruler
    moved = round_to(size + ruler.step_length * steps, ruler).shown
    return ((set_value(evidence, name, moved),),) if moved > ZERO else ()


def no_more_than(size_mm: float, ruler: Ruler) -> float:
    """A size down to a mark of the ruler; one under a mark down to a tenth of a millimetre."""
    told = round_to(Length(Fraction(str(round(size_mm, 6)))), ruler, "down").shown
    return told.float_mm if told > ZERO else math.floor(round(size_mm * 10.0, 6)) / 10.0


def no_less_than(size_mm: float, ruler: Ruler) -> float:
    """A size up to a mark of the ruler."""
    return round_to(Length(Fraction(str(round(size_mm, 6)))), ruler, "up").shown.float_mm
