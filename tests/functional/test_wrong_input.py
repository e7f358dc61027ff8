"""Wrong input: every problem at once, exit 2, nothing written, no traceback, on every command."""

import json
import time

import pytest

GOOD = """format = 1
name = "Good box"
unit = "in"
[cardstock]
sheet = "12x12"
weight = "216 gsm"
[parts.tray]
construction = "double-wall tray"
base_length = "3 1/4"
wall_height = "2 1/4"
inner_wall = "1 1/2"
"""

# What is wrong, the file's text, and for each problem a field and a word of what is said of it.
WRONG = {
    "nothing in it": ("", [("format", ""), ("name", ""), ("parts", "")]),
    "not TOML": ("format = 1\nname = Good box\n", [("line 2", "")]),
    "wrong types": (
        GOOD.replace('unit = "in"', "unit = 3").replace('wall_height = "2 1/4"', "wall_height = true"),
        [("unit", ""), ("parts.tray.wall_height", "")],
    ),
    "unknown keys": (
        GOOD.replace("wall_height", "wall_hieght").replace("weight", "wieght"),
        [("parts.tray.wall_hieght", "wall_height"), ("cardstock.wieght", "weight")],
    ),
    "negative and absurd sizes": (
        GOOD.replace('base_length = "3 1/4"', "base_length = -3").replace('"2 1/4"', '"4000 in"'),
        [("parts.tray.base_length", ""), ("parts.tray.wall_height", "")],
    ),
    "not a number": (
        GOOD.replace('base_length = "3 1/4"', "base_length = nan").replace('"2 1/4"', "inf"),
        [("parts.tray.base_length", ""), ("parts.tray.wall_height", "")],
    ),
    "a sheet too small": (GOOD.replace('"12x12"', '"1 x 1 cm"'), [("cardstock.sheet", "20 mm")]),
    "a sheet too small to score": (
        GOOD.replace('"12x12"', '"2 x 2 in"') + 'piece = "whole sheet"\n',
        [("parts.tray", "larger sheet")],
    ),
    "contradictory values": (
        GOOD.replace('inner_wall = "1 1/2"', 'inner_wall = "3"'),
        [("parts.tray.inner_wall", "deeper")],
    ),
    "pounds without a grade": (GOOD.replace("216 gsm", "80 lb"), [("cardstock.weight", "cover")]),
    "a newer format": (GOOD.replace("format = 1", "format = 2"), [("format", "2")]),
}
COMMANDS = (("measure",), ("prove",), ("fit", "--write"), ("pack", "-o", "made"))


@pytest.fixture
def here(tmp_path, monkeypatch):
    """An empty folder to work in."""
    folder = tmp_path / "here"
    folder.mkdir()
    monkeypatch.chdir(folder)
    return folder


@pytest.mark.parametrize("command", COMMANDS, ids=lambda command: command[0])
@pytest.mark.parametrize("what", WRONG)
def test_all_problems_at_once(run, here, contents_of, what, command):
    text, problems = WRONG[what]
    if what == "a sheet too small to score" and command[0] == "fit":
        command = ("measure",)  # the search needs no sheet that can be scored; all values are given
    (here / "wrong.toml").write_text(text, encoding="utf-8")
    ran = run(command[0], "wrong.toml", *command[1:], "--json")
    assert ran.code == 2
    assert ran.err == ""
    assert ran.report["report"] == "error"
    for field, word in problems:
        told = [problem for problem in ran.report["problems"] if problem["field"].startswith(field)]
        assert told, (field, ran.report["problems"])
        assert any(word in f"{each['reason']} {each['remedy']}" for each in told), (word, told)
    assert all(problem["remedy"] for problem in ran.report["problems"])
    assert contents_of(here) == {"wrong.toml": text.encode()}


@pytest.mark.parametrize("what", WRONG)
def test_told_in_words_on_standard_error(run, here, what):
    text, problems = WRONG[what]
    (here / "wrong.toml").write_text(text, encoding="utf-8")
    ran = run("measure", "wrong.toml")
    assert (ran.code, ran.out) == (2, "")
    lines = ran.err.splitlines()
    for field, _ in problems:
        assert any(line.startswith(field) for line in lines), lines
    assert "Traceback" not in ran.err


def test_the_good_file_is_good(run, here):
    (here / "good.toml").write_text(GOOD, encoding="utf-8")
    assert run("prove", "good.toml").code == 0


UNREADABLE = {
    "a file that is not there": None,
    "a folder": "folder",
    "UTF-16": GOOD.encode("utf-16"),
    "Latin-1": 'format = 1\nname = "Bo\u00eete"\n'.encode("latin-1"),
    "a picture": b"\x89PNG\r\n\x1a\n\x00\x00\x00\rIHDR\xff\xfe",
    "10 MB": b"# " + b"x" * 10_000_000,
    "10 MB of brackets": b"[" * 10_000_000,
    "deep nesting": b"a = " + b"[" * 400_000,
}


@pytest.mark.parametrize("what", UNREADABLE)
def test_unreadable_files_are_refused_at_once(run, here, what):
    data = UNREADABLE[what]
    if data == "folder":
        (here / "x.toml").mkdir()
    elif data is not None:
        (here / "x.toml").write_bytes(data)
    run("measure", "absent.toml", "--json")  # what is imported once is not timed
    started = time.perf_counter()
    ran = run("prove", "x.toml", "--json")
    assert time.perf_counter() - started < 1.0
    assert ran.code == 2
    assert len(ran.report["problems"]) == 1


def test_a_byte_order_mark_and_windows_line_ends_are_fine(run, here):
    (here / "x.toml").write_bytes(b"\xef\xbb\xbf" + GOOD.replace("\n", "\r\n").encode())
    assert run("measure", "x.toml").code == 0


def test_a_name_no_system_takes(run, here):
    for name in ("x" * 5000, "a\0b"):
        ran = run("measure", name, "--json")
        assert ran.code == 2
        assert len(ran.report["problems"][0]["field"]) < 300


@pytest.mark.parametrize(
    "arguments",
    [
        ("nonsense",),
        ("measure",),
        ("measure", "a", "b"),
        ("pack", "x.toml"),
        ("fit", "x.toml", "--goal", "the moon"),
        ("prove", "x.toml", "--seconds", "-1"),
        ("new",),
        ("new", "--construction", "mobius strip"),
        ("new", "--example", "no such"),
        ("new", "--example", "tidepool", "--construction", "plain tray"),
        ("new", "--example", "tidepool", "--unit", "cm"),
        ("new", "--construction", "plain tray", "--set", "wall_height"),
        ("new", "--construction", "plain tray", "--set", "a=1", "--set", "a=2"),
        ("new", "--construction", "plain tray", "--set", "wall_hieght=2"),
        ("new", "--construction", "plain tray", "--set", "nonsense.key=2"),
        ("new", "\x1b[31mred", "--construction", "plain tray"),
        ("new", "\u202egnp.exe", "--construction", "plain tray"),
        ("new", "x" * 5000, "--construction", "plain tray"),
        ("new", "", "--construction", "plain tray", "--set", "wall_height=999"),
    ],
)
def test_wrong_command_lines(run, here, contents_of, arguments):
    plain = run(*arguments)
    assert plain.code == 2
    assert plain.out == ""
    assert plain.err
    as_json = run(*arguments, "--json")
    assert as_json.code == 2
    assert json.loads(as_json.out)["report"] == "error"
    assert contents_of(here) == {}
