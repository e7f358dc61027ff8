"""The hole in the making, close up on the lid's back: the star of slits, the disc round it, the clean hole."""

from __future__ import annotations

from typing import Literal

from foldproof.checks.turning_evidence import Turning
from foldproof.drawing.records import Area, FillRole, Mark, Page, Path, Point, Stroke
from foldproof.lengths import Ruler, in_words
from foldproof.lids.holes import HOLE
from foldproof.views.hole_guide import star
from foldproof.views.lid_by_hand import exact_mm, mirrored, sized, whole_picture
from foldproof.views.lid_picture import circle
from foldproof.views.piece import mapped
from foldproof.views.tiling import Window, clipped

Stage = Literal["star", "disc", "hole"]

WHOLE_MM = 46.0  # as the lid with its box is drawn beside the by-hand pictures
CLOSE_MM = 54.0
GAP_MM = 8.0
PAD_MM = 2.0
HOLES_ACROSS = 6.0  # the close picture shows so many times the hole
ROUND_DISC = 1.25  # and all of the disc, with a little round it
SIZE_OVER = 1.6  # times the hole's radius, from its middle to the line that tells its size


def hole_stage_page(
    turning: Turning, fill: FillRole, ruler: Ruler, *, stage: Stage, name: str, alt: str, width_mm: float
) -> Page:
    """The lid's back with the box on it, small, and the place of the hole, large, at one stage of its making."""
    height = CLOSE_MM + 2 * PAD_MM
    left = 0.5 * (width_mm - WHOLE_MM - GAP_MM - CLOSE_MM)
    marks = (
        *whole_picture(turning, left, height - PAD_MM - 4.0),
        *_close(turning, fill, ruler, stage, (left + WHOLE_MM + GAP_MM, PAD_MM)),
    )
    return Page(name=name, width_mm=width_mm, height_mm=height, marks=marks, alt=alt)


def _close(turning: Turning, fill: FillRole, ruler: Ruler, stage: Stage, corner: Point) -> tuple[Mark, ...]:
    lid = turning.lid
    hole, across = (-lid.hole[0], lid.hole[1]), lid.fastener.hole_mm
    disc = lid.reinforcement
    half = 0.5 * HOLES_ACROSS * across
    if disc is not None and stage != "star":
        half = max(half, 0.5 * ROUND_DISC * disc.diameter_mm)
    window = Window(
        name="",
        column=0,
        row=0,
        left=hole[0] - half,
        low=hole[1] - half,
        right=hole[0] + half,
        high=hole[1] + half,
    )
    scale = 0.5 * CLOSE_MM / half

    def to_page(at: Point) -> Point:
        return (corner[0] + (at[0] - window.left) * scale, corner[1] + (at[1] - window.low) * scale)

    outline = Path(points=mirrored(lid.layers[0].outline), closed=True)
    drawn: list[Mark] = [Area(paths=(outline,), role=fill), Stroke(path=outline, role="outline")]
    if disc is not None and stage != "star":
        ring = Path(points=circle(hole, 0.5 * disc.diameter_mm), closed=True)
        drawn += [Area(paths=(ring,), role="plain_shade", name="disc"), Stroke(path=ring, role="edge", name="disc")]
    ring = Path(points=circle(hole, 0.5 * across), closed=True)
    if stage == "hole":
        drawn += [Area(paths=(ring,), role="paper", name=HOLE), Stroke(path=ring, role="cut", name=HOLE)]
    else:
        drawn += [Stroke(path=ring, role="guide", name=HOLE), *star(hole, across)]
    found = list(mapped(clipped(drawn, window), to_page))
    x, y = to_page(hole)
    reach = 0.5 * across * scale
    above = y + SIZE_OVER * reach
    found += sized(
        (x - reach, above), (x + reach, above), in_words(exact_mm(across), ruler), ratio=0.5, away=(0.0, 1.0)
    )
    frame = tuple(
        to_page((hole[0] + sx * half, hole[1] + sy * half)) for sx, sy in ((-1, -1), (1, -1), (1, 1), (-1, 1))
    )
    found.append(Stroke(path=Path(points=frame, closed=True), role="frame"))
    return tuple(found)
