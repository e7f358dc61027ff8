"""How far a traced outline may be from the true edge: estimated from what can be seen to be wrong."""

from __future__ import annotations

from dataclasses import dataclass

import numpy as np

from foldproof.geometry.plane import Array
from foldproof.outlines.photograph.edge import Edge
from foldproof.outlines.photograph.sheet import Sheet

BLOCKS = 12  # parts of a side of the sheet, over which misfits that go along it are told from noise
PIXEL_SHARE = 0.06  # of a pixel: light is sampled and stored in steps
TONE_SHARE = 0.06  # of the blur: telephones bend the light's scale, which moves the halfway place
BURNT_SHARE = 0.8  # of the blur: where light is cut off at white, the brighter side seems to reach farther
SHADE_MM = 0.3  # a shadow that is not told from the shape is about as wide; common practice, no source
INWARDS = 2.0  # inside the sheet nothing holds the view to it: a lens of another kind strays twice as far there
WORST = 3.0  # how many times the mean the worst place may be off, where nothing else is seen
POINTED_PX = 3.0  # how far off a person points out a corner


@dataclass(frozen=True, slots=True, kw_only=True)
class Estimate:
    """On average and at the worst place, in mm."""

    mean_mm: float
    farthest_mm: float


def estimated(
    sheet: Sheet,
    edge: Edge,
    outline: Array,
    *,
    pixels_per_mm: float,
    rounded: float,
    cleaned_mm: float,
    lifted_mm: float,
    sheet_error_mm: float,
    like_shade: bool,
) -> Estimate:
    """Adds up: the edge's own unsureness, the sheet's misfit, the sheet's size, and what cleaning may stray.

    ``outline``: (n, 2) in mm about its middle. ``sheet_error_mm``: how far the sheet's true size may be from the one
    given; the outline grows and shrinks with it. ``rounded``: by how many blurs a corner may be pulled in;
    ``lifted_mm``: how unsure the shape's thickness makes it; ``like_shade``: its shadow cannot be told from it.
    """
    pixel = PIXEL_SHARE / pixels_per_mm + TONE_SHARE * edge.blur_mm
    own = float(edge.unsure_mm.mean()) + float(edge.stray_mm.mean()) + pixel
    own += BURNT_SHARE * edge.blur_mm * float((edge.burnt_outside | edge.burnt_inside).mean())
    own += SHADE_MM if like_shade else 0.0
    misfit = INWARDS * _misfit(sheet) + (POINTED_PX / pixels_per_mm if sheet.held else 0.0)
    reach = np.hypot(outline[:, 0], outline[:, 1])
    # A sheet that looks too wide may be right in either of its two sizes.
    size = (sheet_error_mm / min(sheet.sheet_mm) + abs(sheet.off_proportion)) * reach
    mean = own + misfit + float(size.mean()) + lifted_mm + cleaned_mm / 2.0
    worst_own = float(np.quantile(edge.unsure_mm + edge.stray_mm, 0.99)) + WORST * own
    farthest = worst_own + WORST * misfit + float(size.max()) + WORST * lifted_mm + cleaned_mm + edge.blur_mm * rounded
    return Estimate(mean_mm=mean, farthest_mm=max(farthest, mean))


def _misfit(sheet: Sheet) -> float:
    """How far the sheet's sides stray from straight lines over some length, in mm: curl, bad cuts, the lens's rest."""
    squares = []
    for off in sheet.off_mm:
        blocks = [block.mean() ** 2 for block in np.array_split(off, BLOCKS) if len(block)]
        squares += blocks
    return float(np.sqrt(np.mean(squares))) if squares else 0.0
