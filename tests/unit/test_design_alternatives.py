"""Alternatives proved on the box as it stands, and the paper that is made of them."""

import dataclasses
import functools
import math

import pytest

from foldproof.checks.proof import verdict_of
from foldproof.design.alternative_papers import with_alternatives, with_cut_rows
from foldproof.design.alternative_parts import alternatives_of
from foldproof.design.alternatives import with_only
from foldproof.design.alternatives_told import making_lines, told_alternatives
from foldproof.design.change import changed
from foldproof.design.fit_alternatives import fit_alternatives, with_answers
from foldproof.design.fit_report import reason_words
from foldproof.design.lid_parts import lids_of
from foldproof.design.measure import measure
from foldproof.design.mend import with_mends
from foldproof.design.other_shapes import other_shapes, with_other_shapes
from foldproof.design.prove import prove
from foldproof.design.telling import tell_proof
from foldproof.drawing.records import Paragraph, Table
from foldproof.errors import InputError
from foldproof.findings import Severity
from foldproof.lengths import CM_HALF_MILLIMETRES, INCH_THIRTYSECONDS, in_words, parse_length
from foldproof.progress import Stopped, unwatched
from foldproof.project.read import read_project
from foldproof.views.alternatives import compass_page, stepped_out
from foldproof.views.cut_list import cut_list
from foldproof.views.proof_report import proof_document, proof_report

TEXT = """format = 1
name = "Box"
unit = "in"
[cardstock]
name = "blue"
sheet = "12x12"
weight = "176 gsm"
thickness = "0.27 mm"
[parts.tray]
construction = "double-wall tray"
base_length = "{base}"
wall_height = "2 1/4"
inner_wall = "1 1/2"
[parts.lid]
construction = "turning lid"
on = "tray"
shape = "rosette"
across = "{across}"
hole_from_corner = "1/2"
[[parts.lid.layers]]
[[parts.lid.layers]]
across = "3"
colour = "coral"
brad = "hidden under it"
"""
OTHERS = """[alternatives.disc]
shape = "disc"
across = "{disc}"
[alternatives.octagon]
shape = "regular polygon"
across = "5 3/4"
hole_from_corner = "5/8"
"""


def project_of(base="3 1/4", across="5 1/2", disc="5 1/2", others=OTHERS):
    return read_project(TEXT.format(base=base, across=across) + others.format(disc=disc))


@functools.cache
def proof_of(**values):
    return prove(measure(project_of(**values)))


def test_the_boxs_evidence_is_used_again_and_the_lid_is_as_it_is_without_alternatives():
    proof, alone = proof_of(), proof_of(others="")
    assert [each.name for each in proof.alternatives] == ["disc", "octagon"]
    assert proof.findings == alone.findings and proof.verdict == alone.verdict == "proved"
    assert proof.input_hash != alone.input_hash and proof.orders_tried == alone.orders_tried
    for each in proof.alternatives:
        assert each.part.evidence.turning.box == proof.parts[1].evidence.turning.box
        assert each.part.evidence.part.name == each.name and each.verdict == "proved"


def test_it_is_judged_as_a_lid_of_its_own_would_be():
    octagon = proof_of().alternatives[1].part
    text = TEXT.format(base="3 1/4", across="5 3/4").replace('"rosette"', '"regular polygon"')
    text = text.replace('hole_from_corner = "1/2"', 'hole_from_corner = "5/8"').replace('"3"', '"3 1/8"')
    lid = prove(measure(read_project(text))).parts[1]
    assert lid.evidence.turning.analysis == octagon.evidence.turning.analysis
    assert [(f.code, f.severity, f.measured) for f in lid.findings] == [
        (f.code, f.severity, f.measured) for f in octagon.findings
    ]


def test_one_that_fails_leaves_the_verdict_and_is_told():
    project, proof = project_of(disc="4 1/4"), proof_of(disc="4 1/4")
    disc, octagon = proof.alternatives
    assert (proof.verdict, disc.verdict, octagon.verdict) == ("proved", "not_proved", "proved")
    assert not proof.all_proved and proof_of().all_proved
    told = tell_proof(project, proof)
    document = proof_document(told)
    lines = [block.text for block in document.blocks if isinstance(block, Paragraph) and block.kind == "not_proved"]
    assert lines and all("Not proved" in line for line in lines) and "disc" in lines[0]
    report = proof_report(told)["alternatives"]
    assert [(each["name"], each["of"], each["verdict"]) for each in report] == [
        ("disc", "lid", "not_proved"),
        ("octagon", "lid", "proved"),
    ]


def test_a_lid_that_fails_leaves_its_alternatives_and_a_box_that_fails_does_not():
    small = proof_of(across="4 1/4")
    assert small.verdict == "not_proved" and [each.verdict for each in small.alternatives] == ["proved", "proved"]
    small_sheet = TEXT.format(base="3 1/4", across="5 1/2").replace('"12x12"', '"10x10"')
    large = read_project(small_sheet + OTHERS.format(disc="5 1/2"))
    proof = prove(measure(large))
    box = proof.parts[0].findings
    assert verdict_of(box) == "not_proved"  # the piece does not go on the sheet
    assert verdict_of(proof.alternatives[0].part.findings) == "proved" and proof.alternatives[0].verdict == "not_proved"
    headline = tell_proof(large, proof).alternatives[0].headline
    assert "sheet" in headline


def test_what_mends_one_is_a_change_of_its_own_values():
    project, proof = project_of(disc="4 3/4"), proof_of(disc="4 3/4")
    mended = with_mends(project, proof)
    own = [mend for mend in mended.mends if mend.part == "disc"]
    assert own and all(change.path.startswith("alternatives.disc.") for mend in own for change in mend.changes)
    for mend in own:
        after = prove(measure(changed(project, mend.changes))).alternatives[0]
        found = [finding.severity for finding in after.part.findings if finding.code == mend.code]
        assert max(found, default=Severity.HOLDS) == mend.severity and after.verdict == mend.verdict
    words = tell_proof(project, mended).alternatives[0].findings[0].mends[0].words
    assert "alternatives" not in words


def test_only_what_is_asked_is_proved_for_a_mend():
    project = project_of()
    assert [part.name for part in with_only(project, "disc").parts] == ["tray"]
    assert [each.name for each in with_only(project, "disc").alternatives] == ["disc"]
    assert with_only(project, "lid").alternatives == () and len(with_only(project, "lid").parts) == 2


# --- Pieces and lists ---------------------------------------------------------------------------------------


def test_triangle_and_cap_are_made_anew_only_where_the_hole_moves():
    disc, octagon = alternatives_of(proof_of())
    assert [piece.piece.id for piece in disc.own] == ["layer_1", "layer_2"] and disc.same_hole
    assert [piece.piece.id for piece in octagon.own] == ["triangle", "cap", "layer_1", "layer_2"]
    assert not octagon.same_hole


def test_cut_list_and_shopping_list_mark_what_is_made_instead():
    project, others = project_of(disc="4 1/4"), alternatives_of(proof_of(disc="4 1/4"))
    plain = cut_list(project, (), "proved")
    rows = [dict(zip(plain.columns, row, strict=True)) for row in with_cut_rows(plain, project, others, {}).rows]
    assert {row["instead of"] for row in rows} == {"lid"} and len(rows) == 6
    assert [row["verdict"] for row in rows if row["part"] == "disc"] == ["not proved"] * 2
    assert {row["cardstock"] for row in rows if row["piece"] == "layer_2"} == {"coral"}
    list_of = Table(title="Box", columns=("",) * 7, rows=(("blue",) * 7,))
    measured = measure(project)
    bought = with_alternatives(list_of, measured, lids_of(proof_of(disc="4 1/4")), others).rows
    assert bought[0] == list_of.rows[0]
    assert all(
        row[5].startswith(f"instead of the lid: {name}") for row, name in zip(bought[1:3], ["disc"] * 2, strict=True)
    )
    assert all("octagon" in row[5] for row in bought[3:]) and len(bought) > 3


# --- In words -----------------------------------------------------------------------------------------------


def test_the_table_has_size_hole_opening_margin_and_proof():
    project, proof = project_of(disc="4 1/4"), proof_of(disc="4 1/4")
    told = told_alternatives(project, proof, (116.0, 96.0))
    disc, octagon = told.each
    assert disc.row[0] == "disc" and octagon.row[0] == "octagon (regular polygon)"
    assert disc.row[1] == "4 1/4 in (10.8 cm)" and disc.row[-1] == "not proved" and "too small" in disc.row[4]
    found = proof.alternatives[1].part.evidence.turning.analysis
    assert octagon.row[3] == f"{100.0 * found.opened.uncovered:.0f} %" and octagon.row[-1] == "proved"
    assert disc.not_proved and not octagon.not_proved
    assert disc.drawing is None and octagon.drawing is not None and len(told.pages) == 3
    assert told_alternatives(project_of(others=""), proof_of(others=""), (116.0, 96.0)) is None


@pytest.mark.parametrize(
    ("shape", "said"),
    [
        ("disc", ("2 3/4 in", "circle cutter")),
        ("square", ("5 1/2 in", "7 3/4 in")),  # the diagonal is 7.778 in
        ("rounded square", ("corner punch",)),
        ("regular polygon", ("2 3/4 in", "8 steps")),
        ("scalloped disc", ("template",)),
        ("rosette", ("template",)),
    ],
)
def test_each_shape_is_cut_with_what_there_is(shape, said):
    project = project_of(others=f'[alternatives.o]\nshape = "{shape}"\nacross = "5 1/2"\n')
    values = project.alternatives[0].part.values
    lines = " ".join(making_lines(project, values, values.across))
    assert all(words in lines for words in said) and "{" not in lines


def test_a_shape_that_is_owned_names_its_sizes():
    leaf = """[shapes.leaf]
sizes = ["4 in", "6 in"]
points = [[60, 0], [42, 42], [0, 60], [-42, 42], [-60, 0], [-42, -42], [0, -60], [42, -42]]
"""
    project = project_of(others=f'[alternatives.o]\nshape = "leaf"\nacross = "6"\n{leaf}')
    values = project.alternatives[0].part.values
    assert "4 in (10.2 cm), 6 in (15.2 cm)" in " ".join(making_lines(project, values, values.across))


def test_a_hexagons_side_is_its_radius_and_closes():
    """Euclid, Elements IV.15, porism: the side of the hexagon is equal to the radius of the circle."""
    steps = stepped_out(parse_length("5 1/2", "in"), 6, INCH_THIRTYSECONDS)
    assert steps.chord == steps.radius and abs(steps.gap_mm) < 1e-9


@pytest.mark.parametrize(("across", "count"), [("13 cm", 8), ("14.5 cm", 5), ("5 1/2 in", 12), ("9 cm", 3)])
def test_the_gap_is_what_a_compass_leaves(across, count):
    """Walked round point by point, with no angle of the formula's own."""
    size = parse_length(across, "in")
    steps = stepped_out(size, count, CM_HALF_MILLIMETRES)
    radius, chord = steps.radius.float_mm, steps.chord.float_mm
    at, turned = (radius, 0.0), 0.0
    for _ in range(count):
        # The next point on the circle at the chord's distance: where two circles cross.
        along = (2.0 * radius**2 - chord**2) / (2.0 * radius)
        beside = math.sqrt(radius**2 - along**2)
        ux, uy = at[0] / radius, at[1] / radius
        after = (along * ux - beside * uy, along * uy + beside * ux)
        turned += math.atan2(at[0] * after[1] - at[1] * after[0], at[0] * after[0] + at[1] * after[1])
        at = after
    assert steps.gap_mm == pytest.approx((turned - 2.0 * math.pi) * radius, abs=1e-6)
    assert abs(chord - 2.0 * radius * math.sin(math.pi / count)) <= 0.25 + 1e-9  # half a mark


def test_the_compass_drawing_stays_on_its_page():
    steps = stepped_out(parse_length("13 cm", "in"), 8, CM_HALF_MILLIMETRES)
    page = compass_page(steps, ("6.5 cm", "5.0 cm"), name="o", alt="o", width_mm=116.0)
    points = [point for mark in page.marks if hasattr(mark, "path") for point in mark.path.points]
    assert all(0.0 <= x <= page.width_mm and 0.0 <= y <= page.height_mm for x, y in points)
    sides = next(mark for mark in page.marks if getattr(mark, "name", "") == "sides")
    assert len(sides.path.points) == 8


# --- Worked out ---------------------------------------------------------------------------------------------


def test_what_is_left_open_is_worked_out_under_layers_of_its_size():
    open_one = '[alternatives.o]\nshape = "disc"\nacross = "work out"\nhole_from_corner = "work out"\n'
    project = project_of(others=open_one)
    with pytest.raises(InputError) as caught:
        measure(project)
    assert {problem.field for problem in caught.value.problems} == {
        "alternatives.o.across",
        "alternatives.o.hole_from_corner",
    }
    answers = fit_alternatives(project, ())
    (answer,) = answers
    assert (
        answer.works and answer.part == "o" and dict(answer.answers[0].values).keys() == {"across", "hole_from_corner"}
    )
    done = with_answers(project, answers)
    across = done.alternatives[0].part.values.across
    step = project.ruler.step_length
    proof = prove(measure(done))
    assert proof.alternatives[0].verdict == "proved"
    smaller = dataclasses.replace(done.alternatives[0].part.values, across=across - step)
    part = dataclasses.replace(done.alternatives[0].part, values=smaller)
    one = dataclasses.replace(done, alternatives=(dataclasses.replace(done.alternatives[0], part=part),))
    margin = prove(measure(one)).alternatives[0].part.evidence.turning.analysis.margin_mm
    assert margin < project.checks.cover_look_mm  # a mark less is too thin
    assert in_words(done.alternatives[0].part.values.layers[1].across, project.ruler) == in_words(
        parse_length(str(float((across.mm * 6 / 11) / parse_length("1 in", "in").mm)), "in"), project.ruler
    )


def test_one_whose_box_is_still_open_is_left_out_and_told_so():
    project = project_of(base="work out", others='[alternatives.o]\nshape = "disc"\nacross = "work out"\n')
    (answer,) = fit_alternatives(project, ())
    assert not answer.works and answer.reason == "box_open" and answer.answers == ()
    assert "no size that works was found for its box" in reason_words(project, answer)


def test_other_shapes_are_found_proved_and_put_into_the_file():
    project, text = project_of(others=""), TEXT.format(base="3 1/4", across="5 1/2")
    found = other_shapes(project, unwatched)
    assert {each.shape for each in found} == {
        "disc", "square", "rounded square", "regular polygon", "scalloped disc", "star", "heart"
    }  # fmt: skip
    sizes = [each.alternative.part.values.across for each in found if each.proved]
    assert sizes == sorted(sizes) and len(sizes) >= 5
    written, names = with_other_shapes(text + "# the end\n", project, found)
    assert "# the end\n" in written and len(names) == len(sizes)
    proof = prove(measure(read_project(written)))
    assert proof.all_proved
    by_name = {each.name: each.part.evidence.turning.analysis for each in proof.alternatives}
    assert by_name["disc"] == next(each.analysis for each in found if each.shape == "disc")
    assert with_other_shapes(written, read_project(written), found) == (written, ())


def test_other_shapes_stop_when_they_are_asked_to():
    with pytest.raises(Stopped):
        other_shapes(project_of(), lambda stage, done, total: False)
    with pytest.raises(InputError):
        other_shapes(read_project(TEXT.split("[parts.lid]")[0].format(base="3")), unwatched)
