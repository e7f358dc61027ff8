"""What the tests of the commands share: running one, the examples as files, and one pack of each."""

import json
import shutil

import pytest
from click.testing import CliRunner

from foldproof.cli.app import foldproof
from foldproof.service.starting import example_names, example_text


class Ran:
    """What a command printed and ended with."""

    def __init__(self, result):
        if result.exception is not None and not isinstance(result.exception, SystemExit):
            raise result.exception
        self.code = result.exit_code
        self.out = result.stdout
        self.err = result.stderr

    @property
    def report(self):
        """The one JSON report on standard output."""
        return json.loads(self.out)


def run_command(*arguments):
    """One command in this process."""
    return Ran(CliRunner().invoke(foldproof, [str(argument) for argument in arguments]))


@pytest.fixture(scope="session")
def run():
    return run_command


@pytest.fixture(scope="session")
def examples(tmp_path_factory):
    """Every example as a file: name to path."""
    folder = tmp_path_factory.mktemp("examples")
    paths = {name: folder / f"{name}.toml" for name in example_names()}
    for name, path in paths.items():
        path.write_text(example_text(name), encoding="utf-8")
    return paths


@pytest.fixture(scope="session")
def packs(tmp_path_factory, examples):
    """One pack of each example: name to (folder, what the command printed). To read, not to change."""
    folder = tmp_path_factory.mktemp("packs")
    return {name: (folder / name, run_command("pack", path, "-o", folder / name)) for name, path in examples.items()}


@pytest.fixture
def shell_pack(tmp_path, packs):
    """A pack of the shell tray that a test may spoil."""
    folder = tmp_path / "pack"
    shutil.copytree(packs["shell-tray"][0], folder)
    return folder


def contents(folder):
    """Every file below a folder with its bytes."""
    return {
        path.relative_to(folder).as_posix(): path.read_bytes() for path in sorted(folder.rglob("*")) if path.is_file()
    }


@pytest.fixture(scope="session")
def contents_of():
    return contents
