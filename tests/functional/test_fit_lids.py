"""`foldproof fit` on a lid: box, place and hole in one go, and what is proved of the place."""

import json
import re
from importlib import resources
from pathlib import Path

import jsonschema
import pytest

from foldproof.cli.watch import Watch
from foldproof.project.read import read_project

BOX = """format = 1
name = "Wave box"
unit = "in"

[cardstock]
sheet = "12x12"
weight = "216 gsm"
thickness = "0.27 mm"

[parts.lid]                # written first, fitted last
construction = "turning lid"
on = "tray"
shape = "rosette"
lobes = 8
across = "6"
closed = "work out"        # to half a degree
hole_from_corner = "work out"

[[parts.lid.layers]]

[parts.tray]
construction = "double-wall tray"
base_length = "{base}"
wall_height = "2"
inner_wall = "1 1/2"
"""


def checked(report):
    schema = json.loads((resources.files("foldproof") / "schemas" / "fit.schema.json").read_text(encoding="utf-8"))
    jsonschema.Draft202012Validator(schema).validate(report)
    return {part["name"]: part for part in report["parts"]}


@pytest.fixture
def box(tmp_path):
    def written(base="work out"):
        path = tmp_path / "box.toml"
        path.write_text(BOX.format(base=base), encoding="utf-8")
        return path

    return written


def test_how_large_a_box_the_shape_covers_and_where_its_hole_goes(box, run):
    path = box()
    ran = run("fit", str(path), "--write", "--json")
    assert ran.code == 0 and ran.err == ""
    parts = checked(ran.report)
    assert list(parts) == ["tray", "lid"]
    size, place = parts["tray"]["size_bound"], parts["lid"]["best_place"]
    assert size["finished"] and size["found_mm"] < size["bound_mm"] < size["found_mm"] + 4.0  # grooves: 1/8 in
    best = parts["lid"]["answers"][0]
    assert place["finished"] and not place["none_exists"]
    assert best["lid"]["margin_mm"] <= place["margin_bound_mm"] <= place["place"]["margin_mm"] + 0.25 + 0.1 + 1e-6
    turned = min(each for each in (best["lid"]["left_deg"], best["lid"]["right_deg"]) if each is not None)
    assert turned >= place["turn_bound_deg"] - 1e-6 or best["lid"]["margin_mm"] < place["level_mm"]
    assert any("no place has more than" in text for text in parts["lid"]["proved_text"])
    # What was written is what was found, comments stay, and nothing is open any more.
    text = path.read_text(encoding="utf-8")
    assert "# to half a degree" in text and "work out" not in text
    lid = next(part for part in read_project(text).parts if part.name == "lid")
    found = {value["name"]: value for value in best["values"]}
    assert lid.values.closed == found["closed"]["value_deg"] and found["closed"]["value_mm"] is None
    assert lid.values.hole_from_corner.float_mm == pytest.approx(found["hole_from_corner"]["value_mm"], abs=1e-3)
    assert run("prove", str(path)).code == 0


def test_a_goal_for_the_lid_asks_for_the_box_first(box, run):
    parts = checked(run("fit", str(box()), "--goal", "least turn", "--json").report)
    assert parts["tray"]["goal"] == "largest base" and parts["lid"]["goal"] == "least turn"
    most = checked(run("fit", str(box("3")), "--goal", "best hole", "--json").report)["lid"]["answers"][0]["lid"]
    least = checked(run("fit", str(box("3")), "--goal", "least turn", "--json").report)["lid"]["answers"][0]["lid"]
    turns = [min(x for x in (lid["left_deg"], lid["right_deg"]) if x is not None) for lid in (least, most)]
    assert turns[0] <= turns[1] and least["margin_mm"] <= most["margin_mm"]


def test_a_lid_whose_box_finds_no_size_is_left_out_and_told_so(box, run):
    path = box()
    path.write_text(
        path.read_text(encoding="utf-8").replace('wall_height = "2"', 'wall_height = "5"'), encoding="utf-8"
    )
    before = path.read_text(encoding="utf-8")
    ran = run("fit", str(path), "--write", "--json")
    parts = checked(ran.report)
    assert ran.code == 1 and not parts["tray"]["works"] and ran.report["verdict"] is None
    assert parts["lid"]["reason"] == "box_open" and parts["lid"]["answers"] == [] and not parts["lid"]["works"]
    assert path.read_text(encoding="utf-8") == before
    told = run("fit", str(path), "--goal", "least turn").out
    assert "lid: The hole that opens the box with the least turn" in told and "no size that works" in told


def test_a_good_place_is_told_at_once_and_stopping_keeps_it(box, run, monkeypatch):
    """Stopped while a better place is looked for, the search answers with what it has, and says so."""

    def stopped_at_the_place(self, stage, done, total):
        self.stopped = self.stopped or (stage == "lid_place" and done > 0)
        return not self.stopped

    monkeypatch.setattr(Watch, "__call__", stopped_at_the_place)
    path = box("3")
    before = path.read_text(encoding="utf-8")
    ran = run("fit", str(path), "--write")
    assert ran.code == 3 and path.read_text(encoding="utf-8") == before
    assert "A good place is found" in ran.err and "was stopped" in ran.out
    part = checked(run("fit", str(path), "--json").report)["lid"]
    assert part["stopped"] and part["best_place"]["stopped"] and part["answers"]
    bound = part["best_place"]["margin_bound_mm"]
    assert bound is None or bound >= part["answers"][0]["lid"]["margin_mm"] - 1e-6


def test_a_pack_tells_how_good_the_place_is_when_it_is_asked(tmp_path, examples, run):
    path = tmp_path / "searched.toml"
    text = Path(examples["pebble-metric"]).read_text(encoding="utf-8")
    path.write_text(text.replace("[parts.tray]", '[teach]\nplace = "searched"\n\n[parts.tray]', 1), encoding="utf-8")
    assert run("pack", str(path), "-o", str(tmp_path / "pack")).code == 0
    told = " ".join((tmp_path / "pack" / "fit.txt").read_text(encoding="utf-8").split())
    assert "with no hole is the box 75 % open by a turn under" in told  # the lid lies as given, its hole was searched
    bound = float(re.search(r"by a turn under ([\d.]+)°", told).group(1))
    lid = json.loads((tmp_path / "pack" / "proof.json").read_text(encoding="utf-8"))["lids"][0]
    assert min(abs(turn["angle_deg"]) for turn in lid["curve"] if turn["uncovered_percent"] >= 75.0) >= bound
    spare = float(re.search(r"has ([\d.]+) mm to spare wherever", told).group(1))
    assert spare == pytest.approx(lid["margin_mm"], abs=0.01)
    booklet = (tmp_path / "pack" / "booklet.html").read_text(encoding="utf-8")
    booklet = re.sub(r"<[^>]*>", "", booklet).replace("\u00a0", " ")
    assert "How good this place is" in booklet and f"by a turn under {bound:g}°" in booklet


def test_a_lid_that_is_given_is_not_said_to_be_searched(box, run):
    """What is proved holds for the places that were open, and the words say which these were."""
    path = box("3")
    text = path.read_text(encoding="utf-8").replace('closed = "work out"', 'closed = "tip over the corner"')
    path.write_text(text, encoding="utf-8")
    part = checked(run("fit", str(path), "--json").report)["lid"]
    told = " ".join(part["proved_text"])
    spare = part["answers"][0]["lid"]["margin_mm"]
    assert f"the lid has {int(spare * 100) / 100:.2f} mm to spare wherever its hole is" in told
    assert "no place has more" not in told and "everywhere that the given values leave" in told
    given = checked(run("fit", str(path), "--goal", "smallest lid", "--json").report)["lid"]
    assert "with the lid lying as given" in " ".join(given["proved_text"])
    path.write_text(text.replace('"tip over the corner"', '"work out"'), encoding="utf-8")
    turned = checked(run("fit", str(path), "--goal", "smallest lid", "--json").report)["lid"]
    assert "wherever the given values let the lid lie" in " ".join(turned["proved_text"])
    assert turned["size_bound"]["found_mm"] <= given["size_bound"]["found_mm"]


def test_the_smallest_lid_is_none_when_its_layers_have_other_sizes(box, run):
    path = box("3")
    text = path.read_text(encoding="utf-8")
    path.write_text(text.replace("[[parts.lid.layers]]", '[[parts.lid.layers]]\nacross = "6"'), encoding="utf-8")
    ran = run("fit", str(path), "--goal", "smallest lid", "--json")
    part = checked(ran.report)["lid"]
    assert ran.code == 1 and part["reason"] == "layer_larger"
    assert part["short_mm"] == pytest.approx(152.4 - part["size_bound"]["found_mm"])
    path.write_text(text.replace("[[parts.lid.layers]]", '[[parts.lid.layers]]\nacross = "3"'), encoding="utf-8")
    part = checked(run("fit", str(path), "--goal", "smallest lid", "--json").report)["lid"]
    assert not part["works"] and part["reason"] == "layers_smaller"
    above = '[[parts.lid.layers]]\n[[parts.lid.layers]]\nacross = "3"\nbrad = "hidden under it"'
    path.write_text(text.replace("[[parts.lid.layers]]", above), encoding="utf-8")
    assert checked(run("fit", str(path), "--goal", "smallest lid", "--json").report)["lid"]["works"]


def test_how_far_inside_the_edge_a_hole_lies_is_told_where_it_was_asked(box, run):
    path = str(box("3"))
    part = checked(run("fit", path, "--goal", "hole far from the edge", "--json").report)["lid"]
    lid, place = part["answers"][0]["lid"], part["best_place"]
    assert "hole inside the edge: about" in part["answers"][0]["text"]
    assert f"on your marks {int(lid['edge_mm'] * 100) / 100:.2f} mm" in " ".join(part["proved_text"])
    assert lid["edge_mm"] <= place["edge_bound_mm"] and lid["margin_mm"] >= place["level_mm"] - 1e-6
    # The turn that opens it most is none that opens it less than was asked.
    assert abs(lid["opened_deg"]) >= min(turn for turn in (lid["left_deg"], lid["right_deg"]) if turn is not None)


def test_a_lid_that_is_to_open_one_way_is_told_no_turn_the_other_way(box, run):
    path = box("3")
    text = path.read_text(encoding="utf-8").replace('closed = "work out"', 'opens = "to the left"')
    path.write_text(text, encoding="utf-8")
    ran = run("fit", str(path), "--json")
    lid = checked(ran.report)["lid"]["answers"][0]["lid"]
    assert lid["right_deg"] is None and lid["left_deg"] > 0.0 and lid["opened_deg"] > 0.0
    either = text.replace('opens = "to the left"', "")
    path.write_text(either, encoding="utf-8")
    told = run("fit", str(path)).out
    assert "to the left, and from" in " ".join(told.split())


def test_a_hole_for_a_lid_that_is_too_small_is_told_as_no_more_than_that(box, run):
    path = box("3")
    text = path.read_text(encoding="utf-8").replace('closed = "work out"        # to half a degree', "")
    path.write_text(text.replace('across = "6"', 'across = "4"'), encoding="utf-8")
    ran = run("fit", str(path), "--json")
    part = checked(ran.report)["lid"]
    assert ran.code == 1 and part["answers"][0]["lid"]["margin_mm"] < 0.0
    assert part["reason_text"].startswith("Lying closed like this, the lid is too small for the box.")
    lacks = float(re.search(r"the lid is ([\d.]+) mm too small", part["proved_text"][0]).group(1))
    assert lacks == pytest.approx(-part["answers"][0]["lid"]["margin_mm"], abs=0.01)  # rounded to the safe side


def test_after_a_stop_no_further_search_is_promised(box, run, monkeypatch):
    """Stopped while its size is looked for, the lid is put in a good place, and no better one is looked for."""

    def stopped_at_once(self, stage, done, total):
        self.stopped = True
        return False

    monkeypatch.setattr(Watch, "__call__", stopped_at_once)
    ran = run("fit", str(box("3")))
    assert ran.code == 3 and "A good place is found" not in ran.err
    told = " ".join(ran.out.split())
    assert "It is a good place. Whether it is the best was not looked into. The search was stopped." in told
