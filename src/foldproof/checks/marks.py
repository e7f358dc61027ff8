"""Do the marks say what was designed? Rounding of each position, and a sheet that is off its size."""

from __future__ import annotations

from foldproof.checks.evidence import Evidence
from foldproof.checks.judge import finding
from foldproof.findings import Change, Finding, Severity

ERROR, READINGS = "mark_error", "readings_differ"
SAME_MM = 0.05  # less than a pencil line


def judge(evidence: Evidence) -> tuple[Finding, ...]:
    """The mark farthest from its place, and how far the two ways of reading the score list part."""
    marks = [
        (abs(mark.error.float_mm), piece.measured.piece.id)
        for piece in evidence.pieces
        for mark in (*piece.measured.across, *piece.measured.up)
    ]
    if not marks:
        return ()
    error, name = max(marks)
    limit = evidence.project.checks.mark_error_look_mm
    severity = Severity.LOOK if error > limit else Severity.HOLDS
    finer = (Change(path="ruler", value="1/32" if evidence.project.unit == "in" else "0.5 mm"),)
    found = [finding(ERROR, (severity, limit), error, "mm", "at_most", (name,), (), (finer,))]
    readings = [
        (reading.differ_mm, piece.measured.piece.id, reading)
        for piece in evidence.pieces
        for reading in (piece.measured.readings_across, piece.measured.readings_up)
        if reading is not None
    ]
    differ, name, reading = max(readings, key=lambda entry: entry[0])
    severity = Severity.LOOK if differ > SAME_MM else Severity.HOLDS
    values = (("safer", reading.safer), ("trim_first_mm", reading.trim_first_mm))
    cut = ((Change(path=f"parts.{evidence.part.name}.piece", value="cut to size"),),)
    found.append(finding(READINGS, (severity, SAME_MM), differ, "mm", "at_most", (name,), values, cut))
    return tuple(found)
