"""The maker's shelf: shapes kept whole, found by name, and nothing outside its folder touched."""

import dataclasses
import math
import os
from pathlib import Path

import pytest

from foldproof.errors import InputError
from foldproof.lengths import length
from foldproof.outlines.own_shape import own_shape
from foldproof.service import files
from foldproof.service.shelf import (
    MOST_SHAPES,
    keep_on,
    remove_from,
    rename_on,
    shelf_at,
    shelf_folder,
    taken_from,
)

TURNS = [2 * math.pi * n / 40 for n in range(40)]
OUTLINE = tuple((50 * math.cos(a), (30 + 5 * math.cos(a)) * math.sin(a)) for a in TURNS)
PLAIN = own_shape("leaf", OUTLINE, accuracy_mm=0.2, source="traced", symmetric=False)


def named(name, *sizes):
    return dataclasses.replace(PLAIN, name=name, sizes=tuple(length(size, "in") for size in sizes))


def names(folder):
    return [each.shape.name for each in shelf_at(folder).shapes]


@pytest.fixture
def shelf(tmp_path):
    return tmp_path / "a shelf" / "shapes"


def test_a_shelf_that_is_not_there_is_empty(shelf):
    assert shelf_at(shelf).shapes == () and shelf_at(shelf).unreadable == ()
    assert not shelf.exists()


def test_what_is_kept_is_found_again_by_any_spelling_of_its_name(shelf):
    leaf = named("Tide leaf", "4", "5.5")
    kept = keep_on(shelf, leaf)
    keep_on(shelf, named("another"))
    assert names(shelf) == ["another", "Tide leaf"]
    assert taken_from(shelf, "tide  LEAF") == leaf
    assert kept.file == "shape-tide-leaf.toml"
    assert sorted(os.listdir(shelf)) == ["shape-another.toml", "shape-tide-leaf.toml"]


def test_a_taken_name_is_refused_and_nothing_changes_unless_it_is_replaced(shelf):
    keep_on(shelf, named("leaf", "4"))
    with pytest.raises(InputError, match="already"):
        keep_on(shelf, named("LEAF", "5"))
    assert taken_from(shelf, "leaf").sizes == (length(4, "in"),)
    keep_on(shelf, named("LEAF", "5"), replace=True)
    assert names(shelf) == ["LEAF"] and len(os.listdir(shelf)) == 1


@pytest.mark.parametrize(
    "name",
    [
        "../../escape",
        "/etc/passwd",
        "..",
        ".hidden",
        "con",
        "NUL",
        "a/b\\c:d*e?",
        "=cmd|' /C calc'!A0",
        "חמסה",
        "🐚",
        "x" * 40,
    ],
)
def test_no_name_leaves_the_folder(shelf, name):
    before = sorted(path for path in shelf.parent.parent.rglob("*") if path.is_file())
    keep_on(shelf, named(name))
    assert taken_from(shelf, name).name == name
    (file,) = os.listdir(shelf)
    assert file.startswith("shape-") and file.endswith(".toml") and file.isascii()
    after = [path for path in shelf.parent.parent.rglob("*") if path.is_file() and path.parent != shelf]
    assert sorted(after) == before


def test_names_of_one_slug_get_files_of_their_own(shelf):
    for name in ("leaf!", "leaf?", "leaf"):
        keep_on(shelf, named(name))
    assert names(shelf) == ["leaf", "leaf!", "leaf?"] and len(os.listdir(shelf)) == 3


@pytest.mark.parametrize("name", ["", " ", "disc", "work out", "two\nlines", "x" * 41, "a\u202eb"])
def test_names_that_cannot_be_are_refused_before_anything_is_written(shelf, name):
    with pytest.raises(InputError):
        keep_on(shelf, named(name))
    keep_on(shelf, named("leaf"))
    with pytest.raises(InputError):
        rename_on(shelf, "leaf", name)
    assert names(shelf) == ["leaf"]


def test_renaming_keeps_all_else_and_refuses_a_taken_name(shelf):
    keep_on(shelf, named("leaf", "4"))
    keep_on(shelf, named("star fish"))
    with pytest.raises(InputError, match="another shape"):
        rename_on(shelf, "leaf", "Star Fish")
    rename_on(shelf, "leaf", "Leaf")  # only its capitals
    now = rename_on(shelf, "leaf", "oak leaf")
    assert names(shelf) == ["oak leaf", "star fish"]
    assert now.shape == named("oak leaf", "4") == taken_from(shelf, "oak leaf")
    with pytest.raises(InputError, match="not on your shelf"):
        taken_from(shelf, "leaf")


def test_removing_takes_one_off_and_a_missing_one_is_told_with_the_nearest(shelf):
    keep_on(shelf, named("leaf"))
    keep_on(shelf, named("star fish"))
    with pytest.raises(InputError) as caught:
        remove_from(shelf, "leef")
    assert "leaf" in caught.value.problems[0].remedy
    assert remove_from(shelf, "LEAF").shape.name == "leaf"
    assert names(shelf) == ["star fish"]
    remove_from(shelf, "star fish")
    with pytest.raises(InputError, match="not on your shelf"):
        remove_from(shelf, "star fish")


def test_what_cannot_be_read_is_told_and_the_rest_is_there(shelf, tmp_path):
    keep_on(shelf, named("leaf"))
    outside = tmp_path / "outside.toml"
    outside.write_bytes((shelf / "shape-leaf.toml").read_bytes())
    (shelf / "a-link.toml").symlink_to(outside)
    (shelf / "b-short.toml").write_text("format = 1\nname = 'x'\npoints = [[0, 0]]\n", encoding="utf-8")
    (shelf / "c-bytes.toml").write_bytes(b"\xff\xfe\x00\x01")
    (shelf / "d-large.toml").write_bytes(b"#" * 1_000_001)
    (shelf / "e-folder.toml").mkdir()
    (shelf / "z-twin.toml").write_bytes((shelf / "shape-leaf.toml").read_bytes())
    (shelf / "notes.txt").write_text("none of ours", encoding="utf-8")
    (shelf / ".hidden.toml").write_text("nor this", encoding="utf-8")
    found = shelf_at(shelf)
    assert [each.shape.name for each in found.shapes] == ["leaf"]
    told = {each.file: each.reason for each in found.unreadable}
    assert sorted(told) == [
        "a-link.toml",
        *(f"{name}.toml" for name in ("b-short", "c-bytes", "d-large", "e-folder", "z-twin")),
    ]
    assert "link" in told["a-link.toml"] and "1 points" in told["b-short.toml"] and "leaf" in told["z-twin.toml"]
    keep_on(shelf, named("leaf", "4"), replace=True)
    assert outside.read_bytes() != (shelf / "shape-leaf.toml").read_bytes()


def test_a_shelf_that_is_a_file_is_told(tmp_path):
    place = tmp_path / "file"
    place.write_text("", encoding="utf-8")
    with pytest.raises(InputError):
        shelf_at(place)
    with pytest.raises(InputError):
        keep_on(place / "shapes", named("leaf"))


def test_a_crowded_shelf_says_how_many_are_read(shelf):
    shelf.mkdir(parents=True)
    for number in range(MOST_SHAPES + 1):
        (shelf / f"{number:04}.toml").write_text("", encoding="utf-8")
    found = shelf_at(shelf)
    assert len(found.unreadable) == MOST_SHAPES + 1
    assert "first" in found.unreadable[0].reason


@pytest.mark.parametrize("call", ["write_flushed", "flush_folder"])
def test_a_failure_on_the_way_leaves_the_old_shape_whole(shelf, monkeypatch, call):
    keep_on(shelf, named("leaf", "4"))

    def fails(*_):
        raise OSError(28, "No space left on device")

    if call == "write_flushed":
        monkeypatch.setattr(files, call, fails)
        with pytest.raises(InputError, match="no space left"):
            keep_on(shelf, named("leaf", "5"), replace=True)
        assert taken_from(shelf, "leaf").sizes == (length(4, "in"),)
    else:
        monkeypatch.setattr(files.os, "replace", fails)
        with pytest.raises(InputError, match="no space left"):
            rename_on(shelf, "leaf", "oak")
        assert names(shelf) == ["leaf"]
    assert os.listdir(shelf) == ["shape-leaf.toml"]


def test_where_the_shelf_is(tmp_path):
    home = Path.home() / ".local" / "share" / "foldproof" / "shapes"
    data = {"XDG_DATA_HOME": str(tmp_path)}
    assert shelf_folder(None, {}) == home
    assert shelf_folder(None, {"XDG_DATA_HOME": "not/absolute"}) == home
    assert shelf_folder(None, data) == tmp_path / "foldproof" / "shapes"
    assert shelf_folder(None, data | {"FOLDPROOF_SHELF": "mine"}) == Path("mine")
    assert shelf_folder("named", data | {"FOLDPROOF_SHELF": "mine"}) == Path("named")
