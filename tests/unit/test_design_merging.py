"""Two edits of one project: both are made, or both are told."""

from importlib import resources

import pytest

from foldproof.design.merging import Clash, merge
from foldproof.design.text_edits import MISSING, Edit, edits_between, same, with_edits
from foldproof.errors import InputError
from foldproof.project.read import read_project
from foldproof.project.syntax import parse_toml
from foldproof.project.write import with_change

BOX = (resources.files("foldproof") / "examples" / "gale-lid.toml").read_text(encoding="utf-8")
LAYER = """[[parts.lid.layers]]
across = "3 1/2"
colour = "foam white"

"""


def changed(text, **values):
    for path, value in values.items():
        text = with_change(text, path.replace("__", "."), value)
    return text


def test_two_hands_on_two_values():
    mine = changed(BOX, parts__tray__wall_height="2 1/2")
    theirs = changed(BOX, parts__lid__across="5 1/2")
    merged = merge(BOX, mine, theirs)
    assert merged.clashes == () and merged.notes_kept
    project = read_project(merged.text)
    assert project.parts[0].values.wall_height.mm * 10 == 635
    assert project.parts[1].values.across.mm * 10 == 1397


def test_the_notes_of_both_stay():
    mine = BOX.replace('wall_height = "2 1/4"', 'wall_height = "2 1/2"  # measured again')
    theirs = BOX.replace('strip = "1 in"', 'strip = "1 in"  # not wider')
    merged = merge(BOX, mine, theirs)
    assert "# measured again" in merged.text and "# not wider" in merged.text
    assert "# the box is 4 5/8 in from corner to corner" in merged.text


def test_one_hand_on_the_notes_alone():
    mine = BOX.replace("# Gale lid: one", "# Gale lid, for the summer: one")
    theirs = changed(BOX, parts__tray__wall_height="2 1/2")
    text = merge(BOX, mine, theirs).text
    assert "for the summer" in text and 'wall_height = "2 1/2"' in text


def test_where_lines_cannot_be_merged_values_are_and_the_notes_are_theirs():
    """Both hands touch one line: one its value, the other the note after it."""
    mine = BOX.replace('strip = "1 in"', 'strip = "1 1/8 in"').replace('name = "slate"', 'name = "slate"  # mine')
    theirs = BOX.replace('strip = "1 in"', 'strip = "1 in"  # theirs')
    merged = merge(BOX, mine, theirs)
    assert merged.clashes == () and not merged.notes_kept
    assert 'strip = "1 1/8 in"  # theirs' in merged.text and "# mine" not in merged.text


def test_a_value_changed_in_two_ways_is_told_with_both():
    mine = changed(BOX, parts__tray__wall_height="2 1/2", parts__tray__inner_wall="1 1/4")
    theirs = changed(BOX, parts__tray__wall_height="2")
    merged = merge(BOX, mine, theirs)
    assert merged.text == theirs
    assert merged.clashes == (Clash(path="parts.tray.wall_height", base="2 1/4", mine="2 1/2", theirs="2"),)


def test_a_clash_is_settled_by_choice_and_the_rest_is_merged():
    mine = changed(BOX, parts__tray__wall_height="2 1/2", parts__tray__inner_wall="1 1/4")
    theirs = changed(BOX, parts__tray__wall_height="2")
    for whose, wanted in (("mine", "2 1/2"), ("theirs", "2")):
        merged = merge(BOX, mine, theirs, choices={"parts.tray.wall_height": whose})
        tray = parse_toml(merged.text)["parts"]["tray"]
        assert merged.clashes == () and (tray["wall_height"], tray["inner_wall"]) == (wanted, "1 1/4")


def test_a_value_taken_out_and_changed_is_a_clash():
    mine = with_edits(BOX, (Edit(path=("parts", "lid", "head"), before="1/4", after=MISSING),))
    theirs = changed(BOX, parts__lid__head="3/8")
    assert merge(BOX, mine, theirs).clashes == (Clash(path="parts.lid.head", base="1/4", mine=None, theirs="3/8"),)


def test_a_part_taken_out_that_another_hand_changed_is_one_clash():
    cut = BOX[: BOX.index("[parts.lid]")] + BOX[BOX.index("[extra.demo]") :]
    theirs = changed(BOX, parts__lid__layers__2__across="4 1/8")
    (clash,) = merge(BOX, cut, theirs).clashes
    assert (clash.path, clash.mine) == ("parts.lid", None)
    gone = merge(BOX, cut, theirs, choices={"parts.lid": "mine"})
    stays = merge(BOX, cut, theirs, choices={"parts.lid": "theirs"})
    assert [len(read_project(each.text).parts) for each in (gone, stays)] == [1, 2]


def test_one_value_of_one_row_changed_in_two_ways():
    sides = [changed(BOX, parts__lid__layers__2__across=across) for across in ("4 1/8", "4 3/8")]
    (row,) = merge(BOX, *sides).clashes
    assert (row.path, row.mine, row.theirs) == ("parts.lid.layers.2.across", "4 1/8", "4 3/8")


def test_a_part_taken_out_that_nobody_else_touched_is_gone():
    cut = BOX[: BOX.index("[parts.lid]")] + BOX[BOX.index("[extra.demo]") :]
    merged = merge(BOX, cut, changed(BOX, parts__tray__wall_height="2 1/2"))
    assert merged.clashes == ()
    tables = parse_toml(merged.text)
    assert list(tables["parts"]) == ["tray"] and tables["parts"]["tray"]["wall_height"] == "2 1/2"


@pytest.mark.parametrize("first", [True, False], ids=["mine adds", "theirs adds"])
def test_a_row_added_and_another_row_changed(first):
    added = BOX.replace("[extra.demo]", f"{LAYER}[extra.demo]")
    recut = changed(BOX, parts__lid__layers__3__across="3 5/8", parts__lid__layers__1__colour="ink")
    merged = merge(BOX, *((added, recut) if first else (recut, added)))
    rows = parse_toml(merged.text)["parts"]["lid"]["layers"]
    assert merged.clashes == ()
    assert [row.get("across") for row in rows] == [None, "4", "3 5/8", "3 1/2"]
    assert [row["colour"] for row in rows] == ["ink", "rain blue", "slate", "foam white"]


def test_rows_added_at_one_place_in_two_ways_are_for_a_person():
    mine = BOX.replace("[extra.demo]", f"{LAYER}[extra.demo]")
    theirs = BOX.replace("[extra.demo]", f"{LAYER.replace('foam', 'snow')}[extra.demo]")
    assert [clash.path for clash in merge(BOX, mine, theirs).clashes] == ["parts.lid.layers"]


def test_a_list_of_plain_values_is_one_value():
    text = BOX.replace('stops = "inch eighths"', "stops = [1, 2, 3]")
    mine, theirs = (text.replace("[1, 2, 3]", each) for each in ("[1, 2, 3, 4]", "[0.5, 1, 2, 3]"))
    assert merge(text, mine, theirs).clashes == (
        Clash(path="board.stops", base="1, 2, 3", mine="1, 2, 3, 4", theirs="0.5, 1, 2, 3"),
    )


def test_the_unit_goes_with_no_other_change():
    """A plain 3 means three of the unit it was written under."""
    mine = changed(BOX, unit="cm")
    theirs = changed(BOX, parts__tray__wall_height="3")
    for sides in ((mine, theirs), (theirs, mine)):
        (clash,) = merge(BOX, *sides).clashes
        assert (clash.path, clash.base) == ("unit", "in") and {clash.mine, clash.theirs} == {"in", "cm"}
    kept = merge(BOX, mine, theirs, choices={"unit": "theirs"})
    assert kept.clashes == () and parse_toml(kept.text)["unit"] == "in"
    assert merge(BOX, mine, changed(BOX, maker="The club")).clashes == ()


@pytest.mark.parametrize(
    "text",
    [
        'a = 1\nb.c = 2\nb.d = 3\n[e]\nf = {g = 1, h = "x"}\n',
        "[x.y]\na = 1\n[z]\nb = 2\n[x.w]\nc = 3\n",  # headings of one table apart from each other
        "rows = [{a = 1}, {a = 2}]\n[t]\nk = 1\n",
        "# only a note\n",
    ],
)
def test_other_ways_of_writing_tables(text):
    data = parse_toml(text)
    for path in [("a",), ("b", "c"), ("e", "f", "g"), ("x", "w", "c"), ("rows", 1, "a"), ("new",), ("t", "new")]:
        holder = data
        for step in path[:-1]:
            try:
                holder = holder[step]
            except (KeyError, IndexError, TypeError):
                break
        else:
            theirs = with_edits(text, (Edit(path=path, before=None, after="changed"),))
            mine = with_edits(text, (Edit(path=("mine",), before=MISSING, after=[1, 2]),))
            merged = merge(text, mine, theirs)
            assert merged.clashes == ()
            found = parse_toml(merged.text)
            assert found["mine"] == [1, 2]
            for step in path:
                found = found[step]
            assert found == "changed"


def test_a_file_laid_out_so_that_it_cannot_be_edited_is_told_value_by_value(monkeypatch):
    mine = changed(BOX, parts__lid__strip="1 1/8 in")
    theirs = BOX.replace('strip = "1 in"', 'strip = "1 in"  # theirs')

    def cannot(text, edits):
        with_edits(text, (Edit(path=("name", "under"), before=MISSING, after=1),))

    monkeypatch.setattr("foldproof.design.merging.with_edits", cannot)
    merged = merge(BOX, mine, theirs)
    assert merged.text == theirs
    assert merged.clashes == (Clash(path="parts.lid.strip", base="1 in", mine="1 1/8 in", theirs="1 in"),)


def test_an_edit_that_cannot_be_made_is_refused():
    with pytest.raises(InputError) as caught:
        with_edits(BOX, (Edit(path=("name", "under"), before=MISSING, after=1),))
    assert caught.value.problems[0].field == "name.under"
    with pytest.raises(InputError):
        with_edits("a = ", ())


def test_what_is_the_same():
    assert same({"a": 1, "b": [float("nan")]}, {"b": [float("nan")], "a": 1})
    for one, other in ((1, 1.0), (1, True), ("1", 1), ([1], [1, 1]), ({}, [])):
        assert not same(one, other)


def test_edits_are_told_value_by_value():
    after = changed(BOX, parts__tray__wall_height="2 1/2", parts__lid__layers__2__foam="1/4")
    assert edits_between(parse_toml(BOX), parse_toml(after)) == (
        Edit(path=("parts", "tray", "wall_height"), before="2 1/4", after="2 1/2"),
        Edit(path=("parts", "lid", "layers", 1, "foam"), before="1/8", after="1/4"),
    )
