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
    assert (project.name, project.unit, project.parts[-1].construction.name) == ("Shells", unit, name)
    shown = re.findall(r"^(?:# )?([a-z_0-9]+) = ", text, re.MULTILINE)
    shown += re.findall(r"^\[\[.*\.(\w+)]]", text, re.MULTILINE)
    parameters = [value for part in project.parts for value in values_of(part.construction.parameters)]
    parameters += [inner for value in parameters if value.record for inner in values_of(value.record)]
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


def lid(values, unit="in", **others):
    """A new turning lid, with the tray it goes on."""
    return new_project("turning lid", "Urchin", unit, values, **others)


def test_a_lid_comes_with_a_tray_to_go_on():
    project = read_project(lid({}))
    assert [(part.name, part.construction.name, part.on) for part in project.parts] == [
        ("tray", "double-wall tray", ""),
        ("lid", "turning lid", "tray"),
    ]
    assert project.parts[1].open_values == ("across", "hole_from_corner")
    assert [layer.brad for layer in project.parts[1].values.layers] == ["through", "hidden under it"]


def test_values_of_a_lid_and_of_its_tray_go_to_their_own():
    text = lid(
        SIZES
        | {"across": "5 1/2", "shape": "rosette", "lobes": "12", "closed": "as drawn", "parts.lid.depth": "1/4"}
        | {"layers.2.across": "5", "parts.lid.layers.3.fill": "#E9B9A6", "parts.tray.glue": "tape"}
    )
    tray_part, lid_part = read_project(text).parts
    assert tray_part.values.base_length == length("3.25", "in") and tray_part.values.glue == "tape"
    assert (lid_part.values.across, lid_part.values.depth) == (length("5.5", "in"), length("0.25", "in"))
    assert (lid_part.values.lobes, lid_part.values.closed) == (12, "as drawn")
    assert re.search(r"^lobes = 12 ", text, re.MULTILINE), "a number needs no quotes"
    assert [layer.across for layer in lid_part.values.layers] == ["as the lid", length(5, "in"), "as the lid"]
    assert [layer.brad for layer in lid_part.values.layers] == ["through", "hidden under it", "hidden under it"]
    assert lid_part.values.layers[2].fill == "#e9b9a6"


def test_the_parts_have_the_names_they_are_given():
    parts = read_project(lid({"on": "sea chest", "parts.sea chest.wall_height": "2"}, part="urchin")).parts
    assert [(part.name, part.on) for part in parts] == [("sea chest", ""), ("urchin", "sea chest")]
    assert parts[0].values.wall_height == length(2, "in")


@pytest.mark.parametrize(
    ("values", "field"),
    [
        ({"lobess": "3"}, "parts.lid.lobess"),
        ({"layers": "3"}, "parts.lid.layers"),
        ({"layers.2.acros": "3"}, "parts.lid.layers.2.acros"),
        ({"layers.2.across": "wide"}, "parts.lid.layers.2.across"),
        ({"layers.41.across": "3"}, 'parts.lid."layers.41.across"'),
        ({"layers.0.across": "3"}, 'parts.lid."layers.0.across"'),
        ({"parts.tray.layers": "3"}, "parts.tray.layers"),
    ],
)
def test_what_a_lid_does_not_have_is_not_written(values, field):
    with pytest.raises(InputError) as caught:
        lid(values)
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


LIDDED = (
    FILE
    + """
[parts.lid]
construction = "turning lid"
on = "tray"
across = "5 1/2"
hole_from_corner = "3/4"

[[parts.lid.layers]]  # the lowest
across = "5 1/2"  # as the lid

[[parts.lid.layers]]
across = 5
brad = "hidden under it"

[extra.notes]
glue = "the blue one"
"""
)


def test_a_change_inside_a_list_of_headings():
    smaller = LIDDED.replace("across = 5\n", 'across = "4 1/2"\n')
    assert with_change(LIDDED, "parts.lid.layers.2.across", "4 1/2") == smaller
    assert with_change(LIDDED, "parts.lid.layers.1.across", 5) == LIDDED.replace('"5 1/2"  #', "5  #")
    added = with_change(LIDDED, "parts.lid.layers.2.fixed", "foam")
    assert added == LIDDED.replace('"hidden under it"\n', '"hidden under it"\nfixed = "foam"\n')
    assert read_project(added).parts[1].values.layers[1].fixed == "foam"


def test_a_change_inside_a_list_in_one_line():
    text = f"{LIDDED[: LIDDED.index('[[')]}layers = [{{across = 5}}, {{}}]\n"
    layers = read_project(with_change(text, "parts.lid.layers.2.across", "4")).parts[1].values.layers
    assert [layer.across for layer in layers] == [length(5, "in"), length(4, "in")]


def test_a_count_set_as_text_is_a_count():
    assert read_project(with_change(LIDDED, "parts.lid.closed", "15")).parts[1].values.closed == 15.0


@pytest.mark.parametrize(
    ("path", "reason"),
    [
        ("parts.lid.layers", "is a heading"),
        ("parts.lid.layers.2", "is a heading"),
        ("parts.lid.layers.0.across", "there is no number 0"),
        ("parts.lid.layers.3.across", "there is no number 3"),
        ("parts.lid.layers.02.across", "there is no number 02"),
        ("parts.lid.layers.across", "is a heading"),
        ("parts.lid.layers.top.across", "there is no number top"),
        ("parts.lid.layers.2.across.mm", "across is a value"),
    ],
)
def test_paths_into_lists_that_lead_nowhere(path, reason):
    with pytest.raises(InputError) as caught:
        with_change(LIDDED, path, "1")
    assert reason in caught.value.problems[0].reason


def test_a_list_of_values_is_a_value():
    assert 'stops = "none"' in with_change(f"{FILE}[board]\nstops = [1, 2]\n", "board.stops", "none")


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


def test_spelling_does_not_change_what_a_lid_says():
    respelt = LIDDED.replace("across = 5\n", 'across = "12.7 cm"\nturned = "Not turned"\n')
    respelt = respelt.replace('"5 1/2"  #', "5.5  #")
    same = respelt.replace("[[parts.lid.layers]]  # the lowest", '[[parts.lid.layers]]\nfill = "#FBF7EE"')
    assert canonical(read_project(same)) == canonical(read_project(LIDDED))
    assert "project.parts.1.values.layers.1.across = 127 mm" in canonical(read_project(same)).splitlines()


@pytest.mark.parametrize(
    ("path", "value"),
    [
        ("parts.lid.lobes", "11"),
        ("parts.lid.closed", "15"),
        ("parts.lid.hole_from_corner", "work out"),
        ("parts.lid.layers.1.colour", "coral"),
        ("parts.lid.layers.2.across", "4"),
        ("parts.lid.layers.2.turned", "18"),
    ],
)
def test_every_change_of_meaning_of_a_lid_is_seen(path, value):
    text = LIDDED.replace('on = "tray"', 'on = "tray"\nshape = "rosette"')
    assert canonical(read_project(with_change(text, path, value))) != canonical(read_project(text))


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
