"""Every command on every example, as a maker runs it and as a program does."""

import json
import tomllib
from importlib import resources

import jsonschema
import pytest

from foldproof.cli.demo import expected_verdict
from foldproof.project.read import read_project
from foldproof.service.starting import example_names, example_text

NAMES = example_names()
PROVED = [name for name in NAMES if expected_verdict(example_text(name)) == "proved"]
NOT_PROVED = [name for name in NAMES if name not in PROVED]


def check_schema(report):
    """The report is valid by the schema of its kind, and the schema itself is one."""
    text = (resources.files("foldproof") / "schemas" / f"{report['report']}.schema.json").read_text(encoding="utf-8")
    schema = json.loads(text)
    jsonschema.Draft202012Validator.check_schema(schema)
    jsonschema.Draft202012Validator(schema).validate(report)


def test_there_are_examples_of_both_kinds():
    assert len(PROVED) >= 3
    assert NOT_PROVED


@pytest.mark.parametrize("name", NAMES)
@pytest.mark.parametrize("command", ["measure", "prove", "fit"])
def test_report_is_valid_and_alone(run, examples, command, name):
    ran = run(command, examples[name], "--json")
    # Measuring says only whether each piece fits its sheet: the gale lid's pieces do, and it fails elsewhere.
    assert ran.code == (0 if name in PROVED or (command, name) == ("measure", "gale-lid") else 1)
    assert ran.report["report"] == command
    assert ran.err == ""
    check_schema(ran.report)


@pytest.mark.parametrize("name", NAMES)
def test_pack_report_is_valid_and_true(packs, name):
    folder, ran = packs[name]
    assert ran.code == (0 if name in PROVED else 1)
    report = json.loads((folder / "pack.json").read_text(encoding="utf-8"))
    check_schema(report)
    found = {path.relative_to(folder).as_posix() for path in folder.rglob("*") if path.is_file()}
    assert found == {file["path"] for file in report["files"]} | {"pack.json"}
    check_schema(json.loads((folder / "proof.json").read_text(encoding="utf-8")))


def test_pack_prints_its_listing_as_json(run, examples, tmp_path):
    ran = run("pack", examples["shell-tray"], "-o", tmp_path / "pack", "--json")
    assert ran.code == 0
    check_schema(ran.report)
    assert ran.out == (tmp_path / "pack" / "pack.json").read_text(encoding="utf-8")


# --- What makers read ---------------------------------------------------------------------------------------


def test_measures_of_the_box_as_a_maker_scores_it(run, examples):
    ran = run("measure", examples["tidepool"])
    assert "10 3/4 in square" in ran.out
    for position in ("1 1/2 in", "3 3/4 in", "7 in", "9 1/4 in"):
        assert f"groove {position}" in ran.out
    assert "All from one edge: 1 1/2, 3 3/4, 7, 9 1/4 in." in ran.out


def test_measures_in_json_are_millimetres(run, examples):
    report = run("measure", examples["pebble-metric"], "--json").report
    (piece,) = report["parts"][0]["pieces"]
    assert piece["width_mm"] == 210.0
    assert [mark["position_mm"] for mark in piece["across"]] == [30.0, 65.0, 145.0, 180.0]
    assert [mark["text"] for mark in piece["across"]] == ["3.0 cm", "6.5 cm", "14.5 cm", "18.0 cm"]


def test_a_sheet_off_its_size_says_which_reading_is_safe(run, tmp_path, examples):
    text = examples["tidepool"].read_text(encoding="utf-8")
    path = tmp_path / "short.toml"
    text = text.replace('sheet = "12x12"', 'sheet = "12x12"\nmeasured = "11 7/8 x 11 7/8"')
    text = text.replace('wall_height = "2 1/4"', 'wall_height = "2 7/8"\npiece = "whole sheet"')
    path.write_text(text, encoding="utf-8")
    report = run("measure", path, "--json").report
    readings = report["parts"][0]["pieces"][0]["readings_across"]
    assert readings["change_mm"] == pytest.approx(301.625 - (2 * (38.1 + 73.025) + 82.55))
    assert readings["differ_mm"] == pytest.approx(abs(readings["change_mm"]))
    assert readings["safer"] == "one edge"
    assert "Safe" in run("measure", path).out


def test_the_proof_names_the_failure_first_and_its_mend(run, examples):
    ran = run("prove", examples["storm-tray"])
    assert ran.out.index("Not proved") < ran.out.index("Worth a look") < ran.out.index("What holds")
    report = run("prove", examples["storm-tray"], "--json").report
    first = report["findings"][0]
    assert (first["state"], first["code"]) == ("fails", "fits_sheet")
    assert first["measured_mm"] == pytest.approx(-3.25 * 25.4)
    assert any(mend["verdict"] == "proved" for mend in first["mends"])


def test_the_mend_of_the_failing_example_really_mends_it(run, examples, tmp_path):
    from foldproof.project.write import with_change

    report = run("prove", examples["storm-tray"], "--json").report
    mend = next(mend for mend in report["findings"][0]["mends"] if mend["verdict"] == "proved")
    text = examples["storm-tray"].read_text(encoding="utf-8")
    for change in mend["changes"]:
        text = with_change(text, change["path"], change["value"])
    path = tmp_path / "mended.toml"
    path.write_text(text, encoding="utf-8")
    assert run("prove", path).code == 0


# --- New and fit --------------------------------------------------------------------------------------------


@pytest.mark.parametrize("name", NAMES)
def test_new_from_each_example_reads_back(run, tmp_path, name):
    path = tmp_path / "mine.toml"
    ran = run("new", "My own", "--example", name, "-o", path, "--json")
    assert ran.code == 0
    check_schema(ran.report)
    assert read_project(path.read_text(encoding="utf-8")).name == "My own"


@pytest.mark.parametrize("construction", ["double-wall tray", "plain tray"])
@pytest.mark.parametrize("unit", ["in", "cm"])
def test_new_then_fit_then_prove(run, tmp_path, construction, unit):
    path = tmp_path / "mine.toml"
    ran = run("new", "Mine", "--construction", construction, "--unit", unit, "-o", path, "--json")
    assert ran.code == 0
    assert "parts.tray.base_length" in ran.report["open_values"]
    assert run("prove", path).code == 2
    fitted = run("fit", path, "--write", "--json")
    assert fitted.code == 0
    check_schema(fitted.report)
    assert fitted.report["written"] == str(path)
    assert "# the base from left to right" in path.read_text(encoding="utf-8")
    assert run("prove", path).code == 0
    values = {value["name"]: value["value_mm"] for value in fitted.report["parts"][0]["answers"][0]["values"]}
    part = read_project(path.read_text(encoding="utf-8")).parts[0]
    assert {name: round(getattr(part.values, name).float_mm, 6) for name in values} == values


def test_new_takes_values_for_every_table(run, tmp_path):
    path = tmp_path / "mine.toml"
    settings = ("base_length=4", "wall_height=1 1/2", "cardstock.sheet=A4", "board.stops=inch quarters", "maker=Ann")
    options = [part for setting in settings for part in ("--set", setting)]
    assert run("new", "--construction", "plain tray", *options, "-o", path).code == 0
    told = tomllib.loads(path.read_text(encoding="utf-8"))
    assert told["parts"]["tray"]["wall_height"] == "1 1/2"
    assert told["cardstock"]["sheet"] == "A4"
    assert told["board"]["stops"] == "inch quarters"
    assert told["maker"] == "Ann"


def test_new_prints_to_standard_output(run):
    ran = run("new", "Mine", "--construction", "plain tray", "-o", "-")
    assert ran.code == 0
    assert read_project(ran.out).name == "Mine"


def test_new_replaces_no_file(run, tmp_path):
    path = tmp_path / "mine.toml"
    path.write_text("precious", encoding="utf-8")
    assert run("new", "--construction", "plain tray", "-o", path).code == 2
    assert path.read_text(encoding="utf-8") == "precious"


def test_fit_writes_nothing_when_only_the_nearest_was_found(run, tmp_path, examples):
    text = examples["tidepool"].read_text(encoding="utf-8").replace('base_length = "3 1/4"', 'base_length = "work out"')
    text = text.replace('length = "2 1/2"\nwidth', 'length = "9"\nwidth')
    path = tmp_path / "large.toml"
    path.write_text(text, encoding="utf-8")
    ran = run("fit", path, "--goal", "hold the content", "--write", "--json")
    assert ran.code == 1
    (part,) = ran.report["parts"]
    assert (part["works"], part["reason"]) == (False, "content_too_large")
    assert part["short_mm"] > 0
    assert ran.report["written"] is None
    assert path.read_text(encoding="utf-8") == text


def test_fit_says_by_how_much_the_piece_is_too_large(run, examples):
    (part,) = run("fit", examples["storm-tray"], "--json").report["parts"]
    assert part["short_mm"] == pytest.approx(3.25 * 25.4)
    assert "3 1/4 in" in run("fit", examples["storm-tray"]).out


# --- Stopping -----------------------------------------------------------------------------------------------


def test_prove_out_of_time_tells_what_it_has(run, examples):
    ran = run("prove", examples["tidepool"], "--seconds", "0", "--json")
    assert ran.code == 3
    check_schema(ran.report)
    assert ran.report["stopped"] is True
    assert ran.report["verdict"] == "not_decided"


# --- Help ---------------------------------------------------------------------------------------------------


@pytest.mark.parametrize(
    "command",
    [(), ("new",), ("measure",), ("prove",), ("fit",), ("pack",), ("outline",), ("shelf",), ("shelf", "take")],
)
def test_help(run, command):
    ran = run(*command, "--help")
    assert ran.code == 0
    assert ran.out.startswith("Usage: ")


def test_goals_on_the_command_line_are_those_of_the_search():
    from foldproof.cli.fit import GOALS, OTHERS, SHAPES
    from foldproof.design import fit_answers

    assert (*fit_answers.GOALS, SHAPES, OTHERS) == GOALS
