"""New project files, single changes, and the text that stands for what a project says."""

import re
import tomllib

import pytest
from hypothesis import given
from hypothesis import strategies as st

from foldproof.constructions.catalogue import CONSTRUCTIONS
from foldproof.constructions.parameters import values_of
from foldproof.errors import InputError
from foldproof.lengths import length
from foldproof.project.canonical import canonical
from foldproof.project.keys import BOARD_KEYS, CARDSTOCK_KEYS, CONTENT_KEYS, PROJECT_KEYS
from foldproof.project.read import read_project
from foldproof.project.write import new_project, with_change

SIZES = {"base_length": "3 1/4", "wall_height": "2 1/4"}
CONSTRUCTION_NAMES = [construction.name for construction in CONSTRUCTIONS]


def tray(values=SIZES, unit="in", **others):
    """A new double-wall tray."""
    return new_project("double-wall tray", "Shells", unit, values, **others)


@pytest.mark.parametrize("name", CONSTRUCTION_NAMES)
@pytest.mark.parametrize("unit", ["in", "cm"])
def test_a_new_file_reads_back_and_shows_every_key(name, unit):
    text = new_project(name, "Shells", unit, {})
    project = read_project(text)
    assert (project.name, project.unit, project.parts[0].construction.name) == ("Shells", unit, name)
    shown = re.findall(r"^(?:# )?([a-z_0-9]+) = ", text, re.MULTILINE)
    parameters = values_of(project.parts[0].construction.parameters)
    keys = [key.name for key in (*PROJECT_KEYS, *CARDSTOCK_KEYS, *BOARD_KEYS, *CONTENT_KEYS)]
    assert set(keys) | {value.name for value in parameters} <= set(shown)
    assert {"closure_fail_mm", "finger_mm"} <= set(shown)
    assert all(value.help in text for value in parameters)


@pytest.mark.parametrize("name", CONSTRUCTION_NAMES)
@pytest.mark.parametrize("unit", ["in", "cm"])
def test_what_is_commented_out_is_what_holds(name, unit):
    """Every commented line but the examples can be used as it stands, and changes nothing that is laid out."""
    text = new_project(name, "Shells", unit, {"base_length": "6 cm", "wall_height": "3 cm"})
    examples = ("maker", "measured", "thickness")
    taken_in = "\n".join(
        line.removeprefix("# ") if re.match(r"# [a-z_0-9\[]", line) and not line.startswith(_notes(examples)) else line
        for line in text.splitlines()
        if not line.startswith("# when it is left out")
    )
    before, after = read_project(text), read_project(taken_in)
    assert after.parts == before.parts
    assert (after.ruler, after.board, after.cardstock) == (before.ruler, before.board, before.cardstock)
    assert (after.checks, after.folding) == (before.checks, before.folding)
    assert before.content is None and after.content is not None


def _notes(examples):
    return tuple(f"# {name} = " for name in examples)


def test_given_values_are_written_as_they_were_given():
    text = tray(
        SIZES | {"inner_wall": "1 1/2", "glue": "tape"},
        maker='The "Tide" \\ club',
        cardstock={"sheet": "Letter", "thickness": "0.3 mm", "name": "sand"},
        stops="inch quarters",
        content={"length": "2", "width": "2", "height": "1"},
        part="small tray",
    )
    project = read_project(text)
    assert project.maker == 'The "Tide" \\ club'
    assert (project.cardstock.sheet.name, project.cardstock.name) == ("Letter", "sand")
    assert project.cardstock.weight is None and project.cardstock.thickness.mm == 0.3
    assert project.board.name == "inch quarters"
    assert project.parts[0].name == "small tray"
    assert project.parts[0].values.glue == "tape"
    assert project.content.ease == length("0.125", "in")
    assert 'base_length = "3 1/4"' in text


def test_required_values_that_are_not_given_are_left_open():
    assert read_project(tray({})).parts[0].open_values == (
        "base_length",
        "base_width",
        "wall_height",
        "inner_wall",
    )


@pytest.mark.parametrize(
    ("values", "others", "field"),
    [
        ({"base_lenght": "3"}, {}, "parts.tray.base_lenght"),
        ({"base_length": "wide"}, {}, "parts.tray.base_length"),
        (SIZES, {"part": "a/b"}, 'parts."a/b"'),
        (SIZES, {"maker": "a\x00b"}, "maker"),
        (SIZES, {"cardstock": {"colour": "red"}}, "cardstock.colour"),
        (SIZES, {"stops": "feet"}, "board.stops"),
        (SIZES, {"content": {"length": "2"}}, "content.width"),
    ],
)
def test_what_does_not_read_back_is_not_written(values, others, field):
    with pytest.raises(InputError) as caught:
        tray(values, **others)
    assert field in [problem.field for problem in caught.value.problems]


def test_an_unknown_construction_names_the_nearest():
    with pytest.raises(InputError) as caught:
        new_project("plane tray", "Shells", "in", {})
    assert "plain tray" in caught.value.problems[0].remedy


@given(st.text(max_size=90))
def test_any_name_is_written_so_that_it_reads_back_or_refused(name):
    try:
        text = new_project("plain tray", name, "cm", {})
    except InputError as error:
        assert [problem.field for problem in error.problems] == ["name"]
    else:
        assert read_project(text).name == name.strip()


# --- Changes ------------------------------------------------------------------------------------------------

FILE = """\
# a note at the top
format = 1
name = "Shells"   # its name
unit = "in"
[cardstock]
sheet = "12x12"
weight = "216 gsm"

[parts.tray]  # the only one
construction = "double-wall tray"
base_length = "3 1/4"  # left to right
wall_height = "2 1/4"
"""


def test_a_change_keeps_everything_else():
    changed = with_change(FILE, "parts.tray.base_length", "3 1/2")
    assert changed == FILE.replace('"3 1/4"', '"3 1/2"')


def test_a_missing_key_is_added_under_its_heading():
    changed = with_change(FILE, "parts.tray.inner_wall", "1 1/2")
    assert changed == FILE + 'inner_wall = "1 1/2"\n'
    assert 'core = "white"' in with_change(FILE, "cardstock.core", "white")


def test_settings_are_written_as_numbers_and_make_their_heading():
    changed = with_change(FILE, "settings.closure_fail_mm", "1.2")
    assert changed.startswith(FILE)
    assert read_project(changed).checks.closure_fail_mm == 1.2
    assert tomllib.loads(with_change(FILE, "settings.states_budget", "500"))["settings"]["states_budget"] == 500
    assert tomllib.loads(with_change(FILE, "parts.tray.revision", "1"))["parts"]["tray"]["revision"] == 1


def test_a_sensible_setting_is_not_demanded_of_a_change():
    with pytest.raises(InputError):
        read_project(with_change(FILE, "settings.closure_fail_mm", "wide"))


def test_quoted_keys_in_a_path():
    file = FILE.replace("parts.tray", 'parts."small tray"')
    assert with_change(file, 'parts."small tray".base_length', 3) == file.replace('"3 1/4"', "3")


@pytest.mark.parametrize(
    "path", ["", "a b", "parts..tray", "name\n", "x = 1\ny", "a = {b = 1, c", "name.first", "parts.tray", "# note"]
)
def test_paths_that_lead_nowhere(path):
    with pytest.raises(InputError):
        with_change(FILE, path, "1")


def test_a_broken_file_is_not_changed():
    with pytest.raises(InputError, match="already there"):
        with_change(FILE + "wall_height = 3\n", "name", "Stones")


# --- What a project says ------------------------------------------------------------------------------------


def test_spelling_does_not_change_what_a_project_says():
    respelt = (
        FILE.replace('"3 1/4"', "3.25").replace('"2 1/4"', '"5.715 cm"').replace("# a note at the top", "")
        + "[extra.shop]\nprice = 3\n"
    )
    assert canonical(read_project(respelt)) == canonical(read_project(FILE))


@pytest.mark.parametrize(
    ("path", "value"),
    [
        ("name", "Stones"),
        ("maker", "A club"),
        ("unit", "cm"),
        ("ruler", "1/8 in"),
        ("cardstock.weight", "220 gsm"),
        ("cardstock.measured", "11 7/8 x 12"),
        ("cardstock.thickness", "0.27 mm"),
        ("cardstock.fill", "#000000"),
        ("cardstock.grain", "along width"),
        ("board.stops", "none"),
        ("parts.tray.base_length", "3 1/8"),
        ("parts.tray.inner_wall", "work out"),
        ("parts.tray.glue", "tape"),
        ("settings.finger_mm", "15"),
        ("settings.white_look_mm2", "99"),
    ],
)
def test_every_change_of_meaning_is_seen(path, value):
    text = FILE.replace('"3 1/4"', '"3 1/4 in"').replace('"2 1/4"', '"2 1/4 in"')
    assert canonical(read_project(with_change(text, path, value))) != canonical(read_project(text))


def test_the_text_names_no_addresses_and_is_one_value_a_line():
    lines = canonical(read_project(FILE + "[content]\nlength = 1\nwidth = 1\nheight = 1\n")).splitlines()
    assert all(re.fullmatch(r"project[.\w]*(?: = .+| has \d+)", line) for line in lines)
    assert len({line.split(" ")[0] for line in lines}) == len(lines)
    assert "project.parts.0.values.base_length = 1651/20 mm" in lines
    assert not any(" at 0x" in line for line in lines)
