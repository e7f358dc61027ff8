"""Projects in their folder: names that cannot leave it, copies, the archive, the bin."""

import os
import stat
from importlib import resources
from pathlib import Path

import pytest
from hypothesis import given
from hypothesis import strategies as st

from foldproof.errors import InputError
from foldproof.project.write import with_change
from foldproof.service.keeping import (
    archive,
    copy,
    kept,
    open_kept,
    projects_folder,
    remove,
    removed,
    restore,
    save,
    start,
    take_back,
    text_of,
    undo,
    versions,
)
from foldproof.service.keeping.places import free_id, is_id

BOX = (resources.files("foldproof") / "examples" / "gale-lid.toml").read_text(encoding="utf-8")
NOW, LATER, LAST = (f"2031-05-04T09:0{minute}:00Z" for minute in (0, 1, 2))


def named(name):
    return with_change(BOX, "name", name)


def test_where_projects_are(monkeypatch, tmp_path):
    monkeypatch.setenv("HOME", str(tmp_path))
    monkeypatch.delenv("FOLDPROOF_PROJECTS", raising=False)
    monkeypatch.delenv("XDG_DATA_HOME", raising=False)
    usual = tmp_path / ".local" / "share" / "foldproof" / "projects"
    assert projects_folder() == usual
    monkeypatch.setenv("XDG_DATA_HOME", "not/absolute")  # to be ignored, says the specification
    assert projects_folder() == usual
    monkeypatch.setenv("XDG_DATA_HOME", str(tmp_path / "data"))
    assert projects_folder() == tmp_path / "data" / "foldproof" / "projects"
    monkeypatch.setenv("FOLDPROOF_PROJECTS", str(tmp_path / "mine"))
    assert projects_folder() == tmp_path / "mine"
    assert projects_folder(tmp_path / "asked") == tmp_path / "asked"


def test_no_folder_is_no_projects(tmp_path):
    assert kept(tmp_path / "absent") == () and removed(tmp_path / "absent") == ()
    assert not (tmp_path / "absent").exists()
    (tmp_path / "file").write_text("")
    assert kept(tmp_path / "file") == ()
    with pytest.raises(InputError):
        start(tmp_path / "file", BOX, when=NOW)


@pytest.mark.parametrize(
    ("name", "project_id"),
    [
        ("Keepsake box", "keepsake-box"),
        ("../../etc/passwd", "etc-passwd"),
        ("Böxchen № 3", "boxchen-no-3"),
        ("箱", "project"),
        ("CON", "project-con"),
        (".hidden", "hidden"),
        ("<script>", "script"),
        ("x" * 300, "x" * 60),
    ],
)
def test_ids_are_made_from_names(tmp_path, name, project_id):
    assert start(tmp_path, named(name), when=NOW) == project_id
    assert kept(tmp_path)[0].name == name
    assert start(tmp_path, named(name), when=NOW) == f"{project_id}-2"


@given(st.text(min_size=1, max_size=80))
def test_no_name_leads_out_of_the_folder(name):
    project_id = free_id(Path("projects"), name)
    assert is_id(project_id)
    assert (Path("projects") / project_id).parts == ("projects", project_id)


@pytest.mark.parametrize(
    "hostile", ["", ".", "..", "../x", "a/b", "a\\b", "A", "a b", ".bin", "a\0", "a\n", "ä", "con", "x" * 300]
)
def test_ids_from_outside_are_looked_at(tmp_path, hostile):
    start(tmp_path, BOX, when=NOW)
    for look in (
        lambda: open_kept(tmp_path, hostile),
        lambda: versions(tmp_path, hostile),
        lambda: text_of(tmp_path, hostile, 1),
        lambda: save(tmp_path, hostile, BOX, 1, when=NOW),
        lambda: remove(tmp_path, hostile, when=NOW),
        lambda: copy(tmp_path, hostile, "b", when=NOW),
        lambda: archive(tmp_path, hostile, when=NOW),
        lambda: take_back(tmp_path, hostile, when=NOW),
    ):
        with pytest.raises(InputError, match="no such project"):
            look()


def test_links_are_refused(tmp_path):
    folder, outside = tmp_path / "projects", tmp_path / "outside"
    project_id = start(folder, BOX, when=NOW)
    other = start(outside, BOX, when=NOW)
    (folder / "linked").symlink_to(outside / other)
    assert [each.id for each in kept(folder)] == [project_id]
    with pytest.raises(InputError, match="no such project"):
        open_kept(folder, "linked")
    history = folder / project_id / "history"
    history.rename(tmp_path / "away")
    history.symlink_to(tmp_path / "away")
    with pytest.raises(InputError, match="no such project"):
        save(folder, project_id, named("Other"), 1, when=NOW)
    history.unlink()
    (tmp_path / "away").rename(history)
    secret = tmp_path / "secret.toml"
    secret.write_text(named("Secret"), encoding="utf-8")
    newest = folder / project_id / "project.toml"
    newest.unlink()
    newest.symlink_to(secret)
    assert open_kept(folder, project_id).name == "Gale lid"
    save(folder, project_id, named("Other"), 1, when=NOW)
    assert not newest.is_symlink() and secret.read_text(encoding="utf-8") == named("Secret")
    (folder / ".bin").symlink_to(outside)
    with pytest.raises(InputError, match="is a link"):
        remove(folder, project_id, when=NOW)
    with pytest.raises(InputError, match="is a link"):
        removed(folder)


def test_a_link_in_the_place_of_the_lock_is_refused(tmp_path):
    (tmp_path / ".lock").symlink_to(tmp_path / "elsewhere")
    with pytest.raises(InputError, match="link"):
        start(tmp_path, BOX, when=NOW)
    assert not (tmp_path / "elsewhere").exists()


def test_something_else_in_the_place_of_the_lock_is_told(tmp_path):
    (tmp_path / ".lock").write_text("not a lock at all, but a long text " * 99)
    with pytest.raises(InputError, match="cannot be held"):
        start(tmp_path, BOX, when=NOW)


def test_a_folder_that_may_not_be_written_is_told(tmp_path, monkeypatch):
    def refuse(*_, **__):
        raise PermissionError(13, "Permission denied")

    monkeypatch.setattr(os, "rename", refuse)
    with pytest.raises(InputError, match="may not be written by you"):
        start(tmp_path / "projects", BOX, when=NOW)


def test_the_one_changed_last_is_listed_first(tmp_path):
    first, second = start(tmp_path, named("A"), when=NOW), start(tmp_path, named("B"), when=LATER)
    assert [each.id for each in kept(tmp_path)] == [second, first]
    save(tmp_path, first, named("A new"), 1, when=LAST)
    assert [each.id for each in kept(tmp_path)] == [first, second]


def test_a_copy_has_its_own_name_and_history(tmp_path):
    first = start(tmp_path, BOX, when=NOW)
    save(tmp_path, first, with_change(BOX, "cardstock.sheet", "A4"), 1, when=NOW)
    second = copy(tmp_path, first, "For Ada", when=LATER)
    opened = open_kept(tmp_path, second)
    assert (second, opened.name, opened.version) == ("for-ada", "For Ada", 1)
    assert 'sheet = "A4"' in opened.text
    assert versions(tmp_path, second)[0].what == ("copied from Gale lid",)
    assert open_kept(tmp_path, first).name == "Gale lid"


def test_the_archive(tmp_path):
    project_id = start(tmp_path, BOX, when=NOW)
    archive(tmp_path, project_id, when=LATER)
    archive(tmp_path, project_id, when=LATER)
    (only,) = kept(tmp_path)
    assert (only.archived, only.changed) == (True, NOW)
    save(tmp_path, project_id, named("Other"), 1, when=LATER)
    assert kept(tmp_path)[0].archived
    restore(tmp_path, project_id, when=LAST)
    assert not kept(tmp_path)[0].archived and open_kept(tmp_path, project_id).version == 2


def test_the_bin_gives_back_what_it_took(tmp_path):
    project_id = start(tmp_path, BOX, when=NOW)
    save(tmp_path, project_id, named("Other"), 1, when=NOW)
    bin_id = remove(tmp_path, project_id, when=LATER)
    assert kept(tmp_path) == ()
    (gone,) = removed(tmp_path)
    assert (gone.bin_id, gone.name, gone.when) == (bin_id, "Other", LATER)
    with pytest.raises(InputError):
        open_kept(tmp_path, project_id)
    start(tmp_path, BOX, when=NOW)  # another one has the id by now
    remove(tmp_path, start(tmp_path, BOX, when=NOW), when=LAST)
    assert [each.bin_id for each in removed(tmp_path)] == ["gale-lid-2", "gale-lid"]
    back = take_back(tmp_path, bin_id, when=LAST)
    assert back == "gale-lid-2" and [each.bin_id for each in removed(tmp_path)] == ["gale-lid-2"]
    assert open_kept(tmp_path, back).name == "Other"
    assert undo(tmp_path, back, 2, when=LAST).text == BOX
    with pytest.raises(InputError, match="no such project in the bin"):
        take_back(tmp_path, bin_id, when=LAST)


def test_what_is_none_of_ours_is_passed_over(tmp_path):
    project_id = start(tmp_path, BOX, when=NOW)
    (tmp_path / "readme.txt").write_text("mine")
    (tmp_path / "My Things").mkdir()
    (tmp_path / "notes").mkdir()
    listed = {each.id: each.trouble for each in kept(tmp_path)}
    assert listed == {project_id: "", "notes": listed["notes"]} and listed["notes"]
    assert (tmp_path / "readme.txt").read_text() == "mine"


def test_files_are_as_private_as_the_maker_has_it(tmp_path):
    before = os.umask(0o077)
    try:
        project_id = start(tmp_path / "projects", BOX, when=NOW)
        save(tmp_path / "projects", project_id, named("Other"), 1, when=NOW)
    finally:
        os.umask(before)
    modes = {stat.S_IMODE(path.stat().st_mode) & 0o077 for path in (tmp_path / "projects").rglob("*")}
    assert modes == {0}
