import os
import stat

import pytest

from foldproof.errors import InputError
from foldproof.service import files
from foldproof.service.files import MOST_BYTES, read_project_text, shown_path, write_atomically, write_new


def test_text_is_read_as_it_stands(tmp_path):
    path = tmp_path / "a.toml"
    path.write_bytes("name = \"Bo\u00eete \U0001f4e6\"\r\n".encode())
    assert read_project_text(path) == "name = \"Bo\u00eete \U0001f4e6\"\n"


def test_the_largest_file_is_read_and_one_byte_more_is_not(tmp_path):
    path = tmp_path / "a.toml"
    path.write_bytes(b"#" * MOST_BYTES)
    assert len(read_project_text(path)) == MOST_BYTES
    path.write_bytes(b"#" * (MOST_BYTES + 1))
    with pytest.raises(InputError, match="far too large"):
        read_project_text(path)


def test_the_line_that_is_no_text_is_named(tmp_path):
    path = tmp_path / "a.toml"
    path.write_bytes(b"one\ntwo\nthr\xff\n")
    with pytest.raises(InputError, match="line 3"):
        read_project_text(path)


@pytest.mark.parametrize(
    ("error", "said"),
    [
        (FileNotFoundError(2, "No such file"), "is not there"),
        (PermissionError(13, "Permission denied"), "may not be read"),
        (OSError(5, "Input/output error"), "input/output error"),
    ],
)
def test_what_the_system_refuses_is_worded(tmp_path, monkeypatch, error, said):
    def refuse(*_, **__):
        raise error

    monkeypatch.setattr("builtins.open", refuse)
    with pytest.raises(InputError, match=said) as caught:
        read_project_text(tmp_path / "a.toml")
    assert caught.value.problems[0].remedy


def test_a_device_is_no_project_file():
    with pytest.raises(InputError, match="no ordinary file"):
        read_project_text(os.devnull)


def test_writing_keeps_permissions_and_leaves_nothing_beside(tmp_path):
    path = tmp_path / "a.toml"
    path.write_text("old", encoding="utf-8")
    path.chmod(0o640)
    write_atomically(path, "new")
    assert path.read_text(encoding="utf-8") == "new"
    assert stat.S_IMODE(path.stat().st_mode) == 0o640
    assert list(tmp_path.iterdir()) == [path]


def test_writing_through_a_link_keeps_the_link(tmp_path):
    path, link = tmp_path / "a.toml", tmp_path / "link.toml"
    path.write_text("old", encoding="utf-8")
    link.symlink_to(path)
    write_atomically(link, "new")
    assert link.is_symlink()
    assert path.read_text(encoding="utf-8") == "new"


@pytest.mark.parametrize("failing", ["os.replace", "os.fsync"])
def test_a_failure_leaves_the_old_file(tmp_path, monkeypatch, failing):
    path = tmp_path / "a.toml"
    path.write_text("old", encoding="utf-8")

    def refuse(*_):
        raise PermissionError(13, "Permission denied")

    with monkeypatch.context() as patched:
        patched.setattr(failing, refuse)
        with pytest.raises(InputError, match="may not be written"):
            write_atomically(path, "new")
    assert path.read_text(encoding="utf-8") == "old"
    assert list(tmp_path.iterdir()) == [path]


def test_a_folder_that_is_not_there_is_named(tmp_path):
    with pytest.raises(InputError, match="folder that is not there"):
        write_atomically(tmp_path / "absent" / "a.toml", "new")


def test_a_new_file_replaces_none_not_even_a_broken_link(tmp_path):
    link = tmp_path / "link.toml"
    link.symlink_to(tmp_path / "absent")
    with pytest.raises(InputError, match="there already"):
        write_new(link, "new")
    write_new(tmp_path / "a.toml", "new")
    assert (tmp_path / "a.toml").read_text(encoding="utf-8") == "new"


def test_paths_are_shown_on_one_line():
    assert "\n" not in shown_path("a\nb\x1b[2J")
    assert len(shown_path("x" * 9999)) <= files.TOO_LONG_TO_SHOW + 1
