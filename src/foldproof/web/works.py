"""Computing beside the server: short questions by a few processes that stay, long work each in a process of its own.

The server itself only reads, saves and answers, so a page stays quick while another one's box is being proved.
"""

from __future__ import annotations

import asyncio
import hashlib
import importlib
import json
import multiprocessing
import secrets
import signal
import threading
from collections import OrderedDict
from collections.abc import Callable
from concurrent.futures import Future, ProcessPoolExecutor
from concurrent.futures.process import BrokenProcessPool
from dataclasses import dataclass, field
from multiprocessing.connection import Connection
from typing import Literal

from foldproof.errors import InputError, Problem
from foldproof.progress import Progress, Stopped

State = Literal["working", "done", "stopped", "failed"]

MOST_KEPT_BYTES = 64_000_000  # of answers kept, oldest out first
MOST_RUNNING = 8  # long works kept at a time, finished ones among them
LEAVE_SECONDS = 5.0


class TooSlow(Exception):
    """A question took longer than one may; its process was ended."""


class TooMany(Exception):
    """More long works are under way than the machine is asked to do at a time."""


@dataclass(slots=True)
class Running:
    """A long work under way: what it is at, and what came of it."""

    process: multiprocessing.process.BaseProcess
    state: State = "working"
    stage: str = ""
    done: int = 0
    total: int = 0
    result: bytes = b""
    problems: tuple[Problem, ...] = ()


@dataclass(slots=True)
class _Kept:
    """Answers by question, the ones asked for last at the end."""

    answers: OrderedDict[str, bytes] = field(default_factory=OrderedDict)
    size: int = 0

    def get(self, key: str) -> bytes | None:
        found = self.answers.get(key)
        if found is not None:
            self.answers.move_to_end(key)
        return found

    def put(self, key: str, answer: bytes) -> None:
        self.answers[key] = answer
        self.size += len(answer)
        while self.size > MOST_KEPT_BYTES and len(self.answers) > 1:
            _, oldest = self.answers.popitem(last=False)
            self.size -= len(oldest)


class Works:
    """Processes that answer questions. A job is named "package.module:function", from bytes to bytes.

    A question asked twice is worked out once: answers depend on the question alone.
    """

    def __init__(self, workers: int, seconds: float) -> None:
        self._workers, self._seconds = workers, seconds
        self._context = multiprocessing.get_context("spawn")
        self._pool = self._new_pool()
        self._kept = _Kept()
        self._asked: dict[str, Future[bytes]] = {}
        self._newest: dict[str, str] = {}
        self._running: OrderedDict[str, Running] = OrderedDict()

    def _new_pool(self) -> ProcessPoolExecutor:
        return ProcessPoolExecutor(self._workers, mp_context=self._context, initializer=_settle_worker)

    async def run(self, job: str, payload: bytes, *, topic: str = "") -> bytes:
        """The job's bytes for a payload. Raises InputError as the job does, TooSlow, or asyncio.CancelledError.

        With a ``topic`` a question that nobody has begun to work on is dropped when a newer one on it comes.
        """
        key = hashlib.sha256(job.encode() + b"\0" + payload).hexdigest()
        found = self._kept.get(key)
        if found is not None:
            return found
        if key not in self._asked:
            older = self._newest.get(topic) if topic else None
            if older and older in self._asked:
                self._asked[older].cancel()
            self._asked[key] = self._submit(job, payload)
            self._asked[key].add_done_callback(lambda _: self._asked.pop(key, None))
        if topic:
            self._newest[topic] = key
        try:
            answer = await asyncio.wait_for(asyncio.shield(asyncio.wrap_future(self._asked[key])), self._seconds)
        except TimeoutError as error:
            self._start_again()
            raise TooSlow from error
        except BrokenProcessPool:
            self._start_again()
            raise
        self._kept.put(key, answer)
        return answer

    async def warm(self, job: str) -> None:
        """Has every process import what it needs before anyone asks; the job does nothing else."""
        waiting = [asyncio.wrap_future(self._submit(job, b"%d" % number)) for number in range(self._workers)]
        await asyncio.gather(*waiting, return_exceptions=True)

    def _submit(self, job: str, payload: bytes) -> Future[bytes]:
        try:
            return self._pool.submit(_work, job, payload)
        except BrokenProcessPool:
            self._start_again()
            return self._pool.submit(_work, job, payload)

    def _start_again(self) -> None:
        """Ends every process of the pool, whatever it is at, and makes a new one."""
        old, self._pool = self._pool, self._new_pool()
        for process in list((old._processes or {}).values()):
            process.kill()
        old.shutdown(wait=False, cancel_futures=True)

    def start(self, job: str, payload: bytes) -> str:
        """Begins a long job, "package.module:function" from bytes and a Progress to bytes; its name to ask with."""
        for name in [name for name, work in self._running.items() if work.state != "working"]:
            if len(self._running) >= MOST_RUNNING:
                del self._running[name]
        if len(self._running) >= MOST_RUNNING:
            raise TooMany
        receiver, sender = self._context.Pipe(duplex=False)
        process = self._context.Process(target=_work_long, args=(sender, job, payload), daemon=True)
        process.start()
        sender.close()
        running = Running(process=process)
        name = secrets.token_urlsafe(12)
        self._running[name] = running
        threading.Thread(target=_listen, args=(running, receiver), daemon=True).start()
        return name

    def running(self, name: str) -> Running | None:
        """A long work by its name, or None."""
        return self._running.get(name)

    def stop(self, name: str) -> None:
        """Ends a long work at once; what it was making is dropped."""
        running = self._running.get(name)
        if running is not None and running.state == "working":
            running.state = "stopped"
            running.process.kill()

    def close(self) -> None:
        """Ends all processes."""
        for name in self._running:
            self.stop(name)
        for process in list((self._pool._processes or {}).values()):
            process.kill()
        self._pool.shutdown(wait=False, cancel_futures=True)


def _settle_worker() -> None:
    signal.signal(signal.SIGINT, signal.SIG_IGN)  # an interrupt at the keyboard is for the server, which ends us


def _named(job: str) -> Callable[..., bytes]:
    module, _, name = job.partition(":")
    found: Callable[..., bytes] = getattr(importlib.import_module(module), name)
    return found


def _work(job: str, payload: bytes) -> bytes:
    return _named(job)(payload)


def _work_long(sender: Connection, job: str, payload: bytes) -> None:
    _settle_worker()

    def progress(stage: str, done: int, total: int) -> bool:
        sender.send(("at", json.dumps([stage, done, total])))
        return True

    watched: Progress = progress
    try:
        sender.send(("done", _named(job)(payload, watched)))
    except InputError as error:
        sender.send(("wrong", error.problems))
    except Stopped:
        sender.send(("stopped", b""))


def _listen(running: Running, receiver: Connection) -> None:
    """Keeps what a long work tells until it ends; one that ends without a word has failed."""
    try:
        while running.state == "working":
            kind, told = receiver.recv()
            match kind:
                case "at":
                    running.stage, running.done, running.total = json.loads(told)
                case "done":
                    running.result, running.state = told, "done"
                case "wrong":
                    running.problems, running.state = told, "failed"
                case _:
                    running.state = "stopped"
    except (EOFError, OSError):
        if running.state == "working":
            running.state = "failed"
    finally:
        receiver.close()
        running.process.join(LEAVE_SECONDS)
