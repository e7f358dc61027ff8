"""The pack: whole or not at all, the same bytes each time, and honest about what is not proved."""

import hashlib
import json
import os
import re
import subprocess
import sys

import pypdf
import pytest

from foldproof.cli.app import Commands
from foldproof.errors import InputError
from foldproof.progress import Stopped, unwatched
from foldproof.service import packs as service_packs
from foldproof.service.packing import pack_project
from foldproof.service.projects import open_project
from foldproof.service.starting import example_names, example_text

NAMES = example_names()
TEXTS = ("cut-list.csv", "measures.txt", "project.toml", "proof.json", "proof.txt")
EXPECTED = (*TEXTS, "score-plan.pdf", "templates.pdf")


def python(*arguments, seed="0", cwd=None, home=None):
    """Another process with another hash seed."""
    environment = {**os.environ, "PYTHONHASHSEED": seed}
    if home is not None:
        environment = {name: value for name, value in environment.items() if not name.startswith("XDG_")}
        environment["HOME"] = str(home)
    return subprocess.run(
        [sys.executable, "-m", "foldproof", *map(str, arguments)],
        capture_output=True,
        text=True,
        env=environment,
        cwd=cwd,
        check=False,
    )


# --- What is in it ------------------------------------------------------------------------------------------


@pytest.mark.parametrize("name", NAMES)
def test_a_pack_has_all_its_files(packs, contents_of, name):
    files = contents_of(packs[name][0])
    assert set(EXPECTED) <= set(files)
    for piece in ("tray", *(("tray-lid",) if name == "shell-tray" else ())):
        assert f"cut/{piece}.svg" in files
        assert f"cut/{piece}.dxf" in files
    assert files["project.toml"].decode() == example_text(name)
    listed = json.loads(files["pack.json"])["files"]
    assert {file["path"]: file["sha256"] for file in listed} == {
        path: hashlib.sha256(data).hexdigest() for path, data in files.items() if path != "pack.json"
    }


@pytest.mark.parametrize("name", NAMES)
def test_every_step_has_a_drawing_and_every_drawing_a_step(packs, contents_of, name):
    files = contents_of(packs[name][0])
    text = files["steps.md"].decode()
    steps = re.findall(r"^### (\d+)\\?\. ", text, re.M)
    assert [int(step) for step in steps] == list(range(1, len(steps) + 1))
    assert len(steps) >= 8
    drawings = re.findall(r"^!\[.+\]\((.+)\)$", text, re.M)
    names = [f"step-{int(step):02d}" for step in steps] + ["finished"]
    assert drawings[: len(steps) + 1] == [f"pictures/{name}.svg" for name in names]
    # Lids of another shape are drawn in the post and the booklet: they are no steps.
    posted = re.findall(r"^!\[.+\]\((pictures/instead-.+)\.png\)$", files["post.md"].decode(), re.M)
    pictures = {path for path in files if path.startswith("pictures/") and path.endswith(".svg")}
    assert set(drawings) | {f"{path}.svg" for path in posted} == pictures
    assert text.count("Check: ") == text.count("If not: ") == len(steps)


def test_the_lid_goes_on_last(packs):
    text = (packs["shell-tray"][0] / "steps.md").read_text(encoding="utf-8")
    titles = re.findall(r"^### \d+\\?\. (.+)$", text, re.M)
    assert titles[-1] == "Put the lid on"


def test_everything_of_a_failing_project_says_so(packs, contents_of):
    files = contents_of(packs["storm-tray"][0])
    for path in ("score-plan.pdf", "templates.pdf"):
        for page in pypdf.PdfReader(packs["storm-tray"][0] / path).pages:
            assert "Not proved" in page.extract_text(), path
    says = [path for path, data in files.items() if path.endswith((".txt", ".md", ".dxf")) or "cut/" in path]
    assert says
    assert [path for path in says if b"Not proved" not in files[path]] == []
    assert b"not proved" in files["cut-list.csv"]
    assert json.loads(files["proof.json"])["verdict"] == json.loads(files["pack.json"])["verdict"] == "not_proved"


@pytest.mark.parametrize("name", [name for name in NAMES if name not in ("storm-tray", "gale-lid")])
def test_nothing_of_a_proved_project_says_not_proved(packs, contents_of, name):
    folder = packs[name][0]
    for path in ("score-plan.pdf", "templates.pdf"):
        for page in pypdf.PdfReader(folder / path).pages:
            assert "Not proved" not in page.extract_text()
    assert [path for path, data in contents_of(folder).items() if b"Not proved" in data] == []


def test_a_cut_file_that_is_not_proved_still_reads(packs):
    import ezdxf

    drawing = ezdxf.readfile(packs["storm-tray"][0] / "cut" / "tray.dxf")
    assert len(drawing.modelspace()) > 10


# --- Same bytes ---------------------------------------------------------------------------------------------


def test_same_bytes_in_any_process_and_no_trace_in_the_home_folder(packs, examples, contents_of, tmp_path):
    first = contents_of(packs["shell-tray"][0])
    for seed in ("0", "1"):
        home = tmp_path / f"home-{seed}"
        home.mkdir()
        ran = python("pack", examples["shell-tray"], "-o", tmp_path / seed, seed=seed, home=home)
        assert (ran.returncode, ran.stderr) == (0, "")
        assert contents_of(tmp_path / seed) == first
        assert list(home.iterdir()) == []


def test_packing_again_changes_nothing(run, examples, shell_pack, contents_of):
    before = contents_of(shell_pack)
    assert run("pack", examples["shell-tray"], "-o", shell_pack).code == 0
    assert contents_of(shell_pack) == before
    assert [path.name for path in shell_pack.parent.iterdir()] == [shell_pack.name]


# --- Whole or not at all ------------------------------------------------------------------------------------


class StopAt:
    """A Progress that stops, or raises, at a stage."""

    def __init__(self, stage, error=None):
        self.stage, self.error, self.met = stage, error, False

    def __call__(self, stage, done, total):
        if stage != self.stage:
            return True
        self.met = True
        if self.error is not None:
            raise self.error
        return False


WAYS = [(stage, error) for stage in ("orders", "sheets", "pictures", "files") for error in (None, KeyboardInterrupt())]


@pytest.mark.parametrize(("stage", "error"), WAYS)
def test_a_stopped_pack_leaves_the_old_one_whole(shell_pack, examples, contents_of, stage, error):
    before = contents_of(shell_pack)
    progress = StopAt(stage, error)
    with pytest.raises(Stopped if error is None else KeyboardInterrupt):
        pack_project(open_project(examples["tidepool"]), shell_pack, progress)
    assert progress.met
    assert contents_of(shell_pack) == before
    assert list(shell_pack.parent.iterdir()) == [shell_pack]


@pytest.mark.parametrize("failing", ["write_flushed", "flush_folder"])
def test_a_failing_disk_leaves_the_old_one_whole(shell_pack, contents_of, monkeypatch, failing):
    before = contents_of(shell_pack)

    def no_space(*_):
        raise OSError(28, "No space left on device")

    monkeypatch.setattr(service_packs, failing, no_space)
    with pytest.raises(InputError, match="no space left"):
        service_packs.write_pack(shell_pack, [("pack.json", b"{}"), ("new.txt", b"new")])
    assert contents_of(shell_pack) == before
    assert list(shell_pack.parent.iterdir()) == [shell_pack]


def test_wrong_input_leaves_the_old_one_whole(run, shell_pack, contents_of, tmp_path):
    before = contents_of(shell_pack)
    (tmp_path / "wrong.toml").write_text(example_text("tidepool").replace('"2 1/4"', '"a lot"'), encoding="utf-8")
    assert run("pack", tmp_path / "wrong.toml", "-o", shell_pack).code == 2
    assert contents_of(shell_pack) == before


def test_another_project_replaces_the_pack_as_a_whole(run, shell_pack, packs, examples, contents_of):
    assert run("pack", examples["tidepool"], "-o", shell_pack).code == 0
    assert contents_of(shell_pack) == contents_of(packs["tidepool"][0])


def test_ctrl_c_stops_with_3_and_leaves_the_old_one_whole(shell_pack, examples, contents_of):
    before = contents_of(shell_pack)
    # The process sends itself the signal when the first stage is told, so that nothing depends on timing.
    program = (
        "import os, signal\n"
        "from foldproof.cli import watch, main\n"
        "told = watch.Watch.__call__\n"
        "def told_and_struck(self, *stage):\n"
        "    os.kill(os.getpid(), signal.SIGINT)\n"
        "    return told(self, *stage)\n"
        "watch.Watch.__call__ = told_and_struck\n"
        "main()\n"
    )
    ran = subprocess.run(
        [sys.executable, "-c", program, "pack", str(examples["tidepool"]), "-o", str(shell_pack)],
        capture_output=True,
        text=True,
        check=False,
    )
    assert ran.returncode == 3, ran.stderr
    assert "Traceback" not in ran.stderr
    assert "Nothing was written" in ran.stderr
    assert contents_of(shell_pack) == before


# --- Folders that are not ours ------------------------------------------------------------------------------


def spoil(folder, how):
    match how:
        case "a file of one's own":
            (folder / "notes.txt").write_text("mine", encoding="utf-8")
        case "a changed file":
            (folder / "project.toml").write_text("mine", encoding="utf-8")
        case "a folder of one's own":
            (folder / "photographs").mkdir()
        case "a link":
            (folder / "link").symlink_to(folder.parent)
        case "no listing":
            (folder / "pack.json").unlink()
        case "another listing":
            (folder / "pack.json").write_text('{"files": []}', encoding="utf-8")
        case "a listing that is none":
            (folder / "pack.json").write_text("[" * 100_000, encoding="utf-8")


@pytest.mark.parametrize(
    "how",
    [
        "a file of one's own",
        "a changed file",
        "a folder of one's own",
        "a link",
        "no listing",
        "another listing",
        "a listing that is none",
    ],
)
def test_a_folder_with_anything_else_is_not_replaced(run, examples, shell_pack, contents_of, how):
    spoil(shell_pack, how)
    before = contents_of(shell_pack)
    ran = run("pack", examples["tidepool"], "-o", shell_pack, "--json")
    assert ran.code == 2
    assert ran.report["report"] == "error"
    assert contents_of(shell_pack) == before


def test_a_file_in_the_folders_place_is_kept(run, examples, tmp_path):
    (tmp_path / "pack").write_text("mine", encoding="utf-8")
    assert run("pack", examples["tidepool"], "-o", tmp_path / "pack").code == 2
    assert (tmp_path / "pack").read_text(encoding="utf-8") == "mine"


def test_an_empty_folder_and_missing_folders_above_are_fine(tmp_path, examples, contents_of, packs):
    (tmp_path / "empty").mkdir()
    for folder in (tmp_path / "empty", tmp_path / "a" / "b" / "pack"):
        pack_project(open_project(examples["shell-tray"]), folder, unwatched)
        assert contents_of(folder) == contents_of(packs["shell-tray"][0])


# --- Hostile names ------------------------------------------------------------------------------------------

HOSTILE = [
    "../../x",
    "/etc/passwd",
    "<script>alert(1)</script>",
    "=cmd|' /C calc'!A0",
    "a](x) ![y](http://example.invalid/z.png) `code`",
    "\u05e7\u05d5\u05e4\u05e1\u05d4 \u0635\u0646\u062f\u0648\u0642",
    "\U0001f4e6 box",
    "x" * 300,
    "con",
]


@pytest.mark.parametrize("name", HOSTILE)
def test_hostile_names_stay_inside_and_stay_text(run, tmp_path, contents_of, monkeypatch, name):
    here = tmp_path / "here"
    here.mkdir()
    monkeypatch.chdir(here)
    started = run("new", name, "--example", "pebble-metric", "--json")
    assert started.code == 0
    (file,) = contents_of(here)
    assert re.fullmatch(r"[a-z0-9][a-z0-9-]*\.toml", file)
    assert file != "con.toml"
    ran = run("pack", file, "-o", "pack")
    assert ran.code == 0
    assert sorted(path.name for path in tmp_path.iterdir()) == ["here"]
    assert sorted(path.name for path in here.iterdir()) == sorted([file, "pack"])
    files = contents_of(here / "pack")
    for path, data in files.items():
        assert re.fullmatch(r"(?:cut/|pictures/)?[A-Za-z0-9_.-]+", path)
        if path.endswith((".svg", ".md")):
            assert b"<script>" not in data, path
        if path.endswith(".md"):
            assert b"![y](" not in data, path
    assert not files["cut-list.csv"].startswith(b"=")


@pytest.mark.parametrize("path", ["../out.txt", "/out.txt", "a/../../out.txt", ".hidden", "a//b", "", "a\\b", "x\0"])
def test_no_file_of_a_pack_can_lie_outside_it(tmp_path, path):
    with pytest.raises(AssertionError):
        service_packs.write_pack(tmp_path / "pack", [("pack.json", b"{}"), (path, b"x")])
    assert list(tmp_path.iterdir()) == []


# --- As a process -------------------------------------------------------------------------------------------


def test_commands_as_processes(examples, tmp_path):
    for command in ("measure", "prove", "fit"):
        ran = python(command, examples["tidepool"], "--json")
        assert (ran.returncode, ran.stderr) == (0, "")
        assert json.loads(ran.stdout)["report"] == command
    assert python("prove", examples["storm-tray"]).returncode == 1
    wrong = python("prove", tmp_path / "absent.toml")
    assert (wrong.returncode, wrong.stdout) == (2, "")
    assert "Traceback" not in wrong.stderr
    assert python("--version").stdout == "foldproof 0.1.0\n"


def test_help_imports_nothing_heavy():
    program = (
        "import sys\n"
        "sys.argv = ['foldproof', '--help']\n"
        "from foldproof.cli import main\n"
        "try:\n"
        "    main()\n"
        "except SystemExit:\n"
        "    pass\n"
        "heavy = {'numpy', 'shapely', 'pikepdf', 'tomlkit', 'ezdxf', 'rich', 'fontTools', 'tomllib'}\n"
        "print(sorted(heavy & set(sys.modules)), file=sys.stderr)\n"
    )
    ran = subprocess.run([sys.executable, "-c", program], capture_output=True, text=True, check=True)
    assert ran.stderr.strip() == "[]"
    assert "Exit codes" in ran.stdout


def test_a_reader_that_goes_away_is_no_failure(examples):
    writer = subprocess.Popen(
        [sys.executable, "-m", "foldproof", "measure", str(examples["tidepool"]), "--json"],
        stdout=subprocess.PIPE,
        stderr=subprocess.PIPE,
    )
    writer.stdout.close()
    said = writer.stderr.read()
    writer.stderr.close()
    assert writer.wait() == 3
    assert b"Traceback" not in said


def test_demo_packs_every_example(tmp_path, packs, contents_of):
    ran = subprocess.run(
        [sys.executable, "-m", "foldproof.cli.demo", str(tmp_path / "demo")],
        capture_output=True,
        text=True,
        check=False,
    )
    assert ran.returncode == 0, ran.stderr
    for name in NAMES:
        assert contents_of(tmp_path / "demo" / name) == contents_of(packs[name][0])
        assert str(tmp_path / "demo" / name / "proof.txt") in ran.stdout


def test_demo_says_when_a_verdict_is_a_surprise(tmp_path, monkeypatch, capsys):
    from foldproof.cli import demo

    text = example_text("storm-tray").replace('expected = "not proved"', 'expected = "proved"')
    monkeypatch.setattr(demo, "example_names", lambda: ("storm-tray",))
    monkeypatch.setattr(demo, "example_text", lambda name: text)
    assert demo.pack_examples(tmp_path) == 1
    assert "should be proved, and is not proved" in capsys.readouterr().err


def test_the_group_is_the_one_that_words_errors():
    from foldproof.cli.app import foldproof

    assert isinstance(foldproof, Commands)
