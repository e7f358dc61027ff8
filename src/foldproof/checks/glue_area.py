"""Is there enough glue to hold? The smallest and the narrowest glue area."""

from __future__ import annotations

from foldproof.checks.evidence import Evidence
from foldproof.checks.judge import at_least, finding, named
from foldproof.checks.proposals import choose, grid, set_value, value_of
from foldproof.findings import Finding

CODE, WIDTH = "glue_area", "glue_width"
NARROWEST_SHARE = 0.25  # of the width worth a look: under it nothing can be pressed


def judge(evidence: Evidence) -> tuple[Finding, ...]:
    """The smallest area of glue against its limits, and the narrowest against what a fingertip can press."""
    limits = evidence.project.checks
    fits = [fit for piece in evidence.pieces for fit in piece.joins]
    if not fits:
        return ()
    small, narrow = min(fits, key=lambda fit: fit.area_mm2), min(fits, key=lambda fit: fit.width_mm)
    proposals = choose(evidence, "tab_length", "to meet its neighbour")
    for name in ("wall_height", "inner_wall"):
        value = value_of(evidence, name)
        if value is not None:
            taller = value + grid(evidence) * 2
            inner = value_of(evidence, "inner_wall")
            both = name == "wall_height" or inner is None
            proposals += ((set_value(evidence, name, taller),),) if both else ()
    return (
        finding(
            CODE,
            at_least(small.area_mm2, limits.glue_look_mm2, limits.glue_fail_mm2),
            small.area_mm2,
            "mm2",
            "at_least",
            (named(evidence, small.piece, small.join),),
            (("joins", float(len(fits))),),
            proposals,
        ),
        finding(
            WIDTH,
            at_least(narrow.width_mm, limits.glue_width_look_mm, NARROWEST_SHARE * limits.glue_width_look_mm),
            narrow.width_mm,
            "mm",
            "at_least",
            (named(evidence, narrow.piece, narrow.join),),
            (),
            proposals,
        ),
    )
