"""Every finding has a trigger and a near miss: just past its limit, and just short of it."""

from __future__ import annotations

import dataclasses
from collections.abc import Callable

import pytest

from foldproof.checks.catalogue import CHECKS, run_checks
from foldproof.checks.evidence import Evidence, gather
from foldproof.design.measure import measure
from foldproof.findings import Finding, Severity
from foldproof.pattern.records import Assembly
from foldproof.project.read import read_project

TRAY = """
format = 1
name = "A tray"
unit = "in"
{top}
[cardstock]
sheet = "12x12"
weight = "176 gsm"
thickness = "0.27 mm +/- 0.0001"
{card}
[board]
stops = "{board}"
[parts.tray]
construction = "{construction}"
{values}
[settings]
{settings}
"""
DOUBLE = {
    "base_length": "3 1/4",
    "base_width": "3 1/4",
    "wall_height": "2 1/4",
    "inner_wall": "2 1/8",
}
PLAIN = {"base_length": "4 1/2", "base_width": "3 1/4", "wall_height": "1 1/4", "lid": "from a larger piece"}


def evidence_of(
    values: dict[str, str] | None = None,
    *,
    plain: bool = False,
    top: str = "",
    card: str = "",
    settings: str = "",
    board: str = "inch eighths",
    estimated: bool = False,
    alter: Callable[[Assembly], Assembly] = lambda assembly: assembly,
) -> Evidence:
    """Evidence about a tray that holds in every check, with some values other than that."""
    every = {**(PLAIN if plain else DOUBLE), **(values or {})}
    text = TRAY.format(
        construction="plain tray" if plain else "double-wall tray",
        values="\n".join(f'{name} = "{value}"' for name, value in every.items()),
        top=top,
        card=card,
        settings=settings,
        board=board,
    )
    if estimated or 'thickness = "' in card:
        text = text.replace('thickness = "0.27 mm +/- 0.0001"\n', "")
    if "weight" in card:
        text = text.replace('weight = "176 gsm"\n', "")
    if "sheet" in card:
        text = text.replace('sheet = "12x12"\n', "")
    project = read_project(text)
    part = measure(project).parts[0]
    return gather(project, part.part, part.pieces, alter(part.assembly))


def findings_of(evidence: Evidence) -> dict[str, Finding]:
    """The worst finding of each code."""
    worst: dict[str, Finding] = {}
    for finding in run_checks(evidence):
        if finding.code not in worst or finding.severity > worst[finding.code].severity:
            worst[finding.code] = finding
    return worst


def shifted(sideways_mm: float) -> Callable[[Assembly], Assembly]:
    """The same tray, where one tab's glue should land a little beside where it does."""

    def alter(assembly: Assembly) -> Assembly:
        join = assembly.joins[0]
        moved = tuple((x, y + sideways_mm) for x, y in join.landing)
        return dataclasses.replace(assembly, joins=(dataclasses.replace(join, landing=moved), *assembly.joins[1:]))

    return alter


def glued_outside(assembly: Assembly) -> Assembly:
    """The same tray, where one tab is said to be glued by its other side."""
    join = assembly.joins[0]
    wrong = dataclasses.replace(join, b=dataclasses.replace(join.b, side="face"))
    return dataclasses.replace(assembly, joins=(wrong, *assembly.joins[1:]))


def with_order(evidence: Evidence, rank: int) -> Evidence:
    """The same evidence, with one of its ranked orders as the only one; the last has side walls up first."""
    piece = evidence.pieces[0]
    orders = dataclasses.replace(piece.orders, ranked=(piece.orders.ranked[rank],))
    return dataclasses.replace(evidence, pieces=(dataclasses.replace(piece, orders=orders),))


def content(side: str, height: str = "1") -> str:
    """Something square to put in, as the last table of the file."""
    return f'[content]\nlength = "{side}"\nwidth = "{side}"\nheight = "{height}"\nease = "1/16"\n'


LID = """
[parts.lid]
construction = "turning lid"
on = "tray"
shape = "disc"
across = "6"
strip = "1"
hole_from_corner = "1/2"
[[parts.lid.layers]]
"""


def same(assembly: Assembly) -> Assembly:
    return assembly


L, F = Severity.LOOK, Severity.FAILS
# code: (severity when triggered, trigger, near miss)
CASES: dict[str, tuple[Severity, Callable[[], Evidence], Callable[[], Evidence]]] = {
    "fits_sheet": (
        F,
        lambda: evidence_of({"base_length": "3 3/8", "base_width": "3 3/8", "inner_wall": "2 1/8"}),
        lambda: evidence_of({"base_length": "3 1/4", "base_width": "3 1/4", "inner_wall": "2 1/8"}),
    ),
    "joins_close": (
        F,
        lambda: evidence_of(alter=shifted(1.7)),
        lambda: evidence_of(alter=shifted(0.7)),
    ),
    "join_wrong_side": (F, lambda: evidence_of(alter=glued_outside), lambda: evidence_of(alter=same)),
    "glue_outside": (
        F,
        lambda: evidence_of(alter=shifted(1.6)),
        lambda: evidence_of(alter=shifted(1.4)),
    ),
    "contact_end": (
        F,
        lambda: evidence_of({"relief": "0 mm"}),
        lambda: evidence_of({"relief": "1/32 in"}, top='ruler = "1/32"'),
    ),
    "fold_order": (
        F,
        # A fingertip 16 mm wide does not go into a box 5/8 in (15.9 mm) wide; it does at 7/8 in (22.2 mm).
        lambda: evidence_of({"base_length": "5/8", "base_width": "5/8", "wall_height": "4 1/2", "inner_wall": "1/2"}),
        lambda: evidence_of({"base_length": "7/8", "base_width": "7/8", "wall_height": "4 1/2", "inner_wall": "1/2"}),
    ),
    "glue_slides": (
        L,
        lambda: with_order(evidence_of(), -1),
        lambda: with_order(evidence_of(), 0),
    ),
    "fold_in_clears": (
        L,
        lambda: evidence_of({"inner_wall": "2 1/4", "base_length": "3", "base_width": "3"}),
        lambda: evidence_of({"inner_wall": "2 1/8", "base_length": "3", "base_width": "3"}),
    ),
    "tabs_in_view": (
        L,
        lambda: evidence_of({"inner_wall": "2"}),
        lambda: evidence_of({"inner_wall": "2 1/8"}),
    ),
    "lid_room": (
        F,
        lambda: evidence_of({"lid_ease": "1/32"}, plain=True, top='ruler = "1/32"'),
        lambda: evidence_of({"lid_ease": "1/16"}, plain=True),
    ),
    "lid_loose": (
        L,
        lambda: evidence_of({"lid_ease": "7/16"}, plain=True),
        lambda: evidence_of({"lid_ease": "5/16"}, plain=True),
    ),
    "lid_way": (
        F,
        lambda: evidence_of({"lid_ease": "0"}, plain=True),
        lambda: evidence_of({"lid_ease": "1/16"}, plain=True),
    ),
    # 3 1/4 in less 5 and 3 thicknesses of 0.27 mm is 81.2 by 81.7 mm inside.
    "content_room": (
        F,
        lambda: evidence_of(settings=content("3 1/4")),
        lambda: evidence_of(settings=content("3 1/16")),
    ),
    # Pushed into the opposite corner, 2 3/4 in leave 23.2 mm to both walls of the corner, the triangle's leg is 35.9.
    "content_corner": (
        L,
        lambda: evidence_of(settings=content("2 3/4", "2") + LID),
        lambda: evidence_of(settings=content("2 1/2", "2") + LID),
    ),
    "glue_area": (
        L,
        lambda: evidence_of({"wall_height": "1/2", "inner_wall": "7/16", "tab_length": "3/4"}),
        lambda: evidence_of({"wall_height": "3/4", "inner_wall": "5/8", "tab_length": "3/4"}),
    ),
    "glue_width": (
        L,
        lambda: evidence_of({"tab_length": "5/16"}),
        lambda: evidence_of({"tab_length": "1/2"}),
    ),
    "fold_takes_up": (
        L,
        lambda: evidence_of(card='thickness = "0.85 mm +/- 0.0001"'),
        lambda: evidence_of(card='thickness = "0.75 mm +/- 0.0001"'),
    ),
    "stack_height": (
        L,
        lambda: evidence_of(card='thickness = "0.45 mm +/- 0.0001"'),
        lambda: evidence_of(card='thickness = "0.42 mm +/- 0.0001"'),
    ),
    "thickness_estimated": (
        L,
        lambda: evidence_of(estimated=True),
        lambda: evidence_of(),
    ),
    "tab_wedge": (
        L,
        lambda: evidence_of({"relief": "1/32 in"}, top='ruler = "1/32"'),
        lambda: evidence_of({"relief": "1/16 in"}),
    ),
    "mark_error": (
        L,
        lambda: evidence_of({"wall_height": "2 1/32", "inner_wall": "1 1/2"}, top='ruler = "1/8"'),
        lambda: evidence_of({"wall_height": "2 1/32", "inner_wall": "1 1/2"}, top='ruler = "1/16"'),
    ),
    "readings_differ": (
        L,
        lambda: evidence_of({"piece": "whole sheet"}, card='measured = "11 7/8 x 12"'),
        lambda: evidence_of({"piece": "whole sheet"}),
    ),
    "grain": (
        L,
        lambda: evidence_of(card='weight = "200 gsm"\nthickness = "0.27 mm"'),
        lambda: evidence_of(card='weight = "199 gsm"\nthickness = "0.27 mm"'),
    ),
    "white_shows": (
        L,
        lambda: evidence_of(card='printed = "one side"'),
        lambda: evidence_of(card='printed = "one side"', settings="white_look_mm2 = 20000"),
    ),
}


def test_every_code_has_a_case() -> None:
    """Those of turning lids have theirs in test_lid_findings.py."""
    elsewhere = {"turning", "owned_sizes"}  # test_lid_findings, test_owned_sizes
    assert sorted(CASES) == sorted(code for check in CHECKS if check.name not in elsewhere for code in check.codes)


@pytest.mark.parametrize("code", sorted(CASES))
def test_triggers(code: str) -> None:
    severity, trigger, _ = CASES[code]
    finding = findings_of(trigger())[code]
    assert finding.severity >= severity
    worse = finding.measured > finding.limit if finding.sense == "at_most" else finding.measured < finding.limit
    assert worse, f"{finding.measured} against {finding.limit} is no reason for {finding.severity.name}"


@pytest.mark.parametrize("code", sorted(CASES))
def test_near_miss_holds(code: str) -> None:
    severity, _, near = CASES[code]
    assert findings_of(near())[code].severity < severity
