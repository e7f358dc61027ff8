import hashlib
import json
import os

import pytest

from foldproof.errors import InputError
from foldproof.service import packs
from foldproof.service.packs import refuse_foreign, write_pack


def a_pack(**texts):
    """Files of a pack with its listing."""
    files = {f"{name}.txt": text.encode() for name, text in texts.items()}
    listed = [{"path": path, "sha256": hashlib.sha256(data).hexdigest()} for path, data in files.items()]
    return [*files.items(), ("pack.json", json.dumps({"report": "pack", "files": listed}).encode())]


def names(folder):
    return sorted(path.name for path in folder.iterdir())


def test_a_pack_replaces_a_pack(tmp_path):
    folder = tmp_path / "pack"
    write_pack(folder, a_pack(one="1", two="2"))
    write_pack(folder, a_pack(two="2", three="3"))
    assert names(folder) == ["pack.json", "three.txt", "two.txt"]
    assert names(tmp_path) == ["pack"]


def test_a_trailing_slash_and_a_link_lead_to_the_same_folder(tmp_path):
    (tmp_path / "real").mkdir()
    (tmp_path / "link").symlink_to(tmp_path / "real")
    write_pack(f"{tmp_path}/link/", a_pack(one="1"))
    assert (tmp_path / "link").is_symlink()
    assert names(tmp_path / "real") == ["one.txt", "pack.json"]


def test_what_the_system_leaves_in_folders_is_not_the_makers(tmp_path):
    write_pack(tmp_path / "pack", a_pack(one="1"))
    (tmp_path / "pack" / ".DS_Store").write_bytes(b"x")
    write_pack(tmp_path / "pack", a_pack(one="2"))
    assert names(tmp_path / "pack") == ["one.txt", "pack.json"]


def test_files_of_the_maker_are_named(tmp_path):
    write_pack(tmp_path / "pack", a_pack(one="1"))
    for number in range(5):
        (tmp_path / "pack" / f"own-{number}.txt").write_text("mine", encoding="utf-8")
    with pytest.raises(InputError, match=r"own-0\.txt, own-1\.txt, own-2\.txt and 2 more"):
        refuse_foreign(tmp_path / "pack")


def test_a_pack_set_aside_when_the_machine_stopped_is_put_back(tmp_path, monkeypatch):
    folder = tmp_path / "pack"
    write_pack(folder, a_pack(one="1"))
    os.rename(folder, tmp_path / ".pack.previous")  # the state between the two renames

    def full(path, data):
        raise OSError(28, "No space left on device")

    with monkeypatch.context() as patched:
        patched.setattr(packs, "write_flushed", full)
        with pytest.raises(InputError):
            write_pack(folder, a_pack(two="2"))
    assert names(folder) == ["one.txt", "pack.json"]
    write_pack(folder, a_pack(two="2"))
    assert names(folder) == ["pack.json", "two.txt"]
    assert names(tmp_path) == ["pack"]


def test_a_makers_file_in_a_pack_that_was_set_aside_is_not_lost(tmp_path):
    folder = tmp_path / "pack"
    write_pack(folder, a_pack(one="1"))
    (folder / "notes.txt").write_text("mine", encoding="utf-8")
    os.rename(folder, tmp_path / ".pack.previous")
    with pytest.raises(InputError, match="notes"):
        write_pack(folder, a_pack(two="2"))
    assert names(folder) == ["notes.txt", "one.txt", "pack.json"]


def test_when_the_second_rename_fails_the_first_is_undone(tmp_path, monkeypatch):
    folder = tmp_path / "pack"
    write_pack(folder, a_pack(one="1"))
    rename, renamed = os.rename, []

    def fails_second(old, new):
        renamed.append(old)
        if len(renamed) == 2:
            raise OSError(16, "Device or resource busy")
        rename(old, new)

    monkeypatch.setattr("os.rename", fails_second)
    with pytest.raises(InputError, match="busy"):
        write_pack(folder, a_pack(two="2"))
    assert names(folder) == ["one.txt", "pack.json"]
    assert names(tmp_path) == ["pack"]


def test_a_stop_while_files_are_written_leaves_nothing_behind(tmp_path, monkeypatch):
    write_pack(tmp_path / "pack", a_pack(one="1"))

    def struck(path, data):
        raise KeyboardInterrupt

    monkeypatch.setattr(packs, "write_flushed", struck)
    with pytest.raises(KeyboardInterrupt):
        write_pack(tmp_path / "pack", a_pack(two="2"))
    assert names(tmp_path / "pack") == ["one.txt", "pack.json"]
    assert names(tmp_path) == ["pack"]


def test_the_root_of_the_disk_and_impossible_names_are_refused():
    for place in (os.path.sep, "a\0b"):
        with pytest.raises(InputError):
            write_pack(place, a_pack(one="1"))


def test_a_folder_of_thousands_of_files_is_refused_soon(tmp_path, monkeypatch):
    monkeypatch.setattr(packs, "MOST_FILES", 20)
    for number in range(50):
        (tmp_path / f"{number}.txt").touch()
    with pytest.raises(InputError, match="not a pack"):
        refuse_foreign(tmp_path)
