"""Every check there is: one line each, in the order a maker would ask."""

from __future__ import annotations

from collections.abc import Callable
from dataclasses import dataclass

from foldproof.checks import (
    contact_end,
    content,
    fits_sheet,
    fold_order,
    glue_area,
    grain,
    inner_walls,
    joins_close,
    lid,
    marks,
    owned_sizes,
    tab_wedge,
    thickness,
    turning,
    white_shows,
)
from foldproof.checks.evidence import Evidence
from foldproof.findings import Finding


@dataclass(frozen=True, slots=True, kw_only=True)
class Check:
    """A check by name, with what judges the evidence and the codes of the findings it can give."""

    name: str
    codes: tuple[str, ...]
    judge: Callable[[Evidence], tuple[Finding, ...]]


CHECKS: tuple[Check, ...] = (
    Check(name="fits_sheet", codes=(fits_sheet.CODE,), judge=fits_sheet.judge),
    Check(
        name="joins_close",
        codes=(joins_close.CODE, joins_close.WRONG_SIDE, joins_close.OUTSIDE),
        judge=joins_close.judge,
    ),
    Check(name="contact_end", codes=(contact_end.CODE,), judge=contact_end.judge),
    Check(name="fold_order", codes=(fold_order.CODE, fold_order.SLIDING), judge=fold_order.judge),
    Check(name="inner_walls", codes=(inner_walls.CLEAR, inner_walls.VIEW), judge=inner_walls.judge),
    Check(name="content", codes=(content.CODE, content.CORNER), judge=content.judge),
    Check(name="lid", codes=(lid.ROOM, lid.LOOSE, lid.WAY), judge=lid.judge),
    Check(name="turning", codes=turning.CODES, judge=turning.judge),
    Check(name="owned_sizes", codes=(owned_sizes.CODE,), judge=owned_sizes.judge),
    Check(name="glue_area", codes=(glue_area.CODE, glue_area.WIDTH), judge=glue_area.judge),
    Check(name="thickness", codes=(thickness.REACH, thickness.STACK, thickness.ESTIMATED), judge=thickness.judge),
    Check(name="tab_wedge", codes=(tab_wedge.CODE,), judge=tab_wedge.judge),
    Check(name="marks", codes=(marks.ERROR, marks.READINGS), judge=marks.judge),
    Check(name="grain", codes=(grain.CODE,), judge=grain.judge),
    Check(name="white_shows", codes=(white_shows.CODE,), judge=white_shows.judge),
)


def run_checks(evidence: Evidence) -> tuple[Finding, ...]:
    """All findings about one part, in catalogue order."""
    return tuple(finding for check in CHECKS for finding in check.judge(evidence))
