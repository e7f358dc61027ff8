"""`foldproof outline` and `foldproof shelf`, as a maker runs them and as a program does."""

import json
import math
import os
from importlib import resources

import cv2
import jsonschema
import numpy as np
import pytest

from foldproof.errors import InputError
from foldproof.project.read import read_project
from foldproof.service import reading_outlines
from foldproof.service.apart import Outcome
from foldproof.service.starting import example_text

LEAF = (
    '<svg xmlns="http://www.w3.org/2000/svg" width="{mm}mm" height="{mm}mm" viewBox="0 0 140 140">'
    '<path id="Oak leaf" d="M70,5 C120,20 135,60 120,100 C100,130 40,130 20,100 C5,60 20,20 70,5 Z"/>{more}</svg>'
)
MOON = '<circle id="moon" cx="30" cy="20" r="15"/>'
PROJECT = """format = 1
name = "Leaf box"
unit = "in"
[cardstock]
sheet = "12x12"
weight = "176 gsm"
[parts.tray]
construction = "double-wall tray"
base_length = "3 1/4"
wall_height = "2"
"""


def check(report):
    """The report is valid by the schema of its kind."""
    folder = resources.files("foldproof") / "schemas"
    schema = json.loads((folder / f"{report['report']}.schema.json").read_text(encoding="utf-8"))
    jsonschema.Draft202012Validator.check_schema(schema)
    jsonschema.Draft202012Validator(schema).validate(report)
    return report


def run_here(job, payload, **_):
    """What a process of its own would answer, without starting one: the tests below that need one say so."""
    assert job == reading_outlines.JOB
    try:
        return Outcome(ok=reading_outlines.read_apart(payload))
    except InputError as error:
        return Outcome(ok=None, reason="", why="input", problems=error.problems)


@pytest.fixture
def quick(monkeypatch):
    """Reads in this process."""
    monkeypatch.setattr(reading_outlines, "run_apart", run_here)


@pytest.fixture
def here(tmp_path, monkeypatch):
    """A folder with a drawing, a drawing of two shapes and a project, and a shelf of its own."""
    monkeypatch.chdir(tmp_path)
    monkeypatch.setenv("FOLDPROOF_SHELF", str(tmp_path / "shelf"))
    (tmp_path / "leaf.photo").write_text(LEAF.format(mm=140, more=""), encoding="utf-8")
    (tmp_path / "two.svg").write_text(LEAF.format(mm=140, more=MOON), encoding="utf-8")
    (tmp_path / "box.toml").write_text(PROJECT, encoding="utf-8")
    return tmp_path


def test_the_process_of_its_own_gives_what_the_job_gives(here, run, monkeypatch):
    apart = run("outline", "two.svg", "--choose", "1", "--trim", "0,20 140,20", "--json")
    monkeypatch.setattr(reading_outlines, "run_apart", run_here)
    assert run("outline", "two.svg", "--choose", "1", "--trim", "0,20 140,20", "--json").out == apart.out


def test_a_drawing_is_told_by_what_is_in_it_and_read_in_figures(here, quick, run):
    ran = run("outline", "leaf.photo", "--json")
    report = check(ran.report)
    assert ran.code == 0 and ran.err == ""
    assert (report["read_from"], report["unit"], report["unit_from"], report["name"]) == (
        "svg",
        "mm",
        "file",
        "Oak leaf",
    )
    points = report["points_mm"]
    assert max(math.dist(a, b) for a in points for b in points) == pytest.approx(report["across_mm"], abs=1e-3)
    assert report["width_mm"] == pytest.approx(max(x for x, _ in points) - min(x for x, _ in points), abs=1e-3)
    assert report["narrowest_mm"] <= report["width_mm"] <= report["widest_mm"]
    assert report["shelf_file"] is report["project_file"] is report["picture_file"] is None
    words = run("outline", "leaf.photo")
    assert words.code == 0 and "an SVG drawing, drawn in mm" in words.out and "one mirror line" in words.out
    assert sorted(os.listdir(here)) == ["box.toml", "leaf.photo", "two.svg"]


def test_several_shapes_are_listed_and_one_is_chosen_by_number_or_name(here, quick, run):
    ran = run("outline", "two.svg", "--picture", "which.svg")
    assert ran.code == 2 and ran.out == ""
    assert "Oak leaf" in ran.err and "moon" in ran.err and "--choose with 1 to 2" in ran.err
    assert "2 shapes" in (here / "which.svg").read_text(encoding="utf-8")
    error = check(run("outline", "two.svg", "--json").report)
    assert "moon" in error["problems"][0]["reason"]
    by_name, by_number = (run("outline", "two.svg", "--json", "--choose", each).report for each in ("moon", "2"))
    assert by_name["points_mm"] == by_number["points_mm"] and by_name["fold"] == 0 and by_name["name"] == "moon"
    assert run("outline", "two.svg", "--choose", "3").code == 2
    assert "--choose" in run("outline", "two.svg", "--choose", "sun").err


def test_kept_listed_taken_renamed_and_removed(here, quick, run):
    kept = run("outline", "leaf.photo", "--keep", "--sizes", "4, 5 1/2, 6", "--source", "drawn at home", "--json")
    report = check(kept.report)
    assert [size["size_text"] for size in report["sizes"]] == ["4 in", "5 1/2 in", "6 in"]
    assert os.path.exists(report["shelf_file"])
    assert "already" in run("outline", "leaf.photo", "--keep").err
    assert run("outline", "leaf.photo", "--keep", "--replace", "--sizes", "5 1/2, 6 in").code == 0
    (here / "shelf" / "spoilt.toml").write_text("format = 1", encoding="utf-8")
    listed = run("shelf")
    assert listed.code == 0 and "Oak leaf" in listed.out and "5 1/2 in, 6 in" in listed.out
    assert "spoilt.toml" in listed.err
    shelf = check(run("shelf", "list", "--json").report)
    assert [shape["name"] for shape in shelf["shapes"]] == ["Oak leaf"]
    assert [each["file"] for each in shelf["unreadable"]] == ["spoilt.toml"]
    assert run("shelf", "take", "oak leaf", "box.toml").code == 0
    (leaf,) = read_project((here / "box.toml").read_text(encoding="utf-8")).shapes
    assert leaf.name == "Oak leaf" and len(leaf.sizes) == 2
    assert run("shelf", "take", "oak leaf", "box.toml").code == 2
    # The lid may name the shape before it is there; what else is wrong with the file is told, and nothing is written.
    lid = '[parts.lid]\nconstruction = "turning lid"\non = "tray"\nshape = "Oak leaf"\nhole_from_corner = "work out"\n'
    named = f"{PROJECT}{lid}"
    (here / "named.toml").write_text(named, encoding="utf-8")
    refused = run("shelf", "take", "oak leaf", "named.toml")
    assert refused.code == 2 and "layers" in refused.err and "no shape of this name" not in refused.err
    assert (here / "named.toml").read_text(encoding="utf-8") == named
    (here / "named.toml").write_text(f"{named}[[parts.lid.layers]]\n", encoding="utf-8")
    assert run("shelf", "take", "oak leaf", "named.toml").code == 0
    assert check(run("shelf", "rename", "oak leaf", "Elm leaf", "--json").report)["shapes"][0]["name"] == "Elm leaf"
    assert run("shelf", "remove", "oak leaf").code == 2
    assert check(run("shelf", "remove", "elm leaf", "--json").report)["shapes"] == []
    assert "no shape" in run("shelf").out
    assert run("shelf", "--shelf", "elsewhere", "list").code == 0


def test_into_a_project_that_a_lid_then_names(here, quick, run):
    ran = run("outline", "leaf.photo", "--into", "box.toml", "--name", "leaf")
    assert ran.code == 0 and 'shape = "leaf"' in ran.err
    text = (here / "box.toml").read_text(encoding="utf-8")
    assert text.startswith(PROJECT)
    again = run("outline", "leaf.photo", "--into", "box.toml", "--name", "LEAF", "--keep")
    assert again.code == 2 and "already" in again.err
    assert (here / "box.toml").read_text(encoding="utf-8") == text and not (here / "shelf").exists()
    assert run("outline", "leaf.photo", "--into", "box.toml", "--name", "LEAF", "--replace").code == 0
    lid = '[parts.lid]\nconstruction = "turning lid"\non = "tray"\nshape = "leaf"\nhole_from_corner = "work out"\n'
    (here / "box.toml").write_text(text + lid + "[[parts.lid.layers]]\n", encoding="utf-8")
    fitted = run("fit", "box.toml", "--json")
    assert fitted.report["parts"][0]["goal"] == "smallest lid" and fitted.report["parts"][0]["works"]


def test_trimmed_symmetric_and_drawn(here, quick, run):
    plain = run("outline", "leaf.photo", "--json").report
    cut = run("outline", "leaf.photo", "--json", "--trim", "0,20 140,20", "--picture", "cut.svg")
    assert cut.report["height_mm"] == pytest.approx(plain["height_mm"] - 20.0, abs=0.2)
    assert cut.report["notes"] and check(cut.report)["picture_file"] == "cut.svg"
    assert 'data-role="hidden"' in (here / "cut.svg").read_text(encoding="utf-8")
    assert run("outline", "leaf.photo", "--picture", "cut.svg").code == 2
    assert run("outline", "leaf.photo", "--picture", "cut.png").code == 0
    assert (here / "cut.png").read_bytes().startswith(b"\x89PNG")
    assert run("outline", "leaf.photo", "--trim", "200,200 300,300").code == 2
    wonky = LEAF.format(mm=140, more="").replace("135,60", "135.3,60.2")
    (here / "wonky.svg").write_text(wonky, encoding="utf-8")
    traced = run("outline", "wonky.svg", "--json").report
    assert traced["nearly"]["mirror_axes"] == 1 and traced["mirror_axes_deg"] == []
    exact = run("outline", "wonky.svg", "--json", "--symmetric").report
    assert len(exact["mirror_axes_deg"]) == 1 and exact["nearly"] is None
    assert exact["accuracy_mm"] > traced["accuracy_mm"]
    assert "--symmetric" in run("outline", "wonky.svg").out


def test_the_picture_never_lands_on_the_file_that_is_read(here, quick, run):
    drawing = (here / "two.svg").read_bytes()
    assert run("outline", "two.svg", "--choose", "1", "--picture", "two.svg", "--replace").code == 2
    assert (here / "two.svg").read_bytes() == drawing


def dxf(unit):
    """A DXF of one closed line, 100 by 60, whose header states a unit by its number; "" states none."""
    corners = ((0, 0), (100, 0), (100, 60), (0, 60))
    header = f"9\n$ACADVER\n1\nAC1009\n{f'9{chr(10)}$INSUNITS{chr(10)}70{chr(10)}{unit}{chr(10)}' if unit else ''}"
    points = "".join(f"0\nVERTEX\n8\n0\n10\n{x}\n20\n{y}\n30\n0\n" for x, y in corners)
    line = f"0\nPOLYLINE\n8\n0\n66\n1\n70\n1\n10\n0\n20\n0\n30\n0\n{points}0\nSEQEND\n8\n0\n"
    return f"0\nSECTION\n2\nHEADER\n{header}0\nENDSEC\n0\nSECTION\n2\nENTITIES\n{line}0\nENDSEC\n0\nEOF\n"


def test_a_dxf_tells_its_unit_or_is_told(here, quick, run):
    (here / "in-mm").write_text(dxf("4"), encoding="ascii")
    (here / "unknown").write_text(dxf(""), encoding="ascii")
    report = check(run("outline", "in-mm", "--json").report)
    assert (report["read_from"], report["unit"], report["unit_from"]) == ("dxf", "mm", "file")
    assert (report["width_mm"], report["height_mm"]) == pytest.approx((100.0, 60.0), abs=0.02)
    untold = run("outline", "unknown")
    assert untold.code == 2 and "--unit" in untold.err
    told = check(run("outline", "unknown", "--unit", "mm", "--json").report)
    assert (told["unit_from"], told["width_mm"]) == ("told", pytest.approx(100.0, abs=0.02))
    too_wide = check(run("outline", "unknown", "--unit", "in", "--json").report)["problems"][0]
    assert too_wide["field"] == "unknown" and "wider than 1000 mm" in too_wide["reason"]


def photograph(lobes=5):
    """A photograph of 1400 x 1050 pixels: a blue shape with lobes on an A4 sheet that lies on a brown table, askew."""
    picture = np.full((1050, 1400, 3), (60, 90, 130), np.uint8)
    sheet = np.array([[0, 0], [297, 0], [297, 210], [0, 210]], np.float32)
    seen = np.array([[190, 150], [1220, 120], [1270, 900], [150, 870]], np.float32)
    view = cv2.getPerspectiveTransform(sheet, seen)
    turns = np.linspace(0, 2 * math.pi, 720, endpoint=False)
    reach = 60 * (1 + 0.08 * np.cos(lobes * turns))
    shape = np.column_stack((150 + reach * np.cos(turns), 105 + reach * np.sin(turns)))
    for points, colour in ((sheet, (245, 245, 245)), (shape, (120, 60, 30))):
        at = np.column_stack((points, np.ones(len(points)))) @ view.T
        cv2.fillPoly(picture, [np.round(at[:, :2] / at[:, 2:] * 16).astype(np.int32)], colour, cv2.LINE_AA, 4)
    done, data = cv2.imencode(".jpg", cv2.GaussianBlur(picture, (0, 0), 0.8), [cv2.IMWRITE_JPEG_QUALITY, 90])
    assert done
    return data.tobytes()


def test_a_photograph_on_a_known_sheet(here, run):
    (here / "photo.svg").write_bytes(photograph())
    ran = run("outline", "photo.svg", "--sheet", "A4", "--json", "--picture", "over.png", "--keep", "--name", "five")
    report = check(ran.report)
    assert ran.code == 0 and report["read_from"] == "photograph"
    # Computed from the definition: the area of r = 60 (1 + 0.08 cos 5a) is pi 60^2 (1 + 0.08^2 / 2).
    assert report["area_mm2"] == pytest.approx(math.pi * 3600 * 1.0032, rel=0.01)
    assert report["fold"] in (1, 5) and 0.0 < report["accuracy_mm"] <= report["photograph"]["farthest_mm"] < 1.0
    assert len(report["photograph"]["corners_px"]) == 4
    assert (here / "over.png").read_bytes().startswith(b"\x89PNG")
    assert run("shelf", "--json").report["shapes"][0]["name"] == "five"


def test_what_stands_in_the_way_of_a_photograph_is_told(here, quick, run):
    (here / "photo.jpg").write_bytes(photograph())
    unnamed = run("outline", "photo.jpg")
    assert unnamed.code == 2 and "--sheet" in unnamed.err and "A4" in unnamed.err
    wrong = run("outline", "photo.jpg", "--sheet", "A4", "--corners", "1,1 2,2 3,3")
    assert wrong.code == 2 and "--corners" in wrong.err
    (here / "cut.jpg").write_bytes(photograph()[:6000])
    cut = check(run("outline", "cut.jpg", "--sheet", "A4", "--json").report)
    assert cut["problems"][0]["field"] == "cut.jpg" and cut["problems"][0]["remedy"]
    given = run("outline", "photo.jpg", "--sheet", "A4", "--corners", "190,150 1220,120 1270,900 150,870", "--json")
    assert given.code == 0 and given.report["area_mm2"] == pytest.approx(math.pi * 3600 * 1.0032, rel=0.01)


HOSTILE = {
    "empty": b"",
    "junk": bytes(range(256)) * 20,
    "text": b"dear reader, this is no drawing",
    "a PDF": b"%PDF-1.7\n1 0 obj",
    "packed": b"\x1f\x8b\x08\x00",
    "an archive": b"PK\x03\x04....",
    "HTML": b"<!doctype html><html><body>hello</body></html>",
    "entities": b'<?xml version="1.0"?><!DOCTYPE svg [<!ENTITY a "aaaaaaaaaa">]><svg>&a;</svg>',
    "a script": LEAF.format(mm=140, more="<script>alert(1)</script>").encode(),
    "cut short": LEAF.format(mm=140, more="").encode()[:150],
    "tiny": LEAF.format(mm=5, more="").encode(),
    "no outline": b'<svg xmlns="http://www.w3.org/2000/svg"/>',
    "a truncated picture": b"\x89PNG\r\n\x1a\n" + b"\x00" * 40,
}


@pytest.mark.parametrize("name", HOSTILE)
def test_what_cannot_be_read_is_refused_with_a_reason(here, run, name):
    (here / "file").write_bytes(HOSTILE[name])
    ran = run("outline", "file", "--sheet", "A4", "--keep", "--json")
    report = check(ran.report)
    assert ran.code == 2 and report["error"] == "input"
    assert all(problem["reason"] and problem["remedy"] for problem in report["problems"])
    assert not (here / "shelf").exists()


@pytest.mark.parametrize("path", ["nothing.svg", ".", "a\x00b", "x" * 5000])
def test_what_is_no_file_is_refused(here, run, path):
    ran = run("outline", path)
    assert ran.code == 2 and "Try:" in ran.err


def test_wrong_options_are_told_together_before_anything_is_read(here, quick, run):
    ran = run(
        "outline",
        "nothing.svg",
        "--trim",
        "1,1",
        "--sizes",
        "5, 4 in",
        "--name",
        "star",
        "--picture",
        "a.gif",
        "--json",
    )
    fields = [problem["field"] for problem in check(ran.report)["problems"]]
    assert ran.code == 2 and fields == ["--trim", "--sizes", "--name", "--picture"]
    assert run("outline", "leaf.photo", "--replace").code == 2
    assert run("outline", "leaf.photo", "--into", "nothing.toml").code == 2


def test_reading_stops_when_its_time_is_over(here):
    with pytest.raises(InputError) as caught:
        reading_outlines.read_outline("leaf.photo", reading_outlines.Asked(), seconds=0.01)
    (problem,) = caught.value.problems
    assert "0.01 s" in problem.reason and "--seconds" in problem.remedy


def test_a_file_far_too_large_is_refused_by_its_size(here, run):
    with open(here / "large", "wb") as file:
        file.truncate(reading_outlines.MOST_BYTES + 1)
    ran = run("outline", "large")
    assert ran.code == 2 and "MB" in ran.err


def test_which_shapes_cover_a_box(here, quick, run):
    assert "none" in run("fit", "box.toml", "--goal", "shapes that cover").err
    run("outline", "leaf.photo", "--keep", "--sizes", "2, 3, 8 in")
    run("outline", "two.svg", "--choose", "moon", "--keep", "--sizes", "1, 2 in")
    ran = run("fit", "box.toml", "--goal", "shapes that cover")
    assert ran.code == 0 and ran.out.index("Oak leaf") < ran.out.index("moon")
    report = check(run("fit", "box.toml", "--goal", "shapes that cover", "--json").report)
    (box,) = report["boxes"]
    assert [shape["covers"] for shape in box["shapes"]] == [True, False]
    assert box["shapes"][0]["smallest_mm"] == pytest.approx(203.2)
    assert run("fit", "box.toml", "--goal", "shapes that cover", "--write").code == 2
    run("shelf", "remove", "Oak leaf")
    assert run("fit", "box.toml", "--goal", "shapes that cover").code == 1


def test_a_lid_of_a_shape_of_ones_own_packs(here, quick, run):
    text = example_text("tidepool").replace('shape = "rosette"', 'shape = "oak leaf"', 1)
    text = "\n".join(line for line in text.splitlines() if not line.startswith(("lobes", "depth")))
    (here / "own.toml").write_text(text.replace('"oak leaf"', '"disc"', 1), encoding="utf-8")
    assert run("outline", "leaf.photo", "--into", "own.toml", "--source", "drawn at home").code == 0
    text = (here / "own.toml").read_text(encoding="utf-8").replace('shape = "disc"', 'shape = "oak leaf"', 1)
    (here / "own.toml").write_text(text, encoding="utf-8")
    ran = run("pack", "own.toml", "-o", "made")
    assert ran.code in (0, 1) and "files are in" in ran.out
    post = (here / "made" / "post.md").read_text(encoding="utf-8")
    assert "Its shape is Oak leaf, from: drawn at home. Without the die" in post
    assert "Oak leaf" in (here / "made" / "cut-list.csv").read_text(encoding="utf-8")
    packed = read_project((here / "made" / "project.toml").read_text(encoding="utf-8"))
    assert packed.shapes == read_project(text).shapes
