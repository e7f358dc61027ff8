"""Alternatives under [alternatives.NAME]: what they say, what is the lid's, and everything that can be wrong."""

import dataclasses

import pytest

from foldproof.constructions.alternative_lid import with_shares
from foldproof.constructions.fasteners import USUAL
from foldproof.constructions.parameters import Open
from foldproof.design.change import changed
from foldproof.design.class_version import as_taught
from foldproof.design.history_words import changes_between
from foldproof.errors import InputError
from foldproof.findings import Change
from foldproof.lengths import INCH_SIXTEENTHS, in_words, parse_length
from foldproof.project.canonical import canonical
from foldproof.project.read import read_project
from foldproof.project.write import new_project, with_change

TEXT = """format = 1
name = "Box"
unit = "in"
[cardstock]
sheet = "12x12"
weight = "176 gsm"
[parts.tray]
construction = "double-wall tray"
base_length = "3 1/4"
wall_height = "2 1/4"
inner_wall = "2 1/8"
[parts.lid]
construction = "turning lid"
on = "tray"
shape = "rosette"
lobes = 10
depth = "3/16"
across = "5 1/2"
hole_from_corner = "1/2"
[[parts.lid.layers]]
[[parts.lid.layers]]
across = "5"
fixed = "hot glue"
[[parts.lid.layers]]
across = "3"
brad = "hidden under it"
[shapes.leaf]
sizes = ["4 in", "5 in", "6 in"]
points = [[60, 0], [42, 42], [0, 60], [-42, 42], [-60, 0], [-42, -42], [0, -60], [42, -42]]
"""


def read(alternatives=""):
    return read_project(TEXT + alternatives)


def only(alternatives):
    (found,) = read(alternatives).alternatives
    return found


def problems(text):
    with pytest.raises(InputError) as caught:
        read_project(text)
    return {problem.field: problem for problem in caught.value.problems}


def sizes(values):
    return [
        None if isinstance(layer.across, str) else in_words(layer.across, INCH_SIXTEENTHS) for layer in values.layers
    ]


def test_what_it_does_not_say_is_the_lids():
    lid = read().parts[1]
    same = only("[alternatives.again]\n")
    assert (same.of, same.name, same.part.on) == ("lid", "again", "tray")
    assert same.part.values == lid.values and same.part.construction is lid.construction


def test_another_shape_begins_with_its_usual_lobes_and_depth():
    other = only('[alternatives.o]\nshape = "scalloped disc"\nacross = 6\n').part.values
    assert (other.shape, other.lobes, other.depth) == ("scalloped disc", USUAL, USUAL)
    assert other.hole_from_corner == read().parts[1].values.hole_from_corner
    kept = only("[alternatives.o]\nacross = 6\n").part.values
    assert (kept.shape, kept.lobes) == ("rosette", 10)


def test_layers_keep_their_share_on_the_ruler():
    # 5 of 5 1/2 is 10/11, and 3 is 6/11: of 6 1/4 in that is 5.68 and 3.41 in.
    assert sizes(only("[alternatives.o]\nacross = '6 1/4'\n").part.values) == [None, "5 11/16 in", "3 7/16 in"]


def test_layers_that_are_given_are_all_there_are():
    other = only('[alternatives.o]\nacross = 6\n[[alternatives.o.layers]]\nacross = "5 1/4"\n')
    assert sizes(other.part.values) == ["5 1/4 in"] and not other.keeps_shares


def test_layers_of_a_shape_that_is_owned_in_some_sizes_take_the_nearest_of_them():
    assert sizes(only('[alternatives.o]\nshape = "leaf"\nacross = 6\n').part.values) == [None, "5 in", "4 in"]


def test_open_values_are_as_a_lids():
    other = only('[alternatives.o]\nacross = "work out"\nhole_from_corner = "work out"\n')
    assert set(other.part.open_values) == {"across", "hole_from_corner"} and isinstance(other.part.values.across, Open)
    assert sizes(other.part.values) == sizes(read().parts[1].values)  # until the size is known


def test_shares_follow_a_size_that_is_worked_out():
    main = read().parts[1].values
    wider = dataclasses.replace(main, across=parse_length("11", "in"))
    assert sizes(with_shares(wider, main, INCH_SIXTEENTHS)) == [None, "10 in", "6 in"]


@pytest.mark.parametrize(
    ("lines", "field", "said"),
    [
        ('[alternatives.o]\nof = "tray"\n', "alternatives.o.of", "no turning lid"),
        ("[alternatives.o]\nof = 3\n", "alternatives.o.of", "not text"),
        ('[alternatives.o]\nshap = "disc"\n', "alternatives.o.shap", "not a key"),
        ('[alternatives.o]\nshape = "dosc"\n', "alternatives.o.shape", "no shape of this name"),
        ("[alternatives.o]\nacross = 0\n", "alternatives.o.across", "too short"),
        ('[alternatives.o]\nstrip = "1 in"\n', "alternatives.o.strip", "same for every lid of one box"),
        ('[alternatives.o]\non = "tray"\n', "alternatives.o.on", "same for every lid of one box"),
        ('[alternatives.o]\nshape = "disc"\nlobes = 8\n', "alternatives.o.lobes", "a disc has none"),
        ("[alternatives.Tray]\n", "alternatives.Tray", "name of a part"),
        ("[alternatives.o]\n[alternatives.O]\n", "alternatives.O", "name of a part or of another alternative"),
        ('[alternatives."a/b"]\n', "alternatives", "no name"),
        ("[alternatives]\no = 1\n", "alternatives.o", "heading"),
        ("[alternatives.o]\nlayers = []\n", "alternatives.o.layers", "missing"),
    ],
)
def test_each_wrong_thing_is_told_at_its_place(lines, field, said):
    found = problems(TEXT + lines)
    assert field in found and said in found[field].reason and found[field].remedy


def test_all_problems_are_told_at_once():
    wrong = '[alternatives.a]\nacross = 0\nfoo = 1\n[alternatives.b]\nshape = "nothing"\nof = "lod"\n'
    assert set(problems(TEXT + wrong)) == {
        "alternatives.a.across",
        "alternatives.a.foo",
        "alternatives.b.shape",
        "alternatives.b.of",
    }


def test_a_lid_that_is_wrong_does_not_hide_what_is_wrong_with_its_alternative():
    text = TEXT.replace('depth = "3/16"', 'depth = "wide"') + "[alternatives.a]\nacross = 0\n"
    assert set(problems(text)) == {"parts.lid.depth", "alternatives.a.across"}


def test_what_contradicts_in_the_lid_is_not_told_again():
    text = TEXT.replace('brad = "hidden under it"', 'brad = "hidden under it"\nedge = "lifted"') + "[alternatives.a]\n"
    assert set(problems(text)) == {"parts.lid.layers"}


def test_without_a_turning_lid_there_is_nothing_to_stand_in_for():
    text = TEXT[: TEXT.index("[parts.lid]")] + "[alternatives.a]\n"
    assert "no turning lid" in problems(text)["alternatives.a"].reason


def test_of_two_lids_it_has_to_say_which():
    again = TEXT[TEXT.index("[parts.tray]") : TEXT.index("[shapes.leaf]")]
    two = TEXT + again.replace("parts.tray", "parts.box").replace("parts.lid", "parts.top").replace('"tray"', '"box"')
    assert "more than one" in problems(two + "[alternatives.a]\n")["alternatives.a.of"].reason
    (found,) = read_project(two + '[alternatives.a]\nof = "top"\n').alternatives
    assert (found.of, found.part.on) == ("top", "box")


def test_more_than_a_file_has_room_for():
    many = "".join(f"[alternatives.a{number}]\n" for number in range(9))
    assert "9 alternatives" in problems(TEXT + many)["alternatives"].reason


def test_the_hash_is_that_of_before_without_any_and_another_with_one():
    assert "alternatives" not in canonical(read())
    one, other = (canonical(read(f'[alternatives.o]\nshape = "disc"\nacross = {size}\n')) for size in ("6", '"6.0 in"'))
    assert one == other != canonical(read()) and 'project.alternatives.0.of = "lid"' in one


def test_a_class_has_wet_glue_in_alternatives_too():
    taught = as_taught(read('[alternatives.o]\n[teach]\nversion = "class"\n'))
    assert [layer.fixed for layer in taught.alternatives[0].part.values.layers] == ["wet glue"] * 3


def test_changes_of_an_alternative_and_its_layers_follow():
    project = read("[alternatives.o]\nacross = 6\n")
    after = changed(project, (Change(path="alternatives.o.across", value="11 in"),))
    assert sizes(after.alternatives[0].part.values) == [None, "10 in", "6 in"]
    assert after.parts == project.parts


def test_history_tells_them():
    before, after = read("[alternatives.o]\nacross = 6\n"), read("[alternatives.o]\nacross = 7\n")
    assert [each.path for each in changes_between(read(), before)] == ["alternatives.o"]
    (first, *_) = changes_between(before, after)
    assert (first.path, first.before, first.after) == ("alternatives.o.across", "6 in", "7 in")


def test_a_new_lid_shows_where_they_go_and_a_value_is_changed_with_its_comments():
    text = new_project("turning lid", "Box", "in", {"across": "5 1/2"})
    assert "# [alternatives.disc]" in text
    noted = TEXT + "[alternatives.o]  # for the club\nacross = 6  # round\n"
    after = with_change(noted, "alternatives.o.across", "7 in")
    assert "# for the club" in after and 'across = "7 in"  # round' in after
