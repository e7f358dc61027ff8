"""`python -m benchmarks.web`: how long a maker waits for the workbench, and what it takes for each who uses it.

A workbench runs in a process of its own, as it does for a maker, with an empty folder of projects. Edits are sent as
its page sends them, each a change that was never asked before.
"""

from __future__ import annotations

import json
import os
import shutil
import signal
import socket
import subprocess
import sys
import tempfile
import threading
import time
import urllib.error
import urllib.request
from collections.abc import Iterator
from contextlib import contextmanager
from dataclasses import dataclass
from pathlib import Path
from typing import Any

from benchmarks.table import milliseconds, print_rows

EDITS = 40
PEOPLE = 20
EDITS_OF_EACH = 4
THINKING_S = 2.5  # between two edits of one person in a class
OPENINGS = 5
WALL = "parts.tray.wall_height"
BROWSERS = ("chromium", "chromium-browser", "google-chrome")
MOST_WAIT_S = 120.0
BYTES_PER_MB = 1e6

Fields = dict[str, Any]


@dataclass(frozen=True, slots=True, kw_only=True)
class Bench:
    """A workbench that answers at an address; ``pid`` is its server's process."""

    address: str
    pid: int

    def ask(self, path: str, data: Fields | None = None) -> Fields:
        """Asks as a page does. A question that another one overtook, or a busy machine, is asked again."""
        body = None if data is None else json.dumps(data).encode()
        headers = {"content-type": "application/json", "origin": self.address}
        end = time.monotonic() + MOST_WAIT_S
        while True:
            try:
                request = urllib.request.Request(self.address + path, body, headers)
                with urllib.request.urlopen(request, timeout=MOST_WAIT_S) as told:
                    found: Fields = json.loads(told.read())
                    return found
            except urllib.error.HTTPError as error:
                if error.code not in (410, 503) or time.monotonic() > end:
                    raise
                time.sleep(0.05)

    def begin(self) -> str:
        """A new project of the example; its id."""
        return str(self.ask("/api/projects", {"from": "example", "example": "tidepool"})["id"])


@contextmanager
def workbench() -> Iterator[Bench]:
    """A workbench of its own, ended with everything it started."""
    with tempfile.TemporaryDirectory() as folder:
        with socket.socket() as free:
            free.bind(("127.0.0.1", 0))
            port = free.getsockname()[1]
        command = [sys.executable, "-m", "foldproof", "open", "--no-browser", "--port", str(port)]
        command += ["--projects", f"{folder}/projects", "--shelf", f"{folder}/shelf"]
        process = subprocess.Popen(
            command, stdout=subprocess.PIPE, stderr=subprocess.STDOUT, text=True, start_new_session=True
        )
        assert process.stdout is not None
        try:
            told = process.stdout.readline()
            assert "http://" in told, told
            yield Bench(address=told.split()[-1].rstrip("/"), pid=process.pid)
        finally:
            os.killpg(process.pid, signal.SIGKILL)
            process.wait()
            process.stdout.close()


@dataclass(frozen=True, slots=True, kw_only=True)
class Waited:
    """Seconds from sending an edit to its state, and to the proof of it."""

    state_s: float
    proof_s: float


def edited(bench: Bench, project: str, version: int, mm: float) -> tuple[int, Waited]:
    """Sends one edit of the wall's height, then asks for its proof as the page does; the version it made."""
    start = time.perf_counter()
    change = {"version": version, "changes": [{"path": WALL, "value": f"{mm:.2f} mm"}]}
    made = int(bench.ask(f"/api/p/{project}/edit", change)["version"])
    state_s = time.perf_counter() - start
    bench.ask(f"/api/p/{project}/proof?version={made}")
    return made, Waited(state_s=state_s, proof_s=time.perf_counter() - start)


def edits_of_one(bench: Bench) -> list[Waited]:
    """One person's edits, one after the other; the first two warm it up and do not count."""
    project, version = bench.begin(), 1
    found = []
    for number in range(EDITS + 2):
        version, waited = edited(bench, project, version, 50.0 + 0.31 * number)
        found.append(waited)
    return found[2:]


def edits_of_a_class(bench: Bench) -> list[Waited]:
    """Everybody's edits of a box of their own, all at work at once, with some seconds of thought between two."""
    projects = [bench.begin() for _ in range(PEOPLE)]
    found: list[Waited] = []

    def work(person: int) -> None:
        version = 1
        time.sleep(THINKING_S * person / PEOPLE)
        for number in range(EDITS_OF_EACH):
            version, waited = edited(bench, projects[person], version, 40.0 + 0.9 * person + 0.11 * number)
            found.append(waited)
            time.sleep(max(0.0, THINKING_S - waited.proof_s))

    people = [threading.Thread(target=work, args=(person,)) for person in range(PEOPLE)]
    for each in people:
        each.start()
    for each in people:
        each.join()
    assert len(found) == PEOPLE * EDITS_OF_EACH, "somebody's edit failed"
    return found


def share_of(times: list[float], share: float) -> float:
    """The time within which a share of all came."""
    return sorted(times)[min(len(times) - 1, int(share * len(times)))]


def own_mb(pid: int) -> float:
    """The memory of a process and all that it started, each shared page counted once among those that share it."""
    found = 0
    for each in [pid, *_children(pid)]:
        rollup = Path(f"/proc/{each}/smaps_rollup").read_text(encoding="ascii")
        found += next(int(line.split()[1]) for line in rollup.splitlines() if line.startswith("Pss:"))
    return found * 1024 / BYTES_PER_MB


def _children(pid: int) -> list[int]:
    told = Path(f"/proc/{pid}/task/{pid}/children").read_text(encoding="ascii")
    own = [int(each) for each in told.split()]
    return own + [further for each in own for further in _children(each)]


def openings(bench: Bench) -> list[float]:
    """From asking for the page of a design to the first picture on it, in a browser that opened nothing before."""
    from playwright.sync_api import sync_playwright

    path = next((there for name in BROWSERS if (there := shutil.which(name))), None)
    if path is None:
        return []
    found = []
    with sync_playwright() as led:
        for _ in range(OPENINGS):
            project = bench.begin()
            browser = led.chromium.launch(executable_path=path, args=["--no-sandbox", "--disable-gpu"])
            page = browser.new_page(viewport={"width": 1280, "height": 900})
            start = time.perf_counter()
            page.goto(f"{bench.address}/p/{project}", wait_until="commit")
            page.wait_for_selector("#sheet svg path, .lid-picture path", state="attached")
            found.append(time.perf_counter() - start)
            browser.close()
    return found


def _rows(times: list[float], what: str, aims: tuple[str, str]) -> list[tuple[str, ...]]:
    return [
        (f"{what}: median", milliseconds(share_of(times, 0.5)), aims[0]),
        (f"{what}: 95 of 100 within", milliseconds(share_of(times, 0.95)), aims[1]),
    ]


def web_rows() -> list[tuple[str, ...]]:
    """Everything that is measured, each with its aim."""
    with workbench() as bench:
        rows: list[tuple[str, ...]] = []
        if opened := openings(bench):
            rows.append(("first picture after opening: median of five", milliseconds(share_of(opened, 0.5)), ""))
            rows.append(("first picture after opening: slowest of five", milliseconds(max(opened)), "2,000 ms"))
        one = edits_of_one(bench)
        rows += _rows(
            [each.state_s for each in one], "one person: edit to sentence, measures, sheet, lid", ("100 ms", "250 ms")
        )
        rows += _rows([each.proof_s for each in one], "one person: edit to proof", ("500 ms", ""))
        before = own_mb(bench.pid)
        many = edits_of_a_class(bench)
        rows += _rows([each.state_s for each in many], f"{PEOPLE} people: edit to state", ("", "1,000 ms"))
        rows += _rows([each.proof_s for each in many], f"{PEOPLE} people: edit to proof", ("", ""))
        after = own_mb(bench.pid)
        rows.append(("memory of the workbench, one person", f"{before:,.0f} MB", ""))
        rows.append((f"more of it for each of {PEOPLE} people", f"{(after - before) / PEOPLE:,.1f} MB", ""))
    return rows


def main() -> None:
    """Prints the table."""
    print_rows("The workbench, as its page asks it", ("what", "time", "aim"), web_rows())


if __name__ == "__main__":
    main()
