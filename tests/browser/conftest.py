"""A browser to open pages with: the one that is here, or Debian's where it may be installed; else it is asked for."""

import os
import shutil
import subprocess

import pytest

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
