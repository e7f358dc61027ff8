"""The questions of ``new``: asked on a terminal only, and again until an answer can be read."""

import pytest
from click.testing import CliRunner

from foldproof.cli import new
from foldproof.cli.app import foldproof
from foldproof.project.read import read_project


@pytest.fixture
def terminal(monkeypatch, tmp_path):
    """A folder to work in, and a person at both ends."""
    monkeypatch.chdir(tmp_path)
    monkeypatch.setattr(new, "_may_ask", lambda as_json, output: True)
    return tmp_path


def ask(answers, *arguments):
    return CliRunner().invoke(foldproof, ["new", *arguments], input="\n".join(answers) + "\n")


def test_what_is_missing_is_asked(terminal):
    ran = ask(["1", "Shell box", "in", "3 1/4", "2 1/4"])
    assert ran.exit_code == 0
    project = read_project((terminal / "shell-box.toml").read_text(encoding="utf-8"))
    assert project.parts[0].construction.name == "double-wall tray"
    assert project.parts[0].open_values == ()
    assert "What is it called" in ran.stderr
    assert "What is it called" not in ran.stdout


def test_what_is_given_is_not_asked(terminal):
    ran = ask(["2", "work out"], "Mine", "--unit", "cm", "--set", "wall_height=3")
    assert ran.exit_code == 0
    project = read_project((terminal / "mine.toml").read_text(encoding="utf-8"))
    assert project.unit == "cm"
    assert project.parts[0].open_values == ("base_length", "base_width")


def test_an_answer_that_cannot_be_read_is_asked_again(terminal):
    ran = ask(["1", "Mine", "in", "three", "3 1/7", "3 1/4", "2"])
    assert ran.exit_code == 0
    assert read_project((terminal / "mine.toml").read_text(encoding="utf-8")).parts[0].open_values == ()


def test_leaving_at_a_question_stops_with_3(terminal):
    ran = CliRunner().invoke(foldproof, ["new"], input="1\n")
    assert ran.exit_code == 3
    assert list(terminal.iterdir()) == []


def test_nobody_is_asked_without_a_terminal():
    assert new._may_ask(False, None) is False
    assert CliRunner().invoke(foldproof, ["new"], input="").exit_code == 2
