"""What holds for every tray: it closes, lies in its blank, keeps its panel sizes, and turns with its drawing."""

import dataclasses
import math

import numpy as np
import pytest
from hypothesis import given, settings
from hypothesis import strategies as st
from shapely import unary_union
from shapely.geometry import LineString, Polygon

from foldproof.constructions.double_wall_tray import DoubleWallTray
from foldproof.constructions.double_wall_tray import build as build_double
from foldproof.constructions.double_wall_tray import lay_out as lay_out_double
from foldproof.constructions.parameters import Card
from foldproof.constructions.plain_tray import PlainTray
from foldproof.constructions.plain_tray import build as build_plain
from foldproof.constructions.plain_tray import lay_out as lay_out_plain
from foldproof.folding.closure import fit_joins
from foldproof.folding.contact import final_contact
from foldproof.folding.layers import order_layers
from foldproof.folding.limits import FoldingLimits
from foldproof.folding.orders import lay_down_laws, search_orders
from foldproof.folding.tree import folded, grow, pose
from foldproof.lengths import MM, length
from foldproof.pattern.cuts import WELD_MM, cut_length, cut_paths, score_length

RELIEF_MM = 2.0
LIMITS = FoldingLimits()


def mm(value):
    return length(str(value), "mm")


def card(thickness_mm):
    return Card(thickness_mm=thickness_mm, sheet_width=mm(2000), sheet_height=mm(2000), ruler=MM)


thicknesses = st.integers(10, 50).map(lambda hundredths: hundredths / 100)


@st.composite
def double_trays(draw):
    """Values of a double-wall tray, on the half millimetre, that contradict nothing."""
    wall = draw(st.integers(20, 120)) / 2
    return DoubleWallTray(
        base_length=mm(draw(st.integers(80, 400)) / 2),
        base_width=mm(draw(st.integers(80, 400)) / 2),
        wall_height=mm(wall),
        inner_wall=mm(draw(st.integers(16, int(wall * 2))) / 2),
        piece="cut to size",
        tab_length=draw(st.sampled_from(["to meet its neighbour", "as long as the wall is tall"]))
        if wall <= 35
        else "to meet its neighbour",
        relief=mm(RELIEF_MM),
        allowance="none",
        glue=draw(st.sampled_from(["wet glue", "hot glue"])),
    )


@st.composite
def plain_trays(draw):
    """Values of a plain tray with its lid."""
    wall = draw(st.integers(30, 120)) / 2
    return PlainTray(
        base_length=mm(draw(st.integers(80, 400)) / 2),
        base_width=mm(draw(st.integers(80, 400)) / 2),
        wall_height=mm(wall),
        lid=draw(st.sampled_from(["none", "from a larger piece", "scored nearer the edge"])),
        lid_wall="as wall_height",
        lid_ease="usual",
        tab_length="to meet its neighbour",
        relief=mm(RELIEF_MM),
        allowance="none",
        glue="wet glue",
    )


def built(values, thickness_mm):
    """Layouts and assembly of a tray."""
    known = card(thickness_mm)
    if isinstance(values, DoubleWallTray):
        layouts = lay_out_double(values, known)
        return layouts, build_double(values, known, layouts)
    layouts = lay_out_plain(values, known)
    return layouts, build_plain(values, known, layouts)


trays = st.one_of(double_trays(), plain_trays())


@settings(max_examples=40)
@given(trays, thicknesses)
def test_a_tray_closes_and_nothing_touches(values, thickness_mm):
    _, assembly = built(values, thickness_mm)
    for piece in assembly.pieces:
        tree = grow(piece)
        layers = order_layers(tree, assembly.joins, thickness_mm)
        assert layers.contradictions == ()
        fits = fit_joins(tree, layers, assembly.joins)
        assert len(fits) >= 4
        height = dict(zip(tree.panels, layers.layer, strict=True))
        for fit in fits:
            assert fit.slip_mm < 1e-6
            # A face that lies over other layers beside the glue bends down to it by their thickness, no more.
            one, other = fit.join.split("+")
            between = abs(height[one] - height[other]) - 1
            assert 0 <= between <= 2 and (between == 0 or one.startswith("wall"))
            assert fit.gap_mm == pytest.approx(between * thickness_mm, abs=1e-6)
            assert fit.facing
            assert fit.overhang_mm < 1e-6
        laws = lay_down_laws(tree, layers, assembly.joins, LIMITS)
        assert final_contact(laws.contact) == ()


@given(trays, thicknesses)
def test_a_tray_lies_in_its_blank_and_its_panels_lie_beside_each_other(values, thickness_mm):
    layouts, assembly = built(values, thickness_mm)
    for layout, piece in zip(layouts, assembly.pieces, strict=True):
        assert (piece.blank_width_mm, piece.blank_height_mm) == (layout.width.float_mm, layout.height.float_mm)
        shapes = [Polygon(panel.outline) for panel in piece.panels]
        whole = unary_union(shapes)
        low_x, low_y, high_x, high_y = whole.bounds
        assert low_x >= -1e-9 and low_y >= -1e-9
        assert high_x <= piece.blank_width_mm + 1e-9 and high_y <= piece.blank_height_mm + 1e-9
        assert all(shape.is_valid and shape.exterior.is_ccw for shape in shapes)
        assert whole.area == pytest.approx(sum(shape.area for shape in shapes), rel=1e-9)
        assert whole.geom_type == "Polygon", "the piece hangs together"


@given(trays, thicknesses)
def test_a_tray_keeps_its_panel_sizes(values, thickness_mm):
    """The base is as asked, walls and inner walls too, and score positions are the running sums of the panels."""
    layouts, assembly = built(values, thickness_mm)
    layout, piece = layouts[0], assembly.pieces[0]
    extent = {p.id: np.ptp(np.asarray(p.outline), axis=0) for p in piece.panels}
    assert extent["base"].tolist() == pytest.approx([values.base_length.float_mm, values.base_width.float_mm])
    for place, axis in (("back", 1), ("front", 1), ("right", 0), ("left", 0)):
        assert extent[f"wall_{place}"][axis] == pytest.approx(values.wall_height.float_mm)
        if isinstance(values, DoubleWallTray):
            assert extent[f"inner_{place}"][axis] == pytest.approx(values.inner_wall.float_mm)
    inner = values.inner_wall if isinstance(values, DoubleWallTray) else None
    for positions, base, side in (
        (layout.across, values.base_length, layout.width),
        (layout.up, values.base_width, layout.height),
    ):
        widths = [values.wall_height, base, values.wall_height]
        if inner is not None:
            widths = [inner, *widths, inner]
        ends = [position.at for position in positions] + [side]
        for count, end in enumerate(ends, 1):
            assert end.mm == sum(width.mm for width in widths[:count])


@given(trays, thicknesses)
def test_cuts_and_creases_make_up_every_outline_and_never_run_on_each_other(values, thickness_mm):
    _, assembly = built(values, thickness_mm)
    for piece in assembly.pieces:
        cuts = unary_union([LineString(path) for path in cut_paths(piece)])
        scores = unary_union([LineString(crease.line) for crease in piece.creases])
        drawn = unary_union([cuts, scores]).buffer(3 * WELD_MM)
        rims = [Polygon(panel.outline).exterior for panel in piece.panels]
        for rim in rims:
            assert rim.difference(drawn).length < 1e-6
        assert cuts.intersection(scores.buffer(WELD_MM / 2)).length < 0.1, "no crease is cut"
        # Every line on paper is the edge of some panel, and each crease is the edge of two.
        edges = unary_union(rims)
        assert unary_union([cuts, scores]).difference(edges.buffer(3 * WELD_MM)).length < 1e-6
        assert cut_length(piece) + score_length(piece) == pytest.approx(edges.length, abs=0.1)


def turned_quarter(piece, joins):
    """The same piece lying a quarter turn round on the sheet."""

    def turn(point):
        return (-point[1], point[0])

    panels = tuple(dataclasses.replace(p, outline=tuple(map(turn, p.outline))) for p in piece.panels)
    creases = tuple(dataclasses.replace(c, line=tuple(map(turn, c.line))) for c in piece.creases)
    moved = tuple(
        dataclasses.replace(j, area=tuple(map(turn, j.area)), landing=tuple(map(turn, j.landing))) for j in joins
    )
    return dataclasses.replace(piece, panels=panels, creases=creases), moved


def turned_over(piece, joins):
    """The same piece seen from its other side: left and right change, valleys become mountains, faces backs."""

    def mirror(point):
        return (-point[0], point[1])

    def other_side(face):
        return dataclasses.replace(face, side="back" if face.side == "face" else "face")

    panels = tuple(dataclasses.replace(p, outline=tuple(map(mirror, reversed(p.outline)))) for p in piece.panels)
    creases = tuple(
        dataclasses.replace(c, line=tuple(map(mirror, c.line)), direction="mountain") for c in piece.creases
    )
    moved = tuple(
        dataclasses.replace(
            j,
            a=other_side(j.a),
            b=other_side(j.b),
            area=tuple(map(mirror, j.area)),
            landing=tuple(map(mirror, j.landing)),
        )
        for j in joins
    )
    return dataclasses.replace(piece, panels=panels, creases=creases), moved


def answers(piece, joins, thickness_mm):
    """What folding finds, without coordinates."""
    tree = grow(piece)
    layers = order_layers(tree, joins, thickness_mm)
    laws = lay_down_laws(tree, layers, joins, LIMITS)
    orders = search_orders(laws, LIMITS)
    fits = fit_joins(tree, layers, joins)
    return {
        "orders": orders.number,
        "states": orders.states,
        "costs": [order.cost for order in orders.ranked],
        "facing": [fit.facing for fit in fits],
        "touching": final_contact(laws.contact),
        "stacks": layers.stacks,
        "overlaps": sorted((o.lower, o.upper) if o.lower < o.upper else (o.upper, o.lower) for o in layers.overlaps),
    }, np.array(layers.shifts_mm)


@settings(max_examples=12)
@given(trays, thicknesses)
def test_turning_the_piece_turns_the_answers(values, thickness_mm):
    _, assembly = built(values, thickness_mm)
    here, shifts = answers(assembly.pieces[0], assembly.joins, thickness_mm)
    there, turned_shifts = answers(*turned_quarter(assembly.pieces[0], assembly.joins), thickness_mm)
    assert there == here
    assert turned_shifts == pytest.approx(shifts, abs=1e-9)


@settings(max_examples=12)
@given(trays, thicknesses)
def test_mountains_on_the_back_mirror_valleys_on_the_face(values, thickness_mm):
    _, assembly = built(values, thickness_mm)
    here, shifts = answers(assembly.pieces[0], assembly.joins, thickness_mm)
    there, mirrored_shifts = answers(*turned_over(assembly.pieces[0], assembly.joins), thickness_mm)
    assert there == here
    assert mirrored_shifts == pytest.approx(-shifts, abs=1e-9)


@given(trays, st.lists(st.floats(0.0, 1.0), min_size=12, max_size=12))
def test_every_pose_of_the_mirrored_piece_is_the_mirrored_pose(values, fractions):
    """A half turn about the y axis carries one piece's pose into the other's, at any state of the folds."""
    _, assembly = built(values, 0.27)
    piece, joins = assembly.pieces[0], assembly.joins
    other_piece, _ = turned_over(piece, joins)
    tree, other = grow(piece), grow(other_piece)
    shares = np.array([fractions[: len(piece.creases)]])
    still = [0.0] * len(tree.panels)
    one, two = pose(tree, shares, still)[0], pose(other, shares, still)[0]
    half_turn = np.diag([-1.0, 1.0, -1.0, 1.0])
    assert two == pytest.approx(half_turn @ one @ half_turn, abs=1e-9)


@settings(max_examples=20)
@given(trays)
def test_zero_thickness_is_the_limit_of_small_thickness(values):
    _, assembly = built(values, 0.02)
    piece, joins = assembly.pieces[0], assembly.joins
    tree = grow(piece)
    flat = folded(tree, [0.0] * len(tree.panels))
    found = []
    for thickness_mm in (0.04, 0.02, 0.01):
        layers = order_layers(tree, joins, thickness_mm)
        poses = folded(tree, layers.shifts_mm)
        found.append((np.abs(poses - flat).max() / thickness_mm, np.array(layers.shifts_mm) / thickness_mm))
    for far, shifts in found[1:]:
        assert far == pytest.approx(found[0][0], abs=1e-6), "the pose goes to the flat card's in a straight line"
        assert shifts == pytest.approx(found[0][1], abs=1e-6)


@settings(max_examples=8)
@given(trays)
def test_thin_and_thinner_card_have_the_same_orders(values):
    _, assembly = built(values, 0.02)
    thin, _ = answers(assembly.pieces[0], assembly.joins, 0.02)
    thinner, _ = answers(assembly.pieces[0], assembly.joins, 0.01)
    assert thinner == thin


@given(trays, thicknesses)
def test_every_fold_of_a_tray_is_a_quarter_or_a_half_turn(values, thickness_mm):
    _, assembly = built(values, thickness_mm)
    for piece in assembly.pieces:
        for crease in piece.creases:
            assert crease.target_rad in (pytest.approx(math.pi / 2), pytest.approx(math.pi))
