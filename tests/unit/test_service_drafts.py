"""Drafts: each edit is on the disk before it is answered."""

from importlib import resources

import pytest

from foldproof.errors import InputError
from foldproof.project.read import read_project
from foldproof.project.syntax import parse_toml
from foldproof.service.drafts import Draft, Setting, begin, edit, edit_text, redone, resume, undone
from foldproof.service.keeping import Clashed, open_kept, versions
from foldproof.service.world import now

BOX = (resources.files("foldproof") / "examples" / "gale-lid.toml").read_text(encoding="utf-8")
NOW = "2031-05-04T09:00:00Z"


def tall(written):
    return (Setting(path="parts.tray.wall_height", value=written),)


def layers(text):
    return parse_toml(text)["parts"]["lid"]["layers"]


@pytest.fixture
def draft(tmp_path):
    return begin(tmp_path, BOX, when=NOW)


def test_every_edit_is_kept_before_it_is_answered(tmp_path, draft):
    assert draft == Draft(id="gale-lid", version=1, text=BOX)
    for number, written in enumerate(("2", "2 1/8", "2 3/8"), start=2):
        draft = edit(tmp_path, draft, tall(written), when=NOW)
        assert draft.version == number
        kept = open_kept(tmp_path, draft.id)
        assert (kept.version, kept.text) == (draft.version, draft.text)
    assert resume(tmp_path, draft.id).text == draft.text
    assert [each.what for each in versions(tmp_path, draft.id)][1:] == [
        ("tray: wall height 2 1/4 in → 2 in",),
        ("tray: wall height 2 in → 2 1/8 in",),
        ("tray: wall height 2 1/8 in → 2 3/8 in",),
    ]


def test_edits_together_are_one_version(tmp_path, draft):
    settings = (Setting(path="cardstock.sheet", value="A4"), *tall("2"))
    draft = edit(tmp_path, draft, settings, when=NOW, what="made it smaller")
    assert draft.version == 2 and draft.what == ("made it smaller",)
    tables = parse_toml(draft.text)
    assert tables["cardstock"]["sheet"] == "A4" and tables["parts"]["tray"]["wall_height"] == "2"


def test_an_edit_that_makes_no_project_changes_nothing(tmp_path, draft):
    for settings in (tall("9 miles"), tall(None), (Setting(path="parts.nowhere.at", value=1),)):
        with pytest.raises(InputError):
            edit(tmp_path, draft, settings, when=NOW)
    assert open_kept(tmp_path, draft.id).version == 1


def test_values_and_headings_are_taken_out(tmp_path, draft):
    draft = edit(tmp_path, draft, (Setting(path="parts.lid.legs", value=None),), when=NOW)
    assert "legs" not in parse_toml(draft.text)["parts"]["lid"]
    draft = edit(tmp_path, draft, (Setting(path="parts.lid.layers.2", value=None),), when=NOW)
    assert [row["colour"] for row in layers(draft.text)] == ["slate", "slate"]
    draft = edit(tmp_path, draft, (Setting(path="parts.lid", value=None),), when=NOW)
    assert [part.name for part in read_project(draft.text).parts] == ["tray"]
    for absent in ("parts.lid", "parts.tray.nothing", "", "parts..tray", "a = 1"):
        with pytest.raises(InputError, match="is not in the project"):
            edit(tmp_path, draft, (Setting(path=absent, value=None),), when=NOW)


@pytest.mark.parametrize("number", [1, 2, 3, 4])
def test_a_row_is_put_in(tmp_path, draft, number):
    row = {"across": "4 1/8", "colour": "new"}
    draft = edit(tmp_path, draft, (Setting(path=f"parts.lid.layers.{number}", value=row),), when=NOW)
    colours = [each["colour"] for each in layers(draft.text)]
    assert len(colours) == 4 and colours.index("new") == number - 1
    assert draft.what == (f"lid: layer {number} added",)
    assert "# too short for two layers of foam" in draft.text


def test_a_row_has_its_place_in_a_list(tmp_path, draft):
    for path in ("parts.lid.layers.0", "parts.lid.layers.5", "parts.lid.layers.x", "parts.tray.1", "layers.1"):
        with pytest.raises(InputError, match="no place for another one"):
            edit(tmp_path, draft, (Setting(path=path, value={"across": "4"}),), when=NOW)


def test_undo_and_redo(tmp_path, draft):
    second = edit(tmp_path, draft, tall("2"), when=NOW)
    first = undone(tmp_path, second, when=NOW)
    assert (first.version, first.text) == (1, BOX)
    assert redone(tmp_path, first, when=NOW).text == second.text


def test_two_windows(tmp_path, draft):
    """One edit each on two values, then both on one."""
    here, there = draft, resume(tmp_path, draft.id)
    here = edit(tmp_path, here, tall("2"), when=NOW)
    there = edit(tmp_path, there, (Setting(path="cardstock.sheet", value="A4"),), when=NOW)
    assert there.version == 3 and 'wall_height = "2"' in there.text
    here = edit(tmp_path, here, tall("2 1/8"), when=NOW)
    assert here.version == 4 and 'sheet = "A4"' in here.text
    clashed = edit(tmp_path, there, tall("2 3/8"), when=NOW)
    assert isinstance(clashed, Clashed)
    (clash,) = clashed.clashes
    assert (clash.path, clash.base, clash.mine, clash.theirs) == ("parts.tray.wall_height", "2", "2 3/8", "2 1/8")
    settled = edit(tmp_path, there, tall("2 3/8"), when=NOW, choices={clash.path: "mine"})
    assert 'wall_height = "2 3/8"' in settled.text


def test_a_whole_text(tmp_path, draft):
    draft = edit_text(tmp_path, draft, BOX.replace("# Gale lid: one", "# One"), when=NOW)
    assert draft.what == ("notes and layout",)


def test_the_clock_tells_universal_time():
    import re
    from datetime import UTC, datetime

    told = now()
    assert re.fullmatch(r"\d{4}-\d\d-\d\dT\d\d:\d\d:\d\dZ", told)
    assert abs((datetime.now(UTC) - datetime.fromisoformat(told)).total_seconds()) < 5
