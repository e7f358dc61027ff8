"""The process in which a job runs apart: sets its bounds, reads the payload, runs the job, hands over its bytes."""

from __future__ import annotations

import dataclasses
import importlib
import json
import math
import os
import sys
import threading
from collections.abc import Callable

from foldproof.errors import InputError

HEADER_BYTES = 8  # the length of the payload, before it
DONE, REFUSED = b"+", b"-"  # the first byte given back: the job's bytes follow, or its problems
MEGABYTE = 1_000_000
LEAST_FILE_BYTES = 1_000_000  # what libraries write for themselves when they start
SPARE_SECONDS = 1  # the process that started us looks at the clock first, and can say what happened
CHUNK_BYTES = 1 << 16


def main(bounds: str) -> None:
    """Runs one job. What it raises, but for InputError, ends the process and is told by the last line it prints."""
    job, seconds, megabytes, most_bytes = json.loads(bounds)
    answer = _set_apart_answers()
    payload = _payload()
    threading.Thread(target=_leave_when_alone, daemon=True).start()
    module, _, name = job.partition(":")
    work: Callable[[bytes], bytes] = getattr(importlib.import_module(module), name)
    _bound(seconds, megabytes, most_bytes)
    try:
        given = DONE + work(payload)
    except InputError as error:
        given = REFUSED + json.dumps([dataclasses.asdict(problem) for problem in error.problems]).encode()
    _write(answer, given)
    os._exit(0)  # nothing to tidy: libraries' threads need not be waited for


def _set_apart_answers() -> int:
    """A way out for the answer alone: what the job prints must not get into it."""
    answer = os.dup(1)
    nothing = os.open(os.devnull, os.O_WRONLY)
    os.dup2(nothing, 1)
    os.close(nothing)
    return answer


def _payload() -> bytes:
    length = int.from_bytes(_exactly(HEADER_BYTES), "big")
    return _exactly(length)


def _exactly(count: int) -> bytes:
    data = bytearray()
    while len(data) < count:
        chunk = os.read(0, min(CHUNK_BYTES, count - len(data)))
        if not chunk:
            os._exit(1)  # whoever started us is gone
        data += chunk
    return bytes(data)


def _leave_when_alone() -> None:
    """The other end of our input closes when the process that started us ends: then nobody waits for the answer."""
    os.read(0, 1)
    os._exit(1)


def _bound(seconds: float, megabytes: int, most_bytes: int) -> None:
    """Holds memory, time and files to their bounds, where the system can."""
    if sys.platform == "win32":
        return
    import resource

    def hold(what: int, most: int) -> None:
        hard = resource.getrlimit(what)[1]
        most = most if hard == resource.RLIM_INFINITY else min(most, hard)
        resource.setrlimit(what, (most, most))

    hold(resource.RLIMIT_CORE, 0)
    hold(resource.RLIMIT_CPU, math.ceil(seconds) + SPARE_SECONDS)
    hold(resource.RLIMIT_FSIZE, max(most_bytes, LEAST_FILE_BYTES))
    if sys.platform == "linux":  # elsewhere the bound is not held by the system, or counts something else
        with open("/proc/self/statm", encoding="ascii") as sizes:
            taken = int(sizes.read().split()[0]) * resource.getpagesize()
        hold(resource.RLIMIT_AS, taken + megabytes * MEGABYTE)


def _write(where: int, data: bytes) -> None:
    view = memoryview(data)
    while view:
        view = view[os.write(where, view[:CHUNK_BYTES]) :]


if __name__ == "__main__":
    main(sys.argv[1])
