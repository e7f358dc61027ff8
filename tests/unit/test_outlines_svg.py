"""Outlines from SVG text: every kind of shape in its true size, holes, copies, units, and lines that are joined."""

import math
from itertools import pairwise

import numpy as np
import pytest
import shapely

from foldproof.errors import InputError
from foldproof.geometry.plane import is_simple, signed_area
from foldproof.outlines.cleaning import FLATTENED, cleaned
from foldproof.outlines.traced import LeftOut, chosen
from foldproof.outlines.vector_svg import read_svg

NEAR_MM2 = 12.0  # 0.02 mm of chord error along 600 mm


def svg(body, head='width="200mm" height="100mm" viewBox="0 0 200 100"', **options):
    text = f'<svg xmlns="http://www.w3.org/2000/svg" xmlns:x="http://www.w3.org/1999/xlink" {head}>{body}</svg>'
    return read_svg(text.encode(), **options)


def only(body, **options):
    (found,) = svg(body, **options).shapes
    return found


def refused(body, **options):
    with pytest.raises(InputError) as caught:
        svg(body, **options)
    (problem,) = caught.value.problems
    assert problem.field == "the file" and problem.remedy
    return problem


def box(found):
    return tuple(round(side, 2) for side in shapely.Polygon(found.outline).bounds)


def told(traced):
    return {each.what: each.count for each in traced.left_out}


# --- Shapes -------------------------------------------------------------------------------------------------

SHAPES = [
    ('<rect x="10" y="20" width="80" height="50"/>', 4000, (10, 30, 90, 80)),
    ('<rect x="10" y="20" width="80" height="50" rx="10"/>', 4000 - (4 - math.pi) * 100, (10, 30, 90, 80)),
    ('<rect width="80" height="50" ry="10"/>', 4000 - (4 - math.pi) * 100, (0, 50, 80, 100)),
    ('<rect width="80" height="50" rx="60" ry="10"/>', 4000 - (4 - math.pi) * 400, (0, 50, 80, 100)),
    ('<circle cx="50" cy="50" r="40"/>', math.pi * 1600, (10, 10, 90, 90)),
    ('<ellipse cx="50" cy="50" rx="40" ry="20"/>', math.pi * 800, (10, 30, 90, 70)),
    ('<ellipse cx="50" cy="50" rx="40"/>', math.pi * 1600, (10, 10, 90, 90)),
    ('<polygon points="0,0 60-10,60,40 0+30"/>', 60 * 40, (0, 60, 60, 110)),
    ('<polyline points="0,0 60,0 60,40 0,40"/>', 2400, (0, 60, 60, 100)),
    ('<path d="M0 0h60v40h-60z"/>', 2400, (0, 60, 60, 100)),
    ('<path d="m10,10 60,0 0,40 -60,0"/>', 2400, (10, 50, 70, 90)),
    ('<path d="M10 10L70 10V50H10Z"/>', 2400, (10, 50, 70, 90)),
    ('<path d="M10 50a40 40 0 1180 0 40 40 0 11-80 0z"/>', math.pi * 1600, (10, 10, 90, 90)),
    ('<path d="M10 50A40 20 0 0 1 90 50z"/>', math.pi * 400, (10, 50, 90, 70)),
    ('<path d="M10 50A4 2 0 0 1 90 50z"/>', math.pi * 400, (10, 50, 90, 70)),
    ('<path d="M10 50A0 20 0 0 1 90 50V90z"/>', 1600, (10, 10, 90, 50)),
    # A parabola over a chord w, its control h above it: w h / 3; a cubic, its controls h above the ends: 0.6 w h.
    ('<path d="M0 60Q30 0 60 60z"/>', 1200, (0, 40, 60, 70)),
    ('<path d="M0 60Q30 0 60 60T120 60z"/>', 0, None),
    ('<path d="M0 60C0 0 60 0 60 60z"/>', 0.6 * 60 * 60, (0, 40, 60, 85)),
    ('<path d="M0 60C0 0 60 0 60 60S120 120 120 60L120 120H0z"/>', 60 * 120, (0, -20, 120, 85)),
    ('<path d="M0 60c0-60 60-60 60 0s60 60 60 0v60H0z"/>', 60 * 120, (0, -20, 120, 85)),
    ('<path d="M0 60S60 0 60 60z"/>', 0.3 * 60 * 60, None),
    ('<path d="M.5.5L60.5.5.5 60.5e0z"/>', 1800, (0.5, 39.5, 60.5, 99.5)),
    ('<path d="M+1e1-1E1 60 0,0 60z"/>', None, None),
]


@pytest.mark.parametrize(("body", "area", "bounds"), SHAPES)
def test_every_kind_of_shape(body, area, bounds):
    if area == 0:  # it crosses itself halfway
        with pytest.raises(InputError):
            cleaned(only(body).outline)
        return
    found = only(body)
    assert signed_area(found.outline) > 0 and is_simple(found.outline)
    if area is not None:
        assert found.area_mm2 == pytest.approx(area, abs=NEAR_MM2)
    if bounds is not None:
        assert box(found) == pytest.approx(bounds, abs=0.03)
        left, bottom, right, top = bounds
        assert (found.width_mm, found.height_mm) == pytest.approx((right - left, top - bottom), abs=0.03)


def test_up_is_up_and_the_origin_is_the_lower_left_corner_of_the_page():
    assert box(only('<path d="M0 0H20V60H10z"/>')) == (0, 40, 20, 100)


@pytest.mark.parametrize(
    ("smooth", "same"),
    [
        ("C0 30 40 30 40 0T80 0", "C0 30 40 30 40 0L80 0"),
        ("Q20 30 40 0S80 30 80 0", "Q20 30 40 0C40 0 80 30 80 0"),
        ("C0 30 40 30 40 0S80-30 80 0", "C0 30 40 30 40 0C40-30 80-30 80 0"),
        ("Q20 30 40 0T80 0", "Q20 30 40 0Q60-30 80 0"),
        ("Q20 30 40 0T80 0T120 0", "Q20 30 40 0Q60-30 80 0Q100 30 120 0"),
        ("L40 0T80 0", "L40 0L80 0"),
        ("L40 0S80 30 80 0", "L40 0C40 0 80 30 80 0"),
    ],
)
def test_smooth_curves_mirror_only_a_control_of_their_own_kind(smooth, same):
    one, other = (shapely.Polygon(only(f'<path d="M0 0{curve}V-50H0z"/>').outline) for curve in (smooth, same))
    assert one.exterior.hausdorff_distance(other.exterior) < 1e-9


@pytest.mark.parametrize("accuracy", [0.01, 0.05, 0.5])
def test_curves_keep_to_their_share_of_the_accuracy(accuracy):
    outline = only('<circle cx="50" cy="50" r="45"/>', accuracy_mm=accuracy).outline
    middles = [((a + c) / 2, (b + d) / 2) for (a, b), (c, d) in pairwise(outline)]
    off = [45 - math.dist(place, (50, 50)) for place in (*outline, *middles)]
    assert min(off) >= -1e-9 and 0.3 * accuracy < max(off) <= FLATTENED * accuracy + 1e-9
    # With cleaning on top the outline is still within the accuracy of the true circle.
    clean = shapely.LinearRing(cleaned(outline, accuracy_mm=accuracy).outline)
    bearing = np.arange(2000) * math.tau / 2000
    circle = shapely.points(np.column_stack((50 + 45 * np.cos(bearing), 50 + 45 * np.sin(bearing))))
    assert shapely.distance(clean, circle).max() <= accuracy


@pytest.mark.parametrize(
    ("transform", "area", "bounds"),
    [
        ("translate(10)", 800, (10, 80, 50, 100)),
        ("translate(10,-5)", 800, (10, 85, 50, 105)),
        ("scale(2)", 3200, (0, 60, 80, 100)),
        ("scale(2 -1)", 1600, (0, 100, 80, 120)),
        ("rotate(90)", 800, (-20, 60, 0, 100)),
        ("rotate(90, 20, 10)", 800, (10, 70, 30, 110)),
        ("rotate(90deg)", 800, (-20, 60, 0, 100)),
        ("skewX(45)", 800, (0, 80, 60, 100)),
        ("skewY(45)", 800, (0, 40, 40, 100)),
        ("matrix(2 0 0 3 5 6)", 4800, (5, 34, 85, 94)),
        ("translate(10 10) scale(2)", 3200, (10, 50, 90, 90)),
        ("scale(2),translate(10 10)", 3200, (20, 40, 100, 80)),
        ("none", 800, (0, 80, 40, 100)),
    ],
)
def test_transforms(transform, area, bounds):
    found = only(f'<g transform="{transform}"><rect width="40" height="20"/></g>')
    assert found.area_mm2 == pytest.approx(area)
    assert box(found) == pytest.approx(bounds, abs=0.01)


def test_transforms_within_one_another():
    inner = '<g transform="rotate(90)"><rect transform="scale(2)" width="10" height="20"/></g>'
    assert box(only(f'<g transform="translate(50 50)">{inner}</g>')) == (10, 30, 50, 50)


# --- Sizes --------------------------------------------------------------------------------------------------


@pytest.mark.parametrize(
    ("head", "side", "unit", "unit_from"),
    [
        ("", 96 * 25.4 / 96, "px", "standard"),
        ('viewBox="0 0 10 10"', 25.4, "px", "standard"),
        ('width="100%" height="100%" viewBox="0 0 10 10"', 25.4, "px", "standard"),
        ('width="50mm" height="50mm"', 25.4, "px", "standard"),
        ('width="192" height="192px" viewBox="0 0 96 96"', 50.8, "px", "standard"),
        ('width="96mm" height="96mm" viewBox="0 0 96 96"', 96, "mm", "file"),
        ('width="9.6cm" height="9.6cm" viewBox="0 0 96 96"', 96, "cm", "file"),
        ('width="384Q" height="384q" viewBox="0 0 96 96"', 96, "q", "file"),
        ('width="4in" height="4in" viewBox="0 0 96 96"', 101.6, "in", "file"),
        ('width="288pt" height="288pt" viewBox="0 0 96 96"', 101.6, "pt", "file"),
        ('width="24pc" height="24pc" viewBox="0 0 96 96"', 101.6, "pc", "file"),
        ('width="4in" viewBox="0 0 96 48"', 101.6, "in", "file"),
        ('height="4in" viewBox="0 0 48 96"', 101.6, "in", "file"),
        ('width="96mm" height="48mm" viewBox="0 0 96 96"', 48, "mm", "file"),
        ('width="96mm" height="48mm" viewBox="0 0 96 96" preserveAspectRatio="xMinYMax slice"', 96, "mm", "file"),
    ],
)
def test_units(head, side, unit, unit_from):
    found = svg('<rect width="96" height="96"/>', head=head)
    assert (found.unit, found.unit_from) == (unit, unit_from)
    assert (found.shapes[0].width_mm, found.shapes[0].height_mm) == pytest.approx((side, side))


def test_a_view_box_laid_in_without_keeping_its_proportions():
    head = 'width="96mm" height="48mm" viewBox="10 10 96 96" preserveAspectRatio="none"'
    found = only('<rect x="10" y="10" width="96" height="96"/>', head=head)
    assert box(found) == (0, 0, 96, 48)


def test_percentages_are_of_the_view_box():
    assert box(only('<rect x="5%" y="10%" width="50%" height="50%"/>')) == (10, 40, 110, 90)
    assert only('<circle cx="50%" cy="50%" r="20%"/>').width_mm == pytest.approx(
        2 * 0.2 * math.hypot(200, 100) / math.sqrt(2), abs=0.03
    )
    assert only('<rect width="2cm" height="1in"/>').height_mm == pytest.approx(96), "lengths are px, laid in as mm"


# --- Holes --------------------------------------------------------------------------------------------------

OUTER, SAME_WAY, OTHER_WAY = "M0 0H90V90H0z", "M20 20H70V70H20z", "M20 20V70H70V20z"


@pytest.mark.parametrize(
    ("path", "rule", "holes"),
    [
        (OUTER + SAME_WAY, "evenodd", 1),
        (OUTER + OTHER_WAY, "evenodd", 1),
        (OUTER + SAME_WAY, "nonzero", 0),
        (OUTER + OTHER_WAY, "nonzero", 1),
        (OTHER_WAY + OUTER, "nonzero", 1),
        (OUTER + "M5 5V15H15V5z M20 5V15H30V5z M40 5H50V15H40z", "nonzero", 2),
    ],
)
def test_holes_by_the_fill_rule(path, rule, holes):
    found = only(f'<path d="{path}" fill-rule="{rule}"/>')
    assert len(found.holes) == holes
    assert box(found) == (0, 10, 90, 100) and found.area_mm2 == pytest.approx(8100)
    for hole in found.holes:
        assert signed_area(hole) > 0 and shapely.Polygon(found.outline).contains(shapely.Polygon(hole))


def test_an_island_in_a_hole_is_a_shape_of_its_own():
    found = svg(f'<path fill-rule="evenodd" d="{OUTER}{SAME_WAY}M30 30H60V60H30z"/>').shapes
    assert [(round(each.area_mm2), len(each.holes)) for each in found] == [(8100, 1), (900, 0)]


def test_lines_without_filling_are_holes_of_one_another_too():
    assert len(only(f'<path fill="none" d="{OUTER}{SAME_WAY}"/>').holes) == 1


def test_shapes_drawn_apart_are_never_holes():
    found = svg(f'<path d="{OUTER}"/><path d="{OTHER_WAY}"/>').shapes
    assert [len(each.holes) for each in found] == [0, 0]


# --- Looks --------------------------------------------------------------------------------------------------


@pytest.mark.parametrize(
    ("style", "hidden"),
    [
        ('<g display="none">', True),
        ('<g style="display:none">', True),
        ('<g visibility="hidden">', True),
        ('<style>.off{display:none}</style><g class="on off">', True),
        ('<style>g#top{display:none}</style><g id="top">', True),
        ('<style>/* .off{} */ circle, .off , #x { display : none ; }</style><g class="off">', True),
        ('<style>@media print{.off{display:none}}</style><g class="off">', False),
        ('<style>.a .off{display:none}</style><g class="off">', False),
        ('<style>.off{display:none}</style><g class="off" style="display:inline">', False),
        ('<style>#top{display:inline} .off{display:none}</style><g id="top" class="off">', False),
        ('<g visibility="hidden"><g visibility="visible">', False),
    ],
)
def test_what_is_hidden_is_left_out(style, hidden):
    found = svg(f'{style}<rect width="50" height="50"/>{"</g>" * style.count("<g")}<rect width="20" height="20"/>')
    assert [each.width_mm for each in found.shapes] == pytest.approx([20] if hidden else [50, 20])
    assert told(found) == ({"hidden": 1} if hidden else {})


def test_a_filled_line_is_closed_as_it_is_seen_and_one_without_filling_is_open():
    path = '<path d="M0 0H90V90H0V5" {}/>'
    assert only(path.format("")).area_mm2 == pytest.approx(8100)
    for look in ('fill="none"', 'style="fill: none"', 'class="n"', 'fill="transparent"'):
        problem = refused(f"<style>.n{{fill:none}}</style>{path.format(look)}")
        assert "open" in problem.reason and "a gap of 5.00 mm" in problem.value


def test_what_moves_shapes_by_style_is_refused_not_misread():
    assert "style" in refused('<rect style="transform: scale(2)" width="50" height="50"/>').reason
    assert "style" in refused('<style>.a{r: 30px}</style><circle class="a" r="10"/>').reason


def test_what_is_left_out_is_told():
    clip = '<clipPath id="c"><rect width="5" height="5"/></clipPath>'
    found = svg(
        f'{clip}<rect width="50" height="50" clip-path="url(#c)"/><text>Hello</text><text>you</text>'
        '<image href="data:image/png;base64,AAAA"/><foreignObject/><rect width="5" height="5"/>'
        '<rect width="8" height="5"/><line x1="0" x2="30"/><metadata><a/></metadata><linearGradient/>'
    )
    assert len(found.shapes) == 1
    assert found.left_out == (
        LeftOut(what="text", count=2),
        LeftOut(what="picture", count=1),
        LeftOut(what="open line", count=1),
        LeftOut(what="too small", count=2),
        LeftOut(what="clipping", count=1),
        LeftOut(what="other", count=1),
    )


def test_elements_of_other_namespaces_are_passed_over():
    other = '<o:thing xmlns:o="urn:other" width="3"><rect width="90" height="90"/></o:thing>'
    assert only(f'{other}<rect width="50" height="50"/>').width_mm == pytest.approx(50)


# --- Copies -------------------------------------------------------------------------------------------------


def test_copies_of_a_symbol_a_group_and_a_shape():
    symbol = '<symbol id="s" viewBox="0 0 10 10"><circle r="5" cx="5" cy="5"/></symbol>'
    used = '<use href="#s" x="10" y="10" width="30" height="30"/><use x:href="#s" x="50" width="30%" height="60"/>'
    found = svg(f"<defs>{symbol}</defs>{used}").shapes
    assert [round(each.width_mm, 1) for each in found] == [60, 30]
    assert box(found[1]) == pytest.approx((10, 60, 40, 90), abs=0.03)
    group = '<g id="g" transform="scale(2)"><rect width="10" height="10"/></g>'
    found = svg(f'<defs>{group}</defs><use href="#g" x="30" transform="rotate(90)"/>').shapes
    assert [box(each) for each in found] == [(-20, 50, 0, 70)]
    assert len(svg(f'{group}<use href="#g" x="30"/>').shapes) == 2


def test_a_copy_looks_as_where_it_is_used():
    defs = '<defs><path id="p" d="M0 0H50V50H0V2"/></defs>'
    assert only(f'{defs}<use href="#p"/>').area_mm2 == pytest.approx(2500)
    assert "open" in refused(f'{defs}<use href="#p" fill="none"/>').reason


def test_a_copy_of_nothing_is_told():
    found = svg('<use href="#gone"/><use/><rect width="50" height="50"/>')
    assert told(found) == {"other": 2}


def test_a_drawing_within_a_drawing():
    inner = '<svg x="50" y="10" width="40" height="20" viewBox="0 0 10 10"><rect width="10" height="10"/></svg>'
    assert box(only(inner)) == (60, 70, 80, 90)


# --- Lines --------------------------------------------------------------------------------------------------


def test_lines_are_joined_where_their_ends_meet():
    body = (
        '<line x1="0" y1="0" x2="50" y2="0"/><line x1="50" y1="50" x2="50" y2="0"/>'
        '<polyline fill="none" points="50 50 0 50 0 0.05"/>'
    )
    found = svg(body)
    assert found.shapes[0].area_mm2 == pytest.approx(2500, abs=2) and told(found) == {}
    problem = refused(body, join_mm=0.02)
    assert "a gap of 0.05 mm at 0.0, 100.0 mm" in problem.value


def test_lines_left_over_are_told():
    found = svg('<rect width="50" height="50"/><line x1="0" y1="70" x2="90" y2="70"/>')
    assert told(found) == {"open line": 1} and len(found.shapes) == 1


def test_an_outline_drawn_twice_is_one():
    rect = '<rect width="50" height="50"/>'
    assert len(svg(rect + rect + '<path d="M50 0V50H0V0z"/>').shapes) == 1


# --- Choosing -----------------------------------------------------------------------------------------------


def test_shapes_are_named_and_the_largest_comes_first():
    found = svg(
        '<rect id="small" width="20" height="20"/><g id="flower"><circle r="30"/></g>'
        '<g x:label="L"><rect y="40" width="25" height="25"><title>A leaf</title></rect></g>'
        '<rect x="9" width="15" height="15"/>'
    )
    assert [each.name for each in found.shapes] == ["flower", "A leaf", "small", "shape 4"]
    assert chosen(found, 2).name == "A leaf" and chosen(found, "small").width_mm == pytest.approx(20)


@pytest.mark.parametrize(
    ("choice", "reason"),
    [
        (None, "holds 3 shapes"),
        (0, "no shape of this number"),
        (4, "no shape of this number"),
        ("leaf", "no shape of this name"),
        ("a", "2 shapes have this name"),
    ],
)
def test_choices_that_are_none_name_the_shapes(choice, reason):
    found = svg('<g id="a"><circle r="30"/><rect width="20" height="20"/></g><rect id="b" width="15" height="15"/>')
    with pytest.raises(InputError) as caught:
        chosen(found, choice)
    (problem,) = caught.value.problems
    assert reason in problem.reason and problem.field == "choose"
    assert "1 (a, 60.0 x 60.0 mm)" in problem.remedy and "3 (b, 15.0 x 15.0 mm)" in problem.remedy


def test_the_only_shape_needs_no_choice():
    assert chosen(svg('<rect width="20" height="20"/>')).width_mm == pytest.approx(20)


def test_names_that_cannot_be_printed_are_made_plain():
    found = only(f'<rect id="a\tb&#x202e;{"c" * 200}" width="20" height="20"/>')
    assert found.name.startswith("a b ccc") and len(found.name) <= 60 and found.name.isprintable()


def test_only_tiny_shapes_are_given_so_that_their_size_can_be_told():
    with pytest.raises(InputError) as caught:
        cleaned(only('<rect width="3" height="5"/>').outline)
    assert "5.83 mm" in caught.value.problems[0].value


def test_the_same_bytes_give_the_same_outlines():
    body = '<circle r="30"/><path d="M0 0C9 50 50 90 90 0z" transform="rotate(11)"/>'
    assert svg(body) == svg(body)
