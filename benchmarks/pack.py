"""`python -m benchmarks.pack`: the stages of a whole pack, and hidden lines against the plain way.

The pack is made three times in one process: cold; again; and with one length of the box changed, which is what a maker
waits for at the bench. A second pack of the very same project is mostly remembered, so the third one tells more.

The plain way takes every ordered pair of faces on its own: overlap, half-plane, difference, with no question whether
the two meet at all. Its visible areas must be those of the program, in the same run; nothing is remembered between
rounds.
"""

from __future__ import annotations

import sys
import time
from collections.abc import Sequence

import shapely
from shapely.geometry import Polygon
from shapely.geometry.base import BaseGeometry

from benchmarks.table import print_rows
from foldproof.api import Project, pack, prove, read_project
from foldproof.design.change import changed
from foldproof.design.measure import measure
from foldproof.drawing.panels import TOUCH_MM, Panel, panel_of, panels_of
from foldproof.drawing.regions import sights_of
from foldproof.drawing.solid import Face3, View
from foldproof.findings import Change
from foldproof.service.faces import face_folder
from foldproof.service.packing import collecting_later
from foldproof.service.starting import example_text
from foldproof.views.folded_picture import drawn_piece, faces_of
from foldproof.views.step_pictures import fractions_of

REPEATS = 15
FAR_MM = 10_000.0  # half-planes reach past any picture
SAME_SHARE = 0.005  # visible areas may differ by half a per cent: the program closes slivers
TALLER = Change(path="parts.tray.wall_height", value="2 3/8 in")

Seconds = dict[str, float]


def stages(project: Project, text: str, fonts: Sequence[str]) -> Seconds:
    """Seconds spent in each stage, from its first report to another stage's."""
    found: Seconds = {}
    now_in, since = "measure", time.perf_counter()
    start = since

    def watch(stage: str, done: int, total: int) -> bool:
        nonlocal now_in, since
        if stage != now_in:
            now = time.perf_counter()
            found[now_in] = found.get(now_in, 0.0) + now - since
            now_in, since = stage, now
        return True

    pack(project, text, watch, font_folders=fonts)
    end = time.perf_counter()
    found[now_in] = found.get(now_in, 0.0) + end - since
    return {**found, "whole pack": end - start}


def plain_regions(panels: Sequence[Panel]) -> list[BaseGeometry]:
    """What is seen of each panel, pair by pair."""
    found = []
    for number, p in enumerate(panels):
        region = p.shape
        for other, q in enumerate(panels):
            if other == number or p.shape.is_empty or q.shape.is_empty:
                continue
            a, b, c = (q.plane[axis] - p.plane[axis] for axis in range(3))
            slack = TOUCH_MM if other < number else -TOUCH_MM  # touching faces: the later one is seen
            steepness = (a * a + b * b) ** 0.5
            nearer: BaseGeometry = shapely.box(-FAR_MM, -FAR_MM, FAR_MM, FAR_MM)
            if steepness < 1e-9:
                if c <= slack:
                    continue
            else:
                ux, uy, ahead = a / steepness, b / steepness, (c - slack) / steepness
                x, y = -ahead * ux, -ahead * uy
                nearer = Polygon(
                    [
                        (x + FAR_MM * uy, y - FAR_MM * ux),
                        (x - FAR_MM * uy, y + FAR_MM * ux),
                        (x - FAR_MM * uy + 2 * FAR_MM * ux, y + FAR_MM * ux + 2 * FAR_MM * uy),
                        (x + FAR_MM * uy + 2 * FAR_MM * ux, y - FAR_MM * ux + 2 * FAR_MM * uy),
                    ]
                )
            before = shapely.intersection(shapely.intersection(p.shape, q.shape, grid_size=1e-6), nearer)
            region = shapely.difference(region, before, grid_size=1e-6)
        found.append(region)
    return found


def tray_faces() -> tuple[Face3, ...]:
    """The keepsake tray, half folded, as its pictures have it."""
    evidence = prove(measure(read_project(example_text("tidepool")))).parts[0].evidence
    piece = evidence.pieces[0]
    drawn = drawn_piece(piece, evidence.assembly.joins)
    half = tuple(crease.id for crease in piece.tree.piece.creases[:6])
    return tuple(faces_of(drawn, fractions_of(drawn.tree, half)))


def hidden_lines() -> tuple[float, float, bool]:
    """Seconds of the program and of the plain way for one picture, and whether they see the same areas."""
    faces, view = tray_faces(), View()
    ours = plain = float("inf")
    for _ in range(REPEATS):
        panels_of.cache_clear()
        start = time.perf_counter()
        regions = sights_of(panels_of(faces, view, 1.0), TOUCH_MM).regions
        ours = min(ours, time.perf_counter() - start)
        panels_of.cache_clear()
        start = time.perf_counter()
        panels = [panel_of(face, view, 1.0) for face in faces]
        others = plain_regions(panels)
        plain = min(plain, time.perf_counter() - start)
    whole = sum(region.area for region in regions)
    same = abs(whole - sum(region.area for region in others)) <= SAME_SHARE * whole
    return ours, plain, same


def main() -> None:
    """Prints both tables; ends with 1 when the two ways see different areas."""
    text = example_text("tidepool")
    with face_folder() as fonts, collecting_later():
        cold = stages(read_project(text), text, (fonts,))
        again = stages(read_project(text), text, (fonts,))
        taller = stages(changed(read_project(text), (TALLER,)), text, (fonts,))
    rows = [(name, *(f"{run.get(name, 0.0):.2f} s" for run in (cold, again, taller))) for name in cold]
    heads = ("stage", "cold", "again", "box taller")
    print_rows("The whole pack of the keepsake box (aims: 1.5 s cold, 0.5 s warm)", heads, rows)
    ours, plain, same = hidden_lines()
    ratio = f"{plain / ours:.1f}"
    print_rows(
        "Hidden lines of one picture of the tray (aim: ten times the plain way's speed)",
        ("program", "plain", "ratio"),
        [(f"{1000 * ours:.1f} ms", f"{1000 * plain:.1f} ms", ratio)],
    )
    if not same:
        sys.exit("the two ways do not see the same areas")


if __name__ == "__main__":
    main()
