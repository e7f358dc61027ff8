"""How a process beside the server begins, and how it finds what it is to do."""

from __future__ import annotations

import importlib
import os
import signal
from collections.abc import Callable

from foldproof.errors import InputError, Problem

GIVE_WAY = 5  # how much less of a busy machine it gets than others: the scale of nice(1)


def settle_process(gives_way: bool) -> None:
    """How a process begins: an interrupt at the keyboard is for the server, which ends it."""
    signal.signal(signal.SIGINT, signal.SIG_IGN)
    if gives_way and hasattr(os, "nice"):
        os.nice(GIVE_WAY)


def named(job: str) -> Callable[..., bytes]:
    """A job by its name, "package.module:function"."""
    module, _, name = job.partition(":")
    found: Callable[..., bytes] = getattr(importlib.import_module(module), name)
    return found


def answer_to(job: str, payload: bytes) -> bytes | tuple[Problem, ...]:
    """What a job makes of its payload; when it refuses it, everything that is wrong with it."""
    try:
        return named(job)(payload)
    except InputError as error:
        return error.problems
