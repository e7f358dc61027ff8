"""The files that are pressed twice: they set up with make, open with foldproof, and run nothing else."""

import configparser
import os
import re
import shutil
import subprocess
from pathlib import Path

import pytest

ROOT = Path(__file__).parents[2]
SCRIPT, ENTRY = "Open Foldproof.command", "Open Foldproof.desktop"
OWN = {"cd", "echo", "exec", "exit", "read", "sh", f"./{SCRIPT}"}  # the shell's own, and the other of the two
RUN = {"make", ".venv/bin/foldproof"}
SHELL = shutil.which("sh")


def words_of(commands):
    """The first word of every command, as the shell divides them; settings of a name are none."""
    found = set()
    for line in commands.splitlines():
        if line.startswith("#"):
            continue
        for command in re.split(r"&&|\|\||;|\|", line):
            word = re.match(r"\s*(?:exec\s+)?(\"[^\"]*\"|[^\s\"]+)", command)
            if word and not re.match(r"\w+=", word[1]):
                found.add(word[1].strip('"'))
    return found


def of_entry():
    """The arguments of the desktop entry's Exec key, undone as its specification says (version 1.5, "Exec key")."""
    read = configparser.RawConfigParser(interpolation=None, strict=True)
    read.optionxform = str
    read.read_string((ROOT / ENTRY).read_text(encoding="utf-8"))
    entry = dict(read["Desktop Entry"])
    text = entry["Exec"].replace("\\\\", "\\")
    arguments = re.findall(r'"((?:[^"\\]|\\.)*)"|(\S+)', text)
    undone = [re.sub(r'\\(["`$\\])', r"\1", quoted) if quoted else bare for quoted, bare in arguments]
    return entry, [each.replace("%%", "%") for each in undone]


@pytest.fixture
def folder(tmp_path):
    """A copy with a space in its name, whose make and foldproof write down that they were called."""
    place = tmp_path / "my foldproof"
    (place / ".venv" / "bin").mkdir(parents=True)
    for name in (SCRIPT, ENTRY):
        shutil.copy(ROOT / name, place / name)
    tools = tmp_path / "tools"
    tools.mkdir()
    for path in (tools / "make", place / ".venv" / "bin" / "foldproof"):
        path.write_text(f'#!{SHELL}\necho "{path.name} $*" in "$PWD"\n')
        path.chmod(0o755)
    (tools / "sh").symlink_to(SHELL)
    return place


def run(folder, *command, tools="tools"):
    environment = {"PATH": str(folder.parent / tools)}
    return subprocess.run(command, cwd="/", env=environment, input="\n", capture_output=True, text=True, timeout=30)


def test_they_name_only_make_and_foldproof():
    assert words_of((ROOT / SCRIPT).read_text(encoding="utf-8")) - OWN == RUN
    _, arguments = of_entry()
    assert (arguments[:2], arguments[3:]) == (["sh", "-c"], ["%k"])
    assert words_of(arguments[2]) <= OWN


@pytest.mark.parametrize("name", [SCRIPT, ENTRY])
def test_they_can_be_pressed(name):
    assert os.access(ROOT / name, os.X_OK)
    text = (ROOT / name).read_bytes()
    assert b"\r" not in text and text.endswith(b"\n")


def test_it_sets_up_and_opens_from_wherever_it_is_pressed(folder):
    done = run(folder, str(folder / SCRIPT))
    assert done.stdout == f"make setup in {folder}\nfoldproof open in {folder}\n"
    assert (done.returncode, done.stderr) == (0, "")


@pytest.mark.parametrize("written", ["{}", "file://{}"], ids=["path", "address"])
def test_the_entry_runs_the_script_beside_it(folder, written):
    entry, arguments = of_entry()
    assert (entry["Type"], entry["Terminal"]) == ("Application", "true")
    place = folder if written == "{}" else folder.rename(folder.parent / "foldproof")
    at = written.format(place / ENTRY)
    done = run(place, SHELL, *arguments[1:-1], at)
    assert done.stdout == f"make setup in {place}\nfoldproof open in {place}\n"


def test_what_is_missing_stays_to_be_read(folder):
    (folder.parent / "tools" / "make").write_text(f"#!{SHELL}\necho no compiler >&2\nexit 2\n")
    done = run(folder, str(folder / SCRIPT))
    assert done.returncode == 1
    assert "no compiler" in done.stderr and "Press Enter" in done.stdout and "foldproof open" not in done.stdout
