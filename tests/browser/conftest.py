"""A browser to open pages with: the one that is here, or Debian's where it may be installed; else it is asked for."""

import json
import os
import shutil
import signal
import socket
import subprocess
import sys
import urllib.request

import pytest
from playwright.sync_api import sync_playwright

from foldproof.project.read import read_project

NAMES = ("chromium", "chromium-browser", "google-chrome")
INSTALL = (
    ("apt-get", "update"),
    ("apt-get", "install", "-y", "--no-install-recommends", "-o", "DPkg::Lock::Timeout=300", "chromium"),
)
SAY = "These tests open pages in a browser. Install Chromium; on Debian or Ubuntu: apt-get install chromium"
QUIET = (
    "--headless",
    "--no-sandbox",
    "--disable-gpu",
    "--disable-background-networking",
    "--disable-component-update",
    "--disable-dev-shm-usage",
    "--no-first-run",
    "--host-resolver-rules=MAP * ~NOTFOUND",
)


WAIT_MS = int(os.environ.get("FOLDPROOF_TEST_WAIT_MS", "60000"))  # on a busy machine; hardly ever used up
HERE_ONLY = "--host-resolver-rules=MAP * ~NOTFOUND, EXCLUDE 127.0.0.1"


def _found():
    return next((path for name in NAMES if (path := shutil.which(name))), None)


@pytest.fixture(scope="session")
def browser(tmp_path_factory):
    """Runs the browser with some arguments and gives what it wrote; no address outside can be reached from it."""
    if _found() is None and os.geteuid() == 0 and shutil.which("apt-get"):
        for command in INSTALL:
            subprocess.run(command, check=False, capture_output=True, timeout=900)
    path = _found()
    if path is None:
        pytest.fail(SAY)

    def run(*arguments):
        profile = tmp_path_factory.mktemp("profile")
        done = subprocess.run(
            [path, *QUIET, f"--user-data-dir={profile}", *arguments], capture_output=True, text=True, timeout=180
        )
        assert done.returncode == 0, done.stderr
        return done.stdout

    return run


# --- The workbench, clicked and typed at --------------------------------------------------------------------


class Workbench:
    """A workbench that runs in a process of its own, as it does for a maker."""

    def __init__(self, folder):
        self.folder = folder
        self.address = ""
        self.process = None

    def start(self, port=None):
        """Starts it and waits until it answers."""
        with socket.socket() as free:
            free.setsockopt(socket.SOL_SOCKET, socket.SO_REUSEADDR, 1)  # a port just left is free, as for the workbench
            free.bind(("127.0.0.1", port or 0))
            self.port = free.getsockname()[1]
        self.process = subprocess.Popen(
            [
                *(sys.executable, "-m", "foldproof", "open", "--no-browser", "--port", str(self.port)),
                *("--projects", str(self.folder / "projects"), "--shelf", str(self.folder / "shelf")),
            ],
            stdout=subprocess.PIPE,
            stderr=subprocess.STDOUT,
            text=True,
            start_new_session=True,
        )
        told = self.process.stdout.readline()
        assert "http://127.0.0.1" in told, told + self.process.stdout.read()
        self.address = told.split()[-1].rstrip("/")
        return self

    def kill(self):
        """Ends it at once, as a machine that is switched off does, with everything it started."""
        if self.process and self.process.poll() is None:
            os.killpg(self.process.pid, signal.SIGKILL)
            self.process.wait(30)
        if self.process:
            self.process.stdout.close()

    def ask(self, path, data=None):
        """Asks as a page of its own does: posts data, or gets without; what it answers."""
        body = None if data is None else json.dumps(data).encode()
        headers = {"content-type": "application/json", "origin": self.address}
        with urllib.request.urlopen(urllib.request.Request(self.address + path, body, headers), timeout=60) as told:
            return json.loads(told.read())

    def begin(self, example="tidepool", **begun):
        """A new project, of an example unless said otherwise; its id."""
        return self.ask("/api/projects", begun or {"from": "example", "example": example})["id"]

    def text_of(self, project):
        """The file of a project."""
        return (self.folder / "projects" / project / "project.toml").read_text(encoding="utf-8")

    def parts_of(self, project):
        """The parts of a project as its file has them, by name."""
        return {part.name: part for part in read_project(self.text_of(project)).parts}


@pytest.fixture(scope="session")
def workbench(tmp_path_factory):
    """A workbench that all tests share, each with projects of its own."""
    bench = Workbench(tmp_path_factory.mktemp("workbench"))
    yield bench.start()
    bench.kill()


@pytest.fixture
def own_workbench(tmp_path):
    """A workbench with nothing of anybody's in it, for a test that ends it or looks at its beginning."""
    bench = Workbench(tmp_path)
    yield bench.start()
    bench.kill()


@pytest.fixture(scope="session")
def chrome(browser):
    """Chromium, led by playwright."""
    with sync_playwright() as led:
        opened = led.chromium.launch(executable_path=_found(), args=[*QUIET[1:-1], HERE_ONLY])
        yield opened
        opened.close()


@pytest.fixture
def leaf(chrome):
    """Opens pages of a width; a page that complains in its console, or whose script breaks, fails the test."""
    contexts, wrong = [], []

    def open_leaf(width=1280, height=900, **more):
        context = chrome.new_context(viewport={"width": width, "height": height}, **more)
        contexts.append(context)
        page = context.new_page()
        page.set_default_timeout(WAIT_MS)
        page.on("pageerror", lambda error: wrong.append(str(error)))
        page.on("console", lambda said: wrong.append(said.text) if said.type == "error" else None)
        return page

    yield open_leaf
    for context in contexts:
        context.close()
    # An answer that says what is wrong with an input is told in the console too: that is the browser's own habit.
    assert [each for each in wrong if "Failed to load resource" not in each] == []
