"""Cut paths: every edge that is not a crease, once, chained end to end."""

import dataclasses
import math

import pytest

from foldproof.pattern.cuts import cut_length, cut_paths, score_length
from foldproof.pattern.records import Crease, Panel, Piece


def panel(name, *outline):
    return Panel(id=name, kind="wall", place="", outline=outline)


def crease(parent, child, *line):
    return Crease(
        id=f"fold_{child}",
        parent=parent,
        child=child,
        line=line,
        direction="valley",
        scored_face="face",
        target_rad=math.pi / 2,
        family="walls",
    )


def piece(panels, creases=()):
    return Piece(
        id="piece",
        blank_width_mm=100.0,
        blank_height_mm=100.0,
        root=panels[0].id,
        panels=tuple(panels),
        creases=tuple(creases),
    )


BASE = panel("base", (0.0, 0.0), (40.0, 0.0), (40.0, 30.0), (0.0, 30.0))
WALL = panel("wall", (40.0, 0.0), (60.0, 0.0), (60.0, 30.0), (40.0, 30.0))
FOLD = crease("base", "wall", (40.0, 0.0), (40.0, 30.0))


def test_one_panel_is_cut_round_once_and_the_path_closes():
    (path,) = cut_paths(piece((BASE,)))
    assert path[0] == path[-1]
    assert sorted(set(path)) == sorted(BASE.outline)
    assert cut_length(piece((BASE,))) == pytest.approx(140.0)


def test_a_crease_is_scored_and_not_cut():
    both = piece((BASE, WALL), (FOLD,))
    assert score_length(both) == pytest.approx(30.0)
    assert cut_length(both) == pytest.approx(2 * (60.0 + 30.0))
    (path,) = cut_paths(both)
    assert path[0] == path[-1]


def test_a_shared_edge_without_a_crease_is_a_slit_cut_once():
    upper = panel("upper", (40.0, 30.0), (60.0, 30.0), (60.0, 50.0), (40.0, 50.0))
    folds = (FOLD, crease("wall", "upper", (40.0, 30.0), (60.0, 30.0)))
    side = panel("side", (0.0, 30.0), (40.0, 30.0), (40.0, 50.0), (0.0, 50.0))
    folds += (crease("base", "side", (0.0, 30.0), (40.0, 30.0)),)
    whole = piece((BASE, WALL, upper, side), folds)
    # Outline of 60 x 50, and the slit of 20 between the upper panel and the side.
    assert cut_length(whole) == pytest.approx(2 * (60.0 + 50.0) + 20.0)


def test_a_crease_shorter_than_the_edge_leaves_cuts_on_either_side():
    short = dataclasses.replace(FOLD, line=((40.0, 5.0), (40.0, 25.0)))
    assert cut_length(piece((BASE, WALL), (short,))) == pytest.approx(180.0 + 10.0)


def test_slanted_edges_are_followed():
    slanted = panel("base", (0.0, 0.0), (30.0, 0.0), (30.0, 40.0))
    (path,) = cut_paths(piece((slanted,)))
    assert cut_length(piece((slanted,))) == pytest.approx(120.0)
    for corner in slanted.outline:
        assert min(math.dist(corner, point) for point in path) < 2e-3


def test_paths_come_out_the_same_whatever_order_panels_are_listed_in():
    one = piece((BASE, WALL), (FOLD,))
    other = dataclasses.replace(one, panels=(WALL, BASE))
    assert cut_paths(one) == cut_paths(other)
