"""Whether an edge that was found is good enough to be given out, and what may still be wrong with it."""

from __future__ import annotations

import numpy as np

from foldproof.outlines.photograph.edge import EVERY_MM, Edge
from foldproof.outlines.photograph.records import Doubt
from foldproof.outlines.photograph.refusals import Refused
from foldproof.outlines.photograph.sheet import Sheet
from foldproof.outlines.photograph.sheet_choice import DOUBTFUL_OFF

MOST_BLUR_MM = 1.6  # an edge seen over more than this, from a tenth to nine tenths of its step, hides corners
TENTH_TO_TENTH = 2.563  # of a normal spread, in standard deviations
FAINT_STEP = 0.25  # of the usual step: here the edge is not told from the sheet
FAINT_MM, FAINT_SHARE = 6.0, 0.04  # of the edge that may be so faint; what lies between is drawn through
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


def edge_refusal(edge: Edge, sheet_burnt: float) -> Refused | None:
    """Why an edge is not good enough, or None. ``sheet_burnt``: the share of the sheet that is burnt out."""
    blurred = blur_refusal(edge.blur_mm)
    if blurred is not None:
        return blurred
    spots = [edge.burnt_inside] + ([edge.burnt_outside] if sheet_burnt < BURNT_DOUBT else [])
    hidden = max((float(spot.sum()) * EVERY_MM for spot in spots if spot.mean() < ALL_BURNT), default=0.0)
    if hidden > GLARE_MM:
        return Refused(code="glare", values=(("found", hidden),))
    faint = edge.step < FAINT_STEP
    if faint.sum() * EVERY_MM > FAINT_MM and faint.mean() > FAINT_SHARE:
        return Refused(code="edge unclear", values=(("found", float(faint.sum()) * EVERY_MM),))
    return None


def seen_doubts(sheet: Sheet, edge: Edge, per_mm: float) -> tuple[Doubt, ...]:
    """What may be wrong although the shape was traced."""
    found = []
    if abs(sheet.off_proportion) > DOUBTFUL_OFF:
        way = "wider" if sheet.off_proportion > 0.0 else "narrower"
        found.append(Doubt(code="proportion", values=(("found", abs(sheet.off_proportion)), ("way", way))))
    if (edge.burnt_outside | edge.burnt_inside).mean() > BURNT_DOUBT:
        found.append(Doubt(code="too bright"))
    if float(np.mean(edge.unsure_mm > max(UNSURE_PX / per_mm, UNSURE_BLURS * edge.blur_mm))) > SHADOW_SHARE:
        found.append(Doubt(code="cast shadow"))
    if sheet.held:
        found.append(Doubt(code="corners held"))
    return tuple(found)
