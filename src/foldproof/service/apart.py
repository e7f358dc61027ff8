"""Runs one pure job in a process of its own, with bounds on its time, its memory and what it gives back.

For work on bytes from outside, which may be made to never end or to fill the machine, and for work that a maker may
want to break off at any moment.
"""

from __future__ import annotations

import json
import os
import subprocess
import sys
import threading
import time
from dataclasses import dataclass
from typing import IO, Literal

from foldproof.errors import Problem
from foldproof.service.apart_child import DONE, HEADER_BYTES, REFUSED

Why = Literal["", "input", "time", "memory", "output", "stopped", "broke off"]

LOOK_SECONDS = 0.02  # between two looks at the clock and the stop: shorter than a person notices
LEAVE_SECONDS = 5.0  # a killed process is gone in milliseconds; one stuck in the system's hands is left behind
MOST_COMPLAINT_BYTES = 16_384  # of what a broken job printed last
MOST_COMPLAINT_CHARACTERS = 200
CHUNK_BYTES = 1 << 16
MEMORY_WORDS = ("MemoryError", "bad_alloc", "nsufficient memory")  # Python, C++ and the image library say it so
# One thread each for the number libraries and one pool of memory: more would take address space for nothing.
LEAN = {"OPENBLAS_NUM_THREADS": "1", "OMP_NUM_THREADS": "1", "MALLOC_ARENA_MAX": "2"}


@dataclass(frozen=True, slots=True, kw_only=True)
class Outcome:
    """What came of a job: its bytes in ``ok``, or None and a ``reason`` in words ("took more than 20 s").

    ``why`` is the kind of reason; for "input" the job raised InputError, and ``problems`` are its problems.
    """

    ok: bytes | None
    reason: str = ""
    why: Why = ""
    problems: tuple[Problem, ...] = ()


def run_apart(
    job: str, payload: bytes, *, seconds: float, megabytes: int, most_bytes: int, stop: threading.Event | None = None
) -> Outcome:
    """Runs ``job`` ("package.module:function", taking bytes and giving bytes) on ``payload`` in a new process.

    ``megabytes`` is what it may take beyond the program itself with the job's module imported (address space, so
    libraries imported later count); it is held where the system can hold it (not on Windows). ``most_bytes`` bounds
    what it gives back, and the size of any file it writes. When another thread sets ``stop`` the process is killed
    at once. What the job prints is thrown away. Raises nothing but OSError, when no process can be started.
    """
    bounds = json.dumps([job, seconds, megabytes, most_bytes])
    process = subprocess.Popen(
        # -P: a file in the folder we stand in must not pass for a module of ours
        [sys.executable, "-P", "-m", "foldproof.service.apart_child", bounds],
        stdin=subprocess.PIPE,
        stdout=subprocess.PIPE,
        stderr=subprocess.PIPE,
        env={**os.environ, **LEAN},
        start_new_session=True,  # an interrupt at the keyboard is for us, not for it
    )
    assert process.stdin and process.stdout and process.stderr, "all three are pipes"
    given, complaint = _Kept(most_bytes + 1), _Kept(MOST_COMPLAINT_BYTES, last=True)
    threads = (
        threading.Thread(target=_give, args=(process.stdin, payload), daemon=True),
        threading.Thread(target=given.read, args=(process.stdout,), daemon=True),
        threading.Thread(target=complaint.read, args=(process.stderr,), daemon=True),
    )
    for thread in threads:
        thread.start()
    try:
        why = _watch(process, given, time.monotonic() + seconds, stop)
    finally:
        _end(process, threads)
    if why:
        return _cut_off(why, seconds, most_bytes)
    return _read(given.data, process.returncode, complaint.data, megabytes)


class _Kept:
    """Bytes read from a pipe by a thread: the first ``most``, or the last. All of it is read, or the job would wait."""

    def __init__(self, most: int, *, last: bool = False) -> None:
        self.data = b""
        self.over = False
        self._most, self._last = most, last

    def read(self, pipe: IO[bytes]) -> None:
        kept = bytearray()
        while chunk := os.read(pipe.fileno(), CHUNK_BYTES):
            if self._last:
                kept = (kept + chunk)[-self._most :]
            else:
                kept += chunk[: self._most + 1 - len(kept)]
                self.over = len(kept) > self._most
        self.data = bytes(kept)


def _give(pipe: IO[bytes], payload: bytes) -> None:
    """Hands the payload over. The pipe stays open: its end tells the job that we are gone."""
    view = memoryview(len(payload).to_bytes(HEADER_BYTES, "big") + payload)
    try:
        while view:
            view = view[os.write(pipe.fileno(), view[:CHUNK_BYTES]) :]
    except OSError:
        pass  # it ended before it had read all: its exit code says why


def _watch(process: subprocess.Popen[bytes], given: _Kept, end: float, stop: threading.Event | None) -> Why:
    while True:
        try:
            process.wait(LOOK_SECONDS)
            return "output" if given.over else ""
        except subprocess.TimeoutExpired:
            pass
        if stop is not None and stop.is_set():
            return "stopped"
        if given.over:
            return "output"
        if time.monotonic() > end:
            return "time"


def _end(process: subprocess.Popen[bytes], threads: tuple[threading.Thread, ...]) -> None:
    """Leaves no process, no thread and no open pipe, whatever happened."""
    process.kill()
    process.wait(LEAVE_SECONDS)
    for thread in threads:
        thread.join(LEAVE_SECONDS)
    for pipe in (process.stdin, process.stdout, process.stderr):
        assert pipe is not None, "all three are pipes"
        pipe.close()


def _cut_off(why: Why, seconds: float, most_bytes: int) -> Outcome:
    words = {
        "time": f"took more than {seconds:g} s",
        "output": f"gave more than {most_bytes:,} bytes",
        "stopped": "was stopped",
    }
    return Outcome(ok=None, reason=words[why], why=why)


def _read(given: bytes, exit_code: int, complaint: bytes, megabytes: int) -> Outcome:
    if exit_code == 0 and given[:1] == DONE:
        return Outcome(ok=given[1:])
    if exit_code == 0 and given[:1] == REFUSED:
        problems = tuple(Problem(**each) for each in json.loads(given[1:]))
        return Outcome(ok=None, reason=problems[0].reason, why="input", problems=problems)
    lines = complaint.decode("utf-8", "replace").strip().splitlines() or [f"exit code {exit_code}"]
    if any(word in line for word in MEMORY_WORDS for line in lines[-5:]):
        return Outcome(ok=None, reason=f"needed more than {megabytes} MB of memory", why="memory")
    said = "".join(char for char in lines[-1] if char.isprintable())[:MOST_COMPLAINT_CHARACTERS]
    return Outcome(ok=None, reason=f"broke off: {said}", why="broke off")
