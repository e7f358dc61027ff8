"""Versions, undo and redo, edits from two windows, and changes made by hand in the project's folder."""

import os
from importlib import resources

import pytest

from foldproof.errors import InputError
from foldproof.project.read import read_project
from foldproof.project.syntax import parse_toml
from foldproof.project.write import with_change
from foldproof.service.keeping import (
    Clashed,
    Saved,
    compare,
    go_to,
    kept,
    note_verdict,
    open_kept,
    redo,
    rename,
    save,
    start,
    text_of,
    undo,
    versions,
)

BOX = (resources.files("foldproof") / "examples" / "gale-lid.toml").read_text(encoding="utf-8")
WHEN = [f"2031-05-04T09:{minute:02d}:00Z" for minute in range(60)]


def height(written, text=BOX):
    return with_change(text, "parts.tray.wall_height", written)


def tall(text):
    return parse_toml(text)["parts"]["tray"]["wall_height"]


@pytest.fixture
def box(tmp_path):
    return start(tmp_path, BOX, when=WHEN[0])


def numbers(folder, project_id):
    return [(each.number, each.parent, each.current, each.on_the_way) for each in versions(folder, project_id)]


def test_a_new_project_is_listed_and_opened(tmp_path, box):
    (only,) = kept(tmp_path)
    assert (only.id, only.name, only.changed, only.version) == ("gale-lid", "Gale lid", WHEN[0], 1)
    opened = open_kept(tmp_path, box)
    assert (opened.text, opened.version, opened.can_undo, opened.can_redo) == (BOX, 1, False, False)
    assert (tmp_path / box / "project.toml").read_text(encoding="utf-8") == BOX
    (first,) = versions(tmp_path, box)
    assert (first.number, first.parent, first.when, first.what) == (1, 0, WHEN[0], ("started",))


def test_a_save_is_a_version_with_its_words(tmp_path, box):
    saved = save(tmp_path, box, height("2 1/2"), 1, when=WHEN[1])
    assert saved == Saved(version=2, text=height("2 1/2"), what=("tray: wall height 2 1/4 in → 2 1/2 in",))
    assert versions(tmp_path, box)[1].what == saved.what
    assert (tmp_path / box / "project.toml").read_text(encoding="utf-8") == saved.text
    named = save(tmp_path, box, height("2"), 2, "made shorter", when=WHEN[2])
    assert named.what == ("made shorter",)
    assert [text_of(tmp_path, box, n) for n in (1, 2, 3)] == [BOX, height("2 1/2"), height("2")]


def test_saving_the_same_again_is_no_version(tmp_path, box):
    assert save(tmp_path, box, BOX, 1, when=WHEN[1]) == Saved(version=1, text=BOX, what=())
    assert len(versions(tmp_path, box)) == 1
    noted = save(tmp_path, box, BOX + "# a note\n", 1, when=WHEN[1])
    assert noted.what == ("notes and layout",)


def test_what_is_no_project_is_refused_and_changes_nothing(tmp_path, box):
    for text in ("", "name = ", height("9 miles"), BOX.replace("inner_wall", "inner_whale")):
        with pytest.raises(InputError):
            save(tmp_path, box, text, 1, when=WHEN[1])
    for version in (0, 2, 99, -1):
        with pytest.raises(InputError, match="no such version"):
            save(tmp_path, box, height("2"), version, when=WHEN[1])
    assert open_kept(tmp_path, box).version == 1


def test_undo_and_redo_move_along(tmp_path, box):
    texts = [BOX]
    for number, tall_as in enumerate(("2", "2 1/8", "2 3/8"), start=1):
        texts.append(save(tmp_path, box, height(tall_as), number, when=WHEN[number]).text)
    for number in (3, 2, 1):
        assert undo(tmp_path, box, number + 1, when=WHEN[5]).text == texts[number - 1]
        assert (tmp_path / box / "project.toml").read_text(encoding="utf-8") == texts[number - 1]
    opened = open_kept(tmp_path, box)
    assert (opened.version, opened.can_undo, opened.can_redo) == (1, False, True)
    with pytest.raises(InputError, match="nothing to undo"):
        undo(tmp_path, box, 1, when=WHEN[5])
    for number in (2, 3, 4):
        assert redo(tmp_path, box, number - 1, when=WHEN[6]).text == texts[number - 1]
    with pytest.raises(InputError, match="nothing to redo"):
        redo(tmp_path, box, 4, when=WHEN[6])
    assert len(versions(tmp_path, box)) == 4


def test_an_edit_after_undo_keeps_the_other_branch(tmp_path, box):
    for number, tall_as in enumerate(("2", "2 1/8"), start=1):
        save(tmp_path, box, height(tall_as), number, when=WHEN[number])
    undo(tmp_path, box, 3, when=WHEN[3])
    save(tmp_path, box, height("2 3/4"), 2, when=WHEN[4])
    assert numbers(tmp_path, box) == [
        (1, 0, False, True),
        (2, 1, False, True),
        (3, 2, False, False),
        (4, 2, True, True),
    ]
    with pytest.raises(InputError, match="nothing to redo"):
        redo(tmp_path, box, 4, when=WHEN[5])
    assert go_to(tmp_path, box, 3, 4, when=WHEN[5]).text == height("2 1/8")
    assert numbers(tmp_path, box)[2:] == [(3, 2, True, True), (4, 2, False, False)]
    assert undo(tmp_path, box, 3, when=WHEN[6]).version == 2
    assert redo(tmp_path, box, 2, when=WHEN[6]).version == 3
    assert go_to(tmp_path, box, 1, 3, when=WHEN[7]).version == 1
    assert redo(tmp_path, box, 1, when=WHEN[8]).version == 2


def test_moving_from_a_stale_window_is_refused(tmp_path, box):
    save(tmp_path, box, height("2"), 1, when=WHEN[1])
    for move in (undo, redo):
        with pytest.raises(InputError, match="stands at version 2 by now"):
            move(tmp_path, box, 1, when=WHEN[2])
    with pytest.raises(InputError, match="stands at version 2 by now"):
        go_to(tmp_path, box, 1, 1, when=WHEN[2])
    with pytest.raises(InputError, match="no such version"):
        go_to(tmp_path, box, 7, 2, when=WHEN[2])


def test_versions_are_compared_value_by_value(tmp_path, box):
    save(tmp_path, box, with_change(height("2"), "cardstock.sheet", "A4"), 1, when=WHEN[1])
    assert [(each.path, each.before, each.after) for each in compare(tmp_path, box, 1, 2)] == [
        ("cardstock.sheet", "12x12", "A4"),
        ("parts.tray.wall_height", "2 1/4 in", "2 in"),
    ]
    assert [(each.before, each.after) for each in compare(tmp_path, box, 2, 1)][1] == ("2 in", "2 1/4 in")


# --- Two windows --------------------------------------------------------------------------------------------


def test_edits_of_two_windows_on_different_values_are_merged(tmp_path, box):
    save(tmp_path, box, height("2"), 1, when=WHEN[1])
    saved = save(tmp_path, box, with_change(BOX, "parts.lid.strip", "1 1/8"), 1, when=WHEN[2])
    assert saved.merged and saved.version == 3
    assert saved.what == ("lid: strip 1 in → 1 1/8 in",)
    assert saved.text == with_change(height("2"), "parts.lid.strip", "1 1/8")


def test_an_edit_that_says_what_is_there_already_is_no_version(tmp_path, box):
    save(tmp_path, box, height("2"), 1, when=WHEN[1])
    for text in (height("2"), BOX):
        saved = save(tmp_path, box, text, 1, when=WHEN[2])
        assert (saved.version, saved.text, saved.what) == (2, height("2"), ())


def test_a_clash_saves_nothing_loses_nothing_and_is_settled_by_choice(tmp_path, box):
    save(tmp_path, box, height("2"), 1, when=WHEN[1])
    mine = with_change(height("2 1/2"), "parts.lid.strip", "1 1/8")
    clashed = save(tmp_path, box, mine, 1, when=WHEN[2])
    assert isinstance(clashed, Clashed) and (clashed.version, clashed.text) == (2, height("2"))
    ((path, both),) = [(each.path, (each.base, each.mine, each.theirs)) for each in clashed.clashes]
    assert (path, both) == ("parts.tray.wall_height", ("2 1/4", "2 1/2", "2"))
    assert open_kept(tmp_path, box).text == height("2")
    assert text_of(tmp_path, box, clashed.beside) == mine
    beside = versions(tmp_path, box)[-1]
    assert (beside.number, beside.parent, beside.beside, beside.current) == (3, 1, True, False)
    assert save(tmp_path, box, mine, 1, when=WHEN[3]) == clashed
    settled = save(tmp_path, box, mine, 1, when=WHEN[3], choices={path: "mine"})
    assert isinstance(settled, Saved) and settled.version == 4 and settled.text == mine


def test_values_that_do_not_go_together_are_told_as_problems(tmp_path, box):
    """The walls made lower by one, and the inner walls deeper by the other: each is fine alone."""
    save(tmp_path, box, height("1 3/4"), 1, when=WHEN[1])
    clashed = save(tmp_path, box, with_change(BOX, "parts.tray.inner_wall", "2"), 1, when=WHEN[2])
    assert isinstance(clashed, Clashed) and clashed.clashes == ()
    assert "deeper than the wall is tall" in clashed.problems[0].reason
    assert open_kept(tmp_path, box).text == height("1 3/4")


def test_notes_that_the_merged_text_leaves_out_are_kept_beside(tmp_path, box):
    save(tmp_path, box, BOX.replace('strip = "1 in"', 'strip = "1 in"  # theirs'), 1, when=WHEN[1])
    mine = BOX.replace('strip = "1 in"', 'strip = "1 1/8 in"').replace('name = "slate"', 'name = "slate"  # mine')
    saved = save(tmp_path, box, mine, 1, when=WHEN[2])
    assert saved.merged and "# mine" not in saved.text
    assert [text_of(tmp_path, box, each.number) for each in versions(tmp_path, box) if each.beside] == [mine]


def test_renaming_keeps_the_id(tmp_path, box):
    hostile = '"><script>alert(1)</script> ../../x'
    assert rename(tmp_path, box, hostile, when=WHEN[1]).what == (f"name Gale lid → {hostile}",)
    (only,) = kept(tmp_path)
    assert (only.id, only.name) == ("gale-lid", hostile)
    with pytest.raises(InputError):
        rename(tmp_path, box, "   ", when=WHEN[1])


def test_a_verdict_belongs_to_its_version(tmp_path, box):
    note_verdict(tmp_path, box, 1, "not_proved", when=WHEN[1])
    assert kept(tmp_path)[0].verdict == "not_proved"
    save(tmp_path, box, height("2"), 1, when=WHEN[2])
    assert kept(tmp_path)[0].verdict == ""
    note_verdict(tmp_path, box, 2, "proved", when=WHEN[3])
    note_verdict(tmp_path, box, 1, "not_decided", when=WHEN[3])
    assert (kept(tmp_path)[0].verdict, kept(tmp_path)[0].changed) == ("proved", WHEN[2])
    undo(tmp_path, box, 2, when=WHEN[4])
    assert open_kept(tmp_path, box).verdict == "not_decided"
    with pytest.raises(InputError):
        note_verdict(tmp_path, box, 5, "proved", when=WHEN[4])


# --- Changed by hand ----------------------------------------------------------------------------------------


def test_a_file_changed_by_hand_becomes_a_version(tmp_path, box):
    newest = tmp_path / box / "project.toml"
    newest.write_text(height("2"), encoding="utf-8")
    os.utime(newest, (0, 1_000_000_000))
    opened = open_kept(tmp_path, box)
    assert (opened.version, opened.text, opened.outside) == (2, height("2"), "")
    by_hand = versions(tmp_path, box)[-1]
    assert by_hand.what == ("changed outside the workbench", "tray: wall height 2 1/4 in → 2 in")
    assert by_hand.when == "2001-09-09T01:46:40Z"
    assert undo(tmp_path, box, 2, when=WHEN[1]).text == BOX


def test_a_save_merges_with_what_was_changed_by_hand(tmp_path, box):
    (tmp_path / box / "project.toml").write_text(height("2"), encoding="utf-8")
    saved = save(tmp_path, box, with_change(BOX, "parts.lid.strip", "1 1/8"), 1, when=WHEN[1])
    assert saved.merged and tall(saved.text) == "2"


def test_a_file_nobody_can_read_is_left_alone_by_looking_and_kept_when_written_over(tmp_path, box):
    newest = tmp_path / box / "project.toml"
    newest.write_text("half a li", encoding="utf-8")
    opened = open_kept(tmp_path, box)
    assert opened.text == BOX and "no = after its key" in opened.outside
    assert newest.read_text(encoding="utf-8") == "half a li"
    save(tmp_path, box, height("2"), 1, when=WHEN[1])
    assert newest.read_text(encoding="utf-8") == height("2")
    assert (tmp_path / box / "history" / "outside-000001.toml").read_text(encoding="utf-8") == "half a li"
    newest.write_bytes(b"\xff" * 2_000_000)
    assert save(tmp_path, box, height("2 1/8"), 2, when=WHEN[2]).version == 3
    assert (tmp_path / box / "history" / "outside-000002.toml").stat().st_size == 2_000_000


def test_a_file_saved_again_with_other_line_ends_is_no_change(tmp_path, box):
    newest = tmp_path / box / "project.toml"
    newest.write_bytes(b"\xef\xbb\xbf" + BOX.replace("\n", "\r\n").encode())
    assert open_kept(tmp_path, box).version == 1
    assert newest.read_bytes() == BOX.encode()


def test_a_missing_newest_file_is_written_again(tmp_path, box):
    (tmp_path / box / "project.toml").unlink()
    assert open_kept(tmp_path, box).text == BOX
    assert (tmp_path / box / "project.toml").read_text(encoding="utf-8") == BOX


# --- Damage -------------------------------------------------------------------------------------------------


def test_a_damaged_version_is_read_from_the_newest_file_and_told_when_both_are(tmp_path, box):
    save(tmp_path, box, height("2"), 1, when=WHEN[1])
    (tmp_path / box / "history" / "000002.toml").write_text("zeros", encoding="utf-8")
    assert open_kept(tmp_path, box).text == height("2")
    (tmp_path / box / "project.toml").write_text("zeros", encoding="utf-8")
    with pytest.raises(InputError, match="damaged"):
        open_kept(tmp_path, box)


@pytest.mark.parametrize(
    "damage", [b"", b"\0" * 100, b"half a line", b"12345678 {}\n"], ids=["empty", "zeros", "half a line", "no change"]
)
def test_a_lost_log_is_made_again_from_the_versions(tmp_path, box, damage):
    for number, tall_as in enumerate(("2", "2 1/8"), start=1):
        save(tmp_path, box, height(tall_as), number, when=WHEN[number])
    (tmp_path / box / "history" / "changes.log").write_bytes(damage)
    assert open_kept(tmp_path, box).text == height("2 1/8")
    assert numbers(tmp_path, box) == [(1, 0, False, True), (2, 1, False, True), (3, 2, True, True)]
    assert undo(tmp_path, box, 3, when=WHEN[3]).text == height("2")


def test_half_a_line_at_the_end_of_the_log_is_no_change(tmp_path, box):
    log = tmp_path / box / "history" / "changes.log"
    save(tmp_path, box, height("2"), 1, when=WHEN[1])
    whole = log.read_bytes()
    for cut in range(1, 200, 7):
        log.write_bytes(whole[:-cut])
        (tmp_path / box / "project.toml").write_text(BOX, encoding="utf-8")
        assert open_kept(tmp_path, box).version == 1
        assert [each.beside for each in versions(tmp_path, box)] == [False, True]
    log.write_bytes(whole + b'deadbeef {"half": ')
    assert save(tmp_path, box, height("2 1/8"), 2, when=WHEN[2]).version == 3
    assert [each.number for each in versions(tmp_path, box)] == [1, 2, 3]


def test_a_version_that_lost_its_line_is_still_in_the_history(tmp_path, box):
    for number, tall_as in enumerate(("2", "2 1/8", "2 3/8"), start=1):
        save(tmp_path, box, height(tall_as), number, when=WHEN[number])
    log = tmp_path / box / "history" / "changes.log"
    lines = log.read_bytes().splitlines(keepends=True)
    log.write_bytes(lines[0] + lines[1].replace(b"wall", b"well") + lines[2] + lines[3])
    found = versions(tmp_path, box)
    assert [each.number for each in found] == [1, 2, 3, 4] and found[1].what == ("found in the history",)
    # The last line lost too: its text is not written over by the next version.
    log.write_bytes(lines[0] + lines[1] + lines[2])
    (tmp_path / box / "project.toml").write_text(height("2 1/8"), encoding="utf-8")
    assert save(tmp_path, box, height("1 3/4"), 3, when=WHEN[9]).version == 5
    assert text_of(tmp_path, box, 4) == height("2 3/8")


def test_a_folder_with_nothing_but_a_project_is_taken_in(tmp_path):
    (tmp_path / "by-hand").mkdir(parents=True)
    (tmp_path / "by-hand" / "project.toml").write_text(BOX, encoding="utf-8")
    (only,) = kept(tmp_path)
    assert (only.id, only.name, only.trouble) == ("by-hand", "Gale lid", "")
    assert save(tmp_path, "by-hand", height("2"), 1, when=WHEN[1]).version == 2
    (tmp_path / "empty").mkdir()
    assert {each.id: each.trouble for each in kept(tmp_path)}["empty"]
    for look in (open_kept, versions):
        with pytest.raises(InputError):
            look(tmp_path, "empty")


def test_a_history_of_thousands_of_versions_is_saved_to_and_listed_quickly(tmp_path, box):
    """The time of a save does not grow with the history: only the end of the log is read."""
    from foldproof.service.keeping import changes

    log = tmp_path / box / "history" / "changes.log"
    (first,) = changes.read_log(log.parent.parent).entries
    log.write_bytes(changes.line_of(first) * 30_000)
    read = []
    real = changes.disk.read_end

    def counted(path, most_bytes, *, only_end=False):
        data, size = real(path, most_bytes, only_end=only_end)
        read.append(len(data or b""))
        return data, size

    changes.disk.read_end = counted
    try:
        save(tmp_path, box, height("2"), 1, when=WHEN[1])
        kept(tmp_path)
    finally:
        changes.disk.read_end = real
    assert max(read) <= changes.TAIL_BYTES < log.stat().st_size / 10
    assert read_project(open_kept(tmp_path, box).text).name == "Gale lid"
