"""General facts of folding, put to our own trees and poses: flared walls, a box fold, and four creases at a point.

C: computed from a definition. No figure here belongs to one of our constructions.
"""

import numpy as np
import pytest

from foldproof.folding.tree import folded, grow, pose
from foldproof.geometry import motion
from foldproof.pattern.records import Crease, Panel, Piece

PRINTED_MM = 1e-4  # the facts are given to four places


def panel(name, *outline):
    return Panel(id=name, kind="wall", place="", outline=outline)


def crease(parent, child, line, fold_deg, direction="valley"):
    return Crease(
        id=f"fold_{child}",
        parent=parent,
        child=child,
        line=line,
        direction=direction,
        scored_face="face",
        target_rad=float(np.radians(fold_deg)),
        family="walls",
    )


def piece(panels, creases):
    return Piece(
        id="piece",
        blank_width_mm=500.0,
        blank_height_mm=500.0,
        root=panels[0].id,
        panels=tuple(panels),
        creases=tuple(creases),
    )


def flared_tray(corner_deg, base_dihedral_deg):
    """A square base with two neighbouring walls, wider at the rim: their corner angle is over 90 degrees."""
    side, tall = 80.0, 35.0
    out = tall * np.tan(np.radians(corner_deg - 90.0))
    back = panel("back", (0.0, side), (side, side), (side + out, side + tall), (-out, side + tall))
    right = panel("right", (side, 0.0), (side + tall, -out), (side + tall, side + out), (side, side))
    base = panel("base", (0.0, 0.0), (side, 0.0), (side, side), (0.0, side))
    fold = 180.0 - base_dihedral_deg
    return grow(
        piece(
            (base, back, right),
            (
                crease("base", "back", ((0.0, side), (side, side)), fold),
                crease("base", "right", ((side, 0.0), (side, side)), fold),
            ),
        )
    )


def rim_gap_mm(tree):
    """Distance between the rim ends of the two walls at their common corner."""
    world = folded(tree, [0.0] * 3)
    back, right = tree.index("back"), tree.index("right")
    end_of_back = motion.apply(world[back], motion.lift((tree.outline(back)[2],)))
    end_of_right = motion.apply(world[right], motion.lift((tree.outline(right)[2],)))
    return float(np.linalg.norm(end_of_back - end_of_right))


def between_walls_deg(tree):
    """The angle inside the corner between the two walls' planes."""
    world = folded(tree, [0.0] * 3)
    normals = [world[tree.index(name), :3, 2] for name in ("back", "right")]
    return 180.0 - float(np.degrees(np.arccos(normals[0] @ normals[1])))


def test_a_flared_square_tray_closes_at_its_dihedral():
    # C: walls with a corner angle of 100 degrees: base dihedral 100.1559, wall to wall 91.7817 degrees
    tree = flared_tray(100.0, 100.1559)
    assert rim_gap_mm(tree) < 2 * PRINTED_MM
    assert between_walls_deg(tree) == pytest.approx(91.7817, abs=PRINTED_MM)


def test_a_flared_square_tray_gapes_at_any_other_dihedral():
    # C: a base dihedral of 100 degrees: wall to wall 91.7279 degrees, and then a corner angle of 100 does not close
    tree = flared_tray(100.0, 100.0)
    assert between_walls_deg(tree) == pytest.approx(91.7279, abs=PRINTED_MM)
    assert rim_gap_mm(tree) > 0.1


@pytest.mark.parametrize(("turned_deg", "diagonal_mm"), [(0.0, 65.0), (90.0, 47.1699), (120.0, 35.0), (180.0, 15.0)])
def test_a_box_fold_spans_its_diagonal(turned_deg, diagonal_mm):
    # C: box fold of 40 and 25: diagonal 65 flat, 47.1699 at 90, 35 at 120, 15 at 180 degrees
    strip = piece(
        (
            panel("long", (0.0, 0.0), (40.0, 0.0), (40.0, 30.0), (0.0, 30.0)),
            panel("short", (40.0, 0.0), (65.0, 0.0), (65.0, 30.0), (40.0, 30.0)),
        ),
        (crease("long", "short", ((40.0, 0.0), (40.0, 30.0)), 180.0),),
    )
    world = pose(grow(strip), np.array([[turned_deg / 180.0]]), [0.0, 0.0])[0]
    end = motion.apply(world[1], np.array([[65.0, 0.0, 0.0]]))[0]
    assert np.linalg.norm(end) == pytest.approx(diagonal_mm, abs=PRINTED_MM)


def slit_edges(sectors_deg, directions):
    """Four sectors round a point, slit along the first crease, folded flat: where both edges of the slit point."""
    at = np.radians(np.concatenate([[0.0], np.cumsum(sectors_deg)]))
    tips = [(float(50.0 * np.cos(a)), float(50.0 * np.sin(a))) for a in at]
    panels = [panel(f"sector{k}", (0.0, 0.0), tips[k], tips[k + 1]) for k in range(4)]
    creases = [
        crease(f"sector{k}", f"sector{k + 1}", ((0.0, 0.0), tips[k + 1]), 180.0, directions[k]) for k in range(3)
    ]
    tree = grow(piece(panels, creases))
    world = folded(tree, [0.0] * 4)
    first = np.array([*tips[0], 0.0])
    last = motion.apply(world[tree.index("sector3")], motion.lift((tips[4],)))[0]
    return first, last


@pytest.mark.parametrize("directions", [("valley", "mountain", "valley"), ("valley", "valley", "mountain")])
def test_kawasaki_angles_fold_flat_and_others_do_not(directions):
    # C: Kawasaki: (60, 70, 120, 110) degrees folds flat, (60, 70, 115, 115) does not
    first, last = slit_edges((60.0, 70.0, 120.0, 110.0), directions)
    assert np.linalg.norm(first - last) < 1e-9
    first, last = slit_edges((60.0, 70.0, 115.0, 115.0), directions)
    assert np.linalg.norm(first - last) > 5.0
