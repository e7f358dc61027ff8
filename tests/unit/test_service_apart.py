"""A job in a process of its own: its answer, its problems, and each of its bounds."""

import os
import signal
import subprocess
import sys
import threading
import time
from pathlib import Path

import pytest

from foldproof.service.apart import Outcome, run_apart

JOBS = '''
import os, sys, time
from foldproof.errors import InputError, Problem

def turned(data):
    print("a line that is not the answer")
    return data[::-1]

def refuses(data):
    raise InputError((Problem(field="a", value="1", reason="is odd", remedy="write 2"),
                      Problem(field="b", value="3", reason="is odd too", remedy="write 4")))

def never_ends(data):
    while True:
        pass

def sleeps(data):
    time.sleep(60)
    return b""

def fills(data):
    held = bytearray(int(data) * 1_000_000)
    return str(len(held)).encode()

def floods(data):
    return b"x" * int(data)

def complains(data):
    sys.stderr.write("noise\\n" * 100_000)
    raise ValueError("this cannot be")

def dies(data):
    os.kill(os.getpid(), 11)

def writes(data):
    with open(data.decode(), "wb") as file:
        file.write(b"x" * 5_000_000)
    return b""

def tells_its_place(data):
    with open(data.decode(), "w") as file:
        file.write(str(os.getpid()))
    time.sleep(60)
'''


@pytest.fixture(autouse=True)
def _jobs(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    (tmp_path / "jobs_apart.py").write_text(JOBS)
    monkeypatch.setenv("PYTHONPATH", str(tmp_path))


def run(name: str, payload: bytes = b"", *, seconds: float = 20, stop: threading.Event | None = None) -> Outcome:
    return run_apart(f"jobs_apart:{name}", payload, seconds=seconds, megabytes=100, most_bytes=300_000, stop=stop)


def test_the_answer_comes_back_and_nothing_else() -> None:
    payload = os.urandom(250_000)
    assert run("turned", payload) == Outcome(ok=payload[::-1])
    assert run("turned", b"") == Outcome(ok=b"")


def test_problems_come_back_whole() -> None:
    outcome = run("refuses")
    assert outcome.ok is None and outcome.why == "input" and outcome.reason == "is odd"
    assert [(each.field, each.value, each.remedy) for each in outcome.problems] == [
        ("a", "1", "write 2"),
        ("b", "3", "write 4"),
    ]


@pytest.mark.parametrize("name", ["never_ends", "sleeps"])
def test_a_job_that_takes_too_long_is_ended(name: str) -> None:
    start = time.monotonic()
    outcome = run(name, seconds=0.6)
    assert outcome == Outcome(ok=None, reason="took more than 0.6 s", why="time")
    assert time.monotonic() - start < 5


def test_memory_is_bounded() -> None:
    assert run("fills", b"60") == Outcome(ok=b"60000000")
    assert run("fills", b"140") == Outcome(ok=None, reason="needed more than 100 MB of memory", why="memory")


def test_the_answer_is_bounded() -> None:
    assert run("floods", b"300000").ok == b"x" * 300_000
    for length in (300_001, 40_000_000):
        outcome = run("floods", str(length).encode())
        assert outcome == Outcome(ok=None, reason="gave more than 300,000 bytes", why="output")


def test_a_broken_job_says_why_in_one_line() -> None:
    assert run("complains") == Outcome(ok=None, reason="broke off: ValueError: this cannot be", why="broke off")
    assert run("dies") == Outcome(ok=None, reason="broke off: exit code -11", why="broke off")
    assert run("no_such_job").why == "broke off"


def test_a_large_payload_to_a_job_that_does_not_read_it() -> None:
    outcome = run_apart("no_such_module:job", b"x" * 5_000_000, seconds=20, megabytes=10, most_bytes=10)
    assert outcome.why == "broke off" and "no_such_module" in outcome.reason


def test_files_are_bounded(tmp_path: Path) -> None:
    assert run("writes", str(tmp_path / "large").encode()).why == "broke off"
    assert (tmp_path / "large").stat().st_size <= 1_000_000


def test_another_thread_ends_it(tmp_path: Path) -> None:
    stop, place = threading.Event(), tmp_path / "place"
    timer = threading.Timer(0.5, stop.set)
    timer.start()
    start = time.monotonic()
    assert run("tells_its_place", str(place).encode(), stop=stop) == Outcome(
        ok=None, reason="was stopped", why="stopped"
    )
    assert time.monotonic() - start < 5
    timer.join()
    if place.exists():  # it had come so far
        with pytest.raises(ProcessLookupError):
            os.kill(int(place.read_text()), 0)


def test_a_job_does_not_outlive_the_one_who_asked(tmp_path: Path) -> None:
    place = tmp_path / "place"
    asks = (
        "from foldproof.service.apart import run_apart\n"
        f"run_apart('jobs_apart:tells_its_place', {str(place)!r}.encode(), seconds=60, megabytes=100, most_bytes=10)"
    )
    asking = subprocess.Popen([sys.executable, "-c", asks])
    end = time.monotonic() + 20
    while not (place.exists() and place.read_text()) and time.monotonic() < end:
        time.sleep(0.05)
    number = int(place.read_text())
    os.kill(asking.pid, signal.SIGKILL)
    asking.wait()
    while time.monotonic() < end and _alive(number):
        time.sleep(0.05)
    assert not _alive(number)


def _alive(number: int) -> bool:
    """Whether a process runs; one that ended but was not collected by its new parent does not."""
    try:
        state = Path(f"/proc/{number}/stat").read_text().rsplit(")", 1)[1].split()[0]
    except OSError:
        return False
    return state != "Z"
