"""The piece with every score line worked once and let open again: the picture of the first folding step."""

from __future__ import annotations

from math import radians

import numpy as np

from foldproof.checks.evidence import PieceEvidence
from foldproof.drawing.records import Page
from foldproof.drawing.solid import View
from foldproof.pattern.records import Join
from foldproof.views.fold_arrows import fold_arrow
from foldproof.views.folded_picture import VIEW, Scene, drawn_piece, faces_of, row_page, row_scale

# Where card comes to rest after a fold was pressed and let go: enough to see each fold, with every panel still
# spread out.
LET_OPEN_RAD = radians(25.0)


def flat_picture(
    piece: PieceEvidence,
    joins: tuple[Join, ...],
    *,
    name: str,
    alt: str,
    size: tuple[float, float],
    mm_per_mm: float | None = None,
    view: View = VIEW,
) -> Page:
    """The piece with all folds a little open, and an arrow for each panel that hangs on its root.

    ``size`` is (width, height) in mm on paper: the page has that width, and at most that height.
    """
    drawn = drawn_piece(piece, joins, view)
    creases = drawn.tree.piece.creases
    opened = np.array([min(1.0, LET_OPEN_RAD / crease.target_rad) for crease in creases])
    faces = faces_of(drawn, opened)
    arrows = []
    for number, crease in enumerate(creases):
        if crease.parent == drawn.tree.piece.root:
            raised = opened.copy()
            raised[number] = 1.0
            arrows.append(fold_arrow(drawn, opened, raised, number, faces, from_edge=True))
    row = (Scene(faces=faces, arrows=tuple(arrows), view=view),)
    scale = row_scale([row], size) if mm_per_mm is None else mm_per_mm
    return row_page(row, mm_per_mm=scale, name=name, alt=alt, width_mm=size[0])
