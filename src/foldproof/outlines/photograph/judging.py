"""Whether an edge that was found is good enough to be given out, and what may still be wrong with it."""

from __future__ import annotations

import numpy as np

from foldproof.geometry.outline import Flags, after_each, enclosed_mm2, widest_mm
from foldproof.geometry.plane import Array
from foldproof.outlines.photograph.edge import EVERY_MM, Edge
from foldproof.outlines.photograph.records import Doubt
from foldproof.outlines.photograph.refusals import Refused
from foldproof.outlines.photograph.sheet import Sheet

DOUBTFUL_OFF = 0.01  # by how much a sheet may look wider than it is said to be: sheets are cut to half of that
REFUSED_OFF = 0.02  # a shape of 150 mm is then 1.5 mm off; a lens whose middle is not the picture's does half of that
THIN_MM, THIN_SHARE = 3.2, 0.06  # a thing narrower than this, and than such a share of its length, is a shadow's edge
MOST_BLUR_MM = 1.6  # an edge seen over more than this, from a tenth to nine tenths of its step, hides corners
TENTH_TO_TENTH = 2.563  # of a normal spread, in standard deviations
FAINT_STEP = 0.25  # of the usual step: here the edge is not told from the sheet
FAINT_MM, FAINT_SHARE = 6.0, 0.04  # of the edge that may be so faint; what lies between is drawn through
FOREIGN_MM = 3.0  # of the edge, in one piece, that has not the shape's colour inside it
GLARE_MM = 2.0  # of the edge that a reflection may hide
ALL_BURNT = 0.5  # of the edge: then the whole sheet is burnt out, not a spot of it
BURNT_DOUBT = 0.1
UNSURE_PX, UNSURE_BLURS = 0.35, 0.35  # a wider look puts the edge so far away: a shadow runs along it
SHADOW_SHARE = 0.15  # of the edge; a shadow falls on one side, so on up to a half


def blur_refusal(blur_mm: float) -> Refused | None:
    """Why edges of this spread are no use, or None."""
    seen_over = TENTH_TO_TENTH * blur_mm
    if seen_over <= MOST_BLUR_MM:
        return None
    return Refused(code="blurred", values=(("found", seen_over), ("most", MOST_BLUR_MM)))


def proportion_refusal(sheet: Sheet) -> Refused | None:
    """Why a sheet that nobody pointed out cannot be the one that was named, or None."""
    if abs(sheet.off_proportion) <= REFUSED_OFF:
        return None
    return Refused(code="proportion", values=_off(sheet))


def thin_refusal(outline: Array) -> Refused | None:
    """Why an outline (n, 2) in mm is only a strip, or None. Its mean width is twice its area over its length."""
    width = 2.0 * abs(enclosed_mm2(outline)) / float(np.hypot(*(after_each(outline) - outline).T).sum())
    if width >= min(THIN_MM, THIN_SHARE * widest_mm(outline)):
        return None
    return Refused(code="thin", values=(("found", width),))


def edge_refusal(edge: Edge, sheet_burnt: float) -> Refused | None:
    """Why an edge is not good enough, or None. ``sheet_burnt``: the share of the sheet that is burnt out."""
    blurred = blur_refusal(edge.blur_mm)
    if blurred is not None:
        return blurred
    spots = [edge.burnt_inside] + ([edge.burnt_outside] if sheet_burnt < BURNT_DOUBT else [])
    hidden = max((float(spot.sum()) * EVERY_MM for spot in spots if spot.mean() < ALL_BURNT), default=0.0)
    if hidden > GLARE_MM:
        return Refused(code="glare", values=(("found", hidden),))
    foreign = _longest(edge.foreign) * EVERY_MM
    if foreign > FOREIGN_MM:
        return Refused(code="edge unclear", values=(("found", foreign),))
    faint = edge.step < FAINT_STEP
    if faint.sum() * EVERY_MM > FAINT_MM and faint.mean() > FAINT_SHARE:
        return Refused(code="edge unclear", values=(("found", float(faint.sum()) * EVERY_MM),))
    return None


def seen_doubts(sheet: Sheet, edge: Edge, per_mm: float) -> tuple[Doubt, ...]:
    """What may be wrong although the shape was traced."""
    found = []
    if abs(sheet.off_proportion) > DOUBTFUL_OFF:
        found.append(Doubt(code="proportion", values=_off(sheet)))
    if (edge.burnt_outside | edge.burnt_inside).mean() > BURNT_DOUBT:
        found.append(Doubt(code="too bright"))
    if float(np.mean(edge.unsure_mm > max(UNSURE_PX / per_mm, UNSURE_BLURS * edge.blur_mm))) > SHADOW_SHARE:
        found.append(Doubt(code="cast shadow"))
    if sheet.held:
        found.append(Doubt(code="corners held"))
    return tuple(found)


def _longest(flags: Flags) -> int:
    """How many flags in a row are set at most, round a closed line (n,)."""
    if flags.all():
        return len(flags)
    from_gap = np.roll(flags, -int(np.argmin(flags)))
    ends = np.flatnonzero(~from_gap)
    return int(np.diff(np.append(ends, len(flags))).max()) - 1


def _off(sheet: Sheet) -> tuple[tuple[str, float | str], ...]:
    way = "wider" if sheet.off_proportion > 0.0 else "narrower"
    return (("found", abs(sheet.off_proportion)), ("way", way))
