"""A project as one file, and back; files from outside that are not what they say."""

import io
import struct
import zipfile
from importlib import resources

import pytest

from foldproof.errors import InputError
from foldproof.project.write import with_change
from foldproof.service.keeping import (
    bring_in,
    go_to,
    kept,
    note_verdict,
    open_kept,
    redo,
    save,
    send_out,
    sending,
    start,
    text_of,
    undo,
    versions,
)
from foldproof.service.keeping.changes import entries_in, line_of

BOX = (resources.files("foldproof") / "examples" / "gale-lid.toml").read_text(encoding="utf-8")
BOX_ID = "gale-lid"
NOW, LATER = "2031-05-04T09:00:00Z", "2031-05-04T10:00:00Z"


def height(written):
    return with_change(BOX, "parts.tray.wall_height", written)


@pytest.fixture(scope="module")
def source(tmp_path_factory):
    """A folder with a project of two branches, which stands in the middle of one. Tests only look at it."""
    folder = tmp_path_factory.mktemp("source")
    start(folder, BOX, when=NOW)
    for number, tall in enumerate(("2", "2 1/8"), start=1):
        save(folder, BOX_ID, height(tall), number, when=NOW)
    undo(folder, BOX_ID, 3, when=NOW)
    save(folder, BOX_ID, height("2 3/8"), 2, when=NOW)
    undo(folder, BOX_ID, 4, when=NOW)
    note_verdict(folder, BOX_ID, 2, "proved", when=NOW)
    return folder


@pytest.fixture(scope="module")
def sent(source):
    """It as one file, with its history."""
    return send_out(source, BOX_ID, with_history=True)


def repacked(data, change):
    """The zip with its files changed: ``change`` gets and gives a mapping of names to bytes."""
    with zipfile.ZipFile(io.BytesIO(data)) as sent:
        files = {name: sent.read(name) for name in sent.namelist()}
    made = io.BytesIO()
    with zipfile.ZipFile(made, "w", zipfile.ZIP_DEFLATED) as out:
        for name, content in change(files).items():
            out.writestr(name, content)
    return made.getvalue()


def test_a_project_is_sent_as_its_text(tmp_path, source):
    data = send_out(source, BOX_ID)
    assert data.decode() == height("2")
    brought = bring_in(tmp_path / "b", data, when=LATER)
    assert open_kept(tmp_path / "b", brought).text == height("2")
    assert versions(tmp_path / "b", brought)[0].what == ("brought in",)
    windows = b"\xef\xbb\xbf" + data.replace(b"\n", b"\r\n")
    assert open_kept(tmp_path / "b", bring_in(tmp_path / "b", windows, when=LATER)).text == height("2")


def test_a_project_is_sent_with_its_history(tmp_path, source, sent):
    assert sent == send_out(source, BOX_ID, with_history=True)
    brought = bring_in(tmp_path / "b", sent, when=LATER)
    assert [(each.number, each.parent, each.when, each.what) for each in versions(tmp_path / "b", brought)] == [
        (each.number, each.parent, each.when, each.what) for each in versions(source, BOX_ID)
    ]
    opened = open_kept(tmp_path / "b", brought)
    assert (opened.version, opened.text, opened.can_undo, opened.can_redo) == (2, height("2"), True, True)
    assert (opened.verdict, opened.changed) == ("", LATER)  # proved by another's program is not proved by ours
    assert redo(tmp_path / "b", brought, 2, when=LATER).text == height("2 3/8")
    assert go_to(tmp_path / "b", brought, 3, 4, when=LATER).text == height("2 1/8")
    assert undo(tmp_path / "b", brought, 3, when=LATER).version == 2
    assert save(tmp_path / "b", brought, height("1 3/4"), 2, when=LATER).version == 5
    assert text_of(tmp_path / "b", brought, 1) == BOX


@pytest.mark.parametrize("data", [b"", b"PK", b"\x00" * 50, b"\xff\xfea\x00", b"name = 1", b"x" * 2_000_000])
def test_what_is_no_project_is_refused(tmp_path, data):
    with pytest.raises(InputError):
        bring_in(tmp_path, data, when=NOW)
    assert kept(tmp_path) == ()


def without(name):
    return lambda files: {key: files[key] for key in files if key != name}


def with_file(name, content):
    return lambda files: {**files, name: content}


@pytest.mark.parametrize(
    ("change", "said"),
    [
        (without("project.toml"), "has no project in it"),
        (without("history/changes.log"), "has no project in it"),
        (without("history/000001.toml"), "has no version 1"),
        (with_file("project.toml", height("1 3/4").encode()), "is not the project's"),
        (with_file("history/changes.log", b"\0" * 99), "cannot be read"),
        (with_file("history/../../evil.toml", b""), "none of a project's"),
        (with_file("../project.toml", b""), "none of a project's"),
        (with_file("/etc/evil", b""), "none of a project's"),
        (with_file("history/000001.toml.exe", b""), "none of a project's"),
        (with_file("history/000009.toml", b"\0" * 1_000_001), "too large"),
        (with_file("history/000002.toml", b"\xff\xff"), "not UTF-8"),
    ],
)
def test_a_zip_that_is_not_ours_is_refused(tmp_path, sent, change, said):
    data = repacked(sent, change)
    with pytest.raises(InputError, match=said):
        bring_in(tmp_path / "b", data, when=NOW)
    assert kept(tmp_path / "b") == ()
    assert {path.name for path in tmp_path.rglob("*")} <= {"b", ".lock"}


def test_a_file_that_is_twice_in_a_zip_is_refused(tmp_path, sent):
    data = io.BytesIO(sent)
    with pytest.warns(UserWarning, match="Duplicate name"), zipfile.ZipFile(data, "a") as sent:
        sent.writestr("project.toml", BOX)
    with pytest.raises(InputError, match="none of a project's"):
        bring_in(tmp_path / "b", data.getvalue(), when=NOW)


def test_a_zip_is_never_unpacked_past_its_bounds(tmp_path, source, sent, monkeypatch):
    bomb = repacked(sent, with_file("history/000009.toml", b"\0" * 100_000_000))
    assert len(bomb) < 150_000
    with pytest.raises(InputError, match="too large"):
        bring_in(tmp_path / "b", bomb, when=NOW)
    lying = bytearray(bomb)
    at = lying.rfind(struct.pack("<I", 100_000_000))
    lying[at : at + 4] = struct.pack("<I", 10)
    with pytest.raises(InputError):
        bring_in(tmp_path / "b", bytes(lying), when=NOW)
    monkeypatch.setattr(sending, "MOST_UNPACKED_BYTES", 5_000)
    with pytest.raises(InputError, match="too large"):
        bring_in(tmp_path / "b", sent, when=NOW)
    monkeypatch.setattr(sending, "MOST_VERSIONS", 2)
    with pytest.raises(InputError, match="too many files"):
        bring_in(tmp_path / "b", sent, when=NOW)
    with pytest.raises(InputError, match="too many versions"):
        send_out(source, BOX_ID, with_history=True)
    monkeypatch.setattr(sending, "MOST_SENT_BYTES", 500)
    with pytest.raises(InputError, match="larger than"):
        bring_in(tmp_path / "b", sent, when=NOW)


@pytest.mark.parametrize("place", range(0, 2_000, 97))
def test_a_damaged_zip_is_refused_or_read(tmp_path, sent, place):
    data = bytearray(sent)
    data[place % len(data)] ^= 0xFF
    for damaged in (bytes(data), bytes(data)[: len(data) - place]):
        try:
            bring_in(tmp_path / "b", damaged, when=NOW)
        except InputError:
            continue
        assert all(each.name == "Gale lid" for each in kept(tmp_path / "b"))


def test_nothing_of_a_log_from_outside_is_believed_but_times_and_words(tmp_path, sent):
    def lies(files):
        entries = list(entries_in(files["history/changes.log"]).entries)
        import dataclasses

        for place, entry in enumerate(entries):
            state = dataclasses.replace(
                entry.state, name="Not its name", tip=99, last=1, parent=77, archived=True, verdict="proved"
            )
            entries[place] = dataclasses.replace(
                entry, parent=entry.number, when="<script>", what=("line\nbreak \u202e", "x" * 300), state=state
            )
        return {**files, "history/changes.log": b"".join(map(line_of, entries))}

    data = repacked(sent, lies)
    brought = bring_in(tmp_path / "b", data, when=LATER)
    (only,) = kept(tmp_path / "b")
    assert (only.name, only.archived, only.verdict) == ("Gale lid", False, "")
    found = versions(tmp_path / "b", brought)
    assert [each.parent for each in found] == [0, 0, 0, 0] and {each.when for each in found} == {""}
    assert all(words.isprintable() for each in found for words in each.what)
    assert open_kept(tmp_path / "b", brought).can_redo is False
    assert save(tmp_path / "b", brought, height("1 3/4"), 2, when=LATER).version == 5


@pytest.mark.parametrize(
    "line",
    [
        b'{"kind":"version"}',
        b"[]",
        b"null",
        b'{"kind":"version","number":-1,"when":"","what":[],"state":{},"parent":0,"sha256":""}',
        b"[" * 5_000,
    ],
)
def test_a_line_that_is_no_change_is_passed_over(line):
    import zlib

    assert entries_in(b"%08x %s\n" % (zlib.crc32(line), line)).entries == ()
