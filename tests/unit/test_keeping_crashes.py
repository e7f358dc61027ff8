"""Killed, or refused by the system, at any moment: a project is what it was, or what it was to be."""

import errno
import os
import shutil
import signal
import subprocess
import sys
from importlib import resources
from pathlib import Path

import pytest

from foldproof.errors import InputError
from foldproof.project.write import with_change
from foldproof.service.keeping import (
    archive,
    bring_in,
    kept,
    open_kept,
    remove,
    removed,
    save,
    send_out,
    start,
    take_back,
    text_of,
    undo,
    versions,
)

TRAY = (resources.files("foldproof") / "examples" / "shell-tray.toml").read_text(encoding="utf-8")
ID, NOW = "shell-tray", "2031-05-04T09:00:00Z"


def height(written):
    return with_change(TRAY, "parts.tray.wall_height", written)


ONE, TWO, THREE = height("1"), height("1 1/8"), height("1 3/8")
MERGED = with_change(TWO, "parts.tray.base_length", "4")

# What is done to the prepared folder, and the texts at which the project may stand afterwards.
WORKS = {
    "save": (lambda folder: save(folder, ID, THREE, 2, when=NOW), (TWO, THREE)),
    "merge": (
        lambda folder: save(folder, ID, with_change(TRAY, "parts.tray.base_length", "4"), 1, when=NOW),
        (TWO, MERGED),
    ),
    "clash": (lambda folder: save(folder, ID, THREE, 1, when=NOW), (TWO,)),
    "undo": (lambda folder: undo(folder, ID, 2, when=NOW), (TWO, ONE)),
    "archive": (lambda folder: archive(folder, ID, when=NOW), (TWO,)),
    "start": (lambda folder: start(folder, TRAY, when=NOW), (TWO,)),
    "bring in": (lambda folder: bring_in(folder, send_out(folder, ID, with_history=True), when=NOW), (TWO,)),
    "remove": (lambda folder: remove(folder, ID, when=NOW), (TWO,)),
    "take back": (lambda folder: take_back(folder, "other", when=NOW), (TWO,)),
}
HALF = "half a li"  # of a file that somebody is typing
CHANGED_BY_HAND = {
    "taken in": (THREE, lambda folder: open_kept(folder, ID), (THREE,)),
    "set aside": (HALF, lambda folder: save(folder, ID, THREE, 2, when=NOW), (TWO, THREE)),
}
CALLS = ("open", "write", "fsync", "replace", "rename", "unlink", "mkdir", "rmdir", "ftruncate")


def prepared(folder):
    start(folder, ONE, when=NOW)
    save(folder, ID, TWO, 1, when=NOW)
    remove(folder, start(folder, with_change(TRAY, "name", "Other"), when=NOW), when=NOW)
    return folder


def not_waiting(handle):
    """In the place of fsync: what a process wrote outlives it without, and hundreds of waits take a minute."""


def at_call(number, act):
    """Puts ``act`` before the call of that number, counted from 1 over every call to the system that matters."""
    made = 0

    def watched(name, real):
        def call(*args, **kwargs):
            nonlocal made
            made += 1
            if made == number:
                act(name, real, args)
            return real(*args, **kwargs)

        return call

    for name in CALLS:
        setattr(os, name, watched(name, getattr(os, name)))


def killed(name, real, args):
    """The end of the process; of a write only a half is on the disk."""
    if name == "write":
        real(args[0], bytes(args[1])[: len(args[1]) // 2])
    os._exit(9)


def assert_whole(folder, may_stand_at, by_hand=False):
    """Everything is there, opens, and can be worked on."""
    (gone,) = [each for each in removed(folder) if each.name == "Other"] or [None]
    names = [each.name for each in kept(folder)]
    assert gone is not None or "Other" in names
    assert all(each.trouble == "" for each in kept(folder))
    if ID not in [each.id for each in kept(folder)]:
        take_back(folder, ID, when=NOW)
    opened = open_kept(folder, ID)
    assert opened.text in may_stand_at
    # What a stop left behind is never taken for the maker's own doing.
    assert by_hand or not any("outside" in line for each in versions(folder, ID) for line in each.what)
    newest = (folder / ID / "project.toml").read_text(encoding="utf-8")
    assert newest == (HALF if opened.outside else opened.text)
    assert [text_of(folder, ID, number) for number in (1, 2)] == [ONE, TWO]
    assert {1, 2} <= {each.number for each in versions(folder, ID)}
    last = save(folder, ID, height("1 1/2"), opened.version, when=NOW)
    assert open_kept(folder, ID).version == last.version
    if (folder / ".project.new").exists():  # what is left of a new project goes when the next one comes
        start(folder, TRAY, when=NOW)
    assert [path for path in folder.rglob("*") if path.name.endswith(".new")] == []
    assert not any(folder.rglob("*-journal"))


def killed_everywhere(folder):
    """For a process of its own, with no threads: does each work again and again, killed one call later each time."""
    os.fsync = not_waiting
    template = prepared(folder / "template")
    for name, (work, may_stand_at) in WORKS.items():
        kills_of(folder, template, name, work, may_stand_at)
    for name, (text, work, may_stand_at) in CHANGED_BY_HAND.items():
        edited = shutil.copytree(template, folder / "edited", symlinks=True)
        (edited / ID / "project.toml").write_text(text, encoding="utf-8")
        kills_of(folder, edited, name, work, may_stand_at)
        shutil.rmtree(edited)


def kills_of(folder, template, name, work, may_stand_at):
    number = 0
    done = False
    while not done:
        number += 1
        here = shutil.copytree(template, folder / "here", symlinks=True)
        child = os.fork()
        if not child:
            at_call(number, killed)
            work(here)
            os._exit(0)
        done = os.waitstatus_to_exitcode(os.waitpid(child, 0)[1]) == 0
        try:
            assert_whole(here, may_stand_at, name in CHANGED_BY_HAND)
        except BaseException:
            print(f"killed at call {number} of: {name}", file=sys.stderr)
            raise
        shutil.rmtree(here)
    print(name, number - 1)


def test_killed_before_any_call_and_in_the_middle_of_any_write(tmp_path):
    """Some hundreds of kills. Python warns of forks where there are threads, so this is a process without any."""
    program = (
        "import importlib.util, pathlib, sys\n"
        "found = importlib.util.spec_from_file_location('crashes', sys.argv[1])\n"
        "crashes = importlib.util.module_from_spec(found)\n"
        "found.loader.exec_module(crashes)\n"
        "crashes.killed_everywhere(pathlib.Path(sys.argv[2]))\n"
    )
    done = subprocess.run(
        [sys.executable, "-c", program, __file__, str(tmp_path)], capture_output=True, text=True, check=False
    )
    assert done.returncode == 0, done.stdout + done.stderr
    kills = {line.rpartition(" ")[0]: int(line.rpartition(" ")[2]) for line in done.stdout.splitlines()}
    assert kills.keys() == WORKS.keys() | CHANGED_BY_HAND.keys()
    assert all(count >= 5 for count in kills.values()) and kills["save"] >= 15 and sum(kills.values()) >= 150


@pytest.mark.parametrize("work", ["save", "undo", "start", "remove"])
@pytest.mark.parametrize("code", [errno.ENOSPC, errno.EIO])
def test_refused_at_any_call(tmp_path, monkeypatch, work, code):
    """Where a call fails the work is refused with a reason or done, and can be tried again."""
    monkeypatch.setattr(os, "fsync", not_waiting)
    template = prepared(tmp_path / "template")
    do, may_stand_at = WORKS[work]
    real = {name: getattr(os, name) for name in CALLS}
    number = refusals = 0
    while True:
        number += 1
        here = shutil.copytree(template, tmp_path / "here", symlinks=True)
        fails = []

        def refuse(name, real_call, args, fails=fails):
            fails.append(name)
            if name == "write" and code == errno.ENOSPC:
                real_call(args[0], bytes(args[1])[: len(args[1]) // 2])  # a full disk takes what it can
            raise OSError(code, os.strerror(code))

        at_call(number, refuse)
        try:
            do(here)
        except InputError as error:
            refusals += 1
            assert error.problems[0].remedy
        finally:
            for name, call in real.items():
                setattr(os, name, call)
        assert_whole(here, may_stand_at)
        shutil.rmtree(here)
        if not fails:
            break
    assert refusals >= 10 and number >= 12


SAVES = """
import sys
from pathlib import Path
from foldproof.project.write import with_change
from foldproof.service.keeping import open_kept, save
folder = Path(sys.argv[1])
for number in range(100_000):
    opened = open_kept(folder, "shell-tray")
    text = with_change(opened.text, "maker", f"maker {opened.version}")
    print(save(folder, "shell-tray", text, opened.version, when="2031-05-04T09:00:00Z").version, flush=True)
"""


def test_a_process_killed_in_the_middle_of_saving_loses_nothing_it_answered(tmp_path):
    start(tmp_path, TRAY, when=NOW)
    for round_number in range(5):
        saving = subprocess.Popen([sys.executable, "-c", SAVES, str(tmp_path)], stdout=subprocess.PIPE, text=True)
        answers = [saving.stdout.readline() for _ in range(4 + 3 * round_number)]
        os.kill(saving.pid, signal.SIGKILL)
        answers += saving.stdout.read().splitlines()
        saving.wait()
        saving.stdout.close()
        answered = max(int(each) for each in answers if each.strip())
        opened = open_kept(tmp_path, ID)
        assert answered <= opened.version <= answered + 1
        assert f'maker = "maker {opened.version - 1}"' in opened.text
        assert (tmp_path / ID / "project.toml").read_text(encoding="utf-8") == opened.text
        assert [each.number for each in versions(tmp_path, ID)] == list(range(1, opened.version + 1))
        assert not list(Path(tmp_path).rglob("*.new"))
