"""Lids of another shape, from the file to the pack."""

import csv
import io
import json
import re

import pytest
from pypdf import PdfReader

SMALL = '\n[alternatives."small one"]\nshape = "disc"\nacross = 9\n'


@pytest.fixture(scope="module")
def pebble(packs):
    """The pack of the example that has two alternatives."""
    return packs["pebble-metric"]


@pytest.fixture(scope="module")
def failing(run, examples, tmp_path_factory):
    """The same with a third that is too small: the project's file, its pack, and what the command said."""
    folder = tmp_path_factory.mktemp("failing")
    file = folder / "small.toml"
    file.write_text(examples["pebble-metric"].read_text(encoding="utf-8") + SMALL, encoding="utf-8")
    return file, folder / "pack", run("pack", file, "-o", folder / "pack", "--json")


def rows(folder, name):
    return list(csv.DictReader(io.StringIO((folder / name).read_text(encoding="utf-8"))))


def pages(folder, name):
    return [page.extract_text() for page in PdfReader(folder / name).pages]


def test_the_example_is_proved_with_its_alternatives(run, examples, pebble):
    assert pebble[1].code == 0
    ran = run("prove", examples["pebble-metric"], "--json")
    assert ran.code == 0 and ran.report["verdict"] == "proved"
    assert [(each["name"], each["of"], each["verdict"]) for each in ran.report["alternatives"]] == [
        ("octagon", "lid", "proved"),
        ("wavy disc", "lid", "proved"),
    ]
    assert all(finding["part"] == each["name"] for each in ran.report["alternatives"] for finding in each["findings"])
    assert {finding["part"] for finding in ran.report["findings"]} == {"tray", "lid"}


def test_the_pack_has_a_place_for_each(pebble):
    folder, _ = pebble
    assert (folder / "cut" / "octagon-layer_1.svg").is_file() and (folder / "cut" / "wavy-disc-layer_1.dxf").is_file()
    # The wavy disc's hole lies nearer to the corner, so its triangle and its cap are made anew; the octagon's do not.
    assert (folder / "cut" / "wavy-disc-triangle.svg").is_file() and not (folder / "cut" / "octagon-cap.svg").exists()
    marked = [(row["part"], row["instead of"]) for row in rows(folder, "cut-list.csv")]
    assert marked.count(("octagon", "lid")) == 1 and marked.count(("wavy disc", "lid")) == 3
    assert all(not instead for part, instead in marked if part in ("tray", "lid"))
    assert sum("instead of the lid: octagon" in row["note"] for row in rows(folder, "shopping.csv")) == 1
    guides = " ".join(pages(folder, "hole-guide.pdf"))
    assert all(name in guides for name in ("Octagon", "Wavy disc", "instead of the lid"))
    assert "Octagon" in " ".join(pages(folder, "templates.pdf"))
    assert "Octagon, instead of the lid: layer 1" in (folder / "measures.txt").read_text(encoding="utf-8")
    listed = json.loads((folder / "pack.json").read_text(encoding="utf-8"))["alternatives"]
    assert [each["verdict"] for each in listed] == ["proved", "proved"]


def test_measures_name_what_it_is_made_instead_of(run, examples):
    ran = run("measure", examples["pebble-metric"], "--json")
    assert ran.code == 0
    told = {part["name"]: (part["instead_of"], len(part["pieces"])) for part in ran.report["parts"]}
    assert told["octagon"] == told["wavy disc"] == ("lid", 1) and told["lid"][0] == told["tray"][0] == ""
    assert "Wavy disc, instead of the lid: layer 1" in run("measure", examples["pebble-metric"]).out


def test_booklet_post_and_card_tell_of_them(pebble):
    folder, _ = pebble
    booklet = re.sub(r"\s+", " ", " ".join(pages(folder, "booklet.pdf")))
    assert "If you do not have this shape" in booklet and "Instead of the lid: octagon" in booklet
    post, page = ((folder / name).read_text(encoding="utf-8") for name in ("post.md", "booklet.html"))
    for text in (post, page):
        assert "If you do not have this shape" in text and "13.0 cm" in text and "not proved" not in text.casefold()
    for picture in re.findall(r"\]\((pictures/instead[^)]+)\)", post):
        assert (folder / picture).is_file()
    assert len(re.findall(r"pictures/instead", post)) == 3  # both from above, and the octagon by compass
    assert "octagon 13.0 cm" in re.sub(r"\s+", " ", " ".join(pages(folder, "table-card.pdf"))).replace("\u00a0", " ")


def test_one_that_is_not_proved_is_told_and_its_pages_say_so(failing):
    _, folder, ran = failing
    assert ran.code == 1 and ran.report["verdict"] == "proved"
    assert [each["verdict"] for each in ran.report["alternatives"]] == ["proved", "proved", "not_proved"]
    proof = (folder / "proof.txt").read_text(encoding="utf-8")
    assert "Instead of the lid, small one: Not proved" in proof
    for name in ("hole-guide.pdf", "templates.pdf", "score-plan.pdf"):
        for text in pages(folder, name):
            assert ("Not proved" in text) == ("Small one" in text), name
    cut = [(row["part"], row["verdict"]) for row in rows(folder, "cut-list.csv")]
    assert {verdict for part, verdict in cut if part == "small one"} == {"not proved"}
    assert {verdict for part, verdict in cut if part != "small one"} == {"proved"}
    assert "Not proved" in (folder / "cut" / "small-one-layer_1.svg").read_text(encoding="utf-8")
    assert "Not proved" not in (folder / "cut" / "octagon-layer_1.svg").read_text(encoding="utf-8")
    assert "Small one is not proved" in (folder / "post.md").read_text(encoding="utf-8")


def test_what_mends_it_is_told_in_its_own_values(run, failing):
    file, _, _ = failing
    ran = run("prove", file, "--json")
    assert ran.code == 1
    small = ran.report["alternatives"][2]
    changes = [
        change["path"] for finding in small["findings"] for mend in finding["mends"] for change in mend["changes"]
    ]
    assert changes and all(path.startswith("alternatives.small one.") for path in changes)


def test_a_class_and_the_left_hand_hold(run, examples, tmp_path):
    ran = run("pack", examples["pebble-metric"], "-o", tmp_path / "pack", "--class", "--hand", "left")
    assert ran.code == 0
    notice = "class"
    octagon = [text for text in pages(tmp_path / "pack", "templates.pdf") if "Octagon" in text]
    assert octagon and all(notice in text.casefold() for text in octagon)


def test_open_values_are_worked_out_and_written(run, examples, tmp_path):
    file = tmp_path / "open.toml"
    more = '\n[alternatives.hexagon]\nshape = "regular polygon"\nlobes = 6\nacross = "work out"  # smallest\n'
    file.write_text(examples["pebble-metric"].read_text(encoding="utf-8") + more, encoding="utf-8")
    told = run("prove", file)
    assert told.code == 2 and "alternatives.hexagon.across" in told.err
    ran = run("fit", file, "--write", "--json")
    assert ran.code == 0 and [part["name"] for part in ran.report["parts"]] == ["hexagon"]
    assert "# smallest" in file.read_text(encoding="utf-8") and run("prove", file).code == 0


def test_other_shapes_are_proposed_and_written(run, examples, tmp_path):
    file = tmp_path / "others.toml"
    file.write_text(examples["tidepool"].read_text(encoding="utf-8"), encoding="utf-8")
    ran = run("fit", file, "--goal", "other shapes", "--write", "--json")
    assert ran.code == 0 and ran.report["report"] == "fit_other_shapes"
    proved = [each["shape"] for each in ran.report["shapes"] if each["verdict"] == "proved"]
    assert {"disc", "regular polygon", "scalloped disc"} <= set(proved) and ran.report["written"] == proved
    text = file.read_text(encoding="utf-8")
    assert "# Tidepool keepsake box" in text and text.count("[alternatives.") == len(proved)
    assert all(each["toml"] in text for each in ran.report["shapes"] if each["verdict"] == "proved")
    report = run("prove", file, "--json").report
    assert {each["verdict"] for each in report["alternatives"]} == {"proved"}


def test_wrong_alternatives_are_told_all_at_once(run, examples, tmp_path):
    file = tmp_path / "wrong.toml"
    wrong = '\n[alternatives.tray]\n[alternatives.x]\nof = "tray"\nstrip = 1\nshape = "dsc"\n'
    file.write_text(examples["pebble-metric"].read_text(encoding="utf-8") + wrong, encoding="utf-8")
    ran = run("prove", file)
    assert ran.code == 2
    for path in ("alternatives.tray", "alternatives.x.of", "alternatives.x.strip", "alternatives.x.shape"):
        assert path in ran.err
