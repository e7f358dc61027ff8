"""The quarter turn of the piece as a small picture: cross at bottom left, arrow, cross at top left."""

from __future__ import annotations

import math

from foldproof.drawing.arrows import arrow_marks
from foldproof.drawing.records import Label, Mark, Path, Stroke
from foldproof.views.labels import TEXT_PT
from foldproof.views.paper import Drawn, pencil_cross
from foldproof.words.catalogue import ENGLISH, Language

TURN_MM = (34.0, 12.0)  # width and height of the picture
SHEET_MM = 10.0
ARC_POINTS = 16


def turn_picture(right: float, top: float, *, language: Language = ENGLISH) -> Drawn:
    """The picture with its upper right corner at (right, top)."""
    left, low = right - TURN_MM[0], top - TURN_MM[1]
    marks: list[Mark] = []
    for x, in_from_left, up in ((left, 2.4, 2.4), (right - SHEET_MM, 2.4, SHEET_MM - 2.4)):
        corners = ((x, low), (x + SHEET_MM, low), (x + SHEET_MM, low + SHEET_MM), (x, low + SHEET_MM))
        marks.append(Stroke(path=Path(points=corners, closed=True), role="edge"))
        marks += pencil_cross((x + in_from_left, low + up), 1.2)
    middle = (left + right) / 2
    angles = (math.radians(150.0 - 120.0 * n / ARC_POINTS) for n in range(ARC_POINTS + 1))
    arc = tuple((middle + 6.0 * math.cos(a), low + 3.0 + 6.0 * math.sin(a)) for a in angles)
    marks += arrow_marks([arc])
    marks.append(
        Label(text=language.paper.quarter_turn, at=(middle, low + 0.4), role="label", size_pt=TEXT_PT, anchor="middle")
    )
    return Drawn(marks=tuple(marks), height_mm=TURN_MM[1] + 1.0)
